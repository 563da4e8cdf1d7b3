"""What damaged packages have shown, each as the smallest document that showed it."""

from __future__ import annotations

import time
from pathlib import Path

import pytest

import convert
from convert.edition import Edition
from tests.readers.make import epub, pack
from tests.readers.make_docx import TYPES, docx, p, part, r, relations

LONG = "7" * 5000


def converted(path: Path) -> Edition:
    edition = convert.convert(path, code="ueb-uncontracted")
    assert edition.totals.lost == 0
    return edition


def body(edition: Edition) -> list[str]:
    return [
        row.text.strip("⠀")
        for _, _, page in edition.book.pages()
        if page.series == "body"
        for row in page.rows
        if row is not None and row.text and row.item >= 0
    ]


def test_room_for_an_answer_inside_a_word_stays_in_its_place(tmp_path: Path) -> None:
    line = '<input type="text" name="n"/>'
    path = epub(tmp_path, f"<form>(a{line}) ${line}.50</form>")
    assert body(converted(path)) == ["⠐⠣⠁⠀⠨⠤⠀⠐⠜⠀⠈⠎⠀⠨⠤⠀⠼⠲⠑⠚"]


def test_numbers_beyond_any_number(tmp_path: Path) -> None:
    """Python refuses to make a number of more than 4,300 digits."""
    marks = "".join(
        f'<span epub:type="pagebreak" title="{n}"/><p>Sea</p>' for n in (LONG, "3", "²")
    )
    marks += f'<p style="font-weight: {LONG}">a</p>'
    body = f'{marks}<ol start="{LONG}"><li value="{LONG}">b</li></ol>'
    math = f'<math><maction selection="{LONG}"><mi>x</mi></maction></math>'
    table = f'<table><tr><td colspan="{LONG}" rowspan="{LONG}">c</td></tr></table>'
    metadata = (
        '<dc:title>T</dc:title><dc:language>en</dc:language><dc:creator id="a">A</dc:creator>'
        f'<meta refines="#a" property="display-seq">{LONG}</meta>'
    )
    converted(epub(tmp_path, body + math + table, metadata=metadata))


@pytest.mark.parametrize("title", ["\u00ad", "\u200b\u2060", "\u202e"])
def test_a_title_that_shows_nothing(tmp_path: Path, title: str) -> None:
    metadata = f"<dc:title>{title}</dc:title><dc:language>en</dc:language>"
    converted(epub(tmp_path, f"<h1>{title}</h1><p>Sea</p>", metadata=metadata))


def test_notes_are_found_without_relationships(tmp_path: Path) -> None:
    call = '<w:r><w:footnoteReference w:id="2"/></w:r>'
    files: dict[str, str | bytes] = {
        "[Content_Types].xml": TYPES,
        "_rels/.rels": relations(("m", "officeDocument", "word/document.xml")),
        "word/document.xml": part("document", f"<w:body>{p(r('Sea') + call)}</w:body>"),
        "word/footnotes.xml": part("footnotes", f'<w:footnote w:id="2">{p("Salt.")}</w:footnote>'),
    }
    path = pack(tmp_path / "harbour.docx", files)
    assert "Salt." in converted(path).document.ledger.text


def test_huge_numbers_in_a_word_document(tmp_path: Path) -> None:
    numbers = (
        f'<w:numPr><w:ilvl w:val="0"/><w:numId w:val="1"/></w:numPr><w:outlineLvl w:val="{LONG}"/>'
    )
    level = (
        '<w:lvl w:ilvl="0"><w:start w:val="999999999"/><w:numFmt w:val="upperLetter"/>'
        '<w:lvlText w:val="%1."/></w:lvl>'
    )
    numbering = (
        f'<w:abstractNum w:abstractNumId="0">{level}</w:abstractNum>'
        '<w:num w:numId="1"><w:abstractNumId w:val="0"/></w:num>'
    )
    body = p(r("Sea"), props=numbers) + f'<w:sectPr><w:pgNumType w:start="{LONG}"/></w:sectPr>'
    converted(docx(tmp_path, body, numbering=numbering))


def test_a_title_of_many_lines_is_centred_in_time(tmp_path: Path) -> None:
    """Evening out centred lines took time by the square of their number."""
    words = "permit " * 6000
    metadata = f"<dc:title>{words}</dc:title><dc:language>en</dc:language>"
    start = time.process_time()
    converted(epub(tmp_path, f"<h1>{words}</h1><p>Sea</p>", metadata=metadata))
    assert time.process_time() - start < 30


def test_repair_says_nothing_of_parsers(tmp_path: Path) -> None:
    broken = '<?xml version="1.0"?><?xml version="1.0"?><ncx><text>Sea</text><p>b<'
    assert "Sea" in converted(epub(tmp_path, broken)).document.ledger.text


