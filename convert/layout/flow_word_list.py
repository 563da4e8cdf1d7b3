"""Lists that print sets in columns: word lists, spelling lists (BF 8.4).

A list is known to stand in columns by its role only.  Its items stand in as many columns as the
convention allows and the page has room for, two blank cells apart, read down and then across;
the whole list on one page.  Where that cannot be it is one column, and a finding says why.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial

from ..document.nodes import (
    AnswerSpace,
    Inlines,
    ListBlock,
    ListItem,
    NoteCall,
    Paragraph,
    PrintPageTurn,
)
from .flow_columns import IN_NOTE, NOT_ASKED, ROOM
from .flow_runs import describe_graphics, spaced, span_of, visible
from .flow_state import Flow, Scope, Task
from .items import TablePlan, TableSpot
from .lines import Block
from .table_shape import Fit, Grid, TableRow, block_of, fit

STYLE = "list-columns"
FEWEST = 4  # Items worth a second column (common practice, no source).
FEW = "it has few items"
INSIDE = "it stands inside another list"
MORE = "an item holds more than a few words"
TURNED = "a print page or a note begins inside it"
LONG_ITEMS = "its items are too long to stand side by side"
LONG = "it is longer than a page"


@dataclass(frozen=True, slots=True)
class Entry:
    """One item of the list: its words, its place in the source."""

    runs: Inlines
    address: str


def word_list(flow: Flow, node: ListBlock, scope: Scope) -> list[Task]:
    """Steps for a list in columns; none where it is one column, which is reported."""
    entries, reason = _entries(flow, node, scope)
    made = reason or _fitted(flow, entries, scope, node.address)
    span = span_of(tuple(run for entry in entries for run in entry.runs))
    if isinstance(made, str):
        flow.findings.add("layout.list-one-column", span, reason=made)
        return []
    flow.findings.add("layout.list-columned", span, columns=made.columns)
    here = replace(scope, style=STYLE, group=f"list {node.address} {id(node)}", further=False,
                   margins=None, level=0, levels=0)  # fmt: skip
    return [
        partial(_put, flow, entry, TableSpot(made, at % made.rows, at // made.rows), here)
        for at, entry in enumerate(entries)
    ]


def _entries(flow: Flow, node: ListBlock, scope: Scope) -> tuple[list[Entry], str]:
    """The items of a list, and what keeps them from columns."""
    if flow.measure is None or int(flow.convention.rules["list_columns"]) < 2:
        return [], NOT_ASKED
    if scope.note:
        return [], IN_NOTE
    if scope.listed:
        return [], INSIDE
    out: list[Entry] = []
    for kid in node.children:
        if not isinstance(kid, ListItem):
            return out, TURNED
        words = kid.children[0] if kid.children else None
        if len(kid.children) > 1 or not (words is None or isinstance(words, Paragraph)):
            return out, MORE
        runs = spaced(kid.marker, words.runs if words else (), flow.document.ledger)
        if any(isinstance(run, PrintPageTurn | NoteCall) for run in runs):
            return out, TURNED
        if any(isinstance(run, AnswerSpace) for run in runs):
            return out, ROOM
        if visible(runs, flow.document.ledger):
            out.append(Entry(runs, kid.address))
    return out, "" if len(out) >= FEWEST else FEW


def _fitted(flow: Flow, entries: Sequence[Entry], scope: Scope, address: str) -> TablePlan | str:
    """The most columns that have room; or why there are fewer than two."""
    page = flow.convention.page
    room = (flow.settings.cells or page.cells) - min(scope.shift, flow.widest - 1)
    lines = flow.settings.lines or page.lines
    blocks = [block for entry in entries for block in _measured(flow, entry)]
    reason = LONG_ITEMS
    for columns in range(int(flow.convention.rules["list_columns"]), 1, -1):
        rows = -(-len(entries) // columns)
        count = -(-len(entries) // rows)
        grid = Grid(
            (),
            tuple(
                TableRow(tuple(_at(blocks, row + rows * nth) for nth in range(count)))
                for row in range(rows)
            ),
        )
        if not isinstance(fit(grid, room, 0), Fit):
            continue
        if rows <= lines - 3:
            return TablePlan(count, rows, False, frozenset(), address, guided=False)
        reason = LONG
    return reason


def _measured(flow: Flow, entry: Entry) -> Iterator[Block | None]:
    if flow.measure is not None:
        yield block_of(flow.measure(describe_graphics(entry.runs)))


def _at(blocks: Sequence[Block | None], nth: int) -> Block | None:
    return blocks[nth] if nth < len(blocks) else None


def _put(flow: Flow, entry: Entry, spot: TableSpot, scope: Scope) -> None:
    last = flow.last
    flow.put(STYLE, entry.runs, scope, entry.address)
    if flow.last is not None and flow.last is not last:
        flow.last.spot = spot
