"""A table on its way to items: its words once as print, after that as added words."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from ..document.nodes import Inlines, TableEntry, text_of
from ..findings import Span
from .flow_grid import Spot, flat
from .flow_runs import copied, note, spaced, span_of
from .flow_state import Flow, Scope

LONGEST_COPY = 200


@dataclass(slots=True)
class Setting:
    """A table on its way: column headings by column, and which of them print has used up;
    ``wording`` is
    what a person wants the note about it to say, ``none`` for nothing."""

    flow: Flow
    scope: Scope
    heads: dict[int, list[Spot]] = field(default_factory=dict)
    used: set[int] = field(default_factory=set)
    rows: int = 0
    reason: str = ""
    where: Span | None = None
    wording: str = ""
    worded: str = ""

    def words(self, name: str) -> str:
        return self.flow.convention.notes[name].words

    def once(self, entry: TableEntry) -> Inlines:
        """The words of an entry on one line: as print the first time, then as added words."""
        ledger = self.flow.document.ledger
        runs, notes = flat(entry.children)
        if id(entry) not in self.used:
            self.used.add(id(entry))
            for body in notes:
                if not self.flow.survey.waits(body):
                    self.flow.due(body)
            return runs
        words = copied(runs, ledger)
        if words and len(text_of(words, ledger)) > LONGEST_COPY:
            return note(self.words("same-entry"))
        return words

    def label(self, spot: Spot) -> Inlines:
        """The column headings above a spot, joined."""
        out: Inlines = ()
        seen: set[int] = set()
        for column in range(spot.column, spot.column + spot.columns):
            for head in self.heads.get(column, ()):
                if id(head.entry) not in seen:
                    seen.add(id(head.entry))
                    out = spaced(out, self.heading(head), self.flow.document.ledger, ", ")
        return out

    def empty_note(self) -> None:
        """The note that tells what guide dots without an entry mean (BF 11.2)."""
        note_on(self, note(self.words("table-empty")))

    def heading(self, head: Spot) -> Inlines:
        """A heading on one line, without the typeform it wears throughout (BF 11.2)."""
        return self.flow.upright(self.once(head.entry), "table-heading", "whole")


def note_on(setting: Setting, runs: Inlines) -> None:
    """A transcriber's note about the table, before what it explains (BF 3.1, 11.2)."""
    if setting.wording and span_of(runs) is not None:
        setting.flow.findings.add(
            "layout.choice-not-followed",
            setting.where,
            choice=f"table-note {setting.wording}",
            reason="a heading of print stands only in that note",
        )
    elif setting.wording:
        if setting.wording in ("none", setting.worded):
            return
        setting.worded = setting.wording
        runs = note(setting.wording)
    setting.flow.put("table-note", runs, replace(setting.scope, group=None))
