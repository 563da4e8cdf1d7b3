"""Why a cell is there: from volume, page, line and cell to the print and the rule.

What a line is comes from ``trace.jsonl``; which print a single cell stands for needs the
source, which is converted again in memory if it is still the same file.  Every answer is
plain sentences, to be listened to.
"""

from __future__ import annotations

import hashlib
import json
import textwrap
from collections.abc import Iterator
from dataclasses import dataclass, fields, replace
from pathlib import Path
from typing import Any

from .errors import ConvertError, JobError, SourceError
from .layout.book import ledger_origin
from .layout.items import Part
from .settings import Settings
from .translate.back import Reading, read_back
from .translate.back_modes import Step
from .translate.cells import Cells, ascii_of
from .translate.names import cell_meanings, cell_name, say_cells, say_dots

_WIDTH = 78
_AROUND = 25
_CODES = {"ueb": True, "ueb-uncontracted": False}
_SERIES = {"t": "title pages", "p": "front pages", "body": "body pages"}


# ---------------------------------------------------------------- sentences about signs


def say_step(step: Step) -> str:
    """One sign in a sentence: its cells, dots, name, print or effect, other readings, section."""
    where = f"cell {step.start + 1}"
    if step.end - step.start > 1:
        where = f"cells {step.start + 1} to {step.end}"
    parts = [say_cells(step.cells)]
    mark = len(step.print) == 1 and not step.print.isalnum() and not step.print.isspace()
    if step.name != "space":
        parts.append(f"{step.name} ({step.print})" if mark else step.name)
    if step.print.strip() and not mark:
        parts.append(f"stands for “{step.print}”")
    elif step.name == "space":
        parts.append("space")
    line = f"{where}: {', '.join(parts)}"
    if step.says:
        line += f": {step.says}"
    if step.section:
        line += f", {_section(step.section)}"
    if step.also:
        line += f"; elsewhere {' or '.join(step.also)}"
    return _fold(line + ".")


def _section(section: str) -> str:
    """A section of the rules with the name of its book."""
    return section if section[:1].isalpha() else f"UEB {section}"


def _fold(line: str) -> str:
    """A sentence on lines of under 80 characters; what follows the first is set in."""
    return textwrap.fill(
        line, _WIDTH, subsequent_indent="  ", break_long_words=False, break_on_hyphens=False
    )


def say_translation(cells: Cells, code: str) -> list[str]:
    """The signs of a translated line, one after the other, with the print each stands for."""
    if code not in _CODES:
        return [_fold(line) for line in _bare_cells(cells)]
    steps = read_back(str(cells), _CODES[code]).steps
    return [say_step(_with_print(step, cells)) for step in steps]


def _with_print(step: Step, cells: Cells) -> Step:
    """The step with the very print its cells stand for, which a reading can only guess at."""
    if cells.passage is None or not step.print.strip():
        return step
    origin, sign = cells.origin, cells.sign
    own = [origin[at] for at in range(step.start, step.end) if not sign[at] and origin[at] >= 0]
    later = [
        origin[at]
        for at in range(step.end, len(origin))
        if not sign[at] and own and origin[at] > max(own)
    ]
    end = later[0] if later else len(cells.passage.text)
    words = cells.passage.text[min(own) : end].strip() if own else ""
    return replace(step, print=words) if words and " " not in words else step


def _bare_cells(cells: Cells) -> Iterator[str]:
    """Each cell with its dots and print, where the code's signs have no names here."""
    text = cells.passage.text if cells.passage else ""
    for at, (cell, origin) in enumerate(zip(str(cells), cells.origin, strict=True), 1):
        char = text[origin : origin + 1] if origin >= 0 else ""
        tells = f", stands at “{char}”" if char.strip() else ""
        yield f"cell {at}: {say_dots(cell)}{tells}."


# ---------------------------------------------------------------- the written edition


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
        return [_fold(line) for line in [*out, *_findings(folder, row)]]
    return [_fold(line) for line in [which, *_about_cell(folder, recipe, row, place.cell)]]


