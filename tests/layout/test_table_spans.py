"""Tables in columns with headings over headings and entries over several columns or rows, drawn.

The digest of BF 11.2 has no passage on either: a heading over others keeps its place with a
separation line of its own (common practice), and other entries are repeated with a note.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from convert.document.nodes import Block, MathRun, PrintPageTurn, Table
from tests.draw import text_of
from tests.layout.test_table_forms import asked, lines
from tests.layout.test_tables import lay
from tests.layout.trees import Trees, bf2016

FITS = "columned: its columns fit the page"
REPEATED = ["      ,entries of print over several", "    rows or columns are repeated in",
            "    each."]  # fmt: skip


@pytest.fixture
def t() -> Trees:
    return Trees()


def drawn(t: Trees, table: Block, **options: Any) -> list[str]:
    """The lines of a table in columns below a paragraph."""
    made = lay(t, t.p("word"), table, **options)
    assert made.reasons() == [FITS]
    return made.lines[2:]


def two_years(t: Trees, *rows: Any) -> Table:
    over = t.entry("Area", columns=2), t.entry("Depth", columns=2)
    return t.table(
        t.row(t.entry("Lake", rows=2), *over, head=True),
        t.row("1990", "2000", "1990", "2000", head=True), *rows,
    )  # fmt: skip


# ---------------------------------------------------------------- headings over headings


def test_headings_over_two_columns_each(t: Trees) -> None:
    """A heading over others has its own line, two cells apart; all others end together."""
    table = two_years(t, t.row("Blue", "12", "11", "3", "4"), t.row("Long", "9", "8", "5", "2"))
    assert drawn(t, table) == [
        "       ,area         ,depth",
        '       "33333333333  "33333333333',
        ",lake  #aiij  #bjjj  #aiij  #bjjj",
        '"3333  "3333  "3333  "3333  "3333',
        ',blue  #ab "" #aa "" #c """ #d',
        ',long  #i """ #h """ #e """ #b',
    ]


def test_a_heading_wider_than_its_columns_makes_them_wider(t: Trees) -> None:
    """Its line is as wide as the columns it covers; the heading beside it stands at the foot."""
    table = t.table(
        t.row("", t.entry("parts of farms", columns=2), t.entry("all", rows=2), head=True),
        t.row("county", "a", "b", head=True), t.row("oak", "c", "d", "e"),
    )  # fmt: skip
    assert drawn(t, table) == [
        "        parts of farms",
        '        "3333333333333',
        "county  a       b       all",
        '"33333  "33333  "33333  "33',
        'oak """ c """"" d """"" e',
    ]


def test_a_heading_over_others_on_two_lines(t: Trees) -> None:
    """BF 11.2.4: where the page is too narrow for one line; both end just above their line."""
    table = t.table(
        t.row("", t.entry("parts of farms", columns=2), t.entry("now", columns=2), head=True),
        t.row("place", *"abcd", head=True), t.row("oakland", "e", "f", "g", "h"),
    )  # fmt: skip
    assert drawn(t, table, cells=26) == [
        "         parts of",
        "         farms     now",
        '         "3333333  "33333',
        "place    a    b    c   d",
        '"333333  "33  "33  "3  "3',
        'oakland  e "" f "" g   h',
    ]


def test_a_heading_between_two_that_cover_others(t: Trees) -> None:
    """Print leaves the lower row empty there: the heading stands just above its column."""
    table = t.table(
        t.row("Place", t.entry("north", columns=2), "all", t.entry("south", columns=2), head=True),
        t.row("", "a", "b", "", "c", "d", head=True), t.row("x", *"efghi"),
    )  # fmt: skip
    assert drawn(t, table) == [
        "        north        south",
        '        "33333       "33333',
        ",place  a   b   all  c   d",
        '"33333  "3  "3  "33  "3  "3',
        'x """"" e   f   g "" h   i',
    ]


def test_where_all_headings_stand_over_several_columns_theirs_is_the_only_line(t: Trees) -> None:
    """BF 11.2.4: a separation line under each heading, none where there is no heading."""
    table = t.table(
        t.row("", t.entry("now paid", columns=2), head=True),
        t.row("", "", "", head=True), t.row("oak", "c", "d"), t.row("elm", "e", "f"),
    )  # fmt: skip
    assert drawn(t, table) == [
        "     now paid",
        '     "3333333',
        'oak  c "" d',
        'elm  e "" f',
    ]


