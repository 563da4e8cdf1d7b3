"""Sentences that every form of the report says in the same words."""

from __future__ import annotations

from collections.abc import Mapping

from ..edition import Edition
from ..findings import LOOK, STOP
from .shown import count

CAUTIONS = (
    "This braille is a draft for a qualified transcriber and proofreader.",
    "The rules of your local braille authority prevail over anything said here.",
)
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


def statistics(totals: Mapping[str, object]) -> list[tuple[str, str]]:
    """Names and figures of the totals."""
    return [(name, f"{totals[key]:,}") for key, name in _STATISTICS.items()]


def checks_sentence(checks: Mapping[str, object]) -> str:
    """How many checks of the finished pages were made, did not apply, and failed."""
    total = checks.get("total")
    if not isinstance(total, int):
        return "The finished pages were not inspected."
    return (
        f"{count(total, 'check')} of the finished pages, {checks.get('not_applicable', 0)} not "
        f"applicable, {checks.get('failed', 0)} failed."
    )
