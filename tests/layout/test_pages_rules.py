"""Where pages turn: keep rules and how they give way, page tops, the placing of print page
changes, narrow lines (BF 1.3 to 1.9 of the digest, 4.3, 7.3, 8.3)."""

from __future__ import annotations

import pytest

from convert.errors import Bug
from convert.layout.items import Item, Part, SetLine
from convert.layout.shape import Shape
from convert.translation.cells import Piece, ascii_of, cells_of
from tests.draw import RELAX, box, heading, item, lay, lay_lines, para, text_of, turn


def shape(lines: int, cells: int = 40, **more: object) -> Shape:
    return Shape(cells, lines, relax=RELAX, **more)  # type: ignore[arg-type]


def lines(count: int, kind: str = "list") -> list[Item]:
    return [item(kind, f"line{chr(97 + at)}", "1-3") for at in range(count)]


def texts(items: list[Item], form: Shape) -> list[list[str]]:
    return [text_of(made.page) for made in lay(items, form)]


# ---------------------------------------------------------------- keep rules


def test_a_heading_is_not_left_at_the_foot() -> None:
    """BF 4.3: at least one line of text stays with a heading."""
    pages = texts([*lines(8), heading("head"), para("text", before=1)], shape(11))
    assert pages[0][8:] == ["", "", ""]
    assert pages[1][:3] == ["                  head", "", "  text"]


def test_a_stack_of_headings_moves_together() -> None:
    """BF 4.3."""
    five = item("h-5", "five", "5-5", before=1, needs_before=True, keep=(("with_next", 1),))
    pages = texts([*lines(6), heading("head"), five, para("text")], shape(10))
    assert pages[0][6:] == [""] * 4
    assert [line.strip() for line in pages[1][:4]] == ["head", "", "five", "text"]


def test_a_series_of_headings_longer_than_a_page_goes_over_it() -> None:
    """BF 4.10: no rule gives way; no heading on the last line (4.3), the last one with text."""
    series = [item("h-5", f"head {n}", "5-5", keep=(("with_next", 1),)) for n in range(9)]
    made = lay([*lines(3), *series, para("text")], shape(6))
    assert [page.breaches for page in made] == [(), (), ()]
    pages = texts([*lines(3), *series, para("text")], shape(6))
    assert [[line.strip() for line in page if line.strip()] for page in pages] == [
        ["linea", "lineb", "linec", "head 0", "head 1"],
        ["head 2", "head 3", "head 4", "head 5", "head 6"],
        ["head 7", "head 8", "text"],
    ]


def test_a_heading_before_a_list_has_a_whole_item_after_it() -> None:
    """BF 4.3, committee ruling on lists."""
    five = item("h-5", "five", "5-5", keep=(("whole", 1), ("next_whole", 1)))
    entry = item("list", "abcd " * 14, "1-3")
    pages = texts([*lines(8), five, entry], shape(10))
    assert pages[0][8:] == ["", ""]
    assert pages[1][0] == "    five"
    assert texts([*lines(7), five, entry], shape(10))[0][7] == "    five"


def test_a_list_does_not_begin_on_the_last_line() -> None:
    """BF 8.3.5: also when its first item is one line."""
    first = item("list", "first", "1-3", keep=(("start_not_on_last", 1),))
    pages = texts([*lines(5, "para"), first, *lines(3)], shape(6))
    assert pages[0][5] == ""
    assert pages[1][0] == "first"


def test_no_single_lines_where_asked() -> None:
    keep = (("head_min", 2), ("tail_min", 2))
    long = para("abcd " * 22, keep=keep)  # three lines
    pages = texts([*lines(9), long], shape(10))
    assert pages[0][9] == ""
    pages = texts([*lines(8), long], shape(10))
    assert pages[0][8:] == ["", ""]


def test_a_box_line_has_text_beside_it() -> None:
    """BF 7.3: the top line is followed, the bottom line preceded, by a line of text."""
    top = box("box-top", "7", before=1, needs_before=True, keep=(("with_next", 1),))
    bottom = box("box-bottom", "g", keep=(("with_previous", 1),))
    pages = texts([*lines(8), top, item("para", "inside"), bottom], shape(10))
    assert pages[0][8:] == ["", ""]
    assert pages[1][:3] == ["7" * 40, "inside", "g" * 40]
    pages = texts([*lines(6), top, *lines(2, "para"), bottom], shape(10))
    assert pages[0][8:] == ["linea", ""]
    assert pages[1][:2] == ["lineb", "g" * 40]


