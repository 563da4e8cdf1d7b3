"""Tokens: the signs of an expression in UEB, before grade 1 indicators and blanks are settled."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

# Kinds.  OPENS and SHUTS are the indicators and brackets that make what they hold one item
# (UEB 11.4.1); bars, angle brackets and other fences are SIGN.  JOIN goes on with a number.
NUMBER, JOIN, LETTER, NAME, WORD = "number", "join", "letter", "name", "word"
SIGN, OPERATION, RELATION, SEPARATOR = "sign", "operation", "relation", "separator"
OPENS, SHUTS, LEVEL, LINE, MARK, BLANK = "opens", "shuts", "level", "line", "mark", "blank"

# Texts of the brackets and of the indicators that may enclose an item.
GROUPING, RADICAL, FRACTION = "grouping", "radical", "fraction"


class Token(NamedTuple):
    """One sign.

    ``cells`` is what it is in grade 1; ``text`` its print where that matters (letters, names,
    punctuation; of OPENS and SHUTS what opens).  ``grade1`` and ``between`` are as in the table of
    signs.  ``short`` and ``inner``: a word's cells in contracted braille, standing alone and
    between other signs, where it has any.  ``lead``: cells of a letter's typeform indicators.
    """

    kind: str
    cells: str
    leaf: int = -1
    text: str = ""
    grade1: bool = False
    between: bool = False
    short: str = ""
    inner: str = ""
    latin: bool = False
    shape: bool = False
    lead: int = 0


def items(tokens: Sequence[Token]) -> int:
    """How many items stand side by side in ``tokens`` (UEB 11.4.1); 2 for any number above.

    A level, or a mark on an item, counts as one more, so an argument that holds one is grouped;
    so is one with a bracket that has no partner of its own kind.
    """
    count = 0
    waiting: list[str] = []
    for token in tokens:
        kind = token.kind
        if kind == SHUTS:
            if not waiting or waiting.pop() != token.text:
                return 2
            continue
        if not waiting and kind != JOIN:
            count += 2 if kind in (NAME, WORD, BLANK) else 1
        if kind == OPENS:
            waiting.append(token.text)
    return 2 if waiting else min(count, 2)
