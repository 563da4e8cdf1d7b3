"""Letters to contracted signs: what the contraction table says, and where UEB 10.9 overrules it."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from typing import NamedTuple

from .. import signs
from ..louis_gate import Answer, Gate, Group, Groups, Placed
from . import inside
from .data import data

NONE, SYMBOL, WORD = 0, 1, 2
# Shortforms that also stand inside longer words (UEB 10.9.3): anywhere, or at the beginning
# where no vowel or y follows.
_ANYWHERE = ("braille", "great")
_AT_BEGINNING = ("blind", "children", "first", "friend", "good", "letter", "little", "quick")
_VOWELS = frozenset("aeiouy")
_NO_INDICATOR = frozenset("aio")
# What may follow a wordsign after an apostrophe (UEB 10.1.2, 10.2.2).
_ENDINGS = frozenset(("", "d", "ll", "re", "s", "t", "ve"))


class Part(NamedTuple):
    """Letters as signs.  ``need``: which grade 1 indicator they need if contracted."""

    groups: Groups
    need: int


@cache
def _sign_cells(letters: str) -> str:
    """The cells of one letter or groupsign, by its letters."""
    for row in signs.signs():
        if row.print == letters and (row.is_contraction or row.kind == "letter"):
            return row.cells
    return "".join(signs.of_kind("letter")[char].cells for char in letters)


def spelled(text: str) -> Groups:
    """Every letter by itself; an apostrophe keeps its own sign."""
    return tuple(Group(at, at + 1, _one(char)) for at, char in enumerate(text))


def shifted(groups: Groups, by: int) -> Groups:
    """Groups moved along their text."""
    return tuple(Group(start + by, end + by, cells) for start, end, cells in groups)


@cache
def _one(char: str) -> str:
    row = signs.by_print().get(char)
    return row.cells if row else ""


def _written(spec: str) -> Groups:
    """An exception's signs (``"c a p t a in e s s"``) as groups."""
    out, at = [], 0
    for sign in spec.split():
        out.append(Group(at, at + len(sign), _sign_cells(sign)))
        at += len(sign)
    return tuple(out)


def cells_of(groups: Groups) -> str:
    """The cells of groups laid end to end."""
    return "".join([group.cells for group in groups])


@cache
def _groupsigns() -> frozenset[str]:
    """Letters that are one sign anywhere but where they stand alone (UEB 10.4.2, 10.6.8)."""
    return frozenset(signs.of_kind("strong groupsign")) | {"en", "in"}


@cache
def shortforms() -> dict[str, str]:
    return {row.cells: row.print for row in signs.signs() if row.kind == "shortform"}


@cache
def _spelling(word: str) -> str:
    """A shortform's cells read as print letters, groupsigns opened (``grt``, ``fst``, ``chn``)."""
    back = {row.cells: row.print for row in signs.signs() if row.kind == "strong groupsign"}
    back.update({row.cells: row.print for row in signs.of_kind("letter").values()})
    return "".join(back.get(cell, " ") for cell in signs.of_kind("shortform")[word].cells)


@cache
def _strong() -> dict[str, str]:
    return {row.cells: row.print for row in signs.of_kind("strong wordsign").values()}


def _not_the_word(text: str, groups: Groups) -> Groups:
    """Letters whose groupsign would read as a strong wordsign where they stand alone, spelled:
    ch, sh, th, wh, ou, st (UEB 10.4.2)."""
    head, _, tail = text.partition("'")
    first = groups[0]
    if tail not in _ENDINGS or first.end != len(head) or _strong().get(first.cells, head) == head:
        return groups
    return (*spelled(head), *groups[1:])


