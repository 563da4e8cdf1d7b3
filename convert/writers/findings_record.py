"""Findings as the report gives them: in words, with every place in print and in braille."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from ..edition import Edition
from ..findings import SEVERITIES, WITHOUT_WORDS, Finding, Form, Place, Span, catalogue
from ..places import Places, print_spans
from .pictures import Picture
from .shown import Excerpt, PrintPages, excerpt, show, show_stanza

NAMES = {
    "stop": "Settle before embossing",
    "look": "Look at this",
    "told": "Recorded",
}
# Characters of print before a place within which some line is looked for.
_AROUND = 400


@dataclass(frozen=True, slots=True)
class PlaceRecord:
    """One place of a finding: in print (page label, address, excerpt) and in braille.

    ``near`` is the line by which it would stand, where it stands on none.
    """

    page: str | None
    address: str | None
    excerpt: Excerpt | None
    braille: Place | None
    near: Place | None = None

    def json(self) -> dict[str, object]:
        """The place as in the contract."""
        return {
            "print": {
                "page": self.page,
                "address": self.address,
                "excerpt": self.excerpt.text if self.excerpt else None,
            },
            "braille": _place_json(self.braille),
            **({"near": _place_json(self.near)} if self.near else {}),
        }


def _place_json(place: Place | None) -> dict[str, object] | None:
    if place is None:
        return None
    return {"volume": place.volume, "page": place.page, "line": place.line}


@dataclass(frozen=True, slots=True)
class FindingRecord:
    """A finding in words.  ``number`` counts from 1 in the order of the report."""

    number: int
    id: str
    kind: str
    severity: str
    message: str
    standard: str | None
    remedy: str
    offer: tuple[str, ...]
    places: tuple[PlaceRecord, ...]
    settled: str = ""
    forms: tuple[Form, ...] = ()

    @property
    def kind_name(self) -> str:
        """The kind as plain words: ``read.no-print-pages`` is ``No print pages``."""
        return catalogue()[self.kind].title

    @property
    def severity_name(self) -> str:
        """The severity in words."""
        return NAMES[self.severity]

    def json(self) -> dict[str, object]:
        """The finding as in the contract, with all its ``places`` and the ``remedy``."""
        nothing = PlaceRecord(None, None, None, None)
        return {
            "number": self.number,
            "id": self.id,
            "kind": self.kind,
            "severity": self.severity,
            "message": self.message,
            "standard": self.standard,
            "remedy": self.remedy,
            **(self.places[0] if self.places else nothing).json(),
            "choices": [
                {"label": f.label, "print": f.print, "cells": f.cells, "dots": f.dots}
                for f in self.forms
            ],
            "offer": list(self.offer),
            "settled": self.settled or None,
            "places": [place.json() for place in self.places],
        }


def records(edition: Edition, found: Sequence[Picture] = ()) -> list[FindingRecord]:
    """The findings in the order of the report: the stop list first, then by kind, each in the
    order of print.  ``found`` are the edition's pictures, for the places of those without
    words."""
    ordered = sorted(edition.findings, key=_order)
    where = _Where(edition, found)
    return [_record(at, finding, where) for at, finding in enumerate(ordered, 1)]


def _order(finding: Finding) -> tuple[int, str, Span]:
    first = min(finding.spans, default=(-1, -1))
    kind = "" if finding.severity == "stop" else finding.kind
    return SEVERITIES.index(finding.severity), kind, first


def _record(number: int, finding: Finding, where: _Where) -> FindingRecord:
    row = catalogue()[finding.kind]
    return FindingRecord(
        number,
        finding.id,
        finding.kind,
        finding.severity,
        show(finding.message),
        row.standard,
        row.remedy,
        tuple(map(show_stanza, finding.offer)),
        tuple(where.places(finding)),
        show(finding.settled),
        tuple(
            replace(form, label=show(form.label), print=show(form.print)) for form in finding.forms
        ),
    )


def _joined(pairs: Iterable[tuple[Span, Place | None]]) -> Iterator[tuple[Span, Place | None]]:
    """Spans that touch and stand on the same line as one."""
    before: tuple[Span, Place | None] | None = None
    for span, place in pairs:
        if before is not None and before[1] == place and before[0][0] < before[0][1] == span[0]:
            before = ((before[0][0], span[1]), place)
            continue
        if before is not None:
            yield before
        before = (span, place)
    if before is not None:
        yield before


class _Where:
    """Looks up places; the indexes are made only when the first finding needs them."""

    def __init__(self, edition: Edition, found: Sequence[Picture] = ()) -> None:
        self._edition = edition
        self._pictures = list(found)
        self._left: Places | None = None
        self._pages: PrintPages | None = None
        self._index: Places | None = None

    def places(self, finding: Finding) -> Iterator[PlaceRecord]:
        """A record for each place of a finding, in the order of print; spans that touch on one
        line are one place, and so are those that cannot be told apart."""
        if finding.spans and self._pages is None:
            self._pages = PrintPages(self._edition.document)
        if not finding.spans:
            named = [str(value) for _, value in finding.facts]
            yield from map(self._of_line, finding.places)
            yield from self._of_picture(finding.kind, named)
        ledger = self._edition.document.ledger
        last: PlaceRecord | None = None
        for span, place in _joined(sorted(self._pairs(finding), key=lambda pair: pair[0])):
            page = self._pages.at(span[0]) if self._pages else None
            address = ledger.address(span[0]) or ledger.address(max(0, span[0] - 1))
            label = show(page) if page is not None else None
            near = None if place else self._near(span[0])
            record = PlaceRecord(label, address or None, excerpt(ledger, span), place, near)
            if record != last:
                yield record
            last = record

    def _near(self, offset: int) -> Place | None:
        """The line by which print that reached none would stand."""
        if self._left is None:
            starts = (start for finding in self._edition.findings for start, _ in finding.spans)
            around = [(max(0, start - _AROUND), start + _AROUND) for start in starts]
            self._left = Places(self._edition.book, around)
        return self._left.before(offset)

    def _of_picture(self, kind: str, named: list[str]) -> Iterator[PlaceRecord]:
        """The place of the next picture without words that a finding names by its file."""
        if kind not in WITHOUT_WORDS:
            return
        for at, row in enumerate(self._pictures):
            if row.resource.rpartition("/")[2] in named and not row.alt:
                del self._pictures[at]
                yield PlaceRecord(row.page, row.address or None, None, None, row.place)
                return

    def _of_line(self, place: Place) -> PlaceRecord:
        """The print of a line of the braille."""
        document = self._edition.document
        for volume, _, page in self._edition.book.pages():
            if (volume.number, page.braille_page) != (place.volume, place.page):
                continue
            row = page.rows[place.line - 1] if place.line <= len(page.rows) else None
            label = row.print_page if row is not None and row.print_page else page.print_page
            span = next(print_spans(row), None) if row is not None else None
            shown = show(label) if label is not None else None
            if span is None:
                return PlaceRecord(shown, None, None, place)
            address = document.ledger.address(span[0]) or None
            return PlaceRecord(shown, address, excerpt(document.ledger, span), place)
        return PlaceRecord(None, None, None, place)

    def _pairs(self, finding: Finding) -> Iterator[tuple[Span, Place | None]]:
        """Each span with its place; looked up again where some span reached no line."""
        if len(finding.places) == len(finding.spans):
            yield from zip(finding.spans, finding.places, strict=True)
        elif not finding.places:
            yield from ((span, None) for span in finding.spans)
        else:
            if self._index is None:
                self._index = Places(self._edition.book)
            for span in finding.spans:
                yield span, self._index.find(span)
