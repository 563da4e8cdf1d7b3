"""What the trace's kinds of line mean, and how blocks stand to their neighbours.

A gap is the count of blank lines between two neighbouring texts of a page, page change lines
between them stepped over; None where the page begins or ends there, which other checks judge.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple, cast

from .model import Block, Book, Page, Tally

# A blank line above, and below, unless the neighbour says otherwise: BF 4.4 to 4.6, 7.2, 8.3,
# 9.1, 10, 11.2, 13.3.
NEEDS_ABOVE = frozenset(
    ["h-center", "h-5", "h-7", "list", "box-top", "table", "displayed", "verse", "direction"]
)
NEEDS_BELOW = frozenset(["h-center", "list", "box-bottom", "displayed", "verse", "attribution"])
HEADINGS = frozenset(["h-center", "h-5", "h-7"])
TABLE = frozenset(["table", "table-head", "table-rule"])
NESTED = frozenset(["list", "exercise", "verse", "index", "glossary", "bibliography"])
# What may hold displayed matter, verse and tables further to the right.
HOLDERS = frozenset(["list", "exercise", "glossary", "index", "bibliography", "note", "speech"])
# What may stand between two paragraphs or items of one list.
INTERRUPTS = (
    frozenset(["displayed", "attribution", "verse", "tn", "caption", "math", "note", "note-rule"])
    | frozenset(["form"])  # A table to fill in inside an entry of another.
    | TABLE
)
SIDE = 3  # Blank cells at each side of a centred line (BF 4.4).
DEEPEST = 8  # Levels that have a cell of their own; common practice, no source.
LEAST_ROOM = 11  # Cells for words right of the deepest margin; common practice, no source.


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


def groups(book: Book, *kinds: str, styles: tuple[str, ...] = ()) -> Iterator[Group]:
    """Runs of neighbouring blocks of some kinds (and styles, where given)."""
    blocks = book.texts
    places = sorted(nth for kind in kinds for nth in book.by_kind.get(kind, ()))
    if styles:
        places = [nth for nth in places if blocks[nth].style in styles]
    holders = _holders(book) if places else []
    earlier = -1
    for start, stop in _runs(places):
        holder = holders[start]
        goes_on = 0 <= holder <= earlier and _goes_on(blocks[earlier], blocks[start])
        if not goes_on and (above := _above_notes(blocks, start)) >= 0:
            goes_on = above == earlier and _resumed(blocks[earlier], blocks[start])
            goes_on = goes_on or (blocks[above].kind == "tn" and blocks[start].kind in TABLE)
        yield Group(
            blocks[start - 1] if start else None,
            blocks[start:stop],
            blocks[stop] if stop < len(blocks) else None,
            _holding(blocks, holder, start),
            goes_on,
        )
        earlier = stop - 1


def _above_notes(blocks: list[Block], start: int) -> int:
    """The place of the block above the notes of a print page that ends just above a block."""
    at = start - 1
    while at >= 0 and blocks[at].kind in ("note", "note-rule"):
        at -= 1
    return at if at < start - 1 else -1


def _runs(places: list[int]) -> Iterator[tuple[int, int]]:
    """Stretches of following numbers: first, and one past the last."""
    start = 0
    for nth, place in enumerate(places):
        if nth + 1 == len(places) or places[nth + 1] != place + 1:
            yield places[start], place + 1
            start = nth + 1


def _holders(book: Book) -> list[int]:
    """For each block the place of the nearest one above that interrupts nothing, or -1.  What
    the edition adds (t-pages, contents, end of volume) does not count."""
    made = book.memo.get("holders")
    if made is None:
        out, nearest = [], -1
        for nth, block in enumerate(book.texts):
            out.append(nearest)
            if block.kind not in INTERRUPTS and not _added(block):
                nearest = nth
        made = book.memo["holders"] = out
    return cast(list[int], made)


def _added(block: Block) -> bool:
    title = block.kind == "h-center" and block.element is None
    return title or block.kind in ("toc", "end-of-volume") or block.pages[0].series == "t"


def _holding(blocks: list[Block], holder: int, start: int) -> str:
    """The kind of what a group may stand inside: a note that is nearer counts too."""
    for nth in range(start - 1, holder, -1):
        if blocks[nth].kind == "note":
            return "note"
    return blocks[holder].kind if holder >= 0 else ""


def _goes_on(earlier: Block, block: Block) -> bool:
    """Whether a list begun before an interruption goes on; in word-processor documents, where
    the address does not tell, it may, so nothing is held against it."""
    if block.level > 1 or block.parts[0] == "runover" or beside(earlier, block):
        return True
    if beside_holder(earlier, block):
        return True
    return "document.xml!" in (block.element or "") and earlier.levels == block.levels


def _resumed(earlier: Block, block: Block) -> bool:
    """Whether what stood above the notes of a print page goes on below them; of a table, whose
    rows may stand in several parts, whatever may be of it."""
    if block.parts[0] == "runover" or beside(earlier, block):
        return True
    if not earlier.element or not block.element or block.kind not in TABLE:
        return False
    _, second, shared = _paths(earlier.element, block.element)
    return shared >= second - 2 > 3


def going_on(book: Book) -> set[int]:
    """Identities of the blocks with which something interrupted goes on: a list, or what the notes
    of a print page stand in."""
    if "going on" not in book.memo:
        kinds = [(kind,) for kind in (*HOLDERS, "displayed", "verse")]
        book.memo["going on"] = {
            id(group.first)
            for some in (*kinds, tuple(TABLE))
            for group in groups(book, *some)
            if group.goes_on
        }
    return cast(set[int], book.memo["going on"])


def side_of(width: int) -> int:
    """Blank cells at each side of a centred line; fewer on very narrow pages (common practice, no
    source)."""
    return min(SIDE, width // 6)


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
    guided = len(page.rows[-1].strip()) > len(page.foot) and not page.text[-1]
    last = page.depth - 1 - guided
    return at == last and bool(page.lines) and page.lines[at].kind == "end-of-volume"


def _lines(count: int, where: str) -> str:
    words = {0: "no blank line", 1: "one blank line"}.get(count, f"{count} blank lines")
    return f"{words} {where}".strip()


def expect_margins(tally: Tally, block: Block, first: int, runover: int) -> None:
    """Expect the first line and the runovers of a block in these cells, from 1; on narrow pages
    no further right than the cell that leaves room for words."""
    if block.page.width:
        most = _deepest(block.page.width)
        first, runover = min(first, most), min(runover, most)
    expect_cells(tally, block, first, runover)


def expect_cells(tally: Tally, block: Block, first: int, runover: int) -> None:
    """Expect the first line and the runovers of a block in just these cells, from 1."""
    if _stands(block, first, runover):
        tally.seen += len(block.at)
        return
    for page, at, start, part in zip(block.pages, block.at, block.starts, block.parts, strict=True):
        wanted = first if part == "first" else runover
        tally.expect(start == wanted, page, at, f"a start in cell {wanted}", f"cell {start}")


def _stands(block: Block, first: int, runover: int) -> bool:
    """Whether only the first line is a first line, and all lines start in these cells."""
    later = len(block.at) - 1
    return (
        block.parts[0] == "first"
        and block.starts[0] == first
        and block.starts.count(runover) - (first == runover) == later
        and "first" not in block.parts[1:]
    )


def _deepest(width: int) -> int:
    """The last cell in which lines may start."""
    return max(width // 2, width - LEAST_ROOM)


def nested(block: Block, width: int, shift: int = 0) -> tuple[int, int, int]:
    """Cells of first line, runovers and further paragraphs of a nested block (BF 8.3), ``shift``
    further right inside an item; on narrow pages none beyond the cell
    that leaves room for words."""
    level, levels = min(block.level, DEEPEST), min(block.levels, DEEPEST)
    widest = widest_cell(width)
    cells = (2 * max(1, level) - 1, 2 * max(1, levels) + 1, 2 * max(1, levels) + 3)
    first, runover, further = (min(cell + shift, widest) for cell in cells)
    return first, runover, further


def widest_cell(width: int) -> int:
    """The last cell in which a line of a nested block may start."""
    return max(5, min(2 * DEEPEST + 3, _deepest(width)))


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
    _, second, shared = _paths(one.element, other.element)
    return shared >= second - 1 > 3


def beside_holder(one: Block, other: Block) -> bool:
    """Whether ``other`` is a paragraph inside something beside ``one``: the rest of a definition,
    of which the term stands above."""
    if not one.element or not other.element or other.element.endswith(":item"):
        return False
    first, second, shared = _paths(one.element, other.element)
    return shared >= first - 1 > 3 and second > first


def _paths(one: str, other: str) -> tuple[int, int, int]:
    """Steps of two addresses, and how many they share from the root; none in
    word-processor documents, whose paragraphs are all side by side."""
    first, second = one.split("/"), other.split("/")
    shared = 0
    for left, right in zip(first, second, strict=False):
        if left != right:
            break
        shared += 1
    return len(first), len(second), 0 if "document.xml!" in first else shared
