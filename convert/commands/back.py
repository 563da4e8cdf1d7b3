"""``cellset back``: cells to print, sign by sign."""

from __future__ import annotations

import click

from ..explain import say_step
from ..translation.back import read_back
from ..translation.cell_text import WAYS, read_cells
from ..translation.louis_code import read_back_by
from .lines import input_lines
from .tell import tell

_CODES = {"ueb": True, "ueb-uncontracted": False}


@click.command(short_help="turn cells back into print, sign by sign")
@click.option(
    "--code", default="ueb", show_default=True, metavar="CODE",
    help="ueb (contracted), ueb-uncontracted, or louis:TABLE as the liblouis library reads it.",
)  # fmt: skip
@click.option(
    "--from", "way", type=click.Choice(WAYS), default=None,
    help="How the cells are written. Without it: Unicode braille if the line has any, dots if it "
    "has only numbers of dots, else ASCII.",
)  # fmt: skip
@click.option("--steps", is_flag=True, help="Name every sign and every change of mode.")
@click.argument("cells", nargs=-1)
def command(code: str, way: str | None, steps: bool, cells: tuple[str, ...]) -> None:
    """Write the print that CELLS stand for, or the lines of cells on standard input.

    One line of cells gives one line of print. Dots are written 3-4-5-6 1: a cell's dots joined
    by hyphens, cells apart by a space, 0 for an empty cell. ASCII is North American ASCII
    braille, either case.

    With --steps each line of print is followed by one line for each sign: its cells, its dots,
    its name, what it stands for or does, other readings, and the section of the Rules of
    Unified English Braille.

    Example: cellset back --steps 3-4-5-6 1-4
    """
    table = code.partition(":")[2]
    if code not in _CODES and not (code.startswith("louis:") and table):
        raise click.UsageError(
            f"Reading back does not know the code “{code}”. "
            f"Use {', '.join(_CODES)} or louis: and a table."
        )
    if table and steps:
        raise click.UsageError("The signs of a table have no names here. Leave --steps out.")
    for number, line in [(1, " ".join(cells))] if cells else input_lines():
        try:
            typed = read_cells(line, way)
        except ValueError as error:
            raise click.UsageError(f"Line {number}: {error}") from error
        if table:
            tell(read_back_by(table, typed))
            continue
        reading = read_back(typed, _CODES[code])
        tell(reading.print)
        for step in reading.steps if steps else ():
            tell(say_step(step))
