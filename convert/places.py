"""Where print stands in the braille: from stretches of the ledger to volume, page and line."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from .findings import Fact, Finding, Place, Span
from .layout.book import Book, Row
from .layout.items import Part
from .translation.cells import Cells
from .translation.passage import Passage

_FAR = 1 << 60
_NOWHERE, _ANYWHERE = (_FAR, 0), (-1, _FAR)
AROUND = 120  # Cells: more than a line has.


def ledger_spans(passage: Passage, start: int, end: int) -> Iterator[Span]:
    """Passage characters ``start`` to ``end`` as stretches of the ledger.

    Words that print does not have give none.
    """
    rows = passage.at
    if len(rows) == 1 and start < end:
        if rows[0][1] >= 0:
            shift = rows[0][1] - rows[0][0]
            yield start + shift, end + shift
        return
    at = max(0, bisect_right(rows, (start, _FAR)) - 1)
    while at < len(rows) and rows[at][0] < end and start < end:
        text_at, ledger_at = rows[at]
        stop = rows[at + 1][0] if at + 1 < len(rows) else end
        low, high = max(start, text_at), min(end, stop)
        if ledger_at >= 0 and low < high:
            yield low - text_at + ledger_at, high - text_at + ledger_at
        at += 1


def print_spans(row: Row) -> Iterator[Span]:
    """The stretches of the ledger that a line's cells stand for."""
    for part in row.parts:
        source = part.source
        if source is not None and source.passage is not None and part.text:
            low, high = part.print_span()
            yield from ledger_spans(source.passage, low, high)


class Places:
    """The lines of a book by the print they stand for; made once, asked often.

    Only the lines of blocks that hold print of ``near`` are looked at; ``None``: all lines.
    Lines the edition adds (contents, title page: ``row.item`` is -1) repeat print, so they
    answer only for print that stands nowhere else.
    """

    __slots__ = ("_added", "_own")

    def __init__(self, book: Book, near: Iterable[Span] | None = None) -> None:
        own: list[tuple[int, int, Place]] = []
        added: list[tuple[int, int, Place]] = []
        near_lines = _Near(near)
        for volume, _, page in book.pages():
            for number, row in enumerate(page.rows, 1):
                if row is not None and row.parts and near_lines.has(row.parts):
                    rows = own if row.item >= 0 else added
                    for start, end in print_spans(row):
                        rows.append((start, end, Place(volume.number, page.braille_page, number)))
        self._own, self._added = _Rows(own), _Rows(added)

    def find(self, span: Span) -> Place | None:
        """The first line that holds the beginning of ``span``, else any of it; else None."""
        return self._own.find(span) or self._added.find(span)

    def before(self, offset: int) -> Place | None:
        """The line where print at ``offset`` would stand: the last that holds print before it,
        or the first of all."""
        return self._own.last(offset)


