"""Shared by the tests of Unified English Braille: print in, ASCII braille out."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

from convert.document.nodes import TRANSCRIBER_NOTE, TYPEFORM_BITS
from convert.findings import Findings
from convert.settings import Settings
from convert.translation.cells import Cells
from convert.translation.passage import Passage
from convert.translation.ueb import contracted, uncontracted
from convert.translation.ueb.translator import UebTranslator

NAMES = {**TYPEFORM_BITS, "transnote": TRANSCRIBER_NOTE}
FOLD = str.maketrans("{|}~`", "[\\]^@")
EXAMPLES = Path(__file__).parent / "data" / "ueb_examples.json"


@cache
def translator(grade: int = 2, quotes: str = "auto") -> UebTranslator:
    make = uncontracted if grade == 1 else contracted
    return make(Settings(quotes=quotes))


def passage(text: str, *forms: tuple[int, int, str], **more: Any) -> Passage:
    """A passage whose typeforms are given by name and may overlap."""
    bits = [0] * (len(text) + 1)
    for start, end, name in forms:
        for at in range(start, end):
            bits[at] |= NAMES[name]
    edges = [at for at in range(1, len(text) + 1) if bits[at] != bits[at - 1]]
    spans = zip([0, *edges], [*edges, len(text)], strict=True)
    stretches = tuple((a, b, bits[a]) for a, b in spans if a < b and bits[a])
    return Passage(text, stretches, **more)


def cells(what: str | Passage, grade: int = 2, quotes: str = "auto") -> tuple[Cells, list[str]]:
    """The cells of print, and the kinds of finding filed."""
    given = Passage(what) if isinstance(what, str) else what
    findings = Findings()
    tool = translator(grade, quotes)
    tool.prepare([given])
    return tool.translate(given, findings), [item.kind for item in findings.all()]


def g2(what: str | Passage, quotes: str = "auto") -> str:
    """Contracted braille in folded North American ASCII."""
    return cells(what, 2, quotes)[0].ascii.translate(FOLD)


def g1(what: str | Passage) -> str:
    """Uncontracted braille in folded North American ASCII."""
    return cells(what, 1)[0].ascii.translate(FOLD)


def findings(what: str | Passage, grade: int = 2) -> list[str]:
    return cells(what, grade)[1]


@cache
def examples() -> list[dict[str, Any]]:
    """The examples derived from the rulebook."""
    return list(json.loads(EXAMPLES.read_text("utf-8")))
