"""Findings: a closed catalogue, grouping, ids that survive edits elsewhere."""

from __future__ import annotations

import pytest

from convert.errors import Bug
from convert.findings import SEVERITIES, Findings, catalogue, number


def test_every_row_says_something_and_how_to_mend_it() -> None:
    for kind in catalogue().values():
        assert kind.severity in SEVERITIES
        assert kind.says.endswith((".", "?")), kind.name
        assert kind.remedy.endswith((".", "?")), kind.name


def test_languages_are_called_by_their_names() -> None:
    found = Findings()
    for tag in ("la", "fr-CA", "x-elvish"):
        found.add("ueb.foreign", (0, 1), lang=tag)
    assert [one.message for one in found.all()] == [
        "Words in Latin were left uncontracted (places: 1).",
        "Words in French (fr-CA) were left uncontracted (places: 1).",
        "Words in the language x-elvish were left uncontracted (places: 1).",
    ]


def test_an_unknown_kind_is_a_fault_of_the_program() -> None:
    with pytest.raises(Bug):
        Findings().add("read.no-such-kind")


def test_a_missing_fact_is_a_fault_of_the_program() -> None:
    with pytest.raises(Bug, match="mark"):
        Findings().add("read.mark-without-note", (0, 1))


def test_ids_survive_an_insertion_before_them() -> None:
    def ids(text: str, at: int) -> str:
        found = Findings()
        found.add("read.mark-without-note", (at, at + 1), mark="*")
        return number(found.all(), text)[0].id

    text = "x" * 100 + " the sea* was calm and the boats lay still in the harbour all day long"
    at = text.index("*")
    assert ids(text, at) == ids("A new paragraph. " + text, at + 17)


def test_equal_findings_have_different_ids() -> None:
    found = Findings()
    for _ in range(2):
        found.add("read.mark-without-note", (0, 1), mark="*")
    first, second = number(found.all(), "*")
    assert first.id != second.id


def test_ids_hold_when_the_paragraphs_around_change() -> None:
    def ids(before: str, after: str) -> str:
        text = f"{before}\nThe sea* was calm.\n{after}"
        at = text.index("*")
        found = Findings()
        found.add("read.mark-without-note", (at, at + 1), mark="*")
        return number(found.all(), text)[0].id

    assert ids("One.", "Two.") == ids("Another.", "") == ids("", "Three.")


def test_a_grouped_finding_keeps_its_id_when_its_first_place_goes() -> None:
    def ids(*spans: tuple[int, int]) -> str:
        found = Findings()
        for span in spans:
            found.add("read.hidden-text", span)
        (finding,) = number(found.all(), "one two three four")
        return finding.id

    assert ids((0, 3), (4, 7)) == ids((4, 7)) == ids((8, 13), (0, 3))


def test_where_a_check_failed_is_no_part_of_its_id() -> None:
    def ids(place: str) -> str:
        facts = {"check": "G05", "what": "Blank lines.", "section": "1.9", "expected": "one"}
        found = Findings()
        found.add("check.failed-error", place=place, found="two", more="", **facts)
        return number(found.all(), "")[0].id

    assert ids("volume 1, braille page 7") == ids("volume 2, braille page 1")
