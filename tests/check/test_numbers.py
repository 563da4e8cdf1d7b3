"""Pages, page numbers and page change lines: a right page set, and the same broken in one way
for each check (Braille Formats 2016, 1.7 to 1.15)."""

from __future__ import annotations

from pathlib import Path

import pytest

from convert.check import inspect
from convert.check.inspect import inspect_book
from convert.check.pages import load

from .drawn import Drawing, assert_all_pass, broken, failed

TITLE = "= t t1 - -\nti|~,,riv] ,,tales\n" + "\n" * 10 + "ti|~,volume\n"
FRONT = """= p p1 v ;v
hc:1/1|~,preface

p|  ,a few words befe ! tales4
= p p2 v av
p|  ,m words4
"""
BODY = """= body 1 12 #ab
p|  ,! riv] 0 hi<4
p|  ,! boat c4
p+|! o!r side4
p|  ,all day4
p|  ,all day4
p|  ,all day4
p|  ,all day4
p|  ,all day4
p|  ,all day4
p|  ,all day4
p|  ,all day4
= body 2 12 a#ab
p|  ,she wait$4
pt|-------------------------------------#ac
p|  ,! sea 0 r\\<4
p|  ,he wait$4
p+|all day4
p+|all day4
p+|all day4
p+|all day4
p+|all day4
p+|all day4
pt|-------------------------------------#ad
p|  ,! 5d 0 ne>4
= body 3 14 a#ad
p|  ,he wait$4
p|  ,h1d h+$4
pt|---------------------------------#ae-#af
p|  ,he slept4

ev|~,5d ( ,volume #a
"""
LATER = """= body 4 15-16 a#ae-#af
p|  ,he woke4

ev|~,! ,5d
"""
PAGES = (TITLE + FRONT + BODY, TITLE + LATER)
FULL = "p|  all day1 all day1 all day1 all day"
IDS = {
    *(f"G0{n}" for n in (1, 2, 3, 4, 5, 6)), "G10",
    *(f"P0{n}" for n in (1, 2, 3, 4, 5, 6, 8)), "P10", "P11", "P12", "P13", "P14",
    *(f"B0{n}" for n in (1, 2, 3, 4, 5, 6, 7)),
    "C01", "C03", "C04", "C05", "C06", "C12", "C13", "C15", "V23",
}  # fmt: skip

TURN = "pt|" + "-" * 37
BREAKS = [
    ("G01", "p|  ,he slept4", f"p|  {'x' * 39}"),
    ("G03", "p|  ,he slept4", "p|  ,he ~\x7f slept4"),
    ("G04", "p|  ,he woke4\n\nev|~,! ,5d\n", "\n"),
    ("G05", "p|  ,he woke4\n", "p|  ,he woke4\n\n"),
    ("G10", "p+|all day4\npt", "p+|  all day4\npt"),
    ("P01", "= body 2 12 a#ab", "= body 2 12 -"),
    ("P02", "= t t1 - -", "= t t1 - #ab"),
    ("P03", "= body 1 12 #ab", "= body 1 12 a#ab"),
    ("P04", "= body 2 12 a#ab", "= body 2 12 b#ab"),
    ("P04", "= body 3 14 a#ad", "= body 3 14 #ad"),
    ("P04", "= p p2 v av", "= p p2 v bv"),
    ("P05", "= body 2 12 a#ab", "= body 2 12 ;a#ab"),
    ("P06", "= body 3 14 a#ad", "= body 3 14 #i"),
    ("P08", "= body 4 15-16 a#ae-#af", "= body 4 15-16 a#ae-af"),
    ("P10", "= p p1 v ;v", "= p p1 v v"),
    ("P10", "= p p2 v av", "= p p2 v ;av"),
    ("P11", "= body 2 12 a#ab", "= body 2 12 #aa"),
    ("P12", "p|  ,! riv] 0 hi<4", FULL),
    ("P13", "p|  ,! 5d 0 ne>4", FULL),
    ("B01", "= body 3 ", "= body - "),
    ("B02", "= t t1 - -", "= t t2 - -"),
    ("B03", "= p p2 v av", "= p p3 v av"),
    ("B04", "= body 4", "= body 1"),
    ("B05", "= body 2 12", "= p p3 12"),
    ("B06", "= p p1 v ;v", "= p ;p1 v ;v"),
    ("B07", "= body 3", "= body 5"),
    ("C01", TURN + "#ac", TURN[:-3] + " #ac"),
    ("C01", TURN + "#ac", TURN[:-1] + "#ac"),
    ("C03", "pt|-------------------------------------#ad\np|  ,! 5d 0 ne>4",
     "p|  ,! 5d 0 ne>4\npt|----------------------------------#ad"),
    ("C04", "p|  ,h1d h+$4\npt", "p|  ,h1d h+$4\n= body 4 14 b#ad\npt"),
    ("C05", "p|  ,! 5d 0 ne>4\n", ""),
    ("C06", "p|  ,she wait$4\npt|-------------------------------------#ac\n",
     "p|  ,she wait$4\n\npt|-------------------------------------#ac\n\n"),
    ("C12", "= body 3 14 a#ad", "= body 3 14 a#ac"),
    ("C12", "= body 3 14 a#ad", "= body 3 14 #ad"),
    ("C13", TURN + "#ac", TURN + "#ab"),
    ("C15", "pt|---------------------------------#ae-#af",
     TURN + "#ae\n" + TURN + "#af"),
    ("V23", "= body 1 ", "= body 2 "),
]  # fmt: skip

