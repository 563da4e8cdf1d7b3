"""A word looked at: its units, what each is, and which letters stand alone (UEB 2.6)."""

from __future__ import annotations

from bisect import bisect_left
from typing import NamedTuple

from . import capitals, chars, quotes
from .chars import (
    DASHES,
    DIGIT,
    FRACTION,
    HYPHEN,
    LETTER,
    QUOTE,
    SUBSCRIPT,
    SUPERSCRIPT,
    Unit,
)
from .word import Insert, Word

APOSTROPHE = "a"
# Quotation marks whose direction print alone shows stand on either side («so», »so«).
_LEFT_MARKS = frozenset("([{").union(chars.GUILLEMETS)
_RIGHT_MARKS = frozenset(",;:.…!?)]}").union(chars.GUILLEMETS)
_LEFT_ROLES, _RIGHT_ROLES = tuple("oDSn"), tuple("cdsn")
_ORDINALS = frozenset(("st", "nd", "rd", "th"))


class Letters(NamedTuple):
    """A letters-sequence with its inner apostrophes: units ``start`` to ``end``.

    ``left``/``right``: whether a word's edge is on that side; alone if on both.
    """

    start: int
    end: int
    left: bool
    right: bool

    @property
    def alone(self) -> bool:
        return self.left and self.right


_TYPED_MINUS = frozenset("-‐‑–")


