"""Title page, special symbols, transcriber's notes, contents (BF 2.3 to 2.6, 2.10)."""

from __future__ import annotations

from dataclasses import replace

import pytest

from convert.conserve import conserve
from convert.document.ledger import LedgerBuilder
from convert.document.nodes import ITALIC, STRIKE, SUB, TRANSCRIBER, Meta, NoteCall, Run
from convert.findings import Findings
from convert.layout.assemble import title_pages
from convert.layout.contents import (
    Entry,
    Setting,
    contents_items,
    contents_words_divided,
    entry_lines,
)
from convert.layout.convention import load
from convert.layout.front import (
    TitleFacts,
    VolumeFacts,
    Words,
    code_name,
    print_ranges,
    spread_lines,
    symbols_items,
    title_segments,
    volume_lines,
)
from convert.layout.furniture import Label
from convert.layout.items import Item, Part, SetLine
from convert.layout.lines import added
from convert.layout.pages import make_pages
from convert.layout.shape import Shape
from convert.layout.symbols import Notes
from convert.settings import Settings
from convert.translation.cells import Cells, Piece, ascii_of, cells_of
from convert.translation.passage import Passage
from convert.translation.ueb import uncontracted
from tests.draw import RELAX, cells_from, lines_of
from tests.fake import LetterTranslator
from tests.layout.books import META, Maker, make

FRONT = load("bf2016").front


# ---------------------------------------------------------------- title page


def labels(*texts: str) -> tuple[Label, ...]:
    """Print pages; `2:4` is a combined one."""
    return tuple(Label(*text.split(":")) if ":" in text else Label.of(text) for text in texts)


def test_a_title_page_is_filled_from_first_to_last_line() -> None:
    """BF 2.3: centred lines, no running head, no print page number, t1 on the last line."""
    made = make(Maker().chapters(3, 30), running_head="River Tales")
    lines = made.lines(1, "t1")
    assert lines[0] == "            ,,river ,,tales"
    assert lines[24] == "           ,print pages #a-#c        t#a"
    assert {row.kind for row in made.page(1, "t1").rows if row} == {"title"}
    for line in lines[:24]:
        assert not line or len(line) - len(line.lstrip()) >= 3
        assert len(line) <= 37


def test_blank_lines_are_shared_out() -> None:
    assert spread_lines([1, 2, 1], 10) == [0, 3, 3]
    assert spread_lines([1, 2, 1], 9) == [0, 2, 3]
    assert spread_lines([3], 9) == [0]
    assert spread_lines([5, 5], 10) is None


def test_title_page_says_what_the_volume_holds() -> None:
    """BF 2.3: volumes, volume, braille pages, print pages."""
    facts = VolumeFacts(2, 3, 4, 2, (76, 150), labels("xi", "xii", "1", "2:3", "4"))
    assert volume_lines(facts, FRONT) == [
        "In 3 Volumes",
        "Volume 2",
        "Braille pages t1-t4, p1-p2 and 76-150",
        "Print pages xi-xii and 1-4",
    ]
    alone = VolumeFacts(1, 1, 1, 0, (1, 1))
    assert volume_lines(alone, FRONT) == ["In 1 Volume", "Volume 1", "Braille pages t1 and 1"]


def test_page_ranges_of_a_title_page_are_the_actual_ones() -> None:
    made = make(Maker().chapters(24, 60), volume_pages=24)
    for number in range(1, len(made.book.volumes) + 1):
        pages = made.labels(number)
        said = " ".join(made.lines(number, "t1")).replace(",", "")
        body = [int(label) for label in pages if label.isdigit()]
        first, last = (
            str(n).translate(str.maketrans("1234567890", "abcdefghij")) for n in (body[0], body[-1])
        )
        assert f"#{first}-#{last}" in said.replace("  ", " ")
        assert f"volume #{'abcdefghi'[number - 1]}" in said


