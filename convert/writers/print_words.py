"""The print of a line in words that can be heard: formulas as text, room for answers by name."""

from __future__ import annotations

from ..document.inlines import AnswerSpace, MathRun
from ..maths.plain import plain
from ..translation.passage import Mark, Passage

ROOM = "[answer space]"
_ROOM = ("line", "box", "choice")


def printed(passage: Passage, start: int, end: int, line: bool = False) -> str:
    """Print of a passage, formulas in plain text (``1/2``), as their print runs together, and
    ``[answer space]`` for the rows of underscores, or for nothing, that leave room for an answer.

    A formula that two lines share is whole where it begins, and dots where it goes on.  ``line``:
    the stretch is a whole line, so that room for an answer at its end belongs to it.
    """
    text = passage.text[start:end]
    for mark in reversed(passage.marks):
        said, low, high = _words(mark, passage)
        if not said:
            continue
        if low == high:
            inside = start <= low < end or (low == end and (line or start == end))
        else:
            inside = low < end and start < high
        if inside:
            before, after = text[: max(0, low - start)], text[max(0, high - start) :]
            goes_on = " \u2026" if high > end else ""
            text = before + (said + goes_on if low >= start else "\u2026") + after
    return text


def _words(mark: Mark, passage: Passage) -> tuple[str, int, int]:
    """What is said in the place of a mark's print, and where that begins and ends."""
    value = mark.value
    if isinstance(value, MathRun):
        return plain(value.mathml), mark.at, mark.at + value.end - value.start
    if isinstance(value, AnswerSpace) and value.kind in _ROOM:
        high = mark.at + value.end - value.start
        shown = passage.text[mark.at : high]
        has_words = any(char.isalnum() for char in shown)
        return "" if has_words else ROOM, mark.at, high
    return "", mark.at, mark.at
