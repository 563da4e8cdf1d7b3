"""``cellset decide``: take a finding's offer, see what it changes, keep it in the job file."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import click

from .decide_lines import (
    Told,
    decision_line,
    effect_data,
    effect_lines,
    finding_data,
    finding_line,
    kind_lines,
    option_lines,
    place_lines,
    record_data,
    severity,
    written_lines,
)
from .options import Number

if TYPE_CHECKING:
    from ..deciding import Effect, Session
    from ..decisions.offers import Offer
    from ..edition import Edition
    from ..findings import Finding

CHANGED = "The source has changed since this edition was written; it is read as it is now."
LISTS = "Run cellset decide with the folder alone: it lists them."


@dataclass(frozen=True, slots=True)
class Wanted:
    """What the person asked for: which offer, for which place, values to fill in, how much to
    tell, whether to write without asking."""

    offer: int | None
    place: int | None
    given: dict[str, str]
    lines: bool
    yes: bool
    told: Told


@click.command(short_help="turn a finding's offer into a decision in the job file")
@click.argument("outdir", type=click.Path(path_type=Path))
@click.argument("finding", required=False)
@click.option("--offer", type=Number(1), help="Which offer, from 1.")
@click.option("--place", type=Number(1), help="Only this place of a finding that has several.")
@click.option("--all", "kind", metavar="KIND", help="All findings of one kind at once.")
@click.option(
    "--from",
    "other",
    type=click.Path(path_type=Path, exists=True),
    help="Take the decisions of another job file that have a place here.",
)
@click.option("--show", is_flag=True, help="Tell every decision and what became of it.")
@click.option("--list", "show", is_flag=True, help="The same as --show.")
@click.option("--set", "values", multiple=True, metavar="NAME=VALUE", help="Fill in an argument.")
@click.option("--why", help="The reason, kept with the decision.")
@click.option("--by", help="Your initials, kept with the decision.")
@click.option("--lines", is_flag=True, help="Tell the lines that change, before and after.")
@click.option("--job", type=click.Path(path_type=Path), help="Job file to read and to write.")
@click.option("--undo", metavar="LINE", type=Number(1), help="Take out the decision on this line.")
@click.option("--yes", is_flag=True, help="Write without asking.")
@click.option("--json", "as_json", is_flag=True, help="Print all of it as JSON.")
def command(
    outdir: Path,
    finding: str | None,
    offer: int | None,
    place: int | None,
    kind: str | None,
    other: Path | None,
    show: bool,
    values: tuple[str, ...],
    why: str | None,
    by: str | None,
    lines: bool,
    job: Path | None,
    undo: int | None,
    yes: bool,
    as_json: bool,
) -> None:
    """Turn a finding's offer into a decision that lasts.

    OUTDIR is the folder of one edition, as cellset run wrote it. Alone it lists the findings that
    need a person. With the id of a FINDING it tells the offers; with --offer it converts again
    in memory, tells which braille pages and lines change, and asks before it writes.

    The decision goes to the end of the job file, STEM.job.toml beside the source, which cellset
    run then uses by itself. --undo takes one out again; --show tells its line.

    Example: cellset decide out/book 3f09a1 --offer 1 --by AB
    """
    from ..deciding import open_session

    if offer is not None and not (finding or kind):
        raise click.UsageError("--offer needs the id of a FINDING, or --all KIND.")
    told = Told(as_json)
    given = dict(_pair(value) for value in values)
    given |= {key: word for key, word in (("why", why), ("by", by)) if word is not None}
    wanted = Wanted(offer, place, given, lines, yes, told)
    if not (finding or kind or other or show or undo):
        _tell_findings(outdir, told)
    else:
        session = open_session(outdir, job)
        if session.changed:
            told.say(CHANGED)
        told.data["source_changed"] = session.changed
        if show:
            _tell_decisions(session, told)
        elif undo:
            _undo(session, undo, wanted)
        elif other:
            _import(session, other, wanted)
        else:
            _decide(session, finding, kind, wanted)
    told.close()


def _pair(text: str) -> tuple[str, str]:
    name, equals, value = text.partition("=")
    if not equals:
        raise click.UsageError(f"--set needs NAME=VALUE, not “{text}”.")
    return name.strip(), value


# ---------------------------------------------------------------- lists


def _tell_findings(folder: Path, told: Told) -> None:
    """One line for each finding that needs a person, those to settle first."""
    from ..deciding import findings_in

    open_ones = [row for row in findings_in(folder) if row["severity"] != "told"]
    open_ones.sort(key=lambda row: row["severity"] != "stop")
    told.data["findings"] = open_ones
    if not open_ones:
        told.say("No finding needs a decision.")
        return
    for row in open_ones:
        told.say(finding_line(row))
    for line in kind_lines(open_ones):
        told.say(line)
    told.say(f"{len(open_ones)} to decide. Give an id to hear its offers.")


def _tell_decisions(session: Session, told: Told) -> None:
    """Every option with its layer, and every decision with what became of it."""
    job = session.job() if session.job_path.exists() else None
    told.data |= {"options": job.options if job else {}, "decisions": []}
    if job is None:
        told.say(f"There is no job file yet; a decision would make {session.job_path}.")
        return
    for line in option_lines(job):
        told.say(line)
    records = session.edition().decisions
    told.data["decisions"] = [record_data(record) for record in records]
    for record in records:
        told.say(decision_line(record))
    told.say(f"{len(records)} {'decision' if len(records) == 1 else 'decisions'}.")


# ---------------------------------------------------------------- deciding


def _decide(session: Session, name: str | None, kind: str | None, wanted: Wanted) -> None:
    from ..deciding import fill, find_finding, offers_of
    from ..findings import catalogue

    before = session.edition() if session.job_path.exists() else _plain(session)
    if kind:
        findings = [f for f in before.findings if f.kind == kind and not f.settled]
        findings = [f for f in findings if f.severity != "told" or catalogue()[kind].offers]
        if not findings:
            raise click.UsageError(
                f"The edition has no finding of the kind {kind} to decide. {LISTS}"
            )
    else:
        findings = [find_finding(before, name or "")]
    offers = offers_of(session, findings)
    if wanted.offer is None:
        wanted.told.data["findings"] = [
            finding_data(one, made) for one, made in zip(findings, offers, strict=True)
        ]
        _tell_offers(findings, offers[0], before.document.ledger.text, wanted.told)
        return
    stanzas = [
        fill(text, wanted.given)
        for finding, made in zip(findings, offers, strict=True)
        for text in _at_place(_chosen(finding, made, offers[0], wanted.offer), wanted.place)
    ]
    _try(session, before, list(dict.fromkeys(stanzas)), wanted)


def _at_place(stanzas: tuple[str, ...], place: int | None) -> tuple[str, ...]:
    """The stanzas of an offer, or that of one place."""
    if place is None:
        return stanzas
    if place > len(stanzas):
        has = "1 place" if len(stanzas) == 1 else f"{len(stanzas)} places"
        raise click.UsageError(f"This offer is for {has}, not for a place {place}.")
    return stanzas[place - 1 : place]


def _plain(session: Session) -> Edition:
    """The edition without a job file."""
    from ..pipeline import convert_source

    return convert_source(session.source, session.settings)


def _chosen(
    finding: Finding, offers: Sequence[Offer], first: Sequence[Offer], number: int
) -> tuple[str, ...]:
    """The stanzas of an offer; of one finding among many the offer with the verb that the
    number means of the first."""
    if finding.settled:
        raise click.UsageError(f"The finding {finding.id} needs nothing now. {finding.settled}")
    if number > len(first):
        has = "1 offer" if len(first) == 1 else f"{len(first)} offers"
        raise click.UsageError(f"The finding {finding.id} has {has}, no offer {number}.")
    meant = first[number - 1].verb
    alike = [offer for offer in offers if offer.verb == meant]
    here = offers[number - 1] if number <= len(offers) else None
    if here is None or here.verb != meant:
        here = alike[0] if alike else None
    if here is None:
        raise click.UsageError(f"The finding {finding.id} has no offer to {meant}.")
    return here.stanzas


def _tell_offers(
    findings: Sequence[Finding], offers: Sequence[Offer], text: str, told: Told
) -> None:
    """What a finding says and the decisions that would settle it."""
    first = findings[0]
    if len(findings) > 1:
        told.say(f"{len(findings)} findings of the kind {first.kind}. The first of them:")
    if first.settled:
        told.say(f"{first.message} {first.settled} It needs nothing now.")
        return
    told.say(f"{severity(first.severity)}. {first.message} Kind {first.kind}.")
    for number, offer in enumerate(offers, 1):
        told.say(f"Offer {number}: {offer.label}. It writes:")
        told.say(offer.stanzas[0].rstrip("\n"))
        if len(offer.stanzas) > 1:
            told.say(f"and {len(offer.stanzas) - 1} more for its other places.")
    for line in place_lines(first, text):
        told.say(line)
    told.say("Take one with --offer and its number." if offers else "It has no offers.")


def _import(session: Session, other: Path, wanted: Wanted) -> None:
    """Take over what has a place here; tell what has none."""
    from ..deciding import import_from

    before = session.edition() if session.job_path.exists() else _plain(session)
    made = import_from(session, other, {finding.id for finding in before.findings})
    for decision, why in made.left:
        what = f", “{decision.expect}”" if decision.expect else ""
        wanted.told.say(f"Not taken: {decision.verb}, {decision.place}{what}: {why}.")
    wanted.told.data["not_taken"] = [
        {"do": one.verb, "expect": one.expect, "line": one.line, "why": why}
        for one, why in made.left
    ]
    if not made.stanzas:
        wanted.told.say(f"No decision of {other.name} was taken.")
        return
    wanted.told.say(
        f"{len(made.stanzas)} of {len(made.stanzas) + len(made.left)} decisions have a place."
    )
    _try(session, before, made.stanzas, wanted)


def _undo(session: Session, line: int, wanted: Wanted) -> None:
    """Take a decision out of the job file, after telling what that changes."""
    from ..deciding import effect_of_text, without

    before, text = session.edition(), without(session, line)
    wanted.told.say(f"Without the decision on line {line} of {session.job_path}:")
    done = effect_of_text(session, before, text)
    _tell_effect(done, wanted)
    if _told_to_write(wanted):
        session.put(text)
        wanted.told.say("It is taken out. Run cellset run again for the pages.")


def _try(session: Session, before: Edition, stanzas: Sequence[str], wanted: Wanted) -> None:
    """Tell what the stanzas change; write them if the person says so."""
    from ..deciding import effect

    done = effect(session, before, stanzas)
    _tell_effect(done, wanted)
    if not _told_to_write(wanted):
        return
    at = session.write(stanzas)
    wanted.told.data |= {"job": str(session.job_path), "line": at}
    for sentence in written_lines(stanzas, session.job_path, at):
        wanted.told.say(sentence)


def _tell_effect(done: Effect, wanted: Wanted) -> None:
    wanted.told.data |= effect_data(done)
    for line in effect_lines(done, wanted.lines):
        wanted.told.say(line)


def _told_to_write(wanted: Wanted) -> bool:
    """Whether the person wants it written."""
    yes = wanted.yes or (not wanted.told.as_json and _agreed())
    wanted.told.data["written"] = yes
    if not yes:
        wanted.told.say("Nothing was written. Add --yes to write it.")
    return yes


def _agreed() -> bool:
    return sys.stdin.isatty() and click.confirm("Write this decision?", default=False)
