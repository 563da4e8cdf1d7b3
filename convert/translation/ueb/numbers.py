"""Numbers (UEB 6): the numeric indicator, decimal points, fractions, numeric spaces."""

from __future__ import annotations

import re
import unicodedata

from .. import signs
from ..cells import BLANK
from . import chars
from .chars import DIGIT, FRACTION, LETTER, NUMBER_SPACES, Unit
from .frame import Frame
from .letters import Letters, cells_of
from .readings import NUMBERS
from .word import INDICATOR, LINE_END, NUMBER, Item

_SEPARATORS = frozenset(".,")
_CLOSING = frozenset(")]}%’”'\"")
ADDRESS = re.compile(r"@|://|www\.|\\|\w\.(?:com|org|net|edu|gov|htm|doc|txt|pdf|exe)\b", re.I)
# What "terminator and contractions" must save more than (UEB 5.9.1, 10.12.3).
_TERMINATOR_CELLS = 2


def decimal_point(frame: Frame, at: int) -> bool:
    """Whether a full stop before a digit is a decimal point (UEB 6.4.1): nothing, an opening
    mark or a symbol stands before it, not a letter or closing mark."""
    if frame.units[at].text != "." or frame.kinds[at + 1 : at + 2] != [DIGIT]:
        return False
    if at + 1 in frame.inserts or frame.levels[at] != frame.levels[at + 1]:
        return False
    if not at:
        return True
    before = frame.units[at - 1].text
    closing = before in _CLOSING or frame.roles[at - 1] in tuple("cds")
    return not (frame.kinds[at - 1] in (LETTER, DIGIT) or closing or before == ".")


def end_of(frame: Frame, at: int) -> int:
    """The unit after a number that begins at ``at``; ``at`` itself if none does."""
    end, level = at, frame.levels[at]
    if frame.kinds[at] != DIGIT and not decimal_point(frame, at):
        return at
    end += 1
    while end < frame.size and frame.levels[end] == level and end not in frame.inserts:
        text, digit_next = frame.units[end].text, frame.kinds[end + 1 : end + 2] == [DIGIT]
        if frame.kinds[end] == DIGIT:
            end += 1
        elif digit_next and _holds(text) and _same_place(frame, end, end + 1):
            end += 2
        else:
            break
    return end


def is_item(frame: Frame, start: int, end: int) -> bool:
    """Whether a raised or lowered stretch needs no braille grouping: one sign or one number
    (UEB 3.24)."""
    return end - start == 1 or end_of(frame, start) == end


def _same_place(frame: Frame, at: int, after: int) -> bool:
    """Whether nothing, and no change of level, comes between two units."""
    return after not in frame.inserts and frame.levels[at] == frame.levels[after]


def _holds(text: str) -> bool:
    return text in _SEPARATORS or text in NUMBER_SPACES or text in ("\u2044", " ")


def items(frame: Frame, start: int, end: int) -> list[Item]:
    """The signs of a number, divided where a line ends inside it (UEB 6.10)."""
    out = [] if frame.readings[start] == NUMBERS else [_indicator(frame.units[start])]
    spaced = False
    for at in range(start, end):
        unit = frame.units[at]
        divided = at in frame.divides and at > start
        space = unit.text.isspace()
        if divided and not space and not spaced:
            out.append(Item(signs.cells("line continuation"), unit.start, INDICATOR))
        if divided and (space or spaced):
            out.pop() if spaced else None
            name = "line continuation with space"
            out.append(Item(signs.cells(name), unit.start, INDICATOR))
        if divided:
            out.append(Item(BLANK, unit.start, LINE_END))
        if not (divided and space):
            out.append(Item(_cells(unit), unit.start, NUMBER))
        spaced = space and not divided
    return out


def _indicator(unit: Unit) -> Item:
    return Item(signs.cells("numeric indicator"), unit.start, INDICATOR)


def _cells(unit: Unit) -> str:
    if unit.text == "\u2044":
        return signs.cells("simple fraction line")
    if unit.text.isspace():
        return signs.cells("numeric space")
    return signs.by_print()[unit.text].cells


def fraction(unit: Unit, bare: bool = False) -> list[Item]:
    """A fraction character as a simple numeric fraction (UEB 6.2.1); ``bare`` without the
    numeric indicator, in a numeric passage."""
    out = [] if bare else [_indicator(unit)]
    for char in unicodedata.normalize("NFKD", unit.text):
        cells = signs.cells("simple fraction line") if char == "\u2044" else ""
        out.append(Item(cells or signs.by_print()[char].cells, unit.start, NUMBER))
    return out


def contractions_resume(frame: Frame, letters: Letters) -> int:
    """The unit where a grade 1 terminator lets contractions return after a number in an
    address or file name, or -1 (UEB 5.9.1, 10.12.3)."""
    if not letters.contracted or not ADDRESS.search(frame.word.text):
        return -1
    for row in frame.letters:
        if not (frame.after_number[row.start] and frame.kinds[row.start - 1] == DIGIT):
            continue
        if row.start in frame.capital_signs or row.start in frame.inserts:
            continue
        saved, end = _shielded(frame, row.start), next_number(frame, row.start)
        for later in frame.letters:
            if row.start <= later.start < end and frame.after_number[later.start]:
                saved += _saved(frame, later.start, later.end, letters)
        return row.start if saved > _TERMINATOR_CELLS else -1
    return -1


def next_number(frame: Frame, start: int) -> int:
    """The first unit of a number at or after a unit, or the word's end."""
    kinds = range(max(0, start), frame.size)
    return next((at for at in kinds if frame.kinds[at] in (DIGIT, FRACTION)), frame.size)


def _shielded(frame: Frame, at: int) -> int:
    return int(frame.units[at].text in tuple("abcdefghij"))


def _saved(frame: Frame, start: int, end: int, letters: Letters) -> int:
    rows = [chars.letter(unit.text) for unit in frame.units[start:end]]
    text = "".join(row.gate if row else "'" for row in rows)
    return len(text) - len(cells_of(letters.part(text, False, False).groups))
