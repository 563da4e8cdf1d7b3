"""The blocks of an edition, put together again from the lines of its pages.

What belongs to the page alone is left out: page numbers, running heads, lines for page turns and
boxes, contents and title pages of volumes, the division of words at line ends.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field

from ...edition import Edition
from ...layout.book import Page, Row
from ...translation.cells import BLANK, Cells

# Rows of furniture and of what only a volume on paper has.
_PAPER = frozenset({"page-turn", "note-rule", "end-of-volume", "toc", "title"})
_PAPER_STYLES = frozenset({"contents-heading", "contents", "title", "title-page"})
# Lines that stand as they are drawn: sums, matrices, long division.
SPATIAL = frozenset({"math-rows"})
_DRAWN = re.compile(f"[^{BLANK}]+")
_COLUMNS = frozenset({"table", "table-head"})


@dataclass(frozen=True, slots=True)
class Turn:
    """A print page begins; ``label`` as print."""

    label: str


@dataclass(slots=True)
class Slice:
    """Cells ``low`` to ``high`` of one translated text."""

    source: Cells
    low: int
    high: int

    @property
    def cells(self) -> str:
        """The cells, without the blanks round them."""
        return self.source.text[self.low : self.high].strip(BLANK)


@dataclass(slots=True)
class Block:
    """One block: what it is, and its words with the print pages that begin in them.

    ``level`` and ``levels`` as in the trace.  ``apart``: a blank line stands above it.
    ``lines`` holds drawn lines, cells as they stand.
    """

    kind: str
    style: str
    element: str | None
    level: int
    levels: int
    apart: bool = False
    pieces: list[Slice | Turn] = field(default_factory=list)
    lines: list[str] = field(default_factory=list)


@dataclass(slots=True)
class Grid:
    """A table in columns: rows of entries by the cell they begin in (from 0), heading rows
    marked; ``starts`` are the cells its columns begin in, as the lines under the headings say."""

    element: str | None
    rows: list[tuple[bool, dict[int, Slice]]] = field(default_factory=list)
    starts: tuple[int, ...] = ()


Piece = Block | Grid | Turn


def blocks_of(edition: Edition) -> list[Piece]:
    """All blocks of an edition in reading order; front pages that volumes repeat come once."""
    stream = _Stream()
    for volume in edition.volumes:
        for page in volume.pages:
            stream.add_page(page)
    return list(_once(stream.out))


def _once(pieces: list[Piece]) -> Iterator[Piece]:
    """Pages of symbols and notes of later volumes say again what the first has said."""
    said: set[tuple[str, str]] = set()
    for piece in pieces:
        if isinstance(piece, Block) and piece.element is None:
            words = " ".join(each.cells for each in piece.pieces if isinstance(each, Slice))
            if piece.style in FRONT and (piece.style, words) in said:
                continue
            said.add((piece.style, words))
        yield piece


FRONT = frozenset({"symbols", "symbols-heading", "symbols-group", "notes", "notes-heading"})


class _Stream:
    """Takes the rows of pages, gives blocks."""

    def __init__(self) -> None:
        self.out: list[Piece] = []
        self._page: str | None = None
        self._turns: list[Turn] = []
        self._open: dict[str | None, Block] = {}

    def add_page(self, page: Page) -> None:
        """Every row of one braille page."""
        if page.series != "t":
            self._turn(page.print_page)
        for above, row in zip([*page.rows[:1], *page.rows], page.rows, strict=False):
            if row is not None:
                self._turn(row.print_page)
                self._add(row, above is None)

    def _turn(self, label: str | None) -> None:
        if label is not None and label != self._page:
            self._page = label
            self._turns.append(Turn(label))

    def _add(self, row: Row, apart: bool) -> None:
        if row.kind in ("box-top", "box-bottom"):
            self._settle()
            line = _block(row)
            _extend(line, row)
            self.out.append(line)
        elif row.kind == "table-rule":
            if self.out and isinstance(self.out[-1], Grid):
                self.out[-1].starts = tuple(found.start() for found in _DRAWN.finditer(row.text))
        elif row.kind in _PAPER or row.style in _PAPER_STYLES:
            return
        elif row.kind in _COLUMNS and row.style == "table-columns":
            self._grid(row)
        else:
            self._text(row, apart)

    def _text(self, row: Row, apart: bool) -> None:
        block = self._continued(row)
        if block is None:
            self._settle()
            block = self._open[row.element] = _block(row)
            block.apart = apart
            self.out.append(block)
        block.pieces += self._turns
        self._turns.clear()
        if row.style in SPATIAL:
            block.lines.append(row.text)
        _extend(block, row)

    def _continued(self, row: Row) -> Block | None:
        """The block that a line goes on with, if it begins none."""
        if row.style in SPATIAL:
            last = self.out[-1] if self.out else None
            return last if isinstance(last, Block) and _same(last, row) else None
        last = self._open.get(row.element) if row.part == "runover" else None
        return last if last is not None and _same(last, row) else None

    def _grid(self, row: Row) -> None:
        grid = self.out[-1] if self.out else None
        if not isinstance(grid, Grid) or grid.element != row.element or self._turns:
            self._settle()
            grid = Grid(row.element)
            self.out.append(grid)
        if row.part == "first" or not grid.rows:
            grid.rows.append((row.kind == "table-head", {}))
        entries = grid.rows[-1][1]
        for part in row.parts:
            if part.source is None:
                continue
            known, end = entries.get(part.start), part.at + len(part.text)
            if known is not None and known.source is part.source:
                known.high = max(known.high, end)
            else:
                entries[part.start] = Slice(part.source, part.at, end)

    def _settle(self) -> None:
        """Print pages that begin between two blocks."""
        self.out += self._turns
        self._turns.clear()


def _block(row: Row) -> Block:
    return Block(row.kind, row.style, row.element, row.level, row.levels)


def _same(block: Block, row: Row) -> bool:
    return block.element == row.element and block.style == row.style


def _extend(block: Block, row: Row) -> None:
    """Add what a line holds: the next cells of a text the block has, or a new text."""
    for part in row.parts:
        if part.source is None:
            continue
        end = part.at + len(part.text)
        known = [p for p in block.pieces if isinstance(p, Slice) and p.source is part.source]
        if known and not isinstance(block.pieces[-1], Turn):
            known[-1].high = max(known[-1].high, end)
        else:
            block.pieces.append(Slice(part.source, part.at, end))
