"""Which blocks are text elements of one kind, one straight after another (UEB 8.5.5, 9.9).

A text element is a paragraph, an entry of a list, a stanza of a poem or the like (UEB, terms
used; from memory).  Short entries keep indicators of their own (ours).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from .items import Item

# Headings and speeches are none: each stands for itself (UEB 8.5.6, 8.5.7).
_PARAGRAPHS = frozenset(("para", "displayed"))
_LIST, _VERSE = "list", "verse"
# Words of an entry that would be a passage by itself (UEB 8.5.2, 9.4).
_FEWEST_WORDS = 3
_NONE = ("", "", 0)


def rows_of_kin(items: Iterable[Item], texts: Sequence[str] = ()) -> list[int]:
    """For each item the number, from 1, of its row of like elements; 0 for other items, and the
    number below zero for a line of verse that goes on the stanza of the line before.

    ``texts``: the print of each item.  Print pages between two elements do not part them;
    anything else does.
    """
    out: list[int] = []
    number, last = 0, _NONE
    for at, item in enumerate(items):
        if item.page is not None and not item.runs:
            out.append(0)
            continue
        here = _kind(item, texts[at] if texts else "")
        if here != _NONE and here != last:
            number += 1
        goes_on = item.kind == _VERSE and here == last and not item.before
        out.append(0 if here == _NONE else -number if goes_on else number)
        last = here
    return out


def _kind(item: Item, text: str) -> tuple[str, str, int]:
    """What two elements of one row have in common; ``_NONE`` for what is in no row."""
    if not item.runs:
        return _NONE
    if item.kind in _PARAGRAPHS:
        return item.style, "", 0
    if item.kind == _VERSE and item.group:
        return item.style, item.group, 0
    whole = len(text.split()) >= _FEWEST_WORDS and not text[:1].isdigit()
    if item.kind == _LIST and item.group and whole:
        return item.style, item.group, item.level
    return _NONE
