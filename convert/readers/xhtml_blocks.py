"""Handlers for text: divisions, paragraphs, headings, set-off matter, lines, things left out."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import islice
from typing import Any

from lxml import etree

from ..document.inlines import PROGRAM
from ..document.nodes import (
    Block,
    Box,
    ContextBreak,
    Displayed,
    Paragraph,
    Run,
    Section,
    Unknown,
)
from .open_text import SPACE
from .plans import local_name
from .roles import is_program
from .xhtml import Around, Handler, Here, Walker

_ORNAMENT = re.compile(r"[\s*•⁂❦❧⁎∗~§#◆❖·]{1,40}")
HEADINGS = {f"h{n}": n for n in range(1, 7)}
"""The rank of each element of HTML for headings."""
_HOLDERS = 2  # Elements around preformatted text that may name it code.
_RUBY_PAREN = ("(", ")")


def address_of(walker: Walker, here: Here) -> str:
    """The stable address of an element: part and EPUB CFI steps."""
    return f"{walker.part}!{here.path}"


def fresh(around: Around, **changes: Any) -> Around:
    """What a container tells its blocks: ordinary paragraphs, whatever stood around it."""
    inside = Around(
        list_role=around.list_role,
        list_depth=around.list_depth,
        drama=around.drama,
        hgroup=around.hgroup,
        headed=around.headed,
    )
    for name, value in changes.items():
        setattr(inside, name, value)
    return inside


# ---------------------------------------------------------------- containers


def flow(walker: Walker, here: Here) -> None:
    """A container that is nothing by itself."""
    walker.flush()
    around = walker.around
    kept = around.hgroup, around.textual
    if here.plan.tag == "hgroup":
        around.hgroup = _hgroup_level(here.element)
    around.textual = False
    if here.plan.tag == "footer" and _in_quotation(here):
        paragraph(walker, here._replace(plan=replace(here.plan, role="attribution", kids={})))
    else:
        walker.inside(here)
        walker.flush()
    around.hgroup, around.textual = kept


def _hgroup_level(element: etree._Element) -> int:
    levels = [HEADINGS[n] for e in element if (n := local_name(str(e.tag))) in HEADINGS]
    return min(levels, default=0)


def section(walker: Walker, here: Here) -> None:
    """A division of the work."""
    if walker.too_deep():
        flow(walker, here)
        return
    headed = (*walker.around.headed, 0)
    out = walker.collect(here, fresh(walker.around, headed=headed, list_role="", hgroup=0))
    if out:
        address = address_of(walker, here)
        walker.out.append(Section(children=tuple(out), role=here.plan.role, address=address))


def displayed(walker: Walker, here: Here) -> None:
    """Matter set off by space or margins; inside verse it is a stanza."""
    if walker.around.verse:
        stanza(walker, here)
        return
    if walker.too_deep():
        flow(walker, here)
        return
    out = walker.collect(here, fresh(walker.around))
    if out:
        role = here.plan.role or "quotation"
        walker.out.append(
            Displayed(children=tuple(out), role=role, address=address_of(walker, here))
        )


def box(walker: Walker, here: Here) -> None:
    """Boxed matter or a sidebar; lines about a whole chapter are no box."""
    framed = here.plan.bordered and next(here.element.iter("{*}h1", "{*}section"), None) is not None
    if framed or walker.too_deep():
        flow(walker, here)
        return
    start = walker.ledger.length
    headed = (*walker.around.headed, 0)
    out = walker.collect(here, fresh(walker.around, headed=headed))
    if out:
        role = here.plan.role or "sidebar"
        walker.out.append(Box(children=tuple(out), role=role, address=address_of(walker, here)))
        if here.plan.bordered:
            walker.findings.add("read.box-by-style", (start, walker.ledger.length))


def drama(walker: Walker, here: Here) -> None:
    """A division that holds a play."""
    kept, walker.around.drama = walker.around.drama, True
    section(walker, here)
    walker.around.drama = kept


def unknown(walker: Walker, here: Here) -> None:
    """An element no row of roles.toml has: its content is kept and a finding names it."""
    tag = here.plan.tag
    start = walker.ledger.length
    if walker.around.textual or walker.text.runs:
        walker.inside(here)
    elif walker.around.verse:
        flow(walker, here)
    else:
        out = walker.collect(here, fresh(walker.around))
        if out:
            address = address_of(walker, here)
            walker.out.append(Unknown(children=tuple(out), tag=tag, why="no rule", address=address))
    walker.findings.add("read.unknown-element", (start, walker.ledger.length), tag=tag)


# ---------------------------------------------------------------- paragraphs


def paragraph(walker: Walker, here: Here) -> None:
    """A paragraph, or an element that holds one (a definition, a caption)."""
    walker.flush()
    around, plan = walker.around, here.plan
    kept = around.make, around.textual
    if around.verse and not plan.role:
        around.stanza_paragraph += 1
        around.make = ("line", plan.indent)
    elif around.hgroup and not plan.role:
        around.make = ("heading", around.hgroup, "subtitle")
    elif around.make[0] != "paragraph":
        around.make = ("paragraph", plan.role or "body")
    elif plan.role:
        around.make = ("paragraph", plan.role)
    around.textual = True
    walker.address = address_of(walker, here)
    if _is_ornament(here):
        walker.inside(here)
        runs, _ = walker.text.take()
        walker.ledger.end_block()
        walker.out.append(ContextBreak(runs=runs, address=walker.address))
    elif len(here.element) or not _read_plain(walker, here):
        walker.inside(here)
        walker.flush()
    walker.address = ""
    around.make, around.textual = kept


def _read_plain(walker: Walker, here: Here) -> bool:
    """Read a paragraph of one text node by the short way, as most of a novel's are; tells whether.

    What it makes is what the long way would make; the tests hold both to the same trees.
    """
    plan, raw = here.plan, here.element.text
    if raw is None or plan.before or plan.after or walker.speaker:
        return False
    kind, *details = walker.around.make
    look = walker.look_of(plan, here.look)
    words = raw.strip(SPACE)
    if kind != "paragraph" or look.pre or look.transform:
        return False
    if not words or "  " in words or "\n" in words or "\t" in words or "\r" in words:
        return False
    lead = 0 if raw[0] not in SPACE else len(raw) - len(raw.lstrip(SPACE))
    start, end = walker.ledger.add(words, walker.part, f"{here.path}/1", lead)
    walker.ledger.end_block()
    run = Run(start, end, look.typeform, look.lang, look.voice)
    walker.out.append(Paragraph(runs=(run,), role=details[0], address=walker.address))
    return True


def preformatted(walker: Walker, here: Here) -> None:
    """Lines as they are typed; where all of them are code, or a class says so, a program (UEB
    10.12.3)."""
    first = len(walker.out)
    paragraph(walker, here)
    around = [here.element, *islice(here.element.iterancestors(), _HOLDERS)]
    named = any(is_program(each.get("class", "")) for each in around)
    walker.out[first:] = [_program(block, named) for block in walker.out[first:]]


def _program(block: Block, named: bool) -> Block:
    """A paragraph of code alone (or named so), in the voice of a program."""
    runs = block.runs if isinstance(block, Paragraph) else ()
    code = {named or run.voice == "computer" for run in runs if isinstance(run, Run)}
    if not isinstance(block, Paragraph) or code != {True}:
        return block
    said = [replace(run, voice=PROGRAM) if isinstance(run, Run) else run for run in runs]
    return replace(block, runs=tuple(said))


def _is_ornament(here: Here) -> bool:
    raw = here.element.text
    if raw is None or len(raw) > 40 or len(here.element) or here.plan.before or here.plan.after:
        return False
    return bool(raw.strip() and _ORNAMENT.fullmatch(raw))


# ---------------------------------------------------------------- verse


def verse(walker: Walker, here: Here) -> None:
    """A poem or a part of one."""
    if walker.around.verse:
        stanza(walker, here)
        return
    from .xhtml_lines import group_lines

    around = fresh(walker.around, verse=True, make=("line", 0.0), stanza=1, stanza_paragraph=0)
    walker.out.extend(group_lines(walker.collect(here, around), address_of(walker, here)))


def stanza(walker: Walker, here: Here) -> None:
    """A group of lines; alone, it is a poem."""
    if not walker.around.verse:
        verse(walker, here)
        return
    walker.flush()
    walker.around.stanza += 1
    walker.inside(here)
    walker.flush()
    walker.around.stanza += 1


def line(walker: Walker, here: Here) -> None:
    """A line of verse, or of a paragraph with line numbers, that is an element of its own."""
    from .xhtml_lines import numbered_prose

    if numbered_prose(walker, here):
        return
    if not walker.around.verse:
        paragraph(walker, here._replace(plan=replace(here.plan, role="", kids={})))
        return
    walker.flush()
    around = walker.around
    kept, around.make = around.make, ("line", here.plan.indent)
    walker.address = address_of(walker, here)
    walker.inside(here)
    walker.flush()
    walker.address = ""
    around.make = kept


# ---------------------------------------------------------------- inlines and lines


def inline(walker: Walker, here: Here) -> None:
    """Words inside a line; an inline element shown as a block begins a line of its own."""
    plan = here.plan
    if walker.around.verse and _starts_line(walker, here):
        walker.around.make = ("line", _verse_indent(here))
        if plan.block:
            walker.flush()
    if plan.tag == "cite" and not walker.around.textual and _in_quotation(here):
        paragraph(walker, here._replace(plan=replace(plan, role="attribution", kids={})))
    elif plan.block and walker.around.verse:
        walker.inside(here)
        walker.flush()
    elif plan.block:
        walker.text.soft_break()
        walker.inside(here)
        walker.text.soft_break()
    else:
        walker.inside(here)


def _starts_line(walker: Walker, here: Here) -> bool:
    return (here.plan.block or not walker.text.runs) and walker.around.make[0] == "line"


_STEP = re.compile(r"\b(?:i|indent-?|line-?indent-?)(\d{1,2})\b")


def _verse_indent(here: Here) -> float:
    if here.plan.indent:
        return here.plan.indent
    step = _STEP.search(here.plan.classes)
    return float(step[1]) if step else 0.0


def _in_quotation(here: Here) -> bool:
    above = here.element.getparent()
    return above is not None and local_name(str(above.tag)) in ("blockquote", "figure")


def br(walker: Walker, here: Here) -> None:
    """A line end; in verse, the end of a line of the poem."""
    if walker.around.verse and walker.around.make[0] == "line":
        if walker.text.runs:
            walker.flush()
            walker.around.make = ("line", 0.0)
        elif walker.out and local_name(str(_before(here))) == "br":
            walker.around.stanza += 1
    else:
        walker.text.line_break()
    void(walker, here)


def _before(here: Here) -> str:
    before = here.element.getprevious()
    return "" if before is None or (before.tail or "").strip() else str(before.tag)


def hr(walker: Walker, here: Here) -> None:
    """A break in context."""
    walker.flush()
    walker.out.append(ContextBreak(address=address_of(walker, here)))
    void(walker, here)


def void(walker: Walker, here: Here) -> None:
    """An element that should be empty: text inside it, against the rules, is still print."""
    if here.element.text or len(here.element):
        walker.walk(here.element, here.plan, here.path, here.look)


def reading(walker: Walker, here: Here) -> None:
    """The reading beside a ruby base, in parentheses where the source gives none."""
    start = walker.ledger.length
    above = here.element.getparent()
    given = above is not None and any(local_name(str(e.tag)) == "rp" for e in above)
    if not given:
        walker.text.generate(_RUBY_PAREN[0], here.path, here.look)
    walker.inside(here)
    if not given:
        walker.text.generate(_RUBY_PAREN[1], here.path, here.look)
    walker.findings.add("read.ruby", (start, walker.ledger.length))


def run_of(span: tuple[int, int]) -> tuple[Run, ...]:
    """One plain run over a span of the ledger, none where it is empty."""
    return (Run(*span),) if span[1] > span[0] else ()


HANDLERS: dict[str, Handler] = {
    "flow": flow,
    "section": section,
    "displayed": displayed,
    "box": box,
    "drama": drama,
    "unknown": unknown,
    "paragraph": paragraph,
    "pre": preformatted,
    "verse": verse,
    "stanza": stanza,
    "line": line,
    "inline": inline,
    "cite": inline,
    "br": br,
    "hr": hr,
    "void": void,
    "reading": reading,
    "ruby": inline,
}
