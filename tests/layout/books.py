"""Small books for tests of volumes and front pages: items with cells, and their document."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from convert.document.ledger import Ledger, LedgerBuilder
from convert.document.nodes import Document, Inlines, Meta, Run
from convert.findings import Findings
from convert.layout.book import Book, Page
from convert.layout.convention import Convention, load
from convert.layout.items import Item
from convert.layout.settle import settle
from convert.settings import Settings
from convert.translation.passage import passage_of
from tests.draw import draw, lines_of
from tests.fake import LetterTranslator

META = Meta(title="River Tales", authors=("Ann Hill",), publisher="Moss Press", date="2020")
STYLES = {1: "centred-heading", 2: "cell-5-heading"}
KINDS = {1: "h-center", 2: "h-5"}


@dataclass
class Maker:
    """Collects items as the flow would make them."""

    ledger: LedgerBuilder = field(default_factory=LedgerBuilder)
    items: list[Item] = field(default_factory=list)

    def runs(self, text: str) -> Inlines:
        start, end = self.ledger.add(text, "part", f"/{len(self.items)}")
        self.ledger.end_block()
        return (Run(start, end),)

    def para(self, text: str, **more: object) -> None:
        self.items.append(Item("para", "paragraph", self.runs(text), first=3))
        for name, value in more.items():
            setattr(self.items[-1], name, value)

    def heading(self, text: str, level: int = 1, **more: object) -> None:
        keep = (("whole", 1), ("with_next", 1))
        self.items.append(
            Item(KINDS[level], STYLES[level], self.runs(text), level=level, keep=keep,
                 centred=level == 1, before=bool(self.items), needs_before=True)
        )  # fmt: skip
        for name, value in more.items():
            setattr(self.items[-1], name, value)

    def turn(self, label: str | None, **more: object) -> None:
        self.items.append(Item("page-turn", "page-turn", page=(label,)))
        for name, value in more.items():
            setattr(self.items[-1], name, value)

    def chapters(self, count: int, words: int, pages: bool = True) -> Maker:
        """Chapters of three paragraphs, each starting a print page."""
        for number in range(1, count + 1):
            if pages:
                self.turn(str(number))
            self.heading(f"Chapter {number}")
            for at in range(3):
                self.para("abcd efg " * words, before=int(at == 0))
        return self


@dataclass
class Made:
    """A settled book and what was found on the way."""

    book: Book
    findings: Findings
    document: Document
    items: list[Item]

    def page(self, volume: int, label: str) -> Page:
        """A page by its braille page number."""
        return next(p for p in self.book.volumes[volume - 1].pages if p.braille_page == label)

    def lines(self, volume: int, label: str) -> list[str]:
        return lines_of(self.page(volume, label))

    def text(self, volume: int, label: str) -> str:
        return draw(self.page(volume, label))

    def kinds(self) -> list[str]:
        return [finding.kind for finding in self.findings.all()]

    def labels(self, volume: int) -> list[str]:
        return [page.braille_page for page in self.book.volumes[volume - 1].pages]


def make(
    maker: Maker, meta: Meta = META, convention: Convention | None = None,
    findings: Findings | None = None, **options: object,
) -> Made:  # fmt: skip
    """Settle the items of a maker, with the convention bf2016 unless another is given."""
    ledger: Ledger = maker.ledger.build()
    document = Document(ledger=ledger, children=(), meta=meta)
    findings, translator = findings or Findings(), LetterTranslator()
    for item in maker.items:
        if item.runs:
            passage = passage_of(item.runs, ledger)
            item.cells = translator.translate(passage, findings)
            item.cells.passage = passage
    settings = replace(Settings(), **options)  # type: ignore[arg-type]
    book = settle(
        maker.items, document, convention or load("bf2016"), settings, translator, findings
    )
    return Made(book, findings, document, maker.items)
