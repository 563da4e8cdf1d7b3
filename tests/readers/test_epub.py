"""Packages: reading order, metadata, protection, print page numbers, notes."""

from __future__ import annotations

from pathlib import Path

import pytest

from convert.document.nodes import Footnote, walk
from convert.errors import SourceError
from convert.findings import Findings

from .make import CONTAINER, draw, epub, kinds, pack, page, read_epub

NAV = '<item id="nav" href="nav.xhtml" media-type="application/xhtml+xml" properties="nav"/>'


def words(path: Path, findings: Findings | None = None) -> list[str]:
    return read_epub(path, findings).ledger.text.split()


# ---------------------------------------------------------------- reading order


def test_the_spine_gives_the_order(tmp_path: Path) -> None:
    spine = '<itemref idref="c2"/><itemref idref="c1"/><itemref idref="c2"/>'
    assert words(epub(tmp_path, "<p>one</p>", "<p>two</p>", spine=spine)) == ["two", "one"]


def test_matter_outside_the_reading_order_is_kept_and_told(tmp_path: Path) -> None:
    findings = Findings()
    spine = '<itemref idref="c1" linear="no"/><itemref idref="c2"/>'
    path = epub(tmp_path, "<p>one</p>", "<p>two</p>", spine=spine)
    assert words(path, findings) == ["one", "two"]
    assert kinds(findings) == ["read.not-linear"]


def test_missing_and_foreign_parts_are_told(tmp_path: Path) -> None:
    findings = Findings()
    manifest = (
        '<item id="gone" href="gone.xhtml" media-type="application/xhtml+xml"/>'
        '<item id="scan" href="scan.png" media-type="image/png"/>'
        '<item id="pdf" href="a.pdf" media-type="application/pdf" fallback="text"/>'
        '<item id="text" href="t.xhtml" media-type="application/xhtml+xml" fallback="pdf"/>'
    )
    spine = "".join(f'<itemref idref="{i}"/>' for i in ("c1", "gone", "scan", "pdf", "nowhere"))
    files: dict[str, str | bytes] = {
        "OEBPS/scan.png": b"\x89PNG",
        "OEBPS/a.pdf": b"%PDF",
        "OEBPS/t.xhtml": page("<p>text</p>"),
    }
    path = epub(tmp_path, "<p>one</p>", manifest=manifest, spine=spine, files=files)
    assert words(path, findings) == ["one", "text"]
    assert kinds(findings) == [
        "read.missing-part",
        "read.not-text-part",
        "read.picture-page",
        "read.picture-without-alt",
    ]
    assert [f.kind for f in findings.all()].count("read.missing-part") == 2


def test_a_page_that_is_only_a_picture_is_told(tmp_path: Path) -> None:
    findings = Findings()
    read_epub(epub(tmp_path, "<p>one</p>", "<img src='a.png' alt=''/>"), findings)
    assert kinds(findings) == ["read.picture-page"]


@pytest.mark.parametrize(
    ("spine", "says"),
    [
        ("<!-- none -->", "no reading order"),
        ('<itemref idref="x"/>', "None of the 1 parts"),
        ('<itemref idref="c1"/>', "holds no text"),
    ],
)
def test_without_anything_to_read_it_is_refused(tmp_path: Path, spine: str, says: str) -> None:
    with pytest.raises(SourceError, match=says):
        read_epub(epub(tmp_path, "<div/>", spine=spine))


def test_hrefs_are_found_however_written(tmp_path: Path) -> None:
    """Percent signs, wrong case, surplus dots and slashes [EPUB 3.3, 4.2.5]."""
    for n, href in enumerate(
        ["My%20Sea.XHTML", "../../OEBPS/My Sea.xhtml", "/OEBPS/./my sea.xhtml"]
    ):
        folder = tmp_path / str(n)
        folder.mkdir()
        path = epub(
            folder,
            "<p>one</p>",
            manifest=f'<item id="m" href="{href}" media-type="application/xhtml+xml"/>',
            spine='<itemref idref="m"/>',
            files={"OEBPS/My Sea.xhtml": page("<p>found</p>")},
        )
        assert words(path) == ["found"]


