"""Checks of lists that stand in columns (L07, L08; Braille Formats 2016, 8.4).

A list is in columns where its trace says so, or where most of its lines have text that begins
in one cell after two or more blank cells.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator

from .kinds import Group, groups
from .model import Book, Page, Tally, rule

STYLE = "list-columns"
CLEAR = 2
SPARE = 3  # Lines of a page that a blank line above and below and a running head may take.
_APART = re.compile(rf"(?<=\S) {{{CLEAR},}}(?=\S)")

Row = tuple[Page, int, str]


def _columned(book: Book) -> Iterator[tuple[list[Row], set[int], Group]]:
    """The lines of each list in columns, the cells, from 0, where its later columns begin, and
    its elements."""
    for group in groups(book, "list"):
        rows = [
            row
            for block in group.blocks
            for row in zip(block.pages, block.at, block.cells, strict=True)
        ]
        if group.first.style != STYLE and not any("  " in line.lstrip() for *_, line in rows):
            continue
        begins = Counter(match.end() for *_, line in rows for match in _APART.finditer(line))
        shared = {cell for cell, count in begins.items() if count > 1}
        many = sum(any(m.end() in shared for m in _APART.finditer(line)) for *_, line in rows)
        if group.first.style == STYLE or (len(rows) > 2 and 2 * many > len(rows)):
            yield rows, shared or set(begins), group


@rule("L07")
def columns_stand_apart(book: Book, tally: Tally) -> None:
    """Two blank cells before the cell where a column begins, on every line."""
    for rows, begins, _ in _columned(book):
        if not begins:
            page, at, _ = rows[0]
            tally.expect(False, page, at, f"columns {CLEAR} blank cells apart", "fewer")
        for page, at, line in rows:
            for cell in sorted(begins):
                right = not line[cell - CLEAR : cell].strip()
                expected = f"{CLEAR} blank cells before cell {cell + 1}"
                tally.expect(right, page, at, expected, "text there")


@rule("L08")
def columns_on_one_page(book: Book, tally: Tally) -> None:
    """A list in columns stands on one page where it fits."""
    for rows, _, group in _columned(book):
        if len(rows) <= book.depth - SPARE:
            right = rows[-1][0] is rows[0][0]
            tally.expect_of(right, group.blocks, "the whole list on this page", "a part of it")
