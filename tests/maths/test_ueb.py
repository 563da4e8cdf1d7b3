"""Worked examples of UEB technical material, each with the section it is from.

"Rules" is The Rules of Unified English Braille (2013); "GTM" the Guidelines for Technical Material
as published teaching material restates them.
"""

from __future__ import annotations

from itertools import pairwise

import pytest

from convert.maths import ueb as code
from convert.maths.mathml import parse
from tests.maths.case import (
    ascii_cells,
    frac,
    made,
    math,
    mi,
    mn,
    mo,
    over,
    row,
    sqrt,
    sub,
    sup,
    ueb,
    under,
)

THIN = '<mspace width="0.167em"/>'
ROOM = '<mspace width="1em"/>'
TWO_SQUARES = row(sup(mi("x"), mn(2)), mo("+"), sup(mi("y"), mn(2)))
PARABOLA = mi("y") + mo("=") + sup(mi("x"), mn(2)) + mo("−")

FRACTIONS = [
    ("GTM 6.1 simple", frac(mn(3), mn(4)), "#c/d"),
    ("GTM 6.2 mixed number", mn(2) + frac(mn(1), mn(2)), "#b#a/b"),
    ("GTM 6.3 in line", mn(3) + mo("/") + mn(8), "#c_/#h"),
    ("GTM 6.4", frac(mi("x"), mi("y")), ";;(x./y)"),
    ("GTM 6.4", frac(mi("a") + mo("+") + mi("b"), mi("c")), ';;(a"6b./c)'),
    ("GTM 6.4", mn(5) + mo("=") + frac(mn(2), mi("x")), '#e "7 ;(#b./x)'),
    ("GTM 6.4 negative numerator", frac(mo("−") + mn(1), mn(2)), ';("-#a./#b)'),
    ("GTM 6.4 slanted", '<mfrac bevelled="true"><mi>a</mi><mi>b</mi></mfrac>', "a_/b"),
]
LEVELS = [
    ("Rules 3.24", sup(mi("x"), mn(2)) + mi("y"), "x;9#by"),
    ("GTM 7.2", sup(mi("x"), mn(2), mi("y")), ";;x9<#by>"),
    ("GTM 7.2", sup(mi("x"), frac(mn(2), mn(3))), "x;9#b/c"),
    ("GTM 7.2", sub(mi("P"), mn(1)), ",p;5#a"),
    ("Rules 11.4.1: a sign and a number are two items", sup(mi("x"), mo("−"), mn(1)), ';;x9<"-#a>'),
    ("Rules 11.4.1: brackets are one item", sup(mi("x"), mo("("), mi("a"), mo(")")), 'x;9"<a">'),
    ("GTM 7.4", "<msubsup><mi>x</mi><mi>i</mi><mn>2</mn></msubsup>", ";;x5i9#b"),
    ("GTM 7.5", "<mmultiscripts><mi>C</mi><mprescripts/><mn>6</mn><mn>14</mn></mmultiscripts>",
     ";5#f9#ad,c"),
    ("GTM 7 prime", sup(mi("f"), mo("′")) + mo("(") + mi("x") + mo(")"), 'f7"<x">'),
    ("GTM 7.7 below", under(mi("lim"), mi("θ"), mo("→"), mn(0)) + mi("cos") + mi("θ"),
     ";;lim.5<.?\\o#j>cos.?"),
    ("GTM 7.7", f"<munderover>{mo('∑')}{row(mi('i'), mo('='), mn(1))}{mi('n')}</munderover>"
     + sup(mi("i"), mn(2)), ';;,.s.5<i"7#a>.9ni9#b'),
    ("GTM 7, 11", "<msubsup><mo>∫</mo><mn>0</mn><mn>1</mn></msubsup>" + sup(mi("x"), mn(2))
     + THIN + mi("d") + mi("x"), ";;!5#j9#ax9#b dx"),
]  # fmt: skip
ROOTS = [
    ("GTM 8.1", sqrt(TWO_SQUARES), ';;%x9#b"6y9#b+'),
    ("GTM 8.2", f"<mroot>{mn(8)}{mn(3)}</mroot>" + mo("=") + mn(2), ';;%9#c#h+ "7 #b'),
    ("GTM 8.1", sqrt(mn(9)) + mo("=") + mn(3), ';%#i+ "7 #c'),
    ("GTM 8.1", mn(2) + sqrt(mn(25)), "#b%#be+"),
    ("GTM 8.1", sqrt(frac(mi("x"), mn(8))), ";;%(x./#h)+"),
    ("GTM 8.3 without a vinculum", mo("√") + mn(2), '"%#b'),
]
MARKS = [
    ("GTM 12.1", over(mi("x"), mo("¯")), "x;:"),
    ("GTM 12.1", mi("A") + over(mi("B"), mo("¯")) + mi("C"), ";;,a,b:,c"),
    ("GTM 12.1", mn("0.791") + over(mn(6), mo("¯")), "#j4gia<#f>:"),
    ("GTM 12.1", over(mi("v"), mo("→")), "v;^:"),
    ("GTM 12.1", over(mi("y"), mo("^")), 'y;":'),
    ("GTM 12.1", over(mi("y"), mo("~")), "y_:"),
    ("GTM 12.1", over(mi("y"), mo("˙")), "y^4"),
    ("GTM 12.1", over(mi("y"), mo("⌒")), "y._:"),
    ("GTM 12.2", under(mi("y"), mo("_")), "y;,:"),
    ("GTM 12.1 two letters", over(row(mi("A"), mi("B")), mo("¯")), ";;<,,ab>:"),
    ("GTM 3.3 line through", mi("a") + mo("≠") + mi("b"), 'a "7@: ;b'),
]  # fmt: skip
SIGNS = [
    ("Rules 11.2", mn("3.9") + mo("×") + mn("4.1") + mo("&lt;") + mn(16), '#c4i"8#d4a @< #af'),
    ("Rules 11.2.2", PARABOLA + mn(4) + mo(";") + PARABOLA + mn(2) + mi("x"),
     ';;;y "7 x9#b"-#d2 y "7 x9#b"-#bx;\''),
    ("Rules 11.6", mi("p") + mo("→") + mi("q"), ";;;p \\o q;'"),
    ("GTM 10", mo("¬") + mi("p"), "@?p"),
    ("GTM 10", mi("p") + mo("∧") + mi("q"), "p@8q"),
    ("Rules 6.5.2", mn(2) + mi("a") + mi("x"), "#b;ax"),
    ("Rules 6.5.2: not a capital", mn(2) + mi("A"), "#b,a"),
    ("Rules 9.1.3", '<mi mathvariant="bold">v</mi>' + mo("+") + mi("w"), '^2v"6w'),
    ("Rules 9.2.1", '<mi mathvariant="double-struck">R</mi>' + mo("+") + mi("w"), '@2,r"6w'),
    ("Rules 10.8: not ound", mi("x") + mi("δ"), "x;.d"),
    ("GTM 5 bars", mo("|") + mi("x") + mo("|"), "_\\x_\\"),
    ("Rules 11.7", mo("△") + mi("A") + mi("B") + mi("C"), ";$#c:,,abc"),
    ("Rules 11.7", mo("△") + ROOM + mi("A") + mi("B") + mi("C"), ";$#c ,,abc"),
    ("Rules 11.7.3", '<menclose notation="box"><mn>5</mn></menclose>', ";;$#d[#e"),
    ("GTM 12 cancelled", '<menclose notation="updiagonalstrike"><mn>5</mn></menclose>', "#e@:"),
]  # fmt: skip
FUNCTIONS = [
    ("GTM 9.1", mi("tan") + sup(mn(45), mo("∘")), "tan#de^j"),
    ("GTM 9.1", mn(3) + mi("tan") + mn(45) + mo("°"), "#ctan#de^j"),
    ("GTM 9.1", mi("tan") + mo("(") + mi("x") + mo(")"), 'tan"<x">'),
    ("GTM 9.1", mi("cos") + mi("θ"), "cos.?"),
    ("GTM 9.1", mi("cos") + mo("\u2061") + mi("x"), "cos ;x"),
    ("UEB 5.5", "<mtext>A + B</mtext><mo>→</mo><mtext>AB.</mtext>", ";;;,a\"6,b \\o ,,ab;'4"),
    ("GTM 9.1", mi("x") + mi("cos"), ";x cos"),
    ("GTM 9.1", sub(mi("a"), mi("n")) + mi("cos") + mi("θ"), "a;5n cos.?"),
    ("GTM 9.1", sub(mi("a"), mn(2)) + mi("cos") + mi("θ"), "a;5#b;cos.?"),
    (
        "GTM 16",
        f"<msub><mtext>PO</mtext>{mn(4)}</msub><msup><mo>\u200b</mo>{mo('−')}</msup>",
        ',p,o;5#d9"-',
    ),
    (
        "GTM 16",
        f"<mtext>Hb</mtext><mo>↔</mo><msub><mtext>HbCO</mtext>{mn(2)}</msub>",
        ";;;,hb \\wro ,hb,c,o5#b;'",
    ),
    ("GTM 9.1", mn(3) + mi("sin") + mi("x"), "#csin ;x"),
    ("GTM 9.2", sub(mi("log"), mn(5)), "log;5#e"),
    (
        "Rules 3.26 a brace over, and what it says",
        over(over(row(mi("x"), mo("+"), mi("y")), mo("⏞")), mi("n")),
        ';;<<x"6y>.9.#?>.9n',
    ),
    (
        "GTM 9.1 after a letter in a typeform",
        '<mi mathvariant="script">j</mi>' + mi("lim"),
        "@2;j lim",
    ),
    (
        "GTM 9.1 after a name with left scripts",
        f"<mmultiscripts>{mi('tan')}<mprescripts/>{mi('x')}<none/></mmultiscripts>" + mi("lim"),
        ";5xtan lim",
    ),
    ("GTM 9 inverse, grouped by Rules 11.4.1", sup(mi("sin"), mo("−"), mn(1)), ';;sin9<"-#a>'),
]
CHEMISTRY = [
    ("GTM 16.1", sub(mi("H"), mn(2)) + mi("O"), ",h;5#b,o"),
    ("GTM 16.1", mi("Na") + mi("H") + mi("C") + sub(mi("O"), mn(3)), ",na,h,c,o;5#c"),
    ("GTM 16.2", mn(2) + mi("NaOH") + mo("+") + sub(mi("H"), mn(2)) + mi("S")
     + sub(mi("O"), mn(4)) + mo("→") + sub(mi("Na"), mn(2)) + mi("S") + sub(mi("O"), mn(4))
     + mo("+") + mn(2) + sub(mi("H"), mn(2)) + mi("O"),
     ';;;#b,na,o,h"6,h5#b,s,o5#d \\o ,na5#b,s,o5#d"6#b,h5#b,o;\''),
    ("GTM 16.4", sup(mi("Ca"), mn(2), mo("+")), ';;,ca9<#b"6>'),
    ("GTM 16.4", sup(mi("Na"), mo("+")), ',na;9"6'),
    ("GTM 16 as text", "<mtext>NaOH + </mtext>" + sub("<mtext>NH</mtext>", "<mtext>3</mtext>"),
     ',na,o,h"6,n,h;5#c'),
]  # fmt: skip
ALL = [*FRACTIONS, *LEVELS, *ROOTS, *MARKS, *SIGNS, *FUNCTIONS, *CHEMISTRY]


