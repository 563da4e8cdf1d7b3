"""Inside a paragraph: runs, wrappers, fields, revisions, mathematics (ISO/IEC 29500-1, 17.3).

Each element has a row in one of two tables; what has none is kept as bare words and reported.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from lxml import etree

from ..document.nodes import Added, LineBreak, MathRun, PrintPageTurn
from .docx_answers import answering, close_field
from .docx_controls import control_of
from .docx_drawings import drawing
from .docx_names import ID, MC, VAL, M, R, W, is_on
from .docx_styles import Facts
from .docx_symbols import boxes, from_font
from .docx_walk import STEPS, Walk, choose, speaks, step

RUN, TEXT, RPR, PPR = f"{W}r", f"{W}t", f"{W}rPr", f"{W}pPr"
_NOTES = frozenset((f"{W}footnoteReference", f"{W}endnoteReference"))
InRun = Callable[[Walk, etree._Element, str, Facts], None]
InParagraph = Callable[[Walk, etree._Element, str], None]


def inlines(walk: Walk, parent: etree._Element, path: str) -> None:
    """Read everything inside a paragraph or a wrapper into the line."""
    for at, child in enumerate(parent, 1):
        tag: Any = child.tag
        if tag == RUN:
            run(walk, child, path + (STEPS[at] if at < 5000 else step(at)))
        elif tag not in IGNORED:
            do = IN_PARAGRAPH.get(tag)
            place = path + step(at)
            if do is not None:
                do(walk, child, place)
            else:
                unknown(walk, child, place)
        elif speaks(child):
            unknown(walk, child, path + step(at))


def run(walk: Walk, element: etree._Element, path: str) -> None:
    """Read one run; its looks are resolved once for each set of properties."""
    facts = walk.plain
    for at, item in enumerate(element, 1):
        tag: Any = item.tag
        if tag == TEXT:
            if text := item.text:
                walk.line.text(text, facts, path + (STEPS[at] if at < 5000 else step(at)))
        elif tag == RPR:
            facts = walk.styles.facts(walk.style_id, item)
        else:
            do = IN_RUN.get(tag)
            if do is not None:
                do(walk, item, path + step(at), facts)
            elif tag not in IGNORED:
                unknown(walk, item, path + step(at))
    walk.look = facts
    if walk.pages.on and len(element):
        walk.pages.said()


def unknown(walk: Walk, element: etree._Element, path: str) -> None:
    """Keep the words of an element no table has a row for."""
    name = etree.QName(element)
    start = walk.ledger.length
    walk.flat(element, path, name.localname)
    if walk.ledger.length > start or name.namespace == W[1:-1]:
        walk.findings.add("read.unknown-element", (start, walk.ledger.length), tag=name.localname)


# ---------------------------------------------------------------- inside a run


def _deleted(walk: Walk, item: etree._Element, path: str, facts: Facts) -> None:
    if not walk.final and item.text:
        walk.line.text(item.text, facts, path)


def _tab(walk: Walk, item: etree._Element, path: str, facts: Facts) -> None:
    leader = item.get(f"{W}leader", "")
    if not leader and walk.leaders:
        leader = walk.leaders[min(walk.tabs, len(walk.leaders) - 1)][1]
        walk.tabs += 1
    walk.line.tab(facts, path, leader)


def _break(walk: Walk, item: etree._Element, path: str, facts: Facts) -> None:
    kind = item.get(f"{W}type")
    if walk.line.mute or facts.hidden:
        return
    if kind == "page":
        if walk.ledger.length != walk.numbered:
            walk.line.break_line()
        if turn := walk.pages.hard():
            _turn(walk, turn)
    else:
        walk.line.break_line()
        walk.line.put(LineBreak())


def _page(walk: Walk, item: etree._Element, path: str, facts: Facts) -> None:
    if turn := walk.pages.rendered():
        _turn(walk, turn)


def _turn(walk: Walk, turn: PrintPageTurn) -> None:
    """A page begins here; between a heading's number and its words it begins before the number,
    which print has beside the words (Braille Formats 2016, 4.2.5: a heading is on one page)."""
    if walk.ledger.length == walk.numbered:
        walk.line.runs.insert(0, turn)
    else:
        walk.line.put(turn)


def _hyphen(walk: Walk, item: etree._Element, path: str, facts: Facts) -> None:
    walk.line.text("\u2011", facts, path)


def _symbol(walk: Walk, item: etree._Element, path: str, facts: Facts) -> None:
    """``w:sym``: a glyph of a symbol font, by code (17.3.3.30)."""
    font = item.get(f"{W}font", "")
    try:
        code = int(item.get(f"{W}char", ""), 16)
        shown = from_font(code, font) or chr(code)
        if 0xD800 <= code < 0xE000:  # half of a pair is no character
            raise ValueError
    except (ValueError, OverflowError):
        code, shown = 0, "\ufffd"
    if from_font(code, font) is None and (code >= 0xF000 or code < 0x100):
        here = walk.ledger.length
        walk.findings.add("docx.symbol", (here, here + 1), font=font or "none", code=f"{code:04X}")
        shown = chr(0xF000 + code) if 0x20 < code < 0x100 else shown
    odd, walk.line.odd = walk.line.odd, shown in boxes()
    walk.line.text(shown, facts, path)
    walk.line.odd = odd


def _note(walk: Walk, item: etree._Element, path: str, facts: Facts) -> None:
    kind = "footnote" if item.tag == f"{W}footnoteReference" else "endnote"
    walk.notes.call(item, kind, path)


def _comment(walk: Walk, item: etree._Element, path: str, facts: Facts) -> None:
    walk.tally["comments"] += 1


def _field(walk: Walk, item: etree._Element, path: str, facts: Facts) -> None:
    kind = item.get(f"{W}fldCharType")
    line = walk.line
    if kind == "begin":
        walk.fields.begin(item)
        line.listening = True
    elif kind == "separate":
        _result(walk)
    elif kind == "end":
        close_field(walk, path)
    walk.mute()


def _result(walk: Walk) -> None:
    """The result of the innermost field begins; a form field's is kept apart."""
    line = walk.line
    if walk.fields.open and walk.fields.open[-1].is_form:
        line.flush()
    walk.fields.separate(line.runs, len(line.runs), len(line.said), walk.ledger.length)


