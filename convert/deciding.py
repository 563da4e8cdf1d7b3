"""Deciding on a written edition: offers of its findings, what a decision changes, the job file.

The source is converted again in memory, once as the job file stands and once with the new
decisions, so that nothing is written before a person has seen what it does.
"""

from __future__ import annotations

import hashlib
import json
import os
import tomllib
from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from .changes import PageChanges, compare_pages
from .decisions.anchor import find
from .decisions.index import Index
from .decisions.offers import Offer, Offers
from .decisions.read import decision_lines
from .decisions.record import Decision, Record
from .decisions.stanza import Value, append, is_option, option_line, option_of, stanza
from .decisions.verbs import verbs
from .edition import Edition
from .errors import JobError, SourceError, why
from .findings import Finding, Findings
from .job import KEYS, SUFFIX, Job, find_job, read_job, settings_options
from .pipeline import convert_source, read_source, settings_from
from .readers.container import open_source
from .recipe import recorded_options
from .settings import Settings
from .writers.sheets import sheets_of

_HEADER = (
    "# Options and decisions for {name}.  To undo a decision, delete its [[decision]] table.\n"
)


@dataclass(frozen=True, slots=True)
class Session:
    """A written edition that decisions are taken on.  ``changed``: the source is no longer the
    one that was converted."""

    source: Path
    settings: Settings
    job_path: Path
    changed: bool

    @property
    def text(self) -> str:
        """What the job file holds; a first line for a new one."""
        if not self.job_path.exists():
            return _HEADER.format(name=self.source.name)
        try:
            return self.job_path.read_bytes().decode("utf-8-sig")
        except (OSError, UnicodeDecodeError) as error:
            raise JobError(
                f"The job file {self.job_path.name} cannot be read: {why(error)}.",
                "Check the file.",
            ) from error

    def job(self, more: Sequence[str] = ()) -> Job:
        """The job, with some stanzas more.  Raises JobError if they are wrong."""
        text = self.text
        if more:
            text = self._with(more)
        return read_job(self.job_path, text=text)

    def edition(self, more: Sequence[str] = ()) -> Edition:
        """The edition as the job file and some stanzas more make it."""
        options = dict(map(option_of, filter(is_option, more)))
        settings = self.settings
        job = self.job(more)
        if options:
            new = {key: job.options[key] for key in options}
            settings = replace(settings, **settings_options(new))  # type: ignore[arg-type]
        return convert_source(self.source, settings, job=job)

    def _with(self, stanzas: Sequence[str]) -> str:
        """The job file with some options and stanzas more.  Raises JobError where one of the
        options is written over several lines."""
        try:
            return append(self.text, stanzas)
        except ValueError as error:
            raise JobError(
                f"The job file {self.job_path.name} has this option on line {error}, over several "
                "lines.",
                "Change it there.",
            ) from error

    def write(self, stanzas: Sequence[str]) -> int:
        """Append stanzas to the job file; the line on which the first decision stands, or where
        there is none the first option."""
        before, after = self.text, self._with(stanzas)
        self.put(after)
        known, lines = len(decision_lines(before)), decision_lines(after)
        if len(lines) > known:
            return lines[known]
        pairs = zip(before.splitlines(), after.splitlines(), strict=False)
        return next((at for at, (old, new) in enumerate(pairs, 1) if old != new), 1)

    def put(self, text: str) -> None:
        """Write the job file.  Raises JobError."""
        part = self.job_path.with_name(f".{self.job_path.name}.part")
        try:
            part.write_bytes(text.encode())
            os.replace(part, self.job_path)
        except OSError as error:
            raise JobError(
                f"The job file {self.job_path} cannot be written: {why(error)}.",
                "Name another with --job.",
            ) from error


def open_session(folder: Path, job: Path | None = None) -> Session:
    """The edition in a folder that ``cellset run`` wrote.  Raises SourceError, JobError."""
    folder = edition_folder(folder)
    record = _recipe(folder)
    source = Path(os.path.normpath(folder.parent / str(record.get("path", ""))))
    if not record.get("path") or not source.is_file():
        raise SourceError(
            f"The source of {folder} is no longer where it was ({source}).",
            "Put it back, or convert it again from where it is.",
        )
    row = record.get("source")
    sha = row.get("sha256") if isinstance(row, dict) else ""
    named = record.get("job_path")
    path = job or (folder.parent / str(named) if named else None) or find_job(source)
    return Session(
        source,
        settings_from(**recorded_options(record)),
        Path(os.path.relpath(path or source.with_name(f"{source.stem}{SUFFIX}"))),
        hashlib.sha256(source.read_bytes()).hexdigest() != sha,
    )


