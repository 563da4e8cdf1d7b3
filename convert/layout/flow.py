"""The flow: a document tree to a flat list of items, each with its style, margins, blank lines.

    headings -> centred, cell-5, cell-7 by the ranks of the whole work (BF 4.1)
    lists, exercise sets, verse, speeches -> flow_list      tables -> flow_table, flow_grid
    notes, pictures, boxes -> flow_notes                    blank lines, notes due -> flow_state

The tree is walked once, without recursion.  No inline of the tree is left out, but for pictures
that the source itself calls decorative.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import partial
from typing import Any

from ..document.choices import MATHS, NOTES, choices_in
from ..document.inlines import PROGRAM
from ..document.nodes import (
    Box,
    ContextBreak,
    Displayed,
    DisplayMath,
    Document,
    Footnote,
    Graphic,
    Heading,
    Inline,
    Inlines,
    LineBreak,
    ListBlock,
    ListItem,
    MathRun,
    Paragraph,
    PrintPage,
    Run,
    Section,
    Speech,
    Table,
    TranscriberNote,
    Unknown,
    Verse,
    VerseLine,
    text_of,
)
from ..findings import Findings
from ..maths.render import has_rows
from ..settings import Settings
from . import flow_cartoon, flow_form, flow_list, flow_notes, flow_prose, flow_table
from .convention import Convention
from .flow_columns import Measure
from .flow_keep import BOXES, HEADINGS, keep_together
from .flow_prose import has_number
from .flow_runs import entry_word, entry_words_upright, span_of, visible, with_initial_capitals
from .flow_scan import TITLE_PAGES, survey
from .flow_state import Flow, Scope, Task
from .flow_wish import follow
from .items import Item
from .print_places import find_places

# Roles that a paragraph keeps where the place gives plain paragraphs a style of its own.
_OWN_ROLE = frozenset(
    ("attribution", "signature", "source", "credit", "caption", "direction", "stage-direction",
     "scene-setting", "table-note",
     "cross-reference", "letter-division", "glossary-term")
)  # fmt: skip
_TITLES = ("table-title", "table-columns-title")
FEWEST_BREAKS, LONGEST_LINE = 2, 60  # What makes a paragraph one of short lines; characters.


def flow(
    document: Document,
    convention: Convention,
    settings: Settings,
    findings: Findings,
    measure: Measure | None = None,
) -> list[Item]:
    """The items of a document, in reading order.

    ``measure`` gives the cells of inlines, so that tables can be set in columns where they fit;
    without it they are set as lists.
    """
    look = survey(document)
    if convention.page.print_page == "none" and look.has_pages:
        findings.add("layout.print-pages-dropped", convention=convention.name)
        look = replace(look, has_pages=False)
    chosen = any(choice.kind in NOTES for choice in document.choices)
    state = Flow(document, convention, settings, findings, look, measure=measure, noted_here=chosen)
    state.places = find_places(document, convention, findings, look)
    outside = Scope()
    state.push([(block, outside) for block in _as_printed(state, document.children)])
    _drain(state)
    for note in flow_notes.left_over(state):
        state.due(note)
    if state.pending:
        state.push(state.note_steps(Scope()))
        _drain(state)
    keep_together(state.items, convention, settings)
    follow(state.items, document, findings)
    return state.items


def _drain(state: Flow) -> None:
    while state.tasks:
        task = state.tasks.pop()
        if isinstance(task, tuple):
            node, scope = task
            _HANDLERS[type(node)](state, node, scope)
        else:
            task()


# ---------------------------------------------------------------- paragraphs and headings


def _as_printed(state: Flow, blocks: tuple[Any, ...]) -> tuple[Any, ...]:
    """The blocks of a section with what their print pages ask for.  A first paragraph under a
    heading that alone is blocked is indented as the rest (BF 1.9)."""
    out = state.set_in(blocks)
    for at in range(1, len(out) - 1):
        above, here, below = out[at - 1 : at + 2]
        if (
            isinstance(above, Heading)
            and isinstance(here, Paragraph)
            and here.role == "blocked"
            and isinstance(below, Paragraph)
            and below.role == "body"
        ):
            out[at] = replace(here, role="body")
    return tuple(out)


def _heading(state: Flow, node: Heading, scope: Scope) -> None:
    """A display heading: its style follows its rank among those of the work (BF 4.1)."""
    if scope.style and scope.style != "displayed":
        _paragraph(state, Paragraph(runs=node.runs, address=node.address), scope)
        return
    if scope.alphabetic and len(text_of(node.runs, state.document.ledger).strip()) == 1:
        state.put("letter-division", node.runs, Scope(division=scope.division), node.address)
        return
    node = _with_subtitles(state, node, scope)
    if scope.title:  # the work's own name, which has no rank among its headings
        state.put("centred-heading", node.runs, Scope(division=scope.division), node.address)
        return
    steps = state.survey.steps
    step = state.survey.step(node.level)
    name = state.convention.heading_styles(steps)[step - 1]
    here = Scope(
        level=node.level, levels=steps, note=scope.note, division=scope.division,
        boxes=scope.boxes, margins=state.convention.style(name).margins(),
    )  # fmt: skip
    due = state.pending and not state.by_page and state.notes_stand != "book"
    if due and not scope.boxes and name == "centred-heading":
        state.push([*state.note_steps(here), (node, scope)])
        return
    begins = step <= int(state.convention.rules["new_page_headings"]) and not scope.boxes
    if begins and state.last is not None and state.last.kind not in HEADINGS:
        state.page_due = True
    state.put(name, _capitals(state, node.runs), here, node.address)


def _capitals(state: Flow, runs: Inlines) -> Inlines:
    """The words of a heading; those in capitals with initial ones where the convention wants it
    (BF 4.3)."""
    words = text_of(runs, state.document.ledger)
    if state.convention.rules["heading_capitals"] == "print" or not words.isupper():
        return runs
    state.findings.add("layout.heading-capitals", span_of(runs))
    return with_initial_capitals(runs)


def _with_subtitles(state: Flow, node: Heading, scope: Scope) -> Heading:
    """A heading and the subtitles that come next are one heading on several lines (BF 4.4)."""
    runs = node.runs
    while state.tasks and isinstance(task := state.tasks[-1], tuple):
        block, where = task
        if where is not scope or not isinstance(block, Heading) or block.role != "subtitle":
            break
        runs = (*runs, LineBreak(), *block.runs)
        state.tasks.pop()
    return node if runs is node.runs else replace(node, runs=runs)


def _paragraph(state: Flow, node: Paragraph, scope: Scope) -> None:
    if state.survey.lines_numbered and not scope.listed and has_number(node.runs):
        state.push(flow_prose.tasks(state, node, scope))
        return
    own = node.role in _OWN_ROLE and not (scope.style in _TITLES and node.role == "caption")
    lines = _print_lines(state, node) if node.role in ("body", "blocked") else ()
    if scope.style and not own:
        _in_place(state, node, scope, lines)
        return
    name = state.convention.style_for("Paragraph", node.role).name
    fields = () if scope.listed else flow_form.fields(node, state.document.ledger)
    if fields or lines:
        style, parts = ("form", fields) if fields else ("letter-line", lines)
        if fields and flow_form.begins_with_box(node.runs, state.document.ledger):
            scope = replace(scope, group=BOXES)
        state.push([partial(state.put, style, runs, scope, node.address) for runs in parts])
        return
    here = replace(scope, margins=None, level=0, levels=0)
    if scope.alphabetic and name == "paragraph" and entry_word(node.runs, state.document.ledger):
        (runs,) = entry_words_upright([node.runs], state.document.ledger)
        entry = replace(here, group="entries", level=1, levels=1)
        state.put("glossary", runs, entry, node.address)
        return
    last = state.last
    here = replace(here, further=name == "direction" and last is not None and last.style == name)
    if name == "paragraph" and _goes_on(state, node.address):
        name = "paragraph-rest"
    state.put(name, node.runs, here, node.address)


def _in_place(state: Flow, node: Paragraph, scope: Scope, lines: tuple[Inlines, ...]) -> None:
    """A paragraph where the place gives plain paragraphs a style of its own."""
    name = scope.style
    if name.startswith("displayed") and lines and not scope.listed:
        here = replace(scope, margins=(3, 5))
        state.push([partial(state.put, "displayed", line, here, node.address) for line in lines])
        return
    if name == flow_cartoon.STYLE:
        flow_cartoon.speech(state, node.runs, scope, node.address)
        return
    if name == "displayed" and node.role == "blocked":
        name = "displayed-blocked"
    elif name == "displayed" and node.role in ("address", "salutation"):  # 1-3, moved as it is
        scope = replace(scope, margins=(3, 5))
    state.put(name, node.runs, scope, node.address)


def _goes_on(state: Flow, address: str) -> bool:
    """Whether a paragraph is the rest of one that displayed mathematics interrupts: it goes on at
    the runover cell (as BF 10.6 has it for questions; common practice for other text)."""
    whole = address.rpartition("/")[0]
    words = [item for item in state.items[-_BETWEEN:] if item.page is None]
    shown = [item for item in words if item.kind == "math"]
    if not words or not shown or words[-1] is not shown[-1] or words[-1].element is None:
        return False
    begun = {item.element for item in words if item.kind != "math"}
    return words[-1].element.startswith(f"{whole}/") and whole in begun


# Displays and turns looked back over for the beginning of an interrupted paragraph.
_BETWEEN = 12


def _print_lines(state: Flow, node: Paragraph) -> tuple[Inlines, ...]:
    """The lines of a dedication, an address or a poem that print sets as one paragraph of short
    lines, each its own at the margin (BF 2.9, 9.7, 13.3), and those of a program (common practice,
    no source); none for other paragraphs."""
    program = _is_program(node.runs)
    if not program and sum(isinstance(run, LineBreak) for run in node.runs) < FEWEST_BREAKS:
        return ()
    ledger = state.document.ledger
    lines: list[tuple[Inline, ...]] = [()]
    for run in node.runs:
        if isinstance(run, LineBreak):
            lines.append(())
        else:
            lines[-1] = (*lines[-1], run)
    short = program or all(len(text_of(line, ledger).strip()) <= LONGEST_LINE for line in lines)
    return tuple(line for line in lines if line) if short else ()


def _is_program(runs: Inlines) -> bool:
    first = runs[0] if runs else None
    if not isinstance(first, Run) or first.voice != PROGRAM:
        return False
    return all(run.voice == PROGRAM for run in runs if isinstance(run, Run))


# ---------------------------------------------------------------- other blocks


def _section(state: Flow, node: Section, scope: Scope) -> None:
    if node.role in flow_cartoon.ROLES:
        flow_cartoon.section(state, node, scope)
        return
    rules = state.convention.rules
    inner = scope
    if node.role in rules["front_matter"] and not state.body_begun:
        inner = replace(scope, division="front")
    elif node.role in ("bodymatter", "backmatter"):
        inner = replace(scope, division="body")
    if node.role:
        inner = replace(inner, alphabetic=node.role in ("glossary", "index", "dictionary"))
    inner = replace(inner, title=inner.title or node.role in TITLE_PAGES)
    opens = node.role in rules["new_page"] or (
        node.role in rules["front_matter"] and not state.body_begun
    )
    if opens and not scope.boxes:
        state.page_due = bool(state.items)
    if node.role in rules["new_volume"] and not scope.boxes and state.items:
        state.page_due = state.volume_due = True
    tasks: list[Task] = [(block, inner) for block in _as_printed(state, node.children)]
    state.push(tasks)


def _displayed(state: Flow, node: Displayed, scope: Scope) -> None:
    """Displayed matter: cell 3, or cell 5 for first lines of indented paragraphs (BF 9.2)."""
    group = f"displayed {node.address} {id(node)}"
    if scope.listed == "exercise":
        inner = replace(scope, style="displayed-in-exercise", further=True, group=group)
    else:
        name = state.convention.style_for("Displayed", node.role).name
        inner = replace(scope, style=name, further=False, margins=None, group=group, listed="")
        inner = replace(inner, level=0, levels=0)
    state.push_blocks(node.children, inner)


def _context_break(state: Flow, node: ContextBreak, scope: Scope) -> None:
    """Space in print becomes a blank line; an ornament stands centred (BF 1.9)."""
    state.blank_due = state.blank_due or not visible(node.runs, state.document.ledger)
    state.put("context-break", node.runs, Scope(division=scope.division), node.address)
    _ornament(state, node)


def _ornament(state: Flow, node: ContextBreak) -> None:
    """Print's ornament becomes the convention's, such as three asterisks (BF 1.9)."""
    words, text = str(state.convention.rules["ornament"]), state.document.ledger
    last = state.last
    if not words or last is None or last.style != "context-break" or last.runs != node.runs:
        return
    last.instead = words
    if set(text_of(node.runs, text).split("*")) - {"", " "}:
        state.findings.add("layout.ornament", span_of(node.runs), words=words)


def _math(state: Flow, node: DisplayMath, scope: Scope) -> None:
    runs = (MathRun(node.start, node.end, node.mathml),)
    chosen = choices_in(state.document.choices, node.start, max(node.end, node.start + 1), MATHS)
    source = next((row.value for row in chosen if row.kind == "math-text"), node.mathml)
    style = "math-rows" if has_rows(source) else "math"
    state.put(style, runs, Scope(division=scope.division, group=scope.group), node.address)


def _unknown(state: Flow, node: Unknown | ListItem, scope: Scope) -> None:
    state.push_blocks(node.children, scope)


def _line(state: Flow, node: VerseLine, scope: Scope) -> None:
    state.put("verse", flow_list.numbered(node), replace(scope, level=1, levels=1), node.address)


Handler = Callable[[Flow, Any, Scope], None]
_HANDLERS: Mapping[type, Handler] = {
    Heading: _heading,
    Paragraph: _paragraph,
    ListBlock: flow_list.list_block,
    Verse: flow_list.verse,
    VerseLine: _line,
    Speech: flow_list.speech,
    Table: flow_table.table,
    Displayed: _displayed,
    Box: flow_notes.box,
    Graphic: flow_notes.graphic,
    DisplayMath: _math,
    Footnote: flow_notes.footnote,
    TranscriberNote: flow_notes.transcriber_note,
    PrintPage: Flow.turn,
    ContextBreak: _context_break,
    Section: _section,
    Unknown: _unknown,
    ListItem: _unknown,
}