@pytest.mark.parametrize(("section", "source", "braille"), ALL)
def test_worked_examples(section: str, source: str, braille: str) -> None:
    assert ueb(source) == braille, section


def contracted(inside: str, **words: str) -> str:
    """Cells where some words have contracted forms: ``sin="s9"``."""
    table = {char: chr(at) for at, char in _cells().items()}

    def contract(word: str, alone: bool) -> str:
        return "".join(table[char] for char in words.get(word, word))

    return ascii_cells(code.cells(parse(math(inside)), contract=contract).cells)


def _cells() -> dict[int, str]:
    return {at: ascii_cells(chr(at)) for at in range(0x2800, 0x2840)}


def test_names_may_be_contracted() -> None:
    """GTM 9.1: in contracted braille, but not after a number, nor beside grade 1 signs."""
    assert contracted(mi("sin") + mi("x") + mo("+") + mn(2), sin="s9") == 's9 x"6#b'
    assert contracted(mi("sin") + mi("X"), sin="s9") == "s9,x"
    assert contracted(mn(3) + mi("sin") + mi("x"), sin="s9") == "#csin ;x"
    assert contracted(sub(mi("sin"), mi("x")), sin="s9") == "sin;5x"


def test_words_of_an_expression() -> None:
    """UEB 11.3.4: speed = distance over time."""
    words = frac("<mtext>distance</mtext>", "<mtext>time</mtext>")
    source = "<mtext>speed</mtext>" + mo("=") + words
    forms = {"speed": "spe$", "distance": "di/.e", "time": '"t'}
    assert contracted(source, **forms) == 'spe$ "7 ;(di/.e./"t;)'


