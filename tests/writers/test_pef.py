"""PEF 1.0: the rules of its schema, as assertions; and the same cells as the braille file."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from pathlib import Path

import pytest
from lxml import etree

from convert.edition import Edition
from convert.errors import Bug
from convert.layout.items import Part
from convert.translation.cells import cells_of
from convert.writers.cellfile import write_brf
from convert.writers.pef import write_pef

from .make import river_school

NS = {"p": "http://www.daisy.org/ns/2008/pef", "dc": "http://purl.org/dc/elements/1.1/"}
POSITIVE, NATURAL = re.compile(r"[1-9]\d*"), re.compile(r"\d+")


def root_of(edition: Edition, folder: Path) -> etree._Element:
    (path,) = write_pef(edition, folder)
    assert path.name == "river-school.pef"
    return etree.parse(path).getroot()


def children(element: etree._Element) -> set[str]:
    return {etree.QName(child).localname for child in element}


def assert_valid(root: etree._Element) -> None:
    """PEF 1.0, RELAX NG (normative) and the page fit rule of its Schematron."""
    assert root.tag == f"{{{NS['p']}}}pef"
    assert dict(root.attrib) == {"version": "2008-1"}
    head, body = root
    (meta,) = head
    names = [etree.QName(row) for row in meta]
    assert all(name.namespace == NS["dc"] for name in names)
    locals_ = [name.localname for name in names]
    assert locals_.count("format") == locals_.count("identifier") == 1
    assert all(locals_.count(name) <= 1 for name in ("title", "description", "date"))
    assert meta.findtext("dc:format", namespaces=NS) == "application/x-pef+xml"
    assert children(body) == {"volume"}
    for volume in body:
        assert set(volume.attrib) == {"cols", "rows", "rowgap", "duplex"}
        assert POSITIVE.fullmatch(volume.get("cols", ""))
        assert POSITIVE.fullmatch(volume.get("rows", ""))
        assert NATURAL.fullmatch(volume.get("rowgap", ""))
        assert volume.get("duplex") in ("true", "false")
        assert children(volume) == {"section"}
        for section in volume:
            assert children(section) == {"page"}
            assert not section.attrib
            for page in section:
                assert_page_fits(page, volume)


def assert_page_fits(page: etree._Element, volume: etree._Element) -> None:
    assert not page.attrib
    assert children(page) <= {"row"}
    gaps = int(volume.get("rowgap", "0")) * len(page)
    assert len(page) + math.ceil(gaps / 4) <= int(volume.get("rows", "0"))
    for row in page:
        assert not len(row)
        assert not row.attrib
        assert re.fullmatch("[\u2800-\u28ff]*", row.text or "")
        assert len(row.text or "") <= int(volume.get("cols", "0"))
    white = [page.text, *(row.tail for row in page)]
    assert not any((text or "").strip() for text in white)


@pytest.mark.parametrize("volume_pages", [1, 80])
def test_keeps_the_schema(tmp_path: Path, volume_pages: int) -> None:
    root = root_of(river_school(volume_pages=volume_pages), tmp_path)
    assert_valid(root)
    assert len(root.findall(".//p:volume", NS)) == 2 // min(2, volume_pages)


def test_same_cells_as_the_braille_file(tmp_path: Path) -> None:
    edition = river_school()
    (brf,) = write_brf(edition, tmp_path)
    lines = brf.read_text("ascii").replace("\f", "").split("\n")[:-1]
    rows = root_of(edition, tmp_path).iterfind(".//p:row", NS)
    assert [row.text or "" for row in rows] == [cells_of(line) for line in lines]


def test_what_the_source_says_of_itself(tmp_path: Path) -> None:
    edition = river_school()
    about = replace(edition.document.meta, authors=("A. Reed", "B. Sedge"), title="Tom & <i>\x01 ")
    edition.document = replace(edition.document, meta=about)
    root = root_of(edition, tmp_path)
    assert_valid(root)
    assert [row.text for row in root.iterfind(".//dc:creator", NS)] == ["A. Reed", "B. Sedge"]
    assert root.findtext(".//dc:title", namespaces=NS) == "Tom & <i>"
    assert root.find(".//dc:publisher", NS) is None


def test_identifier_follows_the_recipe(tmp_path: Path) -> None:
    found = []
    for digest in ("a", "a", "b"):
        edition = river_school()
        edition.recipe = {"digest": digest}
        found.append(root_of(edition, tmp_path).findtext(".//dc:identifier", namespaces=NS))
    assert found[0] == found[1] != found[2]
    assert re.fullmatch(r"urn:uuid:[0-9a-f-]{36}", found[0] or "")


def test_eight_dot_cells_are_refused(tmp_path: Path) -> None:
    edition = river_school()
    row = edition.volumes[0].pages[0].rows[3]
    assert row is not None
    row.parts = (Part(0, "\u28ff"),)
    with pytest.raises(Bug, match="Volume 1, braille page 1, line 4, cell 1"):
        write_pef(edition, tmp_path)
