"""The transcriber's notes report: what a person must settle, look at and know.

``report.json`` is the public contract, section 4; ``report.html``, ``report.txt`` and
``report.csv`` say the same.
"""

from __future__ import annotations

import json
from pathlib import Path

from ..edition import Edition
from .findings_record import FindingRecord, records
from .report_html import write_page
from .report_text import write_csv, write_text

SEVERITIES = ("stop", "look", "told")


def write_report(edition: Edition, folder: Path) -> list[Path]:
    """Write ``report.html``, ``report.json``, ``report.txt`` and ``report.csv``."""
    found = records(edition)
    path = folder / "report.json"
    path.write_bytes(_json_lines(report_record(edition, found)).encode())
    return [
        path,
        write_page(edition, found, totals_record(edition), folder),
        write_text(edition, found, totals_record(edition), folder),
        write_csv(found, folder),
    ]


def totals_record(edition: Edition) -> dict[str, object]:
    """The totals of the contract: counts of characters, volumes, pages and findings."""
    totals = edition.totals
    counts = dict.fromkeys(SEVERITIES, 0)
    for finding in edition.findings:
        counts[finding.severity] += 1
    return {
        "print_characters": totals.print_characters,
        "in_cells": totals.in_cells,
        "folded": totals.folded,
        "omitted": totals.omitted,
        "lost": totals.lost,
        "doubled": totals.doubled,
        "volumes": totals.volumes,
        "braille_pages": totals.braille_pages,
        "print_pages": totals.print_pages,
        "findings": counts,
    }


def report_record(edition: Edition, found: list[FindingRecord]) -> dict[str, object]:
    """The whole of ``report.json``.  The source's path is left out of the recipe, as the same
    source gives the same report wherever it lies."""
    return {
        "source": edition.source,
        "recipe": {name: row for name, row in edition.recipe.items() if name != "path"},
        "totals": totals_record(edition),
        "checks": edition.checks,
        "findings": [record.json() for record in found],
    }


def _json_lines(record: dict[str, object]) -> str:
    """JSON with a line for each row of the record, and one for each finding."""
    rows = []
    for name, row in record.items():
        if name == "findings" and isinstance(row, list):
            body = ",\n".join([json.dumps(finding, ensure_ascii=False) for finding in row])
            rows.append(f'"findings": [\n{body}\n]')
        else:
            rows.append(f"{json.dumps(name)}: {json.dumps(row, ensure_ascii=False)}")
    return "{\n" + ",\n".join(rows) + "\n}\n"
