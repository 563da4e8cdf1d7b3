"""The Nemeth Code around single signs: words, switches, lines, matrices, problems, limits."""

from __future__ import annotations

import time
from itertools import pairwise

import pytest

from convert.maths.cells import BLANK, MathCells
from convert.maths.mathml import parse
from convert.maths.nemeth import cells
from convert.maths.render import render
from convert.maths.tree import (
    DEPTH,
    Expression,
    Fraction,
    Letter,
    Name,
    Number,
    Root,
    Row,
    Scripts,
    Sign,
    Stack,
    leaves,
)
from tests.maths.case import ascii_cells, math, mi, mn, mo, row, sub, sup
from tests.maths.test_nemeth import frac, maths, nemeth

TABLE = "<mtable>{}</mtable>".format
TEXT = "<mtext>{}</mtext>".format


def switched(*inside: str) -> str:
    found = cells(parse(math("".join(inside))), switch=True)
    assert found.problems == ()
    return ascii_cells(found.cells)


def table(*rows: str) -> str:
    """Rows of entries; a bar parts the entries."""
    return TABLE(
        "".join(
            "<mtr>" + "".join(f"<mtd>{maths(e)}</mtd>" for e in line.split("|")) + "</mtr>"
            for line in rows
        )
    )


def lines(made: MathCells) -> list[str]:
    edges = [0, *made.lines, len(made.cells)]
    return [ascii_cells(made.cells[a:b]) for a, b in pairwise(edges)]


def display(*inside: str) -> list[str]:
    made = cells(parse(math("".join(inside))))
    assert made.problems == ()
    return lines(made)


# ------------------------------------------------------------------ switches


@pytest.mark.parametrize(
    "inside, expected",
    [
        (maths("( a x + b y ) ( c x + d y )"), "_% (ax+by)(cx+dy) _:"),
        (maths("a d + b c = 7 ."), "_% ad+bc .k #7 _:4"),
        (maths("a c = 12 ,"), "_% ac .k #12 _:1"),
        (maths("3 ( 5 )"), "_% #3(5) _:"),
        (frac("1", "2"), "_% ?1/2# _:"),
        (mo("+"), "_% + _:"),
        (mo("="), "_% .k _:"),
        (mn("3.5"), "_% #3.5 _:"),
        (maths("− 5"), "_% -#5 _:"),
        (maths("n !"), "_% n& _:"),
    ],
)
def test_an_expression_between_its_indicators(inside: str, expected: str) -> None:
    """UEB 14.6.2; sentence punctuation follows the terminator in UEB; fractions and lone
    signs are Nemeth Code (BANA guidance 1)."""
    assert switched(inside) == expected


@pytest.mark.parametrize(
    "inside, expected",
    [(mi("x"), "x"), (mn(12), "#ab"), (mn("1,024"), "#a1jbd"), (maths("12 ."), "#ab4")],
)
def test_a_lone_letter_or_number_stays_ueb(inside: str, expected: str) -> None:
    """BANA guidance 3a: no more than commas inside a number."""
    made = cells(parse(math(inside)), contracted=False, switch=True)
    assert ascii_cells(made.cells) == expected
    assert made.code == "ueb"


def test_several_lines_have_the_indicators_on_their_own_lines() -> None:
    """UEB 14.6.3."""
    made = cells(parse(math(mo("(") + table("1|2", "3|4") + mo(")"))), switch=True)
    assert lines(made) == ["_%", ",(1 2,)", ",(3 4,)", "_:"]
    assert len(made.origin) == len(made.cells)


def test_the_blanks_beside_the_indicators_are_no_place_for_a_line_to_end() -> None:
    made = cells(parse(math(maths("x = y"))), switch=True)
    assert [ascii_cells(made.cells[:cell]) for cell in made.breaks] == ["_% x"]


def test_one_word_has_the_single_word_switch() -> None:
    """BANA guidance: dots 6, 3 before one word of UEB, to the next space."""
    assert nemeth(maths("x ="), mn(2), TEXT("if"), maths("y = 3")) == "x .k #2 ,'if y .k #3"


def test_a_script_follows_its_base_without_a_blank() -> None:
    """A name with capitals inside is letters; a word that is a subscript keeps its switch."""
    assert nemeth(sub(TEXT("MyCO"), mn(2))) == ",my,c,o;2"
    assert nemeth(sub(TEXT("HbCO"), mn(2))) == ",hb,c,o2"
    assert nemeth(sub(mi("m"), TEXT("total"))) == "m;,'total"


@pytest.mark.parametrize(
    "text, expected",
    [
        ("AB.", "_% ,a,b _:4"),
        ("N + 3H.", "_% ,n+3,h _:4"),
        ("sin(x)+5", "_% sin (x)+5 _:"),
        ("or so.", "_% ,'or ,'so4 _:"),
    ],
)
def test_a_formula_typed_as_text_is_a_formula(text: str, expected: str) -> None:
    """With the full stop of its sentence, which follows the terminator (UEB 14.6)."""
    assert switched(TEXT(text)) == expected


