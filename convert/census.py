"""A second, simpler look at the source: are all its characters in the ledger?

The readers build the ledger; if one skipped a text node, nothing later could tell.  So this
module takes the plain text of every content part straight from the XML, with no knowledge of
structure, and compares it with the ledger's pieces of that part.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterator
from functools import partial
from html.parser import HTMLParser
from io import BytesIO
from posixpath import dirname, join, normpath
from typing import NamedTuple
from urllib.parse import unquote

from lxml import etree

from .document.ledger import BREAK, PRINT, Ledger
from .errors import SourceError
from .findings import Findings, Span
from .readers.container import Package, Source
from .readers.docx_names import to_transitional
from .readers.markup import MarkupError, parse_xml

_SKIP = {"script", "style", "head", "template", "annotation", "annotation-xml"}
_W = "{http://schemas.openxmlformats.org/wordprocessingml/2006/main}"
_M = "{http://schemas.openxmlformats.org/officeDocument/2006/math}"
_MC = "{http://schemas.openxmlformats.org/markup-compatibility/2006}"
_SYMBOL_FONTS = ("symbol", "wingdings", "webdings", "mt extra")
# Signs in lower-case markup that runs may be struck, twins of others, or glyphs.
_UNPLAIN = (
    *(quote + name.encode() for name in _SYMBOL_FONTS for quote in (b'"', b"'")),
    *(b":del", b"<del", b":movefrom", b"<movefrom", b":fallback", b"<fallback"),
    *(b'"separator', b"'separator", b'"continuations', b"'continuations", b"&#xf0", b"&#61"),
    *(b"\xef\x80", b"\xef\x81", b"\xef\x82", b"\xef\x83"),
)
_PRIVATE = re.compile("[\uf000-\uf0ff]")  # codes of symbol fonts
_STRETCH = 4_000_000
_RUN_TEXT = re.compile(rb"<[wm]:t(?:\s[^>]*)?>([^<]*)")
_REFERENCES = (
    *((b"&lt;", b"<"), (b"&gt;", b">"), (b"&quot;", b'"'), (b"&#34;", b'"')),
    *((b"&apos;", b"'"), (b"&#39;", b"'"), (b"&#x27;", b"'")),
)
_WHITE = b" \t\n\v\f\r\x1c\x1d\x1e\x1f"
WORD_SUFFIXES = frozenset({"docx", "docm", "dotx", "dotm"})
PAGE_SUFFIXES = frozenset({"html", "htm", "xhtml", "xml"})
_DOCTYPE = re.compile(
    rb"<!DOCTYPE[^\[>]{0,2000}(?:\[.{0,65536}?\]\s*)?>", re.IGNORECASE | re.DOTALL
)


def census(source: Source, suffix: str, ledger: Ledger, findings: Findings) -> int:
    """File ``print.not-read`` for each part with characters the ledger lacks; return how many.

    A part whose XML cannot be parsed here is the reader's to repair and to report; it is left
    to the reader's own character-for-character check.
    """
    if suffix == "epub":
        parts = _epub_parts(source.package())
    elif suffix in WORD_SUFFIXES:
        parts = _word_parts(source.package(), ledger.pieces.parts())
    elif suffix in PAGE_SUFFIXES:
        parts = _page_parts(source)
    elif suffix == "zip":
        parts = _dtbook_parts(source.package())
    else:
        findings.add("print.no-census", suffix=suffix)
        return 0
    stretches = _printed(ledger)
    missing = 0
    for part in parts:
        spans = stretches.get(part.name, [])
        if part.quick is not None and _same(part.quick, spans, ledger.text):
            continue
        try:
            words = part.words()
        except (SourceError, etree.XMLSyntaxError):
            continue
        got = " ".join(
            ledger.text[start:end]
            for start, end, name, kind in ledger.pieces.origins()
            if kind == PRINT and name == part.name
        )
        short = _lacking(words, got)
        if short:
            missing += sum(short.values())
            gone = _lacking_words(words, got)
            findings.add("print.not-read", number=sum(short.values()), part=part.name, words=gone)
    return missing


class _Part(NamedTuple):
    """A part with text.  ``quick``: all its text in UTF-8 as a first look gives it, with what no
    reader reads; ``words``: what a careful look says a reader should read."""

    name: str
    quick: bytes | None
    words: Callable[[], str]


def _printed(ledger: Ledger) -> dict[str, list[Span]]:
    """The stretches of the ledger that came from each part, line ends between them included."""
    out: dict[str, list[Span]] = {}
    here, first, last = "", 0, 0
    for start, end, part, kind in ledger.pieces.origins():
        if kind not in (PRINT, BREAK):
            continue
        if part == here and start == last:
            last = end
            continue
        out.setdefault(here, []).append((first, last))
        here, first, last = part, start, end
    out.setdefault(here, []).append((first, last))
    return out


def _same(quick: bytes, spans: list[Span], text: str) -> bool:
    """Whether a part's text and the ledger's stretches agree in all but white space."""
    got = "".join(text[start:end] for start, end in spans).encode("utf-8", "surrogatepass")
    return quick.translate(None, _WHITE) == got.translate(None, _WHITE)


def _lacking(source: str, ledger: str) -> Counter[str]:
    """Characters (white space and case aside) that the ledger has fewer of than the source."""
    wanted, got = "".join(source.split()), "".join(ledger.split())
    if wanted == got:
        return Counter()
    return Counter(wanted.casefold()) - Counter(got.casefold())


def _lacking_words(source: str, ledger: str) -> str:
    gone = Counter(source.split()) - Counter(ledger.split())
    return ", ".join(f"“{word[:30]}”" for word in list(gone)[:5]) or "parts of words"


# ---------------------------------------------------------------- the parts of a package


def _epub_parts(package: Package) -> Iterator[_Part]:
    opf_name = _opf(package)
    if opf_name is None:
        return
    opf = package.xml(opf_name)
    hrefs = {
        item.get("id"): item.get("href", "")
        for item in opf.iter("{*}item")
        if "html" in item.get("media-type", "")
    }
    seen = set()
    for ref in opf.iter("{*}itemref"):
        href = hrefs.get(ref.get("idref"))
        name = package.find(normpath(join(dirname(opf_name), unquote(href)))) if href else None
        if name is None or name in seen:
            continue
        seen.add(name)
        try:
            root = package.xml(name)
        except SourceError:
            continue
        yield _page(name, root)


def _page(name: str, root: etree._Element) -> _Part:
    body = next(root.iter("{*}body"), root)
    quick = etree.tostring(body, method="text", encoding="utf-8", with_tail=False)
    return _Part(name, quick, lambda: " ".join(_html_text(root)))


def _opf(package: Package) -> str | None:
    try:
        container = package.xml("META-INF/container.xml")
        first = next(container.iter("{*}rootfile"), None)
        return package.find(first.get("full-path", "")) if first is not None else None
    except (SourceError, KeyError):
        return next((name for name in package.names if name.endswith(".opf")), None)


def _html_text(root: etree._Element) -> Iterator[str]:
    body = next(root.iter("{*}body"), root)
    skip = {below for e in body.iter("*") if _is_skipped(e) for below in e.iter()}
    for element in body.iter():
        if isinstance(element.tag, str) and element not in skip and element.text:
            yield element.text
        if element is not body and element.tail and element.getparent() not in skip:
            yield element.tail


def _is_skipped(element: etree._Element) -> bool:
    name = etree.QName(element).localname.lower()
    if name.startswith("annotation"):  # a note in the margin elsewhere than in MathML
        above = element.getparent()
        return above is not None and etree.QName(above).localname == "semantics"
    return name in _SKIP or (name == "title" and _names_the_page(element))


def _names_the_page(title: etree._Element) -> bool:
    """Whether a title is that of a web page, wherever it stands: no drawing's, no DTBook's."""
    above = [etree.QName(up).localname.lower() for up in title.iterancestors("*")]
    return above[-1:] == ["html"] and "svg" not in above and not len(title)


def _page_parts(source: Source) -> Iterator[_Part]:
    """The one part of a source that is a file of markup, by another parser where it is no XML."""
    yield _page_part(source.name, source.data)


def _page_part(name: str, data: bytes) -> _Part:
    data = _DOCTYPE.sub(b"", data, count=1)
    try:
        return _page(name, parse_xml(data))
    except MarkupError:
        page = _PageText()
        page.feed(_decoded(data))
        page.close()
        return _Part(name, None, lambda: " ".join(page.found))


def _decoded(data: bytes) -> str:
    wide = {b"\xff\xfe": "utf-16", b"\xfe\xff": "utf-16", b"<\0": "utf-16-le", b"\0<": "utf-16-be"}
    for code in (wide.get(data[:2], "utf-8-sig"), "utf-8-sig", "windows-1252"):
        try:
            return data.decode(code)
        except UnicodeDecodeError:
            continue
    return data.decode("latin-1")


class _PageText(HTMLParser):
    """The text of a web page, elements that show none aside."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.found: list[str] = []
        self._skipping = self._drawings = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self._drawings += tag == "svg"
        self._skipping += self._is_skipped(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        pass

    def handle_endtag(self, tag: str) -> None:
        self._drawings -= tag == "svg" and self._drawings > 0
        self._skipping -= self._is_skipped(tag) and self._skipping > 0

    def _is_skipped(self, tag: str) -> bool:
        return tag in _SKIP or (tag == "title" and not self._drawings)

    def handle_data(self, data: str) -> None:
        if not self._skipping:
            self.found.append(data)


def _dtbook_parts(package: Package) -> Iterator[_Part]:
    for name in package.names:
        if not name.lower().endswith(".xml"):
            continue
        try:
            root = parse_xml(_DOCTYPE.sub(b"", package.read(name), count=1))
        except (MarkupError, SourceError):
            continue
        if etree.QName(root).localname == "dtbook":
            yield _page(name, root)


def _word_parts(package: Package, read: set[str]) -> Iterator[_Part]:
    """The parts with text, and web pages inside the document of which anything was ``read``;
    a page of which nothing was read is told by the reader (``docx.foreign-text``)."""
    for name in package.names:
        leaf = name.rsplit("/", 1)[-1].lower()
        if leaf.rpartition(".")[2] in PAGE_SUFFIXES and leaf[-4:] != ".xml" and name in read:
            yield _page_part(name, package.read(name))
        wanted = leaf in ("document.xml", "footnotes.xml", "endnotes.xml") and "/" in name
        if wanted and "glossary/" not in name:
            try:
                data = _word_bytes(package, name)
                if b"<!DOCTYPE" in data[:20_000]:
                    yield _Part(name, None, str)
                    continue
                quick = _quick_word_text(data)
                del data
                words = partial(_careful_word_text, package, name)
                yield _Part(name, quick, words)
            except (SourceError, etree.XMLSyntaxError):
                continue


def _careful_word_text(package: Package, name: str) -> str:
    return " ".join(_word_text(_word_bytes(package, name)))


def _word_bytes(package: Package, name: str) -> bytes:
    """A part in the names of transitional files (ISO/IEC 29500-4)."""
    data = package.read(name)
    return to_transitional(data) if b"purl.oclc.org" in data[:4000] else data


def _quick_word_text(data: bytes) -> bytes | None:
    """The text of all runs, straight from the bytes; ``None`` where these are no plain guide."""
    for prefix, space in ((b"w", _W), (b"m", _M)):
        bound = b'xmlns:%s="%s"' % (prefix, space[1:-1].encode())
        if data.count(space[1:-1].encode()) != data.count(bound):
            return None  # runs may go by another name
    if b"<![CDATA[" in data:
        return None
    words, at = b"", 0
    while at < len(data):  # by stretches, as a list of all texts takes much room
        end = data.find(b"</w:p>", at + _STRETCH) + 1 or len(data)
        words += b"".join(_RUN_TEXT.findall(data, at, end))
        at = end
    for reference, sign in _REFERENCES:
        words = words.replace(reference, sign)
    if b"&#" in words:
        return None
    return words.replace(b"&amp;", b"&")


def _word_text(data: bytes) -> Iterator[str]:
    """Text runs that print shows: not deleted or moved away, drawings' twins once.

    What stands in the body is let go of block by block, so that memory holds one at a time.
    Where nothing in the part can hide or change a run, none is looked at twice.
    """
    low = data.lower()
    plain = b"\0" not in data[:100] and not any(word in low for word in _UNPLAIN)
    del low
    tags = [f"{_W}p", f"{_W}tbl", f"{_W}sdt"]
    walk = etree.iterparse(
        BytesIO(data), tag=tags, resolve_entities=False, no_network=True, huge_tree=True
    )
    for _, block in walk:
        above = block.getparent()
        if above is not None and above.tag == f"{_W}body":
            yield from _runs_of(block, plain)
            block.clear(keep_tail=True)
    if walk.root is not None:
        yield from _runs_of(walk.root, plain)


def _runs_of(block: etree._Element, plain: bool) -> Iterator[str]:
    for element in block.iter(f"{_W}t", f"{_M}t"):
        if text := element.text:
            if plain:
                yield text
            elif not _is_twin(element) and not _is_glyphs(element):
                yield _PRIVATE.sub("", text)


def _is_glyphs(element: etree._Element) -> bool:
    """Whether a text run is in a symbol font, where a letter stands for a sign: the reader
    shows the sign or reports the code, so letters cannot be compared."""
    run = element.getparent()
    fonts = run.find(f"{_W}rPr/{_W}rFonts") if run is not None else None
    names = (fonts.get(f"{_W}ascii"), fonts.get(f"{_W}hAnsi")) if fonts is not None else ()
    return any((name or "").lower().startswith(_SYMBOL_FONTS) for name in names)


def _is_twin(element: etree._Element) -> bool:
    """Whether a text run is struck by a revision, the fallback copy of a drawing, or the rule
    above footnotes (a note of the type separator)."""
    above = element.getparent()
    while above is not None:
        if above.tag in (f"{_W}del", f"{_W}moveFrom") or "eparator" in above.get(f"{_W}type", ""):
            return True
        if above.tag == f"{_MC}Fallback" and above.getprevious() is not None:
            return True
        above = above.getparent()
    return False
