"""What the checks look at: finished pages as strings, with the trace where there is one.

Cells are lower-case North American ASCII braille, lines are numbered from 1, cells from 1.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from ..document.nodes import Document

# A page number at the right end of a line: a numeric indicator somewhere, or roman letters.
PAGE_NUMBER = re.compile(
    r"(?:^|(?<= ))([a-z;,.\-/']*#[a-j;,\-#/'1-4]*[a-z]*|;?[a-z]{0,2},{0,2}[ivxlcdm]+)$"
)
BRAILLE_NUMBER = re.compile(r"(?:^|(?<= ))(;?[a-z]?#[a-j]+)$")
TURN = re.compile(r"-{8,}(\S*)$")


class Line(NamedTuple):
    """One line of the trace.  ``cells`` is the line without page numbers and running head."""

    kind: str
    element: str | None
    level: int
    levels: int
    part: str
    style: str
    cells: str
    print_page: str | None

    @property
    def start(self) -> int:
        """The cell in which the line begins, from 1."""
        return len(self.cells) - len(self.cells.lstrip()) + 1


@dataclass(slots=True)
class Page:
    """One braille page: ``rows`` as they stand, ``text`` the same lines without furniture.

    ``head`` is the running head, ``number`` the print page number on line 1, ``foot`` the
    braille page number on the last line; empty where there is none.  ``given`` is how many lines
    the file has of it.
    """

    volume: int
    ordinal: int
    rows: list[str]
    depth: int
    series: str = ""
    label: str = ""
    number: str = ""
    head: str = ""
    foot: str = ""
    text: list[str] = field(default_factory=list)
    lines: list[Line] = field(default_factory=list)
    print_page: str | None = None
    turns: set[int] = field(default_factory=set)
    asked: bool = False
    joined: str = ""
    width: int = 0
    given: int = 0
    first: int = 0
    last: int = -1

    def measure(self) -> None:
        """Find the first and last line that have text, as indices: ``depth`` and -1 for none;
        join the lines, for a quick look."""
        self.joined = "\n".join(self.text)
        filled = [at for at, line in enumerate(self.text) if line]
        self.first, self.last = (filled[0], filled[-1]) if filled else (self.depth, -1)

    @property
    def left(self) -> bool:
        """Whether it is a left-hand page where braille is on both sides of a leaf."""
        return self.ordinal % 2 == 0

    def has_text(self, start: int, stop: int) -> bool:
        """Whether text other than page change lines stands on these lines, from 0."""
        return any(
            self.text[at] and at not in self.turns for at in range(start, min(stop, self.depth))
        )

    @property
    def titled(self) -> bool:
        """Whether this is a title page; without page numbers, whether it may be one."""
        if self.lines:
            return self.series == "t" and any(line.kind == "title" for line in self.lines)
        return self.series in ("t", "") and self.ordinal == 1


@dataclass(slots=True)
class Block:
    """Lines of one element, in order, page turns and page change lines within it left out."""

    kind: str
    element: str | None
    level: int
    levels: int
    style: str
    pages: list[Page] = field(default_factory=list)
    at: list[int] = field(default_factory=list)
    starts: list[int] = field(default_factory=list)
    parts: list[str] = field(default_factory=list)

    @property
    def page(self) -> Page:
        return self.pages[0]

    @property
    def cells(self) -> list[str]:
        """The lines' cells."""
        return [page.text[at] for page, at in zip(self.pages, self.at, strict=True)]

    @property
    def tops(self) -> bool:
        """Whether it begins with the first text of its page."""
        return self.at[0] == self.pages[0].first

    @property
    def ends(self) -> bool:
        """Whether it ends with the last text of its page."""
        return self.at[-1] == self.pages[-1].last


