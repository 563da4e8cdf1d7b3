"""How wide the columns of a table are, and how its entries are cut to lines (BF 11.2).

Everything here works on entries that have their cells; ``None`` stands for an entry that print
leaves empty.  Widths are in cells.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import cache

from ..translation.cells import Cells
from .items import Item
from .lines import Block, Cut, cut, lead_of, prepare

BETWEEN = 2
"""Empty cells between the widest entries of neighbouring columns (BF 11.2)."""
RUNOVER = 2
"""Cells that runovers of an entry stand to the right of its column (BF 11.2)."""
LEAST = 2
"""The narrowest column: a separation line and guide dots need two cells (BF 11.2)."""
TOO_WIDE = "its columns are wider than the page"
RUNS_OVER = "too many of its rows would need runovers in columns"


@dataclass(frozen=True, slots=True)
class Slice:
    """One line of an entry: its cells from ``at`` to ``end``, ``indent`` cells into the column;
    ``lead`` and ``tail`` are cells added where a line goes on inside a word."""

    indent: int
    at: int
    end: int
    lead: str = ""
    tail: str = ""

    @property
    def reach(self) -> int:
        """Cells from the column's first to the end of the line."""
        return self.indent + len(self.lead) + self.end - self.at + len(self.tail)


@dataclass(frozen=True, slots=True)
class TableRow:
    """Entries by column; ``wide`` where the only entry reaches over all columns."""

    boxes: tuple[Block | None, ...]
    wide: bool = False


@dataclass(frozen=True, slots=True)
class Over:
    """A heading over other headings: the row it ends on (-2 is the lowest), its columns."""

    row: int
    column: int
    columns: int
    block: Block | None


@dataclass(frozen=True, slots=True)
class Grid:
    """Column headings (empty where print has none) and rows; ``over``: headings over these."""

    heads: tuple[Block | None, ...]
    rows: tuple[TableRow, ...]
    over: tuple[Over, ...] = ()

    @property
    def columns(self) -> int:
        return max([len(self.heads), *(len(row.boxes) for row in self.rows)])


@dataclass(frozen=True, slots=True)
class Fit:
    """The width of every column, and how many rows have runovers at it."""

    widths: tuple[int, ...]
    over: int


def block_of(cells: Cells | None) -> Block | None:
    """An entry made ready for cutting; ``None`` if it shows nothing."""
    made = prepare([Item("table", "table-columns", cells=cells)], []) if cells is not None else []
    return next((block for block in made if block.turn is None), None)


def slices(block: Block, width: int, indent: int = RUNOVER, force: bool = False) -> list[Slice]:
    """The lines of an entry in a column; none where a word is wider than its line, unless
    ``force``, which breaks it there."""
    out: list[Slice] = []
    here, stop = block.start, 0
    while here < block.end:
        while stop < len(block.stops) and block.stops[stop].cell <= here:
            stop += 1
        end = block.stops[stop].cell if stop < len(block.stops) else block.end
        margin = indent if out else 0
        lead = lead_of(block, here)
        room = width - margin - len(lead)
        found = cut(block, here, end, room)
        if found.end < 0:
            if not force:
                return []
            cell = min(here + max(1, room), end)
            found = Cut(cell, cell)
        out.append(Slice(margin, here, found.end, lead, found.tail))
        here = block.skip_blanks(found.resume, block.end)
    return out


@dataclass(slots=True)
class _Column:
    """One column: its entries, and the widths that matter."""

    head: Block | None
    entries: list[Block | None]
    full: list[int] = field(init=False)
    head_full: int = field(init=False)
    head_least: int = field(init=False)

    def __post_init__(self) -> None:
        self.full = [_full(entry, RUNOVER) for entry in self.entries]
        self.head_full = _full(self.head, 0)
        self.head_least = _least(self.head, 0, self.head_full)

    @property
    def natural(self) -> int:
        """The width at which no entry runs over."""
        return max(LEAST, self.head_least, *self.full)

    def least(self) -> int:
        """The width of the widest word, at the place it would stand."""
        words = [_least(e, RUNOVER, f) for e, f in zip(self.entries, self.full, strict=True)]
        return max(LEAST, self.head_least, *words)


def _full(block: Block | None, indent: int) -> int:
    """The width at which an entry is as few lines as print asks for."""
    if block is None:
        return 0
    return max(each.reach for each in slices(block, block.end - block.start + indent + 1, indent))


def _least(block: Block | None, indent: int, full: int) -> int:
    """The least width an entry can be cut to."""
    if block is None:
        return 0
    low, high = 1, full
    while low < high:
        middle = (low + high) // 2
        if slices(block, middle, indent):
            high = middle
        else:
            low = middle + 1
    return high