@pytest.mark.parametrize(
    "style",
    [
        "p { font: " + "calc(" * 3000 + "}",
        "@media " + "(" * 3000 + ")" * 3000 + " { p { font-weight: bold } }",
        ":not(" * 3000 + "p" + ")" * 3000 + " { font-weight: bold }",
        "p::before { content: '\\D800 x' }",
        f"p {{ font-weight: {LONG} }}",
        f"@import url(a.css) {LONG};",
    ],
)
def test_style_sheets_beyond_sense(tmp_path: Path, style: str) -> None:
    converted(epub(tmp_path, "<p>Sea</p>", head=f"<style>{style}</style>"))


@pytest.mark.parametrize(
    "body",
    [
        "<w:p><w:rPr><w:t>Salt</w:t></w:rPr></w:p>",
        "<w:trPr><w:p><w:r><w:t>Salt</w:t></w:r></w:p></w:trPr>",
        "<w:tbl><w:trPr><w:tc><w:p><w:r><w:t>Salt</w:t></w:r></w:p></w:tc></w:trPr></w:tbl>",
        "<w:p><w:sdt><w:pStyle><w:r><w:t>Salt</w:t></w:r></w:pStyle></w:sdt></w:p>",
        "<w:sdt><w:pStyle><w:r><w:t>Salt</w:t></w:r></w:pStyle></w:sdt>",
    ],
)
def test_words_inside_properties_are_kept(tmp_path: Path, body: str) -> None:
    edition = converted(docx(tmp_path, body))
    assert edition.document.ledger.text.strip() == "Salt"
    assert "read.unknown-element" in {finding.kind for finding in edition.findings}


def test_a_note_between_the_items_of_a_list(tmp_path: Path) -> None:
    note = '<aside epub:type="footnote" id="n"><p>Salt</p></aside>'
    edition = converted(epub(tmp_path, f"<ol><li>Sea</li>{note}<li>Ebb</li></ol>"))
    assert body(edition)[:2] == ["⠼⠁⠲⠀⠠⠎⠑⠁", "⠼⠃⠲⠀⠠⠑⠃⠃"]


def test_a_book_in_its_own_title(tmp_path: Path) -> None:
    """Every volume repeats the title; one of 60 pages filled 60 of each volume's 80."""
    metadata = f"<dc:title>{'permit ' * 9000}</dc:title><dc:language>en</dc:language>"
    edition = converted(epub(tmp_path, "<p>Sea</p>", metadata=metadata))
    assert edition.totals.braille_pages < 10
    assert "read.long-description" in {finding.kind for finding in edition.findings}


def test_long_rights_are_no_matter_of_the_pages(tmp_path: Path) -> None:
    """No braille page shows them; a clean book with a paragraph of rights has nothing to tell."""
    metadata = f"<dc:title>T</dc:title><dc:rights>{'no right ' * 90}</dc:rights>"
    metadata += "<dc:language>en</dc:language>"
    edition = converted(epub(tmp_path, "<p>Sea</p>", metadata=metadata))
    assert "read.long-description" not in {finding.kind for finding in edition.findings}
    assert len(edition.document.meta.rights) > 800


def test_digits_of_other_scripts(tmp_path: Path) -> None:
    converted(epub(tmp_path, "<p>٣ 1٣ (١٢) १२.५ +٣٣ ٣٣ ٣٣٣</p>"))


@pytest.mark.parametrize("code", ["D800", "DFFF", "110000", "-1", "FFFFFFFFFFFFFFFFFFFF", "", "x"])
def test_codes_that_are_no_character(tmp_path: Path, code: str) -> None:
    sign = f'<w:r><w:sym w:font="Symbol" w:char="{code}"/></w:r>'
    assert converted(docx(tmp_path, p(sign))).document.ledger.text == "\ufffd\n"


def test_a_note_called_inside_a_field_without_end(tmp_path: Path) -> None:
    field = '<w:r><w:fldChar w:fldCharType="begin"/></w:r>'
    call = '<w:r><w:footnoteReference w:id="2"/></w:r>'
    note = f'<w:footnote w:id="2">{p("Salt.")}</w:footnote>'
    edition = converted(docx(tmp_path, p(r("Sea") + field + call), footnotes=note))
    assert "Salt." in edition.document.ledger.text


def test_a_note_mark_that_swallows_another_link(tmp_path: Path) -> None:
    """Broken markup (package 20832): the mark of one note held the marks of others."""
    marks = "".join(f'<a epub:type="noteref" href="#n{n}">{n}' for n in (2, 1))
    notes = "".join(
        f'<aside epub:type="footnote" id="n{n}"><p>{n} Low.</p></aside>' for n in (1, 2)
    )
    path = epub(tmp_path, f"<p>Sea{marks}</a></a></p>{notes}")
    assert not {f.kind for f in converted(path).findings if f.kind.startswith("print.")}


def test_names_that_xml_does_not_allow_in_a_formula_of_a_page(tmp_path: Path) -> None:
    path = tmp_path / "tides.html"
    formula = '<math><mfr&nbsp;ac a"b=1 xlink:href=x><mi>x</mi></mfr&nbsp;ac><1>2</math>'
    path.write_text(f"<p>Sea {formula} <svg><te&xt>Map</svg>")
    converted(path)
