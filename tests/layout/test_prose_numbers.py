"""Line-numbered prose (BF 15): each printed line's number at the margin where the line begins."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from convert.document.nodes import LineBreak, LineNumber, Paragraph, PrintPageTurn
from tests.draw import text_of
from tests.layout.test_tables import lay
from tests.layout.trees import Trees, bf2016

BR = LineBreak()


@pytest.fixture
def t() -> Trees:
    return Trees()


def prose(t: Trees, *parts: Any, role: str = "body") -> Paragraph:
    """A paragraph; numbers of print are integers among its parts."""
    runs: list[Any] = []
    for part in parts:
        if isinstance(part, int):
            run = t.run(str(part))
            part = LineNumber(run.start, run.end)
        runs.append(part)
    return t.p(*runs, role=role)


LINES = (
    *(1, "the boat went down the ri-", BR, "ver, and nobody saw it again until the spring", BR),
    *("came", BR, "back and", BR, 5, "the ice was gone from the whole of the valley"),
)


def test_every_printed_line_has_its_number(t: Trees) -> None:
    """BF 15.3, 15.6: numbers stand where printed lines begin, also those print leaves out; print's
    division of a word is shown; a short line that would be completed has a line of its own."""
    made = lay(t, t.p("word"), prose(t, *LINES), t.p("last"))
    assert made.lines == [
        "  word",
        "  the boat went down the ri-          #a",
        "ver, and nobody saw it again until    #b",
        "the spring",
        "came                                  #c",
        "back and                              #d",
        "the ice was gone from the whole of    #e",
        "the valley",
        "  last",
    ]
    assert {row.kind for row in made.pages[0].rows[1:8] if row} == {"para"}


def test_a_printed_line_begins_after_three_blank_cells(t: Trees) -> None:
    """BF 15.6: where the one before ended and it is not itself completed there."""
    first = "one two three four five six seven eight"
    made = lay(t, t.p("word"), prose(t, 10, first, BR, first, BR, "so"))
    assert made.lines[1:] == [
        "  one two three four five six seven  #aj",
        "eight   one two three four five six  #aa",
        "seven eight",
        "so                                   #ab",
    ]


def test_only_the_numbers_of_print(t: Trees) -> None:
    """A house style may leave lines unnumbered as print does."""
    rules = replace(bf2016(), rules={**bf2016().rules, "prose_line_numbers": "print"})
    made = lay(t, t.p("word"), prose(t, *LINES), convention=rules)
    assert [line[-2:] for line in made.lines if line.endswith(("#a", "#e"))] == ["#a", "#e"]
    assert not any(line.endswith(("#b", "#c", "#d")) for line in made.lines)


def test_numbers_that_do_not_agree_with_the_lines_are_kept_as_they_are(t: Trees) -> None:
    made = lay(t, t.p("word"), prose(t, 5, "a", BR, "b", BR, 10, "c"))
    assert [line.split() for line in made.lines[1:]] == [["a", "#e"], ["b"], ["c", "#aj"]]


def test_printed_lines_that_only_numbers_tell(t: Trees) -> None:
    """Where the source has no line ends, a numbered line begins at its number."""
    made = lay(t, t.p("word"), prose(t, 5, "one two three", 10, "four five"))
    assert made.lines[1:] == [
        "  one two three                       #e",
        "four five                            #aj",
    ]


def test_blocked_paragraphs_follow_print(t: Trees) -> None:
    made = lay(t, t.p("word"), prose(t, 1, "one", BR, 2, "two", role="blocked"))
    assert made.lines[-2:] == ["one                                   #a",
                               "two                                   #b"]  # fmt: skip


def test_numbers_of_paragraphs_stay_before_their_words(t: Trees) -> None:
    """BF 15.2: a number alone at the beginning of each paragraph is not one of its lines."""
    made = lay(t, prose(t, 1, "one two"), prose(t, 2, "three"))
    assert made.lines == ["  #a one two", "  #b three"]


def test_numbers_in_a_list_stay_apart_from_its_words(t: Trees) -> None:
    item = t.list(t.item("", prose(t, 5, "one", 6, "two")))
    assert lay(t, item).lines == ["#e one #f two"]


def test_a_print_page_that_begins_in_a_numbered_line(t: Trees) -> None:
    """BF 1.11.2, 15: the page change stands where print has it; the rest goes on in cell 1."""
    made = lay(
        t, t.page("1"), t.p("word"), prose(t, 1, "one", BR, "two", PrintPageTurn("2"), " three")
    )
    assert [line for line in text_of(made.pages[0]) if line][1:5] == [
        "  one                                 #a",
        "two                                   #b",
        "--------------------------------------#b",
        "three",
    ]


def test_no_numbered_prose_beside_a_page_number(t: Trees) -> None:
    """BF 15.5."""
    many = [part for at in range(1, 60) for part in (at, "some words", BR)]
    made = lay(t, t.page("1"), prose(t, *many))
    assert len(made.pages) > 2
    for page in made.pages:
        text = text_of(page)
        assert not text[0]
        assert not text[-1] or "end" in text[-1]


@settings(max_examples=80, deadline=None)
@given(
    st.lists(
        st.tuples(
            st.lists(st.text("abc", min_size=1, max_size=8), min_size=1, max_size=12),
            st.one_of(st.none(), st.integers(1, 999)),
            st.booleans(),
        ),
        min_size=1,
        max_size=30,
    ),
    st.integers(12, 45),
    st.integers(5, 15),
)
def test_any_numbered_prose_loses_nothing(
    rows: list[tuple[list[str], int | None, bool]], cells: int, height: int
) -> None:
    """Nothing lost or doubled, no line too long (`lay` looks)."""
    t = Trees()
    parts: list[Any] = []
    for words, number, broken in rows:
        parts += [*([] if number is None else [number]), " ".join(words), *([BR] if broken else [])]
    lay(t, t.page("7"), t.p("word"), prose(t, *parts), t.p("last"), cells=cells, lines=height)
