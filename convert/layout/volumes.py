"""Binding: where volumes end, the line that ends each, and the pages of their body.

Volumes are near one another in size and end at the best boundary near the wanted size: a
heading, the higher the better, else the end of a paragraph, else the end of a braille page
(BF 1.6; sizes are an agency's choice).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace

from .items import FORWARD
from .lines import Block, split
from .pages import Made, blank_page, make_page
from .shape import Cursor, Shape

BOUNDARIES = {"h-center": "centred heading", "h-5": "cell-5 heading", "h-7": "cell-7 heading"}
BETWEEN_BLOCKS, INSIDE_GROUP = "paragraph", "item"
DEFAULT = (*BOUNDARIES.values(), BETWEEN_BLOCKS, INSIDE_GROUP)
RANKS = 20  # More than a work has ranks of headings.
# A boundary may be a fifth of the wanted size away from it (common practice, no source).
WINDOW = 5


@dataclass(frozen=True, slots=True)
class Sizes:
    """Braille pages wanted in a volume and the most one may have; ``front`` of them are front
    pages, in the first volume with body text ``first`` more.  ``parts`` is how many volumes the
    p-pages take: all but the last of these have no body text (BF 1.6, 2.1).  ``least``: the
    fewest that a better boundary is taken for; ``boundaries``: where one may end, best first."""

    wanted: int
    most: int
    front: int = 0
    first: int = 0
    parts: int = 1
    least: int = 0
    boundaries: tuple[str, ...] = DEFAULT

    def parts_for(self, titles: int, contents: int, matter: int) -> int:
        """How many volumes so many pages of contents and front matter take, after ``titles``
        t-pages in each.  The contents are all in the first (BF 2.10); the last also
        has room for a fair share of the body, a quarter of a volume (common practice, no
        source)."""
        room = max(1, self.wanted // 2, self.most - titles - self.wanted // 4)
        if contents > room:
            return 1 + max(1, -(-matter // room))
        return max(1, -(-(contents + matter) // room))


@dataclass(frozen=True, slots=True)
class Frame:
    """What the edition adds to every volume: a line above its first text (or none) and the
    line that ends it (or none), by number and whether it is the last."""

    title: Callable[[Block], Block | None]
    ending: Callable[[int, bool], Block | None]


@dataclass(frozen=True, slots=True)
class Series:
    """The series the pages belong to.  ``count`` is how many volumes to make, 0 where their size
    decides; ``before`` the pages of the series that stand before those of each volume: where it
    is given, numbers begin again in each.  So many blocks at the start as ``whole`` says are all
    in the first volume."""

    name: str = "body"
    count: int = 0
    before: tuple[int, ...] = ()
    whole: int = 0


BODY = Series()


@dataclass(slots=True)
class Bound:
    """The body of one volume: its pages and the block its text starts with."""

    number: int
    made: list[Made] = field(default_factory=list)


class Binder:
    """Cuts blocks into volumes while their pages are made."""

    def __init__(
        self, blocks: Sequence[Block], shape: Shape, frame: Frame, sizes: Sizes, cursor: Cursor,
        series: Series = BODY,
    ) -> None:  # fmt: skip
        self.blocks, self.series = list(blocks), series
        self.shape, self.frame, self.sizes, self.cursor = shape, frame, sizes, cursor
        self.pages = 0
        self.volumes: list[Bound] = []
        self._asked = {id(b.item) for b in self.blocks if b.item.new_volume}
        self._ranks = _ranks(self.blocks, sizes.boundaries)
        self._lines = [_lines(block, shape.cells) for block in self.blocks]
        self._text = 0  # The block that the text of the volume starts with.

    def bind(self) -> list[Bound]:
        """Every volume's body, in order."""
        while self.cursor.mark[0] < len(self.blocks):
            self._begin()
            if self.series.before:
                self.pages = self.series.before[len(self.volumes)]
            self.volumes.append(self._volume(len(self.volumes) + 1))
            self.pages += len(self.volumes[-1].made)
        return self.volumes

    # ------------------------------------------------------------ one volume

    def _begin(self) -> None:
        """Put the title above the first text of a volume (BF 1.8)."""
        at = self.cursor.mark[0]
        if self.blocks[at].turn is not None and at + 1 < len(self.blocks):
            at += 1
        self._asked.discard(id(self.blocks[at].item))
        title = self.frame.title(self.blocks[at])
        if title is not None:
            below = replace(self.blocks[at], before=1, new_page=False, left_page=False)
            self.blocks[at] = below
            self._insert(at, title)
            at += 1
        self._text = at

    def _insert(self, at: int, block: Block) -> None:
        self.blocks.insert(at, block)
        self._ranks.insert(at, None)
        self._lines.insert(at, _lines(block, self.shape.cells))

    def _volume(self, number: int) -> Bound:
        room = self.sizes.wanted - self.sizes.front - (self.sizes.first if number == 1 else 0)
        # Long front matter leaves a volume some text all the same (common practice, no source).
        room = max(room, self.sizes.wanted // 4, 1)
        stop = self._asked_end()
        rest = self._estimate(self.cursor.mark[0], stop)
        later = max(1, self.sizes.wanted - self.sizes.front)
        # A tenth over the wanted size is better than one volume more.
        count = 1 if rest * 10 <= room * 11 else 1 + -(-(rest - room) * 10 // (later * 11))
        if self.series.count:
            count, room = max(1, self.series.count - number + 1), max(1, rest)
        target = min(room, max(1, rest // count)) if count > 1 else 0
        made = self._run(target, stop)
        while made[-1].cursor.mark[0] < stop and not self._may_stop(made):
            made.append(self._page(made[-1].cursor, stop, len(made)))
        bound = Bound(number, made)
        whole = made[-1].cursor.mark[0] >= stop
        at = stop if whole else self._boundary(made, target)
        ending = self.frame.ending(number, at >= len(self.blocks))
        if ending is None:
            self.cursor = made[-1].cursor
        else:
            self._end(bound, at, ending)
        return bound

    def _may_stop(self, made: Sequence[Made]) -> bool:
        """Whether a volume may end with one of these pages, and they hold all that is whole."""
        ends = any(self._may_end(page.cursor.mark) for page in made)
        return ends and made[-1].cursor.mark[0] >= self.series.whole

    def _asked_end(self) -> int:
        """Where the volume ends at the latest: before a block that is asked to begin one."""
        if self._asked:
            for at in range(self.cursor.mark[0] + 1, len(self.blocks)):
                if id(self.blocks[at].item) in self._asked and not self.blocks[at].continued:
                    return self._from_turn(at)
        return len(self.blocks)

    def _run(self, target: int, stop: int) -> list[Made]:
        """Pages up to the end of the window round ``target`` (0: up to the block ``stop``)."""
        most = target + target // WINDOW + 1 if target else self.sizes.most
        made: list[Made] = []
        cursor = self.cursor
        while cursor.mark[0] < stop and len(made) < most:
            if target and len(made) >= target and self._is_best(made, target, most):
                break
            made.append(self._page(cursor, stop, len(made)))
            cursor = made[-1].cursor
        return made

    def _page(self, cursor: Cursor, stop: int, count: int) -> Made:
        number = self.pages + count + 1
        name = self.series.name
        left = (count if name == "body" else number - 1) % 2 == 1
        if count and not left and self._opens_left(cursor):
            return replace(blank_page(self.shape, name, number, left), cursor=cursor)
        return make_page(self.blocks, stop, cursor, self.shape, name, number, left)

    def _opens_left(self, cursor: Cursor) -> bool:
        """Whether the text of a page must begin on the left, where it has two sides."""
        block, cell, _ = cursor.mark
        return self.shape.two_sides and cell < 0 and self.blocks[block].left_page

    def _end(self, bound: Bound, at: int, ending: Block) -> None:
        """End a volume before block ``at``: its last pages are made again with the line that
        ends it, and the next volume starts after."""
        self._insert(at, ending)
        starts = [self.cursor, *(made.cursor for made in bound.made)]
        keep = max((k for k, cursor in enumerate(starts) if self._left(cursor, at)), default=0)
        del bound.made[keep:]
        cursor = starts[keep]
        while cursor.mark[0] <= at:
            bound.made.append(self._page(cursor, at + 1, len(bound.made)))
            cursor = bound.made[-1].cursor
        self.cursor = replace(cursor, mark=(at + 1, -1, 0), full=False, fresh=True)

    def _left(self, cursor: Cursor, at: int) -> bool:
        """Whether any text stands between a page start and block ``at``."""
        block, cell, _ = cursor.mark
        if block != at - 1 or cell < 0:
            return block < at
        return cell < (len(self.blocks[block].lines) or self.blocks[block].end)

    # ------------------------------------------------------------ boundaries

    def _estimate(self, at: int, stop: int) -> int:
        """About how many braille pages the blocks from ``at`` to ``stop`` need."""
        return -(-sum(self._lines[at:stop]) // max(1, self.shape.lines - 1))

    def _is_best(self, made: Sequence[Made], target: int, most: int) -> bool:
        """Whether no better boundary can come on the pages after those made, up to ``most``."""
        best = self._best([self.cursor.mark, *(page.cursor.mark for page in made)], target)
        if best is None:
            return False
        # Blocks are a little shorter than their estimate at times (common practice, no source).
        room = (most - len(made) + 1) * self.shape.lines * 3 // 2
        for at in range(made[-1].cursor.mark[0], len(self.blocks)):
            rank = self._ranks[at]
            if rank is not None and (rank, len(made) - target) < best[:2]:
                return False
            room -= self._lines[at]
            if room < 0:
                break
        return True

    def _boundary(self, made: Sequence[Made], target: int) -> int:
        """The block the next volume starts with."""
        target = target or len(made)
        starts = [self.cursor.mark, *(page.cursor.mark for page in made)]
        best = self._best(starts, target)
        if starts[min(target, len(starts) - 1)][0] < self.series.whole and not best:
            return self.series.whole
        return self._from_turn(best[2]) if best else self._page_end(starts, target)

    def _best(
        self, starts: Sequence[tuple[int, int, int]], target: int
    ) -> tuple[int, int, int] | None:
        """The best boundary on pages that start so: its rank, pages from the target, block."""
        least = min(target, self.sizes.least - self.sizes.front)
        low, high = max(1, target - target // WINDOW, least), target + target // WINDOW
        best: tuple[int, int, int] | None = None
        page = min(low, len(starts) - 1) - 1
        first = max(starts[page][0], self._text + 1, self.series.whole)
        for block in range(first, starts[-1][0] + 1):
            while page + 1 < len(starts) and starts[page + 1] <= (block, -1, 0):
                page += 1
            rank = self._ranks[block]
            if rank is None or not low <= page <= high:
                continue
            found = (rank, abs(page - target), block)
            best = min(best, found) if best else found
        return best

    def _page_end(self, starts: Sequence[tuple[int, int, int]], target: int) -> int:
        """No boundary is near: the volume ends with a braille page, inside a block if need
        be; not before notes or inside a heading, if another page will do."""
        last = min(target, len(starts) - 1)
        pages = [page for page in range(1, len(starts)) if self._may_end(starts[page])]
        before = [page for page in pages if page <= last]
        at, cell, stop = starts[before[-1] if before else pages[0] if pages else -1]
        if cell < 0:
            return self._from_turn(at)
        ahead, rest = split(self.blocks[at], cell, stop)
        self.blocks[at] = ahead
        self._lines[at] = _lines(ahead, self.shape.cells)
        self._insert(at + 1, rest)
        return at + 1

    def _may_end(self, start: tuple[int, int, int]) -> bool:
        """Whether a volume may end before such a start of a page: its text has begun, and
        neither notes nor the rest of a heading follow."""
        if start <= (self._text, -1, 0) or start[0] >= len(self.blocks):
            return start > (self._text, -1, 0)
        block, inside = self.blocks[start[0]], start[1] >= 0
        return not (_notes(block) or (inside and block.kind.startswith("h-")))

    def _from_turn(self, at: int) -> int:
        """A print page change just before a boundary belongs to the next volume."""
        return at - 1 if at > 1 and self.blocks[at - 1].turn is not None else at


def _notes(block: Block) -> bool:
    """Whether a block is of the notes that end the print page above them."""
    return block.item.style in ("note-rule", "note")


def _lines(block: Block, cells: int) -> int:
    """About how many lines a block needs, from the length of its cells."""
    return block.before + (len(block.lines) or 1 + (block.end - block.start) // max(1, cells - 3))


def _ranks(blocks: Sequence[Block], boundaries: Sequence[str]) -> list[int | None]:
    """For each block its rank as the start of a volume: lower is better, ``None`` for never.
    Nothing inside a box, nothing kept with what stands before it."""
    worth = {name: RANKS * at for at, name in enumerate(boundaries)}
    ranks: list[int | None] = [None] * len(blocks)
    depth = 0
    above: Block | None = None
    for at, block in enumerate(blocks):
        if block.turn is not None:
            continue
        depth += (block.kind == "box-top") - (above is not None and above.kind == "box-bottom")
        free = above is not None and FORWARD.isdisjoint(above.keep)
        if depth <= 0 and free and not _notes(block) and "with_previous" not in block.keep:
            heading = BOUNDARIES.get(block.kind)
            if heading is not None:
                rank = worth.get(heading)
                ranks[at] = None if rank is None else rank + min(block.item.level, RANKS - 1)
            else:
                group = above.item.group if above is not None else None
                same = group is not None and group == block.item.group
                ranks[at] = worth.get(INSIDE_GROUP if same else BETWEEN_BLOCKS)
        above = block
    return ranks
