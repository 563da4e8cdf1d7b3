"""Ordinary words inside an expression: the single-word switch, or Unified English Braille
between a terminator and a new opening (BANA guidance for Nemeth within UEB)."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from . import nemeth_leaves as leaf_tokens
from .chars import NO_INK, cut
from .nemeth_data import indicator, rule, sign
from .nemeth_leaves import Tell
from .nemeth_names import is_prose, name_kind
from .nemeth_tokens import AROUND_WORD, BEGIN, END, GAP, SIGN, Token, gap
from .nemeth_tokens import WORD as WORD_TOKEN
from .tree import Letter, Name, Number, Sign, Words
from .ueb_build import Builder
from .ueb_grade1 import tidy, written
from .ueb_leaves import Contract

# What a word token is, where the code is left for several words.
LEAVES, UEB_WORD, RETURNS = "leaves", "word", "returns"


def words(node: Words, level: str, contract: Contract | None, tell: Tell) -> Iterator[Token]:
    """The tokens of ordinary text; text without letters is signs of the code."""
    text = " ".join(node.text.translate(NO_INK).split())
    if text and not text.strip("_"):
        yield Token(SIGN, _omission(), level=level)
    elif not is_prose(text):
        yield from _signs(text, level, tell)
    elif len(text.split()) <= int(rule("most-single-words")):
        yield gap(AROUND_WORD)
        for word in text.split():
            cells = indicator("single-word switch") + _ueb(word, contract, tell)
            yield Token(WORD_TOKEN, cells, level=level)
            yield gap(AROUND_WORD)
    else:
        plain = [(_ueb(word, contract, tell), UEB_WORD) for word in text.split()]
        terminator, opening = indicator("Nemeth terminator"), indicator("opening Nemeth")
        for cells, role in ((terminator, LEAVES), *plain, (opening, RETURNS)):
            yield gap(AROUND_WORD)
            yield Token(WORD_TOKEN, cells, level=level, text=role)
        yield gap(AROUND_WORD)


def settled(tokens: Sequence[Token]) -> list[Token]:
    """Tokens in which the code is left only between other things on the base line: at an edge,
    in a script or in a structure each word has the single-word switch."""
    out: list[Token] = []
    inked = [token for token in tokens if token.kind != GAP]
    first, last = (inked[0], inked[-1]) if inked else (None, None)
    depth = start = 0
    inside = False
    for token in tokens:
        depth += (token.kind == BEGIN) - (token.kind == END)
        if token.text == LEAVES and token.kind == WORD_TOKEN:
            start = len(out)
            inside = depth > 0 or bool(token.level) or token is first
        out.append(token)
        if token.text == RETURNS and token.kind == WORD_TOKEN and (inside or token is last):
            out[start:] = [_single(one) for one in out[start + 1 : -1]]
    return out


def _single(token: Token) -> Token:
    if token.kind != WORD_TOKEN:
        return token
    return token._replace(cells=indicator("single-word switch") + token.cells)


def _omission() -> str:
    row = sign("_")
    return row.cells if row is not None else ""


def _signs(text: str, level: str, tell: Tell) -> Iterator[Token]:
    for leaf in cut(text, ""):
        match leaf:
            case Number():
                yield leaf_tokens.number(leaf, level, tell)
            case Letter():
                yield from leaf_tokens.letters(leaf, level, tell)
            case Name():
                yield from leaf_tokens.name(leaf, name_kind(leaf.text), level, tell)
            case Sign():
                yield from leaf_tokens.signs(leaf, "", level, tell)
            case _:
                yield gap(AROUND_WORD)


def _ueb(word: str, contract: Contract | None, tell: Tell) -> str:
    """One word in Unified English Braille."""
    builder = Builder(contract)
    rows = written(tidy(builder.tokens(Words(word))), contract is not None)
    for what, text in builder.problems:
        tell(what, text)
    return "".join(before + cells + after for before, cells, _, after in rows)
