"""Notes, transcriber's notes, pictures and boxes (BF 3, 6, 7, 16)."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import partial

from ..document.nodes import (
    Added,
    Box,
    Footnote,
    Graphic,
    Paragraph,
    PrintPage,
    TranscriberNote,
    text_of,
)
from . import flow_cartoon
from .flow_list import marked_tasks
from .flow_runs import enclose, note, spaced, visible
from .flow_state import Flow, Scope, Task

_IDENTIFIER = re.compile(r"\s*\w[\w.]*\s+[\d\w.:–-]*\d|\s*(fig|map|table|chart|photo|plate)", re.I)


def footnote(flow: Flow, node: Footnote, scope: Scope) -> None:
    """The body of a note where print has it: an endnote stays, a footnote waits (BF 16)."""
    if node.kind == "foot":
        if not flow.survey.waits(node):
            flow.due(node)
        return
    inner = replace(scope, style="endnote", group="endnotes", level=0, levels=0, listed="")
    flow.push(body_tasks(flow, node, replace(inner, further=False, margins=None)))


def body_tasks(flow: Flow, node: Footnote, scope: Scope) -> list[Task]:
    """Steps for one note: its mark, one space, its words; further paragraphs below (BF 16.5)."""
    return marked_tasks(flow, node.mark, node.children, scope, node.address)


def left_over(flow: Flow) -> list[Footnote]:
    """Notes that nothing brought to the end of a page, such as one that only calls itself."""
    return [node for node in flow.survey.notes.values() if id(node) not in flow.noted]


def transcriber_note(flow: Flow, node: TranscriberNote, scope: Scope) -> None:
    """A note for the braille reader, inside the note's signs (BF 3.1.4).

    A short one is embedded at the start of the paragraph it stands before; of a longer one each
    paragraph is 7-5.
    """
    if _embedded(flow, node):
        return
    inner = Scope(style="transcriber-note", note=True, boxes=scope.boxes, division=scope.division,
                  group=f"note {node.address} {id(node)}")  # fmt: skip
    flow.push_blocks(node.children, inner)


def _embedded(flow: Flow, node: TranscriberNote) -> bool:
    """Put a short note at the start of the paragraph that comes next, if one does."""
    ledger = flow.document.ledger
    only = node.children[0] if len(node.children) == 1 else None
    after = flow.tasks[-1] if flow.tasks else None
    if not isinstance(only, Paragraph) or not isinstance(after, tuple):
        return False
    block, scope = after
    if not isinstance(block, Paragraph) or block.role not in ("body", "blocked", "caption"):
        return False
    if len(text_of(only.runs, ledger).split()) > flow.convention.rules["note_words"]:
        return False
    runs = spaced(enclose(only.runs), block.runs, ledger)
    flow.tasks[-1] = (replace(block, runs=runs), scope)
    return True


def graphic(flow: Flow, node: Graphic, scope: Scope) -> None:
    """A picture: caption, credit, its description as a note, longer descriptions (BF 6.2).

    A picture that the source calls decorative is left out; one without words is reported.
    """
    ledger = flow.document.ledger
    longer = [block for block in node.children if isinstance(block, TranscriberNote)]
    printed = [block for block in node.children if not isinstance(block, TranscriberNote)]
    captions = (*printed, *_captions_below(flow, scope))
    tasks: list[Task] = []
    inner = replace(scope, style="caption", further=False, margins=None, level=0, levels=0)
    if captions and isinstance(captions[0], Paragraph):
        first = captions[0]
        if first.role in ("body", "caption") and not _IDENTIFIER.match(text_of(first.runs, ledger)):
            label = note(flow.convention.notes["caption"].words)
            captions = (replace(first, runs=spaced(label, first.runs, ledger)), *captions[1:])
    tasks += [(block, inner) for block in captions]
    described = visible(node.alt, ledger)
    told = replace(inner, note=True)
    tasks.append(partial(_describe, flow, node, told, scope.style))
    if (captions or described or longer) and flow.last and flow.last.style == "description":
        flow.blank_due = True  # between illustrations in a row (BF 6.2)
    tasks += [(block, replace(scope, further=False, margins=None)) for block in longer]
    tasks += [partial(_kept_page, flow, scope, node.address)] * node.pages
    if described or longer or node.pages:
        pass
    elif captions and not node.decorative and not flow.is_told(node.resource):
        flow.findings.add("layout.picture-undescribed", resource=node.resource)
    elif not captions or node.decorative:
        flow.left_out(node.resource, node.decorative)
    flow.push(tasks)


def _describe(flow: Flow, node: Graphic, scope: Scope, around: str) -> None:
    """The description of a picture; that of a frame of a cartoon begins with its number."""
    style = flow_cartoon.FRAME if around == flow_cartoon.STYLE else "description"
    runs = node.alt
    if visible(runs, flow.document.ledger):
        runs = (Added(flow_cartoon.lead_of(flow)), *runs)
    flow.put(style, runs, scope, node.address)


def _kept_page(flow: Flow, scope: Scope, address: str) -> None:
    """A braille page kept for a tactile graphic; what follows begins another (BF 6)."""
    flow.page_due = True
    item = flow.line("description", replace(scope, further=False, margins=None), address)
    item.kind = "graphic"
    flow.page_due = True


def _captions_below(flow: Flow, scope: Scope) -> list[Paragraph]:
    """Captions and credits that come next beside a picture: they stand above its description."""
    found: list[Paragraph] = []
    while flow.tasks and isinstance(task := flow.tasks[-1], tuple):
        block, where = task
        if where is not scope or not isinstance(block, Paragraph):
            break
        if block.role not in ("caption", "credit"):
            break
        found.append(block)
        flow.tasks.pop()
    return found


def box(flow: Flow, node: Box, scope: Scope) -> None:
    """Boxed matter between its lines; the outer of nested boxes has full cells (BF 7.1).  Print
    pages that begin with the box or end with it stand outside (BF 7.2b)."""
    which = "-outer" if id(node) in flow.survey.outer else ""
    inner = Scope(boxes=scope.boxes + 1, division=scope.division, note=scope.note)

    def top() -> None:
        flow.line(f"box-top{which}", replace(inner, level=inner.boxes), node.address)

    def bottom() -> None:
        last = flow.items[-1]
        if last.kind == "box-top" and last is flow.last:
            flow.items.pop()
            flow.last = next((i for i in reversed(flow.items) if i.page is None), None)
            return
        flow.line(f"box-bottom{which}", replace(inner, level=inner.boxes), node.address)

    first = next((at for at, kid in enumerate(node.children) if not _turns(kid)), 0)
    last = len(node.children)
    while last > first and _turns(node.children[last - 1]):
        last -= 1
    before, after = node.children[:first], node.children[last:]
    inside = [(block, inner) for block in flow.set_in(node.children[first:last])]
    outside = [[(block, scope) for block in turns] for turns in (before, after)]
    flow.push([*outside[0], top, *inside, bottom, *outside[1]])


def _turns(node: object) -> bool:
    return isinstance(node, PrintPage)
