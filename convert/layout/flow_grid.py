"""The grid of a printed table: entries at their columns, spans resolved, headings found."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from ..document.nodes import (
    Added,
    AnswerSpace,
    Block,
    DisplayMath,
    Footnote,
    Graphic,
    Heading,
    Inline,
    Inlines,
    ListBlock,
    MathRun,
    Paragraph,
    PrintPage,
    PrintPageTurn,
    Table,
    TableEntry,
    TableRow,
    children_of,
    inlines_of,
    walk,
)

WIDEST_SPAN = 64


@dataclass(frozen=True, slots=True)
class Spot:
    """An entry at a column (from 0) of a row; ``fresh`` where print has it, else it reaches
    down from a row above.  ``columns`` is how many it covers."""

    entry: TableEntry
    column: int
    columns: int
    fresh: bool


@dataclass(frozen=True, slots=True)
class Line:
    """A row of the grid: its spots, and whether print makes it column headings."""

    spots: tuple[Spot, ...]
    head: bool
    address: str


@dataclass(slots=True)
class _Reach:
    spot: Spot
    rows: int


@dataclass(slots=True)
class _Columns:
    reaching: dict[int, _Reach] = field(default_factory=dict)

    def lay(self, row: TableRow) -> tuple[Spot, ...]:
        """The spots of one row, those that reach down from above among them."""
        spots: list[Spot] = []
        old, self.reaching = self.reaching, {}
        column = 0
        for entry in row.entries:
            while column in old:
                column = self._reach(old.pop(column), spots)
            columns = max(1, min(entry.columns, WIDEST_SPAN))
            spot = Spot(entry, column, columns, True)
            spots.append(spot)
            if entry.rows > 1:
                self.reaching[column] = _Reach(spot, entry.rows - 1)
            column += columns
        for left in sorted(old):
            self._reach(old[left], spots)
        return tuple(spots)

    def _reach(self, reach: _Reach, spots: list[Spot]) -> int:
        spot = reach.spot
        spots.append(Spot(spot.entry, spot.column, spot.columns, False))
        if reach.rows > 1:
            self.reaching[spot.column] = _Reach(spot, reach.rows - 1)
        return spot.column + spot.columns


def grid(table: Table) -> list[Line | PrintPage]:
    """The rows of a table with the columns of their entries; print page turns keep their place."""
    columns = _Columns()
    out: list[Line | PrintPage] = []
    for row in table.children:
        if isinstance(row, PrintPage):
            out.append(row)
            continue
        head = row.head or (bool(row.entries) and all(entry.head for entry in row.entries))
        out.append(Line(columns.lay(row), head, row.address))
    return _first_heads(out)


def _first_heads(lines: list[Line | PrintPage]) -> list[Line | PrintPage]:
    """The rows with only the first of several entries as column headings, and what is above it,
    where print marks all rows as headings (common practice, no source): such a mark means
    nothing, and the entries of a table are no headings."""
    rows = [line for line in lines if isinstance(line, Line)]
    several = [row for row in rows if len(row.spots) > 1]
    if len(several) < 2 or not all(row.head for row in rows):
        return lines
    last = next(at for at, line in enumerate(lines) if line is several[0])
    below = (replace(line, head=False) if isinstance(line, Line) else line for line in lines)
    return [*lines[: last + 1], *list(below)[last + 1 :]]


def flat(blocks: tuple[Block, ...]) -> tuple[Inlines, list[Footnote]]:
    """All words of some blocks on one line, print page turns kept; note bodies apart."""
    out: list[Inline] = []
    notes: list[Footnote] = []
    stack: list[object] = list(reversed(blocks))
    while stack:
        node = stack.pop()
        if isinstance(node, Footnote):
            notes.append(node)
            continue
        runs: Inlines = inlines_of(node)
        if isinstance(node, DisplayMath):
            runs = (MathRun(node.start, node.end, node.mathml),)
        elif isinstance(node, PrintPage):
            runs = (PrintPageTurn(node.label),)
        if runs and out and not isinstance(node, PrintPage):
            out.append(Added(" "))
        out += runs
        stack.extend(reversed(children_of(node)))
    return tuple(out), notes


def simple(entry: TableEntry) -> bool:
    """Whether an entry holds nothing but paragraphs, pictures, print page turns, or one item."""
    if len(entry.children) == 1 and isinstance(only := entry.children[0], ListBlock):
        return len(only.children) < 2
    kinds = (Paragraph, Heading, PrintPage, Graphic, DisplayMath, Footnote)
    return all(isinstance(kid, kinds) for kid in entry.children)


def answers(entry: TableEntry) -> bool:
    """Whether an entry has room for an answer."""
    return bool(answer_kinds(entry.children))


def answer_kinds(blocks: tuple[Block, ...]) -> set[str]:
    """The kinds of the answer spaces in some blocks."""
    return {
        run.kind
        for kid in blocks
        for node in walk(kid)
        for run in inlines_of(node)
        if isinstance(run, AnswerSpace)
    }