def test_more_words_stand_between_terminator_and_opening() -> None:
    found = nemeth(maths("x = 2"), TEXT(" for all "), maths("y > 3"))
    assert found == "x .k #2 _: for all _% y .1 #3"


def test_the_code_is_not_left_at_an_edge_or_inside_a_structure() -> None:
    """No empty stretch of Nemeth Code, and no terminator inside a fraction (no source)."""
    assert nemeth(TEXT("for all"), maths("y > 3")) == ",'for ,'all y .1 #3"
    assert nemeth(maths("x ="), TEXT("the sum")) == "x .k ,'the ,'sum"
    top = f"<mfrac>{TEXT('rate of change')}{mn(2)}</mfrac>"
    assert nemeth(maths("x ="), top) == "x .k ?,'rate ,'of ,'change/2#"


def test_text_that_is_a_formula_is_no_word() -> None:
    """Common practice: Greek letters without a space, a letter or chemical symbols with
    scripts, and text without letters are mathematics set upright."""
    assert nemeth(TEXT("8ηλ"), maths("+ 1")) == "#8.:.l+1"
    assert nemeth(f"<msub>{TEXT('O')}{mn(2)}</msub>", maths("+ 1")) == ",o2+1"
    assert nemeth(f"<msub>{TEXT('CO')}{mn(2)}</msub>") == ",c,o2"
    assert nemeth(f"<msub>{TEXT('speed')}{mn(2)}</msub>") == ",'speed ;2"
    assert nemeth(maths("x"), TEXT(" = 2 ")) == "x .k #2"


def test_words_are_contracted_where_the_text_around_is() -> None:
    tree = Row((Letter("x"), Sign("="), Number("2"), *_words("for"), Letter("y")))
    made = cells(tree, contract=lambda word, alone: "⠿")
    assert ascii_cells(made.cells) == "x .k #2 ,'= ;y"


def _words(text: str) -> tuple[Expression, ...]:
    return (parse(math(TEXT(text))),)


def test_printed_spaces_part_statements_but_not_differentials() -> None:
    """Common practice: the code sets its own spaces; room between statements is kept."""
    space = '<mspace width="1em"/>'
    assert nemeth(maths("x = 1"), space, maths("y = 2")) == "x .k #1 y .k #2"
    assert nemeth(maths("∫ x"), space, maths("d x")) == "!xdx"
    assert nemeth(maths("x +"), space, maths("y")) == "x+y"


# ------------------------------------------------------------------ rows and columns


def test_a_matrix() -> None:
    """Digest 12: enlarged signs on each row, entries left-justified, no numeric indicator."""
    rows = display(maths("A ="), mo("["), table("1|− 20", "300|x + 1"), mo("]"))
    assert rows == [
        ",a .k @,(1   -20@,)",
        "      @,(300 x+1@,)",
    ]  # fmt: skip


def test_a_determinant() -> None:
    assert display(mo("|"), table("a|b", "c|d"), mo("|"), maths("= a d − b c")) == [
        ",\\a b,\\ .k ad-bc",
        ",\\c d,\\",
    ]


def test_a_system_is_aligned_at_its_comparison_signs() -> None:
    assert display(table("x + y = 5", "2 x = 10")) == ["x+y .k #5", "#2x .k #10"]
    assert display(mo("{"), table("x + 2 y = 5", "y = 1")) == [
        ".,(x+2y .k #5",
        ".,(   y .k #1",
    ]


def test_cases() -> None:
    """One opening sign, two columns: room that means something is three blanks (BF 1.9)."""
    assert display(maths("f ="), mo("{"), table("x|x > 0", "0|x = 0")) == [
        "f .k .,(x   x .1 #0",
        "     .,(0   x .k #0",
    ]


def test_rows_inside_a_structure_are_told() -> None:
    made = cells(parse(math(f"<mfrac>{table('a|b', 'c|d')}{mn(2)}</mfrac>")))
    assert made.problems == (("rows and columns inside another structure", "abcd"),)
    assert ascii_cells(made.cells) == "?;a ;b ;c ;d/2#"


# ------------------------------------------------------------------ lines


def test_a_line_ends_before_comparison_signs_and_not_after_them() -> None:
    """Common practice; a function name stays with what follows it."""
    made = cells(parse(math(maths("sin x = cos y , z = ∠ A"))))
    found = [ascii_cells(made.cells[cell:]) for cell in made.breaks]
    assert found == [" .k cos y, z .k $[ ,a", " z .k $[ ,a", " .k $[ ,a"]
    assert all(made.cells[cell] == BLANK for cell in made.breaks)


