"""Cells as people type them."""

from __future__ import annotations

import pytest

from convert.translation.cell_text import read_cells, write_cells


@pytest.mark.parametrize(
    "line, way",
    [(",! cat", None), (",! CAT", "ascii"), ("⠠⠮ ⠉⠁⠞", None), ("⠠⠮⠀⠉⠁⠞", "unicode"),
     ("6 2-3-4-6 0 1-4 1 2-3-4-5", None), ("6 2346 0 14 1 2345", None),
     ("6 2-3-4-6 0 1-4 1 2-3-4-5", "dots"), ("6 2346 0 14 1 2345", "dots")],
)  # fmt: skip
def test_every_way_gives_the_same_cells(line: str, way: str | None) -> None:
    assert read_cells(line, way) == "⠠⠮⠀⠉⠁⠞"


@pytest.mark.parametrize("line", ["8 0", "#1-2", "4", "1-2 21", "7-8", "a12", ""])
def test_what_is_not_all_rising_dots_is_ascii_braille(line: str) -> None:
    assert read_cells(line) == read_cells(line, "ascii")


@pytest.mark.parametrize(
    "way, written",
    [("ascii", ",! cat"), ("unicode", "⠠⠮⠀⠉⠁⠞"), ("dots", "6 2-3-4-6 0 1-4 1 2-3-4-5")],
)
def test_cells_are_written_every_way(way: str, written: str) -> None:
    assert write_cells("⠠⠮⠀⠉⠁⠞", way) == written


@pytest.mark.parametrize(
    "line, way, told",
    [
        ("a é", None, "character 3, “é”"),
        ("1-2 1-9", "dots", "cell 2, “1-9”, is not dots"),
        ("1-1", "dots", "cell 1, “1-1”, names a dot twice"),
        ("1-2 ⠁", "dots", "cell 2"),
        ("12-3", "dots", "cell 1, “12-3”, is not dots.*a space between cells: 1-2 3"),
        ("3456-14", None, "“3456-14” seems to be dot numbers.*write 3-4-5-6 1-4"),
        ("6-2346 0 14-1", None, "write 6 2-3-4-6 0 1-4 1"),
        ("⠁⣁", None, "cell 2, dots 1-7-8, has more than six dots"),
        ("⠁a", None, "character 2, “a”, is not Unicode braille"),
    ],
)
def test_what_is_no_cell_is_named(line: str, way: str | None, told: str) -> None:
    with pytest.raises(ValueError, match=told):
        read_cells(line, way)
