"""Cartoons and comics: each frame in a note, then its speeches (BF 14.10, 14.11).

A blank line stands before and after each cartoon, of one frame or several; a frame is described
in a transcriber's note, its words are speeches 1-3.  Frames of a cartoon that has several are
numbered in the note, or before the first words of a frame that has no description.
"""

from __future__ import annotations

from dataclasses import replace
from functools import partial

from ..document.nodes import Inlines, Run, Section, walk
from .flow_list import speaker_name
from .flow_runs import note, spaced
from .flow_state import Flow, Scope, Task

ROLES = ("cartoon", "panel")
LONGEST_NAME = 4  # Words; common practice, no source.
STYLE, FRAME = "cartoon", "cartoon-frame"
_NONE_ABOVE = ("h-5", "h-7", "box-top")  # No blank line stands below these (BF 4.5, 4.6, 7.3).


def section(flow: Flow, node: Section, scope: Scope) -> None:
    """A cartoon, a frame of one, or a frame that is a cartoon by itself."""
    if scope.style == STYLE:
        flow.push_blocks(node.children, scope)
        return
    inner = replace(scope, style=STYLE, group=f"cartoon {node.address} {id(node)}", further=False,
                    margins=None, level=0, levels=0, listed="")  # fmt: skip
    frames = [one for one in walk(node) if isinstance(one, Section) and one.role == "panel"]
    numbers = {id(one): nth for nth, one in enumerate(frames, 1)} if len(frames) > 1 else {}
    tasks: list[Task] = [partial(_begin, flow)]
    for kid in flow.set_in(node.children):
        if number := numbers.get(id(kid)):
            tasks.append(partial(_number, flow, number))
        tasks.append((kid, inner))
    flow.push([*tasks, partial(_number, flow, 0)])


def _begin(flow: Flow) -> None:
    """The blank line above a cartoon, whatever its first words are."""
    if flow.last is not None and flow.last.kind not in _NONE_ABOVE:
        flow.blank_due = True


def _number(flow: Flow, number: int) -> None:
    flow.frame = number


def lead_of(flow: Flow) -> str:
    """The words before the description of a frame; its number is told once."""
    if not flow.frame:
        return flow.convention.notes["picture"].words
    words = flow.convention.notes["frame"].words.format(n=flow.frame)
    flow.frame = 0
    return words


def _names(words: str) -> bool:
    """Whether words in a typeform are the name of who speaks: a few, and a colon."""
    return words.rstrip().endswith(":") and len(words.split()) <= LONGEST_NAME


def speech(flow: Flow, runs: Inlines, scope: Scope, element: str) -> None:
    """Words of a frame, with its number before the first of one that is not described."""
    first, ledger = runs[0] if runs else None, flow.document.ledger
    if isinstance(first, Run) and first.typeform and _names(ledger.text[first.start : first.end]):
        runs = (*speaker_name(flow, runs[:1]), *runs[1:])
    if flow.frame:
        runs = spaced(note(lead_of(flow).rstrip()), runs, ledger)
    flow.put(STYLE, runs, scope, element)
