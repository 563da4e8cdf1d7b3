"""Figures, pictures and decisions of the report, the same in every form."""

from __future__ import annotations

import csv
import json
from dataclasses import replace
from pathlib import Path

import pytest
from lxml import html

from convert.decisions.record import Record
from convert.edition import Edition
from convert.findings import Form
from convert.pipeline import convert_source, settings_from
from convert.writers.pictures import pictures
from convert.writers.report import write_report
from convert.writers.report_parts import gather
from convert.writers.statements import statistics

from ..readers.make import epub
from .make import river_report
from .test_report import words

BODY = """
<h1>Rivers</h1>
<span epub:type="pagebreak" id="p1" title="1"/>
<p>A river has a <i>source</i> and a <i>mouth</i>, and <b>banks</b>. Figure 3.2 shows both.</p>
<figure><img src="ashe.png" alt="A river with two arms."/>
<figcaption>Figure 3.2 The river Ashe</figcaption></figure>
<p>Look at figure 3.2 again<a epub:type="noteref" href="#n1">1</a>, and at Figure 3.3.</p>
<aside epub:type="footnote" id="n1"><p>1 Twice.</p></aside>
<span epub:type="pagebreak" id="p2" title="2"/>
<figure><svg xmlns="http://www.w3.org/2000/svg"><title>A delta</title><text>sea</text>
<text>Old Arm</text></svg></figure>
<p><img src="bare.png"/></p>
<p><img src="line.png" alt=""/></p>
<table><tr><th>River</th><th>Miles</th></tr><tr><td>Ashe</td><td>48</td></tr></table>
<p hidden="">Never shown.</p>
<math xmlns="http://www.w3.org/1998/Math/MathML"><mi>x</mi><mo>=</mo><mn>2</mn></math>
"""
DECISIONS = (
    Record("omit", "c1.xhtml!/4/6", "Applied words", "", "AB", "job.toml", 4, "applied",
           settled=("abc",)),
    Record("note", "c1.xhtml!/4/8", "Gone words", "no longer there", "AB", "job.toml", 9, "stale",
           note="The nearest print is “Going words”."),
)  # fmt: skip


@pytest.fixture(scope="module")
def rivers(tmp_path_factory: pytest.TempPathFactory) -> Edition:
    source = epub(tmp_path_factory.mktemp("source"), BODY)
    return convert_source(source, settings_from(code="ueb-uncontracted"))


def figure(edition: Edition, what: str) -> int:
    (number,) = [row.number for row in gather(edition).figures if row.what == what]
    return number


@pytest.mark.parametrize(
    "what, number",
    [
        ("Headings", 1),
        ("Tables", 1),
        ("Tables set in columns as in print", 1),
        ("Pictures", 4),
        ("Pictures left out: decorative in the source", 1),
        ("Pictures left out: neither described nor captioned", 1),
        ("Stretches of print in italic", 2),
        ("Stretches of print in bold", 1),
        ("Notes of print", 1),
        ("Formulas", 1),
    ],
)
def test_figures_are_counts_of_the_source(rivers: Edition, what: str, number: int) -> None:
    assert figure(rivers, what) == number


def test_words_in_cells_are_those_not_left_out(rivers: Edition) -> None:
    """“Never shown.” is hidden in print: two words that reach no cell."""
    assert figure(rivers, "Words in print") - figure(rivers, "Words in cells") >= 2
    assert figure(rivers, "Left out: hidden text") == 1
    pages = [row.number for row in gather(rivers).figures if row.what.startswith("Braille pages:")]
    assert sum(pages) == rivers.totals.braille_pages


def test_the_manifest_has_a_row_for_each_picture(rivers: Edition) -> None:
    ashe, delta, bare, line = pictures(rivers)
    assert (ashe.resource, ashe.page) == ("ashe.png", "1")
    assert ashe.caption == "Figure 3.2 The river Ashe"
    assert ashe.alt == "A river with two arms."
    assert ashe.state == "in words: description, caption"
    assert [words.split(": ")[0] for words in ashe.mentions] == ["print page 1", "print page 1"]
    assert "Figure 3.2 shows both" in ashe.mentions[0]
    assert "figure 3.2 again" in ashe.mentions[1]
    assert [label.text for label in delta.labels] == ["sea", "Old Arm"]
    assert [len(label.cells) for label in delta.labels] == [3, 9]  # two capital signs, a space
    assert (delta.alt, delta.page) == ("A delta", "2")
    assert bare.state == "left out: neither described nor captioned"
    assert line.state == "left out: decorative in the source"


def test_a_picture_is_where_its_words_are(rivers: Edition) -> None:
    ashe = pictures(rivers)[0]
    assert ashe.place is not None
    (page,) = [p for _, _, p in rivers.book.pages() if p.braille_page == ashe.place.page]
    row = page.rows[ashe.place.line - 1]
    assert row is not None
    text = rivers.document.ledger.text
    line = page.lines[ashe.place.line - 1]
    offsets = [at for at in line.origin if at >= 0]
    assert text[min(offsets) :].startswith(("A river with two arms.", "Figure 3.2"))


def test_no_manifest_without_pictures(tmp_path: Path) -> None:
    names = {path.name for path in write_report(river_report(), tmp_path)}
    assert "pictures.csv" not in names
    assert "decisions.csv" not in names
    assert "statistics.csv" in names


def forms(edition: Edition, folder: Path) -> dict[str, str]:
    made = {path.name: path.read_text("utf-8") for path in write_report(edition, folder)}
    made["page"] = words(html.document_fromstring(made["report.html"]))
    made["text"] = " ".join(made["report.txt"].split())
    return made


def table(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(text.splitlines(keepends=True)))


