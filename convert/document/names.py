"""Names in full capitals with initial capitals only (Braille Formats 2016, 14.1.2)."""

from __future__ import annotations

import re

_WORD = re.compile(r"[^\W\d_]+")
_ROMAN = re.compile(r"[IVX]+$")
# Shortened titles; other words without a vowel are letters spoken one by one.
_TITLES = frozenset(("MR", "MRS", "MS", "DR", "ST", "LT", "SGT", "FR", "SR", "JR", "MSGR"))
_VOWELS = frozenset("AEIOUYÀÁÂÃÄÅÆÈÉÊËÌÍÎÏÒÓÔÕÖØŒÙÚÛÜÝ")


def initial_capitals(text: str) -> str:
    """The same letters, those inside a word small where print has the whole word in capitals.

    As long as ``text``, letter for letter.  Roman numerals (common practice: of I, V and X) and
    words without a vowel that are no titles stay as they are.
    """
    return _WORD.sub(lambda found: _word(text, found.start(), found[0]), text)


def _word(text: str, at: int, word: str) -> str:
    if not word.isupper() or (len(word) > 1 and _spelled(word)):
        return word
    lower = "".join(low if len(low := letter.lower()) == 1 else letter for letter in word)
    before = text[max(0, at - 2) : at]
    joined = before[-1:].isdigit() or (
        # An apostrophe after one letter begins a name (O'Brien); after more it ends one.
        before[-1:] in ("'", "’") and (at > 2 and text[at - 3].isalpha() and before[:1].isalpha())
    )
    return lower if joined else word[0] + lower[1:]


def _spelled(word: str) -> bool:
    return bool(_ROMAN.match(word)) or not (word in _TITLES or _VOWELS & set(word))
