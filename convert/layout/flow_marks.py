"""What the columns of a table hold: entries marked to be matched, words of several languages."""

from __future__ import annotations

import re
from collections.abc import Sequence

from ..document.ledger import Ledger
from ..document.nodes import Run, text_of
from .flow_grid import Line, flat
from .flow_runs import shows

MARKER = re.compile(r"\(?(?:(\d{1,2})|[A-Za-z])[.)](?:\s|$)")


def marks(rows: Sequence[Line], column: int, ledger: Ledger) -> set[str]:
    """What marks the entries of a column: ``number``, ``letter``, "" for nothing."""
    kinds: set[str] = set()
    for row in rows:
        words = text_of(flat(row.spots[column].entry.children)[0], ledger).strip(" _\t\xa0")
        if words:
            found = MARKER.match(words)
            kinds.add(("number" if found[1] else "letter") if found else "")
    return kinds


def in_languages(rows: Sequence[Line], ledger: Ledger) -> bool:
    """Whether each column is in one language, and not all in the same."""
    tongues: dict[int, set[str]] = {}
    for row in rows:
        for spot in row.spots:
            for run in flat(spot.entry.children)[0]:
                if isinstance(run, Run) and shows(run, ledger):
                    tongues.setdefault(spot.column, set()).add(run.lang)
    found = list(tongues.values())
    return all(len(langs) == 1 for langs in found) and len(set().union(*found)) > 1
