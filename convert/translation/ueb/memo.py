"""The memo: pieces of words by what decides them, in memory and, if asked, kept between runs.

A kept memo is one file in a folder, named by its recipe: the program's own translation room,
the version and tables of liblouis, and the settings that decide a word's cells.  Another recipe
is another file, so no piece outlives what made it.  The file says its digest, and one that does
not match is not read; it is written whole and put in place at once, so that workers of a batch
can share a folder.  Only words without findings are kept: what is told is always worked out.
"""

from __future__ import annotations

import hashlib
import json
import os
import tempfile
from collections.abc import Callable, Collection, Iterator
from functools import cache
from itertools import islice
from pathlib import Path

from ... import __version__
from ..cells import Piece
from .keys import Key
from .word import Word

# Words in memory at most: about 50 MB.
MOST = 80_000
# Numbers of a piece are kept as characters from here on.
_BASE = 0x100
_FIELDS = 5
_TUPLE, _SINGLE = "\x02", "\x03"


class Memo(dict[Key, Piece]):
    """Pieces of words, made on demand, by ``make``, or taken from the ``kept`` ones, by names
    that begin with ``prefix``."""

    def __init__(self, make: Callable[[Key], Piece], kept: dict[str, str], prefix: str) -> None:
        super().__init__()
        self._make, self._kept, self._prefix = make, kept, prefix

    def __missing__(self, key: Key) -> Piece:
        if len(self) >= MOST:
            self.clear()
        packed = self._kept.get(name_of(key, self._prefix)) if self._kept else None
        piece = unpacked(packed) if packed is not None else None
        piece = self[key] = self._make(key) if piece is None else piece
        return piece

    def worth_keeping(self, told: Collection[Key]) -> Iterator[tuple[str, str]]:
        """Names and packed pieces, without the words of ``told``."""
        for key, piece in self.items():
            if key not in told and not isinstance(key, Word) and not any(piece[_FIELDS:]):
                yield name_of(key, self._prefix), packed_of(piece)


def memos(
    make: Callable[[Key], Piece], single: Callable[[Key], Piece], kept: dict[str, str]
) -> dict[bool, Memo]:
    """The memo for each kind of quotation mark that predominates."""
    return {False: Memo(make, kept, ""), True: Memo(single, kept, _SINGLE)}


def name_of(key: Key, prefix: str) -> str:
    """What a word is kept under."""
    return prefix + (key if isinstance(key, str) else _TUPLE + repr(key))


def packed_of(piece: Piece) -> str:
    """A piece as a line of text."""
    numbers = (piece.origin, piece.sign, (piece.length,), piece.breaks)
    rows = ["".join([chr(_BASE + number) for number in row]) for row in numbers]
    return "\n".join((piece.cells, *rows))


def unpacked(packed: str) -> Piece | None:
    """The piece of a line of text, or None if it is none."""
    rows = packed.split("\n")
    if len(rows) != _FIELDS:
        return None
    cells, (origin, sign, length, breaks) = (
        rows[0],
        [tuple([ord(char) - _BASE for char in row]) for row in rows[1:]],
    )
    if not len(cells) == len(origin) == len(sign) or len(length) != 1:
        return None
    return Piece(cells, origin, bytes(sign), length[0], breaks)


class Shelf:
    """The folder a memo is kept in, for one recipe."""

    def __init__(self, folder: str, *settings: object) -> None:
        recipe = "|".join([__version__, _room(), *map(str, settings)])
        self._file = Path(folder) / f"{hashlib.sha256(recipe.encode()).hexdigest()[:24]}.memo"

    def read(self) -> dict[str, str]:
        """What is kept; nothing if there is no file, or it is not whole."""
        try:
            digest, _, body = self._file.read_bytes().partition(b"\n")
        except OSError:
            return {}
        if hashlib.sha256(body).hexdigest().encode() != digest:
            return {}
        kept: dict[str, str] = json.loads(body)
        return kept

    def write(self, rows: dict[str, str]) -> None:
        """Keep these pieces and those already kept.  A folder that cannot be written to is left
        as it is: the memo saves time and nothing else."""
        kept = self.read()
        more = {name: row for name, row in rows.items() if name not in kept}
        if not more:
            return
        kept.update(islice(more.items(), max(0, MOST - len(kept))))
        body = json.dumps(kept, ensure_ascii=False).encode("utf-8", "surrogatepass")
        body = body if _is_text(body) else json.dumps(kept).encode("ascii")
        try:
            self._file.parent.mkdir(parents=True, exist_ok=True)
            handle, name = tempfile.mkstemp(dir=self._file.parent, suffix=".part")
            with os.fdopen(handle, "wb") as file:
                file.write(hashlib.sha256(body).hexdigest().encode() + b"\n" + body)
            os.replace(name, self._file)
        except OSError:
            return


def _is_text(body: bytes) -> bool:
    """Whether bytes are plain UTF-8; print may hold half characters that are not."""
    try:
        body.decode("utf-8")
    except UnicodeDecodeError:
        return False
    return True


@cache
def _room() -> str:
    """A digest of everything in this room that decides cells: its code and its tables."""
    digest = hashlib.sha256()
    room = Path(__file__).parents[1]
    for file in sorted(room.rglob("*")):
        if file.suffix in (".py", ".toml"):
            digest.update(file.read_bytes())
    return digest.hexdigest()
