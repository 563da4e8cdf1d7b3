"""Every kind of finding of the translator of Unified English Braille, raised once."""

from __future__ import annotations

import re

import pytest

import convert
from convert.document.choices import READING, Choice
from convert.document.nodes import MathRun
from convert.findings import Findings, catalogue
from convert.translation.cells import ascii_of
from convert.translation.passage import Mark, Passage

from .ueb_case import cells, passage, translator

RAISED = {
    "ueb.unknown-character": passage("costs ₹5"),
    "ueb.other-script": passage("the word река"),
    "ueb.unknown-modifier": passage("ἀρχή"),
    "ueb.invisible": passage("soft\u00adware"),
    "ueb.numbers-joined": passage("1 000 000 people"),
    "ueb.quote-direction": passage('he said "no and left'),
    "ueb.straight-single": passage("he said 'no' and left"),
    "ueb.capitals-edge": passage("Go to point A. BUT NOT YET!"),
    "ueb.program": passage("a = the", voices=((0, 7, "program"),)),
    "ueb.foreign": passage("the word der", langs=((9, 12, "de"),)),
    "ueb.ordinal-on-line": passage("the 4th day", (5, 7, "sup")),
    "ueb.small-capitals": passage("Somebody once wrote this", (0, 13, "small-caps")),
    "ueb.math-not-transcribed": Passage(
        "so x plus y", marks=(Mark(3, "math", MathRun(3, 11, "<math/>")),)
    ),
    "ueb.acronym": passage("the WHO says"),
    "ueb.acronym-decided": passage("the PTH says"),
    "ueb.two-forms": passage("Simone came"),
    "ueb.syllables": passage("but-ton"),
    "ueb.initials": passage("said N O W! and left"),
    "ueb.respelling": passage("a chair (pih-CHUR) here"),
    "ueb.look-alike": passage("the Bоb"),
    "ueb.letter-or-digit": passage("in l984 then"),
    "ueb.raised-minus": passage("is 10–3 kg", (5, 7, "sup")),
    "ueb.minus-or-dash": passage("at –5 degrees"),
    "ueb.grade1-word": passage("he said s-s-s-see"),
    "ueb.line-mode": passage("then ──── across"),
    "ueb.guide-dots": passage("Soup ........ 4"),
    "ueb.phonetic": passage("says [kæt] so", langs=((5, 10, "en-fonipa"),)),
    "ueb.phonetic-unmarked": passage("says /ʃɪp/ so"),
    "ueb.music": passage("the ♫ sign"),
}


def test_every_kind_of_the_room_is_listed_here() -> None:
    kinds = {kind for kind in catalogue() if kind.startswith("ueb.")}
    elsewhere = {"ueb.foreign-code", "ueb.foreign-no-table"}  # test_ueb_foreign
    assert kinds - elsewhere - {"ueb.phonetic-no-code"} == set(RAISED)  # test_ueb_phonetic


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


@pytest.mark.parametrize(
    "text, asked",
    [
        ("Press START. They start now.", []),
        ("Press START. They re-start now.", ["START"]),
        ("Read END. It is the end.", ["END"]),  # Too short to be sure.
    ],
)
def test_capitals_that_are_a_word_elsewhere_are_no_acronym(text: str, asked: list[str]) -> None:
    """UEB 10.12.1: how it is spoken is known where the work has it as a word."""
    findings, known = Findings(), Passage(text)
    made = translator()
    made.prepare([known])
    made.translate(known, findings)
    found = [f for f in findings.all() if f.kind == "ueb.acronym"]
    assert [dict(f.facts)["word"] for f in found] == asked


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


def test_a_letter_with_several_unknown_marks_is_told_once() -> None:
    """UEB 4.2.7: one letter is one thing to settle, however many marks stand on it."""
    findings = Findings()
    translator().translate(Passage("ᾧ and ᾧ"), findings)
    (found,) = findings.all()
    assert found.spans == ((0, 1), (6, 7))
    assert dict(found.facts)["name"].count("U+") == 3


