"""The list for signature: numbers, amounts, dates and the like, each with its print and places.

``signature.csv`` has a row for each, with two empty columns for the name of the person who
compared it with print and the date.
"""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

from ..edition import Edition
from ..findings import Place
from ..places import Places
from ..profiles import profile
from .shown import PrintPages, excerpt, show
from .statements import braille_words
from .tables import write_table

NAME = "signature.csv"
_HEAD = [
    "number", "matter", "print", "context", "print page", "address", "braille",
    "compared by", "date",
]  # fmt: skip


class SignatureRow(NamedTuple):
    """One row: what it is, the print, its neighbourhood, where it stands."""

    number: int
    what: str
    print: str
    context: str
    page: str
    address: str
    braille: Place | None

    def json(self) -> dict[str, object]:
        """The row as in report.json; ``page`` and ``braille`` as its findings have them."""
        place = self.braille
        return {
            "what": self.what,
            "text": self.print,
            "context": self.context,
            "print": {"page": self.page or None, "address": self.address},
            "braille": place and {"volume": place.volume, "page": place.page, "line": place.line},
        }


def signature_rows(edition: Edition) -> list[SignatureRow]:
    """The rows of the list, in the order of print; none without a profile that has a list."""
    if not edition.signature:
        return []
    document = edition.document
    spans = [(row.start, row.end) for row in edition.signature]
    places, pages = Places(edition.book, spans), PrintPages(document)
    return [
        SignatureRow(
            number,
            row.what,
            show(document.ledger.quote(row.start, row.end)),
            excerpt(document.ledger, (row.start, row.end)).text,
            pages.at(row.start) or "",
            document.ledger.address(row.start),
            places.find((row.start, row.end)),
        )
        for number, row in enumerate(edition.signature, 1)
    ]


def signature_lines(edition: Edition) -> list[str]:
    """The list as lines of plain text, with its own heading; none where there is no list."""
    chosen = profile(edition.settings.profile)
    if chosen is None or not chosen.sign:
        return []
    rows = signature_rows(edition)
    if not rows:
        return ["", f"For signature: nothing was found; {NAME} holds its headings alone."]
    lines = [
        "",
        f"For signature: {len(rows)} {'row' if len(rows) == 1 else 'rows'}, also in {NAME}.",
    ]
    for row in rows:
        page = f", print page {row.page}" if row.page else ""
        place = f"{braille_words(row.braille)}{page}"
        lines.append(f"{row.number}. {row.what}: {row.print}. {place}, in “{row.context}”.")
    return lines


def write_signature(edition: Edition, folder: Path) -> list[Path]:
    """Write ``signature.csv``; nothing where the profile has no list."""
    rows = signature_rows(edition)
    chosen = profile(edition.settings.profile)
    if chosen is None or not chosen.sign:
        return []
    lines = [
        (row.number, row.what, row.print, row.context, row.page, row.address,
         braille_words(row.braille), "", "")
        for row in rows
    ]  # fmt: skip
    return [write_table(folder / NAME, _HEAD, lines)]
