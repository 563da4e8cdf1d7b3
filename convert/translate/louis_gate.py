"""The one door to liblouis: the contracted cells of letters, nothing else.

The library is asked for letters in lower case only; every mode and indicator belongs to the
planner.  liblouis keeps process-wide state: one process, one gate, no threads.
"""

from __future__ import annotations

import ctypes
from collections.abc import Callable
from functools import cache
from typing import Any, NamedTuple

from ..errors import PluginError

LIBRARY = "liblouis.so.20"
TABLE = "en-ueb-g2.ctb"
LONGEST = 512
# liblouis translation modes (liblouis.h): input and output dot patterns, as Unicode braille.
_DOTS_IO, _UNICODE = 4, 64
_INSTALL = "Install the Debian packages liblouis20 and liblouis-data, or use the code ueb-uncontracted."
# Marks that break "standing alone" (UEB 2.6.2, 2.6.3) but leave a word a word: they stand for a
# neighbour on the left or right that the letters may not contract with.
_LEFT, _RIGHT = ".", "("


class Group(NamedTuple):
    """One sign of the answer: the letters ``start`` to ``end`` and their cells."""

    start: int
    end: int
    cells: str


Groups = tuple[Group, ...]
Gate = Callable[[str, bool, bool], Groups]


@cache
def _library() -> Any:
    try:
        library = ctypes.CDLL(LIBRARY)
        library.lou_charSize.restype = ctypes.c_int
        library.lou_version.restype = ctypes.c_char_p
        library.lou_getTable.restype = ctypes.c_void_p
        library.lou_getTable.argtypes = [ctypes.c_char_p]
        library.lou_translate.restype = ctypes.c_int
        library.lou_registerLogCallback.argtypes = [ctypes.c_void_p]
    except (OSError, AttributeError) as error:
        raise PluginError(f"The braille library liblouis is missing ({error}).", _INSTALL) from error
    silence = ctypes.CFUNCTYPE(None, ctypes.c_int, ctypes.c_char_p)(lambda _level, _text: None)
    library.lou_registerLogCallback(silence)
    library.kept_callback = silence
    return library


def version() -> str:
    """The library's own version.  Raises PluginError if it is not installed."""
    return str(_library().lou_version().decode("ascii"))


