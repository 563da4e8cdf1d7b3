"""Tokens of the Nemeth Code: what is written, at which level, before spacing is settled."""

from __future__ import annotations

from typing import NamedTuple

NUMBER, LETTER, SIGN, PRIME, MARK = "number", "letter", "sign", "prime", "mark"
OPERATION, COMPARISON, SHAPE, DOTS = "operation", "comparison", "shape", "dots"
FUNCTION, WORD, COMMA, POINT = "function", "word", "comma", "point"
SCRIPT_COMMA = "script comma"
OPENS, SHUTS, BAR_OPENS, BAR_SHUTS = "opens", "shuts", "bar opens", "bar shuts"
BEGIN, MIDDLE, END = "begin", "middle", "end"
GAP, SPLIT = "gap", "split"

# Why a blank may be needed, in the text of a GAP.
AFTER_FUNCTION, BEFORE_COMPARISON, AFTER_COMPARISON = "function", "before", "after"
AFTER_COMMA, AFTER_LISTED, AROUND_WORD, AROUND_DOTS = "comma", "listed", "word", "dots"
PRINTED, AFTER_SHAPE = "printed", "shape"

# No blank is written after these, nor before those (digest 9).
NO_BLANK_AFTER = frozenset((OPENS, BAR_OPENS, BEGIN, MIDDLE, SCRIPT_COMMA))
NO_BLANK_BEFORE = frozenset((SHUTS, BAR_SHUTS, END, MIDDLE, COMMA, SCRIPT_COMMA, POINT))
# Blanks that do not end a level (71-84; digest 5 and 10).
KEEPS_LEVEL = frozenset((AFTER_FUNCTION, AFTER_COMPARISON, AFTER_SHAPE))


class Token(NamedTuple):
    """``cells`` of one sign.  ``level``: the path from the base line, ``^`` a step up and ``;``
    a step down.  ``silent``: a numeric subscript without its indicator.  ``leaf``: the index of
    the leaf it stands for, -1 not yet known.  ``text``: print, where a rule looks at it."""

    kind: str
    cells: str = ""
    leaf: int = -1
    level: str = ""
    text: str = ""
    silent: bool = False


def gap(why: str, level: str = "") -> Token:
    """A place where a blank may be needed, in a row at ``level``."""
    return Token(GAP, text=why, level=level)
