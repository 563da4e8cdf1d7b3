"""The trace: one JSON object a line of every page, saying where the line came from.

Public contract, section 5.  Three additions: ``text`` (the print the line stands for), ``address``
(where that print begins in the source), and ``asked`` (on line 1: the page was asked for and does
not merely go on).  ``head`` and ``foot`` are given as they
stand on the line: from cell 1, leading blanks kept.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from json.encoder import encode_basestring, encode_basestring_ascii
from pathlib import Path

from ..document.ledger import Ledger
from ..edition import Edition
from ..findings import Span
from ..layout.book import Page, Row
from ..places import ledger_spans
from ..translation.cells import BLANK

# Characters that some tools take for a line end, and halves of surrogate pairs.
_ODD = re.compile("[\x7f\x85\u2028\u2029\ud800-\udfff]")


def write_trace(edition: Edition, folder: Path) -> list[Path]:
    """Write ``trace.jsonl``; returns its path."""
    path = folder / "trace.jsonl"
    with path.open("w", encoding="utf-8", newline="") as file:
        file.writelines(trace_text(edition))
    return [path]


def trace_lines(edition: Edition) -> Iterator[dict[str, object]]:
    """The objects of the trace, in order."""
    for line in trace_text(edition):
        yield json.loads(line)


def trace_text(edition: Edition) -> Iterator[str]:
    """The lines of the trace as JSON text, each with its line end."""
    ledger = edition.document.ledger
    known = _Known()
    for volume, ordinal, page in edition.book.pages():
        start = (
            f'{{"volume": {volume.number}, "series": {_json(page.series)}, "page": {ordinal}, '
            f'"braille_page": {_json(page.braille_page)}, "print_page": '
        )
        in_force = known[page.print_page]
        last = len(page.rows)
        for number, (row, text) in enumerate(zip(page.rows, page.texts(), strict=True), 1):
            if row is None or not text:
                rest = _empty_line(page, number)
            else:
                rest = _full_line(row, text, ledger, known)
            if row is not None and row.print_page is not None:
                in_force = known[row.print_page]
            furniture = _furniture(page, number, last) if number in (1, last) else ""
            yield f'{start}{in_force}, "line": {number}, {rest}{furniture}}}\n'


class _Known(dict[str | None, str]):
    """JSON of words that many lines have: kinds, styles, elements."""

    def __missing__(self, text: str | None) -> str:
        made = self[text] = "null" if text is None else _json(text)
        return made


def line_print(row: Row) -> tuple[list[Span], str]:
    """The stretches of the ledger a line stands for, joined where they touch, and its print
    as text: words print does not have (a label of the edition) included."""
    spans: list[Span] = []
    words: list[str] = []
    for part in row.parts:
        source = part.source
        if source is None or source.passage is None or not part.text:
            continue
        passage = source.passage
        low, high = part.print_span()
        words.append(passage.text[low:high].strip())
        if len(row.parts) == len(passage.at) == 1:
            return list(ledger_spans(passage, low, high)), words[0]
        for span in ledger_spans(passage, low, high):
            if spans and spans[-1][1] == span[0]:
                spans[-1] = (spans[-1][0], span[1])
            else:
                spans.append(span)
    return spans, " ".join(words)


def has_running_head(page: Page) -> bool:
    """Whether line 1 has a running head, not the print page number alone.

    A running head is centred, so it begins in the left half (Braille Formats 2016, 1.8); a
    print page number ends at the right margin (1.11).
    """
    return bool(page.head) and len(page.head) - len(page.head.lstrip(BLANK)) < page.width // 2


def _furniture(page: Page, number: int, last: int) -> str:
    out = ', "asked": true' if number == 1 and page.asked else ""
    if number == 1 and page.head:
        out += f', "head": "{page.head.rstrip(BLANK)}"'
    if number == last and page.foot:
        out += f', "foot": "{page.foot.rstrip(BLANK)}"'
    return out


def _empty_line(page: Page, number: int) -> str:
    kind = "running-head" if number == 1 and has_running_head(page) else "blank"
    return (
        f'"kind": "{kind}", "element": null, "level": 0, "levels": 0, "part": "first", '
        '"cells": "", "print": [], "style": null, "text": "", "address": null'
    )


def _full_line(row: Row, cells: str, ledger: Ledger, known: _Known) -> str:
    spans, words = line_print(row)
    address, print_ = "null", ""
    if spans:
        first = spans[0][0]
        piece = ledger.locate(first)
        address = '""'
        if piece is not None:
            place = known[f"{piece.part}!{piece.path}:"]
            address = f'{place[:-1]}{piece.char + first - piece.start}"'
        print_ = ", ".join([f"[{start}, {end}]" for start, end in spans])
    return (
        f'"kind": {known[row.kind]}, "element": {known[row.element]}, "level": {row.level}, '
        f'"levels": {row.levels}, "part": "{row.part}", "cells": "{cells}", '
        f'"print": [{print_}], "style": {known[row.style]}, '
        f'"text": {_json(words)}, "address": {address}'
    )


def _json(text: str) -> str:
    """A JSON string, in which no tool can see a line end."""
    quoted: str = encode_basestring(text)
    if text.isascii() or not _ODD.search(quoted):
        return quoted
    return _ODD.sub(lambda found: encode_basestring_ascii(found[0])[1:-1], quoted)
