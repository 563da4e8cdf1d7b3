"""How to say a cell: its dots in words, its name, and what it can mean in each mode.

The 64 cells are named in ``cell_names.toml``.
"""

from __future__ import annotations

import tomllib
from functools import cache
from importlib import resources

from .cells import dots_of

# The modes of the table, in the order they are told, and how each is said.
_MODES = {
    "letter": "the letter {}",
    "alone": "standing alone, the word “{}”",
    "start": "at the beginning of a word, “{}”",
    "part": "as part of a word, “{}”",
    "between": "between letters, “{}”",
    "mark": "as punctuation, {}",
    "number": "in a number, {}",
    "grade1": "in grade 1, {}",
    "indicator": "{}",
}


@cache
def cell_names() -> dict[str, dict[str, str]]:
    """The rows of the table by dots, ``"1-2-4"``; ``"0"`` is the empty cell."""
    file = resources.files(__package__) / "cell_names.toml"
    return tomllib.loads(file.read_text("utf-8"))


def say_dots(cell: str) -> str:
    """One cell in words: ``dots 1-2-4``, ``dot 6``, ``empty cell``."""
    dots = dots_of(cell)
    if dots == "0":
        return "empty cell"
    return f"dots {dots}" if "-" in dots else f"dot {dots}"


def say_cells(cells: str) -> str:
    """Several cells in words: ``dot 5, dots 1-3-5``; empty ones counted."""
    if len(cells) > 1 and not cells.strip("\u2800"):
        return f"{len(cells)} empty cells"
    return ", ".join(say_dots(cell) for cell in cells)


def cell_name(cell: str) -> str:
    """What to call one cell when nothing is known of its place."""
    return cell_names()[dots_of(cell)]["name"]


def cell_meanings(cell: str) -> tuple[str, ...]:
    """Everything one cell can mean alone, a phrase for each mode."""
    row = cell_names()[dots_of(cell)]
    return tuple(say.format(row[mode]) for mode, say in _MODES.items() if mode in row)