RESPELLED = [
    *("(pih-CHUR)", "[DIK-shuh-nair-ee]", "(fə-NET-iks)", "(PAHR-uh-dyz", "/kuh-MYOO-tuh/"),
    *("(IN-ter-NASH-uh-nul)", "(koh-luh-yoo)", "(sil′-uh-bul)", "(SIL·uh·bul),"),
]
NOT_RESPELLED = [
    *("(non-EU)", "(up-to-date)", "(uh-oh)", "(uh-huh)", "(US-UK-led)", "(mother-in-law)"),
    *("pih-CHUR", "(AC-DC)", "(re-elect)", "(day-to-day)", "(tee-hee)"),
]


@pytest.mark.parametrize("text", RESPELLED)
def test_pronunciations_spelled_out_in_brackets(text: str) -> None:
    """Common practice of dictionaries and readers, no source."""
    assert cells(passage(f"chair {text} here"))[1].count("ueb.respelling") == 1


@pytest.mark.parametrize("text", NOT_RESPELLED)
def test_compounds_in_brackets_are_words(text: str) -> None:
    assert "ueb.respelling" not in cells(passage(f"chair {text} here"))[1]


# Print, the kind, and for each way of writing it what it means and its cells.
FORMS = [
    (
        "the WHO’s report",
        "ueb.acronym",
        [("spoken letter by letter", ",,who"), ("read as a word", ",,:o")],
    ),
    (
        "a CHart CH6",
        "ueb.acronym",
        [("spoken letter by letter", ",,ch"), ("read as a word", ",,*")],
    ),
    ("Simone came", "ueb.two-forms", [("as set", ',sim"o'), ("the other form", ",simone")]),
    (
        "but-ton",
        "ueb.syllables",
        [("part of a word shown in syllables", "but"), ("a word", "b")],
    ),
    (
        "chair (CHEHR-ing) here",
        "ueb.respelling",
        [("a pronunciation, uncontracted", ",,chehr-ing"), ("words", ",,*ehr-9g")],
    ),
    (
        "1 000 000 people",
        "ueb.numbers-joined",
        [("one number", '#a"jjj"jjj'), ("separate numbers", "#a #jjj #jjj")],
    ),
    (
        "said N O W! and left",
        "ueb.initials",
        [
            ("each word with its own capitals", ";,n ,o ;,w"),
            ("one passage of capitals", ";,,,n o ;w,'"),
        ],
    ),
    (
        'he said "no and left',
        "ueb.quote-direction",
        [("an opening mark", "8"), ("a closing mark", "0"), ("the nondirectional mark", ",7")],
    ),
    (
        'the "6" pipe" fits',
        "ueb.quote-direction",
        [("an opening mark", "8"), ("a closing mark", "0"), ("the nondirectional mark", ",7")],
    ),
    (
        "he said 'no' and left",
        "ueb.straight-single",
        [("an opening mark", ",8"), ("an apostrophe", "'")],
    ),
]


@pytest.mark.parametrize(("text", "kind", "wanted"), FORMS)
def test_the_choices_are_given_as_cells_and_as_dots(
    text: str, kind: str, wanted: list[tuple[str, str]]
) -> None:
    found = Findings()
    translator().translate(Passage(text), found)
    (finding,) = [item for item in found.all() if item.kind == kind]
    assert [(form.label, ascii_of(form.cells)) for form in finding.forms] == wanted
    for form in finding.forms:
        said = re.findall("[1-6](?:-[1-6])*|blank", form.dots)
        assert len(said) == len(form.cells)


def test_one_finding_for_each_form_in_a_book() -> None:
    """Every place of a word is one thing to settle, in whatever paragraph it stands."""
    found = Findings()
    for text in (
        "the WHO says",
        "so WHO is",
        "and OED",
        'he said "no',
        'she said "yes',
        "A. OH NO!",
    ):
        translator().translate(Passage(text), found)
    said = [(f.kind, len(f.spans)) for f in found.all()]
    assert said == [("ueb.acronym", 2), ("ueb.acronym", 1), ("ueb.quote-direction", 2)]


