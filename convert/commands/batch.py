"""``cellset batch``: convert many documents, and go on where an earlier run stopped."""

from __future__ import annotations

import csv
import os
import sys
from itertools import chain
from pathlib import Path

import click

from ..errors import JobError
from .options import named_job, plan_source, with_options
from .tell import tell, tell_json

_COLUMNS = (
    "source",
    "status",
    "folder",
    "volumes",
    "braille_pages",
    "stop",
    "look",
    "lost",
    "message",
)


@click.command()
@click.argument("sources", nargs=-1, type=click.Path(path_type=Path), metavar="SOURCE|DIR|LIST...")
@click.option(
    "--workers",
    type=click.IntRange(1, 64),
    default=lambda: os.cpu_count() or 1,
    help="Documents converted at a time [one for each processor].",
)
@click.option(
    "--cluster",
    metavar="ADDRESS",
    help="Scheduler of the distributed package whose workers see these folders.",
)
@click.option(
    "--minutes",
    type=click.FloatRange(min=0),
    default=60,
    show_default=True,
    help="Time for one document before it is refused; 0 for any time.",
)
@click.option("--again", is_flag=True, help="Convert also what an earlier run finished.")
@with_options
def command(
    sources: tuple[Path, ...],
    workers: int,
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
    goes on where it was. A job file beside a document, STEM.job.toml, holds for it, over the one
    named after --job. A table of results is written to summary.csv.

    Exit status: 0 all done; 3 done, but something must be settled or was refused; 1 all refused.
    """
    from .. import plugins
    from ..batch import Engine, Record, Unit, find_sources, refusal, run_batch
    from ..output import check_out, unique_stems
    from ..settings import Settings

    if not sources:
        raise click.UsageError("Name at least one document, folder or list.")
    base = named_job(job)
    check_out(out)
    found = find_sources(sources, plugins.names("convert.readers"))
    units: list[Unit] = []
    records: list[Record] = []
    for source, stem in zip(found, unique_stems(list(found)), strict=True):
        try:
            plan = plan_source(source, base, given, alone=False)
        except JobError as error:
            records.append(refusal(source, str(error)))
            continue
        for name in plan.settings.write:
            plugins.find("convert.writers", name)
        if plan.told and not quiet and not as_json:
            tell(f"{source.name}: {plan.told}", err=True)
        units.append(Unit(source, stem, plan.settings, plan.job))
    engine = Engine(workers, cluster, again, minutes * 60)
    for at, record in enumerate(chain(records[:], run_batch(units, out, Settings(), engine)), 1):
        if at > len(records):
            records.append(record)
        if not quiet and not as_json:
            tell(f"{at} of {len(found)}: {_line(record)}")
    records.sort(key=lambda record: str(record["source"]))
    _write_summary(records, out)
    if as_json:
        tell_json(records)
    sys.exit(_say_end(records, out, quiet or as_json))


def _line(record: dict[str, object]) -> str:
    if record["status"] == "refused":
        return f"{record['source']}: refused. {record['message']}"
    totals = record["totals"]
    assert isinstance(totals, dict)
    stops = totals["findings"]["stop"]
    state = f"{stops} to settle" if stops else "nothing to settle"
    kept = ", kept from an earlier run" if record.get("kept") else ""
    return f"{record['source']}: {totals['braille_pages']} braille pages, {state}{kept}."


def _say_end(records: list[dict[str, object]], out: Path, quiet: bool) -> int:
    refused = sum(record["status"] == "refused" for record in records)
    settle = sum(record["status"] == "settle" for record in records)
    if not quiet:
        done = len(records) - refused
        tell(
            f"{done} converted, {settle} of them with something to settle before embossing; "
            f"{refused} refused. The table is {out / 'summary.csv'}."
        )
    if refused == len(records):
        return 1
    return 3 if refused or settle else 0


def _write_summary(records: list[dict[str, object]], out: Path) -> None:
    """The table of results, written whole or not at all."""
    out.mkdir(parents=True, exist_ok=True)
    part = out / "summary.csv.part"
    with part.open("w", encoding="utf-8", newline="") as file:
        table = csv.DictWriter(file, _COLUMNS, extrasaction="ignore", restval="")
        table.writeheader()
        for record in records:
            totals = record.get("totals")
            row = dict(record)
            if isinstance(totals, dict):
                row |= totals | totals["findings"]
            table.writerow({key: _inert(value) for key, value in row.items()})
    part.replace(out / "summary.csv")


def _inert(value: object) -> object:
    """Words a spreadsheet would run as a formula, made plain (OWASP, CSV injection)."""
    text = str(value)
    return (
        f"'{text}"
        if text[:1] in ("=", "+", "-", "@", "\t") and not text.lstrip("-").isdigit()
        else value
    )
