"""``cellset decide``: take a finding's offer, see what it changes, keep it in the job file."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import click

from .tell import tell

if TYPE_CHECKING:
    from ..changes import PageChange
    from ..deciding import Effect, Session
    from ..decisions.offers import Offer
    from ..decisions.record import Record
    from ..edition import Edition
    from ..findings import Finding
    from ..job import Job

LISTS = "Run cellset decide with the folder alone: it lists them."
SHOWN = 12  # Pages of an effect that are told one by one, and lines of each.


@dataclass(frozen=True, slots=True)
class Wanted:
    """What the person asked for: which offer, values to fill in, how much to tell, whether to
    write without asking."""

    offer: int | None
    given: dict[str, str]
    lines: bool
    yes: bool


@click.command(short_help="turn a finding's offer into a decision in the job file")
@click.argument("outdir", type=click.Path(path_type=Path))
@click.argument("finding", required=False)
@click.option("--offer", type=click.IntRange(min=1), help="Which offer, from 1.")
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
@click.option("--yes", is_flag=True, help="Write without asking.")
def command(
    outdir: Path,
    finding: str | None,
    offer: int | None,
    kind: str | None,
    other: Path | None,
    show: bool,
    values: tuple[str, ...],
    why: str | None,
    by: str | None,
    lines: bool,
    job: Path | None,
    yes: bool,
) -> None:
    """Turn a finding's offer into a decision that lasts.

    OUTDIR is the folder of one edition, as cellset run wrote it. Alone it lists the findings that
    need a person. With the id of a FINDING it tells the offers; with --offer it converts again
    in memory, tells which braille pages and lines change, and asks before it writes.

    The decision goes to the end of the job file, STEM.job.toml beside the source, which cellset
    run then uses by itself. To undo it, delete its [[decision]] table there.

    Example: cellset decide out/book 3f09a1 --offer 1 --by AB
    """
    from ..deciding import open_session

    if offer is not None and not (finding or kind):
        raise click.UsageError("--offer needs the id of a FINDING, or --all KIND.")
    if not (finding or kind or other or show):
        _tell_findings(outdir)
        return
    session = open_session(outdir, job)
    if session.changed:
        tell("The source has changed since this edition was written; it is read as it is now.")
    given = dict(_pair(value) for value in values)
    given |= {key: word for key, word in (("why", why), ("by", by)) if word is not None}
    wanted = Wanted(offer, given, lines, yes)
    if show:
        _tell_decisions(session)
    elif other:
        _import(session, other, wanted)
    else:
        _decide(session, finding, kind, wanted)


def _pair(text: str) -> tuple[str, str]:
    name, equals, value = text.partition("=")
    if not equals:
        raise click.UsageError(f"--set needs NAME=VALUE, not “{text}”.")
    return name.strip(), value


# ---------------------------------------------------------------- lists


def _tell_findings(folder: Path) -> None:
    """One line for each finding that needs a person, those to settle first."""
    from ..deciding import findings_in

    open_ones = [row for row in findings_in(folder) if row["severity"] != "told"]
    open_ones.sort(key=lambda row: row["severity"] != "stop")
    if not open_ones:
        tell("No finding needs a decision.")
    for row in open_ones:
        offers = row.get("offer")
        number = len(offers) if isinstance(offers, list) else 0
        word = "offer" if number == 1 else "offers"
        tell(f"{row['id']}: {row['severity']}, {number} {word}, {row['kind']}. {row['message']}")
    if open_ones:
        tell(f"{len(open_ones)} to decide. Give an id to hear its offers.")


def _tell_decisions(session: Session) -> None:
    """Every option with its layer, and every decision with what became of it."""
    job = session.job() if session.job_path.exists() else None
    if job is None:
        tell(f"There is no job file yet; a decision would make {session.job_path}.")
        return
    for line in option_lines(job):
        tell(line)
    records = session.edition().decisions
    for record in records:
        tell(decision_line(record))
    tell(f"{len(records)} {'decision' if len(records) == 1 else 'decisions'}.")


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
    why = f" {record.why.rstrip('.')}." if record.why else ""
    note = f" {record.note[:1].upper()}{record.note[1:].rstrip('.')}." if record.note else ""
    tail = f": {what}" if what else ""
    return (
        f"{record.state.capitalize()}: {record.verb} on {where}{places}{tail} "
        f"({record.layer}, line {record.line}).{who}{why}{note}"
    )


def _value(value: object) -> str:
    return " ".join(map(str, value)) if isinstance(value, tuple) else str(value)


# ---------------------------------------------------------------- deciding


def _decide(session: Session, name: str | None, kind: str | None, wanted: Wanted) -> None:
    from ..deciding import fill, find_finding, offers_of

    before = session.edition() if session.job_path.exists() else _plain(session)
    if kind:
        findings = [f for f in before.findings if f.kind == kind and f.severity != "told"]
        if not findings:
            raise click.UsageError(
                f"The edition has no finding of the kind {kind} to decide. {LISTS}"
            )
    else:
        findings = [find_finding(before, name or "")]
    offers = offers_of(session, findings)
    if wanted.offer is None:
        _tell_offers(findings, offers[0])
        return
    stanzas = [
        fill(text, wanted.given)
        for finding, made in zip(findings, offers, strict=True)
        for text in _chosen(finding, made, offers[0], wanted.offer)
    ]
    _try(session, before, stanzas, wanted)


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


def _tell_offers(findings: Sequence[Finding], offers: Sequence[Offer]) -> None:
    """What a finding says and the decisions that would settle it."""
    first = findings[0]
    if len(findings) > 1:
        tell(f"{len(findings)} findings of the kind {first.kind}. The first of them:")
    tell(f"{first.severity}, {first.kind}. {first.message}")
    for number, offer in enumerate(offers, 1):
        tell(f"Offer {number}: {offer.label}. It writes:")
        tell(offer.stanzas[0].rstrip("\n"))
        if len(offer.stanzas) > 1:
            tell(f"and {len(offer.stanzas) - 1} more for its other places.")
    if not offers:
        tell("It has no offers.")
    tell("Take one with --offer and its number.")


def _import(session: Session, other: Path, wanted: Wanted) -> None:
    """Take over what has a place here; tell what has none."""
    from ..deciding import import_from

    before = session.edition() if session.job_path.exists() else _plain(session)
    made = import_from(session, other, {finding.id for finding in before.findings})
    for decision, why in made.left:
        what = f", “{decision.expect}”" if decision.expect else ""
        tell(f"Not taken: {decision.verb}, {decision.place}{what}: {why}.")
    if not made.stanzas:
        tell(f"No decision of {other.name} was taken.")
        return
    tell(f"{len(made.stanzas)} of {len(made.stanzas) + len(made.left)} decisions have a place.")
    _try(session, before, made.stanzas, wanted)


def _try(session: Session, before: Edition, stanzas: Sequence[str], wanted: Wanted) -> None:
    """Tell what the stanzas change; write them if the person says so."""
    from ..deciding import effect

    done = effect(session, before, stanzas)
    for line in effect_lines(done, wanted.lines):
        tell(line)
    if not wanted.yes and not _agreed():
        tell("Nothing was written. Add --yes to write it.")
        return
    at = session.write(stanzas)
    word = "decision" if len(stanzas) == 1 else "decisions"
    tell(
        f"{len(stanzas)} {word} written to {session.job_path}, line {at}. "
        "To undo, delete the [[decision]] table there. Run cellset run again for the pages."
    )


def _agreed() -> bool:
    return sys.stdin.isatty() and click.confirm("Write this decision?", default=False)


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
