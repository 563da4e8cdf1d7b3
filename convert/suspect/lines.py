"""Figures and spaces in a line of print: formulas as text, minus signs, blanks, columns."""

from __future__ import annotations

import re
from collections.abc import Iterator

from ..findings import Findings, Span
from .leaves import Leaf, Reading, file, lines_of

_SIGNS, _RARE_SIGNS = "=+^", "×÷√≤≥"
_LEFT = re.compile(r"(?:^|[\s(=+−])(?:\d*[A-Za-z]\d?|\d+(?:\.\d+)?|[)²³]|\d*\w/\w)\s?$")
_RIGHT = re.compile(r"\s?[-−]?(?:\d*[A-Za-z]\d?(?!\.?[A-Za-z])|\d+(?:\.\d+)?|\(|√)")
_MINUS = re.compile(r"\d - \d")
_DOTS = re.compile(r"(?:(?<!\S)\.{5,}|\.{8,}|(?<!\S)…{2,}|(?:\. ){5,})")
_DOT_SEEDS = (".....", ". . . . . ", "……")  # Every match of _DOTS begins with one of them.
_CONTENTS_END = re.compile(r"\s*(?:\d+|[ivxlc]+)\s*(?:\n|$)")
_GAP = re.compile(r"\S(?:[ \u00a0\u2003]{3,}|\t+)(?=\S)")
_FEWEST_LINES = 3


def look(reading: Reading, findings: Findings) -> None:
    """File what looks like a formula, a minus sign, a blank or a column."""
    file(findings, "suspect.typed-maths", _formulas(reading))
    file(findings, "suspect.minus", _minus(reading))
    dots = _dots(reading)
    rooms = [span for span in dots if reading.answered(*span)]
    file(findings, "suspect.dots", set(dots).difference(rooms))
    file(findings, "suspect.dots-as-blank", rooms)
    text = reading.text
    if "   " in text or ("\u00a0" in reading.signs and "\u00a0\u00a0" in text):
        file(findings, "suspect.space-columns", _columns(reading))
    for span in reading.formulas[:1]:
        findings.add("suspect.maths-code", span, number=len(reading.formulas))


def _formulas(reading: Reading) -> list[Span]:
    """Expressions with letters for numbers, typed as ordinary text: ``x2 + 3``, ``a/b + c``."""
    text = reading.text
    spans: list[Span] = []
    signs = [*_SIGNS, *reading.signs.intersection(_RARE_SIGNS)]
    for at in sorted(at for sign in signs for at in _places(text, sign)):
        low = max(text.rfind("\n", 0, at) + 1, at - 12)
        left, right = _LEFT.search(text, low, at), _RIGHT.match(text, at + 1)
        if text[at] == "√" and right:
            left = right
        if not (left and right and reading.plain(at)):
            continue
        start = min(left.start(), at)
        words = text[start : right.end()]
        if any(ch.isalpha() for ch in words) or text[at] in "√^":
            skip = 0 if text[start].isalnum() or left is right else 1
            spans.append((start + skip, right.end()))
    return _joined(spans)


def _joined(spans: list[Span]) -> list[Span]:
    """Stretches that touch as one."""
    out: list[Span] = []
    for start, end in spans:
        if out and start <= out[-1][1] + 1:
            out[-1] = (out[-1][0], max(end, out[-1][1]))
        else:
            out.append((start, end))
    return out


def _minus(reading: Reading) -> list[Span]:
    """A hyphen with spaces between numbers: a range or a subtraction."""
    if "-" not in reading.counts:
        return []
    return [
        found.span()
        for at in _places(reading.text, " - ")
        if (found := _MINUS.match(reading.text, max(0, at - 1))) and reading.plain(found.start())
    ]


def _dots(reading: Reading) -> list[Span]:
    """Rows of dots that are no leaders of a contents list: room for an answer, or an ellipsis."""
    text, spans, done = reading.text, [], 0
    holds = reading.holds
    seeds = [seed for seed in _DOT_SEEDS if holds(seed.split(" ", 1)[0])]
    for at in sorted(at for seed in seeds for at in _places(text, seed)):
        found = _DOTS.match(text, at) if at >= done else None
        if found:
            done = found.end()
            if not _CONTENTS_END.match(text, done) and reading.plain(at):
                spans.append(found.span())
    return spans


def _places(text: str, words: str) -> Iterator[int]:
    """Where words stand, those that overlap included; quicker than a pattern over a long text."""
    at = text.find(words)
    while at >= 0:
        yield at
        at = text.find(words, at + 1)


def _columns(reading: Reading) -> list[Span]:
    """Three or more lines in a row, each with a gap of three spaces or more."""
    spans: list[Span] = []
    for row in reading.rows:
        run: list[Leaf] = []
        for kid in (*row, None):
            gaps = _gaps(kid) if isinstance(kid, Leaf) and reading.plain(kid.start) else 0
            if gaps and isinstance(kid, Leaf):
                run.append(kid)
                continue
            if sum(map(_gaps, run)) >= _FEWEST_LINES:
                spans.append((run[0].start, run[-1].end))
            run = []
    return spans


def _gaps(leaf: Leaf) -> int:
    """How many lines of a block have a gap."""
    words = leaf.words
    if not ("   " in words or "\t" in words or "\u00a0" in words or "\u2003" in words):
        return 0
    return sum(_GAP.search(line) is not None for line in lines_of(leaf))