@pytest.mark.parametrize(
    ("source", "braille"),
    [
        (mi("y") + mo("=") + sup(mi("x"), mn(2)), 'y "7 x9#b'),
        (mn(2) + mi("a"), "#b;a"),
        (frac(mi("x"), mi("y")), "(x./y)"),
    ],
)
def test_uncontracted_braille_needs_no_grade_1_signs(source: str, braille: str) -> None:
    """UEB 5: only a letter that would read as a digit keeps its sign (6.5.2)."""
    cells = code.cells(parse(math(source)), contracted=False)
    assert ascii_cells(cells.cells) == braille


def grid(*lines: str) -> str:
    rows = "".join(
        "<mtr>" + "".join(f"<mtd>{mn(entry)}</mtd>" for entry in line.split()) + "</mtr>"
        for line in lines
    )
    return f"<mtable>{rows}</mtable>"


def rows_of(source: str) -> list[str]:
    cells = made(source)
    text = ascii_cells(cells.cells)
    edges = [0, *cells.lines, len(text)]
    return [text[a:b] for a, b in pairwise(edges)]


def test_an_identity_matrix() -> None:
    """UEB 11.8: brackets of several lines on every line; signs outside on the first."""
    source = mi("I") + mo("=") + f"<mfenced>{grid('1 0', '0 1')}</mfenced>"
    assert rows_of(source) == [',i "7 ,"<#a #j,">', '      ,"<#j #a,">']


