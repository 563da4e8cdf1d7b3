"""Braille that print itself shows as cells: the dot locator for mention before it (UEB 3.13)."""

from __future__ import annotations

from .. import signs
from ..cells import BLANK
from .frame import Frame

_LAST = "\u283f"


def is_braille(text: str) -> bool:
    """Whether print shows a braille cell of six dots, an empty one included."""
    return len(text) == 1 and BLANK <= text <= _LAST


def braille(frame: Frame, at: int) -> str:
    """The cells of a unit that is a braille cell in print, with the dot locator where a row of
    such cells begins; nothing for any other unit."""
    text = frame.units[at].text
    if not is_braille(text):
        return ""
    goes_on = at > 0 and is_braille(frame.units[at - 1].text)
    return text if goes_on else signs.cells("dot locator for mention") + text
