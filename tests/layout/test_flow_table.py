"""Tables set as lists: every heading and every entry kept, repeated words added."""

from __future__ import annotations

from typing import Any

import pytest

from convert.document.nodes import (
    BOLD,
    ITALIC,
    TRANSCRIBER_NOTE,
    Added,
    AnswerSpace,
    Box,
    Graphic,
    Run,
)
from tests.layout.trees import Trees

LISTED = (
    "Table changed to a list. Each row heading stands alone; under it, each column heading, "
    "a colon and the entry."
)
LINEAR = (
    "Table without headings changed to a list. Each row is one item; semicolons stand between "
    "entries."
)


@pytest.fixture
def t() -> Trees:
    return Trees()


def test_e23_table_in_listed_form(t: Trees) -> None:
    """BF 11.16: row headings from cell 5 with a blank line before; entries 1-3 below."""
    table = t.table(
        t.row("Lake", "Area", "Depth", head=True),
        t.row("Blue Lake", "120", "35"),
        t.row("Long Pond", "9", "4"),
        caption=(t.p("Three Lakes", role="caption"),),
    )
    assert t.flowed(t.p("In the north."), table, t.p("Each has fish.")) == [
        "paragraph 3-1 0 | In the north.",
        "table-title 5-5 1 | Three Lakes",
        f"table-note 7-5 0 | ‹{LISTED} Heading of the row headings: Lake›",
        "table-row-heading 5-5 1 | Blue Lake",
        "table 1-3 0 | Area: 120",
        "table 1-3 0 | Depth: 35",
        "table-row-heading 5-5 1 | Long Pond",
        "table 1-3 0 | Area: 9",
        "table 1-3 0 | Depth: 4",
        "paragraph 3-1 1 | Each has fish.",
    ]
    assert "layout.table-listed" in t.kinds()


def test_a_column_heading_is_print_once_and_added_words_after(t: Trees) -> None:
    """Nothing counts as doubled: print has the heading once."""
    table = t.table(t.row("Lake", "Area", head=True), t.row("Blue", "1"), t.row("Long", "2"))
    items = [item for item in t.items(table) if item.style == "table"]
    assert isinstance(items[0].runs[0], Run)
    assert items[1].runs[0] == Added("Area")


def test_heading_over_several_columns_is_repeated(t: Trees) -> None:
    """BF 11.16; spanned headings go before those under them."""
    table = t.table(
        t.row(t.entry("Lake", rows=2), t.entry("Size", columns=2), head=True),
        t.row("Area", "Depth", head=True),
        t.row("Blue", "120", "35"),
    )
    assert t.flowed(table)[1:] == [
        "table-row-heading 5-5 1 | Blue",
        "table 1-3 0 | Size, Area: 120",
        "table 1-3 0 | Size, Depth: 35",
    ]


def test_entry_over_several_rows_is_repeated_and_over_columns_named_by_all(t: Trees) -> None:
    table = t.table(
        t.row("Day", "Morning", "Noon", head=True),
        t.row("Monday", t.entry("Math", rows=2), "Art"),
        t.row("Tuesday", "Music"),
        t.row("Friday", t.entry("Trip", columns=2)),
    )
    assert t.flowed(table)[1:] == [
        "table-row-heading 5-5 1 | Monday",
        "table 1-3 0 | Morning: Math",
        "table 1-3 0 | Noon: Art",
        "table-row-heading 5-5 1 | Tuesday",
        "table 1-3 0 | Morning: Math",
        "table 1-3 0 | Noon: Music",
        "table-row-heading 5-5 1 | Friday",
        "table 1-3 0 | Morning, Noon: Trip",
    ]


def test_empty_entries_and_row_headings_are_said(t: Trees) -> None:
    """BF 11.2: an empty entry is shown as such; words of the program are notes."""
    table = t.table(t.row("Lake", "Area", head=True), t.row("Blue", ""), t.row("", "3"))
    assert t.flowed(table)[1:] == [
        "table-row-heading 5-5 1 | Blue",
        "table 1-3 0 | Area: ‹no entry›",
        "table-row-heading 5-5 1 | ‹Row 2›",
        "table 1-3 0 | Area: 3",
    ]


def test_headings_that_no_entry_calls_for_are_kept(t: Trees) -> None:
    table = t.table(t.row("Lake", "Area", "Depth", head=True), t.row("Blue", "1"))
    assert t.flowed(table)[-1] == "table-note 7-5 1 | ‹Other headings of the table: Depth›"


