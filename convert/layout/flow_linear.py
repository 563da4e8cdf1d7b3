"""Tables set row by row: linear, in steps, as a form (BF 6.7, 11.17, 11.18).

| form | a row is |
|---|---|
| linear | ``row heading: entry; entry.`` from cell 1, runovers in cell 3 |
| stairstep | an entry a line, each two cells further right; runovers beyond the last |
| matching | an entry, the second column below the first |
| form | labels and answer spaces, a line for each label and its room |

Where the table has column headings, the note above gives them in the same arrangement.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial

from ..document.ledger import Ledger
from ..document.nodes import (
    TRANSCRIBER_NOTE,
    Added,
    AnswerSpace,
    Graphic,
    Inlines,
    PrintPage,
    TableEntry,
    text_of,
    walk,
)
from .flow_choice import Chosen
from .flow_columns import columns_of
from .flow_grid import Line, Spot, answer_kinds, answers, flat
from .flow_runs import enclose, labelled, note, spaced, span_of, visible
from .flow_setting import Setting, note_on
from .flow_state import Scope, Task


def _headings(setting: Setting, lines: Sequence[Line | PrintPage]) -> list[Inlines]:
    """The headings of the columns from the left, those of several rows joined; none where the
    table has none."""
    rows = [line for line in lines if isinstance(line, Line)]
    heads = [row for row in rows if row.head and len(row.spots) > 1]
    for row in heads:
        for spot in row.spots:
            for column in range(spot.column, spot.column + spot.columns):
                above = setting.heads.setdefault(column, [])
                if all(other.entry is not spot.entry for other in above):
                    above.append(spot)
    if not heads:
        return []
    blank = TableEntry(children=())
    return [setting.label(Spot(blank, column, 1, True)) for column in range(columns_of(rows))]


def _body(lines: Sequence[Line | PrintPage]) -> list[Line | PrintPage]:
    """The lines without the rows of column headings."""
    return [ln for ln in lines if not (isinstance(ln, Line) and ln.head and len(ln.spots) > 1)]


def linear(setting: Setting, chosen: Chosen, lines: Sequence[Line | PrintPage]) -> list[Task]:
    """One item a row (BF 11.17)."""
    setting.flow.findings.add("layout.table-linear", setting.where, reason=setting.reason)
    headings = _headings(setting, lines)
    told = note(setting.words("table-linear"))
    if headings:
        order = _row_words(headings, True, setting)
        told = (*note(setting.words("table-linear-headed")), *enclose(order))
        lines = _body(lines)
    tasks: list[Task] = [partial(note_on, setting, told)]
    empty: list[Line] = []
    for line in [*lines, None]:
        if isinstance(line, Line) and _is_empty(line):
            empty.append(line)
            continue
        if empty:
            tasks.append(partial(_empty_rows, setting, empty))
            empty = []
        if isinstance(line, PrintPage):
            tasks.append((line, setting.scope))
        elif line is not None:
            tasks.append(partial(_linear_row, setting, line, bool(headings)))
    return tasks


def matching(setting: Setting, chosen: Chosen, lines: Sequence[Line | PrintPage]) -> list[Task]:
    """The first column as a list, then the second (BF 10.9)."""
    flow = setting.flow
    flow.findings.add("layout.table-matching", setting.where, reason=setting.reason)
    tasks: list[Task] = [partial(note_on, setting, note(setting.words("table-matching")))]
    for column in (0, 1):
        group = f"{setting.scope.group} {column}"
        scope = replace(setting.scope, group=group, style="exercise", level=1, levels=1)
        for line in lines:
            if isinstance(line, Line):
                tasks.append(partial(_matched, setting, line.spots[column], scope))
    return tasks


def _matched(setting: Setting, spot: Spot, scope: Scope) -> None:
    setting.flow.put("exercise", setting.once(spot.entry), scope, spot.entry.address)


def as_form(setting: Setting, chosen: Chosen, lines: Sequence[Line | PrintPage]) -> list[Task]:
    """Labels and answer spaces, row by row (BF 6.7)."""
    tasks: list[Task] = []
    scope = replace(setting.scope, group=None)
    labels: tuple[int, ...] = ()
    for line in lines:
        if isinstance(line, PrintPage):
            tasks.append((line, setting.scope))
            continue
        columns = tuple(spot.column for spot in line.spots)
        asked = columns if labels and _is_empty(line) else columns[1:] if columns == labels else ()
        tasks += [
            partial(setting.flow.put, "form", field, scope, line.address)
            for field in _form_row(setting, line, asked)
        ]
        if _are_labels(line, setting.flow.document.ledger):
            labels = columns
        elif not _is_empty(line) and columns != labels:
            labels = ()
    return tasks


def _are_labels(line: Line, ledger: Ledger) -> bool:
    """Whether every entry of a row is words without room for an answer, so that what is empty
    below may be."""
    return all(
        spot.fresh and visible(flat(spot.entry.children)[0], ledger) and not answers(spot.entry)
        for spot in line.spots
    )


def _has_picture(entry: TableEntry) -> bool:
    return any(isinstance(node, Graphic) for kid in entry.children for node in walk(kid))


def _is_empty(line: Line) -> bool:
    return not any(spot.entry.children for spot in line.spots)


def _empty_rows(setting: Setting, lines: list[Line]) -> None:
    """Rows without a word, one after another, are said once (BF 11.2, 3.1.2)."""
    name = "empty-row" if len(lines) == 1 else "empty-rows"
    words = setting.words(name).format(n=len(lines))
    setting.flow.put("table", note(words), setting.scope, lines[0].address)


def _linear_row(setting: Setting, line: Line, headed: bool) -> None:
    """``row heading: entry; entry.`` (BF 11.17)"""
    if len(line.spots) == 1 and line.head:
        setting.flow.put("table", setting.heading(line.spots[0]), setting.scope, line.address)
        return
    words: list[Inlines] = []
    for spot in line.spots:
        words.append(setting.heading(spot) if spot.entry.head else setting.once(spot.entry))
    heading = headed or line.spots[0].entry.head
    setting.flow.put("table", _row_words(words, heading, setting), setting.scope, line.address)


def _row_words(entries: Sequence[Inlines], heading: bool, setting: Setting) -> Inlines:
    """Entries in a line: a colon after a row heading, semicolons between, a full stop."""
    ledger = setting.flow.document.ledger
    out: Inlines = ()
    for at, runs in enumerate(entries):
        if not visible(runs, ledger):
            runs = (*runs, Added(setting.words("empty-entry"), TRANSCRIBER_NOTE))
        first = at == 1 and heading
        out = labelled(out, runs, ledger) if first else spaced(out, runs, ledger, "; ")
    if text_of(out, ledger).rstrip()[-1:] not in (".", "!", "?", ""):
        out = (*out, Added("."))
    return out


# ---------------------------------------------------------------- steps


def stairstep(setting: Setting, chosen: Chosen, lines: Sequence[Line | PrintPage]) -> list[Task]:
    """An entry a line, each column two cells further right than the one before (BF 11.18)."""
    setting.flow.findings.add("layout.table-stairstep", setting.where, reason=setting.reason)
    headings = _headings(setting, lines)
    rows = [line for line in lines if isinstance(line, Line)]
    levels = columns_of(rows)
    name = "table-stairstep-headed" if headings else "table-stairstep"
    tasks: list[Task] = [partial(note_on, setting, note(setting.words(name)))]
    tasks += [
        partial(_step, setting, "table-step-heading", runs, column, levels, "")
        for column, runs in enumerate(headings)
    ]
    for line in _body(lines):
        if isinstance(line, PrintPage):
            tasks.append((line, setting.scope))
            continue
        tasks += [partial(_step_entry, setting, spot, levels) for spot in line.spots]
    return tasks


def _step_entry(setting: Setting, spot: Spot, levels: int) -> None:
    runs = setting.heading(spot) if spot.entry.head else setting.once(spot.entry)
    _step(setting, "table-step", runs, spot.column, levels, spot.entry.address)


def _step(
    setting: Setting, style: str, runs: Inlines, column: int, levels: int, address: str
) -> None:
    if not visible(runs, setting.flow.document.ledger):
        runs = (*runs, *note(setting.words("empty-entry")))
    told = style == "table-step-heading"
    scope = replace(setting.scope, level=column + 1, levels=levels, note=told)
    scope = replace(scope, group=f"{setting.scope.group} headings") if told else scope
    setting.flow.put(style, runs, scope, address)


# ---------------------------------------------------------------- forms


@dataclass(slots=True)
class _Field:
    """The line of a form that is being made: its words, whether labels alone or with room, and
    whether that room is boxes to tick."""

    runs: Inlines = ()
    labels: int = 0
    done: bool = False
    boxes: bool = False


def _form_row(setting: Setting, line: Line, asked: tuple[int, ...]) -> Iterator[Inlines]:
    """The fields of a row: labels, then all the room for answers that follows them (BF 6.7).

    An empty entry is room to write in beside a label, or at a column that a row of labels above
    has ``asked`` about; any other only keeps entries apart.  Boxes to tick that follow one another
    are one field, labels without any room stand side by side (common practice, no source).
    """
    ledger = setting.flow.document.ledger
    field, room = _Field(), False
    for spot in line.spots:
        parts = _parts(setting, spot) if spot.fresh else []
        if spot.fresh and not parts and not _has_picture(spot.entry):
            room = room or spot.column in asked or bool(field.labels and not field.done)
            if not room:
                continue
            at = (span_of(field.runs) or (0, 0))[1]
            parts = [((AnswerSpace(at, at, "line"),), {"line"})]
        else:
            room = False
        for runs, kinds in parts:
            boxes = kinds == {"check"}
            words = text_of(runs, ledger)
            full = field.done and any(sign.isalnum() for sign in words)
            another = _ends_label(field, ledger) and ":" in words
            if another or (full and not (boxes and field.boxes)):
                yield field.runs
                field = _Field()
            apart = "; " if field.labels and not kinds and not _ends_label(field, ledger) else " "
            field.runs = spaced(field.runs, runs, ledger, apart)
            field.labels += not kinds
            if kinds:
                field.done, field.boxes = True, boxes
    if field.runs:
        yield field.runs


def _parts(setting: Setting, spot: Spot) -> list[tuple[Inlines, set[str]]]:
    """What an entry shows, with the kinds of room in it: its blocks one by one where they have
    room for answers, else all in one."""
    runs = setting.once(spot.entry)
    ledger = setting.flow.document.ledger
    if not visible(runs, ledger):
        return []
    if not answers(spot.entry):
        return [(runs, set())]
    parts = ((flat((kid,))[0], answer_kinds((kid,))) for kid in spot.entry.children)
    return [part for part in parts if visible(part[0], ledger)]


def _ends_label(field: _Field, ledger: Ledger) -> bool:
    return text_of(field.runs, ledger).rstrip()[-1:] in (":", "?")
