"""Choices: stretches of print a person has decided about."""

from __future__ import annotations

from convert.document.choices import Choice, choices_in

CHOICES = (
    Choice(2, 4, "letters"),
    Choice(5, 9, "table-format", "listed"),
    Choice(9, 12, "letters"),
)


def test_a_stretch_holds_the_choices_that_begin_in_it() -> None:
    assert choices_in(CHOICES, 2, 9) == CHOICES[:2]
    assert choices_in(CHOICES, 3, 9) == CHOICES[1:2]
    assert choices_in(CHOICES, 12, 40) == ()


def test_only_the_kinds_asked_for_are_told() -> None:
    assert choices_in(CHOICES, 0, 40, ("letters",)) == (CHOICES[0], CHOICES[2])
