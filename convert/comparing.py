"""Two editions, or two sets of braille files, compared page by page.

An edition's folder is read from its trace, so that every difference has its print; braille files
made by anybody are read as the inspector reads them, and their lines are read back.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import zip_longest
from pathlib import Path

from .changes import (
    BLANK,
    CHANGED,
    GONE,
    NEW,
    RENUMBERED,
    PageChange,
    PageChanges,
    Sheet,
    compare_pages,
    sheets_in,
)
from .check.model import Page
from .check.pages import load
from .errors import SourceError
from .translation.back import read_back
from .translation.cells import cells_of
from .writers.changes_report import recipe_changes

Spot = tuple[int, str, int]
# The letter before a print page number that goes on (Braille Formats 2016, 1.11).
_CONTINUED = re.compile(r"^[a-z](?=\d)")


@dataclass(slots=True)
class Side:
    """One of the two: its pages, and the print page of each line where that is known; ``notes``
    are sentences about what had to be assumed."""

    path: Path
    sheets: list[Sheet]
    print_pages: dict[Spot, str] = field(default_factory=dict)
    recipe: dict[str, object] = field(default_factory=dict)
    notes: list[str] = field(default_factory=list)

    def sheet(self, place: tuple[int, str]) -> Sheet:
        """The page of a volume and number."""
        return next(sheet for sheet in self.sheets if sheet.place == place)


@dataclass(frozen=True, slots=True)
class Difference:
    """The first line of a page that differs and the first cell of it (both from 1): the cells
    from there on and the print of the line, before and now.  ``cell`` is 0 where the page
    numbers or the running head on that line differ; the cells are then these, read back."""

    line: int
    cell: int
    was: str
    now: str
    was_text: str
    now_text: str
    print_page: str = ""


@dataclass(frozen=True, slots=True)
class PageDifference:
    """A page that differs; ``first`` only for one that changed."""

    page: PageChange
    first: Difference | None = None


@dataclass(frozen=True, slots=True)
class Compared:
    """What two editions do not share.  ``made``: what they were made with, where it differs."""

    pages: tuple[PageDifference, ...]
    same: int
    made: tuple[str, ...] = ()

    def count(self, *states: str) -> int:
        """How many pages are in a state."""
        return sum(row.page.state in states for row in self.pages)

    @property
    def verdict(self) -> str:
        """The first thing to know."""
        if not self.pages:
            return f"The same: {_count(self.same, 'braille page')}, cell for cell."
        names = ((CHANGED, "changed"), (NEW, "new"), (GONE, "gone"),
                 (RENUMBERED, "with another number only"))  # fmt: skip
        parts = [f"{n} {name}" for state, name in names if (n := self.count(state))]
        number = len(self.pages)
        differ = f"{_count(number, 'braille page')} {'differs' if number == 1 else 'differ'}"
        return f"Not the same: {differ}, {', '.join(parts)}; {self.same} the same."


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"


def open_side(path: Path) -> Side:
    """The pages of an edition's folder or of a braille file.  Raises SourceError where there are
    none that can be read."""
    if not path.exists():
        raise SourceError(f"There is nothing at {path}.", "Name a folder or a braille file.")
    trace = path / "trace.jsonl"
    if not trace.is_file():
        return _of_files(path)
    try:
        sheets = list(map(_as_in_files, sheets_in(trace)))
        side = Side(path, sheets, recipe=_recipe(path / "recipe.json"))
        side.print_pages = dict(_print_pages(trace))
    except (OSError, ValueError, KeyError, TypeError) as error:
        raise SourceError(
            f"{trace} cannot be read.", "Convert again, or compare the braille files."
        ) from error
    return side


def compare(old: Side, new: Side) -> Compared:
    """Compare two sides page by page, each page with the one it came from."""
    found: PageChanges = compare_pages(old.sheets, new.sheets)
    rows = tuple(PageDifference(page, _first(page, old, new)) for page in found.pages)
    made = tuple(recipe_changes(old.recipe, new.recipe)) if old.recipe and new.recipe else ()
    return Compared(rows, found.same, made)


def _first(page: PageChange, old: Side, new: Side) -> Difference | None:
    """The first difference of a changed page: in its lines, else in the numbers and running
    head of its first or last line."""
    if page.state != CHANGED or page.place is None or page.was is None:
        return None
    before, after = old.sheet(page.was), new.sheet(page.place)
    depth = max(len(before.lines), len(after.lines))
    for number in range(1, depth + 1):
        was, now = _cells(before, number), _cells(after, number)
        if was != now:
            return _difference(number, (was, now), (before, after), (old, new))
    for number, was, now in ((1, before.head, after.head), (depth, before.foot, after.foot)):
        if was != now:
            return Difference(number, 0, was, now, _said(was), _said(now))
    return None


def _difference(
    number: int, cells: tuple[str, str], sheets: tuple[Sheet, Sheet], sides: tuple[Side, Side]
) -> Difference:
    was, now = cells
    both = zip_longest(was, now, fillvalue=BLANK)
    at = next(at for at, (a, b) in enumerate(both) if a != b)
    was_text, now_text = (
        sheet.said(number) if number <= len(sheet.lines) else "" for sheet in sheets
    )
    spots = zip(reversed(sides), reversed(sheets), strict=True)
    pages = (side.print_pages.get((*sheet.place, number), "") for side, sheet in spots)
    page = next(filter(None, pages), "")
    return Difference(number, at + 1, was[at:], now[at:], was_text, now_text, page)


def _cells(sheet: Sheet, number: int) -> str:
    return sheet.lines[number - 1].rstrip(BLANK) if number <= len(sheet.lines) else ""


# ---------------------------------------------------------------- reading


def _recipe(path: Path) -> dict[str, object]:
    try:
        read = json.loads(path.read_text("utf-8"))
    except (OSError, ValueError):
        return {}
    return read if isinstance(read, dict) else {}


def _print_pages(trace: Path) -> Iterator[tuple[Spot, str]]:
    with trace.open(encoding="utf-8") as file:
        for row in map(json.loads, file):
            if row["print_page"] is not None:
                yield (row["volume"], row["braille_page"], row["line"]), str(row["print_page"])


def _of_files(path: Path) -> Side:
    book, notes = load([path])
    side = Side(path, [_sheet(page) for page in book.pages()], notes=notes)
    for page, sheet in zip(book.pages(), side.sheets, strict=True):
        label = _CONTINUED.sub("", _said(cells_of(page.number)))
        for at, text in enumerate(page.text):
            if at in page.turns:
                label = _said(cells_of(text.lstrip("-")))
            if label:
                side.print_pages[*sheet.place, at + 1] = label
    return side


def _sheet(page: Page) -> Sheet:
    """A page of a braille file; one without a number goes by its place in the volume."""
    lines = tuple(cells_of(line.upper()) for line in page.text)
    head = cells_of(f"{page.head}  {page.number}".strip())
    label = _said(cells_of(page.foot)) if page.foot else f"without a number, sheet {page.ordinal}"
    return Sheet(
        page.volume, label, lines, head, cells_of(page.foot), lambda n: _said(lines[n - 1])
    )


def _as_in_files(sheet: Sheet) -> Sheet:
    """A page of a trace as its braille file shows it: guide words before the page number on the
    last line (Braille Formats 2016, 21.3) are text there."""
    *lines, last = sheet.lines or ("",)
    words, _, number = sheet.foot.rstrip(BLANK).rpartition(BLANK)
    depth, said = len(sheet.lines), sheet.said
    guide = words.rstrip(BLANK)
    return Sheet(
        sheet.volume,
        sheet.page,
        (*lines, last or guide),
        _close(sheet.head),
        number,
        lambda line: said(line) or (_said(guide) if line == depth else ""),
    )


def _close(cells: str) -> str:
    """A line of furniture with two blank cells in the place of more, and none at its ends."""
    return re.sub(f"{BLANK}{{3,}}", BLANK * 2, cells.strip(BLANK))


def _said(cells: str) -> str:
    """A line read back as contracted braille; its dots where it is not to be read."""
    try:
        return read_back(cells.strip(BLANK)).print.strip()
    except ValueError:
        return ""


def record(old: Side, new: Side, made: Compared) -> dict[str, object]:
    """The comparison for machines."""
    return {
        "old": str(old.path),
        "new": str(new.path),
        "same": not made.pages,
        "verdict": made.verdict,
        "pages_same": made.same,
        "made_with": list(made.made),
        "notes": list(dict.fromkeys([*old.notes, *new.notes])),
        "pages": [_page_record(row) for row in made.pages],
    }


def _page_record(row: PageDifference) -> dict[str, object]:
    page, first = row.page, row.first
    return {
        "state": page.state,
        "place": _place(page.place),
        "was": _place(page.was),
        "lines": {state: page.count(state) for state in ("new", "gone", "moved")},
        "first": first
        and {
            "line": first.line,
            "cell": first.cell,
            "print_page": first.print_page or None,
            "was": {"cells": first.was, "text": first.was_text},
            "is": {"cells": first.now, "text": first.now_text},
        },
    }


def _place(place: Sequence[object] | None) -> dict[str, object] | None:
    return dict(zip(("volume", "page"), place, strict=True)) if place else None
