"""Where a braille page may end: the keep rules, and which of them give way.

A turn is the end of a page after one of its rows.  ``choose`` takes the last turn that breaks
no rule; failing that the one for which the least of rules give way, in the convention's order,
before them the rule that a hyphenated compound is not divided between pages (BF 1.10).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from ..translation.cells import BLANK, cells_of
from .book import Row
from .furniture import Label
from .items import FORWARD, WHOLE, WITH_NEXT, SetLine
from .lines import Block, count_lines

HYPHEN = cells_of("-")
NOT_BEFORE_HYPHEN = frozenset(BLANK + cells_of("-,"))  # A dash is no hyphen.
COMPOUND = "compound_whole"
HEADS = "heads_again"
# What became of the page where a rule gave way, for the person who looks at it.
MEANS = {
    "whole": "what should stand on one page goes over a page turn",
    "with_next": "it does not stand on one page with what follows it",
    "with_previous": "it does not stand on one page with what it belongs to",
    "next_whole": "only a part of the first item below it stands on its page",
    "head_min": "too few of its lines stand before a page turn",
    "tail_min": "too few of its lines stand after a page turn",
    "start_not_on_last": "it begins on the last line of a page",
    "note_whole": "a transcriber's note goes over a page turn",
    "note_with_next": "a transcriber's note is parted from what it explains",
    COMPOUND: "a word is divided at its hyphen by a page turn",
    HEADS: "the column headings do not come again",
}
OVERLEAF = -1  # The row of a breach that stands on the next page.
# Where a page starts: block, cell (or line of set lines; -1 at the block's start), stops passed.
Mark = tuple[int, int, int]


class Breach(NamedTuple):
    """A keep rule broken by a turn, the block whose rule it is, and where: the block's last row
    before the turn, or ``OVERLEAF``, where all of it stands after the turn."""

    rule: str
    block: int
    row: int


@dataclass(slots=True)
class Draft:
    """A page being filled.  ``after[r]`` is where the next page would start if this one ended
    after row r, ``None`` where it may not; ``owner[r]`` the block of the row, -1 for none;
    ``labels[r]`` the print page in force after it.  ``bare`` is a table whose column headings
    are too many lines to come again at the top, -1 for none."""

    start: Mark
    number: str = ""
    label: Label | None = None
    count: int = 0
    rows: list[Row | None] = field(default_factory=list)
    after: list[Mark | None] = field(default_factory=list)
    owner: list[int] = field(default_factory=list)
    labels: list[Label | None] = field(default_factory=list)
    divided: list[tuple[int, int, int]] = field(default_factory=list)
    forced: bool = False
    finished: bool = False
    bare: int = -1

    def add(self, row: Row | None, after: Mark | None, owner: int, label: Label | None) -> None:
        """One more row, and what its end would mean."""
        self.rows.append(row)
        self.after.append(after)
        self.owner.append(owner)
        self.labels.append(label)

    def claim(self, owner: int, label: Label | None) -> None:
        """Say whose the rows are that were put in without their owner."""
        count = len(self.rows) - len(self.owner)
        self.owner.extend([owner] * count)
        self.labels.extend([label] * count)


@dataclass(frozen=True, slots=True)
class Measure:
    """What judging a turn needs to know: the blocks, where they end, the page's size."""

    blocks: Sequence[Block]
    stop: int
    cells: int
    lines: int


def choose(draft: Draft, measure: Measure, relax: Sequence[str]) -> tuple[int, tuple[Breach, ...]]:
    """The row after which the page ends, and the rules that had to give way: the last row where
    the rules that give way are the least of all, in the convention's order."""
    judged: list[tuple[int, tuple[Breach, ...]]] = []
    for row in range(len(draft.rows) - 1, -1, -1):
        if draft.after[row] is None:
            continue
        if draft.finished:
            return row, ()
        if draft.forced:
            return row, tuple(_parted(draft, row, measure))
        breaches = tuple(broken(draft, row, measure))
        if not breaches:
            return row, ()
        judged.append((row, breaches))
    ranks = {rule: rank for rank, rule in enumerate((COMPOUND, *relax))}
    return min(judged, key=lambda turn: _cost(turn[1], ranks))


def _cost(breaches: Sequence[Breach], ranks: Mapping[str, int]) -> list[int]:
    """What rules that give way cost: the one that gives way last counts first."""
    return sorted((ranks.get(breach.rule, len(ranks)) for breach in breaches), reverse=True)


def broken(draft: Draft, row: int, measure: Measure) -> Iterator[Breach]:
    """The keep rules a turn after ``row`` breaks."""
    after = draft.after[row]
    assert after is not None
    here = draft.owner[row]
    if after[0] == here:
        yield from _inside(draft, row, after, measure)
    else:
        yield from _between(row, here, measure)
    if (
        row == measure.lines - 1
        and _placed(draft, row) == 1
        and "start_not_on_last" in (keep := measure.blocks[here].keep)
    ):
        assert keep is not None
        yield Breach("start_not_on_last", here, row)


