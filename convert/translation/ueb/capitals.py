"""Capitals (UEB 8): passages over several words, and the signs inside one letters-sequence."""

from __future__ import annotations

import re
from functools import cache
from itertools import groupby, pairwise
from operator import and_, eq, itemgetter
from typing import NamedTuple

from .data import data

LETTER_SIGN, WORD_SIGN, TERMINATOR = (
    "capital letter indicator",
    "capitals word indicator",
    "capitals terminator",
)
_DASH = re.compile("[–—―]")
_SENTENCE_END = re.compile("[.!?…][”’\"')\\]}]*$")
# Letters with full stops, which end no sentence (U.S.).
_STOPPED = re.compile(r"[^\w\s]*(?:[A-Z]\.){2,}")
_ENDING = frozenset(".!?…”’\"')]}")
_OPENERS = {"(": ")", "[": "]", "{": "}", "“": "”", "‘": "’"}
_LEADING = re.compile("[(\\[{“‘\"'’¡¿–—―-]*")
FEWEST_WORDS = 3
_FEWEST_LETTERS = 3
_WORD = re.compile(r"\S+")
_DOUBLE = re.compile("[A-ZÀ-ÖØ-Þ]{2}")
_NO_VOWEL = re.compile("[B-DF-HJ-NP-TV-Z]+")
# What makes a word's case differ from its letters' case, or cuts it: dashes, and small letters
# that are numerals or symbols.
_ODD = re.compile("[–—―ⅰ-ⅿⓐ-ⓩ\u0345]")


class Run(NamedTuple):
    """A capitals passage: from the first letter's place to the terminator's, which stands only
    where the passage ``closes`` in this paragraph (UEB 8.5.5); its indicator where it
    ``opens``.  ``after``: how many typeforms that begin inside end at its end, before it."""

    start: int
    end: int
    closes: bool = True
    opens: bool = True
    after: int = 0


class Capitals(NamedTuple):
    """Passages of a paragraph, and the runs whose edge 8.5.4 leaves to judgement."""

    runs: tuple[Run, ...]
    doubtful: tuple[tuple[int, int], ...]


class _Bit(NamedTuple):
    start: int
    end: int
    case: str  # "caps", "none", "lower"
    segment: int
    first: bool  # of its word


def may_hold_passage(text: str, tokens: list[str]) -> bool:
    """A quick look: two capitals together, two words in a row without small letters, and,
    where no word is cut, three words with capitals in such a row."""
    odd = not text.isascii() and bool(_ODD.search(text))
    if not odd and sum(map(str.isupper, tokens)) < FEWEST_WORDS:
        return False
    if not _DOUBLE.search(text):
        return False
    upper = [*map(eq, tokens, map(str.upper, tokens))]
    if not any(map(and_, upper, upper[1:])):
        return False
    if odd:
        return True
    rows = groupby(zip(upper, map(str.isupper, tokens), strict=True), itemgetter(0))
    return any(sum(map(itemgetter(1), row)) >= FEWEST_WORDS for shown, row in rows if shown)


def _case(text: str) -> str:
    if text.isascii() and text.islower():
        return "lower"
    letters = [char for char in text if char.isalpha()]
    if not letters:
        return "none"
    return "caps" if all(char.isupper() for char in letters) else "lower"


def _bits(text: str, words: list[tuple[int, int]]) -> list[_Bit]:
    """Words cut at dashes, each with the sentence part it stands in."""
    out: list[_Bit] = []
    segment = 0
    dashes = bool(_DASH.search(text))
    for start, end in words:
        cuts = [m.end() for m in _DASH.finditer(text, start, end)] if dashes else []
        at = start
        for cut in (*cuts, end):
            if cut > at:
                out.append(_Bit(at, cut, _case(text[at:cut]), segment, at == start))
                segment += cut != end or _ends_sentence(text, at, cut)
            at = cut
    return out


def _ends_sentence(text: str, start: int, end: int) -> bool:
    """Whether a word is the last of a sentence: not an abbreviation (U.S., MR.)."""
    if text[end - 1] not in _ENDING or not _SENTENCE_END.search(text, start, end):
        return False
    if text[end - 1] != ".":
        return True
    return not (_STOPPED.fullmatch(text, start, end) or text[start : end - 1] in _words("titles"))


def passages(text: str, words: list[tuple[int, int]]) -> Capitals:
    """The capitals passages of a paragraph (UEB 8.5): three or more symbols-sequences all in
    capitals, two of them with two capitals together; edges as 8.5.4."""
    bits = _bits(text, words)
    runs: list[Run] = []
    doubtful: list[tuple[int, int]] = []
    at = 0
    while at < len(bits):
        if bits[at].case != "caps":
            at += 1
            continue
        end = at
        while end < len(bits) and bits[end].case != "lower":
            end += 1
        next_at = end
        while bits[end - 1].case == "none":
            end -= 1
        group = bits[at:end]
        if _words_of(group) >= FEWEST_WORDS:
            parts = _cut_edges(bits, at, end)
            if len(parts) > 1:
                doubtful.append((group[0].start, group[-1].end))
            for first, last in parts:
                if _is_passage(text, bits[first:last]):
                    runs.append(_bounds(text, bits[first].start, bits[last - 1].end))
        at = next_at
    return Capitals(tuple(runs), tuple(doubtful))


