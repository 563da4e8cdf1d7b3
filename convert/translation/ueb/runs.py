"""The short way for a word of several runs of letters and digits: paths, addresses, sizes,
options, words with brackets or slashes inside.

It gives exactly what the planner gives, or nothing, in which case the planner is asked.  Every
run of letters is contracted by itself, as marks on both sides of it part it from the others
(UEB 2.6, 10); what the marks between runs bring with them is decided here.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from functools import cache
from typing import NamedTuple

from .. import signs
from ..cells import Piece
from ..louis_gate import Answer
from . import lookalikes, notes, quotes
from .chars import CLOSING_MARKS, HYPHEN, QUOTES
from .data import data
from .letters import Letters, spelled
from .numbers import ADDRESS

LONGEST = 120
_WORD = re.compile(r"[A-Za-z\d!#$%&()*+,\-./:;<=>@\[\\\]_{}\"^`|~]+", re.ASCII)
_RUN = re.compile(r"[A-Za-z]+|\d+(?:[.,]\d+)*|.", re.ASCII)
_DIGIT_AFTER = re.compile(r"(?<![A-Za-z])\.\d")
BREAKS = frozenset(f"{HYPHEN}/\\")
_LEFT, _RIGHT = frozenset("([{"), frozenset(",;:.!)]}")
_LEFT_ROLES, _RIGHT_ROLES = frozenset("oDSn"), frozenset("cdsn")
_UPPER = frozenset(chr(0x2800 + dots) for dots in range(64) if dots & 0b1001)
_LIKE_DIGITS = frozenset("abcdefghij")
_STOPS = frozenset(".:;")


class _Unfit(Exception):
    """The planner must be asked."""


class _Row(NamedTuple):
    """One sign: its cells, the place in print, whether it is an indicator, and whether an upper
    dot of it counts for the lower-sign rule (UEB 10.5.1)."""

    cells: str
    at: int
    sign: bool = False
    counts: bool = True


class Runs:
    """The short way, for one set of contractions.  ``safe``: the cells of letters that stand
    alone, if no rule about their surroundings can touch them; ``listed``: letters that a table
    of exceptions names."""

    def __init__(
        self,
        letters: Letters,
        safe: Callable[[str], Answer | None],
        listed: frozenset[str],
        spoken: frozenset[str],
    ) -> None:
        self._letters, self._safe = letters, safe
        self._listed, self._spoken = listed, spoken

    def piece(self, token: str, roles: str) -> Piece | None:
        """The piece of a token, or None where it is not plain."""
        if len(token) > LONGEST or not _WORD.fullmatch(token) or self._doubtful(token):
            return None
        try:
            rows = _Walk(token, roles, self).rows
            return _laid(token, rows, self.contracted)
        except _Unfit:
            return None

    @property
    def contracted(self) -> bool:
        return self._letters.contracted

    def _doubtful(self, token: str) -> bool:
        """Whether a person may have to judge the word, or a rule about the whole of it holds."""
        if not any(map(str.isalnum, token)):
            return True
        if _DIGIT_AFTER.search(token) or token.strip(".,;:!").lower() in data()["syllables"]:
            return True
        if HYPHEN in token and notes.is_respelling(token):
            return True
        return not token.isalpha() and bool(lookalikes.of_word(token) or lookalikes.minus(token))

    def letters(self, run: str, left: bool, right: bool) -> Iterator[tuple[int, str]]:
        """The signs of a run of letters, each with the place of its first letter."""
        low = run.lower()
        if low in self._listed or run in self._spoken:
            raise _Unfit
        if left and right:
            answer = self._safe(low)
            if answer is None:
                raise _Unfit
            found = [*zip(answer[1], answer[0], strict=True)]
        else:
            found = [(row.start, row.cells) for row in self._letters.part(low, left, right).groups]
        short = run.isupper() and len(run) <= notes.LONGEST_ACRONYM
        if short and self.contracted and len(found) < len(run):
            raise _Unfit
        yield from found


class _Walk:
    """One walk along a token."""

    def __init__(self, token: str, roles: str, runs: Runs) -> None:
        self.token, self.runs, self.rows = token, runs, list[_Row]()
        self.roles = dict(
            zip([at for at, char in enumerate(token) if char in QUOTES], roles, strict=True)
        )
        if quotes.APOSTROPHE in roles:
            raise _Unfit
        self.numeric = False
        for match in _RUN.finditer(token):
            text, at = match.group(), match.start()
            if text.isalpha():
                self._letters(text, at)
            elif text[0].isdigit():
                self._number(text, at)
            else:
                self._mark(text, at)

    def _letters(self, text: str, at: int) -> None:
        """A run of letters: after a number all are spelled (UEB 6.5.1), and a small a to j
        would read as a digit (6.5.2)."""
        if text[1:] != text[1:].lower() and not text.isupper():
            raise _Unfit
        if self.numeric:
            if ADDRESS.search(self.token):
                raise _Unfit
            before = self.token[at - 1]
            digit = before.isdigit() or (before in ".," and self.token[at - 2 : at - 1].isdigit())
            if digit and text[0] in _LIKE_DIGITS:
                self._sign("grade 1 symbol indicator", at)
        if text[0].isupper():
            several = len(text) > 1 and text.isupper()
            self._sign(f"capital{'s word' if several else ' letter'} indicator", at)
        if self.numeric:
            found = [(row.start, row.cells) for row in spelled(text.lower())]
        else:
            left, right = self._edge_left(at), self._edge_right(at + len(text))
            found = [*self.runs.letters(text, left, right)]
        self.rows.extend([_Row(cells, at + place) for place, cells in found])

    def _number(self, text: str, at: int) -> None:
        self.rows.append(_Row(signs.cells("numeric indicator"), at, True))
        plain = signs.by_print()
        self.rows.extend([_Row(plain[char].cells, place) for place, char in enumerate(text, at)])
        self.numeric = True

    def _mark(self, char: str, at: int) -> None:
        if char in QUOTES:
            self.rows.append(_Row(quotes.cells(self.roles[at]), at, counts=False))
            return
        row = signs.by_print()[char]
        if self.runs.contracted and not self.numeric and self._needs(char, at, row.cells):
            self._sign("grade 1 symbol indicator", at)
        self.rows.append(_Row(row.cells, at))
        if char == HYPHEN:
            self.numeric = False

    def _needs(self, char: str, at: int, cells: str) -> bool:
        """Whether a mark would read as a contraction (UEB 7.1.3, 7.5)."""
        token = self.token
        if at and token[at - 1] == char:
            return False
        after = at + 1
        while token[after : after + 1] == char:
            after += 1
        if not token[after : after + 1].islower():
            return False
        if char in _STOPS and after == at + 1 and self._edge_left(at):
            return True
        return cells in _middle() and at > 0 and token[at - 1].isalpha()

    def _sign(self, name: str, at: int) -> None:
        self.rows.append(_Row(signs.cells(name), at, True, False))

    def _edge_left(self, at: int) -> bool:
        """Whether only the marks of UEB 2.6.2 stand between a place and a space or hyphen."""
        for place in range(at - 1, -1, -1):
            char = self.token[place]
            if char == HYPHEN:
                return True
            if char not in _LEFT and self.roles.get(place, "") not in _LEFT_ROLES:
                return False
        return True

    def _edge_right(self, at: int) -> bool:
        """The same to the right, with the marks of UEB 2.6.3."""
        for place in range(at, len(self.token)):
            char = self.token[place]
            if char == HYPHEN:
                return True
            if char not in _RIGHT and self.roles.get(place, "") not in _RIGHT_ROLES:
                return False
        return True


def _laid(token: str, rows: list[_Row], contracted: bool) -> Piece:
    """Signs end to end, with the places where a line may end (UEB 10.13.2)."""
    uppers = [at for at, row in enumerate(rows) if row.counts and not _UPPER.isdisjoint(row.cells)]
    if contracted and not uppers:
        raise _Unfit
    origin: list[int] = []
    sign = bytearray()
    breaks: list[int] = []
    for number, (cells, at, is_sign, _counts) in enumerate(rows):
        origin.extend([at] * len(cells))
        sign.extend([is_sign] * len(cells))
        if token[at] in BREAKS and not is_sign and 0 < number < len(rows) - 1:
            after = token[at + 1]
            if after == token[at] or after in CLOSING_MARKS or (token[at - 1] + after).isdigit():
                continue
            if contracted and not uppers[0] <= number < uppers[-1]:
                raise _Unfit
            breaks.append(len(origin))
    cells = "".join([row.cells for row in rows])
    return Piece(cells, tuple(origin), bytes(sign), len(token), tuple(breaks))


@cache
def _middle() -> frozenset[str]:
    return frozenset(row.cells for row in signs.of_kind("middle groupsign").values())
