"""The key to the signs of a volume: each sign that stands in it, with print, dots and name."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from functools import cache
from typing import NamedTuple

from ..layout.book import Volume
from ..translation.cells import BLANK, Cells, Piece, dots_of
from ..translation.signs import of_kind
from .shown import show


class KeyRow(NamedTuple):
    """One sign: the print it stands for (for an indicator its name), its cells, its dots.

    ``name`` is that of a mark, which a screen reader may pass over; empty for letters and digits.
    """

    print: str
    cells: str
    dots: str
    name: str = ""


class Key(NamedTuple):
    """The signs of a volume: for print, in alphabetical order, and indicators."""

    signs: list[KeyRow]
    indicators: list[KeyRow]


Found = tuple[set[tuple[str, str]], set[str]]


class SignKeys:
    """Keys to the volumes of one edition; each token is looked at once."""

    def __init__(self) -> None:
        self._known: dict[int, Found] = {}
        self._tokens: dict[tuple[str, str], Found] = {}

    def of(self, volume: Volume) -> Key:
        """The signs of the words that stand in a volume, each once; capitals count as small
        letters, with the capital indicator on its own."""
        signs: set[tuple[str, str]] = set()
        marks: set[str] = set()
        seen: set[int] = set()  # A piece is shared by all places of its token.
        for source in _sources(volume):
            own = set(map(id, source.pieces)) - seen
            if not own:
                continue
            if not own <= self._known.keys():
                self._learn(source)
            for piece in own:
                found = self._known[piece]
                signs |= found[0]
                marks |= found[1]
            seen |= own
        single = sorted({mark for cells in marks for mark in _marks(cells)})
        return Key(_rows(signs), [KeyRow(_names()[mark], mark, said(mark)) for mark in single])

    def _learn(self, source: Cells) -> None:
        text = source.passage.text if source.passage is not None else ""
        for piece, at in zip(source.pieces, source.prints, strict=True):
            if id(piece) not in self._known:
                token = (text[at : at + piece.length], piece.cells)
                found = self._tokens.get(token)
                if found is None:
                    found = self._tokens[token] = (set(), set())
                    _add(piece, token[0], *found)
                self._known[id(piece)] = found


def _sources(volume: Volume) -> Iterator[Cells]:
    last = None
    for page in volume.pages:
        for row in page.rows:
            for part in row.parts if row is not None else ():
                if part.source is not last and part.source is not None:
                    last = part.source
                    yield last


def _add(piece: Piece, word: str, signs: set[tuple[str, str]], marks: set[str]) -> None:
    """The signs of one piece: cells with one origin stand for the print up to the next.
    Indicators that stand side by side are added as they stand."""
    cells, origin, sign = piece.cells, piece.origin, piece.sign
    at, size, last, end = 0, len(cells), "", -1
    while at < size:
        here, start = origin[at], at
        is_sign = sign[at]
        while at < size and origin[at] == here and sign[at] == is_sign:
            at += 1
        if is_sign:
            marks.add(cells[start:at])
            continue
        if last:
            signs.add((word[end : max(here, end + 1)], last))
        last, end = cells[start:at], here
    if last:
        signs.add((word[end : piece.length], last))


def _rows(signs: set[tuple[str, str]]) -> list[KeyRow]:
    """Signs in small letters, letters first; none for a space, nor with an empty cell inside."""
    plain = {
        (text.strip().lower(), cells)
        for text, cells in signs
        if text.strip() and BLANK not in cells
    }
    ordered = sorted(plain, key=lambda row: (not row[0].isalpha(), len(row[0]), row))
    return [KeyRow(show(text), cells, said(cells), _mark_name(text)) for text, cells in ordered]


def _mark_name(text: str) -> str:
    """The name of a single mark, in small letters: ``left parenthesis``."""
    if len(text) != 1 or text.isalnum():
        return ""
    return unicodedata.name(text, "").lower()


def _marks(cells: str) -> Iterator[str]:
    """Indicators that stand side by side, one by one: the longest that has a name first."""
    at = 0
    while at < len(cells):
        size = next((n for n in range(6, 0, -1) if cells[at : at + n] in _names()), 0)
        if size:
            yield cells[at : at + size]
        at += size or 1


def said(cells: str) -> str:
    """Cells as words: ``dots 1-2, dot 3``."""
    parts = dots_of(cells).split(" ")
    return ", ".join(f"dots {part}" if "-" in part else f"dot {part}" for part in parts)


@cache
def _names() -> dict[str, str]:
    """Indicators by their cells; the first name where several share them."""
    names: dict[str, str] = {}
    for sign in of_kind("indicator").values():
        names.setdefault(sign.cells, sign.name)
    return names