def test_entries_of_several_blocks(t: Trees) -> None:
    """The first paragraph follows the heading; the rest comes below."""
    table = t.table(
        t.row("Tool", "Use", head=True),
        t.row("Saw", (t.p("Cutting."), t.p("Only wood."))),
        t.row("Nail", (t.list("joining", "hanging"),)),
    )
    assert t.flowed(table)[1:] == [
        "table-row-heading 5-5 1 | Saw",
        "table 1-3 0 | Use: Cutting.",
        "table 5-3 0 | Only wood.",
        "table-row-heading 5-5 1 | Nail",
        "table 1-3 0 | Use:",
        "table 3-5 0 | joining",
        "table 3-5 0 | hanging",
    ]


def test_a_row_that_is_one_heading_divides_the_table(t: Trees) -> None:
    table = t.table(
        t.row("Lake", "Area", head=True),
        t.row(t.entry("North", columns=2, head=True)),
        t.row("Blue", "1"),
    )
    assert t.flowed(table)[1:3] == [
        "table-row-heading 5-5 1 | North",
        "table-row-heading 5-5 1 | Blue",
    ]


def test_later_column_headings_replace_the_first(t: Trees) -> None:
    table = t.table(
        t.row("Lake", "Area", head=True), t.row("Blue", "1"),
        t.row("River", "Length", head=True), t.row("Long", "2"),
    )  # fmt: skip
    assert t.flowed(table)[1:] == [
        "table-row-heading 5-5 1 | Blue",
        "table 1-3 0 | Area: 1",
        f"table-note 7-5 1 | ‹{LISTED} Heading of the row headings: River›",
        "table-row-heading 5-5 1 | Long",
        "table 1-3 0 | Length: 2",
    ]


def test_e24_table_without_column_headings_in_linear_form(t: Trees) -> None:
    """BF 11.17: colon after a row heading, semicolons between entries, full stop last."""
    table = t.table(
        t.row(t.entry("Blue Lake", head=True), "120", "35"),
        t.row(t.entry("Long Pond", head=True), "9", ""),
    )
    assert t.flowed(table) == [
        f"table-note 7-5 0 | ‹{LINEAR}›",
        "table 1-3 0 | Blue Lake: 120; 35.",
        "table 1-3 0 | Long Pond: 9; ‹no entry›.",
    ]
    assert t.kinds() == ["layout.table-linear"]


def test_an_empty_row_is_said_in_two_words(t: Trees) -> None:
    assert t.flowed(t.table(t.row("a", "b"), t.row("", ""), t.row("c", "d")))[2] == (
        "table 1-3 0 | ‹empty row›"
    )


def test_print_pages_between_rows_keep_their_place(t: Trees) -> None:
    """BF 11.2."""
    table = t.table(t.row("a", "b"), t.page("7"), t.row("c", "d"))
    assert t.flowed(table)[1:] == ["table 1-3 0 | a; b.", "turn 0 | 7", "table 1-3 0 | c; d."]


def test_table_of_answer_spaces_is_a_form(t: Trees) -> None:
    """BF 6.7: one field a line."""
    table = t.table(
        t.row("Name", t.p(t.answer()), "Date", t.p(t.answer())), t.row("Notes", t.p(t.answer()))
    )
    assert t.flowed(table) == [
        "form 1-3 0 | Name ____",
        "form 1-3 0 | Date ____",
        "form 1-3 0 | Notes ____",
    ]


def test_empty_entries_of_a_form_are_room_to_write_in(t: Trees) -> None:
    """BF 6.7; labels without room stand side by side, room without a label on one line."""
    table = t.table(
        t.row("Name", t.p(t.answer())), t.row("Guide", ""), t.row("Task", "Day"), t.row("", "")
    )
    assert t.flowed(table) == [
        "form 1-3 0 | Name ____",
        "form 1-3 0 | Guide __",
        "form 1-3 0 | Task; Day",
        "form 1-3 0 | __ __",
    ]


def test_an_empty_entry_of_a_form_is_room_only_where_something_asks_for_it(t: Trees) -> None:
    """BF 6.7; an entry that keeps labels apart, or a picture, asks for nothing."""
    picture = t.entry((Graphic(alt=(), resource="mark.png", decorative=True),))
    table = t.table(
        t.row(t.entry("Parking permit", columns=2), picture),
        t.row("", "", ""),
        t.row("Name:", t.p(t.answer()), ""),
        t.row("", t.p("Sign below"), t.p(t.answer())),
    )
    assert t.flowed(table) == [
        "form 1-3 0 | Parking permit",
        "form 1-3 0 | Name: ____",
        "form 1-3 0 | Sign below ____",
    ]


def test_boxes_to_tick_that_follow_one_another_are_one_field(t: Trees) -> None:
    """BF 6.7; common practice, no source."""
    box = ("check", "[]")
    table = t.table(
        t.row("Paid by:", t.p(t.answer(*box), " card"), t.p(t.answer(*box), " cheque")),
        t.row("On", t.p(t.answer())),
    )
    assert t.flowed(table) == ["form 1-3 0 | Paid by: [] card [] cheque", "form 1-3 0 | On ____"]