def _inside(draft: Draft, row: int, after: Mark, measure: Measure) -> Iterator[Breach]:
    """Rules broken by a turn inside a block."""
    here, cell, stop = after
    block = measure.blocks[here]
    keep = block.keep
    placed = _placed(draft, row)
    yield from (Breach(rule, here, row) for rule in WHOLE if rule in keep)
    if _parts_line(block.lines[cell - 1]) if block.lines else _divides(block.text, cell):
        yield Breach(COMPOUND, here, row)
    if placed < keep.get("head_min", 0):
        yield Breach("head_min", here, row)
    if block.lines and block.lines[cell - 1].with_next:
        yield Breach("with_next", here, row)
    if keep.get("tail_min", 0) > _left(block, cell, stop, measure, keep.get("tail_min", 0)):
        yield Breach("tail_min", here, row)
    below = _next_text(here + 1, measure)
    most = measure.blocks[below].keep.get("with_previous", 0) if below is not None else 0
    if most > 1 and below is not None and most > _left(block, cell, stop, measure, most):
        yield Breach("with_previous", below, row)
    last = _above(draft, row)
    if last >= 0:
        above = draft.owner[last]
        keep = measure.blocks[above].keep
        if "next_whole" in keep:
            yield Breach("next_whole", above, last)
        yield from (Breach(rule, above, last) for rule in WITH_NEXT if placed < keep.get(rule, 0))


def _divides(text: str, cell: int) -> bool:
    """Whether a turn before a cell comes just after the hyphen of a compound."""
    return (
        cell > 1
        and text[cell - 1] == HYPHEN
        and text[cell] != BLANK
        and text[cell - 2] not in NOT_BEFORE_HYPHEN
    )


def _between(row: int, here: int, measure: Measure) -> Iterator[Breach]:
    """Rules broken by a turn after the last line of a block."""
    below = _next_text(here + 1, measure)
    if below is None:
        return
    keep = measure.blocks[here].keep
    if row == measure.lines - 1 or not _in_long_series(here, below, measure):
        yield from (Breach(rule, here, row) for rule in keep if rule in FORWARD)
    if "with_previous" in measure.blocks[below].keep:
        yield Breach("with_previous", below, OVERLEAF)


def _in_long_series(here: int, below: int, measure: Measure) -> bool:
    """Whether a turn parts two headings of a series that fills a page and more: such a series may
    go over a page turn, its last heading stays with text (BF 4.10)."""
    if not (_is_heading(here, measure) and _is_heading(below, measure)):
        return False
    first, last = here, below
    while first and _joins(first - 1, first, measure) and here - first < measure.lines:
        first -= 1
    while _joins(last, last + 1, measure) and last - below < measure.lines:
        last += 1
    blocks = [block for block in measure.blocks[first : last + 1] if block.turn is None]
    lines = [count_lines(block, 0, 0, measure.cells, measure.lines) for block in blocks]
    return sum(lines) + sum(block.before for block in blocks) >= measure.lines


def _joins(above: int, below: int, measure: Measure) -> bool:
    """Whether two neighbours are both of one series of headings, or print pages inside it."""
    if below >= measure.stop or measure.blocks[below].new_page:
        return False
    return all(
        measure.blocks[at].turn is not None or _is_heading(at, measure) for at in (above, below)
    )


def _is_heading(at: int, measure: Measure) -> bool:
    return measure.blocks[at].kind.startswith("h-")


def _parts_line(line: SetLine) -> bool:
    """Whether a line cut before ends just after the hyphen of a compound."""
    last = line.parts[-1] if line.parts else None
    if last is None or last.source is None:
        return False
    end = last.at + len(last.text)
    return end < len(last.source.text) and _divides(last.source.text, end)


def _parted(draft: Draft, row: int, measure: Measure) -> Iterator[Breach]:
    """Rules broken where a new page is asked for; a heading above another that asks for one has
    nothing to stay with."""
    below = _next_text(draft.owner[row] + 1, measure)
    if below is not None and not measure.blocks[below].kind.startswith("h-"):
        yield from _between(row, draft.owner[row], measure)


def _left(block: Block, cell: int, stop: int, measure: Measure, most: int) -> int:
    return count_lines(block, cell, stop, measure.cells, most) if most else 0


def _placed(draft: Draft, row: int) -> int:
    """How many lines of the block of ``row`` stand up to it; many if it began before."""
    here = draft.owner[row]
    if draft.start[0] == here and draft.start[1] >= 0:
        return 1 << 20
    return draft.owner[: row + 1].count(here)


def _above(draft: Draft, row: int) -> int:
    """The last row of the block before the block of ``row`` if it is on this page, else -1."""
    here = draft.owner[row]
    return next((at for at in range(row - 1, -1, -1) if draft.owner[at] not in (here, -1)), -1)


def _next_text(at: int, measure: Measure) -> int | None:
    """The next block that is not a print page change."""
    while at < measure.stop and measure.blocks[at].turn is not None:
        at += 1
    return at if at < measure.stop else None
