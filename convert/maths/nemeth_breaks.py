"""Where a line of the Nemeth Code may end (common practice; the digest names no section).

First before comparison signs, after commas and around words; in a longer stretch before
operation signs outside all grouping signs, then inside them, then inside fractions and
radicals.  Never in a script, after a comparison sign, or where the next line would begin with
a numeral that has no indicator.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import NamedTuple

from .nemeth_data import rule
from .nemeth_tokens import (
    AFTER_COMMA,
    AFTER_COMPARISON,
    AFTER_LISTED,
    AROUND_DOTS,
    AROUND_WORD,
    BAR_OPENS,
    BAR_SHUTS,
    BEFORE_COMPARISON,
    BEGIN,
    COMPARISON,
    END,
    MIDDLE,
    NUMBER,
    OPENS,
    OPERATION,
    PRINTED,
    SHUTS,
    Token,
)

RANKS = 8
_BLANKS = {
    BEFORE_COMPARISON: 1, AFTER_COMMA: 1, AROUND_WORD: 1, PRINTED: 1, AFTER_LISTED: 2,
    AROUND_DOTS: 2,
}  # fmt: skip
_NO_OPERAND = frozenset((OPENS, BAR_OPENS, BEGIN, MIDDLE, OPERATION, COMPARISON))


class Ranked(NamedTuple):
    """A cell before which a line may end; the lowest rank is tried first."""

    cell: int
    rank: int


@dataclass(slots=True)
class Ranker:
    """Collects the places of one expression."""

    places: list[Ranked] = field(default_factory=list)
    groups: int = 0
    structures: int = 0
    last: str = OPENS
    comparison: int = -1

    def blank(self, token: Token, why: Sequence[str], cell: int) -> None:
        """A blank at ``cell``, before ``token``."""
        if token.level or AFTER_COMPARISON in why:
            return
        ranks = [_BLANKS[reason] for reason in why if reason in _BLANKS]
        listed = AFTER_LISTED in why and token.kind in (NUMBER, OPERATION)
        if ranks and not listed:
            self.places.append(Ranked(cell, min(ranks) + self._depth()))

    def before(self, token: Token, following: Token | None, cell: int, blank: bool) -> None:
        """A token that will be written at ``cell``, its level indicator included."""
        if token.kind in (END, SHUTS, BAR_SHUTS):
            self.structures -= token.kind == END
            self.groups -= token.kind != END
        if token.kind == COMPARISON and not (token.level or self._depth() or self.comparison >= 0):
            self.comparison = cell
        numeral = following is not None and following.kind == NUMBER
        plain = token.kind == OPERATION and not token.level and not numeral_start(token, numeral)
        if plain and not blank and self.last not in _NO_OPERAND:
            self.places.append(Ranked(cell, 2 + self._depth()))
        if token.kind in (BEGIN, OPENS, BAR_OPENS):
            self.structures += token.kind == BEGIN
            self.groups += token.kind != BEGIN
        self.last = token.kind

    def _depth(self) -> int:
        return 4 if self.structures > 0 else 2 * (self.groups > 0)


def numeral_start(token: Token, numeral: bool) -> bool:
    """A minus sign before a numeral: at the start of a line the numeral has an indicator."""
    return numeral and token.text == "−"


def chosen(places: Sequence[Ranked], length: int) -> tuple[int, ...]:
    """The places offered for ``length`` cells: those of a rank only in stretches that the ranks
    before leave too long."""
    longest = int(rule("longest-stretch"))
    found = sorted({place.cell for place in places if place.rank == 1})
    for rank in range(2, RANKS):
        more = [place.cell for place in places if place.rank == rank]
        if not more:
            continue
        edges = [0, *found, length]
        long = [(a, b) for a, b in pairwise(edges) if b - a > longest]
        found = sorted({*found, *(c for c in more if any(a < c < b for a, b in long))})
    return tuple(found)
