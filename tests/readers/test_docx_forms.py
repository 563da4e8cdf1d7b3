"""Forms in Word documents: fields, content controls, typed blanks and boxes."""

from __future__ import annotations

import time
from pathlib import Path

import pytest

from .make import kinds
from .make_docx import docx, draw, load, messages, p, r


def char(kind: str, inner: str = "") -> str:
    return f'<w:r><w:fldChar w:fldCharType="{kind}">{inner}</w:fldChar></w:r>'


def field(instruction: str, result: str | None, data: str = "") -> str:
    """A complex field (17.16.18)."""
    middle = "" if result is None else char("separate") + result
    told = f'<w:r><w:instrText xml:space="preserve"> {instruction} </w:instrText></w:r>'
    return char("begin", data) + told + middle + char("end")


def form(inner: str, name: str = "Berth") -> str:
    return f'<w:ffData><w:name w:val="{name}"/>{inner}</w:ffData>'


def sdt(props: str, content: str) -> str:
    return f"<w:sdt><w:sdtPr>{props}</w:sdtPr><w:sdtContent>{content}</w:sdtContent></w:sdt>"


def tree(folder: Path, body: str) -> str:
    return draw(load(docx(folder, body))[0])


# ---------------------------------------------------------------- fields (17.16)


def test_the_instruction_is_not_print_the_result_is(tmp_path: Path) -> None:
    body = p(r("See ") + field("PAGEREF _Toc1 \\h", r("12")) + r("."))
    assert tree(tmp_path, body) == "Paragraph 'See 12.'"


def test_fields_nest(tmp_path: Path) -> None:
    inner = field("REF x", r("Pier 4"))
    body = p(r("a ") + field("HYPERLINK", r("[") + inner + r("]")) + r(" b"))
    assert tree(tmp_path, body) == "Paragraph 'a [Pier 4] b'"


def test_a_field_inside_an_instruction_is_an_omission(tmp_path: Path) -> None:
    begin, asked = char("begin"), "<w:r><w:instrText> IF </w:instrText></w:r>"
    body = p(
        begin + asked + field("MERGEFIELD x", r("yes")) + char("separate") + r("Hi") + char("end")
    )
    document, _ = load(docx(tmp_path, body))
    assert draw(document) == "Paragraph 'Hi'"
    assert [o.why for o in document.omissions] == ["docx.field-instruction"]


def test_a_field_without_end_does_not_swallow_the_next_paragraph(tmp_path: Path) -> None:
    body = p(r("a") + char("begin") + "<w:r><w:instrText>PAGE</w:instrText></w:r>") + p("b")
    document, findings = load(docx(tmp_path, body))
    assert draw(document) == "Paragraph 'a'\nParagraph 'b'"
    assert kinds(findings) == ["docx.broken-field"]


def test_an_end_without_beginning(tmp_path: Path) -> None:
    assert tree(tmp_path, p(char("end") + r("a"))) == "Paragraph 'a'"


def test_an_equation_field_is_reported(tmp_path: Path) -> None:
    _, findings = load(docx(tmp_path, p(r("x = ") + field("EQ \\f(1,2)", None))))
    assert "EQ \\f(1,2)" in messages(findings)["docx.equation-field"]


# ---------------------------------------------------------------- legacy form fields (17.16.17)


def test_an_empty_text_field_is_a_blank(tmp_path: Path) -> None:
    data = form("<w:textInput/>", "Skipper")
    body = p(r("Skipper: ") + field("FORMTEXT", r("\u2002" * 5), data) + r(" (master)"))
    assert tree(tmp_path, body) == (
        "Paragraph 'Skipper: ' <line Skipper: \u2002\u2002\u2002\u2002\u2002> ' (master)'"
    )


def test_a_text_field_without_result_is_a_blank(tmp_path: Path) -> None:
    body = p(r("Port: ") + field("FORMTEXT", None, form("<w:textInput/>", "Port")))
    assert tree(tmp_path, body) == "Paragraph 'Port: ' <line Port: >"


def test_a_filled_text_field_stays_text_and_is_reported(tmp_path: Path) -> None:
    body = p(r("Port: ") + field("FORMTEXT", r("Dover"), form("<w:textInput/>", "Port")))
    document, findings = load(docx(tmp_path, body))
    assert draw(document) == "Paragraph 'Port: ' 'Dover'"
    assert messages(findings)["docx.filled-field"] == (
        "The form field “Port” comes already filled in with “Dover”, which was kept as text."
    )


