"""The options that the commands ``run`` and ``batch`` share."""

from __future__ import annotations

import math
import os
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

import click

from ..about import about_rows, with_build_date
from ..errors import JobError, why
from ..job import Job, check_locks, find_job, formats, read_job, settings_options

if TYPE_CHECKING:
    from ..settings import Settings

    _Type = click.ParamType[int | float]
else:  # Before click 8.5 the type of a parameter had no type of its values.
    _Type = click.ParamType


class Number(_Type):
    """A number between two bounds, said in words where it is not one; whole unless ``parts``."""

    name = "number"

    def __init__(self, least: int, most: int | None = None, parts: bool = False) -> None:
        self.least, self.most, self.parts = least, most, parts

    def convert(
        self, value: object, param: click.Parameter | None, ctx: click.Context | None
    ) -> int | float:
        """The number.  Raises BadParameter where it is none, or beyond a bound."""
        try:
            found: int | float = float(str(value)) if self.parts else int(str(value))
        except ValueError:
            found = math.nan
        if not self.least <= found <= (math.inf if self.most is None else self.most):
            whole = "a number" if self.parts else "a whole number"
            bounds = (
                f"from {self.least} to {self.most}" if self.most else f"of {self.least} or more"
            )
            self.fail(f"“{value}” is not {whole} {bounds}.", param, ctx)
        return found


OPTIONS: list[Callable[..., object]] = [
    click.option(
        "--out",
        type=click.Path(path_type=Path),
        default=Path("braille"),
        show_default=True,
        help="Folder to write into; each source gets a folder of its own name there.",
    ),
    click.option(
        "--job",
        type=click.Path(path_type=Path),
        help="Job file (TOML) with these options and with decisions [STEM.job.toml beside it].",
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
    click.option(
        "--profile",
        type=click.Choice(["exam", "health", "legal", "early-reader"]),
        help="Stricter rules for matter where faults hurt [none]; see docs/profiles.md.",
    ),
    click.option(
        "--line-spacing",
        type=Number(1, 3),
        help="1 single, 2 a blank line between lines, 3 two [1].",
    ),
    click.option("--convention", metavar="NAME|FILE", help="Layout convention [bf2016]."),
    click.option("--page", metavar="CELLSxLINES", help="Page size [40x25]."),
    click.option(
        "--contents-levels",
        type=Number(1, 6),
        help="Ranks of headings in the contents, 1 to 6 [3].",
    ),
    click.option("--running-head", metavar="TEXT", help="Running head, or none [none]."),
    click.option(
        "--volume-pages", type=Number(10), help="Braille pages in a volume, about; 10 or more [80]."
    ),
    click.option(
        "--front-pages",
        type=click.Choice(["on", "off"]),
        help="Title, symbols, notes and contents pages [on].",
    ),
    click.option(
        "--write",
        metavar="LIST",
        help="Formats, with commas: brf, unicode, pef, ebraille, proof, "
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
        "--foreign",
        type=click.Choice(["uncontracted", "foreign-code"]),
        help="Words marked as another language: uncontracted, or in that language's own "
        "code between code switch indicators [uncontracted].",
    ),
    click.option(
        "--foreign-tables",
        metavar="LANG=TABLE,...",
        help="Tables of the liblouis library for --foreign foreign-code.",
    ),
    click.option(
        "--divide-words",
        is_flag=True,
        default=None,
        help="Divide words, long numbers and addresses at line ends (UEB 6.10, 10.13).",
    ),
    click.option(
        "--roles",
        metavar="FILE",
        help="A table of what classes, terms and styles of your sources mean.",
    ),
    click.option(
        "--clean",
        metavar="LIST",
        help="Cleaning passes switched on or off, with commas, such as "
        "-soft-hyphens,+running-heads.",
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
    click.option(
        "--mark-changes",
        is_flag=True,
        default=None,
        help="Mark in the proof what changed since the edition that stands in the folder [off].",
    ),
    click.option(
        "--memo",
        metavar="DIR",
        help="Keep the words of Unified English Braille between runs in this folder [off].",
    ),
    click.option(
        "--about",
        metavar="NAME=VALUE",
        multiple=True,
        help="A fact that the source does not say: author, date (of the braille) or copyright. "
        "May be repeated. An eBraille package needs all three.",
    ),
    click.option("--title", help="Title for the title page."),
    click.option(
        "--notes",
        type=click.Choice(["page", "paragraph", "section", "book"]),
        help="Where footnotes stand: at the end of the print page, after the paragraph, before "
        "the next centred heading, at the end [as the convention says].",
    ),
    click.option("--transcriber", help="Name for the title page's transcription line."),
    click.option("--quiet", is_flag=True, help="Say nothing but errors."),
    click.option("--json", "as_json", is_flag=True, help="Print the summary as JSON."),
]


def with_options(function: Callable[..., None]) -> Callable[..., None]:
    """Give a command the options of a conversion."""
    for option in reversed(OPTIONS):
        function = option(function)
    return function


class Planned(NamedTuple):
    """How one source is to be converted: its options, its job file, and what to tell of it."""

    settings: Settings
    job: Job | None
    told: str


def named_job(path: Path | None) -> Job | None:
    """The job file named after ``--job``.  Raises JobError if it is wrong."""
    return read_job(path) if path else None


def plan_source(source: Path, base: Job | None, given: dict[str, object], alone: bool) -> Planned:
    """The options and decisions of one source.  Raises JobError if a job file is wrong.

    A job file named on the command line takes the place of the one beside a source that is
    converted alone, and is the layer below it where many are.
    """
    beside = find_job(source)
    job, told = base, ""
    if beside and base and base.path and beside.resolve() == base.path.resolve():
        beside = None
    if beside and alone and base:
        told = f"The job file {beside.name} beside the source was not used: --job names another."
    elif beside:
        job = read_job(beside, base)
        told = f"The job file {beside.name} beside the source is used"
        told += f"; decisions: {len(job.decisions)}." if job.decisions else "."
    from ..pipeline import settings_from

    settings = settings_from(**settings_options(gather(job, given)))
    if not settings.write:
        raise JobError("No format is to be written.", "Name one at least, such as brf.")
    if settings.memo:
        _check_memo(Path(settings.memo))
    return Planned(settings, job, told)


def _check_memo(folder: Path) -> None:
    """Raises JobError where the folder for words between runs cannot be had."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
        writable = os.access(folder, os.W_OK)
    except OSError as error:
        raise JobError(
            f"The folder {folder} after --memo cannot be made: {why(error)}.", "Name another."
        ) from error
    if not writable:
        raise JobError(f"The folder {folder} after --memo cannot be written.", "Name another.")


def gather(job: Job | None, given: dict[str, object]) -> dict[str, object]:
    """The options of the job file, then of the command line, by their long names.

    Raises JobError if the job file locks one that is given otherwise.
    """
    said = {name: value for name, value in given.items() if value not in (None, ())}
    named = {name.replace("_", "-"): value for name, value in said.items()}
    if named.get("front-pages") in ("on", "off"):
        named["front-pages"] = named["front-pages"] == "on"
    if isinstance(named.get("write"), str):
        named["write"] = list(formats(str(named["write"])))
    if job is not None:
        check_locks(job, named)
        named = job.options | named
    if "ebraille" in _words(named.get("write")):
        stamp = os.environ.get("SOURCE_DATE_EPOCH", "")
        named["about"] = with_build_date(about_rows(named.get("about", ())), stamp)
    return named


def _words(value: object) -> tuple[object, ...]:
    return tuple(value) if isinstance(value, list | tuple) else ()
