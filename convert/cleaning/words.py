"""Words that print divides at a line end or over a page, with a hyphen that is no part of them.

A word is joined only where the document itself writes it whole somewhere else and nowhere with
a hyphen; any other is told and stays as it is (“pre- and post-war” keeps its hyphen).
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

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
from ..document.tidy import map_inlines
from ..findings import Findings, Span
from .edits import Edit, apply_edits

_DIVIDED = re.compile(r"(?<![\w-])([^\W\d_]{2,})[-‐] +([^\W\d_]{2,})(?![\w-])")
_TAIL = re.compile(r"(?<![\w-])([^\W\d_]{2,})[-‐]\s*$")
_HEAD = re.compile(r"\s*([^\W\d_]+)")
_WORD = re.compile(r"[^\W\d_]+(?:[-‐][^\W\d_]+)*")
# Words after a hyphen that hangs on purpose.
_HANGING = frozenset(("and", "or", "to", "nor", "but", "as", "than", "und", "et", "y", "o", "ou"))


class _Words:
    """The words of a document, counted once when first asked for."""

    def __init__(self, text: str) -> None:
        self._text = text
        self._known: Counter[str] | None = None

    def joins(self, left: str, right: str, cut: int = 0) -> bool:
        """Whether the two parts are one word by the document's own evidence; ``cut``: how often
        the ledger has them with a hyphen only because a page turns there."""
        if self._known is None:
            self._known = Counter(word.lower() for word in _WORD.findall(self._text))
        whole, parted = f"{left}{right}".lower(), f"{left}-{right}".lower()
        return self._known[whole] > 0 and self._known[parted] <= cut


def _may_join(left: str, right: str) -> bool:
    return right.islower() and right not in _HANGING and left[1:].islower()


def line_end_hyphens(document: Document, findings: Findings) -> Document:
    """Join words that a hyphen and a space, or a hyphen and a line end, cut."""
    text = document.ledger.text
    if "- " not in text and "‐ " not in text and "-\n" not in text:
        return document
    words = _Words(text)
    edits: list[Edit] = []
    for match in _DIVIDED.finditer(text):
        left, right = match.groups()
        if not _may_join(left, right):
            continue
        if words.joins(left, right):
            edits.append(Edit(match.end(1), match.start(2)))
        else:
            findings.add("clean.maybe-divided", match.span())
    document, done = apply_edits(document, edits, "clean.line-end-hyphens")
    for span in done:
        findings.add("clean.line-end-hyphens", span)
    return _join_over(document, findings, words, LineBreak, "clean.line-end-hyphens")


def split_words(document: Document, findings: Findings) -> Document:
    """Join words that a hyphen and the turn of a print page cut."""
    words = _Words(document.ledger.text)
    return _join_over(document, findings, words, PrintPageTurn, "clean.split-words")


def _join_over(
    document: Document,
    findings: Findings,
    words: _Words,
    between: type[LineBreak] | type[PrintPageTurn],
    kind: str,
) -> Document:
    text = document.ledger.text
    cuts = [cut for node in walk(document) for cut in _cuts(inlines_of(node), text, between)]
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
