"""Nothing lost in the flow: every run of a random tree stands once in the items."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from random import Random
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from convert.document.nodes import (
    Block,
    Box,
    ContextBreak,
    Displayed,
    DisplayMath,
    Footnote,
    Graphic,
    InlineGraphic,
    ListBlock,
    ListItem,
    PrintPage,
    PrintPageTurn,
    Section,
    Speech,
    Table,
    TableEntry,
    TableRow,
    TranscriberNote,
    Unknown,
    Verse,
    VerseLine,
)
from convert.layout.items import Item
from tests.layout.trees import Trees

_PARAGRAPHS = (
    "body", "blocked", "direction", "attribution", "caption", "credit", "source", "address",
    "stage-direction", "form", "cross-reference", "glossary-term", "letter-division",
)  # fmt: skip
_LISTS = ("body", "exercise", "choices", "glossary", "index", "contents", "notes", "cast")


class Maker:
    """Makes a random tree; the seed decides."""

    def __init__(self, seed: int) -> None:
        self.random = Random(seed)
        self.trees = Trees()
        self.notes = 0

    def pick(self, *options: Any) -> Any:
        return self.random.choice(options)

    def number(self, low: int, high: int) -> int:
        return self.random.randint(low, high)

    def runs(self) -> tuple[Any, ...]:
        parts: list[Any] = []
        for _ in range(self.number(0, 3)):
            kind = self.number(0, 9)
            if kind == 0:
                parts.append(PrintPageTurn(self.pick("7", None)))
            elif kind == 1:
                parts.append(self.trees.answer(self.pick("line", "check", "choice")))
            elif kind == 2:
                parts.append(self.trees.call("*", f"n{self.number(0, 1)}"))
            elif kind == 3:
                parts.append(InlineGraphic(*self.trees.builder.add("alt", "a", "/2"), "x.png"))
            else:
                words = self.pick("sea ", "Air: ", " ", "NAME", "salt.")
                parts.append(self.trees.run(words, self.pick(0, 1, 2, 64)))
        return self.trees.runs(*parts)

    def page(self) -> PrintPage:
        return self.trees.page(self.pick("1", "2", None))

    def blocks(self, depth: int, most: int = 3) -> tuple[Block, ...]:
        return tuple(self.block(depth) for _ in range(self.number(0, most)))

    def block(self, depth: int) -> Any:
        leaf = self.number(0, 6)
        t = self.trees
        if depth <= 0 or leaf <= 2:
            return self.leaf(leaf)
        kind = self.pick(
            Section, Displayed, Box, Unknown, TranscriberNote, ListBlock, Verse, Speech, Table,
            Graphic, Footnote,
        )  # fmt: skip
        inner = depth - 1
        if kind is ListBlock:
            kids = [
                self.page()
                if self.number(0, 5) == 0
                else ListItem(marker=self.runs(), children=self.blocks(inner), address=t.at())
                for _ in range(self.number(0, 3))
            ]
            return ListBlock(children=tuple(kids), role=self.pick(*_LISTS), address=t.at())
        if kind is Verse:
            lines = [
                self.page()
                if self.number(0, 5) == 0
                else VerseLine(
                    runs=self.runs(),
                    level=self.number(1, 3),
                    stanza=self.number(1, 2),
                    address=t.at(),
                )
                for _ in range(self.number(0, 3))
            ]
            return Verse(children=tuple(lines), address=t.at())
        if kind is Table:
            return self.table(inner)
        if kind is Speech:
            return Speech(speaker=self.runs(), children=self.blocks(inner), address=t.at())
        if kind is Graphic:
            return Graphic(alt=self.runs(), resource="g.png", children=self.blocks(inner))
        if kind is Footnote:
            name = f"n{self.number(0, 1)}"
            return t.foot(name, "*", *self.blocks(inner), kind=self.pick("foot", "end"))
        if kind is Unknown:
            return Unknown(children=self.blocks(inner), tag="x")
        if kind is Section:
            return Section(children=self.blocks(inner), role=self.pick("", "glossary", "preface"))
        return kind(children=self.blocks(inner), address=t.at())

    def leaf(self, which: int) -> Any:
        if which == 0:
            return self.page()
        if which == 1:
            heading = self.trees.h(self.number(1, 4), *self.runs())
            return replace(heading, role=self.pick("", "", "subtitle"))
        choice = self.number(0, 6)
        if choice == 0:
            return ContextBreak(runs=self.runs())
        if choice == 1:
            start, end = self.trees.builder.add("x", "a", "/2")
            return DisplayMath(start=start, end=end, mathml="<math/>")
        return self.trees.p(*self.runs(), role=self.pick(*_PARAGRAPHS))

    def table(self, inner: int) -> Table:
        rows: list[Any] = []
        for _ in range(self.number(0, 3)):
            if self.number(0, 6) == 0:
                rows.append(self.page())
                continue
            entries = tuple(
                TableEntry(
                    children=self.blocks(inner, 2), head=self.pick(False, False, True),
                    rows=self.number(1, 2), columns=self.number(1, 2),
                )
                for _ in range(self.number(0, 3))
            )  # fmt: skip
            rows.append(TableRow(entries=entries, head=self.pick(False, True)))
        return Table(children=tuple(rows), caption=self.blocks(inner, 1))


def spans(inlines: Any, text: str) -> list[tuple[int, int]]:
    """Stretches of the ledger that show something."""
    out = [(r.start, r.end) for r in inlines if hasattr(r, "start")]
    return [span for span in out if text[span[0] : span[1]].strip()]


def turns(items: list[Item]) -> int:
    """How many print page turns there are, between items and inside them."""
    inside = sum(isinstance(run, PrintPageTurn) for item in items for run in item.runs)
    return inside + sum(item.page is not None for item in items)


@settings(max_examples=1000, deadline=None)
@given(st.integers(0, 2**32))
def test_every_run_of_the_tree_stands_once_in_the_items(seed: int) -> None:
    maker = Maker(seed)
    document = tuple(maker.block(4) for _ in range(maker.number(1, 4)))
    items = maker.trees.items(*document)
    text = maker.trees.builder.build().text
    found = Counter(span for item in items for span in spans(item.runs, text))
    wanted = Counter(_tree_spans(document, text))
    assert found == wanted
    assert turns(items) == _tree_turns(document)
    assert all(item.before in (0, 1) and item.first >= 1 and item.runover >= 1 for item in items)
    tops = sum(item.kind == "box-top" for item in items)
    assert tops == sum(item.kind == "box-bottom" for item in items)
    assert sum(item.new_page for item in items) <= len(items)


def _tree_spans(blocks: tuple[Any, ...], text: str) -> list[tuple[int, int]]:
    from convert.document.nodes import inlines_of, walk

    out: list[tuple[int, int]] = []
    for block in blocks:
        for node in walk(block):
            own = (node,) if isinstance(node, DisplayMath) else inlines_of(node)
            out += spans(own, text)
    return out


def _tree_turns(blocks: tuple[Any, ...]) -> int:
    from convert.document.nodes import inlines_of, walk

    return sum(
        isinstance(node, PrintPage) + sum(isinstance(r, PrintPageTurn) for r in inlines_of(node))
        for block in blocks
        for node in walk(block)
    )
