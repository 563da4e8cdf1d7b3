"""Checks of finished pages against the tree of the source: H17, A03, I06, Q03, K06, K09, X11,
Y03, F03 and J07.  The tree tells what print has; how it was set is read from the pages alone."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Callable, Iterator
from itertools import pairwise
from typing import cast

from ..document.ledger import Ledger
from ..document.nodes import (
    Box,
    ContextBreak,
    Document,
    Footnote,
    Graphic,
    ListBlock,
    ListItem,
    NoteCall,
    Paragraph,
    Run,
    Table,
    TableEntry,
    TableRow,
    VerseLine,
    children_of,
    inlines_of,
    text_of,
    walk,
)
from .kinds import TABLE, above, expect_above, expect_below
from .model import Block, Book, Page, Rule, Tally
from .model import rule as _rule

_OPENED = re.compile(r"[^a-z#]{0,4}[.^_@][127]")
_GUIDE = re.compile(r'(?<!\S)"{2,}(?!\S)')
_COLUMN = re.compile(r'"3*')
_COLON = re.compile(r"3(?= |$)")
_SEMICOLON = re.compile(r"2(?= |$)")
_ENDED = re.compile(r"[468]\S{0,3}$")
_PRINTED = re.compile(r"[0-9][0-9.,]*")
_NUMBER = re.compile(r"#([a-j14]+)")  # Dots 2 and 2-5-6 may stand between digits (UEB 6.2).
_DIGITS = str.maketrans("abcdefghij", "1234567890")
_SIDE = ("sidebar", "aside")
Nodes = list[tuple[object, tuple[object, ...]]]


def rule(name: str) -> Callable[[Rule], Rule]:
    """Register the rule of a check, made only where the tree of the source is at hand."""

    def put(function: Rule) -> Rule:
        def made(book: Book, tally: Tally) -> None:
            if book.document is not None:
                function(book, tally)

        made.__doc__ = function.__doc__
        return _rule(name)(made)

    return put


def nodes_by_type(book: Book) -> dict[type, Nodes]:
    """The nodes of the source by type, each with its children; gathered once."""
    made = book.memo.get("nodes")
    if made is None:
        found: dict[type, Nodes] = {}
        for node in walk(book.document):
            found.setdefault(type(node), []).append((node, children_of(node)))
        made = book.memo["nodes"] = found
    return cast(dict[type, Nodes], made)


def _blocks(book: Book) -> dict[str, list[Block]]:
    """The blocks of the pages by the address of their element."""
    made = book.memo.get("by-element")
    if made is None:
        found: dict[str, list[Block]] = {}
        for block in book.texts:
            if block.element:
                found.setdefault(block.element, []).append(block)
        made = book.memo["by-element"] = found
    return cast(dict[str, list[Block]], made)


def blocks_of(book: Book, node: object) -> list[Block]:
    """The blocks of one node."""
    return _blocks(book).get(getattr(node, "address", ""), [])


def _neighbours(book: Book, kind: type) -> Iterator[tuple[object, object]]:
    """Nodes of one type that stand side by side in the source with nothing between."""
    for found in nodes_by_type(book).values():
        for _, children in found:
            for one, two in pairwise(children):
                if isinstance(one, kind) and isinstance(two, kind):
                    yield one, two


def after_breaks(book: Book) -> set[str]:
    """The addresses of what follows a change of scene in print; empty without the source."""
    if book.document is None or not nodes_by_type(book).get(ContextBreak):
        return set()
    return {
        str(getattr(inner, "address", ""))
        for found in nodes_by_type(book).values()
        for _, children in found
        for one, two in pairwise(children)
        if isinstance(one, ContextBreak)
        for inner in walk(two)
    }


def _last_page(book: Book) -> Page | None:
    """Where a fault that has no place in the pages is reported."""
    return book.volumes[-1][-1] if book.volumes and book.volumes[-1] else None


@rule("H17")
def paragraph_headings(book: Book, tally: Tally) -> None:
    """Words in a typeform that open a paragraph keep it, and the text goes on behind them."""
    ledger = cast(Document, book.document).ledger
    for node, _ in nodes_by_type(book).get(Paragraph, []):
        runs = inlines_of(node)
        if len(runs) < 2 or not (isinstance(runs[0], Run) and isinstance(runs[1], Run)):
            continue
        first, second = runs[0], runs[1]
        words = ledger.text[first.start : first.end].rstrip()
        if not first.typeform or second.typeform or words[-1:] not in (".", ":"):
            continue
        for block in blocks_of(book, node)[:1]:
            if block.kind == "para" and block.parts[0] == "first":
                right = _OPENED.match(block.cells[0].strip()) is not None
                tally.expect(right, block.page, block.at[0], "its typeform", "none")


@rule("A03")
def no_blank_between_paragraphs(book: Book, tally: Tally) -> None:
    """Indented paragraphs that follow one another in print have no blank line between."""
    apart: dict[int, Block] = {}
    for one, two in pairwise(book.texts):
        if one.style == two.style == "paragraph" and one.element != two.element:
            gap = above(two)
            tally.seen += gap == 0
            if gap:
                apart[id(two)] = one
    for first, second in _neighbours(book, Paragraph) if apart else ():
        for block in blocks_of(book, second)[:1]:
            before = apart.get(id(block))
            if any(one is before for one in blocks_of(book, first)[-1:]):
                expect_above(tally, block, 0)


@rule("I06")
def omitted_pictures_are_told(book: Book, tally: Tally) -> None:
    """Pictures left out have a statement on the transcriber's notes page."""
    left = [
        node for node, _ in nodes_by_type(book).get(Graphic, []) if cast(Graphic, node).decorative
    ]
    if left:
        noted = any(block.style == "notes" for block in book.texts)
        page = _last_page(book)
        if page is not None:
            tally.expect(noted, page, -1, "a transcriber's notes page that tells of them", "none")


