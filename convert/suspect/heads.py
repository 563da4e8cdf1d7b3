"""Headings used for looks, capitals without need, emphasis everywhere, drop capitals, strikes."""

from __future__ import annotations

from itertools import pairwise

from ..document.nodes import (
    BOLD,
    ITALIC,
    STRIKE,
    UNDERLINE,
    Footnote,
    Heading,
    ListItem,
    Paragraph,
    Run,
    TableEntry,
)
from ..findings import Findings
from .leaves import Leaf, Reading, data, file

_FEWEST_WORDS, _FEWEST_LETTERS = 3, 12
_MUCH, _ENOUGH = 0.4, 1000


def look(reading: Reading, findings: Findings) -> None:
    """File the doubts about headings and typeforms."""
    heads = [leaf for leaf in reading.leaves if isinstance(leaf.node, Heading)]
    file(findings, "suspect.heading", (leaf.span for leaf in heads if _is_text(leaf)))
    _levels(heads, findings)
    _bold_lines(reading, findings)
    file(findings, "suspect.capitals", (leaf.span for leaf in reading.leaves if _is_capitals(leaf)))
    file(findings, "suspect.drop-capital", (_first_two(leaf) for leaf in reading.leaves
                                            if _is_dropped(reading, leaf)))  # fmt: skip
    _typeforms(reading, findings)


def _is_text(leaf: Leaf) -> bool:
    """Whether a heading reads like a sentence of the text."""
    rules = data()["heading"]
    words = leaf.words.rstrip(rules["closing"])
    count = len(words.split())
    if count > rules["longest"] or words.count("\n") >= rules["lines"]:
        return True
    return count > rules["sentence"] and words.endswith(tuple(rules["ends"]))


def _bold_lines(reading: Reading, findings: Findings) -> None:
    """Short bold lines without a final stop, before ordinary text, that the reader has not told
    of; in lists and tables bold lines are terms and heads."""
    told = {
        span for one in findings.items if one.kind == "docx.maybe-heading" for span in one.spans
    }
    spans = []
    for owner, row in zip(reading.owners, reading.rows, strict=True):
        if isinstance(owner, ListItem | TableEntry | Footnote):
            continue
        for leaf, after in pairwise(row):
            if not (isinstance(leaf, Leaf) and isinstance(after, Leaf)) or leaf.span in told:
                continue
            if _is_bold_line(leaf) and _is_plain(after):
                spans.append(leaf.span)
    file(findings, "suspect.bold-line", spans)


def _is_bold_line(leaf: Leaf) -> bool:
    node, rules = leaf.node, data()["heading"]
    if type(node) is not Paragraph or node.role != "body":
        return False
    if not all(type(run) is Run and run.typeform & BOLD for run in node.runs):
        return False
    words = leaf.words.strip()
    if len(words) > rules["bold_line"] or "\n" in words or words.endswith(tuple(rules["stops"])):
        return False
    return any(map(str.isalpha, words))


def _is_plain(leaf: Leaf) -> bool:
    runs = leaf.runs
    is_body = type(leaf.node) is Paragraph and leaf.node.role == "body"
    return is_body and not all(type(run) is Run and run.typeform & BOLD for run in runs)


def _levels(heads: list[Leaf], findings: Findings) -> None:
    """Headings that skip a level going down."""
    last = 0
    spans = []
    for leaf in heads:
        level = leaf.node.level if isinstance(leaf.node, Heading) else 0
        if last and level > last + 1:
            spans.append(leaf.span)
        last = level
    file(findings, "suspect.heading-level", spans)


def _is_capitals(leaf: Leaf) -> bool:
    """Whether a whole block is typed in capitals."""
    words = leaf.words
    if not words.isupper() or len(words.split()) < _FEWEST_WORDS:
        return False
    capitals = sum(ch.isupper() for ch in words)
    return capitals >= _FEWEST_LETTERS and 10 * capitals >= 9 * sum(ch.isalpha() for ch in words)


def _is_dropped(reading: Reading, leaf: Leaf) -> bool:
    """Whether a block begins with a capital cut off from its word: ``T he``."""
    words = leaf.words
    if not isinstance(leaf.node, Paragraph) or words[1:2] not in (" ", "\n") or words[:1] in "AIO":
        return False
    rest = words[2:].split(maxsplit=1)
    if not rest or not words[0].isupper() or not rest[0][:1].islower():
        return False
    whole = (words[0] + rest[0]).strip(".,;:!?").lower()
    return whole in data()["words"]["common"].split() or whole in reading.counts


def _first_two(leaf: Leaf) -> tuple[int, int]:
    return leaf.start, leaf.start + 2


def _typeforms(reading: Reading, findings: Findings) -> None:
    """Text struck out, and emphasis on most of the text."""
    struck, strong, letters = [], 0, 0
    for leaf in reading.leaves:
        body = isinstance(leaf.node, Paragraph)
        for run in leaf.runs:
            if not isinstance(run, Run):
                continue
            if run.typeform & STRIKE and not reading.text[run.start : run.end].isspace():
                struck.append((run.start, run.end))
            if body:
                letters += run.end - run.start
                if run.typeform & (BOLD | ITALIC | UNDERLINE):
                    strong += run.end - run.start
    file(findings, "suspect.struck", struck)
    if letters > _ENOUGH and strong > _MUCH * letters:
        findings.add("suspect.emphasis", percent=100 * strong // letters)