def test_broken_container_and_several_renditions(tmp_path: Path) -> None:
    findings = Findings()
    path = epub(tmp_path, "<p>one</p>", files={"META-INF/container.xml": "<broken"})
    assert words(path, findings) == ["one"]
    assert kinds(findings) == ["read.container-repaired"]
    findings = Findings()
    roots = CONTAINER.format(opf="OEBPS/book.opf").replace(
        "</rootfiles>", '<rootfile full-path="two.opf"/></rootfiles>'
    )
    files: dict[str, str | bytes] = {"META-INF/container.xml": roots, "two.opf": "<package/>"}
    assert words(epub(tmp_path, "<p>one</p>", files=files), findings) == ["one"]
    assert kinds(findings) == ["read.several-renditions"]


def test_a_rendition_that_flows_is_taken_before_one_of_fixed_pages(tmp_path: Path) -> None:
    """EPUB Multiple-Rendition Publications 1.1: layout and accessMode of a rootfile."""
    space = 'xmlns:r="http://www.idpf.org/2013/rendition"'
    kind = 'media-type="application/oebps-package+xml"'
    rows = (
        f'<rootfile full-path="OEBPS/two.opf" {kind} r:layout="pre-paginated" {space}/>'
        f'<rootfile full-path="OEBPS/one.opf" {kind} r:accessMode="visual" {space}/>'
        f'<rootfile full-path="OEBPS/book.opf" {kind}/>'
    )
    inside = '<container xmlns="urn:oasis:names:tc:opendocument:xmlns:container">{}</container>'
    files: dict[str, str | bytes] = {
        "META-INF/container.xml": inside.format(f"<rootfiles>{rows}</rootfiles>"),
        "OEBPS/one.opf": "<package/>",
        "OEBPS/two.opf": "<package/>",
    }
    findings = Findings()
    read_epub(epub(tmp_path, "<p>one</p>", files=files), findings)
    told = next(f.message for f in findings.all() if f.kind == "read.several-renditions")
    assert "OEBPS/book.opf was read" in told


@pytest.mark.parametrize(
    ("manifest", "name", "told"),
    [
        ('<item id="n" href="n.xhtml" media-type="application/xhtml+xml"/>', "n.xhtml", True),
        ("", "more.html", True),
        ("", "style.css", False),
        (
            '<item id="n" href="n.xhtml" media-type="application/xhtml+xml" properties="nav"/>',
            "n.xhtml",
            False,
        ),
    ],
)
def test_text_that_the_reading_order_does_not_name(
    tmp_path: Path, manifest: str, name: str, told: bool
) -> None:
    findings = Findings()
    files: dict[str, str | bytes] = {f"OEBPS/{name}": page("<p>answers</p>")}
    read_epub(epub(tmp_path, "<p>a</p>", manifest=manifest, files=files), findings)
    assert kinds(findings) == (["read.part-unread"] if told else [])


def test_the_guide_of_an_older_book_gives_roles(tmp_path: Path) -> None:
    """OPF 2.0.1, 2.6: weak semantics, for bodies that say nothing of themselves."""
    guide = '</metadata><guide><reference type="dedication" href="c1.xhtml"/>' + (
        '<reference type="toc" href="c2.xhtml#x"/><reference type="text" href="c3.xhtml"/></guide>'
    )
    meta = f"<dc:title>Tides</dc:title>{guide}<metadata>"
    findings = Findings()
    document = read_epub(epub(tmp_path, *("<p>a</p>",) * 3, metadata=meta), findings)
    assert draw(document) == "Section role=dedication\n  Paragraph: a\nParagraph: a\nParagraph: a"
    assert kinds(findings) == ["read.guide"]


def test_entries_of_a_navigation_document_have_no_numbers(tmp_path: Path) -> None:
    """EPUB 3.3, 7.3: its lists are shown without marks."""
    body = "<nav epub:type='toc'><ol><li><a href='#a'>One</a></li></ol></nav>"
    drawn = draw(read_epub(epub(tmp_path, body)))
    assert "ListItem\n" in drawn
    other = "<div epub:type='toc'><ol><li><a href='#a'>One</a></li></ol></div>"
    assert "ListItem: 1.\n" in draw(read_epub(epub(tmp_path, other)))


