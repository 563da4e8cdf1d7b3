"""Letters divided at a line end (UEB 10.13): each side is contracted without its word's edge."""

from __future__ import annotations

from functools import cache

from .. import signs
from ..louis_gate import Group, Groups
from . import lower
from .chars import CLOSING_MARKS, DASHES, HYPHEN
from .letters import NONE, Letters, Part, cells_of, shifted
from .word import PUNCTUATION, Item

_BREAK_AFTER = frozenset((HYPHEN, "/", "\\", *DASHES))
_NOT_AT_LINE_START = "ing"


def part_at_line_end(
    letters: Letters, whole: str, part: tuple[int, int], edges: tuple[bool, bool]
) -> Part:
    """The signs of ``whole[start:end]``, where the line ends on one side or both.

    ``edges``: whether the whole has a word's edge left and right.  A shortform of the whole
    word that ends or begins at the division keeps its form (UEB 10.13.12).
    """
    start, end = part
    text = whole[start:end]
    if (start, end) == (0, len(whole)):
        return letters.part(text, *edges)
    whole_cells = cells_of(letters.part(whole, *edges).groups)
    groups = letters.part(text, edges[0] and not start, edges[1] and end == len(whole)).groups
    for word, short in sorted(_shortforms().items()):
        if not start and text.endswith(word):
            before = _side(letters, text[: -len(word)], edges[0], False)
            if whole_cells.startswith(cells_of(before) + short):
                return Part((*before, Group(len(text) - len(word), len(text), short)), NONE)
        if start and text.startswith(word):
            after = _side(letters, text[len(word) :], False, edges[1] and end == len(whole))
            if whole_cells.endswith(short + cells_of(after)):
                return Part((Group(0, len(word), short), *shifted(after, len(word))), NONE)
    return Part(_no_ing_first(letters, text, groups) if start else groups, NONE)


@cache
def _shortforms() -> dict[str, str]:
    return {row.print: row.cells for row in signs.of_kind("shortform").values()}


def _side(letters: Letters, text: str, left: bool, right: bool) -> Groups:
    return letters.part(text, left, right).groups if text else ()


def _no_ing_first(letters: Letters, text: str, groups: Groups) -> Groups:
    """The sign for "ing" may not begin a line (UEB 10.13.4)."""
    if not groups or text[: groups[0].end] != _NOT_AT_LINE_START:
        return groups
    return (*letters.part(_NOT_AT_LINE_START, True, True).groups, *groups[1:])


def line_breaks(text: str, items: list[Item], letters: Letters) -> tuple[int, ...]:
    """Cells before which a line may end (UEB 10.13.2, Braille Formats 1.8.6): after a hyphen,
    dash or slash between other signs, not between digits (UEB 6.10), and not where the
    lower-sign rule would then change a sign."""
    if _BREAK_AFTER.isdisjoint(text):
        return ()
    out: list[int] = []
    cell = 0
    uppers = [at for at, item in enumerate(items) if item.upper]
    for at, item in enumerate(items):
        cell += len(item.cells)
        if item.kind != PUNCTUATION or not 0 < at < len(items) - 1:
            continue
        mark, after = text[item.at], text[item.at + 1 : item.at + 2]
        if mark not in _BREAK_AFTER or not after or after == mark or after in CLOSING_MARKS:
            continue
        if (text[item.at - 1] + after).isdigit():
            continue
        plain = not letters.contracted or (uppers and uppers[0] <= at < uppers[-1])
        if plain or lower.divisible(items, at + 1, letters):
            out.append(cell)
    return tuple(out)
