"""Content controls (``w:sdt``): what kind of answer they wait for (ISO/IEC 29500-1, 17.5.2)."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib import resources

from lxml import etree

from .docx_names import VAL, W14, W, is_on

_KINDS = {
    f"{W}text": "text",
    f"{W}richText": "text",
    f"{W}date": "date",
    f"{W}dropDownList": "choice",
    f"{W}comboBox": "choice",
    f"{W}picture": "picture",
    f"{W14}checkbox": "check",
}


@dataclass(frozen=True, slots=True)
class Control:
    """A content control.  ``prompt``: it shows its prompt, so print has a blank here.

    ``kind``: text, date, choice, check, picture or ``""`` for one that only wraps.  ``waits``: a
    person types into it (plain or rich text, a date): it has such a kind or a prompt of its own.
    """

    kind: str = ""
    name: str = ""
    prompt: bool = False
    ticked: bool = False
    choices: tuple[str, ...] = ()
    gallery: str = ""
    waits: bool = False


def control_of(sdt: etree._Element) -> Control:
    """Read the properties of a content control."""
    properties = sdt.find(f"{W}sdtPr")
    rows = {prop.tag: prop for prop in properties} if properties is not None else {}
    kind, ticked = "", False
    choices: tuple[str, ...] = ()
    for tag, prop in rows.items():
        if tag in _KINDS:
            kind = _KINDS[tag]
            choices = _choices(prop)
            state = prop.find(f"{W14}checked")
            ticked = state is not None and is_on(state.get(f"{W14}val"))
    shows = rows.get(f"{W}showingPlcHdr")
    prompt = shows is not None and is_on(shows.get(VAL))
    part = rows.get(f"{W}docPartObj")
    gallery = _value(part.find(f"{W}docPartGallery")) if part is not None else ""
    waits = not gallery and (kind in ("text", "date") or (not kind and f"{W}placeholder" in rows))
    name = _value(rows.get(f"{W}alias")) or _value(rows.get(f"{W}tag"))
    return Control(kind, name, prompt, ticked, choices, gallery, waits)


def _choices(prop: etree._Element) -> tuple[str, ...]:
    items = prop.iter(f"{W}listItem")
    return tuple([i.get(f"{W}displayText") or i.get(f"{W}value") or "" for i in items])


def _value(prop: etree._Element | None) -> str:
    return (prop.get(VAL) or "") if prop is not None else ""


def is_prompt(control: Control, sdt: etree._Element) -> bool:
    """Whether a control shows only its prompt, so that print waits for an answer here."""
    if not control.prompt or control.kind in ("check", "picture") or control.gallery:
        return False
    return next(sdt.iterdescendants(f"{W}sdt"), None) is None


@cache
def _stock_prompts() -> frozenset[str]:
    text = (resources.files("convert.readers") / "docx_prompts.toml").read_text("utf-8")
    return frozenset(_bare(prompt) for prompt in tomllib.loads(text)["stock"])


def _bare(prompt: str) -> str:
    return " ".join(prompt.split()).strip("[]<>().\u2026 ").casefold()


def is_stock(prompt: str) -> bool:
    """Whether a prompt is the word processor's own (``docx_prompts.toml``), not the form's."""
    return _bare(prompt) in _stock_prompts()
