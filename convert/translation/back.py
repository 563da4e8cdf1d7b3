"""Cells back to print, sign by sign, in Unified English Braille.

A state machine walks the cells with the modes of the code (numeric, grade 1, capitals,
typeforms) and says at each sign what it is, what it stands for and which section of the rules
makes it so.  Which contraction a cell is follows from the places where the rules let it stand
(UEB 2.6, 10); where that leaves a doubt, :attr:`Step.also` names the other readings.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import groupby

from .back_modes import FRACTION_SLASH, Step
from .back_signs import Reader
from .cells import ascii_of

_VULGAR = {
    unicodedata.normalize("NFKD", char): char
    for char in map(chr, [*range(0xBC, 0xBF), *range(0x2150, 0x215F)])
}
_UP = str.maketrans("0123456789+−=()", "⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻⁼⁽⁾")
_DOWN = str.maketrans("0123456789+−=()", "₀₁₂₃₄₅₆₇₈₉₊₋₌₍₎")
_START = "\x00"


@dataclass(frozen=True, slots=True)
class Reading:
    """Cells read back: the print and the steps that led to it."""

    print: str
    steps: tuple[Step, ...]

    def at(self, cell: int) -> Step | None:
        """The sign that holds ``cell`` (from 0)."""
        return next((step for step in self.steps if step.start <= cell < step.end), None)

    def runs(self) -> list[tuple[str, tuple[str, ...]]]:
        """The print in stretches of equal typeform."""
        out: list[tuple[str, tuple[str, ...]]] = []
        told = [step for step in self.steps if step.print]
        for forms, steps in groupby(told, key=lambda step: step.forms):
            out.append((_compose(steps), forms))
        return out


def read_back(cells: str, contracted: bool = True) -> Reading:
    """Read one line of Unicode braille.

    ``contracted``: the cells are contracted (grade 2) braille.  Raises ValueError for a
    character that is not a six-dot cell.
    """
    for at, cell in enumerate(cells):
        if not "\u2800" <= cell <= "\u283f":
            raise ValueError(f"character {at + 1} is not a cell of six dots")
    reader = Reader(ascii_of(cells), cells, contracted)
    while reader.at < len(cells):
        reader.sign()
    steps = tuple(reader.steps)
    return Reading(_compose(steps), steps)


def _compose(steps: Iterable[Step]) -> str:
    """The print of some steps: accents joined to their letters, the three signs of a common
    fraction made one, raised and lowered digits as such where print has the characters."""
    text = "".join(_print(step) for step in steps)
    text = re.sub(rf"(?<![\d.,])\d+{FRACTION_SLASH}\d+(?!\d)", _fraction, text)
    return unicodedata.normalize("NFC", text.replace(_START, ""))


def _print(step: Step) -> str:
    if step.name == "numeric indicator":
        return _START
    table = _UP if "superscript" in step.forms else _DOWN if "subscript" in step.forms else {}
    return step.print.translate(table)


def _fraction(found: re.Match[str]) -> str:
    """A numeric fraction as one print character, or with raised and lowered digits."""
    above, slash, below = found.group().partition(FRACTION_SLASH)
    whole = above.translate(_UP) + slash + below.translate(_DOWN)
    return _VULGAR.get(found.group(), whole)
