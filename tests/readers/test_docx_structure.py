"""Tables, notes, boxes, pictures, mathematics and pages of Word documents."""

from __future__ import annotations

import time
import zipfile
from pathlib import Path

import pytest

import convert
from convert.document.nodes import (
    BOLD,
    DisplayMath,
    Graphic,
    MathRun,
    Paragraph,
    Table,
    TableRow,
    inlines_of,
    text_of,
    walk,
)
from convert.testing import uncovered

from .make import kinds, pack
from .make_docx import (
    TYPES,
    W_NAMES,
    docx,
    draw,
    load,
    messages,
    p,
    part,
    r,
    relations,
    style,
)

LINES = "<w:tblPr><w:tblBorders><w:top w:val='single'/></w:tblBorders></w:tblPr>"


def tree(folder: Path, body: str, **parts: str) -> str:
    return draw(load(docx(folder, body, **parts))[0])


def tc(text: str, props: str = "") -> str:
    return f"<w:tc><w:tcPr>{props}</w:tcPr>{p(text)}</w:tc>"


def tbl(*rows: str, props: str = LINES) -> str:
    made = "".join(row if row.startswith("<w:tr") else f"<w:tr>{row}</w:tr>" for row in rows)
    return f"<w:tbl>{props}<w:tblGrid/>{made}</w:tbl>"


# ---------------------------------------------------------------- tables (17.4)


def test_spans_in_both_directions(tmp_path: Path) -> None:
    body = tbl(
        tc("Port", '<w:vMerge w:val="restart"/>') + tc("Tides", '<w:gridSpan w:val="2"/>'),
        tc("", "<w:vMerge/>") + tc("Ebb") + tc("Flood"),
    )
    assert tree(tmp_path, body) == (
        "Table\n  TableRow\n    TableEntry rows=2\n      Paragraph 'Port'\n"
        "    TableEntry columns=2\n      Paragraph 'Tides'\n"
        "  TableRow\n    TableEntry\n      Paragraph 'Ebb'\n    TableEntry\n      Paragraph 'Flood'"
    )


def test_text_under_a_continued_merge_is_kept(tmp_path: Path) -> None:
    body = tbl(tc("a", '<w:vMerge w:val="restart"/>') + tc("b"), tc("c", "<w:vMerge/>") + tc("d"))
    assert "rows=2\n      Paragraph 'a'\n      Paragraph 'c'" in tree(tmp_path, body)


def test_a_row_that_begins_further_in(tmp_path: Path) -> None:
    late = '<w:tr><w:trPr><w:gridBefore w:val="2"/></w:trPr>' + tc("c") + "</w:tr>"
    drawn = tree(tmp_path, tbl(tc("x") + tc("y") + tc("z"), late))
    assert "  TableRow\n    TableEntry columns=2\n    TableEntry\n      Paragraph 'c'" in drawn


def test_columns_that_a_row_leaves_free_at_its_end_are_no_entries(tmp_path: Path) -> None:
    """17.4, gridAfter: print has nothing there, so there is no room to write in either."""
    short = '<w:tr><w:trPr><w:gridAfter w:val="2"/></w:trPr>' + tc("c") + "</w:tr>"
    drawn = tree(tmp_path, tbl(tc("x") + tc("y") + tc("z"), short))
    assert drawn.endswith("  TableRow\n    TableEntry\n      Paragraph 'c'")


def test_header_rows(tmp_path: Path) -> None:
    head = f"<w:tr><w:trPr><w:tblHeader/></w:trPr>{tc('Port')}{tc('Tide')}{tc('Hour')}</w:tr>"
    drawn = tree(tmp_path, tbl(head, tc("a") + tc("b") + tc("c")))
    assert drawn.count("TableRow head=True") == 1
    assert drawn.count("TableEntry head=True") == 3


def test_header_row_by_table_style(tmp_path: Path) -> None:
    bold = '<w:tblStylePr w:type="firstRow"><w:rPr><w:b/></w:rPr></w:tblStylePr>'
    lines = '<w:tblPr><w:tblBorders><w:top w:val="single"/></w:tblBorders></w:tblPr>'
    props = '<w:tblPr><w:tblStyle w:val="Chart"/><w:tblLook w:val="0020"/></w:tblPr>'
    body = tbl(tc("a") + tc("b"), tc("c") + tc("d"), props=props)
    drawn = tree(tmp_path, body, styles=style("Chart", lines + bold, "table"))
    assert drawn.startswith("Table\n  TableRow head=True")


