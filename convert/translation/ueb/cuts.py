"""Where letters fall into parts that no contraction may join."""

from __future__ import annotations

from ..louis_gate import Group, Groups
from .frame import APOSTROPHE, Frame
from .letters import Letters, shifted, spelled


def cuts_of(frame: Frame, start: int, end: int) -> list[int]:
    """The ends of the parts of a letters-sequence: at indicators, line ends, capital signs and
    readings a person decided."""
    if not (frame.inserts or frame.divides or frame.capital_signs or frame.word.readings):
        return [start, end]
    inner = [
        at
        for at in range(start + 1, end)
        if at in frame.inserts
        or at in frame.divides
        or frame.readings[at] != frame.readings[at - 1]
        or (at in frame.capital_signs and frame.kinds[at - 1] != APOSTROPHE)
    ]
    return [start, *inner, end]


def at_capitals(frame: Frame, letters: Letters, groups: Groups, start: int) -> Groups:
    """Groups cut where a capital sign after an apostrophe falls inside one (MUST'VE)."""
    out: list[Group] = []
    for group in groups:
        cuts = [
            at - start
            for at in range(start + group.start + 1, start + group.end)
            if at in frame.capital_signs
        ]
        if not cuts:
            out.append(group)
            continue
        text = "".join(frame.gates[start + group.start : start + group.end])
        apostrophe = cuts[0] - group.start - 1
        head = letters.part(text[:apostrophe], True, True).groups
        tail = shifted(spelled(text[apostrophe:]), apostrophe)
        out.extend(shifted((*head, *tail), group.start))
    return tuple(out)
