"""A chapter of 93 different formulas of published documents, in both codes.

``published_formulas.txt`` has one formula a line: the MathML of a physiology textbook (in its
EPUB and, converted, its Word form) and of test documents of readers of EPUB and Word.
"""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from convert.explain.formula import sign_at
from convert.maths.cells import BLANK
from convert.maths.render import render
from tests.maths.test_books import converted, told

FORMULAS = (Path(__file__).parent / "published_formulas.txt").read_text("utf-8").splitlines()
# White lenticular brackets, arrows and relations without cells; brackets round a fraction
# without a line; a matrix.
TOLD = {
    "ueb": {"maths.part-not-transcribed": 11, "maths.rows": 1},
    "nemeth": {"maths.form-in-doubt": 1, "maths.part-not-transcribed": 5, "maths.rows": 1},
}


@pytest.mark.parametrize("code", ["ueb", "nemeth"])
def test_a_chapter_loses_nothing_and_tells_what_it_could_not_do(tmp_path: Path, code: str) -> None:
    assert len(set(FORMULAS)) == len(FORMULAS) == 93
    body = "".join(f"<p>Formula {at}: {formula}</p>" for at, formula in enumerate(FORMULAS, 1))
    edition = converted(tmp_path, f"<h1>Formulas</h1>{body}", code)
    assert (edition.totals.lost, edition.totals.doubled) == (0, 0)
    assert Counter(told(edition)) == TOLD[code]
    assert len(edition.book.volumes) == 1


@pytest.mark.parametrize("code", ["ueb", "nemeth"])
def test_every_cell_of_its_formulas_has_a_name(code: str) -> None:
    """But cells of words: contractions, and the names of signs without cells."""
    for formula in FORMULAS:
        made = render(formula, code, switch=True)
        for at, cell in enumerate(made.cells):
            leaf = made.leaves[made.origin[at]].text if made.origin[at] >= 0 else ""
            word = " " in leaf or any(sign in leaf for sign in "〖〗↻⋩")
            assert cell == BLANK or word or sign_at(made, at) is not None, (formula, at)