class _Near:
    """Which lines hold print of some stretches of the ledger, or may end or begin at one.

    Of a block that holds such print, the lines up to ``AROUND`` cells from it count."""

    __slots__ = ("_all", "_ends", "_known", "_last", "_starts", "_window")

    def __init__(self, near: Iterable[Span] | None) -> None:
        self._all = near is None
        self._starts: list[int] = []
        self._ends: list[int] = []
        self._known: dict[int, Span] = {}
        self._last: Cells | None = None
        self._window = _NOWHERE
        for start, end in sorted(near or ()):
            end = max(end, start + 1)
            if self._ends and start <= self._ends[-1]:
                self._ends[-1] = max(self._ends[-1], end)
            else:
                self._starts.append(start)
                self._ends.append(end)

    def has(self, parts: Sequence[Part]) -> bool:
        """Whether a line of these parts counts."""
        if self._all:
            return True
        for part in parts:
            source = part.source
            if source is None:
                continue
            if source is not self._last:
                if (window := self._known.get(id(source))) is None:
                    window = self._known[id(source)] = self._cells(source)
                self._last, self._window = source, window
            low, high = self._window
            if part.at < high and part.at + len(part.text) > low:
                return True
        return False

    def _cells(self, source: Cells) -> Span:
        """The cells of a block on whose lines print of the stretches may stand."""
        passage = source.passage
        stretches = [ledger_at for _, ledger_at in passage.at if ledger_at >= 0] if passage else []
        if passage is None or not stretches:
            return _NOWHERE
        low, high = min(stretches), max(stretches) + len(passage.text)
        last = bisect_right(self._starts, high) - 1
        if last < 0 or self._ends[last] < low:
            return _NOWHERE
        if len(passage.at) > 1 or not source.starts:
            return _ANYWHERE
        shift = passage.at[0][1] - passage.at[0][0]
        first = bisect_left(self._ends, low)
        begins = max(0, bisect_right(source.prints, self._starts[first] - shift) - 1)
        ends = bisect_left(source.prints, self._ends[last] - shift)
        stop = source.starts[ends] if ends < len(source.starts) else len(source.text)
        return source.starts[begins] - AROUND, stop + AROUND


class _Rows:
    """Stretches sorted by start, with the furthest end so far, for looking up."""

    __slots__ = ("_order", "_reach", "_rows", "_starts")

    def __init__(self, rows: list[tuple[int, int, Place]]) -> None:
        self._order = sorted(range(len(rows)), key=lambda at: rows[at][0])
        self._rows = [rows[at] for at in self._order]
        self._starts = [row[0] for row in self._rows]
        self._reach: list[int] = []
        furthest = -1
        for row in self._rows:
            furthest = max(furthest, row[1])
            self._reach.append(furthest)

    def find(self, span: Span) -> Place | None:
        """The place of the first line (in page order) with the start of ``span``."""
        start, end = span
        best = -1
        at = bisect_right(self._starts, start) - 1
        while at >= 0 and self._reach[at] > start:
            holds = self._rows[at][1] > start
            if holds and (best < 0 or self._order[at] < self._order[best]):
                best = at
            at -= 1
        if best >= 0:
            return self._rows[best][2]
        after = bisect_right(self._starts, start)
        if after < len(self._rows) and self._starts[after] < max(end, start + 1):
            return self._rows[after][2]
        return self._before(start) if start == end else None

    def last(self, offset: int) -> Place | None:
        """The place of the last stretch that begins before ``offset``, else of the first."""
        at = bisect_right(self._starts, offset) - 1
        return self._rows[max(at, 0)][2] if self._rows else None

    def _before(self, offset: int) -> Place | None:
        """The line whose print ends just at ``offset`` (for a place between characters)."""
        at = bisect_right(self._starts, offset) - 1
        if at >= 0 and self._rows[at][1] == offset:
            return self._rows[at][2]
        return None


def place_findings(findings: Iterable[Finding], book: Book) -> list[Finding]:
    """The findings with their places in the braille: one for each span that reached a line.

    A finding about the braille itself has its places, or they are in its facts ``volume``,
    ``page`` (as printed there) and ``line``.
    """
    found = list(findings)
    spans = [span for finding in found if not finding.places for span in finding.spans]
    places = Places(book, spans) if spans else None
    out: list[Finding] = []
    for finding in found:
        got = finding.places
        if not got and finding.spans and places is not None:
            got = tuple(place for span in finding.spans if (place := places.find(span)))
        elif not got:
            got = _told(dict(finding.facts))
        out.append(replace(finding, places=got))
    return out


def _told(facts: dict[str, Fact]) -> tuple[Place, ...]:
    """The place a finding's facts name, if they name one; a whole page counts as its line 1."""
    volume, page, line = facts.get("volume"), facts.get("page"), facts.get("line")
    if not isinstance(volume, int) or not isinstance(line, int) or page is None:
        return ()
    return (Place(volume, str(page), max(1, line)),)
