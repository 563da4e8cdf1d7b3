"""Lines of figures in columns, whatever the code: where each column begins."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from itertools import pairwise
from typing import NamedTuple

from .cells import BLANK
from .data import sign
from .tree import Expression, Grid, Letter, Line, Name, Sign, Work, leaves, parts

CARRIES, RULE = "carries", "rule"
# Blanks between columns that no bracket closes (BF 1.9: room that means something).
WIDE = 3


class Item(NamedTuple):
    """Cells that stand in one column, and their leaf."""

    cells: str
    leaf: int


@dataclass(slots=True)
class Text:
    """Cells with the leaf of each."""

    cells: str = ""
    origin: list[int] = field(default_factory=list)

    def add(self, cells: str, leaf: int = -1) -> None:
        """Cells of one leaf at the end."""
        self.cells += cells
        self.origin.extend([leaf] * len(cells))

    def pad(self, width: int) -> None:
        """Blanks up to ``width`` cells."""
        self.add(BLANK * max(width - len(self.cells), 0))

    def join(self, other: Text) -> None:
        """The cells of another text at the end."""
        self.cells += other.cells
        self.origin.extend(other.origin)


@dataclass(slots=True)
class Columns:
    """The columns of a work, from the left: ``at`` the first cell of each place, ``wide`` its
    cells; cells from 0."""

    at: dict[int, int]
    wide: dict[int, int]
    width: int

    def start(self, place: int, length: int) -> int:
        """The first cell of ``length`` cells that stand at the right of a column."""
        return self.at[place] + self.wide[place] - length

    def end(self, place: int) -> int:
        """The cell after a column, of the nearest one where print has none there."""
        if place in self.at:
            return self.at[place] + self.wide[place]
        return self.width if place < min(self.at, default=0) else 0

    def begin(self, place: int) -> int:
        """The first cell of a column, of the nearest one where print has none there."""
        if place in self.at:
            return self.at[place]
        return self.width if place < min(self.at, default=0) else 0


def columns(rows: Iterable[Mapping[int, Item]], more: Mapping[int, int]) -> Columns:
    """The columns that hold all rows; ``more`` cells are added to some.  A column of figures
    has a cell even where no row has a figure."""
    wide: dict[int, int] = {}
    for row in rows:
        for place, item in row.items():
            wide[place] = max(wide.get(place, 0), len(item.cells))
    for place, cells in more.items():
        wide[place] = wide.get(place, 0) + cells
    whole = [place for place in wide if place % 2 == 0]
    for place in range(min(whole, default=0), max(whole, default=-2) + 1, 2):
        wide.setdefault(place, 1)
    at: dict[int, int] = {}
    edge = 0
    for place in sorted(wide, reverse=True):
        at[place] = edge
        edge += wide[place]
    return Columns(at, wide, edge)


def crossed(lines: Iterable[Line]) -> list[frozenset[int]]:
    """For each line the places struck out: the line of carries above says which."""
    out: list[frozenset[int]] = []
    waiting: frozenset[int] = frozenset()
    for line in lines:
        if line.kind == CARRIES:
            waiting = line.crossed
            out.append(frozenset())
        else:
            out.append(waiting if line.kind != RULE else frozenset())
            waiting = frozenset()
    return out


def as_work(node: Expression) -> Work | None:
    """Arithmetic in columns, a line outside a stack included; None for anything else."""
    if isinstance(node, Line):
        return Work((node,), path=node.path)
    return node if isinstance(node, Work) else None


def told_style(work: Work) -> tuple[str, ...]:
    """What differs from print in the form of a long division."""
    if work.divisor is None or not work.style:
        return ()
    return (
        "the long division is set with its divisor on the left and its quotient above, though "
        f"print sets it otherwise (longdivstyle “{work.style}”)",
    )


def is_block(node: Expression) -> bool:
    """Whether a node is set on lines of its own: rows and columns, or arithmetic in columns."""
    return isinstance(node, Work | Line) or (isinstance(node, Grid) and bool(node.rows))


def is_aligned(grid: Grid) -> bool:
    """Whether columns are only where print aligns expressions: at every boundary an operation or
    comparison sign stands beside it, or nothing on one of its sides."""
    return all(
        not left or not right or _joins(left[-1]) or _joins(right[0])
        for line in grid.rows
        for left, right in pairwise([parts(entry) for entry in line])
    )


def _joins(node: Expression) -> bool:
    row = sign(node.text) if isinstance(node, Sign) else None
    return row is not None and row.group in ("operation", "relation", "arrow")


def lettered(work: Work) -> bool:
    """Whether a work holds anything but numerals and signs."""
    return any(isinstance(leaf, Letter | Name) for leaf in leaves(work))
