"""Typeforms (UEB 9), transcriber's notes (3.27): which indicators, and where."""

from __future__ import annotations

from bisect import bisect_left
from functools import cache
from typing import NamedTuple

from ...document.nodes import (
    BOLD,
    ITALIC,
    SCRIPT,
    STRIKE,
    SUB,
    SUP,
    TRANSCRIBER,
    TRANSCRIBER_NOTE,
    UNDERLINE,
)
from .. import signs
from .capitals import Run
from .chars import SUBSCRIPT, SUPERSCRIPT

FEWEST_WORDS = 3
# Outermost first where two begin and end together (order free, UEB 9.8.1; ours).
_ORDINALS = ("first", "second", "third", "fourth", "fifth")
NAMES = {
    TRANSCRIBER_NOTE: "",
    UNDERLINE: "underline",
    BOLD: "bold",
    ITALIC: "italic",
    SCRIPT: "script",
    **{
        bit: f"{word} transcriber-defined typeform"
        for bit, word in zip(TRANSCRIBER, _ORDINALS, strict=True)
    },
}
# Struck-out print has no sign of its own: a transcriber-defined typeform (UEB 9.5).
STRIKE_AS = TRANSCRIBER[0]
# What may follow a word before its typeform's end without a terminator (UEB 9.3, 9.7.3).
_AFTER_WORD = frozenset(".,;:!?…)]}”’\"'")


class Insert(NamedTuple):
    """An indicator to stand before the character at ``at``.

    ``rank`` orders those at one place; ``opens`` is false for terminators.
    """

    at: int
    rank: int
    cells: str
    opens: bool


class Level(NamedTuple):
    """A stretch set above or below the line."""

    start: int
    end: int
    level: int


Span = tuple[int, int]
Forms = tuple[tuple[int, int, int], ...]


def reached(words: list[Span], start: int, end: int) -> Span:
    """The range of words that share a character with a stretch."""
    low = bisect_left(words, (start + 1,)) - 1
    low += low < 0 or words[low][1] <= start
    return low, max(low, bisect_left(words, (end,)))


def runs(text: str, forms: Forms, bit: int) -> list[Span]:
    """The stretches of one typeform, without spaces at their ends, joined over spaces."""
    out: list[Span] = []
    for start, end, bits in forms:
        if bits & STRIKE:
            bits |= STRIKE_AS
        if not bits & bit:
            continue
        while start < end and text[start].isspace():
            start += 1
        while end > start and text[end - 1].isspace():
            end -= 1
        if start == end:
            continue
        if out and not text[out[-1][1] : start].strip():
            out[-1] = (out[-1][0], end)
        else:
            out.append((start, end))
    return out


def nested(
    text: str, forms: Forms, passages: tuple[Run, ...], rows: list[Insert]
) -> tuple[Run, ...]:
    """Passages of capitals that close before the typeforms around them and after those inside
    (UEB 8.6, 9.8: in the reverse order of opening)."""
    spans = [span[:2] for span in _spans(text, forms)] if passages else []
    return tuple(_nested(text, spans, one, rows) for one in passages)


def _nested(text: str, spans: list[Span], one: Run, rows: list[Insert]) -> Run:
    around = [end for start, end in spans if start <= one.start]
    ends = [end for end in around if one.start < end < one.end and is_last(text[: one.end], end)]
    stop = min(ends, default=one.end)
    inside = sum(row.at == stop and not row.opens and row.rank >= len(around) for row in rows)
    return one._replace(end=stop, after=inside)


def _spans(text: str, forms: Forms) -> list[tuple[int, int, int, int]]:
    """The stretches of each typeform with its order and bit, outermost first."""
    present = 0
    for _start, _end, bits in forms:
        present |= bits | STRIKE_AS if bits & STRIKE else bits
    spans = [
        (start, end, order, bit)
        for order, bit in enumerate(NAMES)
        if present & bit
        for start, end in runs(text, forms, bit)
    ]
    spans.sort(key=_outermost)
    return spans


def is_first(text: str, start: int) -> bool:
    """Whether no letter or digit stands before a place."""
    return not any(map(str.isalnum, text[:start]))


def is_last(text: str, end: int) -> bool:
    """Whether no letter or digit stands after a place."""
    return not any(map(str.isalnum, text[end:]))


def inserts(
    text: str,
    forms: Forms,
    words: list[Span],
    before: int = 0,
    after: int = 0,
    inside: bool = False,
) -> list[Insert]:
    """The typeform indicators of a paragraph, in reading order.

    ``before``/``after``: bits of the passages that come from the paragraph before, or go on
    in the next (UEB 9.9); ``inside``: one that comes has no indicator here.
    """
    out: list[Insert] = []
    for depth, (start, end, _order, bit) in enumerate(_spans(text, forms)):
        comes, goes = bit & before and is_first(text, start), bit & after and is_last(text, end)
        if (comes or goes) and not (comes and inside):
            out.append(Insert(start, depth, _signs(bit)["passage"], True))
        if comes and not goes:
            out.append(Insert(end, depth, _signs(bit)["end"], False))
        elif not goes:
            out.extend(_indicators(text, (start, end), bit, words, depth))
    out.sort(key=in_order)
    return out


def _outermost(span: tuple[int, int, int, int]) -> tuple[int, int, int]:
    return span[0], -span[1], span[2]


def in_order(row: Insert) -> tuple[int, bool, int]:
    """The order of indicators at one place: terminators first, the innermost first."""
    return row[0], row[3], row[1] if row[3] else -row[1]


@cache
def _signs(bit: int) -> dict[str, str]:
    """The cells of a typeform's indicators."""
    if bit == TRANSCRIBER_NOTE:
        names = {"passage": "opening {}", "end": "closing {}"}
        return {key: signs.cells(name.format("transcriber's note")) for key, name in names.items()}
    kinds = {kind: f"{kind} indicator" for kind in ("symbol", "word", "passage")}
    kinds["end"] = "terminator"
    return {kind: signs.cells(f"{NAMES[bit]} {name}") for kind, name in kinds.items()}


def _indicators(text: str, span: Span, bit: int, words: list[Span], depth: int) -> list[Insert]:
    start, end = span
    cells = _signs(bit)
    touched = words[slice(*reached(words, start, end))]
    if len(touched) >= FEWEST_WORDS or bit == TRANSCRIBER_NOTE:
        return [
            Insert(start, depth, cells["passage"], True),
            Insert(end, depth, cells["end"], False),
        ]
    out: list[Insert] = []
    for low, high in touched:
        first, last = max(low, start), min(high, end)
        if last - first == 1:
            out.append(Insert(first, depth, cells["symbol"], True))
            continue
        out.append(Insert(first, depth, cells["word"], True))
        if not _AFTER_WORD.issuperset(text[last:high]):
            out.append(Insert(last, depth, cells["end"], False))
    return out


def levels(forms: Forms) -> list[Level]:
    """The stretches above and below the line."""
    out: list[Level] = []
    for start, end, bits in forms:
        if bits & (SUP | SUB):
            level = SUPERSCRIPT if bits & SUP else SUBSCRIPT
            if out and out[-1].end == start and out[-1].level == level:
                out[-1] = Level(out[-1].start, end, level)
            else:
                out.append(Level(start, end, level))
    return out
