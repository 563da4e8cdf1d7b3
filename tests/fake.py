"""A letter-for-cell translator, so that layout and conservation need no braille code."""

from __future__ import annotations

from collections.abc import Iterable

from convert.findings import Findings
from convert.translate.cells import BLANK, Cells, Piece
from convert.translate.passage import Passage


def letter_cells(text: str) -> Cells:
    """Every character one cell (dots 1-2-3-4-5-6 where it has no letter), one piece a word."""
    cells = Cells(passage=Passage(text))
    at = 0
    for word in text.split(" "):
        if word:
            made = "".join(chr(0x2801 + (ord(ch) * 7) % 62) for ch in word)
            cells.starts.append(at)
            cells.prints.append(at)
            cells.pieces.append(Piece(made, tuple(range(len(word))), bytes(len(word)), len(word)))
            cells.text += made
        at += len(word) + 1
        cells.text += BLANK
    cells.text = cells.text[: len(text)]
    return cells
