"""What a whole paragraph decides for its words: capitals passages, grade 1 passages,
typeforms, quotation marks, digit groups (UEB 5.4, 6.6, 7.6, 8.5, 9)."""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from collections.abc import Collection, Iterable
from dataclasses import dataclass, field
from functools import cache
from operator import attrgetter, itemgetter
from typing import NamedTuple

from ...document.inlines import COMPUTER, PROGRAM
from ...document.nodes import SMALL_CAPS
from ...findings import Form
from ..passage import Passage
from . import capitals, drawn, joined, marks, numeric, quotes, readings, typeforms
from .chars import NUMBER_SPACES
from .data import data
from .notes import spoken
from .word import Insert, Note, Word

Span = tuple[int, int]
Stretch = tuple[int, int, int]
_TOKEN = re.compile(r"\S+")
_NUMBER_SPACE = re.compile(rf"\d[{NUMBER_SPACES}]\d")
# Ordinary spaces join only telephone numbers with "+" and three or more groups of three digits
# (common practice, no source; UEB 6.6.1 leaves it to judgement).
_JOINED = re.compile(r"(?<!\S)(?:\+\d{1,3}(?: \d{2,}){2,}|\d{1,3}(?: \d{3}){2,})(?!\w| \d)")
_SPELLED = re.compile(r"(?<!\S)(?=\S*[^\W\d_aioAIO])[^\w\s]*[^\W\d_](?:-[^\W\d_])+[^\w\s]*(?!\S)")
# Small capitals of this shape are abbreviations or Roman numerals: one or two short words.
_SHORT = r"\W*(?:[ivxlcdm]+|[^\W\d_]{1,4}|(?:[^\W\d_]\.){1,5})\W*"
_ABBREVIATIONS = re.compile(rf"{_SHORT}(?:\s{_SHORT})?", re.IGNORECASE)
# Single capitals in a row: initials, or words and letters that are one passage (UEB 8.5.2).
_INITIALS = re.compile(r"(?<!\S)[^\w\s]*[A-Z]\.?(?: [A-Z]\.?){2,}(?![\w’'])")
FEWEST_SPELLED = 3
_UNTOUCHED = Word("")[3:]


@cache
def firsts() -> frozenset[str]:
    """First words of the pairs the table of exceptions lists."""
    return frozenset(pair.split()[0] for pair in data()["pair"])


class Token(NamedTuple):
    """A symbols-sequence: where it begins, its text, the roles of its quotation marks, and
    the whole word where more than these decides."""

    start: int
    text: str
    roles: str
    word: Word | None = None

    @property
    def key(self) -> str | tuple[str, str, tuple[Insert, ...]] | Word:
        """What decides its cells (see keys): its text alone if its marks are apostrophes."""
        if self.word is not None:
            return self.word if self.word[3:] != _UNTOUCHED else self.word[:3]
        return (self.text, self.roles, ()) if self.roles.strip(quotes.APOSTROPHE) else self.text


@dataclass(slots=True)
class Paragraph:
    """The words of a passage, ready for the planner, with findings about several words."""

    words: list[Token] = field(default_factory=list)
    notes: list[Note] = field(default_factory=list)


def token_spans(text: str) -> tuple[list[Span], list[Span]]:
    """The symbols-sequences of a text, and those joined over ordinary spaces."""
    spans = [match.span() for match in _TOKEN.finditer(text)]
    if _NUMBER_SPACE.search(text):
        spans = _held(text, spans)
    joined = [match.span() for match in _JOINED.finditer(text)]
    for start, end in joined:
        low, high = typeforms.reached(spans, start, end)
        spans[low:high] = [(spans[low][0], spans[high - 1][1])]
    return spans, joined


def _held(text: str, spans: list[Span]) -> list[Span]:
    """Words joined over a space that holds a number together (UEB 6.6.1)."""
    out: list[Span] = []
    for start, end in spans:
        if out and out[-1][1] == start - 1 and _NUMBER_SPACE.match(text, start - 2):
            start = out.pop()[0]
        out.append((start, end))
    return out


