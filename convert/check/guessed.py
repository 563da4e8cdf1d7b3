"""What lines of braille files without a trace are: only where their look alone tells it, so that
the checks that pages suffice for can be made of them."""

from __future__ import annotations

import re

from .model import Block, Book, Page
from .numbers import value

_ENTRY = re.compile(r'"{2,} ?([a-z;]{0,3}#[a-j]+|[ivxlcdm]+)$')
_LISTED = re.compile(r"\.=\S")
_BULLET = re.compile(r" *_4(?=[ ,a-z#])")
_DOTTED = re.compile(r'(?<!\S)"{2,}(?!\S)|"{3,}')
_RULE = re.compile(r' *"3{2,}$')
_NOTED = re.compile(r" *(?:;?9[#a-z]|\"9)")  # A number, a letter or an asterisk, raised.
_LETTER = re.compile(r" +;?,?([a-z])$")
_SIGNED = re.compile(r" +[.^_@][17]")
_WORDS = "aio"
EDGE = 3  # Cells before the last in which the number of an entry may end.
VOLUME = 10  # Pages that a volume has at least; common practice, no source.
LEAST = 3  # Letters that make divisions; common practice, no source.


def guess_blocks(book: Book) -> None:
    """Entries of contents and special symbols, bullets, guide dots, separation lines of notes,
    letters that divide references, and headings in a typeform."""
    letters: list[tuple[str, Block]] = []
    for page in book.pages():
        for at, line in enumerate(page.text):
            if not line or at in page.turns:
                continue
            found = _kind(page, at, line, book.width)
            if found is not None:
                block = _block(page, at, *found)
                book.blocks.append(block)
                if (letter := _LETTER.match(line)) and found[0] == "h-center":
                    letters.append((letter[1], block))
    in_order = len(letters) >= LEAST and [a for a, _ in letters] == sorted({a for a, _ in letters})
    for name, block in letters:
        signed = ";" in block.cells[0] or name not in _WORDS  # UEB 5.7: no sign before a, i, o.
        block.style = "letter-division" if in_order and signed else ""
    book.texts = book.blocks
    for nth, block in enumerate(book.texts):
        book.by_kind.setdefault(block.kind, []).append(nth)


def _block(page: Page, at: int, kind: str, style: str) -> Block:
    line = page.text[at]
    start = len(line) - len(line.lstrip()) + 1
    return Block(kind, None, 0, 0, style, [page], [at], [start], ["first"])


def _kind(page: Page, at: int, line: str, width: int) -> tuple[str, str] | None:
    """What a line seems to be, and its style."""
    if page.series == "t":
        return ("symbols", "symbols") if _LISTED.match(line) else None
    if page.series == "p":
        led = len(line) >= width - EDGE and _ENTRY.search(line)
        return ("toc", "contents") if led else None
    if _BULLET.match(line):
        return "list", "list"
    if '"' in line and (kind := _dotted(page, at, line)):
        return kind
    if line[0] == " " and abs(len(line) - len(line.lstrip()) - (width - len(line))) <= 1:
        apart = _LETTER.match(line) or (_SIGNED.match(line) and _alone(page, at))
        return ("h-center", "centred-heading") if apart else None
    return None


def _dotted(page: Page, at: int, line: str) -> tuple[str, str] | None:
    """A separation line of notes, or a row of a table that has guide dots."""
    if _RULE.match(line):
        below = next((text for text in page.text[at + 1 :] if text), "")
        return ("note-rule", "note-rule") if _NOTED.match(below) else None
    return ("table", "table") if _DOTTED.search(line) else None


def _alone(page: Page, at: int) -> bool:
    """Whether a line has three blank cells at its left and no text right above or below."""
    near = [page.text[n] for n in (at - 1, at + 1) if 0 <= n < page.depth]
    return page.text[at][:3] == "   " and not any(near)


def begins_late(book: Book) -> int:
    """How many body pages the volumes before the first have, where it is a later one; 0 for none
    or so few that pages seem to be lacking."""
    first = next((page for page in book.pages() if page.series == "body"), None)
    before = (value(first.foot) or 1) - 1 if first is not None else 0
    return before if before >= VOLUME else 0