def _edition_folder(folder: Path) -> Path:
    """The folder with the trace: the one given, or the only edition inside it."""
    if (folder / "trace.jsonl").is_file():
        return folder
    inside = sorted(p.parent for p in folder.glob("*/trace.jsonl")) if folder.is_dir() else []
    if len(inside) == 1:
        return inside[0]
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
            f"The trace in {folder} cannot be read: {error}.", "Run cellset run again."
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
    numbered = [label for label, _ in labels.values() if label]
    return f"{numbered[0]} to {numbered[-1]}" if numbered else "nothing"


def _about_line(row: dict[str, Any], recipe: dict[str, Any]) -> Iterator[str]:
    cells = row.get("cells", "")
    for name, what in (("head", "At its right end or centre"), ("foot", "At its end")):
        if row.get(name):
            yield f"{what} stands page furniture: {_plain(row[name])}."
    if not cells:
        yield "The line has no text of its own."
        return
    yield f"Cells in ASCII braille: {ascii_of(cells)}"
    if row.get("text"):
        yield f"Print: “{row['text']}”"
    else:
        yield "Print: none; the edition adds this line."
    part = "the first line" if row.get("part") == "first" else "a runover"
    yield f"Kind: {row['kind']}, {part} of it."
    yield from _about_style(row.get("style"), recipe)
    if row.get("address"):
        yield f"Source address: {row['address']}"
    if row.get("element"):
        yield f"Element: {row['element']}"
    if row.get("print_page"):
        yield f"Print page in force: {row['print_page']}."


def _plain(cells: str) -> str:
    """Furniture as print and as ASCII braille."""
    return f"“{read_back(cells.strip(chr(0x2800))).print}”"


def _about_style(style: str | None, recipe: dict[str, Any]) -> Iterator[str]:
    """The row of the convention that set the line, with its section."""
    from .layout.convention import load

    if not style:
        return
    name = recipe.get("convention", {}).get("name", "bf2016")
    try:
        found = load(name).styles.get(style)
    except ConvertError:
        found = None
    if found is None:
        yield f"Style row: {style}, of the convention {name}."
        return
    yield (
        f"Style row: {style}, of the convention {name}: first line and runovers {found.indent}; "
        f"section {found.cite}."
    )


def _findings(folder: Path, row: dict[str, Any]) -> Iterator[str]:
    """What the report says of that line."""
    here = (row["volume"], row["braille_page"], row["line"])
    for finding in _json_file(folder / "report.json").get("findings", []):
        braille = finding.get("braille") or {}
        if (braille.get("volume"), braille.get("page"), braille.get("line")) == here:
            yield f"Finding, {finding['severity']}: {finding['message']}"


# ---------------------------------------------------------------- one cell


def _about_cell(
    folder: Path, recipe: dict[str, Any], row: dict[str, Any], number: int
) -> Iterator[str]:
    cells = row.get("cells", "")
    at = number - 1
    furniture = row.get("head") or row.get("foot") or ""
    whole = max(len(cells), len(furniture))
    if not 1 <= number <= max(whole, 1):
        raise JobError(f"There is no cell {number}.", f"The line has {whole} cells.")
    if furniture[at : at + 1].strip("\u2800") and not cells[at : at + 1].strip("\u2800"):
        dots = say_dots(furniture[at])
        yield f"Cell {number}: {dots}, in the page furniture {_plain(furniture)}."
        return
    cell = cells[at : at + 1] or "\u2800"
    yield f"Cell {number}: {say_dots(cell)}, {cell_name(cell)}."
    part, why_not = _part_again(folder, recipe, row, at)
    if part is not None and part.source is not None:
        yield from _from_source(part.source, part.at + at - part.start, row, recipe)
        return
    if part is None:
        yield why_not
    yield from _from_line(cells, at, row, recipe)


