"""Blocks ready for the page, and the cutting of their cells into lines.

Cells and lines are counted from 0 here.  A line's room depends on where it lands (the first
and the last line of a page are shorter), so lines are cut while they are placed: one reverse
find in the cells.  Words are not divided (BF 1.10); a line ends at an empty cell, or where the
translator allows it (after a hyphen or a dash).
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import NamedTuple

from ..translation.cells import BLANK, Cells, cells_of
from .flow_runs import WIDE
from .furniture import Label, combine
from .items import Item, Part, SetLine
from .line_ends import NOTHING_FITS as NOTHING_FITS
from .line_ends import Cut as Cut
from .line_ends import Ending, after_boxes, find_endings, last_ending
from .line_ends import lead_of as lead_of

LINE_END, TURN = "line", "turn"
CONTENTS = "toc"
REPEATED = ("table-head", "table-rule")
# Items without words that are a line.  Box lines are drawn where they land, as long as the
# line allows (BF 7.2); a page kept for a graphic has one empty line; the note separation line is
# dot 5 and six dots 2-5 (BF 16.4).
DRAWN: dict[str, tuple[Part, ...]] = {
    "box-top": (),
    "box-bottom": (),
    "graphic": (),
    "note-rule": (Part(0, cells_of('"333333')),),
}


class Stop(NamedTuple):
    """A place in a block where the line ends: print ends it, or a print page begins."""

    cell: int
    label: Label | None = None


@dataclass(slots=True)
class Block:
    """An item made ready: its cells from ``start`` to ``end``, or its lines, or a print page.

    ``index`` is the item's place in the flow, -1 for what the edition adds.
    """

    item: Item
    index: int
    cells: Cells | None = None
    text: str = ""
    start: int = 0
    end: int = 0
    stops: tuple[Stop, ...] = ()
    breaks: list[int] = field(default_factory=list)
    endings: list[Ending] = field(default_factory=list)
    leads: dict[int, Ending] = field(default_factory=dict)
    fixed: frozenset[int] = frozenset()
    lines: tuple[SetLine, ...] = ()
    heads: tuple[SetLine, ...] = ()
    turn: Label | None = None
    first: int = 0
    runover: int = 0
    before: int = 0
    keep: dict[str, int] = field(default_factory=dict)
    new_page: bool = False
    left_page: bool = False
    continued: bool = False
    plain: bool = True

    @property
    def kind(self) -> str:
        return self.item.kind

    def repeated(self) -> tuple[SetLine, ...]:
        """The column headings that come again at the top of a page: those a table begins with,
        or those of the table it is the rest of (BF 11.2)."""
        if self.heads:
            return self.heads
        count = 0
        while count < len(self.lines) and self.lines[count].kind in REPEATED:
            count += 1
        return self.lines[:count]

    def skip_blanks(self, at: int, end: int) -> int:
        """The first cell from ``at`` that is not an empty one a line may drop."""
        while at < end and self.text[at] == BLANK and at not in self.fixed:
            at += 1
        return at


def prepare(items: Sequence[Item], dropped: list[Label]) -> list[Block]:
    """Blocks of all items in order; print pages without text of their own are combined.

    A label that cannot be part of a range, or has no text after it, goes to ``dropped`` (BF
    1.11: combined pages).
    """
    blocks: list[Block] = []
    for index, item in enumerate(items):
        if item.page is not None:
            _add_turn(blocks, item, Label.of(item.page[0]), dropped)
        elif item.set_lines:
            blocks.append(_block(item, index))
            blocks[-1].stops = _line_stops(item.set_lines, dropped)
        elif item.kind in DRAWN:
            blocks.append(_block(item, index))
            blocks[-1].lines = (SetLine(DRAWN[item.kind], item.kind),)
        elif item.cells is not None and item.cells.text.strip(BLANK):
            _add_text(blocks, item, index, dropped)
        elif item.cells is not None:
            for _, what, value in item.cells.marks:
                if what == TURN:
                    _add_turn(blocks, item, _label(value), dropped)
    if blocks and (last := blocks[-1].turn) is not None:
        blocks.pop()
        dropped.append(last)
    return blocks


def added(items: Sequence[Item]) -> list[Block]:
    """Blocks of items the edition adds: they stand for nothing in the flow."""
    blocks = prepare(items, [])
    for block in blocks:
        block.index = -1
    return blocks


def split(block: Block, cell: int, stop: int) -> tuple[Block, Block]:
    """A block in two, where a page turns inside it; the second goes on at the runover."""
    ahead, rest = _block(block.item, block.index), _block(block.item, block.index)
    if block.lines:
        ahead.lines, rest.lines = block.lines[:cell], block.lines[cell:]
        ahead.heads, rest.heads = block.heads, block.repeated()
    for part in (ahead, rest):
        part.cells, part.text, part.fixed = block.cells, block.text, block.fixed
        part.breaks, part.endings, part.leads = block.breaks, block.endings, block.leads
        part.plain = block.plain
    ahead.start, ahead.end, ahead.stops = block.start, cell, block.stops[:stop]
    rest.start, rest.end, rest.stops = cell, block.end, block.stops[stop:]
    if block.lines:
        rest.start, rest.stops = 0, tuple(Stop(s.cell - cell, s.label) for s in rest.stops)
    ahead.first, rest.first = block.first, block.runover
    ahead.before, rest.before = block.before, 0
    ahead.new_page, rest.new_page = block.new_page, False
    ahead.left_page = block.left_page
    ahead.continued, rest.continued = block.continued, True
    return ahead, rest


def _block(item: Item, index: int) -> Block:
    return Block(
        item,
        index,
        lines=item.set_lines,
        first=item.first - 1,
        runover=item.runover - 1,
        before=item.before,
        keep=dict(item.keep),
        new_page=item.new_page,
        left_page=item.left_page,
        continued=item.continued,
    )


def _line_stops(lines: Sequence[SetLine], dropped: list[Label]) -> tuple[Stop, ...]:
    """Print pages that begin before lines already cut; a stop's cell is the line's number."""
    stops: list[Stop] = []
    for at, line in enumerate(lines):
        label: Label | None = None
        for page in line.pages:
            label = combine(label, Label.of(page), dropped) if label else Label.of(page)
        if label is not None:
            stops.append(Stop(at, label))
    return tuple(stops)


def _label(value: object) -> Label:
    return Label.of(value if isinstance(value, str) else None)


def _add_turn(blocks: list[Block], item: Item, label: Label, dropped: list[Label]) -> None:
    if blocks and (before := blocks[-1].turn) is not None:
        blocks[-1].turn = combine(before, label, dropped)
        turn = blocks[-1]
    else:
        turn = Block(item, -1, turn=label)
        blocks.append(turn)
    if item.page is not None:
        turn.before = max(turn.before, item.before)
        turn.new_page = turn.new_page or item.new_page
        turn.left_page = turn.left_page or item.left_page


def _add_text(blocks: list[Block], item: Item, index: int, dropped: list[Label]) -> None:
    """A block of cells; turns before its first and after its last cell stand by themselves."""
    assert item.cells is not None
    cells = item.cells = widened(item.cells)
    block = _block(item, index)
    block.cells, block.text, block.fixed = cells, cells.text, cells.fixed
    if item.kind == "form":
        block.fixed |= after_boxes(cells)
    block.start = block.skip_blanks(0, len(cells.text))
    block.end = len(cells.text)
    while block.text[block.end - 1] == BLANK and block.end - 1 not in block.fixed:
        block.end -= 1
    find_endings(block, cells)
    late: list[Label] = []
    if cells.marks:
        stops = _stops(block, cells)
        for stop in [s for s in stops if s.cell <= block.start and s.label is not None]:
            assert stop.label is not None
            _add_turn(blocks, item, stop.label, dropped)
        late = [s.label for s in stops if s.cell >= block.end and s.label is not None]
        inner = [s for s in stops if block.start < s.cell < block.end]
        block.stops = _merged(block, inner, dropped)
    odd = item.centred or item.right or item.kind == CONTENTS
    block.plain = not (block.fixed or block.stops or odd)
    blocks.append(block)
    for label in late:
        _add_turn(blocks, item, label, dropped)


def widened(cells: Cells) -> Cells:
    """The cells with three blanks wherever the flow added a wide space: translators make one
    blank cell of any space (BF 1.9: a space that means something is three blank cells)."""
    passage = cells.passage
    if passage is None or WIDE not in passage.text:
        return cells
    wide = [at for at, sign in enumerate(passage.text) if sign == WIDE]
    for at in reversed([at for at in wide if passage.ledger_at(at) < 0]):
        row = bisect_right(cells.prints, at)
        cell = cells.starts[row] if 0 < row < len(cells.starts) else 0
        if cell and cells.text[cell - 1] == BLANK:
            more = 3 - (cell - len(cells.text[:cell].rstrip(BLANK)))
            cells = _opened(cells, cell, max(0, more))
    return cells


def _opened(cells: Cells, cell: int, more: int) -> Cells:
    """The cells with ``more`` blanks before ``cell``."""
    text = cells.text[:cell] + BLANK * more + cells.text[cell:]
    starts = [start + more if start >= cell else start for start in cells.starts]
    marks = tuple((at + more if at >= cell else at, what, v) for at, what, v in cells.marks)
    fixed = frozenset(at + more if at >= cell else at for at in cells.fixed)
    return replace(cells, text=text, starts=starts, marks=marks, fixed=fixed)


def _stops(block: Block, cells: Cells) -> list[Stop]:
    """The marks that end lines.  A print page that begins inside a word begins after the
    word (BF 1.11: the word is written whole on the earlier print page)."""
    ends = sorted(cell for cell, what, _ in cells.marks if what == LINE_END)
    stops: list[Stop] = []
    for cell, what, value in cells.marks:
        if what == LINE_END:
            stops.append(Stop(cell))
        elif what == TURN:
            stops.append(Stop(_word_end(block, cell, ends), _label(value)))
    return sorted(stops, key=lambda stop: stop.cell)


def _word_end(block: Block, cell: int, ends: list[int]) -> int:
    if cell >= block.end or cell <= block.start or cell in ends:
        return cell
    if BLANK in (block.text[cell - 1], block.text[cell]):
        return cell
    at = block.text.find(BLANK, cell, block.end)
    at = block.end if at < 0 else at
    after = bisect_right(ends, cell)
    return min(at, ends[after]) if after < len(ends) else at


def _merged(block: Block, stops: list[Stop], dropped: list[Label]) -> tuple[Stop, ...]:
    """Stops with nothing between them made one."""
    out: list[Stop] = []
    for stop in stops:
        if out and not block.text[out[-1].cell : stop.cell].strip(BLANK):
            last = out.pop()
            if last.label is not None and stop.label is not None:
                stop = Stop(stop.cell, combine(last.label, stop.label, dropped))
            elif last.label is not None:
                stop = last
        out.append(stop)
    return tuple(out)


def cut(block: Block, at: int, end: int, room: int, compounds: bool = True) -> Cut:
    """The longest line of at most ``room`` cells from cell ``at``; words stay whole.

    ``compounds`` of False keeps hyphenated words whole where a space is there to end at
    (BF 1.10: a compound is not divided between braille pages).
    """
    text = block.text
    limit = at + room
    if room <= 0:
        return NOTHING_FITS
    if limit >= end:
        return Cut(_trimmed(text, at, end), end)
    space = text.rfind(BLANK, at, limit + 1)
    while space > at and space in block.fixed:
        space = text.rfind(BLANK, at, space)
    if block.breaks and (compounds or space <= at or block.kind == "math"):
        found = last_ending(block, at, limit, space)
        if found is not None:
            return found
    if space <= at:
        return NOTHING_FITS
    return Cut(_trimmed(text, at, space), block.skip_blanks(space + 1, end))


def _trimmed(text: str, at: int, end: int) -> int:
    """The end of a line without the empty cells at its end."""
    while text[end - 1] == BLANK and end - 1 > at:
        end -= 1
    return end


def count_lines(block: Block, at: int, stop: int, width: int, most: int) -> int:
    """How many lines of ``width`` cells a block still needs from cell ``at``, up to ``most``."""
    if block.lines:
        return min(most, len(block.lines) - at)
    room = width - (6 if block.item.centred else block.runover)
    count = 0
    while at < block.end and count < most:
        while stop < len(block.stops) and block.stops[stop].cell <= at:
            stop += 1
        end = block.stops[stop].cell if stop < len(block.stops) else block.end
        found = cut(block, at, end, room - len(lead_of(block, at)))
        at = found.resume if found.end >= 0 else at + max(1, room)
        at = block.skip_blanks(at, block.end)
        count += 1
    return count


MOST_BALANCED = 12
"""Lines of centred text at the most that are evened out together: a page holds no more of a
heading, and the work grows with the square of their number (common practice, no source)."""


TOO_LONG = 1 << 20  # More lines than there are: a word is longer than a line.


def balance(block: Block, at: int, end: int, room: int) -> int:
    """The least width in which the cells from ``at`` to ``end`` need no more lines than they
    need in ``room``: so that no short word is left alone (BF 4.4)."""
    if end - at > room * MOST_BALANCED:
        return room
    needed = _lines_in(block, at, end, room)
    if needed <= 1 or needed >= TOO_LONG:
        return room
    low, high = max(1, (end - at) // (needed + 1)), room
    while low < high:
        middle = (low + high) // 2
        if _lines_in(block, at, end, middle) <= needed:
            high = middle
        else:
            low = middle + 1
    return high


def _lines_in(block: Block, at: int, end: int, room: int) -> int:
    count = 0
    while at < end:
        found = cut(block, at, end, room)
        if found.end < 0:
            return TOO_LONG
        at = found.resume
        count += 1
    return count
