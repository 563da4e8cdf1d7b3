"""The four forms of the report hold the same facts, taken from each form by itself.

Common practice, no source: a person who reads one form only must not be told less.
"""

from __future__ import annotations

import csv
import json
import re
from dataclasses import replace
from pathlib import Path
from typing import NamedTuple

import pytest
from lxml import etree, html

from convert.edition import Edition
from convert.findings import Form
from convert.pipeline import convert_source, settings_from
from convert.writers.report import write_report

from ..readers.make import epub
from .make import river_report
from .test_report import words
from .test_report_parts import BODY

Facts = dict[str, "Told"]


class Told(NamedTuple):
    """A finding as one form tells it."""

    message: str
    remedy: str
    standard: str
    settled: str
    places: tuple[str, ...]
    choices: tuple[str, ...]
    offers: tuple[str, ...]


def where(row: dict[str, object] | None) -> str:
    return f"{row['volume']}/{row['page']}/{row['line']}" if row else "-"


def place(page: object, excerpt: object, braille: str, near: str) -> str:
    return "|".join([str(page or ""), " ".join(str(excerpt or "").split()), braille, near])


def in_json(folder: Path) -> Facts:
    return {
        row["id"]: Told(
            row["message"],
            row["remedy"],
            row["standard"] or "",
            row["settled"] or "",
            tuple(
                place(
                    p["print"]["page"],
                    p["print"]["excerpt"],
                    where(p["braille"]),
                    where(p.get("near")),
                )
                for p in row["places"]
            ),
            tuple(f"{c['label']}: {c['print']}, {c['dots']}" for c in row["choices"]),
            tuple(offer.strip() for offer in row["offer"]),
        )
        for row in json.loads((folder / "report.json").read_text("utf-8"))["findings"]
    }


def in_table(folder: Path) -> Facts:
    rows: dict[str, list[dict[str, str]]] = {}
    with (folder / "report.csv").open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            rows.setdefault(row["id"], []).append(row)
    return {key: told_by_rows(own) for key, own in rows.items()}


def told_by_rows(own: list[dict[str, str]]) -> Told:
    def spot(row: dict[str, str], kind: str) -> str:
        names = [f"{kind}volume", f"{kind}braille page", f"{kind}line"]
        return "/".join(row[name] for name in names) if row[names[0]] else "-"

    first = own[0]
    offers = re.split(r"(?m)^(?=\[\[decision\]\]$)", first["offer"])
    return Told(
        first["message"],
        first["remedy"],
        first["standard"],
        first["settled"],
        tuple(
            place(row["print page"], row["excerpt"], spot(row, ""), spot(row, "near "))
            for row in own
            if any(row[name] for name in ("print page", "address", "excerpt", "volume"))
        ),
        tuple(first["choices"].split("\n")) if first["choices"] else (),
        tuple(offer.strip() for offer in offers if offer.strip()),
    )


PLACE = re.compile(
    r"^(?:Not in the braille(?:; would stand near volume (?P<nv>\d+), braille page (?P<np>\S+), "
    r"line (?P<nl>\d+))?|Volume (?P<v>\d+), braille page (?P<p>\S+), line (?P<l>\d+))"
    r"(?:, print page (?P<page>\S+?)|, no print page)?"
    r"(?:\.$|: (?:“(?P<few>.{1,40})” in )?“(?P<words>.*)”$)"
)


def text_places(lines: list[str]) -> tuple[str, ...]:
    found = [match for line in lines if (match := PLACE.match(line))]
    assert all(m["few"] in m["words"] for m in found if m["few"])
    return tuple(
        place(
            m["page"],
            m["words"],
            f"{m['v']}/{m['p']}/{m['l']}" if m["v"] else "-",
            f"{m['nv']}/{m['np']}/{m['nl']}" if m["nv"] else "-",
        )
        for m in found
    )


def in_text(folder: Path) -> Facts:
    """The facts of ``report.txt``, read block by block as a person hears them."""
    text = (folder / "report.txt").read_text("utf-8")
    body, _, stanzas = text.partition("\nDecisions offered, ready for the job file.\n")
    further = dict(
        re.findall(r"(?ms)^Further places of finding (\d+),[^\n]*\n(.*?)(?:\n\n|\Z)", body)
    )
    offered: dict[str, list[str]] = {}
    for at, stanza in re.findall(
        r"(?ms)^Finding (\d+), offer \d+\.\n(.*?)(?=\n\nFinding \d+, offer|\Z)", stanzas
    ):
        offered.setdefault(at, []).append(stanza.strip())
    out: Facts = {}
    for block in body.split("\n\n"):
        common = {"What to do": "", "Standard": ""}
        for line in block.splitlines():
            name, _, value = line.partition(": ")
            if name in common:
                common[name] = value
        for number, own in re.findall(r"(?ms)^(\d+)\. (.*?)(?=^\d+\. |\Z)", block):
            lines = own.splitlines()
            head = re.match(r"(.*) (?:Kind \S+, id|Id) (\w+)\.$", lines[0])
            if head is None:
                continue
            settled = [line[9:] for line in lines if line.startswith("Settled: ")]
            out[head[2]] = Told(
                head[1],
                common["What to do"],
                common["Standard"].rstrip("."),
                "".join(settled),
                text_places([*lines, *further.get(number, "").splitlines()]),
                tuple(re.sub(r"^Choice \d+, ", "", x) for x in lines if x.startswith("Choice ")),
                tuple(offered.get(number, ())),
            )
    return out


