"""The forms a table can take besides columns as in print, each drawn; which is taken, and why.

The translator here gives one cell a letter, so that widths can be counted by eye.  The worked
examples E24 and E25 are in the cells of the standard.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from convert.document.choices import Choice
from convert.document.nodes import Block, Table
from convert.layout.convention import Convention
from convert.layout.flow_choice import FORMS
from tests.draw import text_of
from tests.layout.test_tables import Examples, Laid, lay, tables
from tests.layout.trees import Trees, bf2016


@pytest.fixture
def t() -> Trees:
    return Trees()


def asked(t: Trees, form: str, make: Callable[[], Block], *after: Block, **more: Any) -> Laid:
    """A table for which a person asks a form."""
    start = len(t.builder.build().text)
    table = make()
    choice = Choice(start, len(t.builder.build().text), "table-format", form)
    return lay(t, table, *after, choices=(choice,), **more)


def lines(made: Laid) -> list[str]:
    """The lines of all pages that hold text, but for the note above the table."""
    out = [line for page in made.pages for line in text_of(page) if line]
    kinds = [row.kind for page in made.pages for row in page.rows if row and row.text]
    styles = [row.style for page in made.pages for row in page.rows if row and row.text]
    assert kinds[-1] == "end-of-volume"
    return [line for line, style in list(zip(out, styles, strict=True))[:-1]
            if style != "table-note"]  # fmt: skip


def three_lakes(t: Trees) -> Table:
    return t.table(
        t.row("Lake", "Area", "Depth", head=True), t.row("Blue Lake", "120", "35"),
        t.row("Long Pond", "9", "4"), t.row("Silver Lake", "48", "112"),
    )  # fmt: skip


def wide(t: Trees, count: int, *rows: str) -> Table:
    """Rows with so many entries of nine letters."""
    heads = [f"column {'abcdefghijkl'[at]}" for at in range(count)]
    return t.table(
        t.row("row", *heads, head=True),
        *(t.row(name, *[f"{name} entry {'abcdefghijkl'[at]}" for at in range(count)])
          for name in rows),
    )  # fmt: skip


NOW, MONTHS = "word", ("january", "february", "march", "april", "may", "june", "july")
WIDER = "its columns are wider than the page"
OVER = "too many of its rows would need runovers in columns"


# ---------------------------------------------------------------- taken without being asked for


def test_headings_wider_than_their_entries_are_shortened(t: Trees) -> None:
    """BF 11.7, 11.8: a note, the key 1-3, then the table; the heading of the rows stays."""
    table = t.table(
        t.row("Lake", "Circumference", "Temperature", "Precipitation", head=True),
        t.row("Blue", "12", "7", "31"), t.row("Long", "9", "6", "40"),
    )  # fmt: skip
    made = lay(t, t.p(NOW), table)
    assert made.lines == [
        "  word",
        "",
        "      ,column headings of the table are",
        "    shortened to letters:",
        "a: ,circumference",
        "b: ,temperature",
        "c: ,precipitation",
        "",
        ",lake  a    b   c",
        '"3333  "33  "3  "33',
        ",blue  #ab  #g  #ca",
        ",long  #i   #f  #dj",
    ]
    assert made.reasons() == [f"keyed: {WIDER}"]
    assert "layout.table-keyed" in t.kinds()


def test_two_rows_of_many_columns_are_interchanged(t: Trees) -> None:
    """BF 11.15; two notes follow one another without a blank line; guide dots where print has no
    entry."""
    rows = t.row("north", *"abcdefg"), t.row("south", "h", "i", "", *"klmn")
    made = lay(t, t.p(NOW), t.table(t.row("place", *MONTHS, head=True), *rows))
    assert made.lines[2:] == [
        "      ,rows and columns of the table are",
        "    interchanged.",
        "      ,dots #e across a column: no",
        "    entry.",
        "",
        "place     north  south",
        '"3333333  "3333  "3333',
        'january   a """" h',
        'february  b """" i',
        'march """ c      """""',
        'april """ d """" k',
        'may """"" e """" l',
        'june """" f """" m',
        'july """" g """" n',
    ]
    assert made.reasons() == [f"interchanged: {WIDER}"]
    assert "layout.table-interchanged" in t.kinds()


