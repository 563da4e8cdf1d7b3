"""Pages the edition adds before each volume's text: title page, special symbols, notes.

Wordings are rows of the convention; order and places are Braille Formats 2.3 to 2.6.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from ..document.choices import Choice
from ..document.ledger import Ledger
from ..document.nodes import SUB, SUP, TRANSCRIBER_NOTE, Added, Inlines, LineBreak, Meta, NoteCall
from ..findings import Findings
from ..translation.cells import BLANK, Cells, Piece, cells_of
from ..translation.passage import passage_of, readings_of
from .book import Page, Row
from .convention import Front
from .flow_runs import span_of
from .furniture import Label, at_right, braille_label, braille_number, runs_on
from .items import Item, Part
from .lines import Block, added, balance, cut
from .shape import Shape

if TYPE_CHECKING:
    from ..contracts import Translator

AUTHORS = 3  # More stand on the second title page (BF 2.3; common practice).
CODE_NAMES = {
    "ueb": "Unified English Braille, contracted",
    "ueb-uncontracted": "Unified English Braille, uncontracted",
}
_YEAR = re.compile(r"(?<!\d)1[4-9]\d\d(?!\d)|(?<!\d)20\d\d(?!\d)")
_ISBN_SIGNS = frozenset("0123456789Xx")
NEMETH = ", with the Nemeth Code for mathematics"


@dataclass(slots=True)
class Words:
    """Translates the words an edition adds; each wording once.

    ``wordings`` are those that a person gave headings in the contents, by ledger place;
    ``notes`` those for the page of transcriber's notes.
    """

    translator: Translator
    front: Front
    findings: Findings
    wordings: tuple[Choice, ...] = ()
    notes: tuple[str, ...] = ()
    _known: dict[str, Cells] = field(default_factory=dict)

    def cells(self, text: str, more: str = "", noted: bool = False) -> Cells:
        """The cells of some added words; ``more`` begins a new line; ``noted``: as a
        transcriber's note."""
        known = f"{text}{more}\n{noted}"
        cells = self._known.get(known)
        if cells is None:
            form = TRANSCRIBER_NOTE if noted else 0
            inlines: Inlines = (Added(text, form),)
            if more:
                inlines = (*inlines, LineBreak(), Added(more))
            passage = passage_of(inlines, Ledger(""))
            cells = self.translator.translate(passage, self.findings)
            cells.passage = passage
            self._known[known] = cells
        return cells

    def entry(self, runs: Inlines, cells: Cells, ledger: Ledger) -> Cells:
        """A heading as the contents list it: without typeforms and without the marks of notes
        (BF 2.10).  What print raises or lowers stays so.  ``cells`` are those of the heading."""
        span = span_of(runs) if self.wordings else None
        for choice in self.wordings if span else ():
            if span and choice.start == span[0]:
                return self.cells(choice.value)
        kept = tuple(run for run in runs if not isinstance(run, NoteCall))
        passage = passage_of(kept, ledger)
        if cells.passage is not None and cells.passage.choices:
            passage = readings_of(cells.passage).on(passage)
        level = tuple((a, b, bits & (SUP | SUB)) for a, b, bits in passage.forms)
        forms = tuple(form for form in level if form[2])
        if len(kept) == len(runs) and forms == passage.forms:
            return cells
        plain = replace(passage, forms=forms)
        made = self.translator.translate(plain, Findings())  # what is odd was told of the heading
        made.passage = plain
        return made

    def item(self, kind: str, style: str, text: str, margins: tuple[int, int] = (1, 1)) -> Item:
        """An item of added words.  Cells from 1."""
        return Item(kind, style, cells=self.cells(text), first=margins[0], runover=margins[1])

    def centred(self, kind: str, style: str, text: str, more: str = "") -> Item:
        """Centred added words; ``more`` begins a new line."""
        cells = self.cells(text, more)
        return Item(kind, style, cells=cells, centred=True, keep=(("whole", 1),))

    def heading(self, style: str, text: str, more: str = "") -> Item:
        """A centred heading of added words, kept with a line of what follows (BF 4.3)."""
        item = self.centred("h-center", style, text, more)
        item.keep = (("whole", 1), ("with_next", 1))
        return item


@dataclass(frozen=True, slots=True)
class VolumeFacts:
    """What a title page says of its volume.  Page numbers as print; ``body`` first and last,
    ``None`` in a volume of front matter."""

    number: int
    count: int
    t_pages: int
    p_pages: int
    body: tuple[int, int] | None
    prints: tuple[Label, ...] = ()


@dataclass(frozen=True, slots=True)
class TitleFacts:
    """What all title pages of an edition say."""

    meta: Meta
    title: str
    code: str
    transcriber: str | None
    lines: tuple[str, ...] = ()


