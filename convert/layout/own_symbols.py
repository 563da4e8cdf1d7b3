"""Rows of the special symbols page that a person adds, words anew or leaves out (BF 2.5).

A row is a setting: its cells, a space, what they mean; nothing after the space where the sign is
to be left out of the list.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ..translation.cells import dots_of
from .book import Page


def with_own(
    listed: Sequence[tuple[str, str]],
    own: Sequence[str],
    pages: Iterable[Page],
    locator: tuple[str, str],
) -> list[tuple[str, str]]:
    """The rows of a volume's symbols page with a person's own, those whose cells stand in its
    ``pages``.  ``locator`` is the row of the dot locator, which heads every
    list that has a sign."""
    if not own:
        return list(listed)
    rows = dict(listed)
    text = _text(pages)
    for cells, _, means in (row.partition(" ") for row in own):
        if not means:
            rows.pop(cells, None)
        elif cells in text:
            rows[cells] = means
    mark, name = locator
    signs = {cells: means for cells, means in rows.items() if cells != mark}
    return [(mark, rows.get(mark, name)), *signs.items()] if signs else []


def unused(own: Sequence[str], pages: Iterable[Page]) -> list[str]:
    """The dots of the rows whose cells stand nowhere in an edition."""
    if not own:
        return []
    text = _text(pages)
    return [dots_of(cells) for cells in (row.partition(" ")[0] for row in own) if cells not in text]


def _text(pages: Iterable[Page]) -> str:
    """The cells of some pages, a line each."""
    rows = [row for page in pages for row in page.rows if row is not None]
    return "\n".join(row.text for row in rows)
