"""Repairs of blocks: lists typed by hand, running heads and page numbers left in the text.

They run only when asked for, as print may mean what it shows; what is left out is told.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Any

from ..document.change import map_children
from ..document.nodes import (
    Document,
    ListBlock,
    ListItem,
    Omission,
    Paragraph,
    PrintPage,
    Run,
    children_of,
    text_of,
    walk,
)
from ..findings import Findings, Span

_MARKER = re.compile(r"(\(?(?:\d{1,3}|[a-z])[.)]|[•◦▪‣·–*-])[ \t\u00a0\u2002\u2003]+(?=\S)")
_FEWEST = 3
_LONGEST_HEAD = 80


def typed_lists(document: Document, findings: Findings) -> Document:
    """Three or more paragraphs in a row that count up, or begin with one bullet, are a list."""
    text = document.ledger.text

    def change(kids: tuple[Any, ...]) -> tuple[Any, ...]:
        out: list[Any] = []
        at = 0
        while at < len(kids):
            length = _row(kids, at, text)
            if length >= _FEWEST:
                out.append(_as_list(kids[at : at + length], text))
                findings.add("clean.typed-lists", _span(kids[at]))
                at += length
            else:
                out.append(kids[at])
                at += 1
        return tuple(out) if len(out) != len(kids) else kids

    changed: Document = map_children(document, change)
    return changed


def _marker(block: Any, text: str) -> str:
    """The number, letter or bullet a paragraph of plain print begins with, or nothing."""
    if not isinstance(block, Paragraph) or block.role != "body" or not block.runs:
        return ""
    first = block.runs[0]
    if not isinstance(first, Run):
        return ""
    found = _MARKER.match(text, first.start, first.end)
    return found[1] if found else ""


def _row(kids: tuple[Any, ...], at: int, text: str) -> int:
    """How many paragraphs from ``at`` count on from the one before, the first from 1 or a."""
    first = mark = _marker(kids[at], text)
    if not mark or (mark.strip("().") not in ("1", "a") and mark.strip("().").isalnum()):
        return 0
    length = 1
    while at + length < len(kids):
        following = _marker(kids[at + length], text)
        if following != _next(mark, first):
            break
        mark = following
        length += 1
    return length


def _next(mark: str, first: str) -> str:
    core = mark.strip("().")
    if core.isdecimal():
        return mark.replace(core, str(int(core) + 1))
    if core.isalpha():
        return mark.replace(core, chr(ord(core) + 1)) if core < "z" else ""
    return first


def _as_list(blocks: tuple[Paragraph, ...], text: str) -> ListBlock:
    items: list[ListItem | PrintPage] = []
    for block in blocks:
        first = block.runs[0]
        assert isinstance(first, Run)
        found = _MARKER.match(text, first.start, first.end)
        assert found is not None
        rest = replace(block, runs=(replace(first, start=found.end()), *block.runs[1:]))
        marker = (replace(first, end=found.end(1)),)
        items.append(ListItem(children=(rest,), marker=marker, address=f"{block.address}:item"))
    kind = "numbered" if _marker(blocks[0], text).strip("().").isalnum() else "bulleted"
    return ListBlock(children=tuple(items), kind=kind, address=f"{blocks[0].address}:list")


# ---------------------------------------------------------------- heads and feet


def running_heads(document: Document, findings: Findings) -> Document:
    """Leave out lines that repeat beside three or more turns of the print page."""
    text = document.ledger.text
    beside = Counter(_key(block, text) for block, _ in _beside_turns(document))
    everywhere = Counter(_key(b, text) for b in walk(document) if isinstance(b, Paragraph))
    heads = {
        key
        for key, number in beside.items()
        if key and number >= _FEWEST and number * 5 >= everywhere[key] * 3
    }
    return _leave_out(
        document, findings, "clean.running-heads", lambda block, _: _key(block, text) in heads
    )


def page_numbers(document: Document, findings: Findings) -> Document:
    """Leave out lines that only repeat the number of the print page beside them."""
    text = document.ledger.text

    def is_number(block: Paragraph, label: str) -> bool:
        return text_of(block.runs, document.ledger).strip(" -–—[]()") == label

    rows = [block for block, label in _beside_turns(document) if is_number(block, label)]
    if len(rows) < _FEWEST or not text:
        return document
    return _leave_out(document, findings, "clean.page-numbers", is_number)


def _key(block: Any, text: str) -> str:
    """What the lines of one running head share: the words without the page number."""
    span = _span(block)
    if span is None or span[1] - span[0] > _LONGEST_HEAD:
        return ""
    return " ".join(re.sub(r"\d+", "", text[span[0] : span[1]]).lower().split())


def _span(block: Any) -> Span | None:
    runs = [run for run in getattr(block, "runs", ()) if isinstance(run, Run)]
    return (runs[0].start, runs[-1].end) if runs else None


def _beside_turns(document: Document) -> Iterator[tuple[Paragraph, str]]:
    """The paragraphs next to a turn of the print page, with the page's label."""
    for node in walk(document):
        kids = children_of(node)
        for at, kid in enumerate(kids):
            if isinstance(kid, PrintPage):
                for near in (at - 1, at + 1):
                    if 0 <= near < len(kids) and isinstance(block := kids[near], Paragraph):
                        yield block, kid.label or ""


def _leave_out(
    document: Document, findings: Findings, kind: str, drops: Callable[[Paragraph, str], bool]
) -> Document:
    gone = {
        id(block): block
        for block, label in _beside_turns(document)
        if all(isinstance(run, Run) for run in block.runs) and drops(block, label)
    }
    if not gone:
        return document
    left = {block.address for block in gone.values()}
    spans = [
        (run.start, run.end)
        for block in gone.values()
        for run in block.runs
        if isinstance(run, Run)
    ]
    for span in spans:
        findings.add(kind, span)

    def change(kids: tuple[Any, ...]) -> tuple[Any, ...]:
        kept = tuple(k for k in kids if not (isinstance(k, Paragraph) and k.address in left))
        return kept if len(kept) != len(kids) else kids

    changed: Document = map_children(document, change)
    omitted = tuple(Omission(start, end, kind) for start, end in spans)
    return replace(changed, omissions=(*changed.omissions, *omitted))
