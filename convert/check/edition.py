"""An edition in memory as the pages the checks look at: the same lines its files would hold."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import TYPE_CHECKING

from ..document.nodes import MathRun
from ..places import Places, print_spans
from ..translation.cells import BLANK, Cells, ascii_lines, ascii_of, cells_of
from .model import Book, Line, Page
from .pages import finish, set_head

if TYPE_CHECKING:
    from ..edition import Edition
    from ..layout.book import Page as Made
    from ..layout.book import Row


_ENDS = frozenset(BLANK + cells_of("-/"))
_BACKSLASH = cells_of("_*")
_HYPHEN = cells_of("-")
_NOTE, _NOTE_END = cells_of("@.<"), cells_of("@.>")
_OWN = frozenset(["h-center", "toc", "end-of-volume", "page-turn", "title"])
_REPEATED = frozenset(["table", "table-head"])  # Column headings, said again beside entries.
_new = tuple.__new__  # The quick way to make a named tuple: this runs once for every line.
LONG = 10  # A word nearly as long as the line has to be broken somewhere.


def book_of(edition: Edition, unmarked: frozenset[str] = frozenset()) -> Book:
    """The pages of an edition.  ``unmarked``: print pages known to have no text of their own."""
    made = edition.book
    book = Book(made.cells, made.lines, [], traced=True)
    book.convention, book.code = edition.settings.convention, edition.settings.code
    book.print_pages = tuple(edition.document.print_pages)
    book.unmarked = unmarked
    book.lost = edition.totals.lost + edition.totals.doubled
    book.document, book.reached = edition.document, partial(_reached, edition)
    book.line_of = partial(_line_of, edition, book, [])
    book.broken = None if edition.settings.divide_words else []
    book.added = []
    parted = set()
    instead, notes = _instead(edition), _Notes()
    for volume in made.volumes:
        pages = []
        for at, page in enumerate(volume.pages, 1):
            pages.append(_page(page, volume.number, at, made.cells))
            book.added += [(pages[-1], *found) for found in _added(page, instead, notes)]
            if _parts_compound(page):
                parted.add(id(pages[-1]))
            if book.broken is not None:
                book.broken += [(pages[-1], line) for line in _broken(page, made.cells)]
        book.volumes.append(pages)
    book.parted = frozenset(parted)
    return finish(book)


def _reached(edition: Edition) -> list[tuple[int, int]]:
    """The stretches of print that stand in lines, sorted."""
    return sorted(
        span
        for volume in edition.book.volumes
        for page in volume.pages
        for row in page.rows
        if row is not None
        for span in print_spans(row)
    )


def _line_of(
    edition: Edition, book: Book, known: list[Places], offset: int
) -> tuple[Page, int] | None:
    """The line where print at an offset of the ledger stands; the index is made once."""
    if not known:
        known.append(Places(edition.book))
    place = known[0].find((offset, offset + 1))
    for page in book.pages() if place is not None else ():
        if place is not None and (page.volume, page.label) == (place.volume, place.page):
            return page, place.line - 1
    return None


def _instead(edition: Edition) -> frozenset[str]:
    """What decisions put in the place of print: it is read as print, not as a note."""
    return frozenset(
        str(value)
        for record in edition.decisions
        if record.verb in ("print", "math-text")
        for name, value in record.arguments
        if name == "text"
    )


class _Notes:
    """Whether a transcriber's note of several paragraphs is open where the reading stands."""

    def __init__(self) -> None:
        self.open, self.within, self.last = False, False, ""

    def enclose(self, text: str) -> bool:
        """Whether note indicators enclose added words of a paragraph, given with all its cells."""
        if text is not self.last:
            self.last, self.within = text, self.open or _NOTE in text
            shut = text.rfind(_NOTE_END)
            self.open = text.rfind(_NOTE) > shut or (self.open and shut < 0)
        return self.within


