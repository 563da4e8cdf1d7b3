"""Handlers for what only DTBook has: producer's notes."""

from __future__ import annotations

from ..document.nodes import TranscriberNote
from .xhtml import Handler, Here, Walker
from .xhtml_blocks import address_of, flow, fresh


def producer_note(walker: Walker, here: Here) -> None:
    """A note by whoever made the file: print does not have it, so it is a transcriber's note."""
    if walker.too_deep() or walker.around.textual or walker.around.verse:
        start = walker.ledger.length
        if walker.around.textual:
            walker.inside(here)
        else:
            flow(walker, here)
    else:
        start = walker.ledger.length
        out = walker.collect(here, fresh(walker.around))
        if out:
            address = address_of(walker, here)
            walker.out.append(TranscriberNote(children=tuple(out), address=address))
    if walker.ledger.length > start:
        walker.findings.add("read.producer-note", (start, walker.ledger.length))


HANDLERS: dict[str, Handler] = {"producer-note": producer_note}
