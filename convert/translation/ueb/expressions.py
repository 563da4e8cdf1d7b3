"""Mathematical expressions inside text: their cells among the words (UEB 11, 14.6).

The words a formula touches (a bracket before it, a full stop after it) and the formula are one
piece, since no space parts them.  A formula without usable source is written as its words in
transcriber's note indicators, so that it can never be read as the formula.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, NamedTuple

from ...document.nodes import MathRun
from ...maths.cells import NEMETH, TEX, UEB, CodeSign, MathCells
from ...maths.data import own_signs
from ...maths.render import given, render
from ..cells import BLANK, Cells, Piece
from ..passage import Passage
from ..signs import by_print
from ..signs import cells as sign_cells
from .paragraph import Token
from .quotes import MARKS
from .word import Insert, Note, Planned, Word

PlanWord = Callable[[str, str, Word | None], Planned]
_QUOTE = 60
_READ_AS_DIGITS = frozenset("⠁⠃⠉⠙⠑⠋⠛⠓⠊⠚")
_HYPHENS = frozenset("-‐‑–—")
_OMITTED = "formula not transcribed"


class Formula(NamedTuple):
    """An expression: its place in the passage's text, and what is known of it."""

    start: int
    end: int
    run: MathRun


class Written(NamedTuple):
    """A piece that holds formulas, what to tell, and its cells before which a line begins."""

    piece: Piece
    notes: list[Note]
    lines: tuple[int, ...] = ()
    fixed: tuple[int, ...] = ()
    signs: frozenset[CodeSign] = frozenset()


def of(passage: Passage) -> list[Formula]:
    """The expressions of a passage."""
    return [
        Formula(mark.at, mark.at + mark.value.end - mark.value.start, mark.value)
        for mark in passage.marks
        if isinstance(mark.value, MathRun)
    ]


def gathered(words: Sequence[Token], formulas: Sequence[Formula]) -> list[Token]:
    """The words, with a place for every formula that print shows only by room."""
    out = list(words)
    for formula in formulas:
        if not any(w.start <= formula.start <= formula.end <= w.start + len(w.text) for w in out):
            out.append(Token(formula.start, "", "", None))
    return sorted(out, key=lambda word: (word.start, len(word.text)))


def inside(word: Token, formulas: list[Formula]) -> list[Formula]:
    """Takes from ``formulas`` those that stand in a word."""
    end = word.start + len(word.text)
    found = [f for f in formulas if word.start <= f.start and f.end <= end]
    for formula in found:
        formulas.remove(formula)
    return found


def settle(cells: Cells, written: dict[int, Written]) -> None:
    """Mark, in the cells of a passage, the blanks of its formulas that hold their place and the
    lines of rows and columns; ``written`` is by number of the piece."""
    fixed = set(cells.fixed)
    marks = list(cells.marks)
    for number, row in written.items():
        start = cells.starts[number]
        fixed.update(start + at for at in row.fixed)
        lines = [start + at for at in row.lines]
        if lines and number:
            lines.append(start)
        if lines and number + 1 < len(cells.starts):
            lines.append(cells.starts[number + 1])
        marks.extend((cell, "line", None) for cell in lines)
    cells.fixed = frozenset(fixed)
    cells.technical = frozenset[CodeSign]().union(*(row.signs for row in written.values()))
    cells.marks = tuple(sorted(marks, key=lambda mark: mark[0]))