def _look(*kinds: str, props: str = "<w:b/>") -> str:
    rows = [f'<w:tblStylePr w:type="{k}"><w:rPr>{props}</w:rPr></w:tblStylePr>' for k in kinds]
    lines = '<w:tblPr><w:tblBorders><w:top w:val="single"/></w:tblBorders></w:tblPr>'
    return style("Chart", lines + "".join(rows), "table")


@pytest.mark.parametrize(
    ("flags", "drawn_first", "drawn_last"),
    [
        ('w:val="01E0"', ["a", "b", "c", "e"], ["d", "e", "f"]),  # all four, in the older form
        ('w:firstColumn="1"', ["a", "c", "e"], []),
        ('w:lastRow="1" w:lastColumn="1"', [], ["b", "d", "e", "f"]),
        ('w:val="0600"', [], []),
    ],
)
def test_first_and_last_row_and_column_by_table_style(
    tmp_path: Path, flags: str, drawn_first: list[str], drawn_last: list[str]
) -> None:
    """ISO/IEC 29500-1, 17.4.55 (tblLook) and 17.7.6: which of them the table asks for, and what
    its style does to them.  Headings are those that look so; the rest keeps its typeform."""
    props = f'<w:tblPr><w:tblStyle w:val="Chart"/><w:tblLook {flags}/></w:tblPr>'
    body = tbl(tc("a") + tc("b"), tc("c") + tc("d"), tc("e") + tc("f"), props=props)
    looks = _look("firstRow", "firstCol", "lastRow", "lastCol")
    document, _ = load(docx(tmp_path, body, styles=looks))
    (table,) = document.children
    assert isinstance(table, Table)
    heads, bold = [], []
    for entry in (e for row in table.children if isinstance(row, TableRow) for e in row.entries):
        (paragraph,) = entry.children
        word = text_of(inlines_of(paragraph), document.ledger)
        heads += [word] if entry.head else []
        bold += (
            [word] if any(getattr(r, "typeform", 0) & BOLD for r in inlines_of(paragraph)) else []
        )
    assert (heads, bold) == (drawn_first, drawn_last)


def test_a_shaded_first_row_is_of_headings(tmp_path: Path) -> None:
    part = (
        '<w:tblStylePr w:type="firstRow"><w:tcPr><w:shd w:fill="000000"/></w:tcPr></w:tblStylePr>'
    )
    lines = '<w:tblPr><w:tblBorders><w:top w:val="single"/></w:tblBorders></w:tblPr>'
    props = '<w:tblPr><w:tblStyle w:val="Chart"/><w:tblLook w:firstRow="1"/></w:tblPr>'
    body = tbl(tc("a") + tc("b"), tc("c") + tc("d"), props=props)
    drawn = tree(tmp_path, body, styles=style("Chart", lines + part, "table"))
    assert drawn.startswith("Table\n  TableRow head=True")


def test_nested_tables_stay_inside_their_entry(tmp_path: Path) -> None:
    inner = f"<w:tc>{p('out')}{tbl(tc('in') + tc('side'))}{p('')}</w:tc>"
    drawn = tree(tmp_path, tbl(inner + tc("b")))
    assert "      Paragraph 'out'\n      Table\n        TableRow" in drawn


def test_a_table_of_one_entry_is_a_box_or_nothing(tmp_path: Path) -> None:
    document, findings = load(
        docx(tmp_path, tbl(tc("boxed")) + p("between") + tbl(tc("bare"), props=""))
    )
    assert draw(document) == (
        "Box role=box\n  Paragraph 'boxed'\nParagraph 'between'\nParagraph 'bare'"
    )
    assert kinds(findings) == ["docx.layout-table"]


def test_two_columns_without_lines_are_kept_and_reported(tmp_path: Path) -> None:
    document, findings = load(docx(tmp_path, tbl(tc("a") + tc("b"), props="")))
    assert draw(document).startswith("Table")
    assert kinds(findings) == ["docx.table-without-lines"]