def test_numbers_that_are_the_epub_s_own(tmp_path: Path) -> None:
    """EPUB Accessibility 1.1: a page source of none."""
    meta = '<dc:title>Tides</dc:title><meta property="pageBreakSource">none</meta>'
    findings = Findings()
    body = "<p>a <span role='doc-pagebreak' aria-label='2'/>b</p>"
    read_epub(epub(tmp_path, body, metadata=meta), findings)
    assert kinds(findings) == ["read.own-pages"]


@pytest.mark.parametrize("how", ["itemref", "vendor"])
def test_fixed_layout_said_in_other_ways(tmp_path: Path, how: str) -> None:
    """EPUB 3.3, 8.2.2.1, and an older file of one vendor's (from memory)."""
    spine, files = "", {}
    if how == "itemref":
        spine = '<itemref idref="c1" properties="rendition:layout-pre-paginated"/>'
    else:
        inside = '<platform name="*"><option name="fixed-layout">true</option></platform>'
        name = "META-INF/com.apple.ibooks.display-options.xml"
        files = {name: f"<display_options>{inside}</display_options>"}
    findings = Findings()
    read_epub(epub(tmp_path, "<p>a</p>", spine=spine, files=files), findings)
    assert kinds(findings) == ["read.fixed-layout"]


def test_no_package_document(tmp_path: Path) -> None:
    path = pack(tmp_path / "a.epub", {"mimetype": "application/epub+zip", "a.txt": "a"})
    with pytest.raises(SourceError, match="no package document"):
        read_epub(path)


def test_a_doubled_entry_is_told(tmp_path: Path) -> None:
    import zipfile

    path = epub(tmp_path, "<p>one</p>")
    with zipfile.ZipFile(path, "a") as archive, pytest.warns(UserWarning, match="Duplicate"):
        archive.writestr("OEBPS/c1.xhtml", page("<p>two</p>"))
    findings = Findings()
    assert words(path, findings) == ["two"]
    assert kinds(findings) == ["read.doubled-entry"]


def test_what_stands_before_the_package_is_told(tmp_path: Path) -> None:
    path = epub(tmp_path, "<p>a</p>")
    path.write_bytes(b"#!/bin/sh\n" * 9 + path.read_bytes())
    findings = Findings()
    read_epub(path, findings)
    assert kinds(findings) == ["read.prefixed"]


def test_fixed_layout_is_told(tmp_path: Path) -> None:
    findings = Findings()
    metadata = '<meta property="rendition:layout">pre-paginated</meta>'
    read_epub(epub(tmp_path, "<p>one</p>", metadata=metadata), findings)
    assert kinds(findings) == ["read.fixed-layout"]


# ---------------------------------------------------------------- metadata


def test_metadata_for_the_title_page(tmp_path: Path) -> None:
    metadata = """
      <dc:title id="s">A Study</dc:title><meta refines="#s" property="title-type">subtitle</meta>
      <dc:title id="t">Tides</dc:title><meta refines="#t" property="title-type">main</meta>
      <dc:creator id="b">B. Mate</dc:creator><meta refines="#b" property="display-seq">2</meta>
      <meta refines="#b" property="role">ann</meta><meta refines="#b" property="role">aut</meta>
      <dc:creator id="a">A. Pilot</dc:creator><meta refines="#a" property="display-seq">1</meta>
      <dc:creator id="c" opf:role="ill">C. Drew</dc:creator>
      <dc:publisher>Quay House</dc:publisher><dc:date>2020</dc:date><dc:rights>Free</dc:rights>
      <dc:identifier>urn:uuid:1</dc:identifier>
      <dc:identifier>urn:isbn:978-1-56619-909-4</dc:identifier>
      <dc:language>en-GB</dc:language><meta property="pageBreakSource">978-0</meta>"""
    meta = read_epub(epub(tmp_path, "<p>one</p>", metadata=metadata)).meta
    assert (meta.title, meta.subtitle, meta.authors) == (
        "Tides",
        "A Study",
        ("A. Pilot", "B. Mate"),
    )
    assert (meta.publisher, meta.date, meta.rights) == ("Quay House", "2020", "Free")
    assert (meta.isbn, meta.language, meta.page_source) == ("978-1-56619-909-4", "en-GB", "978-0")


