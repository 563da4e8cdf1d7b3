"""Matrices, determinants and systems of equations: one line a row (digest of section 12).

Grouping signs are enlarged and repeated on every row; entries are left-justified with one blank
column between; rows of a system without a closing sign are aligned at their comparison signs.
Signs outside stand on the first line (no source for the choice of the line).
"""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import zip_longest

from . import nemeth_work
from .cells import BLANK, MathCells
from .columns import WIDE, Text, as_work, is_aligned, is_block, told_style
from .nemeth_build import Builder
from .nemeth_data import indicator, sign
from .nemeth_row import side_by_side
from .nemeth_write import write
from .tree import BAR, CLOSE, OPEN, Expression, Grid, Sign, leaves, parts, row
from .tree import Space as SpaceNode


@dataclass(slots=True)
class Line:
    """Cells with the leaf of each; ``comparison`` as :class:`Written` has it."""

    cells: str = ""
    origin: list[int] = field(default_factory=list)
    comparison: int = -1

    def add(self, cells: str, origin: list[int] | None = None) -> None:
        """Cells at the end, of no leaf where none is given."""
        self.cells += cells
        self.origin.extend([-1] * len(cells) if origin is None else origin)

    def pad(self, width: int) -> None:
        """Blanks up to ``width`` cells."""
        self.add(BLANK * max(width - len(self.cells), 0))


def is_display(expression: Expression) -> bool:
    """Whether rows and columns, or arithmetic in columns, stand in the expression itself, not
    inside a structure."""
    return any(map(is_block, parts(expression)))


def cells(expression: Expression, builder: Builder) -> MathCells:
    """The lines of an expression with rows and columns."""
    nodes = parts(expression)
    lines = [Line()]
    at = 0
    while at < len(nodes):
        end = at
        while end < len(nodes) and not is_block(nodes[end]):
            end += 1
        block = nodes[end] if end < len(nodes) else None
        outside = list(nodes[at:end])
        opening = _fence(outside[-1]) if outside and isinstance(block, Grid) else None
        if opening is not None:
            outside.pop()
        _outside(lines, outside, builder, block is not None)
        closing = None
        if isinstance(block, Grid):
            closing = _fence(nodes[end + 1]) if end + 1 < len(nodes) else None
            _deepen(lines, len(block.rows))
            _grid(lines, block, opening, closing, builder)
        elif block is not None and (work := as_work(block)) is not None:
            builder.doubts.extend(told_style(work))
            _beside(lines, nemeth_work.lines(work, builder))
        at = end + 1 + (closing is not None)
    return _joined(lines, builder)


def _beside(lines: list[Line], block: list[Text]) -> None:
    """Lines to the right of what is there already."""
    width = max(len(line.cells) for line in lines)
    _deepen(lines, len(block))
    for line, more in zip(lines, block, strict=False):
        line.pad(width + bool(width))
        line.add(more.cells, more.origin)


def _deepen(lines: list[Line], height: int) -> None:
    lines.extend(Line() for _ in range(height - len(lines)))


def _fence(node: Expression) -> Sign | None:
    return node if isinstance(node, Sign) and node.role in (OPEN, CLOSE, BAR) else None


def _line(node: Expression, builder: Builder, entry: bool) -> Line:
    written = write(builder.tokens(node), entry=entry)
    return Line(written.cells, list(written.origin), written.comparison)


def _outside(lines: list[Line], nodes: list[Expression], builder: Builder, more: bool) -> None:
    """What stands beside the rows, on the first line, with the blanks its ends need."""
    if not any(not isinstance(leaf, SpaceNode) for node in nodes for leaf in leaves(node)):
        return
    width = max(len(line.cells) for line in lines)
    for line in lines:
        line.pad(width)
    sides = side_by_side(nodes)
    if width and sides[0].before:
        lines[0].add(BLANK)
    text = _line(row(tuple(nodes)), builder, entry=bool(width))
    lines[0].add(text.cells, text.origin)
    if more and sides[-1].after:
        lines[0].add(BLANK)


def _grid(
    lines: list[Line], grid: Grid, opening: Sign | None, closing: Sign | None, builder: Builder
) -> None:
    fenced = opening is not None or closing is not None
    first = _enlarged(opening, builder) if opening is not None else Line()
    matrix = closing is not None or not is_aligned(grid)
    rows = (
        _matrix(grid, builder, closing is None, fenced)
        if matrix
        else _system(grid, builder, fenced)
    )
    last = _enlarged(closing, builder) if closing is not None else Line()
    width = max(len(line.cells) for line in lines)
    inner = max(len(line.cells) for line in rows)
    for line, inside in zip(lines, rows, strict=False):
        line.pad(width)
        line.add(first.cells, first.origin)
        line.add(inside.cells, inside.origin)
        if closing is not None:
            line.pad(width + len(first.cells) + inner)
            line.add(last.cells, last.origin)


def _matrix(grid: Grid, builder: Builder, wide: bool, fenced: bool) -> list[Line]:
    """Entries in columns, each as wide as its widest entry."""
    table = [[_line(entry, builder, entry=fenced) for entry in entries] for entries in grid.rows]
    blanks = any(BLANK in entry.cells for entries in table for entry in entries)
    gap = WIDE if wide and blanks else 1
    widths = [
        max(len(line.cells) for line in column) for column in zip_longest(*table, fillvalue=Line())
    ]
    out: list[Line] = []
    for entries in table:
        line, edge = Line(), 0
        for at, entry in enumerate(entries):
            line.pad(edge)
            line.add(entry.cells, entry.origin)
            edge += widths[at] + gap
        out.append(line)
    return out


def _system(grid: Grid, builder: Builder, fenced: bool) -> list[Line]:
    """Rows as expressions, aligned at their first comparison sign."""
    rows = [_line(row(tuple(entries)), builder, entry=fenced) for entries in grid.rows]
    edge = max(line.comparison for line in rows)
    out: list[Line] = []
    for line in rows:
        aligned = Line()
        if line.comparison >= 0:
            aligned.pad(edge - line.comparison)
        aligned.add(line.cells, line.origin)
        out.append(aligned)
    return out


def _enlarged(fence: Sign, builder: Builder) -> Line:
    """A grouping sign over several rows: dot 6 before its root cell (digest 9)."""
    found = sign(fence.text)
    enlarged = indicator("enlarged")
    leaf = builder.add_leaf(fence)
    if found is None or found.group not in ("opening", "closing", "bar"):
        builder.tell("no enlarged form of this grouping sign in the Nemeth Code", fence.text)
        text = indicator("unknown") if found is None else found.cells
    elif found.group == "bar":
        text = enlarged + found.cells
    else:
        text = found.cells[:-1] + enlarged + found.cells[-1]
    return Line(text, [leaf] * len(text))


def _joined(lines: list[Line], builder: Builder) -> MathCells:
    whole, starts = Line(), []
    for line in lines:
        starts.append(len(whole.cells))
        text = line.cells.rstrip(BLANK)
        whole.add(text, line.origin[: len(text)])
    problems = tuple(dict.fromkeys(builder.problems))
    return MathCells(
        whole.cells, tuple(whole.origin), (), tuple(builder.leaves), problems, tuple(starts[1:]),
        doubts=tuple(dict.fromkeys(builder.doubts)),
    )  # fmt: skip
