"""Checks of print page numbers (P) and braille page numbers (B)."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from itertools import pairwise
from typing import cast

from .guessed import begins_late
from .model import Book, Page, Tally, rule
from .numbers import (
    Number,
    after,
    continuation,
    is_roman,
    label_cells,
    order,
    plain,
    plain_label,
    say,
    split_number,
    value,
)

_SERIES = re.compile(r"(t|p|)#([a-j]+)$")
_GAP = re.compile(r" [a-z]{1,3} {1,2}(#[a-j]+)$")
_SIGNED = re.compile(r";[a-z]{1,3}#[a-j]+$")
_RANGE = re.compile(r"#[a-j]+-([a-j]+)$")
_PREFIX = re.compile(r"(;[a-z]#[a-j]+| [tp] #[a-j]+)$")
NAMES = {"t": "the t-series", "p": "the p-series", "body": "the body series"}


def numbered(book: Book) -> list[tuple[Page, Number, str, int]]:
    """`_numbered`, worked out once."""
    if "print numbers" not in book.memo:
        book.memo["print numbers"] = list(_numbered(book))
    return cast(list[tuple[Page, Number, str, int]], book.memo["print numbers"])


def _numbered(book: Book) -> Iterator[tuple[Page, Number, str, int]]:
    """Pages that have a print page number: the number divided, the base in force before, and
    how many braille pages so far had text of that print page."""
    force: dict[str, tuple[str, int]] = {}
    again = repeated(book)
    turns: dict[int, str] = {id(page): page.text[at].lstrip("-") for page, at in book.turns}
    for page in book.pages():
        if page.ordinal == 1:
            force.pop("p", None)
        base, count = force.get(page.series, ("", 0))
        if page.number:
            number = split_number(page.number, base)
            if number == ("", base) and base in again:
                count = 0  # The next print page has the same number.
            count = count if number.base == base else 0
            yield page, number, base, count
            base, count = number.base, count + 1
        turned = turns.get(id(page))
        if turned is not None:
            base, count = turned, 1
        force[page.series] = (base, count)


def repeated(book: Book) -> set[str]:
    """Numbers that two print pages in a row have; none where the source is not at hand."""
    pairs = pairwise(book.print_pages or ())
    return {label_cells(label) or "" for label, after in pairs if label == after}


@rule("P01")
def every_page_is_numbered(book: Book, tally: Tally) -> None:
    """Front matter and body pages have a print page number where print is numbered."""
    if not book.has_print_numbers:
        return
    for page in book.pages():
        if page.series != "t" and page.print_page:
            tally.expect(bool(page.number), page, 0, f"print page {page.print_page}", "no number")


@rule("P02")
def transcriber_pages_have_none(book: Book, tally: Tally) -> None:
    """No print page number on t-pages."""
    for page in book.pages():
        if page.series == "t":
            tally.expect(not page.number, page, 0, "no print page number", say(page.number))


@rule("P03")
def first_page_without_letter(book: Book, tally: Tally) -> None:
    """No continuation letter where a print page begins; files alone may begin inside one."""
    for nth, (page, number, _, count) in enumerate(numbered(book)):
        if not count and (nth or book.traced):
            tally.expect(not number.letters, page, 0, say(number.base), say(page.number))


@rule("P04")
def letters_in_order(book: Book, tally: Tally) -> None:
    """Continuation letters a, b, c in order.  A letter that goes on from a wrong one is no second
    fault."""
    before = Number("", "")
    for page, number, _, count in numbered(book):
        if count:
            letters = continuation(count)
            expected = letters + number.base.removeprefix(";")
            follows = before.base == number.base and number.letters == after(before.letters)
            right = number.letters == letters or follows
            tally.expect(right, page, 0, say(expected), say(page.number))
        before = number


@rule("P05")
def letter_touches_number(book: Book, tally: Tally) -> None:
    """Nothing between continuation letter and number."""
    for page in book.pages():
        row = page.rows[0] if page.rows else ""
        near = bool(page.number) or not book.traced
        near = near and book.has_print_numbers and len(row) == book.width
        gap = _GAP.search(row) if near else None
        if not page.number and not gap:
            continue
        wrong = bool(gap or _SIGNED.match(page.number))
        found = "a blank cell between" if gap else "a grade 1 sign"
        tally.expect(not wrong, page, 0, "the letter straight before the number", found)


@rule("P06")
def numbers_go_up(book: Book, tally: Tally) -> None:
    """Print page numbers never go backwards within a series.  Two numbers with a hyphen may be a
    range or a label, chapter and page, so they are not judged where they go back."""
    last: dict[tuple[str, str], tuple[int, str]] = {}
    for page, number, _, _ in numbered(book):
        found, label = order(number.base), plain(number.base)
        if found is None:
            continue
        kind, now = found
        before, name = last.get((page.series, kind), (0, ""))
        if now >= before or kind or "-" not in label:
            tally.expect(now >= before, page, 0, f"print page {name} or later", label)
            last[page.series, kind] = now, label


@rule("P07")
def every_print_page_shown(book: Book, tally: Tally) -> None:
    """Every print page of the source is in the braille."""
    bases = {number.base for _, number, _, _ in numbered(book) if not number.letters}
    bases |= {page.text[at].lstrip("-") for page, at in book.turns}
    shown = set(map(plain, bases))
    ends = [cells.split("-") for cells in bases if "-" in cells]
    spans = [(value(two[0]), value(two[1])) for two in ends if len(two) == 2]
    pages = list(book.pages())
    for label in dict.fromkeys(book.print_pages or ()):
        number = plain_label(label)
        if number is None or label in book.unmarked or not pages:
            continue
        within = (
            label.isdecimal()
            and len(label) < 20
            and any(
                low is not None and high is not None and low <= int(label) <= high
                for low, high in spans
            )
        )
        right = number in shown or within
        tally.expect(right, pages[-1], -1, f"print page {label} shown", "nowhere in the braille")


@rule("P08")
def ranges_have_two_signs(book: Book, tally: Tally) -> None:
    """Both numbers of a range have a numeric indicator."""
    places = [(page, 0, page.number) for page in book.pages()]
    places += [(page, at, page.text[at].lstrip("-")) for page, at in book.turns]
    for page, at, number in places:
        base = split_number(number).base
        if base.count("#") > 1 or _RANGE.match(base):
            wrong = _RANGE.match(base)
            expected = "a numeric indicator before both numbers"
            tally.expect(not wrong, page, at, expected, "one before the first only")


@rule("P10")
def roman_numbers(book: Book, tally: Tally) -> None:
    """Roman page numbers: a grade 1 sign before a single letter only."""
    for page, number, base, _ in numbered(book):
        letters = page.number.removeprefix(";")
        if letters != page.number and len(letters) > 1:
            number = split_number(letters, base)
        roman = is_roman(number.base.removeprefix(";")) and "#" not in page.number
        if not roman:
            continue
        signed = page.number != letters
        single = len(letters) == 1
        right = single or not signed
        if single and letters not in ("i",) and not number.letters:
            right = signed
        expected = say(f";{letters}" if single else letters)
        tally.expect(right, page, 0, expected, say(page.number))


@rule("P11")
def number_is_that_of_first_text(book: Book, tally: Tally) -> None:
    """The number on line 1 is the print page of the first text."""
    for page, number, _, _ in numbered(book):
        first = page.first
        label = page.lines[first].print_page if first < len(page.lines) else None
        wanted = plain_label(label) if label else None
        if wanted and page.lines[first].kind != "page-turn":
            right = plain(number.base) == wanted
            tally.expect(right, page, 0, f"print page {label}", say(page.number))


@rule("B01")
def every_page_has_braille_number(book: Book, tally: Tally) -> None:
    """A braille page number on the last line of every page."""
    without = left_without_numbers(book)
    first = next(book.pages(), None)
    if first is not None and not any(page.foot for page in book.pages()):
        _without_numbers(book, first, tally)
        return
    for page in book.pages():
        right = bool(page.foot) or (without and page.left)
        tally.expect(right, page, book.depth - 1, "a braille page number", "none")


def _without_numbers(book: Book, first: Page, tally: Tally) -> None:
    """Told once where no page has a number: that is how the whole edition is made."""
    tops = [value(page.number) for page in book.pages() if page.number]
    counted = len(tops) > 1 and all(two == (one or 0) + 1 for one, two in pairwise(tops))
    found = "none on any page"
    if counted:
        found += "; numbers at the end of line 1 count the pages"
    tally.expect(False, first, -1, "braille page numbers on the last lines", found)


def left_without_numbers(book: Book) -> bool:
    """Whether just the left-hand pages have no braille page numbers (Appendix E.3.4)."""
    sides: dict[bool, set[bool]] = {True: set(), False: set()}
    for page in book.pages():
        sides[page.left].add(bool(page.foot))
    return sides == {True: {False}, False: {True}}


@rule("B02")
def t_series(book: Book, tally: Tally) -> None:
    """t1, t2 ... in each volume."""
    for volume in book.volumes:
        _count(tally, volume, "t")


@rule("B03")
def p_series(book: Book, tally: Tally) -> None:
    """p1, p2 ... in each volume."""
    for volume in book.volumes:
        _count(tally, volume, "p")


@rule("B04")
def body_series(book: Book, tally: Tally) -> None:
    """1, 2 ... through all volumes; files alone may be later volumes, which is said."""
    _count(tally, book.pages(), "body", 0 if book.traced else begins_late(book))


def _count(tally: Tally, pages: Iterable[Page], series: str, before: int = 0) -> None:
    """Each number is one more than the one before it; the first one more than ``before``.  A page
    without a number inside the series counts too."""
    inside = False
    for page in pages:
        found = _SERIES.match(page.foot) if page.series == series else None
        if found is None:
            inside = inside and not page.foot
            before += inside
            continue
        now = value("#" + found[2]) or 0
        expected = f"{found[1]}{before + 1}"
        tally.expect(now == before + 1, page, page.depth - 1, expected, f"{found[1]}{now}")
        before, inside = now, True


@rule("B05")
def order_of_series(book: Book, tally: Tally) -> None:
    """t-pages, p-pages, body pages."""
    rank = {"t": 0, "p": 1, "body": 2}
    for volume in book.volumes:
        highest = "t"
        for page in volume:
            if page.series in rank:
                right = rank[page.series] >= rank[highest]
                found = f"a page of {NAMES[page.series]}"
                tally.expect(right, page, -1, f"no page before {NAMES[highest]} ends", found)
                highest = max(highest, page.series, key=rank.__getitem__)


@rule("B06")
def prefix_touches_number(book: Book, tally: Tally) -> None:
    """The letter t or p straight before the number."""
    for page in book.pages():
        row = page.rows[book.depth - 1] if len(page.rows) >= book.depth else ""
        loose = _PREFIX.search(row) if len(row) == book.width else None
        if page.foot[:1] in ("t", "p", ";") or loose:
            expected, found = "the letter straight before the number", "a sign or blank between"
            tally.expect(not loose, page, book.depth - 1, expected, found)


@rule("B07")
def no_page_left_out(book: Book, tally: Tally) -> None:
    """As many pages as the numbers tell, pages without a number counted too."""
    for volume in book.volumes:
        before: tuple[str, int, int] | None = None
        for at, page in enumerate(volume):
            found = _SERIES.match(page.foot)
            if found is None:
                continue
            now = value("#" + found[2]) or 0
            if before and before[0] == found[1] and at > before[2]:
                step = now - before[1]
                expected = f"{found[1]}{before[1] + at - before[2]}"
                tally.expect(
                    step == at - before[2], page, book.depth - 1, expected, f"{found[1]}{now}"
                )
            before = (found[1], now, at)


@rule("B08")
def body_begins_at_right(book: Book, tally: Tally) -> None:
    """Interpoint: the first body page of a volume is a right-hand page."""
    if book.interpoint:
        for volume in book.volumes:
            page = next((page for page in volume if page.series == "body"), None)
            if page:
                right = page.ordinal % 2 == 1
                tally.expect(right, page, -1, "a right-hand page", "a left-hand page")


@rule("B09")
def title_page_at_right(book: Book, tally: Tally) -> None:
    """Interpoint: the title page is a right-hand page."""
    if book.interpoint:
        for page in book.pages():
            if page.titled and page.foot == "t#a":
                right = page.ordinal % 2 == 1
                tally.expect(right, page, -1, "a right-hand page", "a left-hand page")