def _added(made: Made, instead: frozenset[str], notes: _Notes) -> Iterator[tuple[int, bool]]:
    """Body lines with words that print does not have: the line, from 0, and whether note
    indicators enclose them.  Titles, contents, the end of a volume, column headings said again
    and what stands ``instead`` of print are not meant."""
    if made.series != "body":
        return
    printed: Cells | None = None
    for at, row in enumerate(made.rows):
        if row is None or row.kind in _REPEATED or (row.element is None and row.kind in _OWN):
            continue
        for part in row.parts:
            if part.source is printed or part.source is None:
                continue
            passage = part.source.passage
            if passage is None or all(at >= 0 for _, at in passage.at):
                printed = part.source
                continue
            ends = [*(start for start, _ in passage.at[1:]), len(passage.text)]
            words = [
                passage.text[start:end]
                for (start, ledger), end in zip(passage.at, ends, strict=True)
                if ledger < 0 and passage.text[start:end] not in instead
            ]
            if any(char.isalpha() for char in "".join(words)):
                yield at, notes.enclose(part.source.text)


def _broken(made: Made, width: int) -> Iterator[int]:
    """Lines that end inside a word, from 0.  A hyphen, dash or slash may end a line; a formula
    may end one at a sign; a word about as long as the line must be broken somewhere."""
    for at, row in enumerate(made.rows):
        for part in row.parts if row is not None else ():
            source, end = part.source, part.at + len(part.text)
            if source is None or end >= len(source.text) or source.text[end] == BLANK:
                continue
            if not part.text or part.text[-1] in _ENDS or part.text.endswith(_BACKSLASH):
                continue
            if row is None or row.kind == "math" or _in_formula(source, end):
                continue
            low = source.text.rfind(BLANK, 0, end) + 1
            high = source.text.find(BLANK, end)
            high = len(source.text) if high < 0 else high
            marked = any(low <= mark[0] <= high for mark in source.marks)
            if not marked and high - low <= width - LONG:
                yield at


def _parts_compound(made: Made) -> bool:
    """Whether a page ends at a hyphen with no blank behind it, so inside a compound."""
    last = next((row for row in reversed(made.rows) if row is not None and row.parts), None)
    part = last.parts[-1] if last is not None else None
    if part is None or part.source is None or not part.text.endswith(_HYPHEN):
        return False
    end = part.at + len(part.text)
    return end < len(part.source.text) and part.source.text[end] != BLANK


def _in_formula(source: Cells, cell: int) -> bool:
    """Whether a cell is of a formula, whose lines end at its signs (Guidelines for Technical
    Material 1)."""
    marks = source.passage.marks if source.passage is not None else ()
    formulas = [mark for mark in marks if mark.what == "math"]
    if not formulas:
        return False
    at = source.span(cell, cell + 1)[0]
    return any(
        isinstance(run := mark.value, MathRun) and mark.at <= at < mark.at + run.end - run.start
        for mark in formulas
    )


def _text(row: Row) -> str:
    """The cells of a line without page numbers and running head."""
    if len(row.parts) == 1:
        only = row.parts[0]
        return BLANK * only.start + only.text if only.start else only.text
    out = ""
    for part in row.parts:
        out = out.ljust(part.start, BLANK)[: part.start] + part.text
    return out


def _page(made: Made, volume: int, ordinal: int, width: int) -> Page:
    count = len(made.rows)
    ends = sorted({1, count}) if count else []
    texts = [_text(row) if row is not None else "" for row in made.rows]
    found = ascii_lines([*texts, *(made.line(number) for number in ends)])
    cells = [line.rstrip() for line in found]
    rows = cells[:count]
    for number, line in zip(ends, cells[count:], strict=True):
        rows[number - 1] = line
    page = Page(volume, ordinal, rows, count, made.series, made.braille_page)
    page.print_page = in_force = made.print_page
    page.asked = made.asked
    page.text = cells[:count]
    if made.head:
        set_head(page, ascii_of(made.head), width)
    if made.foot.strip(BLANK):
        page.foot = ascii_of(made.foot).split()[-1]
    for row, text in zip(made.rows, page.text, strict=True):
        if row is None:
            page.lines.append(Line("blank", None, 0, 0, "first", "", "", in_force))
            continue
        if row.print_page is not None:
            in_force = row.print_page
        page.lines.append(
            _new(Line, (row.kind, row.element, row.level, row.levels, row.part, row.style, text,
                        in_force))
        )  # fmt: skip
    return page
