"""``cellset compare``: two editions, or two braille files, page by page."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import click

from ..errors import ConvertError
from .tell import tell, tell_json

if TYPE_CHECKING:
    from ..comparing import Compared, Difference, PageDifference

SAME, DIFFERENT, TROUBLE = 0, 1, 2
SHOWN = 20  # Pages told one by one.
NAMED = 6  # Cells of a difference that are named by their dots.


@click.command(short_help="compare two editions, or two braille files, page by page")
@click.argument("old", type=click.Path(path_type=Path))
@click.argument("new", type=click.Path(path_type=Path))
@click.option("--all", "everything", is_flag=True, help="Tell every page, however many.")
@click.option("--json", "as_json", is_flag=True, help="Print the comparison as JSON.")
def command(old: Path, new: Path, everything: bool, as_json: bool) -> None:
    """Compare two editions, or two braille files, page by page.

    OLD and NEW are folders that cellset run wrote, or BRF files made by any program. For each page
    that differs its first difference is told: line, cell, print page, the print of the line, and
    the dots of its cells before and now. A page that was put in makes the pages after it
    renumbered, not changed. The words of files without a trace are read back from their cells.

    Exit status: 0 the same; 1 different; 2 one of the two cannot be read, or wrong usage.

    Example: cellset compare first/book second/book
    """
    from ..comparing import compare, open_side, record
    from ..explain.say import fold

    try:
        sides = open_side(old), open_side(new)
    except ConvertError as error:
        tell(f"cellset: {error}", err=True)
        sys.exit(TROUBLE)
    made = compare(*sides)
    if as_json:
        tell_json(record(*sides, made))
    else:
        for line in lines(made, everything):
            tell(fold(line))
        for note in dict.fromkeys([*sides[0].notes, *sides[1].notes]):
            tell(fold(note), err=True)
    sys.exit(DIFFERENT if made.pages else SAME)


def lines(made: Compared, everything: bool = False) -> Iterator[str]:
    """The comparison as sentences, the sum first."""
    yield made.verdict
    yield from made.made
    shown = made.pages if everything else made.pages[:SHOWN]
    for row in shown:
        yield _page(row)
        if row.first is not None:
            yield from _first(row.first)
    if len(made.pages) > len(shown):
        yield f"{len(made.pages) - len(shown)} more pages differ; --all tells every one."


def _page(row: PageDifference) -> str:
    from ..writers.changes_report import page_sentence

    return page_sentence(row.page)


def _first(first: Difference) -> Iterator[str]:
    page = f", print page {first.print_page}" if first.print_page else ""
    where = f"from cell {first.cell}" if first.cell else "its page number or running head"
    yield f"First difference: line {first.line}{page}, {where}."
    yield f"Was: {_print(first.was_text)}, {_dots(first.was)}."
    yield f"Is: {_print(first.now_text)}, {_dots(first.now)}."


def _print(text: str) -> str:
    return f"“{text}”" if text else "no print"


def _dots(cells: str) -> str:
    """The first cells of a difference by their dots."""
    from itertools import groupby

    from ..translation.names import say_cells

    if not cells:
        return "no cells"
    more = len(cells) - NAMED
    rest = f" and {more} more {'cell' if more == 1 else 'cells'}" if more > 0 else ""
    runs = ("".join(run) for _, run in groupby(cells[:NAMED], key=lambda cell: cell == "\u2800"))
    return ", ".join(map(say_cells, runs)) + rest
