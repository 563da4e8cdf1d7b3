"""What the signs of a code are called, for saying which sign a cell of a formula belongs to."""

from __future__ import annotations

import unicodedata
from functools import cache
from typing import NamedTuple

from . import data, nemeth_data
from .cells import NEMETH


class Named(NamedTuple):
    """A sign by name.  ``print``: its print, nothing for an indicator.  ``closes``: it stands
    after what it belongs to.  ``beside``: kinds of print (letter, number, sign) it can stand at,
    all where there is none.  ``then``: cells of which one must follow, any where there is none."""

    cells: str
    name: str
    section: str
    print: str = ""
    closes: bool = False
    beside: tuple[str, ...] = ()
    then: tuple[str, ...] = ()


_CLOSES = ("closing", "fraction line", "slanted fraction line", "over", "under", "bar over",
           "terminator", "Nemeth terminator", "line through", "shape terminator")  # fmt: skip
_BESIDE = {
    "capital": ("letter",),
    "capital letter": ("letter",),
    "capitals word": ("letter",),
    "English letter": ("letter",),
    "numeric": ("number", "sign"),
    "enlarged": ("sign",),
    "comma": ("number", "sign"),
    "decimal point": ("number", "sign"),
    "punctuation": ("sign",),
    "bold": ("letter", "number"),
}
# What must stand after an indicator of the Nemeth Code (61-70).
_THEN = {
    "fraction order": ("opening fraction", "fraction line", "slanted fraction line",
                       "closing fraction", "fraction order"),
    "mixed number": ("opening fraction", "closing fraction"),
}  # fmt: skip
# Cells that are drawn in rows, or stand in the place of a sign, and are no indicators.
_NO_INDICATORS = frozenset(
    ("degree", "unknown", "separation line", "carried number line", "division sign",
     "horizontal line segment", "negation")
)  # fmt: skip


@cache
def indicators(code: str) -> tuple[Named, ...]:
    """The indicators of a code, with the marks over and under an item."""
    if code == NEMETH:
        rows = [
            (key, row.cells, row.section) for key, row in nemeth_data.table("indicator").items()
        ]
        rows += [
            (f"{key} typeform", row.cells, row.section)
            for key, row in nemeth_data.table("font").items()
        ]
    else:
        rows = [(row.print, row.cells, row.section) for row in data.rows_of("indicator")]
        rows += [(f"{row.print} typeform", row.cells, row.section) for row in data.rows_of("font")]
    made = [
        Named(
            cells, name, section, "", name.startswith(_CLOSES), _BESIDE.get(name, ()), _then(name)
        )
        for name, cells, section in rows
        if name not in _NO_INDICATORS
    ]
    if code != NEMETH:
        made += [
            Named(row.cells, row.name, row.section, "", True)
            for group in ("over", "under")
            for row in data.rows_of(group)
        ]
    return tuple(made)


def _then(name: str) -> tuple[str, ...]:
    return tuple(nemeth_data.indicator(other) for other in _THEN.get(name, ()))


def own_rows(text: str, code: str) -> list[Named]:
    """The signs a leaf's print is written with, in their order."""
    one = _nemeth if code == NEMETH else _ueb
    whole = one(text) if text else None
    if whole is not None:
        return [whole]
    found = [one(char) for char in unicodedata.normalize("NFC", text)]
    if text and code == NEMETH and not any(found) and not any(map(str.isalnum, text)):
        full = "full cell, in the place of a sign that the code has not"
        return [Named(nemeth_data.indicator("unknown"), full, "", text)]
    return [row for row in found if row is not None]


def _ueb(text: str) -> Named | None:
    if text.isdecimal() and len(text) == 1:
        row = data.letter("jabcdefghi"[int(text)])
        return None if row is None else Named(row.cells, f"digit {text}", "6.1", text)
    letter = data.letter(text) if len(text) == 1 else None
    if letter is not None:
        return Named(letter.cells, _letter(text), letter.section, text)
    row = data.sign(text)
    return None if row is None else Named(row.cells, row.name, row.section, text)


def _nemeth(text: str) -> Named | None:
    if text.isdecimal() and len(text) == 1:
        return Named(nemeth_data.digits(text), f"digit {text}", "7-10", text)
    sign = nemeth_data.sign(text)
    if sign is not None:
        return Named(sign.cells, sign.name, sign.section, text)
    small = text.lower() if text.isascii() else text
    letter = nemeth_data.letter(small) if len(text) == 1 else None
    if letter is not None:
        return Named(letter.cells, _letter(text), letter.section, text)
    return None


def _letter(text: str) -> str:
    if text.isascii():
        return f"letter {text.lower()}"
    return unicodedata.name(text, "letter").lower()
