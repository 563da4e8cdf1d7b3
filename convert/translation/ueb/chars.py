"""Print characters one by one: what a character is, before anybody asks what stands beside it."""

from __future__ import annotations

import re
import tomllib
import unicodedata
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import NamedTuple

from .. import signs

SUPERSCRIPT, SUBSCRIPT = 1, 2
LETTER, DIGIT, FRACTION, QUOTE, SIGN, UNKNOWN = "l", "d", "f", "q", "s", "x"
QUOTES = frozenset("“”‘’\"'")
GUILLEMETS = frozenset("«»")
# Holds the place of print that a sign replaces; never shown, never reported.
NOTHING = "\x00"
HYPHEN, DASHES = "-", frozenset("–—―")
CLOSING_MARKS = frozenset(".,;:!?…)]}”’\"'»")
# Spaces that hold a number together (UEB 6.6): no-break, figure, punctuation, thin, narrow.
NUMBER_SPACES = "\u00a0\u2007\u2008\u2009\u202f"
_LEVELS = {"<super>": SUPERSCRIPT, "<sub>": SUBSCRIPT}
# What the contraction table is shown for a letter it need not know: a letter with a modifier,
# which may stand in no contraction (UEB 4.2.4).
_STAND_IN = "é"
_KNOWN_BY_TABLE = frozenset("àáâãäåæçèéêëìíîïñòóôõöøùúûüýÿ")


_OWN_SCRIPTS = {
    *("LATIN", "GREEK", "COMBINING", "MODIFIER", "MATHEMATICAL", "SCRIPT", "BLACK-LETTER"),
    *("DOUBLE-STRUCK", "FEMININE", "MASCULINE", "SUPERSCRIPT", "SUBSCRIPT", "OHM", "KELVIN"),
    *("ANGSTROM", "MICRO", "ALEF", "BET", "GIMEL", "DALET"),
}
# First words of the names of marks and digits that belong with a script's letters.
_CJK = frozenset(("CJK", "IDEOGRAPHIC", "FULLWIDTH", "HALFWIDTH"))
_SCRIPTS_OF_MARKS = {
    *("ARABIC", "ARABIC-INDIC", "ARMENIAN", "BENGALI", "DEVANAGARI", "ETHIOPIC", "GEORGIAN"),
    *("GUJARATI", "GURMUKHI", "HEBREW", "KANNADA", "KATAKANA", "KHMER", "LAO", "MALAYALAM"),
    *("MONGOLIAN", "MYANMAR", "SINHALA", "SYRIAC", "TAMIL", "TELUGU", "THAI", "TIBETAN"),
}
_BETWEEN_QUOTES = re.compile("(?<=[“”‘’])[\u2009\u200a\u202f](?=[“”‘’])")
# Stands for a mark over or under a letter that has no sign of its own (UEB 4.2.7).
UNKNOWN_MODIFIER = "transcriber-defined modifier 1"


class Unit(NamedTuple):
    """One character as print means it: ``text`` normalised, its place, its level."""

    text: str
    start: int
    end: int
    level: int = 0


@dataclass(frozen=True, slots=True)
class Letter:
    """A letter.  ``cells`` without capitals sign; ``second`` the ligature sign and second
    letter, if it is one (UEB 4.3); ``gate`` what the contraction table sees."""

    capital: bool
    cells: str
    gate: str
    plain: bool
    second: str = ""


@cache
def same() -> dict[str, str]:
    """Characters read as another (``variants.toml``)."""
    file = resources.files(__package__) / "variants.toml"
    return dict(tomllib.loads(file.read_text("utf-8"))["same"])


@cache
def invisible(char: str) -> bool:
    """Whether a character has no ink and no width: soft hyphen, joiners, byte-order mark."""
    return unicodedata.category(char) == "Cf" or char in "\ufe0e\ufe0f\u034f" or char == NOTHING


def quotes_together(text: str) -> str:
    """A text in which the hair spaces print sets between two quotation marks are nothing.

    They keep the marks from touching in print; braille writes such marks unspaced (UEB 7.6.2
    shows nested marks so).
    """
    return _BETWEEN_QUOTES.sub(NOTHING, text)


def without_invisible(text: str) -> str:
    """A text without its invisible characters."""
    return "".join(char for char in text if not invisible(char))


@cache
def letter(text: str) -> Letter | None:
    """The letter a unit is, or None.  ``text`` is one base character with its modifiers."""
    low = text.lower()
    capital = low != text
    if len(text) == 1 and text.isascii():
        plain = signs.of_kind("letter").get(low) if low.isalpha() else None
        return Letter(capital, plain.cells, low, True) if plain else None
    if low in signs.of_kind("ligature"):
        row = signs.of_kind("ligature")[low]
        first, last = (signs.of_kind("letter")[part].cells for part in row.letters)
        return Letter(capital, first, _gate(low), False, row.cells + last)
    known = signs.of_kind("letter").get(low)
    if known:
        return Letter(capital, known.cells, _gate(low), False)
    return _modified(low, capital)


