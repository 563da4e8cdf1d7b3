"""From the source of an expression to its cells in a code for mathematics."""

from __future__ import annotations

import re

from ..errors import SourceError
from . import nemeth, ueb
from .cells import MathCells
from .mathml import parse
from .ueb_leaves import Contract

_ROWS = re.compile(r"<(?:[\w.-]+:)?(?:mtable|mstack|mlongdiv|eqArr|m)[\s>/]")
UEB, NEMETH = "ueb", "nemeth"
NO_FORMULA = "the formula"


def render(
    source: str,
    code: str,
    *,
    contracted: bool = True,
    contract: Contract | None = None,
    switch: bool = False,
) -> MathCells:
    """The cells of an expression in MathML or Office MathML; never raises for odd print.

    ``code``: ``ueb`` or ``nemeth``.  ``contracted`` and ``contract``: see
    :func:`convert.maths.ueb.cells`.  ``switch``: put Nemeth Code between its indicators (see
    :func:`convert.maths.nemeth.cells`).  What cannot be transcribed is in ``problems``; with no
    cells at all the formula could not be read.
    """
    if code not in (UEB, NEMETH):
        return _nothing(f"the code for mathematics {code} is not known; ueb and nemeth are")
    try:
        expression = parse(source)
    except SourceError as error:
        return _nothing(error.what)
    if code == UEB:
        return ueb.cells(expression, contracted=contracted, contract=contract)
    return nemeth.cells(expression, contracted=contracted, contract=contract, switch=switch)


def has_rows(source: str) -> bool:
    """Whether an expression has rows and columns, or arithmetic in columns, by its elements."""
    return _ROWS.search(source) is not None


def _nothing(what: str) -> MathCells:
    return MathCells("", (), problems=((what, NO_FORMULA),))