@pytest.mark.parametrize(
    "state, shown",
    [
        ("", "<check Berth: ☐>"),
        ('<w:default w:val="0"/>', "<check Berth: ☐>"),
        ('<w:default w:val="1"/>', "<checked Berth: ☒>"),
        ("<w:checked/>", "<checked Berth: ☒>"),
        ('<w:default w:val="1"/><w:checked w:val="0"/>', "<check Berth: ☐>"),
    ],
)
def test_a_check_box_field_has_its_state(tmp_path: Path, state: str, shown: str) -> None:
    data = form(f"<w:checkBox><w:sizeAuto/>{state}</w:checkBox>")
    body = p(field("FORMCHECKBOX", None, data) + r(" Yes"))
    assert tree(tmp_path, body) == f"Paragraph {shown} ' Yes'"


def test_a_drop_down_field_has_its_choices(tmp_path: Path) -> None:
    data = form(
        '<w:ddList><w:result w:val="1"/><w:listEntry w:val="Ebb"/><w:listEntry w:val="Flood"/>'
        "</w:ddList>"
    )
    body = p(r("Tide: ") + field("FORMDROPDOWN", None, data))
    assert tree(tmp_path, body) == "Paragraph 'Tide: ' <choice Berth: Flood of Ebb|Flood>"


# ---------------------------------------------------------------- content controls (17.5.2)

PROMPT = '<w:alias w:val="Skipper"/><w:showingPlcHdr/><w:text/>'


def test_a_prompt_is_a_blank_and_the_prompt_is_told(tmp_path: Path) -> None:
    body = p(r("Name: ") + sdt(PROMPT, r("Click here to enter text.")) + r("!"))
    document, findings = load(docx(tmp_path, body))
    assert draw(document) == "Paragraph 'Name: ' <line Skipper: > '!'"
    assert [o.why for o in document.omissions] == ["docx.prompt"]
    (found,) = findings.all()
    assert found.kind == "docx.prompt"
    (span,) = found.spans
    assert document.ledger.quote(*span) == "Click here to enter text."


def test_prompts_are_one_finding_with_their_places(tmp_path: Path) -> None:
    body = (p(r("Name: ") + sdt(PROMPT, r("Click here to enter text.")))) * 3
    _, findings = load(docx(tmp_path, body))
    assert messages(findings)["docx.prompt"].startswith("In 3 places a form control shows only")
    assert kinds(findings) == ["docx.prompt"]


def test_a_prompt_that_fills_a_paragraph_and_one_that_fills_an_entry(tmp_path: Path) -> None:
    block = sdt(PROMPT, p("Click here."))
    cells = sdt(PROMPT, f"<w:tc>{p('Click here.')}</w:tc>") + f"<w:tc>{p('b')}</w:tc>"
    body = block + f"<w:tbl><w:tr>{cells}</w:tr></w:tbl>"
    assert tree(tmp_path, body) == (
        "Paragraph <line Skipper: >\n"
        "Table\n  TableRow\n    TableEntry\n      Paragraph <line Skipper: >\n"
        "    TableEntry\n      Paragraph 'b'"
    )


@pytest.mark.parametrize(
    "prompt",
    [
        "Click or tap here to enter text.",
        "Choose an item.",
        "Click or tap to enter a date.",
        "[click here to  enter a date]",
    ],
)
def test_a_stock_prompt_is_left_out(tmp_path: Path, prompt: str) -> None:
    document, findings = load(docx(tmp_path, p(sdt(PROMPT, r(prompt)))))
    assert draw(document) == "Paragraph <line Skipper: >"
    assert list(messages(findings)) == ["docx.prompt"]


@pytest.mark.parametrize(
    "props, content, spot",
    [
        ("<w:text/>", r("Anna Reed"), "Anna Reed"),
        ("<w:date/>", r("3 May ") + r("2024"), "3 May 2024"),
        ('<w:placeholder><w:docPart w:val="x"/></w:placeholder>', r("Anna Reed"), "Anna Reed"),
        ("<w:group/>", r("Anna Reed"), None),
        ('<w:docPartObj><w:docPartGallery w:val="x"/></w:docPartObj>', r("Anna Reed"), None),
    ],
)
def test_what_a_person_typed_into_a_control_is_told(
    tmp_path: Path, props: str, content: str, spot: str | None
) -> None:
    document, findings = load(docx(tmp_path, p(r("Name: ") + sdt(props, content) + r("!"))))
    assert draw(document).startswith("Paragraph 'Name: ")
    spans = [s for f in findings.all() if f.kind == "docx.filled-control" for s in f.spans]
    assert [document.ledger.quote(*span) for span in spans] == ([spot] if spot else [])


def test_a_prompt_of_the_form_is_text_before_the_room_for_the_answer(tmp_path: Path) -> None:
    body = p(sdt("<w:showingPlcHdr/><w:text/>", r("[Your berth]")) + r("!"))
    document, findings = load(docx(tmp_path, body))
    assert draw(document) == "Paragraph '[Your berth]' <line Your berth: > '!'"
    assert document.omissions == ()
    assert "kept as text" in messages(findings)["docx.own-prompt"]