def test_columns_in_two_parts(t: Trees) -> None:
    """BF 11.14: one part below the other, row headings and separation lines in each."""
    made = lay(t, t.p(NOW), wide(t, 4, "o", "p", "q", "r", "s"))
    assert made.lines[2:] == [
        "      ,table divided into #b parts, one",
        "    below the other. ,row headings are",
        "    repeated in each part.",
        "",
        "row  column a   column b",
        '"33  "33333333  "33333333',
        'o "" o entry a  o entry b',
        'p "" p entry a  p entry b',
        'q "" q entry a  q entry b',
        'r "" r entry a  r entry b',
        's "" s entry a  s entry b',
        "",
        "row  column c   column d",
        '"33  "33333333  "33333333',
        'o "" o entry c  o entry d',
        'p "" p entry c  p entry d',
        'q "" q entry c  q entry d',
        'r "" r entry c  r entry d',
        's "" s entry c  s entry d',
    ]
    assert made.reasons() == [f"divided: {OVER}"]
    assert "layout.table-divided" in t.kinds()


def test_parts_that_fit_a_page_are_not_divided_between_pages(t: Trees) -> None:
    """BF 11.2.11, 11.14."""
    made = lay(t, t.p(NOW), wide(t, 9, *"opqrstuvwxyz"))
    assert made.reasons() == [f"divided: {WIDER}"]
    assert len(made.pages) == 3
    for page, letters in zip(made.pages, ("abc", "def", "ghi"), strict=True):
        heads = [line for line in text_of(page) if line.startswith("row  ")]
        assert heads == ["row  " + "   ".join(f"column {letter}" for letter in letters)]
        assert sum(line[1:5] == ' "" ' for line in text_of(page)) == 12


def test_a_table_for_more_than_three_parts_is_listed(t: Trees) -> None:
    """BF 11.16; how many parts are too many is common practice."""
    made = lay(t, wide(t, 12, *"opqrst"))
    assert made.reasons() == [f"listed: {WIDER}"]
    assert lines(made)[:3] == ["    o", "column a: o entry a", "column b: o entry b"]


def test_long_words_in_few_columns_are_listed(t: Trees) -> None:
    """BF 11.1.4: a table of texts has no use for parts of one column."""
    words = "these are so many words that they run over"
    made = lay(t, t.table(t.row("x", "y", "z", head=True), t.row("a", words, words)))
    assert made.reasons() == [f"listed: {OVER}"]
    assert lines(made) == ["    a", f"y: {words[:37]}", f"  {words[38:]}",
                           f"z: {words[:37]}", f"  {words[38:]}"]  # fmt: skip


def test_a_print_page_inside_keeps_rows_and_columns_in_place(t: Trees) -> None:
    """BF 11.2.12: the page change stands between rows of print."""
    rows = t.row("north", *"abcdefg"), t.page("2"), t.row("south", *"hijklmn")
    made = lay(t, t.page("1"), t.table(t.row("place", *MONTHS, head=True), *rows))
    assert made.reasons() == [f"listed: {WIDER}"]


def test_a_note_called_in_a_row_heading_is_called_once(t: Trees) -> None:
    """BF 11.2.13, 11.14: the row heading comes again in the second part, its mark does not."""
    heading = t.p("ro", t.call("*", "f"))
    heads = [f"column {c}" for c in "abcd"]
    table = t.table(
        t.row("row", *heads, head=True), t.row(heading, *[f"entry {c} x" for c in "abcd"]),
        *(t.row("ad", *[f"entry {c} {r}" for c in "abcd"]) for r in "vwxy"),
    )  # fmt: skip
    made = lay(t, table, t.foot("f", "*", t.p("so")))
    rows = [line for line in lines(made) if line.startswith(("ro*", "ro ", "* "))]
    assert rows == ["ro*  entry a x  entry b x", "ro   entry c x  entry d x", "* so"]


