"""The translator of Unified English Braille: passages to cells, each distinct word once."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from itertools import accumulate
from operator import itemgetter

from ...document.inlines import PROGRAM
from ...findings import Findings
from ...settings import Settings
from ..cells import BLANK, Cells, Piece
from ..louis_gate import Gate
from ..passage import Passage
from . import chars, expressions, forms, joined, marks, paragraph, phonetic, quotes, spoken
from .dividing import Divider, long_word
from .foreign import CODE, Foreign
from .keys import Inserts, Key, keyed
from .letters import Letters
from .memo import Shelf, memos
from .notes import invisible
from .planner import plan
from .quick import Quick
from .readings import settled
from .syllables import finder
from .vocabulary import learn, pieces
from .watch import Watch
from .word import Insert, Note, Planned, Word

_ONE_MORE, _CELLS = (1).__add__, itemgetter(0)
_LINE = 40  # Cells of a line where the settings leave it to the convention.
# Characters of a document whose words are worth looking up together.
_WORTH_LEARNING = 2000
# Marks around a word that nothing is watched for.
_AROUND = ".,;:!?…()[]{}“”‘’\"'"


class UebTranslator:
    """Unified English Braille, contracted if ``gate`` is given, else uncontracted."""

    def __init__(self, code: str, settings: Settings, gate: Gate | None) -> None:
        self.code = code
        self._letters = Letters(gate)
        self._quick = Quick(self._letters)
        self._scribe = expressions.Scribe(settings.math, gate is not None, self._planned)
        in_code = settings.foreign == CODE
        self._foreign = Foreign(settings.foreign_tables) if in_code else None
        self._divider = self._dividing(settings)
        self._choice = settings.quotes
        self._single: bool | None = None
        self._learned = False
        self._links: dict[joined.Key, joined.Link] = {}
        self._shelf = self._shelved(settings, gate)
        self._kept = self._shelf.read() if self._shelf else {}
        self._memos = memos(self._made, self._made_single, self._kept)
        self._notes: dict[Key, tuple[Note, ...]] = {}
        # Words with findings or to be watched, and what for.
        self._firsts = paragraph.firsts()
        self._marked: set[Key] = set()
        self._watch = Watch()
        # Words with an acronym, which a work may settle, and what this work shows of them.
        self._acronyms: set[Key] = set()
        self._work = spoken.Work()

    def _shelved(self, settings: Settings, gate: Gate | None) -> Shelf | None:
        """Where the memo is kept between runs, if it is; words that may be divided are not."""
        if settings.memo is None or self._divider.divides_words:
            return None
        return Shelf(settings.memo, self.code, self._divider.fewest, gate.recipe if gate else "")

    def keep(self) -> None:
        """Keep the memo for later runs, if the settings name a folder for it."""
        if self._shelf is not None:
            told = self._marked
            rows = [row for memo in self._memos.values() for row in memo.worth_keeping(told)]
            self._shelf.write(dict(rows))

    def _dividing(self, settings: Settings) -> Divider:
        def planned(word: Word) -> Planned:
            return plan(word, self._letters)

        if settings.divide_words:
            return Divider(self._letters, planned, finder())
        return Divider(self._letters, planned, None, long_word(settings.cells or _LINE))

    def prepare(self, passages: Iterable[Passage]) -> None:
        """Learn which quotation marks predominate in the document (UEB 7.6.1), and which
        passages go on over several paragraphs (UEB 8.5.5, 9.9)."""
        known = list(passages)
        self._single = quotes.single_predominates([passage.text for passage in known])
        self._links = joined.links(known)
        self._forget_acronyms(known)
        self._learn(known)

    def _forget_acronyms(self, passages: list[Passage]) -> None:
        """Another work may show other capitals to be letters spoken one by one."""
        self._work = spoken.Work([passage.text for passage in passages])
        for key in self._acronyms:
            for memo in self._memos.values():
                memo.pop(key, None)
            self._notes.pop(key, None)
        self._acronyms.clear()
        self._letters.said.clear()

    def _decided(self, key: Key, notes: tuple[Note, ...]) -> bool:
        """Whether print shows capitals of a word to be letters, as nobody knew before."""
        found = [note for note in notes if note.kind in spoken.KINDS]
        if found:
            self._acronyms.add(key)
        words = [str(dict(note.facts)["word"]) for note in found if note.kind == spoken.ASKED]
        more = {word: why for word in words if (why := self._work.why(word))}
        self._letters.said.update(more)
        return bool(more)

    def _learn(self, passages: list[Passage]) -> None:
        """Look up the words of a whole document together, once: that takes fewest calls."""
        if self._learned or sum(len(passage.text) for passage in passages) < _WORTH_LEARNING:
            return
        self._learned = True
        tokens: set[str] = set()
        for passage in passages:
            tokens.update(passage.text.split())
        tokens.difference_update(self._kept)
        plain = learn(tokens, self._letters)
        if not self._divider.divides_words:
            self._memos[self._is_single("")].update(pieces(plain, self._quick))

    def _is_single(self, text: str) -> bool:
        if self._choice != quotes.AUTO:
            return self._choice == quotes.SINGLE
        if self._single is not None:
            return self._single
        return quotes.single_predominates([text])

    def translate(self, passage: Passage, findings: Findings) -> Cells:
        """The cells of a passage; odd print is a finding, never an error."""
        if passage.langs:
            passage = phonetic.coded(passage, findings)
            if self._foreign is not None and passage.langs:
                passage = self._foreign.coded(passage, findings)
        link = (
            self._links.get(joined.key_of(passage), joined.ALONE) if self._links else joined.ALONE
        )
        if not passage.text.isascii():
            text = chars.quotes_together(passage.text)
            if text is not passage.text:
                passage = replace(passage, text=text)
        single = self._is_single(passage.text)
        cells = None
        program = any(voice == PROGRAM for _, _, voice in passage.voices)
        bound = program or passage.divide_at or passage.choices or link is not joined.ALONE
        if not bound and all(mark.what == "turn" for mark in passage.marks):
            cells = self._bulk(passage, single, findings)
        return self._look(passage, single, findings, link) if cells is None else cells

    def _bulk(self, passage: Passage, single: bool, findings: Findings) -> Cells | None:
        """A paragraph whose words are decided one by one, all at once; None where words
        depend on one another after all."""
        notes: list[Note] = []
        text = paragraph.small_capitals(passage, notes) if passage.forms else passage.text
        tokens = text.split()
        prints = _places(text, tokens)
        if prints is None:
            return None
        keys: list[Key] = [*tokens]
        if passage.forms or passage.langs or quotes.needs_state(text, single):
            keys = keyed(passage, text, tokens, prints, single, notes)
        pieces = [*map(self._memos[single].__getitem__, keys)]
        marked = self._marked.intersection(keys)
        if marked and self._watch.depends(marked, text, tokens, prints):
            return None
        cells = _laid_plain(pieces, prints, passage)
        if not single:
            notes += paragraph.enclosing_notes(text)
        for note in notes:
            _file(note, 0, passage, findings)
        if marked and not self._notes.keys().isdisjoint(marked):
            headline = _all_capitals(passage.text)
            for key, start in zip(keys, prints, strict=True):
                if key in self._notes:
                    self._file_notes(self._notes[key], start, headline, passage, findings)
        return cells

    def _file_notes(
        self, notes: tuple[Note, ...], start: int, headline: bool, passage: Passage,
        findings: Findings,
    ) -> None:  # fmt: skip
        """The findings about a word; no acronym is looked for in a heading all in capitals, nor
        in capitals that the work has as a word elsewhere."""
        for note in notes:
            asked = note.kind == spoken.ASKED
            if asked and (headline or self._work.has_word(note.facts[0][1])):
                continue
            _file(spoken.in_place(note, passage.text, start), start, passage, findings)

    def _look(
        self, passage: Passage, single: bool, findings: Findings, link: joined.Link = joined.ALONE
    ) -> Cells:
        """The way of a paragraph whose words depend on one another."""
        found = paragraph.look(passage, single, link)
        words = found.words
        rooms = [
            paragraph.Token(at, sign, "", Word(sign, room=True))
            for at, sign in marks.unprinted(passage)
        ]
        if rooms:
            words = sorted([*rooms, *words], key=lambda token: token.start)
        formulas = expressions.of(passage)
        if formulas:
            words = expressions.gathered(words, formulas)
        for note in found.notes:
            _file(forms.of_stretch(note, passage.text, self._letters), 0, passage, findings)
        pieces: list[tuple[int, Piece]] = []
        written: dict[int, expressions.Written] = {}
        headline = _all_capitals(passage.text)
        for token in words:
            inner = expressions.inside(token, formulas) if formulas else []
            if inner:
                row = written[len(pieces)] = self._scribe.write(token, inner, passage)
                piece, notes = row.piece, tuple(row.notes)
            else:
                piece, notes = self._memos[single][token.key], self._notes.get(token.key, ())
            if piece.cells:
                pieces.append((token.start, piece))
            self._file_notes(notes, token.start, headline, passage, findings)
        cells = _laid(pieces, passage)
        if written:
            expressions.settle(cells, written)
        return cells

    def _planned(self, text: str, roles: str, word: Word | None) -> Planned:
        """The plan of part of a word, for what stands beside a formula."""
        return plan(word, self._letters) if word else self._of_text(text, roles)

    def _made(self, key: Key, single: bool = False) -> Piece:
        """The piece of a word.  One without facts of its own has the marks of a paragraph
        whose marks need no state."""
        if isinstance(key, str):
            if not self._divider.divides_words and key.rstrip(",.;:").lower() not in self._firsts:
                found = self._quick.plain(key)
                if found is not None:
                    return found
            token = key
            piece, notes = self._of_text(token, quotes.plain_roles(token, single))
        elif isinstance(key, Word):
            token = key.text
            piece, notes = plan(key, self._letters)
        else:
            token = key[0]
            piece, notes = self._of_parts(*key)
        if notes:
            if self._decided(key, notes):
                piece, notes = plan(_word_of(key, single), self._letters)
            self._notes[key] = forms.judged(notes, _word_of(key, single), self._letters)
            self._marked.add(key)
        # Nothing a paragraph is watched for is in a word of small letters, but for the pairs.
        core = token.strip(_AROUND)
        plain = core.isalpha() and core[1:].islower() and token.lower() not in self._firsts
        if not plain and self._watch.note(key, token, piece.cells):
            self._marked.add(key)
        if len(piece.cells) >= self._divider.fewest and not any(map(chars.invisible, token)):
            piece = self._divider.divided(piece, _word_of(key, single))
        return piece

    def _made_single(self, key: Key) -> Piece:
        return self._made(key, True)

    def _of_parts(self, text: str, roles: str, inserts: Inserts) -> Planned:
        """The plan of a word that indicators at most touch: the short way if it is plain."""
        if not inserts:
            return self._of_text(text, roles)
        formed = self._quick.formed(text, roles, inserts)
        if formed is not None:
            return Planned(formed)
        return plan(Word(text, roles, tuple([Insert(*row) for row in inserts])), self._letters)

    def _of_text(self, text: str, roles: str) -> Planned:
        """The plan of a word that nothing around it touches."""
        if text.isprintable():
            piece = self._quick.piece(text, roles)
            return plan(Word(text, roles), self._letters) if piece is None else Planned(piece)
        piece = self._quick.piece(chars.without_invisible(text), roles)
        if piece is None:
            return plan(Word(text, roles), self._letters)
        return Planned(_spread(piece, text), tuple(invisible(text)))


def _word_of(key: Key, single: bool) -> Word:
    """The whole word a key stands for."""
    if isinstance(key, Word):
        return key
    if isinstance(key, str):
        return Word(key, quotes.plain_roles(key, single))
    text, roles, inserts = key
    return Word(text, roles, tuple([Insert(*row) for row in inserts]))


def _places(text: str, tokens: list[str]) -> list[int] | None:
    """Where words begin that stand one space apart; None if they do not."""
    if not text:
        return []
    prints = [0, *accumulate(map(_ONE_MORE, map(len, tokens)))]
    regular = prints.pop() == len(text) + 1 and text.count(" ") == len(tokens) - 1
    return prints if regular else None


def _laid_plain(pieces: list[Piece], prints: list[int], passage: Passage) -> Cells:
    """Pieces of words one space apart, laid end to end."""
    each = [*map(_CELLS, pieces)]
    starts = [0, *accumulate(map(_ONE_MORE, map(len, each)))]
    del starts[-1]
    cells = Cells(BLANK.join(each), pieces, starts, prints, passage=passage)
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
    at = base + note.start
    if passage.choices and settled(note.kind, at, base + note.end, passage.choices):
        return
    start = passage.ledger_at(base + note.start)
    end = start + note.end - note.start
    span = None if start < 0 else (start, end)
    findings.add(note.kind, span, note.forms, (), **dict(note.facts))
