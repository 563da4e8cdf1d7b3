"""Notes that print has in a table: where they stand and what the inspector says (BF 11.2, 16)."""

from __future__ import annotations

from dataclasses import replace

import pytest

from convert.document.nodes import Table
from convert.layout.convention import Convention
from tests.layout.test_tables import lay
from tests.layout.trees import Trees, bf2016


@pytest.fixture
def t() -> Trees:
    return Trees()


def lakes(t: Trees, *entries: object) -> Table:
    return t.table(
        t.row("Lake", "Area", head=True), t.row("Blue", (t.p("12", t.call("*", "f")),)),
        t.row("Long", "9"), t.row(*(entries or ((t.foot("f", "*", t.p("In spring.")),),))),
    )  # fmt: skip


def ruled(**rules: object) -> Convention:
    rows = bf2016()
    return replace(rows, rules={**rows.rules, **rules})


LAKES = [
    ",lake  ,area",
    '"3333  "3333',
    ",blue  #ab*",
    ",long  #i",
]


def test_note_of_a_table_stands_straight_after_it(t: Trees) -> None:
    """BF 11.2, 16.2: before the blank line, without a separation line."""
    made = lay(t, t.p("word"), lakes(t), t.p("more"))
    assert made.lines == ["  word", "", *LAKES, "* ,in spring.", "", "  more"]


def test_note_waits_for_the_print_page_where_the_convention_has_it_so(t: Trees) -> None:
    """BF 16.4: with the other notes of the page, after the separation line."""
    made = lay(t, lakes(t), t.p("more"), convention=ruled(table_notes="page"))
    assert made.lines == [*LAKES, "", "  more", '"333333', "* ,in spring."]


def test_a_separation_line_above_the_notes_of_a_table(t: Trees) -> None:
    """BF 16.4; only where the convention asks for it."""
    made = lay(t, lakes(t), t.p("more"), convention=ruled(table_note_line=True))
    assert made.lines == [*LAKES, '"333333', "* ,in spring.", "", "  more"]


def test_a_note_beside_other_words_of_its_row(t: Trees) -> None:
    """BF 11.2, 16.5: the row stays, its note goes below the table, its second paragraph 5-3."""
    note = t.foot("f", "*", t.p("In spring."), t.p("Two."))
    made = lay(t, lakes(t, "Tarn", (t.p("3"), note)), t.p("more"))
    after = [",tarn  #c", "* ,in spring.", "    ,two.", "", "  more"]
    assert made.lines == [*LAKES, *after]


def test_a_note_called_before_the_table_too_stands_once(t: Trees) -> None:
    """BF 16.4: the first call has it at the end of the print page."""
    made = lay(t, t.p("word", t.call("*", "f")), lakes(t), t.p("more"))
    last = ["", "  more", '"333333', "* ,in spring."]
    assert made.lines == ["  word*", "", *LAKES, *last]


def test_a_print_page_that_begins_after_the_notes_of_a_table(t: Trees) -> None:
    """BF 1.11, 11.2: the blank line of the table stands above the change."""
    made = lay(t, lakes(t), t.page("9"), t.p("more"))
    assert made.lines == [*LAKES, "* ,in spring.", "", "-" * 38 + "#i", "  more"]


def test_notes_of_a_listed_table_come_after_its_last_entry(t: Trees) -> None:
    """BF 11.16, 16.2."""
    made = lay(t, lakes(t), t.p("more"), convention=ruled(table_forms=["listed"]))
    assert made.lines[-4:] == [",area: #i", "* ,in spring.", "", "  more"]


def test_a_row_with_an_endnote_stays_where_its_footnote_goes(t: Trees) -> None:
    """BF 16.2: the endnote waits, and nothing of it is lost with an empty row."""
    end = t.foot("e", "+", t.p("At noon."), kind="end")
    made = lay(t, lakes(t, t.entry((t.foot("f", "*", t.p("In spring.")), end))), t.p("more"))
    assert [line for line in made.lines if line.startswith(("*", "+"))] == [
        "* ,in spring.", "+ ,at noon.",
    ]  # fmt: skip


def test_notes_that_print_has_below_a_table(t: Trees) -> None:
    """BF 11.2: straight after it, before its blank line, where the source names them."""
    table = t.table(t.row("Lake", "Area", head=True), t.row("Blue", "12*"), t.row("Long", "9"))
    notes = [t.p("* In spring.", role="table-note"), t.p("Two.", role="table-note")]
    made = lay(t, t.p("word"), table, *notes, t.p("more"))
    below = ["* ,in spring.", ",two.", "", "  more"]
    assert made.lines == ["  word", "", LAKES[0], LAKES[1], ",blue  #ab*", LAKES[3], *below]