def edition_folder(folder: Path) -> Path:
    """The folder of an edition: the one given, or the only one inside it.

    Raises SourceError where there is no such folder, JobError where it holds several editions.
    """
    if (folder / "recipe.json").is_file():
        return folder
    if not folder.is_dir():
        is_file = folder.exists()
        what = f"{folder} is a file, not a folder." if is_file else f"There is no folder {folder}."
        raise SourceError(what, "Name the folder of one edition, as cellset run wrote it.")
    inside = sorted(found.parent for found in folder.glob("*/recipe.json"))
    if len(inside) > 1:
        names = ", ".join(str(path) for path in inside[:5])
        raise JobError(f"{folder} holds several editions: {names}.", "Name the folder of one.")
    return inside[0] if inside else folder


def _recipe(folder: Path) -> dict[str, object]:
    try:
        record = json.loads((folder / "recipe.json").read_text("utf-8"))
    except (OSError, ValueError) as error:
        raise SourceError(
            f"{folder} holds no edition (recipe.json).", "Name a folder that cellset run wrote."
        ) from error
    return record if isinstance(record, dict) else {}


def findings_in(folder: Path) -> list[dict[str, object]]:
    """The findings of the report in a folder, as they stand there.  Raises SourceError."""
    try:
        record = json.loads((edition_folder(folder) / "report.json").read_text("utf-8"))
        return list(record["findings"])
    except (OSError, ValueError, KeyError, TypeError) as error:
        raise SourceError(
            f"{folder} holds no report (report.json).", "Let cellset run write the format report."
        ) from error


# ---------------------------------------------------------------- findings and offers


def find_finding(edition: Edition, name: str) -> Finding:
    """The finding of an id, or of the beginning of one.  Raises JobError."""
    found = [f for f in edition.findings if f.id == name] or [
        f for f in edition.findings if f.id.startswith(name)
    ]
    if len(found) == 1:
        return found[0]
    step = "Run cellset decide with the folder alone: it lists them."
    if found:
        raise JobError(f"{len(found)} findings have ids that begin with {name}.", step)
    raise JobError(f"The edition has no finding {name}, or a decision has settled it.", step)


def offers_of(session: Session, findings: Sequence[Finding]) -> list[list[Offer]]:
    """The offers of some findings, each for all its places."""
    document, _ = read_source(open_source(session.source), session.settings, Findings())
    maker = Offers(document)
    return [maker.of(finding) for finding in findings]


def fill(text: str, given: dict[str, str]) -> str:
    """A stanza with some of its values given by the person.  Raises JobError for a wrong key."""
    if is_option(text):
        return _filled_option(text, given)
    row = tomllib.loads(text)["decision"][0]
    arguments = dict(verbs()[row["do"]].arguments)
    for key, value in given.items():
        if key not in (*row, *arguments, "why", "by", "locked"):
            raise JobError(
                f"“{row['do']}” has no key “{key}”.", f"Its keys are {', '.join(arguments)}."
            )
        number = arguments.get(key, "").startswith("number") and value.isdecimal()
        row[key] = int(value) if number else value
    _check_filled(row, arguments, given)
    values: dict[str, Value] = {
        key: tuple(value) if isinstance(value, list) else value for key, value in row.items()
    }
    label = next((line[2:] for line in text.split("\n") if line.startswith("# ")), "")
    return stanza(values, label)


def _filled_option(text: str, given: dict[str, str]) -> str:
    """An offered option with the value a person gives.  Raises JobError for a wrong one."""
    key, value = option_of(text)
    said = {name: word for name, word in given.items() if name not in ("why", "by")}
    if wrong := set(said) - {key}:
        raise JobError(f"This offer has no “{min(wrong)}”.", f"Its only value is “{key}”.")
    new: object = said.get(key, value)
    if new == "":
        raise JobError(
            f"This offer leaves “{key}” to you.", f'Add --set {key}="..." with your words.'
        )
    if isinstance(new, str) and KEYS[key] is not str:
        new = int(new) if new.isdecimal() else new.lower() == "true" if KEYS[key] is bool else new
    settings_options({key: new})
    why = given.get("why", "")
    return option_line(key, new, why)


def _check_filled(row: dict[str, Any], arguments: dict[str, str], given: dict[str, str]) -> None:
    """Raises JobError where an offer leaves something open that the person did not give."""
    verb = verbs()[row["do"]]
    if verb.reason and not str(row.get("why", "")).strip():
        raise JobError(f"“{verb.name}” needs a reason.", 'Add --why "the reason in a few words".')
    for name in arguments:
        if row.get(name) == "" and name not in given:
            raise JobError(
                f"This offer leaves “{name}” to you.", f'Add --set {name}="..." with your words.'
            )
    if row.get("expect") == "" and not given.get("expect"):
        raise JobError(
            "The finding has no place, so this offer leaves “expect” to you.",
            'Add --set expect="..." with the first words of the block meant, or the words meant.',
        )


