"""Lists, exercise sets, verse, speeches, forms at item level."""

from __future__ import annotations

from dataclasses import replace

import pytest

from convert.document.nodes import (
    BOLD,
    ITALIC,
    SMALL_CAPS,
    Displayed,
    LineBreak,
    ListItem,
    Run,
    Section,
    Speech,
)
from convert.layout.flow_runs import WIDE
from convert.translation.passage import passage_of
from tests.layout.trees import Trees, bf2016


@pytest.fixture
def t() -> Trees:
    return Trees()


# ---------------------------------------------------------------- lists


def test_e8_one_level_list_between_paragraphs(t: Trees) -> None:
    """BF 8.1 to 8.3: 1-3, one blank line before and after, none between items."""
    assert t.flowed(
        t.p("You will need three things."), t.list("gloves", "paper", "glue"), t.p("Begin.")
    ) == [
        "paragraph 3-1 0 | You will need three things.",
        "list 1-3 1 | gloves",
        "list 1-3 0 | paper",
        "list 1-3 0 | glue",
        "paragraph 3-1 1 | Begin.",
    ]


def test_e9_three_level_list_has_one_runover_for_all_levels(t: Trees) -> None:
    """BF 8.1: 1-7, 3-7, 5-7, and the first level keeps it to the end of the list."""
    tree = t.list(
        t.item(
            "",
            "Animals with backbones",
            t.list(t.item("", "Mammals", t.list("whales", "bats")), "Birds"),
        ),
        "Animals without backbones",
    )
    items = t.items(tree)
    assert [(i.first, i.runover, i.level, i.levels) for i in items] == [
        (1, 7, 1, 3), (3, 7, 2, 3), (5, 7, 3, 3), (5, 7, 3, 3), (3, 7, 2, 3), (1, 7, 1, 3),
    ]  # fmt: skip
    assert len({item.group for item in items}) == 1
    assert [item.before for item in items] == [0] * 6


def test_marker_one_space_text(t: Trees) -> None:
    """BF 8.6: also where print has the space already."""
    assert t.flowed(t.list(t.item("•", "red"), t.item("2. ", "blue"))) == [
        "list 1-3 0 | • red",
        "list 1-3 0 | 2. blue",
    ]


def test_e43_second_paragraph_of_an_item(t: Trees) -> None:
    """BF 8.3: two cells right of the runover: 7-5 in a 1-5, 3-5 list."""
    tree = t.list(
        t.item("", "Trees", t.list(t.item("", "The oak is strong.", t.p("It may live long."))))
    )
    assert t.flowed(tree) == [
        "list 1-5 0 | Trees",
        "list 3-5 0 | The oak is strong.",
        "list 7-5 0 | It may live long.",
    ]


def test_lists_parted_by_a_paragraph_count_their_own_levels(t: Trees) -> None:
    """BF 8.1 (committee ruling)."""
    two = t.list(t.item("", "a", t.list("b")))
    assert t.flowed(two, t.p("Then."), t.list("c")) == [
        "list 1-5 0 | a",
        "list 3-5 0 | b",
        "paragraph 3-1 1 | Then.",
        "list 1-3 1 | c",
    ]


def test_no_blank_line_between_a_cell_5_heading_and_its_list(t: Trees) -> None:
    """BF 4.5, 8.3; the blank line after a centred heading serves."""
    assert t.flowed(t.h(1, "Tools"), t.list("saw"), t.h(2, "Small"), t.list("nail")) == [
        "centred-heading centred 0 | Tools",
        "list 1-3 1 | saw",
        "cell-5-heading 5-5 1 | Small",
        "list 1-3 0 | nail",
    ]


def test_a_list_does_not_begin_on_the_last_line(t: Trees) -> None:
    """BF 8.3.5."""
    items = t.items(t.list("one", "two"))
    assert items[0].keep == (("start_not_on_last", 1),)
    assert items[1].keep == ()


