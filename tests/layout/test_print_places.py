"""What a print page asks of its blocks: notes about interrupted text, loose illustrations, numbers
of paragraphs in the margin."""

from __future__ import annotations

from dataclasses import replace

import pytest

from convert.document.nodes import SUP, Block, Box, Graphic, Section
from convert.layout.convention import Convention
from tests.layout.trees import Trees, bf2016


@pytest.fixture
def t() -> Trees:
    return Trees()


def ruled(**rules: str) -> Convention:
    """The convention with other rules."""
    return replace(bf2016(), rules={**bf2016().rules, **rules})


# ------------------------------------------------------------------ interrupted text, BF 3.3.3


def interrupted(t: Trees, first: str, second: str, label: str | None = "13") -> tuple[Block, ...]:
    box = Box(children=(t.p("Bees see."),), address=t.at())
    return t.page("12"), t.p(first), t.page(label), box, t.page("14"), t.p(second)


def test_a_sentence_that_a_whole_print_page_interrupts(t: Trees) -> None:
    """BF 3.3.3, 1.11: a note before tells where the text goes on, one after where it was left; the
    rest of the sentence goes on at the runover cell."""
    assert t.flowed(*interrupted(t, "We walked to the", "old mill by night.")) == [
        "turn 0 | 12",
        "paragraph 3-1 0 | We walked to the",
        "transcriber-note 7-5 0 | ‹The text goes on after this, on print page 14.›",
        "turn 0 | 13",
        "box-top 1-1 1",
        "paragraph 3-1 0 | Bees see.",
        "box-bottom 1-1 0",
        "turn 1 | 14",
        "transcriber-note 7-5 0 | ‹The text goes on here from print page 12.›",
        "paragraph-rest 1-1 0 | old mill by night.",
    ]
    assert t.kinds() == ["layout.text-interrupted"]


@pytest.mark.parametrize(
    ("first", "second", "label"),
    [
        ("We walked to the mill.", "old mills are many", "13"),  # the sentence has ended
        ("We walked to the", "Old mills are many", "13"),  # another begins
        ("We walked to the", "old mill by night", None),  # an unnumbered insert
    ],
)
def test_pages_between_sentences_and_inserts_have_no_notes(
    t: Trees, first: str, second: str, label: str | None
) -> None:
    """BF 3.3.3."""
    t.flowed(*interrupted(t, first, second, label))
    assert t.kinds() == []


def test_other_matter_of_less_than_a_print_page_interrupts_nothing(t: Trees) -> None:
    """BF 3.3.3: a full print page or more."""
    box = Box(children=(t.p("Bees see."),), address=t.at())
    t.flowed(t.page("12"), t.p("We walked to the"), box, t.page("13"), t.p("old mill."))
    assert t.kinds() == []


def test_interruptions_can_stay_as_print_has_them(t: Trees) -> None:
    """An agency may leave the notes out."""
    lines = t.flowed(
        *interrupted(t, "We walked to the", "old mill."), convention=ruled(interruptions="print")
    )
    assert not any(line.startswith("transcriber-note") for line in lines)


# ------------------------------------------------------------------ illustrations, BF 6


def picture(t: Trees, caption: str) -> Graphic:
    return Graphic(alt=(), resource="m.png", children=(t.p(caption),), address=t.at())


def test_a_loose_illustration_follows_the_last_whole_paragraph_of_its_print_page(t: Trees) -> None:
    """BF 6: before the page change, not inside the paragraph that goes on."""
    assert t.flowed(
        t.page("11"),
        t.p("Before it."),
        Section(children=(t.page("12"), picture(t, "Figure 3. The mill"), t.p("It is old."))),
        t.p("It fell down."),
        t.p("Nobody", t.turn("13"), " came."),
    ) == [
        "turn 0 | 11",
        "paragraph 3-1 0 | Before it.",
        "turn 0 | 12",
        "paragraph 3-1 0 | It is old.",
        "paragraph 3-1 0 | It fell down.",
        "caption 7-5 0 | Figure 3. The mill",
        "paragraph 3-1 0 | Nobody[13] came.",
    ]
    assert "layout.illustration-moved" in t.kinds()