def hyphens(cells: str) -> tuple[int, ...]:
    return tuple(at for at, cell in enumerate(ascii_of(cells), 1) if cell == "-")


def hyphened(text: str, **more: object) -> Item:
    """A paragraph whose words may be divided after their hyphens, as a translator says."""
    made = para(text, **more)
    assert made.cells is not None
    made.cells.pieces = [
        Piece(p.cells, p.origin, p.sign, p.length, hyphens(p.cells)) for p in made.cells.pieces
    ]
    return made


def test_no_compound_is_divided_between_pages() -> None:
    """BF 1.10: a line may end at the hyphen of a compound, a braille page may not."""
    long = "abcdefghij-abcdefghij-abcdefghij-abcdefghij-abcdefghij"
    pages = texts([*lines(3), hyphened(f"one two {long} end")], shape(5))
    assert pages[0][3:] == ["  one two abcdefghij-abcdefghij-", "abcdefghij-abcdefghij-abcdefghij"]
    made = lay([*lines(3), hyphened(f"one two {long}-abcdefghij-abcdefghij")], shape(5))
    assert text_of(made[0].page)[3:] == ["", ""]
    assert text_of(made[1].page)[0] == "  one two abcdefghij-abcdefghij-"
    assert not made[0].breaches


def test_a_compound_longer_than_a_page_is_divided_and_recorded() -> None:
    """BF 1.10: nothing else fits."""
    made = lay([hyphened("-".join(["abcdefghij"] * 30))], shape(5))
    assert text_of(made[0].page)[4].endswith("-")
    assert [rule for rule, *_ in made[0].breaches] == ["compound_whole"]


def test_a_compound_stays_whole_where_another_rule_gives_way() -> None:
    """BF 1.10: a heading longer than a page is divided, but not inside a compound."""
    made = lay([hyphened("ab-cd " * 60 + "end", keep=(("whole", 1),))], shape(5))
    words = "abcdefghijklm-abcdefghijklmnopqrst " * 9
    long = lay([hyphened(words, keep=(("whole", 1),))], shape(6))
    for pages in (made, long):
        last = [text_of(each.page) for each in pages[:-1]]
        assert last
        assert not any(line.endswith("-") for page in last for line in page[-1:])
        assert {rule for each in pages for rule, *_ in each.breaches} == {"whole"}


def test_a_page_may_end_at_a_dash() -> None:
    """BF 1.10: words on both sides of a dash are whole."""
    pages = texts([*lines(4), hyphened("one two abcdefghijkl ,-abcdefghijkl")], shape(5))
    assert pages[0][4].startswith("  one two")


def test_an_attribution_stays_with_its_text() -> None:
    """BF 9.4: the last line of the text goes with it."""
    name = item("attribution", "name", "6-6", keep=(("with_previous", 1),))
    pages = texts([*lines(4), item("displayed", "abcd " * 13, "3-3"), name], shape(6))
    assert pages[0][5] == ""
    assert pages[1][:2] == ["  " + ("abcd " * 6).strip(), "     name"]


def test_a_rule_gives_way_in_order_and_is_recorded() -> None:
    """Nothing fits: the rule that comes first in the order goes, and its style is named."""
    whole = para("abcd " * 80, keep=(("whole", 1),))
    made = lay([whole], shape(6))
    assert [[(rule, b.item.style, row) for rule, b, row in page.breaches] for page in made] == [
        [("whole", "para", 5)],
        [],
    ]
    stack = [item("caption", "five", "7-5", keep=(("with_next", 1),)) for _ in range(8)]
    made = lay(stack, shape(6))
    assert [rule for rule, *_ in made[0].breaches] == ["with_next"]


def test_new_page() -> None:
    """BF 21.2: an alphabetic reference begins a new page; a print page change goes with it."""
    pages = lay_lines(
        [*lines(2), turn("7"), item("index", "index", "1-3", new_page=True)], shape(6)
    )
    assert pages[0][2] == ""
    assert pages[1][0].startswith("index")
    assert pages[1][0].endswith("#g")
    pages = lay_lines([*lines(2), turn("7", new_page=True), item("index", "index")], shape(6))
    assert pages[1][0].startswith("index")


