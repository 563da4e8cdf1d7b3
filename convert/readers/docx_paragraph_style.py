"""What a paragraph of a Word document is beside its letters (ISO/IEC 29500-1, 17.3.1)."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from lxml import etree

from .docx_colours import colour_name
from .docx_names import VAL, W, is_on, number, twips

_SIDES = ("top", "left", "bottom", "right")
_RULES = "lines above and below"
Looks = dict[str, Any]


@dataclass(frozen=True, slots=True)
class ParagraphStyle:
    """A paragraph style with all it inherits.  ``indent`` in twips; ``tabs``: leaders by place;
    ``set_off``: how print sets the paragraph off from the text, where no box does; ``ruled``: it
    has a line below and none above."""

    row: Mapping[str, Any] = field(default_factory=dict)
    looks: Looks = field(default_factory=dict)
    outline: int = 9
    num_id: int = 0
    ilvl: int = 0
    indent: int | None = None
    border: str = ""
    tabs: tuple[tuple[int, str], ...] = ()
    break_before: bool = False
    centred: bool = False
    set_off: str = ""
    ruled: bool = False

    special: bool = field(init=False, default=False, compare=False)

    def __post_init__(self) -> None:
        """``special``: paragraphs of the style are more than plain text."""
        special = bool(self.row or self.border or self.outline < 9 or self.set_off or self.ruled)
        object.__setattr__(self, "special", special)


def _read_outline(prop: etree._Element, base: ParagraphStyle, change: Looks) -> None:
    change["outline"] = number(prop.get(VAL), 9)


def _read_numbering(prop: etree._Element, base: ParagraphStyle, change: Looks) -> None:
    given, level = prop.find(f"{W}numId"), prop.find(f"{W}ilvl")
    if given is not None:
        change["num_id"] = number(given.get(VAL))
    if level is not None:
        change["ilvl"] = min(8, max(0, number(level.get(VAL))))


def _read_indent(prop: etree._Element, base: ParagraphStyle, change: Looks) -> None:
    left = prop.get(f"{W}left") or prop.get(f"{W}start")
    if left is not None:
        change["indent"] = twips(left)


def _read_border(prop: etree._Element, base: ParagraphStyle, change: Looks) -> None:
    change["border"] = border = _border(prop)
    sides = {etree.QName(side).localname: side.get(VAL, "") for side in prop}
    top, bottom = (sides.get(side, "") not in ("", "nil", "none") for side in ("top", "bottom"))
    change["ruled"] = bottom and not top
    if not border and base.set_off in ("", _RULES):
        change["set_off"] = _RULES if top and bottom else ""


def _read_tabs(prop: etree._Element, base: ParagraphStyle, change: Looks) -> None:
    change["tabs"] = _tabs(prop, base.tabs)


def _read_centred(prop: etree._Element, base: ParagraphStyle, change: Looks) -> None:
    if (prop.get(VAL) == "center") != base.centred:
        change["centred"] = not base.centred


def _read_frame(prop: etree._Element, base: ParagraphStyle, change: Looks) -> None:
    if prop.get(f"{W}dropCap") not in ("drop", "margin"):
        change["set_off"] = "a frame beside the text"


def _read_ground(prop: etree._Element, base: ParagraphStyle, change: Looks) -> None:
    fill = prop.get(f"{W}fill", "")
    ground = "" if fill.lower() == "auto" else colour_name(fill)
    if ground not in ("", "white"):
        change["set_off"] = f"a ground in {ground}"


def _read_break(prop: etree._Element, base: ParagraphStyle, change: Looks) -> None:
    change["break_before"] = is_on(prop.get(VAL))


_PROPERTIES: dict[str, Callable[[etree._Element, ParagraphStyle, Looks], None]] = {
    f"{W}outlineLvl": _read_outline,
    f"{W}numPr": _read_numbering,
    f"{W}ind": _read_indent,
    f"{W}pBdr": _read_border,
    f"{W}tabs": _read_tabs,
    f"{W}pageBreakBefore": _read_break,
    f"{W}jc": _read_centred,
    f"{W}shd": _read_ground,
    f"{W}framePr": _read_frame,
}


def read_paragraph(ppr: etree._Element | None, base: ParagraphStyle) -> ParagraphStyle:
    """Paragraph properties laid over ``base``; the same object where nothing changes."""
    if ppr is None:
        return base
    change: dict[str, Any] = {}
    for prop in ppr:
        do = _PROPERTIES.get(str(prop.tag))
        if do is not None:
            do(prop, base, change)
    if not change:
        return base
    return replace(base, **change)


def _border(pbdr: etree._Element) -> str:
    """A key for the box a paragraph stands in: empty unless all four sides are drawn."""
    sides = {etree.QName(side).localname: side.get(VAL, "") for side in pbdr}
    drawn = [sides.get(side) or sides.get(_OTHER.get(side, side), "") for side in _SIDES]
    return "|".join(drawn) if all(d not in ("", "nil", "none") for d in drawn) else ""


_OTHER = {"left": "start", "right": "end"}


def _tabs(tabs: etree._Element, base: tuple[tuple[int, str], ...]) -> tuple[tuple[int, str], ...]:
    stops = dict(base)
    for tab in tabs:
        at = twips(tab.get(f"{W}pos"))
        if tab.get(VAL) == "clear":
            stops.pop(at, None)
        elif tab.get(VAL) != "bar":  # a line in print, where no tab stops
            stops[at] = tab.get(f"{W}leader", "none")
    return tuple(sorted(stops.items()))
