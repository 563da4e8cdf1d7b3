"""Leaves of the tree as tokens of the Nemeth Code (digest of sections 2, 3, 4 and 9)."""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Iterator
from functools import cache

from . import nemeth_data as data
from .nemeth_tokens import (
    BAR_OPENS,
    BAR_SHUTS,
    BEGIN,
    COMMA,
    COMPARISON,
    DOTS,
    END,
    FUNCTION,
    LETTER,
    MARK,
    MIDDLE,
    NUMBER,
    OPENS,
    OPERATION,
    POINT,
    PRIME,
    SCRIPT_COMMA,
    SHAPE,
    SHUTS,
    SIGN,
    WORD,
    Token,
)
from .tree import CLOSE, OPEN, Letter, Name, Number, Sign

Tell = Callable[[str, str], None]
"""Files a problem: what, and the print it concerns."""

PRIMES = frozenset("′″‴⁗")
_KINDS = {
    "operation": OPERATION, "comparison": COMPARISON, "arrow": COMPARISON, "opening": OPENS,
    "closing": SHUTS, "dots": DOTS, "mark": MARK, "shape": SHAPE, "punctuation": POINT,
    "abbreviation": WORD, "sign": SIGN, "bar": SIGN,
}  # fmt: skip
_NOTES = {
    BAR_OPENS: BAR_OPENS, BAR_SHUTS: BAR_SHUTS, "bar between": COMPARISON, "times": OPERATION,
    "ratio": COMPARISON, "decimal point": SIGN,
}  # fmt: skip


def number(node: Number, level: str, tell: Tell, silent: bool = False) -> Token:
    """A numeral; the writer settles its numeric indicator (7-10).  After a typeform indicator
    it always has one (digest 3)."""
    cells = data.digits(node.text)
    font = _font(node.font, node.text, tell)
    if font:
        return Token(SIGN, font + data.indicator("numeric") + cells, level=level)
    return Token(NUMBER, cells, level=level, silent=silent)


def _font(name: str, text: str, tell: Tell) -> str:
    if not name:
        return ""
    cells = data.font(name)
    if cells is None:
        tell(f"the typeform {name}", text)
    return cells or ""


def letters(node: Letter, level: str, tell: Tell) -> Iterator[Token]:
    """A letter with the indicators of its typeform and alphabet; its marks modify it (86, 88)."""
    whole = unicodedata.normalize("NFD", node.text)
    base, marks = whole[:1], whole[1:]
    row = data.sign(node.text)
    if row is not None:
        yield Token(_KINDS[row.group], row.cells, level=level)
        return
    cells = [
        data.modifier(data.combining(mark)) if data.combining(mark) else None for mark in marks
    ]
    one = data.letter(base)
    if one is None or None in cells:
        yield unknown(node.text, level, tell)
        return
    yield from modified(letter(base, node.font, level, tell), [c for c in cells if c], level)


def letter(char: str, font: str, level: str, tell: Tell) -> Token:
    """One letter the code has."""
    row = data.letter(char)
    if row is None:
        return unknown(char, level, tell)
    prefix = _font(font, char, tell)
    plain = row.group == "letter" and not prefix
    if prefix and row.group == "letter" and font != "fraktur":
        prefix += data.indicator("English letter")
    return Token(LETTER, prefix + row.cells, level=level, text=char if plain else "")


def modified(token: Token, marks: list[str], level: str) -> Iterator[Token]:
    """A letter under its marks; one bar has the short form (88)."""
    bar = data.indicator("bar over")
    if not marks:
        yield token
    elif marks == [bar]:
        yield from (token, Token(PRIME, bar, level=level))
    else:
        yield Token(BEGIN, data.indicator("multipurpose"), level=level)
        yield token
        for count, mark in enumerate(marks, 1):
            yield Token(MIDDLE, data.indicator("over") * count, level=level)
            yield Token(SIGN, mark, level=level)
        yield Token(END, data.indicator("closing modifier"), level=level)


