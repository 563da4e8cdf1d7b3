"""The transcriber's notes report: the contract's JSON, and the same content in every form."""

from __future__ import annotations

import csv
import json
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest
from lxml import etree, html

from convert.findings import Finding, Findings, number
from convert.places import place_findings
from convert.writers import trace
from convert.writers.findings_record import records
from convert.writers.report import write_report
from convert.writers.shown import PrintPages, excerpt, show
from convert.writers.statements import checks_sentence, verdict

from .make import Maker, river_maker, river_report, river_school

PAYLOADS = [
    "<script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    "</style><script>alert(1)</script>",
    "{{ 7 * 7 }}{% raw %}",
    "' onmouseover='alert(1)",
    "javascript:alert(1)",
]


def files(folder: Path, edition=None) -> dict[str, str]:  # type: ignore[no-untyped-def]
    edition = edition or river_report()
    return {path.name: path.read_text("utf-8") for path in write_report(edition, folder)}


def page(folder: Path, edition=None) -> etree._Element:  # type: ignore[no-untyped-def]
    return html.document_fromstring(files(folder, edition)["report.html"])


def words(element: etree._Element) -> str:
    return " ".join("".join(element.itertext()).split())


# ---------------------------------------------------------------- report.json (contract 4)


def test_shape_of_the_json(tmp_path: Path) -> None:
    report = json.loads(files(tmp_path)["report.json"])
    assert report["source"] == "river-school.epub"
    assert set(report) >= {"source", "recipe", "totals", "findings"}
    assert set(report["totals"]) >= {
        "print_characters", "in_cells", "folded", "omitted", "lost", "volumes", "braille_pages",
        "print_pages", "findings",
    }  # fmt: skip
    assert report["totals"]["findings"] == {"stop": 2, "look": 2, "told": 1}
    for finding in report["findings"]:
        assert set(finding) >= {
            "id", "kind", "severity", "message", "standard", "print", "braille", "offer", "places",
        }  # fmt: skip
        assert set(finding["print"]) == {"page", "address", "excerpt"}


def test_a_finding_with_one_place(tmp_path: Path) -> None:
    report = json.loads(files(tmp_path)["report.json"])
    lost = next(row for row in report["findings"] if row["kind"] == "print.lost")
    assert lost["severity"] == "stop"
    assert lost["message"] == "7 characters of print reached no cell: “Farmers”."
    assert lost["print"] == {
        "page": "12",
        "address": "chapter.xhtml!/4/8/1:104",
        "excerpt": "long. In spring the meadows flood. Farmers move their sheep to the upper "
        "fields,",
    }
    assert lost["braille"] == {"volume": 1, "page": "1", "line": 8}
    assert lost["places"] == [{"print": lost["print"], "braille": lost["braille"]}]


def test_a_finding_with_many_places_has_them_all(tmp_path: Path) -> None:
    edition = river_report()
    report = json.loads(files(tmp_path, edition)["report.json"])
    many = next(row for row in report["findings"] if row["kind"] == "read.empty-paragraphs")
    assert len(many["places"]) == edition.document.ledger.text.count("meadows") == 6
    assert [place["print"]["page"] for place in many["places"]] == ["12"] * 2 + ["13"] * 4
    rows = list(trace.trace_lines(edition))
    for place in many["places"]:
        at = place["braille"]
        (line,) = [r for r in rows if (r["braille_page"], r["line"]) == (at["page"], at["line"])]
        assert "meadows" in str(line["text"])


def test_a_finding_of_the_whole_document(tmp_path: Path) -> None:
    report = json.loads(files(tmp_path)["report.json"])
    whole = next(row for row in report["findings"] if row["kind"] == "read.no-print-pages")
    assert whole["print"] == {"page": None, "address": None, "excerpt": None}
    assert (whole["braille"], whole["places"]) == (None, [])


def test_print_that_reached_no_line_has_no_braille_place(tmp_path: Path) -> None:
    maker = Maker()
    maker.ledger.add("hidden words ", "chapter.xhtml", "/4/2/1")
    maker.add("seen words")
    findings = Findings()
    findings.add("print.lost", (0, 12), number=12, words="hidden words")
    maker_edition = maker.edition(findings)
    report = json.loads(files(tmp_path, maker_edition)["report.json"])
    assert report["findings"][0]["braille"] is None
    assert report["findings"][0]["print"]["excerpt"] == "hidden words seen words"