def test_speeches_inside_an_item_stand_right_of_its_runovers_and_hang(
    t: Trees,
) -> None:
    """BF 8.3, 9.2, 14.5: as in a dictionary that quotes a play."""
    said = tuple(
        Speech(speaker=t.runs(f"{name}."), children=(t.p(words),), address=t.at())
        for name, words in (("Agent", "It may burn."), ("Owner", "Spare me."))
    )
    play = Section(children=said, role="", address=t.at())
    assert t.flowed(t.list(t.item("", "Insurance, n. A game.", play), "Inch, n.")) == [
        "list 1-3 0 | Insurance, n. A game.",
        "speech 5-7 1 | Agent. It may burn.",
        "speech 5-7 0 | Owner. Spare me.",
        "list 1-3 1 | Inch, n.",
    ]


def test_displayed_matter_inside_an_item_stands_right_of_its_runovers(t: Trees) -> None:
    """BF 9.2 from the runover cell of the list."""
    tree = t.list(t.item("", "Read:", Displayed(children=(t.p("Go."),))), "Write.")
    assert t.flowed(tree) == [
        "list 1-3 0 | Read:",
        "displayed 7-5 1 | Go.",
        "list 1-3 1 | Write.",
    ]


def test_a_list_of_very_many_levels_is_reported(t: Trees) -> None:
    """BF 8.1: the line has no room, so the deepest share a margin."""
    tree = t.list("bottom")
    for at in range(3000):
        tree = t.list(t.item("", f"level {at}", tree))
    items = t.items(tree)
    assert len(items) == 3001
    assert max(item.runover for item in items) == 17
    assert t.kinds() == ["layout.list-too-deep"]


@pytest.mark.parametrize(
    "role, style, kind",
    [
        ("glossary", "glossary", "glossary"),
        ("index", "index", "index"),
        ("bibliography", "bibliography", "bibliography"),
        ("contents", "contents", "toc"),
        ("cast", "cast", "list"),
        ("notes", "endnote", "note"),
    ],
)
def test_lists_of_their_own_format(t: Trees, role: str, style: str, kind: str) -> None:
    """BF 21, 22, 2.10, 14.2, 16.9: one level is 1-3 in each."""
    items = t.items(t.list("first", "second", role=role))
    assert [(i.style, i.kind, i.first, i.runover) for i in items] == [(style, kind, 1, 3)] * 2


def test_typeforms_of_contents_entries_are_dropped(t: Trees) -> None:
    """BF 2.10, 5.3."""
    items = t.items(t.list(t.item("", ("Sea ", ITALIC), "and air"), role="contents"))
    assert [run.typeform for run in items[0].runs] == [0, 0]


def test_e40_glossary_term_from_cell_5_above_its_definition(t: Trees) -> None:
    """BF 21.6.5: blank line before the term, none after."""
    assert t.flowed(t.p("Of the shape."), t.p("radius", role="glossary-term"), t.p("A line.")) == [
        "paragraph 3-1 0 | Of the shape.",
        "glossary-term 5-5 1 | radius",
        "paragraph 3-1 0 | A line.",
    ]


def test_term_and_definition_are_one_entry(t: Trees) -> None:
    """BF 8.6, 21.6: 1-3, print punctuation; a colon where print has only a new line."""
    tree = t.list(
        t.item("", t.p("radius", role="term"), t.p("A line.", role="definition"), t.p("Bone.")),
        t.item("", t.p("Abbess, n.", role="term"), t.p("A mother.", role="definition")),
        t.item("", t.p("a", role="term"), t.p("b", role="term"), t.p("Both.", role="definition")),
        kind="definition",
    )
    assert t.flowed(tree) == [
        "list 1-3 0 | radius: A line.",
        "list 5-3 0 | Bone.",
        "list 1-3 0 | Abbess, n. A mother.",
        "list 1-3 0 | a, b: Both.",
    ]


# ---------------------------------------------------------------- exercises


