"""Words that send the reader to what braille may not have: colours, pictures, pages, typeforms."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from typing import NamedTuple

from ..errors import Bug
from ..findings import Findings, Span
from .leaves import Reading, data, file

# The kinds that rows of the table may file.
KINDS = (
    "suspect.colour-words",
    "suspect.picture-words",
    "suspect.emphasis-words",
    "suspect.page-reference",
    "suspect.spelling",
    "suspect.meant-errors",
)


class Phrase(NamedTuple):
    """A kind of phrase: ``triggers`` are words one of which it holds, ``say`` its shape."""

    kind: str
    triggers: tuple[str, ...]
    say: re.Pattern[str]
    without_pages: bool


@cache
def _phrases() -> tuple[Phrase, ...]:
    lists = {name: "|".join(words.split()) for name, words in data()["lists"].items()}
    out = []
    for row in data()["phrase"]:
        if row["kind"] not in KINDS:
            raise Bug(f"The table of phrases names the unknown kind {row['kind']}.")
        triggers = " ".join(lists.get(word.strip("{}"), word) for word in row["triggers"].split())
        shapes = "|".join(shape.format(**lists) for shape in row["say"])
        say = re.compile(rf"\b(?:{shapes})\b", re.I)
        words = tuple(triggers.replace("|", " ").split())
        out.append(Phrase(row["kind"], words, say, row.get("without_pages", False)))
    return tuple(out)


def sought() -> Iterator[str]:
    """The words whose places the phrases ask for."""
    for phrase in _phrases():
        for trigger in phrase.triggers:
            yield from _forms(trigger)


def _forms(trigger: str) -> Iterator[str]:
    """A trigger as it is looked for: in small letters and with a capital; one letter, with its
    full stop."""
    for word in (trigger, trigger.capitalize()):
        yield word if len(word) > 1 else f"{word}."


def look(reading: Reading, findings: Findings) -> None:
    """File the phrases of each kind, once with all their places."""
    for phrase in _phrases():
        if not (phrase.without_pages and reading.document.print_pages):
            file(findings, phrase.kind, _found(reading, phrase))


def _found(reading: Reading, phrase: Phrase) -> list[Span]:
    spans: list[Span] = []
    for trigger in phrase.triggers:
        for word in _forms(trigger):
            if word.rstrip(".") not in reading.counts:
                continue
            for at, _ in reading.places(word):
                low, high = reading.sentence(at)
                for match in phrase.say.finditer(reading.text, low, high):
                    if match.start() <= at < match.end():
                        spans.append(match.span())
    return spans
