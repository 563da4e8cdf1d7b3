"""Looks of Word documents for which braille has no sign, and lines that mean blanks
(ISO/IEC 29500-1, 17.3, 17.4)."""

from __future__ import annotations

from pathlib import Path

import pytest

from convert.findings import Findings

from .make import kinds, pack
from .make_docx import docx, draw, load, messages, p, part, r, relations, style

LINES = "<w:tblPr><w:tblBorders><w:top w:val='single'/></w:tblBorders></w:tblPr>"


def read(folder: Path, body: str, **parts: str) -> tuple[str, Findings]:
    document, findings = load(docx(folder, body, **parts))
    return draw(document), findings


# ---------------------------------------------------------------- runs (17.3.2)


@pytest.mark.parametrize(
    ("props", "kind", "words"),
    [
        ('<w:spacing w:val="60"/>', "docx.look", "spaced out"),
        ('<w:bdr w:val="single"/>', "docx.look", "in a box"),
        ('<w:shd w:val="clear" w:fill="FFFF00"/>', "docx.colour", "yellow (ground)"),
    ],
)
def test_a_look_without_a_sign_is_told(tmp_path: Path, props: str, kind: str, words: str) -> None:
    _, findings = read(tmp_path, p(r("Press ") + r("Enter", props) + r(" ", props)))
    assert kinds(findings) == [kind]
    assert f"{words} in 1 place" in messages(findings)[kind]


def test_small_spacing_and_grey_grounds_are_nothing(tmp_path: Path) -> None:
    even = '<w:spacing w:val="5"/><w:bdr w:val="nil"/><w:shd w:val="clear" w:fill="D9D9D9"/>'
    assert kinds(read(tmp_path, p(r("Enter", even)))[1]) == []


def test_two_grounds_of_one_pattern_are_two(tmp_path: Path) -> None:
    fill = '<w:shd w:val="clear" w:fill="{}"/>'
    body = p(r("a", fill.format("FF0000")) + r("b", fill.format("0000FF")) + r("c"))
    said = [finding.message for finding in read(tmp_path, body)[1].all()]
    assert ["red" in line for line in said] == [True, False]


def test_a_colour_of_a_style_of_one_s_own(tmp_path: Path) -> None:
    """A character style made for the purpose means more than a colour of the word processor's."""
    red = '<w:rPr><w:color w:val="FF0000"/></w:rPr>'
    own = style("Key word", red, "character").replace("<w:style ", '<w:style w:customStyle="1" ')
    body = p(r("ebb", '<w:rStyle w:val="Keyword"/>'))
    assert kinds(read(tmp_path, body, styles=own)[1]) == ["docx.colour"]
    assert kinds(read(tmp_path, body, styles=style("Key word", red, "character"))[1]) == []


@pytest.mark.parametrize(
    ("props", "drawn"),
    [
        ('<w:position w:val="6"/><w:sz w:val="14"/>', "'x' '2'/16"),
        ('<w:position w:val="-6"/><w:sz w:val="14"/>', "'x' '2'/32"),
        ('<w:position w:val="6"/>', "'x2'"),
        ('<w:position w:val="6"/><w:sz w:val="40"/>', "'x2'"),
    ],
)
def test_raised_or_lowered_and_smaller_is_a_script(tmp_path: Path, props: str, drawn: str) -> None:
    """17.3.2.24; a flattened 10² would be read as 102."""
    assert read(tmp_path, p(r("x") + r("2", props)))[0] == f"Paragraph {drawn}"


# ---------------------------------------------------------------- paragraphs (17.3.1)


@pytest.mark.parametrize(
    ("props", "how"),
    [
        ('<w:shd w:val="clear" w:fill="D9D9D9"/>', "a ground in light grey"),
        (
            '<w:pBdr><w:top w:val="single"/><w:bottom w:val="single"/></w:pBdr>',
            "lines above and below",
        ),
        ('<w:framePr w:w="900" w:hAnchor="margin" w:x="-2000"/>', "a frame beside the text"),
    ],
)
def test_a_paragraph_set_off_is_told(tmp_path: Path, props: str, how: str) -> None:
    drawn, findings = read(tmp_path, p("Ebb") + p("Mind the tide", "", props) + p("Flow"))
    assert drawn == "Paragraph 'Ebb'\nParagraph 'Mind the tide'\nParagraph 'Flow'"
    assert how in messages(findings)["docx.set-off"]


