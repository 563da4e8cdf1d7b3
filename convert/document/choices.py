"""Choices: what a person has decided about stretches of print, for the rooms that act on them.

The tree carries what a decision makes of its structure.  What only a later room can act on
(how a word is read, how a table is set, where a page must turn) travels beside the tree as
choices, each a stretch of the ledger and one word of the closed list ``KINDS``.
"""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass

# How print is read, obeyed by the translators.
READING = (
    "letters",  # the letters are spoken one by one: each stands for itself
    "word",  # an ordinary word: contracted as the rules say
    "uncontracted",  # no contractions here
    "numbers",  # a numeric passage: digits without numeric signs
    "cells",  # exactly these cells; the value is Unicode braille
    "opening",  # this mark is an opening quotation mark
    "closing",  # this mark is a closing quotation mark
    "apostrophe",  # this mark is an apostrophe
)
# How a formula is read, obeyed by the maths room (with ``cells`` above).
MATHS = ("math-code", "math-text")
# How blocks are laid out, obeyed by the formatter; the stretch is that of the whole block.
TABLES = (
    "short-headings",  # the value holds the words of column headings in the key, a line each
    "table-note",  # the value is the wording of the note that tells how the table was changed
    "table-format",  # the value names a form of table
    "column-order",  # the value is the columns of print in their new order, such as 2 1 3
)
LAYOUT = (
    *TABLES,
    "page-before",  # a new braille page begins here
    "volume-before",  # a new volume begins here
    "blank-before",  # the value is a number of blank lines
    "keep-together",  # the block stays on one page
    "keep-with-next",  # the block stays with what follows
)
# How a heading is listed, obeyed by the contents; the value is the wording.
CONTENTS = ("contents-wording",)
# Where the notes called in a stretch stand, obeyed by the flow: page, paragraph, section, book.
NOTES = ("notes",)
# A note for the page of transcriber's notes; the value is its wording.
FRONT = ("notes-page",)
# Whether a block keeps typeforms that its style drops, obeyed by the flow.
TYPEFORMS = ("typeform-keep",)
KINDS = (*READING, *MATHS, *LAYOUT, *CONTENTS, *TYPEFORMS, *NOTES, *FRONT)


@dataclass(frozen=True, slots=True, order=True)
class Choice:
    """One choice: the ledger stretch ``start`` to ``end``, its kind and its value."""

    start: int
    end: int
    kind: str
    value: str = ""


def choices_in(
    choices: tuple[Choice, ...], start: int, end: int, kinds: tuple[str, ...] = KINDS
) -> tuple[Choice, ...]:
    """The choices of these kinds that begin in a stretch; ``choices`` must be sorted."""
    first = bisect_left(choices, start, key=lambda choice: choice.start)
    last = bisect_left(choices, end, key=lambda choice: choice.start)
    return tuple(choice for choice in choices[first:last] if choice.kind in kinds)


def innermost(choices: tuple[Choice, ...], at: int, kinds: tuple[str, ...]) -> str:
    """The value of the shortest choice of these kinds whose stretch holds a character."""
    found = [(c.end - c.start, c) for c in choices if c.kind in kinds and c.start <= at < c.end]
    return min(found)[1].value if found else ""


def wordings(choices: tuple[Choice, ...]) -> tuple[Choice, ...]:
    """The choices of how headings are listed."""
    return tuple(choice for choice in choices if choice.kind in CONTENTS)