class Hyphens(LetterTranslator):
    """Lets a line end after every hyphen, as the translators of braille codes do."""

    def translate(self, passage: Passage, findings: Findings) -> Cells:
        cells = super().translate(passage, findings)
        cells.pieces = [
            Piece(p.cells, p.origin, p.sign, p.length, tuple(
                at for at, cell in enumerate(ascii_of(p.cells), 1) if cell == "-"
            ))
            for p in cells.pieces
        ]  # fmt: skip
        return cells


@pytest.mark.parametrize("lines, page", [(25, 0), (6, 2)])
def test_a_range_of_pages_stays_on_one_line(lines: int, page: int) -> None:
    """BF 2.3: on the title page, and where small pages make several of it."""
    facts = VolumeFacts(2, 4, 12, 27, (1111, 2222))
    title = TitleFacts(Meta(publisher="Up-and-down-and-out Books"), "Tales", "x", None)
    own = Words(Hyphens(), FRONT, Findings())
    made = title_pages(facts, title, own, Shape(30, lines, relax=RELAX))
    said = [line.strip() for each in made for line in lines_of(each)]
    words = " ".join(said).split()
    assert len(made) > page
    for whole in ("t#a-t#ab,", "p#a-p#bg", "#aaaa-#bbbb", ",up-and-down-and-out"):
        assert whole in words
    assert not any(line.endswith("-") for line in said)


@pytest.mark.parametrize(
    "texts, ranges",
    [
        ([], []),
        (["1", "2", "3"], ["1-3"]),
        (["i", "ii", "1"], ["i-ii", "1"]),
        (["7", "8", "1", "2"], ["7-8", "1-2"]),
        (["5", "A-1"], ["5", "A-1"]),
        (["4-1", "4-2", "5-1"], ["4-1 to 4-2", "5-1"]),
        (["1", "2:4", "5"], ["1-5"]),
    ],
)
def test_print_page_ranges(texts: list[str], ranges: list[str]) -> None:
    assert print_ranges(labels(*texts)) == ranges


@pytest.mark.parametrize(
    "date, year",
    [("2018-01-04T23:03:45Z", "2018"), ("May 1884", "1884"), ("2020", "2020"), ("MMXX", ""),
     ("12345678", ""), ("", "")],
)  # fmt: skip
def test_a_title_page_gives_the_year_alone(date: str, year: str) -> None:
    """BF 2.3: copyright and printing history; no time stamp of a package."""
    facts = TitleFacts(replace(META, date=date), "River Tales", "UEB", None)
    groups, _ = title_segments(facts, FRONT)
    assert groups[3:-1] == ([[year]] if year else [])


@pytest.mark.parametrize(
    "isbn, shown",
    [("9780000000019", True), ("978-0-306-40615-7", True), ("0-306-40615-2", True),
     ("080442957X", True), ("9780000000018", False), ("urn:uuid:1f2e", False), ("", False)],
)  # fmt: skip
def test_only_a_true_isbn_stands_on_the_title_page(isbn: str, shown: bool) -> None:
    """BF 2.3; ISO 2108 for the check digit."""
    facts = TitleFacts(replace(META, isbn=isbn), "River Tales", "UEB", None)
    groups, _ = title_segments(facts, FRONT)
    assert (f"ISBN {isbn}" in groups[3]) is shown


def test_more_than_three_authors_go_to_the_second_title_page() -> None:
    """BF 2.3, 2.4."""
    meta = replace(META, authors=("Ann A", "Ben B", "Cat C", "Dan D"))
    made = make(Maker().chapters(2, 30), meta)
    assert not any("dan" in line for line in made.lines(1, "t1"))
    assert any("dan" in line for line in made.lines(1, "t2"))
    assert made.page(1, "t3").rows[0] is not None


