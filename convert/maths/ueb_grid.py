"""Matrices and systems of equations, one line a row (UEB 11.8; GTM 15 as taught).

The brackets of rows are multi-line brackets, repeated on every line; entries are left-aligned
in columns with one blank column between; signs and text outside stand on the first line.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from .cells import BLANK, MathCells
from .data import indicator
from .tree import BAR, CLOSE, OPEN, Expression, Grid, Letter, Row, Sign, parts, row
from .ueb_build import Builder
from .ueb_grade1 import tidy, written
from .ueb_row import side_by_side
from .ueb_tokens import RELATION


@dataclass(slots=True)
class _Text:
    """Cells with the leaf of each."""

    cells: str = ""
    origin: list[int] = field(default_factory=list)

    def add(self, cells: str, origin: list[int]) -> None:
        self.cells += cells
        self.origin.extend(origin)

    def pad(self, width: int) -> None:
        short = width - len(self.cells)
        if short > 0:
            self.add(BLANK * short, [-1] * short)


def is_display(expression: Expression) -> bool:
    """Whether rows and columns stand in the expression itself, not inside a structure."""
    return any(isinstance(node, Grid) and node.rows for node in parts(expression))


def cells(expression: Expression, builder: Builder, contracted: bool) -> MathCells:
    """The lines of an expression with rows and columns."""
    nodes = parts(expression)
    height = max(len(node.rows) for node in nodes if isinstance(node, Grid))
    lines = [_Text() for _ in range(height)]
    at = 0
    while at < len(nodes):
        end = at
        while end < len(nodes) and not isinstance(nodes[end], Grid):
            end += 1
        outside = list(nodes[at:end])
        opening = _fence(outside, -1) if end < len(nodes) else None
        if opening is not None:
            outside.pop()
        if outside:
            _outside(lines, row(tuple(outside)), builder, contracted, end < len(nodes))
        if end == len(nodes):
            break
        grid = nodes[end]
        assert isinstance(grid, Grid)
        closing = _fence(list(nodes[end + 1 : end + 2]), 0)
        _inside(lines, grid, (opening, closing), builder, contracted)
        at = end + 1 + (closing is not None)
    return _joined(lines, builder)


def _fence(nodes: list[Expression], at: int) -> Sign | None:
    """The bracket beside a grid, if there is one."""
    node = nodes[at] if nodes else None
    if isinstance(node, Sign) and node.role in (OPEN, CLOSE, BAR):
        return node
    return None


def _written(node: Expression, builder: Builder, contracted: bool) -> _Text:
    rows = written(tidy(builder.tokens(node)), contracted, passage=False)
    out = _Text()
    for before, text, token, after in rows:
        whole = before + text + after
        out.add(whole, [token.leaf] * len(whole))
    return out


def _outside(
    lines: list[_Text], node: Expression, builder: Builder, contracted: bool, more: bool
) -> None:
    """Signs and text outside the brackets: on the first line, with the blanks of comparison
    signs at either end."""
    width = max(len(line.cells) for line in lines)
    for line in lines:
        line.pad(width)
    sides = side_by_side(parts(node), False)
    if width and sides and sides[0].node is None:
        lines[0].add(BLANK, [-1])
    text = _written(node, builder, contracted)
    lines[0].add(text.cells, text.origin)
    if more and sides and sides[-1].node is None:
        lines[0].add(BLANK, [-1])


def _inside(
    lines: list[_Text],
    grid: Grid,
    fences: tuple[Sign | None, Sign | None],
    builder: Builder,
    contracted: bool,
) -> None:
    width = max(len(line.cells) for line in lines)
    table = [
        [_written(entry, builder, contracted) for entry in _entries(line, fences)]
        for line in grid.rows
    ]
    columns = max((len(line) for line in table), default=0)
    widths = [
        max((len(line[at].cells) for line in table if at < len(line)), default=0)
        for at in range(columns)
    ]
    opening, closing = (_enlarged(fence, builder, len(lines)) for fence in fences)
    for number, line in enumerate(table):
        out = lines[number]
        out.pad(width)
        out.add(*opening)
        edge = len(out.cells)
        for at, entry in enumerate(line):
            edge += widths[at - 1] + 1 if at else 0
            out.pad(edge)
            out.add(entry.cells, entry.origin)
        if closing[0]:
            start = width + len(opening[0]) + sum(widths) + max(0, columns - 1)
            out.pad(start)
            out.add(*closing)


def _entries(
    line: tuple[Expression, ...], fences: tuple[Sign | None, Sign | None]
) -> tuple[Expression, ...]:
    """The entries of a row.  The columns of a set of equations are only where print aligns
    them, so they are one entry."""
    if fences[1] is None and any(_is_relation(part) for entry in line for part in parts(entry)):
        return (row(line),)
    return line


def _is_relation(node: Expression) -> bool:
    return [part.node is None for part in side_by_side((Letter("x"), node), False)][1:2] == [True]


def _enlarged(fence: Sign | None, builder: Builder, height: int) -> tuple[str, list[int]]:
    """A bracket of several lines (GTM 5)."""
    if fence is None:
        return "", []
    text = _written(fence, builder, False)
    cells = indicator("enlarged").cells + text.cells
    return cells, [text.origin[0] if text.origin else -1] * len(cells)


def _joined(lines: list[_Text], builder: Builder) -> MathCells:
    text, origin, starts = "", list[int](), list[int]()
    for number, line in enumerate(lines):
        if number:
            starts.append(len(text))
        text += line.cells
        origin.extend(line.origin)
    breaks: tuple[int, ...] = ()
    return MathCells(
        text, tuple(origin), breaks, tuple(builder.leaves), tuple(builder.problems), tuple(starts)
    )


__all__ = ["RELATION", "Row", "cells", "is_display"]
