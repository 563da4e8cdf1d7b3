"""Whole small books: formulas on their pages, in both codes, with what the front pages say."""

from __future__ import annotations

from pathlib import Path

import pytest

from convert.edition import Edition
from convert.pipeline import convert_source, settings_from
from tests.decisions.test_verbs import converted as decided
from tests.maths.case import ascii_cells, frac, math, mi, mn, mo, sup
from tests.maths.test_spatial import SUM
from tests.readers.make import epub

TABLE = (
    "<mtable><mtr><mtd><mn>1</mn></mtd><mtd><mn>0</mn></mtd></mtr>"
    "<mtr><mtd><mn>0</mn></mtd><mtd><mn>1</mn></mtd></mtr></mtable>"
)
LONG = mi("y") + mo("=") + mo("+").join(sup(mi("x"), mn(power)) for power in range(2, 14))


def shown(inside: str) -> str:
    return math(inside).replace("<math", '<math display="block"')


def converted(folder: Path, body: str, code: str = "ueb") -> Edition:
    return convert_source(epub(folder, body), settings_from(math=code))


def pages(edition: Edition) -> list[list[str]]:
    """The lines of each page, without blank ones at the end."""
    out: list[list[str]] = []
    for volume in edition.book.volumes:
        for page in volume.pages:
            rows = [ascii_cells(row.text).rstrip() if row is not None else "" for row in page.rows]
            out.append(rows)
    return out


def text(edition: Edition) -> str:
    return "\n".join(row for page in pages(edition) for row in page)


def told(edition: Edition) -> list[str]:
    """What the findings about formulas are, one entry for each place."""
    return [f.kind for f in edition.findings if f.kind.startswith("maths.") for _ in f.places]


BODY = f"<h1>Sums</h1><p>Add these.</p>{shown(SUM)}<p>And {math(frac(mi('x'), mi('y')))} too.</p>"


def test_a_sum_stands_between_blank_lines_at_the_margin_of_displayed_maths(
    tmp_path: Path,
) -> None:
    edition = converted(tmp_path, BODY)
    assert '\n\n    # def\n  "6# ghi\n  "333333\n    #abde\n\n' in text(edition)
    assert edition.totals.lost == 0
    assert told(edition) == ["maths.rows"]


def test_a_sum_in_the_nemeth_code(tmp_path: Path) -> None:
    edition = converted(tmp_path, BODY, "nemeth")
    assert "\n\n  _%\n     456\n   + 789\n  3333333\n    1245\n  _:\n\n" in text(edition)
    assert "_% ?x/y# _:" in text(edition)
    assert edition.totals.lost == 0


def test_the_symbols_page_lists_the_technical_signs_of_the_volume(tmp_path: Path) -> None:
    """BF 2.5; UEB line-mode and grouping indicators, signs of mathematics."""
    found = " ".join(text(converted(tmp_path, BODY)).split())
    assert '.="3 "<#e1 #be"> ,horizontal l9e' in found
    assert '.=./ "<#df1 #cd"> ,frac;n l9e 9dicator' in found
    assert "sup]script" not in found


def test_the_front_pages_say_that_the_nemeth_code_is_used(tmp_path: Path) -> None:
    """BANA guidance for Nemeth within UEB: both indicators on the page of special symbols."""
    found = " ".join(text(converted(tmp_path, BODY, "nemeth")).split())
    assert '.=_% "<#def1 #adf"> ,op5+ ,neme? ,code 9dicator' in found
    assert '.=_: "<#def1 #aef"> ,neme? ,code t]m9ator' in found
    assert ",? $i;n is 9 ,unifi$ ,5gli% ,brl1 3tract$1 ) ! ,neme? ,code = ma!matics4" in found


@pytest.mark.parametrize("code", ["ueb", "nemeth"])
def test_a_matrix_is_never_divided_between_pages(tmp_path: Path, code: str) -> None:
    grid = shown(mo("(") + TABLE + mo(")"))
    edition = converted(tmp_path, "<p>Look.</p>" + "<p>So:</p>".join([grid] * 12), code)
    first, last = {"ueb": (',"<#a #j,">', ',"<#j #a,">'), "nemeth": (",(1 0,)", ",(0 1,)")}[code]
    rows = [[row.strip() for row in page] for page in pages(edition)]
    assert sum(page.count(first) for page in rows) == 12
    assert all(page.count(first) == page.count(last) for page in rows)


def test_a_long_formula_goes_on_two_cells_in(tmp_path: Path) -> None:
    edition = converted(tmp_path, f"<p>So:</p>{shown(LONG)}<p>Then.</p>", "nemeth")
    rows = [row for row in text(edition).splitlines() if "x^" in row]
    assert rows[0].startswith("  _% y .k x^2")
    assert all(row.startswith("    +x^") for row in rows[1:])
    assert all(len(row) <= 40 for row in rows)