class Scribe:
    """Writes words with formulas in them."""

    def __init__(self, code: str, contracted: bool, plan: PlanWord) -> None:
        self._code, self._contracted, self._plan = code, contracted, plan

    def write(self, word: Token, formulas: Sequence[Formula], passage: Passage) -> Written:
        """The piece of a word and the formulas in it."""
        build = _Build(word.start)
        at = 0
        used = 0
        for formula in formulas:
            used = self._words(build, word, (at, formula.start - word.start), used)
            self._formula(build, formula, passage)
            at = formula.end - word.start
        self._words(build, word, (at, len(word.text)), used)
        return build.done(len(word.text))

    def _words(self, build: _Build, word: Token, span: tuple[int, int], used: int) -> int:
        """The words of ``word`` from one place to another; how many quotation marks are used."""
        start, end = span
        text = word.text[start:end]
        if not text:
            return used
        count = sum(char in MARKS for char in text)
        roles = word.roles[used : used + count]
        cut = None if word.word is None else _cut(word.word, start, end, roles)
        planned = self._plan(text, roles, cut)
        build.words(planned.piece, start, text)
        build.notes.extend(
            note._replace(start=note.start + start, end=note.end + start) for note in planned.notes
        )
        return used + count

    def _formula(self, build: _Build, formula: Formula, passage: Passage) -> None:
        span = (formula.start - build.base, formula.end - build.base)
        words = passage.text[formula.start : formula.end]
        made = self._rendered(formula.run, words)
        quote = " ".join(words.split())[:_QUOTE]
        if not made.cells:
            build.note(self._spoken(words.split()), span)
            build.notes.append(_unread(span, quote, made))
            return
        build.formula(made, span, words)
        for what, text in made.problems:
            told = (("words", quote), ("what", what), ("text", text[:_QUOTE]))
            build.notes.append(Note("maths.part-not-transcribed", *span, told))
        for doubt in made.doubts:
            form = (("words", quote), ("what", doubt))
            build.notes.append(Note("maths.form-in-doubt", *span, form))
        own = own_signs() if made.code == UEB else {}
        for sign in sorted({leaf.text for leaf in made.leaves if leaf.text in own}):
            named = (("sign", sign), ("name", own[sign].name), ("words", quote))
            build.notes.append(Note("maths.own-sign", *span, named))
        if made.via == TEX:
            build.notes.append(Note("maths.from-tex", *span, (("words", quote),)))
        if made.lines:
            facts = (("words", quote), ("lines", str(len(made.lines) + 1)))
            build.notes.append(Note("maths.rows", *span, facts))

    def _rendered(self, run: MathRun, words: str) -> MathCells:
        """The cells of a formula: those a person gave, or those of its source."""
        code = run.code or self._code
        if run.cells:
            return given(run.cells, words, code)
        if not run.mathml.strip():
            return MathCells("", ())
        contract = self._contract if self._contracted else None
        return render(run.mathml, code, contracted=self._contracted, contract=contract, switch=True)

    def _contract(self, word: str, alone: bool) -> str:
        """A word inside an expression: contracted as standing alone, or as between slashes,
        where it begins no word (UEB 2.6, 10.6.1)."""
        if alone:
            return self._plan(word, "", None).piece.cells
        edge = len(by_print()["/"].cells)
        return self._plan(f"/{word}/", "", None).piece.cells[edge:-edge]

    def _spoken(self, words: list[str]) -> list[str]:
        return [self._plan(word, "", None).piece.cells for word in words or _OMITTED.split()]


