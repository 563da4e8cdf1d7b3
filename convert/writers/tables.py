"""The report as tables of comma-separated values: findings, statistics, decisions, pictures.

Every field is quoted, and none is read as a formula by a spreadsheet.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence
from pathlib import Path

from .findings_record import FindingRecord, PlaceRecord
from .pictures import Picture
from .report_parts import DecisionRecord, Report, made_with
from .statements import (
    cautions,
    checks_sentence,
    failed_checks,
    not_checked,
    statistics,
    verdict,
)

COLUMNS = [
    "number", "id", "kind", "severity", "message", "standard", "remedy", "print page", "address",
    "excerpt", "volume", "braille page", "line", "choices", "offer", "settled", "near volume",
    "near braille page", "near line",
]  # fmt: skip
PICTURES = [
    "picture", "resource", "print page", "volume", "braille page", "line", "in the braille",
    "caption", "alternative text", "long description", "label", "label in cells",
    "label width in cells", "words that refer to it", "address",
]  # fmt: skip
# A field of the further rows of a finding.
_ABOVE = "See the first row of number {}."


def write_table(path: Path, columns: list[str], rows: Iterable[Sequence[object]]) -> Path:
    """Write a table, each field quoted and inert; returns its path."""
    out = io.StringIO(newline="")
    table = csv.writer(out, quoting=csv.QUOTE_ALL, lineterminator="\r\n")
    table.writerow(columns)
    for row in rows:
        table.writerow([_inert(value) for value in row])
    path.write_bytes(out.getvalue().encode("utf-8"))
    return path


def write_csv(found: list[FindingRecord], folder: Path) -> Path:
    """Write ``report.csv``: one row a place of a finding; the first has the choices and offers."""
    rows = [
        _row(record, place, nth == 0)
        for record in found
        for nth, place in enumerate(record.places or (PlaceRecord(None, None, None, None),))
    ]
    return write_table(folder / "report.csv", COLUMNS, rows)


def _row(record: FindingRecord, place: PlaceRecord, first: bool) -> list[object]:
    braille, near = place.braille, place.near
    choices = "\n".join(f"{f.label}: {f.print}, {f.dots}" for f in record.forms)
    offers = "\n".join(record.offer)
    if not first:
        choices, offers = (words and _ABOVE.format(record.number) for words in (choices, offers))
    return [
        record.number, record.id, record.kind, record.severity, record.message, record.standard,
        record.remedy, place.page, place.address, place.excerpt.text if place.excerpt else None,
        braille and braille.volume, braille and braille.page, braille and braille.line,
        choices, offers, record.settled,
        near and near.volume, near and near.page, near and near.line,
    ]  # fmt: skip


def write_statistics(report: Report, folder: Path) -> Path:
    """Write ``statistics.csv``: what was counted, the number, a remark; the verdict, the cautions,
    the checks and how the edition was made are rows with a remark alone."""
    edition = report.edition
    rows = [("Verdict", "", verdict(edition))]
    rows += [("Caution", "", sentence) for sentence in cautions(edition)]
    rows += [
        (what, number.replace(",", ""), remark)
        for what, number, remark in statistics(report.totals, report.figures)
    ]
    rows.append(("Checks", "", checks_sentence(edition.checks)))
    rows += [
        (f"Check {row.check} failed", "",
         f"{row.place}: expected {row.expected}; found {row.found}. Standard: {row.standard}.")
        for row in failed_checks(edition.checks)
    ]  # fmt: skip
    rows += [("Not checked", "", sentence) for sentence in not_checked(edition.checks)]
    rows += [(name, "", value) for name, value in made_with(edition)]
    return write_table(folder / "statistics.csv", ["what", "number", "remark"], rows)


def write_decisions(rows: list[DecisionRecord], folder: Path) -> list[Path]:
    """Write ``decisions.csv``: one row a decision of the job file; nothing where it has none."""
    if not rows:
        return []
    columns = [
        "state", "verb", "at", "expect", "everywhere", "arguments", "why", "by", "layer", "line",
        "note", "print page", "settled",
    ]  # fmt: skip
    lines = []
    for row in rows:
        d = row.record
        arguments = "\n".join(f"{name} = {value}" for name, value in d.arguments)
        lines.append((
            d.state, d.verb, d.at, d.expect, "yes" if d.everywhere else "no", arguments, d.why,
            d.by, d.layer, d.line, d.note, row.page, " ".join(d.settled),
        ))  # fmt: skip
    return [write_table(folder / "decisions.csv", columns, lines)]


def write_manifest(rows: list[Picture], folder: Path) -> list[Path]:
    """Write ``pictures.csv``, a row a picture, its labels and mentions one a line of their
    field; nothing where the source has no picture."""
    if not rows:
        return []
    return [write_table(folder / "pictures.csv", PICTURES, map(_picture, rows))]


def _picture(row: Picture) -> list[object]:
    place = row.place
    where = (place.volume, place.page, place.line) if place else ("", "", "")
    return [
        row.number, row.resource, row.page, *where, row.state, row.caption, row.alt,
        row.description,
        "\n".join(label.text for label in row.labels),
        "\n".join(label.cells for label in row.labels),
        "\n".join(str(len(label.cells)) for label in row.labels),
        "\n".join(row.mentions),
        row.address,
    ]  # fmt: skip


def _inert(value: object) -> str:
    """A field a spreadsheet takes as text: one that begins like a formula gets an apostrophe."""
    text = "" if value is None else str(value)
    return f"'{text}" if text[:1] in tuple("=+-@\t\r") else text