def _part_again(
    folder: Path, recipe: dict[str, Any], row: dict[str, Any], at: int
) -> tuple[Part | None, str]:
    """The part of the line that holds the cell, from a new conversion; or why there is none."""
    source = folder.parent / str(recipe.get("path", ""))
    digest = recipe.get("source", {}).get("sha256")
    unsure = "So which print character this cell stands for is told from the line alone."
    if not recipe.get("path") or not source.is_file():
        return None, f"The source is no longer where it was. {unsure}"
    if hashlib.sha256(source.read_bytes()).hexdigest() != digest:
        return None, f"The source has changed since. {unsure}"
    try:
        edition = _convert_again(source, recipe.get("options", {}))
        page = edition.volumes[row["volume"] - 1].pages[row["page"] - 1]
        again = page.rows[row["line"] - 1]
    except (ConvertError, IndexError) as error:
        return None, f"The source cannot be converted as before ({error}). {unsure}"
    if again is None or again.text != row["cells"]:
        return None, f"Converted now, the line comes out otherwise. {unsure}"
    for part in again.parts:
        if part.start <= at < part.start + len(part.text):
            return part, ""
    return Part(0, ""), ""


def _convert_again(source: Path, options: dict[str, Any]) -> Any:
    from .api import convert

    known = {f.name for f in fields(Settings)}
    kept = {
        name: tuple(value) if isinstance(value, list) else value
        for name, value in options.items()
        if name in known
    }
    return convert(source, **kept)


def _from_source(
    cells: Cells, at: int, row: dict[str, Any], recipe: dict[str, Any]
) -> Iterator[str]:
    """A cell whose print is known: what it stands for, the sign, the rule."""
    passage = cells.passage
    origin = cells.origin[at]
    if passage is None or origin < 0:
        yield "It stands for no print: the edition adds these words."
    else:
        text = passage.text
        before = text[max(0, origin - _AROUND) : origin].lstrip()
        after = text[origin + 1 : origin + 1 + _AROUND].rstrip()
        why = "It is an indicator, made necessary by" if cells.sign[at] else "It stands for"
        char = text[origin : origin + 1]
        yield f"{why} the print “{char}” in “{before}[{char}]{after}”."
        offset = ledger_origin(cells)[at]
        yield (
            f"That is character {offset + 1} of all the print."
            if offset >= 0
            else ("That is not in print: the edition adds it.")
        )
    yield from _sign_sentences(str(cells), at, recipe)
    if row.get("address"):
        yield f"Source address of the line: {row['address']}"


def _from_line(cells: str, at: int, row: dict[str, Any], recipe: dict[str, Any]) -> Iterator[str]:
    """A cell of which only the line is known."""
    yield from _sign_sentences(cells, at, recipe)
    if row.get("text"):
        yield f"The line's print: “{row['text']}”"
    if row.get("address"):
        yield f"Source address of the line: {row['address']}"


def _sign_sentences(cells: str, at: int, recipe: dict[str, Any]) -> Iterator[str]:
    """The sign that holds the cell, read with the cells around it."""
    code = str(recipe.get("options", {}).get("code", "ueb"))
    if code not in _CODES:
        yield f"The code {code} names its signs in its own table; they are not named here."
        return
    reading: Reading = read_back(cells, _CODES[code])
    step = reading.at(at)
    if step is None:
        return
    if step.name == "space" or at >= len(cells):
        yield "It is a space, or the edge of the text."
        return
    within = (
        ""
        if step.end - step.start == 1
        else (
            f" It is cell {at - step.start + 1} of a sign of {step.end - step.start}: "
            f"{say_cells(step.cells)}."
        )
    )
    does = f", which says: {step.says}" if step.says else f", for “{step.print}”"
    yield f"Sign: {step.name}{does}.{within}"
    if step.section:
        yield f"Rule: {_section(step.section)} (the Rules of Unified English Braille)."
    yield f"Elsewhere this cell can be: {'; '.join(cell_meanings(cells[at]))}."
