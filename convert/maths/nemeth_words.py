"""Ordinary words inside an expression: the single-word switch, or Unified English Braille
between a terminator and a new opening (BANA guidance for Nemeth within UEB)."""

from __future__ import annotations

from collections.abc import Iterator

from . import nemeth_leaves as leaf_tokens
from .chars import cut
from .nemeth_data import indicator, rule, sign
from .nemeth_leaves import Tell
from .nemeth_row import WORD
from .nemeth_tokens import AROUND_WORD, SIGN, Token, gap
from .nemeth_tokens import WORD as WORD_TOKEN
from .tree import Letter, Name, Number, Sign, Words
from .ueb_build import Builder
from .ueb_grade1 import tidy, written
from .ueb_leaves import Contract


def words(node: Words, level: str, contract: Contract | None, tell: Tell) -> Iterator[Token]:
    """The tokens of ordinary text; text without letters is signs of the code."""
    text = node.text.strip()
    if text and not text.strip("_"):
        yield Token(SIGN, _omission(), level=level)
    elif not any(map(str.isalpha, text)):
        yield from _signs(text, level, tell)
    elif len(text.split()) <= int(rule("most-single-words")):
        yield gap(AROUND_WORD)
        for word in text.split():
            cells = indicator("single-word switch") + _ueb(word, contract, tell)
            yield Token(WORD_TOKEN, cells, level=level)
            yield gap(AROUND_WORD)
    else:
        plain = [_ueb(word, contract, tell) for word in text.split()]
        for cells in (indicator("Nemeth terminator"), *plain, indicator("opening Nemeth")):
            yield gap(AROUND_WORD)
            yield Token(WORD_TOKEN, cells, level=level)
        yield gap(AROUND_WORD)


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
                yield from leaf_tokens.name(leaf, WORD, level, tell)
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
