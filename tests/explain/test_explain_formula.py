"""``cellset explain`` inside a formula: the sign, its print, its element, its section."""

from __future__ import annotations

from pathlib import Path

import pytest

import convert
from convert.explain.formula import sign_at
from convert.maths.render import render
from tests.explain.test_explain import told
from tests.maths.case import ascii_cells, frac, math, mi, mn, mo, sup
from tests.readers.make import epub
from tests.readers.make_docx import docx, p, r

FORMULA = math(mi("y") + mo("=") + frac(sup(mi("x"), mn(2)) + mo("+") + mn(3), mi("B")))
OMML = (
    '<m:oMath xmlns:m="http://schemas.openxmlformats.org/officeDocument/2006/math">'
    "<m:f><m:num><m:r><m:t>a</m:t></m:r></m:num><m:den><m:r><m:t>b</m:t></m:r></m:den></m:f>"
    "</m:oMath>"
)


def names(source: str, code: str) -> list[tuple[str, str]]:
    """The signs of a formula, in their order: cells in ASCII braille, and the name."""
    made = render(source, code, switch=True)
    out: list[tuple[str, str]] = []
    at = 0
    while at < len(made.cells):
        sign = sign_at(made, at)
        end = at + 1 if sign is None else sign.end
        out.append((ascii_cells(made.cells[at:end]), "" if sign is None else sign.name))
        at = end
    return out


def test_every_sign_of_a_formula_in_ueb() -> None:
    """GTM 3, 6; UEB 3.24, 5.4, 6.1, 8.3."""
    assert names(FORMULA, "ueb") == [
        (";;;", "grade 1 passage indicator"),
        ("y", "letter y"),
        (" ", "space of the formula"),
        ('"7', "equals"),
        (" ", "space of the formula"),
        ("(", "opening fraction indicator"),
        ("x", "letter x"),
        ("9", "superscript indicator"),
        ("#", "numeric indicator"),
        ("b", "digit 2"),
        ('"6', "plus"),
        ("#", "numeric indicator"),
        ("c", "digit 3"),
        ("./", "fraction line indicator"),
        (",", "capital letter indicator"),
        ("b", "letter b"),
        (")", "closing fraction indicator"),
        (";'", "grade 1 terminator indicator"),
    ]


def test_every_sign_of_a_formula_in_the_nemeth_code() -> None:
    """Digest 1, 3, 9; 61-70; 71-84."""
    assert names(FORMULA, "nemeth") == [
        ("_%", "opening Nemeth indicator"),
        (" ", "space of the formula"),
        ("y", "letter y"),
        (" ", "space of the formula"),
        (".k", "equals sign"),
        (" ", "space of the formula"),
        ("?", "opening fraction indicator"),
        ("x", "letter x"),
        ("^", "superscript indicator"),
        ("2", "digit 2"),
        ('"', "base line indicator or multipurpose indicator"),
        ("+", "plus sign"),
        ("3", "digit 3"),
        ("/", "fraction line indicator"),
        (",", "capital indicator"),
        ("b", "letter b"),
        ("#", "closing fraction indicator"),
        (" ", "space of the formula"),
        ("_:", "Nemeth terminator indicator"),
    ]


@pytest.fixture(scope="module", params=["ueb", "nemeth"])
def edition(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("formula")
    made = convert.convert(epub(folder, f"<p>So {FORMULA} now.</p>"), math=request.param)
    return made.write(folder / request.param, ["trace", "report"])


def test_a_cell_of_a_formula_tells_sign_element_and_section(edition: Path) -> None:
    if edition.parent.name == "ueb" or edition.name == "ueb":
        plus, at, rule = "⠐⠖⠼⠉", 1, "Rule: UEB 3."
        size = "It is cell 2 of a sign of 2: dot 5, dots 2-3-5."
    else:
        plus, at, rule = "⠐⠬⠒", 1, "Rule: the Nemeth Code"
        size = ""
    words = told(edition, plus, at=at)
    assert "the print “+” in “" in words
    assert "ing sign" not in words
    assert "It is part of a mathematical expression in" in words
    assert "Sign: plus" in words
    assert ", for “+”." in words
    assert size in words
    assert "Element of the MathML: mo, at /3/1/2, with the print “+”." in words
    assert rule in words


def test_a_cell_of_a_word_equation_tells_its_element(tmp_path: Path) -> None:
    made = convert.convert(docx(tmp_path, p(r("So ") + OMML + r(" now."))))
    words = told(made.write(tmp_path / "out", ["trace", "report"]), "⠷⠁⠨⠌⠃⠾", at=4)
    assert "Element of the Word equation: m:r, at /1/2/1, with the print “b”." in words
    assert "Sign: letter b, for “b”." in words