def test_figures_in_every_form(rivers: Edition, tmp_path: Path) -> None:
    made = forms(rivers, tmp_path)
    report = gather(rivers)
    rows = statistics(report.totals, report.figures)
    assert len(rows) > 20
    in_json = {row["what"]: row["number"] for row in json.loads(made["report.json"])["figures"]}
    in_table = {row["what"]: row["number"] for row in table(made["statistics.csv"])}
    in_page = {
        words(row.find("th")): [words(entry) for entry in row.findall("td")]
        for row in html.document_fromstring(made["report.html"]).xpath(
            "//h2[@id='statistics']/following-sibling::div[1]//tbody/tr"
        )
    }
    for name, number, remark in rows:
        assert in_page[name] == [number, remark]
        assert f"{name}: {number}{f', {remark}' if remark else ''}." in made["text"]
        assert in_table[name] == number.replace(",", "")
    for row in report.figures:
        assert in_json[row.what] == row.number


def test_pictures_in_every_form(rivers: Edition, tmp_path: Path) -> None:
    made = forms(rivers, tmp_path)
    in_json = json.loads(made["report.json"])["pictures"]
    in_table = table(made["pictures.csv"])
    found = pictures(rivers)
    assert len(found) == len(in_json) == len(in_table) == 4
    for row, listed, record in zip(found, in_table, in_json, strict=True):
        assert listed["resource"] == record["resource"] == row.resource
        assert listed["alternative text"] == record["alternative_text"] == row.alt
        for value in (row.resource, row.caption, row.alt, row.state, *row.mentions):
            assert " ".join(value.split()) in made["page"]
            assert " ".join(value.split()) in made["text"]
        assert [label["text"] for label in record["labels"]] == [label.text for label in row.labels]
        widths = [width for width in listed["label width in cells"].split("\n") if width]
        assert widths == [str(len(label.cells)) for label in row.labels]


def test_decisions_in_every_form_stale_ones_first(tmp_path: Path) -> None:
    edition = replace(river_report(), decisions=DECISIONS)
    made = forms(edition, tmp_path)
    assert "Decisions: 2. 1 not applied, first here." in made["text"]
    in_json = json.loads(made["report.json"])["decisions"]
    assert [row["state"] for row in in_json] == ["stale", "applied"]
    assert [row["state"] for row in table(made["decisions.csv"])] == ["stale", "applied"]
    tree = html.document_fromstring(made["report.html"])
    heads = [words(head) for head in tree.xpath("//article[starts-with(@id,'d-')]/h3")]
    assert heads == ["Decision 1, note: “Gone words”", "Decision 2, omit: “Applied words”"]
    for value in (
        "Not applied: its print was not found", "The nearest print is “Going words”.",
        "no longer there", "job.toml, line 9", "job.toml, line 4",
    ):  # fmt: skip
        assert value in made["page"]
        assert value in made["text"]


def test_choices_in_every_form(tmp_path: Path) -> None:
    edition = river_report()
    form = Form("Spoken as a word", "ASHE", "\u2801\u280e", "dot 1, dots 2-3-4")
    edition.findings[0] = replace(edition.findings[0], forms=(form,))
    made = forms(edition, tmp_path)
    (record,) = [row for row in json.loads(made["report.json"])["findings"] if row["choices"]]
    assert record["choices"] == [
        {"label": form.label, "print": "ASHE", "cells": form.cells, "dots": form.dots}
    ]
    assert "Choice 1, Spoken as a word: ASHE, dot 1, dots 2-3-4" in made["text"]
    assert f"Spoken as a word: ASHE {form.cells} (dot 1, dots 2-3-4)" in made["page"]
    assert {row["choices"] for row in table(made["report.csv"]) if row["id"] == record["id"]} == {
        "Spoken as a word: ASHE, dot 1, dots 2-3-4"
    }


def test_settled_findings_stand_apart(tmp_path: Path) -> None:
    edition = river_report()
    done = replace(edition.findings[0], settled="Accepted in job.toml, line 4: print is right.")
    edition.findings = [done, *edition.findings[1:]]
    made = forms(edition, tmp_path)
    tree = html.document_fromstring(made["report.html"])
    (article,) = tree.xpath("//h2[@id='settled']/following-sibling::article[1]")
    assert article.get("id") == f"f-{done.id}"
    assert (
        made["page"].startswith("Transcriber’s notes report") or "1 thing to settle" in made["page"]
    )
    assert "Settled by a decision: 1 finding." in made["text"]
    for name in ("page", "text"):
        assert "Accepted in job.toml, line 4: print is right." in made[name]
    rows = {row["id"]: row for row in json.loads(made["report.json"])["findings"]}
    assert rows[done.id]["settled"] == done.settled
    assert {row["settled"] for row in table(made["report.csv"]) if row["id"] == done.id} == {
        done.settled
    }


def test_choices_and_offers_stand_in_the_first_row_of_a_finding(tmp_path: Path) -> None:
    # 344 places of one finding made a table of 42 million bytes, the offers again in each row.
    edition = river_report()
    finding = edition.findings[0]
    form = Form("Spoken as a word", "ASHE", "\u2801\u280e", "dot 1, dots 2-3-4")
    edition.findings[0] = replace(
        finding, spans=((0, 3), (4, 7), (8, 11)), forms=(form,), offer=("[[decision]]",)
    )
    number = finding.id
    own = [row for row in table(forms(edition, tmp_path)["report.csv"]) if row["id"] == number]
    first, *rest = own
    assert first["offer"] == "[[decision]]"
    assert first["choices"].startswith("Spoken as a word")
    above = f"See the first row of number {first['number']}."
    assert [(row["offer"], row["choices"]) for row in rest] == [(above, above)] * 2
