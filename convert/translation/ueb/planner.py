"""The planner: one symbols-sequence to signs, every mode and indicator in its place (UEB 2-10)."""

from __future__ import annotations

from itertools import pairwise

from .. import signs
from ..cells import BLANK
from . import (
    capitals,
    chars,
    drawn,
    grade1,
    lower,
    mentioned,
    notes,
    numbers,
    numeric,
    quotes,
    readings,
)
from .chars import DIGIT, FRACTION, HYPHEN, LETTER, QUOTE, UNKNOWN
from .cuts import at_capitals, cuts_of
from .data import data
from .division import line_breaks, part_at_line_end
from .frame import APOSTROPHE, Frame
from .frame import Letters as Sequence
from .grade1 import Scheme
from .letters import NONE, Letters, Part, spelled
from .word import (
    CAPITAL,
    GRADE1,
    INDICATOR,
    LETTERS,
    LINE_END,
    PUNCTUATION,
    QUOTATION,
    SYMBOL,
    Item,
    Note,
    Planned,
    Word,
    piece,
)

# Stands for a character braille has no sign for (UEB 3.26): shown, never silently dropped.
PLACEHOLDER = "transcriber-defined symbol 2"
_LONGEST_LISTED = 40


def plan(word: Word, letters: Letters) -> Planned:
    """The cells of a word and the findings that go with it."""
    return _Plan(word, letters).run()


