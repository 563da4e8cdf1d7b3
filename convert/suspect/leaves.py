"""The print of a document as the detectors see it: its vocabulary, its blocks in rows."""

from __future__ import annotations

import tomllib
from bisect import bisect_right
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Any

from ..document.nodes import (
    SUB,
    SUP,
    Block,
    DisplayMath,
    Document,
    Graphic,
    Heading,
    InlineGraphic,
    Inlines,
    LineBreak,
    MathRun,
    NoteCall,
    Paragraph,
    Run,
    VerseLine,
    children_of,
    inlines_of,
)
from ..findings import Findings, Span

_EDGES = ".,;:!?()[]{}“”‘’\"'…—–*"


@cache
def data() -> dict[str, Any]:
    """The tables of ``suspect.toml``."""
    file = resources.files("convert") / "suspect" / "suspect.toml"
    return tomllib.loads(file.read_text("utf-8"))


@dataclass(frozen=True, slots=True)
class Leaf:
    """A block that holds words itself; ``words`` is its print, line ends as ``\\n``."""

    node: Heading | Paragraph | VerseLine
    start: int
    end: int
    words: str

    @property
    def span(self) -> Span:
        """Its stretch of the ledger."""
        return self.start, self.end

    @property
    def runs(self) -> Inlines:
        """Its inlines."""
        return self.node.runs


Row = list[Leaf | Block]


class Reading:
    """A document, read once for all detectors.

    ``rows``: the children of each parent in reading order, blocks of words as leaves.
    ``counts``: every word of print without the punctuation at its edges, and how often it stands.
    """

    def __init__(self, document: Document) -> None:
        self.document = document
        self.text = document.ledger.text
        self.rows: list[Row] = []
        self.leaves: list[Leaf] = []
        self.formulas: list[Span] = []
        self.apart: list[Span] = [(o.start, o.end) for o in document.omissions]
        self.raised: list[Span] = []
        self._walk(document)
        self.apart.sort()
        self.raised.sort()
        self._apart = [start for start, _ in self.apart]
        self._raised = [start for start, _ in self.raised]
        self.counts: Counter[str] = Counter()
        for word, times in Counter(self.text.split()).items():
            self.counts[word.strip(_EDGES)] += times

    def _walk(self, document: Document) -> None:
        stack: list[Any] = [document]
        while stack:
            node = stack.pop()
            kids = children_of(node)
            if kids:
                self.rows.append([self._leaf(kid) for kid in kids])
                stack.extend(reversed(kids))
            self._note(node)

    def _leaf(self, node: Any) -> Any:
        if not isinstance(node, Heading | Paragraph | VerseLine):
            return node
        spans = [run for run in node.runs if isinstance(run, Run)]
        if not spans:
            return node
        leaf = Leaf(node, spans[0].start, spans[-1].end, self.text[spans[0].start : spans[-1].end])
        self.leaves.append(leaf)
        return leaf

    def _note(self, node: Any) -> None:
        """Note what of a node is no plain reading matter, and what is raised or lowered."""
        if isinstance(node, DisplayMath):
            self.apart.append((node.start, node.end))
            self.formulas.append((node.start, node.end))
        for run in inlines_of(node):
            if isinstance(run, Run):
                if run.voice:
                    self.apart.append((run.start, run.end))
                elif run.typeform & (SUP | SUB):
                    self.raised.append((run.start, run.end))
            elif isinstance(run, MathRun | InlineGraphic):
                self.apart.append((run.start, run.end))
                if isinstance(run, MathRun):
                    self.formulas.append((run.start, run.end))
            elif isinstance(run, NoteCall):
                self.raised.append((run.start, run.end))
        if isinstance(node, Graphic):
            self.apart.extend((r.start, r.end) for r in node.alt if isinstance(r, Run))

    def plain(self, at: int) -> bool:
        """Whether the character is reading matter: no formula, code, omission or description."""
        return not _inside(self.apart, self._apart, at, at + 1)

    def scripted(self, start: int, end: int) -> bool:
        """Whether something of a stretch is raised, lowered or a note mark."""
        return _inside(self.raised, self._raised, start, end)

    def places(self, word: str) -> Iterator[Span]:
        """Where a word stands by itself in plain reading matter."""
        text, size = self.text, len(word)
        at = text.find(word)
        while at >= 0:
            before, after = text[at - 1 : at], text[at + size : at + size + 1]
            if not before.isalnum() and not after.isalnum() and self.plain(at):
                yield at, at + size
            at = text.find(word, at + size)

    def sentence(self, at: int) -> tuple[int, int]:
        """The sentence around a character, within its line, and at most 200 to each side."""
        text = self.text
        low, high = max(0, at - 200), min(len(text), at + 200)
        start = max(low, *(text.rfind(mark, low, at) + 1 for mark in ("\n", ". ", "? ", "! ")))
        ends = [text.find(mark, at, high) for mark in ("\n", ". ", "? ", "! ")]
        return start, min((end for end in ends if end >= 0), default=high)


def _inside(spans: list[Span], starts: list[int], start: int, end: int) -> bool:
    """Whether a stretch touches one of the sorted ``spans``."""
    at = bisect_right(starts, end - 1) - 1
    return at >= 0 and spans[at][1] > start


def lines_of(leaf: Leaf) -> list[str]:
    """The print lines of a block, as its line breaks give them."""
    if any(isinstance(run, LineBreak) for run in leaf.runs):
        return leaf.words.split("\n")
    return [leaf.words]


def file(findings: Findings, kind: str, spans: Iterable[Span], shown: Iterable[str] = ()) -> None:
    """One grouped finding with its places; ``shown`` words are told with how often they stand."""
    found = sorted(set(spans))
    if not found:
        return
    words = ""
    counts = Counter(shown)
    if counts:
        rows = [
            word if times == 1 else f"{word} ({times})" for word, times in counts.most_common(8)
        ]
        more = f" and {len(counts) - 8} more" if len(counts) > 8 else ""
        words = ", ".join(rows) + more
    for span in found:
        if words:
            findings.add(kind, span, words=words)
        else:
            findings.add(kind, span)