class _Build:
    """Cells of one piece, as they are written."""

    def __init__(self, base: int) -> None:
        self.base = base
        self.cells = ""
        self.origin: list[int] = []
        self.sign = bytearray()
        self.breaks: list[int] = []
        self.joins: list[tuple[int, str, str]] = []
        self.lines: list[int] = []
        self.fixed: list[int] = []
        self.signs: set[CodeSign] = set()
        self.notes: list[Note] = []
        self._open = ""

    def words(self, piece: Piece, start: int, text: str) -> None:
        """The words before, between or after formulas.  Letters after one are outside its
        grade 1 mode, which a hyphen ends only if a numeral set it (UEB 5.3, 5.5, 6.5.1)."""
        goes_on = any(map(str.isalpha, text)) and not (
            text[0] in _HYPHENS and self._open == "number"
        )
        if self._open and goes_on:
            self._add(sign_cells("grade 1 terminator"), start, 1)
        here = len(self.cells)
        self._open = ""
        self.cells += piece.cells
        self.origin.extend(start + at for at in piece.origin)
        self.sign.extend(piece.sign)
        self.breaks.extend(here + at for at in piece.breaks)
        self.joins.extend((here + at, tail, lead) for at, tail, lead in piece.joins)

    def formula(self, made: MathCells, span: tuple[int, int], words: str) -> None:
        if (
            made.code != NEMETH
            and self.cells[-1:] in _READ_AS_DIGITS
            and made.cells[0] in _READ_AS_DIGITS
        ):
            self._add(sign_cells("grade 1 symbol indicator"), span[0], 1)
        self.signs |= made.signs
        here = len(self.cells)
        ends = set(made.breaks)
        joins = dict(made.joins)
        places = _places(made, words)
        for at, cell in enumerate(made.cells):
            if cell == BLANK and at not in ends:
                self.fixed.append(here + at)
            elif cell != BLANK and at in ends and here + at:
                self.breaks.append(here + at)
                if at in joins:
                    self.joins.append((here + at, joins[at], ""))
            self.origin.append(span[0] + places[at])
        self.cells += made.cells
        self.sign.extend(leaf < 0 for leaf in made.origin)
        self.lines.extend(here + at for at in made.lines)
        self._open = "" if made.code == NEMETH else _mode(made.cells)

    def note(self, words: list[str], span: tuple[int, int]) -> None:
        """Words in transcriber's note indicators."""
        opening, closing = (
            sign_cells("opening transcriber's note"), sign_cells("closing transcriber's note"),
        )  # fmt: skip
        self._open = ""
        self._add(opening + BLANK.join(words) + closing, span[0], 0)

    def _add(self, cells: str, place: int, sign: int) -> None:
        self.cells += cells
        self.origin.extend([place] * len(cells))
        self.sign.extend(bytes((sign,)) * len(cells))

    def done(self, length: int) -> Written:
        top = 0
        for at, place in enumerate(self.origin):
            top = self.origin[at] = max(top, min(place, max(0, length - 1)))
        for at in range(len(self.cells) - 2, -1, -1):
            # What stands before an empty cell is whole on the line that ends there.
            if self.cells[at] == BLANK:
                self.origin[at] = self.origin[at + 1]
        if self.origin:
            # A divisor is printed before what stands above it.
            self.origin[0] = 0
        piece = Piece(
            self.cells, tuple(self.origin), bytes(self.sign), length, tuple(self.breaks),
            tuple(self.joins),
        )  # fmt: skip
        signs = frozenset(self.signs)
        return Written(piece, self.notes, tuple(self.lines), tuple(self.fixed), signs)


def _unread(span: tuple[int, int], quote: str, made: MathCells) -> Note:
    """The finding about a formula without cells: unreadable, or without a source."""
    if not made.problems:
        return Note("ueb.math-not-transcribed", *span, (("words", quote),))
    facts = (("words", quote), ("what", made.problems[0][0]))
    return Note("maths.not-read", *span, facts)


def _places(made: MathCells, words: str) -> list[int]:
    """For each cell the offset in the formula's print it stands for, never going back."""
    found: list[int] = []
    cursor = 0
    for leaf in made.leaves:
        at = words.find(leaf.text, cursor) if leaf.text else -1
        found.append(cursor if at < 0 else at)
        cursor = cursor if at < 0 else at + len(leaf.text)
    return [found[at] if 0 <= at < len(found) else 0 for at in made.origin]


def _mode(cells: str) -> str:
    """The grade 1 mode in force at the end of a formula: ``word``, ``number`` or none."""
    last = cells.rsplit(BLANK)[-1]
    terminator = sign_cells("grade 1 terminator")
    if terminator in last:
        return ""
    if last.startswith(sign_cells("grade 1 word indicator")):
        return "word"
    return "number" if sign_cells("numeric indicator") in last else ""


def _cut(word: Word, start: int, end: int, roles: str) -> Word:
    """A stretch of a word, with what its neighbours decide."""

    def within(rows: tuple[tuple[Any, ...], ...]) -> list[tuple[Any, ...]]:
        return [
            (max(row[0], start) - start, min(row[1], end) - start, *row[2:])
            for row in rows
            if row[0] < end and row[1] > start
        ]

    last = end == len(word.text)
    inserts = tuple(
        Insert(row.at - start, row.cells, row.opens)
        for row in word.inserts
        if start <= row.at < end or (row.at == end and (last or not row.opens))
    )
    return word._replace(
        text=word.text[start:end],
        roles=roles,
        inserts=inserts,
        capitals=tuple((a, b, bool(c), bool(d)) for a, b, c, d in within(word.capitals)),
        levels=tuple((a, b, c) for a, b, c in within(word.levels)),
        foreign=tuple((a, b) for a, b in within(word.foreign)),
        divide=tuple(at - start for at in word.divide if start < at < end),
        readings=tuple((a, b, c) for a, b, c in within(word.readings)),
        literals=tuple((at - start, c) for at, c in word.literals if start <= at < end),
    )
