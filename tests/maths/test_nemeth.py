"""Nemeth Code (1972 revision) inside Unified English Braille, by section of the code.

Expected cells in North American ASCII braille.  Examples without a section of the code are of
courses that restate it, or follow from its rules.
"""

from __future__ import annotations

import pytest

from convert.maths.mathml import parse
from convert.maths.nemeth import cells
from tests.maths.case import ascii_cells, math, mi, mn, mo, over, row, sub, sup, under


def nemeth(*inside: str) -> str:
    """The cells of MathML; there may be no problem."""
    found = cells(parse(math("".join(inside))))
    assert found.problems == ()
    return ascii_cells(found.cells)


def maths(text: str) -> str:
    """Letters, numerals and signs side by side: ``4 x + 3 y`` (a space parts the elements)."""
    out = []
    for piece in text.split():
        if piece[0].isdigit() or (piece[0] == "." and len(piece) > 1):
            out.append(mn(piece))
        else:
            out.append((mi if piece[0].isalpha() else mo)(piece.replace("<", "&lt;")))
    return "".join(out)


def one(text: str) -> str:
    return row(maths(text))


def frac(top: str, bottom: str, slant: bool = False) -> str:
    kind = ' bevelled="true"' if slant else ""
    return f"<mfrac{kind}>{one(top)}{one(bottom)}</mfrac>"


def root(body: str, index: str = "") -> str:
    return f"<mroot>{row(body)}{one(index)}</mroot>" if index else f"<msqrt>{body}</msqrt>"


def both(base: str, low: str, high: str) -> str:
    return f"<msubsup>{one(base)}{one(low)}{one(high)}</msubsup>"


SQUARE = sup(mi("x"), mn(2))
LEFT = "<mmultiscripts>{}<mprescripts/><none/>{}</mmultiscripts>"
TEXT = "<mtext>{}</mtext>".format

# 7-10
NUMERALS = [
    (maths("1,234"), "#1,234"),
    (maths("3.14"), "#3.14"),
    (maths(".5 + .25"), "#.5+.25"),
    (maths("− 5"), "-#5"),
    (maths("− .5"), "-#.5"),
    (maths("+ 5"), "+5"),
    (maths("x + 5"), "x+5"),
    (maths("x − 5"), "x-5"),
    (maths("x = 5"), "x .k #5"),
    (maths("x = − 5"), "x .k -#5"),
    (maths("( 5 )"), "(5)"),
    (maths("3 ( 5 )"), "#3(5)"),
    (maths("5 ‐ 10"), "#5-10"),
    (maths("5 × − 3"), "#5@*-3"),
    (maths("# 5"), ".##5"),
    (maths("§ 5"), "@,s#5"),
    (maths("* 5"), "@##5"),
    (maths("3 * 5"), "#3@#5"),
    (maths("1 , 2 , 3"), "#1, #2, #3"),
    (maths("( 1 , 2 , 3 )"), "(1, 2, 3)"),
    (maths("{ − 1 , 0 , − .5 }"), ".(-1, 0, -.5.)"),
    (maths("( 1 , 2 , … , n )"), "(1, 2, ''', n)"),
    (maths("( x = 1 , 2 )"), "(x .k #1, #2)"),
    (mn("1 000 000") + mo("+") + mn(2), "#1 000 000+2"),
    (mi("sin") + mn(30), "sin #30"),
    (mn(0) + mo(".") + over(mn(3), mo("¯")), "#0.3:"),
    ('<mn mathvariant="bold">3</mn>', "_#3"),
]

# Digest 3; rule IV
LETTERS = [
    (maths("x , y"), ";x, ;y"),
    (maths("x , y = 1"), ";x, y .k #1"),
    (maths("( x , y )"), "(x, y)"),
    (maths("A"), ";,a"),
    (maths("a l"), ";al"),
    (maths("a x"), "ax"),
    (maths("x = y"), "x .k y"),
    (maths("x + y"), "x+y"),
    (maths("sin x"), "sin x"),
    (sup(mi("x"), mo("′")), "x'"),
    (TEXT("if") + mi("x"), ",'if ;x"),
    (maths("A B"), ",a,b"),
    (maths("α + Ω"), ".a+.,w"),
    (maths("η θ ξ χ ψ ω"), ".:.?.x.&.y.w"),
    ('<mi mathvariant="bold">x</mi>', "_;x"),
    ('<mi mathvariant="bold">α</mi>', "_.a"),
    ('<mi mathvariant="script">F</mi>', "@;,f"),
    ('<mi mathvariant="sans-serif">x</mi>', ",.;x"),
    (maths("ℝ"), "@;,r"),
    ('<mi mathvariant="fraktur">g</mi>', "_g"),
    (maths("ℵ"), ",,a"),
    (maths("2 GCF"), "#2 ,,gcf"),
    (maths("AB + CD"), ",a,b+,c,d"),
    (maths("NaCl"), ",na,cl"),
    (sub(mi("HCO"), mn(3)), ",h,c,o3"),
    (sub(mi("GCF"), mn(3)), ",,gcf;3"),
    (maths("πr + Δx"), ".pr+.,dx"),
    (maths("∫ f dx"), "!fdx"),
]

