"""An edition in memory as the pages the checks look at: the same lines its files would hold."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..translation.cells import BLANK, ascii_of
from .model import Book, Line, Page
from .pages import finish, set_head

if TYPE_CHECKING:
    from ..edition import Edition
    from ..layout.book import Page as Made


def book_of(edition: Edition, unmarked: frozenset[str] = frozenset()) -> Book:
    """The pages of an edition.  ``unmarked``: print pages known to have no text of their own."""
    made = edition.book
    book = Book(made.cells, made.lines, [], traced=True)
    book.convention = edition.settings.convention
    book.print_pages = tuple(edition.document.print_pages)
    book.unmarked = unmarked
    for volume in made.volumes:
        pages = [
            _page(page, volume.number, at, made.cells) for at, page in enumerate(volume.pages, 1)
        ]
        book.volumes.append(pages)
    return finish(book)


def _page(made: Made, volume: int, ordinal: int, width: int) -> Page:
    count = len(made.rows)
    texts = [row.text if row is not None else "" for row in made.rows]
    whole = "\n".join([*texts, *(made.line(n) for n in range(1, count + 1))])
    cells = [line.rstrip() for line in ascii_of(whole).split("\n")]
    page = Page(volume, ordinal, cells[count:], count, made.series, made.braille_page)
    page.print_page = in_force = made.print_page
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
            Line(row.kind, row.element, row.level, row.levels, row.part, row.style, text, in_force)
        )
    return page
