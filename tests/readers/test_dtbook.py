# ruff: noqa: E501
"""DTBook to tree: each case an excerpt of the body and the tree it must become.

Source: ANSI/NISO Z39.86-2005, DTBook DTD 2005-2; NIMAS 1.1 for what file sets of textbooks hold.
"""

from __future__ import annotations

from pathlib import Path
from textwrap import dedent

import pytest

import convert
from convert.document.nodes import Document
from convert.errors import SourceError
from convert.findings import Findings
from convert.pipeline import read_source
from convert.readers.container import open_source
from convert.settings import Settings
from convert.testing import ReaderContract

from .make import draw, epub, kinds, pack

HEAD = (
    '<head><meta name="dc:Title" content="Tides"/><meta name="dc:Creator" content="Ada Reef"/>'
    '<meta name="dc:Publisher" content="Quay"/><meta name="dc:Source" content="ISBN 9780000000002"/>'
    "</head>"
)


def dtbook(body: str, subset: str = "", head: str = HEAD) -> str:
    doctype = f'<!DOCTYPE dtbook PUBLIC "-//NISO//DTD dtbook 2005-2//EN" "http://x/y.dtd"{subset}>'
    return (
        f'<?xml version="1.0" encoding="utf-8"?>{doctype}<dtbook version="2005-2" xml:lang="en" '
        'xmlns="http://www.daisy.org/z3986/2005/dtbook/" '
        f'xmlns:m="http://www.w3.org/1998/Math/MathML">{head}<book>{body}</book></dtbook>'
    )


def made(folder: Path, body: str, subset: str = "", head: str = HEAD) -> Path:
    path = folder / "tides.xml"
    path.write_text(dtbook(body, subset, head), "utf-8")
    return path


def read(path: Path, findings: Findings | None = None) -> Document:
    sink = Findings() if findings is None else findings
    return read_source(open_source(path), Settings(), sink)[0]


