"""The package of an eBraille file: metadata, manifest, spine, navigation, and the ZIP file."""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Sequence
from importlib import resources

from lxml import etree

from ...errors import Bug
from .content import STYLE, XML, Content, shell, tag, words
from .facts import FORMAT, Facts

OPF = "http://www.idpf.org/2007/opf"
DC = "http://purl.org/dc/elements/1.1/"
EPUB = "http://www.idpf.org/2007/ops"
CONTAINER = "urn:oasis:names:tc:opendocument:xmlns:container"
MIMETYPE = "application/epub+zip"
PAGE = "application/xhtml+xml"
FOLDER = "ebraille"
# Text of documents: six-dot cells and white space (eBraille 1.0, 6.2.1).
_FIT = re.compile("[\u2800-\u283f \n]*")
_UNFIT = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_FIRST_DATE = (1980, 1, 1, 0, 0, 0)


def pack(facts: Facts, contents: Sequence[Content]) -> bytes:
    """The bytes of the file.  Raises Bug if a document holds more than six-dot cells."""
    for content in contents:
        _check(content)
    files = {
        "META-INF/container.xml": _text(_container()),
        "package.opf": _text(_package(facts, contents)),
        "index.html": _page(_navigation(facts, contents)),
        f"{FOLDER}/{STYLE}": resources.files(__package__).joinpath(STYLE).read_bytes(),
    }
    files |= {f"{FOLDER}/{content.name}": _page(content.root) for content in contents}
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as file:
        file.writestr(_entry("mimetype", zipfile.ZIP_STORED), MIMETYPE)
        for name, data in files.items():
            file.writestr(_entry(name, zipfile.ZIP_DEFLATED), data)
    return out.getvalue()


def _entry(name: str, how: int) -> zipfile.ZipInfo:
    """An entry with a fixed date: the same edition gives the same bytes."""
    entry = zipfile.ZipInfo(name, _FIRST_DATE)
    entry.compress_type = how
    entry.external_attr = 0o644 << 16
    entry.create_system = 3
    return entry


def _check(content: Content) -> None:
    for text in content.root[1].itertext():
        if not _FIT.fullmatch(text):
            raise Bug(f"{content.name} of the eBraille file would hold “{text[:40]}”.")


def _text(root: etree._Element) -> bytes:
    return etree.tostring(root, encoding="UTF-8", xml_declaration=True) + b"\n"


def _page(root: etree._Element) -> bytes:
    return (
        etree.tostring(root, encoding="UTF-8", xml_declaration=True, doctype="<!DOCTYPE html>")
        + b"\n"
    )


def _container() -> etree._Element:
    root = etree.Element(f"{{{CONTAINER}}}container", {"version": "1.0"}, nsmap={None: CONTAINER})
    files = etree.SubElement(root, f"{{{CONTAINER}}}rootfiles")
    kind = "application/oebps-package+xml"
    etree.SubElement(
        files, f"{{{CONTAINER}}}rootfile", {"full-path": "package.opf", "media-type": kind}
    )
    return root


# ---------------------------------------------------------------- package.opf


def _package(facts: Facts, contents: Sequence[Content]) -> etree._Element:
    opf = f"{{{OPF}}}"
    root = etree.Element(
        f"{opf}package", {"version": "3.0", "unique-identifier": "uid"}, nsmap={None: OPF}
    )
    root.set(f"{{{XML}}}lang", facts.language.partition("-")[0])
    _metadata(etree.SubElement(root, f"{opf}metadata", nsmap={"dc": DC}), facts)
    manifest = etree.SubElement(root, f"{opf}manifest")
    spine = etree.SubElement(root, f"{opf}spine")
    item = f"{opf}item"
    nav = {"id": "nav", "href": "index.html", "media-type": PAGE, "properties": "nav"}
    etree.SubElement(manifest, item, nav)
    style = {"id": "style", "href": f"{FOLDER}/{STYLE}", "media-type": "text/css"}
    etree.SubElement(manifest, item, style)
    for number, content in enumerate(contents, 1):
        row = {"id": f"c{number}", "href": f"{FOLDER}/{content.name}", "media-type": PAGE}
        etree.SubElement(manifest, item, row)
        etree.SubElement(spine, f"{opf}itemref", {"idref": f"c{number}"})
    return root


def _metadata(into: etree._Element, facts: Facts) -> None:
    """The thirteen values the format requires (5.3.3), and what else the source says (5.3.4)."""
    core = [
        ("identifier", facts.identifier),
        ("title", facts.title),
        *(("creator", name) for name in facts.creators),
        ("format", FORMAT),
        ("language", facts.language),
        ("date", facts.date),
        ("source", facts.source),
        ("publisher", facts.publisher),
        ("rights", facts.rights),
    ]
    for name, text in core:
        if text := " ".join(_UNFIT.sub("", text).split()):
            etree.SubElement(into, f"{{{DC}}}{name}").text = text
    into[0].set("id", "uid")
    more = [
        ("dcterms:modified", f"{facts.date}T00:00:00Z"),
        ("dcterms:dateCopyrighted", facts.copyrighted),
        ("a11y:brailleCellType", "6"),
        *(("a11y:brailleSystem", system) for system in facts.systems),
        ("a11y:completeTranscription", "true" if facts.complete else "false"),
        ("a11y:producer", facts.producer),
        ("a11y:tactileGraphics", "none"),
    ]
    for name, text in more:
        etree.SubElement(into, f"{{{OPF}}}meta", {"property": name}).text = text


# ---------------------------------------------------------------- index.html


def _navigation(facts: Facts, contents: Sequence[Content]) -> etree._Element:
    """The primary entry page: headings and print pages (eBraille 1.0, section 8)."""
    root, body = shell(facts.language, words(facts.title_cells), None)
    link = {"rel": "publication", "href": "package.opf", "type": "application/oebps-package+xml"}
    etree.SubElement(root[0], tag("link"), link)
    toc = _nav(body, "toc", facts)
    stack: list[tuple[int, etree._Element]] = [(0, etree.SubElement(toc, tag("ol")))]
    for content in contents:
        for level, cells, anchor in content.headings:
            while stack[-1][0] >= level:
                stack.pop()
            above = stack[-1][1]
            items = above if above.tag == tag("ol") else _inner(above)
            item = etree.SubElement(items, tag("li"))
            _link(item, content, anchor, cells)
            stack.append((level, item))
    pages = [(content, *page) for content in contents for page in content.pages]
    if pages:
        listed = etree.SubElement(_nav(body, "page-list", facts), tag("ol"))
        for content, label, anchor in pages:
            cells = content.root.xpath("string(//*[@id=$name])", name=anchor)
            entry = _link(etree.SubElement(listed, tag("li")), content, anchor, str(cells))
            entry.set("title", label)
    return root


def _inner(item: etree._Element) -> etree._Element:
    """The list inside an item."""
    last = item[-1]
    return last if last.tag == tag("ol") else etree.SubElement(item, tag("ol"))


def _nav(body: etree._Element, kind: str, facts: Facts) -> etree._Element:
    role = {"toc": "doc-toc", "page-list": "doc-pagelist"}[kind]
    nav = etree.SubElement(body, tag("nav"), {"role": role}, nsmap={"epub": EPUB})
    nav.set(f"{{{EPUB}}}type", kind)
    etree.SubElement(nav, tag("h2")).text = words(facts.headings[kind])
    return nav


def _link(into: etree._Element, content: Content, anchor: str, cells: str) -> etree._Element:
    link = etree.SubElement(into, tag("a"), {"href": f"{FOLDER}/{content.name}#{anchor}"})
    link.text = words(cells)
    return link
