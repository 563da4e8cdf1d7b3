"""Expressions as plain text, for people who check braille against print.

Common practice, no source: the signs that people type on one line.
"""

from __future__ import annotations

import pytest

from convert.maths.plain import plain

HALF = "<mfrac><mn>1</mn><mn>2</mn></mfrac>"


def math(body: str) -> str:
    return f'<math xmlns="http://www.w3.org/1998/Math/MathML">{body}</math>'


@pytest.mark.parametrize(
    "body, text",
    [
        (f"<mfrac><mn>20</mn><mn>40</mn></mfrac><mo>=</mo>{HALF}", "20/40=1/2"),
        (f"<mn>3</mn>{HALF}", "3 1/2"),
        ("<mfrac><mrow><mi>a</mi><mo>+</mo><mi>b</mi></mrow><mi>c</mi></mfrac>", "(a+b)/c"),
        ("<msup><mi>x</mi><mn>2</mn></msup><mi>y</mi>", "x^2 y"),
        ("<msub><mi>H</mi><mn>2</mn></msub><mi>O</mi>", "H_2 O"),
        ("<msup><mi>f</mi><mo>\u2032</mo></msup>", "f\u2032"),
        ("<msqrt><mi>a</mi><mo>+</mo><mn>1</mn></msqrt>", "\u221a(a+1)"),
        ("<mroot><mi>x</mi><mn>3</mn></mroot>", "root 3 of x"),
        (
            "<munder><mi>lim</mi><mi>n</mi></munder><mi>a</mi>",
            "lim_n a",
        ),
        ("<mi>a</mi><mo>\u2062</mo><mi>b</mi>", "ab"),
        (
            "<mtable><mtr><mtd><mn>1</mn></mtd><mtd><mn>2</mn></mtd></mtr>"
            "<mtr><mtd><mn>3</mn></mtd><mtd><mn>4</mn></mtd></mtr></mtable>",
            "[1, 2; 3, 4]",
        ),
        ("<menclose notation='circle'><mn>7</mn></menclose>", "7 (circle)"),
        ("<mfrac linethickness='0'><mi>n</mi><mi>k</mi></mfrac>", "(n over k)"),
    ],
)
def test_print_in_two_dimensions_on_one_line(body: str, text: str) -> None:
    assert plain(math(body)) == text


def test_what_people_type_and_what_cannot_be_read() -> None:
    assert plain("x^2 + 1") == "x^2+1"
    assert plain("(a") == ""
