"""``cellset check``: inspect finished pages against the layout checks."""

from __future__ import annotations

import re
import sys
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import click

from ..check import Failure, Result, checks, inspect, place
from ..errors import ConvertError
from .tell import tell, tell_json

SHOWN = 10  # Places of one check that are told unless --all is given.
DONE, REFUSED, FAILED = 0, 1, 3


def _page_size(
    ctx: click.Context, param: click.Parameter, value: str | None
) -> tuple[int, int] | None:
    if value is None:
        return None
    match = re.fullmatch(r"(\d+)[xX](\d+)", value.strip())
    if match is None:
        raise click.BadParameter("Give cells and lines, such as 40x25.")
    return int(match[1]), int(match[2])


@click.command(short_help="inspect finished pages against the layout checks")
@click.argument("paths", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.option(
    "--page",
    metavar="CELLSxLINES",
    callback=_page_size,
    help="Page size, where the files do not tell.",
)
@click.option("--interpoint", is_flag=True, help="Both sides of the paper are used.")
@click.option("--all", "everything", is_flag=True, help="Tell every place, however many.")
@click.option("--json", "as_json", is_flag=True, help="Print the result as JSON.")
def command(
    paths: tuple[Path, ...],
    page: tuple[int, int] | None,
    interpoint: bool,
    everything: bool,
    as_json: bool,
) -> None:
    """Inspect finished pages against the checks of Braille Formats 2016.

    Name the folder of a converted document, or BRF files made by any program; several files
    are taken as the volumes of one edition, in the order given. BRF files alone tell less than a
    folder with its trace, so fewer checks can be made. They may be ASCII or Unicode braille, with
    any line ends, with or without form feeds; what has to be assumed of them is said.

    Exit status: 0 no error; 3 a check found an error; 1 nothing could be read; 2 wrong usage.

    Example: cellset check out/book
    """
    from ..explain.say import fold

    status, told = DONE, []
    for subject in _subjects(paths):
        try:
            result = inspect(subject, page, interpoint)
        except ConvertError as error:
            tell(f"cellset: {error}", err=True)
            status = REFUSED
            continue
        if result.errors and status == DONE:
            status = FAILED
        name = str(subject[0]) if len(subject) == 1 else f"{len(subject)} files"
        if as_json:
            told.append({"name": name, **result.summary()})
        else:
            for line in lines(name, result, everything):
                tell(fold(line))
    if as_json:
        tell_json(told)
    sys.exit(status)


def _subjects(paths: tuple[Path, ...]) -> Iterator[list[Path]]:
    """Each folder by itself, and all files together.  A folder of editions gives each of them."""
    files = [path for path in paths if not path.is_dir()]
    if files:
        yield files
    for path in paths:
        if path.is_dir():
            inside = sorted(file.parent for file in path.glob("*/recipe.json"))
            if inside and not any(file.suffix.lower() == ".brf" for file in path.iterdir()):
                yield from ([folder] for folder in inside)
            else:
                yield [path]


def lines(name: str, result: Result, everything: bool = False) -> Iterator[str]:
    """The result as sentences: the sum first, then every failure, then what was not made."""
    volumes = f"{result.volumes} {'volume' if result.volumes == 1 else 'volumes'}"
    pages = f"{result.pages} {'page' if result.pages == 1 else 'pages'}"
    yield f"{name}: {volumes}, {pages} of {result.cells} cells by {result.lines} lines."
    yield result.sentence
    yield from result.notes
    told: Counter[str] = Counter()
    count = Counter(failure.id for failure in result.failures)
    for failure in sorted(result.failures, key=lambda f: (f.volume, f.page, f.line, f.id)):
        told[failure.id] += 1
        if everything or told[failure.id] <= SHOWN:
            yield _sentence(failure)
    for check, times in sorted(count.items()):
        if times > SHOWN and not everything:
            yield f"Check {check} failed in {times - SHOWN} more places; --all tells every one."
    unmade = [check for check, state in result.state.items() if state == "not made"]
    if unmade:
        yield f"Not made yet, so look for yourself: {', '.join(unmade)} (see docs/checks.md)."


def _sentence(failure: Failure) -> str:
    grade = "error" if failure.severity == "E" else "advice"
    where = place(failure)
    printed = f", print page {failure.print_page}" if failure.print_page else ""
    reason = f" Not kept for a reason that the report gives: {failure.explained}"
    return (
        f"{where[0].upper()}{where[1:]}{printed}: check {failure.id}, {grade}: "
        f"{checks()[failure.id].what} Expected {failure.expected}; found {failure.found}. "
        f"Braille Formats 2016, section {failure.section}.{reason if failure.explained else ''}"
    )
