"""Leaves of the tree as tokens of UEB (UEB 4, 6, 8, 9, 11; GTM 3, 5, 10, 11)."""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Iterator
from functools import cache

from .chars import cut
from .data import Row, font, indicator, letter, mark, sign
from .tree import CLOSE, OPEN, PAIRS, Letter, Name, Number, Sign, Unsupported, Words
from .ueb_tokens import (
    BLANK,
    JOIN,
    LETTER,
    MARK,
    NAME,
    NUMBER,
    OPENS,
    OPERATION,
    RELATION,
    SEPARATOR,
    SHUTS,
    SIGN,
    WORD,
    Token,
)

Contract = Callable[[str, bool], str]
"""Gives the contracted cells of a word: standing alone, or (False) between other signs."""
Tell = Callable[[str, str], None]
"""Files a problem: what, and the print it concerns."""

_KINDS = {"operation": OPERATION, "relation": RELATION, "arrow": RELATION, "fraction": NUMBER}
_BRACKETS = frozenset("([{")
_CLOSING = {PAIRS[opening]: opening for opening in "([{"}
_SPACES = frozenset(" \u00a0\u2009\u202f")
_NEGATION = "\u0338"


def blank() -> Token:
    return Token(BLANK, "\u2800")


def number(node: Number, leaf: int) -> Token:
    """A numeral with its indicator (UEB 6)."""
    prefix = font(node.font) if node.font else ""
    return Token(NUMBER, prefix + indicator("numeric").cells + digits(node.text), leaf, node.text)


def digits(text: str) -> str:
    """The digits, points, commas and spaces of a numeral, in numeric mode (UEB 6.2, 6.6)."""
    space, cells = indicator("numeric space").cells, []
    for char in text:
        row = sign(char)
        if char.isdigit():
            at = "abcdefghij"["1234567890".index(char)]
            row = letter(at)
        cells.append(space if char in _SPACES or row is None else row.cells)
    return "".join(cells)


def simple_fraction(top: Number, bottom: Number, leaf: int) -> tuple[Token, Token]:
    """A fraction of two numerals (UEB 6.4)."""
    line = indicator("simple fraction line").cells + digits(bottom.text)
    return number(top, leaf), Token(JOIN, line, leaf + 1, bottom.text)


def letters(node: Letter, leaf: int, tell: Tell) -> Iterator[Token]:
    """A letter with its capital, Greek and typeform indicators; marks on it follow (GTM 12)."""
    token = _letter(node.text, node.font)
    if token is not None:
        yield token._replace(leaf=leaf)
        return
    whole = unicodedata.normalize("NFD", node.text)
    token = _letter(whole[0], node.font)
    rows = [_mark(char) for char in whole[1:]]
    if token is None or None in rows:
        yield unknown(node.text, leaf, tell)
        return
    yield token._replace(leaf=leaf)
    yield from (Token(MARK, row.cells, leaf, "", row.grade1) for row in rows if row)


@cache
def _letter(text: str, style: str) -> Token | None:
    """The token of a letter the code has, of whatever leaf."""
    row = letter(text)
    if row is None:
        return None
    prefix = font(style) if style else ""
    latin = text.isascii()
    if latin and text.isupper():
        prefix += indicator("capital letter").cells
    lead = len(font(style)) if style else 0
    return Token(LETTER, prefix + row.cells, -1, text, latin=latin, lead=lead)


def _mark(char: str) -> Row | None:
    if char == _NEGATION:
        return indicator("line through")
    return mark(char, unicodedata.combining(char) == 220)


def capitals(text: str, leaf: int) -> Token:
    """Capital letters side by side, as one word (UEB 8.4)."""
    spelled = "".join(row.cells for char in text if (row := letter(char)))
    return Token(NAME, indicator("capitals word").cells + spelled, leaf, text, latin=True)


