"""Passages of capitals and typeforms, one inside another (UEB 8.6, 9.8)."""

from __future__ import annotations

import pytest

from .ueb_case import g2, passage


@pytest.mark.parametrize(
    ("text", "stretches", "expected"),
    [
        ("NO BIG CATS! He", [(0, 11, "bold")], "^7,,,no big cats,'^'6 ,he"),
        ("he NO BIG CATS.", [(0, 14, "bold")], "^7he ,,,no big cats,'^'4"),
        ("NO BIG OLD CATS ran", [(3, 15, "italic")], ",,,no .7big old cats.',' ran"),
        ("NO BIG OLD CATS! He", [(3, 15, "italic")], ",,,no .7big old cats.'6,' ,he"),
        ("NO BIG OLD", [(0, 10, "underline"), (0, 10, "bold")], "_7^7,,,no big old,'^'_'"),
        ("NO BIG CATS.", [(3, 11, "bold")], ",,,no ^1big ^1cats4,'"),
    ],
)
def test_capitals_and_typeforms_close_in_reverse_order(
    text: str, stretches: list[tuple[int, int, str]], expected: str
) -> None:
    """UEB 8.6, 9.8: what opened last closes first, also where print leaves a mark outside."""
    assert g2(passage(text, *stretches)) == expected
