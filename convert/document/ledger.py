"""Every print character of the source, in reading order, and where each came from.

A run of print is two integers: the start and end of a stretch of ``Ledger.text``.
Readers append through :class:`LedgerBuilder`, so no text can enter the tree untraced.
"""

from __future__ import annotations

from array import array
from bisect import bisect_right
from collections.abc import Iterable, Iterator, Sequence
from itertools import accumulate, chain
from typing import Any, NamedTuple

from .vocabulary import Vocabulary

PRINT, GENERATED, ADDED, BREAK = "print", "generated", "added", "break"
_ASCII = bytes(range(128))


class Piece(NamedTuple):
    """A stretch of the ledger that came from one place of the source.

    ``part`` is a file inside the package, ``path`` the element steps from its root written
    as an EPUB CFI step list (``/4/2/10/1``), ``char`` the offset of the stretch's first
    character in that text node.  ``kind`` is ``print`` (stands in the file as text),
    ``generated`` (print shows it, the file computes it: list numbers, alternative text),
    ``added`` (typed by the transcriber) or ``break`` (the line end between two blocks, which
    is not a print character).
    """

    start: int
    end: int
    part: str
    path: str
    char: int
    kind: str


_new = tuple.__new__
_FIELDS = 5  # part, path, step, char, kind


class Pieces:
    """The pieces of a ledger, without gaps, each made when it is asked for.

    A book has tens of thousands, and a few are ever looked at.  ``rows`` has what they are made
    of, one row for pieces that follow one another in a block: part, path, step, char and kind.
    Where a row is of several pieces, ``step`` has one for each, which goes on from ``path``, and
    ``char`` is that of the first, as the others begin with their text node.  ``firsts``: the
    number of the first piece of each row.
    """

    __slots__ = ("_bounds", "_firsts", "_rows")

    def __init__(
        self, bounds: Iterable[int] = (0,), rows: tuple[Any, ...] = (), firsts: Iterable[int] = ()
    ) -> None:
        self._bounds = array("q", bounds)
        self._rows = rows
        self._firsts = array("q", firsts)

    def __len__(self) -> int:
        return len(self._bounds) - 1

    def __getitem__(self, at: int) -> Piece:
        at = range(len(self))[at]
        row = bisect_right(self._firsts, at) - 1
        part, path, step, char, kind = self._rows[_FIELDS * row : _FIELDS * (row + 1)]
        if type(step) is tuple:
            nth = at - self._firsts[row]
            step, char = step[nth], 0 if nth else char
        return Piece(self._bounds[at], self._bounds[at + 1], part, path + step, char, kind)

    def __iter__(self) -> Iterator[Piece]:
        bounds, at = self._bounds, 0
        for part, path, steps, char, kind in zip(*map(self._column, range(_FIELDS)), strict=True):
            for step in steps if type(steps) is tuple else (steps,):
                place = path + step
                yield _new(Piece, (bounds[at], bounds[at + 1], part, place, char, kind))
                at, char = at + 1, 0

    def _column(self, nth: int) -> tuple[Any, ...]:
        return self._rows[nth::_FIELDS]

    def around(self, offset: int) -> Piece | None:
        """The piece that holds a character of the text."""
        at = bisect_right(self._bounds, offset) - 1
        return self[at] if 0 <= at < len(self) else None

    def origins(self) -> Iterator[tuple[int, int, str, str]]:
        """(start, end, part, kind) of stretches of one or more pieces, without gaps."""
        starts = [*map(self._bounds.__getitem__, self._firsts), self._bounds[-1]]
        return zip(starts[:-1], starts[1:], self._column(0), self._column(4), strict=True)

    def parts(self) -> set[str]:
        """The parts that any piece came from."""
        return set(self._column(0))


