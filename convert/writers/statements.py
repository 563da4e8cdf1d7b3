"""Sentences that every form of the report says in the same words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from ..edition import Edition
from ..findings import LOOK, STOP, Place
from ..profiles import profile
from .counted import count
from .shown import show

CAUTIONS = (
    "This braille is a draft for a qualified transcriber and proofreader.",
    "The rules of your local braille authority prevail over anything said here.",
)


def cautions(edition: Edition) -> tuple[str, ...]:
    """The cautions of every report, and that of the risk profile."""
    chosen = profile(edition.settings.profile)
    return (*CAUTIONS, chosen.caution) if chosen else CAUTIONS


NOT_CHECKED = (
    "Nobody has proofread this braille.",
    "Whether the words of the source are right: errors of typing or scanning were kept.",
    "Whether descriptions of pictures are true and sufficient: no picture was looked at.",
    "Whether colour, position or shape in print carries meaning that no mark in the source shows.",
    "Whether each contraction suits the word it stands in, where meaning or pronunciation decides.",
    "Whether tables, exercises and answer spaces can be worked by the reader as they are set.",
    "Embossing: set the device to the page size given here, with its own page numbers off.",
)
_STATISTICS = {
    "print_characters": "Characters in print",
    "in_cells": "Characters in cells",
    "folded": "Spaces folded at line ends or beside another space",
    "omitted": "Characters left out for a stated reason",
    "lost": "Characters lost",
    "doubled": "Characters that stand twice",
    "print_pages": "Print pages",
    "volumes": "Volumes",
    "braille_pages": "Braille pages",
}


def verdict(edition: Edition) -> str:
    """The first thing to know."""
    stops = sum(finding.severity == STOP for finding in edition.findings)
    looks = sum(finding.severity == LOOK for finding in edition.findings)
    rest = f" {count(looks, 'finding')} to look at." if looks else ""
    if stops:
        return f"Do not emboss yet: {count(stops, 'thing')} to settle.{rest}"
    return f"Nothing must be settled before a transcriber reads the draft.{rest}"


def braille_words(place: Place | None) -> str:
    """``Volume 2, braille page 45, line 13``."""
    if place is None:
        return "Not in the braille"
    return f"Volume {place.volume}, braille page {place.page}, line {place.line}"


def statistics(
    totals: Mapping[str, object], figures: Sequence[tuple[str, int, str]] = ()
) -> list[tuple[str, str, str]]:
    """Names, numbers and remarks of the totals and the other figures."""
    rows = [(name, f"{totals[key]:,}", "") for key, name in _STATISTICS.items()]
    return rows + [(what, f"{number:,}", remark) for what, number, remark in figures]


class FailedCheck(NamedTuple):
    """A place where a check of the finished pages failed."""

    check: str
    standard: str
    place: str
    expected: str
    found: str


def checks_sentence(checks: Mapping[str, object]) -> str:
    """How many checks of the finished pages were made, did not apply, and failed."""
    sentence = checks.get("sentence")
    return str(sentence) if sentence else "The finished pages were not inspected."


def failed_checks(checks: Mapping[str, object]) -> list[FailedCheck]:
    """Every place where a check failed."""
    rows = checks.get("failures")
    return [
        FailedCheck(
            show(str(row["id"])),
            f"Braille Formats 2016, section {row['section']}",
            _failure_place(row),
            show(str(row["expected"])),
            show(f"{row['found']}. {row['explained']}" if row.get("explained") else row["found"]),
        )
        for row in (rows if isinstance(rows, list) else [])
    ]


def _failure_place(row: Mapping[str, object]) -> str:
    page = show(str(row["label"])) or f"number {row['page']} of the volume"
    line = f", line {row['line']}" if row["line"] else ""
    printed = f", print page {show(str(row['print_page']))}" if row.get("print_page") else ""
    return f"Volume {row['volume']}, braille page {page}{line}{printed}"


def not_checked(checks: Mapping[str, object]) -> list[str]:
    """What nobody and nothing has looked at."""
    rows = list(NOT_CHECKED)
    names = checks.get("not_made_ids")
    if isinstance(names, list) and names:
        listed = ", ".join(str(name) for name in names)
        rows.append(f"{count(len(names), 'check')} of the finished pages not made yet: {listed}.")
    return rows
