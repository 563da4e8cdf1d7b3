"""Braille files made by others, who do some things otherwise: what is told of them is true and
told once, and nothing that is right is found fault with."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from convert.check import Result, inspect

CELLS, DEEP = 40, 12
TEXT = ["  ,ALL DAY4"] * (DEEP - 1)


def number(value: int) -> str:
    """A page number in cells."""
    return "#" + str(value).translate(str.maketrans("1234567890", "ABCDEFGHIJ"))


def pages(count: int = 6) -> list[list[str]]:
    """Pages of text with their braille page numbers on the last line."""
    rows = [(f"  ,{'M' * at}4", number(at)) for at in range(1, count + 1)]
    return [[first, *TEXT[1:], last.rjust(CELLS)] for first, last in rows]


def inspected(folder: Path, text: str) -> Result:
    (folder / "a.brf").write_bytes(text.encode("latin-1"))
    return inspect(folder / "a.brf")


def told(result: Result) -> dict[str, int]:
    """The checks that failed, and in how many places; the line that ends a volume left aside."""
    return dict(Counter(row.id for row in result.failures if row.id != "V07"))


def join(made: list[list[str]], feed: str = "\f") -> str:
    return "".join("".join(f"{line}\r\n" for line in page) + feed for page in made)


def test_a_form_feed_before_each_page(tmp_path: Path) -> None:
    """1.7: the first page is no empty one."""
    feeds = "".join("\f" + join([page], "") for page in pages())
    result = inspected(tmp_path, feeds)
    assert (result.pages, result.lines, told(result)) == (6, DEEP, {})


def test_form_feeds_on_lines_of_their_own(tmp_path: Path) -> None:
    result = inspected(tmp_path, "\r\n\f\r\n".join("\r\n".join(page) for page in pages()))
    assert (result.pages, result.lines, told(result)) == (6, DEEP, {})


def test_an_empty_line_below_every_page_number(tmp_path: Path) -> None:
    """It is said that it was left out; below one page only it is a line too many (1.7)."""
    result = inspected(tmp_path, join([[*page, ""] for page in pages()]))
    assert (result.lines, told(result)) == (DEEP, {})
    said = "An empty line below the braille page number of every page was not counted."
    assert said in result.notes
    made = pages()
    made[2].append("")
    assert told(inspected(tmp_path, join(made))) == {"G02": 1}


def test_page_numbers_in_the_middle_of_the_last_line(tmp_path: Path) -> None:
    """1.15: they are in the wrong place; the page is no narrower for it."""
    made = [[*page[:-1], page[-1].strip().center(CELLS).rstrip()] for page in pages()]
    for page in made:
        page[3] = page[5] = "A" * CELLS
    result = inspected(tmp_path, join(made))
    assert (result.cells, told(result)) == (CELLS, {"P14": 6})


@pytest.mark.parametrize("feed", ["\f", ""])
@pytest.mark.parametrize("fill", [False, True])
def test_page_numbers_at_the_top(feed: str, fill: bool, tmp_path: Path) -> None:
    """1.15: told once for the whole file, with where the numbers are."""
    made = [[page[-1], *TEXT[1:], *[""] * (DEEP - len(TEXT))] for page in pages()]
    if fill:
        made = [[line.ljust(CELLS) for line in page] for page in made]
    (tmp_path / "a.brf").write_bytes(join(made, feed).encode())
    result = inspect(tmp_path / "a.brf", (CELLS, DEEP))
    assert (result.pages, told(result)) == (6, {"B01": 1})
    (row,) = [row for row in result.failures if row.id == "B01"]
    assert row.found == "none on any page; numbers at the end of line 1 count the pages"


def test_one_page_without_its_number_is_told_at_that_page(tmp_path: Path) -> None:
    made = pages()
    made[3][-1] = ""
    (row,) = [row for row in inspected(tmp_path, join(made)).failures if row.id != "V07"]
    assert (row.id, row.page, row.line) == ("B01", 4, DEEP)


def test_a_title_page_without_numbers_may_have_empty_lines(tmp_path: Path) -> None:
    """2.3: what stands on a title page is spread over it."""
    made = [[*page[:-1]] for page in pages()]
    made[0] = ["          ,TIDES", "", "", "          ,VOLUME #A", "", *TEXT[5:]]
    assert told(inspected(tmp_path, join(made))) == {"B01": 1}
    made[1][4] = made[1][5] = ""
    assert told(inspected(tmp_path, join(made))) == {"B01": 1, "G05": 1}


@pytest.mark.parametrize("word, end, roman", [("MIX", 39, 0), ("MIX", 40, 1), ("CIVIC", 40, 0)])
def test_a_word_at_the_right_is_no_roman_page_number(
    word: str, end: int, roman: int, tmp_path: Path
) -> None:
    """1.14: a number ends in the last cell, and is one; MIX may be 1009, CIVIC is no number."""
    made = pages()
    made[2][0] = word.rjust(end)
    book = inspected(tmp_path, join(made))
    assert book.state["P14"] == "passed"
    assert (book.state["P12"] == "passed") is bool(roman)


def test_a_tab_is_called_by_its_name(tmp_path: Path) -> None:
    made = pages()
    made[0][1] = "\t,ALL DAY4"
    (row,) = [row for row in inspected(tmp_path, join(made)).failures if row.id == "G03"]
    assert row.found == "the character tab, U+0009, in cell 1"
