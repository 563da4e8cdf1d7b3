"""Paragraphs of Word documents: styles, looks, wrappers, revisions (ISO/IEC 29500-1, 17)."""

from __future__ import annotations

from pathlib import Path

import pytest

from convert.errors import SourceError

from .make import kinds
from .make_docx import docx, draw, load, messages, p, r, style


def tree(folder: Path, body: str, **parts: str) -> str:
    return draw(load(docx(folder, body, **parts))[0])


# ---------------------------------------------------------------- styles (17.7)


def test_heading_by_name_when_the_id_is_translated(tmp_path: Path) -> None:
    styles = style("heading 2", style_id="berschrift2") + style("Title", style_id="Titel")
    body = p("Tides", "Titel") + p("Ebb", "berschrift2")
    assert tree(tmp_path, body, styles=styles) == (
        "Heading level=1 role=title 'Tides'\nHeading level=2 'Ebb'"
    )


def test_a_style_based_on_a_heading_is_a_heading(tmp_path: Path) -> None:
    styles = style("heading 1") + style("Harbour", '<w:basedOn w:val="heading1"/>')
    assert tree(tmp_path, p("Piers", "Harbour"), styles=styles) == "Heading level=1 'Piers'"


def test_outline_level_alone_makes_a_heading(tmp_path: Path) -> None:
    body = p("Locks", props='<w:outlineLvl w:val="2"/>') + p("x", props='<w:outlineLvl w:val="9"/>')
    assert tree(tmp_path, body) == "Heading level=3 'Locks'\nParagraph 'x'"


def test_styles_in_a_loop_are_cut(tmp_path: Path) -> None:
    styles = style("A", '<w:basedOn w:val="B"/>') + style("B", '<w:basedOn w:val="A"/>')
    assert tree(tmp_path, p("round", "A"), styles=styles) == "Paragraph 'round'"


@pytest.mark.parametrize(
    "direct, shown",
    [
        ("", "'tide'"),  # bold twice cancels (17.7.3)
        ("<w:b/>", "'tide'/2"),  # direct formatting is absolute
        ('<w:b w:val="0"/>', "'tide'"),
    ],
)
def test_toggle_parity(tmp_path: Path, direct: str, shown: str) -> None:
    bold = "<w:rPr><w:b/></w:rPr>"
    styles = style("Loud", bold) + style("Strong", bold, "character")
    run = r("tide", f'<w:rStyle w:val="Strong"/>{direct}')
    assert tree(tmp_path, p(run, "Loud"), styles=styles) == f"Paragraph {shown}"


def test_the_nearest_style_of_a_chain_wins(tmp_path: Path) -> None:
    styles = style("Up", "<w:rPr><w:i/></w:rPr>") + style(
        "Down", '<w:basedOn w:val="Up"/><w:rPr><w:i w:val="off"/></w:rPr>'
    )
    body = p("a", "Up") + p("b", "Down")
    assert tree(tmp_path, body, styles=styles) == "Paragraph 'a'/1\nParagraph 'b'"


def test_document_defaults_and_character_style(tmp_path: Path) -> None:
    styles = "<w:docDefaults><w:rPrDefault><w:rPr><w:i/></w:rPr></w:rPrDefault></w:docDefaults>"
    body = p(r("a") + r("b", '<w:i w:val="false"/>'))
    assert tree(tmp_path, body, styles=styles) == "Paragraph 'a'/1 'b'"


def test_the_bold_of_a_heading_style_is_not_emphasis(tmp_path: Path) -> None:
    styles = style("heading 1", "<w:rPr><w:b/></w:rPr>")
    body = p(r("Low ") + r("Water", "i"), "heading1")
    assert tree(tmp_path, body, styles=styles) == "Heading level=1 'Low ' 'Water'/1"


