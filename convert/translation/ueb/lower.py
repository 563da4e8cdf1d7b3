"""The lower-sign rule (UEB 10.5, 10.6.10, 10.10.10), applied to a word's finished signs."""

from __future__ import annotations

from functools import cache

from .. import signs
from .letters import Letters, spelled
from .word import CAPITAL, GRADE1, LETTERS, LINE_END, PUNCTUATION, QUOTATION, Item

_SPELLED_BESIDE_LOWER = ("be", "were", "his", "was")


@cache
def _lower_signs() -> frozenset[str]:
    """The cells of wordsigns and groupsigns with lower dots only."""
    kinds = ("lower wordsign", "lower groupsign", "middle groupsign")
    return frozenset(row.cells for row in signs.signs() if row.kind in kinds)


def apply(items: list[Item], letters: Letters) -> list[Item]:
    """The signs with every contraction spelled that the rule forbids, line by line."""
    lowers = _lower_signs()
    if not any(item.alone or item.cells in lowers for item in items):
        return items
    items = _beside_lower(items, letters)
    items = _all_lower(items, letters)
    if LINE_END not in [item.kind for item in items]:
        return items
    out: list[Item] = []
    line: list[Item] = []
    for item in items:
        line.append(item)
        if item.kind == LINE_END:
            out.extend(_all_lower(line, letters))
            line = []
    return out + _all_lower(line, letters)


def _beside_lower(items: list[Item], letters: Letters) -> list[Item]:
    """be, were, his, was spelled beside a mark of lower dots (UEB 10.5.1)."""
    out: list[Item] = []
    for at, item in enumerate(items):
        if item.alone and item.letters in _SPELLED_BESIDE_LOWER and _touches_lower(items, at):
            out.extend(_respell(item, letters))
        else:
            out.append(item)
    return out


def _touches_lower(items: list[Item], at: int) -> bool:
    for step in (-1, 1):
        beside = at + step
        while 0 <= beside < len(items) and items[beside].kind in (CAPITAL, GRADE1, LINE_END):
            beside += step
        if 0 <= beside < len(items):
            item = items[beside]
            if item.kind == QUOTATION or (item.kind == PUNCTUATION and not item.upper):
                return True
    return False


def _respell(item: Item, letters: Letters) -> list[Item]:
    """A wordsign's letters, contracted as letters that do not stand alone."""
    groups = letters.part(item.letters, True, False).groups
    if len(groups) == 1 and len(groups[0].cells) == 1:
        groups = spelled(item.letters)
    return [
        Item(cells, item.at + start, LETTERS, item.letters[start:end])
        for start, end, cells in groups
    ]


def _all_lower(items: list[Item], letters: Letters) -> list[Item]:
    """A word of lower signs only: its last contraction spelled (UEB 10.5.4, 10.6.10)."""
    counted = [item for item in items if item.kind not in (CAPITAL, LINE_END, GRADE1) or item.upper]
    if len(counted) < 2 or any(item.upper for item in counted):
        return items
    for at in range(len(items) - 1, -1, -1):
        item = items[at]
        if item.kind == LETTERS and len(item.letters) > 1:
            return items[:at] + _respell(item, letters) + items[at + 1 :]
    return items


def divisible(items: list[Item], cut: int, letters: Letters) -> bool:
    """Whether a line may end before item ``cut`` without changing the signs either side."""
    head, tail = items[:cut], items[cut:]
    return _all_lower(head, letters) == head and _all_lower(tail, letters) == tail
