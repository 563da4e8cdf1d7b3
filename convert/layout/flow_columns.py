"""Which tables may stand in columns as in print, and why others may not (BF 11.1, 11.2).

Columns keep the print arrangement, so they are the first choice; a table for which they would
not do is set another way, and the reason is given.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import partial
from typing import TYPE_CHECKING

from ..document.nodes import (
    AnswerSpace,
    DisplayMath,
    Footnote,
    Heading,
    Inlines,
    NoteCall,
    Paragraph,
    PrintPage,
    PrintPageTurn,
    TableEntry,
    inlines_of,
    text_of,
    walk,
)
from ..translation.cells import Cells
from .flow_grid import Line, Spot, flat
from .flow_runs import describe_graphics, drop_typeforms, visible
from .flow_state import Flow, Scope, Task
from .items import TablePlan, TableSpot
from .lines import Block
from .table_shape import RUNS_OVER, Fit, Grid, TableRow, block_of, fit

if TYPE_CHECKING:
    from .flow_table import Setting

Measure = Callable[[Inlines], Cells]

NOT_ASKED = "columns were not asked for"
IN_NOTE = "it stands inside a note"
HEADINGS = "it has more than one row of column headings"
SPANS = "an entry reaches over several columns or rows"
BLOCKS = "an entry holds more than one paragraph"
ROOM = "it has room for answers"
NOTES = "notes and the end of a print page fall inside it"
EMPTY = "it has no entries"
LONGEST = 3
"""Print characters that surely need a cell between them: a shorter stretch of contracted braille
for so much print is not to be expected (common practice, no source)."""


def plan(flow: Flow, lines: Sequence[Line | PrintPage], scope: Scope, address: str) -> (
    tuple[TablePlan, Fit] | str
):  # fmt: skip
    """The table as columns, with the widths they will have; or why it cannot be."""
    if flow.measure is None or flow.convention.rules["tables"] != "columns":
        return NOT_ASKED
    if scope.note:
        return IN_NOTE
    rows = [line for line in lines if isinstance(line, Line)]
    columns = max(spot.column + spot.columns for row in rows for spot in row.spots)
    reason = _unfit(flow, lines, rows, columns)
    if reason:
        return reason
    headed = rows[0].head and len(rows[0].spots) > 1
    heads, body = (rows[0].spots, rows[1:]) if headed else ((), rows)
    headed = any(_shows(flow, spot.entry) for spot in heads)
    if not any(_shows(flow, spot.entry) for row in body for spot in row.spots):
        return EMPTY
    cells = (flow.settings.cells or flow.convention.page.cells) - min(scope.shift, flow.widest - 1)
    share = int(flow.convention.rules["table_runovers"])
    if _surely_runs_over(flow, body, cells, share):
        return RUNS_OVER
    wide = frozenset(at for at, row in enumerate(body) if _is_wide(row, columns))
    grid = Grid(
        _boxes(flow, heads, columns, True) if headed else (),
        tuple(
            TableRow(_boxes(flow, row.spots, columns, False), at in wide)
            for at, row in enumerate(body)
        ),
    )
    found = fit(grid, cells, share)
    if isinstance(found, str):
        return found
    return TablePlan(columns, len(body), headed, wide, address), found


def _unfit(
    flow: Flow, lines: Sequence[Line | PrintPage], rows: Sequence[Line], columns: int
) -> str:
    """Why the shape of a table keeps it from columns; "" if nothing does."""
    heads = [at for at, row in enumerate(rows) if row.head and len(row.spots) > 1]
    if heads not in ([], [0]) or (rows[0].head and not heads):
        return HEADINGS
    for at, row in enumerate(rows):
        whole = _is_wide(row, columns) and at > 0
        for spot in row.spots:
            if not spot.fresh or spot.entry.rows > 1 or (spot.columns > 1 and not whole):
                return SPANS
            if reason := _unfit_entry(flow, spot.entry):
                return reason
    turned = any(isinstance(line, PrintPage) for line in lines) or any(
        isinstance(run, PrintPageTurn) for spot in _spots(rows) for run in _words(spot.entry)
    )
    noted = flow.pending or any(
        isinstance(node, Footnote) or any(isinstance(r, NoteCall) for r in inlines_of(node))
        for spot in _spots(rows)
        for kid in spot.entry.children
        for node in walk(kid)
    )
    return NOTES if turned and noted and flow.by_page else ""


def _spots(rows: Sequence[Line]) -> Iterator[Spot]:
    for row in rows:
        yield from row.spots


def _is_wide(row: Line, columns: int) -> bool:
    """Whether the only entry of a row reaches over all columns."""
    return len(row.spots) == 1 and row.spots[0].columns == columns


def _unfit_entry(flow: Flow, entry: TableEntry) -> str:
    """Why an entry cannot stand in a column."""
    blocks = 0
    for kid in entry.children:
        if isinstance(kid, Footnote | PrintPage):
            continue
        if not isinstance(kid, Paragraph | Heading | DisplayMath):
            return BLOCKS
        runs = flat((kid,))[0]
        if any(isinstance(run, AnswerSpace) for run in runs):
            return ROOM
        blocks += visible(runs, flow.document.ledger)
    return BLOCKS if blocks > 1 else ""


def _words(entry: TableEntry) -> Inlines:
    return flat(entry.children)[0]


def _shows(flow: Flow, entry: TableEntry) -> bool:
    return visible(_words(entry), flow.document.ledger)


def _surely_runs_over(flow: Flow, rows: Sequence[Line], cells: int, share: int) -> bool:
    """Whether so many rows have so much print that no measuring is needed."""
    ledger = flow.document.ledger
    long = sum(
        sum(len(text_of(_words(spot.entry), ledger)) for spot in row.spots) > LONGEST * cells
        for row in rows
        if len(row.spots) > 1
    )
    return long * 100 > share * len(rows)


def _boxes(flow: Flow, spots: Sequence[Spot], columns: int, head: bool) -> tuple[Block | None, ...]:
    """The entries of a row with their cells, by column."""
    out: list[Block | None] = [None] * columns
    for spot in spots:
        runs = describe_graphics(_without_turns(_words(spot.entry)))
        if head:
            runs, _ = drop_typeforms(runs, "whole", flow.document.ledger)
        if flow.measure is not None and visible(runs, flow.document.ledger):
            out[spot.column] = block_of(flow.measure(runs))
    return tuple(out)


def _without_turns(runs: Inlines) -> Inlines:
    return tuple(run for run in runs if not isinstance(run, PrintPageTurn))


# ---------------------------------------------------------------- setting


def tasks(setting: Setting, made: TablePlan, lines: Sequence[Line | PrintPage]) -> list[Task]:
    """The entries of a table in columns, row by row, print pages between rows (BF 11.2)."""
    flow, scope = setting.flow, setting.scope
    rows = [line for line in lines if isinstance(line, Line)]
    out: list[Task] = []
    number = made.rows - len(rows)
    if any(_has_gap(flow, row, made.columns) for row in rows[-number:]):
        out.append(setting.empty_note)
    for line in lines:
        if isinstance(line, PrintPage):
            out.append((line, scope))
            continue
        before, after = _turns(flow, line)
        out += [flow.turn_step(label, line.address, scope) for label in before]
        out += [partial(_entry, setting, TableSpot(made, number, s.column), s) for s in line.spots]
        out += [flow.turn_step(label, line.address, scope) for label in after]
        number += 1
    return out


def _has_gap(flow: Flow, row: Line, columns: int) -> bool:
    """Whether guide dots will fill a column of a row."""
    if _is_wide(row, columns):
        return False
    return sum(_shows(flow, spot.entry) for spot in row.spots) < columns


def _turns(flow: Flow, line: Line) -> tuple[list[str | None], list[str | None]]:
    """Print pages that begin in a row: those before its first word, and the others, which
    begin after the row."""
    before: list[str | None] = []
    after: list[str | None] = []
    if not flow.survey.has_pages:
        return before, after
    begun = False
    for spot in line.spots:
        for run in _words(spot.entry):
            if isinstance(run, PrintPageTurn):
                (after if begun else before).append(run.label)
            else:
                begun = begun or visible((run,), flow.document.ledger)
    return before, after


def _entry(setting: Setting, where: TableSpot, spot: Spot) -> None:
    """One entry as an item of its own, until its cells are known."""
    flow = setting.flow
    runs = setting.heading(spot) if where.row < 0 else setting.once(spot.entry)
    last = flow.last
    flow.put("table-columns", _without_turns(runs), setting.scope, spot.entry.address)
    if flow.last is not None and flow.last is not last:
        flow.last.spot = where