def test_a_table_in_an_entry(t: Trees) -> None:
    """BF 11.1: the outer one is listed, the inner one stands in columns."""
    inner = t.table(t.row("p", "q"), t.row("r", "s"))
    made = lay(t, t.table(t.row("x", "y", head=True), t.row("a", inner)))
    assert made.reasons() == ["listed: an entry holds more than one paragraph",
                              "columned: its columns fit the page"]  # fmt: skip
    assert lines(made) == ["    a", "y:", "p   q", "r   s"]


def test_the_convention_orders_the_forms(t: Trees) -> None:
    """BF 11.1: the choice is the agency's."""
    forms = ("stairstep", "listed")
    rules = replace(bf2016(), rules={**bf2016().rules, "table_forms": forms})
    made = lay(t, three_lakes(t), convention=rules)
    assert made.reasons() == ["stairstep: columns were not asked for"]


RIVERS = [("1. the longest river", "a. it runs through two countries and a lake"),
          ("2. the widest river", "b. it has more than a thousand arms of its own"),
          ("3. the oldest river", "c. it was there before the hills around it")]  # fmt: skip


def test_columns_to_match_that_do_not_fit_side_by_side(t: Trees) -> None:
    """BF 10.9: a note, the first column as a list, a blank line, the second."""
    made = lay(t, t.p(NOW), t.table(*(t.row(*row) for row in RIVERS)), t.p("last"))
    assert made.lines == [
        "  word",
        "",
        "      ,columns to match: the first",
        "    column, then the second.",
        "",
        "#a. the longest river",
        "#b. the widest river",
        "#c. the oldest river",
        "",
        "a. it runs through two countries and a",
        "  lake",
        "b. it has more than a thousand arms of",
        "  its own",
        "c. it was there before the hills around",
        "  it",
        "",
        "  last",
    ]
    assert made.reasons() == [f"matching: {OVER}"]
    assert "layout.table-matching" in t.kinds()


def test_columns_to_match_that_fit_stay_side_by_side(t: Trees) -> None:
    """BF 10.9: two blank cells between."""
    made = lay(t, t.table(t.row("1. cat", "a. mouse"), t.row("2. dog", "b. bone")))
    assert made.lines == ["#a. cat  a. mouse", "#b. dog  b. bone"]


def test_columns_to_match_with_room_for_the_answers(t: Trees) -> None:
    """BF 10.5, 10.9: the line for the answer stays before the number."""
    rows = [
        t.row(t.p(t.answer(), " 1. cat"), "a. mouse"),
        t.row(t.p(t.answer(), " 2. dog"), "b. bone"),
    ]
    made = lay(t, t.table(*rows))
    assert made.reasons() == ["matching: it has room for answers"]
    assert [line.split()[-1] for line in lines(made)] == ["cat", "dog", "mouse", "bone"]


@pytest.mark.parametrize(
    "rows",
    [
        [("1. cat", "2. mouse"), ("3. dog", "4. bone")],
        [("cat", "a. mouse"), ("dog", "b. bone")],
        [("1. cat", "a. mouse", "x"), ("2. dog", "b. bone", "y")],
    ],
)
def test_other_columns_are_no_lists_to_match(t: Trees, rows: list[tuple[str, ...]]) -> None:
    asked(t, "matching", lambda: t.table(*(t.row(*row) for row in rows)))
    refused = [f for f in t.findings.all() if f.kind == "layout.table-form-refused"]
    assert [dict(f.facts)["reason"] for f in refused] == ["its columns are not two lists to match"]


def sentences(t: Trees, tongue: str) -> Table:
    """Two columns, the second in another language."""
    rows = (("the house of my old friend", "la casa de mi viejo amigo de la calle"),
            ("where is the road to the town", "donde esta el camino a la ciudad"))  # fmt: skip
    return t.table(*(
        t.row(one, t.p(replace(t.run(two), lang=tongue))) for one, two in rows
    ))  # fmt: skip