def test_e19_directions_question_choices(t: Trees) -> None:
    """BF 10.3, 10.4: 5-5; 1-5; 3-5; a blank line before the directions only."""
    choices = t.list(t.item("a.", "the frog"), t.item("b.", "the whale"), role="choices")
    exercise = t.list(t.item("4.", "Which lives in the sea?", choices), role="exercise")
    assert t.flowed(t.p("End."), t.p("Choose.", role="direction"), exercise, t.p("Next.")) == [
        "paragraph 3-1 0 | End.",
        "direction 5-5 1 | Choose.",
        "exercise 1-5 0 | 4. Which lives in the sea?",
        "exercise 3-5 0 | a. the frog",
        "exercise 3-5 0 | b. the whale",
        "paragraph 3-1 1 | Next.",
    ]


def test_question_and_choices_stay_on_one_page(t: Trees) -> None:
    """BF 10.1.6."""
    choices = t.list("a", "b", role="choices")
    items = t.items(t.list(t.item("1", "Which?", choices), t.item("2", "Why?"), role="exercise"))
    assert items[0].keep == (("start_not_on_last", 1), ("whole", 1), ("next_whole", 1))
    assert items[1].keep == (("whole", 1), ("next_whole", 1))
    assert items[2].keep == (("whole", 1),)
    assert items[3].keep == ()


def test_very_many_choices_are_not_bound_to_one_page(t: Trees) -> None:
    """BF 10.1.6 holds where they fit one."""
    choices = t.list(*(f"choice {n}" for n in range(40)), role="choices")
    items = t.items(t.list(t.item("1", "Which?", choices), role="exercise"))
    assert all(item.keep == () for item in items[1:])


def test_further_directions_7_5(t: Trees) -> None:
    """BF 10.3."""
    assert t.flowed(t.p("Read.", role="direction"), t.p("Write.", role="direction")) == [
        "direction 5-5 0 | Read.",
        "direction 7-5 0 | Write.",
    ]


def test_questions_without_choices_1_3(t: Trees) -> None:
    """BF 10.4."""
    assert t.flowed(t.list(t.item("1.", "Why?"), role="exercise")) == ["exercise 1-3 0 | 1. Why?"]


def test_e44_question_goes_on_at_the_runover_after_displayed_verse(t: Trees) -> None:
    """BF 10.6, 10.7: the verse two cells right of the runover, blank lines round it."""
    choices = t.list(t.item("a.", "summer"), t.item("b.", "winter"), role="choices")
    question = t.item(
        "3.",
        "Read the line.",
        t.verse((1, 1, "The snow is deep.")),
        t.p("What time is it?"),
        choices,
    )
    assert t.flowed(t.list(question, role="exercise")) == [
        "exercise 1-5 0 | 3. Read the line.",
        "verse 7-9 1 | The snow is deep.",
        "exercise 5-5 1 | What time is it?",
        "exercise 3-5 0 | a. summer",
        "exercise 3-5 0 | b. winter",
    ]


def test_prose_shown_inside_a_question_is_a_further_paragraph(t: Trees) -> None:
    """BF 10.7: sources differ, so the margins are a row (displayed-in-exercise)."""
    tree = t.list(
        t.item(
            "1.", "Read:", Displayed(children=(t.p("It rained."),)), t.list("a", role="choices")
        ),
        role="exercise",
    )
    assert t.flowed(tree)[1] == "displayed-in-exercise 7-5 1 | It rained."


def test_e20_answer_space_stays_in_its_sentence(t: Trees) -> None:
    """BF 10.6."""
    item = t.item("5.", "A baby dog is called a ", t.answer(), ".")
    assert t.flowed(t.list(item, role="exercise")) == [
        "exercise 1-3 0 | 5. A baby dog is called a ____."
    ]


# ---------------------------------------------------------------- forms


def test_fields_of_a_form_one_a_line_1_3(t: Trees) -> None:
    """BF 6.7."""
    assert t.flowed(t.p("Name: ", t.answer(), " Date: ", t.answer(), ".")) == [
        "form 1-3 0 | Name: ____",
        "form 1-3 0 |  Date: ____.",
    ]


