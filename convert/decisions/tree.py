"""One walk that changes a tree as decisions ask: what each node becomes, all at once.

Nodes are frozen and known by identity, so decisions are first gathered (a `Plan` for every
node that changes) and then carried out innermost first.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from ..document.nodes import (
    INLINES,
    Added,
    Box,
    Displayed,
    Document,
    Footnote,
    ListBlock,
    ListItem,
    Paragraph,
    PrintPage,
    PrintPageTurn,
    Section,
    Speech,
    Table,
    TableEntry,
    TableRow,
    TranscriberNote,
    Unknown,
    Verse,
    inlines_of,
    walk,
)
from .inlines import Change
from .splits import joined_tables

Shape = Callable[[Any], tuple[Any, ...]]
# Containers that are nothing without what they hold.
_HOLLOW = (ListBlock, Verse, Box, Displayed, TableRow, Section, TranscriberNote, Unknown)
# Containers that neighbours made by decisions share.
_SHARED = (ListBlock, Verse, Box, Displayed, Table)


@dataclass(slots=True)
class Plan:
    """What is to become of one node: its inlines, its shape, what stands beside it."""

    inline: list[Change] = field(default_factory=list)
    shape: Shape | None = None
    omit: bool = False
    join: bool = False
    before: list[Any] = field(default_factory=list)
    after: list[Any] = field(default_factory=list)


@dataclass(slots=True)
class Walk:
    """Carries out plans; ``now`` then holds what each node of ``watch`` became, ``made`` the
    containers that decisions made, ``joins`` the paragraphs that go on in the next one."""

    plans: Mapping[int, Plan]
    watch: frozenset[int] = frozenset()
    now: dict[int, tuple[Any, ...]] = field(default_factory=dict)
    made: set[int] = field(default_factory=set)
    joins: set[int] = field(default_factory=set)

    def document(self, document: Document) -> Document:
        """The document with every plan carried out."""
        return replace(document, children=self._all(document.children))

    def _all(self, nodes: Sequence[Any]) -> tuple[Any, ...]:
        fresh = tuple(new for node in nodes for new in self._one(node))
        fresh = self._joined(fresh) if self.made else fresh
        return self._going_on(fresh) if self.joins else fresh

    def _one(self, node: Any) -> tuple[Any, ...]:
        plan = self.plans.get(id(node))
        new = self._inside(node)
        if plan is not None and plan.inline and (name := INLINES.get(type(new))):
            runs = getattr(new, name)
            for change in plan.inline:
                runs = change(runs)
            new = replace(new, **{name: runs})
        out: tuple[Any, ...] = (new,)
        hollow = new is not node and _is_hollow(new)
        if hollow:
            out = new.caption if isinstance(new, Table) else ()
        if plan is not None and (plan.omit or not hollow):
            out = self._planned(plan, out)
        if plan is not None and plan.join and out:
            self.joins.add(id(out[-1]))
        if id(node) in self.watch:
            self.now[id(node)] = out
        return out if plan is None else (*plan.before, *out, *plan.after)

    def _planned(self, plan: Plan, nodes: tuple[Any, ...]) -> tuple[Any, ...]:
        if plan.omit:
            nodes = tuple(kept for node in nodes for kept in _kept(node))
        elif plan.shape is not None:
            nodes = tuple(new for node in nodes for new in plan.shape(node))
            self.made.update(id(node) for node in nodes if isinstance(node, _SHARED))
        return nodes

    def _inside(self, node: Any) -> Any:
        changes: dict[str, object] = {}
        for name in ("children", "entries", "caption"):
            kids = getattr(node, name, None)
            if kids:
                fresh = self._all(kids)
                if len(fresh) != len(kids) or any(
                    a is not b for a, b in zip(kids, fresh, strict=True)
                ):
                    changes[name] = fresh
        return replace(node, **changes) if changes else node

    def _going_on(self, nodes: tuple[Any, ...]) -> tuple[Any, ...]:
        """Paragraphs joined with the one that follows; a page turn between stands in the line."""
        out: list[Any] = []
        turns: list[PrintPage] = []
        for node in nodes:
            last = out[-1] if out else None
            if last is None or id(last) not in self.joins:
                out.append(node)
            elif isinstance(node, PrintPage):
                turns.append(node)
            elif isinstance(node, Paragraph):
                between = (*(PrintPageTurn(turn.label) for turn in turns), Added(" "))
                out[-1] = replace(last, runs=(*last.runs, *between, *node.runs))
                turns = []
                if id(node) in self.joins:
                    self.joins.add(id(out[-1]))
            else:
                out += [*turns, node]
                turns = []
        return (*out, *turns)

    def _joined(self, nodes: tuple[Any, ...]) -> tuple[Any, ...]:
        """Neighbours made one list, quotation, box or poem by decisions become one."""
        out: list[Any] = []
        for node in nodes:
            last = out[-1] if out else None
            both = last is not None and id(node) in self.made and id(last) in self.made
            if last is not None and both and _alike(last, node):
                out[-1] = (
                    joined_tables(last, node)
                    if isinstance(last, Table)
                    else replace(last, children=(*last.children, *node.children))
                )
                self.made.add(id(out[-1]))
            else:
                out.append(node)
        return tuple(out)


def _alike(a: Any, b: Any) -> bool:
    return type(a) is type(b) and getattr(a, "role", "") == getattr(b, "role", "")


def _is_hollow(node: Any) -> bool:
    if isinstance(node, Table):
        return not node.children
    if isinstance(node, TableRow):
        return not node.entries
    if isinstance(node, ListItem | Speech | Footnote):
        return not node.children and not inlines_of(node)
    return isinstance(node, _HOLLOW) and not getattr(node, "children", ())


def _kept(node: Any) -> tuple[Any, ...]:
    """What stays of a block that is left out: its print page turns, and its place in a row."""
    if isinstance(node, TableEntry):
        return (replace(node, children=_turns(node)),)
    return _turns(node)


def _turns(node: Any) -> tuple[PrintPage, ...]:
    out: list[PrintPage] = []
    for inner in walk(node):
        if isinstance(inner, PrintPage):
            out.append(inner)
        for inline in inlines_of(inner):
            if isinstance(inline, PrintPageTurn):
                out.append(PrintPage(label=inline.label, address=getattr(inner, "address", "")))
    return tuple(out)