@rule("Q03")
def choices_in_order(book: Book, tally: Tally) -> None:
    """Choices begin lines of their own, in the order of print."""
    order = {id(block): nth for nth, block in enumerate(book.texts)}
    for node, children in nodes_by_type(book).get(ListBlock, []):
        blocks = [found[0] for child in children if (found := blocks_of(book, child))]
        if len(blocks) < 2 or any(block.kind != "exercise" for block in blocks):
            continue
        if cast(ListBlock, node).role != "exercise" and min(block.level for block in blocks) < 2:
            continue
        for one, two in pairwise(blocks):
            right = order[id(one)] < order[id(two)] and two.parts[0] == "first"
            tally.expect(right, two.page, two.at[0], "the choices in print order", "another order")


def _tables(book: Book) -> Iterator[tuple[Table, list[Block]]]:
    """Tables of the source with the lines that stand for them."""
    for node, _ in nodes_by_type(book).get(Table, []):
        table = cast(Table, node)
        blocks = [
            block
            for inner in walk(table)
            for block in blocks_of(book, inner)
            if block.kind in TABLE or block.kind == "list"
        ]
        if blocks:
            yield table, blocks


def _entries(table: Table) -> Iterator[TableEntry]:
    for inner in walk(table):
        if isinstance(inner, TableEntry):
            yield inner


def _headings(table: Table) -> set[int]:
    """Identities of the entries in rows of column headings, which may be empty in silence."""
    rows = [row for row in walk(table) if isinstance(row, TableRow) and row.head]
    return {id(entry) for row in rows for entry in row.entries}


def _has_words(entry: TableEntry, document: Document) -> bool:
    return any(text_of(inlines_of(inner), document.ledger).strip() for inner in walk(entry))


