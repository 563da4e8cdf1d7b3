"""Guide words on the last line of alphabetic references (BF 21.3)."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from convert.document.nodes import Block, PrintPageTurn, Section
from tests.draw import lines_of, text_of
from tests.layout.test_tables import Laid, lay
from tests.layout.trees import Trees, bf2016


@pytest.fixture
def t() -> Trees:
    return Trees()


def section(t: Trees, *blocks: Block, role: str = "index") -> Section:
    return Section(role=role, children=blocks, address=t.at())


def entries(t: Trees, *words: str, role: str = "index") -> Block:
    return t.list(*words, role=role)


def feet(made: Laid) -> list[str]:
    return [lines_of(page)[-1] for page in made.pages]


def test_first_and_last_entry_word_of_each_page(t: Trees) -> None:
    """Centred between cell 1 and the three cells before the number; no text on the line."""
    words = [f"{a}{b}nt, 3" for a in "abcd" for b in "aeiouy"]
    made = lay(t, section(t, t.h(1, "Index"), entries(t, *words)), lines=14)
    assert feet(made)[:2] == [
        "             aant-bunt                #a",
        "             bynt-dunt                #b",
    ]
    assert all(not text_of(page)[-1] for page in made.pages[:2])
    assert text_of(made.pages[0])[2:4] == ["aant, #c", "aent, #c"]


def test_a_term_of_several_words_is_given_whole(t: Trees) -> None:
    """A mark ends it; else the first word alone stands."""
    listed = entries(t, "solar energy: from the sun", "wind is moving air", role="glossary")
    made = lay(t, section(t, listed, role="glossary"), lines=10)
    assert feet(made)[0].split() == ["solar", "energy-wind", "#a"]


def test_a_page_that_one_entry_fills_has_its_word(t: Trees) -> None:
    made = lay(t, section(t, entries(t, "ants, " + "many words " * 60)), lines=8)
    assert feet(made)[1].split() == ["ants", "#b"]


def test_subentries_are_no_guide_words(t: Trees) -> None:
    """The words are those of the entries."""
    nested = t.list(t.item("", "ants", t.list("black", "red")), role="index")
    made = lay(t, section(t, nested), lines=9)
    assert feet(made)[0].split() == ["ants", "#a"]


def test_words_too_long_for_the_line_are_left_out(t: Trees) -> None:
    long = "antidisestablishmentarianism"
    made = lay(t, section(t, entries(t, f"{long}, 3", f"x{long}, 4")), lines=9)
    assert feet(made)[0].split() == ["#a"]


def test_other_pages_have_none(t: Trees) -> None:
    """Only a page that begins with entries or their heading is one of them."""
    made = lay(t, t.p("word"), entries(t, "ants, 3"), lines=12)
    assert feet(made)[0].split() == ["#a"]


def test_an_agency_may_leave_them_out(t: Trees) -> None:
    rules: dict[str, Any] = {**bf2016().rules, "guide_words": ()}
    made = lay(t, section(t, entries(t, "ants, 3")), convention=replace(bf2016(), rules=rules))
    assert feet(made)[0].split() == ["#a"]


@pytest.mark.parametrize("cells, lines", [(30, 25), (32, 27), (28, 20), (17, 6), (12, 5)])
def test_on_any_page_the_line_holds_the_words_only(t: Trees, cells: int, lines: int) -> None:
    """Three cells before the number, nothing lost (`lay` looks)."""
    words = [f"{a}{b}e, {n}" for n, a in enumerate("abcdefgh") for b in "aeiou"]
    made = lay(t, t.page("1"), section(t, t.h(1, "Index"), entries(t, *words)), cells=cells,
               lines=lines)  # fmt: skip
    for page, foot in zip(made.pages, feet(made), strict=True):
        words = foot[: foot.rindex("#")]
        assert not words.strip() or words.endswith("   ")
        assert len(foot) <= cells
        assert "-" in foot or not text_of(page)[-1]


def test_the_rest_of_an_entry_below_notes_does_not_begin_on_the_page(t: Trees) -> None:
    """21.3: the words are of entries that begin on the page, or of the one that goes on there,
    by its own first word."""
    long = t.item(
        "", "ants, ", t.call("1", "f1"), "many words " * 30, PrintPageTurn("9"), "and more"
    )
    made = lay(
        t, section(t, t.list(long, "bees, 7", role="index")), t.foot("f1", "1", t.p("Small.")),
        lines=9,
    )  # fmt: skip
    words = [foot.split()[0] for foot in feet(made)[:3]]
    assert words[0] == "ants"
    assert words[1] in ("ants", "bees")
    t = Trees()
    long = t.item("", "ants, ", "many words " * 30, PrintPageTurn("9"), "and more")
    alone = lay(t, section(t, t.list(long, role="index")), lines=9)
    assert {foot.split()[0] for foot in feet(alone)} == {"ants"}
