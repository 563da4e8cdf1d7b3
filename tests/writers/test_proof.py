"""The interlined proof: every line, print over its cells, dots on request."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from lxml import etree, html

from convert.document.inlines import MathRun
from convert.edition import Edition
from convert.layout.book import Row
from convert.layout.items import Part
from convert.pipeline import convert_source, settings_from
from convert.translation.cells import BLANK, cells_of, dots_of
from convert.translation.passage import Mark, Passage
from convert.writers.cellfile import page_lines
from convert.writers.print_words import printed
from convert.writers.proof import write_proof

from .make import Maker, cells_for, river_report, river_school
from .test_report import PAYLOADS, words


def proof(folder: Path, edition: Edition | None = None) -> etree._Element:
    (path,) = write_proof(edition or river_school(), folder)
    assert path.name == "proof.html"
    return html.document_fromstring(path.read_text("utf-8"))


def lines(tree: etree._Element, page: int = 1) -> list[etree._Element]:
    return tree.xpath(f"//section[@id='v1-p{page}']/ol/li")


def said(line: etree._Element) -> str:
    return words(line.xpath("./span[@class='s']")[0])


def pairs(line: etree._Element) -> list[tuple[str, str]]:
    found = line.xpath("./span[@class='w']/b")
    return [(b.text or "", words(b.find("i")).replace(" ", "")) for b in found]


def test_every_line_of_every_page_in_order(tmp_path: Path) -> None:
    edition = river_school()
    tree = proof(tmp_path, edition)
    for page in edition.volumes[0].pages:
        shown = lines(tree, int(page.braille_page))
        assert len(shown) == 25
        for line, cells in zip(shown, page_lines(page), strict=True):
            cells_shown = "".join(cell for _, cell in pairs(line))
            assert cells_shown.replace(BLANK, "") == cells.replace(BLANK, "")


def test_words_stand_over_their_cells(tmp_path: Path) -> None:
    line = lines(proof(tmp_path))[3]
    assert said(line) == "Water runs from the hills to the sea,"
    found = pairs(line)
    assert found[0] == ("", BLANK * 2)
    assert found[1] == ("Water", cells_of(",water") + BLANK)
    assert found[-1] == ("sea,", cells_of("sea1"))


def test_a_word_divided_between_lines(tmp_path: Path) -> None:
    maker = Maker(width=8)
    maker.add("extraordinary rain")
    tree = proof(tmp_path, maker.edition())
    found = [pairs(line) for line in lines(tree)[:3]]
    assert found[0] == [("", BLANK * 2), ("extrao", cells_of("extrao"))]
    assert found[1] == [("rdinary", cells_of("rdinary"))]
    assert found[2] == [("rain", cells_of("rain"))]


def test_a_hyphen_added_at_a_line_end_stays_with_its_word(tmp_path: Path) -> None:
    edition = river_school()
    cells = cells_for("water falls", 10)
    part = Part(0, cells.text[:3] + cells_of("-"), cells, 0)
    edition.volumes[0].pages[0].rows[3] = Row("para", (part,), item=1)
    assert pairs(lines(proof(tmp_path, edition))[3]) == [("wate", cells_of("wat-"))]


def test_parts_side_by_side_keep_their_distance(tmp_path: Path) -> None:
    edition = river_school()
    left, right = cells_for("hills", 10), cells_for("sea", 20)
    dots = Part(6, cells_of("''"))
    row = Row("toc", (Part(0, left.text, left), dots, Part(10, right.text, right)))
    edition.volumes[0].pages[0].rows[3] = row
    found = pairs(lines(proof(tmp_path, edition))[3])
    assert found == [
        ("hills", left.text), ("", BLANK), ("", dots.text), ("", BLANK * 2), ("sea", right.text),
    ]  # fmt: skip


def test_furniture_has_words(tmp_path: Path) -> None:
    shown = lines(proof(tmp_path))
    assert said(shown[0]) == "Print page 12."
    assert said(shown[24]) == "Braille page 1."
    assert said(shown[2]) == "Blank line."
    assert pairs(shown[24]) == [("Braille page 1", cells_of("#a"))]


def test_a_running_head_is_told_from_a_print_page_number(tmp_path: Path) -> None:
    edition = river_school()
    page = edition.volumes[0].pages[0]
    page.head = BLANK * 12 + cells_of(",RIVER ,SCHOOL") + BLANK * 11 + cells_of("#ab")
    assert said(lines(proof(tmp_path, edition))[0]) == "Running head, print page 12."
    page.print_page = None
    page.head = BLANK * 12 + cells_of(",RIVER ,SCHOOL")
    assert said(lines(proof(tmp_path, edition))[0]) == "Running head."


def test_print_page_turns_are_said(tmp_path: Path) -> None:
    everything = words(proof(tmp_path))
    assert "Print page 13 begins." in everything


def test_dots_of_each_line_on_request(tmp_path: Path) -> None:
    edition = river_school()
    tree = proof(tmp_path, edition)
    (details,) = tree.xpath("//section[@id='v1-p1']/details")
    assert details.get("open") is None
    assert words(details.find("summary")) == "Dots of braille page 1"
    rows = [words(row) for row in details.xpath("./ol/li")]
    assert len(rows) == 25
    assert rows[1].startswith("from cell 16: 6 2-3-4-5 1-2-5 1-5, 6 1-2-3-5 2-4")
    assert rows[2] == "blank line"
    page = edition.volumes[0].pages[0]
    for row, line in zip(rows, page_lines(page), strict=True):
        numbers = re.findall(r"\d(?:-\d)*(?![\d ]*(?: empty|:))", row.split(": ")[-1])
        want = [dots for dots in dots_of(line).split(" ") if dots not in ("0", "")]
        assert row == "blank line" or numbers == want


def test_several_empty_cells_are_counted(tmp_path: Path) -> None:
    edition = river_school()
    page = edition.volumes[0].pages[0]
    page.rows[0] = page.rows[1]
    page.head = BLANK * 37 + cells_of("#ab")
    line = words(proof(tmp_path, edition).xpath("//section[1]/details/ol/li")[0])
    assert line.endswith(", 6 1-2-3-5 2-4 1-2-3-6 1-5 1-2-3-5; 11 empty cells; 3-4-5-6 1 1-2")


def test_index_of_print_pages(tmp_path: Path) -> None:
    tree = proof(tmp_path)
    rows = tree.xpath("//h2[@id='print-pages']/following-sibling::div[1]//tbody/tr")
    assert [[words(entry) for entry in row] for row in rows] == [
        ["12", "1", "1", "2"],
        ["13", "1", "1", "16"],
    ]
    for link in tree.xpath("//a[starts-with(@href,'#')]/@href"):
        assert tree.xpath("//*[@id=$id]", id=link[1:]), link


def test_several_volumes_are_several_files_with_an_index(tmp_path: Path) -> None:
    made = write_proof(river_school(volume_pages=1), tmp_path)
    assert [path.name for path in made] == ["proof.html", "proof.v1.html", "proof.v2.html"]
    index, first, second = (html.document_fromstring(p.read_text("utf-8")) for p in made)
    assert index.xpath("//td/ancestor::tr//a/@href")[0] == "proof.v1.html#v1-p1-l2"
    assert first.xpath("//section/@id") == ["v1-p1"]
    assert second.xpath("//section/@id") == ["v2-p2"]
    assert words(second.find(".//h1")) == "River School, volume 2"


def test_speech_meets_no_braille_characters(tmp_path: Path) -> None:
    for element in proof(tmp_path).iter():
        if any("\u2800" <= char <= "\u28ff" for char in element.text or ""):
            assert element.xpath("ancestor-or-self::*[@aria-hidden='true']")


def test_report_can_point_at_any_line(tmp_path: Path) -> None:
    edition = river_report()
    ids = set(proof(tmp_path, edition).xpath("//@id"))
    for finding in edition.findings:
        for place in finding.places:
            assert f"v{place.volume}-p{place.page}-l{place.line}" in ids


@pytest.mark.parametrize("payload", PAYLOADS)
def test_print_cannot_become_markup(tmp_path: Path, payload: str) -> None:
    maker = Maker(width=60)
    maker.turn(payload)
    maker.add(f"before {payload} after")
    maker.turn(payload + "2")
    maker.add("end")
    tree = proof(tmp_path, maker.edition())
    assert not tree.xpath("//script|//img|//*[@onerror or @onmouseover]")
    assert payload.split()[0] in " ".join(said(line) for line in lines(tree))


def test_characters_that_cannot_be_seen_are_named(tmp_path: Path) -> None:
    maker = Maker()
    maker.add("turn \u202e round")
    assert said(lines(proof(tmp_path, maker.edition()))[0]) == "turn [right-to-left override] round"


def test_a_document_without_pages(tmp_path: Path) -> None:
    edition = Maker().edition()
    tree = proof(tmp_path, edition)
    assert "The document has no braille pages." in words(tree)


@pytest.mark.parametrize("name", ["river-school.epub", "permit-form.docx"])
def test_every_line_with_cells_has_words_for_the_ear(
    tmp_path: Path, fixtures: Path, name: str
) -> None:
    """Lines that the edition adds too: title page, special symbols, rules, page numbers."""
    tree = proof(tmp_path, convert_source(fixtures / name, settings_from()))
    found = tree.xpath("//section[@class='page']/ol/li[span[@class='w']]")
    assert len(found) > 50
    assert [line.get("id") for line in found if not said(line)] == []


def test_formulas_are_plain_text_over_their_cells(tmp_path: Path, fixtures: Path) -> None:
    """20 over 40 is not shown as the 2040 that its print runs together to."""
    tree = proof(tmp_path, convert_source(fixtures / "river-school.epub", settings_from()))
    (line,) = [li for li in tree.xpath("//li") if "seconds travels" in words(li)]
    assert said(line) == "seconds travels 20/40=1/2 of a pace"
    assert "20/40=1/2" in [print_ for print_, _ in pairs(line)]


def test_a_formula_that_two_lines_share_is_whole_on_the_first() -> None:
    run = MathRun(0, 7, "x^2 + 15 = 31")
    passage = Passage("so 1234567 it is", marks=(Mark(3, "math", run),))
    assert printed(passage, 0, 6) == "so x^2+15=31 …"
    assert printed(passage, 6, 16) == "… it is"
    assert printed(passage, 0, 16) == "so x^2+15=31 it is"
    assert printed(passage, 11, 16) == "it is"


def test_room_for_an_answer_has_a_name(tmp_path: Path, fixtures: Path) -> None:
    """A row of underscores, a control without words; a chosen entry stays as print."""
    tree = proof(tmp_path, convert_source(fixtures / "permit-form.docx", settings_from()))
    heard = [said(line) for line in tree.xpath("//section[@class='page']/ol/li[span[@class='w']]")]
    assert "Full name: [answer space]" in heard
    assert "Signature: [answer space]" in heard
    assert "Telephone: [answer space]" in heard
    assert "Row: A, by the gate" in heard
    assert not [line for line in heard if "___" in line]
    (line,) = [li for li in tree.xpath("//li") if "Signature:" in words(li)]
    assert pairs(line) == [
        ("Signature:", "\u2820\u280e\u280a\u281b\u281d\u2801\u281e\u2825\u2817\u2811\u2812\u2800"),
        ("[answer space]", "\u2828\u2824"),
    ]
