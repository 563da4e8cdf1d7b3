"""Every sign of the table is written, and stands in a formula as its kind says."""

from __future__ import annotations

import html

import pytest

from convert.maths import data
from tests.maths.case import ascii_cells, made, mi, mo

ROWS = sorted(data.signs().values(), key=lambda row: row.print)
SEPARATE = {
    # Printed as these by mathematics: a straight quote as prime, a hyphen as minus.
    "'": "′", "’": "′", "-": "−", "〈": "⟨", "〉": "⟩", "\u2329": "⟨", "\u232a": "⟩",
}  # fmt: skip


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"U+{ord(row.print[0]):04X}")
def test_a_sign_has_its_cells(row: data.Row) -> None:
    element = mi if row.group in ("letter", "greek") else mo
    cells = made(element(html.escape(row.print)))
    expected = data.signs()[SEPARATE.get(row.print, row.print)].cells
    text = ascii_cells(cells.cells)
    assert cells.problems == ()
    assert text.removeprefix(";").removeprefix(",").endswith(ascii_cells(expected).lstrip(","))


@pytest.mark.parametrize("row", [r for r in ROWS if r.group == "relation"], ids=lambda r: r.print)
def test_comparison_signs_are_spaced(row: data.Row) -> None:
    """UEB 11.2.2; but not inside a level."""
    text = ascii_cells(made(mi("a") + mo(html.escape(row.print)) + mi("a")).cells)
    assert text.replace(";", "").count(" ") == 2
    level = mi("a") + mo(html.escape(row.print)) + mi("a")
    assert " " not in ascii_cells(made(f"<msup><mi>z</mi><mrow>{level}</mrow></msup>").cells)


@pytest.mark.parametrize("row", [r for r in ROWS if r.group == "operation"], ids=lambda r: r.print)
def test_operation_signs_are_unspaced(row: data.Row) -> None:
    """UEB 11.2.2: whatever print does."""
    gap = '<mspace width="1em"/>'
    text = ascii_cells(made(mi("a") + gap + mo(row.print) + gap + mi("a")).cells)
    assert " " not in text


def test_negated_signs_are_the_sign_and_the_line_through_it() -> None:
    """GTM 3.3."""
    assert ascii_cells(made(mo("⇏")).cells) == ";\\77o@:"
    assert ascii_cells(made(mo("=\u0338")).cells) == '"7@:'


def test_several_of_a_sign_in_one_character() -> None:
    assert ascii_cells(made(mo("∬")).cells) == ";!!"
    assert ascii_cells(made(mi("f") + mo("‴")).cells) == "f777"


@pytest.mark.parametrize(
    ("char", "braille"), [("𝐯", "^2v"), ("𝒙", "^2x"), ("ℝ", "@2,r"), ("𝔤", "@#2g"), ("ℎ", "h")]
)
def test_styled_characters_are_typeforms(char: str, braille: str) -> None:
    assert ascii_cells(made(mi(char) + mo("+") + mi("a")).cells) == f'{braille}"6a'