def test_tex_in_the_text_and_in_pictures_is_read_and_told(tmp_path: Path) -> None:
    body = r"<p>If \(\frac{x}{y}\) is <img src='a.png' alt='\sqrt{x}'/> then.</p>"
    edition = converted(tmp_path, body)
    assert ",if ;;(x./y) is ;;%x+ !n4" in text(edition)
    assert told(edition) == ["maths.from-tex", "maths.from-tex"]
    assert edition.totals.lost == 0


def test_a_picture_of_a_formula_stops_with_its_words_and_print_page(tmp_path: Path) -> None:
    body = (
        "<span epub:type='pagebreak' id='p7' title='7'/><p>See "
        "<img src='a.png' class='equation' alt='x squared'/>.</p>"
    )
    edition = converted(tmp_path, body)
    (found,) = [f for f in edition.findings if f.kind == "maths.picture"]
    assert found.severity == "stop"
    assert "x squared" in found.message
    assert edition.document.print_pages
    assert found.spans[0][0] > 0


FORMULA = f"<p>If {math(mi('y') + mo('=') + sup(mi('x'), mn(2)))} is.</p>"
DECISIONS = [
    (FORMULA, "y=x2", 'do = "math-code"\ncode = "nemeth"', ",if _% y .k x^2 _: is4"),
    (FORMULA, "y=x2", 'do = "math-text"\ntext = "x^n"', ",if x9n is4"),
    (FORMULA, "y=x2", 'do = "math-text"\ntext = "\\\\frac{x}{y}"', ",if (x./y) is4"),
    (FORMULA, "y=x2", 'do = "read"\nas = "cells"\ncells = "13456 0 1346"',
     ",if y x is4"),
    ("<p>If x2 + 3 is.</p>", "x2 + 3", 'do = "math-text"\ntext = "x^2+3"', ',if x9#b"6#c is4'),
    ("<p>The H<sub>2</sub>O is.</p>", "H2O", 'do = "math-text"\ntext = "H_2O"', ",the ,h5#b,o is4"),
    ("<p>The <img src='a.png' class='math' alt='x squared'/> is.</p>", "x squared",
     'do = "math-text"\ntext = "x^2"', ",the x9#b is4"),
]  # fmt: skip


@pytest.mark.parametrize("body, expect, stanza, line", DECISIONS)
def test_a_decision_about_a_formula_is_obeyed(
    tmp_path: Path, body: str, expect: str, stanza: str, line: str
) -> None:
    """Uncontracted braille; the code, another reading, exact cells, plain print as a formula."""
    edition = decided(tmp_path, body, f'[[decision]]\nexpect = "{expect}"\n{stanza}\n')
    assert line in text(edition)
    assert edition.decisions[0].state == "applied"
    assert edition.totals.lost == 0


def test_a_formula_given_for_a_picture_settles_its_finding(tmp_path: Path) -> None:
    body, expect, stanza, _ = DECISIONS[-1]
    edition = decided(tmp_path, body, f'[[decision]]\nexpect = "{expect}"\n{stanza}\n')
    (found,) = [f for f in edition.findings if f.kind == "maths.picture"]
    assert found.settled


def test_a_formula_given_for_typed_maths_settles_that_place_alone(tmp_path: Path) -> None:
    """Of two places in one finding the one decided is settled, and the other stays open."""
    body = "<p>If x2 + 3 is.</p><p>Or y2 + 5 is.</p>"
    stanza = '[[decision]]\nexpect = "x2 + 3"\ndo = "math-text"\ntext = "x^2+3"\n'
    found = [f for f in decided(tmp_path, body, stanza).findings if f.kind == "suspect.typed-maths"]
    assert [(bool(f.settled), len(f.spans)) for f in found] == [(False, 1), (True, 1)]


BINOMIAL = f'<mo>(</mo><mfrac linethickness="0">{mi("n")}{mi("k")}</mfrac><mo>)</mo>'
RIGHT = f'<mlongdiv longdivstyle="rightright">{mn(3)}{mn(41)}{mn(123)}</mlongdiv>'
LEFT = RIGHT.replace("rightright", "lefttop")


@pytest.mark.parametrize(
    "formula, code, kinds",
    [
        (math(BINOMIAL), "nemeth", ["maths.form-in-doubt"]),
        (math(BINOMIAL), "ueb", ["maths.part-not-transcribed"]),
        (shown(RIGHT), "ueb", ["maths.form-in-doubt", "maths.rows"]),
        (shown(RIGHT), "nemeth", ["maths.form-in-doubt", "maths.rows"]),
        (shown(LEFT), "ueb", ["maths.rows"]),
        (shown(LEFT), "nemeth", ["maths.rows"]),
    ],
    ids=["binomial", "binomial in UEB", "division", "division in Nemeth", "as MathML's default",
         "as MathML's default in Nemeth"],
)  # fmt: skip
def test_a_form_no_published_text_shows_is_told(
    tmp_path: Path, formula: str, code: str, kinds: list[str]
) -> None:
    """Brackets round a fraction without a line; a division print sets otherwise (MathML 3,
    3.6.2.1: the default of longdivstyle is lefttop)."""
    edition = converted(tmp_path, f"<p>So:</p>{formula}<p>Then.</p>", code)
    assert sorted(told(edition)) == kinds
