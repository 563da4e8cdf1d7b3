"""The key to the signs of a volume: each sign that stands in it, with print, dots and name."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from typing import NamedTuple

from ..layout.book import Volume
from ..translation.cells import BLANK, Cells, Piece, dots_of
from ..translation.signs import of_kind
from .shown import show


class KeyRow(NamedTuple):
    """One sign: the print it stands for (for an indicator its name), its cells, its dots."""

    print: str
    cells: str
    dots: str


class Key(NamedTuple):
    """The signs of a volume: for print, in alphabetical order, and indicators."""

    signs: list[KeyRow]
    indicators: list[KeyRow]


def sign_key(volume: Volume) -> Key:
    """The signs of the words that stand in a volume, each once; capitals count as small letters,
    with the capital indicator on its own."""
    signs: set[tuple[str, str]] = set()
    marks: set[str] = set()
    seen: set[tuple[int, str]] = set()
    for source in _sources(volume):
        text = source.passage.text if source.passage is not None else ""
        for piece, at in zip(source.pieces, source.prints, strict=True):
            word = text[at : at + piece.length]
            if (id(piece), word) not in seen:
                seen.add((id(piece), word))
                _add(piece, word, signs, marks)
    rows = sorted(signs, key=lambda row: (not row[0].isalpha(), len(row[0]), row))
    return Key(
        [KeyRow(show(text), cells, said(cells)) for text, cells in rows],
        [KeyRow(_names()[cells], cells, said(cells)) for cells in sorted(marks)],
    )


def _sources(volume: Volume) -> Iterator[Cells]:
    last = None
    for page in volume.pages:
        for row in page.rows:
            for part in row.parts if row is not None else ():
                if part.source is not None and part.source is not last:
                    last = part.source
                    yield last


def _add(piece: Piece, word: str, signs: set[tuple[str, str]], marks: set[str]) -> None:
    """The signs of one piece: cells with one origin stand for the print up to the next."""
    runs: list[tuple[int, bool, str]] = []
    for cell, origin, sign in zip(piece.cells, piece.origin, piece.sign, strict=True):
        if runs and runs[-1][:2] == (origin, bool(sign)):
            runs[-1] = (origin, bool(sign), runs[-1][2] + cell)
        else:
            runs.append((origin, bool(sign), cell))
    starts = sorted({origin for origin, sign, _ in runs if not sign} | {piece.length})
    for origin, sign, cells in runs:
        if sign:
            marks.update(_marks(cells))
        elif not sign and origin in starts[:-1]:
            text = word[origin : starts[starts.index(origin) + 1]].strip().lower()
            if text and BLANK not in cells:
                signs.add((text, cells))


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
