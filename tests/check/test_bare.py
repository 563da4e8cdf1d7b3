"""Braille files made by others, who do some things otherwise: what is told of them is true and
told once, and nothing that is right is found fault with."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from convert.check import Result, inspect

from .drawn import Drawing, broken, failed

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


DOTS = '"' * 30
LOOKS = f"""= t t1 - -
ti|~,tides
= t t2 - -
hc|~,special ,symbols

sy|.=.= "<#df1 #abcdef"> ,dot ,locator
sy|.=.7 "<#df1 #bcef"> ,italic passage
sy+|  9dicator
= p p1 v ;v
hc|~,3t5ts

toc|,tides {DOTS} #a
toc|,w9ds  {DOTS} #b
= body 1 1 #a
hc|~,tides

p|  ,! .7sea is h1;9#a.' & blue4

li|_4 salt
li|_4 foam

th|,lake   ,>ea
tr|"33333  "333
ta|,l;g "" #abj
= body 2 1 a#a
p|  ,it t5ds to rise4
nr|"333333
no|;9#a ,9 summ]4
= body 3 2 #b
hc|~;,a

ix|ants1 #a
hc|~;,b
ix|bees1 #a
hc|~;,c
ix|cats1 #b

ev|~,! ,5d
"""
LOOK_BREAKS = [
    ("P03", "= body 1 1 #a", "= body 1 1 a#a"),
    ("P04", "= body 2 1 a#a", "= body 2 1 b#a"),
    ("P06", "= body 1 1 #a", "= body 1 1 #h"),
    ("V09", "sy|.=.7 ", "sy|.=^7 "),
    ("V09", 'sy|.=.7 "<#df1 #bcef"> ,italic passage\nsy+|  9dicator\n', ""),
    ("V15", f"tides {DOTS} #a", f"tides {DOTS[1:]} #a"),
    ("V16", f"tides {DOTS} #a", f"tides {DOTS}\"#a"),
    ("V16", f"tides {DOTS} #a", f"tides {DOTS[:10]} {DOTS[11:]} #a"),
    ("K05", ',l;g "" #', ',l;g""" #'),
    ("L06", "_4 salt", "_4salt"),
    ("L06", "_4 salt", "_4  salt"),
    ("J02", "~;,b", "~,b"),
    ("H16", "hc|~,tides\n\np|", "hc|~.1,tides\n\np|"),
    ("F01", '"333333', '"33333'),
]  # fmt: skip


def test_what_looks_tell_is_checked_without_a_trace(tmp_path: Path) -> None:
    result = Drawing(LOOKS).inspect(tmp_path, trace=False)
    assert failed(result) == {"V03"}  # The title page is drawn short.
    assert {result.state[name] for name, _, _ in LOOK_BREAKS} == {"passed"}


@pytest.mark.parametrize("name, old, new", LOOK_BREAKS)
def test_what_looks_tell_is_found_without_a_trace(
    name: str, old: str, new: str, tmp_path: Path
) -> None:
    assert name in failed(Drawing(*broken((LOOKS,), old, new)).inspect(tmp_path, trace=False))


def test_single_letters_that_are_words_are_no_divisions(tmp_path: Path) -> None:
    """UEB 5.7: the letters a, i and o take no grade 1 sign where they stand alone."""
    drawn = "= body 1 - -\n" + "\n".join(f"hc|~{cells}\n" for cells in (",a", ";,b", ";,c"))
    assert "J02" not in failed(Drawing(drawn).inspect(tmp_path, trace=False))


def test_a_box_line_that_begins_most_pages_is_no_running_head(tmp_path: Path) -> None:
    """1.8: a running head is centred.  Nor is text from cell 1, or a transcriber's note, a head."""
    page = "bt|" + "7" * 40 + "\np|  ,{}4\nbb|" + "g" * 40 + "\n"
    drawn = "".join(f"= body {at} - -\n{page.format('m' * at)}" for at in range(1, 5))
    assert failed(Drawing(drawn).inspect(tmp_path, trace=False)) == {"V07"}
    drawn = drawn.replace("bt|" + "7" * 40, "tn|      @.<the same").replace("bb|" + "g" * 40, "")
    drawn = drawn.replace("4\n", "4@.>\n")
    assert failed(Drawing(drawn).inspect(tmp_path, trace=False)) == {"V07"}


@pytest.mark.parametrize("start, fails, noted", [(34, False, True), (2, True, False)])
def test_a_later_volume_alone(start: int, fails: bool, noted: bool, tmp_path: Path) -> None:
    """1.15: body pages count through all volumes; where only a later one is at hand, that is
    said and is no fault; a book that begins at 2 lacks a page."""
    made = pages(40)[start - 1 :]
    result = inspected(tmp_path, join(made))
    assert ("B04" in told(result)) is fails
    assert any("begins at braille page 34" in note for note in result.notes) is noted
    del made[2]
    assert "B04" in told(inspected(tmp_path, join(made)))
