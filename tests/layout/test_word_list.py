"""Lists that print sets in columns, drawn (BF 8.4, section 12 of the digest)."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from convert.document.nodes import ListBlock
from tests.layout.test_tables import lay
from tests.layout.trees import Trees, bf2016

PETS = ("cat", "goat", "hen", "mouse", "otter", "pig", "rat", "sheep", "stoat", "toad", "wolf")


@pytest.fixture
def t() -> Trees:
    return Trees()


def words(t: Trees, *items: object) -> ListBlock:
    return t.list(*items, role="columned")


def reasons(t: Trees) -> list[str]:
    """How lists were set: columns, or why there is one."""
    named = {"layout.list-columned": "columns", "layout.list-one-column": "reason"}
    found = [f for f in t.findings.all() if f.kind in named]
    return [str(dict(f.facts)[named[f.kind]]) for f in found]


def test_three_columns_read_down(t: Trees) -> None:
    """BF 8.4, 4.4.2: two blank cells between columns; after a cell-5 heading a blank line."""
    made = lay(t, t.h(1, "Part"), t.p("go."), t.h(2, "Words"), words(t, *PETS), t.p("so."))
    assert made.lines[3:] == [
        "",
        "    ,words",
        "",
        "cat    otter  stoat",
        "goat   pig    toad",
        "hen    rat    wolf",
        "mouse  sheep",
        "",
        "  so.",
    ]
    assert reasons(t) == ["3"]
    assert {row.kind for row in made.pages[0].rows[6:10] if row} == {"list"}


def test_numbers_of_print_stand_before_the_words(t: Trees) -> None:
    """Section 12 of the digest: spelling lists keep print numbering."""
    items = [t.item(f"{at}.", word) for at, word in enumerate(PETS[:5], 1)]
    assert lay(t, words(t, *items)).lines == ["#a. cat   #c. hen    #e. otter",
                                              "#b. goat  #d. mouse"]  # fmt: skip


def test_fewer_columns_where_three_have_no_room(t: Trees) -> None:
    items = [f"{word} of the river" for word in PETS[:4]]
    assert lay(t, words(t, *items)).lines == [
        "cat of the river   hen of the river",
        "goat of the river  mouse of the river",
    ]
    assert reasons(t) == ["2"]


def test_a_list_in_columns_is_not_divided_between_pages(t: Trees) -> None:
    """BF 8.4."""
    made = lay(t, *[t.p("word") for _ in range(22)], words(t, *PETS))
    assert not any(row.kind == "list" for row in made.pages[0].rows if row)
    assert sum(row.kind == "list" for row in made.pages[1].rows if row) == 4


@pytest.mark.parametrize(
    "items, reason",
    [
        (PETS[:3], "it has few items"),
        ([f"{pet} and many more of its kind" for pet in PETS], "its items are too long"),
        ([f"{pet}{at}" for pet in PETS for at in range(9)], "it is longer than a page"),
    ],
)
def test_one_column_and_why(t: Trees, items: list[str], reason: str) -> None:
    """BF 8.4: one column is always allowed."""
    made = lay(t, words(t, *items))
    assert made.lines[0].startswith("cat")
    assert "  " not in made.lines[0]
    assert reasons(t)[0].startswith(reason)


def test_matter_that_cannot_stand_in_columns(t: Trees) -> None:
    """Print pages, notes, answer spaces and lists inside an item keep the list in one column."""
    inner = t.list("a", "b", "c", "d", role="columned")
    made = [
        words(t, "cat", t.page("2"), "hen", "pig", "rat"),
        words(t, "cat", t.item("", t.call("1", "f")), "hen", "pig"),
        words(t, "cat", t.item("", t.answer()), "hen", "pig"),
        words(t, "cat", t.item("", "hen", t.p("more")), "pig", "rat"),
        t.list("x", t.item("", "y", inner)),
    ]
    lay(t, t.page("1"), *made, t.foot("f", "1", t.p("so")))
    assert sorted(reasons(t)) == [
        "a print page or a note begins inside it",
        "an item holds more than a few words",
        "it has room for answers",
        "it stands inside another list",
    ]


def test_a_convention_may_have_one_column(t: Trees) -> None:
    rules = replace(bf2016(), rules={**bf2016().rules, "list_columns": 1})
    assert lay(t, words(t, *PETS), convention=rules).lines == list(PETS)


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.text("abcde", min_size=1, max_size=12), min_size=1, max_size=60),
    st.integers(12, 40),
    st.integers(5, 30),
    st.integers(0, 6),
)
def test_any_list_keeps_its_items_in_order(
    items: list[str], width: int, height: int, above: int
) -> None:
    """Nothing lost, no line too long (`lay` looks); read down the columns the order is print's."""
    t = Trees()
    paras = [t.p("word") for _ in range(above)]
    made = lay(t, *paras, words(t, *items), t.p("last"), cells=width, lines=height)
    parts = [
        (at, part.start, part.source.passage.ledger_at(0))
        for at, page in enumerate(made.pages)
        for row in page.rows
        if row and row.style == "list-columns"
        for part in row.parts
        if part.source is not None and part.source.passage is not None and part.at == 0
    ]
    starts = sorted({start for _, start, _ in parts})
    assert all(two - one > 2 for one, two in pairwise(starts))
    assert len({at for at, _, _ in parts}) < 2
    read = [offset for _, _, offset in sorted(parts, key=lambda p: (p[1], p[2]))]
    assert read == sorted(read)
