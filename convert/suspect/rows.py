"""Blocks side by side: what their series, beginnings and ends give away."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from itertools import pairwise

from ..document.nodes import (
    BOLD,
    Box,
    Displayed,
    Graphic,
    Heading,
    Paragraph,
    PrintPage,
    Run,
    VerseLine,
)
from ..findings import Findings, Span
from .leaves import Leaf, Reading, Row, file, lines_of

_BULLET = re.compile(r"[-–•*·▪]\s+\S")
_NUMBERED = re.compile(r"\(?(\d{1,3}|[a-z])[.)]\s+\S")
_PAGE = re.compile(r"(?:\[|- ?|– ?)?(?:[Pp]age |p\. ?)?(\d{1,4})(?:\]| ?-| ?–)?")
_FOLIO = re.compile(r"^\d{1,4}\s+|\s+\d{1,4}$")
_LINE_NUMBER = re.compile(r"^\s*(\d{1,4})\s+\D|\D\s+(\d{1,4})\s*$")
_CONTENTS = re.compile(r"(?:\.{3}|(?:\. ){3}|…|\t)\s*(?:\d{1,4}|[ivxlc]{1,6})\s*$")
_LEADERS = ("...", ". . .", "\t")
_SPEAKER = re.compile(r"([A-Z][A-Z’' .-]{1,24}[A-Z])[.:]\s+\S")
_ENDED = re.compile(r"[.!?:;…”’\"')\]—–]\W*$")
_FEWEST = 3
_SKIPPED = 3  # Numbers of a typed list may skip one or two (common practice, no source).


def look(reading: Reading, findings: Findings) -> None:
    """File the doubts about blocks that stand side by side."""
    rows = [row for row in reading.rows if len(row) > 1]
    file(findings, "suspect.page-number", _page_numbers(rows))
    file(findings, "suspect.running-head", _running_heads(rows))
    numbered = all(number in reading.counts for number in ("5", "10", "15"))
    leaders = "…" in reading.signs or any(mark in reading.text for mark in _LEADERS)
    for kind, find, worth in (
        ("suspect.typed-list", _typed_lists, True),
        ("suspect.line-numbers", _line_numbers, numbered),
        ("suspect.play", _plays, True),
        ("suspect.contents-list", _contents, leaders),
        ("suspect.side-matter", _side_matter, True),
        ("suspect.broken-sentence", _broken, True),
    ):
        if worth:
            file(findings, kind, [span for row in rows for span in find(row)])


def _leaves(row: Row) -> list[Leaf]:
    return [kid for kid in row if isinstance(kid, Leaf)]


def _page_numbers(rows: list[Row]) -> list[Span]:
    """Numbers that rise from page to page, each a paragraph of its own."""
    found = [found for row in rows for found in _lone_numbers(row)]
    series: list[tuple[int, Span]] = []
    for number, span in found:
        if series and not 0 < number - series[-1][0] <= 3:
            if len(series) >= _FEWEST:
                break
            series = []
        series.append((number, span))
    return [span for _, span in series] if len(series) >= _FEWEST else []


def _lone_numbers(row: Row) -> list[tuple[int, Span]]:
    """Paragraphs that hold only a number, with other matter before and after each."""
    numbers: list[tuple[int, int, Span]] = []
    for at, leaf in enumerate(row):
        if isinstance(leaf, Leaf) and isinstance(leaf.node, Paragraph) and len(leaf.words) < 12:
            match = _PAGE.fullmatch(leaf.words.strip())
            if match and all(isinstance(run, Run) for run in leaf.runs):
                numbers.append((at, int(match[1]), leaf.span))
    ats = {at for at, _, _ in numbers}
    return [(number, span) for at, number, span in numbers if not {at - 1, at + 1} & ats]


def _running_heads(rows: list[Row]) -> list[Span]:
    """The same short paragraph three times, each beside a print page turn or with a folio."""
    places: dict[str, list[Span]] = {}
    for row in rows:
        for at, leaf in enumerate(row):
            if (
                not isinstance(leaf, Leaf)
                or len(leaf.words) > 60
                or not isinstance(leaf.node, Paragraph)
            ):
                continue
            near = row[max(0, at - 1) : at + 2]
            words = leaf.words.strip()
            bare = _FOLIO.sub("", words)
            turns = any(isinstance(kid, PrintPage) for kid in near)
            folio = bare != words and len(bare.split()) > 1
            if len(bare) > 3 and bare[:1].isalpha() and (turns or folio):
                places.setdefault(bare.lower(), []).append(leaf.span)
    return [span for spans in places.values() if len(spans) >= _FEWEST for span in spans]


def _typed_lists(row: Row) -> Iterator[Span]:
    """Three or more paragraphs in a row with bullets, or with numbers or letters in series."""
    run: list[Leaf] = []
    for kid in (*row, None):
        mark = _mark(kid)
        if run and mark is not None and isinstance(kid, Leaf) and _goes_on(_mark(run[-1]), mark):
            run.append(kid)
            continue
        if len(run) >= _FEWEST:
            yield run[0].start, run[-1].end
        run = [kid] if mark is not None and isinstance(kid, Leaf) else []


def _mark(kid: object) -> str | None:
    """The bullet (as nothing), number or letter typed before a paragraph."""
    if not (isinstance(kid, Leaf) and isinstance(kid.node, Paragraph)) or "\n" in kid.words:
        return None
    if kid.words[:1].isupper() and kid.words[1:2] not in ".)":
        return None
    if _BULLET.match(kid.words):
        return ""
    numbered = _NUMBERED.match(kid.words)
    return numbered[1] if numbered else None


def _goes_on(last: str | None, mark: str) -> bool:
    if last is None or not last or not mark:
        return last == mark
    if last.isdigit() and mark.isdigit():
        return 0 < int(mark) - int(last) <= _SKIPPED
    return not last.isdigit() and not mark.isdigit() and 0 < ord(mark) - ord(last) <= _SKIPPED


def _line_numbers(row: Row) -> Iterator[Span]:
    """Numbers 5, 10, 15 at the edges of lines."""
    series: list[tuple[int, Span]] = []
    numbered = 0
    for leaf in _leaves(row):
        for line in lines_of(leaf):
            if len(line) >= 100:
                continue
            match = _LINE_NUMBER.search(line)
            number = int(match[1] or match[2]) if match else 0
            numbered += number > 0
            wanted = series[-1][0] + 5 if series else 5
            if number and number == wanted:
                series.append((number, leaf.span))
    if len(series) >= _FEWEST and numbered < 2 * len(series):
        yield from (span for _, span in series)


def _plays(row: Row) -> Iterator[Span]:
    """Four speeches or more of at least two speakers, their names bold or in capitals."""
    speeches = [(name, leaf.span) for leaf in _leaves(row) if (name := _speaker(leaf))]
    names = Counter(name for name, _ in speeches)
    again = {name for name, times in names.items() if times > 1}
    if len(speeches) >= 4 and len(again) >= 2:
        yield from (span for name, span in speeches if name in again)


def _speaker(leaf: Leaf) -> str:
    """The name before a speech, if a paragraph begins with one."""
    if not isinstance(leaf.node, Paragraph):
        return ""
    first = leaf.runs[0]
    bold = isinstance(first, Run) and first.typeform & BOLD and len(leaf.runs) > 1
    if bold and isinstance(first, Run):
        name = leaf.words[: first.end - first.start].strip(" .:")
        return name if 0 < len(name) <= 25 and name[0].isupper() and len(name.split()) <= 3 else ""
    if not leaf.words[1:2].isupper():
        return ""
    spoken = _SPEAKER.match(leaf.words)
    return spoken[1] if spoken else ""


def _entries(leaf: Leaf) -> int:
    """How many lines of a block end in leaders and a number."""
    words = leaf.words
    if not ("..." in words or "…" in words or "\t" in words or ". . ." in words):
        return 0
    return sum(_CONTENTS.search(line[-60:]) is not None for line in lines_of(leaf))


def _contents(row: Row) -> Iterator[Span]:
    """Three or more lines in a row that end in leaders and a page number."""
    run: list[Leaf] = []
    for kid in (*row, None):
        if isinstance(kid, Leaf) and _entries(kid):
            run.append(kid)
            continue
        if sum(map(_entries, run)) >= _FEWEST:
            yield run[0].start, run[-1].end
        run = []


def _side_matter(row: Row) -> Iterator[Span]:
    """A box or picture between two halves of a sentence."""
    for at in range(1, len(row) - 1):
        before, here, after = row[at - 1], row[at], row[at + 1]
        if isinstance(here, Box | Graphic | Displayed) and _cut(before, after):
            assert isinstance(before, Leaf)
            yield max(before.start, before.end - 40), before.end


def _broken(row: Row) -> Iterator[Span]:
    """A paragraph that ends inside a sentence which the next one goes on with."""
    for before, after in pairwise(row):
        if _cut(before, after):
            assert isinstance(before, Leaf)
            yield max(before.start, before.end - 40), before.end


def _cut(before: object, after: object) -> bool:
    """Whether two paragraphs look like two halves of a sentence."""
    if not (isinstance(before, Leaf) and isinstance(after, Leaf) and after.words[:1].islower()):
        return False
    if isinstance(before.node, Heading | VerseLine) or not isinstance(after.node, Paragraph):
        return False
    words = before.words.rstrip()
    prose = (len(words) > 40 and words[-1:].islower()) or (words[-1:] == "," and len(words) > 60)
    return bool(prose and not _ENDED.search(words[-3:]) and after.words[:1].islower()
                and len(after.words) > 20 and _mark(after) is None)  # fmt: skip