def test_quotations_stand_together_and_links_are_not_underlined(tmp_path: Path) -> None:
    styles = style("Quote", "<w:rPr><w:i/></w:rPr>") + style(
        "Hyperlink", '<w:rPr><w:u w:val="single"/></w:rPr>', "character"
    )
    link = f"<w:hyperlink>{r('pilots', '<w:rStyle w:val=&quot;Hyperlink&quot;/>')}</w:hyperlink>"
    body = p("One.", "Quote") + p("Two.", "Quote") + p(r("Ask the ") + link.replace("&quot;", '"'))
    assert tree(tmp_path, body, styles=styles) == (
        "Displayed role=quotation\n  Paragraph 'One.'\n  Paragraph 'Two.'\n"
        "Paragraph 'Ask the pilots'"
    )


# ---------------------------------------------------------------- looks of runs (17.3.2)


@pytest.mark.parametrize(
    "props, shown",
    [
        ("b", "'tide'/2"),
        ("i b", "'tide'/3"),
        ('<w:u w:val="double"/>', "'tide'/4"),
        ('<w:u w:val="none"/>', "'tide'"),
        ('<w:vertAlign w:val="superscript"/>', "'tide'/16"),
        ('<w:vertAlign w:val="subscript"/>', "'tide'/32"),
        ("smallCaps", "'tide'/64"),
        ("strike", "'tide'/128"),
        ("caps", "'TIDE'"),  # print shows capitals
        ('<w:u w:val="weird"/><w:sz w:val="abc"/><w:color w:val="ZZZ"/>', "'tide'/4"),
    ],
)
def test_typeforms(tmp_path: Path, props: str, shown: str) -> None:
    assert tree(tmp_path, p(r("tide", props))) == f"Paragraph {shown}"


def test_a_word_in_five_runs_is_one_run(tmp_path: Path) -> None:
    cut = '<w:proofErr w:type="spellStart"/>'.join(
        r(bit, "noProof") for bit in ["h", "a", "r", "bo", "ur"]
    )
    assert tree(tmp_path, p(cut + r("s"))) == "Paragraph 'harbours'"


def test_hidden_text_is_left_out_and_told(tmp_path: Path) -> None:
    body = p(r("Open") + r(" never", "vanish") + r(" daily"))
    document, findings = load(docx(tmp_path, body))
    assert draw(document) == "Paragraph 'Open' ' daily'"
    assert document.ledger.text == "Open never daily\n"
    assert [(o.start, o.end, o.why) for o in document.omissions] == [(4, 10, "docx.hidden-text")]
    assert kinds(findings) == ["docx.hidden-text"]


def test_colour_is_reported(tmp_path: Path) -> None:
    red, space = r("now", '<w:color w:val="C00000"/>'), r(" ", '<w:color w:val="0000FF"/>')
    marked = r("here", '<w:highlight w:val="darkYellow"/>')
    _, findings = load(docx(tmp_path, p(red + space + marked + r("x", '<w:color w:val="auto"/>'))))
    assert kinds(findings) == ["docx.colour"]
    said = [f.message for f in findings.all() if f.kind == "docx.colour"]
    assert "the colour red in 1" in said[0]
    assert "the colour dark yellow (highlighting)" in said[1]


def test_a_language_that_is_not_the_document_s(tmp_path: Path) -> None:
    styles = (
        '<w:docDefaults><w:rPrDefault><w:rPr><w:lang w:val="en-GB"/></w:rPr></w:rPrDefault>'
        "</w:docDefaults>"
    )
    body = p(
        r("the ") + r("Hafen", '<w:lang w:val="de-DE"/>') + r(" is", '<w:lang w:val="en-US"/>')
    )
    assert tree(tmp_path, body, styles=styles) == "Paragraph 'the ' 'Hafen'@de ' is'"


def test_a_document_wholly_marked_in_another_language_has_one(tmp_path: Path) -> None:
    styles = (
        '<w:docDefaults><w:rPrDefault><w:rPr><w:lang w:val="en-US"/></w:rPr></w:rPrDefault>'
        "</w:docDefaults>"
    )
    body = p(r("Le port", '<w:lang w:val="fr-FR"/>'))
    assert tree(tmp_path, body, styles=styles) == "Paragraph 'Le port'"


# ---------------------------------------------------------------- symbol fonts (17.3.3.30)


