"""Word equations (Office MathML, ISO/IEC 29500-1, 22.1): every object, and its defaults."""

from __future__ import annotations

import pytest

from convert.maths.mathml import parse
from convert.maths.render import render
from convert.maths.tree import Unsupported, leaves
from tests.maths.case import ascii_cells

SPACES = (
    'xmlns:m="http://schemas.openxmlformats.org/officeDocument/2006/math" '
    'xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main"'
)


def r(text: str, *properties: str) -> str:
    return f'<m:r><m:rPr>{"".join(properties)}</m:rPr><m:t xml:space="preserve">{text}</m:t></m:r>'


def p(name: str, value: str) -> str:
    return f'<m:{name} m:val="{value}"/>'


def o(name: str, *inside: str, **properties: str) -> str:
    found = "".join(p(key, value) for key, value in properties.items())
    return f"<m:{name}><m:{name}Pr>{found}<m:ctrlPr/></m:{name}Pr>{''.join(inside)}</m:{name}>"


def a(name: str, *inside: str) -> str:
    return f"<m:{name}>{''.join(inside)}</m:{name}>"


def omath(inside: str) -> str:
    return f"<m:oMath {SPACES}>{inside}</m:oMath>"


def ueb(inside: str) -> str:
    cells = render(omath(inside), "ueb")
    assert cells.problems == ()
    return ascii_cells(cells.cells)


NARY = (a("sub", r("i=1")), a("sup", r("n")), a("e", r("i")))
MATRIX = a("mr", a("e", r("1")), a("e", r("0"))) + a("mr", a("e", r("0")), a("e", r("1")))


@pytest.mark.parametrize(
    ("source", "braille"),
    [
        (o("f", a("num", r("1")), a("den", r("2"))), "#a/b"),
        (o("f", a("num", r("a")), a("den", r("b")), type="skw"), "a_/b"),
        (o("f", a("num", r("a")), a("den", r("b")), type="lin"), "a_/b"),
        (o("rad", a("deg"), a("e", r("x")), degHide="1"), ";;%x+"),
        (o("rad", a("deg", r("3")), a("e", r("x"))), ";;%9#cx+"),
        (o("sSup", a("e", r("x")), a("sup", r("2"))), "x;9#b"),
        (o("sSub", a("e", r("x")), a("sub", r("2"))), "x;5#b"),
        (o("sSubSup", a("e", r("x")), a("sub", r("i")), a("sup", r("2"))), ";;x5i9#b"),
        (o("sPre", a("sub", r("6")), a("sup", r("14")), a("e", r("C"))), ";5#f9#ad,c"),
        (o("nary", *NARY, chr="∑"), ';;,.s.5<i"7#a>.9ni'),
        (o("nary", *NARY), ';;!5<i"7#a>9ni'),
        (o("nary", *NARY, chr="∑", limLoc="subSup", supHide="1"), ';;,.s5<i"7#a>i'),
        (o("d", a("e", r("x")), a("e", r("y"))), '"<x_\\y">'),
        (o("d", a("e", r("x")), begChr="[", endChr=""), ".<;x"),
        (o("func", a("fName", r("sin", p("sty", "p"))), a("e", r("x"))), "sin ;x"),
        (r("sin") + r("θ"), "sin.?"),
        (o("limLow", a("e", r("lim")), a("lim", r("x→0"))), ";;lim.5<x\\o#j>"),
        (o("limUpp", a("e", r("x")), a("lim", r("y"))), "x;.9y"),
        (o("acc", a("e", r("v"))), 'v;":'),
        (o("acc", a("e", r("v")), chr="\u20d7"), "v;^:"),
        (o("bar", a("e", r("v")), pos="top"), "v;:"),
        (o("bar", a("e", r("v"))), "v;,:"),
        (o("groupChr", a("e", r("v")), chr="→", pos="top"), "v;^:"),
        (o("borderBox", a("e", r("5"))), ";;$#d[#e"),
        (o("borderBox", a("e", r("5")), hideTop="1", hideBot="1", hideLeft="1", hideRight="1",
           strikeBLTR="1"), "#e@:"),
        (o("box", a("e", r("x+y"))), 'x"6y'),
        (o("phant", a("e", r("x")), show="0") + r("y+a"), 'y"6a'),
        (o("phant", a("e", r("x"))) + r("+a"), 'x"6a'),
        (o("m", MATRIX), "#a #j#j #a"),
        (o("d", a("e", o("m", MATRIX))), ',"<#a #j,">,"<#j #a,">'),
        (o("eqArr", a("e", r("x&amp;=1")), a("e", r("y&amp;=2"))), ';x "7 #a;y "7 #b'),
        (r("x", p("scr", "script"), p("sty", "b")) + r("+a"), '^2@2x"6a'),
        (r("speed", "<m:nor/>") + r("=5"), 'speed "7 #e'),
        (f"<w:r><w:t>when </w:t></w:r>{r('x')}<w:del><w:r><w:delText>z</w:delText></w:r></w:del>",
         "when ;x"),
        (r("-b±4ac"), '"-b_6#d;ac'),
    ],
)  # fmt: skip
def test_objects(source: str, braille: str) -> None:
    assert ueb(source) == braille


def test_a_brace_below_is_a_transcriber_defined_sign() -> None:
    """The default of groupChr, a bottom curly bracket (UEB 3.26)."""
    assert ueb(omath(o("groupChr", a("e", r("x"))))) == "x;.5#?"


def test_an_object_outside_the_schema_keeps_its_text() -> None:
    assert parse(omath(a("novel", r("q")))) == Unsupported("m-novel", "q")


def test_paths_lead_to_the_source() -> None:
    tree = parse(omath(o("f", a("num", r("x")), a("den", r("2")))))
    assert [leaf.path for leaf in leaves(tree)] == ["/1/2/1", "/1/3/1"]


def test_200_levels() -> None:
    source = r("x")
    for _ in range(200):
        source = o("rad", a("deg"), a("e", source), degHide="1")
    assert render(omath(source), "ueb").problems == ()
