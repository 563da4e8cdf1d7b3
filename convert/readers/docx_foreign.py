"""Web pages inside a Word document (``w:altChunk``), read by the handlers of EPUB content."""

from __future__ import annotations

from typing import Any

from lxml import etree

from ..document.nodes import Block, Meta
from ..errors import SourceError
from .docx_names import R
from .docx_walk import Walk
from .limits import MIB
from .loose import OnePart
from .markup import MarkupError
from .opf import Book

_PAGES = ("htm", "html", "xhtml")
_LARGEST = 4 * MIB


def foreign(walk: Walk, element: etree._Element, path: str, entries: list[Any]) -> None:
    """``w:altChunk``: text in a file of another kind inside the package."""
    link = walk.parts.links(walk.line.part).get(element.get(f"{R}id", ""))
    start = walk.ledger.length
    name = link.target if link is not None else "without a name"
    read = read_chunk(walk, name) if link is not None and not link.external else None
    kind = "docx.foreign-text" if read is None else "docx.foreign-page"
    walk.findings.add(kind, (start, walk.ledger.length), part=name)
    entries.extend(read or ())


def read_chunk(walk: Walk, name: str) -> list[Block] | None:
    """The blocks of a web page in the package, once; ``None`` where it is none that can be read."""
    walk.tally[f"page {name}"] += 1
    if name.rsplit(".", 1)[-1].lower() not in _PAGES or walk.tally[f"page {name}"] > 1:
        return None
    from .epub import read_roots
    from .html import parse_page

    try:
        data = walk.parts.bytes(name)
        if data is None or len(data) > _LARGEST:
            return None
        root = parse_page(data, name, walk.findings)
    except (MarkupError, SourceError):
        return None
    meta = Meta(language=walk.styles.base_lang)
    book = Book(OnePart(name, data, root), "", {}, [], meta, parts=frozenset((name,)))
    walk.ledger.end_block()
    walker, _, children = read_roots(book, {name: root}, walk.ledger, walk.findings)
    walk.line.omissions.extend(walker.omissions)
    walk.ledger.end_block()
    return children