def test_a_label_without_a_colon_names_a_field_too(t: Trees) -> None:
    """BF 6.7: one field a line; what stands before a gap is of the field before it."""
    assert t.flowed(
        t.p("2. Surname ", t.answer()),
        t.p("Signed ", t.answer(), " Chair\tDate ", t.answer(), "/", t.answer(), "/20", t.answer()),
        t.p("Home telephone ", t.answer(), " Mobile ", t.answer()),
        t.p("Answer £ ", t.answer(), " (2 marks)"),
        t.p("Do you smoke? ", t.answer()),
        t.p("Telephone (home) ", t.answer(), " (mobile) ", t.answer()),
        t.p(t.answer()),
    ) == [
        "form 1-3 0 | 2. Surname ____",
        "form 1-3 0 | Signed ____ Chair",
        "form 1-3 0 | \tDate ____/____/20____",
        "form 1-3 0 | Home telephone ____",
        "form 1-3 0 |  Mobile ____",
        "form 1-3 0 | Answer £ ____ (2 marks)",
        "form 1-3 0 | Do you smoke? ____",
        "form 1-3 0 | Telephone (home) ____",
        "form 1-3 0 |  (mobile) ____",
        "form 1-3 0 | ____",
    ]


def test_lines_of_print_are_lines_of_a_form(t: Trees) -> None:
    """BF 6.7: boxes on one line, then a field on each."""
    box, end = t.answer("check", "☐"), LineBreak()
    line = t.p(box, " come ", box, " stay", end, "Guests: ", t.answer(), end, "Diet: ", t.answer())
    assert t.flowed(line) == [
        "form 1-3 0 | ☐ come ☐ stay",
        "form 1-3 0 | Guests: ____",
        "form 1-3 0 | Diet: ____",
    ]


def test_a_sentence_with_room_is_no_field(t: Trees) -> None:
    """BF 10.6: it stays a paragraph."""
    sentences = (
        t.p("The ", t.answer(), " is the powerhouse of the ", t.answer(), "."),
        t.p("Paris is in ", t.answer(), "."),
        t.p("Write x. Then x = ", t.answer()),
        t.p("In 1066 ", t.answer(), " came over the sea and won the land"),
        t.p("3 + 4 = ", t.answer()),
        t.p(t.answer(), " comes first"),
    )
    assert {item.style for item in t.items(*sentences)} == {"paragraph"}


def test_check_boxes_stay_with_their_words(t: Trees) -> None:
    """BF 10 and 6.7; a sentence with an answer space is no form."""
    assert t.flowed(
        t.p("Yes ", t.answer("check", "☐"), " No ", t.answer("checked", "☒"), role="form"),
        t.p("I was born in ", t.answer(), " and live there."),
    ) == [
        "form 1-3 0 | Yes ☐ No ☒",
        "paragraph 3-1 0 | I was born in ____ and live there.",
    ]


def test_a_question_and_the_boxes_for_its_answers_are_one_field(t: Trees) -> None:
    """BF 6.7; boxes that a sentence speaks of are no choices."""
    yes, no = t.answer("check", "☐"), t.answer("checked", "☒")
    lines = (
        t.p("Have you held a permit before? ", yes, " Yes ", no, " No"),
        t.p("Sex: ", yes, " F ", yes, " M ", yes, " I do not wish to say"),
        t.p("Tick ", yes, " for what you have and ", no, " for what you lack."),
        t.p(
            "An empty box is open. ", yes, " So is this: ", no, " but it was filled in by somebody."
        ),
    )
    assert [item.style for item in t.items(*lines)] == ["form", "form", "paragraph", "paragraph"]
    assert t.flowed(lines[0]) == ["form 1-3 0 | Have you held a permit before? ☐ Yes ☒ No"]


