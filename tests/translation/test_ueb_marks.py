"""Answer spaces, line ends and page turns inside a passage."""

from __future__ import annotations

import pytest

from convert.document.ledger import LedgerBuilder
from convert.document.nodes import ITALIC, AnswerSpace, Run
from convert.findings import Findings
from convert.translation.cells import Cells, ascii_of
from convert.translation.passage import Mark, Passage, passage_of

from .ueb_case import FOLD, translator


def _cells(text: str, *marks: Mark) -> Cells:
    return translator().translate(Passage(text, marks=marks), Findings())


def _ascii(cells: Cells) -> str:
    return cells.ascii.translate(FOLD)


def test_a_printed_blank_becomes_one_low_line() -> None:
    """UEB 7.2.3: one low line for each print blank whatever its length."""
    cells = _cells("Name: ______ (first)", Mark(6, "answer", AnswerSpace(6, 12, "line")))
    assert _ascii(cells) == ',"n3 .- "<f/">'


def test_a_blank_inside_print_stays_unspaced() -> None:
    cells = _cells("Name:____.", Mark(5, "answer", AnswerSpace(5, 9, "line")))
    assert _ascii(cells) == ',"n3.-4'
    assert cells.pieces[0].length == len("Name:____.")


def test_room_without_print_gets_a_sign() -> None:
    cells = _cells("Name:", Mark(5, "answer", AnswerSpace(5, 5, "line")))
    assert _ascii(cells) == ',"n3 .-'
    assert cells.pieces[-1].length == 0


@pytest.mark.parametrize(
    "before, room, after, wanted",
    [
        ("number", "\t", "", "numb] .-"),
        ("home", "\t", "mobile", "home .- mobile"),
        ("owed: £", "\t", ", due", "[$3 @l.-1 due"),
        ("on ", "   ", " (day)", 'on .- "<"d">'),
        ("day", "", "/month", '"d .- _/mon?'),
        ("un", "____", "able", "un.-able"),
    ],
)
def test_room_that_print_leaves_empty_is_spaced_as_a_word(
    before: str, room: str, after: str, wanted: str
) -> None:
    """BF 10.6: a tab that draws a line touches its label in the file, not for the reader; a typed
    line is spaced as print has it (UEB 7.2.3)."""
    builder = LedgerBuilder()
    spans = [builder.add(words, "c", "/2") for words in (before, room, after)]
    runs = (Run(*spans[0]), AnswerSpace(*spans[1], "line"), Run(*spans[2]))
    cells = translator().translate(passage_of(runs, builder.build()), Findings())
    assert _ascii(cells) == wanted


def test_boxes() -> None:
    """UEB 3.22, 3.28: a square, and a square that a tick follows unspaced."""
    empty = _cells("☐ yes", Mark(0, "answer", AnswerSpace(0, 1, "check")))
    ticked = _cells("☑ yes", Mark(0, "answer", AnswerSpace(0, 1, "checked")))
    assert _ascii(empty) == ";$#d yes"
    assert _ascii(ticked) == ";$#d:@% yes"


def test_a_turn_stands_at_its_cell() -> None:
    cells = _cells("one two three", Mark(8, "turn", "12"))
    at, what, value = cells.marks[0]
    assert (what, value) == ("turn", "12")
    assert ascii_of(cells.text[at:]) == "?ree"


def test_a_turn_after_the_last_word() -> None:
    cells = _cells("one", Mark(3, "turn", "13"))
    assert cells.marks == ((len(cells.text), "turn", "13"),)


def test_a_line_end_parts_words() -> None:
    cells = _cells("Roses are redviolets blue", Mark(13, "line"))
    assert _ascii(cells) == ",roses >e r$ violets blue"
    assert ascii_of(cells.text[cells.marks[0][0] :]) == "violets blue"


def test_places_where_a_line_may_end() -> None:
    """UEB 10.13.2, 6.10; Braille Formats 1.8.6."""
    piece = _cells("mother-in-law").pieces[0]
    assert [ascii_of(piece.cells[at:]) for at in piece.breaks] == ["9-law", "law"]
    assert _cells("1914-18").pieces[0].breaks == ()
    assert _cells("-s").pieces[0].breaks == ()
    # The lower-sign rule would spell "in" on the new line, so no end is offered there.
    assert _cells("teach-in.").pieces[0].breaks == ()


def test_a_typeform_that_ends_with_a_line_ends_once() -> None:
    """UEB 9.3: one terminator, on the line where the passage ends."""
    text = "The Tides of Marshwas printed"
    marks = (Mark(18, "line"),)
    cells = translator().translate(Passage(text, ((0, 18, ITALIC),), marks=marks), Findings())
    assert _ascii(cells) == ".7,! ,tides ( ,m>%.' 0 pr9t$"


def test_a_passage_of_capitals_may_begin_after_a_line_end() -> None:
    """UEB 8.5: the words are those the line end cuts, not those between spaces."""
    cells = _cells("names:USER | SIGN | DATE here", Mark(6, "line"))
    assert _ascii(cells) == '"ns3 ,,,us] _\\ sign _\\ date,\' "h'
