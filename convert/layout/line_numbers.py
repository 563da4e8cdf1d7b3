"""Line-numbered verse: printed line numbers at the right margin (BF 15).

A number ends in the last cell of the braille line on which the print line starts; it is not
repeated on runovers.  All lines of the poem stop two cells before the longest number, and none
stands on a line that has a page number.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from ..translation.cells import BLANK, Cells
from .contents import cut_rows
from .items import Part, SetLine
from .lines import Block

VERSE = "verse"
CLEAR = 2
"""Empty cells before the longest line number (BF 15.4 of the digest; Example 7-1)."""
# The flow parts a line from its number by a tab of its own.
_NUMBER = re.compile(r"\t\s*(\S+)\s*$")


def set_line_numbers(blocks: Sequence[Block], width: int) -> list[Block]:
    """Cut the lines of poems with line numbers, each number at the margin.

    A poem is left as it is, its numbers after its lines, where less than a third of the line
    would be left for words, or a print page begins inside a line; the first lines of such poems
    are given back."""
    groups: dict[str, list[Block]] = {}
    kept: list[Block] = []
    for block in blocks:
        if block.kind == VERSE and block.item.group and block.cells is not None:
            groups.setdefault(block.item.group, []).append(block)
    for lines in groups.values():
        numbers = {id(block): at for block in lines if (at := _number_at(block)) > block.start}
        if not numbers:
            continue
        longest = max(block.end - numbers[id(block)] for block in lines if id(block) in numbers)
        room = width - longest - CLEAR
        turned = any(block.stops for block in lines)
        if turned or room - max(block.runover for block in lines) < width // 3:
            kept.append(lines[0])
            continue
        for block in lines:
            _set(block, numbers.get(id(block), block.end), room, width)
    return kept


def _number_at(block: Block) -> int:
    """The cell where the line number begins; -1 for none."""
    cells: Cells | None = block.cells
    if cells is None or cells.passage is None:
        return -1
    found = _NUMBER.search(cells.passage.text)
    if found is None or cells.passage.ledger_at(found.start()) >= 0:
        return -1
    return next((at for at, place in enumerate(cells.origin) if place >= found.start(1)), -1)


def _set(block: Block, at: int, room: int, width: int) -> None:
    """The lines of a print line whose words end before cell ``at``."""
    end = at
    while end > block.start and block.text[end - 1] == BLANK:
        end -= 1
    lines: list[SetLine] = []
    for start, here, stop, tail in cut_rows(block, end, (block.first, block.runover), room):
        parts = [Part(start, block.text[here:stop] + tail, block.cells, here)]
        if not lines and at < block.end:
            number = block.text[at : block.end]
            parts.append(Part(width - len(number), number, block.cells, at))
        part = "runover" if lines or block.continued else "first"
        lines.append(SetLine(tuple(parts), VERSE, part, apart=True))
    block.lines, block.plain = tuple(lines), False
