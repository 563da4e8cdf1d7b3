"""Phonetic notation in its own code (UEB 14; IPA Braille, ICEB 2008), music signs (UEB 14)."""

from __future__ import annotations

import pytest

from convert.errors import PluginError
from convert.findings import Findings
from convert.translation.back import read_back
from convert.translation.passage import Passage
from convert.translation.ueb import phonetic

from .ueb_case import FOLD, cells, passage, translator


def marked(text: str, part: str, lang: str = "en-fonipa") -> Passage:
    at = text.index(part)
    return Passage(text, langs=((at, at + len(part), lang),))


# Print, the marked part, cells.  Letters: IPA Braille 2008 (ash 1-4-6, turned alpha 2-3-5 1-6,
# schwa 2-6, stress 4-5-6 1-2).
MARKED = [
    ("says [kæt] twice", "[kæt]", 'says "^(k%t^) twice'),
    ("says [kæt], twice", "kæt", 'says "^(k%t^)1 twice'),
    ("says /dɒɡ/ or", "/dɒɡ/", 'says "^/d6*g^/ or'),
    ("says [ə ˈfoʊn kɔl] or", "[ə ˈfoʊn kɔl]", 'says "^(5 _bfo(n k<l^) or'),
    # No marks of its own round it: a code that is not UEB (UEB 14.3).
    ("says dɒɡ, or", "dɒɡ", "says ^(d6*g^)1 or"),
    ("says dɒɡ or", "dɒɡ", "says ^(d6*g or"),
]


@pytest.mark.parametrize("grade", [1, 2])
@pytest.mark.parametrize(("text", "part", "wanted"), MARKED)
def test_marked_notation_stands_in_its_own_code(
    text: str, part: str, wanted: str, grade: int
) -> None:
    shown, kinds = cells(marked(text, part), grade)
    if grade == 2:
        assert shown.ascii.translate(FOLD) == wanted
    assert kinds == ["ueb.phonetic"]


@pytest.mark.parametrize("lang", ["fr-fonipa", "und-fonipa", "EN-GB-fonipa"])
def test_the_subtag_is_known_with_any_language(lang: str) -> None:
    """BCP 47: variants may follow language, script and region."""
    assert cells(marked("says [kæt] so", "[kæt]", lang))[1] == ["ueb.phonetic"]


def test_other_letters_than_the_alphabet_has_are_reported() -> None:
    """Nothing is lost: print the table lacks is a finding."""
    assert "louis.no-cells" in cells(marked("says [k日t]", "[k日t]"))[1]


def test_the_place_of_each_word_is_known() -> None:
    shown = cells(marked("says [ə ˈfoʊn] or", "[ə ˈfoʊn]"))[0]
    assert [shown.origin[start] for start in shown.starts] == [0, 5, 8, 15]


def test_without_the_library_it_is_reported(monkeypatch: pytest.MonkeyPatch) -> None:
    def missing(_name: str) -> str:
        raise PluginError("There is no liblouis.", "Install it.")

    monkeypatch.setattr(phonetic, "check_table", missing)
    phonetic._code.cache_clear()
    try:
        kinds = cells(marked("says [kæt] so", "[kæt]"))[1]
    finally:
        phonetic._code.cache_clear()
    assert kinds == ["ueb.phonetic-no-code", "ueb.foreign"]


def test_unmarked_notation_is_one_finding_for_each_word() -> None:
    """Not one for each of its letters."""
    findings = Findings()
    translator().translate(Passage("says /ʃɪp/ and /ʃɪp/ now"), findings)
    (found,) = findings.all()
    assert (found.kind, dict(found.facts)["word"]) == ("ueb.phonetic-unmarked", "/ʃɪp/")
    assert found.spans == ((5, 10), (15, 20))


def test_a_schwa_by_itself_has_a_sign() -> None:
    """UEB 4.4."""
    shown, kinds = cells("says ə for")
    assert (shown.ascii.translate(FOLD), kinds) == ("says _5 =", [])


@pytest.mark.parametrize("text", ["♫", "𝄞", "♩"])
def test_music_signs_are_named_as_such(text: str) -> None:
    assert cells(passage(f"the {text} sign"))[1] == ["ueb.music"]


def test_accidentals_are_signs_of_this_code() -> None:
    """UEB 3.18."""
    assert cells("B♭ and F♯")[1] == []


@pytest.mark.parametrize("part", ["[kæt]", "/kæt/"])
def test_the_switch_is_named_when_read_back(part: str) -> None:
    shown = cells(marked(f"says {part} so", part))[0]
    names = [step.name for step in read_back(shown.text).steps]
    at = names.index("another code")
    assert names[at - 1].startswith("opening IPA")
    assert names[at + 1] == "end of the other code"
    assert read_back(shown.text).print.startswith("says ")
