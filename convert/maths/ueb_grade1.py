"""Grade 1 indicators of an expression: symbol, word or passage (UEB 5, 6.5; GTM 1.7).

An expression is written as in grade 1; where contracted braille would read a sign otherwise,
an indicator is needed unless a numeral stands before it in the same symbols-sequence (UEB 6.5.1).
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from .data import indicator, words
from .ueb_tokens import (
    BLANK,
    JOIN,
    LETTER,
    LEVEL,
    MARK,
    NAME,
    NUMBER,
    OPENS,
    SEPARATOR,
    SHUTS,
    WORD,
    Token,
)

_READ_AS_DIGITS = frozenset("abcdefghij")
_PUNCTUATION = frozenset(",;:.!?")
_SENTENCE = frozenset(".,;:?")
# A passage serves three or more sequences, of which two or more need an indicator (UEB 5.9.2).
_PASSAGE, _NEEDY = 3, 2


class Written(NamedTuple):
    """Cells for one token; ``before`` are its indicators."""

    before: str
    cells: str
    token: Token
    after: str = ""


def tidy(tokens: Sequence[Token]) -> list[Token]:
    """Tokens with one blank where one belongs: none at an edge, none inside an indicator's or a
    bracket's, none before a comma; with the shape terminator where a sign follows (UEB 3.22)."""
    out: list[Token] = []
    waiting: Token | None = None
    for token in tokens:
        kind = token.kind
        if kind == BLANK:
            if out and out[-1].kind not in (OPENS, LEVEL, "line"):
                waiting = token
            continue
        if waiting is not None and kind not in (SHUTS, SEPARATOR, "line", MARK):
            out.append(waiting._replace(leaf=token.leaf))
        elif out and out[-1].shape:
            out.append(
                out[-1]._replace(
                    cells=indicator("shape terminator").cells, shape=False, grade1=False
                )
            )
        waiting = None
        out.append(token)
    return out


def written(tokens: Sequence[Token], contracted: bool, passage: bool = True) -> list[Written]:
    """Tokens with their indicators.  ``passage``: whether a grade 1 passage may be used."""
    sequences = _sequences(tokens)
    if not contracted:
        return [row for run in sequences for row in _plain(run, _numeric(run))]
    needs = [_needs(run) for run in sequences]
    needy = sum(bool(need) for need in needs)
    short = any(token.kind == WORD and token.short for token in tokens)
    many = sum(run[0].kind != BLANK for run in sequences) >= _PASSAGE
    if passage and many and needy >= _NEEDY and not short:
        return _in_passage(sequences)
    out: list[Written] = []
    for run, need in zip(sequences, needs, strict=True):
        out.extend(_sequence(run, need))
    return out


def _sequences(tokens: Sequence[Token]) -> list[list[Token]]:
    """Tokens cut into symbols-sequences; a blank stands alone."""
    out: list[list[Token]] = []
    for token in tokens:
        if token.kind == BLANK or not out or out[-1][0].kind == BLANK:
            out.append([token])
        else:
            out[-1].append(token)
    return out


def _in_passage(sequences: list[list[Token]]) -> list[Written]:
    """A grade 1 passage, whose terminator stands before sentence punctuation (UEB 5.5)."""
    out = [row for run in sequences for row in _plain(run, _numeric(run))]
    opening = indicator("grade 1 passage").cells
    closing = indicator("grade 1 terminator").cells
    out[0] = out[0]._replace(before=opening + out[0].before)
    last = len(out) - 1
    while last and out[last].token.text in _SENTENCE:
        last -= 1
    out[last] = out[last]._replace(after=closing)
    return out


def _plain(run: list[Token], numeric: frozenset[int]) -> list[Written]:
    """A sequence in grade 1: only a letter read as a digit needs a sign (UEB 6.5.2), which
    stands after a typeform indicator (the examples of UEB 9)."""
    sign = indicator("grade 1 symbol").cells
    return [
        Written("", t.cells[: t.lead] + sign + t.cells[t.lead :], t)
        if at in numeric and t.lead
        else Written(sign if at in numeric else "", t.cells, t)
        for at, t in enumerate(run)
    ]


def _sequence(run: list[Token], need: list[int]) -> list[Written]:
    numeric = _numeric(run)
    shortened = any(token.kind == WORD and token.short for token in run)
    weight = len(need) + any(_between_letters(run, at) for at in need)
    if weight > 1 and not shortened:
        rows = _plain(run, numeric)
        rows[0] = rows[0]._replace(before=indicator("grade 1 word").cells + rows[0].before)
        return rows
    rows = _plain(run, numeric | frozenset(need))
    covered = False
    for at, token in enumerate(run):
        covered = covered or token.kind == NUMBER
        if token.short and not covered and (token.kind == WORD or not need):
            alone = len(run) == 1 or all(t.text in _PUNCTUATION for t in run if t is not token)
            rows[at] = rows[at]._replace(cells=token.short if alone else token.inner)
    return rows


def _between_letters(run: list[Token], at: int) -> bool:
    """Whether a mark parts two letters, so that one indicator would serve only the mark and
    leave the letters after it in contracted braille (A, B with a bar, C: UEB 4.2.8 example)."""
    if run[at].kind != MARK or at + 1 >= len(run):
        return False
    return run[at - 1].kind == LETTER and run[at + 1].kind == LETTER


def _numeric(run: list[Token]) -> frozenset[int]:
    """The tokens that begin with a small letter a to j straight after a digit, or after a
    comma or point after one (UEB 6.5.2)."""
    out: set[int] = set()
    digits = False
    for at, token in enumerate(run):
        if token.kind in (LETTER, NAME, WORD):
            if digits and token.latin and token.text[0] in _READ_AS_DIGITS and _bare(token):
                out.add(at)
            digits = False
        else:
            digits = token.kind in (NUMBER, JOIN) or (digits and token.text in (",", "."))
    return frozenset(out)


def _bare(token: Token) -> bool:
    """Whether a small letter has no typeform indicator before it."""
    return token.kind != LETTER or len(token.cells) == 1


# ------------------------------------------------------------------ needs


def _needs(run: list[Token]) -> list[int]:
    """The tokens of a sequence that contracted braille would read otherwise."""
    alone = _alone(run)
    out: list[int] = []
    for at, token in enumerate(run):
        if token.kind == NUMBER:
            break
        if token.grade1 or at == alone or _misread(run, at):
            out.append(at)
    return out


def _misread(run: list[Token], at: int) -> bool:
    """Whether a sign reads as a contraction straight after a letter (UEB 10.6, 10.8)."""
    if not _is_letter(run, at - 1):
        return False
    token = run[at]
    return token.text in words("ending_look_alikes") or (token.between and _is_letter(run, at + 1))


def _is_letter(run: list[Token], at: int) -> bool:
    return 0 <= at < len(run) and run[at].kind in (LETTER, NAME) and run[at].latin


def _alone(run: list[Token]) -> int:
    """The letter, or first of the letters, standing alone that would be read as a word (UEB
    2.6, 5.7.1, 10.9.5); -1 for none."""
    first = 0
    while first < len(run) and run[first].kind == OPENS and run[first].text in "([{":
        first += 1
    end = first
    while end < len(run) and run[end].kind in (LETTER, NAME) and run[end].latin:
        end += 1
    if end == first:
        return -1
    for token in run[end:]:
        closes = token.kind == SHUTS and token.text in "([{"
        if not closes and token.text not in _PUNCTUATION:
            return -1
    text = "".join(token.text for token in run[first:end]).lower()
    if len(text) == 1:
        return -1 if text in words("free_letters") else first
    return first if text in words("shortforms") else -1
