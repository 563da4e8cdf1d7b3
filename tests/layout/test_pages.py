"""The worked examples of the page: drawn lines must be exactly these (BF 1, 4, 7, 8, 9)."""

from __future__ import annotations

from convert.layout.items import Item
from convert.layout.lines import prepare
from convert.layout.pages import make_pages
from convert.layout.shape import Shape
from convert.translation.cells import cells_of
from tests.draw import RELAX, box, heading, item, lay, lay_lines, lines_of, para, text_of, turn

FILLER = "abcd " * 400
TITLE = cells_of(",,riv] ,,tales")


def shape(head: str = "", lines: int = 25, cells: int = 40) -> Shape:
    return Shape(cells, lines, head=head, relax=RELAX)


def body(text: list[str]) -> list[str]:
    """Lines up to the last one with text."""
    while text and not text[-1]:
        text = text[:-1]
    return text


def test_e1_page_frame() -> None:
    """Print page 12 on line 1, braille page 7 on line 25; text keeps three cells away."""
    made = make_pages(prepare([turn("12"), para("abcd " * 400)], []), shape(), "body", 7)
    lines = lines_of(made[0].page)
    assert lines[0] == "  abcd abcd abcd abcd abcd abcd      #ab"
    assert lines[24] == "abcd abcd abcd abcd abcd abcd abcd    #g"


def test_e1_text_may_reach_cell_34_and_35() -> None:
    made = lay([turn("12"), para("x" * 32 + " y " + "z" * 400)], shape(lines=6))
    assert lines_of(made[0].page)[0] == "  " + "x" * 32 + "   #ab"
    made = lay([turn("12"), para("x" * 33 + " y")], shape())
    assert text_of(made[0].page)[:2] == ["", "  " + "x" * 33 + " y"]


def test_e2_third_braille_page_of_a_print_page() -> None:
    pages = lay_lines([turn("96"), para(FILLER)])
    assert pages[0][0].endswith("   #if")
    assert pages[1][0].endswith("   a#if")
    assert pages[2][0].endswith("   b#if")


def test_e3_and_e6_page_change_inside_a_paragraph() -> None:
    """The paragraph goes on at its runover cell; no blank line on either side."""
    text = ",%e put ! key on ! table & w5t \\ to see if ! boat _h come in4 ,! w9d 0 cold & "
    text += "! sea 0 r\\<4"
    at = text.index("sea 0")
    pages = lay_lines([turn("2"), para("abcd"), para(text, marks=((at, "turn", "13"),))])
    assert pages[0][1:6] == [
        "  ,%e put ! key on ! table & w5t \\ to",
        "see if ! boat _h come in4 ,! w9d 0 cold",
        "& !",
        "-------------------------------------#ac",
        "sea 0 r\\<4",
    ]


def test_e4_combined_print_pages() -> None:
    pages = lay_lines([turn("21"), para("abcd"), turn("22"), turn("23"), para(FILLER)])
    assert pages[0][1] == "---------------------------------#bb-#bc"
    assert pages[1][0].endswith("   a#bb-#bc")


def test_e5_an_unnumbered_print_page() -> None:
    pages = lay_lines([turn("21"), para("abcd"), turn(None), para(FILLER)])
    assert pages[0][1] == "-" * 40
    assert pages[1][0] == "abcd " * 7 + "abcd"  # no print page number: the line has all its cells


def test_e7_headings_and_text() -> None:
    title = ",*apt] #d ,! ,s1sons"
    items = [
        para("( ! la/ *apt]4"),
        heading(title, marks=((title.index(",! "), "line", None),)),
        item(
            "h-5",
            ",w9t]",
            "5-5",
            needs_before=True,
            before=1,
            keep=(("whole", 1), ("with_next", 1)),
        ),
        item("h-7", ",sn[ & ,ice", "7-7", keep=(("whole", 1), ("with_next", 1))),
        para(",sn[ falls :5 ! air is cold4"),
    ]
    assert body(text_of(lay(items)[0].page)) == [
        "  ( ! la/ *apt]4",
        "",
        "               ,*apt] #d",
        "               ,! ,s1sons",
        "",
        "    ,w9t]",
        "      ,sn[ & ,ice",
        "  ,sn[ falls :5 ! air is cold4",
    ]


def test_e8_a_list_between_paragraphs() -> None:
    items = [
        para(",y w ne$ ^! ?+s4"),
        item(
            "list", "a pair ( old gloves t y d n m9d gett+ wet", "1-3", before=1, needs_before=True
        ),
        item("list", "pap]", "1-3"),
        item("list", "glue", "1-3", after=1),
        para(",2g9 ) ! pap]4", before=1),
    ]
    assert body(text_of(lay(items)[0].page)) == [
        "  ,y w ne$ ^! ?+s4",
        "",
        "a pair ( old gloves t y d n m9d gett+",
        "  wet",
        "pap]",
        "glue",
        "",
        "  ,2g9 ) ! pap]4",
    ]


