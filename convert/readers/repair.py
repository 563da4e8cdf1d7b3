"""Content documents that are not well-formed: repaired step by step, each step told.

Ladder [inputs: EPUB 3.3, 11]: (1) as XML; (2) decoded by hand, bad characters, stray ampersands
and undeclared prefixes mended, as XML again; (3) Beautiful Soup, within limits of size, depth
and attributes.  After a repair the tree's text is compared with the raw text, sign by sign.
"""

from __future__ import annotations

import re
import warnings
from collections import Counter
from collections.abc import Iterator
from contextlib import suppress
from html import unescape
from typing import Any

from lxml import etree

from ..findings import Findings
from .limits import LIMITS, Limits
from .markup import MarkupError, parse_xml

_CONTROL = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\ud800-\udfff\ufffe\uffff]")
_STRAY = re.compile(r"&(?!#\d{1,7};|#x[0-9a-fA-F]{1,6};|[A-Za-z][A-Za-z0-9]{1,31};)")
_ENTITY = re.compile(r"&([A-Za-z][A-Za-z0-9]{1,31});")
_CHARSET = re.compile(rb"""(?:charset|encoding)\s*=\s*["']?([\w.:-]{1,40})""", re.IGNORECASE)
_DECLARATION = re.compile(r"^\s*(?:<\?xml[^>]{0,400}\?>\s*)+")
_ROOT = re.compile(r"<(?:\w{1,20}:)?html\b[^>]{0,5000}>", re.IGNORECASE)
_PREFIX = re.compile(r"[\s<]([A-Za-z][\w.-]{0,20}):[A-Za-z]")
_TAG = re.compile(r"<(/?)([A-Za-z][\w:.-]{0,60})((?:[^<>\"']|\"[^\"]*\"|'[^']*')*)>")
_NOT_TEXT = re.compile(
    r"<!--.*?-->|<(script|style|head|template)\b[^>]*>.*?</\1\s*>|<[!?/]?[A-Za-z][^<>]*>|<![^>]*>|<\?[^>]*>",
    re.IGNORECASE | re.DOTALL,
)
_VOID = frozenset(
    {"area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "param"}
    | {"source", "track", "wbr"}
)
_SPACES = {
    "epub": "http://www.idpf.org/2007/ops",
    "m": "http://www.w3.org/1998/Math/MathML",
    "mml": "http://www.w3.org/1998/Math/MathML",
    "svg": "http://www.w3.org/2000/svg",
    "xlink": "http://www.w3.org/1999/xlink",
}


def parse_content(data: bytes, part: str, findings: Findings) -> etree._Element:
    """The root of a content document.  Raises MarkupError (hostile) if it must be refused."""
    try:
        return parse_xml(data)
    except MarkupError as error:
        if error.hostile:
            raise
        first = error
    text = decode(data, part, findings)
    where = f"line {first.line}" if first.line else "its start"
    why = first.what.rstrip(".")
    mended = mend(text)
    try:
        root = parse_xml(mended.encode())
        findings.add("read.repaired-markup", part=part, where=where, why=why)
        _compare(text, root, part, findings)
        return root
    except MarkupError as error:
        if error.hostile:
            raise
    root = parse_soup(text)
    findings.add("read.repaired-markup", part=part, where=where, why=why)
    _compare(text, root, part, findings)
    return root


def decode(data: bytes, part: str, findings: Findings) -> str:
    """Bytes to text: byte-order mark, declaration, UTF-8, and Windows-1252 with a finding."""
    for mark, name in (
        (b"\xef\xbb\xbf", "utf-8"),
        (b"\xff\xfe", "utf-16"),
        (b"\xfe\xff", "utf-16"),
    ):
        if data.startswith(mark):
            return data.decode(name, "replace").lstrip("\ufeff")
    for start, name in ((b"<\0", "utf-16-le"), (b"\0<", "utf-16-be")):  # no mark, but plain
        if data.startswith(start):
            with suppress(UnicodeDecodeError):
                return data.decode(name)
    found = _CHARSET.search(data[:1024])
    for name in (found[1].decode("ascii", "ignore") if found else "utf-8", "utf-8"):
        if name.lower().replace("_", "-") in ("utf-8", "utf8", "iso-8859-1", "windows-1252"):
            try:
                return data.decode(name)
            except UnicodeDecodeError:
                continue
    findings.add("read.guessed-encoding", part=part)
    return data.decode("windows-1252", "replace")


def mend(text: str) -> str:
    """The usual small faults put right, so that the text may parse as XML."""
    text = _DECLARATION.sub("", _CONTROL.sub("", text))
    text = _STRAY.sub("&amp;", text)
    text = _ENTITY.sub(_known_entity, text)
    root = _ROOT.search(text)
    if root:
        missing = sorted(
            prefix
            for prefix in set(_PREFIX.findall(text))
            if prefix not in ("xml", "xmlns") and f"xmlns:{prefix}" not in root[0]
        )
        declared = "".join(
            f' xmlns:{p}="{_SPACES.get(p, "urn:undeclared:" + p)}"' for p in missing[:20]
        )
        at = root.end() - (2 if root[0].endswith("/>") else 1)
        text = text[:at] + declared + text[at:]
    return text


def _known_entity(match: re.Match[str]) -> str:
    known = match[1] in ("amp", "lt", "gt", "quot", "apos") or unescape(match[0]) != match[0]
    return match[0] if known else f"&amp;{match[1]};"


def parse_soup(text: str, limits: Limits = LIMITS) -> etree._Element:
    """A tree by Beautiful Soup.  Raises MarkupError beyond the limits of size or depth."""
    if len(text) > limits.repair:
        raise MarkupError("is broken and too long to repair", hostile=True)
    _scan(text, limits)
    from bs4 import BeautifulSoup
    from bs4.exceptions import ParserRejectedMarkup

    expanded = _TAG.sub(_expanded, _DECLARATION.sub("", _CONTROL.sub("", text)))
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # advice on the choice of parsers
            soup = BeautifulSoup(expanded, "html.parser")
        return _to_tree(soup)
    except ParserRejectedMarkup:
        raise MarkupError("is broken beyond repair", hostile=True) from None


def parse_html(text: str, limits: Limits = LIMITS) -> etree._Element | None:
    """A tree by the HTML parser, which closes what HTML lets stand open; ``None``: it gave up.

    Raises MarkupError beyond the limits of depth or attributes: the parser would hang, or give
    back half a tree without a word.
    """
    _scan(text, limits)
    parser = etree.HTMLParser(
        no_network=True, remove_comments=True, remove_pis=True, encoding="utf-8", huge_tree=True
    )
    try:
        root = etree.fromstring(_CONTROL.sub("", text).encode(), parser)
    except etree.XMLSyntaxError:
        return None
    return root if root is not None and local(root) == "html" else None


def local(element: etree._Element) -> str:
    """The local name of an element, in lower case."""
    return str(element.tag).rpartition("}")[2].lower()


def _scan(text: str, limits: Limits) -> None:
    """Depth and attribute counts, before any tree is built."""
    depth = 0
    for tag in _TAG.finditer(text):
        name, rest = tag[2].lower(), tag[3]
        if tag[1]:
            depth = max(0, depth - 1)
        elif name not in _VOID and not rest.endswith("/"):
            depth += name not in ("p", "li", "td", "tr", "th", "dd", "dt", "option")
        if depth > limits.repair_depth or rest.count("=") > limits.attributes:
            raise MarkupError("is broken and nests too deep to repair", hostile=True)


def _expanded(tag: re.Match[str]) -> str:
    """A self-closed element as a pair of tags, as HTML parsers take it for an open one."""
    if tag[1] or not tag[3].endswith("/") or tag[2].lower() in _VOID:
        return tag[0]
    return f"<{tag[2]}{tag[3][:-1]}></{tag[2]}>"


def _to_tree(soup: Any) -> etree._Element:
    """The soup as an lxml tree, without recursion."""
    from bs4.element import CData, PreformattedString, Tag

    root = etree.Element("html")
    stack: list[tuple[etree._Element, Any]] = [(root, iter(soup.contents))]
    while stack:
        parent, kids = stack[-1]
        node = next(kids, None)
        if node is None:
            stack.pop()
        elif isinstance(node, Tag):
            if node.name == "html" and parent is root:
                _set_attributes(root, node)
                stack.append((root, iter(node.contents)))
                continue
            element = etree.SubElement(parent, _qualified(node.name))
            _set_attributes(element, node)
            stack.append((element, iter(node.contents)))
        elif isinstance(node, CData) or not isinstance(node, PreformattedString):
            _append_text(parent, _CONTROL.sub("", str(node)))
    return root


def _qualified(name: str) -> str:
    prefix, _, local = name.rpartition(":")
    local = re.sub(r"[^A-Za-z0-9_.-]", "_", local) or "unknown"
    if not (local[0].isalpha() or local[0] == "_"):
        local = f"_{local}"
    space = _SPACES.get(prefix.lower())
    return f"{{{space}}}{local}" if space else local


def _set_attributes(element: etree._Element, node: Any) -> None:
    for name, value in node.attrs.items():
        words = " ".join(value) if isinstance(value, list) else str(value or "")
        if name == "xml:lang":
            key = "{http://www.w3.org/XML/1998/namespace}lang"
        elif re.fullmatch(r"[A-Za-z_][\w.:-]*", name) and not name.startswith("xmlns"):
            key = _qualified(name)
        else:
            continue
        element.set(key, _CONTROL.sub("", words))


def _append_text(parent: etree._Element, text: str) -> None:
    if len(parent):
        parent[-1].tail = (parent[-1].tail or "") + text
    else:
        parent.text = (parent.text or "") + text


def _compare(text: str, root: etree._Element, part: str, findings: Findings) -> None:
    """File ``read.repair-lost`` where the repaired tree lacks characters of the raw text."""
    if number := lost_text(text, root):
        findings.add("read.repair-lost", part=part, number=number)


def lost_text(text: str, root: etree._Element) -> int:
    """How many characters of the raw text, white space aside, a parsed tree lacks."""
    raw = unescape(_NOT_TEXT.sub(" ", _CONTROL.sub("", _DECLARATION.sub("", text))))
    kept = "".join(_seen(root))
    missing = Counter("".join(raw.split())) - Counter("".join(kept.split()))
    return sum(missing.values())


def _seen(root: etree._Element) -> Iterator[str]:
    for element in root.iter():
        name = str(element.tag).rpartition("}")[2]
        if element.text and name not in ("script", "style"):
            yield element.text
        if element.tail:
            yield element.tail
