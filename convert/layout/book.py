"""Book, volume, braille page, line: the finished pages, before any file format."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from ..translation.cells import BLANK, Cells
from .items import Part


class LineText(str):
    """A line as Unicode braille (leading blanks kept, trailing ones trimmed).

    ``origin`` gives for each cell the ledger offset of the print it stands for, -1 for none.
    """

    __slots__ = ("origin",)
    origin: list[int]


@dataclass(slots=True)
class Row:
    """One line of a page: its parts, what it is, and the page numbers or head it carries.

    ``parts`` hold the text; ``head`` and ``foot`` are furniture on the same line (the print
    page number and running head, the braille page number or guide words), as cells.
    """

    kind: str
    parts: tuple[Part, ...] = ()
    part: str = "first"
    element: str | None = None
    style: str = ""
    level: int = 0
    levels: int = 0
    item: int = -1
    print_page: str | None = None

    @property
    def text(self) -> str:
        """The line's cells without furniture, trailing blanks trimmed."""
        if len(self.parts) == 1:
            only = self.parts[0]
            return BLANK * only.start + only.text.rstrip(BLANK)
        out = ""
        for part in self.parts:
            out = out.ljust(part.start, BLANK)[: part.start] + part.text
        return out.rstrip(BLANK)


@dataclass(slots=True)
class Page:
    """One braille page of ``lines`` rows; ``None`` is a blank line.

    ``series`` is ``t``, ``p`` or ``body``; ``braille_page`` its label as print (``t1``,
    ``p3``, ``17``); ``print_number`` the cells of the print page number on line 1.
    ``head`` and ``foot`` are (line from 1, cells from cell 1 of that line) furniture.
    ``asked``: it begins a series or a volume, or something asks to begin a page.
    """

    series: str
    braille_page: str
    rows: list[Row | None]
    print_page: str | None = None
    head: str = ""
    foot: str = ""
    width: int = 40
    asked: bool = False

    def line(self, number: int) -> str:
        """Line ``number`` (from 1) complete: text and furniture, trailing blanks trimmed."""
        row = self.rows[number - 1] if number <= len(self.rows) else None
        text = row.text if row else ""
        foot = self.foot if number == len(self.rows) else ""
        for furniture in (self.head if number == 1 else "", foot):
            if furniture:
                body = furniture.lstrip(BLANK)
                text = text.ljust(len(furniture) - len(body), BLANK) + body
        return text

    def texts(self) -> list[str]:
        """All lines without furniture."""
        return [row.text if row is not None else "" for row in self.rows]

    @property
    def lines(self) -> list[LineText]:
        """The page's lines as cells, each with its origins."""
        return [self._with_origin(n) for n in range(1, len(self.rows) + 1)]

    def _with_origin(self, number: int) -> LineText:
        whole = LineText(self.line(number))
        origin = [-1] * len(whole)
        row = self.rows[number - 1]
        for part in row.parts if row else ():
            if part.source is not None:
                ledger = ledger_origin(part.source)
                text = part.text.rstrip(BLANK)
                origin[part.start : part.start + len(text)] = ledger[part.at : part.at + len(text)]
        whole.origin = origin
        return whole


def ledger_origin(cells: Cells) -> list[int]:
    """Ledger offset of each cell of a translated item; -1 for words print does not have."""
    passage = cells.passage
    if passage is None:
        return [-1] * len(cells)
    return [passage.ledger_at(at) if at >= 0 else -1 for at in cells.origin]


@dataclass(slots=True)
class Volume:
    """One braille volume: pages in the order t, p, body."""

    number: int
    pages: list[Page] = field(default_factory=list)


@dataclass(slots=True)
class Book:
    """All volumes of an edition; ``cells`` by ``lines`` is the page size."""

    cells: int
    lines: int
    volumes: list[Volume] = field(default_factory=list)

    def pages(self) -> Iterator[tuple[Volume, int, Page]]:
        """Every page with its volume and its ordinal in the volume, from 1."""
        for volume in self.volumes:
            for at, page in enumerate(volume.pages, 1):
                yield volume, at, page
