"""Promises kept over twenty thousand words, two thousand sentences and all pairs of a digit and
a letter that has its cell."""

from __future__ import annotations

from functools import cache
from itertools import pairwise, product

import pytest

from convert.document.nodes import BOLD, ITALIC, SCRIPT, SUB, SUP, TRANSCRIBER, UNDERLINE
from convert.findings import Findings
from convert.translation import signs
from convert.translation.back import read_back
from convert.translation.cells import Cells, cells_of
from convert.translation.passage import Passage

from .test_ueb_properties import _numbers
from .ueb_case import translator
from .word_lists import SENTENCES, WORDS, sentences, words

# The letters of "grt" after "dis" take no groupsign back (10.9.3, 10.9.4).
NOT_AGAIN = {"disgreatcoat"}


def _cells(text: str, grade: int = 2) -> Cells:
    tool = translator(grade)
    passage = Passage(text)
    tool.prepare([passage])
    return tool.translate(passage, Findings())


@cache
def _of_words(grade: int) -> dict[str, Cells]:
    chosen = words() if grade == 2 else words()[::5]  # what is spelled needs fewer
    return {word: _cells(word, grade) for word in chosen}


@pytest.mark.parametrize("grade", [1, 2])
def test_forward_back_forward_over_the_word_list(grade: int) -> None:
    """UEB 10: the same cells on 99.9 % of the words, and the rest are known."""
    made = _of_words(grade)
    assert grade == 1 or len(made) >= WORDS
    read = {word: read_back(cells.text, grade == 2).print for word, cells in made.items()}
    other = {word for word, print_ in read.items() if print_ != word}
    assert other == (NOT_AGAIN if grade == 2 else set())
    again = {word for word in other if _cells(read[word], grade).text != made[word].text}
    assert again == (NOT_AGAIN if grade == 2 else set())
    assert len(again) <= len(made) / 1000


@cache
def _signs() -> set[tuple[str, str]]:
    """Every letter and contraction with its cells, from the table of signs."""
    rows = signs.signs()
    out = {(row.print, row.cells) for row in rows if row.is_contraction or row.kind == "letter"}
    return out | {("'", signs.by_print()["'"].cells)}


@pytest.mark.parametrize("grade", [1, 2])
def test_origins_of_the_word_list_are_exact(grade: int) -> None:
    """Cells of one origin and the print up to the next are a sign of the table, every time."""
    for word, cells in _of_words(grade).items():
        rows = [
            (at, cell)
            for at, cell, sign in zip(cells.origin, cells.text, cells.sign, strict=True)
            if not sign
        ]
        starts = sorted({at for at, _ in rows})
        assert [at for at, _ in rows] == sorted(at for at, _ in rows)
        for low, high in pairwise([*starts, len(word)]):
            shown = "".join(cell for at, cell in rows if at == low)
            assert (word[low:high], shown) in _signs(), word
        first = {at: len(cells.sign) for at in starts}
        for number in range(len(cells.text) - 1, -1, -1):
            if not cells.sign[number]:
                first[cells.origin[number]] = number
        wanted = [first[max(start for start in starts if start <= at)] for at in range(len(word))]
        assert cells.reach(len(word)) == wanted, word


@pytest.mark.parametrize("grade", [1, 2])
def test_origin_and_reach_of_sentences_are_exact(grade: int) -> None:
    """Each word's cells stand for that word alone, in order, with one blank cell for a space."""
    assert len(sentences()) >= SENTENCES
    for text in sentences() if grade == 2 else sentences()[::5]:
        cells = _cells(text, grade)
        origin, sign, reach = cells.origin, cells.sign, cells.reach(len(text))
        assert len(origin) == len(sign) == len(cells.text)
        assert reach == sorted(reach)
        spaces = [at for at, char in enumerate(text) if char == " "]
        blanks = [at for at, cell in enumerate(cells.text) if cell == "\u2800"]
        assert [origin[at] for at in blanks] == spaces
        for (low, high), (first, last) in zip(
            pairwise([-1, *spaces, len(text)]),
            pairwise([-1, *blanks, len(cells.text)]),
            strict=True,
        ):
            inside = range(first + 1, last)
            assert all(low < origin[cell] < high for cell in inside)
            assert all(first < reach[at] < last for at in range(low + 1, high))
            assert cells.span(first + 1, last) == (low + 1, high)
            told = {origin[cell] for cell in inside if not sign[cell]}
            assert all(origin[reach[at]] <= at for at in range(low + 1, high) if at in told)