def test_words_that_stand_outside_every_entry_are_kept(tmp_path: Path) -> None:
    stray = f"<w:tbl>{LINES}<w:stray>{r('adrift')}</w:stray></w:tbl>"
    assert tree(tmp_path, stray) == "Paragraph 'adrift'"


def test_the_description_of_a_table_is_told(tmp_path: Path) -> None:
    props = LINES.replace("</w:tblPr>", '<w:tblDescription w:val="Tides by hour"/></w:tblPr>')
    _, findings = load(docx(tmp_path, tbl(tc("a") + tc("b"), props=props)))
    assert "Tides by hour" in messages(findings)["docx.table-alt"]


def test_a_tall_merge_takes_no_time(tmp_path: Path) -> None:
    rows = [tc("", "<w:vMerge/>") + tc(str(n)) for n in range(5000)]
    body = tbl(tc("a", '<w:vMerge w:val="restart"/>') + tc("b"), *rows)
    path = docx(tmp_path, body)
    began = time.process_time()
    document, _ = load(path)
    assert time.process_time() - began < 5  # linear; a quadratic grid takes minutes
    assert draw(document).startswith("Table\n  TableRow\n    TableEntry rows=5001")


# ---------------------------------------------------------------- notes (17.11)

NOTES = (
    '<w:footnote w:type="separator" w:id="-1"><w:p><w:r><w:separator/></w:r></w:p></w:footnote>'
    f'<w:footnote w:id="2">{p("<w:r><w:footnoteRef/></w:r>" + r(" Low water."))}</w:footnote>'
    f'<w:footnote w:id="3">{p(r("* Springs."))}</w:footnote>'
)


def notes(*names: int) -> str:
    return "".join(f'<w:footnote w:id="{n}">{p(f"Note {n}.")}</w:footnote>' for n in names)


def call(name: int, kind: str = "footnote", more: str = "") -> str:
    return f'<w:r><w:{kind}Reference w:id="{name}" {more}/></w:r>'


def test_a_footnote_stands_after_the_paragraph_that_calls_it(tmp_path: Path) -> None:
    body = p(r("Ebb") + call(2) + r(" ends.")) + p("Next")
    assert tree(tmp_path, body, footnotes=NOTES[: NOTES.rindex("<w:footnote ")]) == (
        "Paragraph 'Ebb' ^1 ' ends.'\n"
        "Footnote kind=foot id=footnote-2 '1'\n  Paragraph 'Low water.'\n"
        "Paragraph 'Next'"
    )


RAISED = '<w:rPr><w:vertAlign w:val="superscript"/></w:rPr>'


@pytest.mark.parametrize(
    ("own", "mark"),
    [
        (f"<w:r>{RAISED}<w:footnoteRef/></w:r>", "'1'/16"),
        ("<w:r><w:footnoteRef/></w:r>", "'1'"),
        ("", "'1'/16"),
    ],
    ids=["raised", "on the line", "not said"],
)
def test_the_number_of_a_note_stands_as_print_has_it(tmp_path: Path, own: str, mark: str) -> None:
    """Braille Formats 2016, section 16: marks follow print, at the note as at its call."""
    note = f'<w:footnote w:id="2">{p(own + r(" Low water."))}</w:footnote>'
    drawn = tree(tmp_path, p(r("Ebb") + call(2)), footnotes=note)
    assert drawn.splitlines()[1] == f"Footnote kind=foot id=footnote-2 {mark}"


def test_a_sign_that_marks_a_note_is_not_raised(tmp_path: Path) -> None:
    """An asterisk or dagger stands on the line at its call, so at its note."""
    form = '<w:footnotePr><w:numFmt w:val="chicago"/></w:footnotePr>'
    note = (
        f'<w:footnote w:id="2">{p(f"<w:r>{RAISED}<w:footnoteRef/></w:r>" + r("Low"))}</w:footnote>'
    )
    drawn = tree(tmp_path, p(r("Ebb") + call(2)), footnotes=note, settings=form)
    assert drawn.splitlines()[1] == "Footnote kind=foot id=footnote-2 '*'"