def test_columns_of_two_languages_nest(t: Trees) -> None:
    """Section 17 of the digest (WS702): English 1-5, Spanish 3-5, where columns do not fit."""
    made = lay(t, sentences(t, "es"))
    assert made.reasons() == [f"stairstep: {OVER}"]
    assert lines(made) == [
        "the house of my old friend", "  la casa de mi viejo amigo de la calle",
        "where is the road to the town", "  donde esta el camino a la ciudad",
    ]  # fmt: skip


def test_columns_of_one_language_are_linear(t: Trees) -> None:
    made = lay(t, sentences(t, ""))
    assert made.reasons()[0].startswith("linear: ")


# ---------------------------------------------------------------- asked for by a person


def test_e24_linear_form(t: Trees) -> None:
    """BF 11.17: the headings in the note in the order of the rows; rows as drawn."""
    made = asked(t, "linear", lambda: three_lakes(t), translator=Examples())
    assert made.lines == [
        "      ,table changed to a list. ,each",
        "    row is one item in this order:",
        "    ,lake: ,area; ,depth.",
        ",blue ,lake: #abj; #ce.",
        ",long ,pond: #i; #d.",
        ",silver ,lake: #dh; #aab.",
    ]
    assert made.reasons() == ["linear: it was asked for"]


def test_e25_stairstep_form(t: Trees) -> None:
    """BF 11.18: columns start in cells 1, 3, 5; the headings in the same steps first."""
    made = asked(t, "stairstep", lambda: three_lakes(t), translator=Examples())
    assert lines(made) == [
        ",lake", "  ,>ea", "    ,dep?",
        ",blue ,lake", "  #abj", "    #ce",
        ",l;g ,pond", "  #i", "    #d",
        ",silv] ,lake", "  #dh", "    #aab",
    ]  # fmt: skip
    assert made.reasons() == ["stairstep: it was asked for"]
    assert "layout.table-stairstep" in t.kinds()


def test_runovers_of_steps_are_right_of_the_last_step(t: Trees) -> None:
    """BF 11.18."""
    long = "a hen that is so long that it needs one more line"
    made = asked(t, "stairstep", lambda: t.table(t.row("cat", "goat"), t.row("dog", long)))
    assert lines(made) == ["cat", "  goat", "dog", f"  {long[:35]}", f"    {long[36:]}"]


def two_levels(t: Trees) -> Table:
    return t.table(
        t.row("x", t.entry("size", columns=2), head=True), t.row("p", "wide", "deep", head=True),
        t.row("a", "b", "c"),
    )  # fmt: skip


def spanned(t: Trees) -> Table:
    return t.table(
        t.row("day", "noon", "night", head=True), t.row("mon", t.entry("art", rows=2), ""),
        t.row("tue", "sing"),
    )  # fmt: skip


@pytest.mark.parametrize(
    "form, make, drawn",
    [
        ("listed", two_levels, ["    a", "size, wide: b", "size, deep: c"]),
        ("linear", two_levels, ["a: b; c."]),
        ("stairstep", two_levels,
         ["x, p", "  size, wide", "    size, deep", "a", "  b", "    c"]),
        ("listed", spanned, ["    mon", "noon: art", "night: no entry",
                             "    tue", "noon: art", "night: sing"]),
        ("linear", spanned, ["mon: art; no entry.", "tue: art; sing."]),
        ("stairstep", spanned, ["day", "  noon", "    night", "mon", "  art", "    no entry",
                                "tue", "  art", "    sing"]),
    ],
)  # fmt: skip
def test_headings_of_two_levels_and_spans(
    t: Trees, form: str, make: Callable[[Trees], Table], drawn: list[str]
) -> None:
    """BF 11.16 to 11.18: a heading over several columns is named with each of them, an entry
    over several rows in each of them."""
    assert lines(asked(t, form, lambda: make(t))) == drawn