# Breaks of the files themselves: what a person's editor or another program can do.
FILE_BREAKS = [
    ("G02", b"\r\n\x0c", b"\r\n\r\n\x0c"),
    ("G06", b",! BOAT C4\r", b",! BOAT C4   \r"),
    ("P05", b" A#AB\r", b"A #AB\r"),
    ("P14", b" #AB\r\n", b"#AB\r\n"),
    ("P14", b" #B\r\n", b"#B\r\n"),
    ("B06", b" P#A\r\n", b"P #A\r\n"),
]


def test_two_print_pages_in_a_row_with_one_number(tmp_path: Path) -> None:
    """1.11: the change says the number again where print has it so; this needs the source."""
    wrong = broken(PAGES, TURN + "#ac", TURN + "#ab")
    book, _ = load([Drawing(*wrong).write(tmp_path)])
    book.print_pages = ("v", "12", "13")
    assert inspect_book(book).state["C13"] == "failed"
    book.print_pages = ("v", "12", "12", "13")
    assert inspect_book(book).state["C13"] == "passed"


def lettered(*numbers: str) -> Drawing:
    """A page for each print page number."""
    pages = [f"= body {at} 1 {cells}\np|  ,sea4\n" for at, cells in enumerate(numbers, 1)]
    return Drawing("".join(pages))


@pytest.mark.parametrize(
    "numbers, lines",
    [
        (("#a", "a#a", "b#a", "c#a"), []),
        (("#a", "b#a", "b#a", "c#a"), [2]),  # One wrong letter.
        (("#a", "#a", "b#a", "c#a"), [2]),  # One letter is lacking.
        (("#a", "b#a", "c#a", "d#a"), [2]),  # All are one too far.
        (("#a", "a#a", "a#a", "b#a"), [3]),  # One stands twice.
    ],
)
def test_one_wrong_letter_is_told_once(
    numbers: tuple[str, ...], lines: list[int], tmp_path: Path
) -> None:
    """1.11: the letters are consecutive; those that go on from a wrong one are not told again."""
    result = lettered(*numbers).inspect(tmp_path)
    assert [row.page for row in result.failures if row.id == "P04"] == lines


def test_the_next_print_page_has_the_same_number(tmp_path: Path) -> None:
    """1.11: it begins without a letter, as the sections of a word document count from 1."""
    book, _ = load([lettered("#a", "#a", "a#a").write(tmp_path)])
    assert inspect_book(book).state["P04"] == "failed"
    book.memo.clear()
    book.print_pages = ("1", "1")
    assert inspect_book(book).state["P04"] == "passed"


def test_right_pages_pass(tmp_path: Path) -> None:
    assert_all_pass(Drawing(*PAGES).inspect(tmp_path), IDS)


@pytest.mark.parametrize("name, old, new", BREAKS)
def test_broken_pages_fail(name: str, old: str, new: str, tmp_path: Path) -> None:
    assert name in failed(Drawing(*broken(PAGES, old, new)).inspect(tmp_path))


@pytest.mark.parametrize("name, old, new", FILE_BREAKS)
def test_broken_files_fail(name: str, old: bytes, new: bytes, tmp_path: Path) -> None:
    folder = Drawing(*PAGES).write(tmp_path)
    file = folder / "drawn.v1.brf"
    data = file.read_bytes()
    assert old in data
    file.write_bytes(data.replace(old, new, 1))
    assert name in failed(inspect(folder))


# ------------------------------------------------------------------ unnumbered print pages

UNNUMBERED = """= body 1 - - head=,,riv] ,,tales

p|  ,look at ! pictures4
pt|----------------------------------------
p|  ,! old mill
= body 2 - - head=,,riv] ,,tales

pt|----------------------------------------
p|  ,! bri;ge

ev|~,! ,5d
"""


def drawn_unnumbered(*change: str) -> Drawing:
    """Unnumbered pages under a running head (1.11): a full row of dots 36, at a page top on
    line 2."""
    return Drawing(broken((UNNUMBERED,), *change)[0] if change else UNNUMBERED)


