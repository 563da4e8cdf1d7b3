"""Promises that hold for any print."""

from __future__ import annotations

import re
import unicodedata

from hypothesis import given, settings
from hypothesis import strategies as st

from convert.findings import Findings
from convert.settings import Settings
from convert.translation.cells import BLANK, Cells, cells_of
from convert.translation.passage import Passage
from convert.translation.ueb import contracted, quick, uncontracted
from convert.translation.ueb.chars import invisible
from convert.translation.ueb.planner import plan
from convert.translation.ueb.word import Word

from .ueb_case import NAMES, translator

QUIET = settings(derandomize=True, deadline=None, max_examples=250)
_NAMES = ("italic", "bold", "underline", "script", "transcriber-1", "transcriber-5", "sup", "sub")
FORMS = [0, *(NAMES[name] for name in (*_NAMES, "small-caps"))]

_WORDS = """
the The THE in be Enough his was were can Child 's o'clock don’t 4th 3d ABC456G x B-team p.7 1½
“so” ‘no’ "hm" (par) re-connect and/or word—word s-s-s MHz McDONALD cd braille ? … H₂O x² €5 10%
a:b .net @ & * — - é Æ ß π 1914–18 http://www.example.com/a1 1 234 567
"""
_words = st.sampled_from(_WORDS.split())
_pieces = st.one_of(
    _words,
    st.text(st.sampled_from("abcdefgijorstxyABCJZ0123456789.,-'’“”‘\"():;!?/ "), max_size=8),
    st.text(max_size=4),
)
_texts = st.lists(_pieces, max_size=8).map(" ".join)


@st.composite
def _passages(draw: st.DrawFn) -> Passage:
    text = draw(_texts)
    cuts = sorted(draw(st.lists(st.integers(0, len(text)), max_size=6)))
    forms = []
    for start, end in zip(cuts[::2], cuts[1::2], strict=False):
        bits = draw(st.sampled_from(FORMS))
        if bits and start < end:
            forms.append((start, end, bits))
    lang = ((cuts[0], cuts[-1], "fr"),) if len(cuts) > 4 and cuts[0] < cuts[-1] else ()
    return Passage(text, tuple(forms), lang)


def _translate(passage: Passage, grade: int) -> Cells:
    tool = translator(grade)
    tool.prepare([passage])
    return tool.translate(passage, Findings())


@QUIET
@given(_passages(), st.sampled_from([1, 2]))
def test_cells_are_six_dot_cells(passage: Passage, grade: int) -> None:
    cells = _translate(passage, grade)
    assert all(0x2800 <= ord(cell) <= 0x283F for cell in cells.text)
    assert BLANK * 2 not in cells.text
    assert cells.text == cells.text.strip(BLANK)


@QUIET
@given(_passages(), st.sampled_from([1, 2]))
def test_origins_cover_the_print(passage: Passage, grade: int) -> None:
    cells = _translate(passage, grade)
    length = len(passage.text)
    origin, sign = cells.origin, cells.sign
    assert len(origin) == len(sign) == len(cells.text)
    assert all(0 <= at < max(1, length) for at in origin)
    reach = cells.reach(length)
    assert reach == sorted(reach)
    covered = set()
    for base, piece in zip(cells.prints, cells.pieces, strict=True):
        assert piece.cells
        assert len(piece.cells) == len(piece.origin) == len(piece.sign)
        covered.update(range(base, base + piece.length))
    for at, char in enumerate(passage.text):
        assert at in covered or char.isspace() or invisible(char) or unicodedata.combining(char)


@QUIET
@given(_passages(), st.sampled_from([1, 2]))
def test_a_remembered_answer_is_the_first_answer(passage: Passage, grade: int) -> None:
    make = uncontracted if grade == 1 else contracted
    tool = make(Settings())
    tool.prepare([passage])
    fresh = tool.translate(passage, Findings())
    warm = _translate(passage, grade)
    again = _translate(passage, grade)
    assert fresh.text == warm.text == again.text
    assert fresh.origin == warm.origin == again.origin
    assert [piece.breaks for piece in fresh.pieces] == [piece.breaks for piece in again.pieces]


