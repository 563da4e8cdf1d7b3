"""The transcriber's notes report: what a person must settle, look at and know.

``report.json`` is the public contract, section 4 (``verdict``, ``cautions``, ``figures``,
``not_checked``, ``made``, ``decisions`` and ``pictures`` are additions); ``report.html``,
``report.txt`` and ``report.csv`` with its tables say the same.
"""

from __future__ import annotations

import json
from pathlib import Path

from ..edition import Edition
from .report_html import write_page
from .report_parts import Report, gather, made_with
from .report_text import write_text
from .signature import signature_rows, write_signature
from .statements import cautions, not_checked, verdict
from .tables import write_csv, write_decisions, write_manifest, write_statistics


def write_report(edition: Edition, folder: Path) -> list[Path]:
    """Write ``report.html``, ``report.json``, ``report.txt``, ``report.csv`` and the tables
    ``statistics.csv``, ``decisions.csv`` and ``pictures.csv``, the last two where there are
    any."""
    report = gather(edition)
    path = folder / "report.json"
    path.write_bytes(_json_lines(report_record(report)).encode())
    return [
        path,
        write_page(report, folder),
        write_text(report, folder),
        write_csv(report.found, folder),
        write_statistics(report, folder),
        *write_decisions(report.decisions, folder),
        *write_manifest(report.pictures, folder),
        *write_signature(edition, folder),
    ]


def report_record(report: Report) -> dict[str, object]:
    """The whole of ``report.json``.  The source's path is left out of the recipe, as the same
    source gives the same report wherever it lies."""
    edition = report.edition
    return {
        "source": edition.source,
        "recipe": {name: row for name, row in edition.recipe.items() if "path" not in name},
        "verdict": verdict(edition),
        "cautions": list(cautions(edition)),
        "totals": report.totals,
        "figures": [row._asdict() for row in report.figures],
        "checks": edition.checks,
        "not_checked": not_checked(edition.checks),
        "made": dict(made_with(edition)),
        "decisions": [row.json() for row in report.decisions],
        "pictures": [row.json() for row in report.pictures],
        "signature": [row.json() for row in signature_rows(edition)],
        "findings": [record.json() for record in report.found],
    }


def _json_lines(record: dict[str, object]) -> str:
    """JSON with a line for each row of the record, and one for each finding."""
    rows = []
    for name, row in record.items():
        if name in ("findings", "decisions", "pictures", "figures") and isinstance(row, list):
            body = ",\n".join([json.dumps(member, ensure_ascii=False) for member in row])
            rows.append(f"{json.dumps(name)}: [\n{body}\n]")
        else:
            rows.append(f"{json.dumps(name)}: {json.dumps(row, ensure_ascii=False)}")
    return "{\n" + ",\n".join(rows) + "\n}\n"
