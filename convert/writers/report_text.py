"""The report as plain text, one fact a line, and as a table of places (CSV)."""

from __future__ import annotations

import csv
import io
import textwrap
from collections.abc import Iterator
from pathlib import Path

from ..edition import Edition
from ..findings import Place
from .findings_record import NAMES, FindingRecord, PlaceRecord
from .shown import count, show
from .statements import (
    CAUTIONS,
    checks_sentence,
    failed_checks,
    not_checked,
    statistics,
    verdict,
)

WIDTH = 79
COLUMNS = [
    "id", "kind", "severity", "message", "standard", "remedy", "print page", "address", "excerpt",
    "volume", "braille page", "line", "offer",
]  # fmt: skip


def write_text(
    edition: Edition, found: list[FindingRecord], totals: dict[str, object], folder: Path
) -> Path:
    """Write ``report.txt``, lines of at most 79 characters where words allow; its path."""
    lines: list[str] = []
    for text in _lines(edition, found, totals):
        short = len(text) <= WIDTH
        lines += [text] if short else textwrap.wrap(text, WIDTH, break_long_words=False)
    path = folder / "report.txt"
    path.write_bytes(("\n".join(lines) + "\n").encode())
    return path


def _lines(
    edition: Edition, found: list[FindingRecord], totals: dict[str, object]
) -> Iterator[str]:
    yield verdict(edition)
    yield f"Source: {show(edition.source)}."
    yield from CAUTIONS
    for severity, name in NAMES.items():
        group = [record for record in found if record.severity == severity]
        yield ""
        yield f"{name}: {count(len(group), 'finding')}."
        for record in group:
            yield from _finding(record)
    yield ""
    yield "Statistics."
    for name, value in statistics(totals):
        yield f"{name}: {value}."
    yield ""
    yield f"Checks. {checks_sentence(edition.checks)}"
    for row in failed_checks(edition.checks):
        yield f"Check {row.check} failed. {row.place}: {row.expected}; found {row.found}."
    yield ""
    yield "Not checked."
    yield from not_checked(edition.checks)


def _finding(record: FindingRecord) -> Iterator[str]:
    yield ""
    yield f"{record.number}. {record.message}"
    yield f"What to do: {record.remedy}"
    if record.standard:
        yield f"Standard: {record.standard}."
    for place in record.places:
        yield place_sentence(place)
    for stanza in record.offer:
        yield "Decision offered:"
        yield from stanza.splitlines()
    yield f"Kind: {record.kind}. Id: {record.id}."


def braille_words(place: Place | None) -> str:
    """``Volume 2, braille page 45, line 13``."""
    if place is None:
        return "Not in the braille"
    return f"Volume {place.volume}, braille page {place.page}, line {place.line}"


def place_sentence(place: PlaceRecord) -> str:
    """A place in one sentence: print page, braille place, words."""
    page = f"Print page {place.page}" if place.page else "No print page"
    words = f": “{place.excerpt.text}”" if place.excerpt and place.excerpt.text else "."
    return f"{page}. {braille_words(place.braille)}{words}"


def write_csv(found: list[FindingRecord], folder: Path) -> Path:
    """Write ``report.csv``: one row a place, every field quoted, none read as a formula."""
    out = io.StringIO(newline="")
    table = csv.writer(out, quoting=csv.QUOTE_ALL, lineterminator="\r\n")
    table.writerow(COLUMNS)
    for record in found:
        for place in record.places or (PlaceRecord(None, None, None, None),):
            table.writerow([inert(value) for value in _row(record, place)])
    path = folder / "report.csv"
    path.write_bytes(out.getvalue().encode("utf-8"))
    return path


def _row(record: FindingRecord, place: PlaceRecord) -> list[object]:
    braille = place.braille
    return [
        record.id, record.kind, record.severity, record.message, record.standard, record.remedy,
        place.page, place.address, place.excerpt.text if place.excerpt else None,
        braille and braille.volume, braille and braille.page, braille and braille.line,
        "\n".join(record.offer),
    ]  # fmt: skip


def inert(value: object) -> str:
    """A field a spreadsheet takes as text: one that begins like a formula gets an apostrophe."""
    text = "" if value is None else str(value)
    return f"'{text}" if text[:1] in tuple("=+-@\t\r") else text