def test_boxes_one_below_the_other_stay_with_what_asks(t: Trees) -> None:
    """Common practice, no source; a field of a form is whole (BF 6.7)."""
    box = t.answer("check", "☐")
    boxes = t.p(box, " Fish"), t.p(box, " Bread")
    items = t.items(t.p("Sea."), t.p("What will you sell?"), *boxes, t.p("End."))
    assert [dict(item.keep) for item in items] == [
        {},
        {"with_next": 1, "whole": 1},
        {"whole": 1, "with_next": 1},
        {"whole": 1},
        {},
    ]


def test_of_very_many_boxes_the_first_two_stay_with_what_asks(t: Trees) -> None:
    """Common practice, no source: pages would stand half empty."""
    boxes = (t.p(t.answer("check", "☐"), " Fish of the sea " * 3) for _ in range(9))
    items = t.items(t.p("What will you sell?"), *boxes)
    kept = [at for at, item in enumerate(items) if ("with_next", 1) in item.keep]
    assert kept == [0, 1]


def test_choices_of_a_drop_down_list_are_told(t: Trees) -> None:
    """BF 3.1.1: words that print does not show are a transcriber's note."""
    line = t.p("Size: ", t.answer("choice", "", choices=("small", "large")))
    assert t.flowed(line) == ["form 1-3 0 | Size: __ ‹small; large›"]


# ---------------------------------------------------------------- verse and drama


def test_e26_poem_of_two_levels_and_stanzas(t: Trees) -> None:
    """BF 13.3, 13.4: 1-5, 3-5 over the whole poem; a blank line between stanzas."""
    poem = t.verse((1, 1, "The sun goes down,"), (4, 1, "One by one."), (4, 2, "The moon."))
    assert t.flowed(t.p("A."), poem, t.p("B.")) == [
        "paragraph 3-1 0 | A.",
        "verse 1-5 1 | The sun goes down,",
        "verse 3-5 0 | One by one.",
        "verse 3-5 1 | The moon.",
        "paragraph 3-1 1 | B.",
    ]


def test_no_blank_line_between_a_cell_5_heading_and_a_poem(t: Trees) -> None:
    """BF 13.3.1."""
    lines = t.flowed(t.h(1, "Poems"), t.h(2, "Dusk"), t.verse((1, 1, "The sun")))
    assert lines[-1] == "verse 1-3 0 | The sun"


def test_a_stanza_after_a_page_turn_keeps_its_blank_line(t: Trees) -> None:
    """BF 13.4, 1.11: after the turn, as the stanza needs it."""
    poem = t.verse((1, 1, "One."), t.page("8"), (1, 2, "Two."))
    assert t.flowed(poem) == ["verse 1-3 0 | One.", "turn 0 | 8", "verse 1-3 1 | Two."]


def test_blank_line_after_an_attribution_inside_an_item(t: Trees) -> None:
    """BF 9.4: also where the list goes on."""
    first = t.item(
        "", "Abdication", t.verse((1, 1, "Poor Isabella")), t.p("G. J.", role="attribution")
    )
    assert t.flowed(t.list(first, "Abdomen")) == [
        "list 1-3 0 | Abdication",
        "verse 5-7 1 | Poor Isabella",
        "attribution previous+5 0 | G. J.",
        "list 1-3 1 | Abdomen",
    ]


def test_e37_cast_list_and_prose_play(t: Trees) -> None:
    """BF 14.2 to 14.5."""
    cast = t.list("Mrs. Pine, an old teacher", "Tom, her son", role="cast")
    assert t.flowed(
        t.h(1, "A Play"),
        t.h(2, "Characters"),
        cast,
        Speech(
            speaker=t.runs("Mrs. Pine:"), children=(t.p("Who left the gate open?"), t.p("Well?"))
        ),
        t.p("(She goes to the window.)", role="stage-direction"),
        Speech(speaker=t.runs("Tom:"), children=(t.p("I did."),)),
    )[2:] == [
        "cast 1-3 0 | Mrs. Pine, an old teacher",
        "cast 1-3 0 | Tom, her son",
        "speech 1-3 1 | Mrs. Pine: Who left the gate open?",
        "speech 5-3 0 | Well?",
        "stage-direction 7-5 0 | (She goes to the window.)",
        "speech 1-3 0 | Tom: I did.",
    ]