def test_only_the_first_volume_has_a_second_title_page() -> None:
    """BF 2.4; the first title page is in every volume (BF 2.3)."""
    meta = replace(META, authors=("Ann A", "Ben B", "Cat C", "Dan D"))
    made = make(Maker().chapters(24, 60), meta, volume_pages=24)
    for number in range(1, len(made.book.volumes) + 1):
        lines = [line for page in made.book.volumes[number - 1].pages for line in lines_of(page)]
        assert any(",cat" in line for line in made.lines(number, "t1"))
        assert any(",dan" in line for line in lines) is (number == 1)


def test_parts_that_are_not_known_are_left_out() -> None:
    facts = TitleFacts(Meta(title="Sea"), "Sea", code_name("ueb", "nemeth"), "Jo Hill")
    assert title_segments(facts, FRONT) == (
        [
            ["SEA"],
            [
                "Transcribed into Unified English Braille, contracted, "
                "with the Nemeth Code for mathematics",
                "Transcribed by",
                "Jo Hill",
            ],
        ],
        [],
    )


def test_what_has_no_room_goes_to_the_second_title_page() -> None:
    """BF 2.3: the first stays filled to its last line; 2.4."""
    made = make(Maker().chapters(1, 10), lines=10)
    first, second = made.lines(1, "t1"), made.lines(1, "t2")
    assert first[0].strip() == ",,river ,,tales"
    assert first[9].strip().startswith(",print page")
    assert second[0].strip().startswith(",published")
    assert made.labels(1)[:3] == ["t1", "t2", "t3"]
    assert any("t#a-t#c" in line for line in first)


def test_a_small_page_spreads_the_title_over_several() -> None:
    made = make(Maker().chapters(1, 10), cells=20, lines=6)
    labels = made.labels(1)
    t = [label for label in labels if label[0] == "t"]
    assert labels[: len(t)] == t == [f"t{n}" for n in range(1, len(t) + 1)]
    assert len(t) > 3


def test_a_letter_in_the_simple_convention_is_its_text_alone() -> None:
    """No rule of Braille Formats: a letter or a leaflet of a page or two has no title page, no
    contents and nothing after its last line; longer matter has its front pages."""
    letter = Maker()
    letter.para("Dear Ann")
    letter.para("I am well")
    made = make(letter, convention=load("simple"))
    assert made.labels(1) == ["1"]
    assert [line for line in made.lines(1, "1") if line] == [
        "  ,dear ,ann",
        "  ,i am well",
        " " * 38 + "#a",
    ]
    assert made.kinds() == ["layout.no-front-pages", "layout.no-end-line"]
    long = make(Maker().chapters(6, 160), convention=load("simple"))
    assert long.labels(1)[:3] == ["t1", "t2", "p1"]
    assert "layout.no-front-pages" not in long.kinds()


def test_no_title_is_said() -> None:
    made = make(Maker().chapters(1, 10), replace(META, title=""))
    assert "layout.no-title" in made.kinds()
    assert (
        "layout.no-title"
        not in make(Maker().chapters(1, 10), replace(META, title=""), title="Sea").kinds()
    )


@pytest.mark.parametrize(
    ("title", "odd"),
    [
        ("col11496@1.6", True),
        ("9781003410157", True),
        ("Microsoft Word - chapter 3.doc", True),
        ("History_final_v2.indd", True),
        ("Untitled-1", True),
        ("1984", False),
        ("Catch-22", False),
        ("Fahrenheit 451", False),
        ("Document Design", False),
    ],
)
def test_a_title_like_the_name_of_a_file_is_doubted(title: str, odd: bool) -> None:
    """BF 2.3: the title page has the title of print; what programs write there is no title."""
    made = make(Maker().chapters(1, 10), replace(META, title=title))
    assert ("layout.odd-title" in made.kinds()) is odd
    given = make(Maker().chapters(1, 10), replace(META, title=title), title="Sea")
    assert "layout.odd-title" not in given.kinds()


# ---------------------------------------------------------------- symbols, notes


def words() -> Words:
    return Words(LetterTranslator(), FRONT, Findings())