def facts_of(part: etree._Element) -> dict[str, list[etree._Element]]:
    rows: dict[str, list[etree._Element]] = {}
    for dt in part.xpath("./dl/dt"):
        rows.setdefault(words(dt), []).append(dt.getnext())
    return rows


def spots(cell: etree._Element) -> tuple[str, str]:
    text = words(cell).lower()
    near, own = (
        re.search(rf"{start}volume (\d+), braille page (\S+), line (\d+)", text)
        for start in ("near ", "^")
    )
    return "/".join(own.groups()) if own else "-", "/".join(near.groups()) if near else "-"


def excerpt_of(cell: etree._Element) -> str:
    for hidden in cell.xpath(".//span[@class='hide']"):
        hidden.drop_tree()
    mark = cell.find(".//mark")
    if mark is not None and words(mark) == "|":
        mark.drop_tree()
    return words(cell)


def in_page(folder: Path) -> Facts:
    tree = html.document_fromstring((folder / "report.html").read_text("utf-8"))
    out: Facts = {}
    for article in tree.xpath("//article[starts-with(@id,'f-')]"):
        facts = facts_of(article)
        group = article.xpath("preceding-sibling::h3[1]")
        common = facts if "What to do" in facts else facts_of_group(group[0])
        table = article.xpath(".//table//tbody/tr")
        if table:
            places = [row_place(row) for row in table]
        elif "In braille" in facts:
            page = words(facts["Print page"][0]) if "Print page" in facts else ""
            print_ = excerpt_of(facts["In print"][0]) if "In print" in facts else ""
            places = [place("" if page == "none" else page, print_, *spots(facts["In braille"][0]))]
        else:
            places = []
        choices = [row for name, row in facts.items() if name.startswith("Choice ")]
        out[article.get("id")[2:]] = Told(
            re.sub(r"^\d+\. ", "", words(article[0])),
            words(common["What to do"][0]),
            words(common["Standard"][0]) if "Standard" in common else "",
            words(facts["Settled"][0]) if "Settled" in facts else "",
            tuple(places),
            tuple(re.sub(r" [\u2800-\u28ff]+ \((.*)\)$", r", \1", words(c[0])) for c in choices),
            tuple("".join(pre.itertext()).strip() for pre in article.xpath(".//pre")),
        )
    return out


def facts_of_group(head: etree._Element) -> dict[str, list[etree._Element]]:
    return {words(dt): [dt.getnext()] for dt in head.getnext().findall("dt")}


def row_place(row: etree._Element) -> str:
    cells = [cell for cell in row if cell.tag in ("td", "th")]
    page = words(cells[0]) if len(cells) == 3 else ""
    own, near = spots(cells[-2])
    return place("" if page == "none" else page, excerpt_of(cells[-1]), own, near)


def made_by_hand() -> Edition:
    edition = river_report(30)
    form = Form("Spoken as a word", "ASHE", "\u2801\u280e", "dot 1, dots 2-3-4")
    settled = "Accepted in job.toml, line 4: right."
    first, second, *rest = edition.findings
    edition.findings = [
        replace(first, forms=(form,)),
        replace(second, settled=settled),
        replace(first, id="twin"),
        *rest,
    ]
    return edition


@pytest.fixture(params=["by-hand", "rivers", "permit-form"])
def edition(
    request: pytest.FixtureRequest, tmp_path: Path, fixtures: Path, monkeypatch: pytest.MonkeyPatch
) -> Edition:
    monkeypatch.setattr("convert.writers.report_text.WIDTH", 1 << 20)  # no line is folded
    if request.param == "by-hand":
        return made_by_hand()
    source = epub(tmp_path, BODY) if request.param == "rivers" else fixtures / "permit-form.docx"
    return convert_source(source, settings_from(code="ueb-uncontracted"))


def test_each_form_tells_the_same_of_each_finding(edition: Edition, tmp_path: Path) -> None:
    write_report(edition, tmp_path)
    told = in_json(tmp_path)
    assert len(told) == len(edition.findings) > 2
    assert in_table(tmp_path) == told
    assert in_page(tmp_path) == told
    assert in_text(tmp_path) == told


def test_each_form_has_the_verdict_the_cautions_and_what_was_not_checked(
    edition: Edition, tmp_path: Path
) -> None:
    write_report(edition, tmp_path)
    record = json.loads((tmp_path / "report.json").read_text("utf-8"))
    with (tmp_path / "statistics.csv").open(encoding="utf-8", newline="") as file:
        table = [(row["what"], row["number"], row["remark"]) for row in csv.DictReader(file)]
    text = (tmp_path / "report.txt").read_text("utf-8").splitlines()
    tree = html.document_fromstring((tmp_path / "report.html").read_text("utf-8"))
    page = words(tree)
    assert text[0] == record["verdict"] == table[0][2]
    for name, sentences in (
        ("Verdict", [record["verdict"]]),
        ("Caution", record["cautions"]),
        ("Not checked", record["not_checked"]),
    ):
        assert [remark for what, _, remark in table if what == name] == sentences
        for sentence in sentences:
            assert sentence in text
            assert sentence in page
    for name, value in record["made"].items():
        assert (name, "", value) in table
        assert f"{name}: {value}." in text
        assert words(tree.xpath("//dt[.=$name]/following-sibling::dd[1]", name=name)[0]) == value
