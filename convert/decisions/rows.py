"""A decision on its way through the document: where it was found, what became of it."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from ..findings import Span
from .anchor import Found, Target
from .record import Decision, Record, record_of


@dataclass(slots=True)
class Row:
    """``state`` is a word of ``record.STATES``; ``settled`` the ids of findings it settled;
    ``names`` the files of the pictures it concerns."""

    decision: Decision
    found: Found
    targets: tuple[Target, ...]
    state: str
    note: str = ""
    settled: list[str] = field(default_factory=list)

    @property
    def acts(self) -> bool:
        """Whether it is in force."""
        return self.state in ("applied", "followed")

    @property
    def spans(self) -> tuple[Span, ...]:
        """The stretches of the ledger it concerns."""
        return tuple(target.span for target in self.targets)

    @property
    def names(self) -> set[str]:
        """The files of the pictures it concerns."""
        found = {getattr(t.inline or t.node, "resource", "") for t in self.targets}
        return {name for name in found if name}

    def record(self) -> Record:
        """The record for the report."""
        made = record_of(self.decision, self.state, self.note, self.spans)
        return replace(made, settled=tuple(self.settled))
