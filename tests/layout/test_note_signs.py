"""Transcriber's notes of several paragraphs have their signs once (section 3 of the digest)."""

from __future__ import annotations

from pathlib import Path

import pytest

from convert.check.edition import book_of
from convert.check.inspect import inspect_book
from tests.decisions.case import converted, pages

DTBOOK = "http://www.daisy.org/z3986/2005/dtbook/"
FIRST = "The first of all the paragraphs of this note."


def drawn(folder: Path, body: str) -> list[str]:
    """The lines of the pages; the edition is whole and every check holds."""
    edition = converted(folder, body)
    assert (edition.totals.lost, edition.totals.doubled) == (0, 0)
    assert not inspect_book(book_of(edition)).failures
    return [line for line in pages(edition).splitlines() if line and "the ,,end" not in line]


def note(*words: str) -> str:
    inner = "".join(f"<p>{word}</p>" for word in words)
    return f"<p>One.</p><prodnote xmlns='{DTBOOK}'>{inner}</prodnote><p>Two.</p>"


def test_the_signs_stand_at_the_start_and_at_the_end(tmp_path: Path) -> None:
    """BF 3.1: each paragraph 7-5."""
    assert drawn(tmp_path, note(FIRST, "The second.", "A third (it is).")) == [
        "  ,one4",
        "      @.<,the first of all the",
        "    paragraphs of this note4",
        "      ,the second4",
        '      ,a third "<it is">4@.>',
        "  ,two4",
    ]


def test_two_notes_have_signs_each(tmp_path: Path) -> None:
    body = (
        note(FIRST, "End.").replace("<p>Two.</p>", "") + note(FIRST, "End.")[len("<p>One.</p>") :]
    )
    lines = drawn(tmp_path, body)
    assert sum("@.<" in line for line in lines) == 2
    assert sum("@.>" in line for line in lines) == 2


@pytest.mark.parametrize("words", ["temperature", "temperature of the river at noon"])
def test_the_key_of_a_table_is_part_of_its_note(tmp_path: Path, words: str) -> None:
    """BF 11.7, 11.8: the note tells of the key, which ends it, also on a second line."""
    row = "".join(f"<td>{at}</td>" for at in range(3))
    heads = f"<th>precipitation</th><th>circumference</th><th>{words}</th>"
    body = f"<table><tr><th>at</th>{heads}</tr><tr><td>x</td>{row}</tr></table>"
    lines = drawn(tmp_path, body)
    assert lines[:5] == [
        "      @.<,column headings of", "    the table are shortened to", "    letters3",
        "a3 precipitation", "b3 circumference",
    ]  # fmt: skip
    assert " ".join(line.strip() for line in lines[5:7]).startswith(f"c3 {words}@.>")