def test_a_note_with_a_mark_of_its_own(tmp_path: Path) -> None:
    body = p(r("Ebb") + call(3, more='w:customMarkFollows="1"') + r("*"))
    drawn = tree(tmp_path, body, footnotes=NOTES)
    assert "Paragraph 'Ebb' ^ '*'\nFootnote kind=foot id=footnote-3\n" in drawn


def test_a_note_called_twice_is_read_once(tmp_path: Path) -> None:
    drawn = tree(tmp_path, p(r("a") + call(2)) + p(r("b") + call(2)), footnotes=NOTES)
    assert drawn.count("'Low water.'") == 1
    assert "Paragraph 'b' ^1" in drawn


def test_endnotes_count_in_small_roman_numerals(tmp_path: Path) -> None:
    ends = f'<w:endnote w:id="1">{p("One")}</w:endnote><w:endnote w:id="2">{p("Two")}</w:endnote>'
    body = p(r("a") + call(1, "endnote") + r("b") + call(2, "endnote"))
    drawn = tree(tmp_path, body, endnotes=ends)
    assert "'a' ^i 'b' ^ii" in drawn
    assert "Footnote kind=end id=endnote-2 'ii'" in drawn


def test_number_format_start_and_restart_of_notes(tmp_path: Path) -> None:
    rule = (
        '<w:footnotePr><w:numFmt w:val="upperLetter"/><w:numStart w:val="3"/>'
        '<w:numRestart w:val="eachPage"/></w:footnotePr>'
    )
    path = docx(tmp_path, p(r("a") + call(2)), footnotes=NOTES, settings=rule)
    document, findings = load(path)
    assert "^C" in draw(document)
    assert "numbered through" in messages(findings)["docx.note-restart"]


def _end(rule: str) -> str:
    return f'<w:sectPr><w:footnotePr><w:numRestart w:val="{rule}"/></w:footnotePr></w:sectPr>'


def test_notes_numbered_anew_in_each_section(tmp_path: Path) -> None:
    """ISO/IEC 29500-1, 17.11.19: the properties of a section stand in its last paragraph."""
    sections = p(r("a") + call(2)) + p(r("b") + call(3), props=_end("eachSect"))
    body = sections + p(r("c") + call(4)) + _end("eachSect")
    document, findings = load(docx(tmp_path, body, footnotes=notes(2, 3, 4)))
    drawn = draw(document)
    assert [drawn.count(mark) for mark in ("^1", "^2", "^3")] == [2, 1, 0]
    assert "docx.note-restart" not in kinds(findings)


def test_notes_numbered_anew_on_each_recorded_page(tmp_path: Path) -> None:
    """ISO/IEC 29500-1, 17.11.19 with the record of pages, 17.3.3.13."""
    turn = "<w:r><w:lastRenderedPageBreak/></w:r>"
    body = p(r("a") + call(2) + r("b") + call(3)) + p(r("c") + turn + r("d") + call(4))
    document, findings = load(docx(tmp_path, body + _end("eachPage"), footnotes=notes(2, 3, 4)))
    drawn = draw(document)
    assert [drawn.count(mark) for mark in ("^1", "^2", "^3")] == [2, 1, 0]
    assert "record of its pages" in messages(findings)["docx.note-restart"]


def test_a_section_may_have_a_number_format_of_its_own(tmp_path: Path) -> None:
    form = '<w:sectPr><w:footnotePr><w:numFmt w:val="{}"/></w:footnotePr></w:sectPr>'
    body = p(r("a") + call(2), props=form.format("upperLetter")) + p(r("b") + call(3))
    drawn = tree(tmp_path, body + form.format("lowerRoman"), footnotes=notes(2, 3))
    assert "^A" in drawn
    assert "^ii" in drawn


def test_a_note_called_inside_an_expression(tmp_path: Path) -> None:
    """ISO/IEC 29500-1, 22.1.2.87: a run of mathematics may hold what a run of text may."""
    call_in = (
        '<m:r><m:t>x</m:t></m:r><m:r><w:footnoteReference w:id="2"/></m:r><m:r><m:t>+1</m:t></m:r>'
    )
    document, _ = load(docx(tmp_path, p(f"<m:oMath>{call_in}</m:oMath>"), footnotes=NOTES))
    drawn = draw(document)
    assert drawn.splitlines()[0] == "Paragraph MathRun'x+1' ^1"
    assert "Footnote" in drawn


