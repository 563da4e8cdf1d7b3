"""Text between the items of an inner list: it belongs to the item before it (17.9)."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from ..document.nodes import Block, Displayed, Heading
from .docx_lists import Entry


def in_their_items(entries: Iterable[Entry | Block]) -> list[Entry | Block]:
    """The entries, with text that interrupts an inner list made part of the item before it.

    A word processor has no text inside items: room for the answer to a question (a) is a
    paragraph by itself, and question (b) after it goes on with the inner list.  Cut there, the
    list would begin anew at its inner level and (b) would stand as an item of the first.  So the
    text stays in its item where the next item is of the same list and of a level below one that
    is still open.  A heading ends a list.
    """
    out = list(entries)
    if not any(isinstance(entry, Entry) and entry.level for entry in out):
        return out
    open_levels: dict[str, set[int]] = {}
    before: Entry | None = None
    loose: list[int] = []
    for at, entry in enumerate(out):
        if not (isinstance(entry, Entry) and entry.list_id):
            loose.append(at)
            continue
        levels = open_levels.get(entry.list_id, set())
        if loose and before is not None:
            between = [out[place] for place in loose]
            if min(levels, default=entry.level) < entry.level and _stays(between, before, entry):
                for place in loose:
                    out[place] = _of_the_item(out[place])
            else:
                open_levels, levels = {}, set()
        loose = []
        open_levels[entry.list_id] = {level for level in levels if level < entry.level}
        open_levels[entry.list_id].add(entry.level)
        before = entry
    return out


def _stays(between: list[Entry | Block], before: Entry, after: Entry) -> bool:
    """Whether text may be part of an item: in the same box, and without a heading."""
    if before.border != after.border:
        return False
    blocks: list[Block] = []
    for entry in between:
        if (entry.border if isinstance(entry, Entry) else "") != before.border:
            return False
        blocks.extend(entry.blocks if isinstance(entry, Entry) else (entry,))
    return not any(isinstance(block, Heading) for block in blocks)


def _of_the_item(entry: Entry | Block) -> Entry:
    if not isinstance(entry, Entry):
        return Entry([entry], address=entry.address, continues=True)
    blocks = entry.blocks
    if entry.displayed and blocks:
        address = f"{entry.address}#displayed"
        blocks = [Displayed(children=tuple(blocks), role=entry.displayed, address=address)]
    return replace(entry, blocks=blocks, displayed="", continues=True)
