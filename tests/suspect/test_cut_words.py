"""Words cut over two paragraphs (a page turn or a column end inside a word): told, not joined."""

from __future__ import annotations

from pathlib import Path

import pytest

from convert.edition import Edition
from tests.decisions.case import converted

TURN = "<div role='doc-pagebreak' aria-label='9'></div>"
FOUND = {
    "with a hyphen": "<p>The pilot saw the har-</p><p>bour lights.</p>",
    "over a print page": f"<p>The pilot saw the har-</p>{TURN}<p>bour lights.</p>",
    "past a picture": (
        "<p>The pilot saw the har-</p><p><img src='a.png' alt='b'/></p><p>bour ends.</p>"
    ),
    "without a hyphen": f"<p>A harbour.</p><p>The pilot saw the har</p>{TURN}<p>bour lights.</p>",
}
QUIET = {
    "a hanging hyphen": "<p>He knew pre-</p><p>and post-war boats.</p>",
    "a new sentence": "<p>The pilot saw the har-</p><p>Bour lights.</p>",
    "two words": f"<p>A harbour.</p><p>The pilot saw the boat</p>{TURN}<p>leave again.</p>",
    "another heading between": "<p>The pilot saw the har-</p><h2>Two</h2><p>bour lights.</p>",
    "a whole word and a half that is a word": (
        f"<p>An outlook; the look.</p><p>The pilot went out</p>{TURN}<p>look there.</p>"
    ),
}


def cut(edition: Edition) -> list[str]:
    text = edition.document.ledger.text
    found = [f for f in edition.findings if f.kind == "suspect.cut-word"]
    return [text[start:end] for finding in found for start, end in finding.spans]


@pytest.mark.parametrize("title", FOUND)
def test_the_first_half_is_told(tmp_path: Path, title: str) -> None:
    (half,) = cut(converted(tmp_path, FOUND[title]))
    assert half.startswith("har")


@pytest.mark.parametrize("title", QUIET)
def test_other_ends_of_paragraphs_are_not(tmp_path: Path, title: str) -> None:
    assert cut(converted(tmp_path, QUIET[title])) == []


def test_the_words_it_would_make_are_shown_and_the_offer_joins(tmp_path: Path) -> None:
    """BF 1.9: one paragraph of print is one paragraph of braille."""
    edition = converted(tmp_path, FOUND["with a hyphen"])
    (finding,) = (f for f in edition.findings if f.kind == "suspect.cut-word")
    assert "in 1 place: har-bour." in finding.message
    joined = converted(tmp_path, FOUND["with a hyphen"], finding.offer[0])
    assert len([b for b in joined.document.children if type(b).__name__ == "Paragraph"]) == 1
