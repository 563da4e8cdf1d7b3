"""The two doors give one answer: a document's words, however looked up, are the planner's.

Twenty thousand words, each as it is, with a capital, in capitals, with marks about it, with a
hyphen or a number, beside other words: the cells, origins and signs of the quick look-up are
those the planner alone gives.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from functools import partial

import pytest

from convert.findings import Findings
from convert.settings import Settings
from convert.translation.passage import Passage
from convert.translation.ueb import contracted, quotes, uncontracted
from convert.translation.ueb.planner import plan
from convert.translation.ueb.translator import UebTranslator
from convert.translation.ueb.word import Word

from .word_lists import words

MAKE = {1: uncontracted, 2: contracted}
_MARKS = ",.;:!?…)]}"
_A_PASSAGE = 12


def _shapes(word: str, other: str, dice: random.Random) -> tuple[str, ...]:
    """A word as print may have it, with another word or a number in the same token."""
    mark = dice.choice(_MARKS)
    return (
        word,
        word + mark,
        word.capitalize() + dice.choice(("", mark)),
        dice.choice((f"“{word}”", f"({word}{mark})", f"“{word}{mark}”", f"[{word}]", f"({word}).")),
        dice.choice((word.upper(), word.upper() + mark, f"{word}-{other}", f"{word}’s{mark}")),
    )


def _tokens() -> Iterator[str]:
    dice, pool = random.Random(21), words()
    for word in pool:
        yield from _shapes(word, dice.choice(pool), dice)


@pytest.mark.parametrize("grade", [2, 1])
def test_a_documents_words_are_the_planners(grade: int) -> None:
    tokens = [*dict.fromkeys(_tokens())]
    tokens = tokens if grade == 2 else tokens[::5]
    rows = [tokens[at : at + _A_PASSAGE] for at in range(0, len(tokens), _A_PASSAGE)]
    passages = [Passage(" ".join(row)) for row in rows]
    tool = MAKE[grade](Settings(quotes="double"))
    tool.prepare(passages)
    compared = sum(map(partial(_compared, tool), passages, rows))
    assert compared > len(tokens) * 0.8


def _compared(tool: UebTranslator, passage: Passage, tokens: list[str]) -> int:
    """How many words of a passage were compared: all but where print itself joins them, in a
    passage of capitals or by the direction of a quotation mark."""
    cells = tool.translate(passage, Findings())
    if "‘" in passage.text or sum(map(str.isupper, tokens)) > 2:
        return 0
    for token, piece in zip(tokens, cells.pieces, strict=True):
        planned = plan(Word(token, quotes.plain_roles(token, False)), tool._letters).piece
        assert piece[:5] == planned[:5], (token, passage.text)
    return len(tokens)


_BETWEEN = '/._:@=-+()[],;!#$%&*<>\\{}^|~"'


def _runs(dice: random.Random) -> str:
    """Letters, capitals and digits with marks between: a path, an address, a size, an option."""
    pool, out = words(), dice.choice(("", "", dice.choice(_BETWEEN)))
    for _ in range(dice.randrange(1, 5)):
        word = dice.choice(pool)
        run = (
            word,
            word[: dice.randrange(1, 5)],
            str(dice.randrange(300)),
            word.capitalize(),
            word[:4].upper(),
            dice.choice("abcxyzABCX"),
        )
        out += dice.choice(run) + "".join(dice.choices(_BETWEEN, k=dice.choice((0, 1, 1, 1, 2))))
    return out


@pytest.mark.parametrize("grade", [2, 1])
def test_words_of_several_runs_are_the_planners(grade: int) -> None:
    """UEB 2.6, 5.2, 6.3, 6.5, 7.1.3, 8.3, 10: each run by itself, with what the marks bring."""
    dice = random.Random(22)
    tool = MAKE[grade](Settings())
    taken, count = 0, 12_000 if grade == 2 else 4_000
    for _ in range(count):
        token = _runs(dice)
        roles = "".join([dice.choice("ocnDd") for char in token if char == '"'])
        found = tool._quick.piece(token, roles)
        if found is not None:
            taken += 1
            planned = plan(Word(token, roles), tool._letters)
            assert (planned.piece, planned.notes) == (found, ()), token
    assert taken > count / 2
