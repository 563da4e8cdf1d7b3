"""Long descriptions: found before the walk, read where their picture stands.

A picture may name a description elsewhere [WAI-ARIA 1.2, aria-details and aria-describedby; HTML
4.01, 13.2, longdesc; Z39.86-2005, prodnote imgref].  Where print does not show it (it is hidden,
folded up in ``details``, or a part outside the reading order), it is read at its picture, as a
transcriber's note.  Where print shows it, it stays, and a finding ties it to the picture.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Any

from lxml import etree

from ..document.nodes import Graphic, Heading, Paragraph, Section, TranscriberNote
from .looks import Look
from .opf import resolve
from .plans import Plan, Planner, local_name
from .roles import INLINE_DOES, element_does
from .walked import Target
from .xhtml import Here, Walker
from .xhtml_blocks import fresh

_NAMES = ("longdesc", "aria-details", "aria-describedby")
_PICTURES = ("img", "image", "svg")
_UNSEEN = frozenset({"sr-only", "visually-hidden", "visuallyhidden", "screen-reader-text"})
_FOLDED = re.compile(r"(?:long |extended |image |picture |text )*(?:description|alternative|version)\b", re.I)  # fmt: skip  # noqa: E501
_MOVABLE = INLINE_DOES | {"flow", "section", "paragraph", "box", "displayed", "producer-note"}
_QUOTED = 200

Part = Callable[[str], "tuple[etree._Element, Planner] | None"]


def find_descriptions(walker: Walker, roots: dict[str, etree._Element], load: Part) -> None:
    """Pair pictures with their descriptions.  ``load`` gives the root and planner of a part."""
    walker.described.load, walker.described.read = load, read_owed
    search = _Search(walker, roots, load)
    for part, root in roots.items():
        for element in root.iter("{*}img", "{*}image", "{*}svg", "{*}figure"):
            for name in _NAMES:
                for href in _hrefs(element.get(name, ""), name):
                    search.pair(part, element, href)
        for note in root.iter("{*}prodnote"):
            for ident in note.get("imgref", "").split():
                search.pair_note(part, ident.lstrip("#"), note)
        for folded in root.iter("{*}details"):
            search.pair_folded(part, folded)


def _hrefs(value: str, name: str) -> Iterator[str]:
    if name == "longdesc":
        yield from (value.strip(),) if value.strip() else ()
    else:
        yield from (f"#{ident}" for ident in value.split())


class _Search:
    """What is known of the parts while pictures and descriptions are paired."""

    def __init__(self, walker: Walker, roots: dict[str, etree._Element], load: Part) -> None:
        self.walker, self.roots, self.load = walker, roots, load
        self.idents: dict[str, dict[str, etree._Element]] = {}
        self.apart = {item.name for item, linear in walker.book.spine if not linear}

    def named(self, part: str, ident: str) -> etree._Element | None:
        """The element of an id; the body where there is none."""
        found = self.load(part)
        if found is None:
            return None
        if not ident:
            return next(found[0].iter("{*}body"), None)
        if part not in self.idents:
            rows = self.idents[part] = {}
            for element in found[0].iter("*"):
                if name := element.get("id"):
                    rows.setdefault(name, element)
        return self.idents[part].get(ident)

    def pair(self, part: str, element: etree._Element, href: str) -> None:
        """One reference of a picture, or of a figure around it."""
        picture = _picture_in(element)
        name, ident = resolve(self.walker.book.package, part, href)
        target = self.named(name, ident) if name and picture is not None else None
        if picture is None:
            return
        where = href.lstrip("#")
        if target is None:
            self.tell(picture, "read.picture-description-missing", where, "")
        elif any(up is target for up in picture.iterancestors()):
            return
        elif self.is_unseen(name, target):
            self.take(picture, name, target)
        elif not _is_beside(picture, target):
            words = " ".join("".join(map(str, target.itertext())).split())
            cut = words if len(words) <= _QUOTED else f"{words[:_QUOTED]}…"
            self.tell(picture, "read.picture-described-elsewhere", where, cut)

    def pair_note(self, part: str, ident: str, note: etree._Element) -> None:
        """A producer's note that names its picture and does not stand beside it."""
        element = self.named(part, ident)
        picture = None if element is None else _picture_in(element)
        if picture is not None and not _is_beside(picture, note):
            self.take(picture, part, note)

    def pair_folded(self, part: str, folded: etree._Element) -> None:
        """Folded matter in the figure of a picture, or next after it and named a description."""
        above = folded.getparent()
        while above is not None and local_name(str(above.tag)) != "figure":
            above = above.getparent()
        around = above if above is not None else folded.getprevious()
        summary = next(folded.iter("{*}summary"), None)
        named = "" if summary is None else "".join(map(str, summary.itertext())).strip()
        if around is None or (above is None and not _FOLDED.match(named)):
            return
        picture = _picture_in(around)
        if picture is not None and (above is not None or _is_bare(around)):
            self.take(picture, part, folded)

    def take(self, picture: etree._Element, part: str, target: etree._Element) -> None:
        """Have a description read at its picture, unless another picture has it."""
        described = self.walker.described
        if target not in described.apart:
            described.apart[target] = False
            described.at.setdefault(picture, []).append(Target(part, target))

    def tell(self, picture: etree._Element, kind: str, where: str, words: str) -> None:
        rows = self.walker.described.told.setdefault(picture, {})
        rows.setdefault(where, (kind, words))

    def is_unseen(self, part: str, target: etree._Element) -> bool:
        """Whether print does not show an element that can be read elsewhere."""
        name = local_name(str(target.tag))
        if name == "body":
            return part in self.apart or part not in self.roots
        if element_does(name) not in _MOVABLE:
            return False
        if part in self.apart or part not in self.roots or name in ("details", "prodnote"):
            return True
        if not _UNSEEN.isdisjoint(target.get("class", "").lower().split()):
            return True
        found = self.load(part)
        assert found is not None
        return any(plan.do == "drop" for plan, _ in _steps_to(self.walker, found[1], target))


