"""The columns of a table in the order a person asked for (choice ``column-order``)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from ..document.nodes import PrintPage, PrintPageTurn, Table, inlines_of, walk
from .flow_choice import asked, span_of_table
from .flow_grid import Line, Spot
from .flow_state import Flow

SPANS = "an entry covers several of its columns"
TURNS = "a print page turns inside an entry"
Lines = list[Line | PrintPage]


def ordered(flow: Flow, node: Table, lines: Lines) -> tuple[Lines, str]:
    """The rows of a table with their columns in the order asked for, and that order in words,
    empty where print's order stays.  What cannot be followed is reported."""
    wish = asked(flow, node, "column-order")
    if not wish:
        return lines, ""
    order = [int(word) - 1 for word in wish.split()]
    span = span_of_table(node)
    rows = [line for line in lines if isinstance(line, Line)]
    if reason := _refusal(rows, order):
        choice = f"column-order {wish}"
        flow.findings.add("layout.choice-not-followed", span, choice=choice, reason=reason)
        return lines, ""
    words = ", ".join(wish.split())
    flow.findings.add("layout.table-reordered", span, order=words)
    return [_moved(line, order) if isinstance(line, Line) else line for line in lines], words


def _refusal(rows: Sequence[Line], order: Sequence[int]) -> str:
    """Why the columns cannot stand in this order; empty if they can."""
    spots = [spot for row in rows for spot in row.spots]
    columns = max((spot.column + spot.columns for spot in spots), default=0)
    if columns != len(order):
        return f"the order has {len(order)} columns and the table {columns}"
    if any(1 < spot.columns < columns for spot in spots):
        return SPANS
    return TURNS if any(map(_turns, spots)) else ""


def _turns(spot: Spot) -> bool:
    """Whether a print page turns inside an entry."""
    return any(
        isinstance(node, PrintPage) or any(isinstance(r, PrintPageTurn) for r in inlines_of(node))
        for kid in spot.entry.children
        for node in walk(kid)
    )


def _moved(line: Line, order: Sequence[int]) -> Line:
    """A row with each entry in its new column; one that covers all columns stays."""
    spots = [
        spot if spot.columns > 1 else replace(spot, column=order.index(spot.column))
        for spot in line.spots
    ]
    return replace(line, spots=tuple(sorted(spots, key=lambda spot: spot.column)))