def joins(text: str) -> bool:
    """Whether ordinary spaces hold numbers together anywhere."""
    return bool(_JOINED.search(text))


@dataclass(slots=True)
class _Facts:
    """What was found about a paragraph, by place in its text."""

    runs: tuple[capitals.Run, ...] = ()
    inserts: list[typeforms.Insert] = field(default_factory=list)
    levels: list[Stretch] = field(default_factory=list)
    foreign: list[Stretch] = field(default_factory=list)
    spelled: dict[int, int] = field(default_factory=dict)
    small: list[Span] = field(default_factory=list)
    decided: list[readings.Stretch] = field(default_factory=list)
    literals: list[readings.Literal] = field(default_factory=list)


def look(passage: Passage, single: bool, link: joined.Link = joined.ALONE) -> Paragraph:
    """Look a paragraph over and cut it into words; a word that nothing around it touches is
    given as its text and the roles of its quotation marks only."""
    out = Paragraph()
    text = small_capitals(passage, out.notes)
    given = readings.literals(passage) if passage.choices else []
    text = readings.shown(text, given)
    dots = drawn.leaders(text) if "." in text else []
    if dots:
        text, given = readings.shown(text, dots), sorted([*given, *dots])
    spans, groups = token_spans(text)
    for at in (
        *(place for row in dots for place in row[:2]),
        *marks.line_ends(passage),
        *(at for at, _ in marks.unprinted(passage)),
    ):
        spans = _split(spans, at)
    out.notes.extend(
        Note("ueb.numbers-joined", start, end, (("number", text[start:end]),))
        for start, end in groups
    )
    out.notes.extend(Note("ueb.guide-dots", start, end) for start, end, _ in dots)
    out.notes.extend(
        Note("ueb.initials", *match.span(), (("words", match.group()),))
        for match in (_INITIALS.finditer(text) if not text.isupper() else ())
    )
    facts = _facts(passage, text, spans, out.notes, link)
    facts.decided, facts.literals = readings.stretches(passage.choices), given
    if passage.choices:
        facts.inserts.extend(numeric.inserts(text, facts.decided))
        facts.inserts.sort(key=typeforms.in_order)
    decided = readings.directions(passage.choices)
    found = quotes.roles(text, single, single, decided)
    out.notes.extend(direction_notes(found))
    if not single:
        out.notes.extend(enclosing_notes(text, decided))
    touched = _touched_words(spans, facts, passage.divide_at)
    used, count, places = 0, len(found.places), found.places
    for at, (start, end) in enumerate(spans):
        first = used
        while used < count and places[used] < end:
            used += 1
        roles = found.letters[first:used] if first < used else ""
        word = None
        if at in touched:
            word = _word(text, (start, end), roles, facts, passage.divide_at)
            word = word._replace(continued=_is_computer(passage, end))
        out.words.append(Token(start, text[start:end], roles, word))
    _pairs(out.words)
    return out


def direction_notes(found: quotes.Roles) -> list[Note]:
    """A finding for each mark whose direction was guessed."""
    return [
        Note("ueb.quote-direction", at, at + 1, *_directions(found.letters[found.places.index(at)]))
        for at in found.doubtful
    ]


def enclosing_notes(text: str, decided: Collection[int] = ()) -> list[Note]:
    """A finding for each straight mark, taken as an apostrophe, that may open a quotation, but
    for those somebody decided."""
    places = [at for at in quotes.straight_pairs(text) if at not in decided]
    if not places:
        return []
    roles = {"an opening mark": "S", "an apostrophe": quotes.APOSTROPHE}
    forms = _forms("'", roles)
    facts = (("opening_dots", forms[0].dots), ("plain_dots", forms[1].dots))
    spans = [(at, at + len(quotes.begun(text, at))) for at in places]
    return [Note("ueb.straight-single", start, end, facts, forms) for start, end in spans]


