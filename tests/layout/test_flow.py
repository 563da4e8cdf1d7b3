"""Document trees to items: paragraphs, headings, displayed matter, boxes, print pages.

Each test draws the items of a small tree; E numbers are worked examples of the formats digest
on which these pages were modelled, with the section they show.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from convert.document.nodes import (
    BOLD,
    ITALIC,
    Box,
    ContextBreak,
    Displayed,
    DisplayMath,
    Graphic,
    InlineGraphic,
    LineBreak,
    ListBlock,
    ListItem,
    Paragraph,
    PrintPageTurn,
    Run,
    Section,
    TranscriberNote,
    Unknown,
)
from convert.layout.convention import Convention
from convert.layout.items import Item
from convert.settings import Settings
from tests.layout.trees import Trees, bf2016


@pytest.fixture
def t() -> Trees:
    return Trees()


# ---------------------------------------------------------------- paragraphs


def test_paragraph_indented_3_1_without_blank_lines(t: Trees) -> None:
    """BF 1.9."""
    assert t.flowed(t.p("Air."), t.p("Salt.")) == [
        "paragraph 3-1 0 | Air.",
        "paragraph 3-1 0 | Salt.",
    ]


def test_blocked_paragraphs_have_a_blank_line_between(t: Trees) -> None:
    """BF 1.9."""
    assert t.flowed(t.p("One.", role="blocked"), t.p("Two.", role="blocked")) == [
        "blocked 1-1 0 | One.",
        "blocked 1-1 1 | Two.",
    ]


def test_only_the_first_paragraph_under_a_heading_blocked_all_are_indented(t: Trees) -> None:
    """BF 1.9."""
    assert t.flowed(t.h(1, "Sea"), t.p("Air.", role="blocked"), t.p("Salt.")) == [
        "centred-heading centred 0 | Sea",
        "paragraph 3-1 1 | Air.",
        "paragraph 3-1 0 | Salt.",
    ]


def test_space_in_print_is_one_blank_line_and_an_ornament_is_centred(t: Trees) -> None:
    """BF 1.9."""
    blank, stars = ContextBreak(), ContextBreak(runs=t.runs("* * *"))
    assert t.flowed(t.p("A."), blank, t.p("B."), stars, t.p("C.")) == [
        "paragraph 3-1 0 | A.",
        "paragraph 3-1 1 | B.",
        "context-break centred 1 | * * *",
        "paragraph 3-1 1 | C.",
    ]


def test_letter_lines_and_cross_references(t: Trees) -> None:
    """BF 9.6, 9.7; the margins are rows that common practice fills."""
    assert t.flowed(
        t.p("12 Hill Road", role="address"),
        t.p("Dear Ann,", role="salutation"),
        t.p("Come soon."),
        t.p("See page 4.", role="cross-reference"),
    ) == [
        "letter-line 1-3 0 | 12 Hill Road",
        "letter-line 1-3 0 | Dear Ann,",
        "paragraph 3-1 0 | Come soon.",
        "cross-reference 7-5 1 | See page 4.",
    ]


# ---------------------------------------------------------------- headings


@pytest.mark.parametrize(
    "ranks, styles",
    [
        ((1,), "C"),
        ((1, 2), "C5"),
        ((1, 2, 3), "C57"),
        ((1, 2, 3, 4), "CC57"),
        ((1, 2, 3, 4, 5), "CCC57"),
        ((1, 2, 3, 4, 5, 6), "CCCC57"),
        ((2, 4), "C5"),
        ((1, 2, 3, 4, 5, 6, 7), "CCCC577"),
    ],
)
def test_ranks_of_the_whole_work_decide_the_kind_of_heading(
    t: Trees, ranks: tuple[int, ...], styles: str
) -> None:
    """BF 4.1: the same printed rank has the same braille heading everywhere."""
    names = {"C": "centred-heading", "5": "cell-5-heading", "7": "cell-7-heading"}
    items = t.items(*(t.h(rank, f"Part {rank}") for rank in (*ranks, ranks[0])))
    assert [item.style for item in items] == [names[s] for s in (*styles, styles[0])]
    assert [item.level for item in items] == [*ranks, ranks[0]]


@pytest.mark.parametrize(
    "ranks, styles",
    [
        ((1, 2, 6, 2, 3), "C5757"),  # the sixth rank stands under the second only, as the third
        ((3, 1, 2, 2), "CC55"),  # the third rank stands under none
        ((1, 3, 2, 3), "C757"),  # one rank, one kind: the first 3 leaves a kind out
        ((2, 1, 2), "5C5"),
    ],
)
def test_a_heading_is_one_step_below_the_one_it_stands_under(
    t: Trees, ranks: tuple[int, ...], styles: str
) -> None:
    """BF 4.1: cell-7 headings stand under cell-5 ones and these under centred ones, as far as
    one printed rank keeps one kind of heading throughout the work."""
    names = {"C": "centred-heading", "5": "cell-5-heading", "7": "cell-7-heading"}
    items = t.items(*(t.h(rank, f"Part {at}") for at, rank in enumerate(ranks)))
    assert [item.style for item in items] == [names[s] for s in styles]


def test_e7_centred_then_cell_5_then_its_cell_7(t: Trees) -> None:
    """BF 4.4 to 4.6: one blank line round a centred heading serves the cell-5 heading too."""
    assert t.flowed(
        t.p("End of the last chapter."),
        t.h(1, "Chapter 4"),
        t.h(2, "Winter"),
        t.h(3, "Snow and Ice"),
        t.p("Snow falls."),
    ) == [
        "paragraph 3-1 0 | End of the last chapter.",
        "centred-heading centred 1 | Chapter 4",
        "cell-5-heading 5-5 1 | Winter",
        "cell-7-heading 7-7 0 | Snow and Ice",
        "paragraph 3-1 0 | Snow falls.",
    ]


def test_headings_stay_whole_and_with_the_next_line(t: Trees) -> None:
    """BF 4.2.3, 4.2.5; before a list the whole next item stays (committee ruling)."""
    items = t.items(t.h(1, "Sea"), t.p("Air."), t.h(2, "Salt"), t.list("one", "two"))
    assert items[0].keep == (("whole", 1), ("with_next", 1))
    assert items[2].keep == (("whole", 1), ("with_next", 1), ("next_whole", 1))


def test_typeform_of_a_whole_heading_is_dropped_and_counted(t: Trees) -> None:
    """BF 4.3.1, 5.3: that of a part makes a distinction and stays."""
    items = t.items(
        t.h(1, ("Sea ", BOLD), ("and Air", BOLD)),
        t.h(1, ("Reading ", BOLD), ("Emma", BOLD | ITALIC)),
    )
    assert [[run.typeform for run in item.runs] for item in items] == [[0, 0], [0, ITALIC]]
    finding = t.findings.all()[0]
    assert finding.kind == "layout.typeform-dropped"
    assert len(finding.spans) == 2
    assert "2 places" in finding.message


def test_blank_line_between_two_centred_headings(t: Trees) -> None:
    """BF 4.4."""
    assert t.flowed(t.h(1, "Part"), t.h(1, "Chapter")) == [
        "centred-heading centred 0 | Part",
        "centred-heading centred 1 | Chapter",
    ]


def test_a_subtitle_is_a_further_line_of_its_heading(t: Trees) -> None:
    """BF 4.4: two lines of one heading, no blank line between, and no rank of its own."""
    chapter, title = t.h(1, "Chapter 4"), replace(t.h(2, "The Seasons"), role="subtitle")
    assert t.flowed(chapter, title, t.h(3, "Winter"), t.p("Snow.")) == [
        "centred-heading centred 0 | Chapter 4 / The Seasons",
        "cell-5-heading 5-5 1 | Winter",
        "paragraph 3-1 0 | Snow.",
    ]


def test_e29_letters_of_an_index_are_divisions(t: Trees) -> None:
    """BF 21.2.3: a blank line before the first only, none after."""
    index = Section(
        role="index",
        children=(
            t.h(1, "Index"),
            t.h(2, "A"),
            t.list("acorns, 12", role="index"),
            t.h(2, "B"),
            t.list("bees, 7", role="index"),
        ),
    )
    assert t.flowed(index) == [
        "centred-heading centred 0 | Index",
        "letter-division centred 1 | A",
        "index 1-3 0 | acorns, 12",
        "letter-division centred 0 | B",
        "index 1-3 0 | bees, 7",
    ]


# ---------------------------------------------------------------- displayed matter


def test_e17_displayed_blocked_passage_with_attribution(t: Trees) -> None:
    """BF 9.2, 9.4: blocked in cell 3, no blank line before an attribution, one after."""
    passage = Displayed(
        children=(t.p("Come at once.", role="blocked"), t.p("Ann Hill", role="attribution"))
    )
    assert t.flowed(t.p("The letter held one line."), passage, t.p("He put it down.")) == [
        "paragraph 3-1 0 | The letter held one line.",
        "displayed-blocked 3-3 1 | Come at once.",
        "attribution previous+5 0 | Ann Hill",
        "paragraph 3-1 1 | He put it down.",
    ]


@pytest.mark.parametrize("what", ["list", "displayed", "box", "paragraph"])
def test_a_source_follows_its_material_directly(t: Trees, what: str) -> None:
    """BF 9.5: 7-5; the blank line that the material asks for stands below its source."""
    material = {
        "list": lambda: t.list("one"),
        "displayed": lambda: Displayed(children=(t.p("Come."),)),
        "box": lambda: Box(children=(t.p("Come."),)),
        "paragraph": lambda: t.p("Come."),
    }[what]()
    drawn = t.flowed(t.p("Text."), material, t.p("By permission.", role="source"), t.p("On."))
    assert drawn[-2:] == [
        "source 7-5 0 | By permission.",
        f"paragraph 3-1 {int(what != 'paragraph')} | On.",
    ]


def test_date_address_and_salutation_of_a_letter_stand_at_its_margin(t: Trees) -> None:
    """BF 9.7: 1-3, moved to cell 3 in a letter among other text; margins not confirmed."""
    letter = Displayed(
        children=(
            t.p("12 May", role="address"), t.p("Dear Ann,", role="salutation"), t.p("Come.")
        ),
        role="letter",
    )  # fmt: skip
    assert t.flowed(letter) == [
        "displayed 3-5 0 | 12 May",
        "displayed 3-5 0 | Dear Ann,",
        "displayed 5-3 0 | Come.",
    ]


def test_the_blank_line_of_a_centred_heading_stays_above_an_illustration(t: Trees) -> None:
    """BF 4.4 against 4.6 (none between a heading and its illustration): the convention's rows say
    which prevails; after cell-5 and cell-7 headings there is none."""
    items = [t.h(1, "Birds"), t.p("Map 1.", role="caption"), t.h(2, "Owls")]
    assert t.flowed(*items, t.p("Map 2.", role="caption"), t.p("Text.")) == [
        "centred-heading centred 0 | Birds",
        "caption 7-5 1 | Map 1.",
        "cell-5-heading 5-5 1 | Owls",
        "caption 7-5 0 | Map 2.",
        "paragraph 3-1 0 | Text.",
    ]


def test_notes_below_a_centred_heading_that_ends_its_print_page(t: Trees) -> None:
    """BF 4.4: the blank line below the heading stands above the separation line."""
    noted = t.p("Text", t.call("1", "n"))
    drawn = t.flowed(noted, t.foot("n", "1", t.p("Note.")), t.h(1, "Owls"), t.page("9"), t.p("On."))
    assert drawn[1:3] == ["centred-heading centred 1 | Owls", "note-rule 1-1 1"]


def test_e18_attribution_after_a_blocked_paragraph(t: Trees) -> None:
    """BF 9.4: it stays with at least one line of its text."""
    items = t.items(t.p("Long ago.", role="blocked"), t.p("Old Tales", role="attribution"))
    assert (items[1].indent_from_previous, items[1].before) == (5, 0)
    assert items[1].keep == (("with_previous", 1),)


def test_displayed_paragraphs_indented_5_3_and_blocked_3_3(t: Trees) -> None:
    """BF 9.2: a blank line between blocked ones only."""
    indented = Displayed(children=(t.p("One."), t.p("Two.")))
    blocked = Displayed(children=(t.p("Three.", role="blocked"), t.p("Four.", role="blocked")))
    assert t.flowed(indented, blocked, t.p("Text.")) == [
        "displayed 5-3 0 | One.",
        "displayed 5-3 0 | Two.",
        "displayed-blocked 3-3 1 | Three.",
        "displayed-blocked 3-3 1 | Four.",
        "paragraph 3-1 1 | Text.",
    ]


def test_e42_epigraph_under_a_centred_heading(t: Trees) -> None:
    """BF 9.3, 9.4: the blank line after the heading is also the one before the epigraph."""
    epigraph = Displayed(
        children=(t.p("All roads lead home."), t.p("A saying", role="attribution")), role="epigraph"
    )
    assert t.flowed(t.h(1, "Part Two"), epigraph, t.p("It was late in May.")) == [
        "centred-heading centred 0 | Part Two",
        "displayed-blocked 3-3 1 | All roads lead home.",
        "attribution previous+5 0 | A saying",
        "paragraph 3-1 1 | It was late in May.",
    ]


def test_typeform_of_a_whole_displayed_paragraph_is_dropped(t: Trees) -> None:
    """BF 5.3."""
    items = t.items(Displayed(children=(t.p(("Come at once.", ITALIC)),)))
    assert items[0].runs[0].typeform == 0


def test_upright_words_of_a_display_in_italics_take_them_where_the_style_reverses(t: Trees) -> None:
    """BF 5 (practice, no numbered rule): the ship's name would be lost among the italics; only
    where nearly all is in italics, and not unless the convention asks."""
    rows = bf2016()
    styles = {
        name: replace(style, typeforms="reverse") if name.startswith("displayed") else style
        for name, style in rows.styles.items()
    }

    def forms(*parts: Any, convention: Convention) -> list[int]:
        items = t.items(Displayed(children=(t.p(*parts),)), convention=convention)
        return [run.typeform for run in items[0].runs if isinstance(run, Run)]

    asked = replace(rows, styles=styles)
    mostly = (("The sea took the ", ITALIC), "Swan", (" and all her people with her.", ITALIC))
    assert forms(*mostly, convention=asked) == [0, ITALIC, 0]
    assert forms(*mostly, convention=rows) == [ITALIC, 0, ITALIC]
    half = (("The sea", ITALIC), " took the ship.")
    assert forms(*half, convention=asked) == [ITALIC, 0]
    assert forms(("All of it.", ITALIC), convention=asked) == [0]


def test_display_math_is_an_item_with_its_expression(t: Trees) -> None:
    start, end = t.builder.add("x = 2", "a.xhtml", "/8")
    math = DisplayMath(start=start, end=end, mathml="<math/>", address="m")
    items = t.items(t.p("So:"), math)
    assert (items[1].kind, items[1].element) == ("math", "m")
    assert t.flowed(math) == ["math 3-5 0 | ⟦x = 2⟧"]


def test_display_math_in_rows_has_blank_lines_and_stays_on_one_page(t: Trees) -> None:
    """UEB 11.8; Nemeth Code 178-186: blank lines before and after."""
    start, end = t.builder.add("1 2", "a.xhtml", "/8")
    table = "<math><mtable><mtr><mtd><mn>1</mn></mtd><mtd><mn>2</mn></mtd></mtr></mtable></math>"
    math = DisplayMath(start=start, end=end, mathml=table, address="m")
    items = t.items(t.p("So:"), math, t.p("Then:"))
    assert (items[1].style, items[1].before, items[2].before) == ("math-rows", 1, 1)
    assert items[1].keep == (("whole", 1),)


def test_an_item_stays_with_its_displayed_math(t: Trees) -> None:
    """Common practice, no source."""
    start, end = t.builder.add("x = 2", "a.xhtml", "/8")
    math = DisplayMath(start=start, end=end, mathml="<math/>", address="m")
    item = ListItem(children=(t.p("Solve"), math))
    items = t.items(ListBlock(kind="plain", children=(item,)))
    assert [row.kind for row in items] == ["list", "math"]
    assert ("with_next", 1) in items[0].keep


def test_a_paragraph_goes_on_at_the_runover_after_displayed_math(t: Trees) -> None:
    """As BF 10.6 has it for questions; a new paragraph begins as any other."""
    start, end = t.builder.add("x = 2", "a.xhtml", "/8")
    math = DisplayMath(start=start, end=end, mathml="<math/>", address="a!/4/2")
    first = replace(t.p("So:"), address="a!/4")
    rest, new = replace(t.p("which is"), address="a!/4/3"), replace(t.p("Then"), address="a!/5")
    assert t.flowed(first, math, rest, new)[2:] == [
        "paragraph-rest 1-1 0 | which is",
        "paragraph 3-1 0 | Then",
    ]
    assert t.flowed(math, new)[1:] == ["paragraph 3-1 0 | Then"]


# ---------------------------------------------------------------- boxes


def test_e14_box_with_heading_has_no_blank_lines_inside_its_lines(t: Trees) -> None:
    """BF 7.2, 7.3."""
    box = Box(children=(t.h(2, "Did You Know?"), t.p("Bees can see.")))
    assert t.flowed(t.h(1, "Bees"), t.p("End."), box, t.p("The next.")) == [
        "centred-heading centred 0 | Bees",
        "paragraph 3-1 1 | End.",
        "box-top 1-1 1",
        "cell-5-heading 5-5 0 | Did You Know?",
        "paragraph 3-1 0 | Bees can see.",
        "box-bottom 1-1 0",
        "paragraph 3-1 1 | The next.",
    ]


def test_e16_box_within_a_box(t: Trees) -> None:
    """BF 7.1 to 7.3: the outer lines are of full cells; no blank line where lines adjoin.

    The worked example has none above the inner box either; the rule for box lines asks for one.
    """
    inner = Box(children=(t.p("Inner text."),))
    outer = Box(children=(t.p("Outer text."), inner))
    lines = t.flowed(outer)
    assert lines == [
        "box-top-outer 1-1 0",
        "paragraph 3-1 0 | Outer text.",
        "box-top 1-1 1",
        "paragraph 3-1 0 | Inner text.",
        "box-bottom 1-1 0",
        "box-bottom-outer 1-1 0",
    ]


def test_e46_two_boxes_in_a_row_have_one_blank_line_between(t: Trees) -> None:
    """BF 7.2."""
    lines = t.flowed(Box(children=(t.p("One."),)), Box(children=(t.p("Two."),)))
    assert lines[2:4] == ["box-bottom 1-1 0", "box-top 1-1 1"]


def test_source_line_directly_under_the_bottom_line(t: Trees) -> None:
    """BF 7.2, 9.5."""
    lines = t.flowed(Box(children=(t.p("One."),)), t.p("From a report.", role="source"))
    assert lines[-1] == "source 7-5 0 | From a report."


def test_a_box_with_nothing_in_it_has_no_lines(t: Trees) -> None:
    assert t.flowed(t.p("A."), Box(children=()), t.p("B.")) == [
        "paragraph 3-1 0 | A.",
        "paragraph 3-1 0 | B.",
    ]


# ---------------------------------------------------------------- pictures and notes


def test_e45_caption_credit_description(t: Trees) -> None:
    """BF 6.2: each 7-5, in this order, no blank lines between; the description is a note."""
    picture = Graphic(
        alt=t.runs("Three small boats lie at a stone wall."),
        resource="h.jpg",
        children=(
            t.p("Figure 2.3 The Harbor at Night", role="caption"),
            t.p("Photo by L. Reed", role="credit"),
        ),
    )
    assert t.flowed(t.p("Air."), picture, t.p("Salt.")) == [
        "paragraph 3-1 0 | Air.",
        "caption 7-5 0 | Figure 2.3 The Harbor at Night",
        "caption 7-5 0 | Photo by L. Reed",
        "description 7-5 0 | ‹Picture: Three small boats lie at a stone wall.›",
        "paragraph 3-1 0 | Salt.",
    ]


def test_caption_printed_beside_a_picture_stands_above_its_description(t: Trees) -> None:
    """BF 6.2."""
    picture = Graphic(alt=t.runs("A barn."), resource="b.jpg")
    assert t.flowed(picture, t.p("Figure 2", role="caption"), t.p("Text.")) == [
        "caption 7-5 0 | Figure 2",
        "description 7-5 0 | ‹Picture: A barn.›",
        "paragraph 3-1 0 | Text.",
    ]


def test_pictures_inside_a_line(t: Trees) -> None:
    """BF 3.1.4: the description is embedded; a picture without one is reported."""
    star = InlineGraphic(*t.builder.add("star", "a", "/2"), "star.png")
    bare = InlineGraphic(star.end, star.end, "dot.png")
    assert t.flowed(t.p("Look: ", star, bare, " here.")) == ["paragraph 3-1 0 | Look: ‹star› here."]
    assert t.kinds() == ["layout.picture-omitted"]


def test_a_long_description_inside_a_line_is_a_paragraph_of_its_own(t: Trees) -> None:
    """BF 3.1.4, 6.2: more than seven words; no illustration stands inside a paragraph."""
    words = "a red star over the gate of the old town"
    star = InlineGraphic(*t.builder.add(words, "a", "/2"), "star.png")
    assert t.flowed(t.p("Look: ", star, " here."), t.p("On.")) == [
        "paragraph 3-1 0 | Look: ‹Picture› here.",
        f"description 7-5 0 | ‹Picture: {words}›",
        "paragraph 3-1 0 | On.",
    ]


def test_a_blank_line_between_illustrations_with_descriptions_in_a_row(t: Trees) -> None:
    """BF 6.2 (conference slides of 2011): between groups, none around or inside one."""

    def picture(n: int, alt: str = "A barn.") -> Graphic:
        kids = (t.p(f"Map {n}", role="caption"),)
        return Graphic(alt=t.runs(alt) if alt else (), resource=f"{n}.jpg", children=kids)

    assert t.flowed(t.p("Text."), picture(1), picture(2), t.p("Text."), picture(3, ""),
                    picture(4, ""), t.p("Text.")) == [
        "paragraph 3-1 0 | Text.",
        "caption 7-5 0 | Map 1",
        "description 7-5 0 | ‹Picture: A barn.›",
        "caption 7-5 1 | Map 2",
        "description 7-5 0 | ‹Picture: A barn.›",
        "paragraph 3-1 0 | Text.",
        "caption 7-5 0 | Map 3",
        "caption 7-5 0 | Map 4",
        "paragraph 3-1 0 | Text.",
    ]  # fmt: skip


def test_e13_caption_without_an_identifier_is_given_one(t: Trees) -> None:
    """BF 6.2, 3.1.4: of seven words or fewer, so embedded."""
    picture = Graphic(
        alt=t.runs("A barn."),
        resource="b.jpg",
        children=(t.p("A farm with goats.", role="caption"),),
    )
    assert t.flowed(picture)[0] == "caption 7-5 0 | ‹Caption› A farm with goats."


def test_pictures_without_words_are_reported(t: Trees) -> None:
    """BF 6.4."""
    assert t.flowed(
        Graphic(alt=(), resource="map.png"),
        Graphic(alt=(), resource="line.png", decorative=True),
        Graphic(alt=(), resource="fig.png", children=(t.p("Map 2", role="caption"),)),
    ) == ["caption 7-5 0 | Map 2"]
    assert t.kinds() == [
        "layout.picture-omitted",
        "layout.picture-decorative",
        "layout.picture-undescribed",
    ]


def test_e12_transcribers_note_7_5_inside_its_signs(t: Trees) -> None:
    """BF 3.1.4; each paragraph carries the note's signs."""
    note = TranscriberNote(children=(t.p("Table 2 is given as a list."), t.p("It is wide.")))
    assert t.flowed(t.p("Air."), note, t.p("Salt.")) == [
        "paragraph 3-1 0 | Air.",
        "transcriber-note 7-5 0 | ‹Table 2 is given as a list.›",
        "transcriber-note 7-5 0 | ‹It is wide.›",
        "paragraph 3-1 0 | Salt.",
    ]