def test_marks_of_another_script_are_with_its_letters() -> None:
    found = Findings()
    convert.translate("日本、東京。 और।", findings=found)
    said = [(f.kind, dict(f.facts)["script"], len(f.spans)) for f in found.all()]
    assert said == [("ueb.other-script", "CJK", 6), ("ueb.other-script", "Devanagari", 3)]


LOOK_ALIKES = [
    ("САT", "ueb.look-alike", "CAT"),  # Cyrillic es and a
    ("Bοb", "ueb.look-alike", "Bob"),  # omicron
    ("l984", "ueb.letter-or-digit", "1984"),
    ("2O15", "ueb.letter-or-digit", "2015"),
    ("199O.", "ueb.letter-or-digit", "1990"),
]


@pytest.mark.parametrize(("text", "kind", "meant"), LOOK_ALIKES)
def test_look_alikes_are_named_with_what_may_be_meant(text: str, kind: str, meant: str) -> None:
    """One finding, which says nothing of another script."""
    for grade in (1, 2):
        found = Findings()
        translator(grade).translate(Passage(text), found)
        assert [(f.kind, dict(f.facts)["meant"]) for f in found.all()] == [(kind, meant)]


@pytest.mark.parametrize(
    "text", ["10l", "H2O", "CO2", "5lb", "3I", "αβγ", "4th", "B2O3", "µm", "O2"]
)
def test_what_is_no_look_alike(text: str) -> None:
    assert not {"ueb.look-alike", "ueb.letter-or-digit"} & set(cells(passage(text))[1])


@pytest.mark.parametrize(
    "text", ["(non-EU)", "(UK-based)", "(X-ray)", "pre-WWII", "A-B", "(VAT-free)"]
)
def test_what_is_no_respelling(text: str) -> None:
    assert "ueb.respelling" not in cells(passage(text))[1]


def test_initials_with_stops_in_a_sentence() -> None:
    assert "ueb.initials" in cells(passage("by C. P. E. Bach"))[1]
    assert "ueb.initials" not in cells(passage("by C. P. Bach"))[1]


def test_every_judgement_offers_its_decisions() -> None:
    """The verbs that settle a reading, from the closed list of readings."""
    for kind in (row[1] for row in FORMS):
        offers = catalogue()[kind].offers
        assert len(offers) >= 2
        reading = [row for row in offers if row.get("do") == "read" and row["as"] in READING]
        assert len(reading) >= 2
        assert all("set" in row for row in offers if row not in reading)


@pytest.mark.parametrize(
    ("text", "places"),
    [
        ("He said 'I am off' and she said 'no'.", 2),
        ("('so it is,' she said)", 1),
        ("the dogs' bowls and the cats' beds", 0),
        ("'tis rock 'n' roll of the '90s, isn't it", 0),
        ("'tis the dogs' day", 0),
        ("a 6' pole and a 7' one", 0),
        ("\"they said 'no' to me\"", 1),
        ("it's the boys' turn, don't you think so", 0),
    ],
)
def test_straight_single_marks_that_may_be_quotation_marks(text: str, places: int) -> None:
    """UEB 7.6.5: in doubt an apostrophe; said, so that nobody has to find them."""
    found = Findings()
    translator().translate(Passage(text), found)
    told = [len(f.spans) for f in found.all() if f.kind == "ueb.straight-single"]
    assert told == ([places] if places else [])


def test_marks_that_somebody_took_for_apostrophes_are_told_no_more() -> None:
    found = Findings()
    translator().translate(
        Passage("he said 'no' and left", choices=(Choice(8, 9, "apostrophe"),)), found
    )
    assert [f for f in found.all() if f.kind == "ueb.straight-single"] == []
