"""What decisions have gathered on their way into the tree: plans, choices, omissions."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from ..document.choices import Choice
from ..document.nodes import Omission
from ..findings import Findings, Span
from .anchor import Target
from .index import Index
from .record import Decision
from .tree import Plan

OMITTED, REPLACED = "decision.omitted", "decision.replaced"


@dataclass(slots=True)
class Work:
    """What decisions have gathered so far: plans by node, choices, what was left out, and what
    is no longer left out."""

    index: Index
    findings: Findings
    plans: dict[int, Plan] = field(default_factory=dict)
    choices: list[Choice] = field(default_factory=list)
    gone: dict[str, list[Span]] = field(default_factory=dict)
    back: set[Span] = field(default_factory=set)

    def plan(self, node: Any) -> Plan:
        """The plan of a node."""
        return self.plans.setdefault(id(node), Plan())

    def out(self, why: str) -> list[Span]:
        """Takes the stretches left out for a reason of the catalogue."""
        return self.gone.setdefault(why, [])

    def omissions(self) -> tuple[Omission, ...]:
        """What was left out, in the order of print."""
        found = [
            Omission(start, end, why)
            for why, spans in self.gone.items()
            for start, end in spans
            if start < end
        ]
        return tuple(sorted(found, key=lambda one: (one.start, one.end)))

    def added(self, text: str, span: Span) -> None:
        """Tell of words that print does not have."""
        self.findings.add("decision.words-added", span, words=text[:200])


Action = Callable[[Work, Decision, tuple[Target, ...]], str]