@pytest.mark.parametrize(
    "words, lines",
    [
        (
            "one two three four five six seven",
            ["paragraph 3-1 0 | ‹one two three four five six seven› Air."],
        ),
        (
            "one two three four five six seven eight",
            [
                "transcriber-note 7-5 0 | ‹one two three four five six seven eight›",
                "paragraph 3-1 0 | Air.",
            ],
        ),
    ],
)
def test_notes_of_seven_words_are_embedded(t: Trees, words: str, lines: list[str]) -> None:
    """BF 3.1.4."""
    assert t.flowed(TranscriberNote(children=(t.p(words),)), t.p("Air.")) == lines


def test_unknown_matter_flows_as_its_contents(t: Trees) -> None:
    assert t.flowed(Unknown(children=(t.p("Kept."),), tag="svg")) == ["paragraph 3-1 0 | Kept."]


# ---------------------------------------------------------------- print pages


def test_e6_print_page_inside_a_paragraph_stays_among_its_words(t: Trees) -> None:
    """BF 1.11: the paragraph goes on in its runover cell."""
    assert t.flowed(t.p("The wind was cold and the ", PrintPageTurn("13"), "sea was rough.")) == [
        "paragraph 3-1 0 | The wind was cold and the [13]sea was rough."
    ]


def test_e10_blank_line_after_the_turn_when_what_follows_needs_one(t: Trees) -> None:
    """BF 1.11, Appendix C."""
    assert t.flowed(t.list("red", "blue"), t.page("34"), t.h(1, "Shapes")) == [
        "list 1-3 0 | red",
        "list 1-3 0 | blue",
        "turn 0 | 34",
        "centred-heading centred 1 | Shapes",
    ]


