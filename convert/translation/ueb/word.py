"""What the planner is given for one symbols-sequence, and what it gives back."""

from __future__ import annotations

from typing import NamedTuple

from ...findings import Form
from ..cells import Piece

INDICATOR, CAPITAL, GRADE1, LETTERS, NUMBER, PUNCTUATION, QUOTATION, SYMBOL, LINE_END = range(9)
_SIGNS = frozenset((INDICATOR, CAPITAL, GRADE1))
_UPPER = frozenset(chr(0x2800 + dots) for dots in range(64) if dots & 0b001001)
_NEVER_UPPER = (CAPITAL, QUOTATION, LINE_END)


class Insert(NamedTuple):
    """An indicator before the character at ``at`` (of the word); see typeforms.Insert."""

    at: int
    cells: str
    opens: bool


class Word(NamedTuple):
    """A symbols-sequence with everything its neighbours decide.

    ``roles``: the roles of its quotation marks in order.  ``inserts``: typeform indicators.
    ``capitals``: stretches inside a capitals passage (start, end, opens here, closes here:
    1, and one more for each terminator of a typeform that comes before).
    ``levels``: (start, end, above or below).  ``foreign``: stretches left uncontracted.
    ``spelled``: a grade 1 passage, with which of its indicators stand here
    (1 opening, 2 terminator, 3 both, 0 neither), or -1.  ``before``: the word before, where
    an exception needs it.  ``divide``: places where a braille line ends.  ``continued``: the
    line ends after the word, inside computer material whose space must show (UEB 6.10).
    ``room``: print has only room here; the text is no print.
    ``readings``: stretches read as a person decided.  ``literals``: places of signs that stand
    for print whose cells are given, with the cells (see readings).
    """

    text: str
    roles: str = ""
    inserts: tuple[Insert, ...] = ()
    capitals: tuple[tuple[int, int, bool, int], ...] = ()
    levels: tuple[tuple[int, int, int], ...] = ()
    foreign: tuple[tuple[int, int], ...] = ()
    spelled: int = -1
    before: str = ""
    divide: tuple[int, ...] = ()
    continued: bool = False
    room: bool = False
    readings: tuple[tuple[int, int, str], ...] = ()
    literals: tuple[tuple[int, str], ...] = ()


class Note(NamedTuple):
    """A finding to file wherever the word occurs: kind, place in the word, facts, and the forms
    a person may choose between."""

    kind: str
    start: int
    end: int
    facts: tuple[tuple[str, str], ...] = ()
    forms: tuple[Form, ...] = ()


class Planned(NamedTuple):
    """A word's cells, and what a person should know of them."""

    piece: Piece
    notes: tuple[Note, ...] = ()


class Item(NamedTuple):
    """One sign on its way into cells: ``letters`` is set for letters and contractions;
    ``alone`` marks the sole sign of a letters-sequence that stands alone."""

    cells: str
    at: int
    kind: int
    letters: str = ""
    alone: bool = False

    @property
    def upper(self) -> bool:
        """Whether it has a dot 1 or 4; capital signs and quotation marks never count
        (UEB 10.5.1, 10.5.4)."""
        return self.kind not in _NEVER_UPPER and not _UPPER.isdisjoint(self.cells)


def piece(items: list[Item], length: int, breaks: tuple[int, ...]) -> Piece:
    """Items laid end to end."""
    cells = "".join([item.cells for item in items])
    origin: list[int] = []
    sign = bytearray()
    for shown, at, kind, _letters, _alone in items:
        for _ in shown:
            origin.append(at)
            sign.append(kind in _SIGNS)
    return Piece(cells, tuple(origin), bytes(sign), length, breaks)
