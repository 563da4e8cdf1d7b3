"""The ledger: every character with its place, whatever way it came in and was taken back."""

from __future__ import annotations

import pytest

from convert.document.ledger import BREAK, GENERATED, PRINT, LedgerBuilder, Piece


def test_pieces_follow_one_another_and_name_their_places() -> None:
    builder = LedgerBuilder()
    assert builder.add("One ", "a.xhtml", "/4/2/1", 3) == (0, 4)
    assert builder.add("", "a.xhtml", "/4/2/2/1") == (4, 4)
    assert builder.add_row(["two", "three"], "a.xhtml", "/4/4", ["/1", "/2/1"], 2) == [4, 7, 12]
    builder.end_block()
    builder.end_block()  # no second line end
    builder.add("4.", "b.xhtml", "/4", 0, GENERATED)
    ledger = builder.build()
    assert ledger.text == "One twothree\n4."
    assert list(ledger.pieces) == [
        Piece(0, 4, "a.xhtml", "/4/2/1", 3, PRINT),
        Piece(4, 7, "a.xhtml", "/4/4/1", 2, PRINT),
        Piece(7, 12, "a.xhtml", "/4/4/2/1", 0, PRINT),
        Piece(12, 13, "a.xhtml", "/4/4/2/1", 0, BREAK),
        Piece(13, 15, "b.xhtml", "/4", 0, GENERATED),
    ]
    assert [ledger.pieces[at] for at in range(5)] == list(ledger.pieces)
    assert ledger.pieces[-1] == ledger.pieces[4]
    with pytest.raises(IndexError):
        ledger.pieces[5]
    assert ledger.pieces.parts() == {"a.xhtml", "b.xhtml"}


def test_a_row_of_texts_stays_a_row_of_pieces_when_it_ends_in_a_space() -> None:
    builder = LedgerBuilder()
    builder.add_row(["One", " two ", " "], "a", "/4", ["/1", "/2/1", "/3"], 1)
    assert builder.last_sign() == "o"
    assert builder.drop_space()
    assert builder.drop_space()
    assert not builder.drop_space()
    builder.end_block()
    ledger = builder.build()
    assert ledger.text == "One two\n"
    assert builder.length == len(ledger.text)
    assert list(ledger.pieces) == [
        Piece(0, 3, "a", "/4/1", 1, PRINT),
        Piece(3, 7, "a", "/4/2/1", 0, PRINT),
        Piece(7, 8, "a", "/4/2/1", 0, BREAK),
    ]
    assert list(ledger.pieces.origins()) == [(0, 7, "a", PRINT), (7, 8, "a", BREAK)]


def test_addresses_are_steps_and_characters() -> None:
    builder = LedgerBuilder()
    builder.add_row(["One ", "two"], "a.xhtml", "/4/2", ["/1", "/2/1"], 5)
    ledger = builder.build()
    assert ledger.address(1) == "a.xhtml!/4/2/1:6"
    assert ledger.address(6) == "a.xhtml!/4/2/2/1:2"
    assert ledger.address(7) == ledger.address(-1) == ""
    assert LedgerBuilder().build().address(0) == ""


def test_a_space_of_print_is_taken_back_and_nothing_else() -> None:
    builder = LedgerBuilder()
    assert not builder.drop_space()
    builder.add("One ", "a", "/1")
    builder.add(" ", "a", "/3")
    assert builder.drop_space()  # the piece goes with its only character
    assert builder.drop_space()
    assert not builder.drop_space()
    builder.end_block()
    assert not builder.drop_space()
    assert builder.length == 4
    assert list(builder.build().pieces) == [
        Piece(0, 3, "a", "/1", 0, PRINT),
        Piece(3, 4, "a", "/1", 0, BREAK),
    ]


def test_what_is_built_stays_as_it_was() -> None:
    builder = LedgerBuilder()
    builder.add("One ", "a", "/1")
    before = builder.build()
    builder.drop_space()
    builder.add("two", "a", "/3")
    assert (before.text, len(before.pieces)) == ("One ", 1)
    assert before.pieces[0].end == 4