# ---------------------------------------------------------------- protection

ENCRYPTION = (
    '<encryption xmlns="urn:oasis:names:tc:opendocument:xmlns:container" '
    'xmlns:enc="http://www.w3.org/2001/04/xmlenc#"><enc:EncryptedData>'
    '<enc:EncryptionMethod Algorithm="{}"/><enc:CipherData><enc:CipherReference URI="{}"/>'
    "</enc:CipherData></enc:EncryptedData></encryption>"
)


def test_encrypted_text_is_refused(tmp_path: Path) -> None:
    files: dict[str, str | bytes] = {
        "META-INF/encryption.xml": ENCRYPTION.format("urn:aes", "OEBPS/c1.xhtml"),
        "OEBPS/c1.xhtml": bytes(range(128, 256)) * 4,
    }
    with pytest.raises(SourceError, match="protected by its publisher"):
        read_epub(epub(tmp_path, "<p>one</p>", files=files))


def test_obfuscated_fonts_are_no_matter(tmp_path: Path) -> None:
    method = "http://www.idpf.org/2008/embedding"
    files: dict[str, str | bytes] = {
        "META-INF/encryption.xml": ENCRYPTION.format(method, "OEBPS/a.otf")
    }
    assert words(epub(tmp_path, "<p>one</p>", files=files)) == ["one"]


# ---------------------------------------------------------------- print page numbers

MARKS = {
    "epub:type": "<span epub:type='pagebreak' title='12'/>",
    "role": "<span role='doc-pagebreak' aria-label='Page 12'/>",
    "text": "<span role='doc-pagebreak'>12</span>",
    "anchor": "<a epub:type='pagebreak' id='p12'/>",
    "class": "<span class='pagenum'>12</span>",
}


@pytest.mark.parametrize("kind", MARKS)
def test_page_marks_of_every_kind(tmp_path: Path, kind: str) -> None:
    document = read_epub(epub(tmp_path, f"<p>ebb {MARKS[kind]}flow</p>{MARKS[kind]}<p>x</p>"))
    assert draw(document).splitlines()[0] == "Paragraph: ebb [p 12]flow"
    assert document.print_pages[0] == "12"


def test_marks_between_blocks_in_lists_and_in_tables(tmp_path: Path) -> None:
    body = (
        "<div role='doc-pagebreak' aria-label='iv'/><p>a</p><ul><li>b</li>"
        "<li><span role='doc-pagebreak' aria-label='A-1'/>c</li></ul>"
        "<hr epub:type='pagebreak' title='A-2'/>"
    )
    document = read_epub(epub(tmp_path, body))
    assert document.print_pages == ("iv", "A-1", "A-2")
    assert draw(document).count("PrintPage") == 3


def listed(folder: Path, *links: str, body: str) -> Path:
    rows = "".join(
        f'<li><a href="c1.xhtml#{x.split("=")[0]}">{x.split("=")[1]}</a></li>' for x in links
    )
    nav = page(f'<nav epub:type="page-list"><ol>{rows}</ol></nav>')
    return epub(folder, body, manifest=NAV, files={"OEBPS/nav.xhtml": nav})


def test_numbers_only_in_the_page_list(tmp_path: Path) -> None:
    """The list may point at ids of ordinary elements [EPUB Accessibility 1.1]."""
    body = "<p id='a'>one</p><p>two <b id='b'>three</b></p>"
    document = read_epub(listed(tmp_path, "a=1", "b=2", body=body))
    assert draw(document) == "PrintPage label=1\nParagraph: one\nParagraph: two [p 2]<bold|three>"
    assert document.print_pages == ("1", "2")


