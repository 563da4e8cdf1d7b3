"""Numbers kept on one line with their units: blanks where no line may end."""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Iterable
from dataclasses import replace
from functools import cache

from ..findings import Span
from ..translation.cells import BLANK, Cells
from .table import tables


@cache
def _pattern() -> re.Pattern[str]:
    words = tables()["units"]["words"]
    assert isinstance(words, str)
    units = "|".join(sorted(map(re.escape, words.split()), key=len, reverse=True))
    number = r"(?:\d[\d.,/]*\d|\d|[½¼¾⅓⅔⅛])"
    return re.compile(rf"(?<![\w.]){number}(?: ?[×x–-] ?{number})*\s(?:{units})(?![A-Za-z])")


def pairs(text: str) -> list[Span]:
    """Numbers with the units after them, from the first figure to the last letter."""
    return [match.span() for match in _pattern().finditer(text)]


def keep_units(cells: Cells) -> Cells:
    """The cells of a passage with no line end between a number and its unit."""
    text = cells.passage.text if cells.passage else ""
    spaces = [at for start, end in pairs(text) for at in range(start, end) if text[at].isspace()]
    if not spaces:
        return cells
    return replace(cells, fixed=cells.fixed | frozenset(_blanks(cells, spaces)))


def _blanks(cells: Cells, spaces: Iterable[int]) -> Iterable[int]:
    """The blank cells that stand for spaces of print."""
    for space in spaces:
        piece = bisect_left(cells.prints, space + 1)
        cell = cells.starts[piece] - 1 if piece < len(cells.starts) else -1
        if cell >= 0 and cells.text[cell] == BLANK:
            yield cell
