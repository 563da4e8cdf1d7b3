"""Handlers for matter left out, print page marks, switches, sound and film."""

from __future__ import annotations

import re

from lxml import etree

from .opf import resolve
from .plans import local_name
from .roles import INLINE_DOES, element_does
from .xhtml import Handler, Here, Walker
from .xhtml_blocks import flow, inline

_MATHML, _XHTML = "http://www.w3.org/1998/Math/MathML", "http://www.w3.org/1999/xhtml"
_SVG, OPS = "http://www.w3.org/2000/svg", "{http://www.idpf.org/2007/ops}"
_LONGEST_QUOTE = 80


def skip(walker: Walker, here: Here) -> None:
    """What print never shows; a script may make text, so it is told, and a formula kept in one
    is print that this program does not read."""
    if here.plan.tag != "script":
        return
    if "math" in here.attrs.get("type", ""):
        at = walker.ledger.length
        words = " ".join((here.element.text or "").split())[:_LONGEST_QUOTE]
        walker.findings.add("read.script-formula", (at, at), words=words)
    else:
        walker.findings.add("read.script", part=walker.part)


REASONS = {
    "backlink": "read.backlink",
    "hidden-text": "read.hidden-text",
    "navigation": "read.navigation",
    "running-head-text": "read.running-head-text",
    "site-furniture": "read.site-furniture",
    "not-for-braille": "read.not-for-braille",
    "repeated-matter": "read.repeated-matter",
}


def drop(walker: Walker, here: Here) -> None:
    """Matter left out for the reason the plan names."""
    if not _is_inline(here):
        walker.flush()
    walker.omit(here, REASONS[here.plan.role])


def page_title(walker: Walker, here: Here) -> None:
    """The title of a page that stands outside its head, where no page shows it [HTML, 15.3.1]."""
    if len(here.element):  # holds more than a title may: print lost its end tag
        inline(walker, here)
    elif " ".join((here.element.text or "").split()) != walker.book.meta.title:
        walker.flush()
        walker.omit(here, "read.hidden-text")


def _is_inline(here: Here) -> bool:
    return element_does(here.plan.tag) in INLINE_DOES


_LABEL = re.compile(r"^(?:print\s+)?(?:page|pages|pg\.?|p\.)\s*[:.]?\s*(?=\S)", re.IGNORECASE)
_ID_LABEL = re.compile(r"^(?:print)?(?:page|pg|p)[-_]?(?:break)?[-_]?([0-9]+|[ivxlcdm]+)$", re.I)


def clean_label(words: str) -> str | None:
    """A print page label without the word for page; ``None`` where nothing is left."""
    words = " ".join(words.split())
    bare = _LABEL.sub("", words).rstrip(".")
    if bare[:1] in "[(" and bare[-1:] in "])":
        bare = _LABEL.sub("", bare[1:-1].strip()).rstrip(".")
    return bare or None


def page(walker: Walker, here: Here) -> None:
    """A print page mark: it names the page that begins [DPUB-ARIA 1.1, doc-pagebreak]."""
    if not _is_inline(here) and not walker.around.textual:
        walker.flush()
    start = walker.ledger.length
    walker.omit(here, "read.page-number-text")
    attrs = here.attrs
    words = attrs.get("aria-label") or attrs.get("title") or attrs.get("value")
    label = clean_label(words or "".join(str(t) for t in here.element.itertext()))
    if label is None and (found := _ID_LABEL.match(attrs.get("id", ""))):
        label = found[1]
        walker.findings.add("read.page-label-from-id", (start, walker.ledger.length))
    listed = walker.page_targets.get((walker.part, attrs.get("id", "")))
    walker.turn_page(label or listed, here.path, "mark")


def switch(walker: Walker, here: Here) -> None:
    """EPUB 3.0's switch: the first case in a vocabulary that is known is read, else the default
    [EPUB 3.3, 6.1.3.3]."""
    kids = list(here.element)
    names = [local_name(str(kid.tag)) for kid in kids]
    known = (at for at, name in enumerate(names) if name == "case" and _is_known(kids[at]))
    chosen = next(known, names.index("default") if "default" in names else 0)
    for at, kid in enumerate(kids):
        path = f"{here.path}/{2 * at + 2}"
        attrs = dict(kid.items())
        plan = walker.planner.plan(kid, str(kid.tag), attrs)
        below = Here(kid, plan, attrs, path, here.look)
        if at == chosen:
            plan.do = "inline"
            walker.inside(below)
        else:
            walker.omit(below, "read.alternative")


def _is_known(case: etree._Element) -> bool:
    """Whether a case is in a vocabulary that this program reads."""
    space = case.get("required-namespace") or case.get(f"{OPS}required-namespace") or _MATHML
    return space in (_MATHML, _XHTML, _SVG)


def media(walker: Walker, here: Here) -> None:
    """Sound, film, or a document inside the document: what stands inside it is kept."""
    start = walker.ledger.length
    href = here.attrs.get("src") or here.attrs.get("data") or ""
    name = resolve(walker.book.package, walker.part, href)[0] or href
    if walker.around.textual or walker.text.runs:
        walker.inside(here)
    else:
        flow(walker, here)
    tag = here.plan.tag
    walker.findings.add("read.media", (start, walker.ledger.length), tag=tag, resource=name)


HANDLERS: dict[str, Handler] = {
    "skip": skip,
    "drop": drop,
    "page-title": page_title,
    "page": page,
    "switch": switch,
    "media": media,
}
