"""Checks of pages and lines (G), and of the room beside page numbers (P12 to P15)."""

from __future__ import annotations

import re
import unicodedata
from itertools import pairwise

from .model import Book, Page, Tally, rule

_ODD = re.compile(r"[^ -_a-z]")
_CELLS = "".join(c for c in map(chr, range(128)) if not _ODD.match(c)).encode()
_UNNAMED = {"\t": "tab", "\x1b": "escape", "\x08": "backspace", "\x1a": "end of file"}
_BARE = re.compile(r" (#[a-j]+)$")
GUARD = 3  # Blank cells between text and a page number.


@rule("G01")
def lines_fit(book: Book, tally: Tally) -> None:
    """No line longer than the page is wide."""
    for page in book.pages():
        tally.seen += 1
        if max(map(len, page.rows), default=0) > book.width:
            for at, row in enumerate(page.rows):
                if len(row) > book.width:
                    expected = f"at most {book.width} cells"
                    tally.expect(False, page, at, expected, f"{len(row)} cells")


@rule("G02")
def pages_fit(book: Book, tally: Tally) -> None:
    """No page deeper than the page size."""
    for page in book.pages():
        count = len(page.rows)
        tally.expect(count <= book.depth, page, -1, f"at most {book.depth} lines", f"{count} lines")


@rule("G03")
def six_dot_cells(book: Book, tally: Tally) -> None:
    """Only the 64 cells."""
    for page in book.pages():
        tally.seen += 1
        if "".join(page.rows).encode("utf-8", "surrogatepass").translate(None, _CELLS):
            for at, row in enumerate(page.rows):
                for odd in _ODD.finditer(row):
                    name = unicodedata.name(odd[0], _UNNAMED.get(odd[0], "without a name")).lower()
                    found = f"the character {name}, U+{ord(odd[0]):04X}, in cell {odd.start() + 1}"
                    tally.expect(False, page, at, "a cell of North American ASCII braille", found)


@rule("G04")
def pages_have_text(book: Book, tally: Tally) -> None:
    """A page is not empty, but for a left-hand one before another series (Appendix E), a right-hand
    one before facing pages (11.13) and one that is kept for a tactile graphic."""
    for volume in book.volumes:
        for page, after in pairwise([*volume, None]):
            if page is None:
                continue
            side = after is not None and (
                after.series != page.series if page.left else after.left and after.asked
            )
            filled = page.last >= 0 or bool(page.head) or side
            filled = filled or any(line.kind == "graphic" for line in page.lines)
            tally.expect(filled, page, -1, "some text", "an empty page")


@rule("G05")
def one_blank_line(book: Book, tally: Tally) -> None:
    """Never two blank lines inside the text of a page, title pages left aside."""
    for page in book.pages():
        last = page.last
        if page.titled or last < 0:
            continue
        tally.seen += 1
        for at in range(1, last):
            if not page.text[at] and not page.text[at - 1] and not (at == 1 and page.head):
                tally.expect(False, page, at, "one blank line at most", "two blank lines together")


@rule("G06")
def evenly_trimmed(book: Book, tally: Tally) -> None:
    """Trimmed everywhere, or filled to the width everywhere."""
    padded = len(book.padded)
    blank = {(id(page), at) for page, at in book.padded}
    rows = [
        (page, at, row) for page in book.pages() for at, row in enumerate(page.rows[: page.given])
    ]
    if not rows:
        return
    tally.seen += 1
    # A line that text fills has no blank cells to trim.
    uneven = [row for row in rows if len(row[2]) < book.width and (id(row[0]), row[1]) not in blank]
    if padded and uneven:
        page, at = book.padded[0]
        found = f"blank cells at the end of {padded} of {len(rows)} lines"
        tally.expect(False, page, at, "lines all trimmed or all filled", found)


@rule("P12")
def room_before_print_number(book: Book, tally: Tally) -> None:
    """Three blank cells before the print page number on line 1."""
    numbered = book.has_print_numbers
    for page in book.pages():
        if page.number:
            _room(tally, page.rows[0], page.number, page, 0)
        elif numbered and not book.traced and len(page.rows[0]) == book.width:
            close = _BARE.search(page.rows[0])
            _room(tally, page.rows[0], close[1] if close else "", page, 0)


@rule("P13")
def room_before_braille_number(book: Book, tally: Tally) -> None:
    """Three blank cells before the braille page number on the last line."""
    for page in book.pages():
        if page.foot and len(page.rows) >= book.depth:
            _room(tally, page.rows[book.depth - 1], page.foot, page, book.depth - 1)


def _room(tally: Tally, row: str, number: str, page: Page, at: int) -> None:
    if not number:
        return
    before = row.removesuffix(number)
    text = before.rstrip()
    free = len(before) - len(text)
    tally.expect(
        not text or free >= GUARD, page, at, f"{GUARD} blank cells before the number", f"{free}"
    )


@rule("P14")
def numbers_end_the_line(book: Book, tally: Tally) -> None:
    """Page numbers end exactly in the last cell."""
    for page in book.pages():
        for at, number in ((0, page.number), (book.depth - 1, page.foot)):
            if number and at < len(page.rows):
                row = page.rows[at]
                before = row.removesuffix(number)
                apart = row.endswith(number) and before[-1:] in ("", " ")
                right = len(row) == book.width and apart
                expected = f"the page number by itself, ending in cell {book.width}"
                found = f"a line that ends in cell {len(row)}"
                found += "" if apart else " with something else"
                tally.expect(right, page, at, expected, found)


@rule("P15")
def contents_clear_of_numbers(book: Book, tally: Tally) -> None:
    """No contents entry beside a page number."""
    entries = [page for at in book.by_kind.get("toc", ()) for page in book.texts[at].pages]
    for page in {id(page): page for page in entries}.values():
        led = '""' in page.joined
        for at, number in ((0, page.number), (book.depth - 1, page.foot)):
            beside = led and bool(number) and page.lines[at].kind == "toc"
            tally.expect(not beside, page, at, "no contents entry here", "a contents entry")