def test_a_table_asked_for_as_a_form(t: Trees) -> None:
    """BF 6.7: an empty entry is room to write in; headings stay as labels."""
    made = asked(t, "form", lambda: t.table(t.row("x", "y", head=True), t.row("name", "")))
    assert [line.split()[0] for line in lines(made)] == ["x;", "name"]
    assert not made.reasons()


def test_columns_that_were_asked_for_may_run_over(t: Trees) -> None:
    """BF 11.1: a person may judge that columns are clearer."""
    made = asked(t, "columned", lambda: t.table(
        t.row("x", "y", head=True), t.row("so many words here", "as many words again here"),
        t.row("many words of print", "and also over here a lot")))  # fmt: skip
    assert lines(made) == [
        "x                    y",
        '"333333333333333333  "333333333333333333',
        "so many words here   as many words again",
        "                       here",
        "many words of print  and also over here",
        "                       a lot",
    ]
    assert made.reasons() == ["columned: it was asked for"]


def test_a_narrow_table_interchanged(t: Trees) -> None:
    """BF 11.15: column headings of several lines end together."""
    assert lines(asked(t, "interchanged", lambda: three_lakes(t))) == [
        "        ,blue  ,long  ,silver", ",lake   ,lake  ,pond  ,lake",
        '"33333  "3333  "3333  "333333', ',area   #abj   #i """ #dh', ',depth  #ce "" #d """ #aab',
    ]  # fmt: skip


@pytest.mark.parametrize(
    "form, make, reason",
    [
        ("listed", lambda t: t.table(t.row("cat", "goat"), t.row("dog", "hen")),
         "it has no column headings"),
        ("divided", lambda t: t.table(t.row("x", "y", head=True), t.row("a", "b")),
         "it would need too many parts"),
        ("keyed", lambda t: t.table(t.row("x", "y", head=True), t.row("abc", "def")),
         "no heading is wider than its entries"),
        ("facing", three_lakes, "one side of the paper is used, so no pages face one another"),
        ("languages", three_lakes, "its columns are not in several languages"),
        ("steps", three_lakes, "there is no such form"),
        ("interchanged", lambda t: t.table(t.row("x", "y", head=True), t.row("", "b")),
         "a row has no heading"),
        ("interchanged", two_levels, "it has more than one row of column headings"),
    ],
)  # fmt: skip
def test_a_form_that_cannot_be_is_refused_and_another_taken(
    t: Trees, form: str, make: Callable[[Trees], Table], reason: str
) -> None:
    """What a person asked for is never passed over in silence."""
    asked(t, form, lambda: make(t))
    refused = [f for f in t.findings.all() if f.kind == "layout.table-form-refused"]
    assert [dict(f.facts)["reason"] for f in refused] == [reason]


def test_a_choice_is_for_its_own_table_only(t: Trees) -> None:
    made = asked(t, "linear", lambda: three_lakes(t), three_lakes(t))
    assert made.reasons() == ["linear: it was asked for", "columned: its columns fit the page"]


# ---------------------------------------------------------------- any table in any form


@settings(max_examples=120, deadline=None)
@given(tables(), st.sampled_from(FORMS), st.integers(6, 12))
def test_any_table_in_any_form_loses_nothing(
    shape: tuple[list[list[str]], bool, int, list[int]], form: str, height: int
) -> None:
    """Nothing lost or doubled, no line too long (`lay` looks); the form or a finding."""
    rows, headed, width, turns = shape
    rows[0][0] += "a"  # A table without a word has no place in print.

    def make() -> Block:
        kids: list[Any] = [t.row(*"uvwxyz"[: len(rows[0])], head=True)] if headed else []
        for at, row in enumerate(rows):
            kids += [t.page(str(at + 2))] if at in turns else []
            kids.append(t.row(*row))
        return t.table(*kids)

    t = Trees()
    made = asked(t, form, make, t.p("last"), cells=width, lines=height)
    told = [reason.partition(":")[0] for reason in made.reasons()]
    assert told in ([form], ["form-refused", *told[1:]], [])