@dataclass(slots=True)
class Book:
    """Everything the checks look at.  ``width`` in cells, ``depth`` in lines; ``code`` as in the
    settings.

    ``print_pages``: labels of the source's print pages, None where the source is not at hand.
    ``lost`` counts print characters lost or doubled, ``broken`` holds the lines that end inside
    a word, ``added`` those with words print does not have and whether note indicators enclose
    them, ``document`` the tree of the source, ``reached`` gives the stretches of print that
    stand in lines, sorted, and ``line_of`` the line, from 0, where print at an offset stands; all
    None where the source is not at hand.  ``blocks`` are all elements in order, ``texts`` those
    that are not page change lines, and ``by_kind`` the places of each kind in ``texts``.  ``memo``
    keeps what several rules need.
    """

    width: int
    depth: int
    volumes: list[list[Page]]
    traced: bool = False
    interpoint: bool = False
    convention: str | None = None
    code: str = "ueb"
    print_pages: tuple[str, ...] | None = None
    lost: int | None = None
    broken: list[tuple[Page, int]] | None = None
    added: list[tuple[Page, int, bool]] | None = None
    parted: frozenset[int] | None = None
    document: Document | None = None
    reached: Callable[[], list[tuple[int, int]]] | None = None
    line_of: Callable[[int], tuple[Page, int] | None] | None = None
    unmarked: frozenset[str] = frozenset()
    padded: list[tuple[Page, int]] = field(default_factory=list)
    blocks: list[Block] = field(default_factory=list)
    texts: list[Block] = field(default_factory=list)
    by_kind: dict[str, list[int]] = field(default_factory=dict)
    memo: dict[str, object] = field(default_factory=dict)
    turns: list[tuple[Page, int]] = field(default_factory=list)

    def pages(self) -> Iterator[Page]:
        """All pages, in order."""
        for volume in self.volumes:
            yield from volume

    @property
    def has_print_numbers(self) -> bool:
        """Whether the edition shows print page numbers; worked out once."""
        if "numbered" not in self.memo:
            self.memo["numbered"] = self._is_numbered()
        return bool(self.memo["numbered"])

    def _is_numbered(self) -> bool:
        if self.traced:
            return any(page.print_page or page.turns for page in self.pages())
        body = [page for page in self.pages() if page.series != "t"]
        return sum(bool(page.number) for page in body) * 2 > len(body)


@dataclass(frozen=True, slots=True)
class Failure:
    """A check that failed at a place.  ``page`` is the ordinal in the volume, ``label`` the
    braille page number as print, ``line`` from 1, 0 for the whole page; ``print_page`` the print
    page in force there and ``element`` the address of what stands there, where they are known.
    ``explained`` is the finding that tells why the rule could not be kept there, empty for none.
    """

    id: str
    severity: str
    volume: int
    page: int
    label: str
    line: int
    section: str
    expected: str
    found: str
    print_page: str = ""
    element: str = ""
    explained: str = ""


class Fault(NamedTuple):
    """A failure as a rule reports it; ``about`` are further elements that it is about, beside the
    one that stands at its line."""

    page: Page
    line: int
    expected: str
    found: str
    about: tuple[Block, ...] = ()


@dataclass(slots=True)
class Tally:
    """What a rule has looked at (``seen``) and what was wrong."""

    seen: int = 0
    faults: list[Fault] = field(default_factory=list)

    def expect(self, right: bool, page: Page, at: int, expected: str, found: str) -> None:
        """Count one thing looked at; ``at`` is the index of its line, -1 for the whole page."""
        self.seen += 1
        if not right:
            self.faults.append(Fault(page, at + 1, expected, found))

    def expect_of(self, right: bool, blocks: Sequence[Block], expected: str, found: str) -> None:
        """Count one thing about several elements; told at the first line of the first."""
        self.expect(right, blocks[0].page, blocks[0].at[0], expected, found)
        if not right:
            self.faults[-1] = self.faults[-1]._replace(about=tuple(blocks))


Rule = Callable[[Book, Tally], None]
RULES: dict[str, Rule] = {}


def rule(name: str) -> Callable[[Rule], Rule]:
    """Register the rule of a check."""

    def put(function: Rule) -> Rule:
        RULES[name] = function
        return function

    return put


def build_blocks(book: Book) -> None:
    """Gather the lines of each element, and find the page change lines."""
    blocks, last = book.blocks, None
    for page in book.pages():
        for at, line in enumerate(page.lines):
            kind, element, level, levels, part, style, cells, _ = line
            if not cells:
                continue
            if kind == "page-turn":
                block = Block(kind, element, level, levels, style)
                blocks.append(block)
                page.turns.add(at)
                book.turns.append((page, at))
            elif part == "first" or last is None or kind != last.kind or element != last.element:
                block = last = Block(kind, element, level, levels, style)
                blocks.append(block)
            else:
                block = last
            block.pages.append(page)
            block.at.append(at)
            block.starts.append(len(cells) - len(cells.lstrip()) + 1 if cells[0] == " " else 1)
            block.parts.append(part)

    book.texts = [block for block in blocks if block.kind != "page-turn"]
    for nth, block in enumerate(book.texts):
        book.by_kind.setdefault(block.kind, []).append(nth)


def find_turns(book: Book) -> None:
    """The page change lines where there is no trace: dots 3-6 from cell 1 that end in a number or
    near the edge."""
    for page in book.pages():
        found = [at for at, line in enumerate(page.text) if _is_turn(line, book.width)]
        page.turns = set(found)
        book.turns += [(page, at) for at in found]


def _is_turn(line: str, width: int) -> bool:
    match = TURN.match(line) if line[:1] == "-" else None
    return match is not None and (len(line) > width - 5 or PAGE_NUMBER.match(match[1]) is not None)
