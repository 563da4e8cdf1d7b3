"""Lists repeated at the front of later volumes: the cast of a play that goes on there (BF 1.6).

The cast stands at the end of the p-pages of each volume that the play goes on in, with the heading
it has in print; its words are those of print once more, so that they stand for nothing.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace

from ..translation.cells import Cells
from .items import Item
from .lines import LINE_END, added
from .pages import Made, make_pages
from .shape import Shape

SPEECH = "speech"
HEADINGS = ("h-center", "h-5", "h-7")


def repeated_pages(
    items: Sequence[Item],
    styles: Collection[str],
    own: Sequence[Made],
    front: Sequence[Made],
    shape: Shape,
) -> list[Made]:
    """The p-pages of a volume that repeat a list of one of the ``styles``: the last before its
    text, if what it belongs to goes on.  ``own`` are the volume's pages of text, ``front`` its
    p-pages."""
    here = [row.item for made in own for row in made.page.rows if row and row.item >= 0]
    spoken = [
        row.item for made in own for row in made.page.rows if row is not None and row.kind == SPEECH
    ]
    if not here or not spoken:
        return []
    found = _last_list(items, styles, here[0])
    shown = {row.item for made in front for row in made.page.rows if row is not None}
    if not found or found[-1] in shown or not _goes_on(items, found, spoken[0]):
        return []
    blocks = added([_again(items[at], first=at == found[0]) for at in found])
    return make_pages(blocks, shape, "p", len(front) + 1)


def _last_list(items: Sequence[Item], styles: Collection[str], before: int) -> list[int]:
    """The places of the last list before a place, with the heading just above it."""
    end = before
    while end and items[end - 1].style not in styles:
        end -= 1
    start = end
    while start and (items[start - 1].style in styles or items[start - 1].page is not None):
        start -= 1
    if start and items[start - 1].kind in HEADINGS:
        start -= 1
    return [at for at in range(start, end) if items[at].page is None]


def _goes_on(items: Sequence[Item], found: Sequence[int], to: int) -> bool:
    """Whether no heading above the rank of the list's own stands between it and a place."""
    ranks = [items[at].level for at in found if items[at].kind in HEADINGS]
    if not ranks:
        return True
    between = (item for item in items[found[-1] + 1 : to] if item.kind in HEADINGS)
    return all(item.level >= min(ranks) for item in between if item.level)


def _again(item: Item, first: bool) -> Item:
    """The same item with cells that stand for no print."""
    cells = item.cells or Cells()
    marks = tuple(mark for mark in cells.marks if mark[1] == LINE_END)
    bare = Cells(text=cells.text, marks=marks, fixed=cells.fixed)
    before = 0 if first else item.before
    return replace(item, runs=(), cells=bare, before=before, new_page=False, new_volume=False)