def test_forward_back_forward_over_sentences() -> None:
    """All but where straight marks inside marks read back as curly ones (UEB 7.6)."""
    texts = sentences()[::3]
    wrong = []
    for text in texts:
        cells = _cells(text).text
        if _cells(read_back(cells).print).text != cells:
            wrong.append(text)
    assert len(wrong) <= len(texts) / 500
    assert all('"' in text for text in wrong)


DIGITS, LETTERS = "0123456789", "abcdefghij"
SHAPES = ("{d}{l}", "{d}.{l}", "{d},{l}", "{d}-{l}", "{d}/{l}", "{d}{l}{l}", "{l}{d}{l}", "{d}’{l}")
# Where a typeform begins and ends in each word: the letter, the digit, the whole, neither.
SPOTS = ("none", "letter", "digit", "whole", "passage")
CASES = ("small", "capital", "capitals", "passage")
BITS = (ITALIC, BOLD, UNDERLINE, SCRIPT, TRANSCRIBER[0], TRANSCRIBER[4], SUP, SUB)


def _state(shape: str, case: str, spot: str, bits: int) -> tuple[Passage, list[str]]:
    """All pairs in one state, and the numbers a reader must find."""
    text, forms, wanted = "", [], []
    for digit, letter in product(DIGITS, LETTERS):
        shown = letter if case == "small" else letter.upper()
        word = shape.format(d=digit, l=shown)
        if case == "capitals":
            word = word[:-1] + word[-1] * 2 + "K"
        start = len(text)
        at = {"letter": len(word) - 1, "digit": word.index(digit), "whole": 0}.get(spot, -1)
        end = {"letter": len(word), "digit": word.index(digit) + 1}.get(spot, len(word))
        if at >= 0:
            forms.append((start + at, start + end, bits))
        wanted.append(digit)
        text += word + " "
    if case == "passage":
        text = f"LOUD WORDS {text}AND MORE "
        forms = [(low + 11, high + 11, bits) for low, high, bits in forms]
    text = text.strip()
    return Passage(text, ((0, len(text), bits),) if spot == "passage" else tuple(forms)), wanted


@pytest.mark.parametrize("grade", [1, 2])
@pytest.mark.parametrize("case", CASES)
@pytest.mark.parametrize("shape", SHAPES)
def test_no_digit_is_read_as_a_letter_or_a_letter_as_a_digit(
    shape: str, case: str, grade: int
) -> None:
    """UEB 5.2, 6.5: all pairs of a digit and a letter, in every state of capitals (8), of
    typeforms (9), raised or lowered (3.24), and of passages; read by the rules of numeric mode
    alone."""
    for spot, bits in product(SPOTS, BITS):
        passage, wanted = _state(shape, case, spot, bits)
        cells = translator(grade).translate(passage, Findings())
        assert _numbers(cells.text) == wanted, spot
    passage, _ = _state(shape, case, "none", 0)
    back = read_back(translator(grade).translate(passage, Findings()).text, grade == 2)
    assert back.print == passage.text.replace("’", "'")


@pytest.mark.parametrize("grade", [1, 2])
def test_letters_above_the_line_are_no_digits(grade: int) -> None:
    """UEB 3.24, 6.5: a letter after a number, raised."""
    for digit, letter in product(DIGITS, LETTERS):
        passage = Passage(f"x {digit}{letter}", ((3, 4, SUP),))
        cells = translator(grade).translate(passage, Findings())
        assert _numbers(cells.text) == [digit]
        assert cells.text.endswith(cells_of(letter))
