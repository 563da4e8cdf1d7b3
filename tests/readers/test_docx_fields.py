"""Fields of Word documents that are no form fields: what print shows of them, and what is told
where the file does not hold it (ISO/IEC 29500-1, 17.16.5)."""

from __future__ import annotations

from pathlib import Path

import pytest

from .make import kinds
from .make_docx import docx, draw, load, messages, p, r


def field(instruction: str, result: str | None = None) -> str:
    """A complex field; without a result it has no place for one."""
    mark = '<w:r><w:fldChar w:fldCharType="{}"/></w:r>'
    shown = "" if result is None else mark.format("separate") + (r(result) if result else "")
    told = f'<w:r><w:instrText xml:space="preserve"> {instruction} </w:instrText></w:r>'
    return mark.format("begin") + told + shown + mark.format("end")


@pytest.mark.parametrize(
    ("instruction", "words"),
    [
        ("MACROBUTTON NoMacro [Click here]", "[Click here]"),
        ("GOTOBUTTON tides See the tides", "See the tides"),
        ('QUOTE "low water"', "low water"),
        ("MERGEFIELD Port \\* MERGEFORMAT", "«Port»"),
        ('MERGEFIELD "Port name"', "«Port name»"),
        ('SYMBOL 183 \\f "Symbol"', "•"),
        ("SYMBOL 0xE0 \\f Wingdings", "→"),
        ("SYMBOL 163", "£"),
    ],
)
def test_print_that_stands_in_the_instruction(tmp_path: Path, instruction: str, words: str) -> None:
    document, findings = load(docx(tmp_path, p(r("a ") + field(instruction) + r(" b"))))
    assert draw(document) == f"Paragraph 'a {words} b'"
    assert kinds(findings) == []


@pytest.mark.parametrize(
    "instruction",
    ["PAGE", "SEQ Figure", "AUTONUM", "LISTNUM", "REF tide", "TIME", "BARCODE", "NoSuchField"],
)
def test_what_only_the_word_processor_knows_is_told(tmp_path: Path, instruction: str) -> None:
    document, findings = load(docx(tmp_path, p(r("a ") + field(instruction) + r("b"))))
    assert draw(document) == "Paragraph 'a b'"
    assert f"({instruction.split()[0].upper()})" in messages(findings)["docx.computed-text"]


def test_an_empty_result(tmp_path: Path) -> None:
    """Of a condition it may be right; of a number it is not."""
    body = p(r("a ") + field("IF 1 = 2 x", "") + field("DOCPROPERTY x", "") + r("b"))
    assert kinds(load(docx(tmp_path, body))[1]) == []
    _, findings = load(docx(tmp_path, p(r("Fig. ") + field("SEQ Figure", ""))))
    assert kinds(findings) == ["docx.computed-text"]


def test_a_picture_is_a_result(tmp_path: Path) -> None:
    drawn = (
        '<w:r><w:pict><v:shape><v:imagedata r:id="i" o:title="A pier"/></v:shape></w:pict></w:r>'
    )
    body = field("EMBED Paint", "").replace('"separate"/></w:r>', f'"separate"/></w:r>{drawn}')
    assert "docx.computed-text" not in kinds(load(docx(tmp_path, p(body)))[1])


@pytest.mark.parametrize("mark", ["XE tide", "TC tide", "ADVANCE \\u 3", "SET x y", "ADDIN x"])
def test_marks_print_nothing(tmp_path: Path, mark: str) -> None:
    document, findings = load(docx(tmp_path, p(r("a ") + field(mark) + r("b"))))
    assert draw(document) == "Paragraph 'a b'"
    assert kinds(findings) == []


def test_dates_that_are_renewed_and_matter_from_outside(tmp_path: Path) -> None:
    """Nothing is fetched; what the file holds is read."""
    body = p(field("DATE", "1 May 1900")) + p(field('INCLUDETEXT "c:\\x.docx"', "words of x"))
    document, findings = load(docx(tmp_path, body))
    assert draw(document) == "Paragraph '1 May 1900'\nParagraph 'words of x'"
    assert kinds(findings) == ["docx.outside-matter", "docx.renewed"]
    assert "(field INCLUDETEXT)" in messages(findings)["docx.outside-matter"]