# ---------------------------------------------------------------- what a decision changes


@dataclass(frozen=True, slots=True)
class Effect:
    """What some decisions change: pages, the counts of volumes, pages and findings before and
    after, and what became of the new decisions."""

    pages: PageChanges
    volumes: tuple[int, int]
    sheets: tuple[int, int]
    open: tuple[int, int]
    records: tuple[Record, ...]


def effect(session: Session, before: Edition, stanzas: Sequence[str]) -> Effect:
    """What some stanzas would change.  Raises JobError if they are wrong."""
    return _effect(before, session.edition(stanzas))


def effect_of_text(session: Session, before: Edition, text: str) -> Effect:
    """What another text of the job file would change.  Raises JobError if it is wrong."""
    job = read_job(session.job_path, text=text)
    return _effect(before, convert_source(session.source, session.settings, job=job))


def without(session: Session, line: int) -> str:
    """The job file without the decision whose table begins on a line.  Raises JobError."""
    text = session.text
    begun = decision_lines(text)
    if line not in begun:
        known = ", ".join(map(str, begun)) or "none"
        raise JobError(
            f"No decision of {session.job_path} begins on line {line}.",
            f"Decisions begin on these lines: {known}.",
        )
    lines = text.split("\n")
    end = next(
        (at for at in range(line, len(lines)) if lines[at].lstrip().startswith("[")), len(lines)
    )
    return "\n".join([*lines[: line - 1], *lines[end:]])


def _effect(before: Edition, after: Edition) -> Effect:
    return Effect(
        compare_pages(sheets_of(before), sheets_of(after)),
        (len(before.volumes), len(after.volumes)),
        (before.totals.braille_pages, after.totals.braille_pages),
        (_open(before), _open(after)),
        after.decisions[len(before.decisions) :],
    )


def _open(edition: Edition) -> int:
    """The findings that still need a person."""
    return sum(finding.severity != "told" for finding in edition.findings)


# ---------------------------------------------------------------- import


@dataclass(frozen=True, slots=True)
class Imported:
    """Decisions of another job file: the stanzas of those that have a place here, and the
    others, each with the reason."""

    stanzas: tuple[str, ...]
    left: tuple[tuple[Decision, str], ...]


def import_from(session: Session, path: Path, ids: Collection[str]) -> Imported:
    """The decisions of another job file, an earlier volume's or edition's, as far as they have a
    place here; ``ids`` are those of the findings here.  Raises JobError."""
    document, _ = read_source(open_source(session.source), session.settings, Findings())
    index = Index(document)
    known = {_key(decision) for decision in session.job().decisions}
    rows = list(tomllib.loads(path.read_text("utf-8-sig")).get("decision", []))
    mine = [decision for decision in read_job(path).decisions if decision.layer == path.name]
    stanzas: list[str] = []
    left: list[tuple[Decision, str]] = []
    for row, decision in zip(rows, mine, strict=True):
        if _key(decision) in known:
            left.append((decision, "it is here already"))
            continue
        address, why = _place(decision, index)
        if decision.verb == "accept" and (decision.word("id") or None) not in (None, *ids):
            why = "there is no such finding here"
        if why:
            left.append((decision, why))
            continue
        values = {key: tuple(v) if isinstance(v, list) else v for key, v in row.items()}
        if address:
            values["at"] = address
        stanzas.append(stanza(values, f"from {path.name}, line {decision.line}"))
    return Imported(tuple(stanzas), tuple(left))


def _place(decision: Decision, index: Index) -> tuple[str, str]:
    """The address a decision has here where that is another, or why it has no place."""
    if decision.verb == "accept" and (decision.everywhere or decision.word("id")):
        return "", ""
    if decision.verb == "typeform" and decision.everywhere and not decision.expect:
        return "", ""
    found = find(decision, index)
    if not found.targets and decision.at:  # in a file of the same name, or in any
        elsewhere = "?!/0:0" if ":" in decision.at.partition("!")[2] else "?!/0"
        found = find(replace(decision, at=elsewhere), index)
    if not found.targets:
        return "", found.why
    if decision.everywhere or (found.state == "applied" and decision.at == ""):
        return "", ""
    target = found.targets[0]
    where = target.node.address if target.whole else index.ledger.address(target.hit[0])
    return (where or decision.at), ""


def _key(decision: Decision) -> tuple[object, ...]:
    return decision.verb, decision.at, decision.expect, decision.everywhere, decision.arguments
