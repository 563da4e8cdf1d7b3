"""Handlers for headings: those with a rank, those of a class name, those beside the ranks."""

from __future__ import annotations

from dataclasses import replace

from ..document.nodes import Heading
from .plans import local_name
from .roles import is_captioned
from .xhtml import Handler, Here, Walker
from .xhtml_blocks import HEADINGS, address_of, flow, paragraph

_LEVELS = ("1", "2", "3", "4", "5", "6")
_GROUPS = ("header", "hgroup")


def heading(walker: Walker, here: Here) -> None:
    """A heading; ``h1`` in a section of a section that has its own is lower, as those below it."""
    around = walker.around
    given = here.attrs.get("aria-level", "")
    rank = HEADINGS.get(here.plan.tag, int(given) if given in _LEVELS else 0)
    if not rank and here.plan.role in ("subtitle", "bridgehead"):
        _beside_the_ranks(walker, here)
        return
    if rank <= 1:
        below = here.plan.tag in ("bridgehead", "hd") and around.headed[-1] > 0
        level = min(6, 1 + sum(map(bool, around.headed[:-1])) + below)
    else:
        level = min(6, rank - 1 + next((lower for lower in reversed(around.headed) if lower), 1))
    around.headed = (*around.headed[:-1], level - max(rank, 1) + 1)
    _heading(walker, here, level)


def _beside_the_ranks(walker: Walker, here: Here) -> None:
    """A subtitle, or a heading that print gives no place in the order of the work: the next line
    of the heading it stands with, else of the rank below the first one of its section (EPUB 3
    Structural Semantics Vocabulary 1.1, subtitle and bridgehead)."""
    walker.flush()
    headings = [node for node in walker.out if isinstance(node, Heading)]
    above = here.element.getparent()
    grouped = above is not None and local_name(str(above.tag)) in _GROUPS
    if headings and walker.out[-1] is headings[-1] and (grouped or here.plan.role == "subtitle"):
        level, role = headings[-1].level, "subtitle"
    elif headings:
        level, role = min(6, headings[0].level + 1), ""
    else:
        level, role = min(6, 1 + sum(map(bool, walker.around.headed))), ""
    _heading(walker, here._replace(plan=replace(here.plan, role=role)), level)


def title(walker: Walker, here: Here) -> None:
    """A paragraph of a class named for titles: a heading, unless it holds blocks."""
    if any(local_name(str(child.tag)) in (*HEADINGS, "p", "div") for child in here.element):
        flow(walker, here)
        return
    above = here.element.getparent()
    if above is not None and (
        local_name(str(above.tag)) in ("figure", "figcaption", "caption")
        or is_captioned(above.get("class", ""))
    ):
        paragraph(walker, here._replace(plan=replace(here.plan, role="caption", kids={})))
        return
    start, around = walker.ledger.length, walker.around
    level = min(6, 1 + sum(map(bool, around.headed[:-1])))
    around.headed = (*around.headed[:-1], level)
    _heading(walker, here._replace(plan=replace(here.plan, role="", kids={})), level)
    walker.findings.add("read.heading-guessed", (start, walker.ledger.length))


def _heading(walker: Walker, here: Here, level: int) -> None:
    walker.flush()
    around = walker.around
    kept = around.make, around.textual
    around.make, around.textual = ("heading", level, here.plan.role), True
    walker.address = address_of(walker, here)
    walker.inside(here)
    walker.flush()
    walker.address = ""
    around.make, around.textual = kept


HANDLERS: dict[str, Handler] = {"heading": heading, "title": title}
