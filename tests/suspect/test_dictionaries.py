"""Lists of definitions that may be dictionaries: found, settled by a decision (BF 21.3, 21.6)."""

from __future__ import annotations

from pathlib import Path

import pytest

from convert.edition import Edition
from convert.translation.cells import ascii_of
from tests.decisions.case import converted

WORDS = ["ant", "bee", "cat", "dog", "eel", "fox", "gnu", "hen", "ibis", "jay"]


def body(words: list[str], kind: str = "") -> str:
    """A list of terms, all with one definition."""
    entries = "".join(f"<dt>{word}</dt><dd>An animal.</dd>" for word in words)
    return f"<dl{kind}>{entries}</dl>"


def feet(edition: Edition) -> list[str]:
    """The last lines of the pages."""
    return [ascii_of(page.line(len(page.rows))).lower() for _, _, page in edition.book.pages()]


@pytest.mark.parametrize(
    "words, found",
    [
        (WORDS, 1),
        (WORDS[:7], 0),
        (WORDS[5:] + WORDS[:5], 0),
        (["Ant", "Bee", "cat", "Élan", "eland", "fox", "gnu", "hen"], 1),
        (["a"] * 12, 0),
    ],
)
def test_terms_in_the_order_of_the_alphabet(tmp_path: Path, words: list[str], found: int) -> None:
    """Eight terms at least; common practice, no source."""
    edition = converted(tmp_path, body(words))
    assert sum(f.kind == "suspect.dictionary" for f in edition.findings) == found


def test_a_glossary_of_the_source_is_no_doubt(tmp_path: Path) -> None:
    edition = converted(tmp_path, body(WORDS, " epub:type='glossary'"))
    assert all(f.kind != "suspect.dictionary" for f in edition.findings)


def test_its_offer_gives_guide_words(tmp_path: Path) -> None:
    """BF 21.3: the first and the last entry word of the page on its last line."""
    first = converted(tmp_path, body(WORDS))
    (finding,) = (f for f in first.findings if f.kind == "suspect.dictionary")
    offer = next(text for text in finding.offer if "glossary" in text)
    assert "what" in offer
    (tmp_path / "again").mkdir()
    made = converted(tmp_path / "again", body(WORDS), offer.replace('why = ""', 'why = "it is"'))
    assert feet(made)[0].split() == ["ant-jay", "#a"]
    assert "ant" not in feet(first)[0]


@pytest.mark.parametrize("term", ["dictionary", "glossary"])
def test_a_division_that_is_a_dictionary_has_guide_words(tmp_path: Path, term: str) -> None:
    """BF 21.3: by the role of the division that its lists stand in."""
    edition = converted(tmp_path, f"<section epub:type='{term}'>{body(WORDS)}</section>")
    assert feet(edition)[0].split() == ["ant-jay", "#a"]