def test_a_long_stretch_may_end_before_operation_signs() -> None:
    """Outside grouping signs first; not before a minus sign and a numeral, which would need
    an indicator at the start of a line."""
    text = "( a b c d + e f g h ) + a b c d e f g h − i j k l m n − 5 o p q"
    made = cells(parse(math(maths(text))))
    assert [ascii_cells(made.cells[cell:])[:2] for cell in made.breaks] == ["+a", "-i"]
    grouped = cells(parse(math(maths("( a b c d e f g h i j k + l m n o p q r s t u v w x )"))))
    assert [ascii_cells(grouped.cells[cell:])[:2] for cell in grouped.breaks] == ["+l"]


# ------------------------------------------------------------------ problems


@pytest.mark.parametrize(
    "inside, what, text, expected",
    [
        (maths("a ⧢ b"), "no sign of the Nemeth Code for shuffle product", "⧢", "a=b"),
        ('<mi mathvariant="monospace">x</mi>', "the typeform monospace", "x", ";x"),
        (
            '<menclose notation="longdiv"><mi>x</mi><mo>+</mo><mn>1</mn></menclose>',
            "the enclosing line longdiv",
            "x+1",
            "x+1",
        ),
        (
            f'<mfrac linethickness="0">{mi("n")}{mi("k")}</mfrac>',
            "a fraction without a line, written as one thing below the other",
            "n over k",
            '"n%k]',
        ),
        ("<mlongdiv><mn>1</mn></mlongdiv>", "the element mlongdiv", "1", "#1"),
        (mi("é"), "no sign of the Nemeth Code for latin small letter e with acute", "é", "="),
        (
            '<mi mathvariant="bold">sin</mi>',
            "the typeform bold of a name",
            "sin",
            "sin",
        ),
    ],
)
def test_what_the_code_has_not_is_told(inside: str, what: str, text: str, expected: str) -> None:
    made = cells(parse(math(inside)))
    assert made.problems == ((what, text),)
    assert ascii_cells(made.cells) == expected


def test_a_bracket_without_an_enlarged_form_is_told() -> None:
    tree = parse(math(f'<mo fence="true" form="prefix">/</mo>{table("a|b", "c|d")}{mo(")")}'))
    what = "no enlarged form of this grouping sign in the Nemeth Code"
    assert cells(tree).problems == ((what, "/"),)


# ------------------------------------------------------------------ origins and limits


def test_each_cell_knows_the_print_it_stands_for() -> None:
    made = cells(parse(math(row(sup(mi("x"), mn(2)), maths("+"), frac("1", "y")))))
    told = [made.leaves[leaf].text for leaf in made.origin]
    assert ascii_cells(made.cells) == 'x^2"+?1/y#'
    assert told == ["x", "2", "2", "+", "+", "1", "1", "1", "y", "y"]
    assert [leaf.path for leaf in made.leaves] == [
        "/1/1/1",
        "/1/1/2/1",
        "/1/2",
        "/1/3/1/1",
        "/1/3/2/1",
    ]


def _deep(wrap: str) -> Expression:
    node: Expression = Letter("x")
    for at in range(DEPTH):
        match wrap:
            case "fraction":
                node = Fraction(node, Number("2"))
            case "root":
                node = Root(Row((node, Sign("+"), Number(str(at)))), None)
            case "script":
                node = Scripts(Letter("a"), ((None, node),))
            case "stack":
                node = Stack(Row((Letter("a"), node)), None, Sign("~"))
    return node


@pytest.mark.parametrize("wrap", ["fraction", "root", "script", "stack"])
def test_two_hundred_levels(wrap: str) -> None:
    made = cells(_deep(wrap))
    assert made.problems == ()
    assert len(made.origin) == len(made.cells) > DEPTH


@pytest.mark.parametrize(
    "part",
    [
        (Letter("x"), Sign("+"), Number("2"), Sign("=")),
        (Sign("(", role="open"), Letter("x"), Sign(","), Number("2"), Sign(")", role="close")),
        (Sign("|", role="bar"), Letter("x")),
        (Sign("(", role="open"), Letter("x"), Sign(",")),
        (Name("sin"), Letter("x"), Sign(",")),
    ],
)
def test_five_thousand_things_side_by_side(part: tuple[Expression, ...]) -> None:
    tree = Row(part * (5000 // len(part)))
    begun = time.process_time()
    made = cells(tree)
    assert time.process_time() - begun < 30
    assert len(made.leaves) == sum(1 for _ in leaves(tree))


def test_render_gives_the_code_it_is_asked_for() -> None:
    source = math(maths("x + 2"))
    assert ascii_cells(render(source, "nemeth").cells) == "x+2"
    assert render(source, "nemeth").code == "nemeth"
    assert ascii_cells(render(source, "nemeth", switch=True).cells) == "_% x+2 _:"
