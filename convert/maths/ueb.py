"""Unified English Braille technical material: expression trees to cells."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from . import ueb_grid
from .cells import BLANK, MathCells
from .data import indicator
from .tree import Expression
from .ueb_build import Builder
from .ueb_grade1 import Written, tidy, written
from .ueb_leaves import Contract
from .ueb_tokens import BLANK as SPACE
from .ueb_tokens import LETTER, LEVEL, LINE, NAME, OPENS, OPERATION, RELATION, SHUTS

# A stretch without a blank this long may end a line before its operation signs too; shorter ones
# go to the next line whole, so that comparison signs come first (GTM 1.4, not seen in print).
LONG_STRETCH = 26


def cells(
    expression: Expression, *, contracted: bool = True, contract: Contract | None = None
) -> MathCells:
    """The cells of an expression.

    ``contracted``: whether the text around is contracted braille, so that signs need grade 1
    indicators (UEB 5).  ``contract`` gives the contracted cells of one word, for words and names
    inside the expression; without it they are written letter by letter.
    """
    builder = Builder(contract if contracted else None)
    if ueb_grid.is_display(expression):
        return ueb_grid.cells(expression, builder, contracted)
    rows = written(tidy(builder.tokens(expression)), contracted)
    text, origin = laid(rows)
    breaks, joins = _breaks(rows)
    return MathCells(
        text, origin, breaks, tuple(builder.leaves), tuple(builder.problems), (), joins,
        signs=frozenset(builder.used), doubts=tuple(dict.fromkeys(builder.doubts)),
    )  # fmt: skip


def laid(rows: Sequence[Written]) -> tuple[str, tuple[int, ...]]:
    """The cells of tokens, and for each cell its leaf."""
    text: list[str] = []
    origin: list[int] = []
    for before, cells, token, after in rows:
        written = before + cells + after
        text.append(written)
        origin.extend([token.leaf] * len(written))
    return "".join(text), tuple(origin)


def _breaks(rows: Sequence[Written]) -> tuple[tuple[int, ...], tuple[tuple[int, str], ...]]:
    """Where a line may end: at blanks, but not after a comparison sign; in stretches that are
    still long before operation signs, then between units, outer ones first, with the line
    continuation sign."""
    blanks: list[int] = []
    signs: dict[int, list[int]] = {}
    depth = at = 0
    before = SPACE
    for opening, cells, token, after in rows:
        kind = token.kind
        depth -= kind == SHUTS
        blank = kind != SPACE or before != RELATION
        blanks.extend(at + n for n, cell in enumerate(opening + cells) if cell == BLANK and blank)
        glued = kind == OPENS and before in (LETTER, NAME)
        if kind in (OPERATION, OPENS) and before not in _NO_BREAK and not glued:
            signs.setdefault(2 * depth + (kind == OPENS), []).append(at)
        depth += kind == OPENS
        before = kind
        at += len(opening) + len(cells) + len(after)
    edges = [0, *blanks, at]
    for _, places in sorted(signs.items()):
        long = [
            place
            for start, end in pairwise(edges)
            if end - start > LONG_STRETCH
            for place in places
            if start < place < end
        ]
        edges = sorted([*edges, *long])
    inner = edges[1:-1]
    continuation = indicator("line continuation").cells
    joins = tuple((place, continuation) for place in inner if place not in set(blanks))
    return tuple(inner), joins


_NO_BREAK = frozenset((SPACE, OPENS, OPERATION, RELATION, LEVEL, LINE))

__all__ = ["BLANK", "cells", "laid"]