def test_three_rows_of_headings(t: Trees) -> None:
    table = t.table(
        t.row(t.entry("Row", rows=3), t.entry("all of them", columns=4), head=True),
        t.row(t.entry("one", columns=2), t.entry("two", columns=2), head=True),
        t.row(*"abcd", head=True), t.row("x", *"efgh"),
    )  # fmt: skip
    assert drawn(t, table) == [
        "      all of them",
        '      "3333333333333',
        "      one     two",
        '      "33333  "33333',
        ",row  a   b   c   d",
        '"333  "3  "3  "3  "3',
        'x """ e   f   g   h',
    ]


def test_a_heading_over_one_other_heading(t: Trees) -> None:
    """Each row of print has a heading for the column: the upper one has a line too."""
    table = t.table(
        t.row("", "May", "June", head=True), t.row("lake", "cold", "warm", head=True),
        t.row("blue", "a", "b"),
    )  # fmt: skip
    assert drawn(t, table) == [
        "      ,may  ,june",
        '      "333  "3333',
        "lake  cold  warm",
        '"333  "333  "3333',
        'blue  a """ b',
    ]


def test_all_rows_of_headings_come_again_on_the_next_page(t: Trees) -> None:
    """BF 11.2.11."""
    rows = [t.row(f"r{at}", "c", "d", "e", "f") for at in range(40)]
    made = lay(t, two_years(t, *rows))
    for page in made.pages[:2]:
        kinds = [row.kind for row in page.rows if row][:5]
        assert kinds == ["table-head", "table-rule", "table-head", "table-rule", "table"]


def test_four_rows_of_headings_are_listed(t: Trees) -> None:
    """How many are too many is common practice, no source."""
    heads = [t.row("", f"a{at}", f"b{at}", head=True) for at in range(4)]
    made = lay(t, t.table(*heads, t.row("x", "y", "z")))
    assert made.reasons() == ["listed: it has more than one row of column headings"]


def test_headings_in_the_middle_of_a_table_are_listed(t: Trees) -> None:
    table = t.table(
        t.row("x", "y", head=True), t.row("a", "b"), t.row("z", "w", head=True), t.row("c", "d")
    )
    assert lay(t, table).reasons() == ["listed: it has more than one row of column headings"]


# ---------------------------------------------------------------- entries over several


def test_an_entry_over_rows_is_repeated(t: Trees) -> None:
    """BF 3.1: a note tells it before the table."""
    table = t.table(
        t.row("Kind", "Name", "Price", head=True),
        t.row(t.entry("Fruit", rows=3), "apple", "two"), t.row("pear", "three"),
        t.row("plum", "one"), t.row("Root", "beet", "four"),
    )  # fmt: skip
    assert drawn(t, table) == [
        *REPEATED, "",
        ",kind   ,name  ,price",
        '"33333  "3333  "33333',
        ",fruit  apple  two",
        ",fruit  pear   three",
        ",fruit  plum   one",
        ",root   beet   four",
    ]  # fmt: skip


def test_an_entry_over_columns_is_repeated(t: Trees) -> None:
    table = t.table(
        t.row("Lake", "May", "June", "July", head=True),
        t.row("Blue", t.entry("none", columns=2), "c"), t.row("Long", "d", "e", "f"),
    )  # fmt: skip
    assert drawn(t, table) == [
        *REPEATED, "",
        ",lake  ,may  ,june  ,july",
        '"3333  "333  "3333  "3333',
        ",blue  none  none   c",
        ',long  d """ e """" f',
    ]  # fmt: skip


def test_a_heading_over_columns_without_their_own_is_repeated(t: Trees) -> None:
    table = t.table(t.row("Name", t.entry("Score", columns=2), head=True), t.row("ann", "c", "d"))
    assert drawn(t, table) == [
        *REPEATED, "", ",name  ,score  ,score", '"3333  "33333  "33333', 'ann "" c """"" d',
    ]  # fmt: skip


