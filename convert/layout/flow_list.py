"""Lists, exercise sets, verse and speeches: the nested structures (BF 8, 10, 13, 14)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import partial

from ..document.names import initial_capitals
from ..document.nodes import (
    Added,
    Block,
    Displayed,
    DisplayMath,
    Graphic,
    Heading,
    Inlines,
    ListBlock,
    ListItem,
    Paragraph,
    PrintPage,
    Section,
    Speech,
    Table,
    Unknown,
    Verse,
    VerseLine,
    children_of,
    text_of,
)
from .flow_runs import (
    after_name,
    entry_words_upright,
    spaced,
    span_of,
    visible,
    with_initial_capitals,
)
from .flow_scan import list_depth
from .flow_state import Flow, Scope, Task
from .flow_word_list import STYLE as WORD_LIST
from .flow_word_list import word_list

_ALPHABETIC = ("glossary", "index")
_INTERRUPTS = (Displayed, Verse, Table, DisplayMath, Graphic)


def list_block(flow: Flow, node: ListBlock, scope: Scope) -> None:
    """A list, or a level of one: its depth is counted over the whole list (BF 8.1)."""
    inside = scope.listed and scope.level > 0
    style = flow.convention.style_for("ListBlock", node.role)
    if style.name == WORD_LIST:
        if tasks := word_list(flow, node, scope):
            flow.push(tasks)
            return
        style = flow.convention.style("list")
    if inside:
        inner = replace(scope, level=scope.level + 1, further=False, margins=None)
    else:
        if style.kind in _ALPHABETIC or node.kind == "definition":
            node = _entries_upright(flow, node, style.name)
        depth = list_depth(node)
        if depth > int(flow.convention.rules["deepest"]):
            flow.findings.add("layout.list-too-deep", levels=depth)
        inner = replace(
            scope,
            style=style.name,
            listed=style.kind,
            group=f"list {node.address or len(flow.items)} {id(node)}",
            level=1,
            levels=depth,
            further=False,
            margins=None,
        )
    flow.push(
        (kid, inner) if isinstance(kid, PrintPage) else partial(_list_item, flow, kid, inner)
        for kid in node.children
    )


def _entries_upright(flow: Flow, node: ListBlock, style: str) -> ListBlock:
    """A list of terms or an index without the typeform of its entry words (BF 21.2.2)."""
    firsts = [_first_words(kid) for kid in node.children if isinstance(kid, ListItem)]
    entries = [first.runs for first in firsts if first is not None]
    upright = entry_words_upright(entries, flow.document.ledger)
    if len(entries) < len(firsts) or upright == entries:
        return node
    changed = iter(upright)
    kids: list[ListItem | PrintPage] = []
    for kid in node.children:
        if isinstance(kid, ListItem) and isinstance(first := kid.children[0], Paragraph):
            runs = next(changed)
            flow.findings.add("layout.typeform-dropped", span_of(runs), style=style)
            kid = replace(kid, children=(replace(first, runs=runs), *kid.children[1:]))
        kids.append(kid)
    return replace(node, children=tuple(kids))


def _first_words(item: ListItem) -> Paragraph | None:
    first = item.children[0] if item.children else None
    return first if isinstance(first, Paragraph) else None


def _list_item(flow: Flow, item: ListItem, scope: Scope) -> None:
    flow.push(marked_tasks(flow, item.marker, item.children, scope, item.address))


def marked_tasks(
    flow: Flow, marker: Inlines, children: Sequence[Block], scope: Scope, element: str = ""
) -> list[Task]:
    """Steps for ``marker first-paragraph`` and what follows it in the same item.

    The marker, one space, then the text (BF 8.6); further paragraphs take the margins of
    further paragraphs (BF 8.3); text that goes on after displayed matter in an exercise stands
    at the runover cell (BF 10.7).
    """
    ledger = flow.document.ledger
    first, rest = opening(flow, children)
    join = after_name if scope.style in ("speech", "verse-speech") else spaced
    runs = join(marker, first, ledger)
    tasks: list[Task] = [partial(flow.put, scope.style, runs, scope, element)] if runs else []
    told = visible(runs, ledger)
    after_display = False
    for block in rest:
        if isinstance(block, Paragraph | Heading):
            inner = replace(scope, further=told)
            if after_display and scope.listed == "exercise":
                runover = flow.convention.style(scope.style).margins(scope.level, scope.levels)[1]
                inner = replace(scope, margins=(runover, runover))
            tasks.append((_plain(block), inner))
            told = told or visible(block.runs, ledger)
            after_display = False
        else:
            tasks.append((block, inside_item(block, scope)))
            after_display = after_display or isinstance(block, _INTERRUPTS)
    return tasks


def opening(flow: Flow, children: Sequence[Block]) -> tuple[Inlines, Sequence[Block]]:
    """The words of a first paragraph, which stand on the marker's line, and the rest.

    A term and its definition are one entry (BF 8.6, 21.6), parted as print does or by a mark.
    """
    if not children or not isinstance(children[0], Paragraph | Heading):
        return (), children
    ledger = flow.document.ledger
    runs: Inlines = ()
    at = 0
    while at < len(children) and getattr(children[at], "role", "") == "term":
        runs = spaced(runs, children[at].runs, ledger, ", ")  # type: ignore[union-attr]
        at += 1
    if at == 0:
        return children[0].runs, children[1:]
    if at < len(children) and isinstance(definition := children[at], Paragraph):
        ends = text_of(runs, ledger).rstrip()[-1:]
        mark = flow.convention.rules["term_mark"] if ends.isalnum() else ""
        runs, at = spaced(runs, definition.runs, ledger, f"{mark} "), at + 1
    return runs, children[at:]


def _plain(block: Paragraph | Heading) -> Paragraph:
    """A heading inside an item is a paragraph of it."""
    if isinstance(block, Paragraph):
        return block
    return Paragraph(runs=block.runs, address=block.address)


def inside_item(block: Block, scope: Scope) -> Scope:
    """The scope of a block inside a list item: lists nest, other matter is displayed, speeches
    with their runovers two cells further right (BF 8.3, 9.2, 14.5)."""
    if isinstance(block, ListBlock):
        return scope
    speeches = any(isinstance(each, Speech) for each in (block, *children_of(block)))
    if isinstance(block, Section | Unknown) and not speeches:
        return replace(scope, further=True)
    if speeches or isinstance(block, Verse | Table):
        return replace(scope, shift=scope.shift + 2 * scope.levels + 2)
    if isinstance(block, Displayed) and scope.listed != "exercise":
        return replace(scope, shift=scope.shift + 2 * scope.levels)
    return replace(scope, further=True)


def verse(flow: Flow, node: Verse, scope: Scope) -> None:
    """A poem: printed indentions as levels 1, 2 ..., one blank line between stanzas (BF 13)."""
    lines = [kid for kid in node.children if isinstance(kid, VerseLine)]
    rank = {level: at for at, level in enumerate(sorted({kid.level for kid in lines}), 1)}
    group = f"verse {node.address} {id(node)}"
    base = replace(scope, style="verse", group=group, levels=len(rank), further=False, margins=None)
    tasks: list[Task] = []
    stanza: int | None = None
    for kid in node.children:
        if isinstance(kid, PrintPage):
            tasks.append((kid, base))
            continue
        new, stanza = stanza not in (None, kid.stanza), kid.stanza
        inner = replace(base, level=rank[kid.level])
        tasks.append(partial(_verse_line, flow, kid, inner, new))
    flow.push(tasks)


def _verse_line(flow: Flow, line: VerseLine, scope: Scope, new_stanza: bool) -> None:
    flow.blank_due = flow.blank_due or new_stanza
    flow.put("verse", numbered(line), scope, line.address)


def numbered(line: VerseLine) -> Inlines:
    """The words of a line of verse, its printed number after them (BF 15)."""
    return (*line.runs, Added("\t"), *line.number) if line.number else line.runs


def speech(flow: Flow, node: Speech, scope: Scope) -> None:
    """A speech: the words start on the line of the speaker's name (BF 14.1, 14.5, 14.6)."""
    node = replace(node, speaker=speaker_name(flow, node.speaker))
    verses = [kid for kid in node.children if isinstance(kid, Verse)]
    if verses and node.children[0] is verses[0]:
        flow.push(_verse_speech(flow, node, scope))
        return
    inner = replace(scope, style="verse-speech" if verses else "speech", group=None)
    flow.push(marked_tasks(flow, node.speaker, node.children, inner, node.address))


