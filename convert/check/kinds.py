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
# What may stand between two paragraphs or items of one list.
INTERRUPTS = frozenset(
    ["displayed", "attribution", "verse", "tn", "caption", "math", "note", "note-rule"]
) | TABLE
DEEPEST = 8  # Levels that have a cell of their own; common practice, no source.


class Group(NamedTuple):
    """Neighbouring blocks of the same kind, with the blocks before and after them.

    ``holder`` is the kind of what they may stand inside: the nearest block above that does not
    itself interrupt an element.  ``goes_on``: they belong to a list begun before an interruption.
    """

    before: Block | None
    blocks: list[Block]
    after: Block | None
    holder: str = ""
    goes_on: bool = False

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
    holder = held = ""
    earlier: Block | None = None
    goes_on = False
    for block in texts(book):
        if block.kind in kinds and (not styles or block.style in styles):
            if not run:
                before, held = last, holder
                goes_on = earlier is not None and _goes_on(earlier, block)
            run.append(block)
        elif run:
            yield Group(before, run, block, held, goes_on)
            earlier, run = run[-1], []
        added = block.page.series == "t" or block.kind in ("toc", "end-of-volume")
        if not added and (block.kind not in INTERRUPTS or block.kind == "note"):
            holder = block.kind
        if not added and block.kind not in INTERRUPTS:
            earlier = None if not run else earlier
        last = block
    if run:
        yield Group(before, run, None, held, goes_on)


def _goes_on(earlier: Block, block: Block) -> bool:
    """Whether a list begun before an interruption goes on; in word-processor documents, where
    the address does not tell, it may, so nothing is held against it."""
    if block.level > 1 or block.parts[0] == "runover" or beside(earlier, block):
        return True
    return "document.xml!" in (block.element or "") and earlier.levels == block.levels


def going_on(book: Book) -> set[int]:
    """Identities of the blocks with which an interrupted list goes on."""
    return {
        id(group.first)
        for kind in HOLDERS
        for group in groups(book, kind)
        if group.goes_on
    }


def kind_of(block: Block | None) -> str:
    """Its kind; empty for no block."""
    return block.kind if block else ""


def gap_above(page: Page, at: int) -> int | None:
    """Blank lines above a line."""
    blanks = 0
    for n in range(at - 1, -1, -1):
        if not page.text[n]:
            blanks += not (n == 0 and page.head)
        elif n not in page.turns:
            return blanks
    return None


def gap_below(page: Page, at: int) -> int | None:
    """Blank lines below a line."""
    blanks = 0
    for n in range(at + 1, page.depth):
        if not page.text[n]:
            blanks += 1
        elif n not in page.turns:
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
        right = gap == wanted or _end_has_no_room(block, gap)
        tally.expect(right, block.pages[-1], block.at[-1], _lines(wanted, "below"), _lines(gap, ""))


def _end_has_no_room(block: Block, gap: int) -> bool:
    """Whether what follows is the end of the volume, for which only the last line is left."""
    page, at = block.pages[-1], block.at[-1] + gap + 1
    return at == page.depth - 1 and page.lines[at].kind == "end-of-volume"


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
    if one.levels != other.levels:
        return False
    return one.level < other.level or beside(one, other)


def beside(one: Block, other: Block) -> bool:
    """Whether ``other`` stands beside ``one``, or beside something that holds it."""
    if not one.element or not other.element:
        return False
    first, second = one.element.split("/"), other.element.split("/")
    if "document.xml!" in first:
        return False
    shared = 0
    for left, right in zip(first, second, strict=False):
        if left != right:
            break
        shared += 1
    return shared >= len(second) - 1 > 3
