"""What a person should judge about one word (UEB 5.10, 10.1.3, 10.1.4, 10.12)."""

from __future__ import annotations

import re
from functools import cache

from .. import signs
from ..cells import ascii_of, dots_of
from . import chars, lookalikes
from . import spoken as spoken_letters
from .data import data
from .frame import Frame
from .frame import Letters as Sequence
from .grade1 import Scheme
from .letters import Letters, cells_of, spelled
from .word import Item, Note

# Longer capital words are hardly ever spoken letter by letter (common practice, no source).
LONGEST_ACRONYM = 5
# Parts joined by hyphens, in brackets, some of them in capitals for the stress, as a dictionary
# or a reader respells a word (common practice, no source; UEB 10.1 leaves it to judgement).
RESPELLING = re.compile(r"[^\W\d_]+[′’']?(?:[-·][ˈˌ]?[^\W\d_]+[′’']?)+")
_STRESS, _MANY_SYLLABLES = "′’'ˈˌ", 4
# Notes in text, and the block of musical symbols (Unicode).
_NOTES = frozenset("♩♪♫♬")
_FIRST_MUSIC, _LAST_MUSIC = "\U0001d100", "\U0001d1ff"
_BRACKETS = re.compile(r"^[(\[/]|[)\]/][.,;:!?]*$")
_OF_WORDS = frozenset(
    (
        "alphabetic wordsign",
        "strong wordsign",
        "strong contraction",
        "lower wordsign",
        "initial-letter contraction",
        "shortform",
    )
)


# Marks around a word that are no part of its form.
_AROUND = ".,;:!?()[]{}“”‘’\"'"


def of_word(frame: Frame, letters: Letters, scheme: Scheme, items: list[Item]) -> list[Note]:
    """The findings about a word."""
    out = [Note("ueb.ordinal-on-line", start, end) for start, end in frame.ordinals]
    if frame.minuses:
        shown = frame.word.text.strip(_AROUND)
        start = frame.word.text.index(shown)
        out.append(Note("ueb.raised-minus", start, start + len(shown)))
    out.extend(lookalikes.of_word(frame.word.text, frame.word.levels))
    if not any(frame.readings):
        out.extend(lookalikes.minus(frame.word.text))
    if not frame.word.text.isprintable():
        out.extend(invisible(frame.word.text))
    if not letters.contracted:
        return out
    for row in frame.letters:
        if row.end - row.start > 1 and not frame.foreign[row.start]:
            out.extend(_of_letters(frame, row, letters))
    found = RESPELLING.search(frame.word.text)
    if found and is_respelling(frame.word.text):
        out.append(Note("ueb.respelling", *found.span(), (("word", found.group()),)))
    if scheme.start >= 0 and frame.word.spelled < 0:
        cells = "".join(item.cells for item in items)
        facts = (("word", frame.word.text), ("dots", spoken(cells)))
        out.append(Note("ueb.grade1-word", 0, len(frame.word.text), facts))
    return out


def of_unknown(unit: chars.Unit, cells: str) -> Note:
    """The finding about a character without a sign, in whose place ``cells`` stand."""
    script, dots = chars.script_of(unit.text), ("dots", spoken(cells))
    kind = "ueb.other-script" if script else "ueb.unknown-character"
    if unit.text in _NOTES or _FIRST_MUSIC <= unit.text[0] <= _LAST_MUSIC:
        kind, script = "ueb.music", ""
    name = ("script", script) if script else ("name", chars.name_of(unit.text))
    return Note(kind, unit.start, unit.end, (name, dots))


def invisible(text: str) -> list[Note]:
    """The characters without ink, each a finding."""
    return [
        Note("ueb.invisible", at, at + 1, (("name", chars.name_of(char)),))
        for at, char in enumerate(text)
        if chars.invisible(char) and char != chars.NOTHING
    ]