@pytest.mark.parametrize("fill", ["auto", "FFFFFF", "000000"])
def test_a_ground_like_paper_is_nothing(tmp_path: Path, fill: str) -> None:
    shaded = p("a", "", f'<w:shd w:val="clear" w:fill="{fill}"/>')
    assert kinds(read(tmp_path, shaded)[1]) == []


RULED = '<w:pBdr><w:bottom w:val="single"/></w:pBdr>'


def test_an_empty_paragraph_over_a_line(tmp_path: Path) -> None:
    """A blank to fill in where something is asked, else a break (common practice, no source)."""
    body = p("Name:") + p("", "", RULED) + p("", "", RULED) + p("The end.") + p("", "", RULED)
    assert read(tmp_path, body + p("More"))[0] == (
        "Paragraph 'Name:'\nParagraph <line: >\nParagraph <line: >\nParagraph 'The end.'\n"
        "ContextBreak\nParagraph 'More'"
    )


@pytest.mark.parametrize("leader", ["dot", "hyphen", "middleDot"])
def test_a_leader_that_leads_nowhere_is_a_blank(tmp_path: Path, leader: str) -> None:
    tabs = f'<w:tabs><w:tab w:val="right" w:leader="{leader}" w:pos="5000"/></w:tabs>'
    named, priced = "<w:r><w:t>Name</w:t><w:tab/></w:r>", "<w:r><w:t>Soup</w:t><w:tab/></w:r>"
    body = p(named, "", tabs) + p(priced + r("3"), "", tabs)
    assert read(tmp_path, body)[0] == "Paragraph 'Name' <line: \t>\nParagraph 'Soup\t3'"


def test_a_bar_is_no_place_for_a_tab(tmp_path: Path) -> None:
    """17.18.84: a bar is a line in print, and no tab stops there."""
    tabs = (
        '<w:tabs><w:tab w:val="bar" w:pos="500"/>'
        '<w:tab w:val="right" w:leader="underscore" w:pos="5000"/></w:tabs>'
    )
    body = p("<w:r><w:t>Name</w:t><w:tab/><w:t>x</w:t></w:r>", "", tabs)
    assert read(tmp_path, body)[0] == "Paragraph 'Name' <line: \t> 'x'"


@pytest.mark.parametrize("props", ['<w:jc w:val="center"/>', ""], ids=["centred", "large"])
def test_a_line_that_stands_out_may_be_a_heading(tmp_path: Path, props: str) -> None:
    head = r("The Ebb") if props else r("The Ebb", '<w:sz w:val="36"/>')
    _, findings = read(tmp_path, p(head, "", props) + p("The boats come home."))
    assert kinds(findings) == ["docx.maybe-heading"]
    same = p(r("The boats are out", "" if props else '<w:sz w:val="36"/>'), "", props)
    assert kinds(read(tmp_path, p(head, "", props) + same)[1]) == []


def test_the_last_of_many_centred_lines_is_no_heading(tmp_path: Path) -> None:
    """An invitation or a verse; a title of two lines may be one.  Common practice, no source."""
    lines = [p(r(f"line {at}"), "", '<w:jc w:val="center"/>') for at in range(3)]
    text = p("The boats come home.")
    assert kinds(read(tmp_path, "".join(lines) + text)[1]) == []
    assert kinds(read(tmp_path, "".join(lines[:2]) + text)[1]) == ["docx.maybe-heading"]


def test_line_numbers_in_the_margin_are_told(tmp_path: Path) -> None:
    _, findings = read(tmp_path, p("a") + '<w:sectPr><w:lnNumType w:countBy="5"/></w:sectPr>')
    assert kinds(findings) == ["docx.line-numbers"]