@pytest.mark.parametrize("above", range(1, 9))
def test_a_note_above_a_table_stays_on_one_page(t: Trees, above: int) -> None:
    """BF 3.7, 11.2: the note on the page of what it explains, whatever stands above."""
    words = [t.p("word") for _ in range(above)]
    made = lay(t, *words, t.table(t.row("x", "", head=True), t.row("a", "")), lines=10)
    noted = [
        at
        for at, page in enumerate(made.pages)
        for row in page.rows
        if row is not None and row.style == "table-note"
    ]
    assert len(noted) > 1
    assert len(set(noted)) == 1


def test_where_print_marks_all_rows_as_headings_only_the_first_is_one(t: Trees) -> None:
    """Common practice, no source: entries stay entries and do not go into the note."""
    made = lay(
        t, t.p("word"),
        t.table(t.row("Lake", "Area", head=True), t.row("Blue", "120", head=True),
                t.row("Long", "9", head=True)),
    )  # fmt: skip
    assert made.lines[2:] == [
        ",lake  ,area",
        '"3333  "3333',
        ",blue  #abj",
        ",long  #i",
    ]


# ---------------------------------------------------------------- facing pages


def two_sided() -> Convention:
    return replace(bf2016(), page=replace(bf2016().page, sides="two"))


@pytest.mark.parametrize("above, empty", [(10, 0), (40, 1)])
def test_parts_on_facing_pages(t: Trees, above: int, empty: int) -> None:
    """BF 11.13: the left part on a left-hand page, the right part on the page opposite, with a
    note; where the text above ends on the left, the right-hand page stays empty."""
    paragraphs = [t.p(NOW) for _ in range(above)]
    start = len(t.builder.build().text)
    table = wide(t, 6, *"opqrst")
    choice = Choice(start, len(t.builder.build().text), "table-format", "facing")
    made = lay(t, *paragraphs, table, t.p(NOW), choices=(choice,), convention=two_sided())
    pages = [text_of(page) for page in made.pages]
    left, right = (
        next(nth for nth, page in enumerate(pages) if any(f"column {at}" in line for line in page))
        for at in "ad"
    )
    assert pages[left][:2] == [
        "      ,table divided over two facing",
        "    pages. ,row headings are repeated on",
    ]
    assert (left % 2, right) == (1, left + 1)  # From 0, those on the left are odd.
    assert pages[right][0].startswith("row")
    assert sum(not any(page[:-1]) for page in pages) == empty
    assert made.reasons() == ["facing: it was asked for"]
    assert "layout.table-facing" in t.kinds()


def test_facing_pages_are_refused_where_a_part_is_longer_than_a_page(t: Trees) -> None:
    """BF 11.13."""
    asked(t, "facing", lambda: wide(t, 6, *"opqrstuvwxyzopqrstuvwxyz"), convention=two_sided())
    refused = [f for f in t.findings.all() if f.kind == "layout.table-form-refused"]
    assert [dict(f.facts)["reason"] for f in refused] == ["its parts are longer than a page"]


# ---------------------------------------------------------------- one row


def test_one_row_of_several_paragraphs_is_text(t: Trees) -> None:
    """BF 11.1: what only stands side by side in print, such as an address and a date; entries of
    one paragraph are a row."""
    address = (t.p("Harbour House"), t.p("Quay Street"))
    made = lay(t, t.p(NOW), t.table(t.row(address, "2 May")))
    assert made.reasons() == ["as-text: "]
    assert lines(made) == ["  word", "  ,harbour ,house", "  ,quay ,street", "  #b ,may"]
    other, words = Trees(), "a harbour with a long name and a quay"
    made = lay(other, other.p(NOW), other.table(other.row(words, words, words)))
    assert made.reasons()[-1] == f"linear: {OVER}"
