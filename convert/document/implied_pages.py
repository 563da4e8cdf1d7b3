"""Print pages without a number inside a numbered sequence have the number implied (BF 1.11)."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from ..findings import Findings
from .change import map_children, map_inlines
from .nodes import Document, Inlines, PrintPage, PrintPageTurn, inlines_of, walk


def imply_numbers(document: Document, findings: Findings) -> Document:
    """Number the pages without a number that stand between two numbered ones with room for just
    so many.  Needs the print pages counted."""
    if "" not in document.print_pages:
        return document
    turns: list[PrintPage | PrintPageTurn] = []
    for node in walk(document):
        if isinstance(node, PrintPage):
            turns.append(node)
        turns += [run for run in inlines_of(node) if isinstance(run, PrintPageTurn)]
    implied = _implied(document.print_pages)
    if not implied:
        return document
    labels = {id(turns[at]): label for at, label in implied.items()}

    def pages(kids: tuple[Any, ...]) -> tuple[Any, ...]:
        return tuple(replace(k, label=labels[id(k)]) if id(k) in labels else k for k in kids)

    def inlines(runs: Inlines) -> Inlines:
        if not any(id(run) in labels for run in runs):
            return runs
        return tuple(
            replace(run, label=labels[id(run)])
            if isinstance(run, PrintPageTurn) and id(run) in labels
            else run
            for run in runs
        )

    for label in implied.values():
        findings.add("read.page-implied", page=label)
    numbered: Document = map_children(map_inlines(document, inlines), pages)
    told = (implied.get(at, label) for at, label in enumerate(document.print_pages))
    return replace(numbered, print_pages=tuple(told))


def _implied(labels: tuple[str, ...]) -> dict[int, str]:
    """The labels to give to those without one, by their place."""
    out: dict[int, str] = {}
    last: tuple[int, int] | None = None
    for at, label in enumerate(labels):
        if not label:
            continue
        number = int(label) if label.isdecimal() and len(label) < 10 else -1
        if last is not None and number - last[1] == at - last[0] > 1:
            out |= {last[0] + n: str(last[1] + n) for n in range(1, at - last[0])}
        last = (at, number) if number >= 0 else None
    return out
