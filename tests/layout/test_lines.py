"""Cutting cells into lines: words whole, compounds at their hyphen, centred lines (BF 1.9,
1.10, 4.4)."""

from __future__ import annotations

from convert.layout.furniture import Label
from convert.layout.items import Item
from convert.layout.lines import (
    Block,
    added,
    balance,
    count_lines,
    cut,
    lead_of,
    prepare,
    split,
    widened,
)
from convert.translation.cells import BLANK, Cells, Piece, ascii_of, cells_of
from convert.translation.passage import Passage
from tests.draw import box, cells_from, item, para, turn
from tests.fake import letter_cells


def block_of(item: Item) -> Block:
    return added([item])[0]


def block(text: str, breaks: tuple[int, ...] = (), fixed: frozenset[int] = frozenset()) -> Block:
    cells = cells_from(text)
    cells.fixed = fixed
    if breaks:
        size = len(text)
        cells.pieces = [Piece(cells.text, tuple(range(size)), bytes(size), size, breaks)]
        cells.starts, cells.prints = [0], [0]
    return block_of(Item("para", "para", cells=cells))


def cut_all(made: Block, room: int) -> list[str]:
    out, at = [], made.start
    while at < made.end:
        found = cut(made, at, made.end, room)
        assert found.end > at
        out.append(ascii_of(made.text[at : found.end] + found.tail))
        at = found.resume
    return out


def test_a_line_ends_at_the_last_space_that_fits() -> None:
    assert cut_all(block("one two three four"), 9) == ["one two", "three", "four"]


def test_a_word_that_just_fits_stays() -> None:
    assert cut_all(block("one two three"), 7) == ["one two", "three"]
    assert cut_all(block("one two three"), 13) == ["one two three"]


def test_a_word_too_long_is_not_cut_here() -> None:
    assert cut(block("abcdefghij kl"), 0, 13, 5).end == -1


def test_a_compound_may_end_a_line_after_its_hyphen() -> None:
    """BF 1.10: words are divided only at a hyphen, dash or slash that print has."""
    made = block("well-known house", breaks=(5,))
    assert cut_all(made, 8) == ["well-", "known", "house"]
    assert cut_all(made, 10) == ["well-known", "house"]


def test_a_compound_stays_whole_where_asked() -> None:
    """BF 1.10: no compound is divided between braille pages."""
    made = block("a well-known house", breaks=(7,))
    assert ascii_of(made.text[: cut(made, 0, made.end, 8).end]) == "a well-"
    assert ascii_of(made.text[: cut(made, 0, made.end, 8, compounds=False).end]) == "a"


def test_a_fixed_space_ends_no_line() -> None:
    made = block("ab cd ef", fixed=frozenset({5}))
    assert cut_all(made, 6) == ["ab", "cd ef"]


def test_cells_are_added_where_a_number_goes_over() -> None:
    """UEB 6.10: a line continuation sign where a long number is divided."""
    text = "#abc1def"
    piece = Piece(
        cells_of(text), tuple(range(8)), bytes(8), 8, (5,), ((5, cells_of('"'), cells_of("#")),)
    )
    cells = Cells(cells_of(text), [piece], [0], [0])
    made = block_of(Item("para", "para", cells=cells))
    found = cut(made, 0, made.end, 7)
    assert (found.end, ascii_of(found.tail)) == (5, '"')
    assert ascii_of(lead_of(made, 5)) == "#"
    assert lead_of(made, 0) == ""


def test_several_spaces_at_a_line_end_are_dropped() -> None:
    assert cut_all(block("one   two"), 6) == ["one", "two"]
    assert cut_all(block("one   two"), 4) == ["one", "two"]


def test_lines_of_a_heading_are_evenly_filled() -> None:
    """BF 4.4: no short word alone on the last line."""
    made = block("aaaa bbbb cccc dddd eeee f")
    assert cut_all(made, 24) == ["aaaa bbbb cccc dddd eeee", "f"]
    assert cut_all(made, balance(made, 0, made.end, 24)) == ["aaaa bbbb cccc", "dddd eeee f"]


def test_counting_the_lines_that_are_left() -> None:
    made = block("one two three four")
    assert count_lines(made, 0, 0, 9, 5) == 3
    assert count_lines(made, 0, 0, 9, 2) == 2
    assert count_lines(block_of(box("box-top", "7")), 0, 0, 40, 5) == 1


def test_a_print_page_inside_a_word_begins_after_it() -> None:
    """BF 1.11: the word is written whole on the earlier print page."""
    made = prepare([para("one two three", marks=((5, "turn", "9"),))], [])
    assert prepare([para("one", marks=((2, "turn", "9"),)), para("more")], [])[1].turn == Label.of(
        "9"
    )
    assert [(stop.cell, stop.label) for stop in made[0].stops] == [(7, Label.of("9"))]


def test_print_pages_at_the_edges_of_a_block_stand_by_themselves() -> None:
    marks = ((0, "turn", "8"), (7, "turn", "9"))
    made = prepare([para("one two", marks=marks), para("more")], [])
    assert [b.turn.text if b.turn else ascii_of(b.text) for b in made] == [
        "8",
        "one two",
        "9",
        "more",
    ]


def test_print_pages_with_no_text_between_are_combined() -> None:
    """BF 1.11: combined print pages."""
    made = prepare([para("one"), turn("22"), turn("23"), para("two")], [])
    assert [b.turn for b in made] == [None, Label("22", "23"), None]
    made = prepare([para("one", marks=((3, "turn", "4"),)), turn("5"), para("two")], [])
    assert made[1].turn == Label("4", "5")
    made = prepare([para("one two", marks=((3, "turn", "4"), (4, "turn", "5")))], [])
    assert [stop.label for stop in made[0].stops] == [Label("4", "5")]


def test_an_item_without_words_makes_no_block() -> None:
    assert prepare([item("para", "")], []) == []


def test_a_block_in_two_keeps_its_cells() -> None:
    made = block("one two three four")
    ahead, rest = split(made, 8, 0)
    assert ascii_of(ahead.text[ahead.start : ahead.end]) == "one two "
    assert ascii_of(rest.text[rest.start : rest.end]) == "three four"


def test_a_print_page_without_text_after_it_is_reported() -> None:
    dropped: list[Label] = []
    assert len(prepare([para("one"), turn("2")], dropped)) == 1
    assert dropped == [Label("2", "2")]


def test_a_wide_space_the_flow_added_is_three_blank_cells() -> None:
    """BF 1.9, 14.1.5: translators make one blank of any space; a wide space of print stays one.
    Marks and origins move along, and making the blocks again changes nothing."""
    text = "Tom\u2003I\u2003did"
    cells = letter_cells("Tom I did")
    cells.passage = Passage(text, at=((0, 0), (3, -1), (4, 3)))
    cells.marks = ((6, "line", None),)
    wide = widened(cells)
    assert wide.text == cells.text[:3] + BLANK * 3 + cells.text[4:]
    assert wide.starts == [0, 6, 8]
    assert wide.marks == ((8, "line", None),)
    assert wide.origin == [0, 1, 2, 3, 3, 3, 4, 5, 6, 7, 8]
    assert widened(wide) == wide
