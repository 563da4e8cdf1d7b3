"""MathML to the expression tree (presentation MathML 3 and 4; Word equations by omml.py).

Done: math mrow mstyle mpadded maction semantics mi mn mo mtext ms mspace mfrac msqrt
mroot msub msup msubsup mmultiscripts munder mover munderover mfenced menclose mphantom
mtable mtr mlabeledtr mtd, and elementary arithmetic: mstack mlongdiv msgroup msrow msline
mscarries mscarry.  Not transcribed, kept as Unsupported with their text: mglyph, merror,
content MathML, anything unknown.

Nothing here recurses: elements are listed parents first and built from the last to the first.
"""

from __future__ import annotations

import html
import re
import unicodedata
from dataclasses import dataclass

from lxml import etree

from ..errors import SourceError
from . import omml
from .chars import NO_INK, cut, is_numeral, letters, level_of, phrase, sign, unstyled
from .mathml_build import BUILD, GIVES_ROW, arity_of, lifted
from .mathml_parts import Made, Part
from .tree import DEPTH, ELEMENTS, Expression, Leaf, Number, Row, Space, Unsupported, Words

LONGEST = 8_000_000
"""Characters of source beyond which an expression is refused."""
DEEPEST = 1_000
"""Nested elements beyond which an expression is refused."""

_ENTITY = re.compile(r"&([A-Za-z][A-Za-z0-9]*;)")
_XML = frozenset(("amp;", "lt;", "gt;", "quot;", "apos;"))
_PREFIX = re.compile(r"<(?:/)?([A-Za-z_][\w.-]*):|\s([A-Za-z_][\w.-]*):[\w.-]+\s*=")
_FIRST_TAG = re.compile(r"<[A-Za-z_][\w.:-]*")
_TOKENS = frozenset(("mi", "mn", "mo", "mtext", "ms"))
_NOTHING = frozenset(
    ("annotation", "annotation-xml", "maligngroup", "malignmark", "mphantom", "none")
)
_FONTS = ("bold", "script", "fraktur", "double-struck", "sans-serif", "monospace")
_WIDTH = re.compile(r"\s*(-?[0-9.]+)\s*([a-z%]*)")
# Room at least this wide is a space in print: a thin space is 0.167 em (MathML 3, 2.1.5.2).
_UNITS = {"em": 0.15, "ex": 0.3, "px": 2.4, "pt": 1.8, "": 0.15}
_NAMED = re.compile(r"(very)*(thin|medium|thick)mathspace")


@dataclass(slots=True)
class _Row:
    """One element waiting to be built."""

    element: etree._Element
    name: str
    path: str
    font: str


def parse(source: str) -> Expression:
    """The tree of an expression in MathML or Office MathML.

    Raises SourceError if it is not XML, or is larger or deeper than the limits.
    """
    root = read_root(source)
    if omml.is_omml(root):
        root = omml.to_mathml(root)
    made = _build(root)
    if made.depth > DEPTH:
        raise SourceError(f"The formula is nested more than {DEPTH} levels deep.")
    return made.node


def read_root(source: str) -> etree._Element:
    """The first element of a source.  Raises SourceError if it is not XML."""
    if len(source) > LONGEST or "<!DOCTYPE" in source:
        raise SourceError("The formula is too long, or brings its own document type.")
    source = _ENTITY.sub(_character, source)
    try:
        return etree.fromstring(source, _parser())
    except (etree.XMLSyntaxError, ValueError):
        pass
    try:
        return etree.fromstring(_declared(source), _parser())
    except (etree.XMLSyntaxError, ValueError) as error:
        raise SourceError(f"The formula is not well-formed XML: {error}.") from None


def text_beside(source: str) -> str:
    """What an expression says of itself in TeX, or else its alternative text; ``""`` for none."""
    root = read_root(source)
    for element in root.iter("{*}annotation"):
        if "tex" in str(element.get("encoding", "")).lower() and element.text:
            return f"${element.text.strip().strip('$')}$"
    return str(root.get("alttext", ""))


def _parser() -> etree.XMLParser:
    return etree.XMLParser(
        resolve_entities=False, no_network=True, huge_tree=True, remove_comments=True,
        remove_pis=True,
    )  # fmt: skip


def _character(match: re.Match[str]) -> str:
    """A named character as itself; a name XML knows, or nobody, is left."""
    if match[1] in _XML:
        return match[0]
    return html.unescape(match[0])


def _declared(source: str) -> str:
    """``source`` with its undeclared prefixes declared on the first element."""
    found = {name for pair in _PREFIX.findall(source) for name in pair if name}
    missing = [
        n for n in sorted(found) if n not in ("xml", "xmlns") and f"xmlns:{n}=" not in source
    ]
    words = "".join(f' xmlns:{name}="urn:{name}"' for name in missing)
    return _FIRST_TAG.sub(lambda match: match[0] + words, source, count=1)


# ------------------------------------------------------------------ elements


def local(element: etree._Element) -> str:
    """An element's name without its namespace."""
    tag = element.tag
    return tag.rpartition("}")[2] if isinstance(tag, str) else ""


def _listed(root: etree._Element) -> list[_Row]:
    """Every element to be built, parents before children, within the limits."""
    out: list[_Row] = []
    stack: list[tuple[etree._Element, str, str, int]] = [(root, "", "", 0)]
    while stack:
        element, path, font, depth = stack.pop()
        name = local(element)
        attributes = element.attrib
        if attributes:
            path = str(attributes.get("data-path", path))
            font = _font(str(attributes.get("mathvariant", "")), font)
        out.append(_Row(element, name, path, font))
        if len(out) > ELEMENTS or depth > DEEPEST:
            raise SourceError("The formula has more elements than the program takes.")
        if name in _TOKENS or name in _NOTHING or name not in BUILD:
            continue
        for at, child in enumerate(element, 1):
            stack.append((child, f"{path}/{at}", font, depth + 1))
    return out


