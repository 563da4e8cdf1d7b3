"""From the source of an expression to its cells in a code for mathematics."""

from __future__ import annotations

import re
from dataclasses import replace

from ..errors import SourceError
from . import nemeth, ueb
from .cells import BLANK, MATHML, NEMETH, TEX, UEB, LeafPlace, MathCells
from .mathml import parse, text_beside
from .tree import Expression, leaves
from .typed import is_tex, tex, to_mathml
from .ueb_leaves import Contract

_ROWS = re.compile(
    r"<(?:[\w.-]+:)?(?:mtable|mstack|mlongdiv|eqArr|m)[\s>/]"
    r"|\\begin\{(?:[pbBvV]?matrix|cases|aligned|align|array|gathered)"
)
_MARKUP = re.compile(r"\s*<[A-Za-z?!]")
NO_FORMULA = "the formula"


def render(
    source: str,
    code: str,
    *,
    contracted: bool = True,
    contract: Contract | None = None,
    switch: bool = False,
) -> MathCells:
    """The cells of an expression in MathML, Office MathML, TeX or linear form (see
    :mod:`convert.maths.typed`); never raises for odd print.

    ``code``: ``ueb`` or ``nemeth``.  ``contracted`` and ``contract``: see
    :func:`convert.maths.ueb.cells`.  ``switch``: put Nemeth Code between its indicators (see
    :func:`convert.maths.nemeth.cells`).  What cannot be transcribed is in ``problems``; with no
    cells at all the formula could not be read.
    """
    if code not in (UEB, NEMETH):
        return _nothing(f"the code for mathematics {code} is not known; ueb and nemeth are")
    try:
        expression, via = read(source)
    except SourceError as error:
        return _nothing(error.what)
    if code == UEB:
        made = ueb.cells(expression, contracted=contracted, contract=contract)
    else:
        made = nemeth.cells(expression, contracted=contracted, contract=contract, switch=switch)
    return replace(made, via=via)


def read(source: str) -> tuple[Expression, str]:
    """The tree of a source, and what the source was.  TeX beside MathML (an annotation, the
    alternative text) is read only where there is no MathML to show.  Raises SourceError for what
    cannot be read."""
    if _MARKUP.match(source) is None:
        source, via = to_mathml(source)
        return parse(source), via
    expression = parse(source)
    if any(True for _ in leaves(expression)):
        return expression, MATHML
    beside = text_beside(source)
    return (parse(tex(beside)), TEX) if is_tex(beside) else (expression, MATHML)


def given(cells: str, text: str, code: str) -> MathCells:
    """An expression in cells a person gave: lines may end at their blanks."""
    breaks = tuple(at for at, cell in enumerate(cells) if cell == BLANK and at)
    origin = (0,) * len(cells)
    return MathCells(cells, origin, breaks, (LeafPlace(text, ""),), code=code, via="given")


def has_rows(source: str) -> bool:
    """Whether an expression has rows and columns, or arithmetic in columns, by its elements."""
    return _ROWS.search(source) is not None


def _nothing(what: str) -> MathCells:
    return MathCells("", (), problems=((what, NO_FORMULA),))
