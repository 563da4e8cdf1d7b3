"""What tells one word's cells from another's, for a whole paragraph at once.

Most words are their text and nothing else.  The few that a typeform, a language or the
direction of a quotation mark reaches (UEB 7.6, 9) are found by these, not one by one.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right

from ..passage import Passage
from . import paragraph, quotes, typeforms
from .word import Insert, Note, Word

Key = str | Word
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
    if quotes.needs_state(text, single):
        _quote(keys, text, prints, single, notes)
    if not (passage.forms or passage.langs):
        return keys
    inserts = _inserts(passage, text, tokens, prints)
    levels = _stretches(
        [(row.start, row.end, row.level) for row in typeforms.levels(passage.forms)], tokens, prints
    )
    spans = paragraph.foreign(passage, notes)
    foreign = _stretches([(start, end, 0) for start, end in spans], tokens, prints)
    for at in {**inserts, **levels, **foreign}:
        token, key = tokens[at], keys[at]
        roles = key.roles if isinstance(key, Word) else quotes.plain_roles(token, single)
        keys[at] = Word(
            token,
            roles,
            tuple(inserts.get(at, ())),
            (),
            tuple(levels.get(at, ())),
            tuple([row[:2] for row in foreign.get(at, ())]),
        )
    return keys


def _quote(keys: list[Key], text: str, prints: list[int], single: bool, notes: list[Note]) -> None:
    """Words with the roles of their quotation marks; those whose marks are all apostrophes
    are told by their text."""
    found = quotes.roles(text, single, single)
    notes.extend(paragraph.direction_notes(found))
    letters: dict[int, str] = {}
    row = 0
    for role, place in zip(found.letters, found.places, strict=True):
        row = bisect_right(prints, place, row) - 1
        letters[row] = letters.get(row, "") + role
    for at, roles in letters.items():
        if roles.strip(quotes.APOSTROPHE):
            token = keys[at]
            keys[at] = Word(str(token), roles)


def _inserts(
    passage: Passage, text: str, tokens: list[str], prints: list[int]
) -> dict[int, list[Insert]]:
    """Typeform indicators by the word they stand in.  None stands at a space: a passage
    begins and ends with a word (UEB 9.7)."""
    spans = [(start, start + len(token)) for start, token in zip(prints, tokens, strict=True)]
    out: dict[int, list[Insert]] = {}
    for at, _rank, cells, opens in typeforms.inserts(text, passage.forms, spans):
        row = bisect_right(prints, at) - 1
        out.setdefault(row, []).append(Insert(at - prints[row], cells, opens))
    return out


def _stretches(
    rows: list[tuple[int, int, int]], tokens: list[str], prints: list[int]
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