def test_columns_are_left_aligned() -> None:
    source = f'<mfenced open="[" close="]">{grid("1 20", "300 4")}</mfenced>' + mo("=") + mi("A")
    assert rows_of(source) == [',.<#a   #bj,.> "7 ,a', ",.<#cjj #d ,.>"]


def test_a_system_of_equations() -> None:
    lines = "".join(
        f"<mtr><mtd>{mi('x')}{mo(sign)}{mi('y')}</mtd><mtd>{mo('=')}{mn(value)}</mtd></mtr>"
        for sign, value in (("+", 1), ("−", 3))
    )
    source = mo("{") + f"<mtable>{lines}</mtable>"
    assert rows_of(source) == [',_<x"6y "7 #a', ',_<x"-y "7 #c']


def test_cases_keep_their_columns() -> None:
    """Columns that are no alignment at signs: room that means something is three blanks (BF
    1.9), so that what holds and when it holds are never one expression."""
    lines = "".join(
        f"<mtr><mtd>{value}</mtd><mtd>{mi('x')}{mo(sign)}{mn(0)}</mtd></mtr>"
        for value, sign in ((mi("x"), "≥"), (mo("−") + mi("x"), "&lt;"))
    )
    source = mo("{") + f"<mtable>{lines}</mtable>"
    assert rows_of(source) == [",_<;x    ;x _@> #j", ',_<"-x   ;x @< #j']


def test_a_line_ends_before_comparison_signs() -> None:
    """GTM 1.4: before a comparison sign; the blank after it holds its place."""
    cells = made(mi("y") + mo("=") + mn(2) + mo("&lt;") + mn(3))
    assert ascii_cells(cells.cells) == ';y "7 #b @< #c'
    assert cells.breaks == (2, 8)
    assert cells.joins == ()


def test_a_long_formula_ends_lines_before_operation_signs() -> None:
    """GTM 1.4, UEB 6.10: with the line continuation sign at the end of the line."""
    cells = made(mo("+").join(mi(letter) for letter in "abcdefghijklmnop"))
    text = ascii_cells(cells.cells)
    assert all(text[at : at + 2] == '"6' for at in cells.breaks)
    assert len(cells.breaks) == 15
    assert {ascii_cells(tail) for _, tail in cells.joins} == {'"'}


def test_cells_know_their_leaves() -> None:
    cells = made(frac(mi("x"), mn(12)))
    assert [leaf.text for leaf in cells.leaves] == ["x", "12"]
    assert [leaf.path for leaf in cells.leaves] == ["/1/1/1", "/1/2/1"]
    assert ascii_cells(cells.cells) == ";(x./#ab)"
    assert len(cells.origin) == len(cells.cells)
    assert cells.origin == (0, 0, 0, 0, 0, 1, 1, 1, 1)


@pytest.mark.parametrize(
    ("source", "what", "braille"),
    [
        (mo("⦃") + mi("x"), "the sign left white curly bracket", "@.<left white curly bracket@.>x"),
        ("<mlongdiv><mn>12</mn></mlongdiv>", "the element mlongdiv", "@.<#ab@.>"),
        (
            '<mfrac linethickness="0"><mi>n</mi><mi>k</mi></mfrac>',
            "a fraction without a line, written as one thing below the other",
            "n;.5k",
        ),
        (
            '<menclose notation="longdiv"><mi>n</mi></menclose>',
            "the enclosing line longdiv",
            ";n",
        ),
        (sqrt(grid("1 2")), "rows and columns inside another structure", ""),
    ],
)
def test_what_has_no_sign_is_a_problem(source: str, what: str, braille: str) -> None:
    cells = made(source)
    assert what in [told for told, _ in cells.problems]
    assert braille in ascii_cells(cells.cells)
