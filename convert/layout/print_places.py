"""What the print page asks of its blocks, found before the flow and set in as it goes.

| what print has | what the flow sets | section |
|---|---|---|
| a whole print page of other matter inside a sentence | a note before it and one after | BF 3.3.3 |
| an illustration of no paragraph | it after the last whole paragraph of its print page | BF 6 |
| numbers beside some paragraphs of a series | the numbers of all of them | BF 15.2.1 |

Each can be switched off in the rules of the convention, and is told by a finding.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from itertools import pairwise

from ..document.nodes import (
    Added,
    Block,
    Box,
    Displayed,
    Document,
    Footnote,
    Graphic,
    Heading,
    Inlines,
    ListBlock,
    Paragraph,
    PrintPage,
    PrintPageTurn,
    Section,
    Table,
    TranscriberNote,
    VerseLine,
    children_of,
    inlines_of,
    text_of,
    walk,
)
from ..findings import Findings
from .convention import Convention
from .flow_runs import span_of
from .flow_scan import Survey
from .margin_numbers import added_numbers

INTERRUPTS = (Box, Table, ListBlock, Graphic, Displayed)
PROSE = ("body", "blocked")
_HALVED = re.compile(r"[^.!?:;…\"'”’)\]\s]\s*$")  # A sentence that has no end yet.
_GOES_ON = re.compile(r"\s*[(\"'“‘]?[a-zß-öø-ÿ]")
# An illustration's identifier: a word and a number (BF 6.2).
_NUMBERED = re.compile(
    r"\b(?:fig(?:ure)?|map|photo(?:graph)?|chart|graph|plate|diagram|illustration)s?\W*"
    r"(\d+(?:[.\-\u2013]\d+)*)",
    re.I,
)


@dataclass(slots=True)
class Places:
    """What is to be set in, by the identity of the blocks of print: the numbers of paragraphs,
    illustrations taken from their place and what follows a block, notes above a block, and
    paragraphs that are the rest of an interrupted one."""

    numbers: dict[int, Inlines] = field(default_factory=dict)
    moved: set[int] = field(default_factory=set)
    above: dict[int, list[Block]] = field(default_factory=dict)
    below: dict[int, list[Block]] = field(default_factory=dict)
    rests: set[int] = field(default_factory=set)

    def set_in(self, blocks: Iterable[Block | VerseLine]) -> list[Block | VerseLine]:
        """The blocks as they are to be set."""
        if not (self.numbers or self.moved or self.above or self.below):
            return list(blocks)
        out: list[Block | VerseLine] = []
        for block in blocks:
            key = id(block)
            if key in self.moved:
                continue
            out += self.above.get(key, ())
            if isinstance(block, Paragraph) and key in self.numbers:
                block = replace(block, runs=(*self.numbers[key], *block.runs))
            if isinstance(block, Paragraph) and key in self.rests:
                block = replace(block, role="rest")
            out += (block, *self.below.get(key, ()))
        return out


@dataclass(frozen=True, slots=True)
class _Placed:
    """A block of print outside all others, and the print pages, counted from 0, on which it
    begins and ends."""

    node: Block
    first: int
    last: int


def find_places(
    document: Document, convention: Convention, findings: Findings, look: Survey
) -> Places:
    """What is to be set in, each row with its finding."""
    places, rules = Places(), convention.rules
    if not look.lines_numbered and rules["margin_numbers"] == "every":
        places.numbers = added_numbers(document, findings)
    told, moved = rules["interruptions"] == "told", rules["illustrations"] == "page-end"
    if not look.has_pages or not (told or moved):
        return places
    labels: list[str | None] = [None]
    placed = list(_placed(document, labels))
    if told:
        _tell_interruptions(document, convention, findings, (placed, labels), places)
    if moved:
        _move_illustrations(document, findings, placed, places)
    return places


def _placed(document: Document, labels: list[str | None]) -> Iterator[_Placed]:
    """The blocks of print in order; the labels of their print pages go to ``labels``."""
    stack: list[object] = [document]
    while stack:
        node = stack.pop()
        if isinstance(node, Document | Section):
            stack.extend(reversed(node.children))
        elif isinstance(node, PrintPage):
            labels.append(node.label)
        elif not isinstance(node, Footnote):
            first = len(labels) - 1
            labels += _labels_in(node)
            yield _Placed(node, first, len(labels) - 1)  # type: ignore[arg-type]


def _labels_in(node: object) -> list[str | None]:
    """The print pages that begin inside a block."""
    if isinstance(node, Paragraph | Heading):
        return [run.label for run in node.runs if isinstance(run, PrintPageTurn)]
    out: list[str | None] = []
    for inner in walk(node):
        if isinstance(inner, PrintPage):
            out.append(inner.label)
        out += [run.label for run in inlines_of(inner) if isinstance(run, PrintPageTurn)]
    return out


# ------------------------------------------------------------------ interruptions


def _tell_interruptions(
    document: Document,
    convention: Convention,
    findings: Findings,
    pages: tuple[list[_Placed], list[str | None]],
    places: Places,
) -> None:
    """A note before whole print pages of other matter inside a sentence, which tells where the
    text goes on, and one after them, which tells where it was left (BF 3.3.3).  Unnumbered pages
    are inserts, which need none."""
    placed, labels = pages
    before: _Placed | None = None
    between = False
    for here in placed:
        if isinstance(here.node, INTERRUPTS):
            between = True
            continue
        if between and before is not None and here.first - before.last > 1:
            numbered = all(labels[before.last : here.first + 1])
            if numbered and _is_one(before.node, here.node, document):
                left, goes_on = labels[before.last] or "", labels[here.first] or ""
                _note(places.below, before.node, convention, "interrupted", goes_on)
                _note(places.above, here.node, convention, "resumed", left)
                places.rests.add(id(here.node))
                span = span_of(inlines_of(here.node))
                findings.add("layout.text-interrupted", span, left=left, page=goes_on)
        before, between = here, False


def _is_one(one: Block, two: Block, document: Document) -> bool:
    """Whether two paragraphs are the parts of one sentence."""
    if not (isinstance(one, Paragraph) and isinstance(two, Paragraph)):
        return False
    if one.role not in PROSE or two.role not in PROSE:
        return False
    halved = _HALVED.search(text_of(one.runs, document.ledger)) is not None
    return halved and _GOES_ON.match(text_of(two.runs, document.ledger)) is not None


def _note(
    where: dict[int, list[Block]], node: Block, convention: Convention, name: str, page: str
) -> None:
    words = convention.notes[name].words.format(page=page)
    note = TranscriberNote(children=(Paragraph(runs=(Added(words),)),))
    where.setdefault(id(node), []).append(note)


# ------------------------------------------------------------------ illustrations


def _move_illustrations(
    document: Document, findings: Findings, placed: list[_Placed], places: Places
) -> None:
    """An illustration that opens its print page, and whose number no paragraph names, goes after
    the last whole paragraph of that page (BF 6)."""
    ledger = document.ledger
    opening: list[tuple[int, Graphic, str]] = []
    for at, (one, two) in enumerate(pairwise(placed), 1):
        node = two.node
        if one.last < two.first and isinstance(node, Graphic) and node.children:
            caption = node.children[0]
            if isinstance(caption, Paragraph):
                found = _NUMBERED.search(text_of(caption.runs, ledger))
                if found and not text_of(caption.runs, ledger)[: found.start()].strip(" \"'(["):
                    opening.append((at, node, found[1]))
    named = _named(document) if opening else frozenset()
    for at, node, number in opening:
        last = _last_whole(placed, at)
        if number not in named and last is not None:
            places.moved.add(id(node))
            places.below.setdefault(id(last), []).append(node)
            caption = node.children[0]
            findings.add("layout.illustration-moved", span_of(inlines_of(caption)), number=number)


def _named(document: Document) -> frozenset[str]:
    """The numbers of illustrations that text names outside the captions of illustrations."""
    found: set[str] = set()
    stack: list[object] = list(document.children)
    while stack:
        node = stack.pop()
        if isinstance(node, Paragraph | Heading):
            words = text_of(node.runs, document.ledger)
            found.update(match[1] for match in _NUMBERED.finditer(words))
        if not isinstance(node, Graphic):
            stack.extend(children_of(node))
    return frozenset(found)


def _last_whole(placed: list[_Placed], at: int) -> Block | None:
    """The last paragraph below ``at`` that begins and ends on its print page."""
    page, last = placed[at].last, None
    for here in placed[at + 1 :]:
        if here.first != page:
            break
        if here.last == page and isinstance(here.node, Paragraph) and here.node.role in PROSE:
            last = here.node
    return last
