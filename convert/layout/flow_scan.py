"""A first look over the whole work: what no single block can tell."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ..document.nodes import (
    Box,
    Displayed,
    Document,
    Footnote,
    Heading,
    Inlines,
    LineBreak,
    LineNumber,
    ListBlock,
    NoteCall,
    Paragraph,
    PrintPage,
    PrintPageTurn,
    Section,
    Speech,
    Table,
    children_of,
    inlines_of,
    walk,
)
from .flow_runs import name_of

TITLE_PAGES = frozenset(("titlepage", "halftitlepage"))


@dataclass(frozen=True, slots=True)
class Survey:
    """The step of each printed heading rank (1 is the highest), notes by id, which notes are
    called, boxes around boxes, names of speakers.  Headings of print's own title pages have no
    rank: they name the work (BF 2.3, 4.1).  ``numbers``: there are numbers beside prose, which
    number its lines where ``lines_numbered``, else its paragraphs (BF 15.2)."""

    ranks: Mapping[int, int]
    notes: dict[str, Footnote]
    called: frozenset[str]
    outer: frozenset[int]
    has_pages: bool
    speakers: frozenset[str] = frozenset()
    numbers: bool = False
    lines_numbered: bool = False

    @property
    def steps(self) -> int:
        """How many steps the headings of the work have."""
        return max(self.ranks.values(), default=0)

    def step(self, rank: int) -> int:
        """The step of a printed rank; one that only subtitles have counts as the next below."""
        known = sorted(self.ranks)
        return self.ranks[known[min(bisect_left(known, rank), len(known) - 1)]] if known else 0

    def waits(self, note: Footnote) -> bool:
        """Whether print calls this note somewhere, so that it comes with its call."""
        return note.id in self.called and self.notes.get(note.id) is note


def survey(document: Document) -> Survey:
    """Look over a work once, without recursion."""
    ledger = document.ledger
    ranks: list[int] = []
    under: list[int] = []
    notes: dict[str, Footnote] = {}
    called: set[str] = set()
    speakers: set[str] = set()
    titles: set[int] = set()
    numbers: set[bool] = set()
    pages = bool(document.print_pages)
    for block in document.children:
        for node in walk(block):
            if isinstance(node, Section) and node.role in TITLE_PAGES:
                titles.update(id(inner) for inner in walk(node))
            elif isinstance(node, Speech):
                speakers.update(name for run in node.speaker if (name := name_of(run, ledger)))
            if isinstance(node, Heading) and id(node) not in titles:
                (under if node.role == "subtitle" else ranks).append(node.level)
            elif isinstance(node, Footnote) and node.kind == "foot":
                notes.setdefault(node.id, node)
            pages = pages or isinstance(node, PrintPage)
            pages = pages or any(isinstance(r, PrintPageTurn) for r in inlines_of(node))
            if isinstance(node, Paragraph) and any(type(r) is LineNumber for r in node.runs):
                numbers.add(numbers_lines(node.runs))
            called.update(r.target for r in inlines_of(node) if isinstance(r, NoteCall))
    return Survey(
        _steps(ranks or under),
        notes,
        frozenset(called),
        frozenset(_outer_boxes(document)),
        pages,
        frozenset(speakers),
        bool(numbers),
        True in numbers,
    )


def numbers_lines(runs: Inlines) -> bool:
    """Whether the numbers in a paragraph are those of its lines: one alone at the beginning may
    be that of the paragraph (BF 15.2)."""
    inside = any(type(run) is LineNumber for run in runs[1:])
    return inside or any(isinstance(run, LineBreak) for run in runs)


def _steps(ranks: Sequence[int]) -> dict[int, int]:
    """The step of each printed rank, from the ranks of the headings in order.

    A rank is one step below the one it stands under, so that no kind of heading is left out
    between them; where it stands under several, below the lowest of these, as one rank has one
    kind of heading throughout the work (BF 4.1).
    """
    above: dict[int, set[int]] = {}
    open_ranks: list[int] = []
    for rank in ranks:
        while open_ranks and open_ranks[-1] >= rank:
            open_ranks.pop()
        above.setdefault(rank, set()).update(open_ranks[-1:])
        open_ranks.append(rank)
    steps: dict[int, int] = {}
    for rank in sorted(above):
        steps[rank] = 1 + max((steps[higher] for higher in above[rank]), default=0)
    return steps


def _outer_boxes(document: Document) -> set[int]:
    """Boxes that hold a box and stand in none (BF 7.1)."""
    outer: set[int] = set()
    stack: list[tuple[object, int]] = [(block, 0) for block in document.children]
    while stack:
        node, around = stack.pop()
        if isinstance(node, Box):
            if around:
                outer.add(around)
            else:
                around = id(node)
        stack.extend((child, around) for child in children_of(node))
    return outer


def list_depth(node: ListBlock) -> int:
    """How many levels a list has; matter displayed, boxed or tabulated inside has its own."""
    deepest = 0
    stack: list[tuple[object, int]] = [(node, 0)]
    while stack:
        here, depth = stack.pop()
        if isinstance(here, ListBlock):
            depth += 1
            deepest = max(deepest, depth)
        if not isinstance(here, Displayed | Box | Table | Footnote):
            stack.extend((child, depth) for child in children_of(here))
    return deepest
