"""The short way for plain words: letters, simple capitals, marks around them.

It gives exactly what the planner gives, or nothing, in which case the planner is asked.
"""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Callable, Sequence
from functools import cache

from .. import signs
from ..cells import Piece
from ..louis_gate import Answer
from . import quotes
from .chars import QUOTES
from .data import data
from .keys import Inserts, Placed
from .letters import Letters
from .notes import LONGEST_ACRONYM, is_respelling
from .runs import BREAKS, Runs

LONGEST = 60
_WORD = r"(?:[A-Z]{2,}|[A-Za-z][a-z]*(?:['’][a-z]+)*)"
_SHAPE = re.compile(rf"([(\[{{“‘\"'’]*)({_WORD}(?:[-–—]{_WORD})*)([.,;:!?…)\]}}”’\"']*)")
_DIGITS = r"\d+(?:[.,]\d+)*"
_NUMBER = re.compile(
    rf"([(\[{{“‘\"'’]*)({_DIGITS}(?:[-–]{_DIGITS})*)(s|st|nd|rd|th|)([.,;:!?…)\]}}”’\"'%]*)",
    re.ASCII,
)
_SEPARATORS = re.compile("([-–—])")
_UPPER_CELL = re.compile(
    "[" + "".join(chr(0x2800 + dots) for dots in range(64) if dots & 0b1001) + "]"
)
_OPENING, _CLOSING = frozenset("oDSn'"), frozenset("cdsn'")
_LETTERS_ALONE = frozenset("aio")
# Beginnings and parts that may look like a shortform (UEB 10.9.5, 10.9.6): the planner decides.
_BEGINNINGS = frozenset(("bl", "ch", "fs", "fr", "gd", "gr", "lr", "ll", "qk"))
_PARTS = ("brl", "grt")
_VOWELS = frozenset("aeiouy")
_DASHES = ("-", "–", "—")
# The marks _SHAPE lets stand before and after a word, and _NUMBER after a number.
_LEAD, _AFTER, _TRAIL = "([{“‘\"'’", ".,;:!?…)]}”’\"'", ".,;:!?…)]}”’\"'%"


# Which of so many cells are indicators: none, or the first.
NO_SIGNS = [bytes(size) for size in range(2 * LONGEST)]
FIRST_SIGN = [b"", *[b"\x01" + bytes(size) for size in range(2 * LONGEST)]]


class _Build:
    """A piece in the making."""

    __slots__ = ("breaks", "cells", "indicators", "origin", "roles", "size")

    def __init__(self, roles: str) -> None:
        self.cells: list[str] = []
        self.origin: list[int] = []
        self.indicators: list[int] = []
        self.breaks: list[int] = []
        self.roles = iter(roles)
        self.size = 0

    def role(self) -> str:
        """The role of the next quotation mark."""
        return next(self.roles, "")

    def add(self, cells: str, at: int) -> None:
        self.cells.append(cells)
        self.origin.extend([at] * len(cells))
        self.size += len(cells)

    def indicate(self, cells: str, at: int) -> None:
        """Add an indicator."""
        self.indicators.extend(range(self.size, self.size + len(cells)))
        self.add(cells, at)

    def piece(self, length: int) -> Piece:
        sign = bytearray(self.size)
        for at in self.indicators:
            sign[at] = 1
        cells = "".join(self.cells)
        return Piece(cells, tuple(self.origin), bytes(sign), length, tuple(self.breaks))


class _Safe(dict[str, Answer | None]):
    """Words in small letters with what ``check`` says of each, asked once."""

    def __init__(self, check: Callable[[str], Answer | None]) -> None:
        super().__init__()
        self._check = check

    def __missing__(self, low: str) -> Answer | None:
        answer = self[low] = self._check(low)
        return answer


