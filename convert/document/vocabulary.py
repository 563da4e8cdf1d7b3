"""The words of a text, cut at white space once for all who ask."""

from __future__ import annotations

from collections import Counter
from itertools import chain


class Vocabulary:
    """``lines`` of a text, the ``tokens`` of each line, how often each token stands, and the
    distinct ones ``joined`` by line ends."""

    __slots__ = ("counts", "joined", "lines", "text", "tokens")

    def __init__(self, text: str) -> None:
        self.text = text
        self.lines = text.split("\n")
        self.tokens = list(map(str.split, self.lines))
        self.counts = Counter(chain.from_iterable(self.tokens))
        self.joined = "\n".join(self.counts)