def fit(grid: Grid, room: int, share: int) -> Fit | str:
    """The widths of the columns on a page with ``room`` cells, where at most ``share`` rows of
    a hundred need runovers; else the reason why there are none."""
    count = grid.columns
    room -= BETWEEN * (count - 1)
    if room < LEAST * count:
        return TOO_WIDE
    columns = _columns(grid, count)
    _make_room_for(grid.over, columns)
    natural = [column.natural for column in columns]
    widths: Sequence[int] | None = natural
    if sum(natural) > room:
        widths = _narrowed(columns, natural, room)
    if widths is None:
        return TOO_WIDE
    over = _over(columns, widths)
    rows = sum(not row.wide for row in grid.rows)
    if over * 100 > share * rows:
        return RUNS_OVER
    made = _for_upper(grid.over, _for_headings(columns, widths, room), room)
    return TOO_WIDE if made is None else Fit(made, over)


def _make_room_for(over: Sequence[Over], columns: Sequence[_Column]) -> None:
    """Make the last column under a heading wide enough for the heading's widest word."""
    for head in over:
        under = columns[head.column : head.column + head.columns]
        have = sum(column.natural for column in under) + BETWEEN * (len(under) - 1)
        need = _least(head.block, 0, _full(head.block, 0))
        if need > have:
            under[-1].head_least = under[-1].natural + need - have


def reach(widths: Sequence[int], column: int, columns: int) -> int:
    """Cells from the first of some columns to the end of the last."""
    return sum(widths[column : column + columns]) + BETWEEN * (columns - 1)


def _for_upper(over: Sequence[Over], widths: tuple[int, ...], room: int) -> tuple[int, ...] | None:
    """The widths, made wider where room is left and a heading over several columns then needs
    fewer lines; ``None`` where its words do not fit over its columns."""
    out = list(widths)
    for head in over:
        if head.block is None:
            continue
        have = reach(out, head.column, head.columns)
        most = max(have, min(have + room - sum(out), _full(head.block, 0)))
        tried = ((len(slices(head.block, width, 0)), width) for width in range(have, most + 1))
        wanted = min((way for way in tried if way[0]), default=None)
        if wanted is None:
            return None
        for nth in range(wanted[1] - have):
            out[head.column + nth % head.columns] += 1
    return tuple(out)


def wide_heads(grid: Grid) -> list[int]:
    """The columns whose heading has a word wider than every entry below it."""
    columns = _columns(grid, grid.columns)
    return [at for at, c in enumerate(columns) if c.head_least > max(LEAST, *c.full)]


def crowded(grid: Grid, room: int) -> Fit:
    """Widths for a table that must stand in columns although its words are too wide for them."""
    count = grid.columns
    columns = _columns(grid, count)
    least = max(1, (room - BETWEEN * (count - 1)) // count)
    return Fit((least,) * count, _over(columns, (least,) * count))


def _columns(grid: Grid, count: int) -> list[_Column]:
    columns = []
    for at in range(count):
        entries = [row.boxes[at] for row in grid.rows if not row.wide and at < len(row.boxes)]
        columns.append(_Column(grid.heads[at] if at < len(grid.heads) else None, entries or [None]))
    return columns


def _over(columns: Sequence[_Column], widths: Sequence[int]) -> int:
    """Rows with an entry of more than one line."""
    rows: set[int] = set()
    for column, width in zip(columns, widths, strict=True):
        for at, (entry, full) in enumerate(zip(column.entries, column.full, strict=True)):
            if full > width or (entry is not None and entry.stops):
                rows.add(at)
    return len(rows)


def _narrowed(columns: Sequence[_Column], natural: list[int], room: int) -> list[int] | None:
    """The widths that fit and make the fewest rows run over: one column narrowed, the last
    best, or the widest ones down to one level; ``None`` where words are too wide."""
    least = [column.least() for column in columns]
    if sum(least) > room:
        return None
    excess = sum(natural) - room
    ways: list[list[int]] = []
    for at in reversed(range(len(columns))):
        if natural[at] - excess >= least[at]:
            ways.append([w - excess if nth == at else w for nth, w in enumerate(natural)])
    ways.append(_levelled(natural, least, room))
    return min(ways, key=lambda widths: _over(columns, widths))


def _levelled(natural: Sequence[int], least: Sequence[int], room: int) -> list[int]:
    """No column wider than one level, the highest that fits, but for its widest word."""
    level = max(natural)
    while True:
        widths = [max(low, min(w, level)) for low, w in zip(least, natural, strict=True)]
        if sum(widths) <= room:
            return widths
        level -= 1


def _for_headings(columns: Sequence[_Column], widths: Iterable[int], room: int) -> tuple[int, ...]:
    """The widths, made wider where room is left and a heading then needs fewer lines."""
    out = list(widths)

    @cache
    def lines(at: int, width: int) -> int:
        head = columns[at].head
        return len(slices(head, width, 0)) if head is not None else 0

    while True:
        left = room - sum(out)
        tallest = max(lines(at, out[at]) for at in range(len(out)))
        if tallest < 2:
            return tuple(out)
        wider = list(out)
        for at in range(len(out)):
            while left and lines(at, wider[at]) == tallest:
                wider[at] += 1
                left -= 1
            if lines(at, wider[at]) == tallest:
                return tuple(out)
        out = wider
