"""The ready documents in fixtures/ are the readable folders in fixtures/print/, zipped."""

from __future__ import annotations

import zipfile
from pathlib import Path

import docx
import pytest
from lxml import etree

from .make_print import FIXTURES, PRINT, zip_print


@pytest.mark.parametrize("name", PRINT)
def test_ready_document_is_the_folder(name: str, tmp_path: Path) -> None:
    ready = FIXTURES / f"{name}{PRINT[name]}"
    made = zip_print(name, tmp_path)
    assert made.read_bytes() == ready.read_bytes(), "run python tests/make_print.py"


def test_epub_begins_with_its_mimetype() -> None:
    package = zipfile.ZipFile(FIXTURES / "river-school.epub")
    first = package.infolist()[0]
    assert (first.filename, first.compress_type) == ("mimetype", zipfile.ZIP_STORED)
    assert package.read(first) == b"application/epub+zip"


@pytest.mark.parametrize("name", PRINT)
def test_all_parts_are_well_formed(name: str) -> None:
    package = zipfile.ZipFile(FIXTURES / f"{name}{PRINT[name]}")
    parts = [part for part in package.namelist() if part not in ("mimetype", "EPUB/style.css")]
    assert all(etree.fromstring(package.read(part)) is not None for part in parts)


def test_page_list_and_page_marks_agree() -> None:
    package = zipfile.ZipFile(FIXTURES / "river-school.epub")
    ns = {"h": "http://www.w3.org/1999/xhtml"}
    nav = etree.fromstring(package.read("EPUB/nav.xhtml"))
    listed = nav.xpath("//h:nav[@role='doc-pagelist']//h:a/text()", namespaces=ns)
    marks: list[str] = []
    for part in ("preface", "chapter", "glossary"):
        tree = etree.fromstring(package.read(f"EPUB/{part}.xhtml"))
        marks += tree.xpath("//h:span[@role='doc-pagebreak']/@aria-label", namespaces=ns)
    assert marks == listed == ["ix", *map(str, range(41, 48)), "88"]


def test_docx_opens_and_holds_its_fields() -> None:
    document = docx.Document(str(FIXTURES / "permit-form.docx"))
    assert document.paragraphs[0].text == "Application for a Market Stall Permit"
    xml = document.element.xml
    assert xml.count("<w:sdt>") == 10
    assert xml.count("w:checkBox>") == 8
    words = (" FORMTEXT ", " FORMCHECKBOX ", " FORMDROPDOWN ")
    assert [xml.count(word) for word in words] == [2, 4, 1]
