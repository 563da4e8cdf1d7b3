"""Numeric passages (UEB 6.9), by decision, and the spaced numeric indicator (6.8), both ways."""

from __future__ import annotations

import pytest

from convert.document.choices import Choice
from convert.translation.back import read_back
from convert.translation.cells import cells_of
from convert.translation.passage import Passage

from .ueb_case import FOLD, cells

# Print, its numeric passage, the cells.
PASSAGES = [
    ("12 + 3 = 15", "12 + 3 = 15", '##ab "6 c "7 ae#\''),
    ("So 1, 2, 3.5 it is.", "1, 2, 3.5", ",s ##a1 b1 c4e#' x is4"),
    # UEB 6.9: a small letter a to j takes the grade 1 symbol indicator; a capital needs none.
    ("3a, b and 4C", "3a, b and 4C", "##c;a1 ;b ;an;d d,c#'"),
    # UEB 5.7.1: a letter by itself, as anywhere in contracted braille.
    ("x = 4 mm", "x = 4 mm", "##;x \"7 d mm#'"),
    ("takes 5 ½ about", "5 ½", "takes ##e a/b#' ab"),
]


def made(print_: str, words: str, grade: int = 2) -> str:
    at = print_.index(words)
    given = Passage(print_, choices=(Choice(at, at + len(words), "numbers"),))
    return cells(given, grade)[0].text


@pytest.mark.parametrize(("print_", "words", "wanted"), PASSAGES)
def test_a_numeric_passage(print_: str, words: str, wanted: str) -> None:
    """UEB 6.9: no numeric indicator inside, the terminator after the last sign."""
    assert made(print_, words) == cells_of(wanted)


@pytest.mark.parametrize("grade", [1, 2])
@pytest.mark.parametrize(("print_", "words", "wanted"), PASSAGES)
def test_a_numeric_passage_is_read_back(print_: str, words: str, wanted: str, grade: int) -> None:
    assert read_back(made(print_, words, grade), grade == 2).print == print_


def test_the_steps_of_a_numeric_passage_are_named() -> None:
    steps = read_back(cells_of("##a b#' c")).steps
    assert [step.name for step in steps] == [
        "numeric passage indicator",
        "digit",
        "space",
        "digit",
        "numeric terminator",
        "space",
        "alphabetic wordsign",
    ]
    assert steps[2].says == ""


def test_without_a_decision_there_is_no_numeric_passage() -> None:
    """UEB 6.9: print alone does not ask for one."""
    assert cells("1 2 3 4 5 6 7 8")[0].ascii.translate(FOLD) == "#a #b #c #d #e #f #g #h"


def test_the_spaced_numeric_indicator_is_read_back() -> None:
    """UEB 6.8: blanks between the indicator and the digits of a column."""
    steps = read_back(cells_of("#  ab")).steps
    assert steps[0].name == "numeric indicator"
    assert steps[0].says == "spaces before the digits of a column"
