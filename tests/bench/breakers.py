"""Ways to break finished pages at a random place, for `strength.py`.

Each takes a seeded source of chance and a book that has its trace, changes one thing, and tells
whether it found a place.  The lines of the trace are changed with those of the pages, as a fault
of the formatter would change both.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import partial
from itertools import pairwise
from random import Random

from convert.check.model import Book, Line, Page
from convert.check.pages import finish

Breaker = Callable[[Random, Book], bool]
Pick = Callable[[Line], bool]
BLANK = Line("blank", None, 0, 0, "first", "", "", None)


def kind(*kinds: str, style: str = "", part: str = "", like: str = "", level: int = 0) -> Pick:
    """Lines of some kinds, of a style, a part (``first`` or ``runover``), a shape, and a level that
    others of their list lie below."""

    def wanted(line: Line) -> bool:
        right = (not kinds or line.kind in kinds) and (not style or line.style == style)
        right = right and (not part or line.part == part)
        right = right and (not level or line.level == level < line.levels)
        return right and bool(line.cells) and bool(re.search(like, line.cells))

    return wanted


def copy_of(book: Book) -> Book:
    """The same pages, not yet prepared for the checks."""
    made = replace(book, padded=[], blocks=[], texts=[], by_kind={}, memo={}, turns=[])
    twin: dict[int, Page] = {}
    made.volumes = []
    for volume in book.volumes:
        made.volumes.append([])
        for page in volume:
            new = replace(page, rows=page.rows[:], text=page.text[:], lines=page.lines[:])
            new.turns = set()
            twin[id(page)] = new
            made.volumes[-1].append(new)
    made.broken = [(twin[id(page)], at) for page, at in book.broken or ()]
    made.added = [(twin[id(page)], *rest) for page, *rest in book.added or ()]  # type: ignore[misc]
    made.parted = None
    return made


def ready(book: Book) -> Book:
    """The book with its blocks and page change lines found again."""
    for page in book.pages():
        page.text = [line.cells for line in page.lines]
    return finish(book)


def _put(page: Page, lines: list[Line]) -> None:
    """Give a page other lines, as many as it is deep; its numbers stay where they are."""
    blanks = [BLANK._replace(print_page=page.print_page)] * page.depth
    page.lines = (lines + blanks)[: page.depth]
    width = page.width
    rows = [line.cells for line in page.lines]
    for at, number in ((0, page.number), (page.depth - 1, page.foot)):
        if number:
            rows[at] = rows[at].ljust(width - len(number))[: width - len(number)] + number
    if page.head:
        start = page.rows[0].find(page.head)
        rows[0] = " " * start + page.head + rows[0][start + len(page.head) :]
    page.rows = [row.rstrip() for row in rows]


def _sites(book: Book, pick: Pick, series: str = "") -> Iterator[tuple[Page, int]]:
    for page in book.pages():
        if not series or page.series == series:
            for at, line in enumerate(page.lines):
                if pick(line):
                    yield page, at


def _some(chance: Random, found: list[tuple[Page, int]]) -> tuple[Page, int] | None:
    return chance.choice(found) if found else None


def _at_line(pick: Pick, change: Callable[[Random, Page, int], bool]) -> Breaker:
    """Change one line, or the lines around it."""

    def broken(chance: Random, book: Book) -> bool:
        sites = list(_sites(book, pick))
        chance.shuffle(sites)
        return any(change(chance, page, at) for page, at in sites[:60])

    return broken


def _cells(page: Page, at: int, cells: str, **more: object) -> bool:
    lines = page.lines[:]
    lines[at] = lines[at]._replace(cells=cells.rstrip(), **more)  # type: ignore[arg-type]
    _put(page, lines)
    return True


def shift(pick: Pick, *by: int) -> Breaker:
    """A line starts further right or left."""

    def change(chance: Random, page: Page, at: int) -> bool:
        line = page.lines[at].cells
        start = len(line) - len(line.lstrip())
        steps = [step for step in by or (-2, -1, 1, 2, 4) if start + step >= 0]
        steps = [step for step in steps if len(line) + step <= page.width - 8]
        return bool(steps) and _cells(page, at, " " * (start + chance.choice(steps)) + line.strip())

    return _at_line(pick, change)


def sub(pick: Pick, old: str, new: str) -> Breaker:
    """Other cells in a line."""

    def change(_: Random, page: Page, at: int) -> bool:
        cells = re.sub(old, new, page.lines[at].cells, count=1)
        return cells != page.lines[at].cells and _cells(page, at, cells)

    return _at_line(pick, change)


def blank(pick: Pick, below: bool = False, beside: str = "") -> Breaker:
    """A blank line too many above or below a line that has text at that side; ``beside`` as for
    :func:`close`."""

    def change(_: Random, page: Page, at: int) -> bool:
        cut, near = at + below, at + 1 if below else at - 1
        if not _near(page, at, near, beside) or page.lines[-1].cells:
            return False
        _put(page, [*page.lines[:cut], BLANK, *page.lines[cut:-1]])
        return True

    return _at_line(pick, change)


def close(pick: Pick, below: bool = False, beside: str = "") -> Breaker:
    """The blank line above or below a line is gone.  ``beside``: what stands there is of the
    ``same`` kind, of an ``other``, or of the kind named."""

    def change(_: Random, page: Page, at: int) -> bool:
        near, far = (at + 1, at + 2) if below else (at - 1, at - 2)
        if not 0 <= near < page.depth or page.lines[near].cells or page.lines[-1].cells:
            return False
        if not _near(page, at, far, beside):
            return False
        _put(page, page.lines[:near] + page.lines[near + 1 :])
        return True

    return _at_line(pick, change)


def gape(pick: Pick) -> Breaker:
    """A second blank line beside the one above a line."""

    def change(_: Random, page: Page, at: int) -> bool:
        if at < 2 or page.lines[at - 1].cells or page.lines[-1].cells:
            return False
        _put(page, [*page.lines[:at], BLANK, *page.lines[at:-1]])
        return True

    return _at_line(pick, change)


def _near(page: Page, at: int, near: int, beside: str) -> bool:
    if not 0 <= near < page.depth or not page.lines[near].cells:
        return False
    one, two = page.lines[at].kind, page.lines[near].kind
    return {"": True, "same": one == two, "other": one != two}.get(beside, two == beside)


def mark(pick: Pick, **more: object) -> Breaker:
    """An element of another kind, style or level: all its lines on the page."""

    def change(_: Random, page: Page, at: int) -> bool:
        name = page.lines[at].element
        old = page.lines[at]
        same = [n for n, line in enumerate(page.lines) if name and line.element == name]
        if not same:
            low, high = at, at + 1
            while low and page.lines[low - 1].style == old.style:
                low -= 1
            while high < page.depth and page.lines[high].style == old.style:
                high += 1
            same = list(range(low, high))
        return all(_cells(page, n, page.lines[n].cells, **more) for n in same)

    return _at_line(pick, change)


def erase(pick: Pick) -> Breaker:
    """A line is gone, what follows moves up."""

    def change(_: Random, page: Page, at: int) -> bool:
        _put(page, page.lines[:at] + page.lines[at + 1 :])
        return True

    return _at_line(pick, change)


def double(pick: Pick) -> Breaker:
    """A line stands twice."""

    def change(_: Random, page: Page, at: int) -> bool:
        if page.lines[-1].cells:
            return False
        _put(page, page.lines[: at + 1] + page.lines[at:-1])
        return True

    return _at_line(pick, change)


def turn(pick: Pick, after: int = 0, foot: bool = False) -> Breaker:
    """A page ends before a line, or so many lines after it; with ``foot`` what is left stands
    on its last lines.  What the next page has no room for is gone."""

    def broken(chance: Random, book: Book) -> bool:
        pages = list(book.pages())
        follow = {id(one): two for one, two in pairwise(pages)}
        sites = [
            (page, at + after)
            for page, at in _sites(book, pick, "body")
            if 0 < at + after < page.last + 1 and id(page) in follow
        ]
        sites = [(p, at) for p, at in sites if follow[id(p)].series == "body" and at <= p.last]
        found = _some(chance, sites)
        if found is None:
            return False
        page, at = found
        after_it, rest = follow[id(page)], page.lines[at:]
        while rest and not rest[-1].cells:
            rest.pop()
        _put(after_it, rest + after_it.lines)
        kept = page.lines[:at]
        if foot:
            last = next((n for n in range(at - 1, -1, -1) if kept[n].cells), 0)
            free = page.depth - 1 - last
            room = BLANK._replace(print_page=page.print_page)
            kept = kept[:last] + [room] * free + [kept[last]]
        _put(page, kept)
        return True

    return broken


def number(change: Callable[[str], str], foot: bool = False, series: str = "") -> Breaker:
    """Another print page number, or another braille page number."""

    def broken(chance: Random, book: Book) -> bool:
        pages = [
            page
            for page in book.pages()
            if (page.foot if foot else page.number) and series in ("", page.series)
        ]
        chance.shuffle(pages)
        for page in pages:
            old = page.foot if foot else page.number
            new = change(old)
            if new != old:
                at = page.depth - 1 if foot else 0
                row = page.rows[at].removesuffix(old).rstrip()
                page.rows[at] = (row.ljust(page.width - len(new)) + new).rstrip()
                if foot:
                    page.foot = new
                else:
                    page.number = new
                return True
        return False

    return broken


def row(pattern: str, new: str, foot: bool = False, series: str = "") -> Breaker:
    """Other cells in the first or last line as it stands in the file."""

    def broken(chance: Random, book: Book) -> bool:
        at = -1 if foot else 0
        pages = [p for p in book.pages() if series in ("", p.series) and p.rows]
        chance.shuffle(pages)
        for page in pages:
            cells = re.sub(pattern, new, page.rows[at], count=1)
            if cells != page.rows[at] and (foot or page.number):
                page.rows[at] = cells
                return True
        return False

    return broken


def any_row(pattern: str, new: str) -> Breaker:
    """Other cells in any line as it stands in the file."""

    def broken(chance: Random, book: Book) -> bool:
        sites = [(p, at) for p in book.pages() for at, r in enumerate(p.rows) if r]
        chance.shuffle(sites)
        for page, at in sites[:200]:
            cells = re.sub(pattern, new, page.rows[at], count=1)
            if cells != page.rows[at]:
                page.rows[at] = cells
                return True
        return False

    return broken


def leaf(change: Callable[[Random, list[Page], int], None], series: str = "") -> Breaker:
    """A page is changed, moved or taken away: ``change`` has the volume and the place."""

    def broken(chance: Random, book: Book) -> bool:
        sites = [
            (volume, at)
            for volume in book.volumes
            for at, page in enumerate(volume[:-1])
            if series in ("", page.series) and volume[at + 1].series == page.series
        ]
        if not sites:
            return False
        change(chance, *chance.choice(sites))
        return True

    return broken


def head(change: Callable[[str], str], at: int | None = None) -> Breaker:
    """Another running head, or one that starts at another cell, from 0."""

    def broken(chance: Random, book: Book) -> bool:
        pages = [page for page in book.pages() if page.head]
        if len(pages) < 2:
            return False
        page = chance.choice(pages)
        row, start = page.rows[0], page.rows[0].find(page.head)
        rest = row[start + len(page.head) :]
        page.head = change(page.head)
        page.rows[0] = " " * (start if at is None else at) + page.head + rest
        return True

    return broken


def opening(series: str, change: Callable[[list[Page], int], None]) -> Breaker:
    """The first page of a series in a volume is changed."""

    def broken(chance: Random, book: Book) -> bool:
        volume = chance.choice(book.volumes)
        at = next((n for n, page in enumerate(volume) if page.series == series), -1)
        if at < 0:
            return False
        change(volume, at)
        return True

    return broken


def _empty(_: Random, volume: list[Page], at: int) -> None:
    _put(volume[at], [])


def _lose(_: Random, volume: list[Page], at: int) -> None:
    del volume[at]


def _swap(_: Random, volume: list[Page], at: int) -> None:
    volume[at : at + 2] = [volume[at + 1], volume[at]]


def _twice(_: Random, volume: list[Page], at: int) -> None:
    volume.insert(at, replace(volume[at]))


empty_page, lost_page, swapped_pages, page_twice = (
    partial(leaf, change) for change in (_empty, _lose, _swap, _twice)
)
