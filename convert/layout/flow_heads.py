"""Column headings of several rows, and entries over several columns or rows (BF 11.2).

A heading over other headings keeps its place above them, with a separation line as wide as the
columns it covers.  Any other entry over several columns or rows is repeated in each, which a
transcriber's note says: no published rule for these entries was read.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from ..document.nodes import AnswerSpace, InlineGraphic, MathRun, TableEntry
from .flow_grid import Line, Spot, flat

MOST = 3
"""Rows of column headings that columns may have (common practice, no source)."""
Shows = Callable[[TableEntry], bool]


@dataclass(frozen=True, slots=True)
class Heads:
    """The column headings of some rows.

    ``rows``: how many there are.  ``leaves``: the heading just above each column, by column.
    ``upper``: headings over these, with the row (from 0) on which they end.
    """

    rows: int
    leaves: tuple[Spot, ...]
    upper: tuple[tuple[int, Spot], ...]


def is_headed(row: Line) -> bool:
    """Whether a row holds column headings."""
    return row.head and len(row.spots) > 1


def levels_of(rows: Sequence[Line]) -> int:
    """How many rows of column headings a table begins with."""
    return next((at for at, row in enumerate(rows) if not is_headed(row)), len(rows))


def heads_of(rows: Sequence[Line], columns: int, shows: Shows) -> Heads:
    """The column headings of rows that begin with ``levels_of`` rows of them."""
    heads = rows[: levels_of(rows)]
    if not heads:
        return Heads(0, (), ())
    leaves = tuple(_leaf(heads, column, shows) for column in range(columns))
    below = {id(leaf.entry) for leaf in leaves}
    upper = tuple(
        (min(at + max(1, spot.entry.rows) - 1, len(heads) - 2), spot)
        for at, line in enumerate(heads[:-1])
        for spot in line.spots
        if spot.fresh and id(spot.entry) not in below and shows(spot.entry)
    )
    return Heads(len(heads), leaves, upper)


def _leaf(heads: Sequence[Line], column: int, shows: Shows) -> Spot:
    """The heading just above a column: where print leaves the last row empty, the one above
    that covers no other column."""
    lowest = _at(heads[-1], column)
    for line in reversed(heads):
        spot = _at(line, column)
        if spot is None or (line is not heads[-1] and spot.columns > 1):
            break
        if shows(spot.entry):
            lowest = spot
            break
    if lowest is None:
        return Spot(TableEntry(children=(), head=True), column, 1, True)
    return replace(lowest, column=column, columns=1, fresh=lowest.fresh and lowest.column == column)


def _at(line: Line, column: int) -> Spot | None:
    covering = (s for s in line.spots if s.column <= column < s.column + s.columns)
    return next(covering, None)


def in_order(heads: Heads, line: Line) -> Iterator[tuple[int, Spot]]:
    """The headings that a row of headings begins, with the row they stand in counted from the
    first row of entries: -1 for those just above it."""
    told: set[int] = set()
    for spot in line.spots:
        if not spot.fresh or id(spot.entry) in told:
            continue
        told.add(id(spot.entry))
        above = [(at - heads.rows, s) for at, s in heads.upper if s is spot]
        leaves = [(-1, leaf) for leaf in heads.leaves if leaf.entry is spot.entry]
        yield from above or leaves or [(-1, spot)]


def unfit(rows: Sequence[Line]) -> bool:
    """Whether entries of some rows reach where they cannot be repeated: out of the headings,
    over one another, or with something that stands only once."""
    levels = levels_of(rows)
    for at, row in enumerate(rows):
        taken = [c for s in row.spots for c in range(s.column, s.column + s.columns)]
        if len(taken) != len(set(taken)):
            return True
        for spot in row.spots:
            beyond = at < levels < at + spot.entry.rows and spot.fresh
            if beyond or (_reaches(spot) and not _repeatable(spot.entry)):
                return True
    return False


def _reaches(spot: Spot) -> bool:
    return spot.columns > 1 or spot.entry.rows > 1


def _repeatable(entry: TableEntry) -> bool:
    once = (MathRun, AnswerSpace, InlineGraphic)
    return not any(isinstance(run, once) for run in flat(entry.children)[0])


def opened(row: Line, columns: int) -> Line:
    """A row of entries with each entry in every column that it covers; one over all of the
    columns stays as it is."""
    if all(spot.columns == 1 for spot in row.spots) or (
        len(row.spots) == 1 and row.spots[0].columns == columns
    ):
        return row
    spots = tuple(
        Spot(spot.entry, spot.column + nth, 1, spot.fresh and not nth)
        for spot in row.spots
        for nth in range(spot.columns)
    )
    return replace(row, spots=spots)


def repeats(rows: Sequence[Line], heads: Heads, shows: Shows) -> bool:
    """Whether an entry that has words stands in several columns or rows."""
    spots = [*heads.leaves, *(spot for row in rows[heads.rows :] for spot in row.spots)]
    seen: dict[int, Spot] = {}
    again = [spot for spot in spots if seen.setdefault(id(spot.entry), spot) is not spot]
    return any(shows(spot.entry) for spot in again)


def part_of(row: Line, first: int, end: int) -> Line:
    """A row with its first column and those from ``first`` to before ``end``."""
    kept: list[Spot] = []
    for low, high, to in ((0, 1, 0), (first, end, 1)):
        for spot in row.spots:
            start, stop = max(spot.column, low), min(spot.column + spot.columns, high)
            if start < stop:
                kept.append(replace(spot, column=to + start - low, columns=stop - start))
    return replace(row, spots=tuple(kept))


def cuts(columns: int, parts: int, heads: Heads) -> list[list[int]]:
    """Where a table may be divided into parts, the first column apart: before a heading over
    several columns where one begins near, else as evenly as can be."""
    even = [1 + columns * nth // parts for nth in range(parts + 1)]
    wide = [(s.column, s.column + s.columns) for _, s in heads.upper if s.columns > 1]
    starts = sorted({at for span in wide for at in span})
    ends = list(even)
    for nth in range(1, parts):
        room = range(ends[nth - 1] + 1, even[nth + 1])
        near = [at for at in starts if at in room and abs(at - even[nth]) < 2]
        ends[nth] = min([(abs(at - even[nth]), at) for at in near], default=(0, even[nth]))[1]
    return [ends, even] if ends != even else [even]
