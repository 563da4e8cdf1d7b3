"""Read DTBook: one ``.xml`` file, or a ZIP of a file set with its package document.

Source: ANSI/NISO Z39.86-2005 (DTD 2005-2), the structure of the US national file sets for
textbooks (NIMAS 1.1).
"""

from __future__ import annotations

from lxml import etree

from ..document.nodes import Document, Meta
from ..errors import SourceError
from ..findings import Findings
from ..settings import Settings
from .container import Package, Source
from .dtbook_markup import parse_dtbook
from .epub import document_of
from .html import read_page
from .loose import check_size, first_of, metadata, read_loose, words_of
from .markup import MarkupError
from .opf import DTBOOK, Book, find_opf, manifest, read_meta
from .plans import local_name
from .sniff import refuse_other

_NEXT = "Ask the publisher for the DTBook file of the book, or for an EPUB."
_DC_OLD = "{http://purl.org/dc/elements/1.0/}"
_DC = "{http://purl.org/dc/elements/1.1/}"


def read(source: Source, settings: Settings, findings: Findings) -> Document:
    """A DTBook or XHTML file ending in ``.xml``.  Raises SourceError for any other XML."""
    check_size(source)
    if refusal := refuse_other(source.name, source.data):
        raise refusal
    root = _parse(source.data, source.name, source.name, findings)
    kind = local_name(str(root.tag))
    if kind == "html" and first_of(root, "dtbook") is None:
        return read_page(source, findings)
    if not _is_dtbook(root):
        raise SourceError(f"{source.name} is XML of the kind “{kind[:40]}”, not DTBook.", _NEXT)
    return read_loose(source, root, head_meta(root), findings)


def read_zip(source: Source, settings: Settings, findings: Findings) -> Document:
    """A ZIP that holds DTBook.  Raises SourceError if it holds none."""
    package = source.package()
    for name in package.doubled:
        findings.add("read.doubled-entry", part=name)
    names, meta = _listed(package, source.name, findings)
    roots = {}
    for name in names:
        root = _parse(package.read(name), name, source.name, findings)
        if _is_dtbook(root):
            roots[name] = root
    if not roots:
        raise SourceError(f"{source.name} is a ZIP archive without DTBook inside.", _NEXT)
    if not meta.title:
        meta = head_meta(next(iter(roots.values())))
    book = Book(package, "", {}, [], meta, parts=frozenset(roots))
    return document_of(book, roots, source.name, findings)


def _listed(package: Package, source: str, findings: Findings) -> tuple[list[str], Meta]:
    """The parts to read in their order, and what the package document says of the book."""
    opfs = [name for name in package.names if name.lower().endswith(".opf")]
    if not opfs:
        return [name for name in package.names if name.lower().endswith(".xml")], Meta()
    opf = opfs[0] if len(opfs) == 1 else find_opf(package, source, findings)
    root = package.xml(opf)
    for element in root.iter(f"{_DC}*", f"{_DC_OLD}*"):
        element.tag = _DC + local_name(str(element.tag))  # dc:Title in older packages
    items = manifest(package, opf, root)
    books = {key: item for key, item in items.items() if item.name and _may_be(item.media, item)}
    order = [ref.get("idref", "") for ref in root.iter("{*}itemref")]
    chosen = [key for key in dict.fromkeys(order) if key in books] or list(books)
    return list(dict.fromkeys(books[key].name for key in chosen)), read_meta(root)


def _may_be(media: str, item: object) -> bool:
    name = getattr(item, "name", "").lower()
    return media == DTBOOK or (media in ("text/xml", "application/xml") and name.endswith(".xml"))


def _parse(data: bytes, part: str, source: str, findings: Findings) -> etree._Element:
    try:
        return parse_dtbook(data, part, findings)
    except MarkupError as error:
        which = "It" if part == source else f"The part {part} of {source}"
        raise SourceError(
            f"{source} cannot be read: {which.lower() if part == source else which} {error.what}.",
            "Check where the file comes from, or ask the publisher for a repaired one.",
        ) from None


def _is_dtbook(root: etree._Element) -> bool:
    """Whether the root is DTBook's (``dtbook3`` in the first edition), or a part of one is all
    there is after a repair."""
    named = local_name(str(root.tag)) in ("book", "dtbook3")
    return named or first_of(root, "dtbook") is not None


def head_meta(root: etree._Element) -> Meta:
    """Title, authors, publisher and the like from the head, else from the title matter."""
    titles = metadata(root, "dc:Title")
    authors = metadata(root, "dc:Creator")
    if not authors:
        rows = (e for e in root.iter("*") if local_name(str(e.tag)) == "docauthor")
        authors = tuple(words for e in rows if (words := words_of(e)))
    language = metadata(root, "dc:Language")
    html = first_of(root, "dtbook")
    given = "" if html is None else html.get("{http://www.w3.org/XML/1998/namespace}lang", "")
    isbn = [word for word in metadata(root, "dc:Source", "dc:Identifier") if _is_isbn(word)]
    return Meta(
        title=next(iter(titles), "") or words_of(first_of(root, "doctitle")),
        authors=authors,
        publisher=next(iter(metadata(root, "dc:Publisher", "dtb:sourcePublisher")), ""),
        date=next(iter(metadata(root, "dc:Date", "dtb:sourceDate")), ""),
        isbn=next(iter(isbn), ""),
        language=next(iter(language), given),
        rights=next(iter(metadata(root, "dc:Rights", "dtb:sourceRights")), ""),
    )


def _is_isbn(words: str) -> bool:
    digits = [char for char in words if char.isdigit()]
    return "isbn" in words.lower() or (len(digits) == 13 and words.strip().startswith("97"))
