"""List numbers of Word documents are computed (ISO/IEC 29500-1, 17.9)."""

from __future__ import annotations

from pathlib import Path

import pytest

from convert.document.ledger import GENERATED
from convert.readers.docx_formats import format_number

from .make import kinds
from .make_docx import docx, draw, load, messages, p, r, style


def lvl(at: int, text: str, form: str = "decimal", more: str = "", indent: int = 0) -> str:
    left = indent or 720 * (at + 1)
    return (
        f'<w:lvl w:ilvl="{at}"><w:start w:val="1"/><w:numFmt w:val="{form}"/>{more}'
        f'<w:lvlText w:val="{text}"/><w:pPr><w:ind w:left="{left}"/></w:pPr></w:lvl>'
    )


def abstract(name: int, *levels: str) -> str:
    return f'<w:abstractNum w:abstractNumId="{name}">{"".join(levels)}</w:abstractNum>'


def num(name: int, of: int, over: str = "") -> str:
    return f'<w:num w:numId="{name}"><w:abstractNumId w:val="{of}"/>{over}</w:num>'


def item(text: str, num_id: int, level: int = 0, more: str = "") -> str:
    props = f'<w:numPr><w:ilvl w:val="{level}"/><w:numId w:val="{num_id}"/></w:numPr>'
    return p(text, props=props + more)


def marks(folder: Path, body: str, numbering: str, **parts: str) -> list[str]:
    """The computed marks, in order."""
    document, _ = load(docx(folder, body, numbering=numbering, **parts))
    ledger = document.ledger
    made = [piece for piece in ledger.pieces if piece.kind == GENERATED]
    return [text for m in made if (text := ledger.quote(m.start, m.end).strip())]


OUTLINE = abstract(0, lvl(0, "%1."), lvl(1, "%1.%2"), lvl(2, "(%3)", "lowerLetter"))


def test_a_nested_list(tmp_path: Path) -> None:
    body = item("Ebb", 1) + item("Neap", 1, 1) + item("Spring", 1, 1) + item("Flood", 1)
    document, _ = load(docx(tmp_path, body, numbering=OUTLINE + num(1, 0)))
    assert draw(document) == (
        "ListBlock kind=numbered\n"
        "  ListItem '1.'\n"
        "    Paragraph 'Ebb'\n"
        "    ListBlock kind=numbered\n"
        "      ListItem '1.1'\n"
        "        Paragraph 'Neap'\n"
        "      ListItem '1.2'\n"
        "        Paragraph 'Spring'\n"
        "  ListItem '2.'\n"
        "    Paragraph 'Flood'"
    )
    assert document.ledger.text == "1. Ebb\n1.1 Neap\n1.2 Spring\n2. Flood\n"


def test_a_level_restarts_after_a_higher_one(tmp_path: Path) -> None:
    body = item("a", 1) + item("b", 1, 1) + item("c", 1) + item("d", 1, 1) + item("e", 1, 2)
    assert marks(tmp_path, body, OUTLINE + num(1, 0)) == ["1.", "1.1", "2.", "2.1", "(a)"]


def test_restart_never(tmp_path: Path) -> None:
    never = '<w:lvlRestart w:val="0"/>'
    numbering = abstract(0, lvl(0, "%1."), lvl(1, "%2)", more=never)) + num(1, 0)
    body = item("a", 1) + item("b", 1, 1) + item("c", 1) + item("d", 1, 1)
    assert marks(tmp_path, body, numbering) == ["1.", "1)", "2.", "2)"]


def test_restart_only_after_the_first_level(tmp_path: Path) -> None:
    first = '<w:lvlRestart w:val="1"/>'
    numbering = abstract(0, lvl(0, "%1"), lvl(1, "%2"), lvl(2, "%3", more=first)) + num(1, 0)
    body = "".join(item("x", 1, level) for level in (0, 1, 2, 1, 2, 0, 2))
    assert marks(tmp_path, body, numbering) == ["1", "1", "1", "2", "2", "2", "1"]


def test_two_numberings_share_a_counter_and_an_override_restarts_once(tmp_path: Path) -> None:
    over = '<w:lvlOverride w:ilvl="0"><w:startOverride w:val="10"/></w:lvlOverride>'
    numbering = OUTLINE + num(1, 0) + num(2, 0, over)
    body = item("a", 1) + item("b", 1) + item("c", 2) + item("d", 2) + item("e", 1) + item("f", 2)
    assert marks(tmp_path, body, numbering) == ["1.", "2.", "10.", "11.", "12.", "13."]