def test_numbers_from_the_ncx(tmp_path: Path) -> None:
    ncx = (
        '<ncx xmlns="http://www.daisy.org/z3986/2005/ncx/"><pageList><pageTarget value="7">'
        '<navLabel><text>7</text></navLabel><content src="c1.xhtml"/></pageTarget></pageList></ncx>'
    )
    manifest = '<item id="n" href="t.ncx" media-type="application/x-dtbncx+xml"/>'
    path = epub(tmp_path, "<p>one</p>", manifest=manifest, files={"OEBPS/t.ncx": ncx})
    assert draw(read_epub(path)) == "PrintPage label=7\nParagraph: one"


def test_numbers_from_a_page_map(tmp_path: Path) -> None:
    item = '<item id="m" href="map.xml" media-type="application/oebps-page-map+xml"/>'
    rows = '<page name="1" href="c1.xhtml#a"/><page name="ii" href="c1.xhtml#b"/>'
    files = {"OEBPS/map.xml": f'<page-map xmlns="http://www.idpf.org/2007/opf">{rows}</page-map>'}
    path = epub(tmp_path, "<p id='a'>a</p><p id='b'>b</p>", manifest=item, files=files)
    assert draw(read_epub(path)).count("PrintPage") == 2


@pytest.mark.parametrize(
    ("names", "marks", "pages"),
    [
        (("page_1", "page_2", "page_3", "page_4", "page_5"), "", 5),
        (("page_1", "page_2", "page_3", "page_4"), "", 0),
        (("page_1", "page_5", "page_3", "page_4", "page_6"), "", 0),
        (("p1", "p2", "p3", "p4", "p5"), "", 0),
        (("pgiv", "pg1", "pg2", "pg3", "pg4", "pg5"), "", 6),
        (
            ("page_1", "page_2", "page_3", "page_4", "page_5"),
            "<p><span role='doc-pagebreak' aria-label='9'/>x</p>",
            1,
        ),
    ],
)
def test_names_that_rise_like_page_numbers(
    tmp_path: Path, names: tuple[str, ...], marks: str, pages: int
) -> None:
    """Five or more, where nothing marks pages (common practice, no source)."""
    body = "".join(f"<p><a id='{name}'></a>a</p>" for name in names) + marks
    drawn = draw(read_epub(epub(tmp_path, body)))
    assert drawn.count("[p ") + drawn.count("PrintPage") == pages


def test_list_and_text_are_reconciled(tmp_path: Path) -> None:
    def mark(label: str) -> str:
        return f"<p>x<span role='doc-pagebreak' id='m{label}' aria-label='{label}'/>y</p>"

    body = "".join(mark(label) for label in ("1", "4", "3", "3b")) + mark("4").replace("m4", "n4")
    findings = Findings()
    document = read_epub(listed(tmp_path, "m1=1", "m4=4", "m3=3", "nowhere=9", body=body), findings)
    assert document.print_pages == ("1", "4", "3", "3b", "4")
    assert kinds(findings) == [
        "read.page-gap",
        "read.page-not-found",
        "read.page-not-listed",
        "read.page-order",
        "read.page-repeated",
    ]


def test_a_list_link_and_its_mark_are_one_page(tmp_path: Path) -> None:
    body = "<p id='a'><span role='doc-pagebreak' aria-label='5'/>one</p>"
    findings = Findings()
    document = read_epub(listed(tmp_path, "a=5", body=body), findings)
    assert document.print_pages == ("5",)


def test_promised_page_numbers_that_are_absent(tmp_path: Path) -> None:
    metadata = '<meta property="schema:accessibilityFeature">pageBreakMarkers</meta>'
    findings = Findings()
    read_epub(epub(tmp_path, "<p>one</p>", metadata=metadata), findings)
    assert kinds(findings) == ["read.pages-promised"]


# ---------------------------------------------------------------- notes


