"""``cellset run``: convert documents into braille files and a report."""

from __future__ import annotations

import contextlib
import json
import os
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import click

from ..errors import ConvertError, JobError
from ..job import formats, read_job, settings_options

OPTIONS: list[Callable[..., object]] = [
    click.option(
        "--out",
        type=click.Path(path_type=Path),
        default=Path("braille"),
        show_default=True,
        help="Folder to write into; each source gets a folder of its own name there.",
    ),
    click.option(
        "--job", type=click.Path(path_type=Path), help="Job file (TOML) with these options."
    ),
    click.option(
        "--code",
        metavar="CODE",
        help="Braille code: ueb (contracted, the default), "
        "ueb-uncontracted, or louis:TABLE for a table of the liblouis library.",
    ),
    click.option(
        "--math", type=click.Choice(["ueb", "nemeth"]), help="Code for mathematics [ueb]."
    ),
    click.option("--convention", metavar="NAME|FILE", help="Layout convention [bf2016]."),
    click.option("--page", metavar="CELLSxLINES", help="Page size [40x25]."),
    click.option("--running-head", metavar="TEXT", help="Running head, or none [none]."),
    click.option("--volume-pages", type=int, help="Braille pages in a volume, about [80]."),
    click.option(
        "--front-pages",
        type=click.Choice(["on", "off"]),
        help="Title, symbols, notes and contents pages [on].",
    ),
    click.option(
        "--write",
        metavar="LIST",
        help="Formats, with commas: brf, unicode, pef, proof, "
        "report, trace [brf,report,proof,trace].",
    ),
    click.option(
        "--quotes",
        type=click.Choice(["auto", "double", "single"]),
        help="Which quotation marks predominate [auto].",
    ),
    click.option(
        "--revisions",
        type=click.Choice(["accepted", "original", "refuse"]),
        help="Tracked changes in a DOCX [accepted].",
    ),
    click.option(
        "--document-pages",
        is_flag=True,
        default=None,
        help="Take a DOCX's own pages as print pages.",
    ),
    click.option(
        "--require-print-pages",
        is_flag=True,
        default=None,
        help="A source without print page marks must be settled before embossing.",
    ),
    click.option("--title", help="Title for the title page."),
    click.option("--transcriber", help="Name for the title page's transcription line."),
    click.option("--quiet", is_flag=True, help="Say nothing but errors."),
    click.option("--json", "as_json", is_flag=True, help="Print the summary as JSON."),
]


def _with_options(function: Callable[..., None]) -> Callable[..., None]:
    for option in reversed(OPTIONS):
        function = option(function)
    return function


@click.command()
@click.argument("sources", nargs=-1, type=click.Path(path_type=Path), metavar="SOURCE...")
@_with_options
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
    options = read_job(job) if job else {}
    options |= {name.replace("_", "-"): value for name, value in given.items() if value is not None}
    for name in ("front-pages",):
        if options.get(name) in ("on", "off"):
            options[name] = options[name] == "on"
    if isinstance(options.get("write"), str):
        options["write"] = list(formats(str(options["write"])))
    if not sources and job and isinstance(options.get("source"), str):
        sources = (job.parent / str(options["source"]),)
    if not sources:
        raise click.UsageError("Name at least one source, such as: cellset run BOOK.epub")
    sys.exit(_run_all(sources, out, options, quiet, as_json))


def _run_all(
    sources: tuple[Path, ...], out: Path, options: dict[str, object], quiet: bool, as_json: bool
) -> int:
    """Convert each source; the exit status of the whole."""
    from ..output import unique_stems
    from ..pipeline import settings_from

    settings = settings_from(**settings_options(options))
    _check_formats(settings.write)
    stems = unique_stems(list(sources))
    records = []
    for source, stem in zip(sources, stems, strict=True):
        with _progress(source.name, quiet) as tell:
            try:
                records.append(_run_one(source, stem, out, settings, tell))
            except ConvertError as error:
                if isinstance(error, JobError):
                    raise
                records.append({"source": str(source), "status": "refused", "message": str(error)})
        if not as_json:
            _say(records[-1], quiet)
    if as_json:
        click.echo(json.dumps(records, ensure_ascii=False, indent=1))
        for record in records:
            if record["status"] == "refused":
                click.echo(f"cellset: {record['message']}", err=True)
    refused = sum(record["status"] == "refused" for record in records)
    if refused == len(records):
        return 1
    return 3 if refused or any(record["status"] == "settle" for record in records) else 0


def _check_formats(names: tuple[str, ...]) -> None:
    from .. import plugins

    for name in names:
        plugins.find("convert.writers", name)


def _run_one(
    source: Path, stem: str, out: Path, settings: object, tell: Callable[[str], None]
) -> dict[str, object]:
    from ..output import write_edition
    from ..pipeline import convert_source, has_stop
    from ..settings import Settings
    from ..writers.report import totals_record

    assert isinstance(settings, Settings)
    edition = convert_source(source, settings, tell)
    tell("writing")
    folder = write_edition(edition, out, settings.write, stem=stem)
    return {
        "source": str(source),
        "status": "settle" if has_stop(edition) else "done",
        "folder": str(folder),
        "totals": totals_record(edition),
    }


def _say(record: dict[str, object], quiet: bool) -> None:
    if record["status"] == "refused":
        click.echo(f"cellset: {record['message']}", err=True)
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
    click.echo(
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
        with click.progressbar(length=5, label=name, file=sys.stderr) as bar:
            yield lambda stage: bar.update(1)
    else:
        yield lambda stage: click.echo(f"{name}: {stage}", err=True)
