"""Findings that decisions settle: they stay in the report, as recorded.

A finding is settled at a place by ``accept``, or by a decision in force there whose verb the
catalogue offers for that kind.  Of a grouped finding only the places decided are settled.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Sequence
from dataclasses import replace

from ..findings import TOLD, Finding, Findings, Span, catalogue, number
from .anchor import head
from .record import Decision, is_whole
from .rows import Row

_FAR = 1 << 60


def settle_findings(findings: Iterable[Finding], rows: Sequence[Row], text: str) -> list[Finding]:
    """The findings, numbered, with those settled marked; and findings for acceptances that met
    nothing.  ``rows`` get their states and the ids of what they settled."""
    found = list(findings)
    acting = [row for row in rows if row.acts]
    if not acting:
        return found
    index = {id(row): _Spans(row, text) for row in acting}
    out: list[Finding] = []
    ids = {finding.id for finding in found}
    free = [row for row in acting if row.decision.answers not in ids]
    named: dict[str, list[Row]] = {}
    for row in acting:
        named.setdefault(row.decision.answers, []).append(row)
    for finding in found:
        out += _settled(finding, free + named.get(finding.id, []), index)
    late = Findings()
    for row in acting:
        if row.decision.verb == "accept":
            _close(row, late)
    return [*out, *number(late.all(), text)]


def _settled(finding: Finding, rows: Sequence[Row], index: dict[int, _Spans]) -> list[Finding]:
    """A finding as it is, as settled, or as two: the places settled and those that are left."""
    if finding.severity == TOLD or not rows:
        return [finding]
    verbs = {row.get("do") for row in catalogue()[finding.kind].offers}
    open_spans = list(finding.spans)
    done: list[Span] = []
    by: list[Row] = []
    for row in rows:
        accepts = row.decision.verb == "accept"
        if not (_accepts(row, finding) if accepts else row.decision.verb in verbs):
            continue
        if not finding.spans:
            if accepts or row.decision.answers == finding.id or _names(row, finding):
                _note(row, finding, by)
            continue
        mine = open_spans if accepts and not row.targets else index[id(row)].of(open_spans)
        if mine:
            _note(row, finding, by)
            done += mine
            open_spans = [span for span in open_spans if span not in mine]
    if not by:
        return [finding]
    told = " ".join(dict.fromkeys(_sentence(row.decision) for row in by))
    if not open_spans:
        return [replace(finding, settled=told)]
    some = replace(_part(finding, done), settled=told, id=f"{finding.id}-settled")
    return [_part(finding, open_spans), some]


def _part(finding: Finding, spans: Sequence[Span]) -> Finding:
    """The finding with some of its places."""
    places = finding.places
    if len(places) == len(finding.spans):
        where = dict(zip(finding.spans, places, strict=True))
        places = tuple(where[span] for span in spans)
    return replace(finding, spans=tuple(spans), places=places)


def _accepts(row: Row, finding: Finding) -> bool:
    """Whether an acceptance is about a finding."""
    decision = row.decision
    if decision.get("kind") != finding.kind:
        return False
    if decision.word("id") and decision.word("id") != finding.id:
        return False
    about = decision.word("about")
    if about and about not in (value for _, value in finding.facts):
        return False
    most = decision.get("places", 0)
    if isinstance(most, int) and most and len(finding.spans) > most:
        row.note = f"it accepts {most} places, and there are {len(finding.spans)} now"
        return False
    return True


def _names(row: Row, finding: Finding) -> bool:
    """Whether a finding without a place in print is about what a decision concerns."""
    facts = dict(finding.facts)
    name = str(facts.get("resource") or facts.get("picture") or "")
    if name:
        return any(name in (known, known.rsplit("/", 1)[-1]) for known in row.names)
    return row.decision.verb == "print-page" or is_whole(row.decision)


def _note(row: Row, finding: Finding, by: list[Row]) -> None:
    row.settled.append(finding.id)
    by.append(row)


def _sentence(decision: Decision) -> str:
    """Who settled a finding, and why."""
    what = "Accepted" if decision.verb == "accept" else f"Settled by “{decision.verb}”"
    who = f" by {decision.by}" if decision.by else ""
    why = f": {decision.why.rstrip('.')}" if decision.why.strip() else ""
    return f"{what}{who}{why} ({decision.place})."


def _close(row: Row, late: Findings) -> None:
    """The state of an acceptance once all findings are known."""
    decision = row.decision
    if row.settled:
        row.state, row.note = "accepted", ""
    elif row.note:
        row.state = "stale"
        late.add(
            "decision.stale", verb="accept", where=decision.place, why=row.note,
            expect=decision.word("kind"), near="The report lists such findings.",
        )  # fmt: skip
    else:
        row.state, row.note = "unused", "there is no such finding now"
        kind = decision.word("kind")
        late.add("decision.nothing-to-accept", where=decision.place, about=kind)


class _Spans:
    """The stretches a decision concerns, for asking which of many they touch."""

    def __init__(self, row: Row, text: str) -> None:
        self._text = text
        accepts = row.decision.verb == "accept"
        self._heads = {target.hit[0] for target in row.targets} if accepts else None
        spans = sorted({*row.spans, *(target.hit for target in row.targets)})
        self._spans = spans
        self._begun = {start for start, _ in spans}
        self._longest = max((end - start for start, end in spans), default=0)

    def of(self, spans: Iterable[Span]) -> list[Span]:
        """Those of ``spans`` that touch one of these: overlap, or an empty one inside.  What is
        accepted must begin at the very place."""
        if self._heads is not None:
            return [span for span in spans if head(self._text, span)[0] in self._heads]
        return [span for span in spans if self._touches(span) or self._begins(span)]

    def _begins(self, span: Span) -> bool:
        """Whether a place between characters is that of the print which comes next."""
        return span[0] == span[1] and head(self._text, span)[0] in self._begun

    def _touches(self, span: Span) -> bool:
        start, end = span
        at = bisect_left(self._spans, (start - self._longest, -_FAR))
        while at < len(self._spans) and self._spans[at][0] <= max(end, start + 1):
            low, high = self._spans[at]
            if low < end and start < high:
                return True
            if (low == high or start == end) and low <= end and start <= high:
                return True
            at += 1
        return False
