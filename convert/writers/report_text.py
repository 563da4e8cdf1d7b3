"""The report as plain text, one fact a line.

It is made for the ear: what must be settled comes first, what is the same for a kind of finding is
said once, and what is long (places beyond the first, decisions for the job file) stands at the
end, under the number of its finding.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator
from pathlib import Path

from .counted import count
from .findings_record import NAMES, FindingRecord, PlaceRecord
from .groups import Group, groups, offer_names
from .pictures import picture_facts
from .report_parts import Report, decisions_sentence, made_with
from .shown import show
from .signature import signature_lines
from .statements import (
    braille_words,
    cautions,
    checks_sentence,
    failed_checks,
    not_checked,
    statistics,
    verdict,
)

WIDTH = 79
# Places told with their finding.
FIRST_PLACES = {"stop": 20, "look": 8, "told": 3}
NAMED = 40  # Characters of words that are told before their neighbourhood.
STANZA = "\t"  # Before a line of a decision, which is not folded.


def write_text(report: Report, folder: Path) -> Path:
    """Write ``report.txt``; its path.

    Lines have at most 79 characters where words allow, but for decisions, which are TOML.
    """
    lines: list[str] = []
    for text in _lines(report):
        if text.startswith(STANZA):
            lines.append(text[1:])
        else:
            lines += fold(text)
    path = folder / "report.txt"
    path.write_bytes(("\n".join(lines) + "\n").encode())
    return path


def fold(text: str) -> list[str]:
    """A line as lines of at most 79 characters, cut at spaces."""
    if len(text) <= WIDTH:
        return [text]
    return textwrap.wrap(text, WIDTH, break_long_words=False, break_on_hyphens=False)


def _lines(report: Report) -> Iterator[str]:
    edition = report.edition
    yield verdict(edition)
    yield f"Source: {show(edition.source)}."
    yield from cautions(edition)
    if edition.rerun:
        yield "What changed since the run before: see changes.txt."
    if any(record.offer for record in report.found):
        yield (
            "To take an offer: cellset decide, the name of this folder, the id of the finding, "
            "--offer and its number."
        )
    paged = bool(edition.document.print_pages)
    for severity, name in NAMES.items():
        yield from _findings(name, report.of(severity), paged)
    if report.settled:
        yield from _findings("Settled by a decision", report.settled, paged)
    yield from _decisions(report)
    yield from signature_lines(edition)
    yield from _pictures(report)
    yield from _figures(report)
    yield ""
    yield "Not checked."
    yield from not_checked(edition.checks)
    yield ""
    yield "How this was made."
    yield from (f"{name}: {value}." for name, value in made_with(edition))
    yield from _more_places(report.found, paged)
    yield from _stanzas(report.found)


def _figures(report: Report) -> Iterator[str]:
    checks = report.edition.checks
    yield ""
    yield "Statistics."
    for name, value, remark in statistics(report.totals, report.figures):
        yield f"{name}: {value}{f', {remark}' if remark else ''}."
    yield ""
    yield f"Checks. {checks_sentence(checks)}"
    for row in failed_checks(checks):
        yield (
            f"Check {row.check} failed. {row.place}: expected {row.expected}; found {row.found}. "
            f"Standard: {row.standard}."
        )


def _findings(name: str, rows: list[FindingRecord], paged: bool) -> Iterator[str]:
    yield ""
    if not rows:
        yield f"{name}: nothing."
        return
    made = groups(rows)
    kinds = f" of {count(len(made), 'kind')}" if len(made) < len(rows) else ""
    yield f"{name}: {count(len(rows), 'finding')}{kinds}."
    for group in made:
        yield ""
        yield from _group(group, paged)


def _group(group: Group, paged: bool) -> Iterator[str]:
    several = len(group.findings) > 1
    if several:
        yield f"{group.name}, {group.kind}: {count(len(group.findings), 'finding')}."
        yield from _common(group)
    for record in group.findings:
        yield from _finding(record, paged, "" if several else f"Kind {group.kind}, id")
        if not several:
            yield from _common(group)
        elif not group.offers:
            yield from _offers(offer_names(record))


def _common(group: Group) -> Iterator[str]:
    """What is the same for all findings of a group."""
    yield f"What to do: {group.remedy}"
    if group.standard:
        yield f"Standard: {group.standard}."
    yield from _offers(group.offers)


def _offers(names: Iterable[str]) -> Iterator[str]:
    yield from (f"Offer {at}: {name}." for at, name in enumerate(names, 1))


def _finding(record: FindingRecord, paged: bool, named: str) -> Iterator[str]:
    yield f"{record.number}. {record.message} {named or 'Id'} {record.id}."
    if record.settled:
        yield f"Settled: {record.settled}"
    first = FIRST_PLACES[record.severity]
    for place in record.places[:first]:
        yield place_sentence(place, paged)
    if len(record.places) > first:
        more = count(len(record.places) - first, "more place")
        yield f"{more}: at the end of this text, under finding {record.number}."
    for at, form in enumerate(record.forms, 1):
        yield f"Choice {at}, {form.label}: {form.print}, {form.dots}"


def place_sentence(place: PlaceRecord, paged: bool = True) -> str:
    """A place in one sentence: braille place, print page, words; ``paged``: print has pages."""
    if place.braille is None and place.near is not None:
        near = braille_words(place.near)
        where = f"Not in the braille; would stand near {near[:1].lower()}{near[1:]}"
    else:
        where = braille_words(place.braille)
    page = (f", print page {place.page}" if place.page else ", no print page") if paged else ""
    return f"{where}{page}{_excerpt(place)}"


def _excerpt(place: PlaceRecord) -> str:
    """The words that a finding is about, if they are few, and what stands round them."""
    if place.excerpt is None or not place.excerpt.text:
        return "."
    words, text = place.excerpt.words.strip(), place.excerpt.text
    if words and len(words) <= NAMED and len(words) < len(text):
        return f": “{words}” in “{text}”"
    return f": “{text}”"


def _more_places(found: list[FindingRecord], paged: bool) -> Iterator[str]:
    """The places that stand at the end."""
    rows = [row for row in found if len(row.places) > FIRST_PLACES[row.severity]]
    for record in rows:
        yield ""
        first = FIRST_PLACES[record.severity]
        yield f"Further places of finding {record.number}, {record.kind_name.lower()}."
        for place in record.places[first:]:
            yield place_sentence(place, paged)


def _stanzas(found: list[FindingRecord]) -> Iterator[str]:
    """Every offer as the decision that the job file would hold."""
    rows = [row for row in found if row.offer]
    if rows:
        yield ""
        yield "Decisions offered, ready for the job file."
    for record in rows:
        for at, stanza in enumerate(record.offer, 1):
            yield ""
            yield f"Finding {record.number}, offer {at}."
            yield from (f"{STANZA}{line}" for line in stanza.splitlines())


def _decisions(report: Report) -> Iterator[str]:
    if not report.decisions:
        return
    yield ""
    yield decisions_sentence(report.decisions)
    for row in report.decisions:
        yield ""
        yield f"Decision {row.number}, {row.title}"
        yield f"State: {row.state_name}."
        for name, value in row.facts:
            yield f"{name}: {value}"


def _pictures(report: Report) -> Iterator[str]:
    if not report.pictures:
        return
    yield ""
    yield f"Pictures, for the tactile artist: {len(report.pictures)}."
    for row in report.pictures:
        yield ""
        yield f"Picture {row.number}."
        for name, value in picture_facts(row):
            yield f"{name}: {value}"
