"""The contents: an entry for every heading of a volume, with guide dots and a page number.

Margins follow the nested pattern for the levels present in the volume; the number ends at the
right margin on the entry's last line (BF 2.10).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ..translate.cells import BLANK, Cells, cells_of
from .convention import Front
from .items import Item, Part, SetLine
from .lines import added, cut

GUIDE_DOT = cells_of('"')
DEEPEST = 3  # Ranks of headings listed (common practice, no source).


@dataclass(frozen=True, slots=True)
class Entry:
    """A heading as the contents list it.  ``number`` is its page number in cells; ``volume``
    the volume it is in; ``level`` its rank in print."""

    cells: Cells
    level: int
    number: str
    volume: int


@dataclass(frozen=True, slots=True)
class Setting:
    """How contents are set: cells in a line, the convention's figures, where entries stand."""

    width: int
    front: Front


def contents_items(
    entries: Sequence[Entry], volume: int, setting: Setting, dividers: Sequence[Item]
) -> list[Item]:
    """Items of one volume's contents: all entries in volume 1, in the others its own.

    ``dividers`` are the centred lines that name the volumes, empty for a single volume.
    """
    mine = [e for e in entries if volume in (1, e.volume)]
    ranks = {level: at for at, level in enumerate(sorted({e.level for e in mine}), 1)}
    mine = [e for e in mine if ranks[e.level] <= DEEPEST]
    levels = min(DEEPEST, len(ranks))
    longest = max((len(e.number) for e in mine), default=0)
    out: list[Item] = []
    named = 0
    for entry in mine:
        if volume == 1 and dividers and entry.volume > named:
            out.extend(dividers[named : entry.volume])
            named = entry.volume
        lines = entry_lines(entry, (ranks[entry.level], levels), longest, setting)
        out.append(_item(lines, ranks[entry.level], levels))
    return _settle_blanks(out)


def _settle_blanks(items: list[Item]) -> list[Item]:
    """A blank line before the first entry and before each group of centred lines, none after
    one (BF 2.10)."""
    for at, item in enumerate(items):
        above = items[at - 1] if at else None
        divides = item.style == "contents-volume"
        item.before = int(above is None or (divides and above.style != "contents-volume"))
        item.needs_before = bool(item.before)
    return items


def _item(lines: tuple[SetLine, ...], level: int, levels: int) -> Item:
    return Item(
        "toc",
        "contents",
        set_lines=lines,
        level=level,
        levels=levels,
        keep=(("whole", 1),),
    )


def entry_lines(
    entry: Entry, place: tuple[int, int], longest: int, setting: Setting
) -> tuple[SetLine, ...]:
    """The lines of an entry at (level, of so many): text clear of the number column, guide
    dots on the last line where at least two fit (BF 2.10)."""
    level, levels = place
    width, front = setting.width, setting.front
    margin, runover = 2 * level - 2, min(2 * levels, width // 2)
    clear = longest + front.number_clear if longest else 0
    block = added([Item("toc", "contents", cells=_plain(entry.cells))])[0]
    rows: list[tuple[int, str]] = []
    here = block.start
    while here < block.end:
        room = max(1, width - clear - margin)
        found = cut(block, here, block.end, room)
        stop, resume = (found.end, found.resume) if found.end >= 0 else (here + room, here + room)
        stop, resume = min(stop, block.end), min(resume, block.end)
        rows.append((margin, block.text[here:stop] + found.tail))
        here, margin = resume, runover
    lines = []
    for at, (start, text) in enumerate(rows):
        parts = [Part(start, text)]
        last = at == len(rows) - 1
        if last and entry.number:
            parts.extend(_number(start + len(text), entry.number, setting))
        lines.append(SetLine(tuple(parts), "toc", "runover" if at else "first", not last))
    return tuple(lines)


def _number(end: int, number: str, setting: Setting) -> list[Part]:
    """Guide dots after a text that ends at cell ``end``, and the number at the margin."""
    start = setting.width - len(number)
    dots = start - end - 2
    parts = [Part(start, number)]
    if dots >= setting.front.guide_dots_least:
        parts.insert(0, Part(end + 1, GUIDE_DOT * dots))
    return parts


def _plain(cells: Cells) -> Cells:
    """A heading's cells as one line of words: its line ends become spaces."""
    ends = sorted({at for at, what, _ in cells.marks if what == "line"}, reverse=True)
    text = cells.text
    for at in ends:
        if 0 < at < len(text) and BLANK not in (text[at - 1], text[at]):
            text = text[:at] + BLANK + text[at:]
    return Cells(text=text)
