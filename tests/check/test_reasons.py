"""Failures that a finding of the same edition explains, and the places findings of checks have."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from convert.check import Failure, checks, inspect, inspect_edition
from convert.check.edition import book_of
from convert.check.inspect import inspect_book
from convert.check.model import Book, Fault, Page
from convert.check.reasons import KINDS, LACKING, SERVED, explain, reasons_in, reasons_of
from convert.findings import Findings, Place, catalogue
from convert.layout.convention import load
from convert.layout.turns import COMPOUND, HEADS
from convert.pipeline import convert_source, settings_from
from convert.places import place_findings
from convert.writers.statements import failed_checks

from ..readers.make import epub
from ..writers.make import river_school
from .drawn import Drawing, failed
from .test_command import cellset_check

# 4.3: a heading at a page foot, no line of what follows on its page.
DAY = "p|  ,all day4\n"
FOOT = f"= body 1 - -\n{DAY * 9}\nh5:1/1|    ,! mill\n= body 2 - -\n{DAY}\nev|~,! ,5d\n"
SAYS = "The rule “{}” of the style cell-5-heading was given up, as nothing else fitted."


def write_report(folder: Path, kind: str, says: str, *lines: tuple[str, int]) -> None:
    """A report with one finding at some lines of braille pages of volume 1."""
    places = [
        {"print": None, "braille": {"volume": 1, "page": page, "line": line}}
        for page, line in lines
    ]
    row = {"kind": kind, "message": says, "places": places}
    (folder / "report.json").write_text(json.dumps({"findings": [row]}), "utf-8")


def with_report(folder: Path, rule: str, page: str = "1", line: int = 11) -> Path:
    """The drawing with a report in which a rule gave way on a line of a braille page."""
    write_report(folder, "layout.rule-relaxed", SAYS.format(rule), (page, line))
    return Drawing(FOOT).write(folder)


def test_every_rule_that_may_give_way_is_known() -> None:
    relaxed = load("bf2016").relax
    quiet = {"head_min", "tail_min", "note_whole"}  # No check looks for them.
    named = {rule.replace("_", " ") for rule in {*relaxed, COMPOUND, HEADS} - quiet}
    assert named == SERVED.keys()
    assert {name for names in SERVED.values() for name in names} <= checks().keys()


def test_findings_that_explain_are_of_the_catalogue() -> None:
    assert catalogue().keys() >= KINDS
    assert {name for names in LACKING.values() for name in names} <= checks().keys()


def test_a_broken_word_explains_its_line_alone(tmp_path: Path) -> None:
    """1.10, 2.10: two words of one entry are broken, and one is told."""
    write_report(tmp_path, "layout.contents-word-divided", "Words were broken.", ("p1", 4))
    (reason,) = reasons_in(tmp_path / "report.json")
    page = Page(1, 3, [""] * 25, 25, "p", "p1")
    faults = [Fault(page, line, "a whole word", "a part") for line in (4, 5)]
    failures = [Failure("G07", "E", 1, 3, "p1", f.line, "1.10", *f[2:4]) for f in faults]
    told = explain(failures, faults, [reason], Book(40, 25, [[page]]))
    assert [failure.explained for failure in told] == ["Words were broken.", ""]


def test_a_finding_without_a_place_explains_nothing(tmp_path: Path) -> None:
    write_report(tmp_path, "layout.rule-relaxed", SAYS.format("with next"))
    result = inspect(Drawing(FOOT).write(tmp_path))
    assert result.state["H11"] == "failed"


def test_a_rule_that_gave_way_explains_a_failure(tmp_path: Path) -> None:
    result = inspect(with_report(tmp_path, "with next"))
    assert (result.state["H11"], result.errors) == ("explained", [])
    assert result.sentence.endswith(", 1 not kept for reasons that the findings give.")


@pytest.mark.parametrize(
    "rule, page, line",
    [("with next", "1", 9), ("with next", "2", 11), ("with previous", "2", 1), ("whole", "1", 11)],
)
def test_another_rule_or_line_explains_nothing(
    rule: str, page: str, line: int, tmp_path: Path
) -> None:
    assert "H11" in failed(inspect(with_report(tmp_path, rule, page, line)))
    assert inspect(tmp_path).state["H11"] == "failed"


# 15.4: words of two lines come too near the number of the second.
POEM = "= body 1 - -\n" + (
    f"vs:1/1|{',a bird'.ljust(37, 'x')}\nvs:1/1|{',sang'.ljust(37)} #e\n"
    f"vs:1/1|{',a fish'.ljust(37, 'x')}\n\nev|~,! ,5d\n"
)


def test_a_line_that_is_told_does_not_explain_another_of_its_page(tmp_path: Path) -> None:
    """Two failures of one check on one page, and a finding of the first: the other has failed."""
    assert [row.line for row in Drawing(POEM).inspect(tmp_path).failures] == [1, 3]
    write_report(tmp_path, "layout.line-numbers-kept", "Numbers were kept.", ("1", 1))
    result = inspect(tmp_path)
    assert [(row.line, row.explained) for row in result.errors] == [(3, "")]
    assert result.state["Y08"] == "failed"
    write_report(tmp_path, "layout.line-numbers-kept", "Numbers were kept.", ("1", 1), ("1", 3))
    assert inspect(tmp_path).state["Y08"] == "explained"


QUESTION = "ex:1/2|#{}4 ,:at8\nex:2/2|  a4 one\n"
PARTED = (
    f"= body 1 - -\n{DAY * 9}\n{QUESTION.format('a')}"
    f"= body 2 - -\nex:2/2|  b4 two\n\n{DAY * 7}\n{QUESTION.format('b')}"
    "= body 3 - -\nex:2/2|  b4 two\n\nev|~,! ,5d\n"
)


def test_a_rule_of_one_question_does_not_explain_another(tmp_path: Path) -> None:
    """10.1: of two divided questions the one is told, whose last line before the turn it names."""
    result = Drawing(PARTED).inspect(tmp_path)
    assert [(row.id, row.label) for row in result.failures if row.id == "Q04"] == [
        ("Q04", "1"), ("Q04", "2"),
    ]  # fmt: skip
    write_report(tmp_path, "layout.rule-relaxed", SAYS.format("next whole"), ("2", 12))
    rows = {row.label: row.explained for row in inspect(tmp_path).failures if row.id == "Q04"}
    assert rows["1"] == ""
    assert "next whole" in rows["2"]


def test_the_command_tells_the_reason_and_finds_no_error(tmp_path: Path) -> None:
    done = cellset_check(with_report(tmp_path, "with next"))
    assert done.exit_code == 0
    assert "Not kept for a reason that the report gives" in " ".join(done.output.split())


def test_a_report_that_cannot_be_read_explains_nothing(tmp_path: Path) -> None:
    with_report(tmp_path, "with next")
    (tmp_path / "report.json").write_text("[1]", "utf-8")
    assert inspect(tmp_path).state["H11"] == "failed"


def test_a_note_or_mark_that_the_source_lacks_explains_its_own_line(tmp_path: Path) -> None:
    """16.3: a note without a mark is told, and so is a mark without a note; no other note is."""
    source = epub(
        tmp_path,
        '<p>Oaks<a epub:type="noteref" href="#gone">2</a> grow.</p>'
        '<aside epub:type="footnote" id="n1"><p>Old ones.</p></aside>'
        '<aside epub:type="footnote" id="n2"><p>New ones.</p></aside>',
    )
    edition = convert_source(source, settings_from(code="ueb-uncontracted"))
    rows = edition.checks["failures"]
    assert [(row["expected"], bool(row["explained"])) for row in rows] == [  # type: ignore[attr-defined]
        ("a mark in the text for the note", True), ("a mark in the text for the note", True),
        ("a note for every mark", True),
    ]  # fmt: skip
    assert "check.explained" in {finding.kind for finding in edition.findings}
    known = [f for f in edition.findings if f.kind == "read.note-without-mark"]
    again = inspect_book(book_of(edition), (), reasons_of(known[:1]))
    assert [bool(row.explained) for row in again.failures] == [True, False, False]


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
