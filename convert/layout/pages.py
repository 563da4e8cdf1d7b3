"""One braille page: fill it, choose its turn, furnish it.

A page starts at a mark (block, cell, stops passed) and gives back where the next one starts.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from ..errors import Bug
from . import guide_words
from .book import Page
from .fill import Filler
from .furniture import at_right, braille_label, braille_number, head_line
from .lines import Block
from .shape import Cursor, Shape
from .turns import HEADS, Breach, Draft, Measure, choose


@dataclass(frozen=True, slots=True)
class Made:
    """A finished page, what it hands on, and what had to be given up to make it.

    ``breaches`` are (keep rule, block whose rule it is, its last row on the page, from 0, or
    ``OVERLEAF``); ``divided`` holds (block, cell, row) of words broken at a line end.  ``asked``:
    the page ends where a new one was asked for."""

    page: Page
    cursor: Cursor
    breaches: tuple[tuple[str, Block, int], ...]
    divided: tuple[tuple[Block, int, int], ...]
    asked: bool = False


def make_page(
    blocks: Sequence[Block], stop: int, cursor: Cursor, shape: Shape, series: str, number: int,
    left: bool = False,
) -> Made:  # fmt: skip
    """The page that starts at the cursor, of the blocks before ``stop``; ``left``: on the left."""
    foot = braille_number(series, number) if shape.numbers(left) else ""
    guided = guide_words.due(blocks, cursor.mark[0], stop, shape)
    room = replace(shape, lines=shape.lines - 1) if guided else shape
    draft = Draft(cursor.mark)
    filler = Filler(blocks, stop, room, cursor, draft)
    filler.fill(filler.open(0 if guided else len(foot)))
    measure = Measure(blocks, stop, shape.cells, room.lines)
    last, breaches = choose(draft, measure, shape.relax)
    mark = draft.after[last]
    if mark is None or mark <= cursor.mark:
        raise Bug("A braille page made no progress.")
    rows = draft.rows[: last + 1]
    rows.extend([None] * (shape.lines - len(rows)))
    page = Page(
        series,
        braille_label(series, number),
        rows,
        draft.label.text if draft.label else None,
        head_line(shape.head, draft.number, shape.cells, shape.guard),
        guide_words.foot_line(blocks, draft, last, foot, shape)
        if guided
        else at_right(foot, shape.cells),
        shape.cells,
        cursor.fresh,
    )
    after = Cursor(
        mark,
        draft.labels[last],
        draft.count + 1 if draft.labels[last] is draft.label else 1,
        last >= shape.lines - 2,
        draft.forced,
        True,
        next((row.parts[0].start for row in reversed(rows) if row and row.parts), 0),
    )
    divided = tuple((blocks[at], cell, row) for row, at, cell in draft.divided if row <= last)
    if draft.bare >= 0:
        breaches = (Breach(HEADS, draft.bare, draft.owner.index(draft.bare)), *breaches)
    broken = tuple((breach.rule, blocks[breach.block], breach.row) for breach in breaches)
    return Made(page, after, broken, divided, draft.forced)


def make_pages(blocks: Sequence[Block], shape: Shape, series: str, number: int = 1) -> list[Made]:
    """All pages of some blocks as one series."""
    made: list[Made] = []
    cursor = Cursor()
    while cursor.mark[0] < len(blocks):
        here = number + len(made)
        left = here % 2 == 0
        made.append(make_page(blocks, len(blocks), cursor, shape, series, here, left))
        cursor = made[-1].cursor
    return made


def blank_page(shape: Shape, series: str, number: int, left: bool = True) -> Made:
    """The empty page of interpoint after which a series begins on the right (BF E.3), or matter
    on facing pages on the left."""
    foot = braille_number(series, number) if shape.numbers(left) else ""
    page = Page(
        series,
        braille_label(series, number),
        [None] * shape.lines,
        foot=at_right(foot, shape.cells),
        width=shape.cells,
        asked=True,
    )
    return Made(page, Cursor(), (), ())
