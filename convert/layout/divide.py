"""Where a word too long for a line is broken."""

from __future__ import annotations

from .lines import Block


def beside_signs(block: Block, here: int, stop: int) -> int:
    """A place to break a word moved back before indicators: they are not divided, and those that
    open go with what they govern, those that close with the cell before (BF 3.1, UEB 3.27)."""
    cells = block.cells
    at = cells.piece_at(stop) if cells is not None else -1
    if cells is None or at < 0:
        return stop
    sign, back = cells.pieces[at].sign, stop - cells.starts[at]
    if back < len(sign):
        while back > 0 and sign[back - 1]:
            back -= 1
        if back > 1 and all(sign[back:]):
            back -= 1
    return back + cells.starts[at] if back + cells.starts[at] > here else stop
