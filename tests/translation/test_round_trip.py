"""Print to cells, back to print, and to cells again: over ten thousand words of real books."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from convert.findings import Findings
from convert.pipeline import make_translator, settings_from
from convert.translation.back import read_back
from convert.translation.passage import Passage

WORDS = Path(__file__).parent / "data" / "words.txt"
CODES = {"ueb": True, "ueb-uncontracted": False}


def word_list() -> list[str]:
    lines = WORDS.read_text("utf-8").splitlines()
    return [word for line in lines if not line.startswith("#") for word in line.split()]


def forward(code: str) -> Callable[[str], str]:
    translator = make_translator(settings_from(code=code))

    def cells(print_: str) -> str:
        passage = Passage(print_)
        translator.prepare([passage])
        return str(translator.translate(passage, Findings()))

    return cells


@pytest.mark.parametrize("code", CODES)
def test_every_word_reads_back_as_itself(code: str) -> None:
    """UEB 10: no word of the list has cells that the rules of position read as another."""
    cells, words = forward(code), word_list()
    assert len(words) > 10_000
    wrong = {
        word: read for word in words if (read := read_back(cells(word), CODES[code]).print) != word
    }
    assert wrong == {}


@pytest.mark.parametrize("change", [str.capitalize, str.upper])
def test_capital_words_read_back(change: Callable[[str], str]) -> None:
    """UEB 8: capital letter and capitals word indicators."""
    cells = forward("ueb")
    words = [change(word) for word in word_list()[::4]]
    assert [word for word in words if read_back(cells(word)).print != word] == []


SENTENCES = [
    "“Were you in?” she asked; “His friend was—he said—quite still.”",
    "It's 7:30 on 12/3/1904, i.e. 3½ hours (or 4.5) before the 2nd of May.",
    "The U.S.A. and NATO met at No. 16b, B-17 Street; see § 4, ¶ 2 & fig. 3c.",
    "Café, naïve, Über, Ångström and Æsop; αβγ; Señor Muñoz paid £5 or €7.20.",
    "He spelled it c-o-l-o-u-r, not c-o-l-o-r; 50% of e-mails go to a_b@example.org.",
    "STOP! DO NOT ENTER HERE without McDonald's OK'd permit [see note].",
    "H₂O, x² and 10⁻³; 3 × 4 = 12; 5 < 6; he ran 4–5 miles….",
]


@pytest.mark.parametrize("print_", SENTENCES)
def test_forward_back_forward_gives_the_same_cells(print_: str) -> None:
    cells = forward("ueb")
    first = cells(print_)
    assert cells(read_back(first).print) == first
