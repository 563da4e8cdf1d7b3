"""What ``cellset decide`` tells: sentences for the ear, and the same facts as plain values."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

from ..decisions.record import STATES
from ..writers.counted import count
from .tell import tell, tell_json

if TYPE_CHECKING:
    from ..changes import PageChange
    from ..deciding import Effect
    from ..decisions.offers import Offer
    from ..decisions.record import Record
    from ..findings import Finding
    from ..job import Job

_STATES = {
    "applied": "Applied",
    "followed": "Applied where its print stands now",
    "accepted": "Accepted",
}
SHOWN = 12  # Pages of an effect that are told one by one, and lines of each.


@dataclass(slots=True)
class Told:
    """Tells lines one by one; or, as JSON, all values at the end."""

    as_json: bool = False
    data: dict[str, object] = field(default_factory=dict)

    def say(self, line: str) -> None:
        """Tell a sentence, on lines for narrow displays, unless all is told as JSON.  What holds
        cells or TOML stays as it is."""
        from ..explain.say import fold

        if not self.as_json:
            whole = "\n" in line or line.startswith(("After, ", "Before, "))
            tell(line if whole else fold(line))

    def close(self) -> None:
        """Write the values, where JSON was asked for."""
        if self.as_json:
            tell_json(self.data)


# ---------------------------------------------------------------- findings and offers


def finding_line(row: Mapping[str, object]) -> str:
    """A finding of a report in one line: its id first, then how grave it is."""
    offers = row.get("offer")
    number = len(offers) if isinstance(offers, list) else 0
    word = "offer" if number == 1 else "offers"
    grave = severity(str(row["severity"])).lower()
    return f"{row['id']}: {grave}, {number} {word}. {row['message']} Kind {row['kind']}."


def severity(name: str) -> str:
    """How grave a finding is, in the words of the report."""
    from ..writers.findings_record import NAMES

    return NAMES[name]


def written_lines(stanzas: Sequence[str], path: Path, line: int) -> Iterator[str]:
    """What was written to the job file and how to take it back; ``line`` is that of the first
    decision."""
    from ..decisions.stanza import is_option, option_of

    options = [text for text in stanzas if is_option(text)]
    for text in options:
        yield f"The option {option_of(text)[0]} is set in {path}. To undo, delete its line there."
    if decisions := len(stanzas) - len(options):
        written = count(decisions, "decision")
        undo = (
            f"--undo {line}" if decisions == 1 else "--undo and the line of each, as --show tells"
        )
        yield f"{written} written to {path}, line {line}. To undo: cellset decide with {undo}."
    yield "Run cellset run again for the pages."


def kind_lines(rows: Sequence[Mapping[str, object]]) -> Iterator[str]:
    """The kinds of which there are several, with the way to settle them at once."""
    counts: dict[str, int] = {}
    for row in rows:
        counts[str(row["kind"])] = counts.get(str(row["kind"]), 0) + 1
    for kind, number in counts.items():
        if number > 1:
            yield f"{number} of one kind: to decide them at once, --all {kind}."


def place_lines(finding: Finding, text: str) -> Iterator[str]:
    """The places of a finding that has several, numbered from 1, with the print there."""
    if len(finding.spans) < 2:
        return
    placed = finding.places if len(finding.places) == len(finding.spans) else ()
    for at, (start, end) in enumerate(finding.spans[:SHOWN]):
        low, high = max(0, start - 20), min(len(text), max(end, start + 20))
        words = " ".join(text[low:high].split())
        where = ""
        if placed:
            here = placed[at]
            where = f" Volume {here.volume}, braille page {here.page}, line {here.line}."
        yield f"Place {at + 1}: “{words}”.{where}"
    if len(finding.spans) > SHOWN:
        yield f"And {len(finding.spans) - SHOWN} places more."
    yield "To decide one place alone, add --place and its number."


def finding_data(finding: Finding, offers: Sequence[Offer]) -> dict[str, object]:
    """A finding with its offers, as plain values."""
    return {
        "id": finding.id,
        "kind": finding.kind,
        "severity": finding.severity,
        "message": finding.message,
        "places": len(finding.spans),
        "settled": finding.settled,
        "offers": [
            {"offer": at, "label": one.label, "do": one.verb, "writes": list(one.stanzas)}
            for at, one in enumerate(offers, 1)
        ],
    }


# ---------------------------------------------------------------- decisions


def option_lines(job: Job) -> Iterator[str]:
    """The options of a job, each with the file that gave it."""
    for key, value in sorted(job.options.items()):
        lock = f"; {job.locks[key].says}" if key in job.locks else ""
        yield f"Option {key} = {value}, from {job.origins[key]}{lock}."


def decision_line(record: Record) -> str:
    """A decision in one line: its state first, then what, where and why."""
    where = f"“{record.expect}”" if record.expect else "the whole work"
    number = len(record.spans) if record.everywhere else 0
    places = f" in {number} {'place' if number == 1 else 'places'}" if number else ""
    what = ", ".join(f"{name} {_value(value)}" for name, value in record.arguments)
    who = f" By {record.by}." if record.by else ""
    why = f" Why: {record.why.rstrip('.')}." if record.why else ""
    note = record.note or STATES[record.state].partition(": ")[2]
    note = f" {note[:1].upper()}{note[1:].rstrip('.')}." if note else ""
    tail = f": {what}" if what else ""
    return (
        f"{_STATES.get(record.state, 'Not applied')}: {record.verb} on {where}{places}{tail} "
        f"({record.layer}, line {record.line}).{who}{why}{note}"
    )


def _value(value: object) -> str:
    words = " ".join(map(str, value)) if isinstance(value, tuple) else str(value)
    return f"“{words}”" if isinstance(value, str) and " " in words else words


def record_data(record: Record) -> dict[str, object]:
    """A decision and what became of it, as plain values."""
    return {
        "do": record.verb,
        "state": record.state,
        "at": record.at,
        "expect": record.expect,
        "arguments": dict(record.arguments),
        "why": record.why,
        "by": record.by,
        "file": record.layer,
        "line": record.line,
        "note": record.note,
        "settled": list(record.settled),
    }


# ---------------------------------------------------------------- effects


def effect_lines(done: Effect, lines: bool) -> Iterator[str]:
    """What a decision changes, in sentences: counts first, then page by page."""
    for record in done.records:
        if record.state not in ("applied", "accepted") or len(done.records) <= SHOWN:
            yield decision_line(record)
    yield f"Findings that need a person: {done.open[0]} before, {done.open[1]} after."
    yield f"Volumes: {done.volumes[0]} before, {done.volumes[1]} after."
    yield f"Braille pages: {done.sheets[0]} before, {done.sheets[1]} after."
    changed = [page for page in done.pages.pages if page.state != "renumbered"]
    moved = len(done.pages.pages) - len(changed)
    if not done.pages.pages:
        yield "No braille page changes."
        return
    yield f"Pages that change: {len(changed)}; only renumbered: {moved}."
    for page in changed[:SHOWN]:
        yield from _page(page, lines)
    if len(changed) > SHOWN:
        yield f"And {len(changed) - SHOWN} pages more."


def _page(page: PageChange, lines: bool) -> Iterator[str]:
    from ..translation.cells import ascii_of
    from ..writers.changes_report import page_sentence

    yield page_sentence(page)
    if not lines:
        return
    words = {"new": "After", "gone": "Before"}
    for line in [line for line in page.lines if line.state in words][:SHOWN]:
        at = line.was[2] if line.state == "gone" and line.was else line.line
        print_ = f" Print: “{line.text}”." if line.text else ""
        yield f"{words[line.state]}, line {at}: {ascii_of(line.cells)}{print_}"


def effect_data(done: Effect) -> dict[str, object]:
    """What decisions change, as plain values: every page that differs."""
    return {
        "decisions": [record_data(record) for record in done.records],
        "findings_open": {"before": done.open[0], "after": done.open[1]},
        "volumes": {"before": done.volumes[0], "after": done.volumes[1]},
        "braille_pages": {"before": done.sheets[0], "after": done.sheets[1]},
        "pages": [
            {
                "state": page.state,
                "place": page.place and {"volume": page.place[0], "page": page.place[1]},
                "was": page.was and {"volume": page.was[0], "page": page.was[1]},
                "lines": [
                    {
                        "state": line.state,
                        "line": line.line,
                        "cells": line.cells,
                        "print": line.text,
                    }
                    for line in page.lines
                ],
            }
            for page in done.pages.pages
        ],
    }
