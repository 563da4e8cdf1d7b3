"""Failures that a finding of the same edition explains, and the places findings of checks have."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest

from convert.check import Failure, checks, inspect, inspect_edition
from convert.check.model import Book
from convert.check.reasons import KINDS, LACKING, SERVED, explain, reasons_in
from convert.findings import Findings, Place, catalogue
from convert.layout.convention import load
from convert.layout.turns import COMPOUND
from convert.places import place_findings
from convert.writers.statements import failed_checks

from ..writers.make import river_school
from .drawn import Drawing, failed
from .test_command import cellset_check

# 4.3: a heading at a page foot, no line of what follows on its page.
DAY = "p|  ,all day4\n"
FOOT = f"= body 1 - -\n{DAY * 9}\nh5:1/1|    ,! mill\n= body 2 - -\n{DAY}\nev|~,! ,5d\n"
SAYS = "Nothing could be placed without giving up the rule “{}” of the style cell-5-heading."


def with_report(folder: Path, rule: str, page: str) -> Path:
    """The drawing with a report in which a rule gave way on a braille page."""
    place = {"print": None, "braille": {"volume": 1, "page": page, "line": 4}}
    row = {"kind": "layout.rule-relaxed", "message": SAYS.format(rule), "places": [place]}
    (folder / "report.json").write_text(json.dumps({"findings": [row]}), "utf-8")
    return Drawing(FOOT).write(folder)


def test_every_rule_that_may_give_way_is_known() -> None:
    relaxed = load("bf2016").relax
    quiet = {"head_min", "tail_min"}  # No check looks for them: no style has them.
    named = {rule.replace("_", " ") for rule in {*relaxed, COMPOUND} - quiet}
    assert named == SERVED.keys()
    assert {name for names in SERVED.values() for name in names} <= checks().keys()


def test_findings_that_explain_are_of_the_catalogue() -> None:
    assert catalogue().keys() >= KINDS
    assert {name for names in LACKING.values() for name in names} <= checks().keys()


def test_a_finding_about_a_whole_part_explains_failures_wherever_they_are(tmp_path: Path) -> None:
    """2.10: broken words of the contents are told once, without places."""
    row = {"kind": "layout.contents-word-divided", "message": "Words were broken.", "places": []}
    (tmp_path / "report.json").write_text(json.dumps({"findings": [row]}), "utf-8")
    (reason,) = reasons_in(tmp_path / "report.json")
    failure = Failure("G07", "E", 1, 3, "p1", 4, "1.10", "a whole word", "a part")
    (told,) = explain([failure], [reason], Book(40, 25, []))
    assert told.explained == "Words were broken."


def test_a_rule_that_gave_way_explains_a_failure(tmp_path: Path) -> None:
    result = inspect(with_report(tmp_path, "with next", "1"))
    assert (result.state["H11"], result.errors) == ("explained", [])
    assert result.sentence.endswith(", 1 not kept for reasons that the findings give.")


@pytest.mark.parametrize("rule, page", [("with next", "2"), ("with previous", "3"), ("whole", "1")])
def test_another_rule_or_place_explains_nothing(rule: str, page: str, tmp_path: Path) -> None:
    assert "H11" in failed(inspect(with_report(tmp_path, rule, page)))
    assert inspect(tmp_path).state["H11"] == "failed"


def test_the_command_tells_the_reason_and_finds_no_error(tmp_path: Path) -> None:
    done = cellset_check(with_report(tmp_path, "with next", "1"))
    assert done.exit_code == 0
    assert "Not kept for a reason that the report gives" in " ".join(done.output.split())


def test_a_report_that_cannot_be_read_explains_nothing(tmp_path: Path) -> None:
    with_report(tmp_path, "with next", "1")
    (tmp_path / "report.json").write_text("[1]", "utf-8")
    assert inspect(tmp_path).state["H11"] == "failed"


def test_notes_that_the_source_lacks_explain_notes_that_the_braille_lacks() -> None:
    from .test_document import Tree, noted

    edition = river_school()
    source = noted()
    lone = source.children[1]
    edition.document = replace(source, children=(Tree().para("1", "Oaks"), lone))
    state = {row["id"] for row in inspect_edition(edition)["failures"] if not row["explained"]}  # type: ignore[attr-defined]
    assert "F03" in state
    findings = Findings()
    findings.add("read.note-without-mark", None, note="n1")
    rows = [r for r in inspect_edition(edition, findings)["failures"] if r["id"] == "F03"]  # type: ignore[attr-defined]
    assert all(
        "has no mark in the text" in row["explained"] for row in rows if "mark" in row["expected"]
    )
    kinds = [finding.kind for finding in findings.all()]
    assert "check.explained" in kinds


# ------------------------------------------------------------------ places


def test_findings_of_checks_have_their_places() -> None:
    """In the braille: volume, page and line, each place of a check that failed."""
    edition = river_school()
    findings = Findings()
    rows = inspect_edition(edition, findings)["failures"]
    placed = place_findings(findings.all(), edition.book)
    assert placed
    for finding in placed:
        name = dict(finding.facts)["check"]
        wanted = [
            Place(row["volume"], row["label"], max(1, row["line"]))
            for row in rows  # type: ignore[attr-defined]
            if row["id"] == name
        ]
        assert list(finding.places) == wanted


def test_failures_tell_the_print_page_and_what_stands_there(tmp_path: Path) -> None:
    drawn = Drawing("= body 1 12 #ab\n\nh5:1/1|  ,old\np|  ,a\n\nev|~,! ,5d\n")
    row = next(row for row in drawn.inspect(tmp_path).failures if row.id == "H05")
    assert (row.print_page, row.element) == ("12", "c.xhtml!/4/2/2/1")
    done = cellset_check(tmp_path, "--json")
    told = next(row for row in json.loads(done.output)[0]["failures"] if row["id"] == "H05")
    assert (told["volume"], told["label"], told["line"]) == (1, "1", 2)
    assert (told["print_page"], told["element"]) == ("12", "c.xhtml!/4/2/2/1")
    assert "line 2, print page 12: check H05" in " ".join(cellset_check(tmp_path).output.split())


def test_the_report_tells_place_print_page_and_reason() -> None:
    row = {
        "id": "H11", "section": "4.3", "volume": 1, "page": 4, "label": "2", "line": 25,
        "expected": "a line", "found": "none", "print_page": "12", "explained": "A rule gave way.",
    }  # fmt: skip
    (told,) = failed_checks({"failures": [row]})
    assert told.place == "Volume 1, braille page 2, line 25, print page 12"
    assert told.found == "none. A rule gave way."
