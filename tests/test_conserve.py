"""Nothing lost: the check fires when a stage is broken on purpose, and only then."""

from __future__ import annotations

from convert.conserve import conserve
from convert.document.ledger import LedgerBuilder
from convert.document.nodes import Document, Omission, Paragraph, Run
from convert.edition import Totals
from convert.findings import Findings
from convert.layout.book import Book, Page, Row, Volume
from convert.layout.items import Part

from .fake import letter_cells


def account(
    text: str, lines: list[tuple[int, int]], omit: tuple[int, int] | None = None, broken: str = ""
) -> tuple[Totals, list[str]]:
    """One paragraph of print, set in lines of (first cell, cell after the last)."""
    builder = LedgerBuilder()
    run = Run(*builder.add(text, "c.xhtml", "/4/2/1"))
    builder.end_block()
    cells = letter_cells(text)
    if broken == "piece without cells":
        cells.pieces[1] = cells.pieces[1].__class__("", (), b"", cells.pieces[1].length)
    if broken == "piece left out":
        del cells.pieces[1], cells.starts[1], cells.prints[1]
    if broken == "letter left out":
        word = cells.pieces[1]
        cells.pieces[1] = word._replace(
            cells=word.cells[1:], origin=word.origin[1:], sign=word.sign[1:]
        )
        cells.text = cells.text[: cells.starts[1]] + cells.text[cells.starts[1] + 1 :]
        cells.starts[2] -= 1
    rows = [Row("para", (Part(0, cells.text[a:b], cells, a),), item=0) for a, b in lines]
    page = Page("body", "1", list(rows))
    omissions = (Omission(*omit, "read.hidden-text"),) if omit else ()
    doc = Document(ledger=builder.build(), children=(Paragraph(runs=(run,)),), omissions=omissions)
    found = Findings()
    result = conserve(doc, Book(40, 25, [Volume(1, [page])]), found)
    assert result.print_characters == (
        result.in_cells + result.folded + result.omitted + result.lost
    )
    return result, [f.kind for f in found.all()]


def test_all_in_cells() -> None:
    result, kinds = account("the sea", [(0, 7)])
    assert (result.in_cells, result.folded, result.lost, kinds) == (7, 0, 0, [])


def test_a_space_at_a_line_end_is_folded() -> None:
    result, kinds = account("the sea", [(0, 3), (4, 7)])
    assert (result.in_cells, result.folded, result.lost, kinds) == (6, 1, 0, [])


def test_a_line_left_off_the_page_is_lost() -> None:
    result, kinds = account("the sea rose", [(0, 3), (8, 12)])
    assert (result.lost, kinds) == (3, ["print.lost"])


def test_nothing_on_any_page_is_lost() -> None:
    result, kinds = account("the sea", [])
    assert (result.lost, kinds) == (7, ["print.lost"])


def test_a_translator_that_drops_a_word_is_caught() -> None:
    result, kinds = account("the sea rose", [(0, 12)], broken="piece left out")
    assert (result.lost, kinds) == (3, ["print.lost"])


def test_a_word_without_cells_is_caught() -> None:
    result, kinds = account("the sea rose", [(0, 12)], broken="piece without cells")
    assert (result.lost, kinds) == (3, ["print.lost"])


def test_a_letter_dropped_where_a_line_begins_is_caught() -> None:
    result, kinds = account("the sea rose", [(0, 3), (4, 11)], broken="letter left out")
    assert (result.lost, kinds) == (1, ["print.lost"])


def test_a_line_placed_twice_is_doubled() -> None:
    result, kinds = account("the sea", [(0, 7), (4, 7)])
    assert (result.doubled, kinds) == (3, ["print.doubled"])


def test_an_omission_with_a_reason_is_not_a_loss() -> None:
    result, kinds = account("the sea", [(0, 3)], omit=(4, 7))
    assert (result.in_cells, result.omitted, result.lost, kinds) == (3, 3, 0, [])