def test_e9_a_three_level_list() -> None:
    items = [
        item("list", ',animals ) backb"os1 ( : "! >e f> few] k9ds', "1-7"),
        item("list", ',mammals1 : fe$ milk to _! "y & h w>m blood', "3-7"),
        item("list", ":ales", "5-7"),
        item("list", "bats1 ! only mammals able to fly = l;g 4t.es", "5-7"),
        item("list", ",birds", "3-7"),
        item("list", ',animals )\\t backb"os', "1-7"),
    ]
    assert body(text_of(lay(items)[0].page)) == [
        ',animals ) backb"os1 ( : "! >e f> few]',
        "      k9ds",
        '  ,mammals1 : fe$ milk to _! "y & h w>m',
        "      blood",
        "    :ales",
        "    bats1 ! only mammals able to fly =",
        "      l;g 4t.es",
        "  ,birds",
        ',animals )\\t backb"os',
    ]


def list_end() -> list[Item]:
    return [item("list", "r$", "1-3"), item("list", "blue", "1-3", after=1)]


def test_e10_list_ends_with_the_print_page_and_a_heading_follows() -> None:
    """One blank line, after the page change."""
    items = [*list_end(), turn("34"), heading(",%apes"), para("abcd", before=1)]
    assert body(text_of(lay(items)[0].page))[:6] == [
        "r$",
        "blue",
        "-" * 37 + "#cd",
        "",
        "                 ,%apes",
        "",
    ]


def test_e11_list_ends_with_the_print_page_and_a_paragraph_follows() -> None:
    """The blank line stays between list and page change."""
    items = [*list_end(), turn("34", before=1), para(",! pa9t] came back4")]
    assert body(text_of(lay(items)[0].page)) == [
        "r$",
        "blue",
        "",
        "-" * 37 + "#cd",
        "  ,! pa9t] came back4",
    ]


def box_top(**more: object) -> Item:
    facts = {"before": 1, "needs_before": True, "keep": (("with_next", 1),), **more}
    return box("box-top", "7", **facts)  # type: ignore[arg-type]


def box_bottom(**more: object) -> Item:
    facts = {"after": 1, "keep": (("with_previous", 1),), **more}
    return box("box-bottom", "g", **facts)  # type: ignore[arg-type]


def test_e14_a_box_with_a_heading() -> None:
    items = [
        para("5d ( ! p>agraph4"),
        box_top(),
        item("h-5", ',did ,y ,"k8', "5-5", keep=(("whole", 1), ("with_next", 1))),
        para(",bees c see colors t we _c4"),
        box_bottom(),
        para(",! next p>agraph4", before=1),
    ]
    assert body(text_of(lay(items)[0].page)) == [
        "  5d ( ! p>agraph4",
        "",
        "7" * 40,
        '    ,did ,y ,"k8',
        "  ,bees c see colors t we _c4",
        "g" * 40,
        "",
        "  ,! next p>agraph4",
    ]


def test_e15_a_box_line_on_line_1() -> None:
    """33 box cells, three empty cells, the number; a box line without words is drawn alike."""
    for line in (box_top(), Item("box-top", "box-top", keep=(("with_next", 1),))):
        lines = lines_of(lay([turn("134"), line, para("abcd"), box_bottom()])[0].page)
        assert lines[0] == "777777777777777777777777777777777   #acd"


def test_e16_a_box_within_a_box() -> None:
    """Outer lines are full cells; no blank line where inner and outer lines meet."""
    items = [
        Item("box-top", "box-top-outer", keep=(("with_next", 1),)),
        item("para", ",\\t] text4"),
        Item("box-top", "box-top", keep=(("with_next", 1),)),
        item("para", ",9n] text4"),
        Item("box-bottom", "box-bottom", keep=(("with_previous", 1),)),
        Item("box-bottom", "box-bottom-outer", keep=(("with_previous", 1),)),
    ]
    assert body(text_of(lay(items)[0].page)) == [
        "=" * 40,
        ",\\t] text4",
        "7" * 40,
        ",9n] text4",
        "g" * 40,
        "=" * 40,
    ]


def test_e17_a_displayed_passage_with_attribution() -> None:
    items = [
        para(',! lr held only "o l9e4'),
        item("displayed", ",come at once & br+ ! dog4", "3-3", before=1, needs_before=True),
        item("attribution", ",ann ,hill", indent_from_previous=5, after=1),
        para(",he put x d[n4", before=1),
    ]
    assert body(text_of(lay(items)[0].page)) == [
        '  ,! lr held only "o l9e4',
        "",
        "  ,come at once & br+ ! dog4",
        "       ,ann ,hill",
        "",
        "  ,he put x d[n4",
    ]


def test_e18_an_attribution_starts_from_the_line_above() -> None:
    """Five cells to the right of the start of the line above, and blocked there."""
    items = [
        item("para", ',l;g ago ! p ( ? valley built _! h\\ses ( /"o4'),
        item("attribution", ",old ,tales " + "ab " * 14, indent_from_previous=5),
    ]
    assert body(text_of(lay(items)[0].page)) == [
        ",l;g ago ! p ( ? valley built _! h\\ses (",
        '/"o4',
        "     ,old ,tales ab ab ab ab ab ab ab ab",
        "     ab ab ab ab ab ab",
    ]