class Frame:
    """The facts of one word that do not depend on contractions.

    ``kinds``, ``roles``, ``levels``, ``in_passage``, ``foreign`` and ``after_number`` have one
    entry a unit; ``inserts`` and ``capital_signs`` are by the unit they stand before.
    """

    def __init__(self, word: Word) -> None:
        self.word = word
        self.units = chars.units(word.text)
        self.starts = [unit.start for unit in self.units]
        self.size = len(self.units)
        self.kinds = [chars.kind(unit.text) for unit in self.units]
        self.roles = self._roles()
        self.levels = [unit.level for unit in self.units]
        self.ordinals: list[tuple[int, int]] = []
        self.minuses: list[Unit] = []
        self._set_levels()
        self._raised_minuses()
        self._merge_fractions()
        self.faces = [chars.letter(unit.text) for unit in self.units]
        # What the contraction table is shown for each unit of a letters-sequence.
        self.gates = [face.gate if face else "'" for face in self.faces]
        self.inserts: dict[int, list[Insert]] = {}
        for insert in word.inserts:
            self.inserts.setdefault(self.index(insert.at), []).append(insert)
        self.divides = {self.index(at) for at in word.divide}
        self.in_passage = self._stretch(tuple(row[:2] for row in word.capitals))
        self.foreign = self._stretch(word.foreign)
        self.readings = [""] * self.size
        for start, end, how in word.readings:
            for at in range(self.index(start), self.index(end)):
                self.readings[at] = how
        self.after_number = self._after_number()
        self.capital_signs: dict[int, list[str]] = {}
        self._capitals()
        self.letters = self._letters()

    def index(self, at: int) -> int:
        """The first unit at or after a place of the word."""
        return bisect_left(self.starts, at)

    def text(self, start: int, end: int) -> str:
        return "".join([unit.text for unit in self.units[start:end]])

    def _roles(self) -> list[str]:
        if QUOTE not in self.kinds:
            return [""] * self.size
        given = iter(self.word.roles)
        out = []
        for at, kind in enumerate(self.kinds):
            role = next(given, quotes.APOSTROPHE) if kind == QUOTE else ""
            if role == quotes.APOSTROPHE:
                self.kinds[at] = APOSTROPHE
            out.append(role)
        return out

    def _stretch(self, spans: tuple[tuple[int, int], ...]) -> list[bool]:
        out = [False] * self.size
        for start, end in spans:
            for at in range(self.index(start), self.index(end)):
                out[at] = True
        return out

    def _set_levels(self) -> None:
        """Levels from the typeform; a raised ordinal ending stays on the line (UEB 6.7.1)."""
        for start, end, level in self.word.levels:
            low, high = self.index(start), self.index(end)
            if self.text(low, high).lower() in _ORDINALS and low and self.kinds[low - 1] == DIGIT:
                self.ordinals.append((start, end))
                continue
            for at in range(low, high):
                self.levels[at] = level

    def _raised_minuses(self) -> None:
        """A hyphen or dash at the edge of a raised or lowered stretch with no letters in it is a
        minus sign: an exponent or a charge (UEB 3.24, GTM 3)."""
        if not any(self.levels):
            return
        at = 0
        while at < self.size:
            end = at + 1
            while end < self.size and self.levels[end] == self.levels[at]:
                end += 1
            row = [place for place in range(at, end) if self.kinds[place] != DIGIT]
            based = at and (
                self.units[at - 1].text[-1].isalnum() or self.units[at - 1].text in ")]"
            )
            if based and self.levels[at] and len(row) == 1 and row[0] in (at, end - 1):
                unit = self.units[row[0]]
                if unit.text in _TYPED_MINUS and not self._is_read(unit):
                    self.minuses.append(unit)
                    self.units[row[0]] = unit._replace(text="−")
            at = end

    def _is_read(self, unit: Unit) -> bool:
        """Whether a person has said how a character is read."""
        return any(start <= unit.start < end for start, end, _how in self.word.readings)

    def _merge_fractions(self) -> None:
        """Raised digits, a fraction slash and lowered digits become one fraction (UEB 6.2.1)."""
        if self.word.text.isascii():
            return
        slashes = [at for at, unit in enumerate(self.units) if unit.text == "\u2044"]
        stretches = [row for row in map(self._fraction_around, slashes) if row[1] > row[0]]
        for low, high in reversed(stretches):
            start, end = self.units[low].start, self.units[high - 1].end
            self.units[low:high] = [Unit(self.text(low, high), start, end)]
            self.kinds[low:high], self.roles[low:high] = [FRACTION], [""]
            self.levels[low:high] = [0]
        if stretches:
            self.starts = [unit.start for unit in self.units]
            self.size = len(self.units)

    def _fraction_around(self, slash: int) -> tuple[int, int]:
        """The units of the fraction about a slash; an empty stretch if there is none."""
        low, high = slash, slash + 1
        while low and self.levels[low - 1] == SUPERSCRIPT and self.kinds[low - 1] == DIGIT:
            low -= 1
        while high < self.size and self.levels[high] == SUBSCRIPT and self.kinds[high] == DIGIT:
            high += 1
        return (low, high) if low < slash and high > slash + 1 else (slash, slash)

    def _after_number(self) -> list[bool]:
        """Whether a number has set grade 1 mode at each unit (UEB 6.5.1)."""
        if DIGIT not in self.kinds and FRACTION not in self.kinds:
            return [False] * self.size
        out, on = [], False
        for kind, unit in zip(self.kinds, self.units, strict=True):
            out.append(on)
            if kind in (DIGIT, FRACTION):
                on = True
            elif unit.text == HYPHEN or unit.text in DASHES:
                on = False
        return out

    def _capitals(self) -> None:
        upper = [face is not None and face.capital for face in self.faces]
        at = 0 if any(upper) else self.size
        while at < self.size:
            if self.kinds[at] != LETTER or self.in_passage[at]:
                at += 1
                continue
            end = at + 1
            while self._same_sequence(at, end):
                end += 1
            text = self.text(at, end)
            apart = self.in_formula(end, text)
            for place, name in capitals.inside(text, upper[at:end], apart):
                self.capital_signs.setdefault(at + place, []).append(name)
            at = end

    def in_formula(self, end: int, text: str) -> bool:
        """Whether letters up to ``end`` are chemical symbols before a lowered number, which
        take no contractions (GTM 16)."""
        lowered = end < self.size and self.levels[end] == SUBSCRIPT and self.kinds[end] == DIGIT
        return lowered and capitals.is_formula(text)

    def _same_sequence(self, at: int, end: int) -> bool:
        return (
            end < self.size
            and self.kinds[end] == LETTER
            and not self.in_passage[end]
            and end not in self.inserts
            and self.levels[end] == self.levels[at]
        )

    def _letters(self) -> list[Letters]:
        out: list[Letters] = []
        at = 0
        while at < self.size:
            if self.kinds[at] != LETTER:
                at += 1
                continue
            end = at + 1
            while end < self.size and self.levels[end] == self.levels[at]:
                inner = self.kinds[end] == APOSTROPHE and self.kinds[end + 1 : end + 2] == [LETTER]
                if self.kinds[end] != LETTER and not (inner and self._joined(end)):
                    break
                end += 1
            raised = bool(self.levels[at])
            left = not raised and self.edge_left(at)
            out.append(Letters(at, end, left, not raised and self._edge_right(end)))
            at = end
        return out

    def _joined(self, at: int) -> bool:
        """Whether nothing stands between an apostrophe and its neighbours."""
        return not any(place in self.inserts or place in self.divides for place in (at, at + 1))

    def edge_left(self, at: int) -> bool:
        """Whether only the marks of UEB 2.6.2 stand between a unit and a space, hyphen or dash."""
        while True:
            if at in self.inserts and not all(insert.opens for insert in self.inserts[at]):
                return False
            at -= 1
            if at < 0:
                return True
            text, kind = self.units[at].text, self.kinds[at]
            if text == HYPHEN or text in DASHES:
                return not self.levels[at]
            if self.levels[at] or not (
                text in _LEFT_MARKS or kind == APOSTROPHE or self.roles[at] in _LEFT_ROLES
            ):
                return False

    def _edge_right(self, at: int) -> bool:
        """The same to the right, with the marks of UEB 2.6.3."""
        while True:
            if at in self.inserts and any(insert.opens for insert in self.inserts[at]):
                return at >= self.size
            if at >= self.size:
                return True
            text, kind = self.units[at].text, self.kinds[at]
            if text == HYPHEN or text in DASHES:
                return not self.levels[at]
            if self.levels[at] or not (
                text in _RIGHT_MARKS or kind == APOSTROPHE or self.roles[at] in _RIGHT_ROLES
            ):
                return False
            at += 1
