"""Which blocks are paragraphs of one kind, one straight after another (UEB 8.5.5, 9.9)."""

from __future__ import annotations

from collections.abc import Iterable

from .items import Item

# Headings, entries of lists and lines of verse are no paragraphs (UEB 8.5.6, 8.5.7).
_PARAGRAPHS = frozenset(("para", "displayed"))


def rows_of_kin(items: Iterable[Item]) -> list[int]:
    """For each item the number, from 1, of its row of like paragraphs; 0 for other items.

    Print pages between two paragraphs do not part them; anything else does.
    """
    out: list[int] = []
    number, last = 0, ""
    for item in items:
        here = item.style if item.kind in _PARAGRAPHS and item.runs else ""
        if item.page is not None and not item.runs:
            out.append(0)
            continue
        if here and here != last:
            number += 1
        out.append(number if here else 0)
        last = here
    return out