def test_marked_notes(tmp_path: Path) -> None:
    body = (
        "<p>Ebb<a epub:type='noteref' href='#n1'>*</a> and<sup>"
        "<a role='doc-noteref' href='c2.xhtml#n2'>2</a></sup>.</p>"
        "<aside epub:type='footnote' id='n1'><p>* The fall.</p></aside>"
    )
    notes = (
        "<section role='doc-endnotes'><h2>Notes</h2><ol start='2'><li id='n2'>The rise. "
        "<a role='doc-backlink' href='c1.xhtml'>back</a></li></ol></section>"
    )
    document = read_epub(epub(tmp_path, body, notes))
    assert draw(document).splitlines() == [
        "Paragraph: Ebb[^*>n1] and[^2>n2].",
        "Footnote kind=foot id=n1: *",
        "  Paragraph:  The fall.",
        "Section role=notes",
        "  Heading level=2: Notes",
        "  Footnote kind=end id=n2: 2.",
        "    Paragraph: The rise.",
    ]
    assert document.ledger.quote(*_span(document.omissions[0])) == "back"


def _span(omission: object) -> tuple[int, int]:
    return omission.start, omission.end  # type: ignore[attr-defined]


def test_unmarked_notes_of_older_books(tmp_path: Path) -> None:
    """A raised number that links to a block is a note call; the link back is not."""
    body = (
        "<p>Ebb<a id='r1' href='#n1'><sup>1</sup></a>. See <a href='#n1'>the note</a>.</p>"
        "<p id='n1'><a href='#r1'><sup>1</sup></a> The fall.</p>"
    )
    findings = Findings()
    document = read_epub(epub(tmp_path, body), findings)
    assert draw(document).splitlines() == [
        "Paragraph: Ebb[^1>n1]. See the note.",
        "Footnote kind=foot id=n1: <sup|1>",
        "  Paragraph:  The fall.",
    ]
    assert kinds(findings) == ["read.note-guessed"]


def test_notes_in_a_definition_list(tmp_path: Path) -> None:
    """As tools for technical documents write them: a class makes the list notes, a term is the
    mark; a link to one is its call, raised or not (common practice, no source)."""
    body = (
        "<p>Ebb <a class='footnote-reference brackets' href='#i3' id='i1'>1</a> and "
        "<a class='footnote-reference' href='#i4'>[2]</a>, see <a href='#i4'>the second</a>.</p>"
        "<dl class='footnote brackets'><dt class='label' id='i3'><a href='#i1'>1</a></dt>"
        "<dd><p>The fall:</p><ul><li>slow</li></ul></dd>"
        "<dt class='label' id='i4'>2</dt><dd><p>The rise.</p></dd></dl>"
    )
    findings = Findings()
    document = read_epub(epub(tmp_path, body), findings)
    assert draw(document).splitlines() == [
        "Paragraph: Ebb [^1>i3] and [^[2]>i4], see the second.",
        "Footnote kind=foot id=i3: 1",
        "  Paragraph: The fall:",
        "  ListBlock kind=bulleted",
        "    ListItem: •",
        "      Paragraph: slow",
        "Footnote kind=foot id=i4: 2",
        "  Paragraph: The rise.",
    ]
    assert kinds(findings) == []


def test_targets_are_ids_of_notes(tmp_path: Path) -> None:
    body = (
        "<p>a<a epub:type='noteref' href='#n'>1</a></p>"
        "<div epub:type='footnotes'><p epub:type='footnote' id='n'>1. Sea.</p></div>"
    )
    document = read_epub(epub(tmp_path, body))
    notes = [n for child in document.children for n in walk(child) if isinstance(n, Footnote)]
    assert [note.id for note in notes] == ["OEBPS/c1.xhtml#n"]
    assert draw(document).splitlines()[2] == "  Footnote kind=end id=n: 1."


def test_a_part_named_twice_in_the_reading_order(tmp_path: Path) -> None:
    """EPUB 3.3, 5.7.2: an item may be named once."""
    findings = Findings()
    spine = '<itemref idref="c1"/><itemref idref="c2"/><itemref idref="c1"/>'
    document = read_epub(epub(tmp_path, "<p>a</p>", "<p>b</p>", spine=spine), findings)
    assert document.ledger.text.split() == ["a", "b"]
    assert kinds(findings) == ["read.part-repeated"]
