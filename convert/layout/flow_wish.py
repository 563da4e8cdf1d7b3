"""What a person decided about the layout of blocks, followed when all items are there.

| choice | follows |
|---|---|
| ``page-before`` | a new braille page begins with the block |
| ``volume-before`` | a new volume begins with it; not inside a box, nor in the front matter |
| ``blank-before`` 0 or 1 | so many blank lines above it (BF 1.9: never two) |
| ``keep-together`` | its items stay on one page, if a page can hold them |
| ``keep-with-next`` | its last item stays with what follows |

The block of a choice is what print has in its stretch, with the lines and notes that stand above
it because of it (box lines, the note about a table).
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence

from ..document.choices import LAYOUT, TABLES, Choice
from ..document.nodes import Document
from ..findings import Findings
from .flow_runs import span_of
from .items import WITH_NEXT, Item

NOT_THERE = "nothing of it stands in the edition"
NO_NUMBER = "the number of blank lines is 0 or 1"
IN_BOX = "a volume does not end inside a box"
IN_FRONT = "it stands in the front matter"
_FOLLOWED = tuple(kind for kind in LAYOUT if kind not in TABLES)


def follow(items: list[Item], document: Document, findings: Findings) -> None:
    """Set on the items what a person decided; what cannot be followed is reported."""
    choices = [choice for choice in document.choices if choice.kind in _FOLLOWED]
    if not choices:
        return
    spans = sorted(
        (span[0], at)
        for at, item in enumerate(items)
        if item.kind != "note" and (span := span_of(item.runs)) is not None
    )
    for choice in choices:
        low, high = bisect_left(spans, (choice.start, -1)), bisect_left(spans, (choice.end, -1))
        places = [at for _, at in spans[low:high]]
        reason = NOT_THERE
        if places:
            reason = _follow(items, _above(items, min(places)), max(places), choice)
        if reason:
            findings.add(
                "layout.choice-not-followed",
                (choice.start, choice.end),
                choice=f"{choice.kind} {choice.value}".strip(),
                reason=reason,
            )


def _above(items: Sequence[Item], at: int) -> int:
    """The first item that stands above the print of a block because of it."""
    plan = items[at].spot.plan if items[at].spot is not None else None  # type: ignore[union-attr]
    while plan is not None and at and (spot := items[at - 1].spot) is not None:
        if spot.plan is not plan:
            break
        at -= 1
    while at and _introduces(items[at - 1]):
        at -= 1
    return at


def _introduces(item: Item) -> bool:
    kept = any(rule in WITH_NEXT for rule, _ in item.keep)
    return item.page is None and kept and item.kind != "note-rule" and span_of(item.runs) is None


def _follow(items: list[Item], first: int, last: int, choice: Choice) -> str:
    """Follow one choice for the items from ``first`` to ``last``; why not, if it cannot be."""
    item = items[first]
    match choice.kind:
        case "page-before":
            item.new_page = True
        case "volume-before":
            if item.division == "front":
                return IN_FRONT
            kinds = [above.kind for above in items[:first]]
            if kinds.count("box-top") > kinds.count("box-bottom"):
                return IN_BOX
            item.new_page = item.new_volume = True
        case "blank-before":
            if choice.value not in ("0", "1"):
                return NO_NUMBER
            _blank(items, first, int(choice.value))
        case "keep-together":
            words = [each for each in items[first : last + 1] if each.page is None]
            for each in words:
                _keep(each, "whole")
            for each in words[:-1]:
                _keep(each, "next_whole")
        case _:
            _keep(items[last], "with_next")
    return ""


def _blank(items: list[Item], at: int, count: int) -> None:
    """So many blank lines above an item and the print page turns before it."""
    items[at].before, items[at].needs_before = count, count > 0
    at -= 1
    while at >= 0 and items[at].page is not None:
        items[at].before = 0
        at -= 1
    if at >= 0 and not count:
        items[at].after = 0


def _keep(item: Item, rule: str) -> None:
    if all(name != rule for name, _ in item.keep):
        item.keep = (*item.keep, (rule, 1))
