"""``cellset run``: convert documents into braille files and a report."""

from __future__ import annotations

import csv
import sys
from collections.abc import Callable
from pathlib import Path

import click

from ..errors import ConventionError, ConvertError, JobError
from ..job import Job
from ..writers.counted import count
from .options import Planned, named_job, plan_source, with_options
from .tell import go_on_unheard, plain_name, tell, tell_json


@click.command()
@click.argument("sources", nargs=-1, type=click.Path(path_type=Path), metavar="SOURCE...")
@with_options
def command(
    sources: tuple[Path, ...],
    out: Path,
    job: Path | None,
    quiet: bool,
    as_json: bool,
    **given: object,
) -> None:
    """Convert documents into braille files and a transcriber's notes report.

    The braille is a draft: a qualified transcriber and proofreader must approve it, and the
    rules of your braille authority come first. Read report.html first.

    Exit status: 0 done; 3 done, but something must be settled before embossing; 1 refused;
    2 wrong usage; 130 stopped with Ctrl-C.

    Example: cellset run book.epub --out out
    """
    base = named_job(job)
    if not sources and job and base and isinstance(base.options.get("source"), str):
        sources = (job.parent / str(base.options["source"]),)
    if not sources:
        raise click.UsageError("Name at least one source, such as: cellset run BOOK.epub")
    sys.exit(_run_all(sources, out, base, given, (quiet, as_json)))


def _run_all(
    sources: tuple[Path, ...],
    out: Path,
    base: Job | None,
    given: dict[str, object],
    say: tuple[bool, bool],
) -> int:
    """Convert each source; the exit status of the whole.  ``say``: quiet, as JSON."""
    from ..output import check_out, unique_stems

    quiet, as_json = say
    stems = unique_stems(list(sources))
    plans = [plan_source(source, base, given, len(sources) == 1) for source in sources]
    for plan in plans:
        _check_formats(plan.settings.write)
    check_out(out)
    go_on_unheard()
    records = []
    for source, stem, plan in zip(sources, stems, plans, strict=True):
        records.append(_run_one(source, stem, out, plan, quiet))
        if not as_json:
            _say(records[-1], quiet)
    if as_json:
        tell_json(records)
        for record in records:
            if record["status"] == "refused":
                tell(f"cellset: {record['message']}", err=True)
    refused = sum(record["status"] == "refused" for record in records)
    if refused == len(records):
        return 1
    return 3 if refused or any(record["status"] == "settle" for record in records) else 0


def _run_one(source: Path, stem: str, out: Path, plan: Planned, quiet: bool) -> dict[str, object]:
    """The record of one source."""
    from ..batch import convert_one

    name = plain_name(source.name or source)
    if plan.told and not quiet:
        tell(f"{name}: {plan.told}", err=True)
    try:
        progress = _progress(name, quiet)
        return convert_one(source, stem, out, plan.settings, progress, plan.job)
    except ConvertError as error:
        if isinstance(error, JobError | ConventionError):
            raise
        return {"source": str(source), "status": "refused", "message": str(error)}


def _check_formats(names: tuple[str, ...]) -> None:
    from .. import plugins

    for name in names:
        plugins.find("convert.writers", name)


def _say(record: dict[str, object], quiet: bool) -> None:
    if record["status"] == "refused":
        tell(f"cellset: {record['message']}", err=True)
        return
    if quiet:
        return
    from ..explain.say import fold

    totals = record["totals"]
    assert isinstance(totals, dict)
    counts = totals["findings"]
    first = (
        f"Do not emboss yet: {count(counts['stop'], 'thing')} to settle."
        if record["status"] == "settle"
        else "Nothing must be settled before a transcriber reads the draft."
    )
    lines = (
        f"{plain_name(Path(str(record['source'])).name)}: {count(totals['volumes'], 'volume')}, "
        f"{count(totals['braille_pages'], 'braille page')}.",
        f"{count(counts['look'], 'finding')} to look at, {totals['lost']} characters lost.",
        *_decided(record.get("decisions")),
        first,
        *([str(record["caution"])] if record.get("caution") else ()),
        *_where(Path(str(record["folder"]))),
    )
    tell("\n".join(fold(line) for line in lines))


def _where(folder: Path) -> list[str]:
    """The folder, what to read first in it, and the list that a second person signs."""
    if not (folder / "report.html").exists():
        return [f"Written to {folder}, without the report: add report to --write to have it."]
    said = [f"Written to {folder}; read report.html there first, or report.txt, its plain text."]
    if (folder / "signature.csv").exists():
        with (folder / "signature.csv").open(encoding="utf-8", newline="") as file:
            rows = sum(1 for _ in csv.reader(file)) - 1
        said.append(f"The list for signature, signature.csv, has {count(rows, 'row')}.")
    return said


def _decided(states: object) -> list[str]:
    """A line about the decisions of the job file; none where there are none."""
    if not isinstance(states, dict) or not states:
        return []
    done = sum(states.get(state, 0) for state in ("applied", "followed", "accepted"))
    rest = sum(states.values()) - done
    left = f", {rest} not applied: the report says why" if rest else ""
    return [f"{count(done + rest, 'decision')} of the job file: {done} applied{left}."]


def _progress(name: str, quiet: bool) -> Callable[[str], None]:
    """A function that tells the stage, each on a line of its own, for the ear too."""
    return (lambda stage: None) if quiet else lambda stage: tell(f"{name}: {stage}", err=True)