def test_a_level_replaced_by_an_override(tmp_path: Path) -> None:
    over = f'<w:lvlOverride w:ilvl="0">{lvl(0, "%1)", "upperLetter")}</w:lvlOverride>'
    assert marks(tmp_path, item("a", 2), OUTLINE + num(2, 0, over)) == ["A)"]


def test_an_unused_higher_level_shows_its_start(tmp_path: Path) -> None:
    assert marks(tmp_path, item("a", 1, 1), OUTLINE + num(1, 0)) == ["1.1"]


def test_legal_numbers_are_all_decimal(tmp_path: Path) -> None:
    levels = (lvl(0, "%1", "upperRoman"), lvl(1, "%1.%2", more="<w:isLgl/>"))
    body = item("a", 1) + item("b", 1, 1)
    assert marks(tmp_path, body, abstract(0, *levels) + num(1, 0)) == ["I", "1.1"]


def test_numbers_by_style_and_none_by_paragraph(tmp_path: Path) -> None:
    by_style = '<w:pPr><w:numPr><w:numId w:val="1"/></w:numPr></w:pPr>'
    styles = style("Step", by_style) + style("Own", '<w:basedOn w:val="Step"/>')
    off = '<w:numPr><w:numId w:val="0"/></w:numPr>'
    body = p("a", "Own") + p("b", "Step", off) + p("c", "Step")
    assert marks(tmp_path, body, OUTLINE + num(1, 0), styles=styles) == ["1.", "2."]


def test_numbers_through_a_numbering_style(tmp_path: Path) -> None:
    link = '<w:numPr><w:numId w:val="1"/></w:numPr>'
    styles = style("Steps", f"<w:pPr>{link}</w:pPr>", "numbering")
    other = '<w:abstractNum w:abstractNumId="5"><w:numStyleLink w:val="Steps"/></w:abstractNum>'
    numbering = OUTLINE + other + num(1, 0) + num(9, 5)
    assert marks(tmp_path, item("a", 9), numbering, styles=styles) == ["1."]


def test_a_heading_has_its_number_in_its_words(tmp_path: Path) -> None:
    styles = style("heading 1", '<w:pPr><w:numPr><w:numId w:val="1"/></w:numPr></w:pPr>')
    numbering = abstract(0, lvl(0, "Part %1", "upperRoman")) + num(1, 0)
    document, _ = load(docx(tmp_path, p("Locks", "heading1"), styles=styles, numbering=numbering))
    assert draw(document) == "Heading level=1 'Part I Locks'"


def test_lists_in_table_entries_count_on(tmp_path: Path) -> None:
    body = f"<w:tbl><w:tr><w:tc>{item('a', 1)}</w:tc><w:tc>{item('b', 1)}</w:tc></w:tr></w:tbl>"
    assert marks(tmp_path, body + item("c", 1), OUTLINE + num(1, 0)) == ["1.", "2.", "3."]


def test_a_deleted_paragraph_does_not_count(tmp_path: Path) -> None:
    gone = '<w:rPr><w:del w:author="B"/></w:rPr>'
    body = item("", 1, more=gone) + item("b", 1)
    assert marks(tmp_path, body, OUTLINE + num(1, 0)) == ["1."]


def test_notes_and_text_boxes_count_by_themselves(tmp_path: Path) -> None:
    """The main text, notes and text boxes are stories of their own (from memory)."""
    note = f'<w:footnote w:id="2">{item("n", 1)}</w:footnote>'
    box = f"<w:pict><v:textbox><w:txbxContent>{item('t', 1)}</w:txbxContent></v:textbox></w:pict>"
    called = p('<w:r><w:footnoteReference w:id="2"/></w:r>')
    body = item("a", 1) + called + p(f"<w:r>{box}</w:r>") + item("b", 1)
    document, _ = load(docx(tmp_path, body, numbering=OUTLINE + num(1, 0), footnotes=note))
    drawn = draw(document)
    assert [drawn.count(f"ListItem '{n}.'") for n in (1, 2, 3)] == [3, 1, 0]


