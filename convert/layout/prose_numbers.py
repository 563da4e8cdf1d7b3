"""Line-numbered prose: printed lines one after another, their numbers at the right margin (BF 15).

| rule | source |
|---|---|
| a number stands on the braille line where its printed line begins | BF 15.2 of the digest |
| text stops two cells before the longest number of the text | 15.4 |
| no line of it shares a line with a page number | 15.5 |
| a printed line may begin three cells after the one before, if it is not completed there | 15.6 |

The last is from the edition of 1997, which alone was read on it.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from ..translation.cells import BLANK
from .flow_runs import NUMBERED
from .items import Part, SetLine
from .lines import Block, Cut, cut

CLEAR = 2
"""Empty cells before the longest line number (BF 15.4 of the digest; Example 7-1)."""
BETWEEN = 3
"""Empty cells between two printed lines on one braille line."""
TAB = "\t"


@dataclass(frozen=True, slots=True)
class Printed:
    """A printed line of a block: the cells of its words and of its number, which may be none."""

    start: int
    end: int
    number: tuple[int, int] = (0, 0)

    @property
    def width(self) -> int:
        """Cells of the number."""
        return self.number[1] - self.number[0]


def set_prose(blocks: Sequence[Block], width: int) -> list[Block]:
    """Cut the lines of numbered prose.  It is left as it is, each number after its line, where
    less than a third of the line would be left for words or a print page begins inside it; such
    blocks are given back."""
    kept: list[Block] = []
    found = [(block, _printed(block)) for block in blocks if block.item.style == NUMBERED]
    longest = max((line.width for _, lines in found for line in lines), default=0)
    room = width - CLEAR - longest
    for block, lines in found:
        if lines and not block.stops and room - max(block.first, block.runover) >= width // 3:
            block.lines, block.plain = tuple(_Setter(block, room, width).lines(lines)), False
        elif lines:
            kept.append(block)
    return kept


def _printed(block: Block) -> list[Printed]:
    """The printed lines of a block, told by the tabs that the flow put between them."""
    cells = block.cells
    if cells is None or cells.passage is None:
        return []
    passage, origin = cells.passage, cells.origin
    tabs = [at for at, sign in enumerate(passage.text) if sign == TAB and passage.ledger_at(at) < 0]
    bounds = [0, *tabs, len(passage.text)]
    places = [bisect_left(origin, at) for at in bounds]
    places[0], places[-1] = block.start, block.end
    out: list[Printed] = []
    for at in range(0, len(places) - 1, 2):
        words = _trimmed(block, places[at], places[at + 1])
        number = _trimmed(block, places[at + 1], places[at + 2]) if at + 2 < len(places) else (0, 0)
        if words[0] < words[1] or number[0] < number[1]:
            out.append(Printed(*words, number))
    return out


def _trimmed(block: Block, start: int, end: int) -> tuple[int, int]:
    """A stretch of cells without blanks at its ends."""
    while start < end and block.text[start] == BLANK:
        start += 1
    while end > start and block.text[end - 1] == BLANK:
        end -= 1
    return start, end


@dataclass(slots=True)
class _Setter:
    """Sets the printed lines of one block.  ``begun``: a printed line begins on this line."""

    block: Block
    room: int
    width: int
    parts: list[Part] = field(default_factory=list)
    at: int = 0
    begun: bool = False
    made: int = 0

    def lines(self, printed: Sequence[Printed]) -> Iterator[SetLine]:
        """The braille lines of the block."""
        self.at = self.block.runover if self.block.continued else self.block.first
        for line in printed:
            if self.parts and not self._may_begin(line):
                yield self._ended()
            self.at += BETWEEN if self.parts else 0
            yield from self._words(line)
        if self.parts:
            yield self._ended()

    def _may_begin(self, line: Printed) -> bool:
        """Whether a printed line may begin where the one before ended."""
        left = self.room - self.at - BETWEEN
        if self.begun or line.end - line.start <= left:
            return False
        return cut(self.block, line.start, line.end, left).end > line.start

    def _words(self, line: Printed) -> Iterator[SetLine]:
        block, here, first = self.block, line.start, True
        while here < line.end or first:
            if here < line.end:
                here = self._piece(here, line.end)
            if first and line.width:
                cells = block.text[line.number[0] : line.number[1]]
                self.parts.append(Part(self.width - line.width, cells, block.cells, line.number[0]))
            self.begun, first = self.begun or first, False
            if here < line.end:
                yield self._ended()

    def _piece(self, here: int, end: int) -> int:
        """As many words as the braille line takes; returns where the next begins."""
        room = max(1, self.room - self.at)
        found = cut(self.block, here, end, room)
        if found.end < 0:
            found = Cut(min(here + room, end), min(here + room, end))
        text = self.block.text[here : found.end] + found.tail
        self.parts.append(Part(self.at, text, self.block.cells, here))
        self.at += len(text)
        return found.resume

    def _ended(self) -> SetLine:
        part = "runover" if self.made or self.block.continued else "first"
        line = SetLine(tuple(self.parts), self.block.kind, part, apart=True)
        self.parts, self.at, self.begun = [], self.block.runover, False
        self.made += 1
        return line