def test_a_further_attribution_stands_below_the_first() -> None:
    """BF 9.4, 9.7: closing and signature of a letter, author and title: blocked in one cell."""
    items = [
        item("displayed", ",i am well4", "5-3"),
        item("attribution", ",yrs1", indent_from_previous=5),
        item("attribution", ",bill", indent_from_previous=5, after=1),
    ]
    assert body(text_of(lay(items)[0].page)) == [
        "    ,i am well4",
        "         ,yrs1",
        "         ,bill",
    ]


def test_e27_notes_at_the_end_of_a_print_page() -> None:
    items = [
        item("para", "! old mill;9#a by ! road4"),
        Item("note-rule", "note-rule", keep=(("with_next", 1),)),
        item("note", ';9#a ,! mill 0 burn$ 9 ! grt fire & n"e built ag4', "1-3"),
        turn("95"),
        para("abcd"),
    ]
    assert body(text_of(lay(items)[0].page))[:5] == [
        "! old mill;9#a by ! road4",
        '"333333',
        ';9#a ,! mill 0 burn$ 9 ! grt fire & n"e',
        "  built ag4",
        "-" * 37 + "#ie",
    ]


def test_e32_running_head_and_heading_at_a_page_top() -> None:
    items = [turn("12"), heading(",! ,f]ry"), para(",! f]ry 0 late4", before=1)]
    assert lay_lines(items, shape(TITLE))[0][:5] == [
        "             ,,riv] ,,tales          #ab",
        "",
        "                ,! ,f]ry",
        "",
        "  ,! f]ry 0 late4",
    ]


def test_e33_a_paragraph_goes_on_under_the_running_head() -> None:
    pages = lay_lines([turn("12"), para(FILLER)], shape(TITLE))
    assert pages[1][0] == "             ,,riv] ,,tales         a#ab"
    assert pages[1][1].startswith("abcd abcd")


def filled_to(line: int) -> list[Item]:
    """A list that ends on a line (from 1) of the first page, then a print page."""
    lines = [item("list", "abcd", "1-3") for _ in range(line)]
    return [turn("58"), *lines, turn("59", before=1)]


def test_e34_page_top_after_a_list_that_ended_on_line_24_or_25() -> None:
    """BF updates of March 2024: the blank line opens the next page."""
    for line in (24, 25):
        pages = lay_lines([*filled_to(line), para(",! ra9 _h /opp$4 " + FILLER)])
        assert pages[1][0] == " " * 37 + "#ei"
        assert pages[1][1].startswith("  ,! ra9 _h /opp$4")


def test_e35_page_top_after_a_list_that_ended_earlier() -> None:
    keep = (("whole", 1),)
    pages = lay_lines([*filled_to(23), para(",! ra9 _h /opp$4 " + "abcd " * 20, keep=keep)])
    assert pages[1][0] == "  ,! ra9 _h /opp$4 abcd abcd abcd    #ei"


def test_e36_unnumbered_page_change_at_a_page_top() -> None:
    """Under a running head the row stands on line 2 without a blank line; alone on line 1."""
    photographs = para(",photographs f ! old album foll[4")
    start = [turn("58"), *(item("list", "abcd", "1-3") for _ in range(24))]
    pages = lay_lines([*start, turn(None), photographs], shape(TITLE))
    assert pages[1][:3] == [
        "             ,,riv] ,,tales",
        "-" * 40,
        "  ,photographs f ! old album foll[4",
    ]
    start.append(item("list", "abcd", "1-3"))
    pages = lay_lines([*start, turn(None), photographs])
    assert pages[1][:2] == ["-" * 40, "  ,photographs f ! old album foll[4"]


def test_e46_two_boxes_in_succession() -> None:
    items = [
        box_top(before=0), item("para", ',"o4'), box_bottom(),
        box_top(), item("para", ",two4"), box_bottom(),
    ]  # fmt: skip
    assert body(text_of(lay(items)[0].page)) == [
        "7" * 40, ',"o4', "g" * 40, "", "7" * 40, ",two4", "g" * 40,
    ]  # fmt: skip


def test_e47_a_page_change_before_a_box() -> None:
    """One blank line, between indicator and box line."""
    items = [item("para", "5d ( ! /ory4"), turn("60"), box_top(), item("para", ",try ,?")]
    assert body(text_of(lay(items)[0].page)) == [
        "5d ( ! /ory4",
        "-" * 37 + "#fj",
        "",
        "7" * 40,
        ",try ,?",
    ]


def test_e48_roman_numeral_print_pages() -> None:
    pages = lay_lines([turn("xii"), para(FILLER)])
    assert pages[0][0].endswith("   xii")
    assert pages[1][0].endswith("   axii")
    pages = lay_lines([turn("v"), para(FILLER)])
    assert pages[0][0].endswith("   ;v")
    assert pages[1][0].endswith("   av")
