"""Which tables may stand in columns as in print, and why others may not (BF 11.1, 11.2).

Columns keep the print arrangement, so they are the first choice; a table for which they would
not do is set another way, and the reason is given.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
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
from . import flow_heads
from .flow_grid import Line, Spot, flat
from .flow_heads import heads_of, in_order, levels_of
from .flow_runs import describe_graphics, drop_typeforms, visible
from .flow_state import Flow, Scope, Task
from .items import TablePlan, TableSpot
from .lines import Block
from .table_shape import Fit, Grid, Over, TableRow, block_of, fit

if TYPE_CHECKING:
    from .flow_setting import Setting

Measure = Callable[[Inlines], Cells]

NOT_ASKED = "columns were not asked for"
IN_NOTE = "it stands inside a note"
HEADINGS = "it has more than one row of column headings"
SPANS = "an entry reaches over several columns or rows"
REPEATED = "repeat"
"""What the convention says where such entries may be repeated."""
BLOCKS = "an entry holds more than one paragraph"
ROOM = "it has room for answers"
NOTES = "notes and the end of a print page fall inside it"
EMPTY = "it has no entries"
LONGEST = 3
"""Print characters that surely need a cell between them: a shorter stretch of contracted braille
for so much print is not to be expected (common practice, no source)."""


def shape_unfit(flow: Flow, lines: Sequence[Line | PrintPage], scope: Scope) -> str:
    """Why the shape of a table, whatever its widths, keeps it from columns; "" if nothing does."""
    if flow.measure is None:
        return NOT_ASKED
    if scope.note:
        return IN_NOTE
    rows = [line for line in lines if isinstance(line, Line)]
    if reason := _unfit(flow, lines, rows, columns_of(rows)):
        return reason
    body = rows[levels_of(rows) :]
    return "" if any(_shows(flow, spot.entry) for spot in _spots(body)) else EMPTY


def columns_of(rows: Sequence[Line]) -> int:
    """How many columns some rows have."""
    return max(spot.column + spot.columns for row in rows for spot in row.spots)


@dataclass(slots=True)
class Fitter:
    """Tries a table in columns; what its entries measure is worked out once for all trials."""

    flow: Flow
    scope: Scope
    address: str
    boxes: dict[tuple[int, bool], tuple[TableEntry, Block | None]] = field(default_factory=dict)

    @property
    def cells(self) -> int:
        """The cells of a line that the table may take."""
        flow = self.flow
        whole = flow.settings.cells or flow.convention.page.cells
        return whole - min(self.scope.shift, flow.widest - 1)

    def surely_over(self, rows: Sequence[Line], share: int, parts: int = 1) -> bool:
        """Whether so many rows have so much print that no measuring is needed."""
        ledger = self.flow.document.ledger
        body = rows[levels_of(rows) :]
        long = sum(
            sum(len(text_of(_words(spot.entry), ledger)) for spot in row.spots)
            > LONGEST * self.cells * parts
            for row in body
            if len(row.spots) > 1
        )
        return long * 100 > share * len(body)

    def grid(self, rows: Sequence[Line]) -> tuple[Grid, TablePlan]:
        """The entries of some rows with their cells, and the plan to set them by."""
        columns = columns_of(rows)
        shows = partial(_shows, self.flow)
        heads = heads_of(rows, columns, shows)
        body = rows[heads.rows :]
        headed = bool(heads.upper) or any(shows(leaf.entry) for leaf in heads.leaves)
        wide = frozenset(at for at, row in enumerate(body) if is_wide(row, columns))
        over = tuple(
            Over(at - heads.rows, spot.column, spot.columns, self._measured(spot, True))
            for at, spot in heads.upper
        )
        made = Grid(
            self._row(heads.leaves, columns, True) if headed else (),
            tuple(
                TableRow(self._row(row.spots, columns, False), at in wide)
                for at, row in enumerate(body)
            ),
            over,
        )
        spans = tuple((head.row, head.column, head.columns) for head in over)
        return made, TablePlan(columns, len(body), headed, wide, self.address, spans)

    def fitted(self, rows: Sequence[Line], share: int) -> tuple[TablePlan, Fit] | str:
        """The plan and the widths of some rows in columns; or why they do not fit."""
        made, plan = self.grid(rows)
        found = fit(made, self.cells, share)
        return found if isinstance(found, str) else (plan, found)

    def _row(self, spots: Sequence[Spot], columns: int, head: bool) -> tuple[Block | None, ...]:
        """The entries of a row with their cells, by column."""
        out: list[Block | None] = [None] * columns
        for spot in spots:
            out[spot.column] = self._measured(spot, head)
        return tuple(out)

    def _measured(self, spot: Spot, head: bool) -> Block | None:
        key = (id(spot.entry), head)
        if key not in self.boxes:
            self.boxes[key] = (spot.entry, self._box(spot, head))
        return self.boxes[key][1]

    def _box(self, spot: Spot, head: bool) -> Block | None:
        ledger = self.flow.document.ledger
        runs = describe_graphics(_without_turns(_words(spot.entry)))
        if head:
            runs, _ = drop_typeforms(runs, "whole", ledger)
        if self.flow.measure is None or not visible(runs, ledger):
            return None
        return block_of(self.flow.measure(runs))


def _unfit(
    flow: Flow, lines: Sequence[Line | PrintPage], rows: Sequence[Line], columns: int
) -> str:
    """Why the shape of a table keeps it from columns; "" if nothing does."""
    heads = [at for at, row in enumerate(rows) if flow_heads.is_headed(row)]
    levels = levels_of(rows)
    if heads != list(range(levels)) or levels > flow_heads.MOST or (rows[0].head and not heads):
        return HEADINGS
    if any(map(_reaches, _spots(rows))) and (
        flow.convention.rules["table_spans"] != REPEATED or flow_heads.unfit(rows)
    ):
        return SPANS
    for at, row in enumerate(rows):
        for spot in row.spots:
            if is_wide(row, columns) and ((at == 0 and row.head) or spot.entry.rows > 1):
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


def is_wide(row: Line, columns: int) -> bool:
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


def _reaches(spot: Spot) -> bool:
    """Whether an entry covers several columns or rows."""
    return spot.columns > 1 or spot.entry.rows > 1 or not spot.fresh


def has_repeats(flow: Flow, made: TablePlan, lines: Sequence[Line | PrintPage]) -> bool:
    """Whether entries over several columns or rows stand in each of them."""
    rows = [line for line in lines if isinstance(line, Line)]
    shows = partial(_shows, flow)
    return flow_heads.repeats(rows, heads_of(rows, made.columns, shows), shows)


def _shows(flow: Flow, entry: TableEntry) -> bool:
    return visible(_words(entry), flow.document.ledger)


def _without_turns(runs: Inlines) -> Inlines:
    return tuple(run for run in runs if not isinstance(run, PrintPageTurn))


# ---------------------------------------------------------------- setting


def has_gaps(flow: Flow, made: TablePlan, lines: Sequence[Line | PrintPage]) -> bool:
    """Whether guide dots will fill a column of some row."""
    rows = [line for line in lines if isinstance(line, Line)]
    return any(_has_gap(flow, row, made.columns) for row in rows[len(rows) - made.rows :])


def tasks(setting: Setting, made: TablePlan, lines: Sequence[Line | PrintPage]) -> list[Task]:
    """The entries of a table in columns, row by row, print pages between rows (BF 11.2)."""
    flow, scope = setting.flow, setting.scope
    rows = [line for line in lines if isinstance(line, Line)]
    out: list[Task] = []
    number = made.rows - len(rows)
    heads = heads_of(rows, made.columns, partial(_shows, flow))
    for line in lines:
        if isinstance(line, PrintPage):
            out.append((line, scope))
            continue
        before, after = _turns(flow, line)
        out += [flow.turn_step(label, line.address, scope) for label in before]
        spots = in_order(heads, line) if number < 0 else ((number, spot) for spot in line.spots)
        out += [
            partial(_entry, setting, TableSpot(made, row, spot.column), spot) for row, spot in spots
        ]
        out += [flow.turn_step(label, line.address, scope) for label in after]
        number += 1
    return out


def _has_gap(flow: Flow, row: Line, columns: int) -> bool:
    """Whether guide dots will fill a column of a row."""
    if is_wide(row, columns):
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
        for run in _words(spot.entry) if spot.fresh else ():
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
