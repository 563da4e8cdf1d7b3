"""Characters of mathematics: their fonts, and text cut into numbers, letters and signs."""

from __future__ import annotations

import re
import unicodedata
from functools import cache

from .data import words
from .tree import (
    BAR,
    CLOSE,
    CLOSERS,
    INVISIBLE,
    OPEN,
    OTHER,
    PAIRS,
    SEPARATOR,
    Leaf,
    Letter,
    Name,
    Number,
    Sign,
    Space,
    Words,
)

_FONT_WORDS = (
    ("BOLD", "bold"),
    ("SCRIPT", "script"),
    ("FRAKTUR", "fraktur"),
    ("BLACK-LETTER", "fraktur"),
    ("DOUBLE-STRUCK", "double-struck"),
    ("SANS-SERIF", "sans-serif"),
    ("MONOSPACE", "monospace"),
)
_BARS, _SEPARATORS = frozenset("|‖¦∣∥⦀"), frozenset(",;")
_FUNCTIONS = frozenset("\u2061\u2062\u2063\u2064")
# Characters with neither ink nor room.
NO_INK = dict.fromkeys(
    map(ord, "\u200b\u200c\u200d\u200e\u200f\u2060\ufeff\u00ad\ufe00\ufe0e\ufe0f")
)
# Other ways of writing a sign: the hyphen of a formula is its minus (MathML 3, 3.2.5.1), a
# straight quote its prime, and sequences of the operator dictionary one sign.
SAME = {
    "-": "−", "﹣": "−", "－": "−", "'": "′", "’": "′", "''": "″", "||": "‖", "...": "…",
    "⋯": "…", "‾": "¯", "∣∣": "‖", "〈": "⟨", "〉": "⟩", "\u2329": "⟨", "\u232a": "⟩",
}  # fmt: skip

NUMBER = r"[.,]?[0-9]+(?:[.,][0-9]+|[\u00a0\u2009\u202f][0-9]{3}(?![0-9]))*"
# Numerals that are signs of their own: fractions, and raised and lowered characters.
_OWN = r"[\u00b2\u00b3\u00b9\u00bc-\u00be\u2070-\u209c\u2150-\u215f\u2189]"
_MARKS = r"[\u0300-\u036f\u20d0-\u20ff]*"
_PIECE = re.compile(
    rf"(?P<number>{NUMBER})|(?P<own>{_OWN})|(?P<letters>(?:(?!{_OWN})[^\W\d_]{_MARKS})+)"
    rf"|(?P<space>\s+)|(?P<sign>.{_MARKS})"
)
_MARKED = re.compile(rf".{_MARKS}")
# Ordinary spaces hold a numeral together only where the source calls it one number.
_NUMERAL = re.compile(r"[.,]?[0-9]+(?:[.,][0-9]+|[\u00a0\u2009\u202f ][0-9]{3}(?![0-9]))*")
_SENTENCE = frozenset(".,;:")
_SIGNS = r"[()\[\]+=<>±×·\u2190-\u21ff\u2212\u2248\u2260\u2264\u2265\u21cc-]"


@cache
def plain(char: str) -> tuple[str, str]:
    """A styled character of Unicode as its plain form and its font; others as they are.

    Covers the mathematical alphanumerics and the letterlike symbols with a font.
    """
    if not unicodedata.decomposition(char).startswith("<font>"):
        return char, ""
    name = unicodedata.name(char)
    fonts = dict.fromkeys(font for word, font in _FONT_WORDS if word in name)
    return unicodedata.normalize("NFKC", char), " ".join(fonts)


def unstyled(text: str, font: str) -> tuple[str, str]:
    """``text`` in plain characters, and its font: that of its characters, or ``font``."""
    if text.isascii():
        return text, font
    pairs = [plain(char) for char in text.translate(NO_INK)]
    fonts = {own for _, own in pairs if own}
    joined = "".join(char for char, _ in pairs)
    return joined, fonts.pop() if len(fonts) == 1 else font


