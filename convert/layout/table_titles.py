"""The title of a table that print sets in its first row (BF 11.2)."""

from __future__ import annotations

from collections.abc import Sequence

from ..document.nodes import Block, PrintPage
from .flow_columns import columns_of, is_wide
from .flow_grid import Line, answers, flat, simple
from .flow_runs import span_of, visible
from .flow_state import Flow

Lines = Sequence[Line | PrintPage]


def titled(
    flow: Flow, caption: tuple[Block, ...], lines: list[Line | PrintPage]
) -> tuple[tuple[Block, ...], list[Line | PrintPage]]:
    """The title of a table and its rows: a first row of headings with one entry over all the
    columns, or above another row of headings, is part of the title.  So is one that the source
    does not mark, where no title is given and no other row is such (common practice, no source);
    a finding tells of it."""
    first = lines[0] if lines else None
    rows = [line for line in lines if isinstance(line, Line)]
    if not isinstance(first, Line) or len(rows) < 2 or len(first.spots) != 1:
        return caption, lines
    columns, entry = columns_of(rows), first.spots[0].entry
    if columns < 2 or entry.rows != 1:
        return caption, lines
    over_all = is_wide(first, columns)
    if first.head:
        named = over_all or rows[1].head
    else:
        named = over_all and not caption and _heads_all(flow, rows, columns)
        if named:
            flow.findings.add("layout.first-row-title", span_of(flat(entry.children)[0]))
    return ((*caption, *entry.children), lines[1:]) if named else (caption, lines)


def _heads_all(flow: Flow, rows: Sequence[Line], columns: int) -> bool:
    """Whether the first row can only be the title of all the others."""
    entry = rows[0].spots[0].entry
    alone = not any(is_wide(row, columns) and _shows(flow, row) for row in rows[1:])
    several = sum(len(row.spots) > 1 for row in rows[1:]) > 1
    return alone and several and simple(entry) and not answers(entry) and _shows(flow, rows[0])


def _shows(flow: Flow, row: Line) -> bool:
    return visible(flat(row.spots[0].entry.children)[0], flow.document.ledger)
