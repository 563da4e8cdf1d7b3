"""Guide words: the first and the last entry word of a page of an alphabetic reference (BF 21.3).

They stand on the last line, joined by a hyphen, centred between cell 1 and the braille page number
with the cells kept free before it; the line holds no text then.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from ..translation.cells import BLANK
from .furniture import HYPHEN, at_right
from .lines import Block
from .shape import Shape
from .turns import Draft

# What may stand above the first entry of a page.
_ABOVE = frozenset(("h-center", "h-5", "h-7", "title"))
_WORDS = re.compile(r"[\w'’.-]*\w(?: [\w'’.-]*\w){0,2}(?=\s*(?:[,:;(–—\t\n]|$))")
_WORD = re.compile(r"[\w'’-]*\w")


def due(blocks: Sequence[Block], at: int, stop: int, shape: Shape) -> bool:
    """Whether the page that starts with block ``at`` is one of entries."""
    while at < stop and shape.guided:
        block = blocks[at]
        if block.turn is None and block.kind in shape.guided:
            return True
        if block.turn is None and block.kind not in _ABOVE:
            return False
        at += 1
    return False


def foot_line(blocks: Sequence[Block], draft: Draft, last: int, number: str, shape: Shape) -> str:
    """The last line of a page of entries: its guide words and the braille page number.

    Words too long for the line are left out, the number alone stands."""
    first, final = _ends(blocks, draft, last, shape)
    room = shape.cells - len(number) - (shape.guard if number else 0)
    words = ""
    if first and final:
        words = first if first == final else first + HYPHEN + final
    if not words or len(words) > room:
        return at_right(number, shape.cells)
    line = BLANK * ((room - len(words)) // 2) + words
    return line.ljust(shape.cells - len(number), BLANK) + number if number else line


def _ends(blocks: Sequence[Block], draft: Draft, last: int, shape: Shape) -> tuple[str, str]:
    """The first and the last entry word of a page: of the entries that begin on it, or else of
    the one that goes on there."""
    owners = [at for at in dict.fromkeys(draft.owner[: last + 1]) if at >= 0]
    entries = [at for at in owners if blocks[at].kind in shape.guided and blocks[at].item.level < 2]
    here = draft.start[0] if draft.start[1] >= 0 else -1
    begun = [at for at in entries if at != here and not blocks[at].continued]
    entries = begun or entries[-1:]
    ends = [entry_cells(blocks[_head(blocks, at)]) for at in (*entries[:1], *entries[-1:])]
    return (ends[0], ends[-1]) if ends else ("", "")


def _head(blocks: Sequence[Block], at: int) -> int:
    """The block with which an entry begins, of which a block is a part."""
    element = blocks[at].item.element
    while blocks[at].continued:
        before = (nth for nth in range(at - 1, -1, -1) if blocks[nth].item.element == element)
        found = next(before, -1)
        if found < 0:
            break
        at = found
    return at


def entry_cells(block: Block) -> str:
    """The cells of an entry's word, or of a term of up to three words that a mark ends."""
    cells = block.cells
    if cells is None or cells.passage is None:
        return ""
    text = cells.passage.text
    skip = len(text) - len(text.lstrip())
    found = _WORDS.match(text, skip) or _WORD.match(text, skip)
    if found is None:
        return ""
    ends = (at for at, place in enumerate(cells.origin) if place >= found.end())
    return cells.text[block.start : next(ends, len(cells.text))].strip(BLANK)