def test_rows_to_fill_in_below_a_row_of_labels(t: Trees) -> None:
    """BF 6.7; print asks for every entry of the rows, also where the first is given."""
    table = t.table(
        t.row("Site:", t.p(t.answer()), ""),
        t.row("Day", "From", "To"),
        t.row(t.p("Mon ", t.answer()), "", ""),
        t.row("", "", ""),
        t.row("", "Seen by", t.p(t.answer())),
        t.row(t.entry("", columns=2), t.p("Date ", t.answer())),
    )
    assert t.flowed(table) == [
        "form 1-3 0 | Site: ____",
        "form 1-3 0 | Day; From; To",
        "form 1-3 0 | Mon ____ __ __",
        "form 1-3 0 | __ __ __",
        "form 1-3 0 | Seen by ____",
        "form 1-3 0 | Date ____",
    ]


def test_blocks_of_an_entry_with_room_are_fields_of_their_own(t: Trees) -> None:
    """BF 6.7: one field a line."""
    several = (t.p("Street ", t.answer()), t.p("Town ", t.answer()))
    table = t.table(t.row("Address", t.entry(several)), t.row("Signed:", t.p("Date: ", t.answer())))
    assert t.flowed(table) == [
        "form 1-3 0 | Address Street ____",
        "form 1-3 0 | Town ____",
        "form 1-3 0 | Signed:",
        "form 1-3 0 | Date: ____",
    ]


def test_rows_of_one_entry_under_a_wide_heading_are_text(t: Trees) -> None:
    table = t.table(
        t.row("AC-2", "Summary", head=True),
        t.row(t.entry("Role: chief", columns=2)),
        t.row(t.entry("State: done", columns=2)),
    )
    assert t.flowed(table) == [
        "paragraph 3-1 0 | AC-2",
        "paragraph 3-1 0 | Summary",
        "paragraph 3-1 0 | Role: chief",
        "paragraph 3-1 0 | State: done",
    ]


def test_one_heading_over_rows_without_column_headings(t: Trees) -> None:
    table = t.table(
        t.row(t.entry("How is it done?", columns=2), head=True),
        t.row(t.entry("Part a", head=True), "By hand"),
        t.row(t.entry("Part b", head=True), ""),
    )
    assert t.flowed(table) == [
        "table-title 5-5 0 | How is it done?",
        f"table-note 7-5 0 | ‹{LINEAR}›",
        "table 1-3 0 | Part a: By hand.",
        "table 1-3 0 | Part b: ‹no entry›.",
    ]


def test_note_mark_of_a_heading_stands_once(t: Trees) -> None:
    table = t.table(
        t.row("Year", t.p("Price", t.call("9", "f")), head=True), t.row("1", "2"), t.row("3", "4")
    )
    lines = t.flowed(table, t.foot("f", "9", t.p("In gold.")))
    assert (lines[2], lines[4]) == ("table 1-3 0 | Price9: 2", "table 1-3 0 | Price: 4")


def test_table_that_only_arranges_blocks_is_ordinary_text(t: Trees) -> None:
    """BF 11.1: clarity decides."""
    table = t.table(
        t.row((t.h(1, "News"), t.list("one")), (t.p("Weather."), t.list("two"))), t.row("c", "d")
    )
    assert t.flowed(table) == [
        "centred-heading centred 0 | News",
        "list 1-3 1 | one",
        "paragraph 3-1 1 | Weather.",
        "list 1-3 1 | two",
        "paragraph 3-1 1 | c",
        "paragraph 3-1 0 | d",
    ]
    assert t.kinds() == ["layout.table-as-text"]


def test_long_repeated_entry_is_pointed_to(t: Trees) -> None:
    long = "word " * 60
    table = t.table(t.row("A", "B", head=True), t.row("1", t.entry(long, rows=2)), t.row("2"))
    assert t.flowed(table)[-1] == "table 1-3 0 | B: ‹as above›"


def test_hostile_spans_stay_small(t: Trees) -> None:
    table = t.table(
        t.row("A", t.entry("B", columns=10**9), head=True), t.row(t.entry("1", rows=10**9), "2")
    )
    assert t.flowed(table)[1:] == ["table-row-heading 5-5 1 | 1", "table 1-3 0 | B: 2"]


def test_nested_tables_do_not_exhaust_the_program(t: Trees) -> None:
    table = t.table(t.row("a", "b"))
    for _ in range(2000):
        table = t.table(t.row("A", "B", head=True), t.row("c", (t.p("d"), table)))
    assert any(item.style == "table" for item in t.items(Box(children=(table,))))