def test_an_empty_entry_over_columns_has_guide_dots_in_each(t: Trees) -> None:
    """BF 11.2.10: nothing is repeated, so no note says it."""
    table = t.table(t.row("x", "yyyy", "zzzz", head=True), t.row("a", t.entry("", columns=2)))
    assert drawn(t, table)[-3:] == ["x   yyyy  zzzz", '"3  "333  "333', 'a   """"  """"']


def test_a_print_page_that_begins_in_a_repeated_entry_begins_once(t: Trees) -> None:
    """BF 11.2.12: after the row in which print begins it."""
    long = t.entry(t.p("ab", PrintPageTurn("7"), " cd"), rows=2)
    table = t.table(t.row("x", "y", head=True), t.row(long, "e"), t.row("f"))
    made = lay(t, t.page("6"), t.p("word"), table)
    drawn = [line for line in text_of(made.pages[0]) if line]
    assert drawn[-4:-1] == ["ab cd  e", "-" * 38 + "#g", "ab cd  f"]


def test_a_note_called_in_a_repeated_entry_is_called_once(t: Trees) -> None:
    """BF 11.2.13."""
    entry = t.entry(t.p("ab", t.call("*", "f")), rows=2)
    table = t.table(t.row("xxx", "y", head=True), t.row(entry, "c"), t.row("d"))
    made = lay(t, table, t.foot("f", "*", t.p("so")))
    assert [line for line in lines(made) if line[:2] in ("ab", "* ")] == [
        "ab*  c", "ab   d", "* so",
    ]  # fmt: skip


def test_a_formula_over_rows_is_not_repeated(t: Trees) -> None:
    """The words of a formula cannot stand for it: the table takes another form."""
    run = t.run("x2")
    formula = t.p(MathRun(run.start, run.end, "<math><mi>x</mi></math>"))
    table = t.table(t.row("x", "y", head=True), t.row(t.entry(formula, rows=2), "c"), t.row("d"))
    assert lay(t, table).reasons() == ["listed: an entry reaches over several columns or rows"]


def test_entries_that_lie_over_one_another_are_listed(t: Trees) -> None:
    """Such rows are faults of the source; nothing of them may be lost."""
    table = t.table(
        t.row("x", "y", "z", head=True), t.row("a", t.entry("b", rows=2), "c"),
        t.row(t.entry("d", columns=2), "e"),
    )  # fmt: skip
    assert lay(t, table).reasons() == ["listed: an entry reaches over several columns or rows"]


def test_a_convention_may_repeat_nothing(t: Trees) -> None:
    rules = replace(bf2016(), rules={**bf2016().rules, "table_spans": "no-columns"})
    table = t.table(t.row("x", "y", head=True), t.row(t.entry("a", rows=2), "b"), t.row("c"))
    made = lay(t, table, convention=rules)
    assert made.reasons() == ["listed: an entry reaches over several columns or rows"]


# ---------------------------------------------------------------- arranged anew


def test_wide_headings_under_others_are_shortened(t: Trees) -> None:
    """BF 11.7, 11.8: those over them stay in words."""
    table = t.table(
        t.row(t.entry("at", rows=2), *[t.entry(w, columns=2) for w in ("winter", "summer")],
              head=True),
        t.row(*["temperature", "precipitation"] * 2, head=True), t.row("x1", *"efgh"),
    )  # fmt: skip
    made = lay(t, table)
    assert made.reasons() == ["keyed: its columns are wider than the page"]
    assert lines(made) == [
        "a: temperature", "b: precipitation", "c: temperature", "d: precipitation",
        "     winter  summer",
        '     "33333  "33333',
        "at   a   b   c   d",
        '"33  "3  "3  "3  "3',
        "x#a  e   f   g   h",
    ]  # fmt: skip


def test_parts_begin_with_a_heading_over_columns(t: Trees) -> None:
    """BF 11.14: where one begins near the middle, a table is divided before it."""
    table = t.table(
        t.row("", *[t.entry(w, columns=n) for w, n in (("ash", 2), ("oak", 3))], head=True),
        t.row("row", *[f"column {c}" for c in "abcde"], head=True),
        t.row("x", *[f"entry xx {c}" for c in "abcde"]),
    )  # fmt: skip
    made = lay(t, table)
    assert made.reasons() == ["divided: its columns are wider than the page"]
    assert [line for line in lines(made) if "ash" in line or "oak" in line] == [
        "     ash", "     oak",
    ]  # fmt: skip


