"""Line spacing: finished pages with blank lines between their lines, for early readers.

Pages are laid out with the lines that spacing leaves (13 of 25 where it is double), and blank
lines are put between them afterwards, so that no layout rule meets a spaced line.  Agency
specifications ask for it in early grades; no rule of Braille Formats 2016 has it.
"""

from __future__ import annotations

from dataclasses import replace

from ..settings import Settings
from .book import Book, Page, Row
from .convention import Convention


def settings_for_layout(settings: Settings, convention: Convention) -> Settings:
    """The settings with the number of lines that the spacing leaves on a page."""
    every = settings.line_spacing
    if every <= 1:
        return settings
    lines = settings.lines or convention.page.lines
    return replace(settings, lines=(lines + every - 1) // every)


def space_lines(book: Book, settings: Settings, convention: Convention) -> Book:
    """The same pages with blank lines between their lines, as high as the settings say."""
    every = settings.line_spacing
    if every <= 1:
        return book
    lines = settings.lines or convention.page.lines
    for _, _, page in book.pages():
        page.rows = _spaced(page, every, lines)
    book.lines = lines
    return book


def _spaced(page: Page, every: int, lines: int) -> list[Row | None]:
    """A row, then blank lines; the last row stays the last line of the page."""
    rows: list[Row | None] = []
    for row in page.rows[:-1]:
        rows += [row, *([None] * (every - 1))]
    rows += [None] * (lines - 1 - len(rows))
    return [*rows, *page.rows[-1:]]