class LouisGate:
    """Letters to contracted cells.  Buffers are made once; answers are kept.

    Raises PluginError if liblouis or its table is not installed.
    """

    def __init__(self, table: str = TABLE) -> None:
        self._lib = _library()
        self._table = table.encode("ascii")
        if not self._lib.lou_getTable(self._table):
            raise PluginError(f"The braille table {table} of liblouis is missing.", _INSTALL)
        self._wide = "utf-32-le" if self._lib.lou_charSize() == 4 else "utf-16-le"
        self._width = self._lib.lou_charSize()
        self._in = ctypes.create_string_buffer(LONGEST * self._width)
        self._out = ctypes.create_string_buffer(4 * LONGEST * self._width)
        self._in_pos = (ctypes.c_int * (4 * LONGEST))()
        self._out_pos = (ctypes.c_int * (4 * LONGEST))()
        self._in_length, self._out_length = ctypes.c_int(), ctypes.c_int()
        self._call = self._prepared()
        self._known: dict[tuple[str, bool, bool], Groups] = {}

    def _prepared(self) -> Callable[[], int]:
        """lou_translate with every argument but the text fixed."""
        translate, null = self._lib.lou_translate, ctypes.c_void_p()
        table, mode = ctypes.c_char_p(self._table), ctypes.c_int(_DOTS_IO | _UNICODE)
        sizes = (ctypes.byref(self._in_length), ctypes.byref(self._out_length))
        places = (self._out_pos, self._in_pos)

        def call() -> int:
            return int(
                translate(
                    table, self._in, sizes[0], self._out, sizes[1], null, null, *places, null, mode
                )
            )

        return call

    def _ask(self, text: str) -> tuple[str, list[int]]:
        """The cells of a text, and for each cell the character it stands for."""
        raw = text.encode(self._wide)
        ctypes.memmove(self._in, raw, len(raw))
        self._in_length.value, self._out_length.value = len(text), 4 * LONGEST
        if not self._call():
            raise PluginError(f"liblouis could not translate “{text}”.", _INSTALL)
        length = self._out_length.value
        cells = self._out.raw[: length * self._width].decode(self._wide)
        return cells, self._in_pos[:length]

    def contract(self, letters: str, left: bool = True, right: bool = True) -> Groups:
        """The signs of ``letters`` (lower case, inner apostrophes allowed).

        ``left`` and ``right``: whether that end is a word's edge; where it is not, no
        wordsign, shortform or sign bound to the edge is given (UEB 2.6, 10).
        """
        key = (letters, left, right)
        found = self._known.get(key)
        if found is None:
            found = self._known[key] = self._contract(letters, left, right)
        return found

    def _contract(self, letters: str, left: bool, right: bool) -> Groups:
        if len(letters) > LONGEST - 2:
            head, tail = letters[: LONGEST // 2], letters[LONGEST // 2 :]
            shift = len(head)
            more = self._contract(tail, False, right)
            first = self._contract(head, left, False)
            return (*first, *(Group(a + shift, b + shift, cells) for a, b, cells in more))
        before = "" if left else _LEFT
        text = before + letters + ("" if right else _RIGHT)
        cells, places = self._ask(text)
        return _groups(cells, places, len(before), len(letters))


def _groups(cells: str, places: list[int], skip: int, length: int) -> Groups:
    """Cells gathered by the character they stand for, the context's own cells left out."""
    starts = sorted({place for place in places if skip <= place < skip + length})
    bounds = [*starts, skip + length]
    out: list[Group] = []
    for at, start in enumerate(starts):
        own = "".join(cell for cell, place in zip(cells, places, strict=True) if place == start)
        out.append(Group(start - skip, bounds[at + 1] - skip, own))
    return tuple(out)


def table_path(table: str) -> str:
    """Where the library finds a table.  Raises PluginError if it is not installed."""
    resolve = _library()._lou_resolveTable
    resolve.restype = ctypes.POINTER(ctypes.c_char_p)
    resolve.argtypes = [ctypes.c_char_p, ctypes.c_char_p]
    found = resolve(table.encode("ascii", "replace"), None)
    if not found or not found[0]:
        raise PluginError(f"The braille table {table} of liblouis is missing.", _INSTALL)
    return bytes(found[0]).decode()


# ---------------------------------------------------------------- whole text through any table

# Print without cells in a table gives none, instead of an escape spelled in braille.
_NO_UNDEFINED = 128


def translate_text(
    table: str, text: str, forms: list[int] | None = None
) -> tuple[str, list[int]]:
    """Cells of a whole text by a table that owns every sign, and for each the print's offset.

    ``forms`` has for each character 1 italic, 2 underline, 4 bold, added up.  Raises
    PluginError if the table is missing or the library gives up.
    """
    library, size = _library(), 8 * len(text) + 64
    wide = "utf-32-le" if library.lou_charSize() == 4 else "utf-16-le"
    raw = text.encode(wide, "replace")
    count = len(raw) // library.lou_charSize()
    source = ctypes.create_string_buffer(raw, len(raw) + library.lou_charSize())
    out = ctypes.create_string_buffer(size * library.lou_charSize())
    typeform = (ctypes.c_ushort * size)(*(forms or [])) if forms else None
    in_pos, out_pos = (ctypes.c_int * size)(), (ctypes.c_int * size)()
    in_length, out_length = ctypes.c_int(count), ctypes.c_int(size)
    done = library.lou_translate(
        table.encode("ascii", "replace"), source, ctypes.byref(in_length), out,
        ctypes.byref(out_length), typeform, None, out_pos, in_pos, None,
        _DOTS_IO | _UNICODE | _NO_UNDEFINED,
    )  # fmt: skip
    if not done or in_length.value < count:
        raise PluginError(f"The table {table} of liblouis stopped inside a text.", "Use another.")
    length = out_length.value
    cells = out.raw[: length * library.lou_charSize()].decode(wide)
    return cells, list(in_pos[:length])


def installed_tables() -> list[str]:
    """File names of the tables the library knows by their own records, sorted.

    Raises PluginError if the library is missing.
    """
    library = _library()
    library.lou_listTables.restype = ctypes.POINTER(ctypes.c_char_p)
    rows = library.lou_listTables()
    names: set[str] = set()
    at = 0
    while rows and rows[at]:
        names.add(bytes(rows[at]).decode().rpartition("/")[2])
        at += 1
    return sorted(names)


def table_title(table: str) -> str:
    """A table's own name for people, empty if it has none."""
    library = _library()
    library.lou_getTableInfo.restype = ctypes.c_char_p
    title = library.lou_getTableInfo(table.encode("ascii", "replace"), b"display-name")
    return bytes(title).decode("utf-8", "replace") if title else ""
