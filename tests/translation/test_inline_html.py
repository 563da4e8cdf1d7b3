"""Inline HTML fragments as passages."""

from __future__ import annotations

import pytest

from convert.document.nodes import (
    BOLD,
    ITALIC,
    SMALL_CAPS,
    STRIKE,
    SUB,
    SUP,
    TRANSCRIBER,
    UNDERLINE,
)
from convert.translation.inline_html import read_fragment


@pytest.mark.parametrize(
    "line, text, forms",
    [
        ("a <i>b c</i> d", "a b c d", ((2, 5, ITALIC),)),
        ("<em>a</em><strong>b</strong>", "ab", ((0, 1, ITALIC), (1, 2, BOLD))),
        ("<b>a <i>b</i></b>", "a b", ((0, 2, BOLD), (2, 3, BOLD | ITALIC))),
        ("<u>x</u><sup>2</sup><sub>3</sub>", "x23", ((0, 1, UNDERLINE), (1, 2, SUP), (2, 3, SUB))),
        ("<small-caps>am</small-caps>", "am", ((0, 2, SMALL_CAPS),)),
        ("<i>a</i><i>b</i>", "ab", ((0, 2, ITALIC),)),
        ("<s>a</s><del>b</del>", "ab", ((0, 2, STRIKE),)),
        ("<transcriber-2>a</transcriber-2>", "a", ((0, 1, TRANSCRIBER[1]),)),
        ("1 &lt; 2 &amp; 3 &eacute;", "1 < 2 & 3 é", ()),
        ("a < b", "a < b", ()),
        ("one<br/>two<br>three", "one two three", ()),
        ("<i>never closed", "never closed", ((0, 12, ITALIC),)),
        ("closed</b> only", "closed only", ()),
    ],
)
def test_typeforms_of_a_fragment(
    line: str, text: str, forms: tuple[tuple[int, int, int], ...]
) -> None:
    passage, unknown = read_fragment(line)
    assert (passage.text, passage.forms, unknown) == (text, forms, [])


def test_languages_of_a_fragment() -> None:
    passage, _ = read_fragment('say <span lang="fr">oui <i>oui</i></span> now')
    assert passage.langs == ((4, 11, "fr"),)


def test_words_of_other_elements_are_kept_and_the_element_named() -> None:
    passage, unknown = read_fragment("<font>red</font> <img/> <font>x</font>")
    assert passage.text == "red  x"
    assert unknown == ["font", "img"]
