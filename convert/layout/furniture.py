"""Page furniture: print page numbers, braille page numbers, running heads, page change lines.

Cells are Unicode braille.  Print page number: line 1, ending in the last cell (BF 1.11);
braille page number: last line, ending in the last cell (BF 1.15); running head: line 1,
centred (BF 1.8).
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Any, NamedTuple

from ..translation.cells import BLANK, cells_of

NUMERIC, GRADE_1, CAPITAL = "#", ";", ","
HYPHEN = cells_of("-")
_DIGITS = {ord(d): c for d, c in zip("1234567890", "abcdefghij", strict=True)}
_ROMAN = re.compile(r"(?i)[ivxlcdm]+$")
_NUMBERED = re.compile(r"(.*?)(\d{1,9})$")
_TOKENS = re.compile(r"\d+(?:[.,]\d+)*|[A-Za-z]+|.", re.S)
_MARKS = {"-": "-", "–": "-", "−": "-", ".": "4", ",": "1", "/": "_/", ":": "3", "'": "'", "’": "'"}


class Label(NamedTuple):
    """The print page or pages in force: first and last label; ``None`` for an unnumbered one."""

    first: str | None
    last: str | None

    @classmethod
    def of(cls, label: str | None) -> Label:
        """One print page.  A label of white space only counts as none."""
        label = (label or "").strip() or None
        return cls(label, label)

    @property
    def text(self) -> str | None:
        """As print: ``22``, ``22-23``, or ``None``."""
        if self.first is None or self.last is None:
            return self.first
        return self.first if self.first == self.last else f"{self.first}-{self.last}"

    @property
    def facts(self) -> dict[str, Any]:
        """What a finding tells of it; of several pages also the first and the last."""
        facts = {"page": self.text or "without a number"}
        if self.first is None or self.first == self.last:
            return facts
        return {**facts, "first": self.first, "last": self.last or ""}

    @property
    def cells(self) -> str:
        """The number's cells; empty for an unnumbered page."""
        if self.first is None or self.last is None:
            return ""
        if self.first == self.last:
            return number_cells(self.first)
        return number_cells(self.first) + HYPHEN + number_cells(self.last)


def combine(before: Label, after: Label, dropped: list[Label]) -> Label:
    """Two print pages with no text between: a range where the labels run on (BF 1.11), else
    the later one alone, the earlier going to ``dropped``."""
    if before.first is None:
        return after
    if after.first is not None and runs_on(before.last or "", after.first):
        return Label(before.first, after.last)
    if before.text != after.text:
        dropped.append(before)
    return after


def runs_on(before: str, after: str) -> bool:
    """Whether one print page label follows another in one numbering."""
    first, second = _NUMBERED.match(before), _NUMBERED.match(after)
    if first and second:
        return first[1] == second[1] and int(first[2]) < int(second[2])
    if _ROMAN.match(before) and _ROMAN.match(after):
        return roman_value(before) < roman_value(after)
    return False


def roman_value(text: str) -> int:
    """The value of a roman numeral, capital or small."""
    worth = dict(zip("ivxlcdm", (1, 5, 10, 50, 100, 500, 1000), strict=True))
    values = [worth[letter] for letter in text.lower()]
    return sum(-v if v < max(values[at:], default=0) else v for at, v in enumerate(values))


@lru_cache(4096)
def number_cells(label: str) -> str:
    """A page label in cells: digits after a numeric indicator, letters as letters, a lone
    letter with a grade 1 indicator (UEB 5.2, 6.1, 8.4; BF 1.14: as printed)."""
    out: list[str] = []
    tokens = _TOKENS.findall(label)
    for at, token in enumerate(tokens):
        before = tokens[at - 1] if at else ""
        if token[0].isdigit() and token.isascii():
            digits = token.translate(_DIGITS).replace(".", "4").replace(",", "1")
            out.append(NUMERIC + digits)
        elif token.isascii() and token.isalpha():
            out.append(_letters(token, before, at + 1 < len(tokens) and tokens[at + 1].isdigit()))
        else:
            out.append(_MARKS.get(token, " " if token.isspace() else "-"))
    return cells_of("".join(out))


def _letters(token: str, before: str, number_follows: bool) -> str:
    """Letters of a label; a to j after digits, and a letter alone that would be read as a word
    (all but a, i, o), need the grade 1 sign (UEB 5.7, 6.5)."""
    lower = token.lower()
    touching = before[:1].isdigit()
    alone = lower not in ("a", "i", "o") and len(token) == 1 and not (number_follows or touching)
    sign = GRADE_1 if alone or (touching and token[0] in "abcdefghij") else ""
    if token.isupper():
        return sign + (CAPITAL if len(token) == 1 else CAPITAL * 2) + lower
    return sign + "".join(CAPITAL + c.lower() if c.isupper() else c for c in token)


def continuation(count: int, anew: bool = False) -> str:
    """The letters before the number on the later braille pages of a print page: none, then
    a, b ... z, aa, ab, or a again with ``anew`` (BF 1.11; what follows z is not confirmed)."""
    letters = ""
    if anew and count:
        return chr(ord("a") + (count - 1) % 26)
    while count > 0:
        count, rest = divmod(count - 1, 26)
        letters = chr(ord("a") + rest) + letters
    return letters


@lru_cache(4096)
def print_number(label: Label | None, count: int, anew: bool = False) -> str:
    """Cells of the print page number on line 1 of the ``count``-th later braille page of a
    print page; a lone letter after a continuation letter has no grade 1 sign (BF 1.11).
    ``anew``: after z the letters begin again."""
    if label is None or not label.cells:
        return ""
    cells = label.cells
    if count and cells[0] == cells_of(GRADE_1):
        cells = cells[1:]
    return cells_of(continuation(count, anew)) + cells


PREFIX = {"t": "t", "p": "p", "body": ""}


def braille_label(series: str, number: int) -> str:
    """A braille page number as print: ``t1``, ``p3``, ``17``."""
    return f"{PREFIX[series]}{number}"


@lru_cache(4096)
def braille_number(series: str, number: int) -> str:
    """Cells of a braille page number: no grade 1 sign, no space (BF 1.15)."""
    return cells_of(PREFIX[series] + NUMERIC + str(number).translate(_DIGITS))


def change_line(label: Label, width: int) -> str:
    """The line that shows a print page change: dots 3-6 from cell 1 up to the new number; a
    full row for an unnumbered page (BF 1.11)."""
    number = label.cells
    return HYPHEN * (width - len(number)) + number


def at_right(cells: str, width: int) -> str:
    """A full furniture line with ``cells`` at the right margin; empty for none."""
    return cells.rjust(width, BLANK) if cells else ""


def head_line(head: str, number: str, width: int, guard: int) -> str:
    """Line 1 with a running head and a print page number: the head centred, moved left where
    it would come within ``guard`` cells of the number (BF 1.8)."""
    if not head:
        return at_right(number, width)
    start = (width - len(head)) // 2
    if number:
        start = min(start, width - len(number) - guard - len(head))
    line = BLANK * max(0, start) + head
    return line.ljust(width - len(number), BLANK) + number if number else line


def head_room(longest_number: int, width: int, guard: int) -> int:
    """The cells a running head may have: ``guard`` free cells on both sides (BF 1.8)."""
    right = longest_number + guard if longest_number else guard
    return width - guard - right
