"""Letters-sequences of contracted braille, read back: which sign is a contraction, and which.

A letters-sequence is an unbroken string of letters and contractions (UEB 2.6).  Cells are
North American ASCII braille in lower case throughout.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import islice

from . import back_tables as tables
from .signs import Sign

# What may stand between a word and its right bound (UEB 2.6.3), and the bound itself (2.6.1).
_CLOSERS = re.compile(
    r"""(?: 444 | [123468] | 0 | ,[07] | [_^]0 | ["._]> | @\.> | [._@^"]?\#?' | ,' )*"""
    r"""(?= [ ] | $ | ",- | ,- | - )""",
    re.VERBOSE,
)
# Of these, what has upper dots or is an indicator: be, were, his and was may stand before it.
_UPPER_CLOSERS = re.compile(r"""(?: ["._]> | @\.> | [._@^]' | [._@^"]\#' | ,' )+""", re.VERBOSE)
# Longer runs of cells are no word with a shortform; no word has more readings worth a look.
_LONGEST_WORD, _MOST_READINGS = 40, 500
_LIGATURE = re.compile(r"[a-z],?\^6[a-z]")
_VOWELS = frozenset("aeiouy")


@dataclass(frozen=True, slots=True)
class Group:
    """One sign of a letters-sequence: its cells and what it stands for."""

    cells: str
    sign: Sign

    @property
    def print(self) -> str:
        return self.sign.print


def closed(text: str, at: int) -> bool:
    """Whether only closing marks stand between ``at`` and a space, hyphen or dash (UEB 2.6.3)."""
    return _CLOSERS.match(text, at) is not None


def bare(text: str, at: int) -> bool:
    """As :func:`closed`, but no mark of only lower dots straight after (UEB 10.5)."""
    found = _UPPER_CLOSERS.match(text, at)
    return closed(text, found.end()) if found else text[at : at + 1] in ("", " ")


def word_closed(text: str, at: int) -> bool:
    """Whether a wordsign may end at ``at``: closed, or before 'd 'll 're 's 't 've (10.1.2)."""
    if closed(text, at):
        return True
    if text[at : at + 1] != "'":
        return False
    rest = at + 1
    while text[rest : rest + 1] == ",":
        rest += 1
    ends = tables.rules().endings
    return any(text.startswith(end, rest) and closed(text, rest + len(end)) for end in ends)


def letterish(text: str, at: int) -> bool:
    """Whether a letter or a contraction begins at ``at``, so that lower signs before it may
    be contractions."""
    cell = text[at : at + 1]
    if cell in tables.contraction("middle groupsign"):
        return letterish(text, at + 1)
    if cell in tables.groups() or cell in tables.lower_anywhere():
        return True
    pair = text[at : at + 2]
    return (
        pair in tables.contraction("initial-letter contraction")
        or pair in tables.contraction("final-letter groupsign")
        or (pair in tables.modifiers() and text[at + 2 : at + 3] in tables.letters())
    )


def _after_letter(text: str, at: int) -> Sign | None:
    """A sign that needs a letter before it: final-letter groupsigns and ea bb cc ff gg."""
    final = tables.contraction("final-letter groupsign").get(text[at : at + 2])
    if final:
        return final
    middle = tables.contraction("middle groupsign").get(text[at : at + 1])
    return middle if middle and letterish(text, at + 1) else None


def _anywhere(text: str, at: int) -> Sign | None:
    """A letter or a contraction of any place."""
    initial = tables.contraction("initial-letter contraction").get(text[at : at + 2])
    cell = text[at : at + 1]
    return initial or tables.groups().get(cell) or tables.lower_anywhere().get(cell)


