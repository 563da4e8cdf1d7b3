"""Tables in columns: entries with their cells become one item of lines (BF 11.2).

| line | holds |
|---|---|
| ``table-head`` | column headings, all ending on the same line |
| ``table-rule`` | under each heading dot 5, then dots 2-5 as far as the column is wide |
| ``table`` | the entries of a row, runovers two cells in |

The first entry of a row may run over; the others begin on its last line.

Guide dots (dot 5) lead from an entry to the next where two or more have room between blank
cells, and fill the column where print has no entry.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

from ..translation.cells import cells_of
from .items import FORWARD, Item, Part, SetLine, TablePlan
from .lines import Block
from .table_shape import (
    BETWEEN,
    RUNOVER,
    Fit,
    Grid,
    Over,
    Slice,
    TableRow,
    block_of,
    crowded,
    fit,
    reach,
    slices,
)

DOT = cells_of('"')
LINE = cells_of("3")


@dataclass(frozen=True, slots=True)
class Room:
    """The braille page a table stands on, in cells and lines."""

    cells: int
    lines: int


def gather(items: Sequence[Item], room: Room) -> list[Item]:
    """The items with the entries of each table in columns made one item."""
    last = {id(item.spot.plan): at for at, item in enumerate(items) if item.spot is not None}
    if not last:
        return list(items)
    out: list[Item] = []
    at = 0
    while at < len(items):
        spot = items[at].spot
        if spot is None:
            out.append(items[at])
            at += 1
            continue
        end = last[id(spot.plan)] + 1
        out += _Table(spot.plan, items[at:end], room).made(_above(out, room.cells))
        at = end
    return out


def _above(items: Sequence[Item], cells: int) -> int:
    """About how many lines of what must stand on the page of the table are above it."""
    count = 0
    for item in reversed(items):
        if item.page is not None:
            count += 1
            continue
        if FORWARD.isdisjoint(dict(item.keep)):
            break
        count += 1 + item.before + (len(item.cells or "") // max(1, cells - 8))
    return count


@dataclass(slots=True)
class _Table:
    """One table on its way to lines."""

    plan: TablePlan
    items: Sequence[Item]
    room: Room
    starts: tuple[int, ...] = ()
    widths: tuple[int, ...] = ()
    left: int = 0
    pages: dict[int, list[str | None]] = field(default_factory=dict)

    def made(self, above: int) -> list[Item]:
        """The table as an item; what else stood among its entries comes after."""
        plan, first = self.plan, self.items[0]
        boxes, rest = self._sorted()
        heads = tuple(
            boxes.get((-1, column)) for column in range(plan.columns if plan.headed else 0)
        )
        rows = tuple(
            TableRow(
                tuple(boxes.get((row, column)) for column in range(plan.columns)), row in plan.wide
            )
            for row in range(plan.rows)
        )
        self.left = first.first - 1
        over = tuple(Over(*span, boxes.get(span[:2])) for span in plan.spans)
        self._measure(Grid(heads, rows, over))
        lines = [*self._upper(over), *self._headings(heads)] if heads else []
        for number, row in enumerate(rows):
            made = self._row(row)
            made[0].pages = tuple(self.pages.get(number, ()))
            lines += made
        whole = above + len(lines) + len(self.pages) <= self.room.lines - 2
        item = replace(
            first,
            runs=(),
            cells=None,
            spot=None,
            set_lines=tuple(lines),
            element=plan.address or first.element,
            after=next((i.after for i in reversed(self.items) if i.spot is not None), 0),
            keep=(*first.keep, ("whole", 1)) if whole else first.keep,
        )
        return [item, *rest]

    def _sorted(self) -> tuple[dict[tuple[int, int], Block | None], list[Item]]:
        """Entries by row and column, and items that are none; print pages go to their rows."""
        boxes: dict[tuple[int, int], Block | None] = {}
        rest: list[Item] = []
        waiting: list[str | None] = []
        for item in self.items:
            if item.spot is not None:
                boxes[item.spot.row, item.spot.column] = block_of(item.cells)
                if waiting:
                    self.pages.setdefault(max(0, item.spot.row), []).extend(waiting)
                    waiting = []
            elif item.page is not None:
                waiting.append(item.page[0])
            else:
                rest.append(item)
        return boxes, rest

    def _measure(self, grid: Grid) -> None:
        """Settle where the columns stand."""
        room = self.room.cells - self.left
        found = fit(grid, room, 100)
        made = found if isinstance(found, Fit) else crowded(grid, room)
        self.widths = made.widths
        starts = [self.left]
        for width in made.widths[:-1]:
            starts.append(starts[-1] + width + BETWEEN)
        self.starts = tuple(starts)

    # ------------------------------------------------------------ lines

    def _upper(self, over: Sequence[Over]) -> Iterator[SetLine]:
        """Headings over other headings, each with its line over all the columns it covers."""
        for row in sorted({head.row for head in over}):
            heads = [head for head in over if head.row == row]
            starts = [self.starts[head.column] for head in heads]
            widths = [reach(self.widths, head.column, head.columns) for head in heads]
            yield from _heading_lines(tuple(head.block for head in heads), starts, widths)

    def _headings(self, heads: Sequence[Block | None]) -> Iterator[SetLine]:
        """Column headings at the left of their columns, then the line under each; none where
        all headings stand over several columns."""
        if not self.plan.spans or any(heads):
            yield from _heading_lines(heads, self.starts, self.widths)

    def _row(self, row: TableRow) -> list[SetLine]:
        """The lines of a row; a page may turn after the last."""
        if row.wide:
            width = self.room.cells - self.left
            only = row.boxes[0]
            cut = [_lines(only, width, RUNOVER) if only is not None else []]
        else:
            cut = [
                _lines(box, width, RUNOVER) if box is not None else []
                for box, width in zip(row.boxes, self.widths, strict=True)
            ]
        base, kind = max(0, len(cut[0]) - 1), self.items[0].kind
        height = max([base + 1, *(base + len(lines) for lines in cut[1:])])
        parts: list[list[Part]] = [[] for _ in range(height)]
        for at, lines in enumerate(cut):
            box = row.boxes[at]
            for number, line in enumerate(lines):
                if box is not None:
                    parts[number + (base if at else 0)] += _parts(box, line, self.starts[at])
            if not row.wide and self.plan.guided:
                parts[base] += self._dots(cut, at)
        return [
            SetLine(tuple(line), kind, "runover" if number else "first", number < height - 1)
            for number, line in enumerate(parts)
        ]

    def _dots(self, cut: Sequence[Sequence[Slice]], at: int) -> list[Part]:
        """Guide dots over a column without entry, or from an entry to the next one (BF 11.2)."""
        if not cut[at]:
            return [Part(self.starts[at], DOT * self.widths[at])]
        if at + 1 == len(cut) or not cut[at + 1] or (at and len(cut[at]) > 1):
            return []
        end = self.starts[at] + cut[at][-1].reach
        count = self.starts[at + 1] - end - 2
        return [Part(end + 1, DOT * count)] if count > 1 else []


def _heading_lines(
    heads: Sequence[Block | None], starts: Sequence[int], widths: Sequence[int]
) -> Iterator[SetLine]:
    """Headings side by side, all ending on one line, then the line under each."""
    cut = [
        _lines(head, width, 0) if head is not None else []
        for head, width in zip(heads, widths, strict=True)
    ]
    height = max(map(len, cut))
    for line in range(height):
        parts: list[Part] = []
        for start, head, lines in zip(starts, heads, cut, strict=True):
            at = line - height + len(lines)
            if head is not None and at >= 0:
                parts += _parts(head, lines[at], start)
        yield SetLine(tuple(parts), "table-head", "runover" if line else "first", True)
    rule = [
        Part(start, DOT + LINE * (width - 1)) for start, width in zip(starts, widths, strict=True)
    ]
    yield SetLine(tuple(rule), "table-rule", with_next=True)


def _lines(block: Block, width: int, indent: int) -> list[Slice]:
    return slices(block, width, indent) or slices(block, width, indent, force=True)


def _parts(block: Block, line: Slice, start: int) -> list[Part]:
    """The parts of one line of an entry whose column begins at cell ``start``."""
    at = start + line.indent
    parts = [Part(at, line.lead)] if line.lead else []
    at += len(line.lead)
    parts.append(Part(at, block.text[line.at : line.end], block.cells, line.at))
    if line.tail:
        parts.append(Part(at + line.end - line.at, line.tail))
    return parts
