"""The translator of Unified English Braille: passages to cells, each distinct word once."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from itertools import accumulate
from operator import add

from ...findings import Findings
from ...settings import Settings
from ..cells import BLANK, Cells, Piece
from ..louis_gate import Gate
from ..passage import Passage
from . import capitals, chars, marks, paragraph, quotes
from .letters import Letters
from .notes import invisible
from .planner import plan
from .quick import Quick
from .word import Note, Planned, Word

_Entry = tuple[Piece, str]
_ONE_MORE = (1).__add__
# Holds the place of a word that is planned by itself.
_ANY_WORD = "a"
# What in a word makes a paragraph worth a second look: marks whose direction must be followed,
# two capitals together, digits that may belong to a group, letters joined one by one.
_WATCHED = re.compile(r"[\"‘+]|[A-ZÀ-ÖØ-Þ]{2}|^\d{3}|(?<![^\W_])[^\W\d_]-")


class _Memo(dict[str, _Entry]):
    """Pieces of plain words by their text, each with its cells and a blank; made on demand."""

    def __init__(self, make: Callable[[str], _Entry]) -> None:
        super().__init__()
        self._make = make

    def __missing__(self, token: str) -> _Entry:
        entry = self[token] = self._make(token)
        return entry


class UebTranslator:
    """Unified English Braille, contracted if ``gate`` is given, else uncontracted."""

    def __init__(self, code: str, settings: Settings, gate: Gate | None) -> None:
        self.code = code
        self._letters = Letters(gate)
        self._quick = Quick(self._letters)
        self._choice = settings.quotes
        self._single: bool | None = None
        self._words: dict[Word, Planned] = {}
        self._quoted: dict[tuple[str, str], Planned] = {}
        self._memos = {False: _Memo(self._plain), True: _Memo(self._plain_single)}
        self._notes: dict[str, tuple[Note, ...]] = {}
        self._awkward: set[str] = {"“", "”", *paragraph.firsts()}
        self._watched: set[str] = {*self._awkward}

    def prepare(self, passages: Iterable[Passage]) -> None:
        """Learn which quotation marks predominate in the document (UEB 7.6.1)."""
        self._single = quotes.single_predominates([passage.text for passage in passages])

    def _is_single(self, text: str) -> bool:
        if self._choice != quotes.AUTO:
            return self._choice == quotes.SINGLE
        if self._single is not None:
            return self._single
        return quotes.single_predominates([text])

    def translate(self, passage: Passage, findings: Findings) -> Cells:
        """The cells of a passage; odd print is a finding, never an error."""
        single = self._is_single(passage.text)
        cells = None
        if not passage.divide_at and all(mark.what == "turn" for mark in passage.marks):
            tokens = passage.text.split()
            prints = _places(passage.text, tokens)
            if prints is not None:
                plain = not (passage.forms or passage.langs)
                way = self._bare if plain else self._touched
                cells = way(passage, tokens, prints, single, findings)
        return self._look(passage, single, findings) if cells is None else cells

    def _bare(
        self,
        passage: Passage,
        tokens: list[str],
        prints: list[int],
        single: bool,
        findings: Findings,
    ) -> Cells | None:
        """A paragraph whose words depend on nothing around them; None where they do."""
        entries = [*map(self._memos[single].__getitem__, tokens)]
        if not self._watched.isdisjoint(tokens) and not self._is_plain(
            passage.text, tokens, single
        ):
            return None
        cells = _laid_plain(entries, prints, passage)
        if not self._notes.keys().isdisjoint(tokens):
            self._file_plain(tokens, cells, findings)
        return cells

    def _touched(
        self,
        passage: Passage,
        tokens: list[str],
        prints: list[int],
        single: bool,
        findings: Findings,
    ) -> Cells | None:
        """A paragraph plain but for typeforms and languages."""
        spans = [*zip(prints, map(add, prints, map(len, tokens)), strict=True)]
        found = paragraph.touch(passage, spans, single)
        rest = tokens.copy()
        for at in found.words:
            rest[at] = _ANY_WORD
        entries = [*map(self._memos[single].__getitem__, rest)]
        watched = not self._watched.isdisjoint(rest) or any(
            word.text in self._awkward or _WATCHED.search(word.text) or (single and word.roles)
            for word in found.words.values()
        )
        if watched and not self._is_plain(passage.text, tokens, single):
            return None
        notes = [(0, note) for note in found.notes]
        for at, word in found.words.items():
            planned = self._planned("", "", word)
            if not planned.piece.cells:
                return None
            entries[at] = planned.piece, planned.piece.cells + BLANK
            notes.extend((prints[at], note) for note in planned.notes)
        cells = _laid_plain(entries, prints, passage)
        for start, note in notes:
            _file(note, start, passage, findings)
        if not self._notes.keys().isdisjoint(rest):
            self._file_plain(rest, cells, findings)
        return cells

    def _is_plain(self, text: str, tokens: list[str], single: bool) -> bool:
        """Whether no word of a text depends on another after all: no passage of capitals or
        spelled words, no quotation mark whose direction must be followed, no digit group."""
        if quotes.needs_state(text, single) or not self._awkward.isdisjoint(tokens):
            return False
        if text.count("-") >= paragraph.FEWEST_SPELLED or paragraph.may_join(text):
            return False
        return not capitals.may_hold_passage(text, tokens)

    def _file_plain(self, tokens: list[str], cells: Cells, findings: Findings) -> None:
        passage = cells.passage
        headline = passage is not None and _all_capitals(passage.text)
        for token, start in zip(tokens, cells.prints, strict=True):
            for note in self._notes.get(token, ()):
                if passage and not (headline and note.kind == "ueb.acronym"):
                    _file(note, start, passage, findings)

    def _look(self, passage: Passage, single: bool, findings: Findings) -> Cells:
        """The way of a paragraph whose words depend on one another."""
        found = paragraph.look(passage, single)
        words = found.words
        rooms = [
            paragraph.Token(at, sign, "", Word(sign, room=True))
            for at, sign in marks.unprinted(passage)
        ]
        if rooms:
            words = sorted([*rooms, *words], key=lambda token: token.start)
        pieces: list[tuple[int, Piece]] = []
        notes = [(0, note) for note in found.notes]
        headline = _all_capitals(passage.text)
        memo = self._memos[single]
        for start, text, roles, word in words:
            if word is None and not roles:
                piece, found_notes = memo[text][0], self._notes.get(text, ())
            else:
                planned = self._planned(text, roles, word)
                piece, found_notes = planned.piece, planned.notes
            if piece.cells:
                pieces.append((start, piece))
            for note in found_notes:
                if not (headline and note.kind == "ueb.acronym"):
                    notes.append((start, note))
        for start, note in notes:
            _file(note, start, passage, findings)
        return _laid(pieces, passage)

    def _planned(self, text: str, roles: str, word: Word | None) -> Planned:
        """A word's plan, made once."""
        if word is not None:
            planned = self._words.get(word)
            if planned is None:
                planned = self._words[word] = plan(word, self._letters)
            return planned
        planned = self._quoted.get((text, roles))
        if planned is None:
            planned = self._quoted[text, roles] = self._plan(text, roles)
        return planned

    def _plan(self, text: str, roles: str) -> Planned:
        """A word that nothing around it touches."""
        seen = text if text.isprintable() else chars.without_invisible(text)
        piece = self._quick.piece(seen, roles)
        if piece is None:
            return plan(Word(text, roles), self._letters)
        if seen == text:
            return Planned(piece)
        return Planned(_spread(piece, text), tuple(invisible(text)))

    def _plain(self, token: str, single: bool = False) -> _Entry:
        """The entry of a token whose marks need no state of the paragraph."""
        roles = quotes.plain_roles(token, single)
        planned = self._plan(token, roles)
        if planned.notes:
            self._notes[token] = planned.notes
        if not planned.piece.cells:
            self._awkward.add(token)
        if token in self._awkward or _WATCHED.search(token) or (single and roles):
            self._watched.add(token)
        return planned.piece, planned.piece.cells + BLANK

    def _plain_single(self, token: str) -> _Entry:
        return self._plain(token, True)


