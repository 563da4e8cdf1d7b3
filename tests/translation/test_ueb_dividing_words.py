"""Properties of divided words, over a list of words (UEB 10.13)."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from convert.findings import Findings
from convert.settings import Settings
from convert.translation import signs
from convert.translation.back import read_back
from convert.translation.cells import Division, cells_of
from convert.translation.passage import Passage
from convert.translation.ueb import contracted

# A third of the list, spread over it: the whole takes several seconds.
WORDS = (Path(__file__).parent / "data" / "words.txt").read_text("utf-8").split()[::3]
HYPHEN = cells_of("-")
LOWER_FIRST = {cells_of(cells) for cells in ("2", "3", "4")}


@cache
def divisions() -> list[tuple[str, Division, str, str]]:
    """Every division offered: the word, and the cells on the two lines."""
    tool = contracted(Settings(divide_words=True))
    out = []
    for word in WORDS:
        piece = tool.translate(Passage(word), Findings()).pieces[0]
        for row in piece.divisions:
            line = piece.cells[: row.end] + row.before.cells
            out.append((word, row, line, row.after.cells + piece.cells[row.resume :]))
    return out


def test_there_are_divisions_to_look_at() -> None:
    assert len(divisions()) > 2000
    assert all(line.endswith(HYPHEN) for _, _, line, _ in divisions())


def test_no_line_begins_with_a_sign_that_must_follow_letters() -> None:
    """UEB 10.13.4, 10.13.11: not "ing", no final-letter groupsign."""
    never = [row.cells for row in signs.of_kind("final-letter groupsign").values()]
    never.append(signs.of_kind("strong groupsign")["ing"].cells)
    assert [word for word, _, _, after in divisions() if after.startswith(tuple(never))] == []


def test_no_line_begins_with_be_con_dis_or_a_sign_between_letters() -> None:
    """UEB 10.13.9, 10.13.10."""
    never = [row.cells for row in signs.of_kind("middle groupsign").values()]
    never += LOWER_FIRST
    assert [word for word, _, _, after in divisions() if after.startswith(tuple(never))] == []


def test_no_line_ends_with_be_con_dis_or_a_sign_between_letters() -> None:
    """UEB 10.13.9, 10.13.10: the sign before the hyphen."""
    never = tuple(
        {row.cells + HYPHEN for row in signs.of_kind("middle groupsign").values()}
        | {cells + HYPHEN for cells in LOWER_FIRST}
    )
    assert [word for word, _, line, _ in divisions() if line.endswith(never)] == []


def test_no_part_is_a_wordsign() -> None:
    """UEB 10.13.3, 10.13.12: no part is a word's sign, but a shortform keeps its own letters."""
    kinds = ("alphabetic wordsign", "strong wordsign", "lower wordsign", "shortform")
    words = {row.cells: row.print for kind in kinds for row in signs.of_kind(kind).values()}
    wrong = [
        word
        for word, row, line, after in divisions()
        if words.get(line[:-1], word[: row.after_at]) != word[: row.after_at]
        or words.get(after, word[row.after_at :]) != word[row.after_at :]
    ]
    assert wrong == []


# Read back as "un" and the shortform for "according", which the rulebook's list does not have.
MISREAD = {"unaccustomed"}


def test_both_parts_read_back_as_the_word() -> None:
    """Each part by itself, as the reader meets it on its line, is read as its letters."""
    wrong = set()
    for word, _row, line, after in divisions():
        read = read_back(line).print[:-1] + read_back(HYPHEN + after).print[1:]
        if read != word:
            wrong.add(word)
    assert wrong <= MISREAD


def test_no_print_is_lost_or_said_twice() -> None:
    for word, row, _line, _after in divisions():
        assert row.before_at + row.before.length == row.after_at, word
        assert row.after_at + row.after.length <= len(word), word