def group_at(text: str, at: int, first: bool, after: bool) -> Group | None:
    """The sign at ``at`` as part of a word.

    ``first``: a word begins here (UEB 2.6.2); ``after``: a letter stands just before.
    """
    sign = None
    if first and letterish(text, at + 1):
        sign = tables.starting().get(text[at : at + 1])
    if sign is None and after:
        sign = _after_letter(text, at)
    if sign is None:
        sign = _anywhere(text, at)
    return Group(text[at : at + len(sign.cells)], sign) if sign else None


def sequence(text: str, at: int, first: bool, after: bool) -> list[Group]:
    """The letters-sequence that begins at ``at``, read as letters and groupsigns."""
    out: list[Group] = []
    while group := group_at(text, at, first and not out, after or bool(out)):
        if _LIGATURE.match(text, at):
            break
        out.append(group)
        at += len(group.cells)
    return out


def width(groups: list[Group]) -> int:
    """Cells of some signs."""
    return sum(len(group.cells) for group in groups)


def spelled(groups: list[Group]) -> str:
    """The letters of some signs."""
    return "".join(group.print for group in groups)


def standing_alone(text: str, at: int, groups: list[Group]) -> list[Group] | None:
    """The same cells read as a wordsign, a shortform or a longer word with a shortform.

    To be asked only of a sequence whose left side is open (UEB 2.6.2); ``None`` if its right
    side is not, or it is no such word.
    """
    end = at + width(groups)
    cells = text[at:end]
    whole = tables.alone().get(cells)
    if whole and word_closed(text, end):
        return [Group(cells, whole)]
    if not word_closed(text, end):
        return None
    return _longer(cells)


def _longer(cells: str) -> list[Group] | None:
    """A longer word that has a shortform in it (UEB 10.9.2, 10.9.3, Appendix 1)."""
    if len(cells) > _LONGEST_WORD:
        return None
    readings = islice(_with_shortforms(cells, True), _MOST_READINGS)
    return next((groups for groups in readings if _allowed(groups)), None)


def _with_shortforms(cells: str, first: bool) -> Iterator[list[Group]]:
    """Every reading of the cells with one shortform or more in it, the longest ones first."""
    table = tables.contraction("shortform")
    for short in sorted(table, key=lambda row: (-len(row), row)):
        at = cells.find(short)
        while at >= 0:
            before = sequence(cells[:at], 0, first, not first)
            if width(before) == at:
                rest = cells[at + len(short) :]
                middle = [*before, Group(short, table[short])]
                for after in _with_shortforms(rest, False) if rest else ():
                    yield [*middle, *after]
                after = sequence(rest, 0, False, True)
                if width(after) == len(rest):
                    yield [*middle, *after]
            at = cells.find(short, at + 1)


def _allowed(groups: list[Group]) -> bool:
    """Whether the rules use every shortform of the word where it stands."""
    rules = tables.rules()
    word = spelled(groups)
    if len(groups[0].print) == 1 and word.startswith(tuple(rules.start)):
        return False  # be, con and dis at the beginning of a word are contracted
    if word in rules.words or word.removesuffix("s") in rules.words:
        return True
    if len(groups) == 2 and groups[1].print == "s" and groups[0].sign.kind == "shortform":
        return groups[0].print not in rules.never_with_s
    return all(
        _placed(group.print, not at, spelled(groups[at + 1 :])[:1])
        for at, group in enumerate(groups)
        if group.sign.kind == "shortform"
    )


def _placed(short: str, first: bool, after: str) -> bool:
    """Whether UEB 10.9.3 uses the shortform at such a place of any word."""
    rules = tables.rules()
    if short in rules.anywhere:
        return True
    consonant = after not in _VOWELS
    return consonant and (short in rules.before_consonant or (first and short in rules.at_start))


def is_lower(cell: str) -> bool:
    """Whether a cell has neither dot 1 nor dot 4 (UEB 2.1)."""
    return cell in "123456789'0-"


def is_upper(cell: str) -> bool:
    """Whether a cell has dot 1 or dot 4 (UEB 2.1)."""
    return not is_lower(cell)