def test_a_prompt_of_the_form_that_fills_paragraphs_or_an_entry(tmp_path: Path) -> None:
    block = sdt(PROMPT, p("Say who you are,") + p("and where from."))
    cells = sdt(PROMPT, f"<w:tc>{p('Berth')}</w:tc>") + f"<w:tc>{p('b')}</w:tc>"
    body = block + p("After") + f"<w:tbl><w:tr>{cells}</w:tr></w:tbl>"
    assert tree(tmp_path, body) == (
        "Paragraph 'Say who you are,'\n"
        "Paragraph 'and where from.' <line Skipper: >\n"
        "Paragraph 'After'\n"
        "Table\n  TableRow\n    TableEntry\n      Paragraph 'Berth' <line Skipper: >\n"
        "    TableEntry\n      Paragraph 'b'"
    )


def test_a_filled_control_is_text(tmp_path: Path) -> None:
    body = p(sdt('<w:alias w:val="Skipper"/><w:text/>', r("Ada")))
    assert tree(tmp_path, body) == "Paragraph 'Ada'"


def test_an_empty_control_is_a_blank(tmp_path: Path) -> None:
    assert tree(tmp_path, p(r("Date: ") + sdt("<w:date/>", ""))) == "Paragraph 'Date: ' <line: >"


@pytest.mark.parametrize("state, glyph, kind", [("0", "☐", "check"), ("1", "☒", "checked")])
def test_a_check_box_control(tmp_path: Path, state: str, glyph: str, kind: str) -> None:
    box = f'<w:tag w:val="Agree"/><w14:checkbox><w14:checked w14:val="{state}"/></w14:checkbox>'
    body = p(sdt(box, r(glyph)) + r(" I agree"))
    assert tree(tmp_path, body) == f"Paragraph <{kind} Agree: {glyph}> ' I agree'"


def test_a_drop_down_control(tmp_path: Path) -> None:
    items = '<w:listItem w:displayText="Ebb" w:value="e"/><w:listItem w:value="Flood"/>'
    drop = f'<w:alias w:val="Tide"/><w:dropDownList>{items}</w:dropDownList>'
    body = p(sdt(drop, r("Ebb"))) + p(sdt(f"<w:showingPlcHdr/>{drop}", r("Choose an item.")))
    assert tree(tmp_path, body) == (
        "Paragraph <choice Tide: Ebb of Ebb|Flood>\nParagraph <choice Tide:  of Ebb|Flood>"
    )


# ---------------------------------------------------------------- blanks by typing


@pytest.mark.parametrize(
    "inner, shown",
    [
        (r("Name ____ end"), "'Name ' <line: ____> ' end'"),
        (r("snake_case __x__"), "'snake_case __x__'"),
        (r("Say ") + r("     ", '<w:u w:val="single"/>') + r("."), "'Say ' <line:      > '.'"),
        (r("one") + r(" ", '<w:u w:val="single"/>') + r("two"), "'one' ' '/4 'two'"),
        (r("A ........ end"), "'A ' <line: ........> ' end'"),
        (r("Chapter 1 ........ 7"), "'Chapter 1 ........ 7'"),
        (r("☐ Yes ☒ No"), "<check: ☐> ' Yes ' <checked: ☒> ' No'"),
        (r("[ ] Yes"), "<check: [ ]> ' Yes'"),
        (r("[1] note"), "'[1] note'"),
        (r("□ Yes"), "<check: □> ' Yes'"),
        (r("3 + □ = 5"), "'3 + ' <box: □> ' = 5'"),
    ],
)
def test_typed_blanks_and_boxes(tmp_path: Path, inner: str, shown: str) -> None:
    """Common practice, no source."""
    assert tree(tmp_path, p(inner)) == f"Paragraph {shown}"


def test_a_tab_that_draws_a_line_is_a_blank(tmp_path: Path) -> None:
    tabs = '<w:tabs><w:tab w:val="left" w:pos="5000" w:leader="{}"/></w:tabs>'
    inner = r("Name") + "<w:r><w:tab/></w:r>"
    body = p(inner, props=tabs.format("underscore")) + p(inner + r("9"), props=tabs.format("dot"))
    assert tree(tmp_path, body) == "Paragraph 'Name' <line: \t>\nParagraph 'Name\t9'"


def test_an_underlined_tab_is_a_blank(tmp_path: Path) -> None:
    tab = '<w:r><w:rPr><w:u w:val="single"/></w:rPr><w:tab/><w:tab/></w:r>'
    assert tree(tmp_path, p(r("Sign: ") + tab)) == "Paragraph 'Sign: ' <line: \t\t>"


def test_very_long_leaders_take_no_time(tmp_path: Path) -> None:
    path = docx(tmp_path, p(r("." * 200_000 + " 7")))
    began = time.process_time()
    load(path)
    assert time.process_time() - began < 20
