"""Passages that go on over several text elements (UEB 8.5.5 capitals, 9.9 typeforms).

Each paragraph, entry of a list and stanza begins with the passage indicator; only the last has
the terminator, and lines inside a stanza have neither.  Which blocks are elements of one kind,
one after another, the flow knows (``Passage.kin``); headings stand for themselves (UEB 8.5.6).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import groupby, pairwise
from typing import NamedTuple

from ...document.nodes import TRANSCRIBER_NOTE
from ..passage import Passage
from . import capitals, typeforms


class Link(NamedTuple):
    """What a paragraph has in common with its neighbours.

    ``before``/``after``: bits of the typeforms whose passage comes from the paragraph before
    or goes on in the next; ``capitals``: it stands inside a passage of capitals, which
    ``ends`` here or goes on.  ``inside``: it is a line of the stanza of the line before, so a
    passage that comes from there is not indicated anew.
    """

    before: int = 0
    after: int = 0
    capitals: bool = False
    ends: bool = True
    inside: bool = False


ALONE = Link()
# A passage that begins inside quotation marks or brackets ends inside them (UEB 9.7.1).
_CLOSERS = frozenset(")]}”’»›\"'")
_MARKS = frozenset(".,;:!?…")
Key = tuple[tuple[tuple[int, int], ...], str]


def key_of(passage: Passage) -> Key:
    """What tells one block of a document from another: where it stands, and its text."""
    return passage.at, passage.text


def links(passages: Iterable[Passage]) -> dict[Key, Link]:
    """The paragraphs that share a passage with a neighbour."""
    out: dict[Key, Link] = {}
    worded = (passage for passage in passages if passage.text and not passage.text.isspace())
    for kin, row in groupby(worded, lambda passage: abs(passage.kin)):
        group = list(row) if kin else []
        if len(group) > 1:
            for passage, link in zip(group, _of_group(group), strict=True):
                if link != ALONE:
                    out[key_of(passage)] = link
    return out


def _of_group(group: list[Passage]) -> list[Link]:
    out = [ALONE] * len(group)
    loud = [passage.text.isupper() for passage in group]
    for start, end in _rows(loud):
        if end - start > 1 and capitals.is_shouted([row.text for row in group[start:end]]):
            out[start:end] = [
                Link(capitals=True, ends=at == end - 1, inside=at > start and group[at].kin < 0)
                for at in range(start, end)
            ]
    present = 0
    for passage in group:
        for _start, _end, bits in passage.forms:
            present |= bits
    for bit in typeforms.NAMES:
        if present & bit and bit != TRANSCRIBER_NOTE:
            _join(group, bit, out)
    return out


def _rows(flags: list[bool]) -> Iterator[tuple[int, int]]:
    """The stretches of true flags."""
    at = 0
    for value, row in groupby(flags):
        size = len(list(row))
        if value:
            yield at, at + size
        at += size


def _join(group: list[Passage], bit: int, out: list[Link]) -> None:
    """Mark where one typeform goes on from paragraph to paragraph: from the end of one to the
    beginning of the next, one of the two wholly in it, three words at least; or three words
    and more on either side, though it begins and ends inside paragraphs, unless a mark of print
    between shows two things, such as titles."""
    fewest = typeforms.FEWEST_WORDS
    reaches = [_reach(passage, bit) for passage in group]
    joined = [
        left[1]
        and right[0]
        and (
            all(left[:2])
            or all(right[:2])
            or (min(left[2], right[2]) >= fewest and not _closed(passage, bit))
        )
        for passage, (left, right) in zip(group, pairwise(reaches), strict=False)
    ]
    for start, end in _rows(joined):
        if sum(reaches[at][2] for at in range(start, end + 1)) < fewest:
            continue
        for at in range(start, end):
            out[at] = out[at]._replace(after=out[at].after | bit)
            inside = group[at + 1].kin < 0
            out[at + 1] = out[at + 1]._replace(before=out[at + 1].before | bit, inside=inside)


def _closed(passage: Passage, bit: int) -> bool:
    """Whether a paragraph ends in a mark that stands outside the typeform before it."""
    size = len(passage.text.rstrip())
    inside = any(low < size <= high and bits & bit for low, high, bits in passage.forms)
    return not inside and passage.text[size - 1] in _MARKS


def _reach(passage: Passage, bit: int) -> tuple[bool, bool, int]:
    """Whether a typeform reaches from a paragraph's first letter (only one that covers it all
    does both) and to its last, and how many words it touches at these ends."""
    text = passage.text
    rows = typeforms.runs(text, passage.forms, bit)
    if not rows:
        return False, False, 0
    first = typeforms.is_first(text, rows[0][0])
    last = typeforms.is_last(text, rows[-1][1]) and _CLOSERS.isdisjoint(text[rows[-1][1] :])
    ends = {*(rows[:1] if first else ()), *(rows[-1:] if last else ())}
    if len(rows) > 1 and first and last:
        # Both ends, but not all between: it may come in or go on, and is not whole.
        first = False
    return first, last, sum(len(text[start:end].split()) for start, end in ends)
