"""The names of the 64 cells."""

from __future__ import annotations

from convert.translation.back import read_back
from convert.translation.back_tables import alone, digits, groups, starting
from convert.translation.cells import ASCII_CELLS, ascii_of, dots_of
from convert.translation.names import cell_meanings, cell_name, cell_names, say_cells, say_dots

ALL = [chr(0x2800 + n) for n in range(64)]


def test_every_cell_has_a_name_and_no_two_share_one() -> None:
    names = [cell_name(cell) for cell in ALL]
    assert len(set(names)) == 64
    assert set(cell_names()) == {dots_of(cell) for cell in ALL}


def test_every_cell_has_its_ascii_character() -> None:
    assert "".join(cell_names()[dots_of(cell)]["ascii"] for cell in ALL) == ASCII_CELLS


def test_every_cell_means_something() -> None:
    assert [dots_of(cell) for cell in ALL if not cell_meanings(cell)] == []


def test_dots_are_said_in_words() -> None:
    assert say_dots("\u2800") == "empty cell"
    assert say_dots("\u2820") == "dot 6"
    assert say_dots("\u280b") == "dots 1-2-4"
    assert say_cells("\u2810\u2815") == "dot 5, dots 1-3-5"
    assert say_cells("\u2800\u2800\u2800") == "3 empty cells"


def test_the_names_agree_with_the_table_of_signs() -> None:
    """What the sign table says of one-cell signs stands in the table of cells (UEB 6, 10)."""
    for table, mode in ((alone(), "alone"), (starting(), "start"), (digits(), "number")):
        for cells, sign in table.items():
            if len(cells) == 1:
                row = cell_names()[dots_of(chr(0x2800 + ASCII_CELLS.index(cells.upper())))]
                assert sign.print in row[mode].split(", "), (cells, mode)
    for cells, sign in groups().items():
        row = cell_names()[dots_of(chr(0x2800 + ASCII_CELLS.index(cells.upper())))]
        assert sign.print in (row.get("letter"), *row.get("part", "").split(", "))


def test_a_cell_read_alone_means_what_its_row_says() -> None:
    """UEB 2.6: a single cell between spaces, read back, is its word or its letter."""
    for cell in ALL:
        row = cell_names()[dots_of(cell)]
        if "alone" in row:
            assert read_back(cell).print == row["alone"], ascii_of(cell)
