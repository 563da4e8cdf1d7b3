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
from .ueb_tokens import LEVEL, LINE, OPENS, OPERATION, RELATION, SHUTS

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
        text, origin, breaks, tuple(builder.leaves), tuple(builder.problems), (), joins
    )


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
    """Where a line may end: at blanks, but not after a comparison sign; in long stretches also
    before operation signs outside all brackets, with the line continuation sign."""
    continuation = indicator("line continuation").cells
    blanks: list[int] = []
    signs: list[int] = []
    depth = at = 0
    before = SPACE
    for opening, cells, token, after in rows:
        kind = token.kind
        depth += (kind == OPENS) - (kind == SHUTS)
        if kind == SPACE and before != RELATION:
            blanks.append(at)
        elif kind == OPERATION and not depth and before not in _NO_BREAK:
            signs.append(at)
        before = kind
        at += len(opening) + len(cells) + len(after)
    edges = [0, *blanks, at]
    long = [
        sign
        for start, end in pairwise(edges)
        if end - start > LONG_STRETCH
        for sign in signs
        if start < sign < end
    ]
    return tuple(sorted([*blanks, *long])), tuple((sign, continuation) for sign in long)


_NO_BREAK = frozenset((SPACE, OPERATION, RELATION, LEVEL, LINE))

__all__ = ["BLANK", "cells", "laid"]