def test_a_note_nothing_calls_is_kept_at_the_end(tmp_path: Path) -> None:
    drawn = tree(tmp_path, p("a"), footnotes=NOTES)
    assert drawn.startswith("Paragraph 'a'\nFootnote kind=foot id=footnote-2")


def test_pieces_of_a_note_name_its_part(tmp_path: Path) -> None:
    document, _ = load(docx(tmp_path, p(r("a") + call(2)), footnotes=NOTES))
    at = document.ledger.text.index("Low")
    assert document.ledger.address(at) == "word/footnotes.xml!/4/2/4/2:1"


# ---------------------------------------------------------------- boxes and set-off matter


def test_paragraphs_of_one_border_are_one_box(tmp_path: Path) -> None:
    sides = "".join(f'<w:{s} w:val="single"/>' for s in ("top", "left", "bottom", "right"))
    frame = f"<w:pBdr>{sides}</w:pBdr>"
    body = (
        p("a", props=frame)
        + p("b", props=frame)
        + p("c", props='<w:pBdr><w:top w:val="single"/></w:pBdr>')
    )
    assert tree(tmp_path, body) == "Box role=box\n  Paragraph 'a'\n  Paragraph 'b'\nParagraph 'c'"


def box(inner: str) -> str:
    """A text box in both of its forms (Part 3, AlternateContent)."""
    new = f"<w:drawing><wp:anchor><a:graphic><wps:wsp><wps:txbx><w:txbxContent>{inner}</w:txbxContent></wps:txbx></wps:wsp></a:graphic></wp:anchor></w:drawing>"  # noqa: E501
    old = f"<w:pict><v:shape><v:textbox><w:txbxContent>{inner}</w:txbxContent></v:textbox></v:shape></w:pict>"  # noqa: E501
    return (
        f'<w:r><mc:AlternateContent><mc:Choice Requires="wps">{new}</mc:Choice>'
        f"<mc:Fallback>{old}</mc:Fallback></mc:AlternateContent></w:r>"
    )


def test_a_text_box_is_read_once_after_its_paragraph(tmp_path: Path) -> None:
    body = p(r("High ") + box(p("Beware.")) + r("water")) + p("Next")
    document, findings = load(docx(tmp_path, body))
    assert draw(document) == (
        "Paragraph 'High water'\nBox role=box\n  Paragraph 'Beware.'\nParagraph 'Next'"
    )
    assert kinds(findings) == ["docx.text-box"]


def test_a_box_in_a_box_and_a_table_in_it(tmp_path: Path) -> None:
    body = p(box(p(r("out") + box(p("in"))) + tbl(tc("a") + tc("b"))))
    assert tree(tmp_path, body) == (
        "Box role=box\n  Paragraph 'out'\n  Box role=box\n    Paragraph 'in'\n"
        "  Table\n    TableRow\n      TableEntry\n        Paragraph 'a'\n"
        "      TableEntry\n        Paragraph 'b'"
    )


def test_an_unknown_choice_gives_way_to_the_fallback(tmp_path: Path) -> None:
    body = p(box(p("old")).replace('Requires="wps"', 'Requires="wps zzz"'))
    assert tree(tmp_path, body) == "Box role=box\n  Paragraph 'old'"


def test_deep_nesting_keeps_the_words(tmp_path: Path) -> None:
    body = p("core")
    for _ in range(60):
        body = f"<w:tbl><w:tr><w:tc>{body}</w:tc></w:tr></w:tbl>"
    document, findings = load(docx(tmp_path, body))
    assert "core" in document.ledger.text
    assert "docx.kept-as-words" in kinds(findings)


# ---------------------------------------------------------------- contents, captions, page breaks


