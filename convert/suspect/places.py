"""The words of a text, and where those that are looked for stand, in one pass over its lines."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator
from itertools import chain

from ..findings import Span

EDGES = ".,;:!?()[]{}“”‘’\"'…—–*"
_PART = re.compile(r"[^\W_]+")


class Places:
    """``counts``: every word without the punctuation at its edges, and how often it stands.

    A place of a word is one where no letter or figure touches it.
    """

    __slots__ = ("_cores", "_known", "_lines", "_text", "_tokens", "_whole", "counts")

    def __init__(self, text: str) -> None:
        self._text = text
        self._lines = text.split("\n")
        self._tokens = list(map(str.split, self._lines))
        self._whole = Counter(chain.from_iterable(self._tokens))
        self._cores = [word.strip(EDGES) for word in self._whole]
        self._known: dict[str, list[Span]] = {}
        counts: dict[str, int] = {}
        for core, times in zip(self._cores, self._whole.values(), strict=True):
            counts[core] = counts.get(core, 0) + times
        self.counts = counts

    def seek(self, words: Iterable[str]) -> None:
        """Find all places of many words at once, which is quicker than one by one."""
        known = self._known = {word: [] for word in words if word.strip(EDGES)}
        holding = self._holding(known)
        lines, at = self._lines, 0
        holders = frozenset(holding)
        for line, tokens in zip(lines, self._tokens, strict=True):
            if met := holders.intersection(tokens):
                for word in {word for token in met for word in holding[token]}:
                    known[word].extend((at + start, at + end) for start, end in _in(line, word))
            at += len(line) + 1

    def _holding(self, words: Iterable[str]) -> dict[str, list[str]]:
        """The words that stand in each token, or may, for the tokens that hold any."""
        parted = "\n".join(core for core in self.counts if not core.isalnum())
        parts = frozenset(_PART.findall(parted))
        by_core: dict[str, list[str]] = {}
        for word in words:
            core = word.strip(EDGES)
            cores = {core} if core in self.counts else set()
            inside = core in parts or not core.isalnum()
            for start, end in _in(parted, core) if core and inside else ():
                low, high = parted.rfind("\n", 0, start) + 1, parted.find("\n", end)
                cores.add(parted[low : high if high >= 0 else len(parted)])
            for each in cores:
                by_core.setdefault(each, []).append(word)
        rows = zip(self._whole, self._cores, strict=True)
        return {token: by_core[core] for token, core in rows if core in by_core}

    def of(self, word: str) -> Iterable[Span]:
        """Where a word stands, in order."""
        known = self._known.get(word)
        return _in(self._text, word) if known is None else known


def _in(text: str, word: str) -> Iterator[Span]:
    size = len(word)
    at = text.find(word)
    while at >= 0:
        before, after = text[at - 1 : at], text[at + size : at + size + 1]
        if not before.isalnum() and not after.isalnum():
            yield at, at + size
        at = text.find(word, at + size)
