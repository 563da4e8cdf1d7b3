"""Checks of tables (K)."""

from __future__ import annotations

import re
from itertools import pairwise

from .kinds import (
    HEADINGS,
    TABLE,
    Group,
    expect_above,
    expect_below,
    expect_margins,
    gap_above,
    gap_below,
    groups,
    kind_of,
    nested,
)
from .model import Book, Page, Tally, rule

RUNOVER = 2  # Cells, BF 11.2.
SPARE = 3  # Lines of a page that blank lines and a running head may take.
_ABOVE = HEADINGS | {"caption", "tn", "box-top", "direction", "page-turn"}
_SEGMENT = re.compile(r'"3*')
_DOTS = re.compile(r'(?<!\S)"{2,}(?!\S)|\S"{2,}|"{2,}\S')
_TIGHT = re.compile(r'[^ "]"{2,}|"{2,}[^ "3]|"{2,} "{2,}')


@rule("K01")
def lines_under_headings(book: Book, tally: Tally) -> None:
    """A separation line starts under its heading."""
    for block in book.blocks:
        if block.kind == "table-rule":
            page, at = block.page, block.at[0]
            line, heading = page.text[at], page.text[at - 1] if at else ""
            for segment in _SEGMENT.finditer(line):
                start = segment.start()
                under = heading[start : start + 1].strip()
                clear = start == 0 or not heading[start - 1 : start].strip()
                empty = not heading[start : segment.end()].strip()
                right = bool(heading) and (bool(under and clear) or empty)
                expected = f"a heading above from cell {start + 1}"
                tally.expect(right, page, at, expected, "none there")


@rule("K02")
def two_cells_between(book: Book, tally: Tally) -> None:
    """Two blank cells between columns; more where a line stands over some of them only."""
    for block in book.blocks:
        if block.kind == "table-rule":
            line = block.cells[0].strip()
            gaps = [len(gap) for gap in re.findall(" +", line)]
            lines, below = block.page.lines, block.at[0] + 1
            upper = below < len(lines) and lines[below].kind == "table-head"
            right = all(gap == 2 or (upper and gap > 2) for gap in gaps)
            tally.expect(
                right, block.page, block.at[0], "two blank cells between columns", _counts(gaps)
            )


def _counts(gaps: list[int]) -> str:
    """Counts of cells in words."""
    return f"{', '.join(map(str, gaps))} blank cells"


@rule("K03")
def no_blank_at_rule(book: Book, tally: Tally) -> None:
    """No blank line beside the separation line."""
    for block in book.blocks:
        if block.kind == "table-rule":
            page, at = block.page, block.at[0]
            for gap in (gap_above(page, at), gap_below(page, at)):
                if gap is not None:
                    tally.expect(gap == 0, page, at, "no blank line beside it", f"{gap}")


@rule("K04")
def runovers_in_columns(book: Book, tally: Tally) -> None:
    """Runovers of row headings and entries begin two cells right of their column."""
    for group in groups(book, *TABLE):
        columns: list[int] = []
        for block in group.blocks:
            if block.kind == "table-rule":
                columns = [found.start() for found in _SEGMENT.finditer(block.cells[-1])]
            if block.style != "table-columns" or block.kind != "table" or len(columns) < 2:
                continue
            begun: set[int] = set()
            for page, at, line in zip(block.pages, block.at, block.cells, strict=True):
                _expect_in_columns(tally, page, at, line, columns, begun)


def _expect_in_columns(
    tally: Tally, page: Page, at: int, line: str, columns: list[int], begun: set[int]
) -> None:
    """``begun``: columns of which an earlier line of the row has a part."""
    for start, end in pairwise([*columns, len(line) + 2]):
        entry = line[start : end - 2]
        if not entry.strip():
            continue
        if start in begun:
            found = start + len(entry) - len(entry.lstrip())
            right = found == start + RUNOVER
            tally.expect(right, page, at, f"cell {start + RUNOVER + 1}", f"cell {found + 1}")
        begun.add(start)


@rule("K11")
def steps(book: Book, tally: Tally) -> None:
    """Column j in cell 2j-1, all runovers in cell 2m+1 of m columns."""
    for block in book.blocks:
        if block.style == "table-step" and block.level:
            first, runover, _ = nested(block, book.width)
            expect_margins(tally, block, first, runover)


@rule("K05")
def guide_dots_in_tables(book: Book, tally: Tally) -> None:
    """Two or more, a blank cell at each side, never two runs with one cell between."""
    for block in book.blocks:
        if block.kind == "table":
            for page, at, line in zip(block.pages, block.at, block.cells, strict=True):
                if '""' in line and _DOTS.search(line):
                    right = not _TIGHT.search(line)
                    tally.expect(right, page, at, "a blank cell at each side", "none")


@rule("K07")
def headings_again(book: Book, tally: Tally) -> None:
    """On the next page the column headings come again; a table that fits is not divided."""
    for group in groups(book, *TABLE):
        if not any(block.kind == "table-rule" for block in group.blocks):
            continue
        first, tied = group.first, _tied(group)
        same = [block for block in group.blocks if block.element == first.element]
        last = same[-1].pages[-1]
        divided = first.page is not last and not last.asked  # A page is asked for opposite.
        if tied + sum(len(block.at) for block in same) <= book.depth - SPARE:
            tally.expect_of(not divided, same, "the whole table here", "a part of it")
        blocks = [block for block in group.blocks if block.style == "table-columns"]
        blocks = blocks or group.blocks  # Other tables stand next to one in columns.
        pages = {id(page): page for block in blocks for page in block.pages}
        ruled = {id(block.page) for block in blocks if block.kind == "table-rule"}
        for key, page in pages.items():
            tally.expect(key in ruled, page, page.first, "the column headings again", "none")


def _tied(group: Group) -> int:
    """How many lines above a table, blank ones with them, must stand on its page."""
    page, at = group.first.page, group.first.at[0] - 1
    kinds = [line.kind for line in page.lines[: at + 1]] if group.before is not None else []
    while kinds and (kinds[-1] in _ABOVE or kinds[-1] == "blank"):
        kinds.pop()
    return at + 1 - len(kinds)


@rule("K12")
def blanks_around_tables(book: Book, tally: Tally) -> None:
    """A blank line above and below."""
    for group in groups(book, *TABLE):
        rows = kind_of(group.before) == "tn" and group.first.style in ("table", "table-step")
        quiet = rows or group.goes_on
        if not quiet and kind_of(group.before) not in ("box-top", "h-7", "math"):
            expect_above(tally, group.first, 1)
        if kind_of(group.after) not in ("box-bottom", "note-rule", "tn", "note", "caption", "math"):
            expect_below(tally, group.last, 1)
