"""Sentences about signs: what to say of a cell, of a line read back, of a line translated."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterator
from dataclasses import replace

from ..translation.back import read_back
from ..translation.back_modes import Step
from ..translation.cells import Cells
from ..translation.names import say_cells, say_dots

_WIDTH = 78
CODES = {"ueb": True, "ueb-uncontracted": False}


def say_step(step: Step) -> str:
    """One sign in a sentence: its cells, dots, name, print or effect, other readings, section."""
    where = f"cell {step.start + 1}"
    if step.end - step.start > 1:
        where = f"cells {step.start + 1} to {step.end}"
    parts = [say_cells(step.cells)]
    mark = len(step.print) == 1 and not (step.print.isalnum() or step.print in " ()[]{}\u00a0")
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
        line += f", {section(step.section)}"
    if step.also:
        line += f"; elsewhere {' or '.join(step.also)}"
    return fold(line + ".")


def section(number: str) -> str:
    """A section of the rules with the name of its book."""
    return number if number[:1].isalpha() else f"UEB {number}"


def say_cite(cite: str) -> str:
    """Sections of the layout standard with its whole name."""
    return re.sub(r"\bBF (?=[\d(A])", "Braille Formats 2016, section ", cite)


def say_indent(indent: str) -> str:
    """Where the lines of a style begin, in words."""
    if indent == "nested":
        return "level k of n from cell 2k minus 1, runovers in cell 2n plus 1"
    if indent == "centred":
        return "centred"
    if indent.startswith("previous+"):
        return f"{indent[9:]} cells to the right of the start of the line above"
    first, _, runover = indent.partition("-")
    return f"first line from cell {first}, runovers in cell {runover}"


def fold(line: str) -> str:
    """A sentence on lines of under 80 characters; what follows the first is set in."""
    return textwrap.fill(
        line, _WIDTH, subsequent_indent="  ", break_long_words=False, break_on_hyphens=False
    )


def say_translation(cells: Cells, code: str) -> list[str]:
    """The signs of a translated line, one after the other, with the print each stands for."""
    if code not in CODES:
        return [fold(line) for line in _bare_cells(cells)]
    steps = read_back(str(cells), CODES[code]).steps
    return [say_step(_with_print(step, cells)) for step in steps]


def _with_print(step: Step, cells: Cells) -> Step:
    """The step with the very print its cells stand for, which a reading can only guess at."""
    if cells.passage is None or not step.print.strip():
        return step
    start, end = print_span(step, cells)
    words = cells.passage.text[start:end]
    return replace(step, print=words) if words.strip() and " " not in words else step


def print_span(step: Step, cells: Cells) -> tuple[int, int]:
    """The passage characters a sign stands for; empty for an indicator."""
    origin, sign = cells.origin, cells.sign
    real = [at for at in range(len(origin)) if not sign[at] and origin[at] >= 0]
    own = [origin[at] for at in real if step.start <= at < step.end]
    if not own or cells.passage is None:
        return (0, 0)
    later = (origin[at] for at in real if at >= step.end and origin[at] > max(own))
    end = next(later, len(cells.passage.text))
    return min(own), min(own) + len(cells.passage.text[min(own) : end].rstrip() or " ")


def _bare_cells(cells: Cells) -> Iterator[str]:
    """Each cell with its dots and print, where the code's signs have no names here."""
    text = cells.passage.text if cells.passage else ""
    for at, (cell, origin) in enumerate(zip(str(cells), cells.origin, strict=True), 1):
        char = text[origin : origin + 1] if origin >= 0 else ""
        tells = f", stands at “{char}”" if char.strip() else ""
        yield f"cell {at}: {say_dots(cell)}{tells}."


def say_furniture(cells: str) -> str:
    """A page number, page numbers or a running head as print."""
    return f"“{read_back(cells.strip(chr(0x2800))).print}”"
