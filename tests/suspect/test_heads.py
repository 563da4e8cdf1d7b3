"""Headings that read like text, and struck-out words: what is doubted and what is not.  Where a
line is drawn is common practice, no source."""

from __future__ import annotations

import pytest

from convert.document.ledger import LedgerBuilder
from convert.document.nodes import STRIKE, Document, Heading, LineBreak, Paragraph, Run
from convert.findings import Findings
from convert.suspect import suspect

WORDS = "The boats come home in the evening and the old town sleeps"
TEXT = (
    f"{WORDS}.",
    f"{WORDS}, “so they say.”",
    f"({WORDS}.)",
    f"{WORDS};",
    f"{WORDS} " * 2 + "while the tide is out",
)
HEADS = (
    "Where do the boats go?",
    "Of the Real and Nominal Price of Commodities, or of Their Price in Labour",
    "St. John’s Co.",
    "“Never again!”",
)


def doubts(*lines: str, typeform: int = 0, head: bool = True) -> list[str]:
    """The kinds of doubts about a heading (or paragraph) of some typed lines."""
    ledger, runs = LedgerBuilder(), []
    for at, line in enumerate(lines):
        if at:
            ledger.end_block()
            runs.append(LineBreak())
        runs.append(Run(*ledger.add(line, "c", "/4"), typeform))
    ledger.end_block()
    block = Heading(level=2, runs=tuple(runs)) if head else Paragraph(runs=tuple(runs))
    findings = Findings()
    suspect(Document(ledger=ledger.build(), children=(block,)), findings)
    return [finding.kind for finding in findings.all()]


@pytest.mark.parametrize("words", TEXT)
def test_a_heading_like_text(words: str) -> None:
    """Braille Formats 2016, section 4: a heading; a paragraph in its style makes many lines."""
    assert "suspect.heading" in doubts(words)


@pytest.mark.parametrize("words", HEADS)
def test_a_heading_like_a_heading(words: str) -> None:
    assert "suspect.heading" not in doubts(words)


def test_a_heading_of_many_typed_lines() -> None:
    assert "suspect.heading" in doubts("Dear", "keeper", "of", "the", "light")
    assert "suspect.heading" not in doubts("Tides", "and", "Harbours")


def test_struck_words_and_struck_spaces() -> None:
    """UEB 9.5; a space that is struck out says nothing."""
    assert doubts("never", typeform=STRIKE, head=False) == ["suspect.struck"]
    assert doubts(" ", typeform=STRIKE, head=False) == []