def test_special_symbols_page() -> None:
    """E38: heading on lines 1 and 2, a blank line, entries 1-3 with dot locator, dots, name."""
    rows = [(cells_of(".="), "Dot locator"), (cells_of("_4"), "Bullet " + "sign " * 8)]
    pages = make_pages(added(symbols_items(rows, words())), Shape(40, 25, relax=RELAX), "t", 2)
    lines = lines_of(pages[0].page)
    assert lines[:3] == ["       ,,special ,,symbols ,,used", "          ,,in ,,this ,,volume", ""]
    entries = [line for line in lines if line.startswith(".=")]
    assert entries[0].startswith(".=.= (#df, #abcdef) ,dot locator")
    assert entries[1].startswith(".=_4 (#def, #bef) ,bullet")
    assert symbols_items([], words()) == []


def test_symbols_page_lists_what_the_volume_has() -> None:
    """BF 2.5: currency and the like are listed; a bullet or an ellipsis is not."""
    maker = Maker()
    maker.para("It cost £5 … • 3%")
    made = make(maker)
    page = made.lines(1, "t2")
    assert any(".=.=" in line for line in page)
    assert sum(line.startswith(".=") for line in page) == 2
    assert any("pound sign" in line for line in page)


def test_symbols_page_lists_signs_that_print_writes_another_way() -> None:
    """BF 2.5 lists shapes; print has several characters for an empty box and for a filled one."""
    text = "Yes ☐ No ☒"
    cells = uncontracted(Settings()).translate(Passage(text), Findings())
    item = Item("para", "paragraph", (), cells=cells)
    maker = Maker()
    maker.para("abcd")
    maker.items.append(item)
    page = " ".join(make(maker).lines(1, "t2"))
    assert "square" in page
    assert "ticked" in page


def test_symbols_page_says_which_typeform_is_struck_out_print() -> None:
    """BF 2.5 lists what a transcriber defines, with its meaning; UEB 9.5."""
    pages = []
    for bits in (TRANSCRIBER[0], STRIKE):
        cells = uncontracted(Settings()).translate(Passage("old", ((0, 3, bits),)), Findings())
        maker = Maker()
        maker.para("abcd")
        maker.items.append(Item("para", "paragraph", (), cells=cells))
        pages.append(" ".join(" ".join(make(maker).lines(1, "t2")).split()))
    assert ["struck out" in page for page in pages] == [False, True]
    assert all("transcriber-defined" in page for page in pages)


def test_symbols_page_leaves_out_what_reaches_no_cells() -> None:
    """BF 2.5: signs used in this volume; a character that is shown without its sign is none."""
    maker = Maker()
    maker.para("not ≠ here")
    assert make(maker).labels(1)[:3] == ["t1", "t2", "1"]  # title page, notes


def test_symbols_page_lists_a_sign_in_the_volume_where_it_stands() -> None:
    """BF 2.5: of a paragraph over two volumes, each lists what its own part has."""
    maker = Maker()
    maker.para("abcd efg " * 2000 + "£5")
    made = make(maker, volume_pages=20)
    count = len(made.book.volumes)
    assert count > 1
    listing = [any(".=.=" in line for line in made.lines(n, "t2")) for n in range(1, count + 1)]
    assert listing == [False] * (count - 1) + [True]


def test_symbols_page_lists_signs_of_set_lines() -> None:
    """BF 2.5: tables are lines cut before pagination; their signs are listed as others are."""
    maker = Maker()
    maker.para("abcd")
    cells = LetterTranslator().translate(Passage("cost £5"), Findings())
    line = SetLine((Part(0, cells.text, cells, 0),), "table")
    maker.items.append(Item("table", "table", set_lines=(line,)))
    assert any("pound sign" in line for line in make(maker).lines(1, "t2"))


def test_no_symbols_page_where_nothing_is_listed() -> None:
    made = make(Maker().chapters(1, 10))
    assert made.labels(1)[:2] == ["t1", "t2"]
    assert ",,notes" in " ".join(made.lines(1, "t2")[:2])


