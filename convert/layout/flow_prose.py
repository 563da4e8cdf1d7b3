"""Paragraphs whose printed lines have numbers (BF 15.6 of the digest).

A paragraph becomes one item, in which each printed line is followed by a tab, its number and
another tab, all but the number added; ``line_numbers`` sets it when it has its cells.  A line of
print begins where print ends a line; where the source does not tell, where it has a number.
"""

from __future__ import annotations

from dataclasses import replace
from functools import partial

from ..document.nodes import (
    Added,
    Inline,
    Inlines,
    LineBreak,
    LineNumber,
    Paragraph,
    PrintPageTurn,
    text_of,
)
from .flow_runs import NUMBERED, visible
from .flow_state import Flow, Scope, Task

TAB = "\t"
Line = tuple[Inlines, Inlines]
"""The words of a printed line and its number."""


def has_number(runs: Inlines) -> bool:
    """Whether print has a number beside these words."""
    return any(type(run) is LineNumber for run in runs)


def tasks(flow: Flow, node: Paragraph, scope: Scope) -> list[Task]:
    """Steps for a paragraph with line numbers, one item between two print page turns."""
    lines = _lines(node.runs)
    if flow.convention.rules["prose_line_numbers"] == "every":
        lines = _every(flow, lines)
    here = replace(scope, style=NUMBERED, group="numbered prose", level=0, levels=0,
                   further=False, margins=(1, 1) if node.role == "blocked" else None)  # fmt: skip
    out: list[Task] = []
    part: list[Line] = []
    begun = False
    for words, number in lines:
        pieces, turns = _pieces(words)
        for at, piece in enumerate(pieces):
            if at:
                out += [*_item(flow, node, here, part, begun)]
                begun, part = begun or bool(part), []
                out.append(flow.turn_step(turns[at - 1].label, node.address, here))
            shown = visible(piece, flow.document.ledger)
            if shown or (number and at == len(pieces) - 1):
                part.append((piece, number))
                number = ()
    return [*out, *_item(flow, node, here, part, begun)]


def _item(flow: Flow, node: Paragraph, scope: Scope, lines: list[Line], begun: bool) -> list[Task]:
    runs: list[Inline] = []
    for words, number in lines:
        runs += [*words, Added(TAB), *number, Added(TAB)]
    if not runs:
        return []
    if begun:
        runover = (
            scope.margins[1] if scope.margins else flow.convention.style(NUMBERED).margins()[1]
        )
        scope = replace(scope, margins=(runover, runover))
    return [partial(flow.put, NUMBERED, tuple(runs[:-1]), scope, node.address)]


def _lines(runs: Inlines) -> list[Line]:
    """The printed lines of a paragraph, each with its number."""
    broken = any(isinstance(run, LineBreak) for run in runs)
    out: list[tuple[list[Inline], list[Inline]]] = [([], [])]
    for run in runs:
        if isinstance(run, LineBreak):
            out.append(([], []))
            continue
        if type(run) is LineNumber:
            if not broken and (out[-1][0] or out[-1][1]):
                out.append(([], []))
            if out[-1][1]:
                out[-1][0].extend((Added(" "), run, Added(" ")))
            else:
                out[-1][1].append(run)
        else:
            out[-1][0].append(run)
    return [(tuple(words), tuple(number)) for words, number in out if words or number]


def _every(flow: Flow, lines: list[Line]) -> list[Line]:
    """The lines all numbered, where the numbers of print agree with how many lines there are."""
    ledger = flow.document.ledger
    firsts = set()
    for at, (_, number) in enumerate(lines):
        if number:
            text = text_of(number, ledger).strip()
            firsts.add(int(text) - at if text.isdecimal() else 0)
    if len(firsts) != 1 or (first := firsts.pop()) < 1:
        return lines
    return [
        (words, number or (Added(str(first + at)),)) for at, (words, number) in enumerate(lines)
    ]


def _pieces(words: Inlines) -> tuple[list[Inlines], list[PrintPageTurn]]:
    """The words of a line between the print pages that begin in it, and these."""
    pieces: list[Inlines] = [()]
    turns: list[PrintPageTurn] = []
    for run in words:
        if isinstance(run, PrintPageTurn):
            turns.append(run)
            pieces.append(())
        else:
            pieces[-1] = (*pieces[-1], run)
    return pieces, turns
