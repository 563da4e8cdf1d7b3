"""Tables: in columns where they fit, else set as lists (BF 11.1, 11.2, 11.16).

| form | is set as |
|---|---|
| columned, keyed, interchanged, divided, facing | columns (11.2, 11.7, 11.13 to 11.15): tables.py |
| listed | row headings from cell 5; below them ``column heading: entry`` 1-3 (11.16) |
| linear, stairstep, form | row by row (11.17, 11.18, 6.7): flow_linear |
| text | one column, or whole blocks in entries without headings: its blocks in reading order |

Which of them, and why, is settled in flow_choice.
The finding says why, and a transcriber's note how it was changed (3.1).
Each entry and each heading of print stands once as print; where a heading is due again its
words are added words.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from functools import partial

from ..document.nodes import (
    Added,
    Heading,
    Inlines,
    ListBlock,
    Paragraph,
    PrintPage,
    Table,
)
from ..findings import Span
from . import flow_columns, table_notes
from .flow_choice import Chosen, asked, choose
from .flow_grid import Line, Spot, flat, grid
from .flow_linear import as_form, linear, matching, stairstep
from .flow_order import ordered
from .flow_runs import enclose, labelled, note, spaced, span_of, visible
from .flow_setting import Setting, note_on
from .flow_state import Flow, Scope, Task
from .row_heads import row_heads_upright
from .table_titles import titled


def table(flow: Flow, node: Table, scope: Scope) -> None:
    """A table: its title, the note that says how it is set, its rows."""
    named, lines = titled(flow, node.caption, grid(node))
    lines = row_heads_upright(flow, lines)
    lines, order = ordered(flow, node, lines)
    whole = lines
    lines, notes = table_notes.taken(flow, lines)
    group = f"table {node.address} {id(node)}"
    base = Scope(group=group, shift=scope.shift, note=scope.note, boxes=scope.boxes)
    base = replace(base, division=scope.division, style="table")
    setting = Setting(flow, base, wording=asked(flow, node, "table-note"))
    rows = [line for line in lines if isinstance(line, Line)]
    setting.where = _where(rows)
    chosen = choose(flow, lines, base, node)
    setting.reason = chosen.reason
    title = "table-columns-title" if chosen.parts else "table-title"
    heading = replace(base, style=title, group=None)
    if chosen.form in _FORMS:
        notes = table_notes.held(flow, notes)
        made = _FORMS[chosen.form](setting, chosen, lines)
        made += table_notes.tasks(flow, notes, base)
    else:
        made = _as_blocks(flow, setting, whole, replace(scope, further=False))
    if order:
        told = note(setting.words("table-reordered").format(order=order))
        made = [partial(note_on, setting, told), *made]
    if chosen.form == "facing":
        made = [partial(_begin_page, flow, True), *((block, heading) for block in named), *made]
        named = ()
    flow.push([*((block, heading) for block in named), *made])


def _begin_page(flow: Flow, left: bool) -> None:
    """What comes next begins a page, on the left or wherever it falls (BF 11.13)."""
    flow.page_due, flow.left_due = True, left


def _columned(setting: Setting, chosen: Chosen, lines: Sequence[Line | PrintPage]) -> list[Task]:
    """Columns, as in print or arranged anew, in one part or several (BF 11.2, 11.12 to 11.15)."""
    flow, form = setting.flow, chosen.form
    flow.findings.add(_FOUND[form], setting.where, reason=setting.reason)
    setting.scope = replace(setting.scope, style="table-columns")
    out: list[Task] = []
    if form != "columned":
        short = any(len(key) > 1 for key, _ in chosen.key)
        words = setting.words(f"table-{form}-words" if short else f"table-{form}").format(
            n=len(chosen.parts)
        )
        out.append(partial(note_on, setting, note(words)))
    out += [partial(_key, setting, key, spot) for key, spot in chosen.key]
    if any(flow_columns.has_gaps(flow, plan, part) for plan, part in chosen.parts):
        out.append(setting.empty_note)
    if any(flow_columns.has_repeats(flow, plan, part) for plan, part in chosen.parts):
        out.append(partial(note_on, setting, note(setting.words("table-repeated"))))
    group = setting.scope.group
    for number, (plan, part) in enumerate(chosen.parts):
        here = replace(setting.scope, group=f"{group} {number}")
        if form == "facing" and number:
            out.append(partial(_begin_page, flow, False))
        out += flow_columns.tasks(replace(setting, scope=here), plan, part)
    return out


def _key(setting: Setting, key: str, spot: Spot) -> None:
    """A shortened heading and what it stands for (BF 11.7, 11.8)."""
    runs = (Added(f"{key}: "), *setting.heading(spot))
    setting.flow.put("table-key", runs, replace(setting.scope, note=True))


def _where(rows: list[Line]) -> Span | None:
    """The first print of a table."""
    for line in rows:
        for spot in line.spots:
            span = span_of(flat(spot.entry.children)[0])
            if span is not None and span[0] < span[1]:
                return span
    return None


def _as_blocks(
    flow: Flow, setting: Setting, lines: Sequence[Line | PrintPage], scope: Scope
) -> list[Task]:
    """The blocks of a table in reading order (BF 11.1)."""
    tasks: list[Task] = []
    if sum(len(line.spots) for line in lines if isinstance(line, Line)) > 1:
        flow.findings.add("layout.table-as-text", setting.where)
    for line in lines:
        if isinstance(line, PrintPage):
            tasks.append((line, scope))
        else:
            tasks += [(kid, scope) for s in line.spots if s.fresh for kid in s.entry.children]
    return tasks


# ---------------------------------------------------------------- with column headings


def _listed(setting: Setting, chosen: Chosen, lines: Sequence[Line | PrintPage]) -> list[Task]:
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
        note_on(setting, runs)

    return step


def _corner(setting: Setting) -> Inlines:
    """The heading above the row headings, unless it reaches over other columns too."""
    out: Inlines = ()
    for spot in setting.heads.get(0, ()):
        if spot.columns == 1:
            out = spaced(out, setting.heading(spot), setting.flow.document.ledger, ", ")
    return out


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
        note_on(setting, (*note(setting.words("table-unused")), *enclose(out)))
    elif out:
        setting.flow.put("table", out, setting.scope)


_FOUND = {
    "columned": "layout.table-columned",
    "keyed": "layout.table-keyed",
    "interchanged": "layout.table-interchanged",
    "divided": "layout.table-divided",
    "facing": "layout.table-facing",
}
Form = Callable[[Setting, Chosen, Sequence[Line | PrintPage]], list[Task]]
_FORMS: Mapping[str, Form] = {
    "columned": _columned,
    "keyed": _columned,
    "interchanged": _columned,
    "divided": _columned,
    "facing": _columned,
    "listed": _listed,
    "matching": matching,
    "linear": linear,
    "stairstep": stairstep,
    "form": as_form,
}
