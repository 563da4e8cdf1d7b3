"""Keep rules that depend on the neighbours of an item, set when all items are there."""

from __future__ import annotations

from ..document.nodes import Run
from ..settings import Settings
from .convention import Convention
from .items import Item

BOXES = "boxes"  # The group of fields that begin with a box to tick.
LONGEST_QUESTION = 150  # Characters, about four lines, that stay on one page.
HEADINGS = ("h-center", "h-5", "h-7", "table-head")


def keep_together(items: list[Item], convention: Convention, settings: Settings) -> None:
    """Set ``after`` where a blank line does follow, and the keep rules of lists and questions.

    A list does not begin on the last line (BF 8.3.5); a heading before a list has one whole
    item below it on the page (BF 8.3, committee ruling); a question stays with its choices
    (BF 10.1.6) where they can fit a page; common practice, no source: the boxes of a form stay
    with one another and with the paragraph that asks, and an item of a list stays with the
    displayed mathematics that belongs to it.
    """
    words = [item for item in items if item.page is None]
    lines = settings.lines or convention.page.lines
    for at, item in enumerate(words):
        below = words[at + 1] if at + 1 < len(words) else None
        _set_after(item, below, convention)
        begins = at == 0 or words[at - 1].group != item.group
        if item.kind in ("list", "exercise") and begins:
            _add(item, "start_not_on_last")
        if item.kind in HEADINGS and below is not None and below.kind == "list":
            _add(item, "next_whole")
        shown = below is not None and below.kind == "math" and item.kind in ("list", "exercise")
        if below is not None and shown and item.group is not None and item.group == below.group:
            _add(item, "with_next")
    _keep_questions(words, lines)
    _keep_boxes(words, settings.cells or convention.page.cells, lines)


def _set_after(item: Item, below: Item | None, convention: Convention) -> None:
    due = convention.style(item.style).after
    if due and (below is None or below.group != item.group or item.group is None):
        pair = convention.gap(item.style, below.style) if below else None
        item.after = min(1, due if pair is None else pair)


def _add(item: Item, rule: str) -> None:
    if all(name != rule for name, _ in item.keep):
        item.keep = (*item.keep, (rule, 1))


def _keep_questions(items: list[Item], lines: int) -> None:
    """A question (level 1) with all its parts, or where those are many only the parts."""
    at = 0
    while at < len(items):
        end = at + 1
        if items[at].kind == "exercise" and items[at].level == 1:
            group = items[at].group
            while end < len(items) and items[end].group == group and items[end].level > 1:
                end += 1
            start = at if end - at <= lines - 4 else at + 1
            if 1 < end - start <= lines - 4:
                for item in items[start:end]:
                    _add(item, "whole")
                for item in items[start : end - 1]:
                    _add(item, "next_whole")
        at = end


def _keep_boxes(items: list[Item], cells: int, lines: int) -> None:
    """Fields that begin with a box, one below the other, and the paragraph above that asks: all
    of them where they take less than half a page, else the first two."""
    at = 0
    while at < len(items):
        end = at + 1
        if items[at].group == BOXES:
            while end < len(items) and items[end].group == BOXES:
                end += 1
            asks = at > 0 and items[at - 1].kind in ("para", "form")
            fits = sum(_length(item) // cells + 1 for item in items[at:end]) < lines // 2
            for item in items[at - 1 if asks else at : end - 1 if fits else at + 1]:
                _add(item, "with_next")
            if asks and _length(items[at - 1]) <= LONGEST_QUESTION:
                _add(items[at - 1], "whole")
        at = end


def _length(item: Item) -> int:
    """Characters of print, those of formulas and the like left out."""
    return sum(run.end - run.start for run in item.runs if isinstance(run, Run))
