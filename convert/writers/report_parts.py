"""What the report says, gathered once for all its forms."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from .. import __version__
from ..decisions.record import STATES, Record
from ..edition import Edition
from .findings_record import FindingRecord, records
from .matter import Figure, figures
from .pictures import Picture, pictures
from .shown import PrintPages, show

SEVERITIES = ("stop", "look", "told")
# Decisions that were not applied come first.
_ORDER = ("stale", "unused", "overridden", "followed", "applied", "accepted")


@dataclass(frozen=True, slots=True)
class DecisionRecord:
    """A decision of the job file in words; ``page`` is the print page of its first place."""

    number: int
    title: str
    state: str
    applied: bool
    page: str | None
    facts: tuple[tuple[str, str], ...]
    record: Record

    @property
    def state_name(self) -> str:
        """What became of it, in words."""
        words = STATES.get(self.state, self.state)
        return words[:1].upper() + words[1:]

    def json(self) -> dict[str, object]:
        """The decision as in ``report.json``."""
        row = self.record
        return {
            "verb": row.verb,
            "at": row.at,
            "expect": row.expect,
            "everywhere": row.everywhere,
            "arguments": {name: _plain(value) for name, value in row.arguments},
            "why": row.why,
            "by": row.by,
            "layer": row.layer,
            "line": row.line,
            "state": row.state,
            "note": row.note,
            "print_page": self.page,
            "settled": list(row.settled),
        }


@dataclass(frozen=True, slots=True)
class Report:
    """All that the four forms say."""

    edition: Edition
    found: list[FindingRecord]
    totals: dict[str, object]
    figures: list[Figure]
    pictures: list[Picture]
    decisions: list[DecisionRecord]

    def of(self, severity: str) -> list[FindingRecord]:
        """The findings of a severity that no decision settled."""
        return [row for row in self.found if row.severity == severity and not row.settled]

    @property
    def settled(self) -> list[FindingRecord]:
        """The findings that a decision settled."""
        return [row for row in self.found if row.settled]


def gather(edition: Edition) -> Report:
    """Everything the report of an edition says."""
    found = pictures(edition)
    return Report(
        edition,
        records(edition, found),
        totals_record(edition),
        figures(edition, found),
        found,
        list(_decisions(edition)),
    )


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


def decisions_sentence(rows: Sequence[DecisionRecord]) -> str:
    """How many decisions there are, and how many of them had no effect."""
    idle = sum(not row.applied for row in rows)
    rest = f"{idle} not applied, first here." if idle else "All were applied."
    return f"Decisions: {len(rows)}. {rest}"


def _decisions(edition: Edition) -> Iterator[DecisionRecord]:
    if not edition.decisions:
        return
    pages = PrintPages(edition.document)
    ordered = sorted(
        edition.decisions, key=lambda row: _ORDER.index(row.state) if row.state in _ORDER else 0
    )
    for number, row in enumerate(ordered, 1):
        label = pages.at(row.spans[0][0]) if row.spans else None
        page = None if label is None else show(label)
        applied = row.state in _ORDER[3:]
        yield DecisionRecord(
            number, _title(row), row.state, applied, page, tuple(_facts(row, page)), row
        )


def _title(row: Record) -> str:
    words = show(row.expect or row.at)
    everywhere = " everywhere" if row.everywhere else ""
    return f"{row.verb}{everywhere}: “{words}”" if words else f"{row.verb}{everywhere}"


def _facts(row: Record, page: str | None) -> Iterator[tuple[str, str]]:
    place = f"{row.layer}, line {row.line}" if row.line else row.layer
    for name, value in [
        ("What happened", row.note),
        *((name, str(_plain(value))) for name, value in row.arguments),
        ("Print page", page or ""),
        ("Address", row.at),
        ("Why", row.why),
        ("By", row.by),
        ("Written in", place),
        ("Settles the findings", ", ".join(row.settled)),
    ]:
        if value:
            yield name, show(value)


def _plain(value: object) -> object:
    return ", ".join(value) if isinstance(value, tuple) else value


def made_with(edition: Edition) -> list[tuple[str, str]]:
    """How the edition was made: what a second person needs to make it again."""
    settings, recipe = edition.settings, edition.recipe
    rows = [
        ("Braille code", settings.code),
        ("Code for mathematics", settings.math),
        ("Layout convention", Path(settings.convention).name),
        ("Page", f"{edition.book.cells} cells by {edition.book.lines} lines"),
        ("Program", f"Cellset {__version__}"),
    ]
    louis = recipe.get("liblouis")
    if isinstance(louis, dict):
        rows.append(("liblouis", f"{louis.get('version')}, table {louis.get('table')}"))
    source = recipe.get("source")
    if isinstance(source, dict) and source.get("sha256"):
        rows.append(("SHA-256 of the source", str(source["sha256"])))
    if recipe.get("digest"):
        rows.append(("Digest of the recipe", str(recipe["digest"])))
    return [(name, show(value)) for name, value in rows]