def foreign(passage: Passage, notes: list[Note]) -> list[Span]:
    """The stretches left uncontracted: not English, or program code; each a finding."""
    out: list[Span] = []
    for start, end, lang in passage.langs:
        if not lang.lower().startswith("en"):
            out.extend(readings.without_words(start, end, passage.choices))
            notes.append(Note("ueb.foreign", start, end, (("lang", lang),)))
    for start, end, voice in passage.voices:
        if voice == PROGRAM:
            out.extend(readings.without_words(start, end, passage.choices))
            notes.append(Note("ueb.program", start, end))
    return out


def is_spelled(token: str) -> bool:
    """Whether a word is spelled letter by letter, joined by hyphens (UEB 5.4.2)."""
    return "-" in token and bool(_SPELLED.fullmatch(token))


def _directions(role: str) -> tuple[tuple[tuple[str, str], ...], tuple[Form, ...]]:
    """The sign an unpaired straight mark was given, and all it may be."""
    measure = role == quotes.NONDIRECTIONAL
    opens, closes = ("D", "d") if role in ("D", "d") else ("o", "c")
    roles = {"an opening mark": opens, "a closing mark": closes}
    roles["the nondirectional mark"] = quotes.NONDIRECTIONAL
    forms = _forms('"', roles)
    taken, other = (forms[2], forms[1]) if measure else (forms[role == closes], forms[2])
    facts = {"taken": taken.label, "taken_dots": taken.dots, "other": other.label}
    return (*facts.items(), ("other_dots", other.dots)), forms


def _forms(mark: str, roles: dict[str, str]) -> tuple[Form, ...]:
    """What a quotation mark may be, by label: its cells and their dots in words."""
    signs = ((label, quotes.cells(role)) for label, role in roles.items())
    return tuple(Form(label, mark, cells, spoken(cells)) for label, cells in signs)


def _pairs(words: list[Token]) -> None:
    """Give the second word of a listed pair the first (UEB 10.6.4)."""
    for at, token in enumerate(words[:-1]):
        if token.text in firsts() or token.text.lower() in firsts():
            after = words[at + 1]
            word = after.word or Word(after.text, after.roles)
            words[at + 1] = after._replace(word=word._replace(before=token.text.lower()))


def _touched_words(spans: list[Span], facts: _Facts, divide_at: Iterable[int]) -> set[int]:
    """The words some fact about the paragraph reaches."""
    reach: list[Span] = [(run.start, run.end) for run in facts.runs]
    reach.extend((row.at - 1, row.at + 1) for row in facts.inserts)
    reach.extend(row[:2] for row in (*facts.levels, *facts.foreign))
    reach.extend(row[:2] for row in (*facts.decided, *facts.literals))
    reach.extend((at, at + 1) for at in facts.spelled)
    reach.extend((at - 1, at + 1) for at in divide_at)
    reach.extend(facts.small)
    out: set[int] = set()
    for start, end in reach:
        low, high = typeforms.reached(spans, start, end)
        out.update(range(max(0, low), high))
    return out


def _split(spans: list[Span], at: int) -> list[Span]:
    """Words cut where a print line ends, or has room for an answer, inside one."""
    out: list[Span] = []
    for start, end in spans:
        out.extend([(start, at), (at, end)] if start < at < end else [(start, end)])
    return out


def may_be_initials(text: str) -> bool:
    """Whether single capitals stand in a row, three or more."""
    return bool(_INITIALS.search(text))


def _is_computer(passage: Passage, at: int) -> bool:
    """Whether a braille line ends at a space of computer material (UEB 6.10, 10.12.3)."""
    inside = any(start <= at < end and voice in COMPUTER for start, end, voice in passage.voices)
    return inside and at in passage.divide_at


def small_capitals(passage: Passage, notes: list[Note]) -> str:
    """The text with abbreviations and Roman numerals in small capitals as capitals (UEB
    9.6.1); longer words keep the case they are written in, and a finding says so."""
    text = marks.shown_text(passage)
    for start, end, bits in passage.forms:
        if not bits & SMALL_CAPS:
            continue
        upper = text[start:end].upper()
        if _ABBREVIATIONS.fullmatch(text, start, end) and len(upper) == end - start:
            text = text[:start] + upper + text[end:]
        elif upper != text[start:end]:
            notes.append(Note("ueb.small-capitals", start, end))
    return text