def code_name(code: str, math: str) -> str:
    """The name of a braille code as a transcriber would write it."""
    name = CODE_NAMES.get(code, code)
    return name + NEMETH if math == "nemeth" else name


# ---------------------------------------------------------------- title pages


def title_segments(facts: TitleFacts, front: Front) -> tuple[list[list[str]], list[list[str]]]:
    """Lines of the title page above the volume's own, in groups; and of the second title page,
    which holds what does not belong on the first (BF 2.3, 2.4)."""
    meta = facts.meta
    first = [[line for line in (facts.title.upper(), meta.subtitle) if line]]
    second: list[list[str]] = []
    if meta.authors:
        first.append([front.words("by"), *meta.authors[:AUTHORS]])
        if meta.authors[AUTHORS:]:
            second.append([front.words("by"), *meta.authors])
    if meta.publisher:
        first.append([front.words("published-by"), meta.publisher])
    history = [year] if (year := year_of(meta.date)) else []
    if is_isbn(meta.isbn):
        history.append(front.words("isbn", isbn=meta.isbn))
    first.append(history)
    first.append(list(facts.lines))
    made = [front.words("transcribed-into", code=facts.code)]
    if facts.transcriber:
        made += [front.words("transcribed-by"), facts.transcriber]
    first.append(made)
    return [group for group in first if group], second


def year_of(date: str) -> str:
    """The year of a date as a package writes it (``2018-01-04T23:03:45Z``, ``May 1884``): the
    title page gives the year alone (BF 2.3).  Empty where there is none."""
    found = _YEAR.search(date)
    return found.group() if found else ""


def is_isbn(text: str) -> bool:
    """Whether an identifier is an International Standard Book Number: ten or thirteen digits,
    the last of them the check digit (ISO 2108).  Other identifiers are not for readers."""
    digits = [10 if sign in "xX" else int(sign) for sign in text if sign in _ISBN_SIGNS]
    if len(digits) == 13:
        return (
            10 not in digits and sum(d * (1 + at % 2 * 2) for at, d in enumerate(digits)) % 10 == 0
        )
    whole = len(digits) == 10 and 10 not in digits[:9]
    return whole and sum(d * (10 - at) for at, d in enumerate(digits)) % 11 == 0


def volume_lines(facts: VolumeFacts, front: Front) -> list[str]:
    """The lines that name a volume and its pages (BF 2.3)."""
    several = facts.count > 1
    lines = [front.words("in-volumes", n=facts.count) if several else front.words("in-one-volume")]
    lines.append(front.words("volume", n=facts.number))
    pages = [_range("t1", f"t{facts.t_pages}")]
    if facts.p_pages:
        pages.append(_range("p1", f"p{facts.p_pages}"))
    if facts.body:
        pages.append(_range(str(facts.body[0]), str(facts.body[1])))
    lines.append(front.words("braille-pages", pages=_joined(pages)))
    prints = print_ranges(facts.prints)
    if prints:
        lines.append(front.words("print-pages", pages=_joined(prints)))
    return lines


def _range(first: str, last: str) -> str:
    if "-" in first + last:
        return first if first == last else f"{first} to {last}"
    return first if first == last else f"{first}-{last}"


def _joined(parts: Sequence[str]) -> str:
    if len(parts) < 2:
        return "".join(parts)
    return f"{', '.join(parts[:-1])} and {parts[-1]}"


def print_ranges(labels: Sequence[Label]) -> list[str]:
    """Print pages as ranges: a new one where numbers give way to letters or begin again."""
    ranges: list[tuple[str, str]] = []
    for label in labels:
        first, last = label.first or "", label.last or ""
        if ranges and runs_on(ranges[-1][1], first):
            ranges[-1] = (ranges[-1][0], last)
        else:
            ranges.append((first, last))
    return [_range(first, last) for first, last in ranges]


def title_page(
    groups: Sequence[Sequence[str]], words: Words, shape: Shape, number: int
) -> Page | None:
    """A title page filled from its first to its last line: every line centred, the blank lines
    shared out between the groups (BF 2.3).  ``None`` if the lines are too many for a page."""
    foot = braille_number("t", number) if shape.braille_numbers else ""
    side = shape.free()
    room = shape.cells - 2 * side
    last_room = min(room, shape.cells - shape.guard - len(foot) - side)
    sets = [
        [piece for line in group for piece in _pieces(words.cells(line), room)] for group in groups
    ]
    if sets and sets[-1] and len(sets[-1][-1][1]) > last_room:
        group = groups[-1]
        sets[-1] = [p for line in group[:-1] for p in _pieces(words.cells(line), room)]
        sets[-1] += _pieces(words.cells(group[-1]), last_room)
    spread = spread_lines([len(pieces) for pieces in sets], shape.lines)
    if spread is None:
        return None
    rows: list[Row | None] = []
    for blanks, pieces in zip(spread, sets, strict=True):
        rows.extend([None] * blanks)
        for part, text, source, at in pieces:
            last = len(rows) == shape.lines - 1
            limit = shape.cells - (shape.guard + len(foot) if last else 0)
            start = shape.centre(len(text), limit)
            set_part = Part(start, text, source, at)
            rows.append(Row("title", (set_part,), part, style="title-page"))
    rows.extend([None] * (shape.lines - len(rows)))
    label = braille_label("t", number)
    foot_line = at_right(foot, shape.cells)
    return Page("t", label, rows, None, "", foot_line, shape.cells)


