"""Matrices and systems of equations, one line a row (UEB 11.8; GTM 15 as taught).

The brackets of rows are multi-line brackets, repeated on every line; entries are left-aligned
in columns with one blank column between; signs and text outside stand on the first line.
"""

from __future__ import annotations

from . import ueb_work
from .cells import BLANK, MathCells
from .columns import WIDE, Text, as_work, is_aligned, is_block, told_style
from .data import indicator
from .tree import BAR, CLOSE, OPEN, Expression, Grid, Sign, parts, row
from .ueb_build import Builder
from .ueb_grade1 import tidy, written
from .ueb_row import side_by_side


def is_display(expression: Expression) -> bool:
    """Whether rows and columns, or arithmetic in columns, stand in the expression itself, not
    inside a structure."""
    return any(map(is_block, parts(expression)))


def cells(expression: Expression, builder: Builder, contracted: bool) -> MathCells:
    """The lines of an expression with rows and columns."""
    nodes = parts(expression)
    lines = [Text()]
    at = 0
    while at < len(nodes):
        end = at
        while end < len(nodes) and not is_block(nodes[end]):
            end += 1
        block = nodes[end] if end < len(nodes) else None
        outside = list(nodes[at:end])
        opening = _fence(outside, -1) if isinstance(block, Grid) else None
        if opening is not None:
            outside.pop()
        if outside:
            _outside(lines, row(tuple(outside)), builder, contracted, block is not None)
        closing = None
        if isinstance(block, Grid):
            closing = _fence(list(nodes[end + 1 : end + 2]), 0)
            _inside(lines, block, (opening, closing), builder, contracted)
        elif block is not None and (work := as_work(block)) is not None:
            builder.doubts.extend(told_style(work))
            _beside(lines, ueb_work.lines(work, builder, contracted))
        at = end + 1 + (closing is not None)
    return _joined(lines, builder)


def _beside(lines: list[Text], block: list[Text]) -> None:
    """Lines to the right of what is there already."""
    width = max(len(line.cells) for line in lines)
    _deepen(lines, len(block))
    for line, more in zip(lines, block, strict=False):
        line.pad(width + bool(width))
        line.join(more)


def _deepen(lines: list[Text], height: int) -> None:
    lines.extend(Text() for _ in range(height - len(lines)))


def _fence(nodes: list[Expression], at: int) -> Sign | None:
    """The bracket beside a grid, if there is one."""
    node = nodes[at] if nodes else None
    if isinstance(node, Sign) and node.role in (OPEN, CLOSE, BAR):
        return node
    return None


def _written(node: Expression, builder: Builder, contracted: bool) -> Text:
    rows = written(tidy(builder.tokens(node)), contracted, passage=False)
    out = Text()
    for before, text, token, after in rows:
        out.add(before + text + after, token.leaf)
    return out


def _outside(
    lines: list[Text], node: Expression, builder: Builder, contracted: bool, more: bool
) -> None:
    """Signs and text outside the brackets: on the first line, with the blanks of comparison
    signs at either end."""
    width = max(len(line.cells) for line in lines)
    for line in lines:
        line.pad(width)
    sides = side_by_side(parts(node), False)
    if width and sides and sides[0].node is None:
        lines[0].add(BLANK)
    lines[0].join(_written(node, builder, contracted))
    if more and sides and sides[-1].node is None:
        lines[0].add(BLANK)


def _inside(
    lines: list[Text],
    grid: Grid,
    fences: tuple[Sign | None, Sign | None],
    builder: Builder,
    contracted: bool,
) -> None:
    _deepen(lines, len(grid.rows))
    width = max(len(line.cells) for line in lines)
    joined = fences[1] is None and is_aligned(grid)
    table = [
        [_written(entry, builder, contracted) for entry in ((row(line),) if joined else line)]
        for line in grid.rows
    ]
    blanks = any(BLANK in entry.cells for line in table for entry in line)
    gap = WIDE if fences[1] is None and blanks else 1
    columns = max((len(line) for line in table), default=0)
    widths = [
        max((len(line[at].cells) for line in table if at < len(line)), default=0)
        for at in range(columns)
    ]
    opening, closing = (_enlarged(fence, builder) for fence in fences)
    for number, line in enumerate(table):
        out = lines[number]
        out.pad(width)
        out.join(opening)
        edge = len(out.cells)
        for at, entry in enumerate(line):
            edge += widths[at - 1] + gap if at else 0
            out.pad(edge)
            out.join(entry)
        if closing.cells:
            start = width + len(opening.cells) + sum(widths) + max(0, columns - 1)
            out.pad(start)
            out.join(closing)


def _enlarged(fence: Sign | None, builder: Builder) -> Text:
    """A bracket of several lines (GTM 5)."""
    out = Text()
    if fence is not None:
        text = _written(fence, builder, False)
        out.add(indicator("enlarged").cells + text.cells, text.origin[0] if text.origin else -1)
    return out


def _joined(lines: list[Text], builder: Builder) -> MathCells:
    whole, starts = Text(), list[int]()
    for line in lines:
        starts.append(len(whole.cells))
        whole.join(line)
    return MathCells(
        whole.cells, tuple(whole.origin), (), tuple(builder.leaves), tuple(builder.problems),
        tuple(starts[1:]), signs=frozenset(builder.used),
        doubts=tuple(dict.fromkeys(builder.doubts)),
    )  # fmt: skip