class _Plan:
    def __init__(self, word: Word, letters: Letters) -> None:
        self.word, self.letters = word, letters
        self.frame = Frame(word)
        self.contracted = letters.contracted
        self.items: list[Item] = []
        self.notes: list[Note] = []
        row = data()["syllables"].get(word.text[:_LONGEST_LISTED].lower().strip(".,;:!?"), {})
        self.shown = row.get("plain", "").split()
        self.parts = self._parts()
        self.resume = numbers.contractions_resume(self.frame, self.letters)
        self.next_number = numbers.next_number(self.frame, self.resume)
        self.scheme = self._scheme()
        self.level = 0
        # Units before which a sign may stand; with passages, levels or numbers, any.
        self.spots = {*self.frame.inserts, *self.frame.capital_signs, *self.scheme.symbols}
        self.passage = grade1.passage(self.frame)
        self.spots |= {self.scheme.start, self.scheme.end, *self.passage}
        self.busy = bool(word.capitals or any(self.frame.levels) or True in self.frame.after_number)
        self.busy = self.busy or bool(word.readings)

    # ------------------------------------------------------------ before the walk

    def _parts(self) -> dict[int, Part]:
        """Contracted signs of the letters that stand in one part, by their first unit."""
        out: dict[int, Part] = {}
        if not self.contracted:
            return out
        frame = self.frame
        for row in frame.letters:
            cuts = cuts_of(self.frame, row.start, row.end)
            if len(cuts) == 2 and not frame.foreign[row.start] and not frame.levels[row.start]:
                out[row.start] = self._contract(row, row.start, row.end)
        return out

    def _scheme(self) -> Scheme:
        if self.word.spelled >= 0:
            return Scheme(frozenset(), 0)
        if not self.contracted or readings.NUMBERS in self.frame.readings:
            return Scheme(frozenset())
        return grade1.decide(self.frame, self.parts)

    def _gate_text(self, start: int, end: int) -> str:
        return "".join(self.frame.gates[start:end])

    def _contract(self, row: Sequence, start: int, end: int) -> Part:
        frame = self.frame
        text = self._gate_text(start, end)
        left = row.left and start == row.start
        right = row.right and end == row.end
        how = frame.readings[start]
        if how not in readings.CONTRACTED:
            return self.letters.spelled(text, left, right)
        pair = data()["pair"].get(f"{self.word.before} {text}") if self.word.before else None
        if pair:
            return Part(self.letters.written(pair["signs"]), NONE)
        if not how and (text in self.shown or self._said_by_letters(row)):
            return self.letters.spelled(text, left, right)
        if start in frame.divides or end in frame.divides:
            whole = self._gate_text(row.start, row.end)
            around = (row.left, row.right)
            return part_at_line_end(
                self.letters, whole, (start - row.start, end - row.start), around
            )
        return self.letters.part(text, left, right)

    def _said_by_letters(self, row: Sequence) -> bool:
        """Whether print letters are listed as spoken one by one (UEB 10.1.3, 10.12.1)."""
        text = self.frame.text(row.start, row.end)
        if self.frame.in_formula(row.end, text):
            return True
        bare = notes.without_s(text)
        if len(bare) > notes.LONGEST_ACRONYM:
            return False
        special = data()["capitals"].get(text)
        listed = text in data()["said"] and not any(self.frame.in_passage[row.start : row.end])
        listed = listed or bool(notes.said_by_letters(bare, self.letters))
        return listed or bool(special and special.get("spelled"))

    # ------------------------------------------------------------ the walk

    def run(self) -> Planned:
        frame = self.frame
        sequences = {row.start: row for row in frame.letters}
        at = 0
        while at < frame.size:
            if at in frame.divides and at:
                self._line_end(at)
            row = sequences.get(at)
            at = self._sequence(row) if row else self._unit(at)
        self._before(frame.size)
        if self.word.continued:
            self._sign("line continuation with space", frame.size, INDICATOR)
        items = lower.apply(self.items, self.letters) if self.contracted else self.items
        self.notes.extend(notes.of_word(self.frame, self.letters, self.scheme, items))
        breaks = line_breaks(self.word.text, items, self.letters)
        length = 0 if self.word.room else len(self.word.text)
        return Planned(piece(items, length, breaks), tuple(self.notes))

    def _place(self, at: int) -> int:
        frame = self.frame
        return frame.units[at].start if at < frame.size else len(self.word.text) - 1

    def _sign(self, name: str, at: int, kind: int) -> None:
        self.items.append(Item(signs.cells(name), self._place(at), kind))

    def _before(self, at: int) -> None:
        """Everything that stands before a unit, in order: terminators, typeforms, grade 1,
        capitals (UEB 5.8.1, 8.6, 9.8)."""
        if not self.busy and at not in self.spots:
            return
        self._terminators(at)
        inserts = self.frame.inserts.get(at, ())
        for count, insert in enumerate(inserts):
            self._capitals_end(at, count)
            self.items.append(Item(insert.cells, self._place(at), INDICATOR))
        self._capitals_end(at, len(inserts))
        self._level(at)
        name = self._grade1_sign(at)
        if name:
            self._sign(name, at, GRADE1)
        for start, _end, opens, _closes in self.word.capitals:
            if opens and self.frame.index(start) == at:
                self._sign("capitals passage indicator", at, CAPITAL)
        for name in self.frame.capital_signs.get(at, ()):
            if name != capitals.TERMINATOR:
                self._sign(name, at, CAPITAL)

    def _capitals_end(self, at: int, after: int) -> None:
        """The terminator of a passage that stands after so many typeform terminators."""
        frame = self.frame
        for start, end, _opens, closes in self.word.capitals:
            if closes == 1 + after and frame.index(end) == at and frame.index(start) < at:
                self._sign(capitals.TERMINATOR, at, CAPITAL)

    def _terminators(self, at: int) -> None:
        frame = self.frame
        if capitals.TERMINATOR in frame.capital_signs.get(at, ()):
            self._sign(capitals.TERMINATOR, at, CAPITAL)
        if at in (self.scheme.end, self.passage[1]):
            self._sign("grade 1 terminator", at, GRADE1)

    def _grade1_sign(self, at: int) -> str:
        """The grade 1 sign that stands before a unit, if any."""
        if numeric.inside(self.frame, at):
            name = "grade 1 symbol indicator"
            return name if numeric.needs_grade1(self.frame, at, self.contracted) else ""
        if at == self.passage[0]:
            return "grade 1 passage indicator"
        if at == self.scheme.start and self.word.spelled < 0:
            return "grade 1 word indicator"
        if at in self.scheme.symbols:
            return "grade 1 symbol indicator"
        if at == self.resume:
            return "grade 1 terminator"
        if at < self.frame.size and grade1.after_number(self.frame, at):
            return "grade 1 symbol indicator"
        return ""

    def _grade1_at(self, at: int) -> bool:
        """Whether grade 1 mode is in force at a unit."""
        if self.scheme.covers(at):
            return True
        return self.frame.after_number[at] and not self._resumed(at)

    def _resumed(self, at: int) -> bool:
        """Whether a grade 1 terminator before a unit still holds: no number since (UEB 6.5.1)."""
        return 0 <= self.resume <= at <= self.next_number

    # ------------------------------------------------------------ letters

    def _sequence(self, row: Sequence) -> int:
        cuts = cuts_of(self.frame, row.start, row.end)
        for start, end in pairwise(cuts):
            if start in self.frame.divides and start != row.start:
                self._line_end(start)
            self._part(row, start, end)
        return row.end

    def _part(self, row: Sequence, start: int, end: int) -> None:
        frame = self.frame
        plain = (
            not self.contracted
            or frame.foreign[start]
            or frame.levels[start]
            or self._grade1_at(start)
            or numeric.inside(frame, start)
        )
        if plain:
            groups = spelled(self._gate_text(start, end))
        elif frame.after_number[start] and self._resumed(start):
            groups = self.letters.part(self._gate_text(start, end), False, False).groups
        else:
            part = self.parts.get(start) if end == row.end else None
            groups = (part or self._contract(row, start, end)).groups
        if frame.capital_signs and APOSTROPHE in frame.kinds[start:end]:
            groups = at_capitals(frame, self.letters, groups, start)
        sole = row.alone and len(groups) == 1 and (start, end) == (row.start, row.end)
        for low, high, cells in groups:
            at = start + low
            self._before(at)
            if high - low == 1 and frame.kinds[at] == LETTER:
                self._letter(at, cells, sole)
            else:
                text = self._gate_text(at, start + high)
                self.items.append(Item(cells, frame.units[at].start, LETTERS, text, sole))

    def _letter(self, at: int, cells: str, sole: bool) -> None:
        unit = self.frame.units[at]
        letter = self.frame.faces[at]
        if letter is None or letter.plain:
            text = unit.text.lower()
            self.items.append(Item(cells, unit.start, LETTERS, text, sole and len(text) > 1))
            return
        marks = chars.unknown_modifiers(unit.text)
        if marks:
            facts = (("name", " and ".join(map(chars.name_of, marks))), ("letter", unit.text))
            self.notes.append(Note("ueb.unknown-modifier", unit.start, unit.end, facts))
        self.items.append(Item(letter.cells, unit.start, LETTERS))
        if letter.second:
            names = self.frame.capital_signs.get(at, [])
            if "capital letter indicator" in names:
                self.items.append(Item(signs.cells(names[-1]), unit.start, CAPITAL))
            self.items.append(Item(letter.second, unit.start, LETTERS))

    # ------------------------------------------------------------ everything else

    def _unit(self, at: int) -> int:
        kind = self.frame.kinds[at]
        if kind == DIGIT or numbers.decimal_point(self.frame, at):
            return self._number(at)
        self._before(at)
        if kind == UNKNOWN or (not at and drawn.typed(self.word.text)):
            return self._unknown(at)
        unit = self.frame.units[at]
        if kind == FRACTION:
            self.items.extend(numbers.fraction(unit, numeric.inside(self.frame, at)))
        elif kind == QUOTE:
            self.items.append(Item(quotes.cells(self.frame.roles[at]), unit.start, QUOTATION))
        elif kind == APOSTROPHE:
            self.items.append(Item(signs.by_print()["'"].cells, unit.start, PUNCTUATION))
        else:
            self._mark(at)
        return at + 1

    def _number(self, at: int) -> int:
        self._before(at)
        end = numbers.end_of(self.frame, at)
        self.items.extend(numbers.items(self.frame, at, end))
        return end

    def _unknown(self, at: int) -> int:
        frame, unit = self.frame, self.frame.units[at]
        end = frame.size if frame.kinds[at] != UNKNOWN else drawn.across(frame, at)
        if end > at:
            self.items.extend(drawn.items(frame, at, end))
            self.notes.append(drawn.told(frame, at, end))
            return end
        cells = dict(self.word.literals).get(unit.start, "") or mentioned.braille(frame, at)
        if not cells:
            cells = signs.cells(PLACEHOLDER)
            self.notes.append(notes.of_unknown(unit, cells))
        self.items.append(Item(cells, unit.start, SYMBOL))
        return at + 1

    def _mark(self, at: int) -> None:
        """A punctuation mark or symbol, with the grade 1 sign it may need (UEB 7.1.3, 7.5)."""
        unit = self.frame.units[at]
        # A fraction slash outside a fraction is a solidus.
        row = signs.by_print().get(unit.text) or signs.by_print()["/"]
        row_kind = PUNCTUATION if row.kind == "punctuation" else SYMBOL
        row_kind = QUOTATION if unit.text in chars.GUILLEMETS else row_kind
        if self._mark_needs(at, row.cells, row.grade1):
            self._sign("grade 1 symbol indicator", at, GRADE1)
        self.items.append(Item(row.cells, unit.start, row_kind))
        if row.shape and (at + 1 < self.frame.size or at + 1 in self.frame.inserts):
            self.items.append(Item(signs.cells("shape terminator"), unit.start, INDICATOR))

    def _mark_needs(self, at: int, cells: str, flagged: bool) -> bool:
        frame = self.frame
        if self._grade1_at(at) or frame.levels[at]:
            return False
        text = frame.units[at].text
        if text == "?":
            return frame.edge_left(at)
        if not self.contracted or frame.foreign[at]:
            return False
        if flagged:
            return True
        if at and frame.units[at - 1].text == text:
            return False
        after = at + 1
        while after < frame.size and frame.units[after].text == text:
            after += 1
        if not self._small_letter(after):
            return False
        if text in (".", ":", ";") and after == at + 1 and frame.edge_left(at):
            return True
        middle = any(row.cells == cells for row in signs.of_kind("middle groupsign").values())
        return middle and at > 0 and frame.kinds[at - 1] == LETTER and at not in frame.inserts

    def _small_letter(self, at: int) -> bool:
        """Whether a letter without any indicator before it stands there."""
        frame = self.frame
        if at >= frame.size or frame.kinds[at] != LETTER:
            return False
        return not (at in frame.capital_signs or at in frame.inserts or at in self.scheme.symbols)

    def _level(self, at: int) -> None:
        """Level indicators and braille grouping (UEB 3.24, 3.4) where the level changes."""
        frame = self.frame
        level = frame.levels[at] if at < frame.size else 0
        if level == self.level:
            return
        if self.level and self.grouped:
            self._sign("closing braille grouping", at, INDICATOR)
        self.level = level
        if not level:
            return
        end = at
        while end < frame.size and frame.levels[end] == level:
            end += 1
        single = numbers.is_item(frame, at, end)
        self.grouped = not single
        if self.contracted and not self._grade1_at(at):
            form = "symbol" if single else "word"
            self._sign(f"grade 1 {form} indicator", at, GRADE1)
        name = "superscript" if level == chars.SUPERSCRIPT else "subscript"
        self._sign(f"{name} indicator", at, INDICATOR)
        if not single:
            self._sign("opening braille grouping", at, INDICATOR)

    grouped = False

    # ------------------------------------------------------------ ends

    def _line_end(self, at: int) -> None:
        """A braille line ends before a unit: a hyphen inside letters (UEB 10.13)."""
        frame = self.frame
        place = frame.units[at].start
        letters = (LETTER, APOSTROPHE)
        if frame.kinds[at - 1] in letters and frame.kinds[at] in letters:
            self.items.append(Item(signs.by_print()[HYPHEN].cells, place, PUNCTUATION))
        self.items.append(Item(BLANK, place, LINE_END))
