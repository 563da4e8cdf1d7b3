"""Characters that look like others: letters of another script in a word, letters in a number."""

from __future__ import annotations

import re
import tomllib
from functools import cache
from importlib import resources

from . import chars
from .word import Note

# A letter between digits, before three digits of a year, or after two or more (199O).
_IN_NUMBER = re.compile(r"(?<!\w)(?:\d+[lIOo](?=\d)\d*|[lI]\d{3}|\d{2,}O)(?!\w)")
# A hyphen or short dash straight before a number, with nothing but opening marks before it.
_SIGNED = re.compile(r"[(\[{“‘\"']*(([-‐‑–])([$£€¥]?[.,]?\d+(?:[.,]\d+)*))")


@cache
def _table(name: str) -> dict[int, str]:
    file = resources.files(__package__) / "lookalikes.toml"
    table: dict[str, str] = tomllib.loads(file.read_text("utf-8"))[name]
    return {ord(char): meant for char, meant in table.items()}


def of_word(text: str, levels: tuple[tuple[int, int, int], ...] = ()) -> list[Note]:
    """The findings about a word whose characters may be others.  A letter beside digits at
    another level (``levels``: start, end, level) belongs to no number: an isotope has it so."""
    if not text.isascii():
        return _of_letters(text)
    found = None if text.isalpha() else _IN_NUMBER.search(text)
    if found is None or any(low < found.end() and found.start() < high for low, high, _ in levels):
        return []
    meant = found.group().translate(_table("digits"))
    facts = (("word", found.group()), ("meant", meant))
    return [Note("ueb.letter-or-digit", *found.span(), facts)]


def minus(text: str) -> list[Note]:
    """The finding about a dash or hyphen before a number, which may be a minus sign."""
    found = _SIGNED.match(text)
    if found is None:
        return []
    facts = (("word", found[1]), ("meant", f"−{found[3]}"))
    return [Note("ueb.minus-or-dash", *found.span(2), facts)]


def _of_letters(text: str) -> list[Note]:
    """Letters of another script, all with a Latin look, in a word with Latin letters."""
    out = []
    for match in re.finditer(r"[^\W\d_]+", text):
        word = match.group()
        odd = [char for char in word if ord(char) in _table("letters")]
        rest = set(word) - set(odd)
        if not odd or not any(char.isascii() for char in rest) or any(map(chars.script_of, rest)):
            continue
        meant = word.translate(_table("letters"))
        names = ", ".join(sorted({chars.name_of(char) for char in odd}))
        facts = (("word", word), ("meant", meant), ("names", names))
        out.append(Note("ueb.look-alike", *match.span(), facts))
    return out
