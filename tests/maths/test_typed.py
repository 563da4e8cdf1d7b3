"""Expressions typed as text: TeX through its library, linear expressions through our own reader."""

from __future__ import annotations

import sys

import pytest

from convert.errors import SourceError
from convert.maths.render import given, has_rows, render
from convert.maths.typed import is_tex, to_mathml
from tests.maths.case import ascii_cells, math


def ueb(text: str) -> str:
    made = render(text, "ueb")
    assert made.problems == ()
    return ascii_cells(made.cells)


@pytest.mark.parametrize(
    "text, cells",
    [
        ("x^2 + 3", 'x;9#b"6#c'),
        ("x² + 3", 'x;9#b"6#c'),
        ("H_2O", ",h;5#b,o"),
        ("Na_2CO_3", ",na;5#b,c,o5#c"),
        ("{a+b}/{c}", ';;(a"6b./c)'),
        ("(a+b)/c", '"<a"6b">_/c'),
        ("sqrt(x^2+y^2)", ';;%x9#b"6y9#b+'),
        ("x <= 3", ";x _@< #c"),
        ("a_{n+1}", ';;a5<n"6#a>'),
        ("x_1^2", "x;5#a9#b"),
        ("sin x", "sin ;x"),
        ("x^-1", ';;x9<"-#a>'),
    ],
)
def test_linear_expressions(text: str, cells: str) -> None:
    assert ueb(text) == cells


@pytest.mark.parametrize(
    "text, cells",
    [
        (r"\frac{x}{y}", ";;(x./y)"),
        (r"$x^2$", "x;9#b"),
        (r"\(\sqrt[3]{8}\)", ";;%9#c#h+"),
        (r"\pm 1{,}024{,}000", "_6#a1jbd1jjj"),
        (r"a\equiv b\pmod{n}", ';;;a _= b "<mod n">;\''),
        (r"\left\lfloor x \right\rfloor", None),
    ],
)
def test_tex(text: str, cells: str | None) -> None:
    made = render(text, "ueb")
    assert made.via == "tex"
    if cells is not None:
        assert ascii_cells(made.cells) == cells


@pytest.mark.parametrize(
    "source, cells",
    [
        (r'<math alttext="\frac{x}{y}"/>', ";;(x./y)"),
        (
            "<math><semantics><mrow/>"
            '<annotation encoding="application/x-tex">\\frac{x}{y}</annotation></semantics></math>',
            ";;(x./y)",
        ),
    ],
)
def test_tex_beside_mathml_is_read_where_there_is_no_mathml(source: str, cells: str) -> None:
    made = render(source, "ueb")
    assert (made.via, ascii_cells(made.cells)) == ("tex", cells)


def test_tex_beside_mathml_is_not_read_where_there_is_mathml() -> None:
    made = render(math("<mi>z</mi>").replace("<math", r'<math alttext="\frac{x}{y}"'), "ueb")
    assert (made.via, ascii_cells(made.cells)) == ("mathml", ";z")


@pytest.mark.parametrize(
    "text, why",
    [
        (r"\unheard{x}", "command"),
        (r"\frac{", "could not be read"),
        ("{" * 100 + r"\pi" + "}" * 100, "nested"),
        ("(" * 100 + "x" + ")" * 100, "nested"),
        ("(x", "no )"),
        ("x}", "closes nothing"),
        ("x^", "ends"),
        ("x" * 30_000, "too long"),
    ],
)
def test_what_cannot_be_read_is_said(text: str, why: str) -> None:
    with pytest.raises(SourceError, match=why.replace("(", r"\(").replace(")", r"\)")):
        to_mathml(text)
    assert render(text, "ueb").cells == ""


def test_without_its_library_tex_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "latex2mathml.converter", None)
    with pytest.raises(SourceError, match=r"pip install cellset\[math\]"):
        to_mathml(r"\frac{1}{2}")


def test_paths_of_files_are_not_tex() -> None:
    assert not is_tex(r"C:\temp\new.png")
    assert not is_tex(r"\\server\share\x")
    assert is_tex(r"\alpha")


def test_given_cells_are_taken_as_they_are() -> None:
    made = given("⠭⠀⠽", "x y", "nemeth")
    assert (made.cells, made.breaks, made.code) == ("⠭⠀⠽", (1,), "nemeth")


def test_rows_are_known_before_an_expression_is_read() -> None:
    assert has_rows("<m:mtable>")
    assert has_rows(r"\begin{cases}")
    assert not has_rows("<math><mi>m</mi></math>")
