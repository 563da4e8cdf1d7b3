"""Tables to fill in: entries that are room for answers, a first row that heads them (BF 6.7, 11.2).

Which empty entries are to be written in, and that words over nothing but boxes are headings, is
common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from ..findings import Findings, Span
from .change import map_children
from .nodes import (
    AnswerSpace,
    Document,
    Paragraph,
    Run,
    Table,
    TableEntry,
    TableRow,
    inlines_of,
    walk,
)

KIND = "read.table-to-fill-in"
WORDS, ANSWER, EMPTY = "words", "answer", ""

Kinds = list[list[str]]


def read_answer_tables(document: Document, findings: Findings) -> Document:
    """Empty entries that can only be room for answers become it; see :func:`_rooms`.

    Needs answer spaces found, and empty paragraphs still there.
    """
    text = document.ledger.text

    def change(kids: tuple[Any, ...]) -> tuple[Any, ...]:
        if Table not in map(type, kids):
            return kids
        made = tuple(_filled(kid, text, findings) if type(kid) is Table else kid for kid in kids)
        return kids if all(old is new for old, new in zip(kids, made, strict=True)) else made

    found: Document = map_children(document, change)
    return found


def _filled(table: Table, text: str, findings: Findings) -> Table:
    rows = [row for row in table.children if isinstance(row, TableRow)]
    if table.role or not _even(rows):
        return table
    kinds = [[_kind(entry, text) for entry in row.entries] for row in rows]
    if all(kind == WORDS for row in kinds for kind in row):
        return table
    heads = _marked(rows)
    rooms = set(_rooms(kinds, heads))
    headed = not heads and _is_headed(kinds, rooms)
    if (headed or heads) and _is_grid(kinds[max(heads, 1) :]):
        body = range(max(heads, 1), len(rows))
        rooms |= {(at, nth) for at in body for nth, kind in enumerate(kinds[at]) if not kind}
    if not (rooms or headed):
        return table
    made = iter(_with_rooms(rows, rooms, headed))
    findings.add(KIND, _span(table))
    children = (next(made) if isinstance(kid, TableRow) else kid for kid in table.children)
    return replace(table, children=tuple(children))


def _even(rows: list[TableRow]) -> bool:
    """Whether all rows have the same columns, two or more, none merged."""
    widths = {len(row.entries) for row in rows}
    plain = all(e.rows == e.columns == 1 for row in rows for e in row.entries)
    return len(widths) == 1 and min(widths) > 1 and plain


def _marked(rows: list[TableRow]) -> int:
    """How many rows at the top the source marks as headings."""
    return next((at for at, row in enumerate(rows) if not row.head), 0)


def _kind(entry: TableEntry, text: str) -> str:
    """Whether an entry holds words, only room for answers, or nothing."""
    found, signs = EMPTY, False
    for node in (part for kid in entry.children for part in walk(kid)):
        if not isinstance(node, Paragraph):
            return WORDS
        for inline in inlines_of(node):
            if isinstance(inline, AnswerSpace):
                found = ANSWER
            elif not isinstance(inline, Run) or any(
                sign.isalnum() for sign in text[inline.start : inline.end]
            ):
                return WORDS
            else:
                signs = signs or not text[inline.start : inline.end].isspace()
    return WORDS if signs and not found else found


def _rooms(kinds: Kinds, heads: int) -> Iterator[tuple[int, int]]:
    """The entries, by row and column, that are room for answers.

    They are those of columns with nothing below their heading, or beside labels: two columns, or
    two times two, the first of labels and the second empty.
    """
    labels = len(kinds[0]) in (2, 4) and not heads
    for nth in range(len(kinds[0])):
        column = [row[nth] for row in kinds]
        beside = labels and nth % 2 and len(kinds) > 1 and not any(column)
        if beside and all(row[nth - 1] == WORDS for row in kinds):
            yield from ((at, nth) for at in range(len(kinds)))
        top = max(heads, 1)
        if column[0] == WORDS and len(column) > top and not any(column[top:]):
            yield from ((at, nth) for at in range(top, len(kinds)))


def _is_headed(kinds: Kinds, rooms: set[tuple[int, int]]) -> bool:
    """Whether the first row, which the source does not mark, heads boxes and room below it."""
    first, body = kinds[0], kinds[1:]
    if not body or not all(kind == WORDS for kind in first[1:]) or first[0] == ANSWER:
        return False
    blank = not any(kind for row in body for kind in row)
    if len(first) == 2:
        return blank and len(body) > 1
    return blank or _is_grid(body) or (len(body) > 1 and bool(rooms))


def _is_grid(body: Kinds) -> bool:
    """Whether each row has a label and then only boxes and room, at least one of them a box."""
    inner = [kind for row in body for kind in row[1:]]
    return ANSWER in inner and WORDS not in inner and all(row[0] == WORDS for row in body)


def _with_rooms(
    rows: list[TableRow], rooms: set[tuple[int, int]], headed: bool
) -> Iterator[TableRow]:
    place = _span_start(rows)
    for at, row in enumerate(rows):
        entries = []
        for nth, entry in enumerate(row.entries):
            for node in (part for kid in entry.children for part in walk(kid)):
                for inline in inlines_of(node):
                    place = max(place, getattr(inline, "end", place))
            if (at, nth) in rooms:
                room = Paragraph(runs=(AnswerSpace(place, place, "line"),), address=entry.address)
                entry = replace(entry, children=(room,))
            entries.append(replace(entry, head=True) if headed and not at else entry)
        yield replace(row, entries=tuple(entries), head=row.head or (headed and not at))


def _span_start(rows: list[TableRow]) -> int:
    spans = _stretches(rows)
    return next(spans, (0, 0))[0]


def _span(table: Table) -> Span | None:
    spans = list(_stretches(table.children))
    return (spans[0][0], max(end for _, end in spans)) if spans else None


def _stretches(rows: Any) -> Iterator[Span]:
    for row in rows:
        for node in walk(row):
            for inline in inlines_of(node):
                if isinstance(inline, Run | AnswerSpace):
                    yield inline.start, inline.end
