"""Small editions made by hand, so that the writers are tested without the formatter.

Cells are one a letter (a capital sign, dot 6, before a capital; a numeric indicator before
digits), which is enough to see what belongs to what.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from convert.document.ledger import BREAK, LedgerBuilder
from convert.document.nodes import Block, Document, Heading, Meta, Paragraph, PrintPage, Run
from convert.edition import Edition, Totals
from convert.findings import Finding, Findings, number
from convert.layout.book import Book, Page, Row, Volume
from convert.layout.items import Part
from convert.places import place_findings
from convert.settings import Settings
from convert.translation.cells import BLANK, Cells, Piece, cells_of
from convert.translation.passage import Passage

LETTERS = {**dict(zip("1234567890", "abcdefghij", strict=True)), ".": "4", ",": "1", "-": "-"}


def piece_of(word: str) -> Piece:
    """Cells of one word: an indicator's origin is the character that needs it."""
    text, origin, sign = "", [], []
    for at, char in enumerate(word):
        marks = "#" if char.isdigit() and not word[at - 1 : at].isdigit() else ""
        marks += "," if char.isupper() else ""
        body = LETTERS.get(char, char.lower() if char.isascii() and char.isalpha() else "=")
        text += marks + body
        origin += [at] * len(marks + body)
        sign += [1] * len(marks) + [0] * len(body)
    return Piece(cells_of(text), tuple(origin), bytes(sign), len(word))


def cells_for(text: str, ledger_at: int) -> Cells:
    """Cells of a passage that begins at a ledger offset (-1: words print does not have)."""
    cells = Cells(passage=Passage(text, at=((0, ledger_at),)))
    at = 0
    for word in text.split(" "):
        if word:
            piece = piece_of(word)
            cells.starts.append(len(cells.text))
            cells.prints.append(at)
            cells.pieces.append(piece)
            cells.text += piece.cells
        cells.text += BLANK
        at += len(word) + 1
    cells.text = cells.text[:-1]
    return cells


def lines_of(cells: Cells, width: int, first: int = 3, runover: int = 1) -> list[Part]:
    """Cut at blanks: the first line from cell ``first``, the rest from cell ``runover``."""
    parts: list[Part] = []
    at = 0
    while at < len(cells.text):
        start = (runover if parts else first) - 1
        room = width - start
        end = len(cells.text)
        if end - at > room:
            end = cells.text.rfind(BLANK, at, at + room + 1)
            end = end if end > at else at + room
        parts.append(Part(start, cells.text[at:end], cells, at))
        at = end + (cells.text[end : end + 1] == BLANK)
    return parts


