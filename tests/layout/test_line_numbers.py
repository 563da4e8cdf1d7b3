"""Line-numbered verse (BF 15): numbers at the right margin, text clear of them."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from convert.document.nodes import Verse, VerseLine
from tests.draw import text_of
from tests.layout.test_tables import lay
from tests.layout.trees import Trees


@pytest.fixture
def t() -> Trees:
    return Trees()


def poem(t: Trees, *lines: tuple[str, str] | str, level: int = 1) -> Verse:
    """Lines, with their numbers where print has them."""
    kids = []
    for line in lines:
        words, number = line if isinstance(line, tuple) else (line, "")
        runs = t.runs(words)
        kids.append(VerseLine(runs=runs, address=t.at(), level=level,
                              number=t.runs(number) if number else ()))  # fmt: skip
    return Verse(children=tuple(kids), address=t.at())


def test_e31_a_number_stands_where_the_print_line_starts(t: Trees) -> None:
    """BF 15.2 to 15.4: it ends in the last cell; text stops two cells before the longest."""
    first = "they came at night across the frozen lake with all their goods"
    made = lay(t, t.p("word"), poem(t, (first, "10"), "and none could say"))
    assert made.lines == [
        "  word",
        "",
        "they came at night across the        #aj",
        "  frozen lake with all their goods",
        "and none could say",
    ]


def test_lines_stop_before_the_longest_number_of_the_poem(t: Trees) -> None:
    """BF 15.4: steady margins over the whole poem, also for lines without number."""
    words = "abcde fghij klmno pqrst uvwxy zabcd e"
    made = lay(t, t.p("word"), poem(t, ("a", "5"), words, ("b", "100")))
    assert made.lines[2] == "a" + " " * 37 + "#e"
    assert made.lines[3:5] == [words[:29], "  " + words[30:]]
    assert made.lines[5] == "b" + " " * 35 + "#ajj"


def test_no_numbered_verse_beside_a_page_number(t: Trees) -> None:
    """BF 15.5: not on line 1 nor on the last line, where they have page numbers."""
    lines: list[tuple[str, str] | str] = [
        (f"line {at}", str(at)) if at % 5 == 0 else "some words" for at in range(1, 60)
    ]
    made = lay(t, t.page("1"), poem(t, *lines))
    assert len(made.pages) > 2
    for page in made.pages:
        text = text_of(page)
        assert not text[0]
        assert not text[-1] or "end" in text[-1]


def test_the_last_line_of_verse_without_page_numbers_is_used(t: Trees) -> None:
    """BF 15.5 is about lines with page numbers: line 1 without one holds verse."""
    made = lay(t, poem(t, ("one", "1"), "two"))
    assert made.lines == ["one" + " " * 35 + "#a", "two"]


def test_a_number_after_a_tab_of_print_is_print(t: Trees) -> None:
    """Only what the reader calls a line number is one."""
    made = lay(t, t.p("word"), poem(t, "one\t10"))
    assert made.lines[2] == "one #aj"


def test_a_narrow_page_keeps_numbers_after_their_lines(t: Trees) -> None:
    """Common practice, no source: words need a third of the line."""
    verse = poem(t, ("one two", "1000"), level=1)
    deep = replace(verse, children=(*verse.children, *(
        replace(line, level=n, address=t.at(), number=())
        for n in (2, 3, 4, 5, 6) for line in poem(t, "so").children)))  # fmt: skip
    made = lay(t, t.p("word"), deep, cells=20)
    assert any("#ajjj" in line for page in made.pages for line in text_of(page))
    assert "layout.line-numbers-kept" in [found.kind for found in t.findings.all()]


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.tuples(st.lists(st.text("abc", min_size=1, max_size=8), min_size=1, max_size=9),
                       st.one_of(st.just(""), st.integers(1, 999).map(str))),
             min_size=1, max_size=40),
    st.integers(14, 45), st.integers(6, 15),
)  # fmt: skip
def test_any_numbered_poem_loses_nothing(
    rows: list[tuple[list[str], str]], cells: int, height: int
) -> None:
    """Nothing lost or doubled, no line too long (`lay` looks)."""
    t = Trees()
    lay(t, t.page("7"), t.p("word"), poem(t, *((" ".join(w), n) for w, n in rows)), t.p("last"),
        cells=cells, lines=height)  # fmt: skip