@pytest.mark.parametrize(
    ("caption", "words", "above"),
    [
        ("Figure 3. The mill", "The mill (see fig. 3) is old.", ()),  # a paragraph names it
        ("The old mill", "It is old.", ()),  # whether it belongs to one is not known
        ("Figure 3. The mill", "It is old.", ("A paragraph of its page.",)),  # in its place
    ],
)
def test_other_illustrations_stay(
    t: Trees, caption: str, words: str, above: tuple[str, ...]
) -> None:
    """BF 6: with the paragraph of reference."""
    before = [t.p(text) for text in above]
    lines = t.flowed(t.page("12"), *before, picture(t, caption), t.p(words))
    assert lines[-1].endswith(words)


def test_illustrations_can_stay_where_print_has_them(t: Trees) -> None:
    lines = t.flowed(
        t.page("11"), t.p("Before."), t.page("12"), picture(t, "Map 2"), t.p("Text."),
        convention=ruled(illustrations="print"),
    )  # fmt: skip
    assert lines[-1].endswith("Text.")


# ---------------------------------------------------------------- numbers in the margin, BF 15.2.1


def paragraphs(t: Trees, *words: str) -> list[str]:
    return [line.partition(" | ")[2] for line in t.flowed(*(t.p(text) for text in words))]


def test_every_paragraph_of_a_series_is_numbered(t: Trees) -> None:
    """BF 15.2.1: also where print numbers only some."""
    assert paragraphs(t, "Ash.", "2. Oak.", "Elm.", "4. Fir.", "Yew.", "6. Box.", "Fig.") == [
        "Ash.", "2. Oak.", "3. Elm.", "4. Fir.", "5. Yew.", "6. Box.", "Fig.",
    ]  # fmt: skip
    assert t.kinds() == ["layout.margin-numbers-added"]


def test_numbers_are_added_between_print_pages_and_as_print_raises_them(t: Trees) -> None:
    """BF 15.2.1: placed before the first word, in the form of the others."""
    blocks = [
        t.p(("2", SUP), " Oak."), t.p("Elm."), t.page("9"), t.p(("4", SUP), " Fir."), t.p("Yew."),
        t.p(("6", SUP), " Box."),
    ]  # fmt: skip
    added = t.items(*blocks)[1].runs[0]
    assert (getattr(added, "text", ""), getattr(added, "typeform", 0)) == ("3", SUP)


def test_every_fifth_numbered_in_print(t: Trees) -> None:
    """BF 15.2.1: the first is number 1, and fewer than five follow the last number of print."""
    shown = {4: "(5) ", 9: "(10) ", 14: "(15) "}
    words = [f"{shown.get(at, '')}Oak." for at in range(18)]
    assert paragraphs(t, *words) == [f"({at}) Oak." for at in range(1, 19)]


def test_one_then_every_fifth(t: Trees) -> None:
    """Print numbers the first and then every fifth; a fifteenth without its number is none."""
    shown = {0: "1 ", 4: "5 ", 9: "10 "}
    words = [f"{shown.get(at, '')}Oak." for at in range(15)]
    assert paragraphs(t, *words) == [f"{at} Oak." for at in range(1, 11)] + ["Oak."] * 5


@pytest.mark.parametrize(
    "words",
    [
        ("1 Oak.", "Elm.", "9 Ash.", "4 Lime."),  # no one step
        ("1 Oak.", "2 Elm.", "A note.", "4 Lime.", "5 Fir."),  # a step broken
        ("2 Oak.", "Elm.", "4 Ash."),  # two are no series
        ("3 Oak.", "4 Elm.", "5 Ash.", "Text."),  # all are numbered
    ],
)
def test_numbers_that_are_no_series_stay_as_they_are(t: Trees, words: tuple[str, ...]) -> None:
    assert paragraphs(t, *words) == list(words)


def test_numbers_can_stay_as_print_has_them(t: Trees) -> None:
    blocks = [t.p(text) for text in ("2 Oak.", "Elm.", "4 Fir.", "Yew.", "6 Box.")]
    t.flowed(*blocks, convention=ruled(margin_numbers="print"))
    assert t.kinds() == []
