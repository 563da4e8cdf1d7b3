"""The signs of Unified English Braille as data: ``signs.toml`` read into :class:`Sign` rows.

No dot pattern is written in code; whoever needs one asks here by name or by print.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Any

from ..errors import Bug

FIRST_CELL = 0x2800


@dataclass(frozen=True, slots=True)
class Sign:
    """One sign.

    ``kind`` is the table it stands in: ``indicator``, ``modifier``, ``letter``, ``ligature``,
    ``digit``, ``punctuation``, ``quotation``, ``symbol``, ``transcriber`` or one of the
    contraction kinds (``strong groupsign``, ``shortform``...).  ``print`` is the print
    character, the letters of a contraction, or ``""`` for an indicator.  ``cells`` is Unicode
    braille.  ``grade1``: contracted braille needs a grade 1 indicator before it (UEB 5.1).
    ``shape``: another sign straight after it needs the shape terminator (UEB 3.22).
    ``modified``: a letter with an overlay, which may stand in no contraction (UEB 4.2.4).
    """

    name: str
    kind: str
    print: str
    cells: str
    section: str
    grade1: bool = False
    shape: bool = False
    modified: bool = False
    double: bool = False
    letters: str = ""

    @property
    def is_contraction(self) -> bool:
        return self.kind in contraction_kinds()


def cells_of_dots(dots: str) -> str:
    """Cells written as dots (``"4 126"``: dot 4, then dots 1-2-6) as Unicode braille."""
    return "".join(
        chr(FIRST_CELL + sum(1 << (int(dot) - 1) for dot in cell)) for cell in dots.split()
    )


_NAMED = ("indicator", "quotation", "transcriber")


def _rows(kind: str, table: dict[str, Any]) -> Iterator[Sign]:
    for key, row in table.items():
        facts = dict(row)
        name = facts.pop("name", key)
        mark = "" if kind in _NAMED else key
        yield Sign(name, kind, mark, cells_of_dots(facts.pop("dots")), **facts)


@cache
def _tables() -> dict[str, Any]:
    file = resources.files(__package__) / "signs.toml"
    return tomllib.loads(file.read_text("utf-8"))


@cache
def contraction_kinds() -> frozenset[str]:
    """The kinds of contraction, as UEB section 10 names them."""
    return frozenset(_tables()["contraction"])


@cache
def signs() -> tuple[Sign, ...]:
    """Every sign, in the order of the table."""
    out: list[Sign] = []
    for kind, table in _tables().items():
        if kind == "contraction":
            for inner, rows in table.items():
                out.extend(_rows(inner, rows))
        else:
            out.extend(_rows(kind, table))
    return tuple(out)


@cache
def of_kind(kind: str) -> dict[str, Sign]:
    """The signs of one kind, by print where they have any, else by name."""
    return {sign.print or sign.name: sign for sign in signs() if sign.kind == kind}


@cache
def cells(name: str) -> str:
    """The cells of an indicator or quotation mark, by name.  Raises Bug if there is none."""
    for sign in signs():
        if sign.name == name and sign.kind in _NAMED:
            return sign.cells
    raise Bug(f"The table of signs has no {name}.")


@cache
def by_print() -> dict[str, Sign]:
    """Letters, digits, punctuation and symbols by print character."""
    kinds = ("letter", "ligature", "digit", "punctuation", "symbol")
    return {sign.print: sign for kind in kinds for sign in of_kind(kind).values()}