def test_a_page_that_is_asked_for_is_marked() -> None:
    """BF 1.9: no blank line is due at its top, however full the page before."""
    made = lay([*lines(9), heading("head", new_page=True), para("text", before=1)], shape(10))
    assert [each.page.asked for each in made] == [True, True]
    assert text_of(made[1].page)[0].strip() == "head"
    made = lay([*lines(9), heading("head"), para("text", before=1)], shape(10))
    assert [each.page.asked for each in made] == [True, False]
    assert text_of(made[1].page)[1].strip() == "head"


def test_a_full_page_needs_no_forced_turn() -> None:
    pages = lay([*lines(6), item("index", "index", new_page=True)], shape(6))
    assert len(pages) == 2


# ---------------------------------------------------------------- print page changes


def test_no_page_change_on_the_last_line() -> None:
    """BF 1.11.6: it moves to the next page, whose line 1 shows the new number."""
    pages = lay_lines([turn("1"), *lines(5), turn("2"), para("next")], shape(6))
    assert pages[0][5].startswith("   ")
    assert pages[1][0] == "  next" + " " * 32 + "#b"


def test_a_page_change_on_the_last_line_but_one_needs_text_below() -> None:
    pages = texts([turn("1"), *lines(4), turn("2"), para("next")], shape(6))
    assert pages[0][4:] == ["-" * 38 + "#b", "  next"]
    after = item("list", "next", before=1, needs_before=True)
    pages = texts([turn("1"), *lines(4), turn("2"), after], shape(6))
    assert pages[0][4:] == ["", ""]
    assert pages[1][:2] == ["next", ""]


def test_a_blank_line_stands_on_one_side_of_a_page_change() -> None:
    """BF 1.11, Appendix C."""
    after = item("list", "next", before=1, needs_before=True)
    pages = texts([turn("1"), item("list", "one", after=1), turn("2", before=1), after], shape(9))
    assert pages[0][:4] == ["one", "-" * 38 + "#b", "", "next"]


def test_no_blank_line_at_a_page_change_inside_a_list() -> None:
    pages = texts([turn("1"), *lines(2), turn("2"), *lines(2)], shape(9))
    assert pages[0][:5] == ["linea", "lineb", "-" * 38 + "#b", "linea", "lineb"]


def test_the_first_print_page_has_no_line_of_its_own() -> None:
    """BF 1.11: also where the first page is unnumbered: nothing changes there."""
    assert lay_lines([turn("1"), para("text")], shape(6))[0][0] == "  text" + " " * 32 + "#a"
    assert lay_lines([turn(None), para("text")], shape(6))[0][0] == "  text"


def test_no_print_pages_at_all() -> None:
    pages = lay_lines([para("abcd " * 60)], shape(6))
    assert pages[0][0] == "  abcd abcd abcd abcd abcd abcd abcd"
    assert pages[0][5].endswith("#a")


def test_text_before_the_first_known_print_page_has_no_number() -> None:
    pages = lay_lines([para("text"), turn("4"), para("more")], shape(6))
    assert pages[0][:3] == ["  text", "-" * 38 + "#d", "  more"]


def test_a_page_change_and_a_line_end_inside_a_block() -> None:
    marks = ((4, "line", None), (8, "turn", "2"))
    pages = texts([turn("1"), para("one two three", marks=marks)], shape(6))
    assert pages[0][:4] == ["  one", "two", "-" * 38 + "#b", "three"]


def test_a_mark_where_print_has_no_space() -> None:
    pages = texts([para("onetwo", marks=((3, "line", None),))], shape(6))
    assert pages[0][:2] == ["  one", "two"]


# ---------------------------------------------------------------- page tops


@pytest.mark.parametrize("restore, first", [(True, ""), (False, "                  head")])
def test_a_heading_after_a_full_page(restore: bool, first: str) -> None:
    """BF updates of March 2024: a blank line on line 1; the older practice: heading there."""
    form = shape(6, restore_blanks=restore)
    items = [*lines(6, "para"), heading("head"), para("text", before=1)]
    assert texts(items, form)[1][0] == first


def test_older_practice_restores_the_blank_line_of_a_list() -> None:
    """BF 8.3.4a, 13.4.1d (before 2024)."""
    form = shape(6, restore_blanks=False)
    assert texts([*lines(6), para("text", before=1)], form)[1][:2] == ["", "  text"]