@rule("K06")
def empty_entries(book: Book, tally: Tally) -> None:
    """Where print leaves entries empty, a table in columns has guide dots and a note says so."""
    document = cast(Document, book.document)
    noted = [id(block) for block in book.texts if block.kind == "tn"]
    for table, blocks in _tables(book):
        rows = [block for block in blocks if block.style == "table-columns"]
        plain = all(entry.rows == entry.columns == 1 for entry in _entries(table))
        heads = _headings(table)
        below = [e for e in _entries(table) if not e.head and id(e) not in heads]
        empty = [e for e in below if not _has_words(e, document)]
        nested = sum(isinstance(inner, Table) for inner in walk(table)) > 1
        if nested or not (rows and empty and plain) or any(map(_holds_more, empty)):
            continue
        first, dotted = rows[0], _dotted(blocks)
        expected = f"guide dots over the whole column in {len(empty)} entries"
        right = dotted >= len(empty)
        tally.expect(right, first.page, first.at[0], expected, f"in {dotted}")
        tally.expect(bool(noted), first.page, first.at[0], "a transcriber's note of them", "none")


def _dotted(blocks: list[Block]) -> int:
    """How many entries of a table in columns are guide dots: over the whole column where a
    separation line shows the columns, else any run that stands by itself."""
    columns: list[tuple[int, int]] = []
    count = 0
    for block in blocks:
        if block.kind == "table-rule":
            columns = [found.span() for found in _COLUMN.finditer(block.cells[-1])]
        elif block.style == "table-columns" and block.kind == "table":
            for line in block.cells:
                runs = [found.span() for found in _GUIDE.finditer(line)]
                count += len(set(runs) & set(columns)) if columns else len(runs)
    return count


def _holds_more(entry: TableEntry) -> bool:
    """Whether an entry has anything that may be set without words: a picture or an answer."""
    return any(not isinstance(inner, Paragraph) for inner in walk(entry) if inner is not entry)


@rule("K09")
def entries_are_there(book: Book, tally: Tally) -> None:
    """The words of every entry begin in a line of the edition."""
    ledger = cast(Document, book.document).ledger
    spans: list[tuple[int, int]] | None = None
    for table, blocks in _tables(book):
        if spans is None:
            spans = book.reached() if book.reached else []
        starts = [at for entry in _entries(table) if (at := _start(entry, ledger)) >= 0]
        missing = sum(not _stands(spans, start) for start in starts)
        first, found = blocks[0], f"{missing} without a line"
        tally.expect(not missing, first.page, first.at[0], "every entry of print", found)


def _start(entry: TableEntry, ledger: Ledger) -> int:
    """Where the words of an entry begin in the ledger; -1 where it has none."""
    for inner in walk(entry):
        for run in inlines_of(inner):
            if isinstance(run, Run):
                words = ledger.text[run.start : run.end]
                if words.strip():
                    return run.start + len(words) - len(words.lstrip())
    return -1


def _stands(spans: list[tuple[int, int]], at: int) -> bool:
    """Whether one of some sorted stretches, which may overlap a little, holds an offset."""
    nth = bisect_right(spans, (at, 1 << 62))
    return any(start <= at < end for start, end in spans[max(0, nth - 4) : nth])


@rule("K10")
def linear_rows(book: Book, tally: Tally) -> None:
    """Where the rows of a table have a colon after their heading, all have, semicolons between
    their entries, and a full stop."""
    for table, _ in _tables(book):
        rows = [
            (block, " ".join(line.strip() for line in block.cells), _filled(row, book))
            for row in table.children
            if isinstance(row, TableRow) and len(row.entries) > 1
            for block in blocks_of(book, row)
            if block.style == "table" and block.kind == "table"
        ]
        if 2 * sum(_COLON.search(words) is not None for _, words, _ in rows) <= len(rows):
            continue  # Its rows have no headings: semicolons stand between all entries.
        for block, words, filled in rows:
            page, at = block.pages[-1], block.at[-1]
            right = _COLON.search(words) is not None and _ENDED.search(words) is not None
            tally.expect(right, page, at, "a colon, and a full stop last", "another sign")
            count = len(_SEMICOLON.findall(words))
            expected = f"{filled - 2} semicolons between the entries"
            tally.expect(count >= filled - 2, page, at, expected, f"{count}")


def _filled(row: TableRow, book: Book) -> int:
    """How many entries of a row have words."""
    document = cast(Document, book.document)
    return sum(_has_words(entry, document) for entry in row.entries)


