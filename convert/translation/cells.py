"""Cells: what a translator returns, and how each cell knows the print it came from.

A cell is never an object.  Cells of a token are a :class:`Piece`, shared by every place the
token occurs; a :class:`Cells` is a list of pieces laid end to end.  Origins are worked out
only when somebody asks.
"""

from __future__ import annotations

from array import array
from bisect import bisect_right
from collections.abc import MutableSequence
from dataclasses import dataclass, field
from typing import NamedTuple

from .passage import Passage

BLANK = "\u2800"

# North American ASCII braille in the order of the cells' bit values (bit n-1 is dot n):
# shared by `writers` and `back`.  Source: standards digest of outputs, section 1 (64 cells).
ASCII_CELLS = " A1B'K2L@CIF/MSP\"E3H9O6R^DJG>NTQ,*5<-U8V.%[$+X!&;:4\\0Z7(_?W]#Y)="
TO_ASCII = {0x2800 + n: ord(ch) for n, ch in enumerate(ASCII_CELLS)}
_FOLD = {ord(low): ord(high) for low, high in zip("`{|}~", "@[\\]^", strict=True)}
FROM_ASCII = {ord(ch): 0x2800 + n for n, ch in enumerate(ASCII_CELLS)}

# Cells of one word at the most between a sign and the place in print it belongs to.
_REORDERED = 400

# What a cell is there for.
CHAR, SIGN, LAYOUT = 0, 1, 2


# The low byte of a six-dot cell's number is its dots, 0 to 63; 64 stands for a line end.
_SIX_DOTS = bytes(range(64))
_BETWEEN = "\u2840"
_LOWER = bytes(ord(ch) for ch in (ASCII_CELLS.lower() + "\n").ljust(256))


def ascii_of(cells: str) -> str:
    """Unicode braille as North American ASCII braille, letters in lower case."""
    wide = cells.encode("utf-16-le", "surrogatepass")
    low = wide[::2]
    if wide[1::2].count(0x28) == len(low) and not low.translate(None, _SIX_DOTS):
        return low.translate(_LOWER).decode("ascii")
    return cells.translate(TO_ASCII).lower()


def ascii_lines(lines: list[str]) -> list[str]:
    """`ascii_of` each of some lines."""
    wide = _BETWEEN.join(lines).encode("utf-16-le", "surrogatepass")
    low, ends = wide[::2], len(lines) - 1
    odd = low.translate(None, _SIX_DOTS)
    if wide[1::2].count(0x28) == len(low) and len(odd) == odd.count(0x40) == ends:
        return low.translate(_LOWER).decode("ascii").split("\n")
    return [ascii_of(line) for line in lines]


def cells_of(text: str) -> str:
    """North American ASCII braille (either case, either face of a cell) as Unicode braille."""
    return text.translate(_FOLD).upper().translate(FROM_ASCII)


def dots_of(cells: str) -> str:
    """Cells as dot numbers: ``3-4-5-6 1``; an empty cell is ``0``."""
    return " ".join(
        "-".join(str(n) for n in range(1, 9) if (ord(cell) - 0x2800) >> (n - 1) & 1) or "0"
        for cell in cells
    )


class Piece(NamedTuple):
    """The cells of one stretch of print (usually a token between spaces).

    ``origin[i]`` is the offset, from the stretch's start, of the print character that cell i
    stands for, or that made it necessary; ``sign[i]`` is 1 where the cell is an indicator.
    ``length`` is the number of print characters covered.  ``breaks`` are cells before which
    a line may end (after a hyphen or dash), in order.  ``joins`` gives, for such a cell, the
    cells to add at the line end and at the next line's start.  ``divisions`` are places where
    the word may be divided, if words are to be.
    """

    cells: str
    origin: tuple[int, ...]
    sign: bytes
    length: int
    breaks: tuple[int, ...] = ()
    joins: tuple[tuple[int, str, str], ...] = ()
    divisions: tuple[Division, ...] = ()


@dataclass(frozen=True, slots=True)
class Division:
    """A place where a word may be divided at a line end (UEB 6.10, 10.13).

    The line holds the word's cells before ``end``, then those of ``before`` (a hyphen, say);
    the next line begins with those of ``after``, then the word's cells from ``resume``.
    ``before_at``/``after_at``: where the print of these begins in the word's print.
    """

    end: int
    resume: int
    before: Piece
    before_at: int
    after: Piece
    after_at: int