def test_e11_blank_line_before_the_turn_when_nothing_after_needs_one(t: Trees) -> None:
    """BF 8.3.2."""
    assert t.flowed(t.list("red", "blue"), t.page("34"), t.p("The painter came.")) == [
        "list 1-3 0 | red",
        "list 1-3 0 | blue",
        "turn 1 | 34",
        "paragraph 3-1 0 | The painter came.",
    ]


def test_no_blank_lines_at_a_turn_inside_a_list(t: Trees) -> None:
    """BF 8.3."""
    block = t.list("red", "blue")
    both = type(block)(children=(block.children[0], t.page("9"), block.children[1]))
    assert t.flowed(both) == ["list 1-3 0 | red", "turn 0 | 9", "list 1-3 0 | blue"]


def test_e47_blank_line_between_a_turn_and_a_box(t: Trees) -> None:
    """BF 7.2b."""
    lines = t.flowed(t.p("End."), t.page("60"), Box(children=(t.p("Try it."),)))
    assert lines[1:3] == ["turn 0 | 60", "box-top 1-1 1"]


# ---------------------------------------------------------------- sections


def test_alphabetic_references_begin_on_a_new_braille_page(t: Trees) -> None:
    """BF 21.2; front matter items too (BF 2.7), numbered p1 and so on (BF 1.15)."""
    items = t.items(
        Section(children=(t.p("To Ann."),), role="dedication"),
        Section(children=(t.p("Why."),), role="preface"),
        Section(children=(t.h(1, "One"), t.p("Text.")), role="chapter"),
        Section(children=(t.page("90"), t.h(1, "Glossary")), role="glossary"),
        Section(children=(t.p("A late preface."),), role="preface"),
    )
    assert [item.new_page for item in items] == [False, True, False, False, True, False, True]
    assert [item.division for item in items] == ["front"] * 2 + ["body"] * 5


