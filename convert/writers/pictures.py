"""The picture manifest: what a tactile artist needs to know of each picture, one row a picture.

Common practice, no source, for the fields.  *Guidelines and Standards for Tactile Graphics* 2010
is for the artist to follow; nothing here judges whether a picture should be drawn.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from .. import plugins
from ..document.ledger import Ledger
from ..document.nodes import (
    Document,
    Graphic,
    InlineGraphic,
    children_of,
    inlines_of,
    text_of,
    walk,
)
from ..edition import Edition
from ..findings import WITHOUT_WORDS, Findings, Place, Span
from ..places import Places
from ..translation.cells import BLANK, dots_of
from ..translation.passage import Passage
from .counted import count
from .shown import PrintPages, excerpt, show
from .statements import braille_words

if TYPE_CHECKING:
    from ..contracts import Translator

# "Figure 3.2", "Fig. 4", "Map B": a name by which the text can refer to a picture.
_NAME = re.compile(
    r"\b((?i:Figure|Fig\.|Map|Plate|Photo|Photograph|Diagram|Chart|Graph|Illustration|Picture|Image))"
    r"\s+((?:[A-Z](?![a-z])[-.]?)?\d+(?:[.\-–]\d+)*[a-z]?|[A-Z]\b)"
)
_DESCRIBED = "read.picture-described-elsewhere"
_CAPTIONS = ("caption", "credit", "source")


@dataclass(frozen=True, slots=True)
class Label:
    """A label inside a picture: its print, and its cells in the code of the edition."""

    text: str
    cells: str


@dataclass(frozen=True, slots=True)
class Picture:
    """One picture of the source.  ``number`` counts from 1 in the order of print; ``place`` is
    where its words stand in the braille, none where it has no words there; ``kept`` are the
    braille pages that a decision keeps for a tactile graphic."""

    number: int
    resource: str
    page: str | None
    place: Place | None
    state: str
    caption: str
    alt: str
    description: str
    labels: tuple[Label, ...]
    mentions: tuple[str, ...]
    address: str
    kept: tuple[Place, ...] = ()

    def json(self) -> dict[str, object]:
        """The row as in ``report.json``."""
        where = self.place
        return {
            "picture": self.number,
            "resource": self.resource,
            "print_page": self.page,
            "braille": where and {"volume": where.volume, "page": where.page, "line": where.line},
            "state": self.state,
            "caption": self.caption,
            "alternative_text": self.alt,
            "long_description": self.description,
            "labels": [
                {"text": label.text, "cells": label.cells, "width": len(label.cells)}
                for label in self.labels
            ],
            "mentions": list(self.mentions),
            "kept_pages": [{"volume": p.volume, "page": p.page} for p in self.kept],
            "address": self.address,
        }


def pictures(edition: Edition) -> list[Picture]:
    """Every picture of the source, in the order of print."""
    document = edition.document
    found = list(_found(document))
    if not found:
        return []
    maker = _Maker(edition, found)
    return [maker.picture(number, row) for number, row in enumerate(found, 1)]


@dataclass(frozen=True, slots=True)
class _Row:
    """A picture as it stands in the tree; ``spans`` hold its own words, ``at`` its place in the
    ledger where it has none."""

    resource: str
    address: str
    at: int
    spans: list[Span]
    alt: str
    decorative: bool = False
    caption: str = ""
    description: str = ""
    labels: tuple[str, ...] = ()
    pages: int = 0


def _found(document: Document) -> Iterator[_Row]:
    ledger, reach = document.ledger, 0
    for node in walk(document):
        if isinstance(node, Graphic):
            yield _graphic(node, ledger, reach)
        for inline in inlines_of(node):
            if isinstance(inline, InlineGraphic):
                span = (inline.start, inline.end)
                address = str(getattr(node, "address", ""))
                spans = [span] if span[0] < span[1] else []
                yield _Row(inline.resource, address, span[0], spans, ledger.quote(*span))
            reach = max(reach, getattr(inline, "end", 0))


def _graphic(node: Graphic, ledger: Ledger, reach: int) -> _Row:
    blocks = list(_inside(node.children))
    spans = [
        (start, getattr(inline, "end", start))
        for block in (node, *blocks)
        for inline in inlines_of(block)
        if (start := getattr(inline, "start", None)) is not None
    ]

    def said(roles: tuple[str, ...], inside: bool) -> list[str]:
        own = [b for b in blocks if (getattr(b, "role", "") in roles) is inside and inlines_of(b)]
        return [text for b in own if (text := " ".join(text_of(inlines_of(b), ledger).split()))]

    return _Row(
        node.resource,
        node.address,
        spans[0][0] if spans else reach,
        [span for span in spans if span[0] < span[1]],
        " ".join(text_of(node.alt, ledger).split()),
        node.decorative,
        " ".join(said(_CAPTIONS, True)),
        " ".join(said((*_CAPTIONS, "label"), False)),
        tuple(said(("label",), True)),
        node.pages,
    )


def _inside(blocks: Iterable[object]) -> Iterator[object]:
    """Blocks and what they hold, but no other picture."""
    stack = list(reversed(list(blocks)))
    while stack:
        block = stack.pop()
        if not isinstance(block, Graphic):
            yield block
            stack.extend(reversed(children_of(block)))


class _Maker:
    """Looks up what a picture's row needs; every index is made once."""

    def __init__(self, edition: Edition, rows: list[_Row]) -> None:
        self._edition, self._ledger = edition, edition.document.ledger
        near = [span for row in rows for span in (*row.spans, (max(0, row.at - 400), row.at + 400))]
        self._places = Places(edition.book, near)
        self._pages = PrintPages(edition.document)
        self._names: dict[tuple[str, str], list[int]] | None = None
        self._kept = _kept_pages(edition) if any(row.pages for row in rows) else {}
        self._translator = self._make(rows)
        self._elsewhere = {
            str(facts["resource"]): f"Elsewhere in print: {facts['words']}"
            for finding in edition.findings
            if finding.kind == _DESCRIBED and (facts := dict(finding.facts))
        }
        self._bare = {
            str(name).rpartition("/")[2]
            for finding in edition.findings
            if finding.kind in WITHOUT_WORDS
            for name in dict(finding.facts).values()
        }

    def _make(self, rows: list[_Row]) -> Translator | None:
        labels = [Passage(label) for row in rows for label in row.labels]
        if not labels:
            return None
        settings = self._edition.settings
        make = plugins.load("convert.translators", settings.code.partition(":")[0])
        translator: Translator = make(settings)
        translator.prepare(labels)
        return translator

    def picture(self, number: int, row: _Row) -> Picture:
        """The manifest's row of a picture."""
        places = (self._places.find(span) for span in row.spans)
        own = next((place for place in places if place), None)
        page = self._pages.at(row.at)
        return Picture(
            number,
            show(row.resource),
            None if page is None else show(page),
            own or self._places.find((row.at, row.at)) or self._places.before(row.at),
            _state(row, own is not None, row.resource.rpartition("/")[2] in self._bare),
            show(row.caption),
            show(row.alt),
            show(row.description or self._elsewhere.get(row.resource, "")),
            tuple(self._label(label) for label in row.labels),
            tuple(self._mentions(row)),
            row.address,
            self._kept.get(row.address, ()) if row.pages else (),
        )

    def _label(self, text: str) -> Label:
        assert self._translator is not None
        cells = self._translator.translate(Passage(text), Findings())
        return Label(show(text), cells.text.rstrip(BLANK))

    def _named(self, name: tuple[str, str]) -> list[int]:
        """Every place where print has a name for a picture."""
        if self._names is None:
            self._names = {}
            for found in _NAME.finditer(self._ledger.text):
                self._names.setdefault(_name(found), []).append(found.start())
        return self._names.get(name, [])

    def _mentions(self, row: _Row) -> Iterator[str]:
        """Where the text outside the picture calls it by the name its caption gives it."""
        found = _NAME.search(row.caption)
        for at in self._named(_name(found)) if found else ():
            if any(start <= at < end for start, end in row.spans):
                continue
            words = excerpt(self._ledger, (at, at)).text
            page = self._pages.at(at)
            yield f"print page {show(page)}: {words}" if page else words