def _font(variant: str, inherited: str) -> str:
    if not variant:
        return inherited
    return " ".join(font for font in _FONTS if font in variant)


def _build(root: etree._Element) -> Made:
    made: dict[etree._Element, Made] = {}
    for item in reversed(_listed(root)):
        made[item.element] = _made(item, made)
    return made[root]


def _made(item: _Row, made: dict[etree._Element, Made]) -> Made:
    name, element, path = item.name, item.element, item.path
    if name in _TOKENS:
        return Made(_token(item), 0)
    if name in _NOTHING:
        return Made(Row((), path), 0)
    if name == "mspace":
        return Made(Space(path) if _is_room(element) else Row((), path), 0)
    build = BUILD.get(name)
    if build is None:
        return Made(_unsupported(item), 0)
    kids = _kids(item, made)
    wanted = arity_of(name)
    if wanted is not None and len(kids) != wanted:
        return Made(_unsupported(item), 0)
    depth = max((kid.made.depth for kid in kids), default=0)
    node = build(kids, _attributes(element), path)
    return Made(node, depth if name in GIVES_ROW else depth + 1)


def _attributes(element: etree._Element) -> dict[str, str]:
    attributes = element.attrib
    return {str(key): str(value) for key, value in attributes.items()} if attributes else {}


def _unsupported(item: _Row) -> Unsupported:
    words = [str(text) for text in item.element.itertext()]
    words += [str(inner.get("alt", "")) for inner in item.element.iter("{*}mglyph")]
    return Unsupported(item.name, " ".join(" ".join(words).split()), item.path)


def _kids(item: _Row, made: dict[etree._Element, Made]) -> list[Part]:
    """What an element holds, in order, stray text included."""
    element = item.element
    kids: list[Part] = []
    if element.text and element.text.strip():
        kids.append(_stray(element.text, item.path))
    inside = list(element)
    if item.name == "semantics":
        inside = _presented(inside)
    elif item.name == "maction" and inside:
        wanted = str(element.get("selection", "1"))[:9]
        inside = [inside[min(int(wanted) if wanted.isdecimal() else 1, len(inside)) - 1]]
    for child in inside:
        kids.append(Part(local(child), _attributes(child), made[child]))
        if child.tail and child.tail.strip():
            kids.append(_stray(child.tail, item.path))
    return kids


def _presented(inside: list[etree._Element]) -> list[etree._Element]:
    """The one child of ``semantics`` that print shows."""
    shown = [child for child in inside if not local(child).startswith("annotation")]
    return shown[:1]


def _stray(text: str, path: str) -> Part:
    return Part("text", {}, Made(Unsupported("text", " ".join(text.split()), path), 0))


def _is_room(element: etree._Element) -> bool:
    if element.get("linebreak") == "newline":
        return True
    width = str(element.get("width", "0"))
    if _NAMED.fullmatch(width):
        return not width.startswith("very")
    found = _WIDTH.match(width)
    return found is not None and float(found[1].strip(".") or 0) >= _UNITS.get(found[2], 0.15)


# ------------------------------------------------------------------ tokens


def _token(item: _Row) -> Expression:
    element, path = item.element, item.path
    if len(element):
        if any(local(inner) == "mglyph" for inner in element.iter()):
            return _unsupported(item)
        text = "".join(map(str, element.itertext()))
    else:
        text = element.text or ""
    bare = text.strip()
    if item.name in ("mtext", "ms"):
        return _words(text, item)
    if not bare.translate(NO_INK):
        return Space(path) if text.translate(NO_INK) else Row((), path)
    if item.name == "mo":
        return _operator(bare, item)
    bare, font = unstyled(bare, item.font)
    if item.name == "mn" and is_numeral(bare):
        return Number(" ".join(bare.split()), path, font)
    if bare.isalpha() and not any(level_of(char)[1] for char in bare):
        return letters(bare, path, font, element.get("mathvariant") == "normal")
    if item.name == "mi" and any(char.isspace() for char in bare):
        return Words(" ".join(bare.split()), path)
    return lifted(cut(bare, path, font), path)


def _words(text: str, item: _Row) -> Expression:
    text = re.sub(r"\s+", " ", text.translate(NO_INK))
    if not text.strip():
        return Space(item.path) if text else Row((), item.path)
    if item.name == "mtext":
        return lifted(phrase(text, item.path), item.path)
    left, right = item.element.get("lquote", '"'), item.element.get("rquote", '"')
    return Words(f"{left}{text.strip()}{right}", item.path)


def _operator(text: str, item: _Row) -> Expression:
    text, font = unstyled(text, item.font)
    text = text if text.isascii() else unicodedata.normalize("NFC", text)
    signs: tuple[Leaf, ...]
    one = sign(text, item.path, _side(item.element))
    if len(text) == 1 and not text.isalnum():
        return one
    if one.text != text and len(one.text) == 1:
        return one
    signs = cut(text, item.path, font)
    return lifted(signs, item.path)


def _side(element: etree._Element) -> str:
    """The side of a fence, where the source tells it."""
    if element.get("fence") != "true":
        return ""
    return {"prefix": "open", "postfix": "close"}.get(str(element.get("form", "")), "")
