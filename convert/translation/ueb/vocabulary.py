"""The plain words of a whole document, made together.

Most words of a book are small letters, perhaps with a capital first and one mark after.  Their
letters are asked for in few calls, and their pieces, which are those of ``Quick.plain``, are
laid together here in one loop.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator

from ..cells import Piece
from .letters import Letters
from .quick import FIRST_SIGN, LONGEST, NO_SIGNS, Quick

# Whole words, one a line: letters of English, a capital at most in front, a mark at most behind.
_PLAIN = re.compile(rf"^([A-Za-z][a-z]{{1,{LONGEST - 3}}})([.,;:!?…)\]}}]?)$", re.MULTILINE)
# Letters beside which stands nothing that keeps them from standing alone (UEB 2.6.1-2.6.3).
_ALONE = re.compile(
    r"(?<![^\s(\[{“‘\"'’—–-])[a-z]+(?:'[a-z]+)*(?![^\s.,;:!?…)\]}”’\"'—–-])", re.MULTILINE
)
# Letters of a word of several runs, as in a path or an address: what stands before them if that
# is an edge of the word, the letters, and what stands after them if that is an edge.
_RUN = re.compile(
    r"(?:(?<![^\s–—-])([(\[{“‘\"']*))?([a-z]+(?:'[a-z]+)*)(?:[,;:.!?…)\]}”’\"']*($|(?=[\s–—-])))?",
    re.MULTILINE,
)
_new = tuple.__new__


def learn(tokens: Collection[str], letters: Letters) -> list[tuple[str, str]]:
    """Ask for the letters of many words in few calls.  Returns the plain ones of the words,
    each as its letters and the mark after them."""
    text = "\n".join(tokens)
    plain: list[tuple[str, str]] = _PLAIN.findall(text)
    words = {core.lower() for core, _ in plain}
    rest = _PLAIN.sub("", text).lower().replace("’", "'")
    words.update(_ALONE.findall(rest))
    runs = {match.group(1, 2, 3) for match in _RUN.finditer(rest)}
    parts = {(run, left is not None, right is not None) for left, run, right in runs}
    letters.learn(words, [part for part in parts if not (part[1] and part[2])])
    return plain


def pieces(plain: list[tuple[str, str]], quick: Quick) -> Iterator[tuple[str, Piece]]:
    """The pieces of plain words (see `learn`); nothing of words the planner must be asked for."""
    capital, marks, safe = quick.capital, quick.after, quick.safe
    for core, after in plain:
        low = core.lower()
        answer = safe(low)
        if answer is None:
            continue
        cells, origin = answer
        signs = NO_SIGNS
        if core != low:
            cells, origin, signs = capital + cells, (0, *origin), FIRST_SIGN
        if after:
            mark = marks[after]
            cells += mark
            origin += (len(core),) * len(mark)
        token = core + after
        sign = signs[len(cells)]
        yield token, _new(Piece, (cells, origin, sign, len(token), (), (), ()))
