"""Whether capitals are letters spoken one by one, where print or their shape shows it.

UEB 10.1.3 and 10.12.1 leave it to how an abbreviation is spoken, which is judgement; what is
decided here is told, with the other form, and everything else is asked.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from functools import cached_property

from .data import data
from .word import Note

ASKED, DECIDED = "ueb.acronym", "ueb.acronym-decided"
KINDS = (ASKED, DECIDED)
_VOWELS = frozenset("AEIOUY")
# Shorter ones without a vowel may be a sound (SH) or a word cut short (ST).
_FEWEST = 3
# Letters whose names begin with a vowel sound, though they are consonants.
_AN = frozenset("FHLMNRSX")
# A silent h: these words have "an" before them too.
_SILENT = ("HOU", "HON", "HEI")
_TWO = 2
_SURE_WORD = 4
_SMALL = frozenset(("a", "and", "for", "in", "of", "on", "or", "the", "to"))
_DRAWN_OUT = re.compile(r"(.)\1$|^PS+T$|^PF+T$|^TSK$")
_WORD = re.compile(r"[^\W\d_]+")
NO_VOWEL = "they have no vowel"
WRITTEN_OUT = "print gives two letters and the two words they stand for"
ARTICLE = "print says “an” before them"
BESIDE = "print has “the” or a bracket before them"
# A character that no document of XML may hold.
_BETWEEN = "\x1d"
_AN_BEFORE = re.compile(r"\b[Aa]n (?=(\w+))")
_BEFORE = re.compile(r"(?:\b[Tt]he |\()$")


def by_shape(text: str) -> str:
    """Why capitals cannot be a word: three or more without a vowel; "" if they can, or are a
    sound drawn out (SHHH; common practice, no source)."""
    silent = len(text) >= _FEWEST and _VOWELS.isdisjoint(text)
    return NO_VOWEL if silent and not _DRAWN_OUT.search(text) else ""


class Work:
    """What a work shows of capitals: its passages, looked through when first asked."""

    def __init__(self, passages: Iterable[str] = ()) -> None:
        self._passages = list(passages)
        self._words: dict[str, bool] = {}

    @cached_property
    def _text(self) -> str:
        return _BETWEEN.join(self._passages)

    @cached_property
    def _articles(self) -> dict[str, int]:
        """Where "an" first stands before each word."""
        found: dict[str, int] = {}
        for match in _AN_BEFORE.finditer(self._text):
            found.setdefault(match[1], match.start())
        return found

    def why(self, text: str) -> str:
        """Why capitals are letters, or "": a name of two letters that the work writes out once,
        or "an" before letters whose names begin with a vowel sound (common practice, no
        source)."""
        article = text[0] in _AN and not text.startswith(_SILENT)
        said = self._articles.get(text, -1) if article else -1
        if len(text) == _TWO:
            for start, end in self._places(text):
                if start <= said < end:
                    return ARTICLE
                if _written_out(text, self._text[start:end]):
                    return WRITTEN_OUT
        return ARTICLE if said >= 0 else ""

    def has_word(self, text: str) -> bool:
        """Whether capitals are a word that stands in small letters elsewhere (START, and start);
        of fewer than four letters, or of a listed name, this shows nothing (common practice, no
        source)."""
        if len(text) < _SURE_WORD or text in data()["said"]:
            return False
        if text not in self._words:
            self._words[text] = self._stands(text.lower())
        return self._words[text]

    def _stands(self, word: str) -> bool:
        """Whether a word stands by itself anywhere; an expression would take far longer."""
        work, size, at = self._text, len(word), -1
        while (at := work.find(word, at + 1)) >= 0:
            before, after = work[at - 1 : at], work[at + size : at + size + 1]
            if not (before.isalnum() or after.isalnum() or "-" in (before, after)):
                return True
        return False

    def _places(self, text: str) -> Iterator[tuple[int, int]]:
        """The passages that hold some letters."""
        work = self._text
        at = work.find(text)
        while at >= 0:
            start, end = work.rfind(_BETWEEN, 0, at) + 1, work.find(_BETWEEN, at)
            end = end if end >= 0 else len(work)
            yield start, end
            at = work.find(text, end)


def _written_out(text: str, passage: str) -> bool:
    """Whether brackets join two capitals with words that begin with them."""
    at = passage.find(f"({text})")
    if at >= 0 and _initials(passage[:at])[-_TWO:] == text:
        return True
    at = passage.find(f"{text} (")
    inside = passage[at + len(text) + 2 :].partition(")")[0]
    return at >= 0 and _initials(inside) == text


def _initials(text: str) -> str:
    words = [word for word in _WORD.findall(text[-200:]) if word.lower() not in _SMALL]
    return "".join(word[0].upper() for word in words)


def in_place(note: Note, text: str, base: int) -> Note:
    """The question about a listed name that is also a word (US), as told where only the name
    can stand: after "the" or an opening bracket."""
    if note.kind != ASKED or dict(note.facts)["word"] not in data()["said"]:
        return note
    at = base + note.start
    if not _BEFORE.search(text, max(0, at - 5), at):
        return note
    return note._replace(kind=DECIDED, facts=(*note.facts, ("why", BESIDE)))
