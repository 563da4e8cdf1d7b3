"""Styles of a Word document, resolved: what a paragraph is and how its letters look.

Order of strength (ISO/IEC 29500-1, 17.7.2): document defaults, paragraph style chain,
character style chain, direct properties.  Along one chain of ``basedOn`` the nearest style
wins; between a paragraph and a character style a toggle property that both set cancels
(17.7.3); direct formatting is absolute.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from lxml import etree

from ..document.nodes import BOLD, ITALIC, SMALL_CAPS, STRIKE, SUB, SUP, TYPEFORM_BITS, UNDERLINE
from .docx_colours import colour_name
from .docx_names import VAL, W, is_on, number
from .docx_paragraph_style import Looks, ParagraphStyle, read_paragraph
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
_ASCII, _HANSI, _FILL = f"{W}ascii", f"{W}hAnsi", f"{W}fill"
# Half-points of text whose size is said nowhere (17.3.2.38); twentieths of a point from which
# letters are spaced out on purpose (common practice, no source).
_SIZE, _SPACED = 20, 20
_LOOKS = ("spaced out", "in a box")
_PLAIN_GROUND = ("", "white", "light grey")
_BITS = {
    "bold": BOLD, "italic": ITALIC, "small": SMALL_CAPS, "strike": STRIKE, "dstrike": STRIKE,
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Facts:
    """How a run looks.  ``odd``: its text needs more than being copied into the ledger;
    ``large``: larger than the text of the document; ``look``: a look braille has no sign for."""

    typeform: int = 0
    lang: str = ""
    voice: str = ""
    caps: bool = False
    hidden: bool = False
    font: str = ""
    colour: str = ""
    blank: bool = False
    odd: bool = False
    large: bool = False
    look: str = ""


def style_rows() -> Mapping[str, Mapping[str, Any]]:
    """The rows of ``docx_styles.toml``, by English style name in lower case; a house's win."""
    ours = house().styles
    return {**table("docx_styles"), **ours} if ours else table("docx_styles")


class Styles:
    """The style sheet.  Everything is resolved once for each style and set of properties.

    ``levels``: for a numbering and a style the level that belongs to the style (17.9.23).
    """

    __slots__ = (
        "_by_id", "_chains", "_default", "_facts", "_interned", "_paragraphs", "base_lang",
        "defaults", "levels",
    )  # fmt: skip

    def __init__(self, root: etree._Element | None) -> None:
        self._by_id: dict[str, etree._Element] = {}
        self._default = {"paragraph": "", "table": "", "character": ""}
        self._chains: dict[str, list[etree._Element]] = {}
        self._paragraphs: dict[str, ParagraphStyle] = {}
        self._facts: dict[object, Facts] = {}
        self._interned: dict[Facts, Facts] = {}
        self.defaults: Looks = {}
        self.levels: dict[tuple[int, str], int] = {}
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
            level = self.levels.get((facts.num_id, style.get(f"{W}styleId", "")))
            facts = facts if level is None else replace(facts, ilvl=level)
        return replace(facts, row=row, looks=looks)

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
                elif sign == "clear":
                    sign = prop.get(_FILL)
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
        drop, colour = 0, ""
        if reference is not None:
            for step in self.chain(reference.get(VAL, ""), "character"):
                row = style_rows().get(name_of(step), {})
                drop |= sum(TYPEFORM_BITS[word] for word in row.get("drop", ()))
                extra.update({k: row[k] for k in ("voice",) if k in row})
                extra.update(looks_of(step.find(_RPR)))
                if is_on(step.get(f"{W}customStyle", "0")):
                    colour = extra.get("colour", colour)
            for name, value in extra.items():
                toggled = name in _TOGGLES.values()
                looks[name] = bool(looks.get(name)) != value if toggled else value
        direct = looks_of(rpr)
        looks.update(direct)
        usual: int = style.looks.get("size", _SIZE)
        size: int = looks.get("size", usual)
        if looks.get("raised") and not looks.get("vert") and size < usual:
            looks["vert"] = SUP if looks["raised"] > 0 else SUB
        bits = bits_of(looks) & ~drop
        if style.row.get("plain") or style.row.get("node") == "heading" or style.outline < 9:
            bits &= ~(bits_of(style.looks) & ~bits_of(direct))
        lang = primary(looks.get("lang", ""))
        caps, hidden = bool(looks.get("caps")), bool(looks.get("hidden"))
        font = looks.get("font", "") if font_table(looks.get("font", "")) is not None else ""
        given = (direct.get(name) for name in ("colour", "highlight", "ground"))
        colour = next(filter(None, given), colour)
        look = " and ".join(words for words in _LOOKS if direct.get(words))
        text_size: int = self.paragraph("").looks.get("size", _SIZE)
        odd = caps or hidden or bool(font) or bool(colour) or bool(look) or bool(bits & UNDERLINE)
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
                large=4 * size >= 5 * text_size,
                look=look,
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
        if (name := _TOGGLES.get(str(prop.tag))) is not None:
            looks[name] = is_on(prop.get(VAL))
        elif (read := _READ.get(str(prop.tag))) is not None:
            name, value = read(prop, prop.get(VAL) or "")
            if value or name != "lang":  # a language of other scripts only is none of this one
                looks[name] = value
    return looks


_Read = Callable[[etree._Element, str], tuple[str, Any]]
_READ: dict[str, _Read] = {
    _UNDER: lambda prop, value: ("under", value not in ("", "none")),
    _VERT: lambda prop, value: ("vert", {"superscript": SUP, "subscript": SUB}.get(value, 0)),
    _FONTS: lambda prop, value: ("font", prop.get(_ASCII) or prop.get(_HANSI) or ""),
    _LANG: lambda prop, value: ("lang", value),
    _COLOUR: lambda prop, value: ("colour", colour_name(value)),
    _HIGHLIGHT: lambda prop, value: ("highlight", _highlight(value)),
    _POSITION: lambda prop, value: ("raised", number(value)),
    f"{W}sz": lambda prop, value: ("size", number(value, _SIZE)),
    f"{W}spacing": lambda prop, value: ("spaced out", number(value) >= _SPACED),
    f"{W}bdr": lambda prop, value: ("in a box", value not in ("", "nil", "none")),
    f"{W}shd": lambda prop, value: ("ground", ground_name(prop)),
    f"{W}em": lambda prop, value: ("em", value not in ("", "none")),
}


def _highlight(value: str) -> str:
    return f"{_apart(value)} (highlighting)" if value not in ("", "none") else ""


def ground_name(shd: etree._Element) -> str:
    """The colour of the ground in words, nothing where it is white, black or grey."""
    name = colour_name(shd.get(_FILL, ""))
    return "" if name in _PLAIN_GROUND else f"{name} (ground)"


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
