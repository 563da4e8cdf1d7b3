"""Repairs inside words and lines: what has no ink, quotation marks, dashes, primes."""

from __future__ import annotations

import re

from ..document.nodes import Document
from ..findings import Findings, Span
from .edits import Edit, apply_edits, places

SOFT_HYPHEN = "\u00ad"
# No ink and no width.  The joiners U+200C and U+200D stay, as some scripts need them.
INVISIBLE = (
    "\u200b", "\u2060", "\ufeff", "\u180e", "\u200e", "\u200f", "\u202a", "\u202b", "\u202c",
    "\u202d", "\u202e", "\u2066", "\u2067", "\u2068", "\u2069", "\u2061", "\u2062", "\u2063",
)  # fmt: skip
_TYPED_QUOTES = re.compile(r"``(?=\S)[^`\n]{1,2000}?(?<=\S)''|‘‘(?=\S)[^‘\n]{1,2000}?(?<=\S)’’")
# Between words, or between spaces: before a word only, it begins an option of a command.
_TYPED_DASH = re.compile(r"(?<=[^\W_])-{2,3}(?=[^\W_])|(?<=\s)-{2,3}(?=\s)|(?<=[,.;:!?”’])--(?=\s)")
_FEET = re.compile(r"(['’])[ \u00a0-]?\d{1,2}(\"|”|''|’’)")


def _tell(findings: Findings, kind: str, spans: list[Span]) -> None:
    for span in spans:
        findings.add(kind, span)


def invisible(document: Document, findings: Findings) -> Document:
    """Leave out characters without ink and width, which would cut a word in two."""
    text = document.ledger.text
    met = [char for char in INVISIBLE if char in document.ledger.signs]
    if not met:
        return document
    found = re.finditer("[" + "".join(met) + "]+", text)
    document, done = apply_edits(document, (Edit(*m.span()) for m in found), "clean.invisible")
    _tell(findings, "clean.invisible", done)
    return document


def soft_hyphens(document: Document, findings: Findings) -> Document:
    """Leave out the marks that only say where print may divide a word."""
    text = document.ledger.text
    if SOFT_HYPHEN not in document.ledger.signs:
        return document
    found = re.finditer(SOFT_HYPHEN + "+", text)
    document, done = apply_edits(document, (Edit(*m.span()) for m in found), "clean.soft-hyphens")
    _tell(findings, "clean.soft-hyphens", done)
    return document


def quotation_marks(document: Document, findings: Findings) -> Document:
    """Pairs typed as two single marks (``so'') are read as double quotation marks."""
    text = document.ledger.text
    ledger = document.ledger
    if not ("`" in text and ledger.holds("``")) and not (
        "‘" in ledger.signs and ledger.holds("‘‘")
    ):
        return document
    edits: list[Edit] = []
    for match in _TYPED_QUOTES.finditer(text):
        start, end = match.span()
        edits += [Edit(start, start + 2, "“"), Edit(end - 2, end, "”")]
    document, done = apply_edits(document, edits, "clean.quotation-marks")
    _tell(findings, "clean.quotation-marks", done)
    return document


def typed_dashes(text: str) -> list[Span]:
    """Two or three hyphens that stand for a dash."""
    found = (_TYPED_DASH.match(text, at) for at in places(text, "--"))
    return [match.span() for match in found if match]


def dashes(document: Document, findings: Findings) -> Document:
    """Two or three hyphens in a row are read as a dash."""
    edits = [Edit(*span, "—") for span in typed_dashes(document.ledger.text)]
    document, done = apply_edits(document, edits, "clean.dashes")
    _tell(findings, "clean.dashes", done)
    return document


def maybe_dashes(document: Document, findings: Findings) -> Document:
    """Tell where hyphens may stand for a dash; change nothing."""
    _tell(findings, "clean.maybe-dash", typed_dashes(document.ledger.text))
    return document


def _typed_primes(text: str) -> list[tuple[Span, Span]]:
    marks = (at for mark in "'’" for at in places(text, mark) if text[at - 1 : at].isdecimal())
    found = (_FEET.match(text, at) for at in sorted(marks))
    return [(match.span(1), match.span(2)) for match in found if match]


def primes(document: Document, findings: Findings) -> Document:
    """Marks of feet and inches typed as quotation marks (5' 6") are read as primes."""
    edits: list[Edit] = []
    for feet, inches in _typed_primes(document.ledger.text):
        edits += [Edit(*feet, "′"), Edit(*inches, "″")]
    document, done = apply_edits(document, edits, "clean.primes")
    _tell(findings, "clean.primes", done)
    return document


def maybe_primes(document: Document, findings: Findings) -> Document:
    """Tell where quotation marks may stand for primes; change nothing."""
    rows = _typed_primes(document.ledger.text)
    _tell(findings, "clean.maybe-prime", [(feet[0], inches[1]) for feet, inches in rows])
    return document
