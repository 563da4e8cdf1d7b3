"""What a person has decided about how print is read, as the planner obeys it.

Letters spoken one by one, ordinary words and words without contractions are stretches of a
word (UEB 10.1.3, 10.12.1), as are the words of a numeric passage (6.9); directions of quotation
marks belong to the paragraph (7.6); literal cells stand in the place of their print, whatever it
is.
"""

from __future__ import annotations

from collections.abc import Iterable

from ...document.choices import Choice
from ...document.nodes import MathRun
from ..cells import BLANK
from ..passage import Passage
from .chars import NOTHING

LETTERS, WORD, UNCONTRACTED, CELLS = "letters", "word", "uncontracted", "cells"
NUMBERS = "numbers"
CONTRACTED = frozenset(("", WORD))
_HOW = frozenset((LETTERS, WORD, UNCONTRACTED, NUMBERS))
_MARKS = {"opening": True, "closing": False, "apostrophe": None}
# Stands in the text for print whose cells are given.
OBJECT = "\ufffc"
_LAST_CELL = "\u283f"
# Findings about how letters are read: any of these readings settles them.  All other findings
# of the room but those of marks are settled by cells alone.
_OF_LETTERS = frozenset(
    (
        "ueb.acronym",
        "ueb.acronym-decided",
        "ueb.two-forms",
        "ueb.syllables",
        "ueb.foreign",
        "ueb.program",
        "ueb.respelling",
    )
)
Stretch = tuple[int, int, str]
Literal = tuple[int, int, str]


def is_literal(value: str) -> bool:
    """Whether a value can be taken as cells: Unicode braille of six dots, not all blank."""
    return bool(value.strip(BLANK)) and all(BLANK <= cell <= _LAST_CELL for cell in value)


def directions(choices: Iterable[Choice]) -> dict[int, bool | None]:
    """Quotation marks that are decided: true opening, false closing, None an apostrophe."""
    return {row.start: _MARKS[row.kind] for row in choices if row.kind in _MARKS}


def stretches(choices: Iterable[Choice]) -> list[Stretch]:
    """Where letters are read as a person decided; the narrower decision comes last."""
    rows = [(row.start, row.end, row.kind) for row in choices if row.kind in _HOW]
    return sorted(rows, key=lambda row: (row[0] - row[1], row))


def literals(passage: Passage) -> list[Literal]:
    """Stretches of print whose cells are given, in order; of two that overlap the first.

    Where print has as many words as the cells have, each word has its own.  An expression is
    not print of this room.
    """
    out: list[Literal] = []
    formulas = [
        (mark.at, mark.at + mark.value.end - mark.value.start)
        for mark in passage.marks
        if isinstance(mark.value, MathRun)
    ]
    for row in passage.choices:
        if row.kind != CELLS or not is_literal(row.value) or (out and out[-1][1] > row.start):
            continue
        if not any(start < row.end and row.start < end for start, end in formulas):
            out.extend(_by_word(passage.text, row))
    return out


def _by_word(text: str, row: Choice) -> list[Literal]:
    words, cells = text[row.start : row.end].split(), row.value.split(BLANK)
    if len(words) != len(cells) or not all(cells):
        return [(row.start, row.end, row.value.strip(BLANK))]
    out, at = [], row.start
    for word, shown in zip(words, cells, strict=True):
        at = text.index(word, at)
        out.append((at, at + len(word), shown))
        at += len(word)
    return out


def shown(text: str, rows: Iterable[Literal]) -> str:
    """A text with print whose cells are given as one sign; its length is kept."""
    for start, end, _cells in rows:
        text = text[:start] + OBJECT + NOTHING * (end - start - 1) + text[end:]
    return text


def settled(kind: str, start: int, end: int, choices: Iterable[Choice]) -> bool:
    """Whether a decision about a stretch has settled a finding of this kind there."""
    return any(row.start <= start and end <= row.end and _settles(row, kind) for row in choices)


def _settles(row: Choice, kind: str) -> bool:
    if row.kind == CELLS:
        return is_literal(row.value)
    return kind in (("ueb.quote-direction",) if row.kind in _MARKS else _OF_LETTERS)


def within(rows: Iterable[Stretch], start: int, end: int) -> tuple[Stretch, ...]:
    """The stretches that reach a word, by its own places."""
    return tuple(
        (max(a, start) - start, min(b, end) - start, how)
        for a, b, how in rows
        if a < end and b > start
    )


def without_words(start: int, end: int, choices: Iterable[Choice]) -> list[tuple[int, int]]:
    """A stretch without what a person reads as ordinary words."""
    out, at = [], start
    for row in choices:
        if row.kind == WORD and row.start < end and row.end > at:
            if row.start > at:
                out.append((at, row.start))
            at = row.end
    return [*out, (at, end)] if at < end else out
