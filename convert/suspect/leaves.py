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
    AnswerSpace,
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
from .places import Places

_SCRIPTED = SUP | SUB
_LEAVES = frozenset((Heading, Paragraph, VerseLine))


@cache
def data() -> dict[str, Any]:
    """The tables of ``suspect.toml``."""
    file = resources.files("convert") / "suspect" / "suspect.toml"
    return tomllib.loads(file.read_text("utf-8"))


@dataclass(slots=True, eq=False)
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

    ``rows``: the children of each parent in reading order, blocks of words as leaves; ``owners``:
    those parents.
    ``counts``: every word of print without the punctuation at its edges, and how often it stands.
    """

    def __init__(self, document: Document) -> None:
        self.document = document
        self.text = document.ledger.text
        self.signs = document.ledger.signs
        self.rows: list[Row] = []
        self.owners: list[Any] = []
        self.leaves: list[Leaf] = []
        self.formulas: list[Span] = []
        self.apart: list[Span] = [(o.start, o.end) for o in document.omissions]
        self.raised: list[Span] = []
        self.answers: list[Span] = []
        self._walk(document)
        self.apart.sort()
        self.formulas.sort()
        self.raised.sort()
        self.answers.sort()
        self._apart = [start for start, _ in self.apart]
        self._raised = [start for start, _ in self.raised]
        self._answers = [start for start, _ in self.answers]
        self._places = Places(document.ledger.vocabulary)
        self.counts = self._places.counts

    def _walk(self, document: Document) -> None:
        stack: list[Any] = [document]
        while stack:
            node = stack.pop()
            kids = children_of(node)
            if kids:
                row: Row = [self._leaf(kid) if type(kid) in _LEAVES else kid for kid in kids]  # type: ignore[misc]
                self.rows.append(row)
                self.owners.append(node)
                stack.extend([kid for kid in reversed(kids) if type(kid) not in _LEAVES])
            if runs := inlines_of(node):
                self._note(runs)
            if isinstance(node, DisplayMath):
                self.apart.append((node.start, node.end))
                self.formulas.append((node.start, node.end))
            elif isinstance(node, Graphic):
                self.apart.extend((r.start, r.end) for r in node.alt if isinstance(r, Run))

    def _leaf(self, node: Any) -> Any:
        runs = node.runs
        self._note(runs)
        first = next((run for run in runs if type(run) is Run), None)
        if first is None:
            return node
        end = next(run.end for run in reversed(runs) if type(run) is Run)
        leaf = Leaf(node, first.start, end, self.text[first.start : end])
        self.leaves.append(leaf)
        return leaf

    def _note(self, runs: Inlines) -> None:
        """Note which inlines are no plain reading matter, what is raised or lowered, what is room
        for answers."""
        for run in runs:
            if type(run) is Run:
                if run.voice:
                    self.apart.append((run.start, run.end))
                elif run.typeform & _SCRIPTED:
                    self.raised.append((run.start, run.end))
            elif isinstance(run, MathRun | InlineGraphic):
                self.apart.append((run.start, run.end))
                if isinstance(run, MathRun):
                    self.formulas.append((run.start, run.end))
            elif isinstance(run, NoteCall):
                self.raised.append((run.start, run.end))
            elif isinstance(run, AnswerSpace):
                self.answers.append((run.start, run.end))

    def plain(self, at: int) -> bool:
        """Whether the character is reading matter: no formula, code, omission or description."""
        return not _inside(self.apart, self._apart, at, at + 1)

    def scripted(self, start: int, end: int) -> bool:
        """Whether something of a stretch is raised, lowered or a note mark."""
        return _inside(self.raised, self._raised, start, end)

    def answered(self, start: int, end: int) -> bool:
        """Whether something of a stretch was read as room for an answer."""
        return _inside(self.answers, self._answers, start, end)

    def holds(self, signs: str) -> bool:
        """Whether signs without white space stand anywhere."""
        return signs in self._places.joined

    def seek(self, words: Iterable[str]) -> None:
        """Look for many words at once, whose :meth:`places` are then known."""
        self._places.seek(words)

    def places(self, word: str) -> Iterator[Span]:
        """Where a word stands by itself in plain reading matter."""
        return (span for span in self._places.of(word) if self.plain(span[0]))

    def sentence(self, at: int) -> tuple[int, int]:
        """The sentence around a character, within its line, and at most 200 to each side."""
        text = self.text
        start, high = max(0, at - 200), min(len(text), at + 200)
        # Each search is no longer than the best so far; written out, as it is asked often.
        start = max(start, text.rfind("\n", start, at) + 1)
        start = max(start, text.rfind(". ", start, at) + 1)
        start = max(start, text.rfind("? ", start, at) + 1)
        start = max(start, text.rfind("! ", start, at) + 1)
        for mark in ("\n", ". ", "? ", "! "):
            end = text.find(mark, at, high)
            if end >= 0:
                high = end
        return start, high


def _inside(spans: list[Span], starts: list[int], start: int, end: int) -> bool:
    """Whether a stretch touches one of the sorted ``spans``."""
    at = bisect_right(starts, end - 1) - 1
    return at >= 0 and spans[at][1] > start


def lines_of(leaf: Leaf) -> list[str]:
    """The print lines of a block, as its line breaks give them."""
    if "\n" in leaf.words and any(isinstance(run, LineBreak) for run in leaf.runs):
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
