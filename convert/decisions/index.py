"""Looking up a document: which node stands at an address, which one holds a character.

Made once for a document with decisions, before any is applied; nodes are known by identity.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from operator import itemgetter
from typing import Any

from ..document.ledger import Piece
from ..document.nodes import (
    Box,
    Displayed,
    DisplayMath,
    Document,
    Footnote,
    Graphic,
    InlineGraphic,
    ListItem,
    PrintPage,
    PrintPageTurn,
    Section,
    TableEntry,
    Unknown,
    children_of,
    inlines_of,
)
from ..findings import Span

# What may hold any block.
_ROOMY = (Box, Displayed, Document, Footnote, ListItem, Section, TableEntry, Unknown)


def stretches(node: Any) -> Iterator[Span]:
    """The stretches of the ledger that stand directly in a node."""
    if isinstance(node, DisplayMath):
        yield node.start, node.end
    for inline in (*inlines_of(node), *getattr(node, "number", ())):
        start = getattr(inline, "start", None)
        if start is not None:
            yield start, inline.end


class Index:
    """The nodes of a document by address and by ledger offset."""

    def __init__(self, document: Document) -> None:
        self.document = document
        self.ledger = document.ledger
        self.order: list[Any] = []
        self.parent: dict[int, Any] = {}
        self.extent: dict[int, Span] = {}
        self._by_address: dict[str, list[Any]] = {}
        self._by_text: dict[tuple[str, str], list[Piece]] = {}
        self._pictures: list[tuple[Any, str]] | None = None
        self._named: dict[str, list[tuple[Any, str]]] | None = None
        self._walk(document)
        own = [tuple(stretches(node)) for node in self.order]
        self._measure(own)
        rows = [
            (*span, node) for node, spans in zip(self.order, own, strict=True) for span in spans
        ]
        self._rows = sorted(rows, key=itemgetter(0, 1))
        self._starts = [row[0] for row in self._rows]
        for piece in self.ledger.pieces:
            self._by_text.setdefault((piece.part, piece.path), []).append(piece)

    def _walk(self, document: Document) -> None:
        stack: list[Any] = [document]
        while stack:
            node = stack.pop()
            self.order.append(node)
            address = getattr(node, "address", "")
            if address:
                self._by_address.setdefault(address, []).append(node)
            kids = children_of(node)
            for kid in kids:
                self.parent[id(kid)] = node
            stack.extend(reversed(kids))

    def _measure(self, printed: list[tuple[Span, ...]]) -> None:
        """The first and last offset of everything inside each node, parents last, from the print
        that each holds itself; a node without any takes the place where the print before ends."""
        extent = self.extent
        for node, spans in zip(reversed(self.order), reversed(printed), strict=True):
            own = [span for span in spans if span[0] < span[1]]
            own += [extent[id(kid)] for kid in children_of(node) if id(kid) in extent]
            if own:
                extent[id(node)] = (min(own)[0], max(map(itemgetter(1), own)))
        here = 0
        for node in self.order:
            found = extent.get(id(node))
            if found is None:
                extent[id(node)] = (here, here)
            elif not children_of(node):
                here = found[1]

    # ------------------------------------------------------------ from a place to a node

    def named(self, address: str) -> list[Any]:
        """The nodes of an address, the outermost first."""
        return self._by_address.get(address, [])

    def offset(self, address: str) -> int | None:
        """The ledger offset of ``part!/steps:char``; None where no print stands there now."""
        whole, colon, char = address.rpartition(":")
        part, mark, path = whole.partition("!")
        if not (colon and mark and char.isdecimal()):
            return None
        for piece in self._by_text.get((part, path), ()):
            if piece.char <= int(char) < piece.char + piece.end - piece.start:
                return piece.start + int(char) - piece.char
        return None

    def holding(self, offset: int) -> Any | None:
        """The node in whose own print a character stands."""
        at = bisect_right(self._starts, offset) - 1
        while at >= 0 and self._rows[at][0] + 100000 > offset:
            start, end, node = self._rows[at]
            if start <= offset < end or start == offset == end:
                return node
            at -= 1
        return None

    def before(self, offset: int) -> Any | None:
        """The node whose print stands last before a character; the first one at the beginning."""
        at = bisect_right(self._starts, offset) - 1
        return self._rows[max(at, 0)][2] if self._rows else None

    def block_of(self, node: Any) -> Any:
        """The block, at or around a node, beside which another can stand."""
        for one in self.above(node):
            above = self.parent.get(id(one))
            if above is None or isinstance(above, _ROOMY):
                return one
        return node

    def after(self, node: Any) -> Any | None:
        """What stands next to a node in the same container, print pages left aside."""
        above = self.parent.get(id(node))
        kids = children_of(above) if above is not None else ()
        at = next((n for n, kid in enumerate(kids) if kid is node), len(kids))
        return next((kid for kid in kids[at + 1 :] if not isinstance(kid, PrintPage)), None)

    def left_out(self, offset: int) -> Span | None:
        """The stretch left out, with those it joins, that holds a character."""
        found = sorted((o.start, o.end) for o in self.document.omissions)
        joined: list[Span] = []
        for start, end in found:
            if joined and start <= joined[-1][1]:
                joined[-1] = (joined[-1][0], max(end, joined[-1][1]))
            else:
                joined.append((start, end))
        return next((span for span in joined if span[0] <= offset < span[1]), None)

    def blocks_of(self, span: Span) -> list[Span]:
        """The stretch cut where one block of print ends and the next begins."""
        low, high = span
        found: dict[int, Span] = {}
        for start, end, node in self._rows[max(0, bisect_right(self._starts, low) - 1) :]:
            if start >= high:
                break
            if end > low and self.ledger.text[start:end].strip():
                first, _ = found.get(id(node), (max(start, low), 0))
                found[id(node)] = first, min(end, high)
        return list(found.values()) if len(found) > 1 else [span]

    def part_span(self, address: str) -> Span | None:
        """The stretch of the ledger that the file named in an address gave; None if it is gone."""
        part = address.partition("!")[0]
        mine = [piece for piece in self.ledger.pieces if piece.part == part]
        return (mine[0].start, mine[-1].end) if mine else None

    def above(self, node: Any) -> Iterator[Any]:
        """A node and what it stands in, innermost first."""
        while node is not None:
            yield node
            node = self.parent.get(id(node))

    # ------------------------------------------------------------ words of a place

    def words(self, node: Any, most: int = 0) -> str:
        """The print of a node, white space squeezed; a picture's file name where it has none,
        the label of a print page."""
        if isinstance(node, PrintPage):
            return node.label or ""
        start, end = self.extent[id(node)]
        stop = min(end, start + 2 * most) if most else end
        text = " ".join(self.ledger.text[start:stop].split())
        if not text and isinstance(node, Graphic):
            text = file_name(node.resource)
        return text[:most].rstrip() if most else text

    def pictures(self) -> list[tuple[Any, str]]:
        """Nodes with a picture, and its file: graphics, and blocks with one in their line."""
        if self._pictures is None:
            self._pictures = []
            for node in self.order:
                if isinstance(node, Graphic):
                    self._pictures.append((node, node.resource))
                for inline in inlines_of(node):
                    if isinstance(inline, InlineGraphic):
                        self._pictures.append((node, inline.resource))
        return self._pictures

    def pictures_named(self, name: str) -> list[tuple[Any, str]]:
        """The pictures whose file has a name, with folders or without."""
        if self._named is None:
            self._named = {}
            for node, resource in self.pictures():
                for key in {resource, file_name(resource)}:
                    self._named.setdefault(key, []).append((node, resource))
        return self._named.get(name, [])

    def pages(self) -> Iterator[tuple[Any, str | None]]:
        """Nodes at which a print page begins, with its label."""
        for node in self.order:
            if isinstance(node, PrintPage):
                yield node, node.label
            for inline in inlines_of(node):
                if isinstance(inline, PrintPageTurn):
                    yield node, inline.label


def file_name(resource: str) -> str:
    """The last part of a file's name."""
    return resource.rsplit("/", 1)[-1]
