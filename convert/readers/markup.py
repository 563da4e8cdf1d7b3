"""Bytes to an XML tree with a hardened parser: nothing is fetched, nothing recovered in silence.

Two tries: the parser's own limits first (256 levels, 10 MB a text node), which honest files
keep; only a file that breaks them is parsed again with the limits of :class:`Limits`.
"""

from __future__ import annotations

import re
from html.entities import html5

from lxml import etree

from .limits import LIMITS, Limits

_ENCODINGS = frozenset(
    {"utf-8", "utf8", "us-ascii", "ascii", "utf-16", "utf-16le", "utf-16be"}
    | {"iso-8859-1", "latin1", "latin-1", "windows-1252", "cp1252"}
)
_DECLARED = re.compile(rb"""^\s*<\?xml[^>]{0,200}?encoding\s*=\s*["']([\w.:-]{1,40})["']""")
# First bytes of encodings the XML parser would know by itself, past the checks made here.
_UTF_32 = (b"\xff\xfe\0\0", b"\0\0\xfe\xff", b"<\0\0\0", b"\0\0\0<")
_UTF_16 = (
    (b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16"), (b"<\0", "utf-16-le"), (b"\0<", "utf-16-be")
)  # fmt: skip
_EBCDIC = b"\x4c\x6f\xa7\x94"
_ATTRIBUTE = re.compile(rb"""=\s*(?:"[^"]*"|'[^']*')""")
_START_TAG = re.compile(rb"""[^\s=>/]++(?:\s++[^\s=>/]++\s*+=\s*+(?:"[^"]*+"|'[^']*+'))*+""")
_LONG_TAG = re.compile(rb"<[^<]{4000,}+")
_PLACE = re.compile(r",? line \d+, column \d+$")
_DECLARATION = re.compile(r"^\s*<\?xml[^>]{0,400}?\?>")
_NAMED = re.compile(rb"<!\[CDATA\[.*?\]\]>|&([A-Za-z][A-Za-z0-9]{1,31});", re.DOTALL)
_ODD_NAMED = re.compile(rb"&(?!amp;|lt;|gt;|quot;|apos;|#)")
_FIVE = frozenset({b"amp", b"lt", b"gt", b"quot", b"apos"})
_DOCTYPE = re.compile(rb"<!DOCTYPE[^\[>]{0,2000}(\[)?", re.IGNORECASE)
_EXTERNAL = re.compile(
    rb"""(<!DOCTYPE\s+[\w:.-]{1,100})(\s+(?:PUBLIC\s+(?:"[^"]*"|'[^']*')|SYSTEM)(?:\s*(?:"[^"]*"|'[^']*'))?)"""
)
_BAD_ENTITY = re.compile(rb"<!ENTITY\s+(?:%|[^\s>]+\s+(?:SYSTEM|PUBLIC))", re.IGNORECASE)


class MarkupError(Exception):
    """The bytes are not well-formed XML, or break a limit.  ``hostile``: do not try to repair."""

    def __init__(self, what: str, line: int = 0, column: int = 0, hostile: bool = False) -> None:
        super().__init__(what)
        self.what = what
        self.line = line
        self.column = column
        self.hostile = hostile


def parse_xml(data: bytes, limits: Limits = LIMITS, allow_dtd: bool = True) -> etree._Element:
    """The root element.  Raises MarkupError; comments and instructions are left out."""
    if data.count(b"<") > 2 * limits.elements:
        raise MarkupError("has more elements than the limit", hostile=True)
    data = to_ascii_superset(data)
    _check_attributes(data, limits)
    check_dtd(data, limits, allow_dtd)
    if b"<!DOCTYPE" in data:
        data = _EXTERNAL.sub(_no_external, data, count=1)
    if _ODD_NAMED.search(data):
        data = _NAMED.sub(_numbered, data)
    try:
        return _parse(data, allow_dtd, huge=False)
    except etree.XMLSyntaxError as error:
        line, column = error.position
        message = str(error.msg or "")
        if not any(word in message for word in ("depth", "huge", "too long", "XML_PARSE_HUGE")):
            raise MarkupError(_PLACE.sub("", message), line, column) from None
    try:
        root = _parse(data, allow_dtd, huge=True)
    except etree.XMLSyntaxError as error:
        if "depth" in str(error.msg):
            raise MarkupError(f"nests deeper than {limits.depth} levels", hostile=True) from None
        raise MarkupError(_PLACE.sub("", str(error.msg)), *error.position) from None
    _check_depth(root, limits)
    return root


def _parse(data: bytes, allow_dtd: bool, huge: bool) -> etree._Element:
    parser = etree.XMLParser(
        resolve_entities="internal" if allow_dtd else False,
        no_network=True,
        load_dtd=False,
        dtd_validation=False,
        huge_tree=huge,
        remove_comments=True,
        remove_pis=True,
        collect_ids=False,
    )
    root = etree.fromstring(data, parser)
    for entry in parser.error_log:
        if entry.level >= etree.ErrorLevels.ERROR:
            raise MarkupError(entry.message, entry.line, entry.column)
    return root


def to_ascii_superset(data: bytes) -> bytes:
    """UTF-16 as UTF-8 without its declaration; raises MarkupError for an encoding not allowed."""
    head = data[:4]
    if head.startswith(_UTF_32) or head == _EBCDIC:
        raise MarkupError("is in an encoding that is not read here", hostile=True)
    if code := next((code for start, code in _UTF_16 if head.startswith(start)), ""):
        try:
            return _DECLARATION.sub("", data.decode(code)).encode()
        except UnicodeDecodeError as error:
            raise MarkupError(f"is not the UTF-16 it claims to be ({error.reason})") from None
    found = _DECLARED.match(data[:400].removeprefix(b"\xef\xbb\xbf"))
    if found and found[1].decode("ascii").lower() not in _ENCODINGS:
        raise MarkupError(f"is in the encoding {found[1].decode('ascii')}, which is not read here")
    return data


def _check_attributes(data: bytes, limits: Limits) -> None:
    # Found without a list of all tags, which would take more memory than the tree.
    for piece in _LONG_TAG.finditer(data):
        if piece[0].count(b"=") > limits.attributes:
            tag = _START_TAG.match(data, piece.start() + 1, piece.end())
            if tag and len(_ATTRIBUTE.findall(tag[0])) > limits.attributes:
                raise MarkupError("has an element with too many attributes", hostile=True)


def check_dtd(data: bytes, limits: Limits, allow_dtd: bool) -> None:
    """Raises MarkupError for a document type that declares outside or parameter entities."""
    found = _DOCTYPE.search(data, 0, 20_000)
    if not found:
        return
    if not allow_dtd:
        raise MarkupError(
            "has a document type declaration, which a Word part may not", hostile=True
        )
    if found[1]:
        end = data.find(b"]", found.end(), found.end() + limits.dtd)
        subset = data[found.end() : end if end >= 0 else found.end() + limits.dtd]
        if end < 0 or _BAD_ENTITY.search(data, found.end(), found.end() + limits.dtd):
            raise MarkupError("declares entities outside the file", hostile=True)
        if subset.count(b"<!ENTITY") > 500:
            raise MarkupError("declares too many entities", hostile=True)


def _numbered(match: re.Match[bytes]) -> bytes:
    name = match[1]
    if name is None or name in _FIVE:
        return match[0]
    text = html5.get(name.decode("ascii") + ";")
    return match[0] if text is None else "".join(f"&#{ord(c)};" for c in text).encode()


def _no_external(match: re.Match[bytes]) -> bytes:
    """A document type without its outside part, so that no parser option can ask for it."""
    return match[1] + re.sub(rb"[^\r\n]", b" ", match[2])


def _check_depth(root: etree._Element, limits: Limits) -> None:
    depth = 0
    for count, (event, element) in enumerate(etree.iterwalk(root, events=("start", "end"))):
        depth += 1 if event == "start" else -1
        if depth > limits.depth or count > 2 * limits.elements:
            raise MarkupError(f"nests deeper than {limits.depth} levels", hostile=True)
        if event == "start" and len(element.text or "") > limits.text_node:
            raise MarkupError("has a stretch of text beyond the limit", hostile=True)