@QUIET
@given(_texts, st.sampled_from([1, 2]))
def test_the_short_way_is_the_planners_way(text: str, grade: int) -> None:
    tool = translator(grade)
    short = quick.Quick(tool._letters)
    for token in text.split():
        for role in ("'", "o", "c"):
            roles = role * sum(char in "“”‘’\"'" for char in token)
            found = short.piece(token, roles)
            if found is not None:
                planned = plan(Word(token, roles), tool._letters)
                assert (planned.piece, planned.notes) == (found, ())


@QUIET
@given(_passages(), st.sampled_from([1, 2]))
def test_the_plain_way_is_the_whole_way(passage: Passage, grade: int) -> None:
    """Paragraphs taken the plain way have the cells and findings of the careful way."""
    tool = translator(grade)
    tool.prepare([passage])
    plainly, carefully = Findings(), Findings()
    first = tool.translate(passage, plainly)
    second = tool._look(passage, bool(tool._single), carefully)
    assert (first.text, first.origin, first.sign) == (second.text, second.origin, second.sign)
    assert [piece.breaks for piece in first.pieces] == [piece.breaks for piece in second.pieces]
    found = [sorted(map(str, sink.all())) for sink in (plainly, carefully)]
    assert found[0] == found[1]


_DIGIT_CELLS = {cells_of("abcdefghij"[at]): "1234567890"[at] for at in range(10)}
_NUMERIC, _FRACTION = cells_of("#"), cells_of("/")
_IN_NUMBER = {cells_of("1"): ",", cells_of("4"): "."}
# Indicators of transcriber-defined typeforms (UEB 9.5): one sign each, no number (2.1).
_DEFINED = re.compile("[{}]{}[{}]".format(*map(cells_of, ('@^_".', "#", "1237'"))))


def _numbers(cells: str) -> list[str]:
    """What a reader takes for digits: numeric mode lasts as UEB 6.2 and 6.3 say."""
    out: list[str] = []
    mode = False
    for cell in _DEFINED.sub(" ", cells):
        if cell == _NUMERIC:
            mode = True
            out.append("")
        elif mode and cell in _DIGIT_CELLS:
            out[-1] += _DIGIT_CELLS[cell]
        elif not (mode and (cell in _IN_NUMBER or cell == _FRACTION)):
            mode = False
    return [number for number in out if number]


@QUIET
@given(
    st.lists(
        st.tuples(
            st.from_regex(r"[0-9]{1,3}([.,][0-9]{1,2})?", fullmatch=True),
            st.sampled_from(["", ".", ","]),
            st.text(st.sampled_from("abcdefghijkABCDJKé"), max_size=3),
            st.sampled_from(FORMS[:-1]),
        ),
        min_size=1,
        max_size=4,
    ),
    st.booleans(),
    st.sampled_from([1, 2]),
)
def test_letters_after_digits_are_never_digits(
    parts: list[tuple[str, str, str, int]], shout: bool, grade: int
) -> None:
    """UEB 6.5.2, in any state of capitals and typeforms."""
    text, forms = "", []
    for number, mark, tail, bits in parts:
        word = number + mark + tail
        if bits:
            forms.append((len(text) + len(number), len(text) + len(word), bits))
        text += word + " "
    if shout:
        text = f"LOUD WORDS {text.upper()}LOUD WORDS"
        forms = [(a + 11, b + 11, bits) for a, b, bits in forms]
    spans = tuple((a, b, bits) for a, b, bits in forms if a < b)
    cells = _translate(Passage(text.strip(), spans), grade)
    wanted = [number.replace(".", "").replace(",", "") for number, *_ in parts]
    assert _numbers(cells.text) == wanted