class Ledger:
    """All print characters of a document.  Immutable; offsets are characters of ``text``."""

    __slots__ = ("_signs", "_vocabulary", "pieces", "text")

    def __init__(self, text: str, pieces: Pieces | None = None) -> None:
        self.text = text
        self.pieces = pieces or Pieces()
        self._signs: frozenset[str] | None = None
        self._vocabulary: Vocabulary | None = None

    @property
    def signs(self) -> frozenset[str]:
        """The characters beyond ASCII that the text holds, as rare ones are often asked for."""
        if self._signs is None:
            rest = self.text.encode("utf-8", "surrogatepass").translate(None, _ASCII)
            self._signs = frozenset(rest.decode("utf-8", "surrogatepass"))
        return self._signs

    @property
    def vocabulary(self) -> Vocabulary:
        """The words of the text, kept until :meth:`forget`: they take ten times its room."""
        if self._vocabulary is None:
            self._vocabulary = Vocabulary(self.text)
        return self._vocabulary

    def holds(self, signs: str) -> bool:
        """Whether signs without white space stand anywhere, asked of the distinct words alone."""
        return signs in self.vocabulary.joined

    def forget(self) -> None:
        """Let the words go, when the last who asks for them has them."""
        self._vocabulary = None

    def locate(self, offset: int) -> Piece | None:
        """The piece that holds ``offset``, or ``None`` where nothing stands."""
        return self.pieces.around(offset)

    def address(self, offset: int) -> str:
        """Where the character stands in the source: ``part!/steps:char`` (EPUB CFI shape)."""
        piece = self.locate(offset)
        if piece is None:
            return ""
        return f"{piece.part}!{piece.path}:{piece.char + offset - piece.start}"

    def quote(self, start: int, end: int) -> str:
        """The print text of a stretch."""
        return self.text[start:end]


class LedgerBuilder:
    """Collects print text and its places while a reader walks a source.

    ``_rows`` has the fields of each row of pieces (see :class:`Pieces`) behind its text, or the
    tuple of its texts, one after another: this is done for every text node, and a list that grows
    is what takes least time and room.
    """

    __slots__ = ("_rows", "length")

    def __init__(self) -> None:
        self._rows: list[Any] = []
        self.length = 0

    def add(
        self, text: str, part: str, path: str, char: int = 0, kind: str = PRINT
    ) -> tuple[int, int]:
        """Append ``text`` found at a place; returns its span in the ledger."""
        start = self.length
        self.length = end = start + len(text)
        if text:
            self._rows += (text, part, path, "", char, kind)
        return start, end

    def add_row(
        self, texts: Sequence[str], part: str, path: str, steps: Sequence[str], char: int = 0
    ) -> list[int]:
        """Append texts of print that follow one another, none empty, each from the beginning of
        its node but for the first, which stands at ``char``; ``steps`` go on from ``path``.
        Returns where each begins and the last ends."""
        bounds = list(accumulate(map(len, texts), initial=self.length))
        self.length = bounds[-1]
        if len(texts) == 1:
            self._rows += (texts[0], part, path, steps[0], char, PRINT)
        elif texts:
            self._rows += (tuple(texts), part, path, tuple(steps), char, PRINT)
        return bounds

    def end_block(self) -> None:
        """Mark the end of a block or of a line, so that words of two blocks never join."""
        rows = self._rows
        if rows and rows[-1] != BREAK:
            step = rows[-3]
            rows += ("\n", rows[-5], rows[-4], step[-1] if type(step) is tuple else step, 0, BREAK)
            self.length += 1

    def last_sign(self) -> str:
        """The last character of print that is no white space; nothing before the first."""
        rows = self._rows
        texts = ("".join(rows[at]) for at in range(len(rows) - _FIELDS - 1, -1, -_FIELDS - 1))
        return next((text for text in texts if not text.isspace()), "").rstrip()[-1:]

    def drop_space(self) -> bool:
        """Take back the last character if it is a space of print; tells whether it was.

        Print shows no space at the end of a block or line, and a reader learns only there that
        the space was the last character.
        """
        rows = self._rows
        if not rows or rows[-1] == BREAK:
            return False
        text = rows[-6]
        last: str = text[-1] if type(text) is tuple else text
        if last[-1] != " ":
            return False
        self.length -= 1
        if len(last) > 1:
            rows[-6] = last[:-1] if last is text else (*text[:-1], last[:-1])
        elif last is text:
            del rows[-6:]
        else:
            rows[-6], rows[-3] = text[:-1], rows[-3][:-1]
        return True

    def build(self) -> Ledger:
        """The finished ledger."""
        rows = self._rows.copy()
        each = rows[:: _FIELDS + 1]
        del rows[:: _FIELDS + 1]
        if tuple in map(type, each):
            rows_of = [text if type(text) is tuple else (text,) for text in each]
            firsts: Iterable[int] = accumulate(map(len, rows_of[:-1]), initial=0)
            texts = [*chain.from_iterable(rows_of)]
        else:
            texts, firsts = each, range(len(each))
        bounds = accumulate(map(len, texts), initial=0)
        return Ledger("".join(texts), Pieces(bounds, tuple(rows), firsts))
