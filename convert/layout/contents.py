"""The contents: an entry for every heading of a volume, with guide dots and a page number.

Margins follow the nested pattern for the levels present in the volume; the number ends at the
right margin on the entry's last line (BF 2.10).
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from ..translation.cells import BLANK, Cells, Piece, cells_of
from ..translation.passage import Passage
from .book import Page
from .convention import Front
from .items import Item, Part, SetLine
from .lines import CONTENTS, Block, Cut, added, cut
from .turns import HYPHEN

GUIDE_DOT = cells_of('"')
# A page number at the end of an entry of print: after a tab.
_PAGE = re.compile(r"\t\s*([0-9]+|[ivxlcdm]+|[IVXLCDM]+|[A-Z]-?[0-9]+)\s*$")


@dataclass(frozen=True, slots=True)
class Entry:
    """A heading as the contents list it.  ``number`` is its page number in cells and ``label`` as
    words; ``volume`` the volume it is in; ``level`` its rank in print."""

    cells: Cells
    level: int
    number: str
    volume: int
    label: str = ""


@dataclass(frozen=True, slots=True)
class Setting:
    """How contents are set: cells in a line, the convention's figures, where entries stand."""

    width: int
    front: Front


def contents_items(
    entries: Sequence[Entry], volume: int, setting: Setting, dividers: Sequence[Item]
) -> list[Item]:
    """Items of one volume's contents: all entries in volume 1, in the others its own.

    What is deep enough to be left out is settled for the whole book; the margins are worked out
    afresh for the ranks of each volume (BF 2.10).  ``dividers`` are the centred lines that name
    the volumes, empty for a single volume.
    """
    mine = [e for e in _listed(entries, setting.front.contents_levels) if volume in (1, e.volume)]
    ranks = {level: at for at, level in enumerate(sorted({e.level for e in mine}), 1)}
    levels = len(ranks)
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


def page_column(cells: Cells, width: int) -> Item:
    """The word above the column of page numbers, at the right margin (BF 2.10)."""
    part = Part(max(0, width - len(cells.text)), cells.text, cells)
    keep = (("with_next", 1),)
    return Item("toc", "contents-page", set_lines=(SetLine((part,), CONTENTS),), keep=keep)


def _listed(entries: Sequence[Entry], levels: int) -> list[Entry]:
    """The entries of the highest ranks of the book that have words."""
    listed = sorted({e.level for e in entries})[:levels]
    return [e for e in entries if e.level in listed and e.cells.text.strip(BLANK)]


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
    rows = cut_rows(block, block.end, (margin, runover), width - clear)
    parts = [
        Part(start, block.text[here:stop] + tail, None if tail else block.cells, here)
        for start, here, stop, tail in rows
    ]
    return _set(parts, Part(0, entry.number, _said(entry.number, entry.label)), setting)


def _said(cells: str, words: str) -> Cells | None:
    """Cells that stand for words which print does not have."""
    if not words:
        return None
    piece = Piece(cells, (0,) * len(cells), bytes(len(cells)), len(words))
    return Cells(cells, [piece], [0], [0], passage=Passage(words, at=((0, -1),)))


def set_print_contents(blocks: Sequence[Block], setting: Setting) -> None:
    """Contents that print has: where an entry ends with a tab and a page number, the number
    goes to the right margin, with guide dots before it (BF 2.10)."""
    found = [
        (block, at)
        for block in blocks
        if block.kind == CONTENTS and not (block.lines or block.stops or block.item.centred)
        and block.cells is not None and (at := _number_at(block.cells)) > block.start
    ]  # fmt: skip
    longest = max((block.end - at for block, at in found), default=0)
    room = setting.width - longest - setting.front.number_clear
    for block, at in found:
        end = at
        while end > block.start and block.text[end - 1] == BLANK:
            end -= 1
        margins = (block.first, block.runover)
        if room - max(margins) < setting.width // 3 or end == block.start:
            continue
        parts = [
            Part(start, block.text[here:stop] + tail, block.cells, here)
            for start, here, stop, tail in cut_rows(block, end, margins, room)
        ]
        number = Part(0, block.text[at : block.end], block.cells, at)
        block.lines = _set(parts, number, setting)


def _number_at(cells: Cells) -> int:
    """The cell where the page number at the end of a print entry begins; -1 for none."""
    match = _PAGE.search(cells.passage.text) if cells.passage is not None else None
    if match is None or match.start(1) not in cells.prints:
        return -1
    return cells.starts[cells.prints.index(match.start(1))]


def cut_rows(
    block: Block, end: int, margins: tuple[int, int], limit: int
) -> list[tuple[int, int, int, str]]:
    """The lines of an entry: the cell each starts in, its first cell and the one after its
    last, cells added at its end."""
    rows: list[tuple[int, int, int, str]] = []
    here, margin = block.start, margins[0]
    while here < end:
        room = max(1, limit - margin)
        found = cut(block, here, end, room)
        if found.end < 0:
            # A word longer than a line: after its last hyphen that fits, else where the line ends.
            stop = block.text.rfind(HYPHEN, here, min(here + room, end)) + 1
            stop = stop if stop > here else min(here + room, end)
            found = Cut(stop, stop)
        rows.append((margin, here, found.end, found.tail))
        here, margin = found.resume, margins[1]
    return rows


def _set(rows: Sequence[Part], number: Part, setting: Setting) -> tuple[SetLine, ...]:
    """The set lines of an entry, its number and guide dots on the last."""
    lines = []
    for at, part in enumerate(rows):
        last = at == len(rows) - 1
        parts = [part]
        if last and number.text:
            number.start = setting.width - len(number.text)
            end = part.start + len(part.text)
            dots = number.start - end - 2
            if dots >= setting.front.guide_dots_least:
                parts.append(Part(end + 1, GUIDE_DOT * dots))
            parts.append(number)
        lines.append(SetLine(tuple(parts), CONTENTS, "runover" if at else "first", not last))
    return tuple(lines)


def contents_words_divided(page: Page) -> list[int]:
    """The rows of contents on a page, from 0, that end inside a word, not at its hyphen."""
    found = []
    for at, row in enumerate(page.rows):
        part = row.parts[0] if row is not None and row.kind == CONTENTS and row.parts else None
        if part is None or part.source is None or not part.text:
            continue
        rest = part.source.text[part.at + len(part.text) :]
        whole = not rest or rest[0] == BLANK or part.text[-1] in (BLANK, HYPHEN)
        if not whole:
            found.append(at)
    return found


def _plain(cells: Cells) -> Cells:
    """A heading's cells as one line of words: its line ends become spaces.  They repeat print,
    so they stand for its words and not for its place; lines end at spaces alone."""
    ends = sorted({at for at, what, _ in cells.marks if what == "line"}, reverse=True)
    text, starts = cells.text, list(cells.starts)
    for at in ends:
        if 0 < at < len(text) and BLANK not in (text[at - 1], text[at]):
            text = text[:at] + BLANK + text[at:]
            starts = [start + (start >= at) for start in starts]
    if cells.passage is None:
        return Cells(text=text)
    marks = tuple(mark for mark in cells.passage.marks if mark.what == "math")
    return Cells(
        text,
        [piece._replace(breaks=(), joins=(), divisions=()) for piece in cells.pieces],
        starts,
        list(cells.prints),
        passage=Passage(cells.passage.text, at=((0, -1),), marks=marks),
    )
