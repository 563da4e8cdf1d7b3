"""Trees written in code and items drawn as lines, for tests of the flow.

An item is drawn as ``style first-runover blank | words``: blank is the number of blank lines
above.  Print page turns show their label, centred items no cells, attributions ``previous+5``;
words in a transcriber's note stand in ‹›, answer spaces show as their print or as __.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import count
from typing import Any

from convert.document.ledger import LedgerBuilder
from convert.document.nodes import (
    TRANSCRIBER_NOTE,
    Added,
    AnswerSpace,
    Block,
    Document,
    Footnote,
    Heading,
    Inlines,
    LineBreak,
    ListBlock,
    ListItem,
    MathRun,
    NoteCall,
    Paragraph,
    PrintPage,
    PrintPageTurn,
    Run,
    Table,
    TableEntry,
    TableRow,
    Verse,
    VerseLine,
)
from convert.findings import Findings
from convert.layout.convention import Convention, load
from convert.layout.flow import flow
from convert.layout.items import Item
from convert.settings import Settings


@cache
def bf2016() -> Convention:
    """The convention most tests use."""
    return load("bf2016")


class Trees:
    """Builds nodes on one ledger."""

    def __init__(self) -> None:
        self.builder = LedgerBuilder()
        self.numbers = count(1)
        self.findings = Findings()

    def at(self) -> str:
        return f"n{next(self.numbers)}"

    def run(self, text: str, typeform: int = 0) -> Run:
        return Run(*self.builder.add(text, "a.xhtml", "/2"), typeform)

    def runs(self, *parts: Any) -> Inlines:
        """Text becomes runs; (text, typeform) too; inlines stay."""
        out: list[Any] = []
        for part in parts:
            if isinstance(part, str):
                part = self.run(part)
            elif isinstance(part, tuple):
                part = self.run(*part)
            out.append(part)
        self.builder.end_block()
        return tuple(out)

    def p(self, *parts: Any, role: str = "body") -> Paragraph:
        return Paragraph(runs=self.runs(*parts), role=role, address=self.at())

    def h(self, level: int, *parts: Any) -> Heading:
        return Heading(level=level, runs=self.runs(*parts), address=self.at())

    def item(self, marker: str, *parts: Any) -> ListItem:
        """An item: words become its first paragraph, blocks its further children."""
        mark = self.runs(marker) if marker else ()
        words = [part for part in parts if not hasattr(part, "address")]
        blocks = [part for part in parts if hasattr(part, "address")]
        first = [self.p(*words)] if words else []
        return ListItem(marker=mark, children=(*first, *blocks), address=self.at())

    def list(self, *items: Any, role: str = "body", kind: str = "plain") -> ListBlock:
        kids = tuple(self.item("", i) if isinstance(i, str) else i for i in items)
        return ListBlock(children=kids, role=role, kind=kind, address=self.at())

    def verse(self, *lines: tuple[int, int, str] | PrintPage) -> Verse:
        """Lines as (level, stanza, words)."""
        kids = tuple(
            line
            if isinstance(line, PrintPage)
            else VerseLine(
                runs=self.runs(line[2]), level=line[0], stanza=line[1], address=self.at()
            )
            for line in lines
        )
        return Verse(children=kids, address=self.at())

    def entry(self, content: Any, **more: Any) -> TableEntry:
        if isinstance(content, TableEntry):
            return content
        blocks: tuple[Block, ...]
        if isinstance(content, str):
            blocks = (self.p(content),) if content else ()
        else:
            blocks = content if isinstance(content, tuple) else (content,)
        return TableEntry(children=blocks, address=self.at(), **more)

    def row(self, *entries: Any, head: bool = False) -> TableRow:
        made = tuple(self.entry(e) for e in entries)
        return TableRow(entries=made, head=head, address=self.at())

    def table(self, *rows: Any, caption: tuple[Block, ...] = ()) -> Table:
        address = f"a.xhtml!/4/2/{next(self.numbers)}"
        table: Table = placed(Table(children=rows, caption=caption), address)
        return table

    def foot(self, name: str, mark: str, *blocks: Block, kind: str = "foot") -> Footnote:
        return Footnote(
            id=name, mark=self.runs(mark), children=blocks, kind=kind, address=self.at()
        )

    def call(self, mark: str, target: str) -> NoteCall:
        return NoteCall(*self.builder.add(mark, "a.xhtml", "/4"), target)

    def answer(self, kind: str = "line", printed: str = "____", **more: Any) -> AnswerSpace:
        return AnswerSpace(*self.builder.add(printed, "a.xhtml", "/6"), kind, **more)

    def turn(self, label: str | None) -> PrintPageTurn:
        return PrintPageTurn(label)

    def page(self, label: str | None) -> PrintPage:
        return PrintPage(label=label, address=self.at())

    def document(self, *blocks: Block) -> Document:
        return Document(ledger=self.builder.build(), children=blocks)

    def items(
        self, *blocks: Block, convention: Convention | None = None, settings: Settings | None = None
    ) -> list[Item]:
        document = self.document(*blocks)
        return flow(document, convention or bf2016(), settings or Settings(), self.findings)

    def flowed(self, *blocks: Block, **more: Any) -> list[str]:
        """The items of these blocks, drawn."""
        items = self.items(*blocks, **more)
        ledger = self.builder.build()
        return [drawn(item, ledger.text) for item in items]

    def kinds(self) -> list[str]:
        return [finding.kind for finding in self.findings.all()]


def placed(node: Any, address: str) -> Any:
    """A node and what stands in it with addresses that tell what stands in what, as readers give
    them; a table inside keeps its own."""
    inside = {
        name: tuple(
            kid if isinstance(kid, Table) else placed(kid, f"{address}/{name}/{2 * nth}")
            for nth, kid in enumerate(kids, 1)
        )
        for name in ("caption", "children", "entries")
        if (kids := getattr(node, name, ()))
    }
    return replace(node, address=address, **inside)


def drawn(item: Item, text: str) -> str:
    """One item as a line."""
    if item.page is not None:
        return f"turn {item.before} | {item.page[0]}"
    if item.centred:
        margins = "centred"
    elif item.indent_from_previous:
        margins = f"previous+{item.indent_from_previous}"
    else:
        margins = f"{item.first}-{item.runover}"
    return f"{item.style} {margins} {item.before} | {words(item.runs, text)}".rstrip(" |")


def words(runs: Inlines, text: str) -> str:
    """The words of inlines; those of notes in ‹›."""
    out = ""
    for run in runs:
        match run:
            case Added(text=added):
                piece = added
            case PrintPageTurn(label=label):
                piece = f"[{label}]"
            case LineBreak():
                piece = " / "
            case AnswerSpace(start=start, end=end):
                piece = text[start:end] or "__"
            case MathRun(start=start, end=end):
                piece = f"⟦{text[start:end]}⟧"
            case _:
                piece = text[run.start : run.end]
        note = getattr(run, "typeform", 0) & TRANSCRIBER_NOTE
        out += f"‹{piece}›" if note else piece
    return out.replace("›‹", "")
