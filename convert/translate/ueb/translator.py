"""The translator of Unified English Braille: passages to cells, each distinct word once."""

from __future__ import annotations

from collections.abc import Iterable

from ...findings import Findings
from ...settings import Settings
from ..cells import BLANK, Cells, Piece
from ..louis_gate import Gate
from ..passage import Passage
from . import marks, paragraph, quotes
from .letters import Letters
from .planner import plan
from .word import Note, Planned, Word

_Found = tuple[list[tuple[int, Piece]], list[tuple[int, Note]]]


class UebTranslator:
    """Unified English Braille, contracted if ``gate`` is given, else uncontracted."""

    def __init__(self, code: str, settings: Settings, gate: Gate | None) -> None:
        self.code = code
        self._letters = Letters(gate)
        self._choice = settings.quotes
        self._single: bool | None = None
        self._words: dict[Word, Planned] = {}

    def prepare(self, passages: Iterable[Passage]) -> None:
        """Learn which quotation marks predominate in the document (UEB 7.6.1)."""
        self._single = quotes.single_predominates([passage.text for passage in passages])

    def _is_single(self, text: str) -> bool:
        if self._choice != quotes.AUTO:
            return self._choice == quotes.SINGLE
        if self._single is not None:
            return self._single
        return quotes.nested_single(text)

    def translate(self, passage: Passage, findings: Findings) -> Cells:
        """The cells of a passage; odd print is a finding, never an error."""
        single = self._is_single(passage.text)
        found = paragraph.look(passage, single, single)
        words = found.words
        for at, sign in marks.unprinted(passage):
            words.append((at, Word(sign, room=True)))
            words.sort(key=lambda row: row[0])
        pieces, notes = self._pieces(words)
        if _all_capitals(passage.text):
            notes = [note for note in notes if note[1].kind != "ueb.acronym"]
        cells = _laid(pieces, passage)
        for start, note in [*notes, *((0, note) for note in found.notes)]:
            _file(note, start, passage, findings)
        return cells

    def _pieces(self, words: list[tuple[int, Word]]) -> _Found:
        """Each word's piece with its place; words without ink have none."""
        pieces: list[tuple[int, Piece]] = []
        notes: list[tuple[int, Note]] = []
        for start, word in words:
            planned = self._plan(word)
            if planned.piece.cells:
                pieces.append((start, planned.piece))
            notes.extend((start, note) for note in planned.notes)
        return pieces, notes

    def _plan(self, word: Word) -> Planned:
        planned = self._words.get(word)
        if planned is None:
            planned = self._words[word] = plan(word, self._letters)
        return planned


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


def _all_capitals(text: str) -> bool:
    """Whether a passage of several words (a heading) is printed in capitals throughout."""
    return text.isupper() and " " in text.strip()


def _file(note: Note, base: int, passage: Passage, findings: Findings) -> None:
    start = passage.ledger_at(base + note.start)
    end = start + note.end - note.start
    span = None if start < 0 else (start, end)
    findings.add(note.kind, span, note.offer, **dict(note.facts))