# 37-38
PUNCTUATION = [
    (maths("f : A → B"), ";f_3 ,a $o ,b"),
    (maths("3 : 4"), '#3 "1 #4'),
    (maths("a : b = c : d"), 'a "1 b .k c "1 d'),
    (maths("{ x : x > 0 }"), ".(x_3 x .1 #0.)"),
    (maths("x = 1 ; y = 2"), "x .k #1_2 y .k #2"),
    (row(SQUARE, mo(";"), mi("y")), "x^2_2 ;y"),
]

# 71-84
LEVELS = [
    (SQUARE, "x^2"),
    (row(SQUARE, maths("+ 1")), 'x^2"+1'),
    (row(SQUARE, maths("= y")), "x^2 .k y"),
    (row(SQUARE, maths(", y")), "x^2, ;y"),
    (row(mo("("), SQUARE, mo(")")), '(x^2")'),
    (sub(mi("x"), mn(1)), "x1"),
    (row(sub(mi("x"), mn(1)), maths("+ y"), sub(mi("y"), mn(1))), "x1+yy1"),
    (sub(mi("x"), mi("n")), "x;n"),
    (sub(mi("x"), maths("2 k")), "x;2k"),
    (row(mi("C"), sub(mi("O"), mn(2))), ",c,o2"),
    (sub(mi("Na"), mn(2)), ",na2"),
    (sub(mi("α"), mn(1)), ".a1"),
    (sub(mi("x"), maths("i , j")), "x;i[j"),
    (both("x", "i", "2"), "x;i^2"),
    (both("x", "1", "2"), "x1^2"),
    (sup(mi("x"), maths("′ 2")), "x'^2"),
    (sub(sup(mi("x"), mo("′")), mn(1)), "x'1"),
    (sup(sub(mi("x"), mi("i")), mn(2)), "x;i^2"),
    ("<mmultiscripts><mi>x</mi><mi>i</mi><none/><none/><mn>2</mn></mmultiscripts>", 'x;i"^2'),
    (mi("a") + LEFT.format(mi("x"), mn(2)), 'a"^2"x'),
    (row(sup(mi("x"), maths("1 + … + n")), mi("y")), "x^1+ ^''' ^+n\"y"),
    (sub(mi("x"), maths("1 , … , n")), "x;1['''[n"),
    (sup(mi("e"), row(sup(mi("sin"), mn(2)), mi("x"))), "e^sin^^2 ^x"),
    (sup(mi("x"), sup(mi("a"), mi("b"))), "x^a^^b"),
    (sup(mi("x"), sub(mi("a"), mi("b"))), "x^a^;b"),
    (sub(mi("x"), sup(mi("a"), mi("b"))), "x;a;^b"),
    (sub(mi("x"), sub(mi("a"), mn(1))), "x;a;;1"),
    (row(sup(mi("x"), sup(mi("a"), mi("b")), maths("+ c")), maths("+ d")), 'x^a^^b^+c"+d'),
    (row(sub(mi("a"), maths("i = 1")), maths("+ 2")), 'a;i ;.k #1"+2'),
    (row(sup(mi("e"), maths("sin x")), maths("+ 1")), 'e^sin x"+1'),
    (mn(30) + mo("°"), "#30^.*"),
    (sup(mn(30), mo("∘")) + maths("+ x"), '#30^.*"+x'),
    (
        "<mmultiscripts><mi>C</mi><mprescripts/><mn>6</mn><mn>14</mn></mmultiscripts>",
        ';6^14",c',
    ),
]

