"""Headings that read like text, and struck-out words: what is doubted and what is not.  Where a
line is drawn is common practice, no source."""

from __future__ import annotations

import pytest

from convert.document.ledger import LedgerBuilder
from convert.document.nodes import (
    BOLD,
    STRIKE,
    Document,
    Heading,
    LineBreak,
    ListBlock,
    ListItem,
    Paragraph,
    Run,
    Table,
    TableEntry,
    TableRow,
)
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


def kinds_of(*blocks: tuple[str, int], owner: type | None = None) -> list[str]:
    ledger, made = LedgerBuilder(), []
    for words, bits in blocks:
        made.append(Paragraph(runs=(Run(*ledger.add(words, "c", "/4"), bits),)))
        ledger.end_block()
    children = made if owner is None else [owner(children=tuple(made), address="c!/4")]
    findings = Findings()
    suspect(Document(ledger=ledger.build(), children=tuple(children)), findings)
    return [finding.kind for finding in findings.all()]


def test_a_short_bold_line_before_text_may_be_a_heading() -> None:
    """Braille Formats 2016, section 4; which lines: common practice, no source."""
    text = ("The boats come home.", 0)
    assert kinds_of(("The Ebb", BOLD), text) == ["suspect.bold-line"]
    assert kinds_of(("The ebb is out.", BOLD), text) == []
    assert kinds_of(("The Ebb", BOLD), ("The Flow", BOLD)) == []
    assert kinds_of(("The Ebb", BOLD), text, owner=ListItem) == []


@pytest.mark.parametrize("bold, found", [(BOLD, ["suspect.bold-line"]), (0, [])])
def test_a_short_bold_line_before_a_list_or_table_may_be_a_heading(
    bold: int, found: list[str]
) -> None:
    """“Ingredients” in a recipe (Braille Formats 2016, section 4; common practice, no source)."""
    ledger = LedgerBuilder()
    head = Paragraph(runs=(Run(*ledger.add("Ingredients", "c", "/4"), bold),))
    ledger.end_block()
    blocks = [Paragraph(runs=(Run(*ledger.add(word, "c", "/6")),)) for word in ("eggs", "flour")]
    items = tuple(ListItem(children=(block,), address="c!/6") for block in blocks)
    entries = tuple(TableEntry(children=(block,), address="c!/6") for block in blocks)
    for below in (ListBlock(children=items), Table(children=(TableRow(entries=entries),))):
        findings = Findings()
        suspect(Document(ledger=ledger.build(), children=(head, below)), findings)
        assert [finding.kind for finding in findings.all()] == found


def test_a_bold_list_of_one_item_may_be_a_numbered_heading() -> None:
    ledger = LedgerBuilder()
    head = Paragraph(runs=(Run(*ledger.add("Scope", "c", "/4"), BOLD),))
    ledger.end_block()
    text = Paragraph(runs=(Run(*ledger.add("It goes on.", "c", "/6")),))
    ledger.end_block()
    items = tuple(ListItem(children=(head,), address="c!/4") for _ in range(2))
    for count, found in ((1, ["suspect.bold-line"]), (2, [])):
        findings = Findings()
        listed = ListBlock(children=items[:count], address="c!/4")
        suspect(Document(ledger=ledger.build(), children=(listed, text)), findings)
        assert [finding.kind for finding in findings.all()] == found


ROW = tuple[tuple[str, int], ...]


def table_doubts(*rows: ROW, head: bool = False) -> list[str]:
    ledger, made = LedgerBuilder(), []
    for at, row in enumerate(rows):
        entries = []
        for words, bits in row:
            runs = (Run(*ledger.add(words, "c", "/4"), bits),) if words else ()
            entries.append(TableEntry(children=(Paragraph(runs=runs),), address="c!/4"))
            ledger.end_block()
        made.append(TableRow(entries=tuple(entries), head=head and not at, address="c!/4"))
    findings = Findings()
    suspect(Document(ledger=ledger.build(), children=(Table(children=tuple(made)),)), findings)
    return [finding.kind for finding in findings.all()]


def test_a_bold_first_row_may_be_of_headings() -> None:
    """Braille Formats 2016, section 11; which rows: common practice, no source."""
    years: ROW = (("", 0), ("2006", BOLD), ("2007", BOLD))
    sums: ROW = (("Income", BOLD), ("17", 0), ("18", 0))
    assert table_doubts(years, sums) == ["suspect.table-heads"]
    assert table_doubts(years, sums, head=True) == []
    assert table_doubts(years, years) == []
    assert table_doubts(sums, sums) == []


def test_struck_words_and_struck_spaces() -> None:
    """UEB 9.5; a space that is struck out says nothing."""
    assert doubts("never", typeform=STRIKE, head=False) == ["suspect.struck"]
    assert doubts(" ", typeform=STRIKE, head=False) == []
