"""Notes gathered at the end of the print page or of the section."""

from __future__ import annotations

import pytest

from convert.document.nodes import Box, Footnote, PrintPageTurn, Section
from tests.layout.trees import Trees


@pytest.fixture
def t() -> Trees:
    return Trees()


def test_e27_note_at_the_end_of_its_print_page(t: Trees) -> None:
    """BF 16.4 to 16.6: separation line, notes 1-3, then the turn; no blank lines."""
    assert t.flowed(
        t.p("The old mill", t.call("1", "f1"), " by the road."),
        t.foot("f1", "1", t.p("The mill was burned.")),
        t.p("More text."),
        t.page("59"),
        t.p("Next page."),
    ) == [
        "paragraph 3-1 0 | The old mill1 by the road.",
        "paragraph 3-1 0 | More text.",
        "note-rule 1-1 0",
        "note 1-3 0 | 1 The mill was burned.",
        "turn 0 | 59",
        "paragraph 3-1 0 | Next page.",
    ]


def test_page_that_ends_inside_a_paragraph_has_its_notes_before_the_turn(t: Trees) -> None:
    """BF 16.6: the paragraph is cut; its rest goes on in the runover cell."""
    paragraph = t.p("The mill", t.call("1", "f1"), " by the ", PrintPageTurn("59"), "road was old.")
    items = t.items(paragraph, t.foot("f1", "1", t.p("Burned.")))
    assert [item.kind for item in items] == ["para", "note-rule", "note", "page-turn", "para"]
    assert (items[4].first, items[4].runover, items[4].continued) == (1, 1, True)
    assert items[3].page == ("59",)


def test_a_heading_in_which_a_page_with_notes_ends_stays_whole(t: Trees) -> None:
    """BF 1.4.2, 4.2.5: on the page on which it begins; its notes and the turn follow."""
    assert t.flowed(
        t.p("Mills", t.call("1", "f1")),
        t.h(1, "Old mills", PrintPageTurn("59"), " by the road", t.call("2", "f2")),
        t.p("So."),
        t.foot("f1", "1", t.p("Burned.")),
        t.foot("f2", "2", t.p("Built.")),
    ) == [
        "paragraph 3-1 0 | Mills1",
        "centred-heading centred 1 | Old mills by the road2",
        "note-rule 1-1 1",
        "note 1-3 0 | 1 Burned.",
        "note 1-3 0 | 2 Built.",
        "turn 1 | 59",
        "paragraph 3-1 0 | So.",
    ]


def test_the_blank_line_after_a_list_is_kept_across_its_notes(t: Trees) -> None:
    """BF 8.3.2: before the turn, where nothing after needs it."""
    assert t.flowed(
        t.list(t.item("", "red", t.call("1", "f1"))),
        t.page("9"),
        t.p("Text."),
        t.foot("f1", "1", t.p("A colour.")),
    )[1:] == [
        "note-rule 1-1 0",
        "note 1-3 0 | 1 A colour.",
        "turn 1 | 9",
        "paragraph 3-1 0 | Text.",
    ]


def test_further_paragraphs_of_a_note(t: Trees) -> None:
    """BF 16.5."""
    assert t.flowed(
        t.page("1"), t.p("A", t.call("*", "f")), t.foot("f", "*", t.p("One."), t.p("Two."))
    )[2:] == ["note-rule 1-1 0", "note 1-3 0 | * One.", "note 5-3 0 | Two."]


def test_without_print_pages_notes_end_the_section(t: Trees) -> None:
    """BF 16: before the next centred heading, else at the end."""
    assert t.flowed(
        t.h(1, "One"),
        t.p("A", t.call("1", "f1")),
        t.foot("f1", "1", t.p("First.")),
        Section(children=(t.h(1, "Two"), t.p("B", t.call("2", "f2")))),
        t.foot("f2", "2", t.p("Second.")),
    ) == [
        "centred-heading centred 0 | One",
        "paragraph 3-1 1 | A1",
        "note-rule 1-1 0",
        "note 1-3 0 | 1 First.",
        "centred-heading centred 1 | Two",
        "paragraph 3-1 1 | B2",
        "note-rule 1-1 0",
        "note 1-3 0 | 2 Second.",
    ]


def test_a_note_called_twice_stands_once_and_one_never_called_is_kept(t: Trees) -> None:
    lines = t.flowed(
        t.p("A", t.call("1", "f1"), t.call("1", "f1")),
        t.foot("f1", "1", t.p("Once.")),
        t.foot("f9", "9", t.p("Alone.")),
    )
    assert lines[1:] == ["note-rule 1-1 0", "note 1-3 0 | 1 Once.", "note 1-3 0 | 9 Alone."]


def test_notes_that_call_notes(t: Trees) -> None:
    """One separation line; a note that only calls itself is kept as well."""
    lines = t.flowed(
        t.page("1"),
        t.p("A", t.call("1", "f1")),
        t.foot("f1", "1", t.p("See ", t.call("2", "f2"))),
        t.foot("f2", "2", t.p("End.")),
        t.foot("f3", "3", t.p("Round ", t.call("3", "f3"))),
    )
    assert lines[2:] == [
        "note-rule 1-1 0",
        "note 1-3 0 | 1 See 2",
        "note 1-3 0 | 2 End.",
        "note 1-3 0 | 3 Round 3",
    ]


def test_endnotes_stay_where_print_has_them(t: Trees) -> None:
    """BF 16.9: 1-3, no separation line."""
    note = t.foot("e1", "1", t.p("Burned."), kind="end")
    again = Footnote(id="e2", mark=t.runs("2"), children=(t.p("Rebuilt."),), kind="end")
    section = Section(children=(t.h(1, "Notes"), note, again), role="notes")
    assert t.flowed(t.p("A", t.call("1", "e1")), section) == [
        "paragraph 3-1 0 | A1",
        "centred-heading centred 1 | Notes",
        "endnote 1-3 1 | 1 Burned.",
        "endnote 1-3 0 | 2 Rebuilt.",
    ]


def test_a_new_page_that_is_asked_for_begins_after_the_notes(t: Trees) -> None:
    """BF 16.4, 21.2: the notes end the print page; the index begins the braille page."""
    index = Section(
        role="index",
        address=t.at(),
        children=(t.page("9"), t.h(1, "Index"), t.list("ants, 3", role="index")),
    )
    items = t.items(t.p("The mill", t.call("1", "f1")), t.foot("f1", "1", t.p("Burned.")), index)
    asked = [(item.kind, item.new_page) for item in items]
    assert asked[:4] == [
        ("para", False), ("note-rule", False), ("note", False), ("page-turn", True),
    ]  # fmt: skip


def test_print_pages_that_begin_or_end_with_a_box_stand_outside(t: Trees) -> None:
    """BF 7.2b: the change, a blank line, the top line; nothing of the box stands above it."""
    inside = (t.page("9"), t.p("Inside."), t.page("10"))
    drawn = t.flowed(t.p("Text."), Box(children=inside, address=t.at()), t.p("More."))
    assert [line.split(" ")[0] for line in drawn] == [
        "paragraph", "turn", "box-top", "paragraph", "box-bottom", "turn", "paragraph",
    ]  # fmt: skip
    assert drawn[2].startswith("box-top 1-1 1")