def _gate(low: str) -> str:
    return low if low in _KNOWN_BY_TABLE else _STAND_IN


def _modified(low: str, capital: bool) -> Letter | None:
    """A letter under modifiers (UEB 4.2): their signs come first; grouping if over two letters."""
    parts = unicodedata.normalize("NFD", low)
    modifiers = signs.of_kind("modifier")
    unknown = modifiers[UNKNOWN_MODIFIER]
    marks = [modifiers.get(part, unknown) for part in parts if unicodedata.combining(part)]
    bases = [part for part in parts if not unicodedata.combining(part)]
    letters = [signs.of_kind("letter").get(base) for base in bases]
    if not marks or not letters or not all(letters):
        return None
    spelled = "".join(row.cells for row in letters if row)
    if len(bases) > 1:
        if not any(mark.double for mark in marks):
            return None
        opening = signs.cells("opening braille grouping")
        spelled = opening + spelled + signs.cells("closing braille grouping")
    composed = unicodedata.normalize("NFC", low)
    return Letter(capital, "".join(mark.cells for mark in marks) + spelled, _gate(composed), False)


def unknown_modifiers(text: str) -> list[str]:
    """The marks over or under a letter that the table of modifiers lacks."""
    parts = unicodedata.normalize("NFD", text)
    known_marks = signs.of_kind("modifier")
    return [part for part in parts if unicodedata.combining(part) and part not in known_marks]


def _double_marks() -> frozenset[str]:
    return frozenset(p for p, row in signs.of_kind("modifier").items() if row.double)


def units(text: str) -> list[Unit]:
    """A stretch without spaces as units; invisible characters make none."""
    if text.isascii():
        return [Unit(char, at, at + 1) for at, char in enumerate(text) if char != NOTHING]
    out: list[Unit] = []
    at, doubles = 0, _double_marks()
    while at < len(text):
        end = at + 1
        while end < len(text) and (
            unicodedata.combining(text[end]) or (text[end - 1] in doubles and end - 1 > at)
        ):
            end += 1
        out.extend(_read(text[at:end], at, end))
        at = end
    return out


def _read(cluster: str, start: int, end: int) -> list[Unit]:
    """The units of a base character with what is written over or under it."""
    if len(cluster) > 1 and any(invisible(char) for char in cluster):
        cluster = "".join(char for char in cluster if not invisible(char))
    if not cluster or (len(cluster) == 1 and invisible(cluster)):
        return []
    composed = same().get(cluster, unicodedata.normalize("NFC", cluster))
    if known(composed):
        return [Unit(composed, start, end)]
    parts = unicodedata.decomposition(composed[0]).split()
    level = _LEVELS.get(parts[0], 0) if parts else 0
    plain = unicodedata.normalize("NFKD", composed)
    spread = [same().get(char, char) for char in plain]
    if plain != composed and all(known(char) or unicodedata.combining(char) for char in spread):
        again = unicodedata.normalize("NFC", "".join(spread))
        return [Unit(char, start, end, level) for char in again if not char.isspace()]
    return [Unit(composed, start, end)]


@cache
def kind(text: str) -> str:
    """Which of the six kinds a unit is."""
    if text in QUOTES:
        return QUOTE
    if text.isascii() and text.isdigit():
        return DIGIT
    if letter(text):
        return LETTER
    if unicodedata.decomposition(text[0]).startswith("<fraction>") or "\u2044" in text[1:]:
        return FRACTION
    if text in signs.by_print() or text == "\u2044" or text in NUMBER_SPACES:
        return SIGN
    return UNKNOWN


def known(text: str) -> bool:
    """Whether the table of signs can write a unit."""
    return kind(text) != UNKNOWN


def name_of(text: str) -> str:
    """The character's name and code, for a person to read."""
    char = text[0]
    code = f"U+{ord(char):04X}"
    name = unicodedata.name(char, "without a name").lower()
    return f"{name} ({code})"


def script_of(text: str) -> str:
    """The script of a letter or mark this code has no signs for (“Cyrillic”), from the
    character's own name; empty for a symbol, or for a letter of a script the code knows."""
    char = text[0]
    first = unicodedata.name(char, "").partition(" ")[0]
    if first in _CJK:
        return "CJK"
    if unicodedata.category(char)[0] not in "LMPN" or first in _OWN_SCRIPTS or not first:
        return ""
    if unicodedata.category(char)[0] in "PN" and first not in _SCRIPTS_OF_MARKS:
        return ""
    return first if first == "CJK" else first.capitalize()
