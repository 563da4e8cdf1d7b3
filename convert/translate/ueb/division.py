"""Letters divided at a line end (UEB 10.13): each side is contracted without its word's edge."""

from __future__ import annotations

from .. import signs
from ..louis_gate import Group, Groups
from .letters import NONE, Letters, Part

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
    kept = _kept_shortforms(letters.part(whole, *edges).groups, start, end)
    low = kept[0][1] if kept and kept[0][0] == "first" else 0
    if kept and kept[0][0] == "first":
        rest = letters.part(text[low:], False, edges[1] and end == len(whole)).groups
        shifted = [Group(a + low, b + low, cells) for a, b, cells in rest] if text[low:] else []
        return Part((Group(0, low, kept[0][2]), *shifted), NONE)
    if kept:
        _, size, cells = kept[0]
        cut = len(text) - size
        before = letters.part(text[:cut], edges[0] and not start, False).groups if cut else ()
        return Part((*before, Group(cut, len(text), cells)), NONE)
    groups = letters.part(text, edges[0] and not start, edges[1] and end == len(whole)).groups
    return Part(_no_ing_first(letters, text, groups) if start else groups, NONE)


def _kept_shortforms(groups: Groups, start: int, end: int) -> list[tuple[str, int, str]]:
    """A shortform within the part that touches the division."""
    short = {row.cells: row.print for row in signs.of_kind("shortform").values()}
    out = []
    for low, high, cells in groups:
        if cells in short and high - low == len(short[cells]) and start <= low and high <= end:
            if start and low == start:
                out.append(("first", high - low, cells))
            elif high == end and not start:
                out.append(("last", high - low, cells))
    return out


def _no_ing_first(letters: Letters, text: str, groups: Groups) -> Groups:
    """The sign for "ing" may not begin a line (UEB 10.13.4)."""
    if not groups or text[: groups[0].end] != _NOT_AT_LINE_START:
        return groups
    return (*letters.part(_NOT_AT_LINE_START, True, True).groups, *groups[1:])
