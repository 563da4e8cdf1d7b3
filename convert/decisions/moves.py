"""Blocks moved beside others, one after another, in the tree as it has become by then."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from ..document.nodes import Document, walk
from .anchor import find
from .index import Index
from .rows import Row
from .tree import Plan, Walk

_WITHIN = "a block cannot be moved beside itself"
_GONE = "another decision leaves one of the two blocks out, or divides it"


class Moves:
    """The moves of a document; ``watch`` are the nodes whose becoming they need to know."""

    def __init__(self, index: Index) -> None:
        self._index = index
        self._pairs: list[tuple[Row, int, int]] = []
        self._now: dict[int, tuple[Any, ...]] = {}

    @property
    def watch(self) -> frozenset[int]:
        """The nodes of the document that move, or that something moves to."""
        return frozenset(self._now)

    def add(self, row: Row) -> None:
        """Take a move; one whose goal is not found is stale."""
        decision = row.decision
        to, beside = decision.word("to"), decision.word("beside")
        found = find(replace(decision, at=to, expect=beside, near=("", ""), what=""), self._index)
        if not found.targets:
            row.state, row.note = "stale", f"of the block to move it to, {found.why}"
            row.found = found
            return
        block, goal = row.targets[0].node, found.targets[0].node
        if any(node is block for node in self._index.above(goal)):
            row.state, row.note = "unused", _WITHIN
            return
        self._now |= {id(block): (block,), id(goal): (goal,)}
        self._pairs.append((row, id(block), id(goal)))

    def carry_out(self, document: Document, step: Walk) -> Document:
        """The document with its blocks moved; ``step`` has changed it before."""
        self._now |= step.now
        for row, block, goal in self._pairs:
            document = self._one(document, row, self._now[block], self._now[goal])
        return document

    def _one(
        self, document: Document, row: Row, block: tuple[Any, ...], goal: tuple[Any, ...]
    ) -> Document:
        if len(block) != 1 or not goal:
            row.state, row.note = "unused", _GONE
            return document
        before = row.decision.word("where", "before") == "before"
        target = goal[0] if before else goal[-1]
        there = {id(node) for node in walk(document)}
        inside = {id(node) for node in walk(block[0])}
        if id(target) in inside or not {id(target), id(block[0])} <= there:
            row.state, row.note = "unused", _GONE
            return document
        watched = {id(node) for nodes in self._now.values() for node in nodes}
        plans = {
            id(block[0]): Plan(shape=lambda node: ()),
            id(target): Plan(before=[block[0]]) if before else Plan(after=[block[0]]),
        }
        step = Walk(plans, frozenset(watched - inside))
        document = step.document(document)
        for key, nodes in self._now.items():
            fresh = (step.now.get(id(node), (node,)) for node in nodes)
            self._now[key] = tuple(new for some in fresh for new in some)
        return document
