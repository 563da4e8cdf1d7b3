"""A second opinion on packages: EbookLib writes books we read, and reads books we read.

EbookLib is AGPL: a development tool here, never a part of the program (docs/limits.md).
"""

from __future__ import annotations

import warnings
from pathlib import Path

import pytest
from ebooklib import ITEM_DOCUMENT, epub
from lxml import etree

import convert
from convert.document.nodes import Heading, walk

from ..conftest import CORPORA

ROWS = ["The ferry leaves at nine.", "It returns at noon.", "Nobody swims here."]


def test_a_book_another_library_wrote(tmp_path: Path) -> None:
    book = epub.EpubBook()
    book.set_identifier("ferry")
    book.set_title("The Ferry")
    book.add_author("Ida Marsh")
    chapters = []
    for number, row in enumerate(ROWS, 1):
        chapter = epub.EpubHtml(title=f"Part {number}", file_name=f"part{number}.xhtml")
        chapter.content = f"<h1>Part {number}</h1><p>{row}</p>"
        book.add_item(chapter)
        chapters.append(chapter)
    book.toc = tuple(chapters)
    book.add_item(epub.EpubNcx())
    book.add_item(epub.EpubNav())
    book.spine = list(reversed(chapters))
    path = tmp_path / "ferry.epub"
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        epub.write_epub(str(path), book)
    document = convert.read(path)
    assert document.meta.title == "The Ferry"
    assert document.meta.authors == ("Ida Marsh",)
    headings = [node for node in walk(document) if isinstance(node, Heading)]
    assert len(headings) == len(ROWS)
    assert [document.ledger.text.index(row) for row in reversed(ROWS)] == sorted(
        document.ledger.text.index(row) for row in ROWS
    )


@pytest.mark.slow
@pytest.mark.skipif(not CORPORA.exists(), reason="the corpus is not beside this checkout")
@pytest.mark.parametrize(
    "name", ["se-edwin-a-abbott-flatland", "se-ambrose-bierce-the-devils-dictionary"]
)
def test_the_spine_is_the_same_by_both(name: str) -> None:
    path = CORPORA / "dev" / f"{name}.epub"
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        theirs = epub.read_epub(str(path))
    ids = [idref for idref, _ in theirs.spine]
    items = [theirs.get_item_with_id(idref) for idref in ids]
    documents = [item for item in items if item.get_type() == ITEM_DOCUMENT]
    wanted = []
    for item in documents:
        body = etree.fromstring(item.content).find("{*}body")
        wanted += "".join(body.itertext()).split() if body is not None else []
    ledger = convert.read(path).ledger
    ours = "".join(ledger.text[p.start : p.end] for p in ledger.pieces if p.kind == "print")
    assert "".join(ours.split()) == "".join(wanted)