def _picture_in(element: etree._Element) -> etree._Element | None:
    if local_name(str(element.tag)) in _PICTURES:
        return element
    return next(element.iter("{*}img", "{*}svg"), None)


def _is_bare(around: etree._Element) -> bool:
    """A figure, or an element that holds pictures and no words."""
    return (
        local_name(str(around.tag)) == "figure" or not "".join(map(str, around.itertext())).strip()
    )


def _is_beside(picture: etree._Element, target: etree._Element) -> bool:
    """Whether both stand in one figure."""
    for above in picture.iterancestors():
        if local_name(str(above.tag)) in ("figure", "imggroup"):
            return any(up is above for up in target.iterancestors())
    return False


def _steps_to(
    walker: Walker, planner: Planner, target: etree._Element
) -> list[tuple[Plan, etree._Element]]:
    """The plans of an element and all around it below the root, outermost first."""
    walker.planner, walker.watched = planner, planner.watched
    plan = planner.root
    out = []
    for element in [*reversed(list(target.iterancestors())), target][1:]:
        plan = walker.plan_of(plan, element, dict(element.items()))
        out.append((plan, element))
    return out


# ---------------------------------------------------------------- in the walk


def read_owed(walker: Walker) -> None:
    """Read the descriptions of pictures just read, and put each with its picture."""
    owed, walker.described.owed = walker.described.owed, []
    for resource, targets in owed:
        for target in targets:
            note = _unread(walker, target)
            if note is not None:
                _attach(walker.out, resource, note)


def read_left_over(walker: Walker) -> list[TranscriberNote]:
    """Descriptions whose pictures were not read, such as one in matter left out."""
    known = walker.described
    notes = (_unread(walker, target) for targets in known.at.values() for target in targets)
    return [note for note in notes if note is not None]


def _unread(walker: Walker, target: Target) -> TranscriberNote | None:
    again = walker.described.apart[target.element]
    return None if again else read_description(walker, target)


def read_description(walker: Walker, target: Target) -> TranscriberNote | None:
    """The blocks of a description as a transcriber's note; ``None`` where it is empty."""
    found = walker.described.load(target.part)
    assert found is not None
    walker.described.apart[target.element] = True
    kept = walker.part, walker.planner, walker.watched
    walker.part = walker.text.part = target.part
    look, path = Look(), ""
    steps = _steps_to(walker, found[1], target.element)
    for _, element in steps:
        look = walker.look_in(element, dict(element.items()), look)
        above = element.getparent()
        assert above is not None
        path += f"/{2 * above.index(element) + 2}"
    own = steps[-1][0] if steps else found[1].root
    plan = replace(own, do="flow", role="", kids={}, variants={})
    attrs = dict(target.element.items())
    start = walker.ledger.length
    blocks = walker.collect(Here(target.element, plan, attrs, path, look), fresh(walker.around))
    span = (start, walker.ledger.length)
    walker.part, walker.planner, walker.watched = kept
    walker.text.part = walker.part
    if not blocks:
        return None
    if plan.tag == "prodnote":
        walker.findings.add("read.producer-note", span)
    else:
        walker.findings.add("read.picture-description", span)
    return TranscriberNote(children=tuple(_plain(blocks)), address=f"{target.part}!{path}")


def _plain(blocks: list[Any]) -> Iterator[Any]:
    """Blocks of a description: no divisions, notes in notes or headings."""
    for block in blocks:
        if isinstance(block, Section | TranscriberNote):
            yield from _plain(list(block.children))
        elif isinstance(block, Heading):
            yield Paragraph(runs=block.runs, role="label", address=block.address)
        else:
            yield block


def _attach(out: list[Any], resource: str, note: TranscriberNote) -> None:
    for at in range(len(out) - 1, -1, -1):
        block = out[at]
        if not isinstance(block, Graphic):
            break
        if block.resource == resource:
            out[at] = replace(block, children=(*block.children, note))
            return
    out.append(note)


def owe(walker: Walker, here: Here, resource: str, span: tuple[int, int]) -> bool:
    """Note what a picture's descriptions are; whether one will be read at it."""
    described = walker.described
    for where, (kind, words) in described.told.get(here.element, {}).items():
        walker.findings.add(kind, span, resource=resource, where=where, words=words)
    targets = described.at.get(here.element)
    if targets:
        described.owed.append((resource, targets))
    return bool(targets)
