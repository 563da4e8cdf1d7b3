"""Where a decision applies now: where its address and its print agree, or where both its print
and the print around it stand alone; nowhere else.

A decision that was written for one place and is applied to another would be worse than one that
is not applied.  So print that has moved is followed only if

* the print it expects, with the neighbours it names on both sides, is found exactly once, or
* it names no neighbours, expects at least ``LONG`` characters, and these are found exactly once.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from ..document.nodes import (
    DisplayMath,
    Document,
    Graphic,
    Heading,
    InlineGraphic,
    ListItem,
    MathRun,
    Paragraph,
    PrintPage,
    Table,
    TableEntry,
    TableRow,
    VerseLine,
    inlines_of,
)
from ..findings import Span
from .index import Index, file_name
from .nearest import nearest, page_turn, turn_offset
from .record import WHAT, Decision
from .shapes import fits
from .verbs import verbs

LONG = 24  # Characters that hardly stand twice by chance (common practice, no source).
ENOUGH = 10  # Characters of one neighbour that are enough where the other has changed.
AHEAD = 40  # Characters of print that stand for a place between characters.
# Print that begins a word, or a number with its sign: "–5" is not meant in "1914–5".
_BEGINS_APART = re.compile(r"[^\W_]|[-‐‑–−+]\d")
_NOT_BLOCKS = (Document, TableEntry, TableRow, PrintPage)


@dataclass(frozen=True, slots=True)
class Target:
    """A place: the node, the stretch meant, the stretch that reads as expected.

    ``whole``: the node itself is meant, not some print in it.  ``inline`` is the picture,
    formula or page turn meant where that stands in the node's line.
    """

    node: Any
    span: Span
    hit: Span
    inline: Any = None
    whole: bool = True


@dataclass(frozen=True, slots=True)
class Found:
    """The targets of a decision, how they were found, and the nearest print where none was."""

    state: str
    targets: tuple[Target, ...] = ()
    why: str = ""
    near: str = ""


def squeeze(text: str) -> str:
    """Text with each stretch of white space as one space, none at the ends."""
    return " ".join(text.split())


def head(text: str, span: Span) -> Span:
    """The print that a stretch begins with, without white space at its ends; of an empty one the
    print that comes next, or what comes before it at the very end."""
    start, end = span
    if text[start:end].strip():
        start += len(text[start:end]) - len(text[start:end].lstrip())
        return start, start + len(text[start:end].rstrip())
    while start < len(text) and text[start].isspace():
        start += 1
    if start >= len(text):
        end = len(text.rstrip())
        return max(0, end - AHEAD), end
    stop = text.find("\n", start)
    return start, min(len(text) if stop < 0 else stop, start + AHEAD)


def find(decision: Decision, index: Index) -> Found:
    """The place or places of a decision."""
    search = _Search(decision, index)
    if decision.everywhere:
        every = tuple(search.candidates())
        return Found("applied", every) if every else search.stale("its print stands nowhere")
    if not decision.at:
        return _without_address(search)
    home = search.home()
    if home is not None and search.agrees(home) == 2:
        return Found("applied", (home,))
    rest = [one for one in search.candidates() if home is None or one.hit != home.hit]
    full = [one for one in rest if search.agrees(one) == 2 and search.firm(one)]
    if search.has_near and len(full) == 1 and decision.follow:
        return Found("followed", (full[0],))
    if home is not None:
        return _at_home(search, home, rest)
    if not decision.follow:
        return search.stale("its print is not there any more, and other places read just so")
    if len(rest) == 1 and len(decision.expect) >= LONG:
        return Found("followed", (rest[0],))
    if rest:
        return search.stale("its print has moved or is gone, and what reads alike may be another")
    return search.stale("its print is not there any more")


def _at_home(search: _Search, home: Target, rest: list[Target]) -> Found:
    """The place at the address, where its neighbours have changed: it is the one meant if some
    of its own block is as it was, or it reads as a long stretch, and no other place may be it."""
    sure = search.agrees(home) or len(search.decision.expect) >= LONG
    if sure and not any(search.agrees(other) for other in rest):
        return Found("applied", (home,))
    return search.stale("its print stands there, among other neighbours")


def _without_address(search: _Search) -> Found:
    found = [one for one in search.candidates() if search.agrees(one) == 2]
    if len(found) == 1:
        return Found("applied", (found[0],))
    if found:
        return search.stale(f"its print stands in {len(found)} places, and it has no address")
    return search.stale("its print stands nowhere")


class _Search:
    """Looks for the places of one decision."""

    def __init__(self, decision: Decision, index: Index) -> None:
        self.decision, self.index = decision, index
        self._text = index.ledger.text
        self.place = verbs()[decision.verb].place
        self.expect = squeeze(decision.expect)
        self.by_print = _by_print(decision, self.place)
        self.has_near = any(part.strip() for part in decision.near)

    def agrees(self, target: Target) -> int:
        """How far the neighbours agree: 2 all that are named, 1 those on one side, some of the
        same block, 0 less than that."""
        before, after = map(squeeze, self.decision.near)
        start, end = target.hit
        low, high = self.index.extent[id(target.node)]
        room = 3 * max(len(before), len(after)) + 20
        left = squeeze(self._text[max(0, start - room) : start])
        right = squeeze(self._text[end : end + room])
        if left.endswith(before) and right.startswith(after):
            return 2
        own_left = squeeze(self._text[max(low, start - room) : start])
        own_right = squeeze(self._text[end : min(high, end + room)])
        one = (len(before) >= ENOUGH and own_left.endswith(before)) or (
            len(after) >= ENOUGH and own_right.startswith(after)
        )
        return int(one)

    def firm(self, target: Target) -> bool:
        """Whether the neighbours say enough on both sides: ``ENOUGH`` characters, or all there is
        at the beginning or the end of the print."""
        before, after = map(squeeze, self.decision.near)
        start, end = target.hit
        left = len(before) >= ENOUGH or squeeze(self._text[max(0, start - 40) : start]) == before
        return left and (len(after) >= ENOUGH or squeeze(self._text[end : end + 40]) == after)

    # ------------------------------------------------------------ the place of the address

    def home(self) -> Target | None:
        """The place at the address, if it reads as expected."""
        at = self.decision.at
        offset = self.index.offset(at)
        if offset is not None:
            hit = self._reads_at(offset)
            if hit is not None:
                found = self._target(hit)
                if found is not None:
                    return found
        for node in reversed(self.index.named(at)):
            found = self._of_node(node)
            if found is not None:
                return found
        return None

    def _reads_at(self, offset: int) -> Span | None:
        while self._text[offset : offset + 1].isspace():
            offset += 1
        match = self._pattern().match(self._text, offset) if self.expect else None
        return match.span() if match else None

    def _of_node(self, node: Any) -> Target | None:
        """A node named by its address, as a target of the verb, if it reads as expected."""
        start, end = self.index.extent[id(node)]
        if self.place == "picture":
            return next((t for t in self._pictures() if t.node is node), None)
        if self.place == "page":
            return next((t for t in self._pages() if t.node is node), None)
        if self.by_print and self.expect:
            hits = [m.span() for m in self._pattern(True).finditer(self._text, start, end)]
            return self._target(hits[0]) if len(hits) == 1 else None
        words = self.index.words(node)
        hit = self._reads_at(start) if words.startswith(self.expect) else None
        if hit is None:
            if self.expect or words:
                return None
            hit = (start, start)
        block = self._suited(node)
        return Target(block, self.index.extent[id(block)], hit) if block is not None else None

    # ------------------------------------------------------------ all places that read so

    def candidates(self) -> list[Target]:
        """All places that read as expected: in the file of the address, if it is still there."""
        if self.place == "picture":
            return list(self._pictures())
        if self.place == "page" and (pages := list(self._pages())):
            return pages
        if not self.expect:
            return []
        text = self._text
        part = self.index.part_span(self.decision.at) if self.decision.at else None
        low, high = part or (0, len(text))
        if self.decision.everywhere:
            low, high = 0, len(text)
        found: list[Target] = []
        for match in self._pattern(bounded=True).finditer(text, low, high):
            target = self._target(match.span())
            if target is not None and not self._ambiguous(target):
                found.append(target)
        return found

    def _ambiguous(self, target: Target) -> bool:
        """Whether several blocks begin with this print and nothing says which is meant."""
        if self.by_print or self.place in ("formula", "table") or self.decision.what:
            return False
        above = self.index.parent.get(id(target.node))
        return above is not None and self._suited(above, target.hit[0]) is not None

    def _pattern(self, bounded: bool = False) -> re.Pattern[str]:
        words = r"\s+".join(map(re.escape, self.expect.split()))
        if bounded and not _is_sign(self.expect):
            left = r"(?<!\w)" if _BEGINS_APART.match(self.expect) else ""
            ends = r"(?!\w|[.,]\d)" if self.expect[-1:].isdigit() else r"(?!\w)"
            right = ends if self.by_print and self.expect[-1:].isalnum() else ""
            words = f"{left}{words}{right}"
        return re.compile(words)

    def _target(self, hit: Span) -> Target | None:
        """The target of the verb for print that reads as expected."""
        if self.place == "omitted":
            return self._omitted(hit)
        leaf = self.index.holding(hit[0])
        if leaf is None:
            return None
        if self.place == "formula":
            return self._formula(leaf, hit)
        if self.by_print or self.place == "page":
            return Target(leaf, hit, hit, whole=False)
        node = self._suited(leaf, hit[0])
        return Target(node, self.index.extent[id(node)], hit) if node is not None else None

    def _omitted(self, hit: Span) -> Target | None:
        """Print that was left out, all of the stretch that begins so."""
        span = self.index.left_out(hit[0])
        leaf = self.index.before(hit[0]) if span else None
        return Target(leaf, span, hit, whole=False) if span and leaf is not None else None

    def _formula(self, leaf: Any, hit: Span) -> Target | None:
        if isinstance(leaf, DisplayMath):
            return Target(leaf, (leaf.start, leaf.end), hit)
        for inline in inlines_of(leaf):
            if isinstance(inline, MathRun) and inline.start <= hit[0] < inline.end:
                return Target(leaf, (inline.start, inline.end), hit, inline, False)
        if self.decision.verb != "math-text":
            return None
        # Plain print and pictures become formulas by being read as one.
        for inline in inlines_of(leaf):
            if isinstance(inline, InlineGraphic) and inline.start <= hit[0] < inline.end:
                return Target(leaf, (inline.start, inline.end), hit, inline, False)
        return Target(leaf, hit, hit, whole=False)

    def _suited(self, leaf: Any, start: int | None = None) -> Any | None:
        """The node the verb acts on, at or around a node; one that begins at ``start``, if given
        (a table may have a caption before)."""
        for node in self.index.above(leaf):
            if isinstance(node, Document):
                return None
            if self.place == "table":
                if isinstance(node, Table):
                    return node
                continue
            if isinstance(node, _NOT_BLOCKS):
                continue
            begins = start is None or self.index.extent[id(node)][0] == start
            if begins and _fits(self.decision, node):
                return node
        return None

    def _pictures(self) -> Iterator[Target]:
        """Pictures that read as expected, or whose file has that name."""
        for node, resource in self.index.pictures():
            span = self.index.extent[id(node)]
            if isinstance(node, Graphic):
                names = (self.index.words(node)[: len(self.expect)], file_name(resource))
                if self.expect in names:
                    yield Target(node, span, (span[0], span[0]))
                continue
            for inline in inlines_of(node):
                if isinstance(inline, InlineGraphic) and inline.resource == resource:
                    words = squeeze(self._text[inline.start : inline.end])
                    if self.expect in (words, file_name(resource)):
                        here = (inline.start, inline.end)
                        yield Target(node, here, (inline.start, inline.start), inline, False)

    def _pages(self) -> Iterator[Target]:
        """Print pages whose label is the one expected; a block where none begins yet."""
        for node, label in self.index.pages():
            if (label or "unnumbered") == self.expect:
                start, end = self.index.extent[id(node)]
                turn = page_turn(inlines_of(node), label)
                at = turn_offset(inlines_of(node), turn) if turn else start
                yield Target(node, (start, end), (at, at), turn)
        address = self.decision.at
        offset = self.index.offset(address) if address else None
        named = [self.index.extent[id(node)][0] for node in self.index.named(address)]
        for start in named if offset is None else [offset]:
            hit = self._reads_at(start)
            leaf = self.index.holding(start)
            if hit and leaf is not None:
                yield Target(leaf, hit, hit, whole=False)
                return

    # ------------------------------------------------------------ where nothing was found

    def stale(self, why: str) -> Found:
        """Nothing was found: why, and the nearest print."""
        return Found("stale", (), why, nearest(self.decision, self.index))


def _is_sign(words: str) -> bool:
    """Whether words are one sign that may stand anywhere in a word, such as a letter of another
    script."""
    return len(words) == 1 and not words.isascii()


def _by_print(decision: Decision, place: str) -> bool:
    """Whether a decision is about the very print it expects, not about a block."""
    if place in ("print", "finding", "omitted"):
        return True
    return place == "either" and (decision.everywhere or ":" in decision.at.partition("!")[2])


def _fits(decision: Decision, node: Any) -> bool:
    """Whether a block verb can act on a node."""
    if decision.what and type(node).__name__ != WHAT[decision.what]:
        return False
    if decision.verb == "treat-as":
        return fits(decision.word("role"), node)
    if decision.verb == "heading":
        return isinstance(node, Paragraph | Heading)
    if decision.verb == "contents":
        return isinstance(node, Heading)
    return not (isinstance(node, VerseLine | ListItem) and decision.verb != "omit")