def name(node: Name, kind: str, level: str, tell: Tell) -> Iterator[Token]:
    """A function name or abbreviation, uncontracted (digest 10), or letters side by side.

    ``kind``: as :func:`convert.maths.nemeth_row.name_kind` has it.
    """
    chars = unicodedata.normalize("NFC", node.text)
    if kind not in (FUNCTION, WORD) or any(data.letter(char) is None for char in chars):
        whole = unicodedata.normalize("NFD", chars)
        at = 0
        while at < len(whole):
            end = at + 1
            while end < len(whole) and unicodedata.combining(whole[end]):
                end += 1
            for token in letters(Letter(whole[at:end], node.path, node.font), level, tell):
                yield token._replace(text="")
            at = end
        return
    if node.font:
        tell(f"the typeform {node.font} of a name", node.text)
    yield Token(kind, name_cells(chars), level=level)


def name_cells(text: str) -> str:
    """A name's letters; two capital signs for a whole name in capitals (digest 3)."""
    if len(text) > 1 and text.isupper() and text.isascii():
        return data.indicator("capital") * 2 + name_cells(text.lower())
    rows = [data.letter(char) for char in text]
    return "".join(row.cells for row in rows if row is not None)


def signs(node: Sign, note: str, level: str, tell: Tell) -> Iterator[Token]:
    """A sign; ``note`` is what its neighbours make of it."""
    text = node.text
    if text == ",":
        yield _comma(level)
    elif text in PRIMES and (row := data.sign(text)) is not None:
        yield Token(PRIME, row.cells, level=level)
    elif text == "°":
        yield degree(level)
    elif (row := data.sign(text)) is not None:
        yield _sign(node, row, note, level)
    else:
        parts = unicodedata.normalize("NFKC", text)
        if parts == text or any(data.sign(c) is None and data.letter(c) is None for c in parts):
            yield unknown(text, level, tell)
            return
        for char in parts:
            if data.sign(char) is None:
                yield letter(char, "", level, tell)._replace(text="")
            else:
                yield from signs(Sign(char, node.path, node.role), note, level, tell)


def _sign(node: Sign, row: data.NemethSign, note: str, level: str) -> Token:
    cells, kind = row.cells, _NOTES.get(note) or _KINDS[row.group]
    if node.role in (OPEN, CLOSE):
        kind = OPENS if node.role == OPEN else SHUTS
        if row.group == "bar":
            kind = BAR_OPENS if node.role == OPEN else BAR_SHUTS
    if note == "ratio":
        cells = data.table("comparison")["∶"].cells
    elif note == "decimal point":
        cells = data.indicator("decimal point")
    elif kind == POINT:
        cells = data.indicator("punctuation") + cells
    if kind == SIGN and cells in _greek():
        return Token(LETTER, cells, level=level)
    return Token(kind, cells, level=level, text=node.text)


@cache
def _greek() -> frozenset[str]:
    """Cells of Greek letters: a sign with such cells (a sum) is read as one."""
    return frozenset(row.cells for row in data.table("greek").values())


def _comma(level: str) -> Token:
    """A comma; within a level the sign that stands for comma and space (digest 5)."""
    if level:
        return Token(SCRIPT_COMMA, data.indicator("script comma"), level=level)
    return Token(COMMA, data.indicator("comma"))


def degree(level: str) -> Token:
    """The degree sign, a level up (digest 9)."""
    return Token(SIGN, data.indicator("degree"), level=level + "^")


def unknown(text: str, level: str, tell: Tell) -> Token:
    """A sign the code has not: told, and the full cell in its place."""
    known = unicodedata.name(text, "").lower() if len(text) == 1 else ""
    tell(f"no sign of the Nemeth Code for {known or 'this character'}", text)
    return Token(SIGN, data.indicator("unknown"), level=level)
