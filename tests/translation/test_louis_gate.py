"""The door to liblouis: letters in, groups of cells out."""

from __future__ import annotations

import subprocess
import sys
from itertools import pairwise

import pytest

from convert.errors import PluginError
from convert.translation import louis_gate
from convert.translation.cells import ascii_of
from convert.translation.louis_gate import LouisGate

from .test_round_trip import word_list


@pytest.fixture(scope="module")
def gate() -> LouisGate:
    return LouisGate()


def _said(gate: LouisGate, text: str, left: bool = True, right: bool = True) -> str:
    groups = gate.contract(text, left, right)
    return " ".join(f"{text[a:b]}={ascii_of(cells)}" for a, b, cells in groups)


def test_version_is_told() -> None:
    assert louis_gate.version()[0].isdigit()


@pytest.mark.parametrize(
    "text, left, right, wanted",
    [
        ("can", True, True, "can=c"),  # UEB 10.1
        ("can", True, False, "c=c a=a n=n"),  # 2.6
        ("can", False, True, "c=c a=a n=n"),
        ("concur", True, True, "con=3 c=c u=u r=r"),  # 10.6.1
        ("concur", False, True, "c=c o=o n=n c=c u=u r=r"),
        ("con", True, False, "c=c o=o n=n"),
        ("ness", False, True, "n=n e=e s=s s=s"),  # 10.8.2
        ("don't", True, True, "d=d o=o n=n '=' t=t"),
        ("together", True, True, "together=tgr"),  # 10.9
    ],
)
def test_letters_in_their_context(
    gate: LouisGate, text: str, left: bool, right: bool, wanted: str
) -> None:
    assert _said(gate, text, left, right) == wanted


def test_groups_cover_the_letters_in_order(gate: LouisGate) -> None:
    for text in ("unquestionable", "o'clock", "friendliness", "x" * 700):
        groups = gate.contract(text)
        assert groups[0].start == 0
        assert groups[-1].end == len(text)
        assert all(a.end == b.start for a, b in pairwise(groups))


def test_an_answer_is_remembered(gate: LouisGate) -> None:
    assert gate.alone("remember") is gate.alone("remember")


def test_a_missing_library_names_the_packages(monkeypatch: pytest.MonkeyPatch) -> None:
    louis_gate._loaded.cache_clear()
    monkeypatch.setattr(louis_gate, "LIBRARY", "liblouis-that-is-not-there.so")
    with pytest.raises(PluginError, match=r"liblouis20 and liblouis-data"):
        LouisGate()
    louis_gate._loaded.cache_clear()


def test_a_missing_table_names_the_packages() -> None:
    with pytest.raises(PluginError, match=r"no-such-table.*liblouis20 and liblouis-data"):
        LouisGate("no-such-table.ctb")


def test_uncontracted_braille_needs_no_library() -> None:
    """The uncontracted code must work where liblouis is not installed."""
    code = (
        "import sys, ctypes\n"
        "def refuse(*_a, **_k): raise OSError('not here')\n"
        "ctypes.CDLL = refuse\n"
        "from convert.settings import Settings\n"
        "from convert.findings import Findings\n"
        "from convert.translation.passage import Passage\n"
        "from convert.translation.ueb import contracted, uncontracted\n"
        "from convert.errors import PluginError\n"
        "cells = uncontracted(Settings()).translate(Passage('The end'), Findings())\n"
        "assert cells.ascii == ',the end', cells.ascii\n"
        "try:\n"
        "    contracted(Settings())\n"
        "except PluginError as error:\n"
        "    print(error)\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert "liblouis20" in done.stdout


def test_words_looked_up_together_are_words_looked_up_alone() -> None:
    """UEB 2.6: nothing beside a word but space changes it."""
    words = [word for word in word_list() if word.isalpha() and word.isascii()]
    one, many = LouisGate(), LouisGate()
    many.learn(words)
    assert set(many._alone) == set(words)
    assert [word for word in words if many.alone(word) != one.alone(word)] == []
    many.learn([])


def test_letters_in_a_context_looked_up_together_are_those_looked_up_alone() -> None:
    """UEB 2.6: the marks that hold letters to what is beside them do so in a row of words too."""
    words = [word for word in word_list() if word.isalpha() and word.isascii()][::7]
    contexts = ((True, False), (False, True), (False, False))
    parts = [(word, left, right) for word in words for left, right in contexts]
    one, many = LouisGate(), LouisGate()
    many.learn([], parts)
    assert len(many._alone) == len(parts)
    assert [part for part in parts if many.contract(*part) != one.contract(*part)] == []
