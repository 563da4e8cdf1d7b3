"""Expressions among words (UEB 5, 6.5, 11, 14.6; Guidelines for Technical Material 1)."""

from __future__ import annotations

from dataclasses import replace

import pytest

from convert.document.nodes import MathRun
from convert.findings import Findings
from convert.settings import Settings
from convert.translation.cells import BLANK, Cells
from convert.translation.passage import Mark, Passage
from convert.translation.ueb import contracted, uncontracted

SQUARE = "<math><msup><mi>x</mi><mn>2</mn></msup></math>"
EQUATION = "<math><mi>y</mi><mo>=</mo><msup><mi>x</mi><mn>2</mn></msup></math>"


TEX = r"\frac{x}{y}"


def passage(text: str, *sources: str) -> Passage:
    """A text whose stretches in double angle brackets are expressions."""
    marks = []
    for source in sources:
        start, end = text.index("«"), text.index("»") - 1
        text = text.replace("«", "", 1).replace("»", "", 1)
        marks.append(Mark(start, "math", MathRun(start, end, source)))
    return Passage(text, marks=tuple(marks))


def translated(
    text: str, *sources: str, math: str = "ueb", code: str = ""
) -> tuple[Cells, Findings]:
    findings = Findings()
    make = uncontracted if code else contracted
    return make(Settings(math=math)).translate(passage(text, *sources), findings), findings


@pytest.mark.parametrize(
    ("text", "sources", "braille"),
    [
        ("Here «x2» is small.", (SQUARE,), ',"h x;9#b is small4'),
        ("the square («x2»).", (SQUARE,), '! squ>e "<x;9#b">4'),
        ("Draw «y=x2».", (EQUATION,), ",draw ;;;y \"7 x9#b;'4"),
        (
            "Let «x» and «y» is",
            ("<math><mi>x</mi></math>", "<math><mi>y</mi></math>"),
            ",let ;x & ;y is",
        ),
        ("the «x2»-axis", (SQUARE,), "! x;9#b-axis"),
        ("the «x2»th", (SQUARE,), "! x;9#b;'th"),
        ("«x2»,«x2»", (SQUARE, SQUARE), "x;9#b1x;9#b"),
    ],
)
def test_an_expression_stands_among_words(
    text: str, sources: tuple[str, ...], braille: str
) -> None:
    cells, findings = translated(text, *sources)
    assert cells.ascii == braille
    assert findings.all() == []


def test_uncontracted_braille_is_in_grade_1_already() -> None:
    cells, _ = translated("so «y=x2» is", EQUATION, code="uncontracted")
    assert cells.ascii == 'so y "7 x9#b is'


def test_words_of_an_expression_are_contracted() -> None:
    source = (
        "<math><mtext>speed</mtext><mo>=</mo><mfrac><mtext>distance</mtext>"
        "<mtext>time</mtext></mfrac></math>"
    )
    cells, _ = translated("«speed=distancetime»", source)
    assert cells.ascii == 'spe$ "7 ;(di/.e./"t;)'


def test_cells_know_their_print() -> None:
    cells, _ = translated("So «y=x2» is", EQUATION)
    assert len(cells.pieces) == 3
    assert (cells.prints[1], cells.pieces[1].length) == (3, 4)
    found = dict(zip(cells.ascii, cells.origin, strict=True))
    assert found["y"] == 3
    assert found["x"] == 5
    assert found["b"] == 6


def test_an_expression_without_print_keeps_its_cells() -> None:
    cells, findings = translated("So «» is", SQUARE)
    assert cells.ascii == ",s x;9#b is"
    assert findings.all() == []


def test_a_line_ends_before_a_comparison_sign_only() -> None:
    cells, _ = translated("«y=x2»", EQUATION)
    blanks = [at for at, cell in enumerate(cells.text) if cell == BLANK]
    assert cells.ascii == ";;;y \"7 x9#b;'"
    assert blanks == [4, 7]
    assert cells.fixed == {7}


def test_nemeth_code_is_between_its_indicators() -> None:
    """UEB 14.6: the code switch indicators and the spaces beside them."""

    cells, _ = translated("If «y=x2», so", EQUATION, math="nemeth")
    assert cells.ascii == ",if _% y .k x^2 _:1 s"


def test_a_letter_by_itself_stays_ueb() -> None:
    cells, _ = translated("Let «x» so", "<math><mi>x</mi></math>", math="nemeth")
    assert cells.ascii == ",let ;x s"


def test_an_expression_without_a_source_is_a_note() -> None:
    cells, findings = translated("so «x plus y» is", "")
    assert cells.ascii == "s `.<;x plus ;y`.> is".replace("`", "@")
    assert [f.kind for f in findings.all()] == ["ueb.math-not-transcribed"]


def test_a_source_that_cannot_be_read() -> None:
    cells, findings = translated("so «x» is", "<math><mi>x</math>")
    assert cells.ascii == "s @.<;x@.> is"
    (finding,) = findings.all()
    assert (finding.kind, finding.severity) == ("maths.not-read", "stop")


