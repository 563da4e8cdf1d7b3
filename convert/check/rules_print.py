"""Checks of matter that print sets apart from its text: whole pages that interrupt it (N07),
illustrations that belong to no paragraph (I05), paragraphs numbered in the margin (Y10)."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise
from typing import NamedTuple, cast

from ..document.ledger import Ledger
from ..document.nodes import (
    Box,
    Displayed,
    Document,
    Footnote,
    Graphic,
    Heading,
    ListBlock,
    Paragraph,
    PrintPage,
    PrintPageTurn,
    Run,
    Section,
    Table,
    children_of,
    inlines_of,
    text_of,
    walk,
)
from .model import Block, Book, Tally
from .rules_document import blocks_of, nodes_by_type, rule

_INTERRUPTS = (Box, Table, ListBlock, Graphic, Displayed)
_HALVED = re.compile(r"[^.!?:;…\"'”’)\]\s]\s*$")  # A sentence that has no end yet.
_GOES_ON = re.compile(r"\s*[(\"'“‘]?[a-zß-öø-ÿ]")
# An illustration's identifier, of words and a number (BF 6.2).
_NAMED = re.compile(
    r"(?:fig(?:ure)?|map|photo(?:graph)?|chart|graph|plate|diagram|illustration)s?\W*"
    r"(\d+(?:[.\-\u2013]\d+)*)",
    re.I,
)
_OPENING = re.compile(r"\W*")
_NUMBERED = re.compile(r"\s*[(\[§¶]?\s*(\d{1,4})[.)\]]?(?=\s)")
_SHOWN = re.compile(r"\S{0,12}?#([a-j]+)")  # Behind indicators of the first word.
_DIGITS = str.maketrans("abcdefghij", "1234567890")
LEAD = 12  # Characters in which a number in the margin stands.
FIVE = 5  # Steps so long may have 1 before the first.
LEAST = 3  # Numbered paragraphs that make a series; common practice, no source.


class Piece(NamedTuple):
    """A block of print on a print page, and whether it is text or what may interrupt it."""

    node: object
    page: int
    text: bool


def _pieces(document: Document) -> Iterator[Piece]:
    """The blocks of print in order, each with its print page, counted from 0.  A piece on
    several pages is given for each."""
    page = 0
    stack: list[object] = [document]
    while stack:
        node = stack.pop()
        if isinstance(node, Document | Section):
            stack.extend(reversed(children_of(node)))
        elif isinstance(node, PrintPage):
            page += 1
        elif not isinstance(node, Footnote):
            text = not isinstance(node, _INTERRUPTS)
            yield Piece(node, page, text)
            for _ in range(_turns(node)):
                page += 1
                yield Piece(node, page, text)


def _turns(node: object) -> int:
    """How many print pages begin inside a block."""
    if isinstance(node, Paragraph):
        return sum(isinstance(run, PrintPageTurn) for run in node.runs)
    return sum(
        isinstance(inner, PrintPage)
        + sum(isinstance(run, PrintPageTurn) for run in inlines_of(inner))
        for inner in walk(node)
    )


@rule("N07")
def interruptions_are_told(book: Book, tally: Tally) -> None:
    """A note before and after print pages of other matter that stand inside a sentence.

    Whether such pages between two whole sentences interrupt the text is for a person to say.
    """
    document = cast(Document, book.document)
    nodes = nodes_by_type(book)
    if not book.print_pages or PrintPage not in nodes or nodes.keys().isdisjoint(_INTERRUPTS):
        return
    pieces = list(_pieces(document))
    texts = {piece.page for piece in pieces if piece.text}
    order: dict[int, int] = {}
    before: Piece | None = None
    between: list[Piece] = []
    for piece in pieces:
        if not piece.text:
            between.append(piece)
            continue
        whole = any(other.page not in texts for other in between)
        if before is not None and whole and _is_one(before.node, piece.node, document.ledger):
            order = order or {id(block): nth for nth, block in enumerate(book.texts)}
            _expect_notes(book, tally, order, before.node, piece.node)
        before, between = piece, []


def _is_one(one: object, two: object, ledger: Ledger) -> bool:
    """Whether two paragraphs are the parts of one sentence."""
    if not (isinstance(one, Paragraph) and isinstance(two, Paragraph)) or one is two:
        return False
    halved = _HALVED.search(text_of(one.runs, ledger)) is not None
    return halved and _GOES_ON.match(text_of(two.runs, ledger)) is not None


def _expect_notes(
    book: Book, tally: Tally, order: dict[int, int], one: object, two: object
) -> None:
    first, second = blocks_of(book, one)[-1:], blocks_of(book, two)[:1]
    if not first or not second:
        return
    low, high = order[id(first[0])] + 1, order[id(second[0])] - 1
    for nth, block, where in ((low, first[0], "below"), (high, second[0], "above")):
        right = low < high and book.texts[nth].kind == "tn"
        page, at = (block.pages[-1], block.at[-1]) if nth == low else (block.page, block.at[0])
        expected = f"a transcriber's note {where} that tells where the text goes on or began"
        tally.expect(right, page, at, expected, "none")


@rule("I05")
def loose_illustrations(book: Book, tally: Tally) -> None:
    """An illustration that opens its print page, and whose number no paragraph names, follows the
    last whole paragraph of that page.  What others belong to is for a person to say."""
    document = cast(Document, book.document)
    graphics = nodes_by_type(book).get(Graphic, [])
    if not graphics or not book.print_pages or PrintPage not in nodes_by_type(book):
        return
    opening = {id(two.node) for one, two in pairwise(_pieces(document)) if one.page < two.page}
    named = [
        (node, found[1])
        for node, children in graphics
        for child in children[:1]
        if id(node) in opening
        and isinstance(child, Paragraph)
        and (found := _name_of(text_of(child.runs, document.ledger)))
    ]
    if not named:
        return
    told = _numbers_told(book, document.ledger)
    order = {id(block): nth for nth, block in enumerate(book.blocks)}
    for node, number in named:
        blocks = [block for inner in walk(node) for block in blocks_of(book, inner)]
        if blocks and number not in told:
            last = max(blocks, key=lambda block: order[id(block)])
            right = not _whole_below(book.blocks, order[id(last)])
            expected = "a place after the last whole paragraph of its print page"
            tally.expect(right, blocks[0].page, blocks[0].at[0], expected, "paragraphs below")


def _name_of(caption: str) -> re.Match[str] | None:
    """The identifier a caption begins with, behind any marks that open it."""
    opening = _OPENING.match(caption)
    return _NAMED.match(caption, opening.end() if opening else 0)


def _numbers_told(book: Book, ledger: Ledger) -> set[str]:
    """The numbers of illustrations that paragraphs, items and entries name."""
    captions = {
        id(child) for _, children in nodes_by_type(book).get(Graphic, []) for child in children
    }
    told: set[str] = set()
    for kind in (Paragraph, Heading):
        for node, _ in nodes_by_type(book).get(kind, []):
            if id(node) not in captions:
                words = text_of(inlines_of(node), ledger)
                told.update(found[1] for found in _NAMED.finditer(words))
    return told


def _whole_below(blocks: list[Block], at: int) -> bool:
    """Whether a paragraph begins and ends between a block and the next print page."""
    label = blocks[at].pages[-1].lines[blocks[at].at[-1]].print_page
    for block in blocks[at + 1 :]:
        if block.kind == "page-turn" or block.pages[-1].lines[block.at[-1]].print_page != label:
            return False
        if block.style == "paragraph":
            return True
    return False


@rule("Y10")
def margin_numbers(book: Book, tally: Tally) -> None:
    """Every paragraph of a series that print numbers in the margin begins with its number, also
    where print numbers only some.  A series is three or more paragraphs side by side whose
    numbers grow as their places do; whether others are one is for a person to say."""
    ledger = cast(Document, book.document).ledger
    for found in nodes_by_type(book).values():
        for _, children in found:
            paragraphs = [kid for kid in children if isinstance(kid, Paragraph)]
            if len(paragraphs) >= LEAST:
                for node, number in _series(paragraphs, ledger):
                    _expect_number(book, tally, node, number)


def _series(paragraphs: list[Paragraph], ledger: Ledger) -> Iterator[tuple[Paragraph, int]]:
    """The paragraphs of each series with their numbers."""
    printed = [
        (at, number)
        for at, node in enumerate(paragraphs)
        if (number := _number(node, ledger)) is not None
    ]
    run: list[tuple[int, int]] = []
    for at, number in [*printed, (-1, 0)]:
        if run and not (number - run[-1][1] == at - run[-1][0] and _steps(run, number)):
            if len(run) >= LEAST:
                first, start = run[0]
                for place in range(first, run[-1][0] + 1):
                    yield paragraphs[place], start + place - first
            run = []
        run.append((at, number))


def _steps(run: list[tuple[int, int]], number: int) -> bool:
    """Whether a number goes on by the step of a series: 1, 2, 3, or 5, 10, 15, with 1 before."""
    numbers = [printed for _, printed in run]
    step = number - numbers[-1]
    if numbers[0] == 1 and step >= FIVE and numbers[1:2] == [step]:
        numbers = numbers[1:]
    return all(two - one == step for one, two in pairwise(numbers))


def _number(node: Paragraph, ledger: Ledger) -> int | None:
    """The number a paragraph begins with, where it stands apart from the words."""
    first = node.runs[0] if node.runs else None
    if not isinstance(first, Run) or ledger.text[first.start].isalpha():
        return None
    lead = ledger.text[first.start : min(first.end, first.start + LEAD)]
    found = _NUMBERED.match(lead + (" " if first.end - first.start < LEAD else ""))
    return int(found[1]) if found else None


def _expect_number(book: Book, tally: Tally, node: Paragraph, number: int) -> None:
    for block in blocks_of(book, node)[:1]:
        if block.kind == "para" and block.parts[0] == "first":
            shown = _SHOWN.match(block.cells[0].strip())
            value = shown[1].translate(_DIGITS) if shown else "none"
            right = value == str(number)
            tally.expect(right, block.page, block.at[0], f"the number {number}", value)
