"""The translator of Unified English Braille: passages to cells, each distinct word once."""

from __future__ import annotations

from collections.abc import Iterable

from ...findings import Findings
from ...settings import Settings
from ..cells import BLANK, Cells
from ..louis_gate import Gate
from ..passage import Passage
from . import paragraph, quotes
from .letters import Letters
from .planner import plan
from .word import Note, Planned, Word


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
        out = Cells(passage=passage)
        chunks: list[str] = []
        length = 0
        for start, word in found.words:
            planned = self._plan(word)
            if chunks:
                length += 1
            out.pieces.append(planned.piece)
            out.starts.append(length)
            out.prints.append(start)
            chunks.append(planned.piece.cells)
            length += len(planned.piece.cells)
            for note in planned.notes:
                _file(note, start, passage, findings)
        out.text = BLANK.join(chunks)
        for note in found.notes:
            _file(note, 0, passage, findings)
        return out

    def _plan(self, word: Word) -> Planned:
        planned = self._words.get(word)
        if planned is None:
            planned = self._words[word] = plan(word, self._letters)
        return planned


def _file(note: Note, base: int, passage: Passage, findings: Findings) -> None:
    start = passage.ledger_at(base + note.start)
    end = start + note.end - note.start
    span = None if start < 0 else (start, end)
    findings.add(note.kind, span, note.offer, **dict(note.facts))


