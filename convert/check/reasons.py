"""Why a check could not be kept: findings of the same edition that explain a failure.

Where nothing else fits a page the formatter lets a keep rule go, and files which one and where;
where the source lacks a note or its mark the reader files that.  A failure at such a place is
explained.  What the findings say is taken as they tell it; the pages are judged without them.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from .model import Book, Failure

if TYPE_CHECKING:
    from ..findings import Finding

RELAXED = "layout.rule-relaxed"
# The checks that a keep rule serves, by the name its finding gives it.
SERVED = {
    "whole": ("H10", "H13", "K07", "L08", "Q04", "Q05"),
    "with next": ("F05", "H10", "H11", "H12", "J04", "N06", "Q04", "X07"),
    "with previous": ("D05", "H11", "V07", "X08"),
    "next whole": ("H12", "Q04", "Q05"),
    "start not on last": ("H10", "H11", "L05"),
    "compound whole": ("G08",),
}
# Other findings that explain failures: what the source lacks, what has no room.
LACKING = {
    "read.mark-without-note": ("F03",),
    "read.note-without-mark": ("F03",),
    "layout.line-numbers-kept": ("P16", "Y07", "Y08", "Y09"),
    "layout.word-divided": ("G07",),
    "layout.contents-word-divided": ("G07",),
}
LATER = frozenset(["D05", "X08"])  # Told of the page after the turn that a rule gave way to.
KINDS = frozenset([RELAXED, *LACKING])


class Reason(NamedTuple):
    """What a finding says, for which checks, and on which pages: volume and braille page."""

    kind: str
    checks: frozenset[str]
    says: str
    pages: frozenset[tuple[int, str]]


def reasons_of(findings: Iterable[Finding]) -> list[Reason]:
    """The reasons that findings with their places give."""
    return [
        _reason(
            finding.kind,
            str(dict(finding.facts).get("rule", "")),
            finding.message,
            ((place.volume, place.page) for place in finding.places),
        )
        for finding in findings
        if finding.kind in KINDS
    ]


def reasons_in(report: Path) -> list[Reason]:
    """The reasons that the report of a folder gives; none where it cannot be read."""
    try:
        rows = json.loads(report.read_text("utf-8"))["findings"]
        return [
            _reason(
                row["kind"],
                _quoted(row["message"]),
                row["message"],
                [
                    (place["braille"]["volume"], place["braille"]["page"])
                    for place in row["places"]
                    if place.get("braille")
                ],
            )
            for row in rows
            if row["kind"] in KINDS
        ]
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        return []


def _quoted(message: str) -> str:
    """The first words in quotation marks: the rule a sentence names."""
    return message.partition("“")[2].partition("”")[0]


def _reason(kind: str, rule: str, says: str, pages: Iterable[tuple[int, str]]) -> Reason:
    checks = SERVED.get(rule, ()) if kind == RELAXED else LACKING[kind]
    return Reason(kind, frozenset(checks), says, frozenset(pages))


def explain(failures: Sequence[Failure], reasons: Sequence[Reason], book: Book) -> list[Failure]:
    """The failures, each with what explains it."""
    useful = [reason for reason in reasons if reason.checks]
    if not useful or not failures:
        return list(failures)
    before = {
        (two.volume, two.label): one.label
        for volume in book.volumes
        for one, two in pairwise(volume)
    }
    return [replace(failure, explained=_why(failure, useful, before)) for failure in failures]


def _why(failure: Failure, reasons: Iterable[Reason], before: Mapping[tuple[int, str], str]) -> str:
    """The sentence of the first finding that explains a failure; empty for none."""
    here = {(failure.volume, failure.label)}
    if failure.id in LATER:
        here.add((failure.volume, before.get((failure.volume, failure.label), "")))
    for reason in reasons:
        placed = bool(failure.line and reason.pages)
        if failure.id in reason.checks and (not placed or here & reason.pages):
            return reason.says
    return ""
