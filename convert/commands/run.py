"""``cellset run``: convert documents into braille files and a report."""

from __future__ import annotations

import contextlib
import os
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import click

from ..errors import ConvertError, JobError
from ..job import settings_options
from .options import gather, with_options
from .tell import plain, tell, tell_json


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

    Exit status: 0 done; 3 done, but something must be settled before embossing; 1 refused.
    """
    options = gather(job, given)
    if not sources and job and isinstance(options.get("source"), str):
        sources = (job.parent / str(options["source"]),)
    if not sources:
        raise click.UsageError("Name at least one source, such as: cellset run BOOK.epub")
    sys.exit(_run_all(sources, out, options, quiet, as_json))


def _run_all(
    sources: tuple[Path, ...], out: Path, options: dict[str, object], quiet: bool, as_json: bool
) -> int:
    """Convert each source; the exit status of the whole."""
    from ..batch import convert_one
    from ..output import unique_stems
    from ..pipeline import settings_from

    settings = settings_from(**settings_options(options))
    _check_formats(settings.write)
    stems = unique_stems(list(sources))
    records = []
    for source, stem in zip(sources, stems, strict=True):
        with _progress(source.name, quiet) as progress:
            try:
                records.append(convert_one(source, stem, out, settings, progress))
            except ConvertError as error:
                if isinstance(error, JobError):
                    raise
                records.append({"source": str(source), "status": "refused", "message": str(error)})
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
    totals = record["totals"]
    assert isinstance(totals, dict)
    counts = totals["findings"]
    first = (
        f"Do not emboss yet: {_count(counts['stop'], 'thing')} to settle."
        if record["status"] == "settle"
        else "Nothing must be settled before a transcriber reads the draft."
    )
    tell(
        f"{record['source']}: {_count(totals['volumes'], 'volume')}, "
        f"{_count(totals['braille_pages'], 'braille page')}, "
        f"{_count(counts['look'], 'finding')} to look at, {totals['lost']} characters lost.\n"
        f"{first}\nWritten to {record['folder']}; read report.html there first."
    )


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"


@contextlib.contextmanager
def _progress(name: str, quiet: bool) -> Iterator[Callable[[str], None]]:
    """A function that tells the stage: a bar on a terminal, plain lines elsewhere."""
    if quiet:
        yield lambda stage: None
    elif sys.stderr.isatty() and not os.environ.get("ACCESSIBLE"):
        with click.progressbar(length=5, label=plain(name), file=sys.stderr) as bar:
            yield lambda stage: bar.update(1)
    else:
        yield lambda stage: tell(f"{name}: {stage}", err=True)