def test_needs_before_tells_whose_style_wants_the_blank_line(t: Trees) -> None:
    """BF 1.9 as updated in 2024: needed where a page turns between two items."""
    items: list[Item] = t.items(t.list("red", "blue"), t.p("Text."), t.h(1, "Sea"))
    assert [item.needs_before for item in items] == [True, False, False, True]
    assert [item.after for item in items] == [0, 1, 0, 1]


def test_deep_nesting_of_blocks_does_not_exhaust_the_program(t: Trees) -> None:
    block: Section | Displayed | Box = Section(children=(t.p("Deep."),))
    for at in range(30_000):
        kind = (Section, Displayed, Box)[at % 3]
        block = kind(children=(block,))
    items = t.items(block, settings=Settings(cells=20))
    assert [item.runs for item in items if item.runs] != []
    assert all(item.first <= 10 and item.runover <= 10 for item in items)


def test_title_pages_of_print_have_no_rank_among_the_headings(t: Trees) -> None:
    """BF 2.3, 4.1: they name the work; its acts and chapters are the major headings.  Each item
    of the front matter starts a new braille page (BF 2.7 to 2.11)."""
    title = Section(role="titlepage", children=(t.h(1, "River Tales"), t.p("By Ann Hill")))
    preface = Section(role="preface", children=(t.h(2, "Preface"), t.p("Read.")))
    half = Section(role="halftitlepage", children=(t.h(2, "River Tales"),))
    body = Section(role="bodymatter", children=(t.h(2, "One"), t.h(3, "Sea"), t.p("Air.")))
    items = t.items(*(Section(role="frontmatter", children=(s,)) for s in (title, preface, half)),
                    body)  # fmt: skip
    assert [(i.style, i.level, i.new_page) for i in items] == [
        ("centred-heading", 0, False),
        ("paragraph", 0, False),
        ("centred-heading", 2, True),
        ("paragraph", 0, False),
        ("centred-heading", 0, True),
        ("centred-heading", 2, False),
        ("cell-5-heading", 3, False),
        ("paragraph", 0, False),
    ]


