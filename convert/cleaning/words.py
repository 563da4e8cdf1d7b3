"""Words that print divides at a line end or over a page, with a hyphen that is no part of them.

A word is joined only where the document itself writes it whole somewhere else and nowhere with
a hyphen; any other is told and stays as it is (“pre- and post-war” keeps its hyphen).
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from ..document.change import map_inlines
from ..document.ledger import Ledger
from ..document.nodes import (
    Document,
    Inline,
    Inlines,
    LineBreak,
    Omission,
    PrintPageTurn,
    Run,
    inlines_of,
    walk,
)
from ..findings import Findings, Span
from .edits import Edit, apply_edits, places

_TAIL = re.compile(r"(?<![\w-])([^\W\d_]{2,})[-‐]\s*$")
_HEAD = re.compile(r" *([^\W\d_]{2,})(?![\w-])")
_WORD = re.compile(r"[^\W\d_]+(?:[-‐][^\W\d_]+)*")
_MANY = 60
# Words after a hyphen that hangs on purpose.
_HANGING = frozenset(("and", "or", "to", "nor", "but", "as", "than", "und", "et", "y", "o", "ou"))
# Verbs after a part of a word that is spoken of (“micro- means small”), and words that end so.
_SPEAKING = frozenset(("means", "refers", "denotes", "signifies", "indicates"))
_ENDING_SO = frozenset(("demeans", "contraindicates"))


class _Words:
    """How often words stand in a document, looked for among its distinct tokens."""

    def __init__(self, ledger: Ledger) -> None:
        self._ledger = ledger
        self._asked = 0
        self._known: Counter[str] | None = None

    def joins(self, left: str, right: str, cut: int = 0) -> bool:
        """Whether the two parts are one word by the document's own evidence; ``cut``: how often
        the ledger has them with a hyphen only because a page turns there."""
        whole, parted = f"{left}{right}".lower(), f"{left}-{right}".lower()
        return self._count(whole, 0) > 0 and self._count(parted, cut) <= cut

    def _count(self, word: str, enough: int) -> int:
        """How often a word occurs; counting stops when it is more than ``enough``."""
        self._asked += 1
        counts = self._ledger.vocabulary.counts
        if self._known is None and self._asked > _MANY:
            self._known = Counter()
            for token, times in counts.items():
                for found in _WORD.findall(token):
                    self._known[found.lower()] += times
        if self._known is not None:
            return self._known[word]
        tokens = self._ledger.vocabulary.joined
        number = 0
        for form in (word, word.capitalize()):  # the tokens are too many to lower for a few words
            for at in places(tokens, form):
                end = at + len(form)
                around = tokens[at - 1 : at] if at else "", tokens[end : end + 1]
                if not any(char.isalpha() or char in ("-", "‐") for char in around if char):
                    low, high = tokens.rfind("\n", 0, at) + 1, tokens.find("\n", end)
                    number += counts[tokens[low : high if high >= 0 else len(tokens)]]
                if number > enough:
                    return number
        return number


def _may_join(left: str, right: str) -> bool:
    spoken_of = right in _SPEAKING and (left + right).lower() not in _ENDING_SO
    return right.islower() and right not in _HANGING and left[1:].islower() and not spoken_of


def line_end_hyphens(document: Document, findings: Findings) -> Document:
    """Join words that a hyphen and a space, or a hyphen and a line end, cut."""
    text = document.ledger.text
    if "- " not in text and "-\n" not in text and "‐" not in document.ledger.signs:
        return document
    words = _Words(document.ledger)
    edits: list[Edit] = []
    hyphens = ("- ", "‐ ") if "‐" in document.ledger.signs else ("- ",)
    for (start, end), left, right in _divided(text, hyphens):
        if words.joins(left, right):
            edits.append(Edit(start, end))
        else:
            findings.add("clean.maybe-divided", (start - len(left), end + len(right)))
    document, done = apply_edits(document, edits, "clean.line-end-hyphens")
    for span in done:
        findings.add("clean.line-end-hyphens", span)
    return _join_over(document, findings, words, LineBreak, "clean.line-end-hyphens")


def _divided(text: str, hyphens: tuple[str, ...]) -> Iterator[tuple[Span, str, str]]:
    """(stretch of hyphen and spaces, left part, right part) of words that a line end may cut."""
    for at in sorted(at for hyphen in hyphens for at in places(text, hyphen)):
        head = _HEAD.match(text, at + 1)
        tail = _TAIL.search(text, max(0, at - 40), at + 1) if head else None
        if tail and head and _may_join(tail[1], head[1]):
            yield (at, head.start(1)), tail[1], head[1]


def split_words(document: Document, findings: Findings) -> Document:
    """Join words that a hyphen and the turn of a print page cut."""
    words = _Words(document.ledger)
    return _join_over(document, findings, words, PrintPageTurn, "clean.split-words")


def _join_over(
    document: Document,
    findings: Findings,
    words: _Words,
    between: type[LineBreak] | type[PrintPageTurn],
    kind: str,
) -> Document:
    text = document.ledger.text
    rows = (inlines for node in walk(document) if between in map(type, inlines := inlines_of(node)))
    cuts = [cut for inlines in rows for cut in _cuts(inlines, text, between)]
    if not cuts:
        return document
    in_ledger = Counter(f"{left}-{right}".lower() for _, left, right, _ in cuts)
    if between is LineBreak:
        in_ledger.clear()
    hyphens: list[Span] = []

    def change(inlines: Inlines) -> Inlines:
        out = list(inlines)
        joined = len(hyphens)
        for at, left, right, hyphen in reversed(list(_cuts(inlines, text, between))):
            if not words.joins(left, right, in_ledger[f"{left}-{right}".lower()]):
                findings.add("clean.maybe-divided", hyphen)
                continue
            before = out[at - 1]
            assert isinstance(before, Run)
            kept = replace(before, end=hyphen[0])
            turn: list[Inline] = [] if between is LineBreak else [out[at]]
            out[at - 1 : at + 1] = [kept, *turn]
            hyphens.append(hyphen)
        return tuple(out) if len(hyphens) > joined else inlines

    changed: Document = map_inlines(document, change)
    for span in hyphens:
        findings.add(kind, span)
    omitted = tuple(Omission(start, end, kind) for start, end in hyphens)
    return replace(changed, omissions=(*changed.omissions, *omitted))


def _cuts(
    inlines: Inlines, text: str, between: type[LineBreak] | type[PrintPageTurn]
) -> Iterator[tuple[int, str, str, Span]]:
    """(place, left part, right part, stretch of the hyphen) of the words something cuts."""
    for at in range(1, len(inlines) - 1):
        before, after = inlines[at - 1], inlines[at + 1]
        if not (
            isinstance(inlines[at], between) and isinstance(before, Run) and isinstance(after, Run)
        ):
            continue
        tail = _TAIL.search(text[max(before.start, before.end - 60) : before.end])
        head = _HEAD.match(text, after.start, after.end)
        if tail and head and _may_join(tail[1], head[1]):
            spaces = len(tail[0]) - len(tail[1])
            yield at, tail[1], head[1], (before.end - spaces, before.end)