def _instruction(walk: Walk, item: etree._Element, path: str, facts: Facts) -> None:
    walk.fields.tell(item.text or "")


def _ruby(walk: Walk, item: etree._Element, path: str, facts: Facts) -> None:
    """A base and its reading, which follows in brackets that print does not have."""
    for at, child in enumerate(item, 1):
        if child.tag == f"{W}rubyBase":
            inlines(walk, child, path + step(at))
    for at, child in enumerate(item, 1):
        if child.tag == f"{W}rt":
            here = walk.ledger.length
            walk.line.put(Added("("))
            inlines(walk, child, path + step(at))
            walk.line.put(Added(")"))
            walk.findings.add("docx.ruby", (here, walk.ledger.length))


def _alternate_in_run(walk: Walk, item: etree._Element, path: str, facts: Facts) -> None:
    branch = choose(item)
    if branch is not None:
        at, chosen = branch
        if walk.deeper():
            run(walk, chosen, path + step(at))
        else:
            walk.flat(chosen, path, "deep nesting")
        walk.higher()


def _computed(walk: Walk, item: etree._Element, path: str, facts: Facts) -> None:
    walk.findings.add("docx.computed-text", what=etree.QName(item).localname)


def _ink(walk: Walk, item: etree._Element, path: str, facts: Facts) -> None:
    walk.findings.add("docx.object", what="ink or a foreign drawing")


# ---------------------------------------------------------------- inside a paragraph


def _inside(walk: Walk, element: etree._Element, path: str) -> None:
    """A wrapper that changes nothing: its content is read as if it stood alone."""
    if walk.deeper():
        inlines(walk, element, path)
    else:
        walk.flat(element, path, "deep nesting")
    walk.higher()


def _simple_field(walk: Walk, element: etree._Element, path: str) -> None:
    line = walk.line
    data = element.find(f"{W}ffData")
    holder = element if data is not None else None
    walk.fields.begin(holder)
    walk.fields.tell(element.get(f"{W}instr", ""))
    line.listening = True
    _result(walk)
    _inside(walk, element, path)
    close_field(walk, path)


def _control(walk: Walk, element: etree._Element, path: str) -> None:
    control = control_of(element)
    for at, child in enumerate(element, 1):
        if child.tag == f"{W}sdtContent":
            with answering(walk, control, element, inline=True):
                _inside(walk, child, path + step(at))
        elif speaks(child):
            unknown(walk, child, path + step(at))


def note_change(walk: Walk, element: etree._Element, what: str) -> None:
    """Count a tracked change and who made it."""
    walk.tally[what] += 1
    if author := element.get(f"{W}author"):
        walk.authors.add(author)


def _inserted(walk: Walk, element: etree._Element, path: str) -> None:
    note_change(walk, element, "insertions")
    if walk.final:
        _inside(walk, element, path)
        return
    before, walk.shut = walk.shut, "docx.revisions"
    walk.mute()
    _inside(walk, element, path)
    walk.shut = before
    walk.mute()


def _removed(walk: Walk, element: etree._Element, path: str) -> None:
    note_change(walk, element, "deletions")
    if walk.final:
        words = "".join(item.text or "" for item in element.iter(f"{W}delText", TEXT))
        walk.tally["deleted characters"] += len(words)
        _drop_notes(walk, element)
    else:
        _inside(walk, element, path)


def _drop_notes(walk: Walk, element: etree._Element) -> None:
    for kind in ("footnote", "endnote"):
        for call in element.iter(f"{W}{kind}Reference"):
            walk.notes.left.pop((kind, call.get(ID, "")), None)


