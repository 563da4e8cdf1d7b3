"""Names in full capitals: initial capitals only (Braille Formats 2016, 14.1.2)."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from convert.document.names import initial_capitals


@pytest.mark.parametrize(
    "printed, wanted",
    [
        ("HAMLET", "Hamlet"),
        ("LADY MACBETH:", "Lady Macbeth:"),
        ("MRS. PINE", "Mrs. Pine"),
        ("O'BRIEN", "O'Brien"),
        ("D’ARCY’S AUNT", "D’Arcy’s Aunt"),
        ("SMITH-JONES", "Smith-Jones"),
        ("HENRY IV", "Henry IV"),
        ("1ST WITCH", "1st Witch"),
        ("DJ", "DJ"),
        ("A", "A"),
        ("McDuff", "McDuff"),
        ("ÉMILE", "Émile"),
        ("Tom", "Tom"),
    ],
)
def test_names(printed: str, wanted: str) -> None:
    """What is a numeral, and what letters spoken one by one, is common practice, no source."""
    assert initial_capitals(printed) == wanted


@given(st.text())
def test_any_text_keeps_its_length_and_letters(text: str) -> None:
    made = initial_capitals(text)
    assert len(made) == len(text)
    assert made.casefold() == text.casefold() or "ς" in made or "Σ" in text
