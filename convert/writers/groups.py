"""Findings of one kind side by side, and their offers by name, for the ear and the eye.

What is the same for a whole kind (what to do, the standard, the names of the offers) is said
once, before its findings.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from itertools import groupby
from typing import NamedTuple

from .findings_record import FindingRecord

_LABEL = re.compile(r"(?m)^# (.+)$")
_VERB = re.compile(r'(?m)^do\s*=\s*"([^"]+)"')


class Group(NamedTuple):
    """Findings of one kind that follow one another.

    ``offers`` are the names of the decisions offered, where they are the same for all.
    """

    name: str
    kind: str
    remedy: str
    standard: str | None
    findings: list[FindingRecord]
    offers: tuple[str, ...]

    @property
    def places(self) -> int:
        """How many places they have together."""
        return sum(len(record.places) for record in self.findings)


def groups(rows: Iterable[FindingRecord]) -> list[Group]:
    """The findings as groups, in the order given."""
    out = []
    for kind, members in groupby(rows, key=lambda record: record.kind):
        own = list(members)
        first = own[0]
        names = {offer_names(record) for record in own}
        offers = names.pop() if len(names) == 1 else ()
        out.append(Group(first.kind_name, kind, first.remedy, first.standard, own, offers))
    return out


def offer_names(record: FindingRecord) -> tuple[str, ...]:
    """What each offer of a finding would do, in words: the first remark of its stanza."""
    return tuple(map(_offer_name, record.offer))


def _offer_name(stanza: str) -> str:
    found = _LABEL.search(stanza) or _VERB.search(stanza)
    return found[1] if found else "as written below"
