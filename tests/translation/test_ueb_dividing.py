"""Words divided at a line end: the two parts as they stand on the two lines (UEB 6.10, 10.13).

``word | line end / next line, ...``: every division offered, in reading order.
"""

from __future__ import annotations

import builtins
import time
from typing import Any

import pytest

import convert
from convert.errors import PluginError
from convert.findings import Findings
from convert.settings import Settings
from convert.translation.cells import Cells, ascii_of
from convert.translation.passage import Passage
from convert.translation.ueb import contracted, uncontracted
from convert.translation.ueb.dividing import _ADDRESS, Divider
from convert.translation.ueb.syllables import finder
from convert.translation.ueb.translator import UebTranslator

from .ueb_case import FOLD, passage

SETTINGS = Settings(divide_words=True)
TOOLS: dict[int, UebTranslator] = {}

CASES = """
10.13.3  no wordsign for a part            | childlike    | *ild-/like
10.13.4  the sign for ing begins no line   | considering, | con-/sid]+1 3sid-/]+1 3sid]-/9g1
10.13.9  no sign for be before the hyphen  | beginning    | be-/g9n+ 2g9-/n+
10.13.9  nor for con, nor for dis          | disappointing | dis-/appo9t+ 4ap-/po9t+
10.13.10 no bb cc ff gg at the division    | unaffected   | un-/a6ect$ unaf-/fect$
10.13.11 no final-letter sign at a start   | national     | na-/tional
10.13.12 no division inside a shortform    | receiving    |
10.13.12 the shortform keeps its form      | undeceive    | un-/dcv
10.9.5   no part looks like a shortform    | absent       |
10.13.1  marks around it stay              | (beginning)  | "<be-/g9n+"> "<2g9-/n+">
8.4.3    a capitals word goes on           | HAPPINESS    | ,,hap-/pi;s
6.10.1   a number after its commas         | 1,000,000    | #a1"/jjj1jjj #a1jjj1"/jjj
6.10     an address after its marks        | www.example.org | www4"/example4org www4example4"/org
6.10     a file name                       | a\\letter.doc | a_*"/lett]4doc a_*lett]4"/doc
10.12.1  no acronym                        | UNESCO NATO  | ,,un-/esco
7.4.2    no hyphen after a solidus         | he/she/they  |
10.13.2  no second hyphen in a compound    | mother-in-law's |
"""


def tool(grade: int = 2) -> UebTranslator:
    if grade not in TOOLS:
        TOOLS[grade] = (contracted if grade == 2 else uncontracted)(SETTINGS)
    return TOOLS[grade]


def cells(given: Passage | str, grade: int = 2) -> Cells:
    given = Passage(given) if isinstance(given, str) else given
    tool(grade).prepare([given])
    return tool(grade).translate(given, Findings())


def offered(given: Passage | str, grade: int = 2) -> str:
    out = []
    for piece in cells(given, grade).pieces:
        for row in piece.divisions:
            line = piece.cells[: row.end] + row.before.cells
            after = row.after.cells + piece.cells[row.resume :]
            out.append(f"{ascii_of(line)}/{ascii_of(after)}")
    return " ".join(out).translate(FOLD)


@pytest.mark.parametrize("line", CASES.strip().splitlines())
def test_divisions(line: str) -> None:
    _name, given, wanted = (part.strip() for part in f"{line} ".split(" | ", 2))
    assert offered(given) == wanted


def test_uncontracted_words_are_divided_too() -> None:
    """UEB 10.13.1."""
    assert offered("national", 1) == "na-/tional"


def test_a_space_inside_a_number() -> None:
    """UEB 6.10.2: the continuation with space; the numeric space's dot 5 is not repeated."""
    assert offered("1\u00a0000\u00a0000") == '#a""/jjj"jjj #a"jjj""/jjj'


def test_a_typeform_goes_on_over_the_line_end() -> None:
    """UEB 9.3.2."""
    assert offered(passage("beginning", (0, 9, "italic"))) == ".1be-/g9n+ .12g9-/n+"


def test_words_of_another_language_are_left_whole() -> None:
    """UEB 13: their syllables are not those of English."""
    assert offered(passage("conversation", langs=((0, 12, "fr"),))) == ""


def test_without_the_setting_only_addresses_as_long_as_a_line_are_divided() -> None:
    """UEB 6.10: they must go over the line end somewhere."""
    assert not convert.translate("considering").pieces[0].divisions
    assert not convert.translate("1,000,000").pieces[0].divisions
    assert not convert.translate("disestablishmentarianism" * 2).pieces[0].divisions
    long = "https://www.example.org/library.of.the/school"
    assert convert.translate(long).pieces[0].divisions


def test_a_word_of_many_marks_takes_no_long_time() -> None:
    """Each mark is looked at a few times, not once for every other."""
    start = time.process_time()
    assert _ADDRESS.fullmatch("/a." * 30_000 + "/!") is None
    assert time.process_time() - start < 1


WORDS = "considering beginning national unaffected disappointing 1,000,000 conversation"


@pytest.mark.parametrize("word", WORDS.split())
def test_both_parts_stand_for_all_the_print(word: str) -> None:
    """No print is lost or doubled at a division, whatever cells it changes."""
    (piece,) = cells(word).pieces
    assert piece.divisions
    for row in piece.divisions:
        first = max((piece.origin[at] for at in range(row.end)), default=-1)
        assert first < row.before_at or row.before_at == 0 == row.end
        assert row.before_at + row.before.length == row.after_at
        assert row.after_at + row.after.length == min(piece.origin[row.resume :])


def test_without_the_package_a_person_is_told_how_to_get_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    real = builtins.__import__

    def refuse(name: str, *rest: Any, **more: Any) -> Any:
        if name == "pyphen":
            raise ImportError(name)
        return real(name, *rest, **more)

    finder.cache_clear()
    monkeypatch.setattr(builtins, "__import__", refuse)
    with pytest.raises(PluginError, match="pyphen") as error:
        contracted(SETTINGS)
    assert "cellset[division]" in error.value.step
    finder.cache_clear()


def test_the_planner_is_asked_only_for_places_between_syllables() -> None:
    """UEB 10.13.1."""
    asked: list[str] = []

    def syllables(word: str) -> tuple[int, ...]:
        asked.append(word)
        return ()

    piece = cells("wonderful").pieces[0]
    divider = Divider(tool()._letters, lambda word: pytest.fail("asked"), syllables)
    from convert.translation.ueb.word import Word

    assert divider.divided(piece, Word("Wonderful")) == piece
    assert asked == ["wonderful"]
