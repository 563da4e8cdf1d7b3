"""Read a web page (HTML5 or XHTML) that is one file, by the handlers of EPUB content.

A page that is well-formed XML is read as XML.  Any other is read by an HTML parser, as unclosed
and unquoted markup is normal there; its text is then compared with the file's, sign by sign.
"""

from __future__ import annotations

import re

from lxml import etree

from ..document.nodes import Document, Meta
from ..errors import SourceError
from ..findings import Findings
from ..settings import Settings
from .container import Source
from .loose import check_size, metadata, read_loose, words_of
from .markup import MarkupError, parse_xml
from .plans import TYPE, local_name
from .repair import decode, lost_text, parse_content, parse_html
from .sniff import refuse_other

_XHTML = re.compile(rb"<\?xml|<html[^>]{0,2000}\sxmlns\s*=", re.IGNORECASE)
_LANG = "{http://www.w3.org/XML/1998/namespace}lang"
_NAME = re.compile(r"[A-Za-z_][A-Za-z0-9_.-]*")
_NOT_NAME = re.compile(r"[^A-Za-z0-9_.-]")
_FURNITURE = ("nav", "header", "footer", "aside")
_SPACES = {
    "math": "http://www.w3.org/1998/Math/MathML",
    "svg": "http://www.w3.org/2000/svg",
}


def read(source: Source, settings: Settings, findings: Findings) -> Document:
    """A web page.  Raises SourceError if the file is of another kind, hostile or without text."""
    check_size(source)
    if refusal := refuse_other(source.name, source.data):
        raise refusal
    return read_page(source, findings)


def read_page(source: Source, findings: Findings) -> Document:
    """A file known to be a web page."""
    try:
        root = parse_page(source.data, source.name, findings)
    except MarkupError as error:
        raise SourceError(
            f"{source.name} cannot be read: it {error.what}.",
            "Check where the file comes from, or save the page again.",
        ) from None
    _mark_furniture(root)
    return read_loose(source, root, page_meta(root), findings)


def parse_page(data: bytes, part: str, findings: Findings) -> etree._Element:
    """The root of a web page.  Raises MarkupError if it must be refused."""
    try:
        return parse_xml(data)
    except MarkupError as error:
        if error.hostile:
            raise
    if _XHTML.search(data, 0, 4096):
        return parse_content(data, part, findings)
    text = decode(data, part, findings)
    root = parse_html(text)
    if root is None or lost_text(text, root):
        return parse_content(data, part, findings)
    for name, space in _SPACES.items():
        for element in list(root.iter(name)):
            for inner in list(element.iter("*")):
                _make_xml(inner, space)
    return root


def _make_xml(element: etree._Element, space: str) -> None:
    """Give an element of a formula or drawing its namespace, and names that XML allows."""
    name = _NOT_NAME.sub("_", local_name(str(element.tag)))
    element.tag = f"{{{space}}}{name if name[0].isalpha() else '_' + name}"
    for key in list(element.attrib):
        if not _NAME.fullmatch(str(key)):
            del element.attrib[key]


def _mark_furniture(root: etree._Element) -> None:
    """Where a page says what its main matter is, menus and the like outside it are not print."""
    main = next((e for e in root.iter("*") if _is_main(e)), None)
    if main is None:
        return
    inside = set(main.iter("*"))
    around = set(main.iterancestors())
    for element in root.iter("*"):
        if element in inside or element in around:
            continue
        if local_name(str(element.tag)) in _FURNITURE:
            element.set(TYPE, "site-furniture")


def _is_main(element: etree._Element) -> bool:
    return local_name(str(element.tag)) == "main" or element.get("role") == "main"


def page_meta(root: etree._Element) -> Meta:
    """Title, authors, date and language as the head of the page gives them."""
    language = root.get(_LANG) or root.get("lang") or ""
    return Meta(
        title=words_of(_title(root)),
        authors=metadata(root, "author", "dc.creator", "dcterms.creator"),
        publisher=next(iter(metadata(root, "dc.publisher", "dcterms.publisher")), ""),
        date=next(iter(metadata(root, "date", "dc.date", "dcterms.date")), ""),
        language=language or next(iter(metadata(root, "dc.language")), ""),
    )


def _title(root: etree._Element) -> etree._Element | None:
    """The first title that is no drawing's, in the head or where a head was left out."""
    titles = root.iter("{*}title", "title")
    return next((e for e in titles if not any(_is_svg(up) for up in e.iterancestors())), None)


def _is_svg(element: etree._Element) -> bool:
    return local_name(str(element.tag)) == "svg"
