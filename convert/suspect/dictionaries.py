"""Lists of terms and definitions in the order of the alphabet: perhaps dictionaries (BF 21)."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from itertools import pairwise

from ..document.nodes import ListBlock, ListItem, Paragraph, Run, inlines_of, text_of, walk
from ..findings import Findings, Span
from .leaves import Reading, data, file

_KNOWN = frozenset(("glossary", "index", "bibliography", "contents", "cast", "notes"))


def look(reading: Reading, findings: Findings) -> None:
    """File the lists, once for all."""
    spans = []
    for row in reading.rows:
        for block in row:
            if isinstance(block, ListBlock) and _may_be(block, reading):
                spans.append(_span(block))
    file(findings, "suspect.dictionary", spans)


def _may_be(block: ListBlock, reading: Reading) -> bool:
    """Whether a list defines terms in their order and is not known as what it is."""
    plain = block.kind == "definition" and block.role not in _KNOWN
    return plain and _in_order(block, reading)


def _in_order(block: ListBlock, reading: Reading) -> bool:
    """Whether a list has terms enough, nearly all in the order of the alphabet."""
    rule = data()["dictionary"]
    terms = [_folded(term) for term in _terms(block, reading)]
    if len(terms) < int(rule["fewest"]) or len(set(terms)) * 2 < len(terms):
        return False
    wrong = sum(first > second for first, second in pairwise(terms))
    return wrong * 100 <= int(rule["wrong"]) * len(terms)


def _terms(block: ListBlock, reading: Reading) -> Iterator[str]:
    """The terms of a list, one for each item."""
    for item in block.children:
        if isinstance(item, ListItem) and item.children:
            first = item.children[0]
            if isinstance(first, Paragraph) and first.role == "term":
                yield text_of(first.runs, reading.document.ledger)


def _folded(term: str) -> str:
    """A term as it is sorted: letters and digits, without case and accents."""
    plain = unicodedata.normalize("NFD", term.casefold())
    return "".join(sign for sign in plain if sign.isalnum())


def _span(block: ListBlock) -> Span:
    """The beginning of a list: its first run of print."""
    runs = (run for node in walk(block) for run in inlines_of(node) if isinstance(run, Run))
    first = next(runs)
    return first.start, first.end
