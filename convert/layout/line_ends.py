"""Where a line may end inside a word: after a hyphen, or where the translator divides the word.

Cells are counted from 0.  A word that is divided (UEB 10.13) may have other cells on both
sides of the line end; what the line and the next one then hold stands in the piece.
"""

from __future__ import annotations

from bisect import bisect_right
from itertools import compress
from operator import itemgetter
from typing import TYPE_CHECKING, NamedTuple

from ..readers.docx_symbols import boxes
from ..translation.cells import BLANK, Cells, Division, Piece
from ..translation.passage import within
from .items import Part

if TYPE_CHECKING:
    from .lines import Block

# Empty cells a line must be left with before a word is divided for them: UEB 10.13.1 wants
# division for considerable space only (the number is common practice, no source).
FEWEST_SAVED = 6
# Lines in which no word is divided: headings, titles, contents, tables, drawn lines.
_WHOLE = ("h-", "title", "toc", "table", "box", "end-of-volume")
_BREAKS = itemgetter(Piece._fields.index("breaks"))
_DIVISIONS = itemgetter(Piece._fields.index("divisions"))


class Ending(NamedTuple):
    """A place where a line may end: it holds the block's cells before ``cell`` and then
    ``tail``; the next begins with ``lead`` and the cells from ``resume``."""

    cell: int
    resume: int
    tail: str = ""
    lead: str = ""
    division: Division | None = None
    print: int = 0


class Cut(NamedTuple):
    """Where a line ends, where the next begins, and cells to add at the line's end.

    ``end`` of -1: nothing fits."""

    end: int
    resume: int
    tail: str = ""
    ending: Ending | None = None


NOTHING_FITS = Cut(-1, -1)


def find_endings(block: Block, cells: Cells) -> None:
    """Note on a block where its lines may end inside a word."""
    kind = block.item.kind
    pieces, numbers = cells.pieces, range(len(cells.pieces))
    breaks = any(map(_BREAKS, pieces))
    divides = any(map(_DIVISIONS, pieces)) and not (block.item.centred or kind.startswith(_WHOLE))
    found: list[Ending] = []
    for row in compress(numbers, map(_BREAKS, pieces)) if breaks else ():
        start, piece = cells.starts[row], pieces[row]
        added = {cell: (tail, lead) for cell, tail, lead in piece.joins}
        for cell in piece.breaks:
            found.append(Ending(start + cell, start + cell, *added.get(cell, ("", ""))))
    for row in compress(numbers, map(_DIVISIONS, pieces)) if divides else ():
        places = cells.starts[row], cells.prints[row]
        found.extend(_division(*places, division) for division in pieces[row].divisions)
    if not found:
        return
    found.sort(key=lambda ending: (ending.cell, len(ending.tail)))
    block.endings = found
    block.breaks = [ending.cell for ending in found]
    block.leads = {ending.resume: ending for ending in found if ending.lead}


def after_boxes(cells: Cells) -> frozenset[int]:
    """The empty cells after boxes to tick, at which no line ends: a box stays with its words
    (common practice, no source)."""
    text = cells.passage.text if cells.passage is not None else ""
    rows = zip(cells.starts, cells.prints, cells.pieces, strict=True)
    ends = [start + len(piece.cells) for start, at, piece in rows
            if text[at : at + piece.length] in boxes() and piece.cells]  # fmt: skip
    return frozenset(end for end in ends if cells.text[end : end + 1] == BLANK)


def _division(start: int, at: int, row: Division) -> Ending:
    ends = start + row.end, start + row.resume
    return Ending(*ends, row.before.cells, row.after.cells, row, at)


def last_ending(block: Block, at: int, limit: int, space: int) -> Cut | None:
    """The last place up to the cell ``limit`` where the translator lets a line end, later than
    the empty cell ``space``."""
    row = bisect_right(block.breaks, limit) - 1
    while row >= 0 and block.breaks[row] > max(at, space):
        ending = block.endings[row]
        fits = ending.cell + len(ending.tail) <= limit
        if fits and (ending.division is None or limit - max(at, space) >= FEWEST_SAVED):
            return Cut(ending.cell, ending.resume, ending.tail, ending)
        row -= 1
    return None


def lead_of(block: Block, at: int) -> str:
    """Cells to add at the start of a line that goes on inside a word."""
    ending = block.leads.get(at)
    return ending.lead if ending is not None and at > block.start else ""


def parts_of(block: Block, here: int, start: int, found: Cut) -> tuple[Part, ...]:
    """What stands on a line cut from cell ``here``, the line beginning in cell ``start``."""
    parts: list[Part] = []
    lead = lead_of(block, here)
    if lead:
        parts.append(Part(start, lead, _source(block, block.leads[here], after=True)))
        start += len(lead)
    words = block.text[here : found.end]
    parts.append(Part(start, words, block.cells, here))
    if found.tail:
        tail = _source(block, found.ending, after=False)
        parts.append(Part(start + len(words), found.tail, tail))
    return tuple(parts)


def _source(block: Block, ending: Ending | None, after: bool) -> Cells | None:
    """The cells that stand at a line end or start instead of the word's own, with the print
    they stand for."""
    passage = block.cells.passage if block.cells is not None else None
    if ending is None or ending.division is None or passage is None:
        return None
    row = ending.division
    piece: Piece = row.after if after else row.before
    if not piece.length:
        return None
    low = ending.print + (row.after_at if after else row.before_at)
    return Cells(piece.cells, [piece], [0], [0], passage=within(passage, low, low + piece.length))