class Quick:
    """The short way, for one set of contractions."""

    def __init__(self, letters: Letters) -> None:
        self._letters = letters
        self._first = signs.cells("grade 1 symbol indicator")
        self.capital = signs.cells("capital letter indicator")
        self._capitals = signs.cells("capitals word indicator")
        self._numeric = signs.cells("numeric indicator")
        self._marks = {
            row.print: row.cells for row in signs.signs() if row.kind in ("punctuation", "symbol")
        }
        self._plain = {
            row.print: row.cells
            for kind in ("digit", "letter")
            for row in signs.of_kind(kind).values()
        }
        self.after = {mark: self._marks[mark] for mark in _AFTER if mark not in QUOTES}
        self._short = _shortform_cells()
        self._listed = _listed()
        self._spoken = _spoken()
        self._dresses: dict[tuple[str, str, str, Inserts], tuple[Piece, Piece] | None] = {}
        self.safe = _Safe(self._check).__getitem__
        self._runs = Runs(letters, self.safe, self._listed, self._spoken)

    def plain(self, token: str) -> Piece | None:
        """The piece of a word in small letters, or with a capital first, and at most one mark
        after it that is no quotation mark; None where it may be anything else."""
        core, after = token, ""
        if not token.isalpha():
            core, after = token[:-1], self.after.get(token[-1], "")
            if not after or not core.isalpha() or len(core) == 1:
                return None
        if not core.isascii() or len(core) > LONGEST - 2:
            return None
        low = core.lower()
        answer = self.safe(low)
        if answer is None:
            return None
        cells, origin = answer
        signs = NO_SIGNS
        if core != low:
            if core[1:] != low[1:]:
                return None
            cells, origin, signs = self.capital + cells, (0, *origin), FIRST_SIGN
        if after:
            cells += after
            origin += (len(core),) * len(after)
        return Piece(cells, origin, signs[len(cells)], len(token))

    def piece(self, token: str, roles: str) -> Piece | None:
        """The piece of a token, or None where it is not plain."""
        core = token if token.isalpha() else token.lstrip(_LEAD).rstrip(_AFTER)
        if core.isalpha() and core.isascii() and len(token) < LONGEST:
            return self._bare(token, core, roles)
        match = _SHAPE.fullmatch(token)
        if match is None or len(token) > LONGEST:
            return self._number(token, roles) or self._runs.piece(token, roles)
        return self._dressed(token, match, roles)

    def formed(self, token: str, roles: str, inserts: Inserts) -> Piece | None:
        """The piece of a token that typeform indicators touch only outside its letters or
        digits, or None.  There they change no other sign: a word stands alone beside opening
        ones on its left and terminators on its right (UEB 2.6.2, 2.6.3), and the lower-sign
        rule (10.5.4) never reaches a word the short way takes, as that has an upper dot."""
        core = token.lstrip(_LEAD).rstrip(_AFTER)
        if core.isalpha() and core.isascii() and len(token) < LONGEST:
            return self._bare(token, core, roles, inserts)
        # Beside an indicator a line might end after a mark that begins or ends the word.
        piece = None if {token[0], token[-1]} & BREAKS else self.piece(token, roles)
        if piece is None:
            return None
        begin, end = len(token) - len(token.lstrip(_LEAD)), len(token.rstrip(_TRAIL))
        cells, origin, sign, breaks = piece.cells, piece.origin, piece.sign, piece.breaks
        for at, shown, opens in reversed(inserts):
            if not (at <= begin if opens else at >= end):
                return None
            cut, size = bisect_left(piece.origin, at), len(shown)
            place = min(at, len(token) - 1)
            cells = cells[:cut] + shown + cells[cut:]
            origin = (*origin[:cut], *[place] * size, *origin[cut:])
            sign = sign[:cut] + b"\x01" * size + sign[cut:]
            breaks = tuple([row + size if row > cut else row for row in breaks])
        return Piece(cells, origin, sign, len(token), breaks)

    def _bare(self, token: str, core: str, roles: str, inserts: Inserts = ()) -> Piece | None:
        """A word of letters, with the marks and indicators around it."""
        low = core.lower()
        answer = self.safe(low)
        if answer is None:
            return None
        cells, origin = answer
        shown = ""
        if low != core:
            shown = self._shown(core, low, answer)
            if not shown:
                return None
            cells, origin = shown + cells, (0,) * len(shown) + origin
        sign = b"\x01" * len(shown) + bytes(len(answer[0]))
        if core == token and not inserts:
            return Piece(cells, origin, sign, len(token))
        lead, _, trail = token.partition(core)
        start = len(lead)
        end = start + len(core)
        if inserts:
            inserts = tuple(
                [(at if opens else at - end, signs, opens) for at, signs, opens in inserts]
            )
        key = lead, trail, roles, inserts
        dress = self._dresses[key] if key in self._dresses else self._dress(*key)
        if dress is None:
            return None
        before, after = dress
        if start:
            origin = tuple(map(start.__add__, origin))
        return Piece(
            before.cells + cells + after.cells,
            (*before.origin, *origin, *map(end.__add__, after.origin)),
            before.sign + sign + after.sign,
            len(token),
        )

    def _dress(
        self, lead: str, trail: str, roles: str, inserts: Inserts
    ) -> tuple[Piece, Piece] | None:
        """The marks and indicators before and after letters; None where a quotation mark does
        not fit there, or an indicator stands inside.  ``inserts``: places of those that end
        something are as counted from where the letters end."""
        inside = any(at > len(lead) if opens else at < 0 for at, _cells, opens in inserts)
        before, after = _Build(roles), _Build("")
        after.roles = before.roles
        fits = (
            not inside
            and self._marked(before, lead, len(lead), [row for row in inserts if row[2]])
            and self._marked(after, trail, len(trail) - 1, [row for row in inserts if not row[2]])
        )
        both = (before.piece(len(lead)), after.piece(len(trail))) if fits else None
        self._dresses[lead, trail, roles, inserts] = both
        return both

    def _marked(self, build: _Build, text: str, last: int, inserts: Sequence[Placed]) -> bool:
        """Marks with indicators before, between and after them; false where a mark does not
        fit.  Those after the marks stand for the character at ``last``."""
        fit = _CLOSING if last < len(text) else _OPENING
        for at in range(len(text) + 1):
            for place, cells, _opens in inserts:
                if place == at:
                    build.indicate(cells, min(at, last))
            if not self._around(build, text[at : at + 1], at, fit):
                return False
        return True

    def _shown(self, core: str, low: str, answer: Answer) -> str:
        """The capitals sign of a word with a capital, or nothing where the planner must be
        asked: where the last capital may begin a part of its own (UEB 8.8), and where letters
        may be spoken one by one (10.1.3)."""
        if core[1:] == low[1:]:
            return self.capital
        if not core.isupper() or core in self._spoken:
            return ""
        contracted = self._letters.contracted and len(answer[0]) != len(low)
        return "" if contracted and len(low) <= LONGEST_ACRONYM else self._capitals

    def _dressed(self, token: str, match: re.Match[str], roles: str) -> Piece | None:
        """A word with brackets, quotation marks, apostrophes or hyphens."""
        lead, core, trail = match.groups()
        if "-" in core and self._letters.contracted and is_respelling(token):
            return None
        build = _Build(roles)
        if lead and not self._around(build, lead, 0, _OPENING):
            return None
        start = len(lead)
        for part in _SEPARATORS.split(core) if not core.isalpha() else (core,):
            if part in _DASHES:
                build.add(self._marks[part], start)
                build.breaks.append(build.size)
            elif not self._part(build, part, start):
                return None
            start += len(part)
        if trail and not self._around(build, trail, start, _CLOSING):
            return None
        return build.piece(len(token))

    def _part(self, build: _Build, part: str, start: int) -> bool:
        """Letters with inner apostrophes; false where the planner must be asked."""
        low = part.lower()
        if not low.isalpha():
            low = low.replace("’", "'")
            for _ in range(low.count("'")):
                if build.role() != quotes.APOSTROPHE:
                    return False
        answer = self.safe(low)
        if answer is None:
            return False
        if part != low and part[0] != low[0]:
            shown = self._shown(part.replace("’", "'"), low, answer)
            if not shown:
                return False
            build.indicate(shown, start)
        build.cells.append(answer[0])
        build.size += len(answer[0])
        build.origin.extend([start + place for place in answer[1]])
        return True

    def _around(self, build: _Build, text: str, start: int, fit: frozenset[str]) -> bool:
        """Marks before or after a word; false where a quotation mark does not fit there."""
        for at, char in enumerate(text, start):
            if char in QUOTES:
                role = build.role()
                if role not in fit:
                    return False
                build.add(quotes.cells(role), at)
            else:
                build.add(self._marks[char], at)
        return True

    def _check(self, low: str) -> Answer | None:
        """A word's cells if no rule about its surroundings can touch them."""
        if not self._letters.contracted:
            return self._letters.alone(low)
        if low in self._listed or (len(low) == 1 and low not in _LETTERS_ALONE):
            return None
        head = low.partition("'")[0]
        if head != low and len(head) > 1 and self.safe(head) is None:
            return None
        answer = self._letters.alone(low)
        cells = answer[0]
        if cells[0] == self._first or not _UPPER_CELL.search(cells):
            return None
        if low[:2] in _BEGINNINGS and low[2:3] not in _VOWELS:
            return None
        if _PARTS[0] in low or _PARTS[1] in low:
            return None
        if cells in self._short and self._short[cells] != low:
            return None
        if low[-1] == "s" and self._short.get(cells[:-1], low[:-1]) != low[:-1]:
            return None
        return answer

    def _number(self, token: str, roles: str) -> Piece | None:
        """Numbers joined by hyphens, which end numeric mode (UEB 6.3.1), a decade's or an
        ordinal's letters, which numeric mode keeps uncontracted (6.5.1), and marks around."""
        match = _NUMBER.fullmatch(token)
        if match is None or len(token) > LONGEST:
            return None
        lead, core, letters, trail = match.groups()
        build = _Build(roles)
        if lead and not self._around(build, lead, 0, _OPENING):
            return None
        numeric = False
        for at, char in enumerate(core + letters, len(lead)):
            if not numeric and char.isdigit():
                build.indicate(self._numeric, at)
                numeric = True
            elif char in _DASHES:
                numeric = False
            build.add(self._plain.get(char) or self._marks[char], at)
        if trail and not self._around(build, trail, len(token) - len(trail), _CLOSING):
            return None
        return build.piece(len(token))


@cache
def _spoken() -> frozenset[str]:
    """Capitals a table of exceptions names."""
    return frozenset((*data()["capitals"], *data()["said"]))


@cache
def _shortform_cells() -> dict[str, str]:
    return {row.cells: row.print for row in signs.of_kind("shortform").values()}


@cache
def _listed() -> frozenset[str]:
    """Words a table of exceptions names."""
    tables = (data()["word"], data()["either"], *(pair.split() for pair in data()["pair"]))
    listed = {word for table in tables for word in table}
    for name in ("syllables", "endings of words"):
        listed.update(data()["list"][name]["words"].split())
    # Groupsigns that would read as a strong wordsign (UEB 10.4.2), alone or in the possessive.
    words = {row.cells for row in signs.of_kind("strong wordsign").values()}
    alike = [row.print for row in signs.of_kind("strong groupsign").values() if row.cells in words]
    listed.update(alike, [f"{letters}'s" for letters in alike])
    return frozenset(listed)