def test_transcribers_notes_page() -> None:
    """BF 2.6: heading on line 1 (3 under a running head), 3-1 notes without indicators."""
    lines = make(Maker().chapters(1, 10)).lines(1, "t2")
    assert lines[0].strip().startswith(",,transcriber")
    assert lines[2].startswith("  ,this edition is in ,unified")
    assert any("draft" in line for line in lines)
    lines = make(Maker().chapters(1, 10), running_head="Sea").lines(1, "t2")
    assert lines[1] == ""
    assert lines[2].strip().startswith(",,transcriber")


# ---------------------------------------------------------------- contents


SMALL = Shape(22, 12, relax=RELAX)


def entry(text: str, level: int, number: str, volume: int = 1) -> Entry:
    return Entry(cells_from(text), level, cells_of(number), volume)


def drawn(items: list[Item]) -> list[str]:
    made = make_pages(added(items), Shape(40, 25, relax=RELAX), "p")
    text = lines_of(made[0].page)[:-1]
    while not text[-1]:
        text.pop()
    return text


def test_e28_contents_of_two_levels() -> None:
    rows = [
        entry(',f/ ,"ds', 1, "#c"),
        entry(",! ,road", 2, "#c"),
        entry(",! ,h\\se by ! ,riv]", 2, "#bd"),
        entry(',la/ ,"ds', 1, "#aje"),
    ]
    heading = Item("h-center", "contents-heading", cells=cells_from(",3t5ts"), centred=True)
    items = contents_items(rows, 1, Setting(40, FRONT), [])
    assert drawn([heading, *items]) == [
        "                 ,3t5ts",
        "",
        ',f/ ,"ds """""""""""""""""""""""""""" #c',
        '  ,! ,road """""""""""""""""""""""""" #c',
        '  ,! ,h\\se by ! ,riv] """""""""""""" #bd',
        ',la/ ,"ds """"""""""""""""""""""""" #aje',
    ]


def test_a_long_entry_keeps_clear_of_the_numbers() -> None:
    """BF 2.10: text stops two cells before the longest number; dots on the last line only."""
    text = "abcd " * 14 + "abcd"
    lines = entry_lines(entry(text, 1, "#ab"), (1, 2), 3, Setting(40, FRONT))
    shown = ["".join(ascii_of(p.text).rjust(len(p.text)) for p in line.parts) for line in lines]
    assert len(lines) == 3
    assert all(line.parts[0].start + len(line.parts[0].text) <= 35 for line in lines)
    assert [line.parts[0].start for line in lines] == [0, 4, 4]
    assert [len(line.parts) for line in lines] == [1, 1, 3]
    assert shown[-1].endswith("#ab")


def test_a_word_longer_than_a_line_is_divided_at_its_hyphen() -> None:
    """BF 1.10: at a hyphen that print has, where one fits, rather than inside a part of it."""
    lines = entry_lines(entry("bicarbonate-carbonic acid", 1, "#ab"), (1, 1), 3, Setting(22, FRONT))
    shown = [ascii_of(line.parts[0].text) for line in lines]
    assert shown == ["bicarbonate-", "carbonic acid"]


def test_words_broken_in_contents_are_told() -> None:
    """BF 1.10, 2.10: a person hears of it once, with the count of lines."""
    maker = Maker().chapters(2, 30)
    maker.heading("x" * 38)
    maker.para("oak")
    found = [f for f in make(maker).findings.all() if f.kind == "layout.contents-word-divided"]
    assert [dict(one.facts)["lines"] for one in found] == [1]


def test_words_broken_in_contents_are_counted() -> None:
    """BF 1.10, 2.10: no hyphen to end at, no room for the word before the numbers."""
    rows = [entry("x" * 30 + " acid", 1, "#ab"), entry("oak", 1, "#b")]
    (made,) = make_pages(added(contents_items(rows, 1, Setting(22, FRONT), [])), SMALL, "p")
    assert len(contents_words_divided(made.page)) == 1


