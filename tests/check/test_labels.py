"""Print pages that have other labels than figures (BF 1.11, 1.13, 1.14): roman numerals, letters
with figures, chapter and page, words."""

from __future__ import annotations

from pathlib import Path

import pytest

from convert.check import Result, inspect
from convert.check.inspect import inspect_book
from convert.check.numbers import order, plain, say
from convert.check.pages import load

from .drawn import Drawing, failed

LABELS = [
    ("Cover", ",cov]"),
    ("xii", "xii"),
    ("XII", ",,xii"),
    ("12a", "#ab;a"),
    ("A-1", ",a-#a"),
    ("R12", ",r#ab"),
    ("B.4", ";,b4#d"),
    ("C", ";,c"),
    ("4-17", "#d-#ag"),
]


def pages(*labels: tuple[str, str], head: str = "", series: str = "body") -> Drawing:
    """A braille page for each print page."""
    prefix = "" if series == "body" else series
    return Drawing(
        "".join(
            f"= {series} {prefix}{at} {label} {cells}{head}\np|  ,sea4\n"
            for at, (label, cells) in enumerate(labels, 1)
        )
    )


@pytest.mark.parametrize("head", ["", " head=,tides"])
@pytest.mark.parametrize("label, cells", LABELS)
def test_any_label_is_a_page_number(label: str, cells: str, head: str, tmp_path: Path) -> None:
    """It is no part of the running head, and ends its line as any other."""
    later = "a" + cells.removeprefix(";")
    drawn = pages((label, cells), (label, later), head=head.replace("tides", "tides,tides"))
    result = drawn.inspect(tmp_path)
    assert not {name for name in failed(result) if name[0] in "PR"}
    wanted = {"P01", "P03", "P04", "P12", "P14"} | ({"R01", "R03", "R04"} if head else set())
    assert {name for name in wanted if result.state[name] != "passed"} == set()


@pytest.mark.parametrize(
    "name, series, labels",
    [
        ("P06", "p", [("vi", "vi"), ("v", ";v")]),
        ("P06", "body", [("A-2", ",a-#b"), ("A-1", ",a-#a")]),
        ("P06", "body", [("12a", "#ab;a"), ("11", "#aa")]),
        ("P11", "body", [("12a", "#ab;b")]),
        ("P11", "body", [("XII", ",,xiii")]),
        ("P11", "p", [("v", ";x")]),
    ],
)
def test_wrong_labels(
    name: str, series: str, labels: list[tuple[str, str]], tmp_path: Path
) -> None:
    assert name in failed(pages(*labels, series=series).inspect(tmp_path))


def test_a_label_that_does_not_end_its_line(tmp_path: Path) -> None:
    """1.11: as after an editor took a blank cell away."""
    folder = pages(("Cover", ",cov]")).write(tmp_path)
    file = next(folder.glob("*.brf"))
    file.write_bytes(file.read_bytes().replace(b" ,COV]", b",COV]"))
    (row,) = [row for row in inspect(folder).failures if row.id == "P14"]
    assert row.found == "a line that ends in cell 39"


def test_a_page_that_goes_back_is_told_once(tmp_path: Path) -> None:
    """1.11: also roman ones; where chapters count from 1, only each first page."""
    cells = [("8", "#h"), ("1", "#a"), ("2", "#b"), ("3", "#c")]
    result = pages(*cells).inspect(tmp_path)
    (row,) = [row for row in result.failures if row.id == "P06"]
    assert (row.page, row.expected, row.found) == (2, "print page 8 or later", "1")


def test_chapter_and_page_are_no_range(tmp_path: Path) -> None:
    """1.13: 4-17 goes up from 3-20 and does not go back from 12; it covers no pages 4 to 17."""
    cells = [("12", "#ab"), ("4-17", "#d-#ag"), ("5-1", "#e-#a"), ("13", "#ac")]
    assert "P06" not in failed(pages(*cells).inspect(tmp_path))
    book, _ = load([tmp_path])
    book.print_pages = ("12", "4-17", "5-1", "13")
    assert inspect_book(book).state["P09"] == "not applicable"
    book.print_pages = ("12", "13")
    assert inspect_book(book).state["P09"] == "failed"


def shown(folder: Path, drawn: str, *labels: str) -> Result:
    book, _ = load([Drawing(drawn).write(folder)])
    book.print_pages = labels
    return inspect_book(book)


def test_print_pages_with_letters_and_roman_numerals_are_looked_for(tmp_path: Path) -> None:
    drawn = "".join(
        f"= body {at} {label} {cells}\np|  ,sea4\n" for at, (label, cells) in enumerate(LABELS, 1)
    )
    labels = [label for label, _ in LABELS]
    assert shown(tmp_path, drawn, *labels).state["P07"] == "passed"
    for other in ("12b", "XIII", "xi", "A-2", "R13", "B.5", "D", "4-18"):
        (row,) = [r for r in shown(tmp_path, drawn, *labels, other).failures if r.id == "P07"]
        assert row.expected == f"print page {other} shown"


def test_a_continuation_letter_does_not_show_where_a_print_page_begins(tmp_path: Path) -> None:
    """1.11: each print page is once the plain number, on line 1 or in a page change line."""
    drawn = "= body 1 1 #a\np|  ,sea4\npt|{}\np|  ,s&4\n= body 2 2 a#b\np|  ,sky4\n"
    assert shown(tmp_path, drawn.format("-" * 38 + "#b"), "1", "2").state["P07"] == "passed"
    assert shown(tmp_path, drawn.format("-" * 40), "1", "2").state["P07"] == "failed"


@pytest.mark.parametrize("cells, right", [(",plate #c", True), (" ,plate #c", False)])
def test_a_page_change_to_a_label_of_two_words(cells: str, right: bool, tmp_path: Path) -> None:
    line = "-" * (40 - len(cells)) + cells
    drawn = Drawing(f"= body 1 1 #a\np|  ,sea4\npt|{line}\np|  ,s&4\n")
    assert ("C01" not in failed(drawn.inspect(tmp_path))) is right


def test_numbers_are_compared_and_heard_without_their_signs() -> None:
    assert [plain(cells) for _, cells in LABELS[1:]] == [lab.lower() for lab, _ in LABELS[1:]]
    assert order("xix") == ("roman", 19)
    assert order(",a-#ab") == ("a-", 12)
    assert order(",cov]") is None
    assert say(",,xii") == "XII"
