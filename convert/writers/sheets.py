"""The braille pages of an edition, as two runs are compared by them."""

from __future__ import annotations

from ..changes import Sheet
from ..edition import Edition
from ..layout.book import Page
from ..translation.cells import BLANK
from .trace import line_print


def sheets_of(edition: Edition) -> list[Sheet]:
    """The pages of an edition, for comparing."""
    return [_sheet(volume.number, page) for volume, _, page in edition.book.pages()]


def _sheet(volume: int, page: Page) -> Sheet:
    def said(line: int) -> str:
        row = page.rows[line - 1]
        return line_print(row)[1] if row is not None else ""

    texts, head, foot = tuple(page.texts()), page.head.rstrip(BLANK), page.foot.rstrip(BLANK)
    return Sheet(volume, page.braille_page, texts, head, foot, said)