def test_fewer_than_two_guide_dots_are_spaces() -> None:
    """BF 2.10."""
    one = entry_lines(entry("a" * 34, 1, "#ab"), (1, 1), 3, Setting(40, FRONT))
    assert [ascii_of(part.text) for part in one[0].parts] == ["a" * 34, "#ab"]
    two = entry_lines(entry("a" * 33, 1, "#ab"), (1, 1), 3, Setting(40, FRONT))
    assert [ascii_of(part.text) for part in two[0].parts] == ["a" * 33, '""', "#ab"]


def test_contents_name_the_volumes_and_later_volumes_have_their_part() -> None:
    """BF 2.10: `Volume n` in the first; margins afresh for the levels of each part."""
    rows = [entry("one", 1, "#a"), entry("two", 2, "#b"), entry("three", 2, "#c", 2)]
    dividers = [
        Item(
            "toc", "contents-volume", cells=cells_from(name), centred=True, keep=(("with_next", 1),)
        )
        for name in ("vol #a", "vol #b")
    ]
    lines = drawn(contents_items(rows, 1, Setting(40, FRONT), dividers))
    names = [line.split(' "')[0].strip() for line in lines]
    assert names == ["vol #a", "one", "two", "", "vol #b", "three"]
    own = contents_items(rows, 2, Setting(40, FRONT), dividers)
    assert [(item.level, item.levels) for item in own if item.set_lines] == [(1, 1)]


def test_later_volumes_list_no_more_than_the_first() -> None:
    """BF 2.10: volume 1 has the whole contents, so a rank too deep for it is in no volume's,
    whatever ranks that volume has."""
    deep = Entry(cells_from("deep"), 4, cells_of("#d"), 2)
    rows = [entry("one", 1, "#a"), entry("two", 2, "#b"), entry("three", 3, "#c", 2), deep]
    first, second = (contents_items(rows, n, Setting(40, FRONT), []) for n in (1, 2))
    assert [line.split(' "')[0].strip() for line in drawn(first)] == ["one", "two", "three"]
    assert [line.split(' "')[0].strip() for line in drawn(second)] == ["three"]


def test_how_deep_the_contents_go_is_a_row_of_the_convention() -> None:
    """Common practice, no source: three ranks, unless a person asks for others."""
    rows = [entry(word, level, "#a") for level, word in enumerate(("a", "b", "c", "d"), 1)]
    for levels in (1, 3, 6):
        setting = Setting(40, replace(FRONT, contents_levels=levels))
        assert len(contents_items(rows, 1, setting, [])) == min(levels, 4)


def test_contents_give_print_pages_or_else_braille_pages() -> None:
    with_pages = make(Maker().chapters(3, 60)).lines(1, "p1")
    assert [line[-2:] for line in with_pages[2:5]] == ["#a", "#b", "#c"]
    made = make(Maker().chapters(3, 60, pages=False))
    lines = made.lines(1, "p1")[2:5]
    first = [
        page.braille_page
        for page in made.book.volumes[0].pages
        for row in page.rows
        if row is not None and row.kind == "h-center" and row.item >= 0
    ]
    assert [line.split("#")[-1] for line in lines] == ["abcdefghi"[int(n) - 1] for n in first]


def test_no_contents_where_print_has_its_own_or_no_headings() -> None:
    maker = Maker().chapters(3, 30)
    maker.items.append(Item("toc", "contents", maker.runs("Chapter 1 5")))
    assert not [label for label in make(maker).labels(1) if label[0] == "p"]
    maker = Maker()
    maker.para("abcd")
    assert not [label for label in make(maker).labels(1) if label[0] == "p"]


# ---------------------------------------------------------------- front matter, title of the body


