"""Words cut over two paragraphs, where print turned the page or began a column inside a word."""

from __future__ import annotations

import re
from collections.abc import Iterator

from ..document.nodes import Box, Footnote, Graphic, Paragraph, PrintPage
from ..findings import Findings, Span
from .leaves import Leaf, Reading, Row, data, file

_TAIL = re.compile(r"(?<![\w-])([^\W\d_]{2,})([-‐\u00ad]?)\s*$")
_HEAD = re.compile(r"([^\W\d_]{2,})(?![\w-])")
_BETWEEN = (PrintPage, Graphic, Box, Footnote)  # What may stand between the halves.


def look(reading: Reading, findings: Findings) -> None:
    """File the first halves, with the words they would make."""
    found = sorted(row for rows in reading.rows for row in _found(reading, rows))
    file(findings, "suspect.cut-word", (span for span, _ in found), (word for _, word in found))


def _found(reading: Reading, row: Row) -> Iterator[tuple[Span, str]]:
    before: Leaf | None = None
    for kid in row:
        if isinstance(kid, Leaf) and isinstance(kid.node, Paragraph):
            if before is not None and (found := _cut(reading, before, kid)):
                yield found
            before = kid
        elif not isinstance(kid, _BETWEEN):
            before = None


def _cut(reading: Reading, before: Leaf, after: Leaf) -> tuple[Span, str] | None:
    """The end of a paragraph that is half a word which the next one goes on with."""
    if not after.words[:1].islower():
        return None
    tail, head = _TAIL.search(before.words[-40:]), _HEAD.match(after.words)
    if tail is None or head is None or head[1] in data()["words"]["hanging"].split():
        return None
    whole = f"{tail[1]}{head[1]}"
    at = before.start + max(0, len(before.words) - 40)
    span = at + tail.start(1), at + tail.end(2)
    if tail[2]:
        return span, f"{tail[1]}-{head[1]}"
    # Without a hyphen only where the document has the whole word, and neither half elsewhere.
    counts = reading.counts
    sure = counts.get(whole, 0) and counts.get(tail[1], 0) == 1 == counts.get(head[1], 0)
    return (span, f"{tail[1]} {head[1]}") if sure else None
