"""A line of a written edition: its cells, its print, the row of the convention that set it."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from ..errors import ConvertError, JobError, SourceError, why
from ..translation.cells import ascii_of
from ..writers.findings_record import NAMES
from .cell import about_cell
from .say import fold, say_cite, say_furniture, say_indent

# The kinds of lines in words; those that are words already are not here.
_KINDS = {
    "h-center": "centred heading",
    "h-5": "cell-5 heading",
    "h-7": "cell-7 heading",
    "para": "paragraph",
    "table-head": "table heading",
    "table-rule": "separation line of a table",
    "tn": "transcriber's note",
    "displayed": "displayed matter",
    "toc": "contents entry",
    "index": "index entry",
    "glossary": "glossary entry",
    "bibliography": "bibliography entry",
    "box-top": "top line of a box",
    "box-bottom": "bottom line of a box",
    "note-rule": "note separation line",
    "page-turn": "print page change line",
    "math": "mathematics",
    "symbols": "special symbols entry",
}
_FURNITURE = {"head": "a running head or a print page number", "foot": "a braille page number"}
_SERIES = {"t": "title pages", "p": "front pages", "body": "body pages"}


@dataclass(frozen=True, slots=True)
class Place:
    """What is asked about: volume, page (ordinal or label), line, cell; all from 1."""

    volume: int
    page: str
    line: int
    cell: int | None = None


def explain_place(folder: Path, place: Place) -> list[str]:
    """Sentences about one line, or one cell, of the edition written in ``folder``.

    Raises SourceError if there is no edition, JobError if it has no such place.
    """
    folder = _edition_folder(folder)
    rows = _trace(folder)
    row, which = _find_row(rows, place)
    recipe = _json_file(folder / "recipe.json")
    out = [which, *_about_line(row, recipe)]
    if place.cell is None:
        return [fold(line) for line in [*out, *_findings(folder, row)]]
    return [fold(line) for line in [which, *about_cell(folder, recipe, row, place.cell)]]


def _edition_folder(folder: Path) -> Path:
    """The folder with the trace: the one given, or the only edition inside it."""
    if (folder / "trace.jsonl").is_file():
        return folder
    inside = sorted(p.parent for p in folder.glob("*/trace.jsonl")) if folder.is_dir() else []
    if len(inside) == 1:
        return inside[0]
    if not folder.is_dir():
        raise SourceError(
            f"There is no folder {folder}.",
            "Name the folder of one edition, as cellset run wrote it.",
        )
    if inside:
        names = ", ".join(path.name for path in inside[:5])
        raise JobError(f"{folder} holds several editions: {names}.", "Name the folder of one.")
    raise SourceError(
        f"{folder} holds no edition with a trace (trace.jsonl).",
        "Name the folder that cellset run wrote, and let it write the format trace.",
    )


def _trace(folder: Path) -> list[dict[str, Any]]:
    try:
        lines = (folder / "trace.jsonl").read_text("utf-8").split("\n")
        return [json.loads(line) for line in lines if line]
    except (OSError, ValueError) as error:
        raise SourceError(
            f"The trace in {folder} cannot be read: {why(error)}.", "Run cellset run again."
        ) from error


def _json_file(path: Path) -> dict[str, Any]:
    """A JSON object, or an empty one where there is none."""
    try:
        read = json.loads(path.read_text("utf-8"))
    except (OSError, ValueError):
        return {}
    return read if isinstance(read, dict) else {}


def _find_row(rows: list[dict[str, Any]], place: Place) -> tuple[dict[str, Any], str]:
    """The line of the trace, and a sentence that says which place it is."""
    mine = [row for row in rows if row["volume"] == place.volume]
    if not mine:
        last = max((row["volume"] for row in rows), default=0)
        raise JobError(
            f"There is no volume {place.volume}.", f"The edition has volumes 1 to {last}."
        )
    page, told = _find_page(mine, place)
    found = [row for row in mine if row["page"] == page]
    for row in found:
        if row["line"] == place.line:
            return row, f"Volume {place.volume}, {told}, line {place.line}."
    raise JobError(
        f"There is no line {place.line} on that page.", f"It has lines 1 to {len(found)}."
    )


def _find_page(rows: list[dict[str, Any]], place: Place) -> tuple[int, str]:
    """The ordinal of the page asked for, and how it was understood.

    A number is first the ordinal in the volume; ``label:17`` or a label that is no ordinal is
    the number as printed.
    """
    labels = {row["page"]: (row["braille_page"], row["series"]) for row in rows}
    asked = place.page.strip().removeprefix("label:")
    by_label = {label: page for page, (label, _) in reversed(labels.items()) if label}
    ordinal = int(asked) if asked.isdecimal() and asked == place.page.strip() else 0
    page = ordinal if ordinal in labels else by_label.get(asked)
    if page is None:
        raise JobError(
            f"Volume {place.volume} has no page {asked}.",
            f"Its pages are 1 to {max(labels)}, numbered {_range(labels)}.",
        )
    label, series = labels[page]
    told = f"page {page} of the volume, one of the {_SERIES.get(series, series)}, "
    told += f"numbered {label}" if label else "without a number"
    other = by_label.get(asked)
    if page == ordinal and other not in (None, page):
        told += f" (the page numbered {asked} is page {other}: ask for label:{asked})"
    return page, told


def _range(labels: dict[int, tuple[str, str]]) -> str:
    """The numbers of pages in words, each series by itself: t1 to t3, p1, 1 to 4."""
    series: dict[str, list[str]] = {}
    for label, name in labels.values():
        if label:
            series.setdefault(name, []).append(label)
    runs = [f"{run[0]} to {run[-1]}" if len(run) > 1 else run[0] for run in series.values()]
    return ", ".join(runs) or "nothing"


def _about_line(row: dict[str, Any], recipe: dict[str, Any]) -> Iterator[str]:
    cells = row.get("cells", "")
    for name, what in (("head", "At its right end or centre"), ("foot", "At its end")):
        if row.get(name):
            yield f"{what} stands {say_furniture(row[name])}, {_FURNITURE[name]}."
    if not cells:
        yield "The line has no text of its own."
        return
    yield f"Cells in ASCII braille: {ascii_of(cells)}"
    if row.get("text"):
        yield f"Print: “{row['text']}”"
    else:
        yield "Print: none; the edition adds this line."
    part = "the first line" if row.get("part") == "first" else "a runover"
    yield f"Kind: {_KINDS.get(row['kind'], row['kind'])}, {part} of it."
    yield from _about_style(row.get("style"), recipe)
    if row.get("address"):
        yield f"Source address: {row['address']}"
    if row.get("element"):
        yield f"Element: {row['element']}"
    if row.get("print_page"):
        yield f"Print page in force: {row['print_page']}."


def _about_style(style: str | None, recipe: dict[str, Any]) -> Iterator[str]:
    """The row of the convention that set the line, with its section."""
    from ..layout.convention import load

    if not style:
        return
    name = recipe.get("convention", {}).get("name", "bf2016")
    try:
        convention = load(name)
    except ConvertError:
        yield f"Style row: {style}, of the convention {name}, which cannot be read now."
        return
    found = convention.styles.get(style)
    if found is None:
        yield f"Style row: {style}, of the convention {name}; {say_cite(convention.front.cite)}."
        return
    yield (
        f"Style row: {style}, of the convention {name}: {say_indent(found.indent)}; "
        f"{say_cite(found.cite)}."
    )


def _findings(folder: Path, row: dict[str, Any]) -> Iterator[str]:
    """What the report says of that line."""
    here = (row["volume"], row["braille_page"], row["line"])
    for finding in _json_file(folder / "report.json").get("findings", []):
        braille = finding.get("braille") or {}
        if (braille.get("volume"), braille.get("page"), braille.get("line")) == here:
            yield f"Finding, {NAMES[finding['severity']].lower()}: {finding['message']}"
