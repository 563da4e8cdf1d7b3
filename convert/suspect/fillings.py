"""Places that a template keeps for words, and that nobody filled in: ``{{ name }}``, ``«Name»``."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from typing import NamedTuple

from ..findings import Findings, Span
from .leaves import Reading, data, file

_QUOTED = re.compile("«[^»\n]{0,200} [^»\n]{0,200}»")


class Filling(NamedTuple):
    """A way of writing such a place: the signs it begins with, its shape.  ``unless_quotes``: not
    where the document uses the same signs as quotation marks."""

    begins: str
    say: re.Pattern[str]
    unless_quotes: bool


@cache
def _fillings() -> tuple[Filling, ...]:
    rows = data()["filling"]
    return tuple(
        Filling(row["begins"], re.compile(row["say"]), row.get("unless_quotes", False))
        for row in rows
    )


def look(reading: Reading, findings: Findings) -> None:
    """File the places, once for all, with what stands in them."""
    spans = sorted(_found(reading))
    shown = (reading.text[start:end][:40] for start, end in spans)
    file(findings, "suspect.filling", spans, shown)


def _found(reading: Reading) -> Iterator[Span]:
    text = reading.text
    for filling in _fillings():
        at = text.find(filling.begins)
        if at < 0 or (filling.unless_quotes and _QUOTED.search(text)):
            continue
        while at >= 0:
            match = filling.say.match(text, at)
            if match and reading.plain(at):
                yield match.span()
            at = text.find(filling.begins, match.end() if match else at + 1)
