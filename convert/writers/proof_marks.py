"""Marks of the proof: which lines and pages differ from the edition it replaces.

Each is marked in words that come before the line in reading order, with a border beside it, and
with links to the change before and after, so that no script and no colour is needed.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field
from html import escape

from ..changes import (
    CHANGED,
    GONE,
    MOVED,
    NEW,
    RENUMBERED,
    PageChange,
    PageChanges,
    compare_pages,
    sheets_in,
)
from ..edition import Edition
from ..layout.book import Page
from .counted import count
from .sheets import sheets_of
from .shown import show

Place = tuple[int, str, int]
NO_EARLIER = (
    "Changes were to be marked, but no earlier edition stood in this folder, so nothing is marked."
)
NO_TRACE = (
    "Changes were to be marked, but the edition before left no trace (trace.jsonl) that can be "
    "read, so nothing is marked."
)


@dataclass(slots=True)
class Marks:
    """What a proof marks.  ``verdict`` is said at its top; ``lines`` are states (changed, new) by
    volume, braille page and line; ``stops`` are where the links lead, in the order of the
    braille: the first line of each run of marked lines, or line 0 for a whole page."""

    verdict: str
    pages: dict[tuple[int, str], PageChange] = field(default_factory=dict)
    gone: list[PageChange] = field(default_factory=list)
    lines: dict[Place, str] = field(default_factory=dict)
    stops: list[Place] = field(default_factory=list)
    href: Callable[[Place], str] = str
    _at: dict[Place, int] = field(default_factory=dict)

    def of(self, volume: int | None) -> list[PageChange]:
        """The marked pages of a volume, or of all."""
        return [page for (number, _), page in self.pages.items() if volume in (None, number)]

    def heading(self, volume: int, page: str) -> str:
        """What stands under the heading of a page, as HTML; empty for one that is not marked."""
        change = self.pages.get((volume, page))
        if change is None:
            return ""
        return f'<p class="chg">{_page_words(change)}{self._links((volume, page, 0))}</p>'

    def line(self, volume: int, page: str, line: int) -> str:
        """What stands before a line, as HTML; empty for one that is not marked."""
        place = (volume, page, line)
        state = self.lines.get(place)
        if state is None:
            return ""
        return f'<p class="chg"><strong>{state.capitalize()} line.</strong>{self._links(place)}</p>'

    def _links(self, place: Place) -> str:
        if not self._at:
            self._at = {stop: at for at, stop in enumerate(self.stops)}
        at = self._at.get(place)
        if at is None:
            return ""
        rows = [(at - 1, "Previous change"), (at + 1, "Next change")]
        return "".join(
            f' <a href="{escape(self.href(self.stops[to]))}">{words}'
            f'<span class="hide">, {place_words(self.stops[to])}</span></a>'
            for to, words in rows
            if 0 <= to < len(self.stops)
        )


def place_words(place: Place) -> str:
    """``volume 1, braille page 7, line 3``, fit for HTML."""
    volume, page, line = place
    end = f", line {line}" if line else ""
    return f"volume {volume}, braille page {escape(show(page))}{end}"


def marks_of(edition: Edition, href: Callable[[Place], str]) -> Marks | None:
    """The marks of an edition; ``None`` where none were asked for."""
    if not edition.settings.mark_changes:
        return None
    if edition.earlier is None:
        return Marks(NO_EARLIER)
    try:
        old = sheets_in(edition.earlier / "trace.jsonl")
    except (OSError, ValueError, KeyError, TypeError):
        return Marks(NO_TRACE)
    made = compare_pages(old, sheets_of(edition))
    marks = Marks(_verdict(made), gone=made.of(GONE), href=href)
    known = {(v.number, page.braille_page): page for v, _, page in edition.book.pages()}
    for change in made.of(CHANGED, NEW):
        if change.place is not None:
            marks.pages[change.place] = change
            _mark_page(marks, change, change.place, known[change.place])
    return marks


def _mark_page(marks: Marks, change: PageChange, place: tuple[int, str], page: Page) -> None:
    """The marked lines of a page and the stops they make."""
    states = line_states(change)
    marks.lines |= {(*place, line): state for line, state in states.items()}
    before = -1
    for line in sorted(states):
        between = page.rows[before : line - 1] if before > 0 else [page]
        if any(row is not None for row in between):
            marks.stops.append((*place, line))
        before = line
    if not states:
        marks.stops.append((*place, 0))


def line_states(change: PageChange) -> dict[int, str]:
    """The lines of a page with cells that were not there before: ``changed`` where a line that
    is gone stood in their place, else ``new``."""
    gone = Counter(line.line for line in change.lines if line.state == GONE)
    states: dict[int, str] = {}
    left = 0
    for line in sorted((row for row in change.lines if row.state == NEW), key=lambda r: r.line):
        left += gone[line.line]
        states[line.line] = CHANGED if left and change.state == CHANGED else NEW
        left = max(0, left - 1)
    return states


def _page_words(change: PageChange) -> str:
    """What a page's mark says."""
    if change.state == NEW:
        return "<strong>New page</strong> since the edition before."
    rows = [(change.count(GONE), "gone"), (change.count(MOVED), "moved")]
    states = Counter(line_states(change).values())
    rows = [(states[CHANGED], "changed"), (states[NEW], "new"), *rows]
    said = ", ".join(f"{count(number, 'line')} {word}" for number, word in rows if number)
    said = said or "running head, print page number or blank lines changed"
    return f"<strong>Changed page</strong> since the edition before: {said}."


def _verdict(made: PageChanges) -> str:
    changed, new = len(made.of(CHANGED)), len(made.of(NEW))
    gone, moved = len(made.of(GONE)), len(made.of(RENUMBERED))
    if not made.pages:
        return f"No braille page changed since the edition before; {made.same} are the same."
    return (
        f"Since the edition before: {count(changed, 'braille page')} changed, {new} new, "
        f"{gone} gone; {moved} renumbered with the same cells, not marked; {made.same} the same."
    )
