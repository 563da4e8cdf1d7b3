"""The words of a text, and where those that are looked for stand, in one pass over its lines."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from ..document.vocabulary import Vocabulary
from ..findings import Span

EDGES = ".,;:!?()[]{}“”‘’\"'…—–*"
_PART = re.compile(r"[^\W_]+")


class Places:
    """``counts``: every word without the punctuation at its edges, and how often it stands.

    ``joined``: the distinct words as they stand.  A place of a word is one where no letter or
    figure touches it.
    """

    __slots__ = ("_cores", "_known", "_words", "counts", "joined")

    def __init__(self, words: Vocabulary) -> None:
        self._words = words
        self.joined = words.joined
        self._cores = [token.strip(EDGES) for token in words.counts]
        self._known: dict[str, list[Span]] = {}
        counts: dict[str, int] = {}
        for core, times in zip(self._cores, words.counts.values(), strict=True):
            counts[core] = counts.get(core, 0) + times
        self.counts = counts

    def seek(self, words: Iterable[str]) -> None:
        """Find all places of many words at once, which is quicker than one by one."""
        known = self._known = {word: [] for word in words if word.strip(EDGES)}
        holding = self._holding(known)
        holders, at = frozenset(holding), 0
        for line, tokens in zip(self._words.lines, self._words.tokens, strict=True):
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
        rows = zip(self._words.counts, self._cores, strict=True)
        return {token: by_core[core] for token, core in rows if core in by_core}

    def of(self, word: str) -> Iterable[Span]:
        """Where a word stands, in order."""
        known = self._known.get(word)
        return _in(self._words.text, word) if known is None else known


def _in(text: str, word: str) -> Iterator[Span]:
    size = len(word)
    at = text.find(word)
    while at >= 0:
        before, after = text[at - 1 : at], text[at + size : at + size + 1]
        if not before.isalnum() and not after.isalnum():
            yield at, at + size
        at = text.find(word, at + size)
