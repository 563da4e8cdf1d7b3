"""Tables: in columns where they fit, else set as lists (BF 11.1, 11.2, 11.16).

| the table has | is set as |
|---|---|
| columns that fit the page | columns as in print (11.2): flow_columns, tables |
| column headings | row headings from cell 5; below them ``column heading: entry`` 1-3 (11.16) |
| no column headings | one item a row: ``row heading: entry; entry.`` 1-3 (11.17) |
| answer spaces and no headings | a form: label and answer space on a line (6.7) |
| one column, or whole blocks in its entries and no headings | its blocks in reading order |

The finding says why a table is not in columns, and a transcriber's note how it was changed
(11.16, 3.1).  Each entry and each heading of
print stands once as print; where a heading is due again its words are added words.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from functools import partial

from ..document.nodes import (
    TRANSCRIBER_NOTE,
    Added,
    AnswerSpace,
    Block,
    Heading,
    Inlines,
    ListBlock,
    Paragraph,
    PrintPage,
    Table,
    TableEntry,
    inlines_of,
    text_of,
    walk,
)
from ..findings import Span
from . import flow_columns
from .flow_grid import Line, Spot, flat, grid, simple
from .flow_runs import copied, enclose, labelled, note, spaced, span_of, visible
from .flow_state import Flow, Scope, Task
from .items import TablePlan
from .table_shape import Fit

LONGEST_COPY = 200


@dataclass(slots=True)
class Setting:
    """A table on its way: column headings by column, and which of them print has used up."""

    flow: Flow
    scope: Scope
    heads: dict[int, list[Spot]] = field(default_factory=dict)
    used: set[int] = field(default_factory=set)
    rows: int = 0
    reason: str = ""
    where: Span | None = None

    def words(self, name: str) -> str:
        return self.flow.convention.notes[name].words

    def once(self, entry: TableEntry) -> Inlines:
        """The words of an entry on one line: as print the first time, then as added words."""
        ledger = self.flow.document.ledger
        runs, notes = flat(entry.children)
        if id(entry) not in self.used:
            self.used.add(id(entry))
            for body in notes:
                if not self.flow.survey.waits(body):
                    self.flow.due(body)
            return runs
        words = copied(runs, ledger)
        if words and len(text_of(words, ledger)) > LONGEST_COPY:
            return note(self.words("same-entry"))
        return words

    def label(self, spot: Spot) -> Inlines:
        """The column headings above a spot, joined."""
        out: Inlines = ()
        seen: set[int] = set()
        for column in range(spot.column, spot.column + spot.columns):
            for head in self.heads.get(column, ()):
                if id(head.entry) not in seen:
                    seen.add(id(head.entry))
                    out = spaced(out, self.heading(head), self.flow.document.ledger, ", ")
        return out

    def empty_note(self) -> None:
        """The note that tells what guide dots without an entry mean (BF 11.2)."""
        _note(self, note(self.words("table-empty")))

    def heading(self, head: Spot) -> Inlines:
        """A heading on one line, without the typeform it wears throughout (BF 11.2)."""
        return self.flow.upright(self.once(head.entry), "table-heading", "whole")


def table(flow: Flow, node: Table, scope: Scope) -> None:
    """A table: its title, the note that says how it is set, its rows."""
    named, lines = _named(node.caption, grid(node))
    group = f"table {node.address} {id(node)}"
    base = Scope(group=group, shift=scope.shift, note=scope.note, boxes=scope.boxes)
    base = replace(base, division=scope.division, style="table")
    setting = Setting(flow, base)
    rows = [line for line in lines if isinstance(line, Line)]
    setting.where = _where(rows)
    title = replace(base, style="table-title", group=None)
    tasks: list[Task] = [(block, title) for block in named]
    several = [line for line in rows if len(line.spots) > 1]
    headed = any(line.head for line in several) and not all(line.head for line in several)
    if headed or (_rows_of_entries(rows) and not _whole_blocks(rows)):
        planned = flow_columns.plan(flow, lines, base, node.address)
        if not isinstance(planned, str):
            tasks = [(block, replace(title, style="table-columns-title")) for block in named]
            flow.push([*tasks, *_columned(setting, planned, lines)])
            return
        setting.reason = planned
    if headed:
        tasks += _listed(setting, lines)
    elif not _rows_of_entries(rows) or _whole_blocks(rows):
        if len(rows) > 1:
            flow.findings.add("layout.table-as-text", setting.where)
        tasks += _as_blocks(lines, replace(scope, further=False))
    else:
        tasks += _linear(setting, lines)
    flow.push(tasks)


def _named(
    caption: tuple[Block, ...], lines: list[Line | PrintPage]
) -> tuple[tuple[Block, ...], list[Line | PrintPage]]:
    """The title of a table and its rows: a first row of headings with one entry over all the
    columns, or above another row of headings, is part of the title (BF 11.2)."""
    first = lines[0] if lines else None
    rows = [line for line in lines if isinstance(line, Line)]
    if not isinstance(first, Line) or len(rows) < 2 or not first.head or len(first.spots) != 1:
        return caption, lines
    columns = max(spot.column + spot.columns for row in rows for spot in row.spots)
    spot = first.spots[0]
    over_all = spot.columns >= columns or rows[1].head
    if columns < 2 or not over_all or spot.entry.rows != 1:
        return caption, lines
    return (*caption, *spot.entry.children), lines[1:]


def _columned(
    setting: Setting, planned: tuple[TablePlan, Fit], lines: list[Line | PrintPage]
) -> list[Task]:
    """Columns as in print (BF 11.2)."""
    plan, found = planned
    reason = "its columns fit the page"
    if found.over:
        reason = f"{reason} with few runovers"
    setting.flow.findings.add("layout.table-columned", setting.where, reason=reason)
    setting.scope = replace(setting.scope, style="table-columns")
    return flow_columns.tasks(setting, plan, lines)


def _rows_of_entries(rows: list[Line]) -> bool:
    """Whether most rows have more than one entry."""
    return 2 * sum(len(line.spots) > 1 for line in rows) > len(rows)


def _where(rows: list[Line]) -> Span | None:
    """The first print of a table."""
    for line in rows:
        for spot in line.spots:
            span = span_of(flat(spot.entry.children)[0])
            if span is not None and span[0] < span[1]:
                return span
    return None


def _whole_blocks(rows: Iterable[Line]) -> bool:
    return any(not simple(spot.entry) for line in rows for spot in line.spots)


def _as_blocks(lines: list[Line | PrintPage], scope: Scope) -> list[Task]:
    tasks: list[Task] = []
    for line in lines:
        if isinstance(line, PrintPage):
            tasks.append((line, scope))
        else:
            tasks += [(kid, scope) for s in line.spots if s.fresh for kid in s.entry.children]
    return tasks


# ---------------------------------------------------------------- with column headings


def _listed(setting: Setting, lines: list[Line | PrintPage]) -> list[Task]:
    """Rows under their headings; later rows of headings replace those above."""
    setting.flow.findings.add("layout.table-listed", setting.where, reason=setting.reason)
    tasks: list[Task] = []
    block: list[Line] = []
    told = False
    for line in lines:
        if isinstance(line, PrintPage):
            tasks.append((line, setting.scope))
        elif line.head and len(line.spots) > 1:
            block.append(line)
        else:
            if block:
                tasks.append(_heads_step(setting, block, told))
                block, told = [], True
            tasks.append(partial(_row, setting, line))
    if block:
        tasks.append(_heads_step(setting, block, told))
    return [*tasks, partial(_unused, setting)]


def _heads_step(setting: Setting, lines: list[Line], told: bool) -> Task:
    def step() -> None:
        if told:
            setting.flow.push([partial(_unused, setting), change])
        else:
            change()

    def change() -> None:
        setting.heads = {}
        for line in lines:
            for spot in line.spots:
                for column in range(spot.column, spot.column + spot.columns):
                    above = setting.heads.setdefault(column, [])
                    if all(other.entry is not spot.entry for other in above):
                        above.append(spot)
        corner = _corner(setting)
        if told and not corner:
            return
        name = "table-listed-corner" if corner else "table-listed"
        runs = (*note(setting.words(name)), *enclose(corner))
        _note(setting, runs)

    return step


def _corner(setting: Setting) -> Inlines:
    """The heading above the row headings, unless it reaches over other columns too."""
    out: Inlines = ()
    for spot in setting.heads.get(0, ()):
        if spot.columns == 1:
            out = spaced(out, setting.heading(spot), setting.flow.document.ledger, ", ")
    return out


def _note(setting: Setting, runs: Inlines) -> None:
    setting.flow.put("table-note", runs, replace(setting.scope, group=None))


def _row(setting: Setting, line: Line) -> None:
    """One row: its heading from cell 5, then each entry after its column heading."""
    setting.rows += 1
    ledger = setting.flow.document.ledger
    spots = line.spots
    first = spots[0] if spots and spots[0].column == 0 else None
    heading: Inlines = setting.once(first.entry) if first else ()
    if not visible(heading, ledger):
        number = note(setting.words("row").format(n=setting.rows))
        heading = (*heading, *number) if first is None or len(spots) > 1 else heading
    tasks: list[Task] = [
        partial(setting.flow.put, "table-row-heading", heading, setting.scope, line.address)
    ]
    for spot in spots[1:] if first else spots:
        tasks.append(partial(_entry, setting, spot))
    setting.flow.push(tasks)


def _entry(setting: Setting, spot: Spot) -> None:
    """One entry: ``column heading: entry``; an empty one is said (BF 11.2)."""
    flow, scope, entry = setting.flow, setting.scope, spot.entry
    ledger = flow.document.ledger
    label = setting.label(spot)
    if not spot.fresh or id(entry) in setting.used:
        runs = setting.once(entry) or note(setting.words("empty-entry"))
        flow.put("table", labelled(label, runs, ledger), scope, entry.address)
        return
    setting.used.add(id(entry))
    kids = list(entry.children)
    lead: Inlines = ()
    if kids and isinstance(kids[0], Paragraph | Heading):
        lead = kids.pop(0).runs  # type: ignore[union-attr]
    if not kids and not visible(lead, ledger):
        lead = (*lead, *note(setting.words("empty-entry")))
    bare = (*label, Added(":")) if label else ()
    runs = labelled(label, lead, ledger) if visible(lead, ledger) else (*bare, *lead)
    further = replace(scope, further=True)
    # A list in an entry is a level of it: two cells further right, without blank lines (BF 8.1).
    level = replace(scope, listed="table", level=1, levels=1, shift=scope.shift + 2)
    tasks: list[Task] = [partial(flow.put, "table", runs, scope, entry.address)]
    flow.push([*tasks, *((kid, level if isinstance(kid, ListBlock) else further) for kid in kids)])


def _unused(setting: Setting) -> None:
    """Column headings that no entry called for, so that none is lost."""
    ledger = setting.flow.document.ledger
    out: Inlines = ()
    for column in sorted(setting.heads):
        for spot in setting.heads[column]:
            if id(spot.entry) not in setting.used:
                out = spaced(out, setting.heading(spot), ledger, "; ")
    if visible(out, ledger):
        _note(setting, (*note(setting.words("table-unused")), *enclose(out)))
    elif out:
        setting.flow.put("table", out, setting.scope)


# ---------------------------------------------------------------- without column headings


def _linear(setting: Setting, lines: list[Line | PrintPage]) -> list[Task]:
    """One item a row; a row with answer spaces is part of a form."""
    rows = [line for line in lines if isinstance(line, Line)]
    form = any(_answers(spot.entry) for line in rows for spot in line.spots)
    tasks: list[Task] = []
    if not form:
        setting.flow.findings.add("layout.table-linear", setting.where, reason=setting.reason)
        tasks.append(partial(_note, setting, note(setting.words("table-linear"))))
    empty: list[Line] = []
    for line in [*lines, None]:
        if isinstance(line, Line) and not form and _is_empty(line):
            empty.append(line)
            continue
        if empty:
            tasks.append(partial(_empty_rows, setting, empty))
            empty = []
        if isinstance(line, PrintPage):
            tasks.append((line, setting.scope))
        elif line is not None and form:
            tasks += _form_row(setting, line)
        elif line is not None:
            tasks.append(partial(_linear_row, setting, line))
    return tasks


def _is_empty(line: Line) -> bool:
    return not any(spot.entry.children for spot in line.spots)


def _empty_rows(setting: Setting, lines: list[Line]) -> None:
    """Rows without a word, one after another, are said once (BF 11.2, 3.1.2)."""
    name = "empty-row" if len(lines) == 1 else "empty-rows"
    words = setting.words(name).format(n=len(lines))
    setting.flow.put("table", note(words), setting.scope, lines[0].address)


def _answers(entry: TableEntry) -> bool:
    return any(
        isinstance(run, AnswerSpace)
        for kid in entry.children
        for node in walk(kid)
        for run in inlines_of(node)
    )


def _linear_row(setting: Setting, line: Line) -> None:
    """``row heading: entry; entry.`` (BF 11.17)"""
    ledger = setting.flow.document.ledger
    if len(line.spots) == 1 and line.head:
        _row(setting, line)
        return
    out: Inlines = ()
    for at, spot in enumerate(line.spots):
        runs = setting.heading(spot) if spot.entry.head else setting.once(spot.entry)
        if not visible(runs, ledger):
            runs = (*runs, Added(setting.words("empty-entry"), TRANSCRIBER_NOTE))
        after_heading = at == 1 and line.spots[0].entry.head
        out = labelled(out, runs, ledger) if after_heading else spaced(out, runs, ledger, "; ")
    if text_of(out, ledger).rstrip()[-1:] not in (".", "!", "?", ""):
        out = (*out, Added("."))
    setting.flow.put("table", out, setting.scope, line.address)


def _form_row(setting: Setting, line: Line) -> list[Task]:
    """Labels and answer spaces of a row, a line ending after each answer space (BF 6.7).

    An empty entry of a form is room to write in; labels without any stand side by side.
    """
    ledger = setting.flow.document.ledger
    put = setting.flow.put
    tasks: list[Task] = []
    scope = replace(setting.scope, group=None)
    out: Inlines = ()
    labels = 0
    for spot in line.spots:
        entry = setting.once(spot.entry) if spot.fresh else ()
        answered = _answers(spot.entry)
        if spot.fresh and not visible(entry, ledger):
            at = (span_of((*out, *entry)) or (0, 0))[1]
            entry, answered = (*entry, AnswerSpace(at, at, "line")), True
        out = spaced(out, entry, ledger, "; " if labels and not answered else " ")
        labels += not answered
        if answered and labels:
            tasks.append(partial(put, "form", out, scope, line.address))
            out, labels = (), 0
    return [*tasks, partial(put, "form", out, scope, line.address)] if out else tasks
