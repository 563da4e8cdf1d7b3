"""The one door to liblouis: the contracted cells of letters, nothing else.

The library is asked for letters in lower case only; every mode and indicator belongs to the
planner.  liblouis keeps process-wide state: one process, one gate, no threads.
"""

from __future__ import annotations

import ctypes
from collections.abc import Callable, Iterable
from functools import cache, lru_cache
from typing import Any, NamedTuple, Protocol

from ..errors import PluginError
from .signs import signs

LIBRARY = "liblouis.so.20"
TABLE = "en-ueb-g2.ctb"
LONGEST = 512
# Characters of a call for many words: places in it are kept as bytes.
_CHUNK = 250
_RAMP = bytes(range(256)) * 2
BLANK = "\u2800"
_ROOM = 4 * LONGEST
_WCHAR = ctypes.sizeof(ctypes.c_wchar)
# liblouis translation modes (liblouis.h): input and output dot patterns, as Unicode braille.
_DOTS_IO, _UNICODE = 4, 64
_INSTALL = (
    "Install the Debian packages liblouis20 and liblouis-data, or use the code ueb-uncontracted."
)
# Marks that break "standing alone" (UEB 2.6.2, 2.6.3) but leave a word a word: they stand for a
# neighbour on the left or right that the letters may not contract with.
_LEFT, _RIGHT = ".", "("


class Group(NamedTuple):
    """One sign of the answer: the letters ``start`` to ``end`` and their cells."""

    start: int
    end: int
    cells: str


Groups = tuple[Group, ...]
Answer = tuple[str, tuple[int, ...]]
# Letters in a context: whether their left and right end is a word's edge.
Placed = tuple[str, bool, bool]


class Gate(Protocol):
    """Letters in lower case to contracted cells."""

    @property
    def recipe(self) -> str:
        """What the answers depend on, in words."""

    def contract(self, letters: str, left: bool = True, right: bool = True) -> Groups:
        """The signs of letters in a context."""

    def alone(self, letters: str) -> Answer:
        """The cells of letters that stand alone, and for each the letter it stands for."""

    def learn(self, words: Iterable[str], parts: Iterable[Placed] = ()) -> None:
        """Prepare the answers for words in small letters of the English alphabet that stand
        alone, and for such letters in a context."""


@cache
def _loaded() -> tuple[Any, Any]:
    """The library, and its log callback, which must live as long as it does."""
    try:
        library = ctypes.CDLL(LIBRARY)
        library.lou_charSize.restype = ctypes.c_int
        library.lou_version.restype = ctypes.c_char_p
        library.lou_getTable.restype = ctypes.c_void_p
        library.lou_getTable.argtypes = [ctypes.c_char_p]
        library.lou_translate.restype = ctypes.c_int
        library.lou_registerLogCallback.argtypes = [ctypes.c_void_p]
    except (OSError, AttributeError) as error:
        raise PluginError(
            f"The braille library liblouis is missing ({error}).", _INSTALL
        ) from error
    silence = ctypes.CFUNCTYPE(None, ctypes.c_int, ctypes.c_char_p)(lambda _level, _text: None)
    library.lou_registerLogCallback(silence)
    return library, silence


def library() -> Any:
    """The library, opened once.  Raises PluginError if it is not installed."""
    return _loaded()[0]


def version() -> str:
    """The library's own version.  Raises PluginError if it is not installed."""
    return str(_loaded()[0].lou_version().decode("ascii"))


