"""Arithmetic in columns in the Nemeth Code: sums, carrying, long division (178-186; digest 12).

No numeral has an indicator; the operation sign stands just left of the widest line; the
separation line is one cell longer at both ends; carries stand over their columns.  From memory:
the line of dots 2-3-5-6 under carries, the division sign between divisor and dividend, and lines
that begin at it.
"""

from __future__ import annotations

from collections.abc import Mapping

from .cells import BLANK
from .columns import CARRIES, RULE, Columns, Item, Text, columns, crossed
from .nemeth_build import Builder
from .nemeth_data import digits, indicator
from .nemeth_write import write
from .tree import Expression, Line, Number, Sign, Work


def lines(work: Work, builder: Builder) -> list[Text]:
    """The lines of a work."""
    divisor = None if work.divisor is None else _written(work.divisor, builder)
    struck = crossed(work.lines)
    made = [
        (_lead(line, builder), _items(line, gone, builder))
        for line, gone in zip(work.lines, struck, strict=True)
    ]
    leads, rows = [lead for lead, _ in made], [row for _, row in made]
    if divisor is not None and len(leads) > 2:
        divisor.add(indicator("division sign"))
        divisor.join(leads[2])
        leads[2] = divisor
    sheet = columns(rows, {})
    head = max((len(lead.cells) for lead in leads), default=0)
    ruled = any(line.kind == RULE and line.span is None for line in work.lines)
    edge = head - 1 if divisor is not None else -1
    margin = 1 if ruled and divisor is None else 0
    out: list[Text] = []
    for line, lead, row in zip(work.lines, leads, rows, strict=True):
        if line.kind == RULE:
            out.append(_rule(line, sheet, head + margin, edge, "separation line"))
        elif row or line.kind != CARRIES:
            out.append(_figures(lead, row, sheet, head + margin))
        if row and line.kind == CARRIES:
            out.append(_rule(line, sheet, head + margin, edge, "carried number line"))
    return out


def _written(node: Expression, builder: Builder) -> Text:
    made = write(builder.tokens(node), entry=True)
    out = Text()
    out.cells, out.origin = made.cells, list(made.origin)
    return out


def _lead(line: Line, builder: Builder) -> Text:
    out = Text()
    for mark in line.lead:
        out.join(_written(mark, builder))
    return out


def _items(line: Line, struck: frozenset[int], builder: Builder) -> dict[int, Item]:
    opening, closing = indicator("opening cancellation"), indicator("closing cancellation")
    out: dict[int, Item] = {}
    for place, node in line.entries:
        if isinstance(node, Number) or (isinstance(node, Sign) and place % 2):
            item = Item(digits(node.text), builder.add_leaf(node))
        else:
            made = _written(node, builder)
            item = Item(made.cells, made.origin[0] if made.origin else -1)
        if place in struck:
            item = Item(opening + item.cells + closing, item.leaf)
        out[place] = item
    return out


def _figures(lead: Text, row: Mapping[int, Item], sheet: Columns, head: int) -> Text:
    out = Text()
    out.pad(head - len(lead.cells))
    out.join(lead)
    for place, item in row.items():
        out.pad(head + sheet.start(place, len(item.cells)))
        out.add(item.cells, item.leaf)
    return out


def _rule(line: Line, sheet: Columns, head: int, edge: int, name: str) -> Text:
    """A line of cells: under all, from one cell before to one cell after, in a division from
    the division sign at ``edge``; or under the columns print draws it under."""
    start, end = max(edge, 0), head + sheet.width + 1
    if line.span is not None:
        start, end = head + sheet.begin(line.span[0]), head + sheet.end(line.span[1])
    return Text(BLANK * start + indicator(name) * (end - start), [-1] * end)
