"""Who decides where two decisions meet on one place.

A later layer wins over an earlier one, unless that is locked; in one layer a decision for a
place wins over one for all places.  Two of one rank that differ contradict each other.
"""

from __future__ import annotations

from collections.abc import Sequence

from ..errors import JobError
from .anchor import Target
from .record import Decision
from .rows import Row
from .verbs import verbs


def settle_claims(rows: Sequence[Row]) -> None:
    """Take from each decision the places that another decides.  Raises JobError."""
    held: dict[tuple[str, object], Row] = {}
    lost: dict[int, set[int]] = {}
    for row in rows:
        slot = verbs()[row.decision.verb].settles
        if not slot or not row.acts:
            continue
        for target in row.targets:
            key = (slot, _place(target))
            other = held.setdefault(key, row)
            if other is row:
                continue
            winner, loser = _weigh(other, row)
            held[key] = winner
            lost.setdefault(id(loser), set()).add(id(target.node))
            _take(loser, target, winner)


def _place(target: Target) -> object:
    """What makes two targets the same place."""
    what = target.inline if target.inline is not None else target.node
    start, end = target.span
    return (id(what), start, end)


def _take(loser: Row, target: Target, winner: Row) -> None:
    """Take a place from a decision; one that has none left is not applied."""
    place = _place(target)
    loser.targets = tuple(t for t in loser.targets if _place(t) != place)
    if loser.targets:
        return
    if _same(loser.decision, winner.decision):
        loser.state, loser.note = "unused", f"{winner.decision.place} says the same"
    else:
        loser.state = "overridden"
        loser.note = f"{winner.decision.place} decides this place"


def _same(a: Decision, b: Decision) -> bool:
    return (a.verb, a.arguments) == (b.verb, b.arguments)


def _weigh(first: Row, second: Row) -> tuple[Row, Row]:
    """The winner and the loser of two decisions on one place."""
    a, b = first.decision, second.decision
    if _same(a, b):
        return first, second
    ranks = [(d.rank, not d.everywhere) for d in (a, b)]
    if ranks[0] == ranks[1]:
        raise JobError(
            f"Two decisions contradict each other: “{a.verb}” ({a.place}) and “{b.verb}” "
            f"({b.place}), both for “{(b.expect or a.expect)[:60]}”.",
            "Take one of them out.",
        )
    winner, loser = (first, second) if ranks[0] > ranks[1] else (second, first)
    if loser.decision.locked and loser.decision.rank < winner.decision.rank:
        raise JobError(
            f"The decision “{winner.decision.verb}” ({winner.decision.place}) would override "
            f"“{loser.decision.verb}” ({loser.decision.place}), which {locker(loser.decision)}.",
            "Take it out, or ask for the lock to be lifted.",
        )
    return winner, loser


def locker(decision: Decision) -> str:
    """Who locked a decision, in words."""
    return f"{decision.by} locked" if decision.by else f"{decision.layer} locks"
