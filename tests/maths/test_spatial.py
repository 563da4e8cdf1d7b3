"""Arithmetic in columns, drawn: sums, carrying, long division in both codes.

UEB: numeric indicators in one column, spaced (Rules 6.8); horizontal line (GTM 4); vertical line
segment (Rules 16.2).  Nemeth Code: sections 178-186 as courses teach them, and from memory where
the case says so.
"""

from __future__ import annotations

from itertools import pairwise

import pytest

from convert.maths import nemeth
from convert.maths import ueb as unified
from convert.maths.cells import MathCells
from convert.maths.mathml import parse
from tests.maths.case import ascii_cells, made, math, mi, mn, mo
from tests.maths.case import frac as fraction

NONE = "<none/>"
RULE = "<msline/>"


def stack(*rows: str, **attributes: str) -> str:
    words = "".join(f' {name}="{value}"' for name, value in attributes.items())
    return f"<mstack{words}>{''.join(rows)}</mstack>"


def line(*inside: str) -> str:
    return f"<msrow>{''.join(inside)}</msrow>"


def group(*inside: str, position: int = 0, shift: int = 0) -> str:
    return f'<msgroup position="{position}" shift="{shift}">{"".join(inside)}</msgroup>'


def drawn(found: MathCells) -> list[str]:
    edges = [0, *found.lines, len(found.cells)]
    assert len(found.origin) == len(found.cells)
    return [ascii_cells(found.cells[a:b]).rstrip() for a, b in pairwise(edges)]


SUM = stack(mn(456), line(mo("+"), mn(789)), RULE, mn(1245))
CARRIED = stack(
    f"<mscarries>{mn(1)}{NONE}{mn(1)}{NONE}</mscarries>",
    mn("8,327"), line(mo("+"), mn(956)), RULE, mn("9,283"),
)  # fmt: skip
BORROWED = stack(
    f'<mscarries crossout="updiagonalstrike">{mn(2)}<mscarry crossout="none">{NONE}</mscarry>'
    "</mscarries>",
    mn(35), line(mo("−"), mn(18)), RULE, mn(17),
)  # fmt: skip
MONEY = stack(mn("3.2"), line(mo("+"), mo("$"), mn("12.45")), RULE, mn("15.65"))
PRODUCT = stack(
    group(mn(123), line(mo("×"), mn(32))), RULE, group(mn(246), mn(369), shift=1), RULE, mn(3936)
)
RULED = f"<mlongdiv>{mn(3)}{mn(41)}{mn(125)}" + group(
    group(mn(12), '<msline length="2"/>', position=1), group(mn(5), mn(3), RULE), mn(2)
) + "</mlongdiv>"  # fmt: skip
LETTERS = stack(line(mn(2), mi("x")), line(mo("+"), mn(3), mi("x")), RULE, line(mn(5), mi("x")))


@pytest.mark.parametrize(
    "source, expected",
    [
        (SUM, ["  # def", '"6# ghi', '"333333', "  #abde"]),
        (CARRIED, ["  #a #a", "  #h1cbg", '"6#  ief', '"3333333', "  #i1bhc"]),
        (BORROWED, ["  #  b", "  #c@:#e", '"-#  a#h', '"3333333']),
        (MONEY, ["    # c4b", '"6@s#ab4de', '"333333333', "    #ae4fe"]),
        (PRODUCT, ["  # abc", '"8#  cb', '"333333', "  # bdf", "  #cfi", '"333333', "  #cicf"]),
        (RULED, ["   # da", '"333333', "#c_#abe", "   #ab", '   "33', "   #  e", "   #  c",
                 '"333333', "   #  b"]),
        (LETTERS, ['""=;;;', "  #bx", '"6#cx', '"3333', "  #ex", '""=;\'']),
    ],
    ids=["sum", "carrying", "borrowing", "money", "product", "long division", "letters"],
)  # fmt: skip
def test_unified_english_braille(source: str, expected: list[str]) -> None:
    found = made(source)
    assert found.problems == ()
    assert drawn(found)[: len(expected)] == expected


@pytest.mark.parametrize(
    "source, expected",
    [
        (SUM, ["   456", " + 789", "3333333", "  1245"]),
        (CARRIED, ["  1  1", "77777777", "  8,327", " +  956", "33333333", "  9,283"]),
        (BORROWED, ["    2", "7777777", "  [3]5", " -  18", "3333333", "    17"]),
        (MONEY, ["     3.2", " +@s12.45", "3333333333", "    15.65"]),
        (RULED, ["   41", " 33333", "3o125", "  12", "  33", "    5", "    3", " 33333", "    2"]),
        (LETTERS, ["  2x", " +3x", "33333", "  5x"]),
    ],
    ids=["178 sum", "carrying, from memory", "borrowing, from memory", "money",
         "long division, from memory", "letters"],
)  # fmt: skip
def test_the_nemeth_code(source: str, expected: list[str]) -> None:
    found = made(source, "nemeth")
    assert found.problems == ()
    assert drawn(found) == expected


def test_partial_products_move_one_column_each() -> None:
    """MathML 3, 3.6.3: the shift of a group."""
    assert drawn(made(PRODUCT, "nemeth"))[3:5] == ["    246", "   369"]


@pytest.mark.parametrize(
    "how, expected",
    [("right", ["1.25", "  10"]), ("left", ["1.25", "1 0"]), ("decimalpoint", ["1.25", "10"])],
)
def test_lines_stand_where_print_aligns_them(how: str, expected: list[str]) -> None:
    found = drawn(made(stack(mn("1.25"), mn(10), stackalign=how), "nemeth"))
    assert [row.strip() for row in found] == [row.strip() for row in expected]
    if how == "decimalpoint":
        assert found == [" 1.25", "10"]


def test_the_indicators_of_the_nemeth_code_have_lines_of_their_own() -> None:
    """UEB 14.6.3."""
    found = nemeth.cells(parse(math(SUM)), switch=True)
    assert drawn(found) == ["_%", "   456", " + 789", "3333333", "  1245", "_:"]


def test_uncontracted_text_needs_no_passage() -> None:
    found = unified.cells(parse(math(LETTERS)), contracted=False)
    assert drawn(found) == ["  #bx", '"6#cx', '"3333', "  #ex"]


def test_works_stand_side_by_side_with_what_is_beside_them() -> None:
    """The number of an exercise, and a second sum: on the first line and to the right."""
    small = stack(mn(1), line(mo("+"), mn(2)), RULE)
    assert drawn(made(mn(7) + small + small, "nemeth")) == [
        "#7   1    1", "    +2   +2", "   3333 3333"
    ]  # fmt: skip
    assert drawn(made(small + small)) == ["  #a   #a", '"6#b "6#b', '"333 "333']


@pytest.mark.parametrize("code", ["ueb", "nemeth"])
def test_columns_inside_another_structure_are_told(code: str) -> None:
    found = made(fraction(SUM, mn(2)), code)
    assert [what for what, _ in found.problems] == [
        "arithmetic in columns inside another structure"
    ]


@pytest.mark.parametrize("code", ["ueb", "nemeth"])
def test_each_figure_comes_from_its_element(code: str) -> None:
    found = made(SUM, code)
    places = [found.leaves[at] for at in found.origin if at >= 0]
    assert {place.path for place in places} == {"/1/1", "/1/2/1", "/1/2/2", "/1/4"}
    assert "".join(leaf.text for leaf in found.leaves) == "456+7891245"