@rule("X11")
def sidebars(book: Book, tally: Tally) -> None:
    """A blank line above and below the lines that enclose a sidebar; none where they meet those
    of another box or the sidebar's source (BF 7.2)."""
    at = {
        id(book.texts[nth]): nth
        for kind in ("box-top", "box-bottom")
        for nth in book.by_kind.get(kind, ())
    }
    for node, _ in nodes_by_type(book).get(Box, []):
        if cast(Box, node).role in _SIDE:
            for block in blocks_of(book, node):
                wanted = {"box-top": expect_above, "box-bottom": expect_below}.get(block.kind)
                if wanted and not _meets(book, at[id(block)], block.kind):
                    wanted(tally, block, 1)


def _meets(book: Book, nth: int, kind: str) -> bool:
    """Whether a box line stands next to the like line of another box, above a source or notes."""
    near = nth + (1 if kind == "box-bottom" else -1)
    if not 0 <= near < len(book.texts):
        return False
    return book.texts[near].kind in (kind, "note-rule") or book.texts[near].style == "source"


@rule("Y03")
def stanzas(book: Book, tally: Tally) -> None:
    """One blank line between stanzas, none between lines of one."""
    titled = {id(two) for one, two in pairwise(book.texts) if one.style == "title"}
    for one, two in _neighbours(book, VerseLine):
        second = [block for block in blocks_of(book, two)[:1] if id(block) not in titled]
        if second and second[0].kind == "verse" and above(second[0]) is not None:
            same = cast(VerseLine, one).stanza == cast(VerseLine, two).stanza
            expect_above(tally, second[0], 0 if same else 1)


@rule("F03")
def marks_and_notes(book: Book, tally: Tally) -> None:
    """Every note that print has stands in the braille; every mark has its note, every note a
    mark."""
    page = _last_page(book)
    notes = {cast(Footnote, node).id: node for node, _ in nodes_by_type(book).get(Footnote, [])}
    if page is None or not notes:
        return
    calls = [
        run
        for found in nodes_by_type(book).values()
        for node, _ in found
        for run in inlines_of(node)
        if isinstance(run, NoteCall)
    ]
    called = {run.target for run in calls}
    ledger = cast(Document, book.document).ledger
    for name, node in notes.items():
        if not any(text_of(inlines_of(inner), ledger).strip() for inner in walk(node)):
            continue
        blocks = [block for inner in walk(node) for block in blocks_of(book, inner)]
        place = blocks[0] if blocks else None
        where, at = (place.page, place.at[0]) if place else (page, -1)
        tally.expect(place is not None, where, at, "every note of print", "one without a line")
        tally.expect(name in called, where, at, "a mark in the text for the note", "none")
    for run in sorted(calls, key=lambda run: run.start):
        if run.target not in notes:
            line = book.line_of(run.start) if book.line_of else None
            where, at = line or (page, -1)
            tally.expect(False, where, at, "a note for every mark", "none for this mark")


@rule("J07")
def index_numbers(book: Book, tally: Tally) -> None:
    """The numbers of an index entry are those of print."""
    ledger = cast(Document, book.document).ledger
    for node, children in nodes_by_type(book).get(ListItem, []):
        blocks = [block for block in blocks_of(book, node) if block.kind == "index"]
        if not blocks or any(isinstance(child, ListBlock) for child in children):
            continue
        inner = [text_of(inlines_of(here), ledger) for here in walk(node)]
        print_ = [re.sub("[.,]", "", found) for found in _PRINTED.findall(" ".join(inner))]
        cells = " ".join(line.strip() for block in blocks for line in block.cells)
        cells = cells.replace('" ', "")  # A number goes on after dot 5 at a line end (UEB 6.10).
        shown = [re.sub("[14]", "", n).translate(_DIGITS) for n in _NUMBER.findall(cells)]
        first = blocks[0]
        right = sorted(print_) == sorted(shown)
        tally.expect(right, first.page, first.at[0], f"{', '.join(print_)}", ", ".join(shown))
