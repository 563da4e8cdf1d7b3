"""The benchmark's text: sections of two books out of Debian packages, as EPUB and DOCX."""

from __future__ import annotations

import zipfile
from collections.abc import Iterator
from html import escape
from itertools import zip_longest
from pathlib import Path

from lxml import etree, html

Words = list[tuple[str, bool]]  # (text, emphasised)
Section = tuple[str, list[Words]]
_STRONG = {"em", "i", "b", "strong"}
_DATE = (2020, 1, 1, 0, 0, 0)
_W = "http://schemas.openxmlformats.org/wordprocessingml/2006/main"


def _name(element: etree._Element) -> str:
    return etree.QName(element).localname if isinstance(element.tag, str) else ""


def _runs(block: etree._Element) -> Words:
    runs: Words = []
    for element in block.iter():
        strong = any(_name(up) in _STRONG for up in [element, *element.iterancestors()])
        if element.text and _name(element):
            runs.append((element.text, strong))
        if element is not block and element.tail:
            runs.append((element.tail, _name(element.getparent()) in _STRONG))
    joined = "".join(text for text, _ in runs)
    return [(" ".join(t.split()) + " ", s) for t, s in runs if t.split()] if joined.strip() else []


def _is_block(element: etree._Element) -> bool:
    """A paragraph, list item or listing that holds no other block."""
    name = _name(element)
    if name not in ("p", "li", "pre", "dd") and element.get("class") != "para":
        return False
    return not any(_name(below) in ("p", "li", "pre", "div") for below in element.iterdescendants())


def _sections(folder: Path) -> Iterator[Section]:
    for file in sorted(folder.rglob("*.html")):
        root = html.parse(str(file)).getroot()
        blocks = [_runs(element) for element in root.iter() if _is_block(element)]
        title = " ".join("".join(root.xpath("//title//text()")[:1]).split()) or file.stem
        blocks = [block for block in blocks if block]
        if blocks:
            yield title, blocks


def book(folder: Path, words: int) -> list[Section]:
    """Sections of the two books in turn, cut at about ``words`` words."""
    one = _sections(folder / "debian-handbook" / "usr/share/doc/debian-handbook/html/en-US")
    two = _sections(folder / "anarchism" / "usr/share/doc/anarchism/html")
    out: list[Section] = []
    left = words
    for pair in zip_longest(one, two):
        for section in pair:
            if section is None or left <= 0:
                continue
            kept: list[Words] = []
            for block in section[1][:160]:
                if left > 0:
                    kept.append(block)
                    left -= sum(len(text.split()) for text, _ in block)
            out.append((section[0], kept))
    return out


def plain(sections: list[Section]) -> list[str]:
    """Every paragraph as plain text, for the bare library."""
    return [
        " ".join("".join(text for text, _ in block).split())
        for title, blocks in sections
        for block in [[(title, False)], *blocks]
    ]


def write_epub(sections: list[Section], path: Path) -> None:
    """An EPUB 3 with a print page mark every 560 words."""
    page, since = 1, 0
    chapters = []
    for title, blocks in sections:
        lines = [f"<h1>{escape(title)}</h1>"]
        for block in blocks:
            if since >= 560:
                page, since = page + 1, 0
                lines.append(f'<div epub:type="pagebreak" id="p{page}" title="{page}"></div>')
            since += sum(len(text.split()) for text, _ in block)
            body = "".join(
                f"<em>{escape(t.strip())}</em> " if strong else escape(t) for t, strong in block
            )
            lines.append(f"<p>{body}</p>")
        chapters.append("\n".join(lines))
    items = "".join(
        f'<item id="c{n}" href="c{n}.xhtml" media-type="application/xhtml+xml"/>'
        for n in range(len(chapters))
    )
    spine = "".join(f'<itemref idref="c{n}"/>' for n in range(len(chapters)))
    files = {
        "mimetype": "application/epub+zip",
        "META-INF/container.xml": '<container version="1.0" xmlns="urn:oasis:names:tc:'
        'opendocument:xmlns:container"><rootfiles><rootfile full-path="book.opf" '
        'media-type="application/oebps-package+xml"/></rootfiles></container>',
        "book.opf": '<package xmlns="http://www.idpf.org/2007/opf" version="3.0" '
        'unique-identifier="u"><metadata xmlns:dc="http://purl.org/dc/elements/1.1/">'
        '<dc:identifier id="u">bench</dc:identifier><dc:title>Benchmark</dc:title>'
        "<dc:language>en</dc:language></metadata><manifest>"
        '<item id="n" href="nav.xhtml" media-type="application/xhtml+xml" properties="nav"/>'
        f"{items}</manifest><spine>{spine}</spine></package>",
        "nav.xhtml": _page(
            '<nav epub:type="toc"><ol><li><a href="c0.xhtml">Start</a></li></ol></nav>'
        ),
        **{f"c{n}.xhtml": _page(body) for n, body in enumerate(chapters)},
    }
    _zip(path, files)


def _page(body: str) -> str:
    return (
        '<html xmlns="http://www.w3.org/1999/xhtml" xmlns:epub="http://www.idpf.org/2007/ops" '
        f'xml:lang="en"><head><title>x</title></head><body>{body}</body></html>'
    )


def write_docx(sections: list[Section], path: Path) -> None:
    """A DOCX with headings and emphasised runs."""
    parts = []
    for title, blocks in sections:
        parts.append(
            f'<w:p><w:pPr><w:pStyle w:val="H1"/></w:pPr><w:r><w:t>{escape(title)}</w:t></w:r></w:p>'
        )
        for block in blocks:
            runs = "".join(
                f"<w:r>{'<w:rPr><w:i/></w:rPr>' if strong else ''}"
                f'<w:t xml:space="preserve">{escape(text)}</w:t></w:r>'
                for text, strong in block
            )
            parts.append(f"<w:p>{runs}</w:p>")
    rel = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
    pkg = "http://schemas.openxmlformats.org/package/2006"
    word = "application/vnd.openxmlformats-officedocument.wordprocessingml"
    files = {
        "[Content_Types].xml": f'<Types xmlns="{pkg}/content-types"><Default Extension="rels" '
        'ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
        f'<Override PartName="/word/document.xml" ContentType="{word}.document.main+xml"/>'
        f'<Override PartName="/word/styles.xml" ContentType="{word}.styles+xml"/></Types>',
        "_rels/.rels": f'<Relationships xmlns="{pkg}/relationships"><Relationship Id="a" '
        f'Type="{rel}/officeDocument" Target="word/document.xml"/></Relationships>',
        "word/_rels/document.xml.rels": f'<Relationships xmlns="{pkg}/relationships">'
        f'<Relationship Id="a" Type="{rel}/styles" Target="styles.xml"/></Relationships>',
        "word/styles.xml": f'<w:styles xmlns:w="{_W}"><w:style w:type="paragraph" w:styleId="H1">'
        '<w:name w:val="heading 1"/><w:pPr><w:outlineLvl w:val="0"/></w:pPr></w:style></w:styles>',
        "word/document.xml": f'<w:document xmlns:w="{_W}"><w:body>{"".join(parts)}</w:body>'
        "</w:document>",
    }
    _zip(path, files)


def _zip(path: Path, files: dict[str, str]) -> None:
    with zipfile.ZipFile(path, "w") as package:
        for name, text in files.items():
            info = zipfile.ZipInfo(name, _DATE)
            kind = zipfile.ZIP_STORED if name == "mimetype" else zipfile.ZIP_DEFLATED
            package.writestr(info, text, kind)
