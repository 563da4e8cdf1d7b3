"""Pictures, text boxes, charts and objects: found once, whichever of two forms the file has.

A text box is read after the paragraph that anchors it, so that text stays in one piece.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field

from lxml import etree

from ..document.nodes import Block, Box, Graphic, InlineGraphic, Paragraph, Run
from .docx_fields import Fields
from .docx_names import CHART, DECORATIVE, DIAGRAM, MC, PIC, WP, WPS, A, O, R, V, W
from .docx_walk import Later, Walk, choose, step

_AUTO_ALT = re.compile(r"automatically generated|AI-generated|^(picture|image|graphic) ?\d*$|\.(png|jpe?g|gif|bmp|emf|wmf|tiff?)$", re.I)  # fmt: skip  # noqa: E501
_BOX = f"{W}txbxContent"
_FOREIGN = {"chart": "docx.chart", "diagram": "docx.diagram"}
_ACTIVE = "an active form control"
_FILM = "a film or another thing that plays"
_WEB_VIDEO = "{http://schemas.microsoft.com/office/word/2012/wordprocessingDrawing}webVideoPr"
_EQUATIONS = ("Equation.", "MathType", "Microsoft Equation")


@dataclass(slots=True)
class _Found:
    """What a drawing holds.  ``inline``: it stands in the line like a letter."""

    boxes: list[tuple[etree._Element, str]] = field(default_factory=list)
    words: list[tuple[str, str]] = field(default_factory=list)
    linked: list[tuple[str, str]] = field(default_factory=list)
    alt: str = ""
    alt_path: str = ""
    resource: str = ""
    picture: bool = False
    inline: bool = False
    decorative: bool = False
    hidden: bool = False
    rule: bool = False
    shapes: int = 0
    object: str = ""


def drawing(walk: Walk, element: etree._Element, path: str) -> None:
    """Read a ``w:drawing``, ``w:pict`` or ``w:object`` anchored in the current line."""
    found = _search(element, path)
    for box, place in found.boxes:
        walk.later.append(Later("box", box, place))
    for words, place in found.words:
        walk.later.append(Later("words", element, place, words))
    for kind, name in found.linked:
        walk.later.append(Later(kind, element, path, name))
    if found.rule:
        walk.later.append(Later("rule", element, path))
    if found.object:
        _report_object(walk, found)
    if found.hidden:
        walk.findings.add("docx.object", what="a hidden picture")
    elif found.picture or (found.alt and not found.boxes and not found.linked):
        _graphic(walk, found, path)
    elif found.shapes and not (found.boxes or found.words or found.linked or found.rule):
        walk.tally["shapes"] += 1


def _graphic(walk: Walk, found: _Found, path: str) -> None:
    resource = _resource(walk, found)
    _tell_outside(walk, found)
    place = found.alt_path or path
    alt = " ".join(found.alt.split())
    if not alt and not found.decorative and not found.object:
        walk.findings.add("docx.no-alt", picture=_file_name(resource))
    if found.decorative or not found.inline:
        name = f"{resource}\0{'decorative' if found.decorative else ''}\0{alt}"
        walk.later.append(Later("graphic", walk.root, place, name))
        return
    walk.line.flush()
    start, end = walk.ledger.add(alt, walk.line.part, place, 0, "generated")
    _judge_alt(walk, alt, (start, end))
    if not walk.line.mute:
        walk.line.put(InlineGraphic(start, end, resource))


def _judge_alt(walk: Walk, alt: str, span: tuple[int, int]) -> None:
    if alt and _AUTO_ALT.search(alt):
        walk.findings.add("docx.draft-alt", span, alt=alt[:120])


def _resource(walk: Walk, found: _Found) -> str:
    link = walk.parts.links(walk.line.part).get(found.resource)
    return link.target if link is not None else ""


def _tell_outside(walk: Walk, found: _Found) -> None:
    link = walk.parts.links(walk.line.part).get(found.resource)
    if link is not None and link.external:
        here = walk.ledger.length
        walk.findings.add("docx.outside-matter", (here, here), what="a picture")


def _file_name(resource: str) -> str:
    return resource.rsplit("/", 1)[-1] or "without a file"


def _report_object(walk: Walk, found: _Found) -> None:
    """One finding for an object, with the picture that print shows of it where it has no words."""
    here, program = walk.ledger.length, found.object
    shown = _file_name(_resource(walk, found)) if found.picture else ""
    if program.startswith(_EQUATIONS):
        walk.findings.add("docx.equation-object", (here, here), program=program, picture=shown)
    else:
        own = program.startswith((_ACTIVE, _FILM))
        what = program if own else f"an object of {program}"
        walk.findings.add("docx.object", (here, here), what=what, picture=shown)


def _search(element: etree._Element, path: str) -> _Found:
    """Walk the drawing once, taking one branch of every AlternateContent."""
    found = _Found()
    stack = [(element, path)]
    while stack:
        here, place = stack.pop()
        tag = str(here.tag)
        if tag == _BOX:
            found.boxes.append((here, place))
            continue
        if tag == f"{MC}AlternateContent":
            branch = choose(here)
            if branch is not None:
                stack.append((branch[1], place + step(branch[0])))
            continue
        _note(found, here, tag, place)
        inside = [(child, place + step(at)) for at, child in enumerate(here, 1)]
        stack.extend(reversed(inside))
    return found


def _note(found: _Found, here: etree._Element, tag: str, place: str) -> None:
    if here.get(f"{O}hr") in ("t", "true", "1"):
        found.rule = True
    elif (do := _NOTES.get(tag)) is not None:
        do(found, here, place)


def _picture(found: _Found, here: etree._Element, place: str) -> None:
    found.picture = True
    found.resource = found.resource or here.get(f"{R}id", "")
    found.alt = found.alt or here.get(f"{O}title", "")


def _blip(found: _Found, here: etree._Element, place: str) -> None:
    found.resource = found.resource or here.get(f"{R}embed", "") or here.get(f"{R}link", "")


def _properties(found: _Found, here: etree._Element, place: str) -> None:
    found.alt = here.get("descr") or here.get("title") or found.alt
    found.alt_path = place
    found.hidden = here.get("hidden") in ("1", "true")


def _inline(found: _Found, here: etree._Element, place: str) -> None:
    found.inline = True


def _shape(found: _Found, here: etree._Element, place: str) -> None:
    """A drawn shape; the old kind stands in the line unless its style says otherwise."""
    found.shapes += 1
    found.alt = found.alt or here.get("alt", "")
    if here.tag != f"{WPS}wsp" and "absolute" not in here.get("style", ""):
        found.inline = True


def _decorative(found: _Found, here: etree._Element, place: str) -> None:
    found.decorative = here.get("val") in ("1", "true")


def _chart(found: _Found, here: etree._Element, place: str) -> None:
    if here.get(f"{R}id"):
        found.linked.append(("chart", here.get(f"{R}id", "")))


def _diagram(found: _Found, here: etree._Element, place: str) -> None:
    found.linked.append(("diagram", here.get(f"{R}dm", "")))


def _word_art(found: _Found, here: etree._Element, place: str) -> None:
    if words := here.get("string") or here.text:
        found.words.append((words, place))


def _embedded(found: _Found, here: etree._Element, place: str) -> None:
    found.object = here.get("ProgID", "") or "an unnamed program"


def _film(found: _Found, here: etree._Element, place: str) -> None:
    found.object = _FILM


def _active(found: _Found, here: etree._Element, place: str) -> None:
    name = here.get(f"{W}name", "")
    found.object = f"{_ACTIVE} ({name})" if name else _ACTIVE


_NOTES: dict[str, Callable[[_Found, etree._Element, str], None]] = {
    f"{PIC}pic": _picture,
    f"{V}imagedata": _picture,
    f"{A}blip": _blip,
    f"{WP}docPr": _properties,
    f"{WP}inline": _inline,
    f"{WPS}wsp": _shape,
    DECORATIVE: _decorative,
    f"{CHART}chart": _chart,
    f"{DIAGRAM}relIds": _diagram,
    f"{V}textpath": _word_art,
    f"{A}t": _word_art,
    f"{O}OLEObject": _embedded,
    f"{W}control": _active,
    _WEB_VIDEO: _film,
    **{
        f"{V}{name}": _shape
        for name in ("shape", "rect", "line", "oval", "roundrect", "polyline", "group")
    },
}


# ---------------------------------------------------------------- after the paragraph


def read_later(walk: Walk, item: Later) -> list[Block]:
    """The blocks of a text box, picture, chart or drawing anchored in the paragraph before."""
    address = f"{walk.line.part}!{item.path}"
    if item.what == "graphic":
        resource, decorative, alt = item.name.split("\0")
        start, end = walk.ledger.add(alt, walk.line.part, item.path, 0, "generated")
        walk.ledger.end_block()
        _judge_alt(walk, alt, (start, end))
        runs = (Run(start, end),) if alt else ()
        return [Graphic(alt=runs, resource=resource, decorative=bool(decorative), address=address)]
    if item.what == "words":
        start, end = walk.ledger.add(item.name, walk.line.part, item.path)
        walk.ledger.end_block()
        words = Paragraph(runs=(Run(start, end),), address=address)
        return [Box(children=(words,), address=f"{address}#box")]
    if item.what == "box":
        return _text_box(walk, item, address)
    return _foreign(walk, item, address)


def _text_box(walk: Walk, item: Later, address: str) -> list[Block]:
    from .docx_blocks import blocks

    fields, walk.fields = walk.fields, Fields()
    start = walk.ledger.length
    story = walk.numbers.enter("text box")
    children = blocks(walk, item.element, item.path)
    walk.numbers.enter(story)
    walk.fields = fields
    walk.mute()
    if walk.ledger.length == start and not any(_weighs(child) for child in children):
        return []
    walk.findings.add("docx.text-box", (start, walk.ledger.length))
    return [Box(children=children, address=address)]


def _weighs(block: Block) -> bool:
    return not isinstance(block, Paragraph) or bool(block.runs)


def _foreign(walk: Walk, item: Later, address: str) -> list[Block]:
    """The words of a chart or of a diagram, which stand in a part of their own."""
    link = walk.parts.links(walk.line.part).get(item.name)
    root = walk.parts.root(link.target) if link is not None and not link.external else None
    children: list[Block] = []
    start = walk.ledger.length
    if root is not None and link is not None:
        tags = (f"{A}p", f"{CHART}pt")
        for unit in root.iter(*tags):
            runs = []
            for text in unit.iter(f"{A}t", f"{CHART}v"):
                if text.text:
                    runs.append(Run(*walk.ledger.add(text.text, link.target, _steps(text))))
            if runs:
                walk.ledger.end_block()
                place = f"{link.target}!{_steps(unit)}"
                children.append(Paragraph(runs=tuple(runs), address=place))
    walk.findings.add(_FOREIGN[item.what], (start, walk.ledger.length))
    resource = link.target if link is not None else ""
    return [Graphic(alt=(), resource=resource, children=tuple(children), address=address)]


def _steps(element: etree._Element) -> str:
    """The CFI steps from the root, counted backwards; for the few elements of foreign parts."""
    steps: list[str] = []
    parent = element.getparent()
    while parent is not None:
        steps.append(step(parent.index(element) + 1))
        element, parent = parent, parent.getparent()
    return "".join(reversed(steps))
