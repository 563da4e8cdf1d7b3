"""Named passes that put a reader's tree in order.  Each is Document -> Document.

The order is the tuple ``PASSES``; each pass says what it needs done first.  No pass changes
the ledger, and none drops a run: a test holds every pass to that.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise
from typing import Any

from ..findings import Findings, Span
from .alternatives import drop_repeated
from .answer_tables import read_answer_tables
from .change import map_children, map_inlines
from .entries import list_entries
from .implied_pages import imply_numbers
from .inlines import COMPUTER
from .meta import shorten_meta
from .nodes import (
    AnswerSpace,
    Document,
    Footnote,
    Heading,
    Inline,
    Inlines,
    LineBreak,
    ListBlock,
    ListItem,
    NoteCall,
    Paragraph,
    PrintPage,
    PrintPageTurn,
    Run,
    TableEntry,
    VerseLine,
    inlines_of,
    walk,
)
from .whole_words import join_runs, keep_words_whole

_WORDED = frozenset((Heading, Paragraph, VerseLine))


def tidy(document: Document, findings: Findings, words_over_pages: str = "before") -> Document:
    """Apply every pass, in order.  ``words_over_pages``: a word in which a print page begins is
    whole on the page ``before`` or ``after``."""
    for step in PASSES:
        if step is keep_words_whole:
            document = step(document, findings, words_over_pages)
        else:
            document = step(document, findings)
    return document


# ---------------------------------------------------------------- the passes


_BLANK = re.compile(r"_(?:[_ ]*_)?")


def find_answer_spaces(document: Document, findings: Findings) -> Document:
    """Two or more low lines in print are one answer space, whatever its length (UEB 7.2.3).

    Needs joined runs.  The span keeps the printed characters, so none is lost.
    """
    text = document.ledger.text

    def change(inlines: Inlines) -> Inlines:
        if not any(isinstance(r, Run) and "__" in text[r.start : r.end] for r in inlines):
            return inlines
        out: list[Inline] = []
        for inline in inlines:
            out.extend(_blanks(inline, text) if isinstance(inline, Run) else [inline])
        return tuple(out)

    has_blanks = "_" in text and document.ledger.holds("__")
    found: Document = map_inlines(document, change) if has_blanks else document
    return found


def _blanks(run: Run, text: str) -> list[Inline]:
    if run.voice in COMPUTER:
        return [run]
    out: list[Inline] = []
    at = run.start
    for match in _BLANK.finditer(text, run.start, run.end):
        if match.end() - match.start() > 1:
            if at < match.start():
                out.append(replace(run, start=at, end=match.start()))
            out.append(AnswerSpace(match.start(), match.end(), "line"))
            at = match.end()
    if at < run.end:
        out.append(replace(run, start=at))
    return out


def lift_turns(document: Document, findings: Findings) -> Document:
    """A turn at the very start or end of a paragraph stands between blocks instead.

    Needs turns moved out of words.  White space beside the turn does not count as text.
    """
    text = document.ledger.text

    def change(kids: tuple[Any, ...]) -> tuple[Any, ...]:
        if not any(map(_turns, kids)):
            return kids
        out: list[Any] = []
        for kid in kids:
            out.extend(_lift(kid, text) if _turns(kid) else [kid])
        return tuple(out)

    lifted: Document = map_children(document, change)
    return lifted


def _turns(node: Any) -> bool:
    """Whether a print page turns inside a block of words."""
    return type(node) in _WORDED and PrintPageTurn in map(type, node.runs)


def hoist_turns(document: Document, findings: Findings) -> Document:
    """A turn that opens a list item stands before the item, ahead of its number.

    Needs turns lifted out of paragraphs.
    """

    def change(kids: tuple[Any, ...]) -> tuple[Any, ...]:
        if ListItem not in map(type, kids):
            return kids
        out: list[Any] = []
        for kid in kids:
            while (
                isinstance(kid, ListItem)
                and kid.children
                and isinstance(kid.children[0], PrintPage)
            ):
                out.append(kid.children[0])
                kid = replace(kid, children=kid.children[1:])
            out.append(kid)
        return tuple(out)

    hoisted: Document = map_children(document, change)
    return hoisted


def _lift(block: Paragraph | Heading | VerseLine, text: str) -> list[Any]:
    runs = block.runs
    first = next((i for i, r in enumerate(runs) if _shows(r, text)), len(runs))
    last = max((i for i, r in enumerate(runs) if _shows(r, text)), default=-1)
    turns = [(i, r) for i, r in enumerate(runs) if isinstance(r, PrintPageTurn)]
    outside = {i for i, _ in turns if i < first or i > last}
    kept = tuple(r for i, r in enumerate(runs) if i not in outside)
    above = [PrintPage(label=r.label, address=block.address) for i, r in turns if i < first]
    below = [
        PrintPage(label=r.label, address=block.address) for i, r in turns if i > last and i >= first
    ]
    body = [replace(block, runs=kept)] if kept else []
    return [*above, *body, *below]


def _shows(inline: Inline, text: str) -> bool:
    if isinstance(inline, PrintPageTurn | LineBreak):
        return False
    if isinstance(inline, Run):
        return not text[inline.start : inline.end].isspace()
    return True


_FEW_MARKS = 5  # Marks without notes that are told one by one.


def pair_notes(document: Document, findings: Findings) -> Document:
    """Report note marks without a note and notes without a mark; the tree stays as it is."""
    calls: dict[str, tuple[int, int]] = {}
    lost: list[tuple[int, int]] = []  # marks that lead nowhere
    notes: dict[str, tuple[int, int] | None] = {}
    for node in walk(document):
        if isinstance(node, Footnote):
            notes[node.id] = _begins(node, document.ledger.text)
        runs = inlines_of(node)
        for inline in runs if NoteCall in map(type, runs) else ():
            if isinstance(inline, NoteCall):
                if inline.target:
                    calls.setdefault(inline.target, (inline.start, inline.end))
                else:
                    lost.append((inline.start, inline.end))
    lost += [span for target, span in calls.items() if target not in notes]
    _tell_lost(sorted(lost), document.ledger.text, findings)
    for name, where in notes.items():
        if name not in calls:
            findings.add("read.note-without-mark", where, note=name)
    return document


def _begins(note: Footnote, text: str) -> tuple[int, int] | None:
    """The mark of a note, else its first words."""
    marks = [run for run in note.mark if isinstance(run, Run)]
    if marks:
        return marks[0].start, marks[-1].end
    for node in walk(note):
        for run in inlines_of(node):
            if isinstance(run, Run) and not text[run.start : run.end].isspace():
                return run.start, run.end
    return None


def _tell_lost(spans: list[tuple[int, int]], text: str, findings: Findings) -> None:
    """File the marks without notes: a few each by itself, many as one finding."""
    marks = [text[start:end].strip() for start, end in spans]
    for span, mark in zip(spans, marks, strict=True):
        if len(spans) <= _FEW_MARKS:
            findings.add("read.mark-without-note", span, mark=mark)
        else:
            findings.add("read.marks-without-notes", span, first=marks[0], last=marks[-1])


def drop_empty(document: Document, findings: Findings) -> Document:
    """Leave out paragraphs that hold nothing but white space (print layout by empty lines).

    Lists that only such paragraphs part are one list (BF 8.3: no blank line between items,
    whatever print shows), unless the second begins anew.  What fills an empty entry of a table
    makes no space and is not counted.
    """
    text = document.ledger.text
    dropped = 0

    def change(kids: tuple[Any, ...]) -> tuple[Any, ...]:
        nonlocal dropped
        kept: list[Any] = []
        gap = False
        for kid in kids:
            if isinstance(kid, Paragraph) and _empty(kid, text):
                dropped, gap = dropped + 1, True
                continue
            if gap and kept and _goes_on(kept[-1], kid, text):
                first = kept.pop()
                kid = replace(first, children=(*first.children, *kid.children))
            kept.append(kid)
            gap = False
        return tuple(kept) if len(kept) != len(kids) else kids

    out: Document = map_children(document, change)
    if dropped:
        dropped -= sum(_fills_entry(node, text) for node in walk(document))
    if dropped:
        findings.add("read.empty-paragraphs", number=dropped)
    return out


def _fills_entry(node: object, text: str) -> bool:
    if type(node) is not TableEntry or len(node.children) != 1:
        return False
    only = node.children[0]
    return isinstance(only, Paragraph) and _empty(only, text)


def _goes_on(first: Any, second: Any, text: str) -> bool:
    """Whether a list goes on the one before: bullets again, or the next number or letter."""
    if not (isinstance(first, ListBlock) and isinstance(second, ListBlock)):
        return False
    alike = (first.role, first.kind) == (second.role, second.kind)
    if not (alike and first.children and second.children):
        return False
    if first.kind == "bulleted":
        return True
    last, after = _marker(first.children[-1], text), _marker(second.children[0], text)
    if last.isdecimal() and after.isdecimal():
        return int(after[:9]) == int(last[:9]) + 1
    return len(last) == len(after) == 1 and ord(after) == ord(last) + 1


def _marker(item: ListItem | PrintPage, text: str) -> str:
    """The number or letter of an item."""
    runs = item.marker if isinstance(item, ListItem) else ()
    words = "".join(text[run.start : run.end] for run in runs if isinstance(run, Run))
    return words.strip().strip("().[]")


def _empty(block: Paragraph, text: str) -> bool:
    first = block.runs[0] if block.runs else None
    if type(first) is Run and first.start < first.end and not text[first.start].isspace():
        return False  # as nearly always
    return not any(_shows(r, text) for r in block.runs) and not any(
        isinstance(r, PrintPageTurn) for r in block.runs
    )


def count_pages(document: Document, findings: Findings) -> Document:
    """List the print pages in reading order; say so when there are none, or where two in a row
    have the same number.  Needs turns lifted."""
    labels: list[str] = []
    for node in walk(document):
        if isinstance(node, PrintPage):
            labels.append(node.label or "")
        runs = inlines_of(node)
        if PrintPageTurn in map(type, runs):
            labels += [r.label or "" for r in runs if isinstance(r, PrintPageTurn)]
    for label in (a for a, b in pairwise(labels) if a and a == b):
        findings.add("read.page-repeated", page=label)
    if not labels:
        findings.add("read.no-print-pages")
    elif (first := _before_pages(document)) is not None:
        words = document.ledger.quote(*first)[:40].strip()
        label = next(filter(None, labels), "unnumbered")
        findings.add("read.pages-begin-late", words=words, page=label)
    return replace(document, print_pages=tuple(labels))


def _before_pages(document: Document) -> Span | None:
    """The first words of a work, where a braille page or more of it comes before the first mark
    of a print page."""
    first: Span | None = None
    letters = 0
    for node in walk(document):
        runs = inlines_of(node)
        if isinstance(node, PrintPage) or any(isinstance(r, PrintPageTurn) for r in runs):
            break
        for run in runs:
            if type(run) is Run:
                first = first or (run.start, run.end)
                letters += run.end - run.start
    return first if letters >= _A_PAGE else None


_A_PAGE = 1000  # Characters of print that fill a braille page or more.
Pass = Callable[[Document, Findings], Document]
PASSES: tuple[Pass, ...] = (
    shorten_meta,
    join_runs,
    find_answer_spaces,
    read_answer_tables,
    keep_words_whole,
    lift_turns,
    hoist_turns,
    drop_repeated,
    drop_empty,
    list_entries,
    pair_notes,
    count_pages,
    imply_numbers,
)
