"""Program code in lines of its own is uncontracted (UEB 10.12.3)."""

from __future__ import annotations

import pytest

from convert.document.choices import Choice
from convert.document.inlines import PROGRAM

from .ueb_case import FOLD, cells, passage


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("x1a = the(b, 2b)", 'x#a;a "7 the"<b1 #b;b">'),
        ("for b in child:", "for b in child3"),
        ("“AND” is WITH", "8,,and0 is ,,with"),
    ],
)
def test_program_code_is_uncontracted(text: str, expected: str) -> None:
    """UEB 10.12.3; a to j after digits as anywhere (6.5.2)."""
    given = passage(text, voices=((0, len(text), PROGRAM),))
    made, told = cells(given)
    assert made.ascii.translate(FOLD) == expected
    assert told == ["ueb.program"]


def test_code_in_running_text_is_contracted() -> None:
    """UEB 10.12.3."""
    made, told = cells(passage("the child", voices=((4, 9, "computer"),)))
    assert (made.ascii, told) == ("! *", [])


def test_a_person_may_say_that_it_is_no_code() -> None:
    """UEB 10.12.3: the decision contracts it, and the finding is settled."""
    said = (Choice(0, 9, "word"),)
    made, told = cells(passage("the child", voices=((0, 9, PROGRAM),), choices=said))
    assert (made.ascii, told) == ("! *", [])
