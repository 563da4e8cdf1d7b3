"""Styles of a Word document, resolved: what a paragraph is and how its letters look.

Order of strength (ISO/IEC 29500-1, 17.7.2): document defaults, paragraph style chain,
character style chain, direct properties.  Along one chain of ``basedOn`` the nearest style
wins; between a paragraph and a character style a toggle property that both set cancels
(17.7.3); direct formatting is absolute.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from lxml import etree

from ..document.nodes import BOLD, ITALIC, SMALL_CAPS, STRIKE, SUB, SUP, TYPEFORM_BITS, UNDERLINE
from .docx_colours import colour_name
from .docx_names import VAL, W, is_on, number, twips
from .docx_symbols import font_table
from .house import house, table

_CHAIN = 50
_TOGGLES = {
    f"{W}b": "bold",
    f"{W}i": "italic",
    f"{W}caps": "caps",
    f"{W}smallCaps": "small",
    f"{W}strike": "strike",
    f"{W}dstrike": "dstrike",
    f"{W}vanish": "hidden",
}
_FONTS, _LANG, _UNDER, _VERT = f"{W}rFonts", f"{W}lang", f"{W}u", f"{W}vertAlign"
_POSITION, _COLOUR, _HIGHLIGHT = f"{W}position", f"{W}color", f"{W}highlight"
_STYLE, _PPR, _RPR = f"{W}rStyle", f"{W}pPr", f"{W}rPr"
_ASCII, _HANSI = f"{W}ascii", f"{W}hAnsi"
_SIDES = ("top", "left", "bottom", "right")
_BITS = {
    "bold": BOLD, "italic": ITALIC, "small": SMALL_CAPS, "strike": STRIKE, "dstrike": STRIKE,
}  # fmt: skip
Looks = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Facts:
    """How a run looks.  ``odd``: its text needs more than being copied into the ledger."""

    typeform: int = 0
    lang: str = ""
    voice: str = ""
    caps: bool = False
    hidden: bool = False
    font: str = ""
    colour: str = ""
    blank: bool = False
    odd: bool = False


@dataclass(frozen=True, slots=True)
class ParagraphStyle:
    """A paragraph style with all it inherits.  ``indent`` in twips; ``tabs``: leaders by place."""

    row: Mapping[str, Any] = field(default_factory=dict)
    looks: Looks = field(default_factory=dict)
    outline: int = 9
    num_id: int = 0
    ilvl: int = 0
    indent: int | None = None
    border: str = ""
    tabs: tuple[tuple[int, str], ...] = ()
    break_before: bool = False

    special: bool = field(init=False, default=False, compare=False)

    def __post_init__(self) -> None:
        """``special``: paragraphs of the style are more than plain text."""
        special = bool(self.row or self.border or self.outline < 9)
        object.__setattr__(self, "special", special)


def style_rows() -> Mapping[str, Mapping[str, Any]]:
    """The rows of ``docx_styles.toml``, by English style name in lower case; a house's win."""
    ours = house().styles
    return {**table("docx_styles"), **ours} if ours else table("docx_styles")