def test_check_boxes_and_prompts_are_lines_of_a_form(t: Trees) -> None:
    """BF 6.7: one field a line, 1-3; a prompt may stand before the answer space."""
    assert t.flowed(
        t.p(t.answer("check", "☐"), " Fish"),
        t.p("Date: choose one. ", t.answer("line", "")),
        t.p("The gauge is read by ", t.answer(), " each day."),
    ) == [
        "form 1-3 0 | ☐ Fish",
        "form 1-3 0 | Date: choose one. __",
        "paragraph 3-1 0 | The gauge is read by ____ each day.",
    ]


def test_a_long_list_of_choices_is_a_note_of_its_own(t: Trees) -> None:
    """BF 3.1.4: up to seven words stand in the line, more are a 7-5 paragraph."""
    few = t.answer("choice", "Row A", choices=("Row A", "Row B"))
    many = t.answer("choice", "Row A", choices=("Row A, by the gate", "Row B, by the well"))
    assert t.flowed(t.p("Row: ", few), t.p("Row: ", many), t.p("Sign here.")) == [
        "form 1-3 0 | Row: Row A ‹Row A; Row B›",
        "form 1-3 0 | Row: Row A",
        "description 7-5 0 | ‹Choices: Row A, by the gate; Row B, by the well›",
        "paragraph 3-1 0 | Sign here.",
    ]