class Letters:
    """The contracted signs of letters in a context; without a gate every letter is spelled."""

    def __init__(self, gate: Gate | None) -> None:
        self._gate = gate
        self._known: dict[tuple[str, bool, bool], Part] = {}
        # Capitals this work shows to be spoken one by one, and how it shows it.
        self.said: dict[str, str] = {}

    @property
    def contracted(self) -> bool:
        return self._gate is not None

    def alone(self, text: str) -> Answer:
        """The cells of letters that stand alone, and for each the letter it stands for."""
        if self._gate is not None:
            if inside.is_parted(text):
                groups = inside.parted(text, True, True, self._gate.contract)
                return cells_of(groups), tuple([row.start for row in groups for _ in row.cells])
            if inside.may_be_wrong(text):
                groups = inside.corrected(text, self._gate.contract(text), self._gate.contract)
                places = [group.start for group in groups for _ in group.cells]
                return cells_of(groups), tuple(places)
            return self._gate.alone(text)
        cells = [_one(char) for char in text]
        return "".join(cells), tuple(range(len(text)))

    def learn(self, words: Iterable[str], parts: Iterable[Placed] = ()) -> None:
        """Prepare the signs of words in small letters, and of letters in a context."""
        if self._gate is not None:
            self._gate.learn(words, parts)

    def written(self, spec: str) -> Groups:
        """Signs named in the table of exceptions."""
        return _written(spec)

    def part(self, text: str, left: bool, right: bool) -> Part:
        """The signs of ``text`` (lower case).  ``left``/``right``: that end is a word's edge."""
        key = (text, left, right)
        found = self._known.get(key)
        if found is None:
            found = self._known[key] = self._work_out(text, left, right)
        return found

    def spelled(self, text: str, left: bool, right: bool) -> Part:
        """The signs of ``text`` (lower case) letter by letter, and the grade 1 indicator they
        need where they would read as a wordsign or shortform (UEB 5.2, 10.9.5, 10.9.6)."""
        groups = spelled(text)
        if self._gate is None or not (left and right) or not text.isalpha():
            return Part(groups, NONE)
        if len(text) == 1:
            return Part(groups, NONE if text in _NO_INDICATOR else SYMBOL)
        return self._beside_shortforms(text, groups)

    def _work_out(self, text: str, left: bool, right: bool) -> Part:
        if self._gate is None:
            return Part(spelled(text), NONE)
        special = data()["word"].get(text)
        if special:
            return Part(_written(special["signs"]), NONE)
        if inside.is_parted(text):
            return Part(inside.parted(text, left, right, self._gate.contract), NONE)
        groups = self._gate.contract(text, left, right)
        if left and right and inside.may_be_wrong(text):
            groups = inside.corrected(text, groups, self._gate.contract)
        flagged = bool(groups) and groups[0].cells[:1] == signs.cells("grade 1 symbol indicator")
        if flagged:
            groups = (groups[0]._replace(cells=groups[0].cells[1:]), *groups[1:])
        if not (left and right):
            whole = text in _groupsigns() and (text != "ing" or not left)
            return Part(_written(text) if whole else groups, NONE)
        if len(text) == 1:
            alike = text.isascii() and text.isalpha() and text not in _NO_INDICATOR
            return Part(groups, SYMBOL if alike else NONE)
        groups = _not_the_word(text, groups)
        if "'" in text:
            need = SYMBOL if flagged and text[1] == "'" else self._before_apostrophe(text)
            return Part(spelled(text) if need == WORD else groups, need)
        return self._beside_shortforms(text, groups)

    def _before_apostrophe(self, text: str) -> int:
        """The indicator of letters with 's and the like that would read as a shortform with it,
        as the rules let shortforms have such endings (UEB 10.9.2, 10.9.5)."""
        head, _, tail = text.partition("'")
        return self.part(head, True, True).need if tail in _ENDINGS and len(head) > 1 else NONE

    def _beside_shortforms(self, text: str, groups: Groups) -> Part:
        """Letters that would read as a shortform (UEB 10.9.4, 10.9.5, 10.9.6)."""
        if not text.isascii():
            return Part(groups, NONE)
        cells = cells_of(groups)
        if self._reads_as_shortform(text, cells):
            shorter = len(cells) < len(text)
            if shorter and not self._reads_as_shortform(text, cells_of(spelled(text))):
                return Part(spelled(text), NONE)
            return Part(groups, SYMBOL)
        for word in (*_AT_BEGINNING, *_ANYWHERE):
            short = _spelling(word)
            if text.startswith(short) and not text.startswith(word):
                after = text[len(short) : len(short) + 1]
                if word in _ANYWHERE or (after and after not in _VOWELS):
                    return self._not_shortened(text, short, groups)
        if any(_spelling(word) in text[1:] for word in _ANYWHERE):
            return Part(spelled(text), WORD)
        return Part(groups, NONE)

    def _not_shortened(self, text: str, short: str, groups: Groups) -> Part:
        """Letters that begin as a shortform does: a groupsign of it is not used (UEB 10.9.4),
        and where it has none, the grade 1 indicator tells (10.9.5)."""
        if all(group.end - group.start == 1 for group in groups if group.start < len(short)):
            return Part(groups, SYMBOL)
        rest = self.part(text[len(short) :], False, True).groups
        return Part((*spelled(short), *shifted(rest, len(short))), NONE)

    def _reads_as_shortform(self, text: str, cells: str) -> bool:
        word = shortforms().get(cells)
        if word is not None:
            return word != text
        plural = _sign_cells("s")
        word = shortforms().get(cells[:-1]) if cells.endswith(plural) else None
        if word is None or self._gate is None or text == word + "s":
            return False
        return cells_of(self._gate.contract(word + "s")) == cells