def _places(text: str, tokens: list[str]) -> list[int] | None:
    """Where words begin that stand one space apart; None if they do not."""
    prints = [0, *accumulate(map(_ONE_MORE, map(len, tokens)))]
    regular = prints.pop() == len(text) + 1 and text.count(" ") == len(tokens) - 1
    return prints if regular else None


def _laid_plain(entries: list[_Entry], prints: list[int], passage: Passage) -> Cells:
    """Pieces of words one space apart, laid end to end."""
    padded = [entry[1] for entry in entries]
    starts = [0, *accumulate(map(len, padded))]
    del starts[-1]
    text = "".join(padded)[:-1]
    cells = Cells(text, [entry[0] for entry in entries], starts, prints, passage=passage)
    if passage.marks:
        cells.marks = marks.carried(passage, cells)
    return cells


def _laid(pieces: list[tuple[int, Piece]], passage: Passage) -> Cells:
    """Pieces end to end, one blank cell between two."""
    out = Cells(passage=passage)
    length = 0
    for start, piece in pieces:
        out.starts.append(length)
        out.prints.append(start)
        out.pieces.append(piece)
        length += len(piece.cells) + 1
    out.text = BLANK.join([piece.cells for _, piece in pieces])
    if passage.marks:
        out.marks = marks.carried(passage, out)
    return out


def _spread(piece: Piece, text: str) -> Piece:
    """The piece of a text without its invisible characters, placed on the text with them."""
    places = [at for at, char in enumerate(text) if not chars.invisible(char)]
    origin = tuple(places[at] for at in piece.origin)
    return Piece(piece.cells, origin, piece.sign, len(text), piece.breaks)


def _all_capitals(text: str) -> bool:
    """Whether a passage of several words (a heading) is printed in capitals throughout."""
    return text.isupper() and " " in text.strip()


def _file(note: Note, base: int, passage: Passage, findings: Findings) -> None:
    start = passage.ledger_at(base + note.start)
    end = start + note.end - note.start
    span = None if start < 0 else (start, end)
    findings.add(note.kind, span, note.offer, **dict(note.facts))
