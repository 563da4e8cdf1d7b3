"""What the style of a table does to its first and last row and column (17.4.55, 17.7.6)."""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

from lxml import etree

from ..document.change import map_inlines
from ..document.nodes import BOLD, ITALIC, UNDERLINE, Block, Inlines, Run
from .docx_names import VAL, W, is_on
from .docx_styles import bits_of, looks_of
from .docx_walk import Walk

_SHOWN = BOLD | ITALIC | UNDERLINE
# The flags of ``tblLook``: their names, their bits in its older form, the style part they switch.
_FLAGS = (
    ("firstRow", 0x20, "firstRow"),
    ("lastRow", 0x40, "lastRow"),
    ("firstColumn", 0x80, "firstCol"),
    ("lastColumn", 0x100, "lastCol"),
)


class TableLooks(NamedTuple):
    """Whether the first row and column look like headings; typeforms of the last ones."""

    first_row: bool = False
    first_column: bool = False
    last_row: int = 0
    last_column: int = 0


def looks_of_table(walk: Walk, table: etree._Element) -> TableLooks:
    """The looks that a table takes from its style."""
    props = table.find(f"{W}tblPr")
    look = props.find(f"{W}tblLook") if props is not None else None
    named = props.find(f"{W}tblStyle") if props is not None else None
    if look is None or named is None:
        return TableLooks()
    used = _used(look)
    bits: dict[str, int] = {}
    own: set[str] = set()
    for style in walk.styles.chain(named.get(VAL, ""), "table"):
        for part in style.iter(f"{W}tblStylePr"):
            kind = part.get(f"{W}type", "")
            rpr = part.find(f"{W}rPr")
            if kind in used and rpr is not None:
                own.add(kind)
                bits[kind] = bits_of(looks_of(rpr)) & _SHOWN
            elif kind in used and part.find(f"{W}tcPr/{W}shd") is not None:
                own.add(kind)
    heavy = bool(bits.get("firstCol", 0) & BOLD)
    return TableLooks("firstRow" in own, heavy, bits.get("lastRow", 0), bits.get("lastCol", 0))


def _used(look: etree._Element) -> set[str]:
    """The parts of the style that a table asks for."""
    try:
        flags = int(look.get(VAL, "0"), 16)
    except ValueError:
        flags = 0
    out = set()
    for name, bit, part in _FLAGS:
        said = look.get(f"{W}{name}")
        if is_on(said) if said is not None else flags & bit:
            out.add(part)
    return out


def in_typeform(block: Block, bits: int) -> Block:
    """A block with all its words in a typeform as well."""
    if not bits:
        return block

    def change(inlines: Inlines) -> Inlines:
        return tuple(
            replace(run, typeform=run.typeform | bits) if isinstance(run, Run) else run
            for run in inlines
        )

    changed: Block = map_inlines(block, change)
    return changed
