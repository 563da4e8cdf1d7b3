"""Every print character of the source, in reading order, and where each came from.

A run of print is two integers: the start and end of a stretch of ``Ledger.text``.
Readers append through :class:`LedgerBuilder`, so no text can enter the tree untraced.
"""

from __future__ import annotations

from bisect import bisect_right
from itertools import accumulate, chain, repeat
from typing import NamedTuple

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


class Ledger:
    """All print characters of a document.  Immutable; offsets are characters of ``text``."""

    __slots__ = ("_signs", "_starts", "_vocabulary", "pieces", "text")

    def __init__(self, text: str, pieces: tuple[Piece, ...]) -> None:
        self.text = text
        self.pieces = pieces
        self._starts: list[int] | None = None
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
        if self._starts is None:
            self._starts = [piece.start for piece in self.pieces]
        at = bisect_right(self._starts, offset) - 1
        if at < 0 or offset >= self.pieces[at].end:
            return None
        return self.pieces[at]

    def address(self, offset: int) -> str:
        """Where the character stands in the source: ``part!/steps:char`` (EPUB CFI shape)."""
        piece = self.locate(offset)
        if piece is None:
            return ""
        return f"{piece.part}!{piece.path}:{piece.char + offset - piece.start}"

    def quote(self, start: int, end: int) -> str:
        """The print text of a stretch."""
        return self.text[start:end]


_new = tuple.__new__


class LedgerBuilder:
    """Collects print text and its places while a reader walks a source."""

    __slots__ = ("_chunks", "_pieces", "length")

    def __init__(self) -> None:
        self._chunks: list[str] = []
        self._pieces: list[Piece] = []
        self.length = 0

    def add(
        self, text: str, part: str, path: str, char: int = 0, kind: str = PRINT
    ) -> tuple[int, int]:
        """Append ``text`` found at a place; returns its span in the ledger."""
        start = self.length
        self.length = end = start + len(text)
        if text:
            self._chunks.append(text)
            # The quick way to make a named tuple: this runs once for every text node.
            self._pieces.append(_new(Piece, (start, end, part, path, char, kind)))
        return start, end

    def add_row(self, texts: list[str], part: str, paths: list[str], char: int = 0) -> list[int]:
        """Append texts of print that follow one another, each from the beginning of its node but
        for the first, which stands at ``char``; returns where each begins and the last ends."""
        bounds = list(accumulate(map(len, texts), initial=self.length))
        self._chunks += texts
        chars = chain((char,), repeat(0))
        rows = zip(bounds, bounds[1:], repeat(part), paths, chars, repeat(PRINT))
        self._pieces += map(_new, repeat(Piece), rows)
        self.length = bounds[-1]
        return bounds

    def end_block(self) -> None:
        """Mark the end of a block or of a line, so that words of two blocks never join."""
        if self._pieces:
            _, end, part, path, _, kind = self._pieces[-1]
            if kind != BREAK:
                self._chunks.append("\n")
                self._pieces.append(_new(Piece, (end, end + 1, part, path, 0, BREAK)))
                self.length = end + 1

    def last_sign(self) -> str:
        """The last character of print that is no white space; nothing before the first."""
        found = next((chunk for chunk in reversed(self._chunks) if not chunk.isspace()), "")
        return found.rstrip()[-1:]

    def drop_space(self) -> bool:
        """Take back the last character if it is a space of print; tells whether it was.

        Print shows no space at the end of a block or line, and a reader learns only there that
        the space was the last character.
        """
        if not self._pieces or self._pieces[-1].kind == BREAK or self._chunks[-1][-1] != " ":
            return False
        self.length -= 1
        if len(self._chunks[-1]) == 1:
            del self._chunks[-1], self._pieces[-1]
        else:
            self._chunks[-1] = self._chunks[-1][:-1]
            self._pieces[-1] = self._pieces[-1]._replace(end=self.length)
        return True

    def build(self) -> Ledger:
        """The finished ledger."""
        return Ledger("".join(self._chunks), tuple(self._pieces))