def is_shouted(texts: list[str]) -> bool:
    """Whether paragraphs all in capitals are one passage together (UEB 8.5.2, 8.5.5)."""
    words = [word for text in texts for word in text.split() if any(map(str.isalpha, word))]
    doubles = sum(bool(_DOUBLE.search(word)) for word in words)
    return len(words) >= FEWEST_WORDS and doubles > 1


def whole(text: str, ends: bool, opens: bool = True) -> Capitals:
    """A paragraph wholly inside a capitals passage (UEB 8.5.5), which begins after the bullet
    or number of an entry."""
    first = next(match for match in _WORD.finditer(text) if any(map(str.isalpha, match[0])))
    start, end, *_ = _bounds(text, first.start(), len(text.rstrip()))
    return Capitals((Run(start, end, ends, opens),), ())


def _words_of(group: list[_Bit]) -> int:
    """How many symbols-sequences with letters a group holds."""
    return sum(bit.case == "caps" and (at == 0 or bit.first) for at, bit in enumerate(group))


def _is_passage(text: str, group: list[_Bit]) -> bool:
    while group and group[-1].case == "none":
        group = group[:-1]
    doubles = sum(bool(_DOUBLE.search(text, bit.start, bit.end)) for bit in group)
    return _words_of(group) >= FEWEST_WORDS and doubles > 1


def _cut_edges(bits: list[_Bit], at: int, end: int) -> list[tuple[int, int]]:
    """A run cut where its first or last sentence part also has small letters (UEB 8.5.4)."""
    first, last = bits[at].segment, bits[end - 1].segment
    if first == last:
        return [(at, end)]
    low, high = at, end
    if at and bits[at - 1].segment == first:
        while bits[low].segment == first:
            low += 1
    if end < len(bits) and bits[end].segment == last:
        while high > low and bits[high - 1].segment == last:
            high -= 1
    cuts = sorted({at, low, high, end})
    return list(pairwise(cuts))


def _bounds(text: str, start: int, end: int) -> Run:
    """Where the indicators go: after marks opened before the passage, and before the marks
    that close them (UEB 8.6.2); marks that close sooner are inside it."""
    match = _LEADING.match(text, start, end)
    begin = match.end() if match else start
    stop = _stop(text, begin, end)
    while begin > start and any(map(str.isalpha, text[stop:end])):
        begin -= 1
        stop = _stop(text, begin, end)
    while stop > begin and text[stop - 1] in "–—―-":
        stop -= 1
    return Run(begin, stop)


def _stop(text: str, begin: int, end: int) -> int:
    """Where the terminator of a passage that begins at a place goes: before the first mark that
    closes what was open before it."""
    waiting: list[str] = []
    stop, straight, quoted = end, 0, "‘" in text[:begin]
    for at in range(begin, end):
        char = text[at]
        if char in _OPENERS:
            waiting.append(_OPENERS[char])
        elif waiting and char == waiting[-1]:
            waiting.pop()
        elif char in ")]}”" or (char in "’'\"" and not text[at + 1 : at + 2].isalnum()):
            if char == '"' and straight % 2:
                straight += 1
                continue
            if char in "’'" and text[at - 1].isalpha() and not quoted:
                continue
            stop = at
            break
        straight += char == '"'
    return stop


@cache
def _words(name: str) -> frozenset[str]:
    return frozenset(data()["list"][name]["words"].split())


def inside(text: str, capitals: list[bool], apart: bool = False) -> list[tuple[int, str]]:
    """Capital signs of one letters-sequence without a break: (place, sign name).

    ``text`` in print case.  A place may be the length: a terminator at the end.  ``apart``:
    every capital has its own sign, as chemical symbols have (GTM 16).
    """
    if not any(capitals):
        return []
    if apart:
        return [(at, LETTER_SIGN) for at, capital in enumerate(capitals) if capital]
    special = data()["capitals"].get(text)
    starts = _special_starts(special["parts"]) if special else ()
    out: list[tuple[int, str]] = []
    at, size = 0, len(capitals)
    while at < size:
        if not capitals[at]:
            at += 1
            continue
        end = at
        while end < size and capitals[end] and not (end > at and end in starts):
            end += 1
        if end < size and end - at > 1 and end not in starts and _new_part(text, capitals, end):
            end -= 1
        out.append((at, WORD_SIGN if end - at > 1 else LETTER_SIGN))
        if end < size and end - at > 1 and not capitals[end]:
            out.append((end, TERMINATOR))
        at = end
    return out


def _special_starts(parts: str) -> tuple[int, ...]:
    out, at = [], 0
    for part in parts.split("|")[:-1]:
        at += len(part)
        out.append(at)
    return tuple(out)


def _new_part(text: str, capitals: list[bool], end: int) -> bool:
    """Whether the last capital before small letters begins a part of its own (UEB 8.8)."""
    if text[end:] in _words("endings"):
        return False
    return any(capitals[end:]) or is_formula(text) or _is_initialism(text, end)


def _is_initialism(text: str, end: int) -> bool:
    """Whether capitals before a word with a capital cannot be part of it (HTMLFile, NYTimes):
    two or more without a vowel, which no syllable begins with (STRing, BRIght)."""
    run, tail = text[:end], text[end:]
    if min(len(run), len(tail)) < _FEWEST_LETTERS or not _NO_VOWEL.fullmatch(run):
        return False
    return run not in _words("onsets")


@cache
def is_formula(text: str) -> bool:
    """Whether letters are chemical symbols one after another (UEB 8.8.2)."""
    symbols = re.findall("[A-Z][a-z]*", text)
    return "".join(symbols) == text and all(symbol in _words("elements") for symbol in symbols)