def test_places_stay_with_their_spans_where_some_reached_no_line() -> None:
    maker = Maker()
    maker.ledger.add("first hidden ", "chapter.xhtml", "/4/2/1")
    maker.add("seen words")
    edition = maker.edition()
    finding = Finding("print.doubled", ((0, 5), (13, 17)), (("words", "x"),))
    text = edition.document.ledger.text
    edition.findings = place_findings(number([finding], text), edition.book)
    (record,) = records(edition)
    assert [place.braille is None for place in record.places] == [True, False]


def test_the_path_of_the_source_is_not_in_the_report(tmp_path: Path) -> None:
    edition = river_report()
    edition.recipe = {"digest": "d1", "path": "/home/ann/river-school.epub"}
    report = files(tmp_path, edition)
    assert json.loads(report["report.json"])["recipe"] == {"digest": "d1"}
    assert "/home/ann" not in "".join(report.values())


def test_same_bytes_twice(tmp_path: Path) -> None:
    (tmp_path / "one").mkdir()
    (tmp_path / "two").mkdir()
    assert files(tmp_path / "one") == files(tmp_path / "two")


# ---------------------------------------------------------------- the same in every form


def test_every_finding_in_every_form(tmp_path: Path) -> None:
    made = files(tmp_path)
    found = json.loads(made["report.json"])["findings"]
    text = " ".join(made["report.txt"].split())
    tree = html.document_fromstring(made["report.html"])
    rows = list(csv.DictReader(made["report.csv"].splitlines()))
    for row in found:
        (article,) = tree.xpath("//article[@id=$id]", id=f"f-{row['id']}")
        for form in (words(article), text):
            assert row["message"] in form
            assert row["remedy"] in form
            assert row["standard"] is None or row["standard"] in form
            assert row["id"] in form
        own = [line for line in rows if line["id"] == row["id"]]
        assert len(own) == max(1, len(row["places"]))
        for line, place in zip(own, row["places"], strict=False):
            assert line["message"] == row["message"]
            assert line["print page"] == place["print"]["page"]
            assert line["excerpt"] == place["print"]["excerpt"]
            assert line["line"] == str(place["braille"]["line"])
            at = place["braille"]
            sentence = f"Volume {at['volume']}, braille page {at['page']}, line {at['line']}"
            assert sentence in words(article)
            assert sentence in text
    assert len(tree.xpath("//article")) == len(found)