def test_a_paragraph_of_short_lines_keeps_its_lines_at_the_margin(t: Trees) -> None:
    """BF 2.9, 9.7, 13.3: dedications, addresses and verse that print sets with line ends; in
    displayed matter from cell 3.  A long line, or a single line end, leaves it a paragraph."""
    end = LineBreak()
    runs = ("To", end, "the people of space", end, "this work")
    assert t.flowed(t.p(*runs), Displayed(children=(t.p(*runs),), role="quotation")) == [
        "letter-line 1-3 0 | To",
        "letter-line 1-3 0 | the people of space",
        "letter-line 1-3 0 | this work",
        "displayed 3-5 1 | To",
        "displayed 3-5 0 | the people of space",
        "displayed 3-5 0 | this work",
    ]
    assert [item.style for item in t.items(t.p("A", end, "B"), t.p(*runs, end, "so " * 30))] == [
        "paragraph",
        "paragraph",
    ]


def test_lines_of_a_program_are_lines_however_long(t: Trees) -> None:
    """Common practice, no source: indents and line ends of code mean something."""
    code = tuple(replace(t.run(words), voice="program") for words in ("if tide:", "so " * 30))
    runs = (code[0], LineBreak(), code[1])
    items = t.items(Paragraph(runs=runs, address="n1"))
    assert [(item.style, item.first, item.runover) for item in items] == [("letter-line", 1, 3)] * 2
    assert [item.style for item in t.items(Paragraph(runs=code[:1]))] == ["letter-line"]
