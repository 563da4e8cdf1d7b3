"""``cellset translate``: lines of print to lines of cells, without layout."""

from __future__ import annotations

import sys

import click

from .. import plugins
from ..errors import PluginError
from ..explain import say_translation
from ..findings import STOP, Findings
from ..pipeline import make_translator, settings_from
from ..translation.cell_text import WAYS, write_cells
from ..translation.inline_html import read_fragment
from ..translation.passage import Passage
from .lines import input_lines
from .tell import tell

_HELD = 3


def _list_tables(ctx: click.Context, param: click.Parameter, value: bool) -> None:
    if value and not ctx.resilient_parsing:
        from ..translation.louis_code import describe_tables

        for name, title in describe_tables():
            tell(f"{name}, {title}" if title else name)
        ctx.exit()


@click.command(short_help="turn lines of print into cells, without layout")
@click.option(
    "--code", default="ueb", show_default=True, metavar="CODE",
    help="ueb (contracted), ueb-uncontracted, or louis:TABLE for a table of the liblouis library.",
)  # fmt: skip
@click.option(
    "--html",
    is_flag=True,
    help="Each line is inline HTML: i, b, u, s, sup, sub, small-caps, transcriber-1 to "
    "transcriber-5, span lang.",
)
@click.option(
    "--as", "way", type=click.Choice(WAYS), default="unicode", show_default=True,
    help="How the cells are written.",
)  # fmt: skip
@click.option(
    "--quotes",
    type=click.Choice(["auto", "double", "single"]),
    default="auto",
    show_default=True,
    help="Which quotation marks predominate; auto looks at each line.",
)
@click.option(
    "--foreign",
    type=click.Choice(["uncontracted", "foreign-code"]),
    default="uncontracted",
    show_default=True,
    help="Words that --html marks as another language: uncontracted, or in that language's code.",
)
@click.option("--explain", is_flag=True, help="After each line, a line for each sign.")
@click.option(
    "--tables",
    is_flag=True,
    is_eager=True,
    expose_value=False,
    callback=_list_tables,
    help="List the tables that can follow louis: and stop.",
)
@click.argument("words", nargs=-1)
def command(
    code: str,
    html: bool,
    way: str,
    quotes: str,
    foreign: str,
    explain: bool,
    words: tuple[str, ...],
) -> None:
    """Write the braille cells of WORDS, or of the lines of print on standard input.

    Each line is taken on its own; nothing is laid out. ASCII is North American ASCII braille;
    dots are written 3-4-5-6 1, an empty cell as 0. What a person should know of a line is
    told on standard error. The exit status is 3 if something of the print could not be put into
    cells.

    Example: cellset translate --as dots 3 cats
    """
    try:
        translator = make_translator(settings_from(code=code, quotes=quotes, foreign=foreign))
    except PluginError as error:
        if code.partition(":")[0] in plugins.names("convert.translators"):
            raise
        raise click.UsageError(str(error)) from error
    stopped = False
    for number, line in [(1, " ".join(words))] if words else input_lines():
        passage, unknown = _passage(line, html)
        findings = Findings()
        translator.prepare([passage])
        cells = translator.translate(passage, findings)
        cells.passage = passage
        tell(write_cells(str(cells), way))
        for sentence in say_translation(cells, code) if explain else ():
            tell(sentence)
        for name in unknown:
            tell(f"Line {number}: the element {name} says nothing to braille; "
                       "its words were kept.", err=True)  # fmt: skip
        for finding in findings.all():
            tell(f"Line {number}: {finding.message}", err=True)
            stopped = stopped or finding.severity == STOP
    if stopped:
        sys.exit(_HELD)


def _passage(line: str, html: bool) -> tuple[Passage, list[str]]:
    return read_fragment(line) if html else (Passage(line), [])