def test_verse_play_starts_on_the_line_of_the_name(t: Trees) -> None:
    """BF 14.6: 1-5, further lines 3-5."""
    speech = Speech(speaker=t.runs("Tom"), children=(t.verse((1, 1, "I did."), (1, 1, "I fled.")),))
    assert t.flowed(speech) == [
        f"verse-speech 1-5 0 | Tom{WIDE}I did.",
        "verse-speech 3-5 0 | I fled.",
    ]


def test_a_name_upright_inside_a_direction_in_italics_is_of_the_direction(t: Trees) -> None:
    """BF 14.1.3: one passage, not an indicator before the bracket and one for each word."""
    words = ("Yes, sir. ", ("(", ITALIC), ("Tom", SMALL_CAPS), (" goes out.)", ITALIC))
    alone = ("I met ", "Tom", " ", ("yesterday", ITALIC), ".")
    speeches = [
        Speech(speaker=t.runs("Tom"), children=(t.p(*said),), address=t.at())
        for said in (words, alone)
    ]
    first, second = t.items(*speeches)
    forms = [
        [run.typeform for run in item.runs if isinstance(run, Run)] for item in (first, second)
    ]
    assert forms == [[0, 0, ITALIC, ITALIC, ITALIC], [0, 0, 0, 0, ITALIC, 0]]


@pytest.mark.parametrize(
    ("words", "forms"),
    [
        ((("(", 0), ("Tom", SMALL_CAPS), (" goes.", ITALIC), (")", 0)), [0, 1, 1, 0]),
        ((("(", 0), ("To ", ITALIC), ("Dr. Tom", SMALL_CAPS), (")", 0)), [0, 1, 1, 0]),
        ((("(", 0), ("Tom", SMALL_CAPS), (")", 0), ("so", ITALIC)), [0, 0, 0, 1]),
        ((("Aye", ITALIC), (" so went Tom ", 0), ("home.", ITALIC)), [1, 0, 1]),
        ((("Aye", ITALIC), (" Dr. Tim ", 0), ("home.", ITALIC)), [1, 0, 1]),
    ],
)
def test_a_name_beside_a_bracket_or_after_a_title_is_of_the_direction(
    t: Trees, words: tuple[tuple[str, int], ...], forms: list[int]
) -> None:
    """BF 14.1.3: where print has the brackets of a direction upright, they stay so (UEB 9.7)."""
    (item,) = t.items(Speech(speaker=t.runs("Tom"), children=(t.p(*words),), address=t.at()))
    said = [run.typeform for run in item.runs if isinstance(run, Run)][1:]
    assert said == [ITALIC if form else 0 for form in forms]


def test_a_name_without_a_mark_is_followed_by_a_wide_space(t: Trees) -> None:
    """BF 14.1.5: three blank cells; after a mark of print one."""
    assert t.flowed(
        Speech(speaker=t.runs("Tom"), children=(t.p("I did."),)),
        Speech(speaker=t.runs("Ann"), children=()),
        Speech(speaker=t.runs("Mrs. Pine."), children=(t.p("Well?"),)),
    ) == [
        f"speech 1-3 0 | Tom{WIDE}I did.",
        "speech 1-3 0 | Ann",
        "speech 1-3 0 | Mrs. Pine. Well?",
    ]


def test_speakers_names_wear_no_typeform_and_no_small_capitals(t: Trees) -> None:
    """BF 14.1.2, 14.1.3: neither before a speech nor in a direction, whose own italics are
    dropped too as it stands alone (BF 5.3)."""
    items = t.items(
        t.p(("(", ITALIC), ("Tom", SMALL_CAPS), (" goes.)", ITALIC), role="stage-direction"),
        Speech(speaker=t.runs(("Tom", BOLD | SMALL_CAPS)), children=(t.p(("Yes", ITALIC), "."),)),
        t.p("They wrote ", ("NATO", SMALL_CAPS), " and ", ("Tom", SMALL_CAPS), "."),
    )
    forms = [[getattr(run, "typeform", 0) for run in item.runs] for item in items]
    assert forms == [[0, 0, 0], [0, 0, ITALIC, 0], [0, SMALL_CAPS, 0, 0, 0]]