def _name(found: re.Match[str]) -> tuple[str, str]:
    kind = found[1].lower().rstrip(".")
    return {"fig": "figure", "photograph": "photo"}.get(kind, kind), found[2]


def _state(row: _Row, placed: bool, bare: bool) -> str:
    """What stands in the braille for a picture; ``bare``: the source says nothing about it, not
    even that it is decorative."""
    if row.pages:
        return f"{count(row.pages, 'braille page')} kept for a tactile graphic"
    if placed:
        if row.alt or row.description:
            return "in words: description" if not row.caption else "in words: description, caption"
        return "in words: caption only" if row.caption else "in words: labels only"
    if row.decorative and not bare:
        return "left out: decorative in the source"
    if row.alt or row.caption or row.labels:
        return "not in the braille"
    return "left out: neither described nor captioned"


def _kept_pages(edition: Edition) -> dict[str, tuple[Place, ...]]:
    """The braille pages kept for tactile graphics, by the address of the picture."""
    out: dict[str, tuple[Place, ...]] = {}
    for volume, _, page in edition.book.pages():
        for line, row in enumerate(page.rows, 1):
            if row is not None and row.kind == "graphic" and row.element:
                place = Place(volume.number, page.braille_page, line)
                out[row.element] = (*out.get(row.element, ()), place)
    return out


def _cells_words(cells: str) -> str:
    return f"{count(len(cells), 'cell')}, dots {dots_of(cells)}"


def picture_facts(row: Picture) -> list[tuple[str, str]]:
    """The row as names and words, for the report as text and as a page."""
    place = braille_words(row.place) if row.place else ""
    near = "" if row.state.startswith("in words") else "would stand near "
    where = f"; {near}{place[:1].lower()}{place[1:]}" if place else ""
    facts = [("In the braille", row.state + where), ("Alternative text", row.alt or "none")]
    facts += [("Caption", row.caption)] if row.caption else []
    if row.kept:
        pages = "; ".join(f"volume {p.volume}, braille page {p.page}" for p in row.kept)
        facts.append(("Kept for a tactile graphic", pages))
    if row.description:
        facts.append(("Long description", row.description))
    facts += [("Label", f"{label.text}: {_cells_words(label.cells)}") for label in row.labels]
    facts += [("Referred to", words) for words in row.mentions]
    facts += [("Print page", row.page)] if row.page else []
    return [*facts, ("File", row.resource or "none named"), ("Source", row.address or "none")]
