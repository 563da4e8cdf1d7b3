"""Number formats of Word lists, notes and pages (ISO/IEC 29500-1, 17.18.59 ST_NumberFormat)."""

from __future__ import annotations

from collections.abc import Callable

_ROMAN = (
    (1000, "M"), (900, "CM"), (500, "D"), (400, "CD"), (100, "C"), (90, "XC"), (50, "L"),
    (40, "XL"), (10, "X"), (9, "IX"), (5, "V"), (4, "IV"), (1, "I"),
)  # fmt: skip
_SMALL = (
    "Zero", "One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine", "Ten",
    "Eleven", "Twelve", "Thirteen", "Fourteen", "Fifteen", "Sixteen", "Seventeen", "Eighteen",
    "Nineteen",
)  # fmt: skip
_TENS = (
    "Zero", "Ten", "Twenty", "Thirty", "Forty", "Fifty", "Sixty", "Seventy", "Eighty", "Ninety",
)  # fmt: skip
_ORDINAL = {
    "One": "First", "Two": "Second", "Three": "Third", "Five": "Fifth", "Eight": "Eighth",
    "Nine": "Ninth", "Twelve": "Twelfth",
}  # fmt: skip
_NOTE_SIGNS = "*†‡§"
_LONGEST = 780


def format_number(value: int, form: str) -> str | None:
    """``value`` in a number format; ``None`` for a format this program does not know."""
    if form == "none":
        return ""
    if form == "bullet":
        return "•"
    if form in ("decimal", ""):
        return str(value)
    maker = _MAKERS.get(form)
    if maker is None:
        return None
    return maker(value) if 0 < value <= _LONGEST or form in _ANY else str(value)


def _roman(value: int) -> str:
    out = ""
    for size, sign in _ROMAN:
        while value >= size:
            out, value = out + sign, value - size
    return out


def _letter(value: int) -> str:
    turns, at = divmod(value - 1, 26)
    return chr(65 + at) * (turns + 1)


def _ordinal(value: int) -> str:
    tail = "th" if 10 <= value % 100 <= 20 else {1: "st", 2: "nd", 3: "rd"}.get(value % 10, "th")
    return f"{value}{tail}"


def _words(value: int) -> str:
    if value < 20:
        return _SMALL[value]
    if value < 100:
        tens, rest = divmod(value, 10)
        return _TENS[tens] + (f"-{_SMALL[rest].lower()}" if rest else "")
    hundreds, rest = divmod(value, 100)
    tail = f" {_words(rest).lower()}" if rest else ""
    return f"{_SMALL[hundreds]} hundred{tail}"


def _ordinal_words(value: int) -> str:
    words = _words(value)
    head, cut, last = words.rpartition("-") if "-" in words else words.rpartition(" ")
    name = _ORDINAL.get(last.capitalize())
    if name is None:
        name = f"{last[:-1]}ieth" if last.endswith("y") else f"{last}th"
    return head + cut + (name.lower() if head else name.capitalize())


def _sign(value: int) -> str:
    turns, at = divmod(value - 1, len(_NOTE_SIGNS))
    return _NOTE_SIGNS[at] * (turns + 1)


_MAKERS: dict[str, Callable[[int], str]] = {
    "upperRoman": _roman,
    "lowerRoman": lambda v: _roman(v).lower(),
    "upperLetter": _letter,
    "lowerLetter": lambda v: _letter(v).lower(),
    "ordinal": _ordinal,
    "cardinalText": _words,
    "ordinalText": _ordinal_words,
    "hex": lambda v: f"{v:X}",
    "chicago": _sign,
    "decimalZero": lambda v: f"{v:02d}",
    "numberInDash": lambda v: f"- {v} -",
    "decimalEnclosedParen": lambda v: f"({v})",
    "decimalEnclosedFullstop": lambda v: f"{v}.",
    "decimalEnclosedCircle": lambda v: chr(0x2460 + v - 1) if v <= 20 else str(v),
    "decimalHalfWidth": str,
    "decimalFullWidth": lambda v: "".join(chr(0xFF10 + int(d)) for d in str(v)),
}
_ANY = ("decimalZero", "hex", "numberInDash", "decimalEnclosedParen", "decimalEnclosedFullstop")
