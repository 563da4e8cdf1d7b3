"""Words that may be divided at a line end: where, and the cells on both sides (UEB 6.10, 10.13).

A divided word is the planner's own work: it is given the word with a line end in it, so that
every rule of 10.13 holds; what differs from the undivided word is kept as a Division.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

from .. import signs
from ..cells import BLANK, Division, Piece
from .letters import NONE, Letters, cells_of, shortforms
from .word import Planned, Word

Plan = Callable[[Word], Planned]
# A word of letters alone, with marks about it: no compound, which ends a line at its hyphen
# (10.13.2), no address, no abbreviation with points.
_WORD = re.compile(r"[\"'“”‘’(\[{]*([A-Za-z]{5,})(?:['’][a-z]{1,2})?[\"'“”‘’)\]},;:.!?…]*")
# Acronyms, which have no syllables, are hardly ever longer (common practice, no source).
_LONGEST_ACRONYM = 5
# A word of fewer cells saves nothing (common practice, no source; 10.13.1).
_FEWEST_CELLS = 5
# An address or number that leaves fewer cells of the line free is divided in any case.
_LONG = 10
# Digits on both sides of a separating comma (6.10.1), or of a space of the number (6.10.2).
_NUMBER = re.compile(r"(?<=\d),(?=\d{3})|(?<=\d)[\u00a0\u2007\u2008\u2009\u202f ](?=\d)")
# Addresses, file names and names in programs go on after a mark between two parts (6.10; of names
# in programs common practice, no source).
_ADDRESS = re.compile(
    r"[\w.+-]+@[\w-]+\.[\w.-]+|(?:\w+://|www\.)\S+|\S*[/\\][^\s/\\]*\.\w{1,5}|\S*\w_\w\S*",
    re.A,
)
_AFTER = re.compile(r"(?<=\w)[./\\@_=?&+](?=\w)")


def long_word(line: int) -> int:
    """The cells of a word about as long as a line of ``line`` cells."""
    return line - _LONG + 1


class Divider:
    """The places of division of words.

    ``syllables`` finds those of letters in small letters; without it only numbers and addresses
    are divided.  Words of fewer than ``fewest`` cells are left whole.
    """

    def __init__(
        self,
        letters: Letters,
        plan: Plan,
        syllables: Callable[[str], tuple[int, ...]] | None,
        fewest: int = _FEWEST_CELLS,
    ) -> None:
        self._letters, self._plan, self._syllables = letters, plan, syllables
        self.fewest = fewest

    @property
    def divides_words(self) -> bool:
        """Whether words of letters are divided too."""
        return self._syllables is not None

    def divided(self, piece: Piece, word: Word) -> Piece:
        """The piece with the divisions of its word, if it may be divided."""
        if len(piece.cells) < self.fewest or word.divide or word.room:
            return piece
        # What the next line begins with, by the cell it goes on from.
        leads = dict.fromkeys(piece.breaks, "")
        rows = (self._division(piece, word, place, leads) for place in self._places(word))
        found = tuple(row for row in rows if row is not None)
        return piece._replace(divisions=found) if found else piece

    def _division(
        self, piece: Piece, word: Word, place: int, leads: dict[int, str]
    ) -> Division | None:
        """What a line end changes in a word; None where the cells after it are all others."""
        divided = self._plan(word._replace(divide=(place,))).piece
        cut = divided.cells.find(BLANK)
        if not 0 < cut < len(divided.cells) - 1:
            return None
        head, tail = (divided.cells[:cut], divided.cells[cut + 1 :])
        if divided.origin[cut - 1] != divided.origin[cut] and word.text[place - 1] != "/":
            head += signs.cells("line continuation")
        origin = divided.origin[:cut] + (divided.origin[cut],) * (len(head) - cut)
        start = min(divided.origin[cut + 1 :])
        end = _same_start(piece, head, origin)
        low = min(piece.origin[end:])
        rest = [*_same_ends(piece, tail, divided.origin[cut + 1 :], end)]
        for resume in rest:
            lead = tail[: len(tail) - len(piece.cells) + resume]
            high = min(piece.origin[resume:])
            if leads.setdefault(resume, lead) == lead and low <= start <= high:
                before = _part(head[end:], origin[end:], low, start)
                after = _part(lead, divided.origin[cut + 1 :][: len(lead)], start, high)
                return Division(end, resume, before, low, after, start)
        return None

    def _places(self, word: Word) -> tuple[int, ...]:
        match = _WORD.fullmatch(word.text)
        if match is None and _ADDRESS.fullmatch(word.text):
            return tuple(row.end() for row in _AFTER.finditer(word.text))
        if match is None:
            return tuple(
                row.start() + (not row[0].isspace()) for row in _NUMBER.finditer(word.text)
            )
        text = match[1]
        if self._syllables is None or word.foreign or word.levels or word.spelled >= 0:
            return ()
        if text.isupper() and len(text) <= _LONGEST_ACRONYM:
            return ()
        whole = self._shortforms(text.lower())
        return tuple(
            match.start(1) + at
            for at in self._syllables(text.lower())
            if not any(low < at < high for low, high in whole)
            and not self._misread(text[:at].lower(), True)
            and not self._misread(text[at:].lower(), False)
        )

    def _misread(self, part: str, first: bool) -> bool:
        """Whether part of a word would be read as a shortform (10.9.5): no place to divide."""
        if not self._letters.contracted:
            return False
        if self._letters.part(part, True, True).need != NONE:
            return True
        cells = cells_of(self._letters.part(part, first, not first).groups)
        return shortforms().get(cells, part) != part

    def _shortforms(self, text: str) -> list[tuple[int, int]]:
        """The stretches of a word written as shortforms, which are not divided (10.13.12)."""
        if not self._letters.contracted:
            return []
        shown = cells_of(self._letters.part(text, True, True).groups)
        return [
            (match.start(), match.end())
            for row in signs.signs()
            if row.kind == "shortform" and row.print in text and row.cells in shown
            for match in re.finditer(row.print, text)
        ]


def _same_start(piece: Piece, head: str, origin: tuple[int, ...]) -> int:
    """How many cells of whole signs a word and its divided form begin with alike."""
    at, most = 0, min(len(head), len(piece.cells)) - 1
    while at < most and (head[at], origin[at]) == (piece.cells[at], piece.origin[at]):
        at += 1
    while at and piece.origin[at] == piece.origin[at - 1]:
        at -= 1
    return at


def _same_ends(piece: Piece, tail: str, origin: tuple[int, ...], start: int) -> Iterator[int]:
    """The cells, from the earliest, from which a word and what follows its division are alike
    to the end."""
    size = len(piece.cells)
    at = size
    while at > max(start, 1) and size - at < len(tail):
        back = at - 1 - size
        if (tail[back], origin[back]) != (piece.cells[back], piece.origin[back]):
            break
        at -= 1
    for cell in range(at, size):
        if piece.origin[cell] != piece.origin[cell - 1]:
            yield cell


def _part(cells: str, origin: tuple[int, ...], low: int, high: int) -> Piece:
    """Cells that stand for the print from ``low`` to ``high`` of the word."""
    last = max(0, high - low - 1)
    places = tuple(min(max(0, at - low), last) for at in origin)
    return Piece(cells, places, bytes(len(cells)), high - low)