CASES = {
    "matter and levels; the class of a level names it": (
        '<frontmatter><doctitle>Tides</doctitle><docauthor>Ada</docauthor></frontmatter><bodymatter>'
        '<level1 class="chapter"><h1>One</h1><level2><h2>Two</h2></level2></level1>'
        "<level><hd>Loose</hd><level><hd>Deeper</hd></level></level></bodymatter>"
        '<rearmatter><level1 class="glossary"><dl><dt>Ebb</dt><dd>Falling</dd></dl></level1></rearmatter>',
        """
        Section role=frontmatter
          Heading: Tides
          Paragraph: Ada
        Section role=bodymatter
          Section role=chapter
            Heading: One
            Section
              Heading level=2: Two
          Section
            Heading: Loose
            Section
              Heading level=2: Deeper
        Section role=backmatter
          Section role=glossary
            ListBlock role=glossary kind=definition
              ListItem
                Paragraph role=term: Ebb
                Paragraph role=definition: Falling
        """,
    ),
    "pagenum names the page that begins, between blocks, rows and words": (
        '<level1><pagenum page="front" id="a">iv</pagenum><p>He <pagenum>5</pagenum>ran</p>'
        "<table><tr><td>1</td><td>2</td></tr><pagenum>6</pagenum><tr><td>3</td><td>4</td></tr></table>"
        "</level1>",
        """
        Section
          PrintPage label=iv
          Paragraph: He [p 5]ran
          Table
            TableRow
              TableEntry
                Paragraph: 1
              TableEntry
                Paragraph: 2
            PrintPage label=6
            TableRow
              TableEntry
                Paragraph: 3
              TableEntry
                Paragraph: 4
        """,
    ),
    "lists: counted, with bullets, and preformatted, whose marks are text": (
        '<list type="ol" enum="a" start="3"><hd>Things</hd><li>x</li><li>y</li></list>'
        '<list type="ul"><li>z</li></list><list type="pl"><li>1) w</li></list>',
        """
        Heading: Things
        ListBlock kind=numbered
          ListItem: c.
            Paragraph: x
          ListItem: d.
            Paragraph: y
        ListBlock kind=bulleted
          ListItem: •
            Paragraph: z
        ListBlock kind=plain
          ListItem
            Paragraph: 1) w
        """,
    ),
    "the parts of an entry of the contents stand apart": (
        '<list type="pl" class="toc"><li><lic>One</lic><lic>7</lic></li></list>',
        """
        ListBlock role=contents kind=plain
          ListItem
            Paragraph: One 7
        """,
    ),
    "notes, and notes beside the text": (
        '<p>Ebb<noteref idref="n1">1</noteref> and<annoref idref="#n2">*</annoref></p>'
        '<note id="n1"><p>1 Low.</p></note><annotation id="n2"><p>See.</p></annotation>'
        '<rearmatter><note id="n3"><p>Flow.</p></note></rearmatter>',
        """
        Paragraph: Ebb[^1>n1] and[^*>n2]
        Footnote kind=foot id=n1: 1
          Paragraph:  Low.
        Footnote kind=foot id=n2
          Paragraph: See.
        Section role=backmatter
          Footnote kind=end id=n3
            Paragraph: Flow.
        """,
    ),
    "pictures with captions; producer's notes": (
        '<imggroup><img src="a.png" alt="A boat"/><caption>Boat</caption>'
        '<prodnote render="optional" imgref="i">It is red.</prodnote></imggroup>'
        "<prodnote>Map left out.</prodnote><p>On</p>",
        """
        Graphic: A boat
          Paragraph role=caption: Boat
          TranscriberNote
            Paragraph: It is red.
        TranscriberNote
          Paragraph: Map left out.
        Paragraph: On
        """,
    ),
    "a poem with its title, its author and the numbers of its lines": (
        "<poem><title>Song</title><author>Bo</author><linegroup><line><linenum>5</linenum>One</line>"
        "<line>Two</line></linegroup><linegroup><line>Three</line></linegroup></poem>",
        """
        Heading: Song
        Paragraph role=attribution: Bo
        Verse
          VerseLine number=5: One
          VerseLine: Two
          VerseLine stanza=2: Three
        """,
    ),
    "the title of a work that is named is words [DTBook DTD 2005-2, cite]": (
        "<p>Read <cite><title>Tides</title> by <author>Ada</author></cite>.</p>",
        "Paragraph: Read <italic|Tides by Ada>.",
    ),
    "sidebars, epigraphs, minor headings": (
        "<level1><h1>One</h1><sidebar><hd>Box</hd><p>In</p></sidebar><epigraph><p>Said</p>"
        "<author>Ada</author></epigraph><bridgehead>Sub</bridgehead></level1>",
        """
        Section
          Heading: One
          Box role=sidebar
            Heading level=2: Box
            Paragraph: In
          Displayed role=epigraph
            Paragraph: Said
            Paragraph role=attribution: Ada
          Heading level=2: Sub
        """,
    ),
    "quotation marks of print are not set twice": (
        "<p><q>Ebb</q> “<q>Ebb</q>” <q>“Ebb”</q> <sent>A <w>b</w>.</sent></p>",
        "Paragraph: “Ebb” “Ebb” “Ebb” A b.",
    ),
    "MathML by its prefix": ("<p>If <m:math><m:mi>x</m:mi></m:math></p>", "Paragraph: If [MathRun x]"),
    "matter marked as not for braille is left out": (
        '<p showin="xxp">Look</p><p showin="blp">Read</p>',
        "Paragraph: Read",
    ),
}  # fmt: skip


@pytest.mark.parametrize("title", CASES)
def test_body_to_tree(tmp_path: Path, title: str) -> None:
    body, expected = CASES[title]
    assert draw(read(made(tmp_path, body))) == dedent(expected).strip()


