"""Filling one braille page with lines, until it is full or the blocks end.

Lines and cells are counted from 0 here.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from ..errors import Bug
from ..translation.cells import BLANK, cells_of
from .book import Row
from .divide import beside_signs
from .furniture import Label, change_line
from .items import Part, SetLine
from .line_ends import parts_of
from .lines import CONTENTS, NOTHING_FITS, Block, Cut, balance, cut, lead_of
from .shape import Cursor, Shape
from .turns import Draft, Mark

BOX_LINES = ("box-top", "box-bottom")
BOX_SIGNS = {"box-top": cells_of("7"), "box-bottom": cells_of("g")}
OUTER_SIGN = cells_of("=")
HEADINGS = ("h-center", "h-5", "h-7", "box-top", "title")
RESTORED_BEFORE_2024 = ("list", "verse")
END_LINE = "end-of-volume"


@dataclass(slots=True)
class Filler:
    """Fills one page.  The methods return False when the page has no more room."""

    blocks: Sequence[Block]
    stop: int
    shape: Shape
    cursor: Cursor
    draft: Draft
    limits: list[int] = field(default_factory=list)
    label: Label | None = None
    page: str | None = None
    texted: bool = False
    marked: bool = False
    blank: bool = False
    due: int | None = None

    # ------------------------------------------------------------ opening

    def open(self, foot: int) -> Mark:
        """Settle the print page in force at the page's top; returns where text starts.

        A print page that begins with the braille page has no line of its own: its number is
        on line 1 (BF 1.11).  Only an unnumbered one is shown by a full row.
        """
        at, cell, stop = self.cursor.mark
        block = self.blocks[at]
        label, changed = self.cursor.label, False
        if block.turn is not None:
            label, changed, self.due = block.turn, True, block.before
            at, cell, stop = at + 1, -1, 0
        elif stop < len(block.stops) and block.stops[stop].cell <= max(cell, block.start):
            if (turn := block.stops[stop].label) is not None:
                label, changed = turn, True
            stop += 1
        draft, shape = self.draft, self.shape
        draft.label = label
        draft.count = 0 if changed else self.cursor.count
        draft.number = shape.print_number(label, draft.count)
        self._set_label(label)
        self.limits = [shape.cells] * shape.lines
        if draft.number:
            self.limits[0] = shape.cells - shape.guard - len(draft.number)
        if foot:
            self.limits[-1] = shape.cells - shape.guard - foot
        if shape.head:
            head = Row("running-head", style="running-head", print_page=self.page)
            draft.add(head, None, -1, label)
        if changed and label is not None and label.first is None and self.cursor.begun:
            self.change(label)
        return (at, cell, stop)

    def _set_label(self, label: Label | None) -> None:
        self.label = label
        self.page = label.text if label else None

    # ------------------------------------------------------------ filling

    def fill(self, mark: Mark) -> None:
        """Lay lines from ``mark`` until the page is full or the blocks end."""
        at, cell, stop = mark
        while at < self.stop:
            block = self.blocks[at]
            if block.turn is not None:
                if not self.turn(at):
                    return
                at += 1
                continue
            if cell < 0 and not self.begin(at):
                return
            if block.lines:
                more = self.set_lines(at, max(cell, 0), stop)
            elif block.plain:
                more = self.plain(at, cell)
            else:
                more = self.text(at, cell, stop)
            if not more:
                return
            at, cell, stop = at + 1, -1, 0
        self.draft.finished = True

    def begin(self, at: int) -> bool:
        """What comes before a block's first line: a new page, a blank line, its margin."""
        block = self.blocks[at]
        if block.new_page and self.texted:
            self.draft.forced = True
            return False
        if not self.gap(at):
            return False
        if block.item.indent_from_previous:
            block.first = block.runover = self.beside(at)
        return True

    def beside(self, at: int) -> int:
        """The margin of an attribution: so far right of the line above, or that of the
        attribution above, of which it is a further line (BF 9.4)."""
        above = self.blocks[at - 1] if at else None
        if above is not None and above.item.indent_from_previous:
            return above.first
        return self.above() + self.blocks[at].item.indent_from_previous

    def turn(self, at: int) -> bool:
        """A print page change between blocks, with the blank line that is due at it.

        One blank line at most: after the change where the next block asks for one, else
        before it (BF 1.11, Appendix C).
        """
        label = self.blocks[at].turn
        below = self.blocks[at + 1] if at + 1 < self.stop else None
        if below is None or label is None:
            return True
        if (below.new_page or self.blocks[at].new_page) and self.texted:
            self.draft.forced = True
            return False
        due = max(self.blocks[at].before, below.before)
        after = due if below.item.needs_before else 0
        if due and not after and not self.blank and self.texted:
            self.empty()
        self.due = after
        return self.change(label)

    def change(self, label: Label) -> bool:
        """The line that shows a print page change; never on the last line (BF 1.11)."""
        draft, shape = self.draft, self.shape
        if len(draft.rows) >= shape.lines - 1:
            return False
        self._set_label(label)
        part = Part(0, change_line(label, shape.cells))
        row = Row("page-turn", (part,), style="page-turn", print_page=self.page)
        draft.add(row, None, -1, label)
        self.blank = False
        self.marked = True
        return True

    def empty(self) -> None:
        """A blank line."""
        self.draft.add(None, None, -1, self.label)
        self.blank = True

    def gap(self, at: int) -> bool:
        """The blank line due above a block; at a page top by the rules of BF 1.9 (2024)."""
        block = self.blocks[at]
        due = block.before if self.due is None else self.due
        if not self.texted and self.marked:
            due = block.before if block.item.needs_before else 0
        elif not self.texted:
            due = self._due_at_top(at, max(due, block.before))
        self.due = None
        last = len(self.draft.rows) == self.shape.lines - 1
        if due and not self.blank and not (last and block.kind == END_LINE):
            self.empty()
        return len(self.draft.rows) < self.shape.lines

    def _due_at_top(self, at: int, due: int) -> int:
        block = self.blocks[at]
        if self.shape.head and block.kind in HEADINGS and not block.continued:
            return 1
        if not due or self.cursor.fresh or not self.cursor.full:
            return 0
        if self.shape.restore_blanks:
            return 1
        above = max(at - 2 if at and self.blocks[at - 1].turn is not None else at - 1, 0)
        kinds = (block.kind, self.blocks[above].kind)
        return int(any(kind in RESTORED_BEFORE_2024 for kind in kinds))

    def above(self) -> int:
        """The cell in which the line just above starts (BF 9.4: attributions)."""
        for row in reversed(self.draft.rows):
            if row is not None and row.parts and row.kind != "page-turn":
                return row.parts[0].start
        return self.cursor.start

    # ------------------------------------------------------------ lines

    def plain(self, at: int, cell: int) -> bool:
        """Lines of a block that has nothing but words."""
        block, draft, limits = self.blocks[at], self.draft, self.limits
        item, text, cells, end = block.item, block.text, block.cells, block.end
        margin = self.shape.indent(block.first if cell < 0 else block.runover)
        runover = self.shape.indent(block.runover)
        part = "first" if cell < 0 and not block.continued else "runover"
        here = block.start if cell < 0 else cell
        breaks, leads, rows, after = block.breaks, block.leads, draft.rows, draft.after
        nth, many = 0, len(breaks)
        height, index, label, page = self.shape.lines, block.index, self.label, self.page
        kind, element, style, level, levels = (
            item.kind, item.element, item.style, item.level, item.levels,
        )  # fmt: skip
        while here < end:
            line = len(rows)
            if line >= height:
                draft.claim(at, label)
                return False
            room = here + limits[line] - margin
            stop = end if room >= end else text.rfind(BLANK, here + 1, room + 1 if room > 0 else 0)
            while nth < many and breaks[nth] <= stop:
                nth += 1
            # No word fits, the line may hold more up to a hyphen, or begins inside a word.
            if stop < 0 or (nth < many and breaks[nth] <= room) or here in leads:
                draft.claim(at, label)
                went = self.line(at, here, end, part, 0)
                if went < 0:
                    return False
                if went > here:
                    here, margin, part = went, runover, "runover"
                continue
            resume = stop + 1
            while resume < end and text[resume] == BLANK:
                resume += 1
            rows.append(
                Row(kind, (Part(margin, text[here:stop], cells, here),), part, element, style,
                    level, levels, index, page)
            )  # fmt: skip
            after.append((at, resume, 0) if resume < end else (at + 1, -1, 0))
            here, margin, part = resume, runover, "runover"
        draft.claim(at, label)
        self.texted, self.blank = True, False
        return True

    def make_room(self, line: int) -> bool:
        """Where no word fits: on a line shortened by a page number the word goes to the next
        line (BF 1.3 of the digest), which may be the next page's; else it must be divided."""
        if self.limits[line] >= self.shape.cells:
            return True
        if line == self.shape.lines - 1:
            return False
        self.empty()
        return True

    def text(self, at: int, cell: int, stop: int) -> bool:
        """Lines of a block with line ends, print pages, hyphens or centring."""
        block = self.blocks[at]
        part = "first" if cell < 0 and not block.continued else "runover"
        here = block.start if cell < 0 else cell
        while True:
            while stop < len(block.stops) and block.stops[stop].cell <= here:
                label = block.stops[stop].label
                if label is not None and not self.change(label):
                    return False
                stop, part = stop + 1, "runover"
                here = block.skip_blanks(here, block.end)
            here = block.skip_blanks(here, block.end)
            if here >= block.end:
                return True
            end = block.stops[stop].cell if stop < len(block.stops) else block.end
            if here >= end:
                continue
            went = self.line(at, here, end, part, stop)
            if went < 0:
                return False
            if went > here:
                here, part = went, "runover"

    def line(self, at: int, here: int, end: int, part: str, stop: int) -> int:
        """One line of a block from cell ``here``: returns where the next begins, the same cell
        if a line was left blank, -1 if the page is full."""
        block, line = self.blocks[at], len(self.draft.rows)
        if line >= self.shape.lines:
            return -1
        lead = lead_of(block, here)
        found, start = self.cut_line(block, here, end, part, lead)
        if block.kind == CONTENTS and self.limits[line] < self.shape.cells:
            found = NOTHING_FITS
        if found.end < 0:
            if not self.make_room(line):
                return -1
            if len(self.draft.rows) > line:
                return here
            start = self.shape.free() if block.item.centred else start
            found = self.divide(block, at, here, start + len(lead), end)
            if block.item.centred:
                length = len(lead) + found.end - here
                start = self.shape.centre(length, self.limits[line])
        self.put(at, here, start, part, stop, found)
        return found.resume

    def cut_line(self, block: Block, here: int, end: int, part: str, lead: str) -> tuple[Cut, int]:
        """One line of a block from a cell on, and the cell it starts in."""
        line = len(self.draft.rows)
        limit, last = self.limits[line], line == self.shape.lines - 1
        if not block.item.centred:
            margin = self.shape.indent(block.first if part == "first" else block.runover)
            limit -= block.item.right + len(lead)
            return cut(block, here, end, limit - margin, not last), margin
        side = self.shape.free()
        room = min(self.shape.cells - 2 * side, limit - side)
        whole = room - len(lead)
        found = cut(block, here, end, balance(block, here, end, whole), not last)
        length = len(lead) + found.end - here + len(found.tail)
        return found, self.shape.centre(length, limit)

    def divide(self, block: Block, at: int, here: int, start: int, end: int) -> Cut:
        """A word longer than a line, broken at the line's end; recorded."""
        line = len(self.draft.rows)
        side = self.shape.free() if block.item.centred else 0
        room = self.limits[line] - block.item.right - start - side
        self.draft.divided.append((line, at, here))
        stop = beside_signs(block, here, min(here + max(1, room), end))
        return Cut(stop, stop)

    def put(self, at: int, here: int, start: int, part: str, stop: int, found: Cut) -> None:
        """Add the row of a cut line."""
        block, draft = self.blocks[at], self.draft
        item = block.item
        row = Row(item.kind, parts_of(block, here, start, found), part, item.element, item.style,
                  item.level, item.levels, block.index, self.page)  # fmt: skip
        more = found.resume < block.end
        draft.add(row, (at, found.resume, stop) if more else (at + 1, -1, 0), at, self.label)
        self.texted, self.blank = True, False

    def set_lines(self, at: int, number: int, stop: int) -> bool:
        """Lines cut before: box lines, tables, contents entries; print pages between them."""
        block, draft = self.blocks[at], self.draft
        item = block.item
        if (not self.texted) if number > 0 else block.heads:
            self.repeat_heads(at, number)
        while number < len(block.lines):
            if stop < len(block.stops) and block.stops[stop].cell <= number:
                label = block.stops[stop].label
                if label is not None and not self.change(label):
                    return False
                stop += 1
            line = len(draft.rows)
            if line >= self.shape.lines:
                return False
            set_line = block.lines[number]
            parts = self.fit(set_line, item.style)
            if parts is None:
                if not self.make_room(line):
                    return False
                if len(draft.rows) == line:
                    raise Bug(f"A set line of the style {item.style} is wider than the page.")
                continue
            row = Row(set_line.kind or item.kind, parts, set_line.part, item.element, item.style,
                      item.level, item.levels, block.index, self.page)  # fmt: skip
            number += 1
            more = number < len(block.lines)
            draft.add(row, (at, number, stop) if more else (at + 1, -1, 0), at, self.label)
            self.texted, self.blank = True, False
        return True

    def fit(self, line: SetLine, style: str) -> tuple[Part, ...] | None:
        """The parts of a set line for the next line of the page; None where it cannot stand.

        A box line is shortened before a page number (BF 7.2); a contents entry never shares a
        line with one (BF 2.10)."""
        limit = self.limits[len(self.draft.rows)]
        if (line.apart or line.kind == CONTENTS) and limit < self.shape.cells:
            return None
        if line.kind in BOX_LINES and not line.parts:
            sign = OUTER_SIGN if style.endswith("-outer") else BOX_SIGNS[line.kind]
            return (Part(0, sign * limit),)
        if line.kind in BOX_LINES:
            return tuple(replace(p, text=p.text[: limit - p.start]) for p in line.parts)
        ends = (p.start + len(p.text.rstrip(BLANK)) for p in line.parts)
        return line.parts if max(ends, default=0) <= limit else None

    def repeat_heads(self, at: int, number: int) -> None:
        """The column headings of a table once more at the top of its next page (BF 11.2)."""
        block = self.blocks[at]
        item, heads = block.item, block.repeated()
        if number < len(heads) and not block.heads:
            return
        if heads and len(heads) * 2 >= self.shape.lines:
            self.draft.bare, heads = at, ()
        for line in heads:
            while (parts := self.fit(line, item.style)) is None:
                self.empty()
            row = Row(line.kind, parts, line.part, item.element, item.style,
                      item.level, item.levels, -1, self.page)  # fmt: skip
            self.draft.add(row, None, -1, self.label)
