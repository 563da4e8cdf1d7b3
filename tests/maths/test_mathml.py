"""MathML as an expression tree (MathML 3 and 4, presentation elements)."""

from __future__ import annotations

import time

import pytest

from convert.errors import SourceError
from convert.maths.mathml import parse
from convert.maths.render import render
from convert.maths.tree import (
    Enclosed,
    Expression,
    Fraction,
    Grid,
    Letter,
    Name,
    Number,
    Root,
    Row,
    Scripts,
    Sign,
    Space,
    Stack,
    Unsupported,
    Words,
    leaves,
)
from tests.maths.case import ascii_cells, math, mi, mn, mo

X, Y, TWO = Letter("x"), Letter("y"), Number("2")


@pytest.mark.parametrize(
    ("source", "tree"),
    [
        ("<mi>x</mi>", X),
        ("<mi>sin</mi>", Name("sin")),
        ('<mi mathvariant="bold-script">x</mi>', Letter("x", font="bold script")),
        ('<mstyle mathvariant="bold"><mi>x</mi></mstyle>', Letter("x", font="bold")),
        ("<mi>𝔵</mi>", Letter("x", font="fraktur")),
        ("<mi>&alpha;</mi>", Letter("α")),
        ("<mn>1,000.5</mn>", Number("1,000.5")),
        ("<mn>1 000</mn>", Number("1 000")),
        ("<mn>XIV</mn>", Name("XIV")),
        ("<mn>-5</mn>", Row((Sign("−"), Number("5")))),
        ("<mo>-</mo>", Sign("−")),
        ("<mo>mod</mo>", Name("mod")),
        ("<mo>&InvisibleTimes;</mo>", Sign("\u2062", role="invisible")),
        ('<mo fence="true" form="prefix">|</mo>', Sign("|", role="open")),
        ("<mi>x\u0304y\u0304</mi>", Row((Letter("x\u0304"), Letter("\u0233")))),
        ("<mi>x²</mi>", Scripts(X, ((None, TWO),))),
        ("<mn>½</mn>", Sign("½")),
        ("<mtext>if</mtext>", Words("if")),
        ("<ms>if</ms>", Words('"if"')),
        ('<mspace width="1em"/>', Space()),
        ('<mspace width="0.1em"/>', Row()),
        ("<mphantom><mi>x</mi></mphantom>", Row()),
        ("<mpadded><mi>x</mi></mpadded>", X),
        ("<mrow><mrow><mi>x</mi></mrow></mrow>", X),
        ("<maction selection='2'><mi>y</mi><mi>x</mi></maction>", X),
        ("<semantics><mi>x</mi><annotation>x^1</annotation></semantics>", X),
        ("<mfrac><mi>x</mi><mi>y</mi></mfrac>", Fraction(X, Y)),
        ('<mfrac bevelled="true"><mi>x</mi><mi>y</mi></mfrac>', Fraction(X, Y, style="slash")),
        ('<mfrac linethickness="0pt"><mi>x</mi><mi>y</mi></mfrac>', Fraction(X, Y, style="none")),
        ("<msqrt><mi>x</mi><mi>y</mi></msqrt>", Root(Row((X, Y)))),
        ("<mroot><mi>x</mi><mn>2</mn></mroot>", Root(X, TWO)),
        ("<msub><mi>x</mi><mn>2</mn></msub>", Scripts(X, ((TWO, None),))),
        ("<msubsup><mi>x</mi><mi>y</mi><mn>2</mn></msubsup>", Scripts(X, ((Y, TWO),))),
        ("<msup><msub><mi>x</mi><mi>y</mi></msub><mn>2</mn></msup>", Scripts(X, ((Y, TWO),))),
        (
            "<msup><mrow><mi>x</mi><mi>y</mi></mrow><mn>2</mn></msup>",
            Row((X, Scripts(Y, ((None, TWO),)))),
        ),
        (
            "<mmultiscripts><mi>x</mi><none/><mn>2</mn><mprescripts/><mi>y</mi><none/>"
            "</mmultiscripts>",
            Row((Scripts(Scripts(X, (), ((Y, None),)), ((None, TWO),)),)).children[0],
        ),
        ("<munder><mi>x</mi><mi>y</mi></munder>", Stack(X, Y)),
        ("<munderover><mi>x</mi><mi>y</mi><mn>2</mn></munderover>", Stack(X, Y, TWO)),
        ('<menclose notation="box"><mi>x</mi></menclose>', Enclosed(X, ("box",))),
        ('<menclose notation="radical"><mi>x</mi></menclose>', Root(X)),
        (
            "<mfenced><mi>x</mi><mi>y</mi></mfenced>",
            Row(
                (
                    Sign("(", role="open"),
                    X,
                    Sign(",", role="separator"),
                    Y,
                    Sign(")", role="close"),
                )
            ),
        ),
        ('<mfenced open="" close=""><mi>x</mi></mfenced>', X),
        (
            "<mtable><mtr><mtd><mi>x</mi></mtd></mtr><mlabeledtr><mtd><mn>2</mn></mtd><mtd>"
            "<mi>y</mi></mtd></mlabeledtr></mtable>",
            Grid(((X,), (Y, TWO))),
        ),
        ("<mlongdiv><mn>2</mn></mlongdiv>", Unsupported("mlongdiv", "2")),
        ("<mi>x</mi><apply><plus/><ci>y</ci></apply>", Row((X, Unsupported("apply", "y")))),
        ("<mi><mglyph alt='crest'/></mi>", Unsupported("mi", "crest")),
        ("<msup><mi>x</mi></msup>", Unsupported("msup", "x")),
        ("<mi>x</mi> stray", Row((X, Unsupported("text", "stray")))),
    ],
)
def test_elements(source: str, tree: Expression) -> None:
    found = parse(math(source))
    if "mmultiscripts" in source:
        assert isinstance(found, Scripts)
        assert (found.base, found.after, found.before) != (X, (), ())
        assert list(leaves(found)) == [Y, X, TWO]
    else:
        assert found == tree


