"""What tells one word's cells from another's, for a whole paragraph at once.

Most words are their text and nothing else.  The few that a typeform, a language or the
direction of a quotation mark reaches (UEB 7.6, 9) are found by these, not one by one.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from operator import add

from ..passage import Passage
from . import paragraph, quotes, typeforms
from .word import Insert, Note, Word

# An indicator in a word: place, cells, whether it opens.  Plain tuples, as a hundred thousand
# are made for a book.
Placed = tuple[int, str, bool]
Inserts = tuple[Placed, ...]
# A word's text; its text, the roles of its marks, and indicators; or all that can reach a word.
Key = str | tuple[str, str, Inserts] | Word
_Stretches = dict[int, list[tuple[int, int, int]]]


def keyed(
    passage: Passage,
    text: str,
    tokens: list[str],
    prints: list[int],
    single: bool,
    notes: list[Note],
) -> list[Key]:
    """The keys of words one space apart; findings about several words go to ``notes``.

    ``text``: as shown, small capitals applied.  ``prints``: where each of ``tokens`` begins.
    """
    keys: list[Key] = [*tokens]
    roles: dict[int, str] = {}
    if quotes.needs_state(text, single):
        roles = _roles(text, prints, single, notes)
        for at, letters in roles.items():
            if letters.strip(quotes.APOSTROPHE):
                keys[at] = (tokens[at], letters, ())
    if not (passage.forms or passage.langs):
        return keys
    inserts = _inserts(passage, text, tokens, prints)
    for at, rows in inserts.items():
        token = tokens[at]
        letters = roles[at] if at in roles else quotes.plain_roles(token, single)
        keys[at] = (token, letters, tuple(rows))
    levels = _stretches(typeforms.levels(passage.forms), tokens, prints)
    foreign = _stretches(
        [(start, end, 0) for start, end in paragraph.foreign(passage, notes)], tokens, prints
    )
    for at in {**levels, **foreign}:
        keys[at] = Word(
            tokens[at],
            roles[at] if at in roles else quotes.plain_roles(tokens[at], single),
            tuple([Insert(*row) for row in inserts.get(at, ())]),
            levels=tuple(levels.get(at, ())),
            foreign=tuple([row[:2] for row in foreign.get(at, ())]),
        )
    return keys


def _roles(text: str, prints: list[int], single: bool, notes: list[Note]) -> dict[int, str]:
    """The roles of quotation marks, by word."""
    found = quotes.roles(text, single, single)
    if found.doubtful:
        notes.extend(paragraph.direction_notes(found))
    out: dict[int, str] = {}
    row = 0
    for role, place in zip(found.letters, found.places, strict=True):
        row = bisect_right(prints, place, row) - 1
        out[row] = out[row] + role if row in out else role
    return out


def _inserts(
    passage: Passage, text: str, tokens: list[str], prints: list[int]
) -> dict[int, list[tuple[int, str, bool]]]:
    """Typeform indicators by the word they stand in.  None stands at a space: a passage
    begins and ends with a word (UEB 9.7)."""
    spans = [*zip(prints, map(add, prints, map(len, tokens)), strict=True)]
    out: dict[int, list[tuple[int, str, bool]]] = {}
    for at, _rank, cells, opens in typeforms.inserts(text, passage.forms, spans):
        row = bisect_right(prints, at) - 1
        out.setdefault(row, []).append((at - prints[row], cells, opens))
    return out


def _stretches(
    rows: Sequence[tuple[int, int, int]], tokens: list[str], prints: list[int]
) -> _Stretches:
    """Stretches of a text by the words they reach, in the words' own places."""
    out: _Stretches = {}
    for start, end, value in rows:
        first = max(0, bisect_right(prints, start) - 1)
        for at in range(first, bisect_left(prints, end)):
            base, size = prints[at], len(tokens[at])
            low, high = max(start - base, 0), min(end - base, size)
            if low < high:
                out.setdefault(at, []).append((low, high, value))
    return out
