"""Where a braille page may end: the keep rules, and which of them give way.

A turn is the end of a page after one of its rows.  ``choose`` takes the last turn that breaks
no rule; failing that it lets rules go, one after another, in the convention's order, and before
them the rule that a hyphenated compound is not divided between pages (BF 1.10).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from ..translation.cells import BLANK, cells_of
from .book import Row
from .furniture import Label
from .lines import Block, count_lines

HYPHEN = cells_of("-")
NOT_BEFORE_HYPHEN = frozenset(BLANK + cells_of("-,"))  # A dash is no hyphen.
COMPOUND = "compound_whole"
# Where a page starts: block, cell (or line of set lines; -1 at the block's start), stops passed.
Mark = tuple[int, int, int]


class Breach(NamedTuple):
    """A keep rule broken by a turn, and the block whose rule it is."""

    rule: str
    block: int


@dataclass(slots=True)
class Draft:
    """A page being filled.  ``after[r]`` is where the next page would start if this one ended
    after row r, ``None`` where it may not; ``owner[r]`` the block of the row, -1 for none;
    ``labels[r]`` the print page in force after it."""

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
    """The row after which the page ends, and the rules that had to give way."""
    judged: list[tuple[int, tuple[Breach, ...]]] = []
    for row in range(len(draft.rows) - 1, -1, -1):
        if draft.after[row] is None:
            continue
        if draft.finished or draft.forced:
            return row, ()
        breaches = tuple(broken(draft, row, measure))
        if not breaches:
            return row, ()
        judged.append((row, breaches))
    allowed: set[str] = set()
    for rule in ("", *relax):
        allowed.add(rule)
        for last in ("", COMPOUND):
            for row, breaches in judged:
                if all(breach.rule in allowed or breach.rule == last for breach in breaches):
                    return row, breaches
    return judged[0]


def broken(draft: Draft, row: int, measure: Measure) -> Iterator[Breach]:
    """The keep rules a turn after ``row`` breaks."""
    after = draft.after[row]
    assert after is not None
    here = draft.owner[row]
    if after[0] == here:
        yield from _inside(draft, row, after, measure)
    else:
        yield from _between(draft, row, here, measure)
    if (
        row == measure.lines - 1
        and _placed(draft, row) == 1
        and "start_not_on_last" in (keep := measure.blocks[here].keep)
    ):
        assert keep is not None
        yield Breach("start_not_on_last", here)


def _inside(draft: Draft, row: int, after: Mark, measure: Measure) -> Iterator[Breach]:
    """Rules broken by a turn inside a block."""
    here, cell, stop = after
    block = measure.blocks[here]
    keep = block.keep
    placed = _placed(draft, row)
    if "whole" in keep:
        yield Breach("whole", here)
    if not block.lines and _divides(block.text, cell):
        yield Breach(COMPOUND, here)
    if placed < keep.get("head_min", 0):
        yield Breach("head_min", here)
    if block.lines and block.lines[cell - 1].with_next:
        yield Breach("with_next", here)
    if keep.get("tail_min", 0) > _left(block, cell, stop, measure, keep.get("tail_min", 0)):
        yield Breach("tail_min", here)
    below = _next_text(here + 1, measure)
    most = measure.blocks[below].keep.get("with_previous", 0) if below is not None else 0
    if most > 1 and below is not None and most > _left(block, cell, stop, measure, most):
        yield Breach("with_previous", below)
    above = _above(draft, row)
    if above >= 0:
        keep = measure.blocks[above].keep
        if "next_whole" in keep:
            yield Breach("next_whole", above)
        if placed < keep.get("with_next", 0):
            yield Breach("with_next", above)


def _divides(text: str, cell: int) -> bool:
    """Whether a turn before a cell comes just after the hyphen of a compound."""
    return (
        cell > 1
        and text[cell - 1] == HYPHEN
        and text[cell] != BLANK
        and text[cell - 2] not in NOT_BEFORE_HYPHEN
    )


def _between(draft: Draft, row: int, here: int, measure: Measure) -> Iterator[Breach]:
    """Rules broken by a turn after the last line of a block."""
    below = _next_text(here + 1, measure)
    if below is None:
        return
    keep = measure.blocks[here].keep
    for rule in ("with_next", "next_whole"):
        if rule in keep:
            yield Breach(rule, here)
    if "with_previous" in measure.blocks[below].keep:
        yield Breach("with_previous", below)


def _left(block: Block, cell: int, stop: int, measure: Measure, most: int) -> int:
    return count_lines(block, cell, stop, measure.cells, most) if most else 0


def _placed(draft: Draft, row: int) -> int:
    """How many lines of the block of ``row`` stand up to it; many if it began before."""
    here = draft.owner[row]
    if draft.start[0] == here and draft.start[1] >= 0:
        return 1 << 20
    return draft.owner[: row + 1].count(here)


def _above(draft: Draft, row: int) -> int:
    """The block before the block of ``row`` if it is on this page, else -1."""
    here = draft.owner[row]
    for owner in reversed(draft.owner[:row]):
        if owner not in (here, -1):
            return owner
    return -1


def _next_text(at: int, measure: Measure) -> int | None:
    """The next block that is not a print page change."""
    while at < measure.stop and measure.blocks[at].turn is not None:
        at += 1
    return at if at < measure.stop else None