def test_front_matter_of_print_is_on_p_pages_after_the_contents() -> None:
    """BF 1.15, 2.7 to 2.11; the contents give its p-pages where print has no numbers."""
    maker = Maker()
    maker.turn("v")
    maker.heading("Preface", division="front")
    maker.para("abcd " * 300, division="front")
    made = make(maker.chapters(3, 30))
    labels = made.labels(1)
    assert [label for label in labels if label[0] == "p"] == ["p1", "p2", "p3"]
    assert made.lines(1, "p2")[0].endswith(";v")
    assert made.lines(1, "p3")[0].endswith("av")
    assert made.lines(1, "1")[0].endswith("#a")
    assert any(line.endswith(";v") for line in made.lines(1, "p1"))
    maker = Maker()
    maker.heading("Preface", division="front")
    maker.para("abcd " * 300, division="front")
    lines = make(maker.chapters(3, 30, pages=False)).lines(1, "p1")
    assert any(line.endswith(" p#b") for line in lines)


def test_the_title_stands_above_the_first_text() -> None:
    """BF 1.8; not where the text begins with it or the running head says it."""
    assert make(Maker().chapters(1, 20)).lines(1, "1")[:3] == [
        "             ,river ,tales            #a",
        "",
        "              ,chapter #a",
    ]
    maker = Maker()
    maker.heading("River tales")
    maker.para("abcd", before=1)
    assert make(maker).lines(1, "1")[2] == "  abcd"
    lines = make(Maker().chapters(1, 20), running_head="River Tales").lines(1, "1")
    assert lines[2] == "              ,chapter #a"


def test_body_only() -> None:
    made = make(Maker().chapters(2, 30), front_pages=False)
    assert all(label.isdigit() for label in made.labels(1))
    assert made.lines(1, "1")[0] == "              ,chapter #a             #a"


def toc(maker: Maker, text: str) -> None:
    maker.items.append(Item("toc", "contents", maker.runs(text), first=1, runover=3))


def test_contents_of_print_get_guide_dots() -> None:
    """BF 2.10: print sets the number off with a tab; the words and the number are print's."""
    maker = Maker()
    toc(maker, "Beds\t3")
    toc(maker, "The road " * 5 + "home\t194")
    toc(maker, "No number")
    made = make(maker, front_pages=False)
    assert made.lines(1, "1")[:4] == [
        ',beds """"""""""""""""""""""""""""""" #c',
        ",the road ,the road ,the road ,the",
        '  road ,the road home """"""""""""" #aid',
        ",no number",
    ]
    account = conserve(made.document, made.book, Findings())
    assert (account.lost, account.doubled) == (0, 0)


@pytest.mark.parametrize("style, made_here", [("contents-list", True), ("contents", False)])
def test_a_list_of_illustrations_does_not_stand_for_the_contents(
    style: str, made_here: bool
) -> None:
    """BF 2.10: contents are made unless print has its own."""
    book = Maker().chapters(3, 30)
    book.para("A map of the river", style=style)
    assert ("p1" in make(book).labels(1)) is made_here


def test_the_notes_page_says_how_tables_are_set() -> None:
    """BF 2.6: what is done throughout; each way of setting tables only where it was used."""
    findings = Findings()
    plain = Notes(findings, Settings(), FRONT, []).of([])
    findings.add("layout.table-linear", reason="")
    findings.add("layout.table-as-text", reason="")
    assert Notes(findings, Settings(), FRONT, []).of([]) == [
        *plain,
        "Some tables are changed to lists: each row is one item.",
        "Tables that hold whole paragraphs are ordinary text, row by row.",
    ]


