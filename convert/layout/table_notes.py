"""Notes that print has in a table: straight after it, before its blank line (BF 11.2, 16).

Their calls stand in the table; the notes need no separation line there, unless the convention
has one.  Notes that print has elsewhere stay where the others are.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import partial

from ..document.nodes import Footnote, PrintPage, walk
from .flow_grid import Line, flat
from .flow_notes import body_tasks
from .flow_runs import visible
from .flow_state import Flow, Scope, Task

STYLE = "table-footnote"
Lines = list[Line | PrintPage]


def taken(flow: Flow, lines: Sequence[Line | PrintPage]) -> tuple[Lines, list[Footnote]]:
    """The rows without those that hold nothing but footnotes, and the footnotes of all rows."""
    rows: Lines = []
    notes: list[Footnote] = []
    for line in lines:
        found = [] if isinstance(line, PrintPage) else _notes(line)
        feet = [note for note in found if note.kind == "foot"]
        notes += feet
        if not found or len(feet) < len(found) or isinstance(line, PrintPage) or _shows(flow, line):
            rows.append(line)
    return rows, notes


def _notes(line: Line) -> list[Footnote]:
    return [
        node
        for spot in line.spots
        if spot.fresh
        for kid in spot.entry.children
        for node in walk(kid)
        if isinstance(node, Footnote)
    ]


def _shows(flow: Flow, line: Line) -> bool:
    ledger = flow.document.ledger
    return any(visible(flat(spot.entry.children)[0], ledger) for spot in line.spots)


def tasks(flow: Flow, notes: Sequence[Footnote], scope: Scope) -> list[Task]:
    """Steps for the notes of a table: straight after it, or as notes between blocks are set."""
    if flow.convention.rules["table_notes"] != "table":
        return [(note, scope) for note in notes]
    inner = replace(scope, style=STYLE, group=f"{scope.group} notes")
    out: list[Task] = []
    if notes and flow.convention.rules["table_note_line"]:
        out.append(partial(_rule, flow, replace(scope, group=None)))
    for note in notes:
        out += body_tasks(flow, note, inner)
    return out


def _rule(flow: Flow, scope: Scope) -> None:
    flow.line("note-rule", scope)


def held(flow: Flow, notes: Sequence[Footnote]) -> list[Footnote]:
    """The notes of a table that do not wait already for the end of the print page; where they
    stand with the table they shall not wait for it."""
    out = [note for note in notes if id(note) not in flow.noted]
    if flow.convention.rules["table_notes"] == "table":
        flow.noted.update(map(id, out))
    return out
