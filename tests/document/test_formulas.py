"""What a person chose for a formula, and TeX in the text, laid on the inlines of a block."""

from __future__ import annotations

from convert.document.choices import Choice
from convert.document.formulas import Formulas
from convert.document.nodes import ITALIC, SUP, MathRun, Run

FORMULA = MathRun(5, 9, "<math/>")


def test_a_choice_of_code_or_cells_reaches_the_formula_it_touches() -> None:
    chosen = Formulas([Choice(5, 9, "math-code", "nemeth"), Choice(6, 7, "cells", "⠭")])
    assert chosen.on((Run(0, 5), FORMULA)) == (
        Run(0, 5),
        MathRun(5, 9, "<math/>", "nemeth", "⠭"),
    )


def test_another_reading_takes_the_place_of_the_source() -> None:
    chosen = Formulas([Choice(5, 9, "math-text", "x^2")])
    assert chosen.on((FORMULA,)) == (MathRun(5, 9, "x^2"),)


def test_a_reading_of_plain_print_makes_a_formula_of_it() -> None:
    """ "so x2 + 3." with the 2 raised or not: one formula, and the print around it."""
    runs = (Run(0, 4), Run(4, 5, ITALIC), Run(5, 6, SUP), Run(6, 20))
    chosen = Formulas([Choice(3, 10, "math-text", "x^2+3"), Choice(3, 10, "math-code", "ueb")])
    assert chosen.on(runs) == (Run(0, 3), MathRun(3, 10, "x^2+3", "ueb"), Run(10, 20))


def test_other_choices_and_other_blocks_change_nothing() -> None:
    chosen = Formulas([Choice(30, 40, "math-text", "x"), Choice(0, 5, "letters")])
    assert chosen.on((Run(0, 5), FORMULA)) == (Run(0, 5), FORMULA)


def test_tex_between_its_signs_is_a_formula_but_not_in_computer_notation() -> None:
    text = r"If \(x^2\) then \[y\] or $$z$$."
    made = Formulas([], text).on((Run(0, len(text)),))
    assert [run.mathml for run in made if isinstance(run, MathRun)] == [
        r"\(x^2\)", r"\[y\]", "$$z$$",
    ]  # fmt: skip
    code = (Run(0, len(text), voice="computer"),)
    assert Formulas([], text).on(code) == code