class LouisGate:
    """Letters to contracted cells.  Buffers are made once; answers for whole words are kept.

    Raises PluginError if liblouis or its table is not installed.
    """

    def __init__(self, table: str = TABLE) -> None:
        self._lib = _loaded()[0]
        self._table = table.encode("ascii")
        if not self._lib.lou_getTable(self._table):
            raise PluginError(f"The braille table {table} of liblouis is missing.", _INSTALL)
        self._width = self._lib.lou_charSize()
        self._out = ctypes.create_string_buffer(_ROOM * self._width)
        self._out_address = ctypes.addressof(self._out)
        self._in_pos = (ctypes.c_int * _ROOM)()
        self._places = memoryview(self._in_pos).cast("B").cast("i")
        self._out_pos = (ctypes.c_int * _ROOM)()
        self._in_length, self._out_length = ctypes.c_int(), ctypes.c_int()
        self._call = self._prepared()
        self._alone: dict[str, Answer] = {}

    @property
    def recipe(self) -> str:
        """What the answers depend on: the library's version and the digest of its tables."""
        from .louis_gate_tables import table_digest

        return f"{version()} {table_digest(self._table.decode('ascii'))}"

    def _prepared(self) -> Callable[[Any], Any]:
        """lou_translate with every argument but the text fixed."""
        translate, null = self._lib.lou_translate, ctypes.c_void_p()
        table, mode = ctypes.c_char_p(self._table), ctypes.c_int(_DOTS_IO | _UNICODE)
        sizes = ctypes.byref(self._in_length), ctypes.byref(self._out_length)
        out, to_out = ctypes.byref(self._out), ctypes.byref(self._out_pos)
        after = (sizes[0], out, sizes[1], null, null, to_out, ctypes.byref(self._in_pos), null)

        def call(text: Any) -> Any:
            return translate(table, text, *after, mode)

        return call

    def _ask(self, text: str) -> Answer:
        """The cells of a text, and for each cell the character it stands for."""
        cells = self._cells(text)
        places = tuple(self._places[: len(cells)])
        return cells, places if len(set(places)) == len(cells) else exact(text, cells, places)

    def _cells(self, text: str) -> str:
        """The cells of a text; the characters they stand for are left in ``_places``."""
        self._in_length.value, self._out_length.value = len(text), _ROOM
        wide = self._width == _WCHAR
        shown = ctypes.c_wchar_p(text) if wide else text.encode("utf-16-le")
        if not self._call(shown):
            raise PluginError(f"liblouis could not translate “{text}”.", _INSTALL)
        length = self._out_length.value
        if wide:
            return ctypes.wstring_at(self._out_address, length)
        return self._out.raw[: length * self._width].decode("utf-16-le")

    def alone(self, letters: str) -> Answer:
        """The cells of ``letters`` standing alone, and for each the letter it stands for."""
        found = self._alone.get(letters)
        if found is None:
            found = self._alone[letters] = self._ask(letters)
        return found

    def learn(self, words: Iterable[str], parts: Iterable[Placed] = ()) -> None:
        """Ask for many words in few calls; nothing is between two but space.

        Words are small letters of the English alphabet, which no word beside them changes.
        """
        chunk: list[str] = []
        size = 0
        for word in sorted({*words, *(_shown(*part) for part in parts)}):
            size += len(word) + 1
            if size > _CHUNK:
                self._learn(chunk)
                chunk, size = [], len(word) + 1
            chunk.append(word)
        self._learn(chunk)

    def _learn(self, words: list[str]) -> None:
        text = " ".join(words)
        if not words or len(text) > _CHUNK:
            return
        cells = self._cells(text)
        places = bytes(self._places[: len(cells)].tolist())
        answers = cells.split(BLANK)
        if len(answers) != len(words):
            return
        at = base = 0
        for word, answer in zip(words, answers, strict=True):
            end = at + len(answer)
            # The places as counted from the word's own first letter.
            own = tuple(places[at:end].translate(_RAMP[256 - base : 512 - base]))
            if len(set(own)) != len(own):
                own = exact(word, answer, own)
            self._alone[word] = answer, own
            at, base = end + 1, base + len(word) + 1

    def contract(self, letters: str, left: bool = True, right: bool = True) -> Groups:
        """The signs of ``letters`` (lower case, inner apostrophes allowed).

        ``left`` and ``right``: whether that end is a word's edge; where it is not, no
        wordsign, shortform or sign bound to the edge is given (UEB 2.6, 10).
        """
        if len(letters) > LONGEST - 2:
            return self._in_parts(letters, left, right)
        cells, places = self.alone(_shown(letters, left, right))
        return _groups(cells, places, 0 if left else len(_LEFT), len(letters))

    def _in_parts(self, letters: str, left: bool, right: bool) -> Groups:
        """Letters too many for one call; no contraction joins two parts."""
        out: list[Group] = []
        size = LONGEST // 2
        for at in range(0, len(letters), size):
            last = at + size >= len(letters)
            part = self.contract(letters[at : at + size], left and not at, right and last)
            out.extend(Group(a + at, b + at, cells) for a, b, cells in part)
        return tuple(out)


def _shown(letters: str, left: bool, right: bool) -> str:
    """What the library is asked for letters in a context."""
    return ("" if left else _LEFT) + letters + ("" if right else _RIGHT)


@cache
def _table() -> frozenset[tuple[str, str]]:
    """Letters and contractions with their cells."""
    rows = [row for row in signs() if row.is_contraction or row.kind in ("letter", "punctuation")]
    return frozenset((row.print, row.cells) for row in rows)


def exact(text: str, cells: str, places: tuple[int, ...]) -> tuple[int, ...]:
    """The places of cells, where the table gave several signs the place of the first.

    A rule of the table may hold more letters than one sign (``oned``: o, n, ed).
    """
    out: list[int] = []
    first, size = 0, len(places)
    while first < size:
        low, last = places[first], first + 1
        while last < size and places[last] == low:
            last += 1
        if last - first == 1:
            out.append(low)
        else:
            high = places[last] if last < size else len(text)
            out.extend([low + at for at in _signs_of(text[low:high], cells[first:last])])
        first = last
    return tuple(out)


@lru_cache(10_000)
def _signs_of(text: str, cells: str) -> list[int]:
    """For each cell where its sign begins in the text; all 0 where the table cannot tell."""
    return _parted(text, cells) or [0] * len(cells)


def _parted(text: str, cells: str) -> list[int] | None:
    """Cells as signs of the table that stand for the text, or None; the longest sign first."""
    if (text, cells) in _table():
        return [0] * len(cells)
    for width in range(len(cells) - 1, 0, -1):
        for size in range(len(text) - 1, 0, -1):
            if (text[:size], cells[:width]) in _table():
                rest = _parted(text[size:], cells[width:])
                if rest is not None:
                    return [*[0] * width, *[size + at for at in rest]]
    return None


def _groups(cells: str, places: tuple[int, ...], skip: int, length: int) -> Groups:
    """Cells gathered by the character they stand for, the context's own cells left out."""
    own: dict[int, str] = {}
    for cell, place in zip(cells, places, strict=True):
        own[place - skip] = own.get(place - skip, "") + cell
    starts = [place for place in sorted(own) if 0 <= place < length]
    ends = [*starts[1:], length]
    return tuple([Group(at, end, own[at]) for at, end in zip(starts, ends, strict=False)])