# ---------------------------------------------------------------- tables (17.4)


def tbl(*rows: str, props: str = LINES) -> str:
    return f"<w:tbl>{props}{''.join(f'<w:tr>{row}</w:tr>' for row in rows)}</w:tbl>"


def tc(words: str, props: str = "") -> str:
    return f"<w:tc><w:tcPr>{props}</w:tcPr>{p(words)}</w:tc>"


def test_a_hidden_row_is_left_out(tmp_path: Path) -> None:
    """17.4.20."""
    rows = (tc("a") + tc("b"), "<w:trPr><w:hidden/></w:trPr>" + tc("key") + tc("sea"), tc("c"))
    drawn, findings = read(tmp_path, tbl(*rows))
    assert "key" not in drawn
    assert "docx.hidden-text" in kinds(findings)


@pytest.mark.parametrize(("view", "gone"), [("accepted", "cellDel"), ("original", "cellIns")])
def test_an_entry_the_view_does_not_have(tmp_path: Path, view: str, gone: str) -> None:
    """17.13.5.1, 17.13.5.2."""
    body = tbl(tc("old", f'<w:{gone} w:id="1" w:author="Ann"/>') + tc("b") + tc("c"))
    document, findings = load(docx(tmp_path, body), revisions=view)
    assert "old" not in draw(document)
    assert kinds(findings) == ["docx.revisions"]


def test_an_empty_entry_over_a_line_is_a_blank(tmp_path: Path) -> None:
    line = '<w:tcBorders><w:top w:val="nil"/><w:bottom w:val="single"/></w:tcBorders>'
    drawn, _ = read(tmp_path, tbl(tc("Name") + tc("", line), tc("Port") + tc("Dover", line)))
    assert drawn.count("<line: >") == 1
    assert "'Dover'" in drawn


def test_a_line_below_the_rest_of_a_merged_entry_is_no_blank(tmp_path: Path) -> None:
    """17.4, vMerge: the line is of the entry the merge began with, which has its words."""
    line = '<w:tcBorders><w:bottom w:val="single"/></w:tcBorders>'
    rows = (
        tc("Name", '<w:vMerge w:val="restart"/>') + tc("Port"),
        tc("", f"<w:vMerge/>{line}") + tc("Dover"),
    )
    drawn, _ = read(tmp_path, tbl(*rows))
    assert "<line" not in drawn


def test_the_ground_of_an_entry_is_told_but_not_of_headings(tmp_path: Path) -> None:
    ground = '<w:shd w:val="clear" w:fill="FF0000"/>'
    heads = tc("Sea", ground) + tc("Tide", ground)
    _, findings = read(tmp_path, tbl(heads, tc("North") + tc("high", ground)))
    assert "red (ground) in 1 place" in messages(findings)["docx.colour"]


# ---------------------------------------------------------------- what stands beside the text


def test_comments_are_quoted(tmp_path: Path) -> None:
    """They may be meant for the transcriber."""
    body = p(r("a") + '<w:r><w:commentReference w:id="0"/></w:r>')
    said = "".join(
        f'<w:comment w:id="{n}" w:author="Ann">{p(f"Skip {n}")}</w:comment>' for n in range(22)
    )
    told = messages(read(tmp_path, body, comments=said)[1])["docx.comments"]
    assert "Ann: Skip 0; Ann: Skip 1;" in told
    assert "and 2 more" in told
    assert "missing" in messages(read(tmp_path, body)[1])["docx.comments"]


def test_a_watermark_is_told_with_the_headers(tmp_path: Path) -> None:
    """A watermark is a shape in a header; of two forms of one text box the first counts."""
    twice = (
        "<w:r><mc:AlternateContent><mc:Choice Requires='wps'>{0}</mc:Choice><mc:Fallback>{0}"
        "</mc:Fallback></mc:AlternateContent></w:r>"
    ).format(r("Harbour News"))
    mark = '<w:r><w:pict><v:shape><v:textpath string="DRAFT"/></v:shape></w:pict></w:r>'
    path = docx(tmp_path, p("a"), header=p(mark + twice))
    assert "“DRAFT Harbour News”" in messages(load(path)[1])["docx.headers"]


