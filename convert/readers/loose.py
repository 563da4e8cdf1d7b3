"""A source that is one file of markup, seen as a package of one part.

Nothing beside the file is opened: style sheets it names are told as unread, pictures keep the
name the file gives them.
"""

from __future__ import annotations

from lxml import etree

from ..document.nodes import Document, Meta
from ..errors import SourceError
from ..findings import Findings
from .container import Source
from .epub import document_of
from .limits import LIMITS, MIB
from .opf import Book
from .plans import local_name


class OnePart:
    """The parts of a source that is one file."""

    __slots__ = ("_data", "_root", "names")

    def __init__(self, name: str, data: bytes, root: etree._Element) -> None:
        self.names = (name,)
        self._data = data
        self._root = root

    def find(self, name: str) -> str | None:
        """The file itself under its own name, and nothing else."""
        return name if name in self.names else None

    def read(self, name: str) -> bytes:
        """The bytes of the file."""
        return self._data if name in self.names else b""

    def xml(self, name: str) -> etree._Element:
        """The root of the file."""
        return self._root


def check_size(source: Source) -> None:
    """Raises SourceError where one file of markup is beyond the limit."""
    if len(source.data) > LIMITS.markup:
        raise SourceError(
            f"{source.name} has {len(source.data) // MIB} MiB, more than the limit of "
            f"{LIMITS.markup // MIB} MiB for one file of markup.",
            "Split the document.",
        )


def read_loose(source: Source, root: etree._Element, meta: Meta, findings: Findings) -> Document:
    """The document of a file of markup.  Raises SourceError if it holds no text."""
    name = source.name
    package = OnePart(name, source.data, root)
    book = Book(package, "", {}, [], meta, parts=frozenset((name,)))
    _tell_sheets(root, findings)
    return document_of(book, {name: root}, name, findings)


def _tell_sheets(root: etree._Element, findings: Findings) -> None:
    for link in root.iter("{*}link"):
        if "stylesheet" in link.get("rel", "").lower().split():
            findings.add("read.style-unread", part=link.get("href") or "without a name")


def words_of(element: etree._Element | None) -> str:
    """The text of an element, white space collapsed."""
    if element is None:
        return ""
    return " ".join("".join(str(text) for text in element.itertext()).split())


def metadata(root: etree._Element, *names: str) -> tuple[str, ...]:
    """What ``meta`` elements say under one of these names (case aside), in order, each once."""
    wanted = {name.lower() for name in names}
    found = [
        " ".join(meta.get("content", "").split())
        for meta in root.iter("{*}meta")
        if meta.get("name", "").lower() in wanted
    ]
    return tuple(dict.fromkeys(words for words in found if words))


def first_of(root: etree._Element, name: str) -> etree._Element | None:
    """The first element of this local name."""
    return next((e for e in root.iter("*") if local_name(str(e.tag)) == name), None)