def _facts(
    passage: Passage, text: str, spans: list[Span], notes: list[Note], link: joined.Link
) -> _Facts:
    facts = _Facts()
    if link.capitals:
        facts.runs = capitals.whole(text, link.ends, not link.inside).runs
    elif capitals.may_hold_passage(text, [text[start:end] for start, end in spans]):
        entries = _apart(passage, spans)
        found = [capitals.passages(text, entry) for entry in entries]
        facts.runs = tuple(run for row in found for run in row.runs)
        notes.extend(
            Note("ueb.capitals-edge", start, end, (("words", text[start:end]),))
            for row in found
            for start, end in row.doubtful
        )
    if passage.forms:
        facts.inserts = typeforms.inserts(
            text, passage.forms, spans, link.before, link.after, link.inside
        )
        facts.runs = typeforms.nested(text, passage.forms, facts.runs, facts.inserts)
        facts.levels = [(row.start, row.end, row.level) for row in typeforms.levels(passage.forms)]
        facts.small = [(low, high) for low, high, bits in passage.forms if bits & SMALL_CAPS]
    facts.foreign = [(start, end, 0) for start, end in foreign(passage, notes)]
    if text.count("-") >= FEWEST_SPELLED:
        for entry in _apart(passage, spans):
            facts.spelled.update(_spelled(text, entry))
    return facts


def _apart(passage: Passage, spans: list[Span]) -> list[list[Span]]:
    """The words of each entry that signs print does not have set in a row, such as the
    semicolons of a table set row by row, and those before, inside and after a transcriber's
    note: no passage runs from one to the next (UEB 8.5.6, where each is a whole by itself)."""
    ends = marks.entry_ends(passage)
    if not ends:
        return [spans]
    out: list[list[Span]] = [[]]
    for span in spans:
        out[-1].append(span)
        if ends and span[1] >= ends[0]:
            out.append([])
        while ends and span[1] >= ends[0]:
            del ends[0]
    return out


def _spelled(text: str, spans: list[Span]) -> dict[int, int]:
    """Grade 1 passages: three or more words spelled letter by letter (UEB 5.4.2)."""
    out: dict[int, int] = {}
    row: list[int] = []
    for start, end in [*spans, (len(text), len(text))]:
        if end > start and _SPELLED.fullmatch(text, start, end):
            row.append(start)
            continue
        if len(row) >= FEWEST_SPELLED:
            out.update(dict.fromkeys(row, 0))
            out[row[0]], out[row[-1]] = 1, 2
        row = []
    return out


def _word(text: str, span: Span, roles: str, facts: _Facts, divide_at: Iterable[int] = ()) -> Word:
    start, end = span
    inserts = facts.inserts
    low, high = bisect_left(inserts, start, key=_at), bisect_right(inserts, end, key=_at)
    return Word(
        text[start:end],
        roles,
        tuple(
            Insert(row.at - start, row.cells, row.opens)
            for row in inserts[low:high]
            if (row.at < end if row.opens else row.at > start)
        ),
        tuple(
            (
                max(run.start, start) - start,
                min(run.end, end) - start,
                run.opens and run.start >= start,
                (run.end <= end and run.closes) * (1 + run.after),
            )
            for run in facts.runs
            if run.start < end and run.end > start
        ),
        _within(facts.levels, start, end),
        tuple((low, high) for low, high, _ in _within(facts.foreign, start, end)),
        facts.spelled.get(start, -1),
        "",
        tuple(at - start for at in divide_at if start < at < end),
        readings=readings.within(facts.decided, start, end),
        literals=tuple((at - start, shown) for at, _, shown in facts.literals if start <= at < end),
    )


_at = attrgetter("at")
_begin = itemgetter(0)


def _within(rows: list[Stretch], start: int, end: int) -> tuple[Stretch, ...]:
    """The stretches that reach a word, by its own places."""
    low = max(0, bisect_right(rows, start, key=_begin) - 1)
    high = bisect_left(rows, end, key=_begin)
    return tuple(
        (max(a, start) - start, min(b, end) - start, value)
        for a, b, value in rows[low:high]
        if b > start
    )
