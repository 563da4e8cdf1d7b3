"""What a braille code makes of an expression."""

from __future__ import annotations

from dataclasses import dataclass

BLANK = "\u2800"
UEB, NEMETH = "ueb", "nemeth"
MATHML, TEX = "mathml", "tex"
CodeSign = tuple[str, str]
"""A sign: the code (``ueb``, ``nemeth``) and its cells."""
Problem = tuple[str, str]
"""What could not be transcribed, in plain words, and the print it concerns."""


@dataclass(frozen=True, slots=True)
class LeafPlace:
    """A leaf of the tree: what it prints, and its element's steps in the source."""

    text: str
    path: str


@dataclass(frozen=True, slots=True)
class MathCells:
    """Cells of an expression.

    ``cells``: Unicode braille, empty cells for spaces.  ``origin``: for each cell the index of
    the leaf it stands for, or that made it necessary (-1: none).  ``breaks``: cells before which a
    line may end; where the cell is an empty one it is dropped.  Other empty cells hold their
    place.  ``lines``: cells at which a new line must begin (matrices and systems), of which the
    first is never named.  ``joins``: for a break the cells to add at the end of the line.
    ``code`` is the code really used: a single letter or whole number stays UEB in a
    Nemeth edition.  ``via``: what the source was: ``mathml`` (Word equations too), ``tex``,
    ``linear``, or ``given`` where a person gave the cells.
    ``signs``: the technical signs in it, or the indicators that switch codes,
    that a page of special symbols may list.  ``problems`` are never guessed at:
    where there is one, a person must look.  ``doubts``: forms that no published text shows, or
    that differ from print's, in plain words.
    """

    cells: str
    origin: tuple[int, ...]
    breaks: tuple[int, ...] = ()
    leaves: tuple[LeafPlace, ...] = ()
    problems: tuple[Problem, ...] = ()
    lines: tuple[int, ...] = ()
    joins: tuple[tuple[int, str], ...] = ()
    code: str = UEB
    via: str = MATHML
    signs: frozenset[CodeSign] = frozenset()
    doubts: tuple[str, ...] = ()
