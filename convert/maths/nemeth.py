"""The Nemeth Code (1972 revision): expression trees to cells, as used within UEB.

:func:`cells` gives the expression alone or, with ``switch``, as a sentence of Unified English
Braille takes it: between the opening Nemeth indicator and the terminator (UEB 14.6).
"""

from __future__ import annotations

from dataclasses import replace

from . import nemeth_grid, ueb
from .cells import NEMETH, MathCells
from .nemeth_breaks import chosen
from .nemeth_build import Builder
from .nemeth_switch import stays_ueb, switched, without_punctuation
from .nemeth_write import write
from .tree import Expression
from .ueb_leaves import Contract


def cells(
    expression: Expression,
    *,
    contracted: bool = True,
    contract: Contract | None = None,
    switch: bool = False,
) -> MathCells:
    """The cells of an expression.

    ``contract`` gives the contracted cells of one ordinary word inside it, where the text around
    is ``contracted``.  ``switch``: put the indicators around; a lone letter or plain number is
    then Unified English Braille, and sentence punctuation at the end follows the terminator.
    What the code has no sign or rule for is in ``problems``.
    """
    if not switch:
        return _plain(expression, contract if contracted else None)
    inside, punctuation = without_punctuation(expression)
    if stays_ueb(inside):
        return ueb.cells(expression, contracted=contracted, contract=contract)
    return switched(_plain(inside, contract if contracted else None), punctuation)


def _plain(expression: Expression, contract: Contract | None) -> MathCells:
    builder = Builder(contract)
    if nemeth_grid.is_display(expression):
        return replace(nemeth_grid.cells(expression, builder), code=NEMETH)
    written = write(builder.tokens(expression))
    return MathCells(
        written.cells,
        written.origin,
        chosen(written.breaks, len(written.cells)),
        tuple(builder.leaves),
        tuple(dict.fromkeys(builder.problems)),
        code=NEMETH,
        doubts=tuple(dict.fromkeys(builder.doubts)),
    )


__all__ = ["cells", "stays_ueb", "switched", "without_punctuation"]
