"""Checks of words and of what only the source can tell: words whole and all there, page ranges,
compounds, choices, speakers, entry words, items of the front matter."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from convert.check.edition import book_of
from convert.check.inspect import inspect_book
from convert.layout.book import Row
from convert.layout.items import Part
from convert.translation.cells import cells_of

from ..writers.make import Maker, cells_for, river_school
from .drawn import Drawing, failed

END = "\nev|~,! ,5d\n"
DAY = "p|  ,all day4\n"
QUESTION = "ex:1/2@e/2|#a4 ,: day\n"
FIRST, SECOND = "ex:2/2@e/2/2|  a4 mon\n", "ex:2/2@e/2/4|  ;b4 tues\n"
LONG = QUESTION + "ex:1/2+@e/2|    is x\n" * 10
# A right drawing and a wrong one for each check.
PAIRS = {
    # 1.10: no hyphenated compound is divided between braille pages; a minus sign is no hyphen.
    "G08": (
        f'= body 1 - -\n{DAY * 11}p|  ,po5#d9"-\n= body 2 - -\np+|known boat4\n{END}',
        f"= body 1 - -\n{DAY * 11}p|  ,a well-\n= body 2 - -\np+|known boat4\n{END}",
    ),
    # 2.7 to 2.11: an item of the front matter begins a new page.
    "V22": (
        f"= p p1 - -\nhc:1/1|~,preface\n\n{DAY}= body 1 - -\n{DAY}{END}",
        f"= p p1 - -\n{DAY}\nhc:1/1|~,preface\n\n{DAY}= body 1 - -\n{DAY}{END}",
    ),
    # 21.2: no typeform on all entry words.
    "J08": (
        "= body 1 - -\nix:1/1|ants1 #a\nix:1/1|.1bees1 #a\nix:1/1|cats1 #b\n" + END,
        "= body 1 - -\nix:1/1|.1ants1 #a\nix:1/1|.1bees1 #a\nix:1/1|.1cats1 #b\n" + END,
    ),
    # 10.1: choices on one page where a question is too long for one.
    "Q05": (
        f"= body 1 - -\n{LONG}= body 2 - -\n{FIRST}{SECOND}{END}",
        f"= body 1 - -\n{LONG}{FIRST}= body 2 - -\n{SECOND}{END}",
    ),
    # 11.12 to 11.18: a table without columns has a transcriber's note.
    "K08": (
        "= body 1 - -\np|  ,a\n\ntnn|      @.<,list$4@.>\n\nta|,lake3 #c4\n" + END,
        "= body 1 - -\np|  ,a\n\nta|,lake3 #c4\n" + END,
    ),
    # 14.1: speakers' names have only their first letters capitalised.
    "Y04": (f"= body 1 - -\nsp|,ann4 ,wait6\n{END}", f"= body 1 - -\nsp|,,ann4 ,wait6\n{END}"),
    # 1.11: the pages of a range have no text of their own.
    "P09": (
        f"= body 1 3 #c\n{DAY}pt|{'-' * 35}#d-#e\n{DAY}pt|{'-' * 38}#f\n{DAY}{END}",
        f"= body 1 3 #c\n{DAY}pt|{'-' * 35}#d-#e\n{DAY}pt|{'-' * 38}#e\n{DAY}{END}",
    ),
}


def test_a_form_inside_an_entry_does_not_part_a_table_from_its_note(tmp_path: Path) -> None:
    """11.12: the rows below it are of the same table; those of another table need their note."""
    drawn = (
        "= body 1 - -\np|  ,a\n\ntnn@a/b/c/8|      @.<,list$4@.>\n\nta@a/b/c/9/2|,lake3 #c4\n\n"
        "fo@a/b/c/9/4/2/2|,name .-\n\nta@{}|,pond3 #d4\n" + END
    )
    assert "K08" not in failed(Drawing(drawn.format("a/b/c/9/6")).inspect(tmp_path))
    assert "K08" in failed(Drawing(drawn.format("x/y")).inspect(tmp_path))


@pytest.mark.parametrize("name", sorted(PAIRS.keys() - {"P09"}))
def test_right_and_wrong(name: str, tmp_path: Path) -> None:
    right, wrong = PAIRS[name]
    assert Drawing(right).inspect(tmp_path).state[name] == "passed"
    assert name in failed(Drawing(wrong).inspect(tmp_path))


@pytest.mark.parametrize("last, first", [(".-", "boat4"), ("pre-", "& po/-w>4")])
def test_a_low_line_and_a_suspended_hyphen_divide_no_compound(
    last: str, first: str, tmp_path: Path
) -> None:
    drawn = f"= body 1 - -\n{DAY * 11}p|  ,a {last}\n= body 2 - -\np+|{first}\n{END}"
    assert Drawing(drawn).inspect(tmp_path).state["G08"] == "passed"


def test_what_stands_behind_a_hyphen_is_known_in_memory() -> None:
    """A blank behind the hyphen in the translation: no compound; a word: one is divided."""
    maker = Maker()
    maker.add("a well- known boat and more")
    edition = maker.edition()
    page = edition.volumes[0].pages[0]
    row = next(row for row in page.rows if row and row.kind == "para")
    (part,) = row.parts
    part.text = part.source.text[: part.source.text.index(cells_of("-")) + 1]
    assert book_of(edition).parted == frozenset()
    part.source.text = part.source.text.replace(cells_of("- "), cells_of("-"))
    page.rows[page.rows.index(row) + 1 :] = [None] * (len(page.rows) - page.rows.index(row) - 1)
    assert len(book_of(edition).parted or ()) == 1


@pytest.mark.parametrize("wrong", [False, True])
def test_ranges_of_print_pages(wrong: bool, tmp_path: Path) -> None:
    """1.11: a range covers print pages without text of their own; this needs the source."""
    from convert.check.pages import load

    book, _ = load([Drawing(PAIRS["P09"][wrong]).write(tmp_path)])
    assert inspect_book(book).state["P09"] == "needs source"
    book.print_pages = ("3", "4", "5", "6")
    assert inspect_book(book).state["P09"] == ("failed" if wrong else "passed")


def test_words_are_whole() -> None:
    """1.10: a line may end at a blank or a hyphen, not inside a word."""
    edition = river_school()
    assert inspect_book(book_of(edition)).state["G07"] == "passed"
    row = next(row for row in edition.volumes[0].pages[0].rows if row and row.kind == "para")
    (part,) = row.parts
    part.text = part.text[:-1]
    broken = [f for f in inspect_book(book_of(edition)).failures if f.id == "G07"]
    assert [(f.page, f.line) for f in broken] == [(1, 4)]
    edition.settings = replace(edition.settings, divide_words=True)
    assert inspect_book(book_of(edition)).state["G07"] == "not applicable"


def test_a_word_longer_than_the_line_must_be_broken_somewhere() -> None:
    maker = Maker()
    maker.add("x" * 90)
    assert inspect_book(book_of(maker.edition())).state["G07"] == "passed"


@pytest.mark.parametrize("words, state", [("@.<", "passed"), ("", "failed")])
def test_added_words_are_enclosed(words: str, state: str) -> None:
    """3.1: words that print does not have stand inside note indicators."""
    maker = Maker()
    maker.add("The river Ashe")
    cells = cells_for("Picture", -1)
    cells.text = cells_of(words) + cells.text
    part = Part(6, cells.text, cells)
    maker.rows.append(Row("tn", (part,), "first", "chapter.xhtml!/4/4", "description"))
    assert inspect_book(book_of(maker.edition())).state["N08"] == state


def test_nothing_is_lost() -> None:
    """The account of print characters closes."""
    edition = river_school()
    assert inspect_book(book_of(edition)).state["G09"] == "passed"
    edition.totals.lost = 2
    lost = [f for f in inspect_book(book_of(edition)).failures if f.id == "G09"]
    assert [f.found for f in lost] == ["2 that are lost or stand twice"]