def test_a_heading_cut_by_a_part_comes_again(t: Trees) -> None:
    """BF 11.14."""
    table = t.table(
        t.row("", t.entry("all of the trees", columns=4), head=True),
        t.row("row", *[f"column {c}" for c in "abcd"], head=True),
        *(t.row(r, *[f"entry xx{r} {c}" for c in "abcd"]) for r in "xyz"),
    )  # fmt: skip
    made = lay(t, t.p("word"), table)
    assert made.reasons()[0].startswith("divided: ")
    assert [line for line in lines(made) if "trees" in line] == ["     all of the trees"] * 2


def test_repeated_entries_may_be_interchanged(t: Trees) -> None:
    """BF 11.15."""
    names = ("january", "february", "march", "april", "may", "june", "july")

    def make() -> Block:
        return t.table(
            t.row("place", *names, head=True),
            t.row("north", *"abc", t.entry("de", columns=4)), t.row("south", *"hijklmn"),
        )  # fmt: skip

    made = asked(t, "interchanged", make)
    assert made.reasons() == ["interchanged: it was asked for"]
    assert lines(made)[-5:] == [
        'march """ c """" j', 'april """ de """ k', 'may """"" de """ l', 'june """" de """ m',
        'july """" de """ n',
    ]  # fmt: skip


def test_two_rows_of_headings_are_not_interchanged(t: Trees) -> None:
    made = asked(t, "interchanged", lambda: two_years(t, t.row("blue", *"abcd")))
    assert made.reasons()[0].startswith("form-refused: it has more than one row")
    assert made.reasons()[1] == FITS


# ---------------------------------------------------------------- any spans


@st.composite
def spanned(draw: st.DrawFn) -> list[list[tuple[str, int, int]]]:
    """Rows of (words, columns, rows), laid without overlap or with it, as sources may be."""
    entry = st.tuples(st.text("abcd", max_size=6), st.integers(1, 3), st.integers(1, 3))
    return draw(st.lists(st.lists(entry, min_size=1, max_size=5), min_size=1, max_size=10))


@settings(max_examples=120, deadline=None)
@given(spanned(), st.integers(0, 4), st.integers(20, 45), st.integers(5, 14))
def test_any_spans_lose_nothing_and_keep_to_the_page(
    rows: list[list[tuple[str, int, int]]], heads: int, width: int, height: int
) -> None:
    """Nothing lost or doubled, no line too long, whatever form is taken (`lay` looks)."""
    t = Trees()
    kids = [
        t.row(*[t.entry(w, columns=c, rows=r) for w, c, r in row], head=at < heads)
        for at, row in enumerate(rows)
    ]
    lay(t, t.p("word"), t.table(*kids), t.p("last"), cells=width, lines=height)


# ---------------------------------------------------------------- a title in the first row


def week(t: Trees, *rows: Any) -> Table:
    return t.table(t.row(t.entry("Low water", columns=3)), t.row("M", "T", "W"), *rows)


def test_a_first_row_over_all_columns_is_the_title(t: Trees) -> None:
    """BF 11.2.2; that a row not marked so is one is common practice."""
    assert drawn(t, week(t, t.row("6", "7", "8"), t.row("9", "9", "9"))) == [
        "               ,low water",
        "",
        ",m  ,t  ,w",
        "#f  #g  #h",
        "#i  #i  #i",
    ]
    assert "layout.first-row-title" in t.kinds()


def test_rows_over_all_columns_in_the_middle_leave_the_first_one_a_row(t: Trees) -> None:
    """Such rows are headings of the rows below them, the first one too (common practice)."""
    high = t.row(t.entry("High water", columns=3))
    assert drawn(t, week(t, t.row("1", "2", "3"), high, t.row("6", "7", "8"))) == [
        ",low water",
        ",m  ,t  ,w",
        "#a  #b  #c",
        ",high water",
        "#f  #g  #h",
    ]
    assert "layout.first-row-title" not in t.kinds()