@pytest.mark.parametrize(
    ("target", "told"), [("https://a.example/x.dotx", True), ("x.dotx", False)]
)
def test_a_template_at_an_address_is_told(tmp_path: Path, target: str, told: bool) -> None:
    """Never fetched (ISO/IEC 29500-1, 17.15.1.6)."""
    row = relations(("t", "attachedTemplate", target)).replace('"/>', '" TargetMode="External"/>')
    files = {
        "[Content_Types].xml": "<Types/>",
        "_rels/.rels": relations(("m", "officeDocument", "word/document.xml")),
        "word/document.xml": part("document", f"<w:body>{p('a')}</w:body>"),
        "word/settings.xml": part("settings", ""),
        "word/_rels/settings.xml.rels": row,
    }
    found = kinds(load(pack(tmp_path / "harbour.docx", files))[1])
    assert ("docx.outside-matter" in found) == told


def test_changes_of_looks_are_counted(tmp_path: Path) -> None:
    change = '<w:rPrChange w:id="1" w:author="Ann"><w:rPr/></w:rPrChange>'
    path = docx(tmp_path, p(r("a", f"<w:b/>{change}")))
    assert "1 changes of looks" in messages(load(path)[1])["docx.revisions"]
    told = messages(load(path, revisions="original")[1])["docx.revisions"]
    assert "but in its new looks" in told


@pytest.mark.parametrize("pages", [1, 7])
def test_recorded_pages_are_compared_with_what_the_file_says(tmp_path: Path, pages: int) -> None:
    """17.3.3.13; the number of pages stands in the file's properties and may be stale."""
    turn = "<w:r><w:lastRenderedPageBreak/></w:r>"
    stated = "http://schemas.openxmlformats.org/officeDocument/2006/extended-properties"
    files = {
        "[Content_Types].xml": "<Types/>",
        "_rels/.rels": relations(
            ("m", "officeDocument", "word/document.xml"),
            ("a", "extended-properties", "docProps/app.xml"),
        ),
        "word/document.xml": part("document", f"<w:body>{p(r('a') + turn + r('b'))}</w:body>"),
        "docProps/app.xml": f'<Properties xmlns="{stated}"><Pages>{pages + 1}</Pages></Properties>',
    }
    _, findings = load(pack(tmp_path / "harbour.docx", files), document_pages=True)
    told = messages(findings)["docx.document-pages"]
    assert ("the file says it has 8, and 2 begin here" in told) == (pages == 7)


def test_pictures_that_play_prompt_or_stand_elsewhere(tmp_path: Path) -> None:
    film = "http://schemas.microsoft.com/office/word/2012/wordprocessingDrawing"
    inside = '<a:graphic><a:graphicData>{}<pic:pic><pic:blipFill><a:blip r:{}="i"/></pic:blipFill>'
    shape = (
        '<w:r><w:drawing><wp:inline><wp:docPr id="1" name="x" descr="{}"/>'
        + inside
        + "</pic:pic></a:graphicData></a:graphic></wp:inline></w:drawing></w:r>"
    )
    plays = shape.format("A pier", f'<x:webVideoPr xmlns:x="{film}"/>', "embed")
    _, findings = read(tmp_path, p(plays))
    assert "a film" in messages(findings)["docx.object"]
    made = shape.format("A cat. AI-generated content may be incorrect.", "", "embed")
    assert "docx.draft-alt" in kinds(read(tmp_path, p(made))[1])
    control = (
        "<w:sdt><w:sdtPr><w:showingPlcHdr/><w:picture/></w:sdtPr>"
        f"<w:sdtContent>{shape.format('', '', 'embed')}</w:sdtContent></w:sdt>"
    )
    drawn, findings = read(tmp_path, p(control))
    assert drawn == "Paragraph"
    assert kinds(findings) == ["docx.prompt"]
