"""Twenty thousand words and two thousand sentences, the same on every machine with one Python."""

from __future__ import annotations

import random
import re
from functools import cache
from pydoc_data.topics import topics

from .test_round_trip import word_list

WORDS, SENTENCES = 20_000, 2_000
_BEFORE = "un re dis mis over out under fore sub super inter counter non anti semi"
_AFTER = "ness ly less like ful ship able ment ing ed ers ward wise hood dom some est"


@cache
def words() -> list[str]:
    """The words of real books, and as many made of them with prefixes and suffixes, so that
    letters meet as they do in words no list has (seeded)."""
    dice = random.Random(11)
    real = [word for word in word_list() if word.isascii()]
    before, after = _BEFORE.split(), _AFTER.split()
    stems = [word for word in real if word.isalpha() and len(word) > 2]
    out = dict.fromkeys(real)
    while len(out) < WORDS + 1000:
        stem = dice.choice(stems)
        ends = (dice.choice(before) + stem, stem + dice.choice(after))
        out[dice.choice(ends)] = None
    return list(out)


@cache
def sentences() -> list[str]:
    """Sentences of the help pages of Python, and made ones with numbers, marks and capitals
    (seeded)."""
    dice = random.Random(12)
    text = " ".join(" ".join(topics.values()).split())
    found = [part for part in re.split(r"(?<=[.!?]) (?=[A-Z“\"])", text) if len(part) < 400]
    pool = words()
    while len(found) < SENTENCES + 400:
        row = [_dressed(dice.choice(pool), dice) for _ in range(dice.randrange(4, 14))]
        found.append(" ".join(row).capitalize() + dice.choice(".!?"))
    return found


def _dressed(word: str, dice: random.Random) -> str:
    """A word with marks, capitals or a number beside it, as prose has them."""
    number = dice.choice(("7", "1,250", "3.5", "1984", "4th", "50%", "£5", "12/3"))
    shapes = (
        word, word, word, word, word.capitalize(), word.upper(), f"“{word}”", f"({word})",
        f"{word},", f"{word};", f"{word}-{dice.choice('abcxyz')}", number, f"{word}’s", f"[{word}]",
    )  # fmt: skip
    return dice.choice(shapes)
