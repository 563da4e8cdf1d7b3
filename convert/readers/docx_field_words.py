"""What print shows of a field that is no form field: what its result does not say is told.

Names and kinds: ``docx_fields.toml`` (ISO/IEC 29500-1, 17.16.5).
"""

from __future__ import annotations

import re
import tomllib
from functools import cache
from importlib import resources

from .docx_fields import Field
from .docx_symbols import from_font
from .docx_walk import Walk

_FONT = re.compile(r'\\f\s+"?([^"\\]+)"?')
_QUOTED = re.compile(r'"([^"]*)"|“([^”]*)”')


@cache
def _names() -> dict[str, frozenset[str]]:
    """For each sort of field its names."""
    text = (resources.files("convert.readers") / "docx_fields.toml").read_text("utf-8")
    return {sort: frozenset(names.split()) for sort, names in tomllib.loads(text).items()}


def field_words(walk: Walk, field: Field, path: str) -> None:
    """Say or tell what print shows of a field that has ended."""
    name, sorts = field.name, _names()
    here = walk.ledger.length
    start = field.since if field.in_result else here
    if name in sorts["outside"]:
        walk.findings.add("docx.outside-matter", (start, here), what=f"field {name}")
    if start == here:
        _without_result(walk, field, path)
    elif name in sorts["renewed"]:
        walk.findings.add("docx.renewed", (start, here), what=name)


def _without_result(walk: Walk, field: Field, path: str) -> None:
    """Print that stands in the instruction, or that only the word processor knows."""
    name, sorts = field.name, _names()
    if words := _said(field):
        walk.line.generated(words, path, walk.plain)
        return
    empty = field.drawn or (field.in_result and name in sorts["may_be_empty"])
    if name and not empty and name not in sorts["silent"]:
        here = walk.ledger.length
        walk.findings.add("docx.computed-text", (here, here), what=name)


def _said(field: Field) -> str:
    """The words of print in an instruction; nothing where it has none."""
    name, sorts = field.name, _names()
    words = "".join(field.instruction).split(None, 2)
    rest = " ".join(words[1:])
    if name in sorts["button"]:
        return words[2].strip() if len(words) > 2 else ""
    if name in sorts["quoted"]:
        found = _QUOTED.search(rest)
        return (found[1] or found[2] or "") if found else rest
    if name in sorts["name"] and rest and not field.in_result:
        return f"«{rest.split(chr(92))[0].strip().strip(chr(34))}»"
    return _glyph(rest) if name in sorts["glyph"] else ""


def _glyph(rest: str) -> str:
    """The character of ``SYMBOL 183 \\f "Symbol"``; nothing where its code is not known."""
    code, font = rest.split(None, 1)[0] if rest else "", _FONT.search(rest)
    try:
        value = int(code, 0)
    except ValueError:
        return ""
    if font and (shown := from_font(value, font[1].strip())):
        return shown
    return chr(value) if font is None and 0x20 < value < 0xD800 else ""
