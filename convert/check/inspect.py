"""The inspector: every check made on finished pages, counted honestly.

A check is one of: failed; passed; not applicable (nothing of its kind in these pages); without
what it needs (the trace, or the source); not made yet.  Only the first two were applied.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from functools import cache
from importlib import resources
from pathlib import Path
from typing import TYPE_CHECKING

from ..findings import Place
from ..places import place_findings
from . import (
    rules_boxes,
    rules_columns,
    rules_document,
    rules_headings,
    rules_lines,
    rules_lists,
    rules_notes,
    rules_numbers,
    rules_pages,
    rules_print,
    rules_source,
    rules_tables,
    rules_text,
    rules_tops,
    rules_turns,
    rules_volumes,
)
from .edition import book_of
from .model import RULES, Book, Failure, Fault, Tally
from .numbers import say
from .pages import load
from .reasons import KINDS, Reason, explain, reasons_in, reasons_of

if TYPE_CHECKING:
    from ..edition import Edition
    from ..findings import Findings

MODULES = (
    rules_pages, rules_numbers, rules_turns, rules_tops, rules_volumes, rules_headings, rules_text,
    rules_boxes, rules_lists, rules_tables, rules_notes, rules_source, rules_document,
    rules_lines, rules_columns, rules_print,
)  # fmt: skip
ERROR, ADVICE = "E", "W"
MOST = 100  # Places a finding holds.
STANDARD = "bf2016"
GROUPS = {
    "G": "Pages and lines", "P": "Print page numbers", "B": "Braille page numbers",
    "C": "Page change lines", "R": "Running heads", "Z": "Page tops and feet",
    "V": "Volumes and front matter", "N": "Transcriber's notes", "H": "Headings",
    "A": "Paragraphs", "T": "Typeforms", "I": "Illustrations", "X": "Boxes", "L": "Lists",
    "D": "Displayed matter", "Q": "Exercises", "K": "Tables", "Y": "Verse, plays, numbered lines",
    "F": "Notes", "J": "Alphabetic references and bibliographies",
}  # fmt: skip
HOUSE = (
    "The pages were made by the convention {}, and the checks are those of Braille Formats 2016: "
    "what they say is advice."
)


@dataclass(frozen=True, slots=True)
class Check:
    """One row of checks.toml.  ``signs``: the code whose signs it reads, so that pages in another
    are not judged by it."""

    id: str
    section: str
    needs: str
    severity: str
    what: str
    signs: str = ""

    @property
    def made(self) -> bool:
        """Whether there is a rule for it."""
        return self.id in RULES


@cache
def checks() -> dict[str, Check]:
    """All checks by id, in the order of the table."""
    text = (resources.files(__package__) / "checks.toml").read_text("utf-8")
    return {name: Check(name, **row) for name, row in tomllib.loads(text).items()}


@dataclass(frozen=True, slots=True)
class Result:
    """What came of an inspection.  ``state`` maps each check to one of ``failed``, ``passed``,
    ``explained`` (failed only where findings tell why), ``not applicable``, ``needs trace``,
    ``needs source``, ``not made``."""

    state: dict[str, str]
    failures: list[Failure]
    notes: list[str]
    volumes: int
    pages: int
    cells: int
    lines: int

    def count(self, *states: str) -> int:
        """How many checks have one of these states."""
        return sum(state in states for state in self.state.values())

    @property
    def errors(self) -> list[Failure]:
        """Failures that are errors in every convention and that no finding explains."""
        return [row for row in self.failures if row.severity == ERROR and not row.explained]

    @property
    def counts(self) -> dict[str, int]:
        """The figures of the sentence."""
        return {
            "total": len(self.state),
            "applied": self.count("passed", "failed", "explained"),
            "not_applicable": self.count("not applicable"),
            "needs_trace": self.count("needs trace"),
            "needs_source": self.count("needs source"),
            "not_made": self.count("not made"),
            "failed": self.count("failed"),
            "explained": self.count("explained"),
        }

    @property
    def sentence(self) -> str:
        """The figures as a sentence."""
        figures = self.counts
        parts = [f"{figures['applied']} applied", f"{figures['not_applicable']} not applicable"]
        if figures["needs_trace"]:
            parts.append(f"{figures['needs_trace']} need the trace of a conversion")
        if figures["needs_source"]:
            parts.append(f"{figures['needs_source']} need the source document")
        if figures["not_made"]:
            parts.append(f"{figures['not_made']} not made yet")
        parts.append(f"{figures['failed']} failed")
        if figures["explained"]:
            parts.append(f"{figures['explained']} not kept for reasons that the findings give")
        return f"{figures['total']} checks: {', '.join(parts)}."

    def summary(self) -> dict[str, object]:
        """Counts, states and failures as plain values, for reports."""
        return {
            **self.counts,
            "sentence": self.sentence,
            "notes": self.notes,
            "failures": [asdict(failure) for failure in self.failures],
            "not_made_ids": [name for name, state in self.state.items() if state == "not made"],
        }


def inspect(
    paths: Path | Sequence[Path], page: tuple[int, int] | None = None, interpoint: bool = False
) -> Result:
    """Inspect the folder of one edition, or BRF files taken as volumes in order.

    ``page``: cells and lines, where the files do not tell; ``interpoint``: both sides of the
    paper are used.  Raises SourceError where nothing
    can be read.
    """
    found = [paths] if isinstance(paths, Path) else list(paths)
    book, notes = load(found, page)
    book.interpoint = interpoint
    folder = found[0] if len(found) == 1 else Path()
    return inspect_book(book, notes, reasons_in(folder / "report.json") if book.traced else ())


def inspect_book(book: Book, notes: Sequence[str] = (), reasons: Sequence[Reason] = ()) -> Result:
    """Apply every check to loaded pages; ``reasons`` explain failures."""
    state: dict[str, str] = {}
    failures: list[Failure] = []
    house = book.convention not in (None, "", STANDARD)
    if house:
        notes = [*notes, HOUSE.format(book.convention)]
    for check in checks().values():
        if not check.made:
            state[check.id] = "not made"
        elif check.needs != "P" and not book.traced:
            state[check.id] = "needs trace"
        elif check.needs == "S" and book.print_pages is None:
            state[check.id] = "needs source"
        elif check.signs and not book.code.startswith(check.signs):
            state[check.id] = "not applicable"
        else:
            tally = Tally()
            RULES[check.id](book, tally)
            severity = ADVICE if house else check.severity
            found = [_failure(check, severity, fault) for fault in tally.faults]
            found = explain(found, tally.faults, reasons, book)
            state[check.id] = _state(tally, found)
            failures += found
    pages = sum(len(volume) for volume in book.volumes)
    return Result(state, failures, list(notes), len(book.volumes), pages, book.width, book.depth)


def _state(tally: Tally, found: Sequence[Failure]) -> str:
    if found:
        return "explained" if all(failure.explained for failure in found) else "failed"
    return "passed" if tally.seen else "not applicable"


def _failure(check: Check, severity: str, fault: Fault) -> Failure:
    page = fault.page
    line = page.lines[max(0, fault.line - 1)] if page.lines else None
    number = (line.print_page if line else say(page.number) if page.number else "") or ""
    return Failure(
        check.id, severity, page.volume, page.ordinal, page.label, fault.line, check.section,
        fault.expected, fault.found, number, (line.element if line else "") or "",
    )  # fmt: skip


def inspect_edition(edition: Edition, findings: Findings | None = None) -> dict[str, object]:
    """Inspect an edition in memory, file a finding for each check that failed, and return the
    summary for the report."""
    unmarked = set()
    for found in findings.all() if findings else edition.findings:
        if found.kind == "layout.print-page-empty":
            unmarked |= _pages_of(dict(found.facts), edition.document.print_pages)
    known = findings.all() if findings else edition.findings
    reasons = place_findings((f for f in known if f.kind in KINDS), edition.book)
    result = inspect_book(book_of(edition, frozenset(unmarked)), (), reasons_of(reasons))
    if findings is not None:
        file_findings(result, findings)
    return result.summary()


def _pages_of(facts: Mapping[str, object], pages: Sequence[str]) -> set[str]:
    """The print pages that a finding of pages without text names: one, or a first and a last."""
    first, last = str(facts.get("first")), str(facts.get("last"))
    if first not in pages or last not in pages:
        return {str(facts.get("page"))}
    return set(pages[pages.index(first) : pages.index(last) + 1])


def file_findings(result: Result, findings: Findings) -> None:
    """One finding for each check that failed, and one for each that could not be kept, with its
    first place in words, how often, and its places (at most ``MOST``)."""
    groups: dict[tuple[str, bool], list[Failure]] = {}
    for failure in result.failures:
        groups.setdefault((failure.id, bool(failure.explained)), []).append(failure)
    for (name, explained), group in groups.items():
        first, check = group[0], checks()[name]
        kind = "check.failed-error" if first.severity == ERROR else "check.failed-advice"
        findings.add(
            "check.explained" if explained else kind,
            places=tuple(Place(row.volume, row.label, max(1, row.line)) for row in group[:MOST]),
            check=name,
            what=check.what,
            section=check.section,
            place=place(first),
            expected=first.expected,
            found=first.found,
            more=_more(len(group) - 1),
            why=first.explained,
        )


def place(failure: Failure) -> str:
    """Where, in words."""
    page = f"braille page {failure.label}" if failure.label else f"page {failure.page}"
    line = f", line {failure.line}" if failure.line else ""
    return f"volume {failure.volume}, {page}{line}"


def _more(count: int) -> str:
    if not count:
        return "This is the only place."
    return f"There {'is' if count == 1 else 'are'} {count} more of this kind."
