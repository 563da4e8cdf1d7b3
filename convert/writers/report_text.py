"""The report as plain text, one fact a line."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from pathlib import Path

from .findings_record import NAMES, FindingRecord, PlaceRecord
from .pictures import picture_facts
from .report_parts import Report, decisions_sentence
from .shown import count, show
from .signature import signature_lines
from .statements import (
    braille_words,
    cautions,
    checks_sentence,
    failed_checks,
    not_checked,
    statistics,
    verdict,
)

WIDTH = 79


def write_text(report: Report, folder: Path) -> Path:
    """Write ``report.txt``, lines of at most 79 characters where words allow; its path."""
    lines: list[str] = []
    for text in _lines(report):
        short = len(text) <= WIDTH
        lines += [text] if short else textwrap.wrap(text, WIDTH, break_long_words=False)
    path = folder / "report.txt"
    path.write_bytes(("\n".join(lines) + "\n").encode())
    return path


def _lines(report: Report) -> Iterator[str]:
    edition = report.edition
    yield verdict(edition)
    yield f"Source: {show(edition.source)}."
    yield from cautions(edition)
    yield "What changed since the run before: see changes.txt."
    for severity, name in NAMES.items():
        yield from _findings(name, report.of(severity))
    if report.settled:
        yield from _findings("Settled by a decision", report.settled)
    yield from _decisions(report)
    yield from signature_lines(edition)
    yield from _pictures(report)
    yield ""
    yield "Statistics."
    for name, value, remark in statistics(report.totals, report.figures):
        yield f"{name}: {value}{f', {remark}' if remark else ''}."
    yield ""
    yield f"Checks. {checks_sentence(edition.checks)}"
    for row in failed_checks(edition.checks):
        yield f"Check {row.check} failed. {row.place}: {row.expected}; found {row.found}."
    yield ""
    yield "Not checked."
    yield from not_checked(edition.checks)


def _findings(name: str, group: list[FindingRecord]) -> Iterator[str]:
    yield ""
    yield f"{name}: {count(len(group), 'finding')}."
    for record in group:
        yield from _finding(record)


def _decisions(report: Report) -> Iterator[str]:
    if not report.decisions:
        return
    yield ""
    yield decisions_sentence(report.decisions)
    for row in report.decisions:
        yield ""
        yield f"Decision {row.number}, {row.title}"
        yield f"State: {row.state_name}."
        for name, value in row.facts:
            yield f"{name}: {value}"


def _pictures(report: Report) -> Iterator[str]:
    if not report.pictures:
        return
    yield ""
    yield f"Pictures, for the tactile artist: {len(report.pictures)}."
    for row in report.pictures:
        yield ""
        yield f"Picture {row.number}."
        for name, value in picture_facts(row):
            yield f"{name}: {value}"


def _finding(record: FindingRecord) -> Iterator[str]:
    yield ""
    yield f"{record.number}. {record.message}"
    yield f"What to do: {record.remedy}"
    if record.settled:
        yield f"Settled: {record.settled}"
    if record.standard:
        yield f"Standard: {record.standard}."
    for place in record.places:
        yield place_sentence(place)
    for at, form in enumerate(record.forms, 1):
        yield f"Choice {at}, {form.label}: {form.print}, {form.dots}"
    for stanza in record.offer:
        yield "Decision offered:"
        yield from stanza.splitlines()
    yield f"Kind: {record.kind}. Id: {record.id}."


def place_sentence(place: PlaceRecord) -> str:
    """A place in one sentence: print page, braille place, words."""
    page = f"Print page {place.page}" if place.page else "No print page"
    words = f": “{place.excerpt.text}”" if place.excerpt and place.excerpt.text else "."
    return f"{page}. {braille_words(place.braille)}{words}"