def test_unnumbered_page_changes(tmp_path: Path) -> None:
    assert_all_pass(drawn_unnumbered().inspect(tmp_path), {"C02", "C14", "R01", "R03", "R04"})


@pytest.mark.parametrize(
    "name, old, new",
    [
        ("C02", "pt|----------------------------------------\np|  ,! old",
         "pt|--------------------------------------\np|  ,! old"),
        ("C14", "\n\npt", "\n\n\npt"),
        ("R01", "head=,,riv] ,,tales", "head=,,riv] ,,tale"),
        ("R03", "head=,,riv] ,,tales", "head=< ,,riv] ,,tales"),
        ("R04", "head=,,riv] ,,tales", "head=<      ,,riv] ,,tales"),
    ],
)  # fmt: skip
def test_unnumbered_page_changes_broken(name: str, old: str, new: str, tmp_path: Path) -> None:
    assert name in failed(drawn_unnumbered(old, new).inspect(tmp_path))


# ------------------------------------------------------------------ page changes and elements

TURNS = """= body 1 12 #ab
p|  ,y w ne$ ^!4

li:1/1|a pair ( old
li:1/1+|  gloves
pt|-------------------------------------#ac
li:1/1|pap]

pt|-------------------------------------#ad
p|  ,x 0 late4
p+|,! la/
pt|-------------------------------------#ae
p+|boat4
= body 2 15 a#ae
p|  ,now1 we>y & c1
p+|!y slept4
pt|-------------------------------------#af

hc:1/1|~,%apes

p|  ,a square4
pt|-------------------------------------#ag

bt|7777777777777777777777777777777777777777
p|  ,try ?4
bb|ggggggggggggggggggggggggggggggggggg
= body 3 17 a#ag

p|  ,a circle4

ev|~,! ,5d
"""


def test_elements_at_page_changes(tmp_path: Path) -> None:
    ids = {"C06", "C07", "C08", "C09", "C10"}
    assert_all_pass(Drawing(TURNS).inspect(tmp_path), ids)


@pytest.mark.parametrize(
    "name, old, new",
    [
        ("C07", "pt|-------------------------------------#af\n\n", "\npt|" + "-" * 37 + "#af\n"),
        ("C08", "\npt|-------------------------------------#ad\n", "pt|" + "-" * 37 + "#ad\n\n"),
        ("C09", "gloves\npt", "gloves\n\npt"),
        ("C10", "#ag\n\nbt", "#ag\nbt"),
    ],
)
def test_elements_at_page_changes_broken(name: str, old: str, new: str, tmp_path: Path) -> None:
    assert name in failed(Drawing(*broken((TURNS,), old, new)).inspect(tmp_path))


def test_a_page_change_inside_an_element_is_not_one_at_its_end(tmp_path: Path) -> None:
    """1.11: what follows the element needs its blank line below the element's last line."""
    inside = "li:1/1|pap]\npt|-------------------------------------#ad\nli:1/1+|  & 9k\n\n"
    drawn = broken((TURNS,), "li:1/1|pap]\n\npt|-------------------------------------#ad\n", inside)
    assert not {"C07", "C08", "C09"} & failed(Drawing(*drawn).inspect(tmp_path))
    goes_on = "#af\np+|)\t a dr1m4\n\nhc"
    drawn = broken((TURNS,), "#af\n\nhc", goes_on)
    assert "C07" not in failed(Drawing(*drawn).inspect(tmp_path))


def test_a_word_of_one_letter_before_the_page_number_is_no_continuation_letter(
    tmp_path: Path,
) -> None:
    """1.11: three blank cells stand between the words of line 1 and the print page number."""
    drawn = broken(PAGES, "p|  ,! riv] 0 hi<4", "p|  ,! riv] is z wide z a")
    assert_all_pass(Drawing(*drawn).inspect(tmp_path), {"P05"})


def test_a_number_in_the_text_is_no_page_number(tmp_path: Path) -> None:
    """1.2: where the edition has no print pages, a number may end line 1 of a page."""
    text = "  ,! sun is as wide as".ljust(33) + " a #aji"
    assert len(text) == 40
    drawn = Drawing(f"= body 1 - -\np|{text}\n\nev|~,! ,5d\n")
    assert "P05" not in failed(drawn.inspect(tmp_path))


def test_text_goes_on_in_the_runover_cell(tmp_path: Path) -> None:
    """1.11: after the page change line the element goes on at its runover cell."""
    right = TURNS.replace("p|  ,x 0 late4\np+|,! la/", "p|  ,x 0\np+|,! la/")
    assert_all_pass(Drawing(right).inspect(tmp_path), {"C11"})
    wrong = right.replace("p+|boat4", "p+|  boat4")
    assert "C11" in failed(Drawing(wrong).inspect(tmp_path))
