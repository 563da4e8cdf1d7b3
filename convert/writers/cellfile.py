"""Braille files: one paginated text a volume, in two character sets.

North American ASCII braille (``.brf``) and Unicode braille (``.txt``) map one to one: CR LF
after every line, one form feed after every page, trailing blanks trimmed, every page padded
to its full depth.  No standard for these files exists; the choices are common practice, as in
the sample files that braille authorities publish.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from pathlib import Path

from ..edition import Edition
from ..errors import Bug
from ..layout.book import Page, Volume
from ..translation.cells import ASCII_CELLS, BLANK
from .names import file_stem

LINE_END, PAGE_END = b"\r\n", b"\x0c"
_OTHER = re.compile("[^\u2800-\u283f]")
# The low byte of a cell's number is its dots, 0 to 63; 64 stands for a line end.
_BETWEEN = "\u2840"
_SIGNS = ASCII_CELLS + "\n"
_TO_BYTE = bytes(ord(_SIGNS[n]) if n < len(_SIGNS) else 0 for n in range(256))
_TO_DOTS = bytes(_SIGNS.find(chr(n)) if chr(n) in _SIGNS else 255 for n in range(256))


def write_brf(edition: Edition, folder: Path) -> list[Path]:
    """Write ``<stem>.v<K>.brf`` for each volume: ASCII braille, letters in upper case.

    Raises Bug if a page holds anything but six-dot cells, or the file does not read back.
    """
    return [
        _write(folder / f"{file_stem(edition)}.v{volume.number}.brf", volume, _ascii, _from_ascii)
        for volume in edition.volumes
    ]


def write_unicode(edition: Edition, folder: Path) -> list[Path]:
    """Write ``<stem>.v<K>.txt`` for each volume: the same in Unicode braille, UTF-8.

    Raises Bug as :func:`write_brf` does.
    """
    return [
        _write(folder / f"{file_stem(edition)}.v{volume.number}.txt", volume, _utf8, _from_utf8)
        for volume in edition.volumes
    ]


def page_lines(page: Page) -> list[str]:
    """A page's lines as cells, furniture included, blank lines empty."""
    lines = page.texts()
    for number in {1, len(lines)} if lines else ():
        lines[number - 1] = page.line(number).rstrip(BLANK)
    return lines


def checked_pages(volume: Volume) -> Iterator[list[str]]:
    """The lines of each page.  Raises Bug naming the place of anything but a six-dot cell."""
    for page in volume.pages:
        lines = page_lines(page)
        if _OTHER.search("".join(lines)):
            _refuse(volume, page, lines)
        yield lines


def _refuse(volume: Volume, page: Page, lines: list[str]) -> None:
    for number, line in enumerate(lines, 1):
        if found := _OTHER.search(line):
            raise Bug(
                f"Volume {volume.number}, braille page {page.braille_page}, line {number}, cell "
                f"{found.start() + 1} holds U+{ord(found[0]):04X}, which is not a six-dot cell."
            )


def _write(
    path: Path,
    volume: Volume,
    encode: Callable[[list[str]], bytes],
    decode: Callable[[bytes], list[str]],
) -> Path:
    """Write a volume and read it back."""
    pages = list(checked_pages(volume))
    path.write_bytes(b"".join([encode(lines) + PAGE_END for lines in pages]))
    _compare(path, volume, pages, decode)
    return path


def _compare(
    path: Path, volume: Volume, pages: list[list[str]], decode: Callable[[bytes], list[str]]
) -> None:
    """Read a written file and compare it cell by cell with the pages."""
    written = path.read_bytes().split(b"\x0c")
    if written.pop() or len(written) != len(pages):
        raise Bug(f"The file {path.name} does not hold {len(pages)} braille pages.")
    for page, lines, data in zip(volume.pages, pages, written, strict=True):
        got = decode(data)
        if got == lines:
            continue
        where = f"braille page {page.braille_page} of the file {path.name}"
        if len(got) != len(lines):
            raise Bug(f"There are {len(got)} lines instead of {len(lines)} on {where}.")
        wrong = next(at for at, line in enumerate(lines, 1) if line != got[at - 1])
        raise Bug(f"Line {wrong} on {where} differs from the page that was set.")


def _ascii(lines: list[str]) -> bytes:
    """Lines as ASCII braille.  A cell beyond the 64 stands between the lines meanwhile."""
    low = _BETWEEN.join([*lines, ""]).encode("utf-16-le")[::2]
    return low.translate(_TO_BYTE).replace(b"\n", LINE_END)


def _from_ascii(data: bytes) -> list[str]:
    dots = data.replace(b"\r\n", b"\n").translate(_TO_DOTS)
    wide = bytearray(b"\x28") * (2 * len(dots))
    wide[::2] = dots
    return _ended(wide.decode("utf-16-le"), _BETWEEN)


def _utf8(lines: list[str]) -> bytes:
    return "\r\n".join([*lines, ""]).encode()


def _from_utf8(data: bytes) -> list[str]:
    return _ended(data.decode(), "\r\n")


def _ended(text: str, end: str) -> list[str]:
    """The lines of a text; none at all where the last one has no end."""
    *lines, rest = text.split(end)
    return [] if rest else lines