def test_answer_spaces_under_column_headings_stay(t: Trees) -> None:
    table = t.table(t.row("Word", "Meaning", head=True), t.row("sea", t.p(t.answer())))
    runs = [run for item in t.items(table) for run in item.runs]
    assert any(isinstance(run, AnswerSpace) for run in runs)


def test_column_headings_lose_the_typeform_they_wear_throughout(t: Trees) -> None:
    """BF 11.2.4: also in the note about the table; a typeform of a part is kept."""
    table = t.table(
        t.row(t.p(("Lake", BOLD)), t.p(("Area", BOLD)), t.p("Depth in ", ("m", ITALIC)), head=True),
        t.row("Blue", "1", "2"),
    )
    note, _, area, depth = t.items(table)
    assert getattr(note.runs[-1], "typeform", 0) == TRANSCRIBER_NOTE
    assert [getattr(run, "typeform", 0) for run in area.runs] == [0, 0, 0]
    assert ITALIC in [getattr(run, "typeform", 0) for run in depth.runs]


def test_empty_rows_in_a_row_are_said_once(t: Trees) -> None:
    """BF 11.2: every row of print is accounted for; wording free by BF 3.1.2."""
    bare = [t.row("", "") for _ in range(3)]
    table = t.table(t.row("Ink", "2"), *bare, t.row("Pen", "1"), t.row("", ""))
    assert t.flowed(table)[1:] == [
        "table 1-3 0 | Ink; 2.",
        "table 1-3 0 | ‹3 empty rows›",
        "table 1-3 0 | Pen; 1.",
        "table 1-3 0 | ‹empty row›",
    ]


def test_a_heading_without_letters_loses_its_typeform_too(t: Trees) -> None:
    """BF 11.2.4: a sign of money alone above a column."""
    table = t.table(t.row("Year", t.p(("£", BOLD)), head=True), t.row("1202", "12"))
    runs = [run for item in t.items(table) for run in item.runs]
    assert BOLD not in [getattr(run, "typeform", 0) for run in runs]


def typeforms(t: Trees, *rows: Any) -> list[int]:
    """The typeforms of the words of a table set row by row."""
    items = t.items(t.table(*rows))
    runs = (run for item in items for run in item.runs if isinstance(run, Run))
    return [run.typeform for run in runs if run.typeform in (BOLD, ITALIC, BOLD | ITALIC)]


def test_row_headings_lose_the_bold_type_that_all_of_them_wear(t: Trees) -> None:
    """BF 5.3, 11.2: their place tells them from the entries, as bold type does in print."""
    blue, long = t.p(("Blue", BOLD)), t.p(("Long", BOLD), " ", ("Pond", BOLD))
    assert typeforms(t, t.row(blue, "1"), t.row(long, t.p(("9", BOLD)))) == [BOLD]
    assert "layout.typeform-dropped" in t.kinds()


def test_bold_of_some_row_headings_and_italics_of_all_are_kept(t: Trees) -> None:
    """BF 5.2: a total in bold is told from the rest; italics may name titles or species."""
    total = t.row(t.p(("Total", BOLD)), "10")
    assert typeforms(t, t.row("Blue", "1"), t.row("Long", "9"), total) == [BOLD]
    names = [t.row(t.p((name, BOLD | ITALIC)), "1") for name in ("Pinus", "Picea")]
    assert typeforms(t, *names) == [ITALIC, ITALIC]


def test_a_list_in_an_entry_is_a_level_of_it(t: Trees) -> None:
    """BF 8.1, 11.16: two cells further right and no blank lines around it."""
    tissue = (t.p("Cartilage"), t.list(t.item("•", "Hyaline"), t.item("•", "Elastic")))
    table = t.table(
        t.row("Loose", "Firm", "Fluid", head=True), t.row("Fat", t.entry(tissue), "Lymph")
    )
    assert t.flowed(table)[1:] == [
        "table-row-heading 5-5 1 | Fat",
        "table 1-3 0 | Firm: Cartilage",
        "table 3-5 0 | • Hyaline",
        "table 3-5 0 | • Elastic",
        "table 1-3 0 | Fluid: Lymph",
    ]


def test_a_heading_over_all_columns_in_the_first_row_is_the_title(t: Trees) -> None:
    """BF 11.2: title, then column headings."""
    for columns in (1, 2):
        table = t.table(
            t.row(t.entry("Three Lakes", columns=columns), head=True),
            t.row("Lake", "Area", head=True),
            t.row("Blue Lake", "120"),
        )
        assert t.flowed(table) == [
            "table-title 5-5 0 | Three Lakes",
            f"table-note 7-5 0 | ‹{LISTED} Heading of the row headings: Lake›",
            "table-row-heading 5-5 1 | Blue Lake",
            "table 1-3 0 | Area: 120",
        ]
