"""Marks of a passage that are no text: answer spaces, line ends, page turns, expressions."""

from __future__ import annotations

from bisect import bisect_right
from itertools import pairwise

from ...document.nodes import TRANSCRIBER_NOTE, AnswerSpace, MathRun
from ..cells import Cells
from ..passage import Mark, Passage
from .chars import NOTHING

# The print sign whose cells stand for an answer space (UEB 7.2.3, 3.22, 3.28).
_SIGNS = {"line": "_", "box": "□", "check": "□", "checked": "☑", "choice": "_"}


def answers(passage: Passage) -> list[tuple[int, AnswerSpace]]:
    """The answer spaces of a passage, with their text offset."""
    return [(m.at, m.value) for m in passage.marks if isinstance(m.value, AnswerSpace)]


def shown_text(passage: Passage) -> str:
    """The passage's text with every printed answer space as its sign, and nothing for every
    expression, which has cells of its own; the length is kept."""
    text = passage.text
    for mark in passage.marks:
        if isinstance(mark.value, MathRun) and (size := mark.value.end - mark.value.start):
            text = text[: mark.at] + NOTHING * size + text[mark.at + size :]
    for at, answer in answers(passage):
        size = answer.end - answer.start
        if size and answer.kind != "choice":
            sign = _SIGNS.get(answer.kind, "_") + NOTHING * (size - 1)
            text = text[:at] + sign + text[at + size :]
    return text


def unprinted(passage: Passage) -> list[tuple[int, str]]:
    """Answer spaces print shows only by room: (offset, sign to insert)."""
    return [
        (at, _SIGNS.get(answer.kind, "_"))
        for at, answer in answers(passage)
        if answer.start == answer.end
    ]


def line_ends(passage: Passage) -> list[int]:
    """Text offsets where print ends a line on purpose."""
    return [mark.at for mark in passage.marks if mark.what == "line"]


def entry_ends(passage: Passage) -> list[int]:
    """Where entries and notes end in the text, sorted."""
    text, ends = passage.text, set()
    rows = [*passage.at, (len(text), 0)]
    for (at, ledger), (end, _) in pairwise(rows):
        if ledger < 0 < at and end < len(text):
            if not text[at:end].isspace():
                ends.add(at + 1)
            elif text[:at].isalnum() or text[: at - 1].isalnum():
                ends.add(at)  # The letter or number of an entry of a list, which is no text.
    for start, end, bits in passage.forms:
        if bits & TRANSCRIBER_NOTE:
            ends |= {len(text[:start].rstrip()), len(text[:end].rstrip())}
    return sorted(ends - {0, len(text)})


def carried(passage: Passage, cells: Cells) -> tuple[tuple[int, str, object], ...]:
    """The turns and lines of a passage at their cells."""
    return tuple(
        (_cell_of(mark, cells), mark.what, mark.value)
        for mark in passage.marks
        if mark.what in ("turn", "line")
    )


def _cell_of(mark: Mark, cells: Cells) -> int:
    """The first cell of print at or after a mark."""
    row = bisect_right(cells.prints, mark.at) - 1
    if row >= 0:
        piece, base = cells.pieces[row], cells.prints[row]
        if mark.at <= base:
            return cells.starts[row]
        if mark.at < base + piece.length:
            for cell, origin in enumerate(piece.origin):
                if base + origin >= mark.at:
                    return cells.starts[row] + cell
    return cells.starts[row + 1] if row + 1 < len(cells.starts) else len(cells.text)
