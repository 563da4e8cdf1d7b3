"""The grade 1 sign of the letters that divide an alphabetic reference (BF 21.2.3): also of A, I and
O, which need none where they stand in text."""

from __future__ import annotations

from dataclasses import replace

from ..translation.cells import SIGN, Cells, cells_of
from .items import Item

STYLE, GRADE_1 = "letter-division", cells_of(";")


def sign_letter(item: Item) -> None:
    """Put the sign before a letter that stands without it."""
    cells = item.cells
    if item.style == STYLE and cells is not None and cells.passage is not None:
        letter = cells.passage.text.strip()
        if len(letter) == 1 and letter.isalpha() and not cells.text.startswith(GRADE_1):
            item.cells = _signed(cells)


def _signed(cells: Cells) -> Cells:
    first = cells.pieces[0]
    piece = first._replace(
        cells=GRADE_1 + first.cells,
        origin=(first.origin[0], *first.origin),
        sign=bytes([SIGN]) + first.sign,
    )
    return replace(
        cells,
        text=GRADE_1 + cells.text,
        pieces=[piece, *cells.pieces[1:]],
        starts=[cells.starts[0], *(at + 1 for at in cells.starts[1:])],
        fixed=frozenset(at + 1 for at in cells.fixed),
        marks=tuple((at + 1 if at else 0, what, value) for at, what, value in cells.marks),
    )