def test_a_heading_under_a_running_head_is_on_line_3() -> None:
    """BF 4.3 with 1.8, also where unused lines end the page before."""
    form = shape(8, head=cells_of("head line"))
    items = [*lines(4), heading("head", keep=(("with_next", 3),)), para("abcd " * 30, before=1)]
    pages = texts(items, form)
    assert pages[1][:3] == ["", "", "                  head"]


def test_never_two_blank_lines() -> None:
    """BF 1.9: line 1 with nothing but a page number counts as one."""
    wide = SetLine((Part(0, cells_of("w" * 40)),), "table")
    made = Item("table", "table", set_lines=(wide,), before=1, needs_before=True)
    pages = texts([turn("1"), *lines(6, "para"), made], shape(6))
    assert pages[1][:2] == ["", "w" * 40]


# ---------------------------------------------------------------- narrow lines, set lines


def test_a_word_that_does_not_fit_beside_a_number_moves_on() -> None:
    """BF 1.3 of the digest: the line is never made longer; on the last line, the page ends."""
    pages = texts([turn("1"), *lines(5), item("para", "w" * 37)], shape(6))
    assert pages[0][5] == ""
    assert pages[1][:2] == ["", "w" * 37]


def test_a_margin_past_the_room_of_a_line_leaves_it_empty() -> None:
    """A long page number on a narrow page: nothing runs into it."""
    pages = texts([turn("10-100"), item("para", "a b", "8-8")], shape(6, cells=16))
    assert pages[0][:2] == ["", "       a b"]


def test_a_margin_stays_inside_a_narrow_page() -> None:
    """BF 8.3: the pattern of nested lists, as far as words still fit."""
    deep = item("list", "a " * 30, "17-19")
    assert texts([deep], shape(6, cells=30))[0][:2] == [
        " " * 16 + "a a a a a a a", " " * 18 + "a a a a a a"
    ]  # fmt: skip
    assert texts([deep], shape(9, cells=16))[0][1] == " " * 7 + "a a a a a"


def test_a_word_longer_than_a_line_is_broken_and_recorded() -> None:
    made = lay([item("para", "w" * 90)], shape(6))
    assert text_of(made[0].page)[:3] == ["w" * 40, "w" * 40, "w" * 10]
    assert [(b.item.style, cell) for b, cell, _ in made[0].divided] == [("para", 0), ("para", 40)]


def test_a_long_word_is_not_broken_inside_an_indicator() -> None:
    """UEB 3.27: the sign that closes a transcriber's note is three cells."""
    made = item("para", "@.<" + "w" * 35 + "@.>")
    assert made.cells is not None
    (piece,) = made.cells.pieces
    sign = bytes([1] * 3 + [0] * 35 + [1] * 3)
    made.cells.pieces = [Piece(piece.cells, piece.origin, sign, piece.length)]
    assert texts([made], shape(6))[0][:2] == ["@.<" + "w" * 34, "w@.>"]


def test_the_parts_of_a_long_centred_word_are_centred() -> None:
    """BF 4.4: also the first part, which an indicator makes shorter than the line."""
    made = item("h-center", "w" * 32 + ",,,abcdefg")
    made.centred = True
    assert made.cells is not None
    (piece,) = made.cells.pieces
    sign = bytes([0] * 32 + [1] * 3 + [0] * 7)
    made.cells.pieces = [Piece(piece.cells, piece.origin, sign, piece.length)]
    assert texts([made], shape(6))[0][:2] == [" " * 4 + "w" * 32, " " * 15 + ",,,abcdefg"]


def test_only_the_long_word_of_a_heading_is_broken() -> None:
    """BF 1.10, 4.4: the words before it are whole."""
    page = texts([item("h-center", "ab cdef " * 6 + "w" * 40 + " end", "centred")], shape(9))[0]
    assert page[0].strip() == "ab cdef ab cdef ab cdef ab cdef ab"
    assert page[1].strip() == "cdef ab cdef"
    assert page[2].strip() == "w" * 34
    assert page[3].strip() == "w" * 6 + " end"


def test_a_long_word_of_a_heading_keeps_the_sides_free() -> None:
    """BF 4.4."""
    page = texts([item("h-center", "w" * 50, "centred")], shape(6))[0]
    assert page[:2] == ["   " + "w" * 34, " " * 12 + "w" * 16]


