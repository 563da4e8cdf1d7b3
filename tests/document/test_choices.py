"""Choices: stretches of print a person has decided about."""

from __future__ import annotations

from convert.document.choices import Choice, choices_in, innermost

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


def test_the_shortest_choice_around_a_character_holds() -> None:
    choices = (Choice(0, 40, "notes", "end"), Choice(10, 20, "notes", "page"))
    assert innermost(choices, 9, ("notes",)) == "end"
    assert innermost(choices, 10, ("notes",)) == "page"
    assert innermost(choices, 19, ("notes",)) == "page"
    assert innermost(choices, 20, ("notes",)) == "end"
    assert innermost(choices, 40, ("notes",)) == ""


def test_a_choice_of_another_kind_does_not_hold() -> None:
    assert innermost((Choice(0, 40, "notes", "end"),), 5, ("letters",)) == ""
