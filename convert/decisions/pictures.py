"""Verbs for pictures: ``describe``, ``decorative``, ``tactile``."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

from ..document.nodes import (
    TRANSCRIBER_NOTE,
    Added,
    Graphic,
    InlineGraphic,
    Inlines,
    Run,
)
from .anchor import Target
from .index import stretches
from .record import Decision
from .work import OMITTED, REPLACED, Work


def picture(work: Work, decision: Decision, targets: tuple[Target, ...]) -> str:
    """``describe`` and ``decorative``."""
    text = decision.word("text")
    decorative = decision.verb == "decorative"
    why = OMITTED if decorative else REPLACED
    for target in targets:
        if target.inline is not None:
            _picture_in_line(work, target, text)
        elif isinstance(target.node, Graphic):
            work.out(why).extend(stretches(target.node))
            alt: Inlines = () if decorative else (Added(text),)
            work.plan(target.node).shape = partial(_described, alt=alt, decorative=decorative)
        if decorative:
            words = work.index.words(target.node, 80)
            work.findings.add(OMITTED, target.span, words=words, why=decision.why or "decorative")
        else:
            work.added(text, target.span)
    return ""


def _described(node: Graphic, alt: Inlines, decorative: bool) -> tuple[Graphic, ...]:
    return (replace(node, alt=alt, decorative=decorative),)


def _picture_in_line(work: Work, target: Target, text: str, gone: bool = True) -> None:
    """A picture in a line becomes the note that describes it, or nothing; ``gone``: its own
    description is left out."""
    old: InlineGraphic = target.inline
    if gone:
        work.out(REPLACED).append((old.start, old.end))
    new: Inlines = (Added(text, TRANSCRIBER_NOTE),) if text else ()

    def change(inlines: Inlines) -> Inlines:
        return tuple(x for inline in inlines for x in (new if inline is old else (inline,)))

    work.plan(target.node).inline.append(change)


def tactile(work: Work, decision: Decision, targets: tuple[Target, ...]) -> str:
    """``tactile``: pages kept for a tactile graphic, with a note; the note of the source stays
    where the decision gives none."""
    text, number = decision.word("text"), int(decision.word("pages", "1"))
    for target in targets:
        alt: Inlines = (Added(text),) if text else ()
        if target.inline is not None:
            old = target.inline
            if old.start < old.end and not text:
                alt = (Run(old.start, old.end),)
            kept = Graphic(alt=alt, resource=old.resource, pages=number)
            _picture_in_line(work, target, "", bool(text))
            work.plan(target.node).after.append(replace(kept, address=target.node.address))
        elif isinstance(target.node, Graphic):
            alt = alt or target.node.alt
            if text:
                work.out(REPLACED).extend(stretches(target.node))
            work.plan(target.node).shape = partial(_kept, alt=alt, pages=number)
        if text:
            work.added(text, target.span)
    return ""


def _kept(node: Graphic, alt: Inlines, pages: int) -> tuple[Graphic, ...]:
    return (replace(node, alt=alt, decorative=False, pages=pages),)