@pytest.mark.parametrize(
    ("text", "tree"),
    [
        ("A + B", Row((Letter("A"), Space(), Sign("+"), Space(), Letter("B")))),
        ("NaOH", Name("NaOH")),
        ("8π", Row((Number("8"), Letter("π")))),
        ("2", TWO),
        ("distance = time", Row((Words("distance"), Sign("="), Words("time")))),
        ("2 mg", Words("2 mg")),
    ],
)
def test_formulas_typed_as_text(text: str, tree: Expression) -> None:
    """Text of nothing but symbols is a formula; signs between spaces are signs."""
    assert parse(math(f"<mtext>{text}</mtext>")) == tree


@pytest.mark.parametrize(
    "source",
    [
        "<math><mi>x</mi></math>",
        '<m:math xmlns:m="http://www.w3.org/1998/Math/MathML"><m:mi>x</m:mi></m:math>',
        "<m:math><m:mi>x</m:mi></m:math>",
        '<math xmlns="http://www.w3.org/1998/Math/MathML"><!-- a --><mi>x</mi><?b c?></math>',
    ],
)
def test_namespaces_and_prefixes(source: str) -> None:
    assert parse(source) == X


def test_paths_are_steps_of_elements() -> None:
    tree = parse(math("<mrow><mi>x</mi><mfrac><mn>1</mn><mn>2</mn></mfrac></mrow>"))
    assert [leaf.path for leaf in leaves(tree)] == ["/1/1", "/1/2/1", "/1/2/2"]


# ------------------------------------------------------------------ limits


def nested(tag: str, depth: int, inner: str) -> str:
    return math(f"<{tag}>{inner}" * depth + mi("z") + f"</{tag}>" * depth)


@pytest.mark.parametrize("code", ["ueb", "nemeth"])
@pytest.mark.parametrize("tag", ["msqrt", "mfrac", "msup", "mover"])
def test_200_levels_are_transcribed(tag: str, code: str) -> None:
    cells = render(nested(tag, 200, mi("x")), code)
    assert len(cells.leaves) == 201
    assert cells.cells


@pytest.mark.parametrize(
    ("source", "words"),
    [
        (nested("msqrt", 201, "<mi>x</mi>"), "levels"),
        (nested("mrow", 1500, ""), "elements"),
        (nested("mrow", 9000, ""), "XML"),
        (math(mi("x") * 20_001), "more elements"),
        ("<!DOCTYPE math><math/>", "document type"),
        ("<math><mi>&nonesuch;</mi></math>", "not well-formed"),
        ("<math><mi>x</math>", "not well-formed"),
    ],
)
def test_what_is_refused(source: str, words: str) -> None:
    with pytest.raises(SourceError, match=words):
        parse(source)
    cells = render(source, "ueb")
    assert cells.cells == ""
    assert words in cells.problems[0][0]


def test_a_formula_of_5000_nodes() -> None:
    source = math(mo("+").join(mi("x") for _ in range(2500)))
    assert len(render(source, "ueb").leaves) == 4999


def test_an_unknown_code_is_a_problem() -> None:
    cells = render(math(mi("x")), "other")
    assert cells.cells == ""
    assert "other" in cells.problems[0][0]


def test_10000_formulas_in_10_seconds() -> None:
    """A tenth of them, of mixed size, in a tenth of the time."""
    half = f"<mfrac><mrow>{mo('−')}{mi('b')}{mo('±')}<msqrt>{mi('c')}</msqrt></mrow>{{}}</mfrac>"
    sizes = [mi("x"), f"<msup>{mi('x')}{{}}</msup>", half, half * 5]
    sources = [math(sizes[at % 4].replace("{}", mn(at))) for at in range(1000)]
    start = time.process_time()
    for source in sources:
        render(source, "ueb")
    assert time.process_time() - start < 10  # linear; a quadratic walk takes minutes
    assert ascii_cells(render(sources[1], "ueb").cells) == "x;9#a"