def is_respelling(text: str) -> bool:
    """Whether a word in brackets looks like the respelling of a pronunciation: syllables, the
    stressed one in capitals (pih-CHUR; from four on a second one too), or with letters that
    only respelling has (koh-luh-yoo)."""
    if not _BRACKETS.search(text):
        return False
    found = RESPELLING.search(text)
    if found is None:
        return False
    parts = [part.strip(_STRESS) for part in re.split("[-·]", found.group())]
    loud = [part for part in parts if part.isupper() and len(part) > 1]
    quiet = [part for part in parts if part.islower()]
    if len(loud) + len(quiet) != len(parts) or not _words("affixes").isdisjoint(quiet):
        return False
    if not loud:
        sounds = _words("sounds")
        return not sounds.isdisjoint(quiet) and not _words("exclamations").issuperset(quiet)
    return len(loud) == 1 or (len(loud) < len(parts) and len(parts) >= _MANY_SYLLABLES)


def _of_letters(frame: Frame, row: Sequence, letters: Letters) -> list[Note]:
    text = frame.text(row.start, row.end)
    if without_s(text) != text:
        text, row = text[:-2], row._replace(end=row.end - 2)
    place = (frame.units[row.start].start, frame.units[row.end - 1].end)
    out: list[Note] = []
    free = not (frame.in_passage[row.start] or frame.after_number[row.start])
    if frame.in_formula(row.end, text):
        return []
    if text.isupper() and len(text) <= LONGEST_ACRONYM and free:
        out.extend(_acronym(text, row, place, letters))
    if text.lower() in data()["either"] and row.alone:
        other = letters.written(data()["either"][text.lower()]["signs"])
        if cells_of(other) == cells_of(letters.part(text.lower(), True, True).groups):
            other = spelled(text.lower())
        facts = (("word", text), ("other", cells_of(other)), *_said("other", cells_of(other)))
        out.append(Note("ueb.two-forms", *place, facts))
    if row.alone and (text in _words("syllables") or _beside_syllable(frame, row)):
        spelling = spoken(cells_of(spelled(text.lower())))
        facts = (("word", frame.word.text), ("part", text), ("letters_dots", spelling))
        out.append(Note("ueb.syllables", *place, facts))
    return out


def _acronym(text: str, row: Sequence, place: tuple[int, int], letters: Letters) -> list[Note]:
    if not text.isascii() or not text.isalpha() or text.lower() in _contraction_words():
        return []
    part = letters.part(text.lower(), row.left, row.right)
    plain, short = cells_of(spelled(text.lower())), cells_of(part.groups)
    if part.need or plain == short:
        return []
    facts = (("word", text), *_said("contracted", short), *_said("letters", plain))
    why = said_by_letters(text, letters)
    if why:
        return [Note("ueb.acronym-decided", *place, (*facts, ("why", why)))]
    return [Note("ueb.acronym", *place, facts)]


def said_by_letters(text: str, letters: Letters) -> str:
    """Why capitals are letters spoken one by one, where no person need be asked."""
    if not (text.isupper() and text.isascii() and text.isalpha()):
        return ""
    return letters.said.get(text) or spoken_letters.by_shape(text)


def without_s(text: str) -> str:
    """An acronym without the ’s that follows it; any other letters as they are."""
    return text[:-2] if text[-2:] in ("’s", "'s") and text[:-2].isupper() else text


def _said(name: str, cells: str) -> tuple[tuple[str, str], ...]:
    return ((f"{name}_cells", ascii_of(cells)), (f"{name}_dots", spoken(cells)))


def spoken(cells: str) -> str:
    """Cells as a person says them: "dots 1-2, dot 3, blank"."""
    said = {
        dots: f"dots {dots}" if "-" in dots else f"dot {dots}" for dots in dots_of(cells).split()
    }
    said["0"] = "blank"
    return ", ".join([said[dots] for dots in dots_of(cells).split()])


def _beside_syllable(frame: Frame, row: Sequence) -> bool:
    """Whether hyphens join a wordsign to what is hardly ever a word (but-ton)."""
    text = frame.text(row.start, row.end)
    if text not in signs.of_kind("alphabetic wordsign"):
        return False
    parts = {frame.text(other.start, other.end) for other in frame.letters if other != row}
    return bool(parts & (_words("syllables") | _words("endings of words")))


@cache
def _words(name: str) -> frozenset[str]:
    return frozenset(data()["list"][name]["words"].split())


@cache
def _contraction_words() -> frozenset[str]:
    """Words of which a contraction is made: in capitals they are words, not acronyms."""
    words = [row for row in signs.signs() if row.kind in _OF_WORDS]
    return frozenset(row.print for row in words) - {"it", "us"}
