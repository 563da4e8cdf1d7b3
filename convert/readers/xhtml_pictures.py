"""Pictures with their alternative text and captions, drawings, expressions, form fields."""

from __future__ import annotations

import re
from dataclasses import replace

from lxml import etree

from ..document.ledger import GENERATED
from ..document.nodes import (
    AnswerSpace,
    DisplayMath,
    Graphic,
    InlineGraphic,
    MathRun,
    Paragraph,
    Table,
    TranscriberNote,
)
from ..maths.typed import is_tex
from .open_text import SPACE, texts
from .opf import resolve
from .plans import local_name
from .xhtml import Handler, Here, Walker
from .xhtml_blocks import address_of, flow, fresh, run_of, void
from .xhtml_described import owe

_HREF = "{http://www.w3.org/1999/xlink}href"
_FILE_NAME = re.compile(r"\S+\.(?:jpe?g|png|gif|svg|webp|bmp|tiff?)", re.IGNORECASE)
_EMPTY_WORDS = frozenset({"image", "picture", "graphic", "img", "photo", "figure", "cover"})
_PROMISED = re.compile(
    r"(?:(?:alt(?:ernative)? ?text|(?:image )?description)\s+(?:is )?"
    r"(?:to come|to follow|pending|needed|goes here|here)|add (?:alt|a description))\b",
    re.IGNORECASE,
)
_FORMULA_NAMES = frozenset(
    ("math", "maths", "equation", "formula", "tex", "latex", "inlineequation", "displayequation")
)
_FORMULA_ALT = re.compile(r"(?:an? |the )?(?:equation|formula|mathematical)\b", re.IGNORECASE)
_BUTTONS = frozenset({"submit", "button", "reset", "image"})


# ---------------------------------------------------------------- pictures


def image(walker: Walker, here: Here) -> None:
    """``img``: its alternative text enters the ledger as generated print."""
    attrs = here.attrs
    href = attrs.get("src") or attrs.get(_HREF) or attrs.get("href") or ""
    name = resolve(walker.book.package, walker.part, href)[0] or href
    alt = " ".join((attrs.get("alt") or attrs.get("aria-label") or "").split())
    start, end = walker.ledger.add(alt, walker.part, here.path, 0, GENERATED)
    described = owe(walker, here, name, (start, end))
    if is_tex(alt):
        walker.text.put(MathRun(start, end, alt), here.path)
    else:
        if alt or not described:
            _judge_alt(walker, here, alt, (start, end), name)
        walker.pictures.append((start, end))
        decorative = (
            not (alt or described)
            and ("alt" in attrs or _is_ornament(here))
            and not _is_formula(here, alt)
        )
        walker.text.put(InlineGraphic(start, end, name, decorative), here.path)
    walker.text.bare = False
    void(walker, here)


def _judge_alt(walker: Walker, here: Here, alt: str, span: tuple[int, int], name: str) -> None:
    is_ornament = _is_ornament(here)
    if not is_ornament and _is_formula(here, alt):
        if alt:
            walker.findings.add("maths.picture", span, words=alt)
        else:
            walker.findings.add("maths.picture-without-words", span, picture=name)
    elif not alt and "alt" not in here.attrs and not is_ornament:
        walker.findings.add("read.picture-without-alt", span, resource=name)
    elif alt and (_FILE_NAME.fullmatch(alt) or alt.lower() in _EMPTY_WORDS or _PROMISED.match(alt)):
        walker.findings.add("read.picture-poor-alt", span, words=alt)


def _is_ornament(here: Here) -> bool:
    return here.attrs.get("role") in ("presentation", "none")


def _is_formula(here: Here, alt: str) -> bool:
    """Whether a picture says that it shows a formula, by its role, class or alternative text."""
    said = f"{here.attrs.get('class', '')} {here.attrs.get('epub:type', '')}".lower()
    names = set(re.findall(r"[a-z]+", said))
    return (
        here.attrs.get("role") == "math"
        or not names.isdisjoint(_FORMULA_NAMES)
        or _FORMULA_ALT.match(alt) is not None
    )


def figure(walker: Walker, here: Here) -> None:
    """A picture with its captions; around a table, the caption is the table's."""
    if walker.too_deep():
        flow(walker, here)
        return
    out = walker.collect(here, fresh(walker.around))
    graphics = [block for block in out if isinstance(block, Graphic)]
    rest = [block for block in out if not isinstance(block, Graphic)]
    if graphics:
        first = graphics[0]
        notes = [b for b in first.children if isinstance(b, TranscriberNote)]
        own = [b for b in first.children if not isinstance(b, TranscriberNote)]
        children = (*own, *graphics[1:], *rest, *notes)
        decorative = first.decorative and not children
        address = address_of(walker, here)
        walker.out.append(replace(first, children=children, decorative=decorative, address=address))
        return
    tables = [block for block in out if isinstance(block, Table)]
    if len(tables) == 1:
        captions = tuple(b for b in out if isinstance(b, Paragraph) and b.role == "caption")
        whole = replace(tables[0], caption=(*tables[0].caption, *captions))
        out = [whole if b is tables[0] else b for b in out if b not in captions]
    walker.out.extend(out)