def test_contents_entries_are_a_list_of_their_own(tmp_path: Path) -> None:
    styles = style("toc 1") + style("toc 2") + style("caption")
    body = (
        p(r("Ebb") + "<w:r><w:tab/></w:r>" + r("3"), "toc1")
        + p("Neap", "toc2")
        + p("Fig. 1", "caption")
    )
    assert tree(tmp_path, body, styles=styles) == (
        "ListBlock role=contents kind=plain\n  ListItem\n    Paragraph 'Ebb\t3'\n"
        "    ListBlock role=contents kind=plain\n      ListItem\n        Paragraph 'Neap'\n"
        "Paragraph role=caption 'Fig. 1'"
    )


PAGED = (
    p(r("one") + "<w:r><w:lastRenderedPageBreak/></w:r>" + r("two"))
    + p(r("three") + '<w:r><w:br w:type="page"/><w:lastRenderedPageBreak/></w:r>' + r("four"))
    + p("", props='<w:sectPr><w:pgNumType w:start="1" w:fmt="lowerRoman"/></w:sectPr>')
    + p("five")
    + '<w:sectPr><w:pgNumType w:start="1"/></w:sectPr>'
)


def test_recorded_pages_become_print_pages_on_request(tmp_path: Path) -> None:
    """17.3.3.13; a hard break and the record of the same page count once."""
    document, findings = load(docx(tmp_path, PAGED), document_pages=True)
    assert draw(document) == (
        "PrintPage label=i\nParagraph 'one' page=ii 'two'\nParagraph 'three' page=iii 'four'\n"
        "Paragraph\nPrintPage label=1\nParagraph 'five'"
    )
    assert kinds(findings) == ["docx.document-pages"]


NUMBERED = (
    '<w:abstractNum w:abstractNumId="0"><w:lvl w:ilvl="0"><w:start w:val="1"/>'
    '<w:numFmt w:val="decimal"/><w:lvlText w:val="%1."/></w:lvl></w:abstractNum>'
    '<w:num w:numId="1"><w:abstractNumId w:val="0"/></w:num>'
)


@pytest.mark.parametrize(
    "turn", ["<w:lastRenderedPageBreak/>", '<w:br w:type="page"/>'], ids=["recorded", "typed"]
)
def test_a_page_begins_before_the_number_of_its_heading(tmp_path: Path, turn: str) -> None:
    """Braille Formats 2016, 4.2.5: a heading is on one page; the number is not in the file, so
    the record of the page stands behind it, before the first words."""
    number = '<w:numPr><w:ilvl w:val="0"/><w:numId w:val="1"/></w:numPr>'
    body = p("Ebb") + p(f"<w:r>{turn}<w:t>Tides</w:t></w:r>", "heading1", number)
    path = docx(tmp_path, body, numbering=NUMBERED, styles=style("heading 1"))
    document, _ = load(path, document_pages=True)
    assert draw(document).splitlines()[-1] == "Heading level=1 page=2 '1. Tides'"


def test_pages_are_not_guessed_unasked(tmp_path: Path) -> None:
    assert "page" not in tree(tmp_path, PAGED).lower().replace("paragraph", "")


def test_pages_asked_for_and_not_there(tmp_path: Path) -> None:
    _, findings = load(docx(tmp_path, p("one")), document_pages=True)
    assert kinds(findings) == ["docx.no-page-breaks"]


def test_typed_page_marks_beat_the_record(tmp_path: Path) -> None:
    body = p("[p. 12]") + PAGED + p("Page 13") + p("end")
    document, findings = load(docx(tmp_path, body), document_pages=True)
    assert draw(document).count("PrintPage") == 2
    assert draw(document).startswith("PrintPage label=12\nParagraph 'onetwo'")
    assert "docx.page-label" in kinds(findings)


def test_page_marks_by_style(tmp_path: Path) -> None:
    body = p("xii", "PrintPage") + p("text")
    assert (
        tree(tmp_path, body, styles=style("Print Page")) == "PrintPage label=xii\nParagraph 'text'"
    )


# ---------------------------------------------------------------- pictures and drawings


def picture(props: str, where: str = "inline", extra: str = "") -> str:
    return (
        f'<w:r><w:drawing><wp:{where}><wp:docPr id="1" name="x" {props}>{extra}</wp:docPr>'
        '<a:graphic><a:graphicData><pic:pic><pic:blipFill><a:blip r:embed="i1"/></pic:blipFill>'
        f"</pic:pic></a:graphicData></a:graphic></wp:{where}></w:drawing></w:r>"
    )


