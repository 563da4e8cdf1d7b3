"""What a block becomes when it gets another role (verbs ``heading`` and ``treat-as``)."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from ..document.ledger import Ledger
from ..document.nodes import (
    Added,
    AnswerSpace,
    Box,
    Displayed,
    Footnote,
    Heading,
    Inline,
    Inlines,
    LineBreak,
    ListBlock,
    ListItem,
    Paragraph,
    PrintPage,
    Table,
    TableEntry,
    TableRow,
    TranscriberNote,
    Unknown,
    Verse,
    VerseLine,
    inlines_of,
)
from .record import Decision
from .splits import speech_of, table_of

Shape = Callable[[Any], tuple[Any, ...]]
DISPLAYED = ("quotation", "epigraph", "example")
LISTS = ("list", "columned", "exercise", "choices", "glossary", "index", "contents", "bibliography")
UNWRAPPED = (Box, Displayed, Footnote, ListBlock, TranscriberNote, Unknown, Verse)
TABLES = ("table", "headed-table")


def fits(role: str, node: Any) -> bool:
    """Whether ``treat-as`` can give a node this role."""
    if role in OF_TABLES:
        return isinstance(node, Table)
    if role == "plain":
        return isinstance(node, UNWRAPPED)
    if role in DISPLAYED or role == "box":
        return not isinstance(node, ListItem | VerseLine)
    if role in TABLES:
        return isinstance(node, Paragraph | Table)
    if role == "speech":
        return isinstance(node, Paragraph)
    if role in LISTS:
        return isinstance(node, Paragraph | Heading | ListBlock)
    return isinstance(node, Paragraph | Heading)


def _headed(table: Table, headed: bool) -> Table:
    """A table whose first row is of headings, or one without such rows."""
    rows: list[Any] = []
    first = True
    for row in table.children:
        if isinstance(row, TableRow):
            head = headed and first
            entries = tuple(replace(e, head=head) for e in row.entries) if first else row.entries
            row, first = replace(row, entries=entries, head=head), False
        rows.append(row)
    return replace(table, children=tuple(rows))


def shape_of(decision: Decision, ledger: Ledger) -> Shape:
    """The shape a decision gives a block."""
    if decision.verb == "heading":
        level = int(str(decision.get("level")))
        return lambda node: (_heading(node, level),)
    role = decision.word("role")
    if role in DISPLAYED:
        return lambda node: (_displayed(node, role),)
    if role == "box":
        return lambda node: (
            node if isinstance(node, Box) else Box(children=(node,), address=_of(node, "box")),
        )
    if role in LISTS:
        return lambda node: (_list(node, "body" if role == "list" else role),)
    if role in TABLES:
        headed = role == "headed-table"
        return lambda node: (
            _headed(node, headed) if isinstance(node, Table) else table_of(node, ledger, headed),
        )
    if role == "speech":
        return lambda node: (speech_of(node, ledger) or node,)
    if role == "verse":
        return lambda node: (_verse(node),)
    if role == "plain":
        return _plain
    if role in OF_TABLES:
        return OF_TABLES[role]
    return lambda node: (_paragraph(node, "body" if role == "paragraph" else role),)


def _of(node: Any, what: str) -> str:
    address = getattr(node, "address", "")
    return f"{address}#{what}" if address else ""


def _heading(node: Any, level: int) -> Heading:
    if isinstance(node, Heading):
        return replace(node, level=level, role="" if node.role == "subtitle" else node.role)
    return Heading(level=level, runs=node.runs, address=node.address)


def _paragraph(node: Any, role: str) -> Paragraph:
    return Paragraph(runs=node.runs, role=role, address=node.address)


def _displayed(node: Any, role: str) -> Displayed:
    if isinstance(node, Displayed):
        return replace(node, role=role)
    return Displayed(children=(node,), role=role, address=_of(node, "displayed"))


def _list(node: Any, role: str) -> ListBlock:
    if isinstance(node, ListBlock):
        return replace(node, role=role)
    words = _paragraph(node, "body")
    item = ListItem(children=(words,), address=_of(node, "item"))
    return ListBlock(children=(item,), role=role, address=_of(node, "list"))


def _verse(node: Any) -> Verse:
    """A poem of a paragraph's lines, each a line of verse."""
    lines: list[tuple[Inline, ...]] = [()]
    for inline in node.runs:
        if isinstance(inline, LineBreak):
            lines.append(())
        else:
            lines[-1] = (*lines[-1], inline)
    kids = tuple(VerseLine(runs=line, address=node.address) for line in lines if line)
    return Verse(children=kids, address=_of(node, "verse"))


def _plain(node: Any) -> tuple[Any, ...]:
    """What stood in a container, without it: items with their markers, lines as paragraphs, a
    note with its mark."""
    if isinstance(node, Footnote):
        return _item(ListItem(children=node.children, marker=node.mark, address=node.address))
    out: list[Any] = []
    for kid in node.children:
        if isinstance(kid, VerseLine):
            number = (Added(" "), *kid.number) if kid.number else ()
            out.append(Paragraph(runs=(*kid.runs, *number), address=kid.address))
        elif isinstance(kid, ListItem):
            out.extend(_item(kid))
        else:
            out.append(kid)
    return tuple(out)


def _item(item: ListItem) -> tuple[Any, ...]:
    if not item.marker:
        return item.children
    first = item.children[0] if item.children else None
    marker: Inlines = item.marker
    if isinstance(first, Paragraph):
        joined = replace(first, runs=(*marker, Added(" "), *first.runs))
        return (joined, *item.children[1:])
    return (Paragraph(runs=marker, address=item.address), *item.children)


def _without_rooms(table: Table) -> tuple[Table]:
    """A table whose empty entries say nothing: no room for answers where print has no sign of it
    (BF 11.2)."""
    rows: list[TableRow | PrintPage] = []
    for row in table.children:
        if isinstance(row, TableRow):
            row = replace(row, entries=tuple(map(_emptied, row.entries)))
        rows.append(row)
    return (replace(table, children=tuple(rows)),)


def _emptied(entry: TableEntry) -> TableEntry:
    parts = [part for kid in entry.children for part in inlines_of(kid)]
    rooms = [part for part in parts if isinstance(part, AnswerSpace) and part.start == part.end]
    return replace(entry, children=()) if parts and rooms == parts else entry


def _by_rows(table: Table) -> tuple[Any, ...]:
    """The entries of a table as text, row by row."""
    out: list[Any] = list(table.caption)
    for row in table.children:
        if isinstance(row, PrintPage):
            out.append(row)
        else:
            out.extend(block for entry in row.entries for block in entry.children)
    return tuple(out)


def _by_columns(table: Table) -> tuple[Any, ...]:
    """The entries of a table as text, column by column; its print page turns stand first."""
    columns: dict[int, list[Any]] = {}
    taken: dict[int, int] = {}
    turns: list[Any] = []
    for row in table.children:
        if isinstance(row, PrintPage):
            turns.append(row)
            continue
        at = 0
        held = {column for column, left in taken.items() if left > 0}
        taken = {column: left - 1 for column, left in taken.items() if left > 1}
        for entry in row.entries:
            while at in held:
                at += 1
            columns.setdefault(at, []).extend(entry.children)
            if entry.rows > 1:
                taken |= {at + n: entry.rows - 1 for n in range(entry.columns)}
            at += entry.columns
    texts = [block for at in sorted(columns) for block in columns[at]]
    return (*turns, *table.caption, *texts)


OF_TABLES: dict[str, Shape] = {
    "table-to-read": _without_rooms,
    "text-by-rows": _by_rows,
    "text-by-columns": _by_columns,
}
