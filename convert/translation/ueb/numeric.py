"""Numeric passages (UEB 6.9): where a person has decided on one, digits take no numeric signs.

Print does not show that a scheme of numbers is better so, so none is begun without a decision.
"""

from __future__ import annotations

from collections.abc import Iterable

from .. import signs
from . import readings
from .chars import LETTER
from .frame import Frame
from .typeforms import Insert

_DIGITS = frozenset("abcdefghij")
# Outside every typeform that begins or ends at the same place (order free, UEB 9.8.1; ours).
_RANK = -1


def inserts(text: str, decided: Iterable[readings.Stretch]) -> list[Insert]:
    """The indicator and terminator of each numeric passage, at its first and after its last
    sign."""
    out: list[Insert] = []
    for start, end, how in decided:
        words = text[start:end].strip()
        if how != readings.NUMBERS or not words:
            continue
        begin = text.index(words, start)
        out.append(Insert(begin, _RANK, signs.cells("numeric passage indicator"), True))
        out.append(Insert(begin + len(words), _RANK, signs.cells("numeric terminator"), False))
    return out


def inside(frame: Frame, at: int) -> bool:
    """Whether a unit stands in a numeric passage."""
    return at < frame.size and frame.readings[at] == readings.NUMBERS


def needs_grade1(frame: Frame, at: int, contracted: bool) -> bool:
    """Whether a letter of a numeric passage takes the grade 1 symbol indicator: a small a to j,
    which would be a digit (UEB 6.9), and in contracted braille a letter by itself (5.7.1)."""
    if frame.kinds[at] != LETTER or at in frame.capital_signs:
        return False
    letter = frame.units[at].text.lower()
    return letter in _DIGITS or (contracted and _by_itself(frame, at))


def _by_itself(frame: Frame, at: int) -> bool:
    return any(row.start == at and row.end == at + 1 and row.alone for row in frame.letters)