IMAGE = "i1 image media/pier.png"


def test_a_picture_alone_and_one_in_a_line(tmp_path: Path) -> None:
    body = p(picture('descr="A pier"')) + p(r("Press ") + picture('descr="bell"') + r(" now"))
    document, findings = load(docx(tmp_path, body, links=IMAGE))
    assert draw(document) == "Graphic 'A pier'\nParagraph 'Press ' InlineGraphic'bell' ' now'"
    graphics = [node for node in walk(document) if isinstance(node, Graphic)]
    assert graphics[0].resource == "word/media/pier.png"
    assert kinds(findings) == []


def test_a_floating_picture_stands_after_its_paragraph(tmp_path: Path) -> None:
    body = p(r("High ") + picture('descr="A pier"', "anchor") + r("water"))
    assert tree(tmp_path, body, links=IMAGE) == "Paragraph 'High water'\nGraphic 'A pier'"


def test_descriptions_missing_made_by_machine_and_decorative(tmp_path: Path) -> None:
    flag = '<adec:decorative val="1"/>'
    body = p(picture("")) + p(picture('descr="IMG_12.png"')) + p(picture("", extra=flag))
    document, findings = load(docx(tmp_path, body, links=IMAGE))
    assert kinds(findings) == ["docx.draft-alt", "docx.no-alt"]
    assert "(pier.png)" in messages(findings)["docx.no-alt"]
    flags = [node.decorative for node in walk(document) if isinstance(node, Graphic)]
    assert flags == [False, False, True]


def test_objects_are_not_opened(tmp_path: Path) -> None:
    ole = '<w:r><w:object><v:shape><v:imagedata r:id="i1"/></v:shape><o:OLEObject ProgID="{}"/></w:object></w:r>'  # noqa: E501
    body = p(r("Let ") + ole.format("Equation.3")) + p(ole.format("Excel.Sheet.8"))
    document, findings = load(docx(tmp_path, body, links=IMAGE))
    assert "Paragraph 'Let ' InlineGraphic''" in draw(document)
    said = messages(findings)
    assert "the program Equation.3" in said["docx.equation-object"]
    assert "an object of Excel.Sheet.8" in said["docx.object"]
    assert kinds(findings) == ["docx.equation-object", "docx.object"]  # nothing of its picture


def test_shapes_without_words_are_counted_and_word_art_is_read(tmp_path: Path) -> None:
    line = "<w:r><w:pict><v:line/></w:pict></w:r>"
    art = '<w:r><w:pict><v:shape><v:textpath string="SALE"/></v:shape></w:pict></w:r>'
    rule = '<w:r><w:pict><v:rect o:hr="t"/></w:pict></w:r>'
    document, findings = load(docx(tmp_path, p(r("a") + line) + p(art) + p(rule)))
    assert draw(document) == "Paragraph 'a'\nBox role=box\n  Paragraph 'SALE'\nContextBreak"
    assert messages(findings)["docx.shapes"].startswith("The document draws 1 shape ")


def drawn_part(folder: Path, link: str, kind: str, content: str) -> Path:
    """A document whose one paragraph shows a chart or a diagram from a part of its own."""
    body = p(
        f"<w:r><w:drawing><wp:inline><a:graphic>{link}</a:graphic></wp:inline></w:drawing></w:r>"
    )
    return pack(
        folder / "harbour.docx",
        {
            "[Content_Types].xml": TYPES,
            "_rels/.rels": relations(("m", "officeDocument", "word/document.xml")),
            "word/document.xml": part("document", f"<w:body>{body}</w:body>"),
            "word/_rels/document.xml.rels": relations(("d1", kind, "extra/part.xml")),
            "word/extra/part.xml": content,
        },
    )


