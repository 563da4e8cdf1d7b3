"""How text looks: what an element's plan changes, and the capitals print shows."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import Any

from ..document.nodes import SUB, SUP
from ..findings import Findings, Span
from .plans import Plan

_INITIAL = re.compile(r"(?<![\w'’])\w")


@dataclass(slots=True, eq=False)
class Look:
    """How text looks: typeform bits, language (empty: the document's), voice, capitals, space."""

    typeform: int = 0
    lang: str = ""
    voice: str = ""
    transform: str = ""
    pre: bool = False
    kids: dict[Any, Look] = field(default_factory=dict)


def changed(plan: Plan, look: Look) -> Look:
    """The look inside an element: ``look`` itself where the plan changes nothing."""
    typeform = (look.typeform | plan.on) & ~plan.off
    if plan.on & SUP:
        typeform &= ~SUB
    elif plan.on & SUB:
        typeform &= ~SUP
    voice = plan.voice or look.voice
    transform = look.transform
    if plan.transform:
        transform = "" if plan.transform == "none" else plan.transform
    pre = look.pre if plan.pre is None else plan.pre
    same = (typeform, voice, transform, pre) == (
        look.typeform,
        look.voice,
        look.transform,
        look.pre,
    )
    return look if same else Look(typeform, look.lang, voice, transform, pre)


def tell(findings: Findings, told: tuple[str, str], span: Span) -> None:
    """Say of an element that braille does not show its look, or its place on the page."""
    kind, look = told
    if span[0] < span[1] and look:
        findings.add(kind, span, look=look)
    elif span[0] < span[1]:
        findings.add(kind, span)


def transformed(text: str, how: str) -> str:
    """Text with the capitals that print shows [CSS Text 3, 2.1]."""
    if how == "uppercase":
        return text.upper()
    if how == "lowercase":
        return text.lower()
    if how == "capitalize":
        return _INITIAL.sub(lambda m: m[0].upper(), text)
    return text
