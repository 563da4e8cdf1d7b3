"""Page numbers, continuation letters, page change lines, running heads (BF 1.8, 1.11, 1.15)."""

from __future__ import annotations

import pytest

from convert.layout.furniture import (
    Label,
    braille_label,
    braille_number,
    change_line,
    combine,
    continuation,
    head_line,
    head_room,
    number_cells,
    print_number,
    roman_value,
)
from convert.translation.cells import BLANK, ascii_of, cells_of


@pytest.mark.parametrize(
    "label, cells",
    [
        ("12", "#ab"),
        ("134", "#acd"),
        ("xii", "xii"),
        ("v", ";v"),
        ("i", "i"),
        ("XII", ",,xii"),
        ("A-3", ",a-#c"),
        ("C-3", ";,c-#c"),
        ("4-17", "#d-#ag"),
        ("R12", ",r#ab"),
        ("12a", "#ab;a"),
        ("12x", "#abx"),
        ("3.5", "#c4e"),
    ],
)
def test_labels_are_copied_as_printed(label: str, cells: str) -> None:
    """BF 1.13, 1.14; UEB 5.7 (a letter alone), 6.5 (a to j after digits)."""
    assert ascii_of(number_cells(label)) == cells


def test_continuation_letters_run_on_after_z() -> None:
    """BF 1.11; doubled letters after z are common practice, no source."""
    assert [continuation(n, anew=True) for n in (0, 1, 26, 27, 53)] == ["", "a", "z", "a", "a"]
    assert [continuation(n) for n in (0, 1, 2, 26, 27, 28, 52, 53)] == [
        "", "a", "b", "z", "aa", "ab", "az", "ba",
    ]  # fmt: skip


@pytest.mark.parametrize(
    "label, count, cells",
    [
        ("96", 2, "b#if"),  # E2: the third braille page of print page 96
        ("xii", 0, "xii"),  # E48
        ("xii", 1, "axii"),
        ("v", 0, ";v"),
        ("v", 1, "av"),
    ],
)
def test_the_letter_stands_before_the_number_unspaced(label: str, count: int, cells: str) -> None:
    assert ascii_of(print_number(Label.of(label), count)) == cells


def test_no_number_for_an_unnumbered_print_page() -> None:
    """BF 1.11.6."""
    assert print_number(Label.of(None), 3) == ""
    assert print_number(None, 0) == ""


def test_combined_pages_repeat_the_numeric_indicator() -> None:
    """BF 1.11: `#bb-#bc`, later `a#bb-#bc`."""
    label = combine(Label.of("22"), Label.of("23"), [])
    assert label.text == "22-23"
    assert ascii_of(print_number(label, 0)) == "#bb-#bc"
    assert ascii_of(print_number(label, 1)) == "a#bb-#bc"


def test_three_combined_pages_are_one_range() -> None:
    label = combine(combine(Label.of("iv"), Label.of("v"), []), Label.of("vi"), [])
    assert label == Label("iv", "vi")


def test_labels_that_do_not_run_on_are_not_a_range() -> None:
    dropped: list[Label] = []
    assert combine(Label.of("iv"), Label.of("1"), dropped) == Label.of("1")
    assert combine(Label.of("9"), Label.of("3"), dropped) == Label.of("3")
    assert combine(Label.of("8"), Label.of(None), dropped) == Label.of(None)
    assert [label.text for label in dropped] == ["iv", "9", "8"]
    assert combine(Label.of(None), Label.of("8"), dropped) == Label.of("8")


@pytest.mark.parametrize(
    "text, value", [("i", 1), ("iv", 4), ("XII", 12), ("xlix", 49), ("c", 100)]
)
def test_roman_values(text: str, value: int) -> None:
    assert roman_value(text) == value


def test_page_change_lines() -> None:
    """E3, E4, E5: dots 3-6 up to the number; a full row for an unnumbered page."""
    assert ascii_of(change_line(Label.of("12"), 40)) == "-" * 37 + "#ab"
    assert ascii_of(change_line(Label("22", "23"), 40)) == "-" * 33 + "#bb-#bc"
    assert ascii_of(change_line(Label.of(None), 40)) == "-" * 40


@pytest.mark.parametrize(
    "series, number, cells, label",
    [("t", 2, "t#b", "t2"), ("p", 4, "p#d", "p4"), ("body", 127, "#abg", "127")],
)
def test_the_three_series_of_braille_pages(
    series: str, number: int, cells: str, label: str
) -> None:
    """E39: no grade 1 indicator, no space."""
    assert ascii_of(braille_number(series, number)) == cells
    assert braille_label(series, number) == label


def test_a_running_head_is_centred() -> None:
    """E32."""
    head = cells_of(",,riv] ,,tales")
    line = head_line(head, cells_of("#ab"), 40, 3)
    assert ascii_of(line) == "             ,,riv] ,,tales          #ab"
    assert head_line(head, "", 40, 3) == BLANK * 13 + head


def test_a_long_running_head_moves_left_of_the_number() -> None:
    """BF 1.8: three empty cells before the number, and at the left."""
    head = cells_of("a" * 30)
    line = ascii_of(head_line(head, cells_of("#ab"), 40, 3))
    assert line == "    " + "a" * 30 + "   #ab"
    assert head_room(3, 40, 3) == 31
    assert head_room(0, 40, 3) == 34