def speaker_name(flow: Flow, name: Inlines) -> Inlines:
    """A speaker's name upright and with initial capitals only (BF 14.1.2, 14.1.3)."""
    speaker = flow.upright(name, "speaker", "whole")
    if flow.convention.rules["speaker_capitals"] == "initial":
        words = text_of(speaker, flow.document.ledger)
        if initial_capitals(words) != words:
            flow.findings.add("layout.speaker-capitals", span_of(speaker))
            speaker = with_initial_capitals(speaker)
    return speaker


def _verse_speech(flow: Flow, node: Speech, scope: Scope) -> list[Task]:
    first = node.children[0]
    lines = first.children if isinstance(first, Verse) else ()
    inner = replace(scope, style="verse-speech", group=None)
    tasks: list[Task] = []
    marker: Inlines = node.speaker
    for kid in lines:
        if isinstance(kid, PrintPage):
            tasks.append((kid, inner))
            continue
        runs = after_name(marker, numbered(kid), flow.document.ledger)
        here = replace(inner, further=marker is not node.speaker)
        tasks.append(partial(flow.put, "verse-speech", runs, here, kid.address))
        marker = ()
    if marker:
        tasks.insert(0, partial(flow.put, "verse-speech", node.speaker, inner, node.address))
    return [*tasks, *((block, replace(inner, further=True)) for block in node.children[1:])]
