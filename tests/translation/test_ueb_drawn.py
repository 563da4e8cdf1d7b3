"""Drawn lines and guide dots (UEB 16), both ways."""

from __future__ import annotations

import pytest

from convert.translation.back import read_back
from convert.translation.cells import cells_of
from convert.translation.passage import Passage

from .ueb_case import cells, g1, g2

# Print and cells: indicator, segments, terminator where no space follows (UEB 16.2).
LINES = [
    ("so ──── on", 's "33333 on'),
    ("━━━━", '"33333'),
    ("═══", '"3777'),
    ("┄┄┄ ┈┈┈", '"3111 "3111'),
    ("└──┘", '"3j33j'),
    ("┌──┐", '"34334'),
    ("──┼──", '"333w33'),
    ("a──b", "a\"333'b"),
    ("(───)", '"<"3333\'">'),
]


@pytest.mark.parametrize(("print_", "wanted"), LINES)
def test_a_line_is_drawn_in_horizontal_line_mode(print_: str, wanted: str) -> None:
    """UEB 16.2."""
    assert g2(print_) == wanted


@pytest.mark.parametrize("print_", ["so ──── on", "═══", "└──└", "──┼──", "a──b"])
def test_a_drawn_line_is_read_back(print_: str) -> None:
    """UEB 16.2."""
    assert read_back(cells(print_)[0].text).print == print_


def test_the_segments_are_named() -> None:
    steps = read_back(cells_of("\"37j'")).steps
    assert [step.name for step in steps] == [
        "horizontal line mode indicator",
        "double solid horizontal line",
        "corner with an upward line",
        "horizontal line mode terminator",
    ]


def test_lines_drawn_with_the_keyboard() -> None:
    """Common practice, no source: ten hyphens or equals signs in a row and nothing else."""
    assert g2("----------") == '"33333333333'
    assert g2("==========") == '"37777777777'
    assert g2("-----") == "-----"
    assert cells("Mr. ----- said")[1] == []


def test_one_segment_by_itself_is_no_line() -> None:
    """Print uses it for a dash: reported as a character without a sign (UEB 3.26)."""
    assert cells("one ─ two")[1] == ["ueb.unknown-character"]


def test_a_line_across_the_page_has_no_more_cells_than_matter() -> None:
    """The place of every print character is still known."""
    line, _ = cells("─" * 70)
    assert len(line.text) == 22
    assert line.pieces[0].length == 70


def test_upright_and_diagonal_segments() -> None:
    """UEB 16.2: a diagonal segment by itself would be read as a contraction."""
    assert g2("│ ┃ ┊ ║") == "_ _ ^ ,_"
    assert (g2("╱ ╲"), g1("╱ ╲")) == (";> ;<", "> <")


GUIDES = [
    ("Soup ........ 4", ',s\\p """""""" #d'),
    ("Soup........4", ',s\\p """""""" #d'),
    ("Chapter one ..... $5.00", ',*apt] "o """"" @s#e4jj'),
    ("Soup . . . . . 4", ',s\\p """"" #d'),
]


@pytest.mark.parametrize(("print_", "wanted"), GUIDES)
def test_dots_that_lead_to_a_number_are_guide_dots(print_: str, wanted: str) -> None:
    """UEB 16.5: a blank cell on each side."""
    shown, kinds = cells(print_)
    assert shown.text == cells_of(wanted)
    assert kinds == ["ueb.guide-dots"]


@pytest.mark.parametrize("print_", ["He was .... 5 then", "Wait....... what", "x ..... b", "....."])
def test_other_dots_are_an_ellipsis(print_: str) -> None:
    """UEB 7.3: as many as print has."""
    assert cells(print_)[1] == []
    assert cells(print_)[0].ascii.count("4") == print_.count(".")


def test_guide_dots_are_read_back() -> None:
    """UEB 16.5."""
    names = [step.name for step in read_back(cells("Soup ..... 4")[0].text).steps]
    assert "guide dots" in names


def test_guide_dots_keep_their_places() -> None:
    given = Passage("Soup........4")
    made = cells(given)[0]
    assert made.origin[made.text.index(cells_of('"'))] == 4
    assert made.origin[-1] == 12
