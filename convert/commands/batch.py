"""``cellset batch``: convert many documents, and go on where an earlier run stopped."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Sequence
from contextlib import closing
from pathlib import Path
from typing import TYPE_CHECKING

import click

from ..errors import ConvertError, JobError, why
from ..writers.counted import count
from .batch_summary import Record, end_sentence, numbers, of_status, waiting, write_summary
from .options import Number, named_job, plan_source, with_options
from .tell import go_on_unheard, plain_name, tell, tell_json

if TYPE_CHECKING:
    from ..batch import Engine, Unit
    from ..job import Job


@click.command()
@click.argument("sources", nargs=-1, type=click.Path(path_type=Path), metavar="SOURCE|DIR|LIST...")
@click.option(
    "--workers",
    type=Number(1, 64),
    help="Documents converted at a time, 1 to 64 [one for each processor].",
)
@click.option(
    "--cluster",
    metavar="ADDRESS",
    help="Scheduler of the distributed package whose workers see these folders.",
)
@click.option(
    "--minutes",
    type=Number(0, parts=True),
    default=60,
    help="Time for one document before it is refused; 0 for any time [60].",
)
@click.option("--again", is_flag=True, help="Convert also what an earlier run finished.")
@with_options
def command(
    sources: tuple[Path, ...],
    workers: int | None,
    cluster: str | None,
    minutes: float,
    again: bool,
    out: Path,
    job: Path | None,
    quiet: bool,
    as_json: bool,
    **given: object,
) -> None:
    """Convert many documents: files, folders, or .txt lists with a path on each line.

    One bad document does not stop the rest. A document whose folder already holds an edition
    with the same source, options and versions is kept as it is, so a batch that was stopped
    goes on where it was: give the same command again. A job file beside a document,
    STEM.job.toml, holds for it, over the one named after --job. What became of each document
    is written to summary.csv and, to be heard, summary.txt.

    Exit status: 0 all done; 3 done, but something must be settled or was refused; 1 all refused;
    2 wrong usage; 130 stopped with Ctrl-C.
    """
    from .. import plugins
    from ..batch import Engine, find_sources, left_aside
    from ..output import check_out

    if not sources:
        raise click.UsageError("Name at least one document, folder or list.")
    base = named_job(job)
    check_out(out)
    go_on_unheard()
    engine = Engine(workers or os.cpu_count() or 1, cluster, again, minutes * 60)
    suffixes = plugins.names("convert.readers")
    found = find_sources(sources, suffixes)
    say = tell if not (quiet or as_json) else _say_nothing
    _say_begin(len(found), engine.workers, left_aside(sources, suffixes), say)
    units, records = _plan(found, out, base, given, say)
    stopped = _convert(units, records, (out, engine), len(found), say)
    records.sort(key=lambda record: str(record["source"]))
    if as_json:
        tell_json(records)
    sys.exit(_end(records, out, stopped, say))


def _say_nothing(text: str, err: bool = False) -> None:
    """Where nothing is to be said."""


def _say_begin(number: int, workers: int, aside: dict[str, int], say: Callable[..., None]) -> None:
    say(f"{count(number, 'document')}, {min(workers, number)} at a time.")
    if aside:
        kinds = ", ".join(f"{times} {end or 'without ending'}" for end, times in aside.items())
        say(f"Files of kinds that are not read, left aside: {kinds}.", err=True)


def _plan(
    found: list[Path],
    out: Path,
    base: Job | None,
    given: dict[str, object],
    say: Callable[..., None],
) -> tuple[list[Unit], list[Record]]:
    """What is to be converted, and the records of documents whose job file is wrong."""
    from .. import plugins
    from ..batch import Unit, refusal
    from ..layout.convention import load
    from ..output import folder_names

    units: list[Unit] = []
    records: list[Record] = []
    conventions: dict[str, object] = {}  # One that is wrong is told once, not of each document.
    for source, stem in zip(found, folder_names(found, out), strict=True):
        try:
            plan = plan_source(source, base, given, alone=False)
        except JobError as error:
            records.append(refusal(source, str(error)))
            continue
        for name in plan.settings.write:
            plugins.find("convert.writers", name)
        if plan.settings.convention not in conventions:
            conventions[plan.settings.convention] = load(plan.settings.convention)
        if plan.told:
            say(f"{plain_name(source.name)}: {plan.told}", err=True)
        units.append(Unit(source, stem, plan.settings, plan.job))
    return units, records


def _convert(
    units: list[Unit],
    records: list[Record],
    where: tuple[Path, Engine],
    number: int,
    say: Callable[..., None],
) -> int:
    """Convert the units, the records added as they come; the exit status of a stop, else 0.

    Documents that a stopped batch did not come to are added as such.
    """
    from ..batch import run_batch
    from ..settings import Settings

    out, engine = where
    for at, record in enumerate(records, 1):
        say(f"{at} of {number}: {_line(record)}")
    try:
        with closing(run_batch(units, out, Settings(), engine)) as results:
            for record in results:
                records.append(record)
                say(f"{len(records)} of {number}: {_line(record)}")
    except (KeyboardInterrupt, SystemExit) as stop:
        done = {record["source"] for record in records}
        records += [waiting(unit.source) for unit in units if str(unit.source) not in done]
        return stop.code if isinstance(stop, SystemExit) and isinstance(stop.code, int) else 130
    return 0


def _line(record: Record) -> str:
    source = plain_name(record["source"])
    if record["status"] == "refused":
        return f"{source}: refused. {record['message']}"
    number = numbers(record)
    state = f"{number['stop']} to settle" if number["stop"] else "nothing to settle"
    kept = ", kept from an earlier run" if record.get("kept") else ""
    return f"{source}: {count(number['braille_pages'], 'braille page')}, {state}{kept}."


def _end(records: Sequence[Record], out: Path, stopped: int, say: Callable[..., None]) -> int:
    """Write the summary and say how it ended; the exit status."""
    try:
        write_summary(records, out)
    except OSError as error:
        raise ConvertError(
            f"The summary cannot be written into {out}: {why(error)}.",
            "The documents that were told as converted are there; run again for the summary.",
        ) from error
    say(f"{end_sentence(records)} The table is {out / 'summary.csv'}, in words summary.txt.")
    if stopped:
        tell("Stopped. The same command goes on where it was.", err=True)
        raise click.exceptions.Exit(stopped)
    if len(of_status(records, "refused")) == len(records):
        return 1
    return 3 if of_status(records, "refused", "settle") else 0
