"""Every kind of finding of the translator of Unified English Braille, raised once."""

from __future__ import annotations

import pytest

import convert
from convert.document.nodes import MathRun
from convert.findings import Findings, catalogue
from convert.translation.passage import Mark, Passage

from .ueb_case import cells, passage, translator

RAISED = {
    "ueb.unknown-character": passage("costs ₹5"),
    "ueb.other-script": passage("the word река"),
    "ueb.unknown-modifier": passage("ἀρχή"),
    "ueb.invisible": passage("soft\u00adware"),
    "ueb.numbers-joined": passage("1 000 000 people"),
    "ueb.quote-direction": passage('he said "no and left'),
    "ueb.capitals-edge": passage("Go to point A. BUT NOT YET!"),
    "ueb.foreign": passage("the word der", langs=((9, 12, "de"),)),
    "ueb.ordinal-on-line": passage("the 4th day", (5, 7, "sup")),
    "ueb.small-capitals": passage("Somebody once wrote this", (0, 13, "small-caps")),
    "ueb.math-not-transcribed": Passage(
        "so x plus y", marks=(Mark(3, "math", MathRun(3, 11, "<math/>")),)
    ),
    "ueb.acronym": passage("the WHO says"),
    "ueb.two-forms": passage("Simone came"),
    "ueb.syllables": passage("but-ton"),
    "ueb.grade1-word": passage("he said s-s-s-see"),
}


def test_every_kind_of_the_room_is_listed_here() -> None:
    assert {kind for kind in catalogue() if kind.startswith("ueb.")} == set(RAISED)


@pytest.mark.parametrize("kind", RAISED)
def test_is_raised(kind: str) -> None:
    assert kind in cells(RAISED[kind])[1]


@pytest.mark.parametrize("kind", RAISED)
def test_is_raised_at_each_place(kind: str) -> None:
    """A remembered word files its findings again, grouped where the catalogue says so."""
    findings = Findings()
    for _ in range(2):
        translator().translate(RAISED[kind], findings)
    found = [item for item in findings.all() if item.kind == kind]
    assert sum(len(item.spans) for item in found) >= 2


def test_plain_prose_has_none() -> None:
    text = "“It’s a fine day,” said Ann—and so it was, at 3:30 p.m. on the 4th of May."
    assert cells(passage(text))[1] == []


def test_an_unknown_character_is_named() -> None:
    findings = Findings()
    translator().translate(Passage("₹"), findings)
    message = findings.all()[0].message
    assert "indian rupee sign (U+20B9)" in message
    assert "dots 3-4-5-6, dots 1-4-5-6" in message


def test_an_acronym_offers_both_forms() -> None:
    """UEB 10.12.1: contracted in doubt; the other form is said in dots."""
    findings = Findings()
    translator().translate(Passage("the OED says"), findings)
    facts = dict(findings.all()[0].facts)
    assert (facts["contracted_cells"], facts["letters_cells"]) == ("o$", "oed")


def test_a_heading_in_capitals_has_no_acronyms() -> None:
    assert cells(passage("THE END"))[1] == []


def test_words_not_in_print_file_without_a_place() -> None:
    findings = Findings()
    translator().translate(Passage("₹", at=((0, -1),)), findings)
    assert findings.all()[0].spans == ()


def test_letters_of_another_script_are_one_finding() -> None:
    """A page of another script is one thing to settle, not one for each of its letters."""
    found = Findings()
    convert.translate("река, 日本 and 川", findings=found)
    said = [(f.kind, dict(f.facts)["script"], len(f.spans)) for f in found.all()]
    assert said == [("ueb.other-script", "Cyrillic", 4), ("ueb.other-script", "CJK", 3)]
