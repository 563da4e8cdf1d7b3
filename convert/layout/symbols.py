"""Which signs a volume must list on its special symbols page (BF 2.5), and which notes it
carries (BF 2.6)."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Sequence
from functools import cache

from ..findings import Findings
from ..settings import Settings
from ..translation.cells import Cells
from ..translation.signs import Sign, of_kind
from .convention import Front
from .front import code_name
from .items import Item
from .pages import Made

# Signs the standard does not ask for (BF 2.5, Appendix G).
UNLISTED = frozenset("%•_…–—.,;:?!'\"‘’“”()[]/-")
_ODD = re.compile(r"[^\w\s%.,;:?!'\"‘’“”()\[\]/\-–—•…]|[^\x00-\x7f]")
LOCATOR = "dot locator for mention"


def symbols_for(made: Sequence[Made], items: Sequence[Item]) -> list[tuple[str, str]]:
    """Cells and names of the signs of a volume that its symbols page lists, in the order of
    the table of signs; the dot locator first.  Empty if there are none."""
    there = {
        row.item for each in made for row in each.page.rows if row is not None and row.item >= 0
    }
    cells = [found for at in there if at < len(items) and (found := items[at].cells) is not None]
    signs = [*_typeforms(cells), *_printed(cells)]
    if not signs:
        return []
    locator = of_kind("indicator")[LOCATOR]
    return [(sign.cells, sign.name[0].upper() + sign.name[1:]) for sign in (locator, *signs)]


def _printed(cells: Iterable[Cells]) -> list[Sign]:
    """Signs that stand for a character of print: symbols, and modifiers of letters."""
    odd: set[str] = set()
    for each in cells:
        if each.passage is not None:
            odd.update(_ODD.findall(each.passage.text))
    marks = {mark for char in odd for mark in unicodedata.normalize("NFD", char)[1:]}
    modifiers = [sign for mark, sign in of_kind("modifier").items() if mark in marks]
    symbols = [sign for char, sign in of_kind("symbol").items() if char in odd - UNLISTED]
    return [*modifiers, *symbols]


@cache
def _typeform_signs() -> dict[str, Sign]:
    """Typeform indicators by their cells."""
    return {
        sign.cells: sign
        for name, sign in of_kind("indicator").items()
        if name.startswith(("italic", "bold", "underline", "script")) or "typeform" in name
    }


def _typeforms(cells: Iterable[Cells]) -> list[Sign]:
    """Typeform indicators that occur, found among the cells that are signs."""
    seen = {
        (piece.cells, piece.sign)
        for each in cells
        if each.passage is not None and each.passage.forms
        for piece in each.pieces
        if 1 in piece.sign
    }
    runs = {
        "".join(cell if sign else " " for cell, sign in zip(shape, signs, strict=True))
        for shape, signs in seen
    }
    known = _typeform_signs()
    longest = max(map(len, known), default=0)
    found: set[str] = set()
    for run in runs:
        at = 0
        while at < len(run):
            size = next((n for n in range(longest, 0, -1) if run[at : at + n] in known), 0)
            if size:
                found.add(run[at : at + size])
            at += size or 1
    return [sign for shape, sign in known.items() if shape in found]


def notes_for(findings: Findings, settings: Settings, front: Front) -> list[str]:
    """The notes of the transcriber's notes page: the code, that this is a draft, and what the
    edition did throughout."""
    kinds = {finding.kind for finding in findings.items}
    notes = [
        front.words("note-code", code=code_name(settings.code, settings.math)),
        front.words("note-draft"),
    ]
    if any(kind.startswith("layout.picture") for kind in kinds):
        notes.append(front.words("note-pictures"))
    if any(kind.startswith("layout.table-") for kind in kinds):
        notes.append(front.words("note-tables"))
    return notes