def test_entry_words_are_upright_where_all_wear_a_typeform(t: Trees) -> None:
    """BF 21.2.2: in a glossary and an index; what only some words wear is kept."""
    for role in ("glossary", "index"):
        both = t.list(
            t.item("", ("float", BOLD), ": not a ", ("boat", BOLD)),
            t.item("", ("gauge", BOLD), ": a board"),
            role=role,
        )
        assert [[run.typeform for run in item.runs] for item in t.items(both)] == [
            [0, 0, BOLD],
            [0, 0],
        ]
    terms = [t.item("", t.p((word, SMALL_CAPS), role="term"), t.p("A.")) for word in ("Ass", "Ink")]
    assert not any(i.runs[0].typeform for i in t.items(t.list(*terms, kind="definition")))
    some = t.list(t.item("", ("float", ITALIC), ": a"), t.item("", "gauge: b"), role="index")
    assert t.items(some)[0].runs[0].typeform == ITALIC
    assert "layout.typeform-dropped" in t.kinds()


def test_speakers_in_capitals_have_initial_ones(t: Trees) -> None:
    """BF 14.1.2: initial capitals only, whatever print uses; every letter of print is there."""
    speech = Speech(speaker=t.runs("LADY MACBETH:"), children=(t.p("I did SO."),))
    document = t.document(speech)
    (item,) = t.items(speech)
    passage = passage_of(item.runs, document.ledger)
    assert passage.text == "Lady Macbeth: I did SO."
    assert not passage.forms
    assert [passage.ledger_at(at) for at in (0, 5)] == [0, 5]
    assert t.kinds() == ["layout.speaker-capitals"]


def test_an_agency_may_keep_the_capitals_of_print(t: Trees) -> None:
    rules = {**bf2016().rules, "speaker_capitals": "print"}
    speech = Speech(speaker=t.runs("TOM:"), children=(t.p("I did."),))
    (item,) = t.items(speech, convention=replace(bf2016(), rules=rules))
    assert passage_of(item.runs, t.builder.build()).text == "TOM: I did."
    assert t.kinds() == []


def test_scene_settings(t: Trees) -> None:
    """BF 14.3: 7-5 (margins not confirmed), the typeform of the whole dropped."""
    setting = t.p(("A wood near Athens.", ITALIC), role="scene-setting")
    assert t.flowed(setting) == ["scene-setting 7-5 0 | A wood near Athens."]


def test_an_item_of_blocks_only(t: Trees) -> None:
    item = ListItem(marker=t.runs("1."), children=(t.list("a", "b"),), address="i")
    assert t.flowed(t.list(item)) == ["list 1-5 0 | 1.", "list 3-5 0 | a", "list 3-5 0 | b"]


def test_paragraphs_of_a_dictionary_that_begin_with_a_marked_word_are_entries(t: Trees) -> None:
    """BF 21.2, 21.6: 1-3, the entry word upright; other paragraphs stay 3-1."""
    section = Section(
        role="dictionary",
        children=(
            t.h(1, "Words"),
            t.p("Old spellings are kept."),
            t.p(("ebb", ITALIC), " noun, the fall of the ", ("tide", ITALIC)),
            t.p(("float", ITALIC), " noun, a thing that swims"),
        ),
    )
    assert t.flowed(section)[1:] == [
        "paragraph 3-1 1 | Old spellings are kept.",
        "glossary 1-3 1 | ebb noun, the fall of the tide",
        "glossary 1-3 0 | float noun, a thing that swims",
    ]
    assert [run.typeform for run in t.items(section)[2].runs] == [0, 0, ITALIC]
