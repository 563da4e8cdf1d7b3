"""The short ways give the careful way's cells, on a large text: the help pages of Python."""

from __future__ import annotations

import random
import re
from functools import cache
from pydoc_data.topics import topics

import pytest

from convert.document.nodes import BOLD, ITALIC, SMALL_CAPS, SUP, TRANSCRIBER_NOTE, UNDERLINE
from convert.findings import Findings
from convert.translation.passage import Passage
from convert.translation.signs import cells as sign
from convert.translation.ueb import capitals, quick
from convert.translation.ueb.keys import Inserts
from convert.translation.ueb.planner import plan
from convert.translation.ueb.word import Insert, Word

from .ueb_case import translator

FORMS = (ITALIC, BOLD, UNDERLINE, ITALIC | BOLD, SUP, SMALL_CAPS, TRANSCRIBER_NOTE)
WORDS = "A AB Ab ab 12 - — AB—cd xx—AB (AB) AB, AB. ÀÉ ⅳ I. “AB CD” ⓐB"
MARKS = "“”‘’\"'"


@cache
def _paragraphs() -> list[str]:
    blocks = [block for text in topics.values() for block in text.split("\n\n")]
    return [" ".join(block.split()) for block in blocks if block.strip()]


@cache
def _tokens() -> list[str]:
    plain = {token for text in _paragraphs() for token in text.split()}
    curly = {f"“{token}”" for token in plain if token.isalpha()}
    loud = {token.upper() for token in plain if token.isalpha()}
    return sorted(plain | curly | loud | {f"{number}s," for number in range(1890, 1990, 10)})


def _roles(token: str) -> set[str]:
    """Roles a token's marks may have: all apostrophes, or quotation marks by their side."""
    count = sum(char in MARKS for char in token)
    before = sum(char in MARKS for char in token[: len(token) // 2])
    return {"'" * count, "o" * before + "c" * (count - before)}


@pytest.mark.parametrize("grade", [1, 2])
def test_the_short_way_is_the_planners_way_for_every_word(grade: int) -> None:
    tool = translator(grade)
    short = quick.Quick(tool._letters)
    taken = 0
    for token in _tokens():
        for roles in _roles(token):
            found = short.piece(token, roles)
            if found is not None:
                taken += 1
                planned = plan(Word(token, roles), tool._letters)
                assert (planned.piece, planned.notes) == (found, ()), token
    assert taken > len(_tokens()) / 2


@pytest.mark.parametrize("grade", [1, 2])
def test_indicators_beside_a_word_leave_the_word_as_it_is(grade: int) -> None:
    """UEB 2.6.2, 2.6.3, 9.3: at every place of every third word, one indicator or a pair."""
    tool = translator(grade)
    short = quick.Quick(tool._letters)
    opening, ending = sign("italic word indicator"), sign("italic terminator")
    taken = 0
    for token in _tokens()[::3]:
        places = {0, 1, len(token) - 1, len(token)} - {-1}
        cases: list[Inserts] = [((at, opening, True),) for at in places if at < len(token)]
        cases += [((at, ending, False),) for at in places if at]
        pairs = [(first[0], last[0]) for first in cases for last in cases if first < last]
        cases.extend(pairs)
        for rows in cases:
            for roles in _roles(token):
                found = short.formed(token, roles, rows)
                if found is not None:
                    taken += 1
                    word = Word(token, roles, tuple([Insert(*row) for row in rows]))
                    planned = plan(word, tool._letters)
                    assert (planned.piece, planned.notes) == (found, ()), (token, rows)
    assert taken > len(_tokens()) / 3


def _formed(text: str, dice: random.Random) -> Passage:
    """A paragraph with stretches of typeforms, and some of its marks curly."""
    if dice.random() < 0.3:
        text = text.replace(' "', " “").replace('"', "”").replace(" '", " ‘").replace("'", "’")
    if dice.random() < 0.1:
        low = dice.randrange(len(text))
        text = text[:low] + text[low : low + 40].upper() + text[low + 40 :]
    cuts = sorted(dice.sample(range(len(text) + 1), min(len(text), dice.choice((0, 2, 2, 4, 6)))))
    spans = zip(cuts[::2], cuts[1::2], strict=False)
    return Passage(text, tuple((start, end, dice.choice(FORMS)) for start, end in spans))


@pytest.mark.parametrize("quotes", ["double", "single"])
def test_paragraphs_in_bulk_are_paragraphs_looked_over(quotes: str) -> None:
    tool = translator(2, quotes)
    dice = random.Random(5)
    bulk = 0
    for text in _paragraphs()[::3]:
        passage = _formed(text, dice)
        single = quotes == "single"
        quickly, carefully = Findings(), Findings()
        first = tool._bulk(passage, single, quickly)
        if first is None:
            continue
        bulk += 1
        second = tool._look(passage, single, carefully)
        assert (first.text, first.origin, first.sign) == (second.text, second.origin, second.sign)
        assert first.pieces == second.pieces
        assert sorted(map(str, quickly.all())) == sorted(map(str, carefully.all()))
    assert bulk > len(_paragraphs()) / 4


def test_no_passage_of_capitals_is_passed_over() -> None:
    """UEB 8.5: the quick look says no only where the careful one finds nothing."""
    dice = random.Random(7)
    words = WORDS.split()
    looked = 0
    for _ in range(4000):
        tokens = dice.choices(words, k=dice.randrange(3, 9))
        text = " ".join(tokens)
        spans, at = [], 0
        for token in tokens:
            spans.append((at, at + len(token)))
            at += len(token) + 1
        upper = [token == token.upper() for token in tokens]
        two = re.search("[A-ZÀ-Ý]{2}", text) and any(map(min, upper, upper[1:]))
        if two and any(capitals.passages(text, spans)):
            looked += 1
            assert capitals.may_hold_passage(text, tokens), text
    assert looked > 100
