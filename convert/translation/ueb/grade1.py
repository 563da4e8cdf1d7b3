"""Grade 1 indicators (UEB 5): which letters need one, and which form costs the fewest cells."""

from __future__ import annotations

from typing import NamedTuple

from . import numbers
from .chars import LETTER
from .frame import Frame, Letters
from .letters import NONE, WORD, Part, cells_of

# Cells of the word indicator, and of the word indicator with its terminator (UEB 5.3, 5.5).
_WORD_CELLS, _ENDED_CELLS = 2, 4
_MANY = 3


class Scheme(NamedTuple):
    """Where grade 1 signs stand: ``symbols`` before these units; a word indicator at
    ``start`` (-1: none) up to the terminator at ``end`` (-1: to the word's end)."""

    symbols: frozenset[int]
    start: int = -1
    end: int = -1

    def covers(self, unit: int) -> bool:
        """Whether the word indicator is in force at a unit."""
        return self.start >= 0 and unit >= self.start and (self.end < 0 or unit < self.end)


class _Row(NamedTuple):
    letters: Letters
    need: int
    loss: int
    capital: bool


def decide(frame: Frame, parts: dict[int, Part]) -> Scheme:
    """The scheme of fewest cells (UEB 5.9.1).  ``parts``: contracted signs of the letters that
    are one part, by their first unit."""
    if not any(part.need for part in parts.values()):
        return Scheme(frozenset())
    rows = [_row(frame, letters, parts.get(letters.start)) for letters in frame.letters]
    needing = [at for at, row in enumerate(rows) if row.need]
    if not needing:
        return Scheme(frozenset())
    symbols = Scheme(frozenset(rows[at].letters.start for at in needing))
    hidden = any(row.need == WORD for row in rows)
    if hidden:
        return Scheme(frozenset(), _start(rows, needing[0]))
    if len(needing) == 1 or (len(needing) == _MANY - 1 and not _two_in_one(rows, needing)):
        return symbols
    if len(needing) < _MANY:
        return Scheme(frozenset(), _start(rows, needing[0]))
    return _cheapest(rows, needing, symbols)


def _row(frame: Frame, letters: Letters, part: Part | None) -> _Row:
    capital = letters.start in frame.capital_signs
    if part is None or frame.after_number[letters.start]:
        return _Row(letters, NONE, 0, capital)
    # Spelled, every letter is one cell.
    loss = max(0, letters.end - letters.start - len(cells_of(part.groups)))
    return _Row(letters, part.need, loss, capital)


def _two_in_one(rows: list[_Row], needing: list[int]) -> bool:
    """Whether two letters are better under one indicator: a longer part between them, or
    both capitals."""
    first, last = needing
    between = any(row.letters.end - row.letters.start > 1 for row in rows[first + 1 : last])
    return between or (rows[first].capital and rows[last].capital)


def _start(rows: list[_Row], first: int) -> int:
    """The word indicator stands first of all if what it then covers loses nothing."""
    lossless = not any(row.loss for row in rows[:first])
    return rows[0 if lossless else first].letters.start


def _cheapest(rows: list[_Row], needing: list[int], symbols: Scheme) -> Scheme:
    first, last, count = needing[0], needing[-1], len(needing)
    start = _start(rows, first)
    lost = sum(row.loss for row in rows[first:])
    whole = _WORD_CELLS + lost
    # A terminator serves only what it lets be contracted again.
    if any(row.loss for row in rows[last + 1 :]):
        ended = _ENDED_CELLS + sum(row.loss for row in rows[first : last + 1])
        if ended <= count:
            return Scheme(frozenset(), start, rows[last + 1].letters.start)
    if whole < count or (whole == count and not lost):
        return Scheme(frozenset(), start)
    return symbols


def passage(frame: Frame) -> tuple[int, int]:
    """The units before which a grade 1 passage begins and ends in a word, or -1: inside opening
    marks (UEB 7.6.7), straight after the last letter (5.4, 5.5)."""
    rows, spelled = frame.letters, frame.word.spelled
    begins, ends = spelled in (1, 3), spelled in (2, 3)
    return rows[0].start if begins and rows else -1, rows[-1].end if ends and rows else -1


def after_number(frame: Frame, unit: int) -> bool:
    """Whether a small letter a to j there would read as a digit (UEB 6.5.2)."""
    if frame.kinds[unit] != LETTER or unit in frame.capital_signs or unit in frame.inserts:
        return False
    text = frame.units[unit].text
    if text.lower() not in tuple("abcdefghij") or not unit:
        return False
    before = unit - 1
    if frame.levels[before] != frame.levels[unit] and not _after_level(frame, unit):
        return False
    if frame.kinds[before] in ("d", "f"):
        return True
    mark = frame.units[before].text in (".", ",") and before > 0
    return mark and frame.kinds[before - 1] == "d" and before not in frame.inserts


def _after_level(frame: Frame, unit: int) -> bool:
    """Whether a raised or lowered item with nothing to mark its end stands right before a unit
    on the line (UEB 3.24: a whole number or one sign is an item)."""
    if frame.levels[unit]:
        return False
    start = unit - 1
    while start and frame.levels[start - 1] == frame.levels[unit - 1]:
        start -= 1
    return numbers.is_item(frame, start, unit)
