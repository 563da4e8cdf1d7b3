"""Names and words: functions, abbreviations, chemical symbols, and letters side by side."""

from __future__ import annotations

import re
from functools import cache

from .chars import cut
from .nemeth_data import names
from .tree import Expression, Scripts, Words, row

OPERAND, FUNCTION, WORD = "operand", "function", "word"


def name_kind(text: str, scripted: bool = False) -> str:
    """Whether a name is a function, letters side by side, or a word (digest 3 and 10).

    Letters: differentials, names with Greek letters, two capitals, chemical symbols; those all
    in capitals only where they are ``scripted``, since they are abbreviations too.
    """
    if text in names("functions"):
        return FUNCTION
    if text in names("differentials") or not text.isascii():
        return OPERAND
    if text.isupper() and len(text) == 2:
        return OPERAND
    chemical = _formula().fullmatch(text) is not None and (scripted or not text.isupper())
    return OPERAND if chemical else WORD


@cache
def _formula() -> re.Pattern[str]:
    """Chemical symbols side by side."""
    return re.compile(f"(?:{'|'.join(sorted(names('elements')))}|[BCFHIKNOPSUVWY])+")


def is_prose(text: str) -> bool:
    """Whether ordinary text is words; text without a space that has Greek letters is a part of
    a formula, as is text without letters."""
    text = text.strip()
    greek = any("\u0370" <= char <= "\u03ff" for char in text)
    return any(map(str.isalpha, text)) and (" " in text or not greek)


def base_of(node: Scripts) -> Expression:
    """The base of scripts; text that is a letter, chemical symbols or a name with capitals
    inside (HbCO) is read as such."""
    base = node.base
    if not isinstance(base, Words):
        return base
    text = base.text.strip()
    symbols = len(text) == 1 or name_kind(text, scripted=True) == OPERAND
    named = symbols or text[1:] != text[1:].lower()
    return row(cut(text, base.path)) if text.isalpha() and named else base
