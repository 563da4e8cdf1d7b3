"""Promises that hold for any EPUB: nothing skipped, addresses unique, no fault escapes."""

from __future__ import annotations

import re
import sys
import typing
from collections import Counter
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lxml import etree

from convert.document import nodes
from convert.document.nodes import Document
from convert.errors import SourceError
from convert.findings import Findings
from convert.readers.container import open_source
from convert.readers.epub import read
from convert.settings import Settings

from ..conftest import CORPORA
from .make import epub, page, read_epub

TAGS = """p div span b i em section aside blockquote ul ol li dl dt dd table tr td th thead tfoot
caption figure figcaption h1 h2 br hr pre q a cite ruby rt svg math details summary nav footer x-y
object select option textarea form label hgroup code sup img input col""".split()  # noqa: SIM905
ATTRIBUTES = [
    "", "class='poem'", "class='stanza'", "epub:type='footnote' id='n'",
    "epub:type='noteref' href='#n'",
    "epub:type='pagebreak' title='3'", "hidden=''", "class='line i2'", "epub:type='z3998:persona'",
    "epub:type='z3998:drama'", "class='exercise'", "epub:type='endnotes'", "role='presentation'",
    "style='display:block'", "style='text-transform:uppercase'", "epub:type='glossary'",
    "lang='fr'",
    "style='white-space:pre'", "class='title'", "epub:type='toc'", "rowspan='0'",
    "role='doc-backlink'",
]  # fmt: skip
WORDS = st.text("ab \n\t\u00a0é", min_size=1, max_size=8)


@st.composite
def bodies(draw: st.DrawFn) -> str:
    """Random but well-formed content."""
    out: list[str] = []
    open_tags: list[str] = []
    for _ in range(draw(st.integers(1, 30))):
        what = draw(st.integers(0, 3))
        if what == 0 and open_tags:
            out.append(f"</{open_tags.pop()}>")
        elif what == 1:
            out.append(draw(WORDS))
        else:
            tag = draw(st.sampled_from(TAGS))
            out.append(f"<{tag} {draw(st.sampled_from(ATTRIBUTES))}>")
            open_tags.append(tag)
    return "".join(out) + "".join(f"</{tag}>" for tag in reversed(open_tags))


def printed(document: Document) -> Counter[str]:
    """Characters of the ledger that stand in the file as text."""
    text = document.ledger.text
    return Counter(
        "".join(
            "".join(text[p.start : p.end].split())
            for p in document.ledger.pieces
            if p.kind == "print"
        ).lower()
    )


def spans(document: Document) -> list[tuple[int, int]]:
    """Every span the tree and the omissions hold."""
    found = [(o.start, o.end) for o in document.omissions]
    for child in document.children:
        for node in nodes.walk(child):
            found += [
                (run.start, run.end)
                for run in nodes.inlines_of(node)
                if hasattr(run, "start") and run.end > run.start
            ]
            if isinstance(node, nodes.DisplayMath):
                found.append((node.start, node.end))
    return sorted(found)


BLOCKS = typing.get_args(nodes.Block)
INSIDE: dict[type, tuple[type, ...]] = {
    nodes.ListBlock: (nodes.ListItem, nodes.PrintPage),
    nodes.Verse: (nodes.VerseLine, nodes.PrintPage),
    nodes.Table: (nodes.TableRow, nodes.PrintPage),
}


def check(document: Document) -> None:
    """All print is in the tree or an omission, once; every address is there once; types hold."""
    text = document.ledger.text
    covered = bytearray(len(text))
    for start, end in spans(document):
        assert not any(covered[start:end]), text[start:end]
        covered[start:end] = b"\1" * (end - start)
    left = "".join(char for at, char in enumerate(text) if not covered[at])
    assert not left.strip(" \n"), left
    for child in document.children:
        for node in nodes.walk(child):
            allowed = INSIDE.get(type(node), BLOCKS)
            assert all(isinstance(kid, allowed) for kid in getattr(node, "children", ())), node
    addresses = [
        node.address
        for child in document.children
        for node in nodes.walk(child)
        if hasattr(node, "address")
    ]
    assert all(addresses)
    assert len(addresses) == len(set(addresses))


@settings(max_examples=150)
@given(body=bodies(), sheet=st.sampled_from(["", "p + p {display: none}", "b {display: block}"]))
def test_random_content(tmp_path_factory: pytest.TempPathFactory, body: str, sheet: str) -> None:
    folder = tmp_path_factory.mktemp("random")
    source = page(f"<p>z</p>{body}", f"<style>{sheet}</style>")
    document = read_epub(epub(folder, source))
    check(document)
    root = etree.fromstring(source.encode())
    wanted = Counter("".join("".join(map(str, root[1].itertext())).split()).lower())
    assert printed(document) == wanted


def test_the_recursion_limit_is_never_near(tmp_path: Path) -> None:
    deep = "<div><blockquote><ul><li><table><tr><td>" * 30
    close = "</td></tr></table></li></ul></blockquote></div>" * 30
    limit = sys.getrecursionlimit()
    sys.setrecursionlimit(700)
    try:
        check(read_epub(epub(tmp_path, f"{deep}<p>sea</p>{close}")))
    finally:
        sys.setrecursionlimit(limit)


# ---------------------------------------------------------------- documents written by others

BOOKS = sorted(CORPORA.glob("dev/*.epub"))
HOSTILE = sorted(CORPORA.glob("hostile/*.epub"))
needs_corpus = pytest.mark.skipif(not BOOKS, reason="the corpus of documents is not here")
_SPAN = re.compile("\u27e6(?:math|alt): ?[^\u27e7]*\u27e7|\\[\\d{1,4}\\]")
_MARK = re.compile(
    r"^[ \t]*(?:[-*•▪◦]|\(?(?:\d{1,4}|[A-Za-z]|[ivxlcdm]{1,7})[.)])[ \t]+", re.M | re.I
)
_WORD = re.compile(r"[^\W_]+")


def bag(text: str) -> Counter[str]:
    text = text.replace("\u00ad", "").replace("\u2060", "").replace("\u200b", "").casefold()
    return Counter(_WORD.findall(text))


@needs_corpus
@pytest.mark.slow
@pytest.mark.parametrize("path", BOOKS, ids=lambda p: p.stem)
def test_books_are_read_whole(path: Path) -> None:
    """At least 99.5 % of the words another program finds, each print character once."""
    document = read(open_source(path), Settings(), Findings())
    check(document)
    reference = path.with_name(path.stem + ".ref.txt")
    if reference.exists():
        wanted = bag(_MARK.sub("", _SPAN.sub(" ", reference.read_text("utf-8"))))
        lost = wanted - bag(document.ledger.text)
        assert lost.total() <= 0.005 * wanted.total(), lost.most_common(10)


@needs_corpus
@pytest.mark.slow
@pytest.mark.parametrize("path", HOSTILE, ids=lambda p: p.stem)
def test_hostile_books_are_read_or_refused(path: Path) -> None:
    said = None
    try:
        check(read(open_source(path), Settings(), Findings()))
    except SourceError as error:
        said = error
    assert said is None or (said.step and path.name in str(said))