def _math(walk: Walk, element: etree._Element, path: str) -> None:
    """An expression: its OMML source, and its plain characters as the span in the ledger."""
    line = walk.line
    line.flush()
    start = end = walk.ledger.length
    calls: list[tuple[etree._Element, str]] = []
    stack = [(element, path)]
    while stack:
        here, place = stack.pop()
        if here.tag in (f"{M}t", TEXT) and here.text:
            if line.mute:
                line.text(here.text, Facts(), place)
            else:
                _, end = walk.ledger.add(here.text, line.part, place)
        elif here.tag in (f"{W}del", f"{W}moveFrom") and walk.final:
            note_change(walk, here, "deletions")
        elif here.tag in _NOTES:
            calls.append((here, place))
        else:
            inside = [(child, place + step(at)) for at, child in enumerate(here, 1)]
            stack.extend(reversed(inside))
    if not line.mute:
        omml = etree.tostring(element, encoding="unicode", with_tail=False)
        line.put(MathRun(start, end, omml))
    for call, place in calls:
        _note(walk, call, place, Facts())


def _math_block(walk: Walk, element: etree._Element, path: str) -> None:
    for at, child in enumerate(element, 1):
        if child.tag == f"{M}oMath":
            _math(walk, child, path + step(at))
        elif child.tag == RUN:
            run(walk, child, path + step(at))


def _alternate(walk: Walk, element: etree._Element, path: str) -> None:
    branch = choose(element)
    if branch is not None:
        _inside(walk, branch[1], path + step(branch[0]))


def _elsewhere(walk: Walk, element: etree._Element, path: str) -> None:
    link = walk.parts.links(walk.line.part).get(element.get(f"{R}id", ""))
    what = "a file without a name" if link is None else link.target.rsplit("/", 1)[-1]
    walk.findings.add("docx.outside-part", what=what)


def _drawn(walk: Walk, item: etree._Element, path: str, facts: Facts) -> None:
    if not facts.hidden and walk.line.mute != "docx.prompt":
        walk.fields.draw()
        drawing(walk, item, path)


IN_RUN: dict[str, InRun] = {
    f"{W}delText": _deleted,
    f"{W}tab": _tab,
    f"{W}ptab": _tab,
    f"{W}br": _break,
    f"{W}cr": _break,
    f"{W}lastRenderedPageBreak": _page,
    f"{W}noBreakHyphen": _hyphen,
    f"{W}sym": _symbol,
    f"{W}footnoteReference": _note,
    f"{W}endnoteReference": _note,
    f"{W}commentReference": _comment,
    f"{W}fldChar": _field,
    f"{W}instrText": _instruction,
    f"{W}ruby": _ruby,
    f"{W}drawing": _drawn,
    f"{W}pict": _drawn,
    f"{W}object": _drawn,
    f"{W}contentPart": _ink,
    f"{MC}AlternateContent": _alternate_in_run,
}
for _name in ("day", "month", "year"):
    for _form in ("Short", "Long"):
        IN_RUN[f"{W}{_name}{_form}"] = _computed
IN_RUN[f"{W}pgNum"] = _computed

IN_PARAGRAPH: dict[str, InParagraph] = {
    f"{W}hyperlink": _inside,
    f"{W}smartTag": _inside,
    f"{W}customXml": _inside,
    f"{W}dir": _inside,
    f"{W}bdo": _inside,
    f"{W}fldSimple": _simple_field,
    f"{W}sdt": _control,
    f"{W}ins": _inserted,
    f"{W}moveTo": _inserted,
    f"{W}del": _removed,
    f"{W}moveFrom": _removed,
    f"{M}oMath": _math,
    f"{M}oMathPara": _math_block,
    f"{MC}AlternateContent": _alternate,
    f"{W}subDoc": _elsewhere,
}

# Marks, properties and machine elements that print nothing.
_IGNORED_NAMES = """
pPr rPr tblPr tcPr trPr bookmarkStart bookmarkEnd commentRangeStart commentRangeEnd proofErr
permStart permEnd moveFromRangeStart moveFromRangeEnd moveToRangeStart moveToRangeEnd
customXmlInsRangeStart customXmlInsRangeEnd customXmlDelRangeStart customXmlDelRangeEnd
customXmlMoveFromRangeStart customXmlMoveFromRangeEnd customXmlMoveToRangeStart
customXmlMoveToRangeEnd smartTagPr customXmlPr sdtPr sdtEndPr sectPr fldData footnoteRef
endnoteRef annotationRef separator continuationSeparator softHyphen delInstrText ffData
"""
IGNORED = frozenset(f"{W}{name}" for name in _IGNORED_NAMES.split())

__all__ = ["IGNORED", "PPR", "VAL", "inlines", "is_on", "note_change", "run", "unknown"]
