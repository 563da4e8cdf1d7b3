"""Page numbers in cells, read and written without the formatter's code."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import NamedTuple

_DIGITS = str.maketrans("abcdefghij", "1234567890")
_CELLS = str.maketrans("1234567890", "abcdefghij")
_VALUES = {"i": 1, "v": 5, "x": 10, "l": 50, "c": 100, "d": 500, "m": 1000}
_COUNTED = re.compile(r"([a-z]?[-. ]?)([0-9]+)")
LONGEST = 20  # Digits.
_POINTS = {"4": ".", "1": ","}
# One letter at most beside the digits: more may be contracted.
_LABEL = re.compile(r"[A-Za-z]?[-. ]?[0-9]+([-.][0-9]+)*[a-z]?|[A-Za-z]")
_NUMBERED = re.compile(r"([a-z]{0,3})((?:#[a-j]+)(?:-#?[a-j]+)?)$")
_ROMAN = re.compile(r"(?=.)m{0,3}(cm|cd|d?c{0,3})(xc|xl|l?x{0,3})(ix|iv|v?i{0,3})$")


class Number(NamedTuple):
    """A print page number: its continuation letters and what stands after them."""

    letters: str
    base: str


def split_number(cells: str, current: str = "") -> Number:
    """Divide a print page number.  ``current``: the base in force, which tells roman numerals
    and other labels from their continuation letters."""
    if current:
        bare = current.removeprefix(";")
        if cells == current:
            return Number("", cells)
        if cells.endswith(bare) and len(cells) - len(bare) in (1, 2, 3):
            letters = cells[: len(cells) - len(bare)]
            if letters.isalpha():
                return Number(letters, current)
    found = _NUMBERED.match(cells)
    return Number(found[1], found[2]) if found else Number("", cells)


@lru_cache(4096)
def continuation(count: int) -> str:
    """Letters of the ``count``-th later braille page of a print page: a, b ... z, aa, ab."""
    letters = ""
    while count > 0:
        count, rest = divmod(count - 1, 26)
        letters = "abcdefghijklmnopqrstuvwxyz"[rest] + letters
    return letters


def after(letters: str) -> str:
    """The continuation letters that follow others: a follows none, aa follows z."""
    count = 0
    for letter in letters:
        count = 26 * count + ord(letter) - ord("a") + 1
    return continuation(count + 1)


@lru_cache(4096)
def value(cells: str) -> int | None:
    """The value of an arabic number in cells (the first, of a range); None for others."""
    first = cells.split("-")[0]
    if first[:1] == "#" and 1 < len(first) < 20 and set(first[1:]) <= set("abcdefghij"):
        return int(first[1:].translate(_DIGITS))
    return None


@lru_cache(4096)
def label_cells(label: str) -> str | None:
    """A print page label in cells, for arabic numbers, ranges of them and small roman numerals
    of several letters (UEB 6.1; Braille Formats 2016, 1.14); None for others."""
    if re.fullmatch(r"[0-9]+(-[0-9]+)?", label):
        return "-".join("#" + part.translate(_CELLS) for part in label.split("-"))
    return label if len(label) > 1 and is_roman(label) else None


@lru_cache(4096)
def plain(cells: str) -> str:
    """A page number without its signs and capitals, to be compared: 12a, xii, a-3, 12-13."""
    out, numeric = "", False
    for cell in cells:
        if cell in "#;,":
            numeric = cell == "#"
        elif cell in _POINTS:
            out += _POINTS[cell]
        else:
            numeric = numeric and cell in "abcdefghij"
            out += cell.translate(_DIGITS) if numeric else cell
    return out


@lru_cache(4096)
def plain_label(label: str) -> str | None:
    """A print page label in the same form; None for words, which may have contractions."""
    return label.lower() if _LABEL.fullmatch(label) or is_roman(label.lower()) else None


@lru_cache(4096)
def say(cells: str) -> str:
    """A page number as it is heard: 12, 12 with the letter a, 12 to 13."""
    found = _NUMBERED.match(cells)
    if not found:
        letters = cells.lstrip(",")
        if cells[:1] == ";":
            return f"{cells[1:]} with a grade 1 sign"
        return letters.upper() if cells[:2] == ",," and letters.isalpha() else cells
    ends = [value("#" + part.lstrip("#")) for part in found[2].split("-")]
    number = " to ".join(str(end) for end in ends)
    return f"{number} with the letter {found[1]}" if found[1] else number


@lru_cache(4096)
def order(cells: str) -> tuple[str, int] | None:
    """What a page number counts with, and where it stands in that count: pages 1, 12a and 13-14
    all with figures, xii with roman numerals, A-3 with A; None for others."""
    text = plain(cells)
    if is_roman(text):
        return "roman", _roman(text)
    found = _COUNTED.match(text)
    return (found[1], int(found[2])) if found and len(found[2]) < LONGEST else None


def _roman(text: str) -> int:
    """The value of a roman numeral."""
    values = [_VALUES[letter] for letter in text]
    return sum(
        -one if one < two else one for one, two in zip(values, [*values[1:], 0], strict=True)
    )


def is_roman(text: str) -> bool:
    """Whether these small letters are a roman numeral."""
    return bool(_ROMAN.match(text))
