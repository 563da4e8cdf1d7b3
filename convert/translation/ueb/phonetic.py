"""Phonetic notation in its own code (UEB 14): print marked with the subtag ``fonipa`` (BCP 47).

The cells are those of a table of the liblouis library, made after *IPA Braille: An Updated
Tactile Representation of the International Phonetic Alphabet* (ICEB 2008).  Print's square
brackets or slashes become the indicators that switch to it and back; without any, those of a code
that is not UEB stand (UEB 14.3).  Nothing is guessed: unmarked notation is only reported.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from ...document.choices import Choice
from ...errors import ConvertError
from ...findings import Findings
from .. import signs
from ..cells import BLANK
from ..louis_code import TableCode, check_table
from ..passage import Passage, within
from .foreign import holds_objects, switched
from .readings import CELLS
from .word import Note

SUBTAG = "fonipa"
_TABLE = "IPA.utb"
_ENCLOSED = {("[", "]"): "IPA square bracket", ("/", "/"): "IPA slash"}
# Letters and marks of the International Phonetic Alphabet that no language's spelling has
# (Unicode: IPA Extensions; modifier letters of length and articulation).
_FIRST, _LAST, _MARKS = "\u0250", "\u02af", "ːˑʰʱʲʷˠˤ˞ɫθ"
_AROUND = ".,;:!?()“”‘’\"'"
Lang = tuple[int, int, str]


def is_phonetic(lang: str) -> bool:
    """Whether a language mark says that print is in the International Phonetic Alphabet."""
    return SUBTAG in lang.lower().split("-")


@cache
def _code() -> TableCode | None:
    """The code, or None without the library or its table."""
    try:
        return TableCode(check_table(_TABLE))
    except ConvertError:
        return None


def coded(passage: Passage, findings: Findings) -> Passage:
    """The passage with its phonetic stretches as given cells, switch indicators included; the
    same passage if it has none."""
    if not any(is_phonetic(lang) for _, _, lang in passage.langs):
        return passage
    left: list[Lang] = []
    given: list[Choice] = []
    for row in passage.langs:
        start, end = _enclosed(passage.text, *row[:2])
        if not is_phonetic(row[2]) or start >= end:
            left.append(row)
            continue
        place = passage.ledger_at(start)
        span = (place, place + end - start) if place >= 0 else None
        code = _code()
        if code is None or holds_objects(passage, start, end):
            left.append((row[0], row[1], "und-" + SUBTAG))
            findings.add("ueb.phonetic-no-code", span)
            continue
        given.append(Choice(start, end, CELLS, _cells(passage, start, end, code, findings)))
        findings.add("ueb.phonetic", span)
    choices = tuple(sorted((*passage.choices, *given)))
    return replace(passage, langs=tuple(left), choices=choices)


def _enclosed(text: str, start: int, end: int) -> tuple[int, int]:
    """A stretch without space at its ends, with the marks that enclose it."""
    while start < end and text[start].isspace():
        start += 1
    while end > start and text[end - 1].isspace():
        end -= 1
    if start and (text[start - 1], text[end : end + 1]) in _ENCLOSED:
        return start - 1, end + 1
    return start, end


def _cells(passage: Passage, start: int, end: int, code: TableCode, findings: Findings) -> str:
    text = passage.text
    name = _ENCLOSED.get((text[start], text[end - 1])) if end - start > 2 else None
    if name is None:
        shown = _words(passage, start, end, code, findings)
        return switched(shown, bool(text[end : end + 1].strip()))
    shown = _words(passage, start + 1, end - 1, code, findings)
    return signs.cells(f"opening {name}") + shown + signs.cells(f"closing {name}")


def _words(passage: Passage, start: int, end: int, code: TableCode, findings: Findings) -> str:
    """The cells of words one by one: the table knows no space."""
    out: list[str] = []
    at = start
    for word in passage.text[start:end].split():
        at = passage.text.index(word, at)
        part = within(passage, at, at + len(word))
        out.append(str(code.translate(part, findings)).strip(BLANK))
        at += len(word)
    return BLANK.join(out)


def one_note(notes: tuple[Note, ...], text: str) -> tuple[Note, ...]:
    """The findings about a word with phonetic letters that nobody marked: one, in the place of
    one for each letter."""
    odd = [note for note in notes if note.kind == "ueb.unknown-character"]
    if not any(_is_ipa(text[note.start]) for note in odd):
        return notes
    core = text.strip(_AROUND)
    start = text.index(core)
    kept = [note for note in notes if note not in odd or not _is_ipa(text[note.start])]
    facts = (("word", core),)
    return (*kept, Note("ueb.phonetic-unmarked", start, start + len(core), facts))


def _is_ipa(char: str) -> bool:
    return _FIRST <= char <= _LAST or char in _MARKS
