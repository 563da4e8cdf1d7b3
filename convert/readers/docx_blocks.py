"""Paragraphs and what holds them: body, table entry, text box, note (ISO/IEC 29500-1, 17.2)."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from lxml import etree

from ..document.nodes import (
    AnswerSpace,
    Block,
    ContextBreak,
    Heading,
    InlineGraphic,
    Inlines,
    MathRun,
    Omission,
    Paragraph,
    PrintPage,
    Run,
    Unknown,
)
from .docx_answers import answering
from .docx_begin import begin, heading_level, properties
from .docx_between import in_their_items
from .docx_controls import control_of
from .docx_drawings import read_later
from .docx_foreign import foreign
from .docx_inlines import IGNORED, PPR, inlines, note_change
from .docx_lists import Entry, displays, graphics, group
from .docx_names import MC, M, W
from .docx_numbers import Mark
from .docx_pages import typed_label
from .docx_paragraph_style import ParagraphStyle
from .docx_walk import Later, Walk, bare_words, choose, speaks, step

# An empty paragraph over a line is room for an answer after these, else a break in the text
# (common practice, no source).
_ASKING = (":", "?")
PARAGRAPH, TABLE, _SECTION = f"{W}p", f"{W}tbl", f"{W}sectPr"


def blocks(walk: Walk, parent: etree._Element, path: str) -> tuple[Block, ...]:
    """The blocks inside ``parent``, lists and boxes put together."""
    entries: list[Entry | Block] = []
    if walk.deeper():
        collect(walk, parent, path, entries)
        end_of_story(walk, path, entries)
    else:
        start = walk.ledger.length
        walk.flat(parent, path, "deep nesting")
        if walk.ledger.length > start:
            entries.append(_entry(walk, ParagraphStyle(), path, None, ()))
    walk.higher()
    return group(in_their_items(entries))


def collect(walk: Walk, parent: etree._Element, path: str, entries: list[Entry | Block]) -> None:
    """Read the children of a container one after another."""
    for at, child in enumerate(parent, 1):
        block(walk, child, path + step(at), entries)


def block(walk: Walk, element: etree._Element, path: str, entries: list[Entry | Block]) -> None:
    """Read one child of a container."""
    tag: Any = element.tag
    if tag == PARAGRAPH:
        paragraph(walk, element, path, entries)
    elif tag not in IGNORED:
        IN_BODY.get(tag, _unknown)(walk, element, path, entries)
    elif speaks(element):
        _unknown(walk, element, path, entries)


def end_of_story(walk: Walk, path: str, entries: list[Entry | Block]) -> None:
    """Close the line that a last paragraph, which runs on into no other, has left open."""
    if walk.carry or walk.line.pending:
        walk.carry = False
        entries.append(_entry(walk, ParagraphStyle(), path, None, ()))


# ---------------------------------------------------------------- a paragraph


def paragraph(walk: Walk, element: etree._Element, path: str, entries: list[Entry | Block]) -> None:
    """Read a paragraph, and after it whatever is anchored in it."""
    ppr = element[0] if len(element) else None
    style, joins, skip_mark = walk.styles.paragraph(""), False, False
    walk.style_id = ""
    if ppr is not None and ppr.tag == PPR:
        style, joins, skip_mark = properties(walk, ppr)
    mark, marker = begin(walk, style, path, (joins, skip_mark))
    if walk.waiting is not None:
        _wait(walk)
    inlines(walk, element, path)
    if walk.fields.open:
        _close_fields(walk)
    if walk.after is not None and walk.after[0] is element:
        walk.waiting = walk.after[1]
        _wait(walk)
        walk.after = None
    walk.carry = joins
    if joins:
        return
    close(walk, style, path, (mark, marker), entries)
    if walk.pages.on:
        _end_section(walk, element, path, entries)


def close(
    walk: Walk,
    style: ParagraphStyle,
    path: str,
    marks: tuple[Mark | None, Inlines],
    entries: list[Entry | Block],
) -> None:
    """End a paragraph and make its blocks."""
    mark, marker = marks
    here = walk.ledger.length
    if style.ruled and here == walk.begun and not (walk.line.pending or walk.later or marker):
        if walk.ledger.last_sign() not in _ASKING:
            entries.append(Entry([ContextBreak(address=f"{walk.line.part}!{path}")]))
            return
        walk.line.put(AnswerSpace(here, here, "line"))
    if style.set_off and not walk.line.mute and here > walk.begun and not heading_level(style):
        walk.findings.add("docx.set-off", (walk.begun, here), how=style.set_off)
    if mark is None and not style.special and not walk.later and not walk.line.said:
        entries.append(_ordinary(walk, style, path))
    else:
        entries.append(_entry(walk, style, path, mark, marker))


def _close_fields(walk: Walk) -> None:
    if broken := walk.fields.abandon():
        walk.findings.add("docx.broken-field", number=broken)
        walk.mute()


def _end_section(
    walk: Walk, element: etree._Element, path: str, entries: list[Entry | Block]
) -> None:
    if element.find(f"{PPR}/{_SECTION}") is not None and (turn := walk.pages.end_section()):
        entries.append(PrintPage(label=turn.label, address=f"{path}#section"))


def _wait(walk: Walk) -> None:
    """Put the answer space of a control around this paragraph here."""
    assert walk.waiting is not None
    here = walk.ledger.length
    kind, name, choices = walk.waiting
    walk.line.put(AnswerSpace(here, here, kind, name, choices))
    walk.waiting = None


def _ordinary(walk: Walk, style: ParagraphStyle, path: str) -> Entry | Block:
    """What becomes of a paragraph with nothing special about it, as most are."""
    runs = walk.line.take()
    walk.ledger.end_block()
    address = f"{walk.line.part}!{path}"
    _note_stand(walk, style, runs)
    if runs and not isinstance(runs[0], Run):
        return Entry(_make(walk, style, runs, "", address), address=address)
    return Paragraph(runs=runs, address=address)


def _note_stand(walk: Walk, style: ParagraphStyle, runs: Inlines) -> None:
    """Note a paragraph that print makes stand out from the text."""
    if (style.centred or walk.look.large) and runs and isinstance(runs[0], Run):
        walk.stands.add(runs[0].start)


def _entry(
    walk: Walk, style: ParagraphStyle, path: str, mark: Mark | None, marker: Inlines
) -> Entry:
    """Close the line and make its blocks, with the matter anchored in it."""
    said = "".join(walk.line.said)
    runs = walk.line.take()
    _note_stand(walk, style, runs)
    walk.ledger.end_block()
    address = f"{walk.line.part}!{path}"
    later, walk.later = walk.later, []
    made = _make(walk, style, runs, said, address)
    extra: list[Block] = []
    for item in later:
        if item.what == "note":
            extra.extend(walk.notes.body(item.path, item.name))
        elif item.what == "rule":
            extra.append(ContextBreak(address=f"{address}#rule"))
        else:
            extra.extend(read_later(walk, item))
    if extra and not runs and len(made) == 1 and isinstance(made[0], Paragraph):
        made = []
    return _placed(style, mark, marker, Entry([*made, *extra], address=address))


def _placed(style: ParagraphStyle, mark: Mark | None, marker: Inlines, entry: Entry) -> Entry:
    """Say which list, box or set-off matter the entry belongs to."""
    row = style.row
    entry.border = style.border
    node = row.get("node")
    if node == "entry":
        entry.list_id = entry.role = str(row["role"])
        entry.level = int(row["level"]) - 1
        entry.marker = marker
    elif mark is not None and not heading_level(style):
        entry.list_id, entry.kind, entry.level = mark.list_id, mark.kind, mark.level
        entry.indent = mark.indent if style.indent is None else style.indent
        entry.marker, entry.sign = marker, mark.text if mark.kind == "bulleted" else ""
    elif node == "continue":
        entry.continues = True
    elif node == "displayed":
        entry.displayed = str(row["role"])
    return entry


def _make(walk: Walk, style: ParagraphStyle, runs: Inlines, said: str, address: str) -> list[Block]:
    row = style.row
    by_style = row.get("node") == "page"
    if (by_style or walk.pages.on) and (label := typed_label(said, by_style)):
        spans = [(r.start, r.end) for r in runs if isinstance(r, Run)]
        walk.line.omissions += [Omission(start, end, "docx.page-label") for start, end in spans]
        walk.findings.add("docx.page-label", spans[0] if spans else None)
        return [PrintPage(label=label, address=address)]
    if runs and all(isinstance(r, InlineGraphic) for r in runs):
        return graphics(runs, address)
    if runs and all(isinstance(r, MathRun) for r in runs):
        return displays(runs, address)
    if level := heading_level(style):
        return [Heading(level=level, runs=runs, address=address, role=str(row.get("role", "")))]
    role = str(row.get("role", "body")) if row.get("node") == "paragraph" else "body"
    return [Paragraph(runs=runs, role=role, address=address)]


# ---------------------------------------------------------------- other children of a container


def _wrapper(walk: Walk, element: etree._Element, path: str, entries: list[Entry | Block]) -> None:
    if walk.deeper():
        collect(walk, element, path, entries)
    else:
        walk.flat(element, path, "deep nesting")
        entries.append(_entry(walk, ParagraphStyle(), path, None, ()))
    walk.higher()


def _control(walk: Walk, element: etree._Element, path: str, entries: list[Entry | Block]) -> None:
    control = control_of(element)
    for at, child in enumerate(element, 1):
        if child.tag == f"{W}sdtContent":
            with answering(walk, control, element, inline=False):
                _wrapper(walk, child, path + step(at), entries)
        elif speaks(child):
            _unknown(walk, child, path + step(at), entries)


def _inserted(walk: Walk, element: etree._Element, path: str, entries: list[Entry | Block]) -> None:
    note_change(walk, element, "insertions")
    before = walk.shut
    if not walk.final:
        walk.shut = "docx.revisions"
    walk.mute()
    _wrapper(walk, element, path, entries)
    walk.shut = before
    walk.mute()


def _removed(walk: Walk, element: etree._Element, path: str, entries: list[Entry | Block]) -> None:
    note_change(walk, element, "deletions")
    if not walk.final:
        _wrapper(walk, element, path, entries)


def _table(walk: Walk, element: etree._Element, path: str, entries: list[Entry | Block]) -> None:
    from .docx_tables import table

    if walk.deeper():
        entries.extend(table(walk, element, path))
    else:
        walk.flat(element, path, "deep nesting")
        entries.append(_entry(walk, ParagraphStyle(), path, None, ()))
    walk.higher()


def _math(walk: Walk, element: etree._Element, path: str, entries: list[Entry | Block]) -> None:
    from .docx_inlines import IN_PARAGRAPH

    IN_PARAGRAPH[str(element.tag)](walk, element, path)
    entries.append(_entry(walk, ParagraphStyle(), path, None, ()))


def _alternate(
    walk: Walk, element: etree._Element, path: str, entries: list[Entry | Block]
) -> None:
    branch = choose(element)
    if branch is not None:
        _wrapper(walk, branch[1], path + step(branch[0]), entries)


def _run(walk: Walk, element: etree._Element, path: str, entries: list[Entry | Block]) -> None:
    """A run outside a paragraph: not allowed, but met in damaged files."""
    from .docx_inlines import run

    run(walk, element, path)
    entries.append(_entry(walk, ParagraphStyle(), path, None, ()))


def _unknown(walk: Walk, element: etree._Element, path: str, entries: list[Entry | Block]) -> None:
    """Keep the words of an element no table has a row for, in a block that says so."""
    name = etree.QName(element)
    words = bare_words(element)
    if not words and name.namespace != W[1:-1]:
        return
    start = walk.ledger.length
    walk.flat(element, path, name.localname)
    entry = _entry(walk, ParagraphStyle(), path, None, ())
    walk.findings.add("read.unknown-element", (start, walk.ledger.length), tag=name.localname)
    if words:
        why = "no rule of the reader covers it"
        block = Unknown(
            children=tuple(entry.blocks), tag=name.localname, why=why, address=f"{entry.address}#?"
        )
        entries.append(Entry([block], address=entry.address))


InBody = Callable[[Walk, etree._Element, str, list[Entry | Block]], None]
IN_BODY: dict[str, InBody] = {
    TABLE: _table,
    f"{W}sdt": _control,
    f"{W}customXml": _wrapper,
    f"{W}smartTag": _wrapper,
    f"{W}ins": _inserted,
    f"{W}moveTo": _inserted,
    f"{W}del": _removed,
    f"{W}moveFrom": _removed,
    f"{MC}AlternateContent": _alternate,
    f"{M}oMathPara": _math,
    f"{M}oMath": _math,
    f"{W}r": _run,
    f"{W}hyperlink": _math,
    f"{W}altChunk": foreign,
}

__all__ = ["Later", "block", "blocks", "close", "collect", "end_of_story", "paragraph"]