def test_the_level_of_a_style_stands_in_the_numbering(tmp_path: Path) -> None:
    """17.9.23: a style names its numbering, and the numbering the level that belongs to it."""
    linked = '<w:pStyle w:val="{}"/>'
    levels = lvl(0, "%1", more=linked.format("h1")), lvl(1, "%1.%2", more=linked.format("h2"))
    by = '<w:pPr><w:numPr><w:numId w:val="1"/></w:numPr></w:pPr>'
    styles = style("heading 1", by, style_id="h1") + style("heading 2", by, style_id="h2")
    body = p("One", "h1") + p("Two", "h2") + p("Three", "h2")
    numbering = abstract(0, *levels) + num(1, 0)
    assert marks(tmp_path, body, numbering, styles=styles) == ["1", "1.1", "1.2"]


def test_looks_of_the_number_itself(tmp_path: Path) -> None:
    """17.9.24: a number may be in capitals or hidden, whatever its paragraph is."""
    capital = lvl(0, "%1.", "lowerLetter").replace("</w:lvl>", "<w:rPr><w:caps/></w:rPr></w:lvl>")
    hidden = lvl(1, "%2.").replace("</w:lvl>", "<w:rPr><w:vanish/></w:rPr></w:lvl>")
    body = item("a", 1) + item("b", 1, 1) + item("c", 1)
    assert marks(tmp_path, body, abstract(0, capital, hidden) + num(1, 0)) == ["A.", "B."]


def test_a_level_that_is_not_defined_is_told(tmp_path: Path) -> None:
    _, findings = load(docx(tmp_path, item("a", 1, 7), numbering=OUTLINE + num(1, 0)))
    assert "1, level 8" in messages(findings)["docx.number-missing"]


def test_a_deleted_row_does_not_count(tmp_path: Path) -> None:
    """17.13.5.12."""
    gone = '<w:trPr><w:del w:id="1" w:author="Ann"/></w:trPr>'
    rows = f"<w:tr>{gone}<w:tc>{item('x', 1)}</w:tc></w:tr><w:tr><w:tc>{item('y', 1)}</w:tc></w:tr>"
    body = f"<w:tbl>{rows}</w:tbl>" + item("z", 1)
    assert marks(tmp_path, body, OUTLINE + num(1, 0)) == ["1.", "2."]


def test_bullets_of_symbol_fonts(tmp_path: Path) -> None:
    def bullet(at: int, code: str, font: str) -> str:
        fonts = f'<w:rPr><w:rFonts w:ascii="{font}"/></w:rPr>'
        return lvl(at, code, "bullet").replace("</w:lvl>", f"{fonts}</w:lvl>")

    levels = (
        bullet(0, "\uf0b7", "Symbol"),
        bullet(1, "o", "Courier New"),
        bullet(2, "\uf0a8", "Wingdings"),
    )
    body = item("a", 1) + item("b", 1, 1) + item("c", 1, 2)
    document, findings = load(docx(tmp_path, body, numbering=abstract(0, *levels) + num(1, 0)))
    drawn = draw(document)
    assert "ListBlock kind=bulleted\n  ListItem '•'" in drawn
    assert "ListItem '◦'" in drawn
    assert "ListItem <check: ◻>" in drawn  # a box to tick as a bullet
    assert kinds(findings) == []


@pytest.mark.parametrize("shape, code", [("➢", "27A2"), ("●", "25CF"), ("■", "25A0")])
def test_a_bullet_of_another_shape_is_a_plain_one_and_told(
    tmp_path: Path, shape: str, code: str
) -> None:
    """BF 8.6: the plain bullet, unless the shape means something."""
    path = docx(tmp_path, item("a", 1), numbering=abstract(0, lvl(0, shape, "bullet")) + num(1, 0))
    document, findings = load(path)
    assert "ListItem '•'" in draw(document)
    assert f"the code {code}" in messages(findings)["docx.bullet"]


def test_odd_bullets_formats_and_missing_numberings_are_reported(tmp_path: Path) -> None:
    odd = lvl(0, "\uf0ee", "bullet") + lvl(1, "%2.", "hindiVowels")
    body = item("a", 1) + item("b", 1, 1) + item("c", 77)
    document, findings = load(docx(tmp_path, body, numbering=abstract(0, odd) + num(1, 0)))
    assert kinds(findings) == ["docx.bullet", "docx.number-format", "docx.number-missing"]
    assert "the number format hindiVowels" in messages(findings)["docx.number-format"]
    assert "'1.'" in draw(document)


