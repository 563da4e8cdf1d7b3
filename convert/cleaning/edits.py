"""Taking out and replacing stretches of print inside the runs of a document."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import NamedTuple

from ..document.change import map_inlines
from ..document.inlines import COMPUTER
from ..document.nodes import Added, Document, Inline, Inlines, Omission, Run
from ..findings import Span


class Edit(NamedTuple):
    """The print from ``start`` to ``end`` is left out; ``text`` is read in its place."""

    start: int
    end: int
    text: str = ""


def places(text: str, needle: str) -> Iterator[int]:
    """Where ``needle`` stands in a long text, in order; quicker than a pattern."""
    at = text.find(needle)
    while at >= 0:
        yield at
        at = text.find(needle, at + 1)


def apply_edits(document: Document, edits: Iterable[Edit], why: str) -> tuple[Document, list[Span]]:
    """The document with the edits made, and the stretches that were; ``why``: the omissions' kind.

    An edit is made only inside one run of ordinary print: addresses and code stay as they are,
    and no block is emptied.
    """
    rows = sorted(edits)
    if not rows:
        return document, []
    starts = [row.start for row in rows]
    done: list[Span] = []

    def change(inlines: Inlines) -> Inlines:
        out: list[Inline] = []
        made: list[Span] = []
        for inline in inlines:
            here: list[Edit] = []
            if isinstance(inline, Run) and inline.voice not in COMPUTER:
                low = bisect_left(starts, inline.start)
                high = bisect_left(starts, inline.end)
                here = [row for row in rows[low:high] if row.end <= inline.end]
            if here and isinstance(inline, Run):
                out += _cut(inline, here)
                made += [(row.start, row.end) for row in here]
            else:
                out.append(inline)
        if not made or not out:
            return inlines
        done.extend(made)
        return tuple(out)

    changed: Document = map_inlines(document, change)
    if not done:
        return document, []
    omitted = tuple(Omission(start, end, why) for start, end in done)
    return replace(changed, omissions=(*changed.omissions, *omitted)), done


def _cut(run: Run, edits: list[Edit]) -> list[Inline]:
    out: list[Inline] = []
    at = run.start
    for start, end, text in edits:
        if start < at:
            continue
        if at < start:
            out.append(replace(run, start=at, end=start))
        if text:
            out.append(Added(text, run.typeform))
        at = end
    if at < run.end:
        out.append(replace(run, start=at))
    return out