def test_symbol_fonts_are_mapped_by_font_and_code(tmp_path: Path) -> None:
    font = '<w:rFonts w:ascii="{0}" w:hAnsi="{0}"/>'
    body = p(
        '<w:r><w:sym w:font="Symbol" w:char="F0B3"/></w:r>'
        + r("a", font.format("Symbol"))
        + r("\uf0e0", font.format("Wingdings"))
        + r("3", font.format("Symbol"))
        + r("\uf081", font.format("Wingdings"))
        + r("\uf06b", font.format("Wingdings 2"))
        + r("\uf046\uf0ab\uf0b7\uf0df", font.format("Wingdings"))
    )
    document, findings = load(docx(tmp_path, body))
    assert draw(document) == "Paragraph '≥α→3①②☞★🕐←'"
    assert kinds(findings) == []


def test_a_bullet_that_lost_its_font_is_a_bullet(tmp_path: Path) -> None:
    document, findings = load(docx(tmp_path, p("\uf0b7 Ebb and \uf0a7 flow")))
    assert draw(document) == "Paragraph '• Ebb and ▪ flow'"
    assert kinds(findings) == ["docx.bullet"]


def test_an_unknown_glyph_is_kept_and_reported(tmp_path: Path) -> None:
    body = p('<w:r><w:sym w:font="Wingdings 3" w:char="F021"/></w:r>' + r("\uf07a"))
    document, findings = load(docx(tmp_path, body))
    assert document.ledger.text == "\uf021\uf07a\n"
    said = [f.message for f in findings.all() if f.kind == "docx.symbol"]
    assert "code F021 of the font Wingdings 3" in said[0]
    assert "code F07A of the font none" in said[1]


# ---------------------------------------------------------------- wrappers (none may drop text)


@pytest.mark.parametrize(
    "wrapped",
    [
        "<w:smartTag>{}</w:smartTag>",
        '<w:customXml w:element="x">{}</w:customXml>',
        "<w:dir>{}</w:dir>",
        "<w:bdo>{}</w:bdo>",
        "<w:hyperlink>{}</w:hyperlink>",
        '<w:fldSimple w:instr=" AUTHOR ">{}</w:fldSimple>',
        "<w:sdt><w:sdtPr/><w:sdtContent>{}</w:sdtContent></w:sdt>",
        '<w:ins w:author="A">{}</w:ins>',
        '<w:moveTo w:author="A">{}</w:moveTo>',
        "<w:smartTag><w:smartTag>{}</w:smartTag></w:smartTag>",
    ],
)
def test_wrappers_inside_a_paragraph(tmp_path: Path, wrapped: str) -> None:
    body = p(r("low ") + wrapped.format(r("water")))
    assert tree(tmp_path, body) == "Paragraph 'low water'"


@pytest.mark.parametrize(
    "wrapped",
    [
        "<w:sdt><w:sdtContent>{}</w:sdtContent></w:sdt>",
        '<w:customXml w:element="x">{}</w:customXml>',
        '<mc:AlternateContent><mc:Choice Requires="wps">{}</mc:Choice>'
        "<mc:Fallback><w:p><w:r><w:t>twin</w:t></w:r></w:p></mc:Fallback></mc:AlternateContent>",
    ],
)
def test_wrappers_around_a_paragraph(tmp_path: Path, wrapped: str) -> None:
    assert tree(tmp_path, wrapped.format(p("water"))) == "Paragraph 'water'"


def test_an_element_no_rule_covers_keeps_its_words(tmp_path: Path) -> None:
    body = (
        p("<w:r><w:glitter><w:t>gold</w:t></w:glitter></w:r>") + f"<w:frame>{p('rust')}</w:frame>"
    )
    document, findings = load(docx(tmp_path, body))
    assert draw(document) == "Paragraph 'gold'\nUnknown\n  Paragraph 'rust'"
    assert kinds(findings) == ["docx.kept-as-words", "read.unknown-element"]


def test_special_characters_of_a_run(tmp_path: Path) -> None:
    inner = "<w:r><w:t>a</w:t><w:noBreakHyphen/><w:t>b</w:t><w:softHyphen/><w:t>c</w:t><w:tab/><w:t>d</w:t><w:br/><w:t>e</w:t></w:r>"  # noqa: E501
    assert tree(tmp_path, p(inner)) == "Paragraph 'a\u2011bc\td' / 'e'"


