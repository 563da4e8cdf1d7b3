"""Interpoint, braille on two sides of a leaf (BF Appendix E): a convention's choice."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from convert.check.edition import book_of
from convert.check.inspect import inspect_book
from convert.edition import Edition, Totals
from convert.layout.convention import Convention, load
from convert.settings import Settings
from tests.draw import lines_of
from tests.layout.books import Made, Maker, make


def two_sides(**more: Any) -> Convention:
    convention = load("bf2016")
    return replace(convention, page=replace(convention.page, sides="two", **more))


def book(chapters: int = 24, **more: Any) -> Made:
    return make(Maker().chapters(chapters, 60), convention=two_sides(**more), volume_pages=24)


def test_every_series_begins_on_a_right_hand_page() -> None:
    """E.3: the title page and the first page of text; a blank page before where needed."""
    made = book()
    assert len(made.book.volumes) > 2
    for volume in made.book.volumes:
        for series in ("t", "p", "body"):
            places = [at for at, page in enumerate(volume.pages, 1) if page.series == series]
            assert places[0] % 2 == 1


def test_blank_pages_are_counted_and_have_no_running_head() -> None:
    """E.3.5, E.3.6: a blank page has a number, and nothing else."""
    made = make(Maker().chapters(24, 60), convention=two_sides(), volume_pages=24,
                running_head="River Tales")  # fmt: skip
    blank = [page for _, _, page in made.book.pages() if not any(page.rows)]
    assert blank
    for page in blank:
        assert [line for line in lines_of(page) if line] == [lines_of(page)[-1]]
        assert lines_of(page)[-1].strip().startswith(("t#", "p#"))
    for volume in made.book.volumes:
        labels = [page.braille_page for page in volume.pages if page.series == "t"]
        assert labels == [f"t{n}" for n in range(1, len(labels) + 1)]
        title = " ".join(lines_of(volume.pages[0]))
        assert f"t#a-t#{'abcdefghi'[len(labels) - 1]}" in title


def test_left_hand_pages_may_have_no_braille_page_number() -> None:
    """E.3.4: their last line has the full width then."""
    made = book(left_numbers=False)
    longest = 0
    for volume in made.book.volumes:
        for at, page in enumerate(volume.pages, 1):
            assert bool(page.foot.strip("\u2800")) == (at % 2 == 1)
            if at % 2 == 0 and page.rows[-1] is not None:
                longest = max(longest, len(page.rows[-1].text))
    assert longest > 36


def test_one_side_is_the_rule() -> None:
    """BF 1.7, Appendix E: recommendations only."""
    made = make(Maker().chapters(24, 60), volume_pages=24)
    assert all(any(page.rows) for _, _, page in made.book.pages())


@pytest.mark.parametrize("cells, lines", [(40, 25), (30, 25), (28, 20), (33, 11)])
@pytest.mark.parametrize("numbers", [True, False])
def test_the_checks_hold_on_two_sides(cells: int, lines: int, numbers: bool) -> None:
    made = make(Maker().chapters(9, 40), convention=two_sides(left_numbers=numbers),
                volume_pages=24, cells=cells, lines=lines)  # fmt: skip
    edition = Edition("a", made.document, made.book, [], Totals(), Settings())
    failures = inspect_book(book_of(edition)).failures
    plain = make(Maker().chapters(9, 40), volume_pages=24, cells=cells, lines=lines)
    edition = Edition("a", plain.document, plain.book, [], Totals(), Settings())
    known = {failure.id for failure in inspect_book(book_of(edition)).failures}
    assert not {failure.id for failure in failures} - known
