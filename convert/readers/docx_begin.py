"""The beginning of a paragraph: its properties, what its mark says, its computed number."""

from __future__ import annotations

from lxml import etree

from ..document.nodes import Inlines
from .docx_inlines import note_change
from .docx_names import VAL, W, is_on
from .docx_numbers import Mark
from .docx_paragraph_style import ParagraphStyle, read_paragraph
from .docx_walk import Walk

_PSTYLE, _RPR, _FRAME = f"{W}pStyle", f"{W}rPr", f"{W}framePr"
_GONE = (f"{W}del", f"{W}moveFrom")
_COME = (f"{W}ins", f"{W}moveTo")


def properties(walk: Walk, ppr: etree._Element) -> tuple[ParagraphStyle, bool, bool]:
    """The style with the paragraph's own properties, and what :func:`_end_mark` says."""
    named = ppr.find(_PSTYLE)
    walk.style_id = named.get(VAL, "") if named is not None else ""
    style = walk.styles.paragraph(walk.style_id)
    if len(ppr) > (named is not None):
        return read_paragraph(ppr, style), *_end_mark(walk, ppr)
    return style, False, False


def begin(
    walk: Walk, style: ParagraphStyle, path: str, flags: tuple[bool, bool]
) -> tuple[Mark | None, Inlines]:
    """Begin a paragraph; its list mark, unless hidden, and the mark's inlines.  ``flags``: it
    runs on into the next paragraph, its mark is hidden."""
    joins, skip_mark = flags
    line = walk.line
    walk.plain = walk.look = walk.styles.facts(walk.style_id)
    walk.begun = walk.ledger.length
    walk.leaders, walk.tabs = style.tabs, 0
    line.listening = walk.pages.on or (style.special and style.row.get("node") == "page")
    if style.break_before and (turn := walk.pages.hard()):
        line.put(turn)
    if not style.num_id or joins or walk.shut == "docx.revisions":
        return None, ()
    mark = walk.numbers.mark(style.num_id, style.ilvl)
    if mark is None or skip_mark:
        return None, ()
    return mark, _marker(walk, style, mark, path)


def _end_mark(walk: Walk, ppr: etree._Element) -> tuple[bool, bool]:
    """Whether the paragraph runs on into the next one, and whether its number is hidden."""
    frame = ppr.find(_FRAME)
    if frame is not None and frame.get(f"{W}dropCap") in ("drop", "margin"):
        return True, False
    rpr = ppr.find(_RPR)
    hidden = False
    for prop in rpr if rpr is not None else ():
        if prop.tag in _GONE:
            note_change(walk, prop, "deletions")
            if walk.final:
                return True, False
        elif prop.tag in _COME:
            note_change(walk, prop, "insertions")
            if not walk.final:
                return True, False
        elif prop.tag == f"{W}specVanish" and is_on(prop.get(VAL)):
            return True, False
        elif prop.tag == f"{W}vanish" and is_on(prop.get(VAL)):
            hidden = True
    return False, hidden


def _marker(walk: Walk, style: ParagraphStyle, mark: Mark, path: str) -> Inlines:
    """The computed number: before a heading it is part of the words, else the list mark."""
    if walk.line.mute:
        return ()
    if heading_level(style) and mark.text.strip():
        walk.line.generated(f"{mark.text.strip()} ", path, walk.plain)
        walk.numbered = walk.ledger.length
        return ()
    return walk.line.mark(mark.text, path, mark.box)


def heading_level(style: ParagraphStyle) -> int:
    if style.row.get("node") == "heading":
        return int(style.row["level"])
    return style.outline + 1 if 0 <= style.outline < 9 else 0