def test_the_notes_page_tells_of_tables_in_the_volumes_that_have_some() -> None:
    """BF 2.6: notes are repeated in each volume as they apply there; a table that goes over
    into the next volume is told of in both."""
    maker = Maker()
    maker.para("abcd efg " * 1000)
    table = len(maker.items)
    for number in range(120):
        maker.para(f"row {number}", style="table", kind="table")
    maker.para("abcd efg " * 1500)
    start = maker.items[table].runs[0].start  # type: ignore[union-attr]
    findings = Findings()
    findings.add("layout.table-listed", (start, start + 3), reason="")
    made = make(maker, findings=findings, volume_pages=14)
    pages = [" ".join(made.lines(n, "t2")) for n in range(1, len(made.book.volumes) + 1)]
    rows = [
        any("row" in line for p in v.pages if p.series == "body" for line in lines_of(p))
        for v in made.book.volumes
    ]
    assert ["tables are changed" in page for page in pages] == rows
    assert rows.count(True) >= 2
    assert not all(rows)


@pytest.mark.parametrize(
    ("order", "signs"),
    [
        ("section", [".=.=", ".=@l", ".=^/", ".=.1", ".=\\o"]),
        ("braille", [".=.=", ".=\\o", ".=@l", ".=^/", ".=.1"]),
    ],
)
def test_symbols_are_in_the_order_of_the_sections_of_ueb_or_of_their_cells(
    order: str, signs: list[str]
) -> None:
    """BF 2.5 with UEB: symbols (3), modifiers of letters (4), typeforms (9), arrows (11); the
    dot locator first.  The order is not confirmed, so a row of the convention."""
    passage = Passage("caf\u00e9 \u2192 \u00a35 more", forms=((10, 14, ITALIC),))
    maker = Maker()
    maker.para("abcd")
    cells = uncontracted(Settings()).translate(passage, Findings())
    maker.items.append(Item("para", "paragraph", (), cells=cells))
    base = load("bf2016")
    house = replace(base, front=replace(base.front, symbols_order=order))
    lines = [line for line in make(maker, convention=house).lines(1, "t2") if line[:2] == ".="]
    assert [line.split()[0] for line in lines] == signs


def test_symbols_page_lists_letters_that_english_does_not_have() -> None:
    """BF 2.5: modified letters, letters of other languages, the ligature indicator."""
    passage = Passage("b\u00f8k \u0153uvre \u03b1 \u00de")
    maker = Maker()
    maker.para("abcd")
    cells = uncontracted(Settings()).translate(passage, Findings())
    maker.items.append(Item("para", "paragraph", (), cells=cells))
    lines = [line for line in make(maker).lines(1, "t2")[4:] if line[:2] == ".="]
    names = ["solidus overlay", "ligature indicator", "greek alpha", "thorn"]
    signs = [".=@*", ".=^6", ".=.a", ".=#!"]
    assert [line.split()[0] for line in lines] == signs
    text = " ".join(make(maker).lines(1, "t2"))
    assert all(name.split()[-1] in text for name in names)


def test_contents_leave_out_note_marks_and_typeforms_and_keep_raised_letters() -> None:
    """BF 2.10."""
    builder = LedgerBuilder()
    runs = (
        Run(*builder.add("Salt ", "a", "/2"), ITALIC),
        Run(*builder.add("2", "a", "/4"), SUB),
        NoteCall(*builder.add("7", "a", "/6"), "n7"),
    )
    ledger = builder.build()
    words = Words(LetterTranslator(), FRONT, Findings())
    entry = words.entry(runs, Cells(), ledger)
    assert entry.passage is not None
    assert (entry.passage.text, entry.passage.forms) == ("Salt 2", ((5, 6, SUB),))
    plain = Cells(text="⠎")
    assert words.entry(runs[1:2], plain, ledger) is plain


def test_an_entry_of_the_special_symbols_is_not_parted_by_a_page_turn() -> None:
    """BF 2.5; common practice, as for the entries of contents."""
    words = Words(LetterTranslator(), FRONT, Findings())
    rows = [("⠸⠆", "a name of two lines and more"), ("⠸⠶", "a name of two lines and more")]
    items = symbols_items(rows, words)
    pages = make_pages(added(items), Shape(30, 6, 3, relax=RELAX), "t", 2)
    assert [len(lines_of(made.page)) for made in pages] == [6, 6]
    assert next(row.part for row in pages[1].page.rows if row) == "first"
