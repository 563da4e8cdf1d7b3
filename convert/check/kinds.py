"""What the trace's kinds of line mean, and how blocks stand to their neighbours.

A gap is the count of blank lines between two neighbouring texts of a page, page change lines
between them stepped over; None where the page begins or ends there, which other checks judge.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from .model import Block, Book, Page, Tally

# A blank line above, and below, unless the neighbour says otherwise: BF 4.4 to 4.6, 7.2, 8.3,
# 9.1, 10, 11.2, 13.3.
NEEDS_ABOVE = frozenset(
    ["h-center", "h-5", "h-7", "list", "box-top", "table", "displayed", "verse", "direction"]
)
NEEDS_BELOW = frozenset(["h-center", "list", "box-bottom", "displayed", "verse", "attribution"])
HEADINGS = frozenset(["h-center", "h-5", "h-7"])
BOXES = frozenset(["box-top", "box-bottom"])
TABLE = frozenset(["table", "table-head", "table-rule"])
NESTED = frozenset(["list", "exercise", "verse", "index", "glossary", "bibliography"])
# What may hold displayed matter, verse and tables further to the right.
HOLDERS = frozenset(["list", "exercise", "glossary", "index", "bibliography", "note", "speech"])
TURN = "--------"
DEEPEST = 8  # Levels that have a cell of their own; common practice, no source.


class Group(NamedTuple):
    """Neighbouring blocks of the same kind, with the blocks before and after them."""

    before: Block | None
    blocks: list[Block]
    after: Block | None

    @property
    def first(self) -> Block:
        return self.blocks[0]

    @property
    def last(self) -> Block:
        return self.blocks[-1]


def texts(book: Book) -> list[Block]:
    """All blocks but page change lines."""
    return [block for block in book.blocks if block.kind != "page-turn"]


def groups(book: Book, *kinds: str, styles: tuple[str, ...] = ()) -> Iterator[Group]:
    """Runs of neighbouring blocks of some kinds (and styles, where given)."""
    run: list[Block] = []
    before: Block | None = None
    last: Block | None = None
    for block in texts(book):
        if block.kind in kinds and (not styles or block.style in styles):
            if not run:
                before = last
            run.append(block)
        elif run:
            yield Group(before, run, block)
            run = []
        last = block
    if run:
        yield Group(before, run, None)


def kind_of(block: Block | None) -> str:
    """Its kind; empty for no block."""
    return block.kind if block else ""


def gap_above(page: Page, at: int) -> int | None:
    """Blank lines above a line."""
    blanks = 0
    for n in range(at - 1, -1, -1):
        text = page.text[n]
        if not text:
            blanks += not (n == 0 and page.head)
        elif text[:8] != TURN:
            return blanks
    return None


def gap_below(page: Page, at: int) -> int | None:
    """Blank lines below a line."""
    blanks = 0
    for n in range(at + 1, page.depth):
        text = page.text[n]
        if not text:
            blanks += 1
        elif text[:8] != TURN:
            return blanks
    return None


def above(block: Block) -> int | None:
    """Blank lines above a block."""
    return gap_above(block.pages[0], block.at[0])


def below(block: Block) -> int | None:
    """Blank lines below a block."""
    return gap_below(block.pages[-1], block.at[-1])


def expect_above(tally: Tally, block: Block, wanted: int) -> None:
    """Expect so many blank lines above; at a page top the rules of page tops hold."""
    gap = above(block)
    if gap is not None:
        right = gap == wanted
        tally.expect(right, block.pages[0], block.at[0], _lines(wanted, "above"), _lines(gap, ""))


def expect_below(tally: Tally, block: Block, wanted: int) -> None:
    """Expect so many blank lines below; at a page end the rules of page tops hold."""
    gap = below(block)
    if gap is not None:
        right = gap == wanted
        tally.expect(right, block.pages[-1], block.at[-1], _lines(wanted, "below"), _lines(gap, ""))


def _lines(count: int, where: str) -> str:
    words = {0: "no blank line", 1: "one blank line"}.get(count, f"{count} blank lines")
    return f"{words} {where}".strip()


def expect_margins(tally: Tally, block: Block, first: int, runover: int) -> None:
    """Expect the first line and the runovers of a block in these cells, from 1."""
    for page, at, start, part in zip(
        block.pages, block.at, block.starts, block.parts, strict=True
    ):
        wanted = first if part == "first" else runover
        tally.expect(start == wanted, page, at, f"a start in cell {wanted}", f"cell {start}")


def nested(block: Block, width: int) -> tuple[int, int, int]:
    """Cells of first line, runovers and further paragraphs of a nested block (BF 8.3)."""
    level, levels = min(block.level, DEEPEST), min(block.levels, DEEPEST)
    widest = max(5, min(2 * DEEPEST + 3, width // 2))
    cells = (2 * max(1, level) - 1, 2 * max(1, levels) + 1, 2 * max(1, levels) + 3)
    first, runover, further = (min(cell, widest) for cell in cells)
    return first, runover, further


def same_list(one: Block, other: Block) -> bool:
    """Whether two blocks are surely items of one list.

    Addresses grow from the root of the document, so items of a list share the path of the list.
    In word-processor documents all paragraphs are side by side, so nothing can be told.
    """
    if one.levels != other.levels or not one.element or not other.element:
        return False
    if one.level < other.level:
        return True
    first, second = one.element.split("/"), other.element.split("/")
    if one.level != other.level or "document.xml!" in first:
        return False
    shared = 0
    for left, right in zip(first, second, strict=False):
        if left != right:
            break
        shared += 1
    return shared >= len(second) - 1 > 3
