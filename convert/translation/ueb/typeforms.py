"""Typeforms (UEB 9), transcriber's notes (3.27): which indicators, and where."""

from __future__ import annotations

from bisect import bisect_left
from typing import NamedTuple

from ...document.nodes import (
    BOLD,
    ITALIC,
    SCRIPT,
    STRIKE,
    SUB,
    SUP,
    TRANSCRIBER,
    TRANSCRIBER_NOTE,
    UNDERLINE,
)
from .. import signs
from .chars import SUBSCRIPT, SUPERSCRIPT

FEWEST_WORDS = 3
# Outermost first where two begin and end together (order free, UEB 9.8.1; ours).
_ORDINALS = ("first", "second", "third", "fourth", "fifth")
NAMES = {
    TRANSCRIBER_NOTE: "",
    UNDERLINE: "underline",
    BOLD: "bold",
    ITALIC: "italic",
    SCRIPT: "script",
    **{
        bit: f"{word} transcriber-defined typeform"
        for bit, word in zip(TRANSCRIBER, _ORDINALS, strict=True)
    },
}
# Struck-out print has no sign of its own: a transcriber-defined typeform (UEB 9.5).
STRIKE_AS = TRANSCRIBER[0]
_AFTER_WORD = frozenset(".,;:!?…)]}”’\"'")


class Insert(NamedTuple):
    """An indicator to stand before the character at ``at``.

    ``rank`` orders those at one place; ``opens`` is false for terminators.
    """

    at: int
    rank: int
    cells: str
    opens: bool


class Level(NamedTuple):
    """A stretch set above or below the line."""

    start: int
    end: int
    level: int


Span = tuple[int, int]
Forms = tuple[tuple[int, int, int], ...]


def reached(words: list[Span], start: int, end: int) -> Span:
    """The range of words that share a character with a stretch."""
    low = bisect_left(words, (start + 1,)) - 1
    low += low < 0 or words[low][1] <= start
    return low, max(low, bisect_left(words, (end,)))


def runs(text: str, forms: Forms, bit: int) -> list[Span]:
    """The stretches of one typeform, without spaces at their ends, joined over spaces."""
    out: list[Span] = []
    for start, end, bits in forms:
        if bits & STRIKE:
            bits |= STRIKE_AS
        if not bits & bit:
            continue
        while start < end and text[start].isspace():
            start += 1
        while end > start and text[end - 1].isspace():
            end -= 1
        if start == end:
            continue
        if out and not text[out[-1][1] : start].strip():
            out[-1] = (out[-1][0], end)
        else:
            out.append((start, end))
    return out


def inserts(text: str, forms: Forms, words: list[Span]) -> list[Insert]:
    """The typeform indicators of a paragraph, in reading order."""
    spans = [
        (start, end, order, bit)
        for order, bit in enumerate(NAMES)
        for start, end in runs(text, forms, bit)
    ]
    spans.sort(key=lambda span: (span[0], -span[1], span[2]))
    out: list[Insert] = []
    for depth, (start, end, _order, bit) in enumerate(spans):
        out.extend(_indicators(text, (start, end), bit, words, depth))
    out.sort(key=lambda row: (row.at, row.opens, row.rank if row.opens else -row.rank))
    return out


def _indicators(text: str, span: Span, bit: int, words: list[Span], depth: int) -> list[Insert]:
    start, end = span
    if bit == TRANSCRIBER_NOTE:
        return [
            Insert(start, depth, signs.cells("opening transcriber's note"), True),
            Insert(end, depth, signs.cells("closing transcriber's note"), False),
        ]
    name = NAMES[bit]
    touched = words[slice(*reached(words, start, end))]
    if len(touched) >= FEWEST_WORDS:
        return [
            Insert(start, depth, signs.cells(f"{name} passage indicator"), True),
            Insert(end, depth, signs.cells(f"{name} terminator"), False),
        ]
    out: list[Insert] = []
    for low, high in touched:
        first, last = max(low, start), min(high, end)
        out.extend(_word(text, (first, last), high, name, depth))
    return out


def _word(text: str, span: Span, word_end: int, name: str, depth: int) -> list[Insert]:
    """Indicators within one symbols-sequence (UEB 9.2, 9.3; 9.7.3 for what follows the word)."""
    first, last = span
    rest = text[last:word_end]
    whole = not any(char not in _AFTER_WORD for char in rest)
    if last - first == 1:
        return [Insert(first, depth, signs.cells(f"{name} symbol indicator"), True)]
    out = [Insert(first, depth, signs.cells(f"{name} word indicator"), True)]
    if not whole:
        out.append(Insert(last, depth, signs.cells(f"{name} terminator"), False))
    return out


def levels(forms: Forms) -> list[Level]:
    """The stretches above and below the line."""
    out: list[Level] = []
    for start, end, bits in forms:
        if bits & (SUP | SUB):
            level = SUPERSCRIPT if bits & SUP else SUBSCRIPT
            if out and out[-1].end == start and out[-1].level == level:
                out[-1] = Level(out[-1].start, end, level)
            else:
                out.append(Level(start, end, level))
    return out
