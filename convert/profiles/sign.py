"""Stretches of print that a second person signs for: numbers, amounts, dates, identifiers, and
what the controls of a form hold."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from functools import cache
from typing import NamedTuple

from ..document.nodes import AnswerSpace, Document, inlines_of, walk
from ..findings import Finding, Span
from .table import Profile, tables

# Kinds of finding whose places are words typed into a form.
FILLED = ("docx.filled-control", "docx.filled-field", "read.filled-field")


class Signature(NamedTuple):
    """A stretch of print to be signed for: the kind of matter and its stretch of the ledger."""

    what: str
    start: int
    end: int


@cache
def _pattern(what: str) -> re.Pattern[str]:
    rows = tables()["matter"]
    shape = rows[what]
    assert isinstance(shape, str)
    return re.compile(shape)


def signatures(
    document: Document, chosen: Profile | None, findings: Iterable[Finding] = ()
) -> tuple[Signature, ...]:
    """All matter that a profile lists, in the order of print; each stretch once.

    Of two kinds that meet in the same print, the one that the profile names first counts.
    What was left out of the braille is not listed.  ``findings`` name what was filled in.
    """
    if chosen is None or not chosen.sign:
        return ()
    text = document.ledger.text
    taken = bytearray(len(text))
    for omission in document.omissions:
        taken[omission.start : omission.end] = b"\1" * (omission.end - omission.start)
    own = _of_controls(document, findings)
    out: list[Signature] = []
    for what in chosen.sign:
        spans = own[what] if what in own else [m.span() for m in _pattern(what).finditer(text)]
        for start, end in spans:
            if end > start and not any(taken[start:end]):
                taken[start:end] = b"\1" * (end - start)
                out.append(Signature(what, start, end))
    return tuple(sorted(out, key=lambda row: row.start))


def _of_controls(document: Document, findings: Iterable[Finding]) -> dict[str, list[Span]]:
    """What controls of a form hold: words typed in, ticked boxes, chosen entries."""
    text = document.ledger.text
    filled = [span for found in findings if found.kind in FILLED for span in found.spans]
    lines = [part for start, end in filled for part in _lines(text, start, end)]
    spaces = [
        inline
        for node in walk(document)
        for inline in inlines_of(node)
        if isinstance(inline, AnswerSpace)
    ]
    return {
        "filled in": lines,
        "ticked box": [(s.start, s.end) for s in spaces if s.kind == "checked"],
        "chosen entry": [
            (s.start, s.end) for s in spaces if s.kind == "choice" and text[s.start : s.end].strip()
        ],
    }


def _lines(text: str, start: int, end: int) -> Iterator[Span]:
    """The lines of a stretch that hold words, without the spaces at their ends."""
    for line in re.finditer(r"\S(?:[^\n]*\S)?", text[start:end]):
        yield start + line.start(), start + line.end()