@dataclass(slots=True)
class Cells:
    """Cells of a passage: pieces end to end, with one blank cell wherever print has a space.

    ``text`` is the whole as Unicode braille.  ``starts[i]`` is the cell and ``prints[i]`` the
    offset in the passage's text where piece i begins.  A blank cell (U+2800) is a place where
    a line may end and the blank is dropped, unless its position is in ``fixed``.
    ``marks`` are (cell, what, value): the passage's turns and lines, at their cells.
    ``technical``: code and cells of the signs of its formulas, and of the switches between
    codes, that a page of special symbols may list.
    """

    text: str = ""
    pieces: list[Piece] = field(default_factory=list)
    starts: MutableSequence[int] = field(default_factory=list)
    prints: MutableSequence[int] = field(default_factory=list)
    fixed: frozenset[int] = frozenset()
    marks: tuple[tuple[int, str, object], ...] = ()
    passage: Passage | None = None
    technical: frozenset[tuple[str, str]] = frozenset()

    def __str__(self) -> str:
        return self.text

    def pack(self) -> None:
        """Keep the places of the pieces as plain numbers, a tenth of the memory of a list."""
        self.starts, self.prints = array("I", self.starts), array("I", self.prints)

    def __len__(self) -> int:
        return len(self.text)

    @property
    def ascii(self) -> str:
        """North American ASCII braille, letters in lower case."""
        return ascii_of(self.text)

    @property
    def dots(self) -> str:
        """Dot numbers, ``3-4-5-6 1``."""
        return dots_of(self.text)

    @property
    def origin(self) -> list[int]:
        """For each cell the offset in the passage's text it stands for; -1 for none."""
        out: list[int] = []
        for at, (start, base) in enumerate(zip(self.starts, self.prints, strict=True)):
            while len(out) < start:
                out.append(self._space_at(at))
            out.extend(base + offset for offset in self.pieces[at].origin)
        end = self.prints[-1] + self.pieces[-1].length if self.pieces else 0
        while len(out) < len(self.text):
            out.append(end)
            end += 1
        return out

    def _space_at(self, piece: int) -> int:
        """The offset of the space before a piece."""
        if piece == 0:
            return 0
        return self.prints[piece - 1] + self.pieces[piece - 1].length

    @property
    def sign(self) -> list[int]:
        """For each cell 1 if it is an indicator, else 0."""
        out: list[int] = []
        for start, piece in zip(self.starts, self.pieces, strict=True):
            out.extend([0] * (start - len(out)))
            out.extend(piece.sign)
        out.extend([0] * (len(self.text) - len(out)))
        return out

    def reach(self, length: int) -> list[int]:
        """For each of the passage's ``length`` characters the first cell that stands for it."""
        out = [0] * length
        origin, sign = self.origin, self.sign
        cell = 0
        chars = [(o, c) for c, o in enumerate(origin) if not sign[c] and o >= 0]
        chars.sort()
        row = 0
        for at in range(length):
            while row < len(chars) and chars[row][0] <= at:
                if row == 0 or chars[row][0] != chars[row - 1][0]:
                    cell = chars[row][1]
                row += 1
            out[at] = cell
        return out

    def piece_at(self, cell: int) -> int:
        """Index of the piece that holds ``cell``, or of the one before a space; -1 for none."""
        return bisect_right(self.starts, cell) - 1

    def span(self, start: int, end: int) -> tuple[int, int]:
        """The passage characters that cells ``start`` to ``end`` stand for, whole pieces' ends
        included; ``(0, 0)`` for no cells."""
        if not self.pieces or start >= end:
            return (0, 0)
        starts = self.starts
        first, last = bisect_right(starts, start) - 1, bisect_right(starts, end - 1) - 1
        low = self._edge(first, start) if first >= 0 else 0
        high = self._edge(last, end) if last >= 0 else 0
        return (low, high)

    def _edge(self, at: int, cell: int) -> int:
        """The first passage character at or after a cell boundary; cells of one word stand in
        the order of print but for signs near their place."""
        piece = self.pieces[at]
        inside = cell - self.starts[at]
        if inside >= len(piece.cells):
            return self.prints[at] + piece.length
        if piece.origin[inside] == 0:
            return self.prints[at]
        return self.prints[at] + min(piece.origin[inside : inside + _REORDERED])