TOLD = {
    "read.producer-note": "<prodnote>Made by us.</prodnote>",
    "read.line-number": "<p><line><linenum>line 5</linenum>One</line></p>",
    "read.not-for-braille": '<p showin="xxp">Look</p><p>a</p>',
    "read.page-number-text": "<pagenum>5</pagenum><p>a</p>",
}


@pytest.mark.parametrize("kind", TOLD)
def test_what_is_told(tmp_path: Path, kind: str) -> None:
    findings = Findings()
    read(made(tmp_path, TOLD[kind]), findings)
    assert kind in kinds(findings)


def test_the_head_tells_of_the_book(tmp_path: Path) -> None:
    meta = read(made(tmp_path, "<p>a</p>")).meta
    assert (meta.title, meta.authors, meta.publisher) == ("Tides", ("Ada Reef",), "Quay")
    assert (meta.language, meta.isbn) == ("en", "ISBN 9780000000002")


def test_without_a_head_the_title_matter_tells(tmp_path: Path) -> None:
    body = "<frontmatter><doctitle>Ebb</doctitle><docauthor>Bo</docauthor></frontmatter>"
    meta = read(made(tmp_path, body, head="")).meta
    assert (meta.title, meta.authors) == ("Ebb", ("Bo",))


def test_the_first_edition_has_a_root_of_its_own(tmp_path: Path) -> None:
    """DAISY 2001: ``dtbook3``, without a namespace (from memory)."""
    path = tmp_path / "tides.xml"
    path.write_text(
        '<!DOCTYPE dtbook3 SYSTEM "http://dtd.example/dtbook3.dtd"><dtbook3><book><bodymatter>'
        "<level1><h1>Ebb&eacute;</h1></level1></bodymatter></book></dtbook3>",
        "utf-8",
    )
    assert "Heading: Ebbé" in draw(read(path))


def test_the_document_type_of_mathml_is_never_followed(tmp_path: Path) -> None:
    """DTBook declares MathML by parameter entities that name files outside."""
    subset = (
        ' [<!ENTITY % MATHML.prefixed "INCLUDE"><!ENTITY % mathML2 PUBLIC "-//W3C//DTD MathML '
        '2.0//EN" "http://www.w3.org/Math/DTD/mathml2/mathml2.dtd"> %mathML2; '
        '<!ENTITY secret SYSTEM "file:///etc/passwd">]'
    )
    assert draw(read(made(tmp_path, "<p>One&nbsp;two</p>", subset))) == "Paragraph: One\u00a0two"
    document = read(made(tmp_path, "<p>a &secret; b</p>", subset))
    assert "root:" not in document.ledger.text


def test_the_whole_way_nothing_is_lost(tmp_path: Path) -> None:
    everything = "".join(body for body, _ in CASES.values())
    edition = convert.convert(made(tmp_path, everything), code="ueb-uncontracted")
    assert edition.totals.lost == 0
    assert "print.not-read" not in {finding.kind for finding in edition.findings}


# ---------------------------------------------------------------- file sets

PACKAGE = (
    '<package xmlns="http://openebook.org/namespaces/oeb-package/1.0/"><metadata><dc-metadata '
    'xmlns:dc="http://purl.org/dc/elements/1.1/"><dc:Title>Set of Tides</dc:Title></dc-metadata>'
    '</metadata><manifest><item id="p" href="tides.pdf" media-type="application/pdf"/>'
    '<item id="b" href="tides.xml" media-type="application/x-dtbook+xml"/>'
    '<item id="a" href="ebb.xml" media-type="text/xml"/></manifest>'
    '<spine><itemref idref="a"/><itemref idref="b"/></spine></package>'
)