def sign(text: str, path: str, role: str = "") -> Sign:
    """A Sign in its usual form, with the role its character or the source gives it."""
    text = SAME.get(text, text)
    return Sign(text, path, role or role_of(text))


@cache
def role_of(text: str) -> str:
    """The role a sign has by itself."""
    if text in PAIRS:
        return OPEN
    if text in CLOSERS:
        return CLOSE
    if text in _BARS:
        return BAR
    if text in _FUNCTIONS:
        return INVISIBLE
    return SEPARATOR if text in _SEPARATORS else OTHER


def letters(text: str, path: str, font: str, upright: bool = False) -> Leaf:
    """A Letter, or a Name where ``text`` has several letters.  A letter keeps its accents."""
    if len(text) == 1:
        return Letter(text, path, font, upright)
    text = unicodedata.normalize("NFC", text)
    if sum(not unicodedata.combining(char) for char in text) > 1:
        return Name(text, path, font)
    return Letter(text, path, font, upright)


def is_numeral(text: str) -> bool:
    """Whether ``text`` is a whole numeral with its points, commas and digit spaces."""
    return _NUMERAL.fullmatch(text) is not None


def cut(text: str, path: str, font: str = "") -> tuple[Leaf, ...]:
    """``text`` as leaves: numerals, letters (several together are a Name), spaces, signs."""
    text, font = unstyled(text, font)
    text = text if text.isascii() else unicodedata.normalize("NFC", text)
    out: list[Leaf] = []
    for match in _PIECE.finditer(text):
        found = match[0]
        if match.lastgroup == "number":
            out.append(Number(found, path, font))
        elif match.lastgroup == "letters":
            runs = [found] if found.isalpha() else _MARKED.findall(found)
            out.extend(letters(run, path, font) for run in runs)
        elif match.lastgroup == "space":
            out.append(Space(path))
        else:
            out.append(sign(found, path))
    return tuple(out)


@cache
def _formula() -> re.Pattern[str]:
    """A word that is part of a formula: a letter, or element symbols, capitals, Greek letters,
    numerals and signs."""
    elements = "|".join(sorted(words("elements"), key=len, reverse=True))
    called = "|".join(sorted(words("functions"), key=len, reverse=True))
    called = rf"(?:{called})\([A-Za-z]\)"
    return re.compile(rf"[A-Za-z]|(?:{called}|{elements}|[A-Z\u0391-\u03c9]|{NUMBER}|{_SIGNS})+")


def phrase(text: str, path: str) -> tuple[Leaf, ...]:
    """The leaves of text inside an expression.

    Text of nothing but letters, element symbols, numerals, signs and functions of a letter, with
    or without sentence punctuation at its end, is a formula typed as text; in other text, signs
    that stand between spaces are signs and the rest is Words.
    """
    tokens = text.split()
    bare = text.rstrip()
    bare = bare[:-1] if bare[-1:] in _SENTENCE and bare[1:] else bare
    if all(_formula().fullmatch(token) for token in bare.split()):
        return cut(text, path)
    out: list[Leaf] = [Space(path)] if text[0].isspace() else []
    run: list[str] = []
    for token in tokens:
        if re.fullmatch(_SIGNS, token):
            if run:
                out.append(Words(" ".join(run), path))
            out.append(sign(token, path))
            run = []
        else:
            run.append(token)
    if run:
        out.append(Words(" ".join(run), path))
    return (*out, Space(path)) if text[-1].isspace() else tuple(out)


@cache
def level_of(char: str) -> tuple[str, str]:
    """A raised or lowered character of Unicode as the plain one, with ``super`` or ``sub``."""
    kind, _, codes = unicodedata.decomposition(char).partition(" ")
    if kind in ("<super>", "<sub>"):
        return "".join(chr(int(code, 16)) for code in codes.split()), kind.strip("<>")
    return char, ""