@pytest.mark.parametrize("start", ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1"])
def test_no_field_of_the_table_is_a_formula(tmp_path: Path, start: str) -> None:
    """Fields that a spreadsheet would run begin with an apostrophe, and all are quoted."""
    maker = Maker()
    maker.add(f"{start} is written here")
    findings = Findings()
    findings.items.append(Finding("print.doubled", ((0, 2),), (("words", start),), (start,)))
    text = files(tmp_path, maker.edition(findings))["report.csv"]
    (row,) = csv.DictReader(text.splitlines(keepends=True))
    assert row["offer"][0] == "'"
    assert not any(value.startswith(("=", "+", "-", "@", "\t", "\r")) for value in row.values())
    assert text.startswith('"number","id","kind"')


def test_text_lines_suit_a_narrow_display(tmp_path: Path) -> None:
    lines = files(tmp_path)["report.txt"].splitlines()
    assert lines[0] == "Do not emboss yet: 2 things to settle. 2 findings to look at."
    assert max(map(len, lines)) < 80
    assert not any(ord(char) in range(0x2500, 0x2900) for line in lines for char in line)


# ---------------------------------------------------------------- report.html


def test_verdict_comes_first(tmp_path: Path) -> None:
    tree = page(tmp_path)
    after_heading = tree.xpath("//h1/following::p")[0]
    assert words(after_heading) == verdict(river_report())
    assert words(after_heading).startswith("Do not emboss yet: 2 things to settle.")
    clean = page(tmp_path, river_school())
    first = words(clean.xpath("//h1/following::p")[0])
    assert first == "Nothing must be settled before a transcriber reads the draft."


def test_draft_and_authority_are_named(tmp_path: Path) -> None:
    text = words(page(tmp_path))
    assert "a draft for a qualified transcriber and proofreader" in text
    assert "local braille authority prevail" in text
    assert "Nobody has proofread this braille." in text


def test_order_stop_list_then_kinds_then_pages(tmp_path: Path) -> None:
    heads = [words(head) for head in page(tmp_path).xpath("//h2")]
    assert heads == [
        "Settle before embossing", "Look at this", "Recorded", "By print page", "By braille page",
        "Statistics", "Not checked", "How this was made",
    ]  # fmt: skip


def test_same_findings_in_each_view(tmp_path: Path) -> None:
    tree = page(tmp_path)
    placed = {a.get("id") for a in tree.xpath("//article[.//td or .//dt[.='In print']]")}
    for view in ("by-print", "by-braille"):
        links = tree.xpath(
            f"//h2[@id='{view}']/following-sibling::div[1]//a[contains(@href,'#f-')]"
        )
        assert {link.get("href")[1:] for link in links} == placed


def test_groups_say_how_many(tmp_path: Path) -> None:
    edition = river_report()
    twins = [f for f in edition.findings if f.kind == "read.mark-without-note"]
    edition.findings += [replace(twin, id="twin") for twin in twins]
    made = files(tmp_path, edition)
    (head,) = html.document_fromstring(made["report.html"]).xpath("//h3[contains(., 'findings')]")
    assert words(head) == "Mark without note: 2 findings"
    assert [words(dt) for dt in head.getnext().findall("dt")][:1] == ["What to do"]
    assert made["report.html"].count("Find the note in print") == 1
    assert made["report.txt"].count("Find the note in print") == 1
    assert "Mark without note, read.mark-without-note: 2 findings." in made["report.txt"]


def test_long_lists_of_places_open_on_request(tmp_path: Path) -> None:
    short = page(tmp_path, river_report(9))
    long = page(tmp_path, river_report(30))
    assert not short.xpath("//article//details[.//table]")
    (details,) = long.xpath("//article//details[.//table]")
    assert words(details.find("summary")) == "All 20 places of finding 5"
    assert len(details.xpath(".//tbody/tr")) == 20


def test_structure_for_the_ear(tmp_path: Path) -> None:
    """WCAG 2.2: 1.3.1 structure, 2.4.1 skip link, 3.1.1 language, 4.1.2 names."""
    tree = page(tmp_path)
    assert tree.get("lang") == "en"
    assert len(tree.xpath("//h1")) == len(tree.xpath("//main")) == 1
    levels = [int(head.tag[1]) for head in tree.xpath("//h1|//h2|//h3|//h4")]
    assert all(b - a <= 1 for a, b in pairwise(levels))
    skip = tree.xpath("//body/a")[0]
    assert tree.xpath("//*[@id=$id]", id=skip.get("href")[1:])
    for table in tree.xpath("//table"):
        assert words(table.find("caption"))
        assert all(head.get("scope") in ("row", "col") for head in table.xpath(".//th"))
    ids = tree.xpath("//@id")
    assert len(ids) == len(set(ids))
    for link in tree.xpath("//a[starts-with(@href,'#')]"):
        assert link.get("href")[1:] in ids


def test_braille_has_a_name_a_screen_reader_can_say(tmp_path: Path) -> None:
    tree = page(tmp_path)
    braille = [e for e in tree.iter() if any("\u2800" <= c <= "\u28ff" for c in e.text or "")]
    assert len(braille) == 4
    for element in braille:
        assert element.get("role") == "img"
        assert element.get("aria-label", "").startswith("Braille of: ")


def test_no_script_and_nothing_from_elsewhere(tmp_path: Path) -> None:
    text = files(tmp_path)["report.html"]
    tree = html.document_fromstring(text)
    assert not tree.xpath("//script|//@onclick|//@onload|//img|//link|//iframe")
    (policy,) = tree.xpath("//meta[@http-equiv='Content-Security-Policy']/@content")
    assert "default-src 'none'" in policy
    assert "http" not in text.replace("http-equiv", "")


@pytest.mark.parametrize("payload", PAYLOADS)
def test_print_cannot_become_markup(tmp_path: Path, payload: str) -> None:
    """Injection: titles, file names, print, facts and offers are text wherever they appear."""
    maker = Maker()
    maker.turn(payload)
    maker.add(f"before {payload} after")
    findings = Findings()
    spans = ((7, 7 + len(payload)),)
    findings.items.append(Finding("print.doubled", spans, (("words", payload),), (payload,)))
    edition = maker.edition(findings)
    about = replace(edition.document.meta, title=payload, language=payload)
    edition.document = replace(edition.document, meta=about)
    edition.source = f"{payload}.epub"
    tree = page(tmp_path, edition)
    assert not tree.xpath("//script|//img|//*[@onerror or @onmouseover]")
    assert not [link for link in tree.xpath("//@href") if "alert" in link and ":" in link]
    assert tree.xpath("//style[1]")[0].getparent().tag == "head"
    assert words(tree.find(".//h1")) == f"{payload}: transcriber’s notes report"
    assert payload in words(tree.xpath("//article//mark")[0])


def test_links_to_the_proof_only_where_it_is_written(tmp_path: Path) -> None:
    edition = river_report(volume_pages=1)
    with_proof = page(tmp_path, edition).xpath("//a[contains(@href,'proof')]/@href")
    assert {"proof.html", "proof.v1.html#v1-p1-l8"} <= set(with_proof)
    edition.settings = replace(edition.settings, write=("report",))
    assert not page(tmp_path, edition).xpath("//a[contains(@href,'proof')]")


# ---------------------------------------------------------------- pieces


def test_invisible_characters_are_named() -> None:
    assert show("a\u202eb\u200bc\x1bd") == (
        "a[right-to-left override]b[zero width space]c[character 001b]d"
    )
    assert show("plain “text” é\n") == "plain “text” é\n"


def test_excerpt_is_at_most_40_characters_each_side_in_whole_words() -> None:
    ledger = river_school().document.ledger
    at = ledger.text.index("Farmers")
    found = excerpt(ledger, (at, at + 7))
    assert found.before == "long. In spring the meadows flood. "
    assert found.after == " move their sheep to the upper fields,"
    whole = excerpt(ledger, (0, len(ledger.text)))
    assert len(whole.words) == 163
    assert whole.words[80:83] == " … "


def test_print_page_of_a_place_is_that_of_the_document() -> None:
    maker = river_maker()
    pages = PrintPages(maker.edition().document)
    text = maker.ledger.build().text
    assert pages.at(0) == "12"
    thirteen = text.index("where the grass") + len("where the grass is short but dry, and wait")
    thirteen = text.index("Water", thirteen)
    assert [pages.at(at) for at in (thirteen - 2, thirteen, len(text))] == ["12", "13", "13"]


CHECKS: dict[str, object] = {
    "total": 197,
    "sentence": "197 checks: 120 applied, 50 not applicable, 27 not made yet, 1 failed.",
    "failures": [
        {
            "id": "G05", "severity": "E", "volume": 1, "page": 2, "label": "2", "line": 7,
            "section": "1.9", "expected": "one blank line", "found": "two <b>blank</b> lines",
        }
    ],
    "not_made_ids": ["X01", "X02"],
}  # fmt: skip


def test_checks_of_the_pages_are_told_in_every_form(tmp_path: Path) -> None:
    edition = river_report()
    edition.checks = CHECKS
    made = files(tmp_path, edition)
    html_text = words(html.document_fromstring(made["report.html"]))
    for text in (html_text, " ".join(made["report.txt"].split())):
        assert "197 checks: 120 applied, 50 not applicable, 27 not made yet, 1 failed." in text
        assert "Volume 1, braille page 2, line 7" in text
        assert "two <b>blank</b> lines" in text
        assert "2 checks of the finished pages not made yet: X01, X02." in text
    assert json.loads(made["report.json"])["checks"] == CHECKS


def test_pages_that_were_not_inspected() -> None:
    assert checks_sentence({}) == "The finished pages were not inspected."


def test_a_finding_about_a_braille_line_has_its_print_too(tmp_path: Path) -> None:
    edition = river_report()
    facts = (("volume", 1), ("page", "1"), ("line", 4), ("words", "x"))
    finding = replace(Finding("print.doubled"), facts=facts)
    edition.findings = place_findings(number([finding], ""), edition.book)
    (row,) = json.loads(files(tmp_path, edition)["report.json"])["findings"]
    assert row["braille"] == {"volume": 1, "page": "1", "line": 4}
    assert row["print"]["page"] == "12"
    assert row["print"]["address"] == "chapter.xhtml!/4/6/1:0"
    assert row["print"]["excerpt"].startswith("The River Water runs from the hills to the sea,")