def test_another_list_further_in_is_nested(tmp_path: Path) -> None:
    dash = abstract(1, lvl(0, "–", "bullet", indent=1440))
    body = item("a", 1) + item("b", 2) + item("c", 1)
    drawn = draw(load(docx(tmp_path, body, numbering=OUTLINE + dash + num(1, 0) + num(2, 1)))[0])
    assert drawn.count("\n    ListBlock kind=bulleted") == 1
    assert "\n  ListItem '2.'" in drawn


def test_bullets_alike_are_one_list_though_the_file_has_several(tmp_path: Path) -> None:
    """What print shows as one list is one; another sign or indent begins one of its own."""
    bullets = [abstract(at, lvl(0, sign, "bullet")) for at, sign in enumerate("••–")]
    numbering = "".join(bullets) + num(1, 0) + num(2, 1) + num(3, 2)
    body = item("Ebb", 1) + item("Neap", 2) + item("Flood", 1) + item("Spring", 3)
    document, _ = load(docx(tmp_path, body, numbering=numbering))
    assert draw(document).count("ListBlock") == 2
    apart = item("Ebb", 1) + p("So.") + item("Neap", 2)
    document, _ = load(docx(tmp_path, apart, numbering=numbering))
    assert draw(document).count("ListBlock") == 2


def test_a_continued_item(tmp_path: Path) -> None:
    styles = style("List Continue")
    body = item("a", 1) + p("more of a", "ListContinue") + item("b", 1)
    document, _ = load(docx(tmp_path, body, styles=styles, numbering=OUTLINE + num(1, 0)))
    assert "    Paragraph 'a'\n    Paragraph 'more of a'\n  ListItem '2.'" in draw(document)


def test_text_between_inner_items_belongs_to_the_item_before(tmp_path: Path) -> None:
    """Room for an answer between (a) and (b) leaves both under their question (17.9; BF 10.4)."""
    body = item("Q", 1) + item("a", 1, 1) + p("Answer") + item("b", 1, 1) + item("R", 1)
    drawn = draw(load(docx(tmp_path, body, numbering=OUTLINE + num(1, 0)))[0])
    assert drawn.count("\nListBlock") + drawn.startswith("ListBlock") == 1
    assert "        Paragraph 'a'\n        Paragraph 'Answer'\n      ListItem '1.2'" in drawn
    assert "\n  ListItem '2.'" in drawn


def test_text_between_items_of_the_first_level_stands_between_lists(tmp_path: Path) -> None:
    styles = style("heading 1")
    after_heading = item("Q", 1) + item("a", 1, 1) + p("H", "heading1") + item("b", 1, 1)
    for body in (item("a", 1) + p("b") + item("c", 1), after_heading):
        drawn = draw(load(docx(tmp_path, body, styles=styles, numbering=OUTLINE + num(1, 0)))[0])
        assert drawn.count("\nListBlock") + drawn.startswith("ListBlock") == 2


def test_hidden_number_of_a_hidden_paragraph(tmp_path: Path) -> None:
    body = item(r("x", "vanish"), 1, more="<w:rPr><w:vanish/></w:rPr>") + item("b", 1)
    assert marks(tmp_path, body, OUTLINE + num(1, 0)) == ["2."]


@pytest.mark.parametrize(
    "value, form, shown",
    [
        (4, "upperRoman", "IV"), (1990, "decimal", "1990"), (27, "lowerLetter", "aa"),
        (54, "upperLetter", "BBB"), (21, "ordinal", "21st"), (12, "ordinal", "12th"),
        (21, "cardinalText", "Twenty-one"), (120, "cardinalText", "One hundred twenty"),
        (20, "ordinalText", "Twentieth"), (22, "ordinalText", "Twenty-second"),
        (3, "ordinalText", "Third"), (5, "chicago", "**"), (7, "decimalZero", "07"),
        (255, "hex", "FF"), (3, "decimalEnclosedCircle", "③"), (3, "none", ""),
        (3, "numberInDash", "- 3 -"), (3, "thaiLetters", None),
    ],
)  # fmt: skip
def test_number_formats(value: int, form: str, shown: str | None) -> None:
    """ISO/IEC 29500-1, 17.18.59."""
    assert format_number(value, form) == shown
