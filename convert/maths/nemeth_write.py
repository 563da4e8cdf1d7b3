"""Tokens of the Nemeth Code as cells: levels, spaces, numeric and letter indicators.

The state while writing is the level the reader stands at, and what the last cell was
(digest of sections 2, 3, 5, 9).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from .nemeth_breaks import Ranked, Ranker
from .nemeth_data import indicator, rule_words, shortforms, sign
from .nemeth_tokens import (
    AFTER_COMMA,
    AFTER_LISTED,
    AFTER_SHAPE,
    AROUND_DOTS,
    AROUND_WORD,
    BAR_OPENS,
    BAR_SHUTS,
    COMMA,
    COMPARISON,
    FUNCTION,
    GAP,
    KEEPS_LEVEL,
    LETTER,
    MARK,
    NO_BLANK_AFTER,
    NO_BLANK_BEFORE,
    NUMBER,
    OPERATION,
    POINT,
    PRIME,
    PRINTED,
    SPLIT,
    WORD,
    Token,
)

BLANK = "\u2800"
_NAMED_BY_A_SHAPE = frozenset((LETTER, NUMBER, WORD, FUNCTION))
_APART = frozenset((AFTER_COMMA, AROUND_WORD, AROUND_DOTS, PRINTED))
_BARS = frozenset((BAR_OPENS, BAR_SHUTS))


@dataclass(slots=True)
class Written:
    """Cells, for each the leaf, and the places where a line may end, by rank.

    ``comparison``: the cell of the first comparison sign outside all structures, -1 for none.
    """

    cells: str
    origin: tuple[int, ...]
    breaks: tuple[Ranked, ...]
    comparison: int = -1


@dataclass(slots=True)
class _Writer:
    """``level``: where the reader stands; ``fresh``: a numeral here has its indicator;
    ``subscript_look``: a numeral here would read as a numeric subscript."""

    text: list[str] = field(default_factory=list)
    origin: list[int] = field(default_factory=list)
    level: str = ""
    fresh: bool = True
    blank: bool = True
    subscript_look: bool = False
    last: Token | None = None
    pending: tuple[str, ...] = ()
    row: str = ""
    ranker: Ranker = field(default_factory=Ranker)

    def put(self, cells: str, leaf: int) -> None:
        self.text.append(cells)
        self.origin.extend([leaf] * len(cells))


def write(tokens: Sequence[Token], *, entry: bool = False) -> Written:
    """The cells of tokens.  ``entry``: an entry of a matrix, in which a numeral at the start
    has no indicator, nor a letter (digest 12)."""
    writer = _Writer(fresh=not entry)
    lettered = frozenset() if entry else _alone(tokens)
    for at, token in enumerate(tokens):
        if token.kind == GAP:
            writer.pending, writer.row = (*writer.pending, token.text), token.level
        elif token.kind == SPLIT:
            _split(writer, token)
        else:
            following = tokens[at + 1] if at + 1 < len(tokens) else None
            _write(writer, token, following, at in lettered)
    ranker = writer.ranker
    cells, origin = "".join(writer.text), tuple(writer.origin)
    return Written(cells, origin, tuple(ranker.places), ranker.comparison)


def _split(writer: _Writer, token: Token) -> None:
    """The level of scripts that stand to the left of what follows, or apart from what is
    before (71-84)."""
    last = writer.last
    if last is None or writer.pending or last.kind in NO_BLANK_AFTER:
        return
    writer.put(_level(token.level), token.leaf)
    writer.level, writer.subscript_look, writer.fresh = token.level, False, False


def _level(path: str) -> str:
    """The cells that say a level: its path from the base line, or the base line indicator."""
    if not path:
        return indicator("base line")
    up, down = indicator("superscript"), indicator("subscript")
    return "".join(up if step == "^" else down for step in path)


def _write(writer: _Writer, token: Token, following: Token | None, lettered: bool) -> None:
    last = writer.last
    if token.kind == COMPARISON and last is not None and last.kind == COMPARISON:
        writer.pending = ()
        writer.put(_apart(token.level), token.leaf)
    _gap(writer, token)
    _between(writer, token)
    writer.ranker.before(token, following, len(writer.origin), writer.blank)
    if lettered:
        writer.put(indicator("English letter"), token.leaf)
    if token.kind == NUMBER and not token.silent and _needs_numeric(writer):
        writer.put(indicator("numeric"), token.leaf)
    writer.put(token.cells, token.leaf)
    _after(writer, token)


def _gap(writer: _Writer, token: Token) -> None:
    """The blank before a token, if one is needed and its neighbours allow it (digest 9)."""
    why, writer.pending = writer.pending, ()
    last = writer.last
    if not why or last is None or last.kind in NO_BLANK_AFTER or token.kind in NO_BLANK_BEFORE:
        return
    if why == (AFTER_SHAPE,) and token.kind not in _NAMED_BY_A_SHAPE:
        return
    if token.kind == WORD and token.level != last.level and token.level.startswith(last.level):
        return  # A word that is a script follows its base.
    writer.ranker.blank(token, why, len(writer.origin))
    writer.put(BLANK, last.leaf)
    if writer.level != writer.row or not KEEPS_LEVEL.issuperset(why):
        writer.level = ""
    writer.fresh = why != (AFTER_LISTED,)
    writer.blank, writer.subscript_look = True, False


def _between(writer: _Writer, token: Token) -> None:
    """The level indicator, or else the multipurpose indicator, before a token (71-84, 177)."""
    if token.silent:
        return
    if token.kind in (COMMA, POINT) and not token.level:
        writer.level = ""
    elif writer.level != token.level:
        writer.put(_level(token.level), token.leaf)
        writer.level, writer.fresh = token.level, False
    elif _would_join(writer, token):
        writer.put(_apart(token.level), token.leaf)


def _apart(level: str) -> str:
    """What parts two things side by side: the multipurpose indicator (177), which within a
    level would lead back to the base line, so that there it is the level once more."""
    return _level(level) if level else indicator("multipurpose")


def _would_join(writer: _Writer, token: Token) -> bool:
    """Whether two things side by side would read as one (177)."""
    last = writer.last
    if last is None or writer.blank:
        return False
    if token.kind == NUMBER and not token.level:
        return writer.subscript_look
    if token.kind == OPERATION == last.kind:
        return {last.text, token.text} <= rule_words("side-by-side")
    return token.kind in _BARS and last.kind in _BARS


def _needs_numeric(writer: _Writer) -> bool:
    return writer.fresh or (writer.last is not None and writer.last.kind in (MARK, POINT))


def _after(writer: _Writer, token: Token) -> None:
    minus = sign("−")
    keeps = writer.fresh and token.kind == OPERATION and minus is not None
    writer.fresh = keeps and minus is not None and token.cells == minus.cells
    if token.kind == POINT:
        writer.level = ""
    lettered = token.kind == LETTER or (token.kind == PRIME and writer.subscript_look)
    writer.subscript_look = token.silent or (lettered and not token.level)
    writer.blank, writer.last = False, token


# ------------------------------------------------------------------ English letters


def _alone(tokens: Sequence[Token]) -> frozenset[int]:
    """Letters that stand alone and need the English-letter indicator (digest 3)."""
    found: list[int] = []
    at = 0
    while at < len(tokens):
        end = at
        while end < len(tokens) and _is_plain(tokens[end]):
            end += 1
        if end > at and _is_edge(tokens, at - 1, -1) and _is_edge(tokens, end, 1):
            word = "".join(token.text for token in tokens[at:end])
            if len(word) == 1 or word in shortforms():
                found.append(at)
        at = max(end, at + 1)
    return frozenset(found)


def _is_plain(token: Token) -> bool:
    return token.kind == LETTER and bool(token.text) and not token.level


def _is_edge(tokens: Sequence[Token], at: int, way: int) -> bool:
    """Whether a letter at an edge is parted there by a space, a comma or the end, and not by
    the space of a comparison sign, function name, shape or enclosed list."""
    if not 0 <= at < len(tokens):
        return True
    token = tokens[at]
    if token.kind == COMMA and way > 0:
        beyond = tokens[at + 1].text if at + 1 < len(tokens) else AFTER_COMMA
        return beyond != AFTER_LISTED
    if token.kind == POINT:
        return way > 0
    if token.kind != GAP or token.text not in _APART:
        return False
    beside = at + way
    other = tokens[beside] if 0 <= beside < len(tokens) else None
    if way > 0 and other is not None and other.kind == WORD and other.level:
        return False
    return other is None or other.kind != GAP or other.text in _APART