def svg(walker: Walker, here: Here) -> None:
    """A drawing: title and description are its alternative text, its words are labels."""
    inline = walker.around.textual or bool(walker.text.runs)
    if not inline:
        walker.flush()
    start = walker.ledger.length
    label = here.attrs.get("aria-label", "")
    walker.ledger.add(label, walker.part, here.path, 0, GENERATED)
    rows = [
        (local_name(tag), words, where, len(raw) - len(raw.lstrip(SPACE)))
        for tag, raw, where in texts(here.element, here.path)
        if (words := " ".join(raw.strip(SPACE).split()))
    ]
    rows.sort(key=lambda row: row[0] not in ("title", "desc"))
    alt_end = walker.ledger.length
    labels: list[tuple[tuple[int, int], str]] = []
    for tag, words, where, char in rows:
        if not inline and walker.ledger.length > start:
            walker.ledger.end_block()
        elif walker.ledger.length > start:
            walker.ledger.add(" ", walker.part, where, 0, GENERATED)
        span = walker.ledger.add(words, walker.part, where, char)
        if tag in ("title", "desc"):
            alt_end = span[1]
        else:
            labels.append((span, where))
    name = _drawn(walker, here.element)
    described = owe(walker, here, name, (start, walker.ledger.length))
    if inline:
        walker.text.put(InlineGraphic(start, walker.ledger.length, name), here.path)
        walker.text.bare = False
        return
    walker.ledger.end_block()
    children = tuple(
        Paragraph(runs=run_of(span), role="label", address=f"{walker.part}!{where}")
        for span, where in labels
    )
    if alt_end == start and not (labels or described):
        walker.findings.add("read.picture-without-alt", (start, start), resource=name)
    alt = run_of((start, alt_end))
    walker.out.append(
        Graphic(alt=alt, resource=name, children=children, address=address_of(walker, here))
    )
    walker.flush()


def _drawn(walker: Walker, element: etree._Element) -> str:
    for inner in element.iter("{*}image"):
        href = inner.get(_HREF) or inner.get("href") or ""
        return resolve(walker.book.package, walker.part, href)[0] or href
    return walker.part


# ---------------------------------------------------------------- mathematics


def math(walker: Walker, here: Here) -> None:
    """An expression: its MathML for the cells, its signs (or alternative text) in the ledger."""
    element = here.element
    display = here.attrs.get("display") == "block" and walker.around.make[0] == "paragraph"
    if display:
        walker.flush()
    start = walker.ledger.length
    for _, raw, where in texts(element, here.path):
        if words := " ".join(raw.split()):
            walker.ledger.add(words, walker.part, where, len(raw) - len(raw.lstrip(SPACE)))
    if walker.ledger.length == start:
        alt = here.attrs.get("alttext", "")
        walker.ledger.add(alt, walker.part, here.path, 0, GENERATED)
    end = walker.ledger.length
    mathml = etree.tostring(element, encoding="unicode", with_tail=False)
    if display:
        walker.ledger.end_block()
        address = address_of(walker, here)
        walker.out.append(DisplayMath(start=start, end=end, mathml=mathml, address=address))
    else:
        walker.text.put(MathRun(start, end, mathml), here.path)
        walker.text.bare = False


# ---------------------------------------------------------------- forms


def field(walker: Walker, here: Here) -> None:
    """A form field as the room print leaves for an answer."""
    attrs, tag = here.attrs, here.plan.tag
    kind = attrs.get("type", "text").lower()
    if tag == "input" and (kind == "hidden" or kind in _BUTTONS):
        if kind != "hidden":
            walker.text.generate(attrs.get("value") or attrs.get("alt", ""), here.path, here.look)
        void(walker, here)
        return
    name = attrs.get("name") or attrs.get("aria-label") or attrs.get("id") or ""
    space = {"checkbox": "check", "radio": "check"}.get(kind, "line")
    if space == "check" and "checked" in attrs:
        space = "checked"
    choices: tuple[str, ...] = ()
    start = walker.ledger.length
    if words := _filled(walker, here, space):
        span = (start, walker.ledger.length)
        walker.findings.add("read.filled-field", span, name=name or "without a name", words=words)
        return
    if tag == "input" and space == "line":
        walker.ledger.add(attrs.get("placeholder", ""), walker.part, here.path, 0, GENERATED)
    elif tag != "input":
        space = "choice" if tag == "select" else "box"
        choices = _print_inside(walker, here)
    end = walker.ledger.length
    walker.text.put(
        AnswerSpace(start, end, space, name, choices if tag == "select" else ()), here.path
    )
    walker.text.bare = False
    if tag == "input":
        void(walker, here)


def _filled(walker: Walker, here: Here, space: str) -> str:
    """What a field comes filled in with, read as text; nothing where it leaves room."""
    tag = here.plan.tag
    words = here.attrs.get("value", "") if tag == "input" else (here.element.text or "")
    words = " ".join(words.split())
    if not words or tag == "select" or (tag == "input" and space != "line"):
        return ""
    if tag == "input":
        walker.text.generate(words, here.path, here.look)
        void(walker, here)
    else:
        walker.inside(here)
    return words


def _print_inside(walker: Walker, here: Here) -> tuple[str, ...]:
    found: list[str] = []
    for _, raw, where in texts(here.element, here.path):
        if words := " ".join(raw.strip(SPACE).split()):
            gap = " " if found else ""
            walker.ledger.add(gap, walker.part, where, 0, GENERATED)
            walker.ledger.add(words, walker.part, where, len(raw) - len(raw.lstrip(SPACE)))
            found.append(words)
    return tuple(found)


HANDLERS: dict[str, Handler] = {
    "image": image,
    "figure": figure,
    "svg": svg,
    "math": math,
    "field": field,
}
