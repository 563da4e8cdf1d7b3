"""Checks of line-numbered verse (P16, Y07 to Y09), of the beginnings of captions (I02) and of
choices that serve several questions (Q09)."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import cast

from ..document.nodes import Document, Graphic, Paragraph, VerseLine, text_of
from .kinds import Group, expect_above, expect_below, groups, kind_of
from .model import Block, Book, Page, Tally
from .model import rule as traced
from .rules_document import blocks_of, nodes_by_type, rule

# Words of verse have single blanks between them: more set off what stands in the margin.
_APART = re.compile(r"(\S) {2,}(\S+)$")
_NUMBER = re.compile(r'[;."@<(\[]*#[a-j1-4]+\S*$')
CLEAR = 2  # BF 15.4 of the digest.
_DIGITS = str.maketrans("1234567890", "abcdefghij")
# What a caption begins with where print has an identifier (BF 6.2, WS501 for the first three);
# the others from memory.
_WORDS = """caption figure fig map photo photograph picture image illustration diagram chart graph
  plate table drawing exhibit cartoon painting sketch plan scheme box source example"""
IDENTIFIERS = frozenset(_WORDS.split())
_FIRST = re.compile(r"\W*([^\W\d_]*)(?:\W*(\d[\d.]*))?")
_NOTE = re.compile(r"\s*@\.<")


def _margin(block: Block) -> Iterator[tuple[Page, int, str, str]]:
    """The lines of a block of verse: page, place, words, and what stands apart at their end."""
    for page, at, line in zip(block.pages, block.at, block.cells, strict=True):
        found = _APART.search(line)
        cut = found.end(1) if found else len(line)
        yield page, at, line[:cut], found[2] if found else ""


def _numbered(book: Book) -> Iterator[Group]:
    """Poems with a line number beside some line."""
    for group in groups(book, "verse"):
        lines = [row for block in group.blocks for row in _margin(block)]
        if any(_NUMBER.match(apart) for *_, apart in lines):
            yield group


@traced("P16")
def beside_page_numbers(book: Book, tally: Tally) -> None:
    """No line-numbered text on line 1 or the last line where it has a page number."""
    for group in _numbered(book):
        for block in group.blocks:
            for page, at in zip(block.pages, block.at, strict=True):
                taken = page.number if at == 0 else page.foot if at == page.depth - 1 else ""
                tally.expect(not taken, page, at, "no line-numbered text", "a line of it")


@traced("Y07")
def numbers_at_the_margin(book: Book, tally: Tally) -> None:
    """Line numbers have the numeric indicator and end in the last cell."""
    for group in _numbered(book):
        for block in group.blocks:
            for page, at, _, apart in _margin(block):
                if apart:
                    ends, signed = len(page.text[at]), _NUMBER.match(apart) is not None
                    right = signed and ends == book.width
                    found = f"an end in cell {ends}" if signed else "no numeric indicator"
                    expected = f"a number that ends in cell {book.width}"
                    tally.expect(right, page, at, expected, found)


@traced("Y08")
def words_clear_of_numbers(book: Book, tally: Tally) -> None:
    """Words stop two cells before the longest number of the poem."""
    for group in _numbered(book):
        lines = [row for block in group.blocks for row in _margin(block)]
        room = book.width - CLEAR - max(len(apart) for *_, apart in lines)
        for page, at, words, _ in lines:
            end = len(words.rstrip())
            tally.expect(end <= room, page, at, f"an end by cell {room}", f"cell {end}")


@rule("Y09")
def number_on_the_first_line(book: Book, tally: Tally) -> None:
    """A line number stands where its print line begins, and only there."""
    ledger = cast(Document, book.document).ledger
    for node, _ in nodes_by_type(book).get(VerseLine, []):
        number = text_of(cast(VerseLine, node).number, ledger).strip()
        blocks = [block for block in blocks_of(book, node) if block.kind == "verse"]
        if not number.isdecimal() or len(blocks) != 1:
            continue
        wanted = "#" + number.translate(_DIGITS)
        for nth, (page, at, _, apart) in enumerate(_margin(blocks[0])):
            expected = f"the line number {number}" if not nth else "no line number"
            tally.expect(apart == ("" if nth else wanted), page, at, expected, apart or "none")


@rule("I02")
def captions_begin_with_identifiers(book: Book, tally: Tally) -> None:
    """A caption begins with a word that says what it belongs to, of print or in a note."""
    ledger = cast(Document, book.document).ledger
    for _, children in nodes_by_type(book).get(Graphic, []):
        first = next(iter(children), None)
        if not isinstance(first, Paragraph) or first.role not in ("body", "caption"):
            continue
        word, number = cast(re.Match[str], _FIRST.match(text_of(first.runs, ledger))).groups()
        for block in blocks_of(book, first)[:1]:
            if block.style == "caption":
                named = word.lower() in IDENTIFIERS or number is not None
                right = named or _NOTE.match(block.cells[0]) is not None
                expected = "an identifier, as of print or in a note"
                tally.expect(right, block.page, block.at[0], expected, "none")


@traced("Q09")
def shared_choices(book: Book, tally: Tally) -> None:
    """A list or a box of choices between questions has a blank line above and below."""
    for group in groups(book, "list"):
        if {kind_of(group.before), kind_of(group.after)} <= {"direction", "exercise"}:
            expect_above(tally, group.first, 1)
            expect_below(tally, group.last, 1)
