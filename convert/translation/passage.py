"""A passage: the text of one block, ready for a translator, with what print says of it."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable
from dataclasses import dataclass, replace

from ..document.choices import READING, Choice
from ..document.inlines import INITIAL_CAPITALS
from ..document.ledger import Ledger
from ..document.names import initial_capitals
from ..document.nodes import (
    SUP,
    Added,
    AnswerSpace,
    Inline,
    Inlines,
    LineBreak,
    MathRun,
    NoteCall,
    PrintPageTurn,
)


@dataclass(frozen=True, slots=True)
class Mark:
    """Something at a text offset that is not text.

    ``what``: ``turn`` (a print page begins; value is its label), ``line`` (a line ends here),
    ``answer`` (an AnswerSpace, whose printed span is replaced by a sign), ``math``.
    """

    at: int
    what: str
    value: object = None


@dataclass(frozen=True, slots=True)
class Passage:
    """Text of one block.

    ``forms``, ``langs`` and ``voices`` are (start, end, value) stretches of ``text``, sorted,
    not overlapping, only where the value is not the plain one.  ``at`` lists
    (text offset, ledger offset) where stretches begin; -1 for words that print does not have.
    ``divide_at``: offsets where a braille line is wanted to end (tests, word division).
    ``kin``: the number, from 1, of the row of like text elements (paragraphs, entries of a list,
    stanzas), one straight after another, that the block belongs to; 0 for any other block, and
    below zero for a line of verse that goes on the stanza of the line before.
    ``choices``: how a person wants stretches of ``text`` read, sorted; their places are offsets
    of ``text``.
    """

    text: str
    forms: tuple[tuple[int, int, int], ...] = ()
    langs: tuple[tuple[int, int, str], ...] = ()
    voices: tuple[tuple[int, int, str], ...] = ()
    marks: tuple[Mark, ...] = ()
    at: tuple[tuple[int, int], ...] = ((0, 0),)
    divide_at: tuple[int, ...] = ()
    kin: int = 0
    choices: tuple[Choice, ...] = ()

    def ledger_at(self, offset: int) -> int:
        """The ledger offset of a text offset, or -1 for words that are not in print."""
        row = bisect_right(self.at, (offset, 1 << 40)) - 1
        text_at, ledger_at = self.at[row]
        return -1 if ledger_at < 0 else ledger_at + offset - text_at


class Readings:
    """The choices of a document that say how print is read (``READING``), by ledger place."""

    def __init__(self, choices: Iterable[Choice]) -> None:
        self._rows = sorted(choice for choice in choices if choice.kind in READING)
        self._starts = [row.start for row in self._rows]
        self._longest = max((row.end - row.start for row in self._rows), default=0)

    def on(self, passage: Passage) -> Passage:
        """The passage with the choices that reach it; a choice that reaches two stretches of
        print far apart is a choice of each."""
        if not self._rows:
            return passage
        out: list[Choice] = []
        ends = [*(start for start, _ in passage.at[1:]), len(passage.text)]
        for (text_at, ledger_at), end in zip(passage.at, ends, strict=True):
            if ledger_at >= 0:
                by = text_at - ledger_at
                for row in self._within(ledger_at, ledger_at + end - text_at):
                    low, high = max(row.start + by, text_at), min(row.end + by, end)
                    if low < high:
                        out.append(replace(row, start=low, end=high))
        return replace(passage, choices=tuple(sorted(out))) if out else passage

    def _within(self, low: int, high: int) -> list[Choice]:
        """The choices that reach a stretch of the ledger."""
        first = bisect_left(self._starts, low - self._longest)
        last = bisect_left(self._starts, high)
        return [row for row in self._rows[first:last] if row.end > low]


def readings_of(passage: Passage) -> Readings:
    """The choices on a passage, by ledger place, for another passage of the same print."""
    return Readings(
        replace(row, start=at, end=at + row.end - row.start)
        for row in passage.choices
        if (at := passage.ledger_at(row.start)) >= 0
    )


def within(passage: Passage, start: int, end: int) -> Passage:
    """The print of a part of a passage, without what is said of it."""
    rows = {
        max(at, start) - start: passage.ledger_at(max(at, start))
        for at, _ in passage.at
        if at < max(end, start + 1)
    }
    return Passage(passage.text[start:end], at=tuple(rows.items()) or ((0, -1),))


# What print has straight before and after empty space that is room for an answer, as it would a
# word: other signs, such as those of money, stay beside it.
_BEFORE_ROOM = frozenset(":;,.?!)]”’")
_AFTER_ROOM = frozenset("([“‘")


@dataclass(slots=True)
class _Build:
    chunks: list[str]
    length: int
    forms: list[tuple[int, int, int]]
    langs: list[tuple[int, int, str]]
    voices: list[tuple[int, int, str]]
    marks: list[Mark]
    at: list[tuple[int, int]]
    room: bool = False

    def apart(self, words: str) -> None:
        """Room that print shows as empty space is spaced as a word is (BF 10.6)."""
        if self.room and words:
            if words[0].isalnum() or words[0] in _AFTER_ROOM:
                self.text(" ", -1)
            self.room = False

    def text(self, text: str, ledger_at: int) -> tuple[int, int]:
        start = self.length
        if text:
            last_text, last_ledger = self.at[-1] if self.at else (0, -2)
            joined = self.at and last_ledger >= 0 and last_ledger + start - last_text == ledger_at
            if not joined and not (self.at and last_ledger == ledger_at == -1):
                self.at.append((start, ledger_at))
            self.chunks.append(text)
            self.length += len(text)
        return start, self.length


def _extend(rows: list[tuple[int, int, int]], start: int, end: int, value: int) -> None:
    if value and start < end:
        if rows and rows[-1][1] == start and rows[-1][2] == value:
            rows[-1] = (rows[-1][0], end, value)
        else:
            rows.append((start, end, value))


def _extend_words(rows: list[tuple[int, int, str]], start: int, end: int, value: str) -> None:
    if value and start < end:
        if rows and rows[-1][1] == start and rows[-1][2] == value:
            rows[-1] = (rows[-1][0], end, value)
        else:
            rows.append((start, end, value))


def _put(build: _Build, inline: Inline, text: str) -> None:
    match inline:
        case PrintPageTurn(label=label):
            build.marks.append(Mark(build.length, "turn", label))
        case LineBreak():
            build.marks.append(Mark(build.length, "line"))
        case Added():
            build.apart(inline.text)
            start, end = build.text(inline.text, -1)
            _extend(build.forms, start, end, inline.typeform)
        case AnswerSpace() | MathRun():
            shown = text[inline.start : inline.end]
            room = isinstance(inline, AnswerSpace) and not shown.strip()
            before = build.chunks[-1][-1] if room and build.chunks else " "
            if before.isalnum() or before in _BEFORE_ROOM:
                build.text(" ", -1)
            what = "answer" if isinstance(inline, AnswerSpace) else "math"
            build.marks.append(Mark(build.length, what, inline))
            build.apart(shown)
            build.text(shown, inline.start)
            build.room = room
        case _:
            words, bits = text[inline.start : inline.end], getattr(inline, "typeform", 0)
            words = initial_capitals(words) if bits & INITIAL_CAPITALS else words
            build.apart(words)
            start, end = build.text(words, inline.start)
            _extend(build.forms, start, end, _typeform(inline, build.chunks[-1:]))
            _extend_words(build.langs, start, end, getattr(inline, "lang", ""))
            _extend_words(build.voices, start, end, getattr(inline, "voice", ""))


def _typeform(inline: Inline, text: list[str]) -> int:
    """The bits of an inline.  A note's number or letter is a superscript even where only a
    style sheet raises it (Braille Formats 2016, 16.3); asterisks and daggers are as they are."""
    bits: int = getattr(inline, "typeform", 0)
    if isinstance(inline, NoteCall) and text and text[0].strip("[]()").isalnum():
        bits |= SUP
    return bits & ~INITIAL_CAPITALS


def passage_of(inlines: Inlines, ledger: Ledger) -> Passage:
    """The passage of some inlines: their text joined, the rest as stretches and marks."""
    build = _Build([], 0, [], [], [], [], [])
    for inline in inlines:
        _put(build, inline, ledger.text)
    return Passage(
        "".join(build.chunks),
        tuple(build.forms),
        tuple(build.langs),
        tuple(build.voices),
        tuple(build.marks),
        tuple(build.at) or ((0, -1),),
    )
