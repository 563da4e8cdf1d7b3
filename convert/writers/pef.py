"""PEF 1.0 (Portable Embosser Format, public draft of 12 September 2011): page images in XML.

One section a volume: a section would begin on a fresh sheet, and the pages already stand in
the order they are to be embossed.  No date is written, as the same recipe gives the same bytes.
"""

from __future__ import annotations

import re
import uuid
from pathlib import Path

from lxml import etree

from ..edition import Edition
from .cellfile import checked_pages
from .names import file_stem

PEF = "http://www.daisy.org/ns/2008/pef"
DC = "http://purl.org/dc/elements/1.1/"
FORMAT = "application/x-pef+xml"
# Characters XML 1.0 cannot hold.
_UNFIT = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def write_pef(edition: Edition, folder: Path) -> list[Path]:
    """Write ``<stem>.pef``, all volumes in one file; returns its path.

    Raises Bug if a page holds anything but six-dot cells.
    """
    root = etree.Element(_pef("pef"), {"version": "2008-1"}, nsmap={None: PEF})
    _head(etree.SubElement(root, _pef("head")), edition)
    body = etree.SubElement(root, _pef("body"))
    cols, rows = str(edition.book.cells), str(edition.book.lines)
    size = {"cols": cols, "rows": rows, "rowgap": "0", "duplex": "true"}
    for volume in edition.volumes:
        whole = etree.SubElement(body, _pef("volume"), size)
        section = etree.SubElement(whole, _pef("section"))
        for lines in checked_pages(volume):
            page = etree.SubElement(section, _pef("page"))
            for line in lines:
                etree.SubElement(page, _ROW).text = line or None
    path = folder / f"{file_stem(edition)}.pef"
    path.write_bytes(etree.tostring(root, encoding="UTF-8", xml_declaration=True) + b"\n")
    return [path]


def _pef(name: str) -> str:
    return f"{{{PEF}}}{name}"


_ROW = _pef("row")


def _head(head: etree._Element, edition: Edition) -> None:
    """What the schema requires (format, identifier) and what the source says of itself."""
    meta = etree.SubElement(head, _pef("meta"), nsmap={"dc": DC})
    about = edition.document.meta
    rows = [
        ("format", FORMAT),
        ("identifier", _identifier(edition)),
        ("title", about.title),
        *[("creator", author) for author in about.authors],
        ("publisher", about.publisher),
        ("language", about.language),
        ("source", about.isbn),
        ("rights", about.rights),
    ]
    for name, text in rows:
        if text := " ".join(_UNFIT.sub("", text).split()):
            etree.SubElement(meta, f"{{{DC}}}{name}").text = text


def _identifier(edition: Edition) -> str:
    """A URN that is the same whenever the recipe is the same."""
    digest = str(edition.recipe.get("digest") or edition.source)
    return uuid.uuid5(uuid.NAMESPACE_URL, f"cellset:{digest}").urn