@pytest.mark.parametrize("what, kind", [("chart", "docx.chart"), ("diagram", "docx.diagram")])
def test_charts_and_diagrams_give_their_words(tmp_path: Path, what: str, kind: str) -> None:
    words = "<a:p><a:r><a:t>High tide</a:t></a:r></a:p>"
    content = f"<c:chartSpace {W_NAMES}>{words}<c:pt><c:v>4.5</c:v></c:pt></c:chartSpace>"
    link = '<c:chart r:id="d1"/>' if what == "chart" else '<dgm:relIds r:dm="d1"/>'
    document, findings = load(drawn_part(tmp_path, link, what, content))
    assert draw(document) == "Graphic\n  Paragraph 'High tide'\n  Paragraph '4.5'"
    assert kind in kinds(findings)


# ---------------------------------------------------------------- mathematics (22.1)


def test_an_expression_keeps_its_source_and_its_characters(tmp_path: Path) -> None:
    half = "<m:oMath><m:f><m:num><m:r><m:t>1</m:t></m:r></m:num><m:den><m:r><m:t>2</m:t></m:r></m:den></m:f></m:oMath>"  # noqa: E501
    body = p(r("So ") + half + r(".")) + p(f"<m:oMathPara>{half}</m:oMathPara>")
    document, _ = load(docx(tmp_path, body))
    assert draw(document) == "Paragraph 'So ' MathRun'12' '.'\nDisplayMath"
    shown = [node for node in walk(document) if isinstance(node, DisplayMath)]
    assert document.ledger.quote(shown[0].start, shown[0].end) == "12"
    first = document.children[0]
    assert isinstance(first, Paragraph)
    assert any(isinstance(run, MathRun) and "<m:f>" in run.mathml for run in first.runs)


def test_text_kept_elsewhere_stops(tmp_path: Path) -> None:
    body = p("a") + '<w:altChunk r:id="x1"/>' + p('<w:subDoc r:id="x2"/>')
    document, findings = load(docx(tmp_path, body, links="x1 aFChunk notes.html"))
    assert draw(document).startswith("Paragraph 'a'")
    said = messages(findings)
    assert "the part word/notes.html" in said["docx.foreign-text"]
    assert "docx.outside-part" in said


def test_a_web_page_in_the_document_is_read_at_its_place(tmp_path: Path) -> None:
    """ISO/IEC 29500-1, 17.17.2: imported content stands where the altChunk stands."""
    path = docx(
        tmp_path,
        p("a") + '<w:altChunk r:id="x1"/>' + p("b"),
        links="x1 aFChunk notes.html",
        settings="",
    )
    with zipfile.ZipFile(path, "a") as archive:
        archive.writestr("word/notes.html", "<p>Ebb<ul><li>low</ul><script>x</script>")
    document, findings = load(path)
    assert draw(document).splitlines()[0] == "Paragraph 'a'"
    assert document.ledger.text.split() == ["a", "Ebb", "•", "low", "b"]
    assert "word/notes.html" in messages(findings)["docx.foreign-page"]
    assert uncovered(document) == []
    edition = convert.convert(path, code="ueb-uncontracted")
    assert (edition.totals.lost, edition.totals.doubled) == (0, 0)
    assert "print.not-read" not in [f.kind for f in edition.findings]


# ---------------------------------------------------------------- doubts: told, never changed


def test_a_short_bold_line_may_be_a_heading(tmp_path: Path) -> None:
    """Common practice, no source: proposed in a finding, the tree stays as it is."""
    body = (
        p(r("High Water", "b"))
        + p("The tide turns at noon.")
        + p(r("Never moor here.", "b"))  # a sentence
        + p("It is too deep.")
        + p(r("Low ", "b") + r("Water"))  # bold in part
        + p("The end.")
    )
    document, findings = load(docx(tmp_path, body))
    assert "Heading" not in draw(document)
    spans = [f.spans for f in findings.all() if f.kind == "docx.maybe-heading"]
    assert [document.ledger.quote(*span) for span in spans[0]] == ["High Water"]


def test_columns_made_with_tabs_are_reported(tmp_path: Path) -> None:
    def row(*words: str) -> str:
        return p("<w:r><w:tab/></w:r>".join(r(word) for word in words))

    body = row("Port", "Ebb") + row("Dover", "5") + row("Deal", "6") + p("End") + row("a", "b")
    _, findings = load(docx(tmp_path, body))
    assert messages(findings)["docx.tab-columns"].startswith("3 lines one after another")
