"""The second leaf of the door to liblouis: whole texts through any installed table.

Shares the library that :mod:`.louis_gate` opened.  One process, no threads.
"""

from __future__ import annotations

import ctypes
import hashlib
import re
from pathlib import Path

from ..errors import PluginError
from . import louis_gate

# liblouis modes (liblouis.h): dot patterns as Unicode braille; print without cells in a table
# gives none, instead of an escape spelled in braille.
_INCLUDE = re.compile(rb"(?m)^[ \t]*include[ \t]+(\S+)")
_DOTS_IO, _UNICODE, _NO_UNDEFINED = 4, 64, 128


def translate_text(table: str, text: str, forms: list[int] | None = None) -> tuple[str, list[int]]:
    """Cells of a whole text by a table that owns every sign, and for each the print's offset.

    ``forms`` has for each character 1 italic, 2 underline, 4 bold, added up.  Raises
    PluginError if the table is missing or the library gives up.
    """
    library = louis_gate.library()
    width, size = library.lou_charSize(), 8 * len(text) + 64
    wide = "utf-32-le" if width == 4 else "utf-16-le"
    raw = text.encode(wide, "replace")
    count = len(raw) // width
    out = ctypes.create_string_buffer(size * width)
    in_pos, out_pos = (ctypes.c_int * size)(), (ctypes.c_int * size)()
    in_length, out_length = ctypes.c_int(count), ctypes.c_int(size)
    done = library.lou_translate(
        table.encode("ascii", "replace"),
        ctypes.create_string_buffer(raw, len(raw) + width),
        ctypes.byref(in_length),
        out,
        ctypes.byref(out_length),
        (ctypes.c_ushort * size)(*forms) if forms else None,
        None,
        out_pos,
        in_pos,
        None,
        _DOTS_IO | _UNICODE | _NO_UNDEFINED,
    )
    if not done or in_length.value < count:
        raise PluginError(
            f"The table {table} of liblouis could not translate a text.", "Use another table."
        )
    length = out_length.value
    return out.raw[: length * width].decode(wide), list(in_pos[:length])


def back_text(table: str, cells: str) -> str:
    """Unicode braille read as print by a table of the library.

    Raises PluginError if the table is missing, does not read back, or gives up.
    """
    library = louis_gate.library()
    width, size = library.lou_charSize(), 16 * len(cells) + 64
    wide = "utf-32-le" if width == 4 else "utf-16-le"
    raw = cells.encode(wide)
    out = ctypes.create_string_buffer(size * width)
    in_length, out_length = ctypes.c_int(len(cells)), ctypes.c_int(size)
    done = library.lou_backTranslateString(
        table.encode("ascii", "replace"),
        ctypes.create_string_buffer(raw, len(raw) + width),
        ctypes.byref(in_length),
        out,
        ctypes.byref(out_length),
        None,
        None,
        _NO_UNDEFINED,
    )
    if not done or in_length.value < len(cells):
        raise PluginError(
            f"The table {table} of liblouis could not read these cells back.",
            "Use another table, or read them with the codes ueb or ueb-uncontracted.",
        )
    return out.raw[: out_length.value * width].decode(wide, "replace")


def table_path(table: str) -> str:
    """Where the library finds a table.  Raises PluginError if it is not installed."""
    resolve = louis_gate.library()._lou_resolveTable
    resolve.restype = ctypes.POINTER(ctypes.c_char_p)
    resolve.argtypes = [ctypes.c_char_p, ctypes.c_char_p]
    found = resolve(table.encode("ascii", "replace"), None)
    if not found or not found[0]:
        raise PluginError(
            f"The braille table {table} of liblouis is missing.", "Install liblouis-data."
        )
    return bytes(found[0]).decode()


def table_digest(table: str) -> str:
    """The SHA-256, in hexadecimal, of a table and the tables it includes, one after the other.
    Raises PluginError if it is not installed."""
    digest = hashlib.sha256()
    for _, content in with_included(Path(table_path(table))):
        digest.update(content)
    return digest.hexdigest()


def with_included(table: Path) -> list[tuple[Path, bytes]]:
    """A table and the tables it includes with their bytes, each once, in the order met."""
    met = {table: table.read_bytes()}
    waiting = [table]
    for file in waiting:
        for name in _INCLUDE.findall(met[file]):
            included = file.parent / name.decode("utf-8", "replace")
            if included.is_file() and included not in met:
                met[included] = included.read_bytes()
                waiting.append(included)
    return list(met.items())


def installed_tables() -> list[str]:
    """File names of the tables the library knows by their own records, sorted.

    Raises PluginError if the library is missing.
    """
    library = louis_gate.library()
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
    library = louis_gate.library()
    library.lou_getTableInfo.restype = ctypes.c_char_p
    title = library.lou_getTableInfo(table.encode("ascii", "replace"), b"display-name")
    return bytes(title).decode("utf-8", "replace") if title else ""