def test_a_file_set_is_read_in_the_order_of_its_spine(tmp_path: Path) -> None:
    files: dict[str, str | bytes] = {
        "set/book.opf": PACKAGE,
        "set/tides.xml": dtbook("<p>Second</p>"),
        "set/ebb.xml": dtbook("<p>First</p>"),
        "set/tides.pdf": b"%PDF-1.4",
    }
    findings = Findings()
    document = read(pack(tmp_path / "set.zip", files), findings)
    assert draw(document) == "Paragraph: First\nParagraph: Second"
    assert document.meta.title == "Set of Tides"


def test_a_file_set_loses_nothing(tmp_path: Path) -> None:
    files: dict[str, str | bytes] = {"tides.xml": dtbook("<p>Sea</p>"), "cover.xml": "<cover/>"}
    edition = convert.convert(pack(tmp_path / "set.zip", files), code="ueb-uncontracted")
    assert edition.totals.lost == 0
    assert {"print.not-read", "print.no-census"}.isdisjoint(f.kind for f in edition.findings)


def test_dtbook_in_the_spine_of_an_epub(tmp_path: Path) -> None:
    """OPF 2.0.1, section 1.3.4, allowed DTBook beside XHTML."""
    path = epub(
        tmp_path,
        manifest='<item id="d" href="d.xml" media-type="application/x-dtbook+xml"/>',
        spine='<itemref idref="d"/>',
        files={"OEBPS/d.xml": dtbook('<list type="ul"><li>Sea</li></list>')},
    )
    assert "ListItem: •" in draw(read(path))


REFUSED = {
    "other XML": ("tides.xml", b"<recipe><step>Stir</step></recipe>", "not DTBook"),
    "no markup": ("tides.xml", b"Just words.", "plain text"),
    "no DTBook inside": ("set.zip", {"a.xml": "<recipe/>"}, "without DTBook"),
    "a Word document": ("set.zip", {"[Content_Types].xml": "<Types/>"}, "Word document"),
    "an EPUB": ("set.zip", {"mimetype": "application/epub+zip"}, "an EPUB"),
    "laughs": (
        "tides.xml",
        b'<!DOCTYPE dtbook [<!ENTITY a "' + b"ha" * 40_000 + b'">]><dtbook><p>a</p></dtbook>',
        "beyond the limit",
    ),
    "no text": ("tides.xml", dtbook("<level1/>").encode(), "no text"),
}


@pytest.mark.parametrize("title", REFUSED)
def test_refused_in_a_sentence(tmp_path: Path, title: str) -> None:
    name, content, words = REFUSED[title]
    path = tmp_path / name
    if isinstance(content, dict):
        pack(path, content)
    else:
        path.write_bytes(content)
    with pytest.raises(SourceError, match=words):
        read(path)


def test_xhtml_that_ends_in_xml_is_a_page(tmp_path: Path) -> None:
    path = tmp_path / "page.xml"
    path.write_text('<html xmlns="http://www.w3.org/1999/xhtml"><body><p>Sea</p></body></html>')
    assert draw(read(path)) == "Paragraph: Sea"


@pytest.fixture(scope="module", autouse=True)
def samples(tmp_path_factory: pytest.TempPathFactory) -> None:
    folder = tmp_path_factory.mktemp("dtbook")
    TestContract.samples = (made(folder, "".join(body for body, _ in CASES.values())),)
    bad = folder / "bad.xml"
    bad.write_bytes(b"<recipe/>")
    TestContract.hostile = (bad,)


class TestContract(ReaderContract):
    """The contract every reader keeps."""

    name = "xml"


def test_lines_of_a_paragraph_with_linenums_are_its_lines(tmp_path: Path) -> None:
    """Z39.86-2005: ``line`` in a paragraph; without a ``linenum`` each is read as before."""
    numbered = "<p><line><linenum>1</linenum>One</line><line>two</line></p>"
    tree = draw(read(made(tmp_path, numbered + "<p><line>a</line><line>b</line></p>")))
    assert tree.splitlines()[-3:] == ["Paragraph: 1One / two", "Paragraph: a", "Paragraph: b"]
