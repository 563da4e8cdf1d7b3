"""Why a check could not be kept: findings of the same edition that explain a failure.

Where nothing else fits a page the formatter lets a keep rule go, and files which one and on which
line; where the source lacks a note or its mark the reader files that.  A failure of a check that
the rule serves is explained where it is about that line: no other line or element of the page is.
What the findings say is taken as they tell it; the pages are judged without them.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple, cast

from .model import Block, Book, Failure, Fault

if TYPE_CHECKING:
    from ..findings import Finding

RELAXED = "layout.rule-relaxed"
# The checks that a keep rule serves, by the name its finding gives it.
SERVED = {
    "whole": ("H10", "H13", "K07", "L08", "Q04", "Q05", "V07", "X07"),
    "with next": ("F05", "H10", "H11", "H12", "J04", "Q04", "Q05", "X07"),
    "with previous": ("D05", "H11", "X08"),
    "next whole": ("H12", "Q04", "Q05"),
    "note with next": ("N06",),
    "start not on last": ("H10", "H11", "L05"),
    "compound whole": ("G08",),
    "heads again": ("K07",),
}
# Other findings that explain failures: what the source lacks, what has no room.
LACKING = {
    "read.mark-without-note": ("F03",),
    "read.marks-without-notes": ("F03",),
    "read.note-without-mark": ("F03",),
    "layout.line-numbers-kept": ("P16", "Y07", "Y08", "Y09"),
    "layout.word-divided": ("G07",),
    "layout.contents-word-divided": ("G07",),
    "layout.no-end-line": ("V07",),
}
ON_LINE = frozenset(["F03", "G07", "G08"])  # About one line, not about an element.
KINDS = frozenset([RELAXED, *LACKING])
Where = tuple[int, str, int]  # Volume, braille page, line from 1.


class Reason(NamedTuple):
    """What a finding says, for which checks, and on which lines."""

    kind: str
    checks: frozenset[str]
    says: str
    lines: frozenset[Where]


def reasons_of(findings: Iterable[Finding]) -> list[Reason]:
    """The reasons that findings with their places give."""
    return [
        _reason(
            finding.kind,
            str(dict(finding.facts).get("rule", "")),
            finding.message,
            ((place.volume, place.page, place.line) for place in finding.places),
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
                    (place["braille"]["volume"], place["braille"]["page"], place["braille"]["line"])
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


def _reason(kind: str, rule: str, says: str, lines: Iterable[Where]) -> Reason:
    checks = SERVED.get(rule, ()) if kind == RELAXED else LACKING[kind]
    return Reason(kind, frozenset(checks), says, frozenset(lines))


def explain(
    failures: Sequence[Failure], faults: Sequence[Fault], reasons: Sequence[Reason], book: Book
) -> list[Failure]:
    """The failures, each with what explains it; ``faults`` are the same as the rules told them."""
    useful = [reason for reason in reasons if reason.checks and reason.lines]
    if not useful or not failures:
        return list(failures)
    return [
        replace(failure, explained=_why(failure.id, fault, useful, book))
        for failure, fault in zip(failures, faults, strict=True)
    ]


def _why(name: str, fault: Fault, reasons: Iterable[Reason], book: Book) -> str:
    """The sentence of the first finding that explains a failure; empty for none."""
    lines: set[Where] = set()
    for reason in reasons:
        if name not in reason.checks:
            continue
        lines = lines or set(_lines(name, fault, book))
        if lines & reason.lines:
            return reason.says
    return ""


def _lines(name: str, fault: Fault, book: Book) -> Iterable[Where]:
    """The lines a failure is about: its own, and those of the elements it is about."""
    page = fault.page
    yield page.volume, page.label, fault.line
    if name not in ON_LINE:
        here = _elements(book).get((id(page), fault.line - 1))
        for block in (*fault.about, *([here] if here else ())):
            for leaf, at in zip(block.pages, block.at, strict=True):
                yield leaf.volume, leaf.label, at + 1


def _elements(book: Book) -> dict[tuple[int, int], Block]:
    """The element that stands on each line."""
    if "elements" not in book.memo:
        book.memo["elements"] = {
            (id(page), at): block
            for block in book.blocks
            for page, at in zip(block.pages, block.at, strict=True)
        }
    return cast(dict[tuple[int, int], Block], book.memo["elements"])