def test_contents_entries_keep_off_lines_with_a_number() -> None:
    """BF 2.10."""
    rows = [
        Item("toc", "toc", set_lines=(SetLine((Part(0, cells_of(c)),), "toc"),)) for c in "abcdef"
    ]
    assert texts(rows, shape(6))[0] == ["a", "b", "c", "d", "e", ""]
    assert texts([turn("1"), *rows], shape(6))[0] == ["", "a", "b", "c", "d", ""]


def test_contents_of_print_keep_off_them_too() -> None:
    pages = texts([turn("1"), *lines(6, "toc")], shape(6))
    assert pages[0] == ["", "linea", "lineb", "linec", "lined", ""]


def test_column_headings_are_repeated_on_the_next_page() -> None:
    """BF 11.2: a table divided between rows carries its headings over."""
    rows = [SetLine((Part(0, cells_of("head")),), "table-head", with_next=True)]
    rows += [SetLine((Part(0, cells_of("row" + c)),), "table") for c in "abcdefg"]
    table = Item("table", "table", set_lines=tuple(rows))
    pages = texts([table], shape(6))
    assert pages[0] == ["head", "rowa", "rowb", "rowc", "rowd", "rowe"]
    assert pages[1][:3] == ["head", "rowf", "rowg"]


def test_a_set_line_wider_than_the_page_is_a_fault() -> None:
    wide = Item("table", "table", set_lines=(SetLine((Part(0, cells_of("w" * 41)),), "table"),))
    with pytest.raises(Bug, match="wider than the page"):
        lay([wide], shape(6))


@pytest.mark.parametrize("length, start", [(10, 15), (11, 14), (34, 3)])
def test_centring(length: int, start: int) -> None:
    """BF 4.4: three cells free at each side; the odd empty cell goes to the right."""
    page = texts([item("h-center", "x" * length, "centred")], shape(6))[0]
    assert page[0] == " " * start + "x" * length


def test_a_centred_heading_beside_a_print_page_number() -> None:
    """It moves left to keep three cells from the number."""
    page = texts([turn("100"), item("h-center", "x" * 29, "centred")], shape(6))[0]
    assert page[0] == " " * 4 + "x" * 29
    words = "aaaaaaaaa bbbbbbbbb ccccccccc ddd"
    page = texts([turn("100"), item("h-center", words, "centred")], shape(6))[0]
    assert page[:2] == ["          aaaaaaaaa bbbbbbbbb", "             ccccccccc ddd"]


def test_the_rest_of_a_heading_goes_on_straight_under_the_running_head() -> None:
    """1.6 of the digest: a blank line stands above headings that begin there only."""
    rest = heading("rest", continued=True, new_page=True)
    pages = texts([*lines(2), rest, para("text")], shape(6, head=cells_of("head")))
    assert [line.strip() for line in pages[1][:2]] == ["", "rest"]  # The head is furniture.


def test_a_note_parts_from_its_matter_before_a_heading_is_divided() -> None:
    """3.1, 4.2: what only advice asks for gives way first."""
    head = item("h-5", "abcd " * 14, "5-5", keep=(("whole", 1), ("with_next", 1)))
    told = item("tn", "note " * 6, "7-5", keep=(("note_whole", 1), ("note_with_next", 1)))
    rows = tuple(SetLine((Part(0, cells_of("row")),), "table", with_next=True) for _ in range(5))
    table = Item("table", "table-columns", set_lines=rows, keep=(("whole", 1),))
    relax = ("note_whole", "note_with_next", *RELAX)
    made = lay([head, told, table], Shape(40, 7, relax=relax))
    assert [[rule for rule, *_ in page.breaches] for page in made] == [["note_with_next"], []]
    kinds = [row.kind for row in made[0].page.rows if row is not None]
    assert kinds == ["h-5", "h-5", "tn"]


def test_column_headings_that_cannot_come_again_are_told() -> None:
    """11.2: headings of half a page would leave too few lines for rows."""
    head = SetLine((Part(0, cells_of("name")),), "table-head", with_next=True)
    rule = SetLine((Part(0, cells_of('"333')),), "table-rule", with_next=True)
    rows = tuple(SetLine((Part(0, cells_of("row")),), "table") for _ in range(6))
    made = lay([Item("table", "table-columns", set_lines=(head, head, rule, *rows))], shape(6))
    assert [(rule, row) for rule, _, row in made[1].breaches] == [("heads_again", 0)]
