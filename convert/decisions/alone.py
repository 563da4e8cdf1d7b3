"""Whether a stretch of print stands once in a text, asked of many stretches of a long one."""

from __future__ import annotations

import re
from collections import Counter

SIZE = 20  # Characters of a block: any stretch of 2 * SIZE - 1 has a whole one in it.
_BLOCKS = re.compile(f".{{{SIZE}}}", re.S)


class Alone:
    """Counts the blocks of a text, cut every ``SIZE`` characters, when first asked.

    Wherever a stretch stands again, a whole block stands in it.  So one that has no block but
    those at its own place is alone, and the text need not be searched for it.
    """

    __slots__ = ("_blocks", "_text")

    def __init__(self, text: str) -> None:
        self._text = text
        self._blocks: Counter[int] | None = None

    def at(self, low: int, high: int) -> bool:
        """Whether the print from ``low`` to ``high`` stands nowhere else."""
        text = self._text
        words = text[low:high]
        if len(words) >= 2 * SIZE - 1 and not self._elsewhere(words, low):
            return True
        first = text.find(words)
        return text.find(words, first + len(words)) < 0

    def _elsewhere(self, words: str, low: int) -> bool:
        """Whether a block of the text stands in some words, besides those at their own place."""
        if self._blocks is None:
            self._blocks = Counter(map(hash, _BLOCKS.findall(self._text)))
        starts = range(len(words) - SIZE + 1)
        own = starts[-low % SIZE :: SIZE]
        inside = [hash(words[at : at + SIZE]) for at in starts]
        return sum(map(self._blocks.__getitem__, inside)) > len(own)