def keep_words(blocks: Sequence[Block], room: int) -> None:
    """Lines of title pages end at spaces only, so that a range of pages stays on one line (BF
    2.3); but for a word too long for ``room`` cells."""
    for block in blocks:
        if max(map(len, block.text.split(BLANK)), default=0) <= room:
            block.breaks = []


def _pieces(cells: Cells, room: int) -> list[tuple[str, str, Cells | None, int]]:
    """Some words as lines of at most ``room`` cells, evenly filled: which part of the words each
    is, its cells, and where these are from (no place where the line end adds cells)."""
    out: list[tuple[str, str, Cells | None, int]] = []
    blocks = added([Item("title", "title-page", cells=cells)])
    if not blocks:  # words without a sign of their own
        return out
    block: Block = blocks[0]
    keep_words(blocks, room)
    here = block.start
    while here < block.end:
        found = cut(block, here, block.end, balance(block, here, block.end, room))
        stop, resume = (found.end, found.resume) if found.end >= 0 else (here + room, here + room)
        stop, resume = min(stop, block.end), min(resume, block.end)
        source = None if found.tail else block.cells
        which = "runover" if out else "first"
        out.append((which, block.text[here:stop] + found.tail, source, here))
        here = resume
    return out


def spread_lines(sizes: Sequence[int], lines: int) -> list[int] | None:
    """Blank lines before each group so that the groups fill ``lines`` from first to last.

    ``None`` when there is no blank line for every gap.  Later gaps take what is over.
    """
    gaps = len(sizes) - 1
    free = lines - sum(sizes)
    if free < max(gaps, 0):
        return None
    if gaps < 1:
        return [0] * len(sizes)
    each, over = divmod(free, gaps)
    return [0, *(each + (at >= gaps - over) for at in range(gaps))]


# ---------------------------------------------------------------- symbols and notes


def symbols_items(rows: Sequence[tuple[str, str]], words: Words) -> list[Item]:
    """The special symbols page: its heading on two lines, then an entry a sign, 1-3: the dot
    locator, the sign, its dots in brackets, its name (BF 2.5).  ``rows`` are (cells, name)."""
    if not rows:
        return []
    front = words.front
    one, two = front.words("symbols-heading-1"), front.words("symbols-heading-2")
    heading = words.heading("symbols-heading", f"{one} ", two)
    out = [heading]
    for sign, name in rows:
        first, runover = margins_of(front.symbols_indent)
        cells = _entry(sign, name, words)
        item = Item("symbols", "symbols", cells=cells, first=first, runover=runover)
        item.keep = (("whole", 1),)
        out.append(item)
    out[1].before = 1
    return out


def margins_of(indent: str) -> tuple[int, int]:
    """First cell and runover cell of an indent such as ``1-3``."""
    first, _, runover = indent.partition("-")
    return int(first), int(runover)


def _entry(sign: str, name: str, words: Words) -> Cells:
    locator = cells_of(".=")
    dots = ", ".join(
        "".join(str(n) for n in range(1, 9) if (ord(cell) - 0x2800) >> (n - 1) & 1) for cell in sign
    )
    rest = words.cells(words.front.words("symbols-entry", dots=dots, means=name))
    # The sign itself stands for no words: its dots and name are said.
    first = Piece(locator + sign, (0,) * len(locator + sign), bytes(len(locator + sign)), 0)
    shift = len(first.cells) + 1
    return Cells(
        text=first.cells + BLANK + rest.text,
        pieces=[
            first,
            *(piece._replace(breaks=(), joins=(), divisions=()) for piece in rest.pieces),
        ],
        starts=[0, *(start + shift for start in rest.starts)],
        prints=[0, *rest.prints],
        passage=rest.passage,
    )


def notes_items(notes: Sequence[str], words: Words) -> list[Item]:
    """The transcriber's notes page: a heading on its first line, then 3-1 paragraphs without
    note indicators (BF 2.6)."""
    heading = words.heading("notes-heading", words.front.words("notes-heading"))
    margins = margins_of(words.front.notes_indent)
    out = [heading, *(words.item("para", "notes", note, margins) for note in notes)]
    out[1].before = 1
    return out
