"""What stands nearest to a place that was not found, and where page turns stand in a line."""

from __future__ import annotations

import difflib

from ..document.nodes import (
    Graphic,
    Heading,
    Inlines,
    ListItem,
    Paragraph,
    PrintPageTurn,
    Table,
    VerseLine,
)
from .index import Index
from .record import Decision


def nearest(decision: Decision, index: Index) -> str:
    """The print nearest to that of a decision whose place was not found."""
    expect, address = decision.expect, decision.at
    offset = index.offset(address) if address else None
    size = max(20, min(60, len(expect)))
    if offset is not None:
        here = " ".join(index.ledger.text[offset : offset + 2 * size].split())[:size]
        if difflib.SequenceMatcher(None, here, expect).ratio() > 0.6:
            return here
    heads = {
        index.words(node, size)
        for node in index.order
        if isinstance(node, Paragraph | Heading | ListItem | VerseLine | Graphic | Table)
    }
    close = difflib.get_close_matches(expect[:size], sorted(heads), n=1, cutoff=0.5)
    if close:
        return close[0]
    if offset is not None:
        return " ".join(index.ledger.text[offset : offset + 2 * size].split())[:size]
    named = index.named(address) if address else []
    return index.words(named[-1], size) if named else ""


def page_turn(inlines: Inlines, label: str | None) -> PrintPageTurn | None:
    """The first turn to a print page in a line."""
    turns = (run for run in inlines if isinstance(run, PrintPageTurn) and run.label == label)
    return next(turns, None)


def turn_offset(inlines: Inlines, turn: PrintPageTurn) -> int:
    """The ledger offset at which a page turn inside a line stands."""
    here = 0
    for inline in inlines:
        if inline is turn:
            return here
        here = getattr(inline, "end", here)
    return here
