"""``report.html``: the verdict first, then what to settle, then every finding three ways."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

from .. import __version__
from ..edition import Edition
from ..findings import Place
from ..layout.book import Page
from ..translation.cells import BLANK, dots_of
from .counted import count
from .findings_record import NAMES, FindingRecord, PlaceRecord
from .groups import groups, offer_names
from .names import proof_name
from .pictures import picture_facts
from .proof import line_id
from .report_parts import SEVERITIES, Report, decisions_sentence, made_with
from .shown import language, show, write_html
from .signature import signature_rows
from .statements import (
    braille_words,
    cautions,
    checks_sentence,
    failed_checks,
    not_checked,
    statistics,
    verdict,
)
from .trace import line_print

# More places than this are folded away until asked for.
MANY_PLACES = 8


class Line(NamedTuple):
    """A line of braille with the name a screen reader gives it."""

    cells: str
    name: str


def write_page(report: Report, folder: Path) -> Path:
    """Write ``report.html``; links to the proof where that is written too."""
    edition, found = report.edition, report.found
    facts: dict[str, object] = {
        "title": show(edition.document.meta.title or edition.source),
        "source": show(edition.source),
        "lang": language(edition.document.meta.language),
        "version": __version__,
        "verdict": verdict(edition),
        "cautions": cautions(edition),
        "kinds": [(key, NAMES[key], groups(report.of(key))) for key in SEVERITIES],
        "stops": report.of("stop"),
        "settled": groups(report.settled),
        "rerun": edition.rerun,
        "offered": any(record.offer for record in found),
        "paged": bool(edition.document.print_pages),
        "offer_names": offer_names,
        "decisions": report.decisions,
        "decided": decisions_sentence(report.decisions),
        "by_print": _by_print(found, edition),
        "by_braille": _by_braille(found, edition),
        "pictures": [(row, picture_facts(row)) for row in report.pictures],
        "signature": signature_rows(edition),
        "where_words": braille_words,
        "statistics": statistics(report.totals, report.figures),
        "checks": checks_sentence(edition.checks),
        "failed": failed_checks(edition.checks),
        "not_checked": not_checked(edition.checks),
        "made": made_with(edition),
        "many": MANY_PLACES,
        "count": count,
        "where": braille_words,
        "line": _Lines(edition).of,
        "proof": "proof" in edition.settings.write,
        "link": lambda place: (
            f"{proof_name(edition, place.volume)}#{line_id(place.volume, place.page, place.line)}"
        ),
    }
    return write_html(folder / "report.html", "report.html", facts)


def _by_print(
    found: list[FindingRecord], edition: Edition
) -> list[tuple[str | None, list[FindingRecord]]]:
    """The findings of each print page, in the order of print; first those before any page."""
    order = {show(label): at for at, label in enumerate(edition.document.print_pages)}
    pages: dict[str | None, dict[str, FindingRecord]] = {}
    for record in found:
        for place in record.places:
            pages.setdefault(place.page, {})[record.id] = record
    labels = sorted(pages, key=lambda label: order.get(label or "", -1))
    return [(label, list(pages[label].values())) for label in labels]


def _by_braille(
    found: list[FindingRecord], edition: Edition
) -> list[tuple[Place, list[FindingRecord]]]:
    """The findings of each line of the braille, in page order."""
    order = {(volume.number, page.braille_page): at for volume, at, page in edition.book.pages()}
    rows: dict[Place, dict[str, FindingRecord]] = {}
    for record in found:
        for place in record.places:
            if place.braille is not None:
                rows.setdefault(place.braille, {})[record.id] = record
    ordered = sorted(rows, key=lambda p: (p.volume, order.get((p.volume, p.page), 0), p.line))
    return [(place, list(rows[place].values())) for place in ordered]


class _Lines:
    """Lines of the braille by their place, with names for the ear."""

    def __init__(self, edition: Edition) -> None:
        self._pages: dict[tuple[int, str], Page] = {}
        for volume, _, page in edition.book.pages():
            self._pages.setdefault((volume.number, page.braille_page), page)

    def of(self, record: PlaceRecord) -> Line | None:
        """The line at a place: named by its print, or by its dots where print has no words."""
        place = record.braille
        page = self._pages.get((place.volume, place.page)) if place else None
        if place is None or page is None:
            return None
        row = page.rows[place.line - 1]
        cells = row.text.strip(BLANK) if row is not None else ""
        if row is None or not cells:
            return None
        words = show(line_print(row)[1])
        return Line(cells, f"Braille of: {words}" if words else f"Dots {dots_of(cells)}")
