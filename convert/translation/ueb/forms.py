"""The forms a person may choose between, as cells, for what no rule can decide.

The forms are planned like any word, so they are what the edition would hold.
"""

from __future__ import annotations

from ...findings import Form
from ..cells import BLANK
from . import phonetic
from .letters import Letters
from .notes import spoken
from .planner import plan
from .readings import LETTERS, UNCONTRACTED, WORD
from .word import Note, Word

_READINGS = {
    "ueb.acronym": ((LETTERS, "spoken letter by letter"), (WORD, "read as a word")),
    "ueb.acronym-decided": ((LETTERS, "spoken letter by letter"), (WORD, "read as a word")),
    "ueb.syllables": ((LETTERS, "part of a word shown in syllables"), (WORD, "a word")),
    "ueb.respelling": ((UNCONTRACTED, "a pronunciation, uncontracted"), (WORD, "words")),
}


def form(label: str, text: str, cells: str) -> Form:
    """One form, its cells also in words."""
    return Form(label, text, cells, spoken(cells))


def judged(notes: tuple[Note, ...], word: Word, letters: Letters) -> tuple[Note, ...]:
    """The findings about a word with the forms there are; letters that look like others are
    one finding, not also letters of another script."""
    if any(note.kind == "ueb.look-alike" for note in notes):
        notes = tuple(note for note in notes if note.kind != "ueb.other-script")
    notes = phonetic.one_note(notes, word.text)
    plain = word._replace(inserts=(), readings=(), divide=())
    made = (_with_forms(note, plain, letters) for note in notes)
    return tuple(note for note in made if not _is_idle(note))


def _is_idle(note: Note) -> bool:
    """Whether the ways to read a syllable give the same cells: there is nothing to choose."""
    return note.kind == "ueb.syllables" and len({row.cells for row in note.forms}) == 1


def _with_forms(note: Note, word: Word, letters: Letters) -> Note:
    text = word.text[note.start : note.end]
    if note.kind in _READINGS:
        forms = []
        for how, label in _READINGS[note.kind]:
            read = word._replace(readings=((note.start, note.end, how),))
            forms.append(form(label, text, _cells_of(read, note, letters)[0]))
        return note._replace(forms=tuple(forms))
    if note.kind == "ueb.two-forms":
        cells, signs = _cells_of(word, note, letters)
        other = cells[:signs] + str(dict(note.facts)["other"])
        forms = [form("as set", text, cells), form("the other form", text, other)]
        facts = tuple(row for row in note.facts if row[0] != "other")
        return note._replace(forms=tuple(forms), facts=(*facts, ("other_braille", other)))
    return note


def _cells_of(word: Word, note: Note, letters: Letters) -> tuple[str, int]:
    """The cells of the stretch of a finding, and how many indicators begin them."""
    piece = plan(word, letters).piece
    places = [at for at, place in enumerate(piece.origin) if note.start <= place < note.end]
    cells = "".join([piece.cells[at] for at in places])
    signs = [piece.sign[at] for at in places]
    return cells, signs.index(0) if 0 in signs else len(signs)


def of_stretch(note: Note, text: str, letters: Letters) -> Note:
    """A finding about several words with the forms there are."""
    shown = text[note.start : note.end]
    if note.kind == "ueb.numbers-joined":
        apart = BLANK.join(_of_words(shown, letters, False))
        one = plan(Word(shown), letters).piece.cells
        forms = (form("one number", shown, one), form("separate numbers", shown, apart))
    elif note.kind in ("ueb.initials", "ueb.capitals-edge"):
        apart = BLANK.join(_of_words(shown, letters, False))
        one = BLANK.join(_of_words(shown, letters, True))
        each = form("each word with its own capitals", shown, apart)
        forms = (each, form("one passage of capitals", shown, one))
    else:
        return note
    braille = (("first_braille", forms[0].cells), ("second_braille", forms[1].cells))
    return note._replace(forms=forms, facts=(*note.facts, *braille))


def _of_words(text: str, letters: Letters, passage: bool) -> list[str]:
    """The cells of words, each by itself or together one passage of capitals (UEB 8.5)."""
    words = text.split()
    last = len(words) - 1
    out = []
    for at, word in enumerate(words):
        end = len(word.rstrip(".,;:!?)")) if at == last and word[-1] in ".,;:" else len(word)
        capitals = ((0, end, not at, at == last),) if passage else ()
        out.append(plan(Word(word, capitals=capitals), letters).piece.cells)
    return out
