"""Decisions on a document: what each changes of the tree, and the choices later rooms obey.

find every place -> settle who decides where two meet -> gather plans and choices
-> change the tree in one walk -> moves -> put page turns in order again
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from ..document.nodes import Document, PrintPage, PrintPageTurn, inlines_of, walk
from ..document.tidy import hoist_turns, lift_turns
from ..document.whole_words import join_runs
from ..findings import Findings
from .anchor import Found, Target, find
from .changes import ACTIONS
from .claims import settle_claims
from .index import Index
from .moves import Moves
from .record import Decision, Record, is_whole
from .rows import Row
from .tree import Walk
from .work import Work


@dataclass(slots=True)
class Decided:
    """A document after decisions, and the decisions with what became of them."""

    document: Document
    rows: list[Row] = field(default_factory=list)

    def records(self) -> tuple[Record, ...]:
        """The records, in the order of the job file's layers."""
        return tuple(row.record() for row in self.rows)


def decide(document: Document, decisions: Sequence[Decision], findings: Findings) -> Decided:
    """Apply decisions to a document.

    A decision applies only where its address and print agree (see `anchor`); what does not
    apply is a finding.  Raises JobError if two decisions contradict or one is locked.
    """
    if not decisions:
        return Decided(document)
    index = Index(document)
    rows = [_row(decision, index) for decision in decisions]
    settle_claims(rows)
    work = Work(index, findings)
    moves = Moves(index)
    for row in sorted(rows, key=lambda row: not is_whole(row.decision)):
        if not row.acts or row.decision.verb == "accept":
            continue
        if row.decision.verb == "move":
            moves.add(row)
        elif note := ACTIONS[row.decision.verb](work, row.decision, row.targets):
            row.state, row.note = "unused", note
    step = Walk(work.plans, moves.watch)
    changed = moves.carry_out(step.document(document), step)
    changed = _in_order(changed, findings)
    kept = tuple(one for one in document.omissions if (one.start, one.end) not in work.back)
    omissions = (*kept, *work.omissions())
    choices = tuple(sorted({*document.choices, *work.choices}))
    _file(rows, index, findings)
    return Decided(replace(changed, omissions=omissions, choices=choices), rows)


def _row(decision: Decision, index: Index) -> Row:
    needs_no_place = decision.verb == "accept" and (decision.everywhere or decision.word("id"))
    if needs_no_place:
        return Row(decision, Found("applied"), (), "applied")
    if is_whole(decision):
        end = len(index.ledger.text)
        every = Target(index.document, (0, end), (0, 0))
        return Row(decision, Found("applied", (every,)), (every,), "applied")
    found = find(decision, index)
    return Row(decision, found, found.targets, found.state, found.why)


def _in_order(document: Document, findings: Findings) -> Document:
    """Runs joined and page turns lifted again; print pages listed as they stand now."""
    for tidy in (join_runs, lift_turns, hoist_turns):
        document = tidy(document, findings)
    labels: list[str] = []
    for node in walk(document):
        if isinstance(node, PrintPage):
            labels.append(node.label or "")
        labels += [r.label or "" for r in inlines_of(node) if isinstance(r, PrintPageTurn)]
    return replace(document, print_pages=tuple(labels))


# ---------------------------------------------------------------- what is told


def _file(rows: Sequence[Row], index: Index, findings: Findings) -> None:
    """Findings for decisions that did not simply apply."""
    for row in rows:
        verb, where = row.decision.verb, row.decision.place
        span = row.targets[0].span if row.targets else None
        if row.state == "stale":
            near = row.found.near[:80]
            nearest = f"The nearest print is “{near}”." if near else "No print is like it."
            expect = row.decision.expect[:80]
            findings.add(
                "decision.stale", verb=verb, where=where, expect=expect, why=row.note, near=nearest
            )
        elif row.state == "followed":
            now = index.ledger.address(row.targets[0].hit[0]) or "elsewhere"
            was = row.decision.at
            findings.add("decision.followed", span, verb=verb, where=where, was=was, now=now)
        elif row.state in ("unused", "overridden"):
            kind = "decision.unused" if row.state == "unused" else "decision.overridden"
            findings.add(kind, span, verb=verb, where=where, why=row.note)