def test_computed_dates_are_reported(tmp_path: Path) -> None:
    _, findings = load(docx(tmp_path, p("<w:r><w:t>On </w:t><w:dayLong/></w:r>")))
    assert kinds(findings) == ["docx.computed-text"]


def test_ruby_gives_base_then_reading(tmp_path: Path) -> None:
    ruby = f"<w:r><w:ruby><w:rubyPr/><w:rt>{r('minato')}</w:rt><w:rubyBase>{r('港')}</w:rubyBase></w:ruby></w:r>"  # noqa: E501
    document, findings = load(docx(tmp_path, p(ruby)))
    assert draw(document) == "Paragraph '港' +( 'minato' +)"
    assert kinds(findings) == ["docx.ruby"]


def test_a_drop_capital_joins_its_paragraph(tmp_path: Path) -> None:
    body = p("T", props='<w:framePr w:dropCap="drop" w:lines="3"/>') + p("he tide")
    assert tree(tmp_path, body) == "Paragraph 'The tide'"


def test_white_space_at_the_ends_is_layout(tmp_path: Path) -> None:
    body = p("<w:r><w:tab/><w:t>  low  </w:t></w:r>" + r("water \u00a0"))
    assert tree(tmp_path, body) == "Paragraph 'low  water'"


# ---------------------------------------------------------------- tracked changes (17.13.5)

CHANGED = p(
    r("The tide ")
    + '<w:ins w:author="Ann">' + r("now ") + "</w:ins>"
    + '<w:del w:author="Bob"><w:r><w:delText>never </w:delText></w:r></w:del>'
    + r("turns.")
)  # fmt: skip


def test_revisions_accepted(tmp_path: Path) -> None:
    document, findings = load(docx(tmp_path, CHANGED))
    assert draw(document) == "Paragraph 'The tide now turns.'"
    assert messages(findings)["docx.revisions"] == (
        "The document has tracked changes: 1 insertions and 1 deletions by Ann, Bob. It was read "
        "with all changes made; 6 deleted characters left out."
    )


def test_revisions_original(tmp_path: Path) -> None:
    document, _ = load(docx(tmp_path, CHANGED), revisions="original")
    assert draw(document) == "Paragraph 'The tide ' 'never turns.'"
    assert [o.why for o in document.omissions] == ["docx.revisions"]


def test_revisions_refused(tmp_path: Path) -> None:
    with pytest.raises(SourceError, match=r"harbour\.docx has tracked changes"):
        load(docx(tmp_path, CHANGED), revisions="refuse")


def test_a_deleted_paragraph_mark_joins_two_paragraphs(tmp_path: Path) -> None:
    gone = '<w:rPr><w:del w:author="Bob"/></w:rPr>'
    body = p("high ", props=gone) + p("water") + p("end", props=gone)
    assert tree(tmp_path, body) == "Paragraph 'high water'\nParagraph 'end'"


def test_a_deleted_row_is_gone(tmp_path: Path) -> None:
    row = "<w:tr>{}<w:tc>" + p("x") + "</w:tc><w:tc>" + p("y") + "</w:tc></w:tr>"
    gone = '<w:trPr><w:del w:author="Bob"/></w:trPr>'
    body = f"<w:tbl>{row.format('')}{row.format(gone)}</w:tbl>"
    assert tree(tmp_path, body).count("TableRow") == 1


def test_comments_headers_and_macros_are_counted(tmp_path: Path) -> None:
    body = p(r("Sea") + '<w:r><w:commentReference w:id="1"/></w:r>')
    path = docx(
        tmp_path, body, header=p("Harbour News"), links="v1 vbaProject vbaProject.bin",
    )  # fmt: skip
    document, findings = load(path)
    assert draw(document) == "Paragraph 'Sea'"
    said = messages(findings)
    assert said["docx.comments"].startswith("The document has 1 comment,")
    assert "“Harbour News”" in said["docx.headers"]
    assert said["docx.macros"] == "The document contains macros; they were not run."
