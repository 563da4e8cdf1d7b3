"""Words looked for at once stand where each alone is found: Places against a plain search."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from convert.document.vocabulary import Vocabulary
from convert.suspect.places import Places

TEXT = "See page 12, the pages (page 3) and web-page.\np. 4; x2-y, x2 and ‘x2’ or ax2. Page? p.5\n"


def plainly(text: str, word: str) -> list[tuple[int, int]]:
    """Where no letter or figure touches the word, by another way."""
    found = (match.span() for match in re.finditer(re.escape(word), text))
    return [
        (start, end)
        for start, end in found
        if not (text[:start][-1:].isalnum() or text[end:][:1].isalnum())
    ]


@pytest.mark.parametrize(
    ("word", "times"), [("page", 3), ("Page", 1), ("pages", 1), ("p.", 1), ("x2", 3), ("no", 0)]
)
def test_words_sought_together_stand_where_each_is_found(word: str, times: int) -> None:
    places = Places(Vocabulary(TEXT))
    alone = list(places.of(word))
    places.seek([word, "page", "12", "web-page"])
    assert list(places.of(word)) == alone == plainly(TEXT, word)
    assert len(alone) == times


@given(st.text(alphabet="ab1.-, \n’", max_size=60), st.text(alphabet="ab1.-", min_size=1))
def test_any_word_of_any_text(text: str, word: str) -> None:
    places = Places(Vocabulary(text))
    alone = list(places.of(word))
    places.seek([word])
    assert list(places.of(word)) == alone


def test_counts_leave_edges_out() -> None:
    counts = Places(Vocabulary(TEXT)).counts
    assert (counts["page"], counts["x2"], counts["p"], counts["Page"]) == (2, 2, 1, 1)
    assert counts["web-page"] == 1
    assert "12," not in counts
