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

    ``kind``: text, date, choice, check, picture or ``""`` for one that only wraps.
    """

    kind: str = ""
    name: str = ""
    prompt: bool = False
    ticked: bool = False
    choices: tuple[str, ...] = ()
    gallery: str = ""


def control_of(sdt: etree._Element) -> Control:
    """Read the properties of a content control."""
    properties = sdt.find(f"{W}sdtPr")
    kind, name, tag, gallery = "", "", "", ""
    prompt = ticked = False
    choices: list[str] = []
    for prop in properties if properties is not None else ():
        here = prop.tag
        if here in _KINDS:
            kind = _KINDS[here]
            if kind == "check":
                state = prop.find(f"{W14}checked")
                ticked = state is not None and is_on(state.get(f"{W14}val"))
            elif kind == "choice":
                for item in prop.iter(f"{W}listItem"):
                    choices.append(item.get(f"{W}displayText") or item.get(f"{W}value") or "")
        elif here == f"{W}alias":
            name = prop.get(VAL) or ""
        elif here == f"{W}tag":
            tag = prop.get(VAL) or ""
        elif here == f"{W}showingPlcHdr":
            prompt = is_on(prop.get(VAL))
        elif here == f"{W}docPartObj":
            part = prop.find(f"{W}docPartGallery")
            gallery = (part.get(VAL) or "") if part is not None else ""
    return Control(kind, name or tag, prompt, ticked, tuple(choices), gallery)


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