def test_a_part_that_cannot_be_transcribed() -> None:
    cells, findings = translated("so «⦃x» is", "<math><mo>⦃</mo><mi>x</mi></math>")
    assert cells.ascii == "s @.<left white curly bracket@.>x is"
    (finding,) = findings.all()
    assert (finding.kind, finding.severity) == ("maths.part-not-transcribed", "stop")
    assert "left white curly bracket" in finding.message


def test_rows_are_lines() -> None:
    source = (
        "<math><mi>I</mi><mo>=</mo><mfenced><mtable><mtr><mtd><mn>1</mn></mtd><mtd><mn>0</mn>"
        "</mtd></mtr><mtr><mtd><mn>0</mn></mtd><mtd><mn>1</mn></mtd></mtr></mtable></mfenced></math>"
    )
    cells, findings = translated("«I=1001»", source)
    assert cells.ascii == ',i "7 ,"<#a #j,">      ,"<#j #a,">'
    assert cells.marks == ((17, "line", None),)
    assert set(range(17, 23)) <= cells.fixed
    assert [f.kind for f in findings.all()] == ["maths.rows"]


LONG = (
    "<math>"
    + "<mo>+</mo>".join(f"<mi>{char}</mi><mo>=</mo><mn>9</mn>" for char in "abc")
    + "</math>"
)


def test_a_line_end_inside_an_expression_loses_no_print() -> None:
    """The two sides of every empty cell that may be dropped stand for all of the print."""
    cells, _ = translated("so «a=9+b=9+c=9», then", LONG)
    ends = [at for at, cell in enumerate(cells.text) if cell == BLANK and at not in cells.fixed]
    assert len(ends) == 5
    for at in ends:
        text = cells.passage.text if cells.passage else ""
        low, high = cells.span(0, at), cells.span(at + 1, len(cells.text))
        assert low[0] == 0
        assert text[low[1] : high[0]].strip() == ""
        assert high == (high[0], len(text))


def test_quotation_marks_and_brackets_beside_an_expression() -> None:
    cells, _ = translated("he wrote \u201c«x2»\u201d [or «x2»]", SQUARE, SQUARE)
    assert cells.ascii == "he wrote 8x;9#b0 .<or x;9#b.>"


def test_an_expression_after_a_digit() -> None:
    """UEB 6.5.2: a letter that would be read as a digit has a grade 1 sign."""
    cells, _ = translated("2«ax»", "<math><mi>a</mi><mi>x</mi></math>")
    assert cells.ascii == "#b;ax"


def test_many_expressions_in_one_paragraph() -> None:
    text = " and ".join(["«x2»"] * 50)
    cells, findings = translated(text, *[SQUARE] * 50)
    assert cells.ascii == " & ".join(["x;9#b"] * 50)
    assert findings.all() == []


def test_tex_is_read_and_told() -> None:
    cells, findings = translated("so «xy» is", TEX)
    assert cells.ascii == "s ;;(x./y) is"
    assert [row.kind for row in findings.all()] == ["maths.from-tex"]


def test_a_person_chooses_the_code_of_one_formula() -> None:
    """UEB 14.6; a decision for this formula only."""
    text = passage("so «y=x2» is", EQUATION)
    run = text.marks[0].value
    assert isinstance(run, MathRun)
    chosen = replace(text, marks=(Mark(3, "math", replace(run, code="nemeth")),))
    cells = contracted(Settings()).translate(chosen, Findings())
    assert cells.ascii == "s _% y .k x^2 _: is"
    back = replace(text, marks=(Mark(3, "math", replace(run, code="ueb")),))
    cells = contracted(Settings(math="nemeth")).translate(back, Findings())
    assert cells.ascii == "s ;;;y \"7 x9#b;' is"


def test_a_person_gives_the_cells_of_one_formula() -> None:
    text = passage("so «y=x2» is", EQUATION)
    run = text.marks[0].value
    assert isinstance(run, MathRun)
    chosen = replace(text, marks=(Mark(3, "math", replace(run, cells="⠽⠀⠭")),))
    cells = contracted(Settings()).translate(chosen, Findings())
    assert cells.ascii == "s y x is"


def test_signs_without_published_cells_are_transcriber_defined_and_told() -> None:
    """UEB 3.26."""
    source = "<math><mo>⌈</mo><mi>x</mi><mo>⌉</mo></math>"
    cells, findings = translated("so «⌈x⌉» is", source)
    assert cells.ascii == "s @#?x^#? is"
    assert [row.kind for row in findings.all()] == ["maths.own-sign", "maths.own-sign"]
    assert ("nemeth", "⠸⠩") in translated("so «⌈x⌉» is", source, math="nemeth")[0].technical
    assert translated("so «⌈x⌉» is", source, math="nemeth")[1].all() == []
