"""One cell of a written edition: the sign, the print it stands for, the rule.

Which print a single cell stands for needs the source, which is converted again in memory if
it is still the same file.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from ..document.nodes import MathRun
from ..errors import ConvertError, JobError
from ..layout.book import ledger_origin
from ..layout.items import Part
from ..maths.cells import NEMETH
from ..translation.back import Reading, read_back
from ..translation.cells import Cells
from ..translation.names import cell_meanings, cell_name, say_cells, say_dots
from .formula import about_formula_cell, written
from .say import CODES, print_span, say_furniture, section

_AROUND = 25
# Lines the edition draws, whose cells are not to be read as signs.
DRAWN = {
    "box-bottom": "bottom box",
    "box-top": "top box",
    "note-rule": "note separation",
    "page-turn": "print page change",
    "table-rule": "column separation",
}


def about_cell(
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
        words = say_furniture(furniture)
        yield f"Cell {number}: {dots}, in the page number or running head {words}."
        return
    cell = cells[at : at + 1] or "\u2800"
    if row.get("kind") in DRAWN:
        yield f"Cell {number}: {say_dots(cell)}, part of a {DRAWN[row['kind']]} line."
        yield "It stands for no print: the edition draws this line."
        return
    part, why_not = _part_again(folder, recipe, row, at)
    source = None if part is None else part.source
    if part is not None and source is not None and _run_at(source, part.at + at - part.start):
        yield f"Cell {number}: {say_dots(cell)}."
    else:
        said = dict.fromkeys((say_dots(cell), cell_name(cell)))
        yield f"Cell {number}: {', '.join(said)}."
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
        edition = _convert_again(source, folder, recipe)
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


def _convert_again(source: Path, folder: Path, recipe: dict[str, Any]) -> Any:
    """The edition once more, with the job file's decisions.  Raises JobError where that has
    changed or is gone."""
    from ..job import read_job
    from ..pipeline import convert_source, settings_from
    from ..recipe import recorded_options

    job = read_job(folder.parent / str(recipe["job_path"])) if recipe.get("job_path") else None
    if job is not None and job.digest != recipe.get("job"):
        raise JobError("The job file has changed since.", "Run cellset run again.")
    return convert_source(source, settings_from(**recorded_options(recipe)), job=job)


def _from_source(
    cells: Cells, at: int, row: dict[str, Any], recipe: dict[str, Any]
) -> Iterator[str]:
    """A cell whose print is known: what it stands for, the sign, the rule."""
    passage, origin = cells.passage, cells.origin[at]
    if passage is None or origin < 0:
        yield "It stands for no print: the edition adds these words."
    else:
        run = _run_at(cells, at)
        step = None if run else read_back(str(cells), CODES.get(_code(recipe), False)).at(at)
        start, end = (origin, origin + 1)
        if step is not None and not cells.sign[at] and _code(recipe) in CODES:
            start, end = print_span(step, cells)
        why = "It is an indicator, made necessary by" if cells.sign[at] else "It stands for"
        words = passage.text[start:end]
        yield f"{why} the print “{words}” in “{_around(passage.text, start, end)}”."
        offset = ledger_origin(cells)[at]
        if offset < 0:
            yield "That is not in print: the edition adds it."
        else:
            yield f"That is character {offset + 1} of all the print."
        if run is not None:
            yield from _in_formula(run, cells, at, recipe)
            return
    yield from _sign_sentences(str(cells), at, recipe)
    if row.get("address"):
        yield f"Source address of the line: {row['address']}"


def _around(text: str, start: int, end: int) -> str:
    """A stretch of print in brackets, with whole words around it."""
    before, after = text[:start][-_AROUND:], text[end:][:_AROUND]
    if start > _AROUND:
        before = before.partition(" ")[2] or before
    if end + _AROUND < len(text):
        after = after.rpartition(" ")[0] or after
    return f"{before}[{text[start:end]}]{after}"


def _run_at(cells: Cells, at: int) -> MathRun | None:
    """The formula whose print a cell stands for."""
    offset = cells.origin[at] if at < len(cells.origin) else -1
    for mark in cells.passage.marks if cells.passage is not None else ():
        if isinstance(run := mark.value, MathRun) and 0 <= offset - mark.at < run.end - run.start:
            return run
    return None


def _in_formula(run: MathRun, cells: Cells, at: int, recipe: dict[str, Any]) -> Iterator[str]:
    """A cell of a formula: its sign and its element of the source."""
    text = str(cells)
    if run.cells:
        yield "It is part of a formula whose cells a person gave."
        return
    math = str(recipe.get("options", {}).get("math", "ueb"))
    made = written(run.mathml, run.code or math, _code(recipe))
    start = text.find(made.cells, max(0, at - len(made.cells) + 1)) if made.cells else -1
    told = None if not 0 <= start <= at else about_formula_cell(made, run.mathml, at - start)
    if told is not None:
        yield from told
        return
    yield "It is part of a mathematical expression, or of words or an indicator beside it."
    if made.code == NEMETH and 0 <= start <= at:
        return
    yield from _sign_sentences(text, at, recipe)


def _code(recipe: dict[str, Any]) -> str:
    """The braille code of the edition."""
    return str(recipe.get("options", {}).get("code", "ueb"))


def _from_line(cells: str, at: int, row: dict[str, Any], recipe: dict[str, Any]) -> Iterator[str]:
    """A cell of which only the line is known."""
    yield from _sign_sentences(cells, at, recipe)
    if row.get("text"):
        yield f"The line's print: “{row['text']}”"
    if row.get("address"):
        yield f"Source address of the line: {row['address']}"


def _sign_sentences(cells: str, at: int, recipe: dict[str, Any]) -> Iterator[str]:
    """The sign that holds the cell, read with the cells around it."""
    code = _code(recipe)
    if code not in CODES:
        yield f"The code {code} names its signs in its own table; they are not named here."
        return
    reading: Reading = read_back(cells, CODES[code])
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
        yield f"Rule: {section(step.section)} (the Rules of Unified English Braille)."
    yield f"Alone, this cell can be: {'; '.join(cell_meanings(cells[at]))}."
