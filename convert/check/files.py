"""Braille files made by anybody: bytes to pages of lines, and the page size where nobody told it.

Read as bytes and divided at form feeds only (outputs: a BRF file has no other structure).  A file
without form feeds is divided where its braille page numbers come again, else at an assumed depth.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from pathlib import Path

from ..errors import SourceError, why
from ..translation.cells import ascii_of
from .model import BRAILLE_NUMBER

LIMIT = 200_000_000  # Bytes of one file; a thousand times a long volume.
DEFAULT = (40, 25)
WIDEST = 100  # Cells of a line that a guess may take for a page width.
MOST_NUMBERED = 0.8  # Of the pages of a file.
FEW = 20  # One line in so many may be longer than the page is wide.
DEEPEST = 60  # Lines that a guess may take for a page depth.
_FOLD = str.maketrans("`{|}~", "@[\\]^")
_ENDS = re.compile("\r\n|[\r\n\x0b\x85\u2028\u2029]")
_MARKS = ((b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16"))
# What begins an archive, a PDF, a web page, XML (PEF too), rich text.
_OTHER = re.compile(rb"PK\x03\x04|%PDF|\s*(?:<!doctype|<html|<\?xml|\{\\rtf)", re.I)
_NO_FEEDS = (
    "{} has no form feeds, so a page was taken every {} lines{}. "
    "If that is wrong, say the page size with --page."
)

Lines = list[str]


def read(path: Path) -> str:
    """The text of a braille file as lower-case ASCII braille.

    Raises SourceError where it cannot be read, is empty or is no braille.
    """
    try:
        if path.stat().st_size > LIMIT:
            raise SourceError(f"{path} is too large for a braille file.", "Check its name.")
        data = path.read_bytes()
    except OSError as error:
        raise SourceError(
            f"{path} cannot be read: {why(error)}.", "Check the name and try again."
        ) from error
    for mark, coding in _MARKS:
        if data.startswith(mark):
            data = data.decode(coding, "replace").encode("utf-8")
    data = data.removeprefix(b"\xef\xbb\xbf").rstrip(b"\x1a")
    if not data.strip(b"\r\n\f "):
        raise SourceError(f"{path} is empty.", "Give the braille files of an edition.")
    if b"\0" in data[:4096] or _OTHER.match(data):
        raise SourceError(f"{path} is not a braille file.", "Give files that end in .brf.")
    if b"\xe2\xa0" in data:
        return ascii_of(data.decode("utf-8", "replace"))
    return data.decode("latin-1").lower().translate(_FOLD)


def divide(text: str) -> list[Lines]:
    """Pages as lists of lines, whatever ends the lines."""
    pages = _ENDS.sub("\n", text).split("\f")
    if len(pages) > 1 and not pages[-1].strip("\n "):
        pages.pop()
    if len(pages) > 1 and not pages[0]:  # A form feed before each page, the first too.
        pages.pop(0)
    if len(pages) > 1 and all(page[:1] == "\n" for page in pages[1:]) and _stand_alone(pages):
        pages = [pages[0], *(page[1:] for page in pages[1:])]
    return [_lines(page) for page in pages]


def _stand_alone(pages: Sequence[str]) -> bool:
    """Whether the line ends that begin all pages but the first belong to the form feeds: these
    stand before the line end of a page's last line, or on lines of their own, where all other
    pages seem to have one line more than the first."""
    first, *later = (len(_lines(page)) for page in pages)
    return pages[0][-1:] != "\n" or (len(later) > 1 and min(later) == max(later) == first + 1)


def _lines(page: str) -> Lines:
    lines = page.split("\n")
    if lines[-1] == "":
        lines.pop()
    return lines


def without_feeds(
    volumes: Sequence[list[Lines]], names: Sequence[str], depth: int | None
) -> tuple[list[list[Lines]], list[str]]:
    """The volumes with those that have no form feed divided into pages, and sentences that say so.
    ``depth``: lines of a page, where it is known."""
    out: list[list[Lines]] = []
    notes: list[str] = []
    for pages, name in zip(volumes, names, strict=True):
        if len(pages) > 1 or len(pages[0]) <= (depth or DEEPEST):
            out.append(pages)
            continue
        lines = pages[0]
        found = depth or _period(lines)
        every = found or DEFAULT[1]
        out.append([lines[at : at + every] for at in range(0, len(lines), every)])
        why = "" if depth else ", as its page numbers show" if found else ", the usual depth"
        notes.append(_NO_FEEDS.format(name, every, why))
    return out, notes


def _period(lines: Lines) -> int | None:
    """How many lines a page has, from the braille page numbers that end the last line of nearly
    every page; None if no depth fits them."""
    width = max((len(line.rstrip()) for line in lines), default=0)
    numbered = {
        at
        for at, line in enumerate(lines, 1)
        if len(line.rstrip()) >= width - 1 and BRAILLE_NUMBER.search(line.rstrip())
    }
    for depth in range(5, DEEPEST + 1):
        ends = range(depth, len(lines) + 1, depth)
        if len(ends) > 1 and sum(at in numbered for at in ends) >= MOST_NUMBERED * len(ends):
            return depth
    return None


def without_ends(volumes: Sequence[list[Lines]]) -> tuple[list[list[Lines]], int]:
    """The volumes without the empty lines that all pages have below their braille page numbers,
    and how many those are on a page."""
    pages = [lines for volume in volumes for lines in volume if any(map(str.strip, lines))]
    ends = [max(at for at, line in enumerate(lines, 1) if line.strip()) for lines in pages]
    extra = min((len(lines) - end for lines, end in zip(pages, ends, strict=True)), default=0)
    level = Counter(
        end
        for lines, end in zip(pages, ends, strict=True)
        if BRAILLE_NUMBER.search(lines[end - 1].rstrip())
    )
    if not extra or not level or level.most_common(1)[0][1] < MOST_NUMBERED * len(pages):
        return list(volumes), 0
    return [[lines[: len(lines) - extra] for lines in volume] for volume in volumes], extra


def guess(volumes: Sequence[list[Lines]]) -> tuple[int, int]:
    """Page size from the files: the most usual place where page numbers end, or the end of the
    longest line, and the most usual number of lines."""
    depth: Counter[int] = Counter()
    width: Counter[int] = Counter()
    ends = sorted(len(row.rstrip()) for pages in volumes for page in pages for row in page)
    for pages in volumes:
        for lines in pages:
            depth[len(lines)] += 1
            for line in (lines[:1], lines[-1:]):
                if line and BRAILLE_NUMBER.search(line[0].rstrip()):
                    width[len(line[0].rstrip())] += 1
    count = depth.most_common(1)[0][0] if depth else 0
    cells = width.most_common(1)[0][0] if width else 0
    if sum(end > cells for end in ends) * FEW > len(ends):  # Page numbers that end elsewhere.
        cells = ends[-1]
    return (cells if 9 < cells <= WIDEST else DEFAULT[0], count if count > 4 else DEFAULT[1])
