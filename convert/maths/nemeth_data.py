"""The signs and rules of the Nemeth Code, read once from ``nemeth_signs.toml``."""

from __future__ import annotations

import tomllib
import unicodedata
from dataclasses import dataclass, replace
from functools import cache
from importlib import resources
from typing import Any

from ..errors import Bug
from .data import cells_of_dots, function_names, words

# The groups of signs: each tells the spacing of its members (digest of section 9 and on).
GROUPS = (
    "operation", "comparison", "arrow", "opening", "closing", "bar", "dots", "mark", "shape",
    "punctuation", "abbreviation", "sign",
)  # fmt: skip
_NEGATED = "\u0338"


@dataclass(frozen=True, slots=True)
class NemethSign:
    """One sign.  ``cells``: Unicode braille; ``group``: its table in the file; ``corrected``:
    why it differs from the published table the others come from."""

    print: str
    group: str
    cells: str
    name: str = ""
    section: str = ""
    corrected: str = ""


@cache
def _file() -> dict[str, Any]:
    text = (resources.files(__package__) / "nemeth_signs.toml").read_text("utf-8")
    return tomllib.loads(text)


@cache
def table(group: str) -> dict[str, NemethSign]:
    """The rows of a table by their print character or name."""
    return {
        key: NemethSign(
            key, group, _cells(row["dots"]), row.get("name", key),
            row.get("section", ""), row.get("corrected", ""),
        )
        for key, row in _file()[group].items()
    }  # fmt: skip


def _cells(dots: str) -> str:
    """Cells of dots, an empty one for ``0``."""
    return "".join("\u2800" if dot == "0" else cells_of_dots(dot) for dot in dots.split())


@cache
def indicator(name: str) -> str:
    """The cells of an indicator.  Raises Bug if there is none of that name."""
    row = table("indicator").get(name)
    if row is None:
        raise Bug(f"The table of the Nemeth Code has no {name}.")
    return row.cells


@cache
def sign(text: str) -> NemethSign | None:
    """The row of a printed sign, None if the code has none.

    A comparison sign with a stroke is the sign after the stroke (digest 9).
    """
    for group in GROUPS:
        if text in table(group):
            return table(group)[text]
    bare = unicodedata.normalize("NFD", text)
    row = sign(bare[:-1]) if bare.endswith(_NEGATED) else None
    if row is None or row.group not in ("comparison", "arrow", "bar"):
        return None
    return replace(row, print=text, cells=indicator("negation") + row.cells)


@cache
def modifier(text: str) -> str | None:
    """The cells of a sign where it stands over or under something (86), None if it has none."""
    row = table("modifier").get(text) or sign(text)
    return None if row is None else row.cells


def rule(name: str) -> Any:
    """A rule of the file.  Raises Bug if there is none."""
    found = _file()["rules"].get(name)
    if found is None:
        raise Bug(f"The table of the Nemeth Code has no rule {name}.")
    return found


@cache
def rule_words(name: str) -> frozenset[str]:
    """A rule that is a list of signs."""
    return frozenset(str(rule(name)).split())


@cache
def names(what: str) -> frozenset[str]:
    """A list of words: ``functions``, ``between``, ``elements``."""
    own = frozenset(_file()["words"][what].split())
    return own | function_names() if what == "functions" else own


@cache
def shortforms() -> frozenset[str]:
    """Letters that look like a shortform (digest 3)."""
    return words("shortforms")


@cache
def combining(char: str) -> str:
    """The mark, as the modifier table has it, of a combining character; ``""`` for none."""
    return str(_file()["combining"].get(char, ""))


# ------------------------------------------------------------------ letters and numerals


@cache
def letter(char: str) -> NemethSign | None:
    """The row of a letter with its alphabet's prefix and its capital sign, None for none."""
    low = char.lower()
    latin = table("letter").get(low) if char.isascii() else None
    if latin is not None:
        capital = indicator("capital") if char != low else ""
        return replace(latin, print=char, cells=capital + latin.cells)
    return table("greek").get(char) or table("hebrew").get(char)


@cache
def font(name: str) -> str | None:
    """The typeform indicators of a font, None if the code has none for a part of it."""
    rows = [table("font").get(part) for part in name.split()]
    return None if None in rows else "".join(row.cells for row in rows if row is not None)


@cache
def digits(text: str) -> str:
    """A numeral's cells without the numeric indicator (7-10)."""
    marks = {".": indicator("decimal point"), ",": indicator("comma")}
    return "".join(
        table("digit")[char].cells if char in table("digit") else marks.get(char, "\u2800")
        for char in text
    )


@cache
def switch_names() -> dict[str, str]:
    """What a page of special symbols calls the indicators that switch codes, by their cells."""
    return {
        indicator("opening Nemeth"): "opening Nemeth Code indicator",
        indicator("Nemeth terminator"): "Nemeth Code terminator",
        indicator("single-word switch"): "switch to unified English braille for one word",
    }
