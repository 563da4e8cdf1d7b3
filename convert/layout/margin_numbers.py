"""Numbers of paragraphs in the margin: each paragraph of a series has one, also where print
numbers only every fifth or so (BF 15.2.1)."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from ..document.ledger import Ledger
from ..document.nodes import (
    Added,
    Block,
    Box,
    Displayed,
    Document,
    Inlines,
    Paragraph,
    PrintPage,
    Run,
    Section,
)
from ..findings import Findings
from .flow_runs import span_of

_NUMBER = re.compile(r"\s*([(\[§¶]?\s?)(\d{1,4})([.)\]]?)(?=\s)")
LEAD = 12  # Characters in which a number stands.
FIVE = 5  # Steps so long may have 1 before the first (common practice, no source).
LEAST = 3  # Numbered paragraphs that make a series; common practice, no source.
PROSE = ("body", "blocked")


class Numbered(NamedTuple):
    """A number print has: the place of its paragraph, its value, what stands around it."""

    at: int
    value: int
    before: str
    after: str
    typeform: int


def added_numbers(document: Document, findings: Findings) -> dict[int, Inlines]:
    """The numbers to be added, by the identity of their paragraphs."""
    out: dict[int, Inlines] = {}
    stack: list[object] = [document]
    while stack:
        node = stack.pop()
        if isinstance(node, Document | Section | Box | Displayed):
            stack.extend(node.children)
            for blocks in _stretches(node.children):
                _number(blocks, document.ledger, out, findings)
    return out


def _stretches(blocks: Sequence[Block]) -> Iterator[list[Paragraph]]:
    """Paragraphs one after another; print pages between them do not part them."""
    here: list[Paragraph] = []
    for block in blocks:
        if isinstance(block, Paragraph) and block.role in PROSE:
            here.append(block)
        elif not isinstance(block, PrintPage):
            if len(here) > LEAST:
                yield here
            here = []
    if len(here) > LEAST:
        yield here


def _number(
    blocks: list[Paragraph], ledger: Ledger, out: dict[int, Inlines], findings: Findings
) -> None:
    printed = [
        found for at, node in enumerate(blocks) if (found := _of(at, node, ledger)) is not None
    ]
    if len(printed) < LEAST:
        return
    for series in _series(printed):
        first, shown = series[0], {number.at for number in series}
        low, high = _ends(series, len(blocks))
        lacking = [at for at in range(low, high) if at not in shown]
        for at in lacking:
            number = f"{first.before}{first.value + at - first.at}{first.after}"
            out[id(blocks[at])] = (Added(number, first.typeform), Added(" "))
        if lacking:
            start, last = span_of(blocks[low].runs), span_of(blocks[high - 1].runs)
            span = (start[0], last[1]) if start and last else None
            findings.add("layout.margin-numbers-added", span, numbers=len(lacking))


def _of(at: int, node: Paragraph, ledger: Ledger) -> Numbered | None:
    """The number a paragraph begins with, where it stands apart from the words."""
    first = node.runs[0] if node.runs else None
    if not isinstance(first, Run) or ledger.text[first.start].isalpha():
        return None
    lead = ledger.text[first.start : min(first.end, first.start + LEAD)]
    found = _NUMBER.match(lead + (" " if first.end - first.start < LEAD else ""))
    if found is None:
        return None
    own = first.typeform if not lead[found.end() :].strip() else 0
    return Numbered(at, int(found[2]), found[1], found[3], own)


def _series(printed: list[Numbered]) -> Iterator[list[Numbered]]:
    """Numbers that grow by one step as the places of their paragraphs do."""
    run: list[Numbered] = []
    for number in [*printed, None]:
        if run and not (number and _goes_on(run, number)):
            if len(run) >= LEAST:
                yield run
            run = []
        if number:
            run.append(number)


def _goes_on(run: list[Numbered], number: Numbered) -> bool:
    """Whether a number goes on by the step of a series: 2, 4, 6, or 5, 10, 15, with 1 before."""
    last = run[-1]
    if number.value - last.value != number.at - last.at:
        return False
    values = [one.value for one in run]
    step = number.value - last.value
    if values[0] == 1 and step >= FIVE and values[1:2] == [step]:
        values = values[1:]
    return all(two - one == step for one, two in pairwise(values))


def _ends(series: list[Numbered], count: int) -> tuple[int, int]:
    """Where the paragraphs of a series begin and end among ``count`` of them: also before its
    first printed number where the first paragraph is number 1, and after its last where fewer
    than a step follow; of short steps neither, as a paragraph beside them may be none of them."""
    first, last = series[0], series[-1]
    step = last.value - series[-2].value
    if step < FIVE:
        return first.at, last.at + 1
    low = 0 if first.value - first.at == 1 else first.at
    high = count if count - last.at <= step else last.at + 1
    return low, high
