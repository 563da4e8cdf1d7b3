"""Drawn lines and guide dots of print (UEB 16)."""

from __future__ import annotations

import re

from .. import signs
from .frame import Frame
from .word import INDICATOR, SYMBOL, Item, Note

# Hyphens and equals signs in a row of this length are a line drawn with the keyboard, dots in
# a row before a number lead the eye to it (common practice, no source).
_FEWEST_TYPED, _MORE_DOTS = 10, 4
_TYPED = {"-": "─", "=": "═"}
_FEWEST_DRAWN = 2
# The length of a line drawn across a page has no meaning: no more cells than these.
LONGEST = 20
# The dot first, then what stands before it: a search goes from dot to dot.
_GUIDE = re.compile(rf"\.(?<=[\w)\]”’\s]\.)(?:\s?\.){{{_MORE_DOTS},}}(?=\s?[$£€]?\d)")


def leaders(text: str) -> list[tuple[int, int, str]]:
    """Rows of dots that lead from words to a number, with the guide dots for them (UEB 16.5)."""
    dot = signs.cells("guide dot")
    return [
        (*match.span(), dot * min(match.group().count("."), LONGEST))
        for match in _GUIDE.finditer(text)
    ]


def may_lead(token: str) -> bool:
    """Whether a word may be part of a row of guide dots, or hold one."""
    return token == "." or "....." in token


def typed(text: str) -> bool:
    """Whether a whole word is a line drawn with hyphens or equals signs."""
    return len(text) >= _FEWEST_TYPED and text[0] in _TYPED and not text.strip(text[0])


def across(frame: Frame, at: int) -> int:
    """The unit after a drawn horizontal line that begins at ``at``; ``at`` itself if none does
    there.  One segment by itself is none: print uses it for a dash."""
    known, end = signs.of_kind("line segment"), at
    while end < frame.size and frame.units[end].text in known:
        end += 1
    return end if end - at >= _FEWEST_DRAWN else at


def items(frame: Frame, at: int, end: int) -> list[Item]:
    """A horizontal line: its indicator, its segments, and its terminator where no space
    follows (UEB 16.2)."""
    units, known = frame.units, signs.of_kind("line segment")
    name = "horizontal line mode indicator"
    out = [Item(signs.cells(name), units[at].start, INDICATOR)]
    for place in range(at, min(end, at + LONGEST)):
        text = units[place].text
        out.append(Item(known[_TYPED.get(text, text)].cells, units[place].start, SYMBOL))
    if end < frame.size:
        name = "horizontal line mode terminator"
        out.append(Item(signs.cells(name), units[end - 1].start, INDICATOR))
    return out


def told(frame: Frame, at: int, end: int) -> Note:
    """The finding about a drawn line."""
    units = frame.units
    return Note("ueb.line-mode", units[at].start, units[end - 1].end)
