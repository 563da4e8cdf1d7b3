"""Capitals spoken letter by letter where print or their shape shows it (UEB 10.1.3, 10.12.1)."""

from __future__ import annotations

import pytest

from convert.document.choices import Choice
from convert.findings import Findings
from convert.translation.passage import Passage
from convert.translation.ueb import spoken

from .ueb_case import FOLD, cells, passage, translator

ASKED, TOLD = "ueb.acronym", "ueb.acronym-decided"

# Print, cells, findings.  The reasons: common practice, no source.
DECIDED = [
    ("a PTH test", "a ,,pth te/", [TOLD]),
    ("the PTH’s", "! ,,pth's", [TOLD]),
    ("rough endoplasmic reticulum (ER) here", 'r\\< 5doplasmic reticulum "<,,er"> "h', [TOLD]),
    ("the ER (emergency room) is", '! ,,er "<em]g5cy room"> is', [TOLD]),
    ("an RER is", "an ,,rer is", [TOLD]),
    ("the US said", "! ,,us sd", [TOLD]),
    # In doubt contracted (UEB 10.12.2), and asked.
    ("a SER is", "a ,,s] is", [ASKED]),
    ("an HOUR or", "an ,,h\\r or", [ASKED]),
    ("rough endoplasmic matter (ER)", 'r\\< 5doplasmic matt] "<,,]">', [ASKED]),
    ("call US now", "call ,,us n[", [ASKED]),
    # Spelled, and so like a shortform (UEB 10.9.5).
    ("the FRS here", '! ;,,frs "h', []),
    ("a CH here", 'a ,,ch "h', []),
]


@pytest.mark.parametrize(("text", "wanted", "kinds"), DECIDED)
def test_capitals(text: str, wanted: str, kinds: list[str]) -> None:
    shown, found = cells(text)
    assert (shown.ascii.translate(FOLD), found) == (wanted, kinds)


def test_what_one_paragraph_shows_holds_in_all() -> None:
    """A name written out once is known in the whole work, and forgotten with the next."""
    tool, findings = translator(), Findings()
    texts = ["In the ER there is", "endoplasmic reticulum (ER) or ER"]
    tool.prepare(map(Passage, texts))
    made = [tool.translate(Passage(text), findings).ascii for text in texts]
    assert made[0].endswith(',,er "! is')
    assert [item.kind for item in findings.all()] == [TOLD]
    assert len(findings.all()[0].spans) == 3
    assert cells("In the ER there is")[1] == [ASKED]


def test_a_decision_makes_a_word_of_it() -> None:
    shown, found = cells(Passage("a PTH test", choices=(Choice(2, 5, "word"),)))
    assert (shown.ascii.translate(FOLD), found) == ("a ,,p? te/", [])


def test_chemical_symbols_before_a_lowered_number_take_no_contractions() -> None:
    """GTM 16: each symbol has its own capital sign."""
    shown, found = cells(passage("so CH4 is", (5, 6, "sub")))
    assert (shown.ascii.translate(FOLD), found) == ("s ,c,h;5#d is", [])


def test_a_letter_beside_raised_digits_is_no_misread_digit() -> None:
    """An isotope: the digits are above the line."""
    assert cells(passage("so 16O is", (3, 5, "sup")))[1] == []
    assert cells("so 16O is")[1] == ["ueb.letter-or-digit"]


def test_a_number_inside_a_formula_is_no_misread_number() -> None:
    assert cells("has C6H12O6 in it")[1] == []
    assert cells("has 12O6 in it")[1] == ["ueb.letter-or-digit"]


def test_two_letters_need_a_vowel_or_more_letters() -> None:
    """SH and ST may be a sound, or a word cut short."""
    assert spoken.by_shape("SH") == spoken.by_shape("SHE") == ""
    assert spoken.by_shape("SHHH") == spoken.by_shape("PSST") == ""
    assert spoken.by_shape("PTH") != ""