def name(node: Name, leaf: int, tell: Tell, single: bool, contract: Contract | None) -> Token:
    """Several letters printed as one (GTM 9).  ``single``: each capital has its own sign."""
    text = unicodedata.normalize("NFC", node.text)
    if not single and text.isascii() and text.isupper() and len(text) > 1:
        return capitals(text, leaf)
    rows = [letter(char) for char in text]
    if None in rows:
        return unknown(text, leaf, tell)
    capital = indicator("capital letter").cells
    cells = "".join(
        (capital if char.isascii() and char.isupper() else "") + row.cells
        for char, row in zip(text, rows, strict=True)
        if row
    )
    small = contract is not None and text.isascii() and text.islower()
    short, inner = _shortened(text, contract) if small else ("", "")
    return Token(NAME, cells, leaf, text, False, False, short, inner, text.isascii())


def _shortened(text: str, contract: Contract | None) -> tuple[str, str]:
    return (contract(text, True), contract(text, False)) if contract else ("", "")


def signs(node: Sign, leaf: int, tell: Tell) -> Iterator[Token]:
    """An operator, bracket, arrow, shape or other sign."""
    row = sign(node.text)
    if row is None and len(node.text) > 1:
        for char in node.text:
            yield from signs(Sign(char, node.path), leaf, tell)
        return
    if row is None:
        yield unknown(node.text, leaf, tell)
        return
    kind, text = _KINDS.get(row.group, SIGN), node.text
    if node.role == OPEN and text in _BRACKETS:
        kind = OPENS
    elif node.role == CLOSE and text in _CLOSING:
        kind, text = SHUTS, _CLOSING[text]
    elif text in (",", ";"):
        kind = SEPARATOR
    elif node.role in (OPEN, CLOSE):
        kind = SIGN
    yield Token(kind, row.cells, leaf, text, row.grade1, row.between, shape=row.shape)


def phrase(node: Words, leaf: int, tell: Tell, contract: Contract | None) -> Iterator[Token]:
    """Ordinary words (UEB 11.3.4), one token each."""
    for at, word in enumerate(node.text.split()):
        if at:
            yield blank()
        short, inner = _shortened(word, contract)
        yield Token(WORD, plain_word(word, tell), leaf, word, False, False, short, inner)


def plain_word(word: str, tell: Tell) -> str:
    """A word without contractions."""
    if word.isascii() and word.isalpha() and (word.islower() or word.isupper()):
        return name(Name(word), -1, tell, len(word) == 1, None).cells
    cells: list[str] = []
    for leaf in cut(word, ""):
        if isinstance(leaf, Number):
            cells.append(number(leaf, -1).cells)
        elif isinstance(leaf, Letter):
            cells.extend(token.cells for token in letters(leaf, -1, tell))
        elif isinstance(leaf, Name):
            cells.append(name(leaf, -1, tell, False, None).cells)
        elif isinstance(leaf, Sign):
            printed = {"−": "-", "′": "'"}.get(leaf.text, leaf.text)
            row = sign(printed)
            cells.append(row.cells if row else unknown(leaf.text, -1, tell).cells)
    return "".join(cells)


def unsupported(node: Unsupported, leaf: int, tell: Tell) -> Token:
    """An element without a rule: its text as a transcriber's note, and a problem."""
    tell(f"the element {node.element}", node.text)
    return note(node.text or node.element, leaf)


def unknown(text: str, leaf: int, tell: Tell) -> Token:
    """A character without cells: its name as a transcriber's note, and a problem."""
    spoken = " ".join(unicodedata.name(char, f"U+{ord(char):04X}").lower() for char in text)
    tell(f"the sign {spoken}", text)
    return note(spoken, leaf)


def note(text: str, leaf: int) -> Token:
    """Words in transcriber's note indicators, so that they can never be read as the formula."""
    spelled = "\u2800".join(plain_word(word, _silent) for word in _sayable(text).split())
    cells = (
        indicator("opening transcriber's note").cells
        + spelled
        + indicator("closing transcriber's note").cells
    )
    return Token(WORD, cells, leaf, text)


def _sayable(text: str) -> str:
    """``text`` with characters that have no cells as their numbers."""
    return "".join(
        char
        if char.isspace() or char.isdigit() or sign(char) or letter(char)
        else f"U{ord(char):04X} "
        for char in text
    )


def _silent(what: str, text: str) -> None:
    """Nobody is told: the text is already the subject of a problem."""
