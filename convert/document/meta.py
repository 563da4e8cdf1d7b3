"""What the source says of itself, kept to lengths that title pages can hold."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any

from ..findings import Findings
from .nodes import Document, Meta

LONGEST = 400
MOST_AUTHORS = 40
UNSHOWN = frozenset({"rights"})  # Written into PEF alone; no braille page shows it.


def shorten_meta(document: Document, findings: Findings) -> Document:
    """Descriptions cut at ``LONGEST`` characters: every volume repeats them, and a file may hold
    a whole book in its title.  The description is no print of the body, so a finding says so."""
    meta = document.meta
    changes: dict[str, Any] = {}
    for field in fields(Meta):
        if field.name in UNSHOWN:
            continue
        value = getattr(meta, field.name)
        short = _short(value) if isinstance(value, str) else tuple(map(_short, value))
        if isinstance(short, tuple):
            short = short[:MOST_AUTHORS]
        if short != value:
            changes[field.name] = short
            number = sum(map(len, value))
            findings.add("read.long-description", what=field.name.replace("_", " "), number=number)
    return replace(document, meta=replace(meta, **changes)) if changes else document


def _short(words: str) -> str:
    if len(words) <= LONGEST:
        return words
    cut = words[:LONGEST]
    return f"{cut.rsplit(' ', 1)[0]} …" if " " in cut else f"{cut}…"