class Styles:
    """The style sheet.  Everything is resolved once for each style and set of properties."""

    __slots__ = (
        "_by_id", "_chains", "_default", "_facts", "_interned", "_paragraphs", "base_lang",
        "defaults",
    )  # fmt: skip

    def __init__(self, root: etree._Element | None) -> None:
        self._by_id: dict[str, etree._Element] = {}
        self._default = {"paragraph": "", "table": "", "character": ""}
        self._chains: dict[str, list[etree._Element]] = {}
        self._paragraphs: dict[str, ParagraphStyle] = {}
        self._facts: dict[object, Facts] = {}
        self._interned: dict[Facts, Facts] = {}
        self.defaults: Looks = {}
        for style in root if root is not None else ():
            if style.tag == f"{W}style":
                name, kind = style.get(f"{W}styleId", ""), style.get(f"{W}type", "paragraph")
                self._by_id.setdefault(name, style)
                if is_on(style.get(f"{W}default", "0")) and kind in self._default:
                    self._default[kind] = name
            elif style.tag == f"{W}docDefaults":
                self.defaults = looks_of(style.find(f"{W}rPrDefault/{_RPR}"))
        self.base_lang = primary(self.defaults.get("lang", ""))

    def chain(self, style_id: str, kind: str = "paragraph") -> list[etree._Element]:
        """The style and those it is based on, root first; loops and long chains are cut."""
        if style_id not in self._by_id:
            style_id = self._default.get(kind, "")
        known = self._chains.get(style_id)
        if known is not None:
            return known
        chain: list[etree._Element] = []
        seen: set[str] = set()
        here = style_id
        while here in self._by_id and here not in seen and len(chain) < _CHAIN:
            seen.add(here)
            style = self._by_id[here]
            chain.append(style)
            below = style.find(f"{W}basedOn")
            here = below.get(VAL, "") if below is not None else ""
        self._chains[style_id] = chain = chain[::-1]
        return chain

    def element(self, style_id: str) -> etree._Element | None:
        """The style's own element."""
        return self._by_id.get(style_id)

    def paragraph(self, style_id: str) -> ParagraphStyle:
        """A paragraph style resolved; an unknown id is the default style."""
        known = self._paragraphs.get(style_id)
        if known is None:
            known = self._paragraphs[style_id] = self._resolve(style_id)
        return known

    def _resolve(self, style_id: str) -> ParagraphStyle:
        looks = dict(self.defaults)
        row: Mapping[str, Any] = {}
        facts = ParagraphStyle()
        for style in self.chain(style_id):
            row = style_rows().get(name_of(style), row)
            looks.update(looks_of(style.find(_RPR)))
            facts = read_paragraph(style.find(_PPR), facts)
        return ParagraphStyle(
            row=row,
            looks=looks,
            outline=facts.outline,
            num_id=facts.num_id,
            ilvl=facts.ilvl,
            indent=facts.indent,
            border=facts.border,
            tabs=facts.tabs,
            break_before=facts.break_before,
        )

    def facts(self, style_id: str, rpr: etree._Element | None = None) -> Facts:
        """How a run of a paragraph style looks with its own properties ``rpr``."""
        if rpr is None:
            key: object = style_id
        else:
            signs: list[object] = [style_id]
            for prop in rpr:
                signs.append(prop.tag)
                sign = prop.get(VAL)
                if sign is None and prop.tag == _FONTS:
                    sign = prop.get(_ASCII) or prop.get(_HANSI)
                signs.append(sign)
            key = tuple(signs)
        known = self._facts.get(key)
        if known is None:
            known = self._facts[key] = self._combine(style_id, rpr)
        return known

    def intern(self, facts: Facts) -> Facts:
        """The one object for equal facts, so that equality is identity."""
        return self._interned.setdefault(facts, facts)

    def _combine(self, style_id: str, rpr: etree._Element | None) -> Facts:
        style = self.paragraph(style_id)
        looks = dict(style.looks)
        extra: dict[str, Any] = {}
        reference = rpr.find(_STYLE) if rpr is not None else None
        drop = 0
        if reference is not None:
            for step in self.chain(reference.get(VAL, ""), "character"):
                row = style_rows().get(name_of(step), {})
                drop |= sum(TYPEFORM_BITS[word] for word in row.get("drop", ()))
                extra.update({k: row[k] for k in ("voice",) if k in row})
                extra.update(looks_of(step.find(_RPR)))
            for name, value in extra.items():
                toggled = name in _TOGGLES.values()
                looks[name] = bool(looks.get(name)) != value if toggled else value
        direct = looks_of(rpr)
        looks.update(direct)
        bits = bits_of(looks) & ~drop
        if style.row.get("plain") or style.row.get("node") == "heading" or style.outline < 9:
            bits &= ~(bits_of(style.looks) & ~bits_of(direct))
        lang = primary(looks.get("lang", ""))
        caps, hidden = bool(looks.get("caps")), bool(looks.get("hidden"))
        font = looks.get("font", "") if font_table(looks.get("font", "")) is not None else ""
        colour = str(direct.get("colour") or direct.get("highlight") or "")
        odd = caps or hidden or bool(font) or bool(colour) or bool(bits & UNDERLINE)
        return self.intern(
            Facts(
                typeform=bits,
                lang="" if lang == self.base_lang else lang,
                voice=looks.get("voice", ""),
                caps=caps,
                hidden=hidden,
                font=font,
                colour=colour,
                odd=odd,
            )
        )


def name_of(style: etree._Element) -> str:
    """The style's own name in lower case: stable where the id is translated."""
    name = style.find(f"{W}name")
    return (name.get(VAL, "") if name is not None else "").strip().lower()


def primary(lang: str) -> str:
    """The language of a tag without its region."""
    return lang.split("-")[0].lower()


def looks_of(rpr: etree._Element | None) -> Looks:
    """Run properties of one level, as a small table of what they set."""
    looks: Looks = {}
    for prop in rpr if rpr is not None else ():
        tag, value = prop.tag, prop.get(VAL)
        if tag in _TOGGLES:
            looks[_TOGGLES[tag]] = is_on(value)
        elif tag == _UNDER:
            looks["under"] = value not in (None, "none")
        elif tag == _VERT:
            looks["vert"] = {"superscript": SUP, "subscript": SUB}.get(value or "", 0)
        elif tag == _FONTS:
            looks["font"] = prop.get(_ASCII) or prop.get(_HANSI) or ""
        elif tag == _LANG and value:
            looks["lang"] = value
        elif tag == _COLOUR:
            looks["colour"] = colour_name(value or "")
        elif tag == _HIGHLIGHT:
            looks["highlight"] = (
                f"{_apart(value)} (highlighting)" if value and value != "none" else ""
            )
        elif tag == f"{W}em" and value not in (None, "none"):
            looks["em"] = True
    return looks


def _apart(name: str) -> str:
    """``darkYellow`` as two words."""
    return "".join(f" {ch.lower()}" if ch.isupper() else ch for ch in name)


def bits_of(looks: Looks) -> int:
    """The typeform bits of resolved looks."""
    bits: int = looks.get("vert", 0)
    for name, bit in _BITS.items():
        if looks.get(name):
            bits |= bit
    if looks.get("under"):
        bits |= UNDERLINE
    if looks.get("em"):
        bits |= ITALIC
    return bits


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
    change["border"] = _border(prop)


def _read_tabs(prop: etree._Element, base: ParagraphStyle, change: Looks) -> None:
    change["tabs"] = _tabs(prop, base.tabs)


def _read_break(prop: etree._Element, base: ParagraphStyle, change: Looks) -> None:
    change["break_before"] = is_on(prop.get(VAL))


_PROPERTIES: dict[str, Callable[[etree._Element, ParagraphStyle, Looks], None]] = {
    f"{W}outlineLvl": _read_outline,
    f"{W}numPr": _read_numbering,
    f"{W}ind": _read_indent,
    f"{W}pBdr": _read_border,
    f"{W}tabs": _read_tabs,
    f"{W}pageBreakBefore": _read_break,
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
        else:
            stops[at] = tab.get(f"{W}leader", "none")
    return tuple(sorted(stops.items()))
