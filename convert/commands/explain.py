"""``cellset explain``: why a line or a cell is there."""

from __future__ import annotations

from pathlib import Path

import click

from ..explain import Place, explain_place
from .options import Number
from .tell import tell


@click.command(short_help="say why a line or a cell of the braille is there")
@click.argument("outdir", type=click.Path(path_type=Path))
@click.option(
    "--volume",
    type=Number(1),
    default=1,
    show_default=True,
    help="Braille volume, from 1.",
)
@click.option(
    "--page",
    required=True,
    metavar="PAGE",
    help="Page of the volume, from 1; or its number as printed: t1, p3, label:17.",
)
@click.option("--line", required=True, type=Number(1), help="Line of the page, from 1.")
@click.option("--cell", type=Number(1), help="Cell of the line, from 1.")
def command(outdir: Path, volume: int, page: str, line: int, cell: int | None) -> None:
    """Say why a line of a written edition is there, or one of its cells.

    OUTDIR is the folder of one edition, as cellset run wrote it. For a line you hear its cells,
    its print, its place in the source, and the row and section of the layout convention. With
    --cell you hear the cell's dots, the sign it belongs to, the print character it stands for,
    and the section of the braille rules.

    Example: cellset explain out/book --page label:1 --line 5 --cell 7
    """
    for sentence in explain_place(outdir, Place(volume, page, line, cell)):
        tell(sentence)
