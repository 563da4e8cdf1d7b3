"""Checks that a risk profile adds, on the finished pages."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable

from .document.nodes import (
    Document,
    Graphic,
    InlineGraphic,
    ListItem,
    Run,
    Table,
    inlines_of,
    walk,
)
from .findings import Findings, Span
from .layout.book import Book, Row
from .places import Places, print_spans
from .profiles import Profile
from .profiles.keep import pairs
from .settings import Settings

# An item's number or a choice's letter at the beginning of a line of print.
_ITEM = re.compile(r"(?m)^[ \t]*\(?(?:(\d{1,3})|([A-Za-z]))[.)](?=\s|$)")
_HIDDEN = ("read.hidden-text", "docx.hidden-text", "docx.field-instruction", "docx.comments")
_WORD = re.compile(r"\w{3,}|\d+")
# Words that many descriptions and choices share without meaning anything by it.
_PLAIN = frozenset(
    "the and with for from that this are was has have its one two not all".split()  # noqa: SIM905
)
Check = Callable[[Document, Book, Settings, Findings], None]


def check_profile(
    chosen: Profile | None, document: Document, book: Book, settings: Settings, findings: Findings
) -> None:
    """Make the checks of a profile."""
    for name in chosen.checks if chosen else ():
        _CHECKS[name](document, book, settings, findings)


def _counts(document: Document, book: Book, _: Settings, findings: Findings) -> None:
    """Items and choices that begin a line of print against those that begin a braille line."""
    marks = _marks(document)
    begun = {at for span in _beginnings(book) for at in (span, span + 1) if at in marks}
    items, print_items = sum(marks[at] for at in begun), sum(marks.values())
    choices, print_choices = len(begun) - items, len(marks) - print_items
    if (items, choices) != (print_items, print_choices):
        findings.add("profile.counts-differ", print_items=print_items,
                     print_choices=print_choices, items=items, choices=choices)  # fmt: skip
    elif marks:
        findings.add("profile.counts-agree", print_items=items, print_choices=choices)


def _marks(document: Document) -> dict[int, bool]:
    """Where the number of an item or the letter of a choice stands in print; true for numbers."""
    omitted = [(o.start, o.end) for o in document.omissions]
    return {
        match.start(1) if match[1] else match.start(2): bool(match[1])
        for match in _ITEM.finditer(document.ledger.text)
        if not any(start <= match.start() < end for start, end in omitted)
    }


def _beginnings(book: Book) -> list[int]:
    """Where in the ledger the print of each line of the text, and of each column, begins."""
    starts = []
    for _, _, page in book.pages():
        for row in page.rows:
            if row is not None and row.item >= 0:
                for part in row.parts:
                    first = next(print_spans(Row(row.kind, (part,))), None)
                    if first is not None:
                        starts.append(first[0])
    return starts


def _questions(document: Document, book: Book, _: Settings, findings: Findings) -> None:
    """The choices of each item in print against those that follow it in the braille."""
    marks = _marks(document)
    in_print = _choices(sorted(marks), marks)
    begun = (at for span in _beginnings(book) for at in (span, span + 1) if at in marks)
    in_braille = _choices(dict.fromkeys(begun), marks)
    for item, choices in in_print.items():
        found = in_braille.get(item, [])
        if found != choices:
            findings.add("profile.choices-differ", _stretch(document.ledger.text, item),
                         choices=len(choices), found=len(found))  # fmt: skip


def _choices(order: Iterable[int], marks: dict[int, bool]) -> dict[int, list[int]]:
    """The choices after each item, in order."""
    out: dict[int, list[int]] = {}
    own: list[int] = []
    for at in order:
        if marks[at]:
            own = out.setdefault(at, [])
        else:
            own.append(at)
    return out


def _items(document: Document, book: Book, _: Settings, findings: Findings) -> None:
    """Every item of a list outside tables begins a line or a column of the braille."""
    begun = set(_beginnings(book))
    tables = [node for node in walk(document) if isinstance(node, Table)]
    inside = {id(node) for table in tables for node in walk(table)}
    for node in walk(document):
        if isinstance(node, ListItem) and id(node) not in inside:
            start = _start(node, document.ledger.text)
            if start is not None and start not in begun:
                findings.add("profile.item-not-begun", _stretch(document.ledger.text, start))


def _stretch(text: str, start: int) -> Span:
    """An item of print from its number or bullet to the end of its first line of words."""
    end = text.find("\n", start)
    if 0 <= end <= start + 5:
        end = text.find("\n", end + 1)
    return start, end if end >= 0 else len(text)


def _start(item: ListItem, text: str) -> int | None:
    """Where the print of an item begins; none where it has no words of its own."""
    runs = list(item.marker)
    for node in () if runs else walk(item):
        runs = list(inlines_of(node))
        if runs or isinstance(node, Table | Graphic):
            break
    for run in runs:
        start, end = getattr(run, "start", 0), getattr(run, "end", 0)
        words = text[start:end]
        if words.strip():
            return start + len(words) - len(words.lstrip())
    return None


def _hidden(document: Document, book: Book, _: Settings, findings: Findings) -> None:
    """Nothing that print hides may stand in the braille."""
    spans = [(o.start, o.end) for o in document.omissions if o.why in _HIDDEN and o.end > o.start]
    if spans:
        places = Places(book, spans)
        for span in spans:
            if places.find(span) is not None:
                findings.add("profile.hidden-revealed", span)


def _descriptions(document: Document, book: Book, _: Settings, findings: Findings) -> None:
    """Descriptions of pictures: each to be looked at, one with words of a choice stops."""
    text = document.ledger.text
    choices = {
        word
        for node in walk(document)
        if isinstance(node, ListItem) and node.marker
        for word in _words(" ".join(_texts(node, text)))
    }
    for start, end in _alts(document):
        shared = sorted(_words(text[start:end]) & choices)
        if shared:
            findings.add("profile.answer-in-description", (start, end), words=", ".join(shared))
        else:
            findings.add("profile.description", (start, end))


def _texts(item: ListItem, text: str) -> list[str]:
    """The words of an item, those of pictures left out."""
    return [
        text[run.start : run.end]
        for node in walk(item)
        if not isinstance(node, Graphic)
        for run in inlines_of(node)
        if isinstance(run, Run)
    ]


def _words(text: str) -> set[str]:
    return set(_WORD.findall(text.lower())) - _PLAIN


def _alts(document: Document) -> list[Span]:
    """The stretches of all descriptions."""
    spans: list[Span] = []
    for node in walk(document):
        if isinstance(node, Graphic):
            runs = [run for run in node.alt if isinstance(run, Run)]
            spans += [(runs[0].start, runs[-1].end)] if runs else []
        spans += [(r.start, r.end) for r in inlines_of(node)
                  if isinstance(r, InlineGraphic) and r.end > r.start]  # fmt: skip
    return spans


def _units(document: Document, book: Book, _: Settings, findings: Findings) -> None:
    """A number and its unit stand on one line, whatever the formatter did."""
    spans = pairs(document.ledger.text)
    places = Places(book, spans) if spans else None
    for start, end in spans:
        first = places.find((start, start + 1)) if places else None
        last = places.find((end - 1, end)) if places else None
        if first is not None and last is not None and first != last:
            findings.add("profile.unit-parted", (start, end))


def _letters(_: Document, __: Book, settings: Settings, findings: Findings) -> None:
    """Early readers read uncontracted braille."""
    if settings.code != "ueb-uncontracted":
        findings.add("profile.contracted", code=settings.code)


_CHECKS: dict[str, Check] = {
    "counts": _counts,
    "questions": _questions,
    "items": _items,
    "hidden": _hidden,
    "descriptions": _descriptions,
    "units": _units,
    "letters": _letters,
}