@dataclass
class Maker:
    """Collects blocks and lines, then pages."""

    width: int = 40
    depth: int = 25
    ledger: LedgerBuilder = field(default_factory=LedgerBuilder)
    blocks: list[Block] = field(default_factory=list)
    rows: list[Row | None] = field(default_factory=list)
    page: str | None = None
    labels: list[str] = field(default_factory=list)

    def turn(self, label: str) -> None:
        """A print page turn with its line of dots 3-6."""
        self.page = label
        self.labels.append(label)
        self.blocks.append(PrintPage(label=label))
        if any(row for row in self.rows):
            digits = piece_of(label).cells
            line = cells_of("-" * (self.width - len(digits))) + digits
            self.rows.append(Row("page-turn", (Part(0, line),), print_page=label, style="turn"))

    def add(self, text: str, kind: str = "para", first: int = 3, runover: int = 1) -> Cells:
        """A paragraph, or a heading with blank lines round it."""
        start, end = self.ledger.add(text, "chapter.xhtml", f"/4/{2 * len(self.blocks) + 2}/1")
        self.ledger.end_block()
        element = f"chapter.xhtml!/4/{2 * len(self.blocks) + 2}"
        runs = (Run(start, end),)
        if kind.startswith("h-"):
            self.blocks.append(Heading(level=1, runs=runs, address=element))
            self.rows.append(None)
        else:
            self.blocks.append(Paragraph(runs=runs, address=element))
        cells = cells_for(text, start)
        for at, part in enumerate(lines_of(cells, self.width, first, runover)):
            which = "runover" if at else "first"
            row = Row(kind, (part,), which, element, kind, item=len(self.blocks))
            row.print_page = self.page
            self.rows.append(row)
        if kind.startswith("h-"):
            self.rows.append(None)
        return cells

    def book(self, volume_pages: int = 80) -> Book:
        """The lines on pages, with page numbers, in volumes."""
        room = self.depth - 1
        book = Book(self.width, self.depth)
        current: str | None = self.labels[0] if self.labels else None
        for at in range(0, len(self.rows), room):
            if at // room % volume_pages == 0:
                book.volumes.append(Volume(len(book.volumes) + 1))
            rows = self.rows[at : at + room]
            rows += [None] * (self.depth - len(rows))
            label = str(at // room + 1)
            foot = piece_of(label).cells.rjust(self.width, BLANK)
            head = piece_of(current).cells.rjust(self.width, BLANK) if current else ""
            if rows[0] is not None and len(rows[0].text) > self.width - 5:
                head = ""
            page = Page("body", label, rows, current, head, foot, self.width)
            book.volumes[-1].pages.append(page)
            turned = [row.print_page for row in rows if row is not None and row.print_page]
            current = turned[-1] if turned else current
        return book

    def edition(self, findings: Findings | None = None, volume_pages: int = 80) -> Edition:
        """The whole: totals counted, findings numbered and placed."""
        ledger = self.ledger.build()
        book = self.book(volume_pages)
        document = Document(
            ledger=ledger,
            children=tuple(self.blocks),
            meta=Meta(title="River School", language="en"),
            print_pages=tuple(self.labels),
        )
        found: list[Finding] = number(findings.all(), ledger.text) if findings else []
        count = sum(p.end - p.start for p in ledger.pieces if p.kind != BREAK)
        totals = Totals(
            print_characters=count,
            in_cells=count,
            volumes=len(book.volumes),
            braille_pages=sum(len(volume.pages) for volume in book.volumes),
            print_pages=len(self.labels),
        )
        placed = place_findings(found, book)
        return Edition("river-school.epub", document, book, placed, totals, Settings())


def river_school(findings: Findings | None = None, volume_pages: int = 80) -> Edition:
    """A short schoolbook chapter of two print pages."""
    return river_maker().edition(findings, volume_pages)


def river_maker(paragraphs: int = 6) -> Maker:
    """Two print pages: a heading and paragraphs about a river."""
    maker = Maker()
    maker.turn("12")
    maker.add("The River", "h-center", 16)
    words = [
        "Water runs from the hills to the sea, and the river Ashe is 48 miles long.",
        "In spring the meadows flood. Farmers move their sheep to the upper fields,",
        "where the grass is short but dry, and wait for the water to fall again.",
    ]
    for at in range(paragraphs):
        if at == paragraphs // 2:
            maker.turn("13")
        maker.add(" ".join(words[: at % 3 + 1]))
    return maker


def river_findings(maker: Maker) -> Findings:
    """One finding of each severity and shape: settled first, in one place, in many, in none."""
    findings = Findings()
    text = maker.ledger.build().text
    farmers, river = text.index("Farmers"), text.index("river Ashe")
    offer = ('[[decision]]\nat = "chapter.xhtml!/4/6/1:46"\ndo = "omit"',)
    findings.add("print.lost", (farmers, farmers + 7), number=7, words="Farmers")
    doubled = Finding("print.doubled", ((river, river + 10),), (("words", "river Ashe"),), offer)
    findings.items.append(doubled)
    findings.add("read.mark-without-note", (river, river + 5), mark="<b>*</b>")
    findings.add("read.no-print-pages")
    meadows = [found.span() for found in re.finditer("meadows", text)]
    facts = (("number", len(meadows)),)
    findings.items.append(Finding("read.empty-paragraphs", tuple(meadows), facts))
    return findings


def river_report(paragraphs: int = 9, volume_pages: int = 80) -> Edition:
    """The chapter with findings of every severity."""
    maker = river_maker(paragraphs)
    return maker.edition(river_findings(maker), volume_pages)
