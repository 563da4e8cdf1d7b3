"""Stretches of print that a second person signs for: numbers, amounts, dates, identifiers."""

from __future__ import annotations

import re
from functools import cache
from typing import NamedTuple

from ..document.nodes import Document
from .table import Profile, tables


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


def signatures(document: Document, chosen: Profile | None) -> tuple[Signature, ...]:
    """All matter that a profile lists, in the order of print; each stretch once.

    Of two kinds that meet in the same print, the one that the profile names first counts.
    What was left out of the braille is not listed.
    """
    if chosen is None:
        return ()
    taken = bytearray(len(document.ledger.text))
    for omission in document.omissions:
        taken[omission.start : omission.end] = b"\1" * (omission.end - omission.start)
    out: list[Signature] = []
    for what in chosen.sign:
        for match in _pattern(what).finditer(document.ledger.text):
            start, end = match.span()
            if not any(taken[start:end]):
                taken[start:end] = b"\1" * (end - start)
                out.append(Signature(what, start, end))
    return tuple(sorted(out, key=lambda row: row.start))
