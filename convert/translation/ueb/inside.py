"""Where the contraction table is wrong inside words.

Shortforms (UEB 10.9.2, 10.9.3): it writes *after*, *blind* and *friend* in any word (misfriend),
and prefers another contraction to *braille* and *great* in a few (subbraille, nongreat).  Other
contractions (10.6, 10.7, 10.11): it writes some over the parts of a word (short-hair).
"""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache
from itertools import pairwise

from .. import back_tables, signs
from ..louis_gate import Group, Groups
from .data import data

Contract = Callable[[str, bool, bool], Groups]
_ENDS = ("'s", "s")
_VOWELS = frozenset("aeiouy")
_PARTED, _BE = ("parted", "begun"), "be"


@cache
def _odd() -> re.Pattern[str]:
    """Letters the contraction table may get wrong."""
    return re.compile("|".join([*data()["inside"], *back_tables.rules().anywhere]))


@cache
def _beginnings() -> dict[str, int]:
    """Beginnings of words that are parted, with the place."""
    lists = data()["list"]
    rows = " ".join(row["words"] for name, row in lists.items() if name.startswith(_PARTED))
    return {row.replace("-", ""): row.index("-") for row in rows.split()}


@cache
def _parted() -> re.Pattern[str]:
    longest_first = sorted(_beginnings(), key=len, reverse=True)
    return re.compile("|".join(longest_first))


def is_parted(text: str) -> bool:
    """Whether a word begins as one of those that no contraction bridges."""
    return _parted().match(text) is not None


def parted(text: str, left: bool, right: bool, contract: Contract) -> Groups:
    """The signs of such a word: of its two parts, each for itself (UEB 10.6, 10.7, 10.11)."""
    found = _parted().match(text)
    assert found is not None
    at = _beginnings()[found.group()]
    rest = contract(text[at:], False, right)
    if left and text[:at] == _BE and found.group() in _syllable():
        own: Groups = (Group(0, at, signs.of_kind("lower groupsign")[_BE].cells),)
    else:
        own = contract(text[:at], left, False)
    return (*own, *(Group(a + at, b + at, cells) for a, b, cells in rest))


@cache
def _syllable() -> frozenset[str]:
    """Beginnings where be is a syllable."""
    return frozenset(data()["list"]["begun with be"]["words"].replace("-", "").split())


def may_be_wrong(text: str) -> bool:
    """Whether a word has one of these shortforms and more letters."""
    found = _odd().search(text)
    return found is not None and found.group() != text


def corrected(text: str, groups: Groups, contract: Contract) -> Groups:
    """The signs of a word that stands alone, as the rules have them.

    ``contract`` gives the signs of letters, told whether each end of them is a word's edge.
    """
    groups = _without(text, groups, contract)
    for word in back_tables.rules().anywhere:
        at = text.find(word)
        if at >= 0 and not any(
            group.start == at and group.end == at + len(word) for group in groups
        ):
            groups = _around(text, at, word, contract)
    return groups


def _without(text: str, groups: Groups, contract: Contract) -> Groups:
    """Signs without shortforms where they may not stand."""
    cuts: list[int] = []
    for start, end, _cells in groups:
        word = text[start:end]
        row = data()["inside"].get(word)
        if row and not _allowed(text, word, start):
            cuts.append(start + len(row["parts"].split()[0]))
    if not cuts:
        return groups
    edges = [0, *cuts, len(text)]
    return _joined(text, list(pairwise(edges)), contract)


def _around(text: str, at: int, word: str, contract: Contract) -> Groups:
    """Signs with one shortform where it stands."""
    end = at + len(word)
    own = Group(at, end, signs.of_kind("shortform")[word].cells)
    before = _joined(text, [(0, at)] if at else [], contract)
    after = _joined(text, [(end, len(text))] if end < len(text) else [], contract)
    return (*before, own, *after)


def _joined(text: str, parts: list[tuple[int, int]], contract: Contract) -> Groups:
    return tuple(
        Group(group.start + start, group.end + start, group.cells)
        for start, end in parts
        for group in contract(text[start:end], start == 0, end == len(text))
    )


def _allowed(text: str, word: str, at: int) -> bool:
    """Whether the rules use a shortform at a place of a word."""
    rules = back_tables.rules()
    bare = next((text.removesuffix(end) for end in _ENDS if text.endswith(end)), text)
    if text in rules.words or bare in rules.words or bare == word:
        return True
    after = text[at + len(word) : at + len(word) + 1]
    return not at and word in rules.at_start and after not in _VOWELS