# 61-70
FRACTIONS = [
    (frac("1", "2"), "?1/2#"),
    (frac("x + y", "z"), "?x+y/z#"),
    (f"<mfrac>{SQUARE}{mi('y')}</mfrac>", '?x^2"/y#'),
    (frac("1", "2", slant=True), "?1_/2#"),
    (maths("a / b"), "a_/b"),
    (maths("3 / 4"), "#3_/4"),
    (mn(2) + frac("1", "3"), "#2_?1/3_#"),
    (mn(2) + mo("\u2062") + frac("1", "3"), "#2?1/3#"),
    (f"<mfrac>{frac('3', '4')}{frac('5', '6')}</mfrac>", ",??3/4#,/?5/6#,#"),
    (f"<mfrac>{row(mn(2), frac('1', '3'))}{mi('x')}</mfrac>", ",?2_?1/3_#,/x,#"),
    (
        f"<mfrac><mfrac>{frac('3', '4')}{mn(5)}</mfrac>{mi('x')}</mfrac>",
        ",,?,??3/4#,/5,#,,/x,,#",
    ),
    (f"<mfrac>{sup(mi('x'), frac('1', '2'))}{mn(3)}</mfrac>", '?x^?1/2#"/3#'),
    (sup(mi("x"), frac("1", "2")) + maths("+ 1"), 'x^?1/2#"+1'),
    (maths("x =") + frac("1", "2"), "x .k ?1/2#"),
    (f'<mo>(</mo><mfrac linethickness="0">{mi("n")}{mi("k")}</mfrac><mo>)</mo>', "(n%k)"),
]

# 103-105
RADICALS = [
    (root(mn(64)) + maths("= 8"), ">64] .k #8"),
    (root(mn(64), "3"), "<3>64]"),
    (sup(root(mi("x")), mn(2)), ">x]^2"),
    (root(SQUARE), '>x^2"]'),
    (root(mi("x") + mo("+") + root(mi("y")) + maths("+ z")), ">x+.>y.]+z]"),
    (root(root(root(mi("x")))), ">.>..>x..].]]"),
    (root(maths("x +") + root(mi("y"), "4"), "3"), "<3>x+.<4>y.]]"),
    (maths("√ 2"), ">2"),
]

# 86-88
MODIFIED = [
    (over(maths("x y"), mo("¯")).replace("<mover>", "<mover><mrow>", 1).replace(
        "</mi><mrow>", "</mi></mrow><mrow>", 1), '"xy<:]'),
    (over(mi("x"), mo("¯")), "x:"),
    (over(mn(3), mo("¯")), "#3:"),
    (under(mi("x"), mo("_")), '"x%:]'),
    (over(mi("x"), mo("^")), '"x<_<]'),
    (over(mi("v"), mo("→")), '"v<$o]'),
    (over(mo("→"), mi("f")) , '"$33o<f]'),
    (over(over(mi("x"), mo("~")), mo("¯")), '"x<@:<<:]'),
    (sub(over(mi("x"), mo("¯")), mn(1)), "x:;1"),
    (under(mi("lim"), maths("x → 0")) + maths("f ( x )"), '"lim%x $o #0] f(x)'),
    (
        f"<munderover>{mo('∑')}{one('k = 1')}{mi('n')}</munderover>" + sub(mi("a"), mi("k")),
        '".,s%k .k #1<n]a;k',
    ),
    (both("∫", "a", "b") + maths("f ( x ) d x"), '!;a^b"f(x)dx'),
    ("<munder><mover><mi>x</mi><mo>~</mo></mover><mi>n</mi></munder>", '"x%n<@:]'),
]  # fmt: skip

