"""Tables to fill in (BF 6.7, 11.2; which empty entries are to be written in is common practice, no
source)."""

from __future__ import annotations

import pytest

from convert.document.answer_tables import read_answer_tables
from convert.document.ledger import LedgerBuilder
from convert.document.nodes import (
    AnswerSpace,
    Document,
    Inline,
    Paragraph,
    Run,
    Table,
    TableEntry,
    TableRow,
)
from convert.findings import Findings

BOX = "☐"


def drawn(*rows: str, marked: int = 0) -> tuple[str, Findings]:
    """A table after the pass: entries parted by bars, ``_`` for room, ``*`` before a heading.

    In ``rows`` entries are parted by bars too, and a box is room that print shows.
    """
    builder = LedgerBuilder()

    def entry(words: str) -> TableEntry:
        runs: tuple[Inline, ...] = ()
        if words:
            start, end = builder.add(words, "c", "/2")
            builder.end_block()
            runs = (AnswerSpace(start, end, "check") if words == BOX else Run(start, end),)
        return TableEntry(children=(Paragraph(runs=runs),))

    made = tuple(
        TableRow(entries=tuple(entry(cell.strip()) for cell in row.split("|")), head=at < marked)
        for at, row in enumerate(rows)
    )
    found = Findings()
    table = Table(children=made)
    out = read_answer_tables(Document(ledger=builder.build(), children=(table,)), found)
    text = out.ledger.text

    def shown(cell: TableEntry) -> str:
        (kid,) = cell.children
        assert isinstance(kid, Paragraph)
        star = "*" if cell.head else ""
        return star + "".join(
            "_" if isinstance(r, AnswerSpace) and r.start == r.end else text[r.start : r.end]
            for r in kid.runs
            if isinstance(r, Run | AnswerSpace)
        )

    (after,) = out.children
    assert isinstance(after, Table)
    lines = [
        "|".join(map(shown, row.entries)) for row in after.children if isinstance(row, TableRow)
    ]
    return "\n".join(lines), found


@pytest.mark.parametrize(
    "rows, wanted",
    [
        (("Surname|", "First name|"), "Surname|_\nFirst name|_"),
        (("Surname||Age|", "Street||Town|"), "Surname|_|Age|_\nStreet|_|Town|_"),
        (("Name|Signature", "|", "|"), "*Name|*Signature\n_|_\n_|_"),
        (("Name|Born|School", "||"), "*Name|*Born|*School\n_|_|_"),
        (("|Good|Poor", "Food|☐|☐", "Beds|☐|"), "*|*Good|*Poor\nFood|☐|☐\nBeds|☐|_"),
        (("Item|Price|Order", "Tea|£3|", "Cake|£4|"), "*Item|*Price|*Order\nTea|£3|_\nCake|£4|_"),
    ],
)
def test_empty_entries_that_can_only_be_room_for_answers(
    rows: tuple[str, ...], wanted: str
) -> None:
    table, found = drawn(*rows)
    assert table == wanted
    assert [one.kind for one in found.all()] == ["read.table-to-fill-in"]


def test_headings_that_the_source_marks_stay_as_they_are() -> None:
    table, _ = drawn("|Yes|No", "Smoker|☐|☐", "Since||", marked=1)
    assert table == "|Yes|No\nSmoker|☐|☐\nSince|_|_"


@pytest.mark.parametrize(
    "rows",
    [
        ("Stop|10.15|10.45", "Mill|10.20|", "Park|10.30|11.00"),  # one bus does not stop there
        ("Words||More words", "Words||More words"),  # an empty column parts two texts
        ("Medicine|Dose|Times", "Aspirin|75 mg|1", "||"),  # an empty row
        ("Surname|", "Words alone|and more"),
        ("Letterhead|",),
        ("a|b", "c|d"),
    ],
)
def test_other_empty_entries_stay_empty(rows: tuple[str, ...]) -> None:
    table, found = drawn(*rows)
    assert table == "\n".join(rows)
    assert found.all() == []


def test_a_box_below_words_that_are_no_headings_changes_nothing() -> None:
    table, _ = drawn("Mr|☐|Mrs|☐", "Ms|☐|Other|☐")
    assert table == "Mr|☐|Mrs|☐\nMs|☐|Other|☐"
