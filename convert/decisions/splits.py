"""Paragraphs taken apart by what print shows in them: a speech by its speaker's name, lines set
in columns by the wide spaces between them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Any

from ..document.ledger import Ledger
from ..document.nodes import (
    BOLD,
    Inline,
    Inlines,
    LineBreak,
    Paragraph,
    Run,
    Speech,
    Table,
    TableEntry,
    TableRow,
)

_NAME = re.compile(r"\s*[^\W\d_][^.:\n]{0,39}[.:](?=\s+\S)")
_GAP = re.compile(r"[ \xa0]*\t\s*|[ \xa0\u2000-\u200a\u3000]{2,}")


def speech_of(node: Any, ledger: Ledger) -> Speech | None:
    """A paragraph as a speech; None where no name, bold or before a stop or colon, begins it."""
    first = node.runs[0] if node.runs else None
    if not isinstance(first, Run):
        return None
    words = ledger.text[first.start : first.end]
    bold = first.typeform & BOLD and len(node.runs) > 1
    found = _NAME.match(words)
    if bold and words.strip():
        speaker: Inlines = (first,)
        rest = node.runs[1:]
        mark = re.match(r"\s*[.:](?=\s)", _words(rest, ledger))
        if mark:
            ends, rest = _cut(rest[0], rest[0].start + mark.end(), rest[1:])
            speaker = (first, ends)
    elif found:
        ends, rest = _cut(first, first.start + found.end(), node.runs[1:])
        speaker = (ends,)
    else:
        return None
    said = Paragraph(runs=_led(rest, ledger), address=node.address)
    return Speech(speaker=speaker, children=(said,), address=_of(node, "speech"))


def _words(runs: Inlines, ledger: Ledger) -> str:
    first = runs[0] if runs else None
    return ledger.text[first.start : first.end] if isinstance(first, Run) else ""


def _cut(run: Run, at: int, rest: Inlines) -> tuple[Run, Inlines]:
    """The run up to a character, and what follows."""
    after: Inlines = (replace(run, start=at),) if at < run.end else ()
    return replace(run, end=at), (*after, *rest)


def _led(runs: Inlines, ledger: Ledger) -> Inlines:
    """Inlines without the space at their beginning."""
    words = _words(runs, ledger)
    lead = len(words) - len(words.lstrip())
    if not lead or not isinstance(runs[0], Run):
        return runs
    return _cut(runs[0], runs[0].start + lead, runs[1:])[1]


def table_of(node: Any, ledger: Ledger, headed: bool) -> Table:
    """Lines set in columns as a table, a line a row; ``headed``: the first has column headings."""
    rows = []
    for at, line in enumerate(_lines(node.runs)):
        head = headed and at == 0
        entries = tuple(
            TableEntry(
                children=(Paragraph(runs=runs, address=f"{node.address}#row-{at + 1}-{nth}"),),
                head=head,
            )
            for nth, runs in enumerate(_entries(line, ledger), 1)
        )
        rows.append(TableRow(entries=entries, head=head, address=_of(node, f"row-{at + 1}")))
    return Table(children=tuple(rows), address=_of(node, "table"))


def joined_tables(first: Table, second: Table) -> Table:
    """Two tables as one: only the first keeps column headings."""
    plain = tuple(
        replace(row, head=False, entries=tuple(replace(e, head=False) for e in row.entries))
        if isinstance(row, TableRow)
        else row
        for row in second.children
    )
    return replace(first, children=(*first.children, *plain))


def _lines(runs: Inlines) -> Iterator[Inlines]:
    line: list[Inline] = []
    for run in runs:
        if isinstance(run, LineBreak):
            if line:
                yield tuple(line)
            line = []
        else:
            line.append(run)
    if line:
        yield tuple(line)


def _entries(line: Inlines, ledger: Ledger) -> Sequence[Inlines]:
    """A line cut at its wide spaces."""
    out: list[list[Inline]] = [[]]
    for run in line:
        if not isinstance(run, Run):
            out[-1].append(run)
            continue
        start = run.start
        for gap in _GAP.finditer(ledger.text, run.start, run.end):
            if gap.start() > start:
                out[-1].append(replace(run, start=start, end=gap.start()))
            if out[-1]:
                out.append([])
            start = gap.end()
        if start < run.end:
            out[-1].append(replace(run, start=start))
    return [tuple(entry) for entry in out if entry]


def _of(node: Any, what: str) -> str:
    return f"{node.address}#{what}" if node.address else ""