# Digest 9
SIGNS = [
    (maths("x ± y"), "x+-y"),
    (maths("+ −"), '+"-'),
    (maths("a + − b"), 'a+"-b'),
    (maths("a ÷ b · c"), "a./b*c"),
    (maths("a ∈ B"), "a @e ,b"),
    (maths("a ⊈ B"), 'a /_"k: ,b'),
    (maths("x < = y"), 'x "k".k y'),
    (maths("| x |"), "\\x\\"),
    (maths("| x | | y |"), '\\x\\"\\y\\'),
    (maths("‖ x ‖ ‖ y ‖"), '\\\\x\\\\"\\\\y\\\\'),
    (maths("| x | + 2 | y |"), "\\x\\+2\\y\\"),
    (maths("{ x | x > 0 }"), ".(x \\ x .1 #0.)"),
    (maths("{ x | | x | > 0 }"), ".(x \\ \\x\\ .1 #0.)"),
    (maths("a ∣ b"), "a \\ b"),
    (maths("⌊ x ⌋ + [ y ]"), "@;(x@;)+@(y@)"),
    (maths("n !"), "n&"),
    (maths("1 + 2 + … + n"), "#1+2+ ''' +n"),
    (maths("5 + ? = 8"), "#5+= .k #8"),
    (TEXT("____") + maths("+ 1"), "=+1"),
    (maths("x 2"), 'x"2'),
    (maths("∑ 2 k"), '.,s"2k'),
    (sub(mi("c"), mn(0)) + sup(mn(10), mn(2)), 'c0"10^2'),
    (maths("50 %"), "#50@0"),
    (maths("$ 5"), "@s5"),
    (maths("f ∘ g"), "f.*g"),
    (maths("q ≥ 25"), "q .1: #25"),
    (maths("π ≈ 3.14"), ".p @:@: #3.14"),
]

# 119; digest 10
FUNCTIONS = [
    (sup(mi("sin"), mn(2)) + mi("x"), "sin^2 x"),
    (sub(mi("log"), mn(10)) + mi("x"), "log10 x"),
    (sub(mi("log"), mi("a")) + mi("x"), "log;a x"),
    (maths("sin 30 °"), "sin #30^.*"),
    (maths("sin − 30"), "sin -#30"),
    (maths("2 sin x + cos x"), "#2sin x+cos x"),
    (maths("log ( x + 1 )"), "log (x+1)"),
    (mi("cos") + frac("x", "2"), "cos ?x/2#"),
    (row(mo("("), mi("sin"), mo(")")), "(sin)"),
    (maths("a ≡ 3 mod 7"), "a _l #3 mod #7"),
]

# Digest 11
SHAPES = [
    (maths("∠ GHI ≅ ∠ PQR"), "$[ ,g,h,i @:.k $[ ,p,q,r"),
    (maths("△ A B C"), "$t ,a,b,c"),
    (maths("m ∠ 1"), "m$[ #1"),
    (maths("□ + ○"), "$4+$c"),
    (maths("A ⇔ B"), ",a $[77o ,b"),
    (maths("A ⟶ B"), ",a $333o ,b"),
    (maths("l ∥ m"), "l $l m"),
    (over(mi("AB"), mo("⌢")), '",a,b<$a]'),
    ('<menclose notation="circle"><mi>x</mi></menclose>', "$c_$x]"),
    ('<menclose notation="updiagonalstrike"><mi>x</mi></menclose>', "[x]"),
    ('<menclose notation="top"><mi>x</mi><mi>y</mi></menclose>', '"xy<:]'),
]

# Digest 13
WORKED = [
    (maths("( a x + b y ) ( c x + d y )"), "(ax+by)(cx+dy)"),
    (maths("a c = 12"), "ac .k #12"),
    (maths("b d = − 10"), "bd .k -#10"),
    (maths("a d + b c = 7"), "ad+bc .k #7"),
    (maths("4 x + 3 y"), "#4x+3y"),
    (
        row(mn(4), sup(mi("x"), mn(3)), maths("− 12"), SQUARE, maths("− x + 3")),
        '#4x^3"-12x^2"-x+3',
    ),
    (
        row(mo("="), mn(4), SQUARE, maths("( x − 3 ) − ( x − 3 )")),
        '.k #4x^2"(x-3)-(x-3)',
    ),
    (
        row(
            sub(mi("c"), mn(0)), sup(mn(10), mn(2)), mo("+"), sub(mi("c"), mn(1)), mn(10),
            mo("+"), sub(mi("c"), mn(2)),
        ),
        'c0"10^2"+c1"10+c2',
    ),
]  # fmt: skip


@pytest.mark.parametrize(
    "inside, expected",
    [
        pytest.param(*case, id=f"{name}-{at}")
        for name, cases in (
            ("numerals", NUMERALS), ("letters", LETTERS), ("punctuation", PUNCTUATION),
            ("levels", LEVELS), ("fractions", FRACTIONS), ("radicals", RADICALS),
            ("modified", MODIFIED), ("signs", SIGNS), ("functions", FUNCTIONS),
            ("shapes", SHAPES), ("worked", WORKED),
        )
        for at, case in enumerate(cases)
    ],
)  # fmt: skip
def test_an_example_of_the_code(inside: str, expected: str) -> None:
    assert nemeth(inside) == expected
