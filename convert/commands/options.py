"""The options that the commands ``run`` and ``batch`` share."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import click

from ..job import formats, read_job

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
        "--clean",
        metavar="LIST",
        help="Cleaning passes switched on or off, with commas, such as "
        "-soft-hyphens,+running-heads.",
    ),
    click.option(
        "--divide-words",
        is_flag=True,
        default=None,
        help="Divide words, long numbers and addresses at line ends (UEB 6.10, 10.13).",
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


def with_options(function: Callable[..., None]) -> Callable[..., None]:
    """Give a command the options of a conversion."""
    for option in reversed(OPTIONS):
        function = option(function)
    return function


def gather(job: Path | None, given: dict[str, object]) -> dict[str, object]:
    """The options of the job file, then of the command line, by their long names.

    Raises JobError if the job file is wrong.
    """
    options = read_job(job) if job else {}
    options |= {name.replace("_", "-"): value for name, value in given.items() if value is not None}
    if options.get("front-pages") in ("on", "off"):
        options["front-pages"] = options["front-pages"] == "on"
    if isinstance(options.get("write"), str):
        options["write"] = list(formats(str(options["write"])))
    return options
