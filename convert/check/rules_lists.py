"""Checks of lists (L), exercises (Q), verse and plays (Y)."""

from __future__ import annotations

import re

from .kinds import (
    HOLDERS,
    Group,
    above,
    expect_above,
    expect_below,
    expect_margins,
    groups,
    kind_of,
    nested,
    same_list,
    widest_cell,
)
from .model import Block, Book, Tally, rule

SHALLOW = 10  # Lines of a page; common practice, no source.
SPARE = 4  # Lines of a page that blank lines, a running head and a title may take.
_BULLET = re.compile(r" *_4(?! \S|$)")
_LOW_LINES = re.compile(r"\.-\.-")
_QUIET_ABOVE = ("h-5", "h-7", "box-top", "direction")
_QUIET_BELOW = ("box-bottom", "note-rule", "attribution")


def expect_nested(tally: Tally, block: Block, width: int, shift: int = 0) -> None:
    """Expect the margins of a nested block; a further paragraph has its own first cell."""
    cells = nested(block, width, shift)
    for page, at, start, part in zip(block.pages, block.at, block.starts, block.parts, strict=True):
        if part == "first":
            right = start in (cells[0], cells[2])
            tally.expect(right, page, at, f"a start in cell {cells[0]}", f"cell {start}")
        else:
            right = start == cells[1]
            tally.expect(right, page, at, f"a runover in cell {cells[1]}", f"cell {start}")


def _shift(group: Group) -> int:
    """How far a group inside an item stands to the right; lines at the last cell in which any may
    start do not tell."""
    if group.holder not in HOLDERS:
        return 0
    limit = widest_cell(group.first.page.width)
    free = [block for block in group.blocks if block.starts[0] < limit]
    return max(0, min(map(_from_margin, free or group.blocks)))


def _from_margin(block: Block) -> int:
    """How far right of its own cell the first line of a nested block starts."""
    cells = nested(block, block.page.width)
    return block.starts[0] - cells[0 if block.parts[0] == "first" else 1]


@rule("L01")
def items_start_in_their_cell(book: Book, tally: Tally) -> None:
    """Level k in cell 2k-1."""
    for block in book.blocks:
        if block.kind == "list" and block.parts[0] == "first" and block.level:
            first, _, further = nested(block, book.width)
            start = block.starts[0]
            right = start in (first, further)
            tally.expect(right, block.page, block.at[0], f"cell {first}", f"cell {start}")


@rule("L02")
def runovers_of_lists(book: Book, tally: Tally) -> None:
    """All runovers in cell 2n+1."""
    for block in book.blocks:
        if block.kind == "list" and block.level:
            runover = nested(block, book.width)[1]
            for nth, part in enumerate(block.parts):
                if part == "runover":
                    start = block.starts[nth]
                    page, at = block.pages[nth], block.at[nth]
                    tally.expect(start == runover, page, at, f"cell {runover}", f"cell {start}")


@rule("L03")
def blanks_around_lists(book: Book, tally: Tally) -> None:
    """One blank line above and below; none beside letters that divide it (BF 21.2)."""
    for group in groups(book, "list"):
        quiet = group.goes_on or _divides(group.before)
        if kind_of(group.before) not in _QUIET_ABOVE and not quiet:
            expect_above(tally, group.first, 1)
        quiet = _divides(group.after)
        if kind_of(group.after) not in (*_QUIET_BELOW, "math", "tn", "caption") and not quiet:
            expect_below(tally, group.last, 1)


def _divides(block: Block | None) -> bool:
    """Whether this is a letter that divides an alphabetic reference."""
    return block is not None and block.style == "letter-division"


@rule("L04")
def no_blank_between_items(book: Book, tally: Tally) -> None:
    """None between items of one list."""
    _close(book, tally, "list")


def _close(book: Book, tally: Tally, kind: str) -> None:
    for group in groups(book, kind):
        for one, two in zip(group.blocks, group.blocks[1:], strict=False):
            if same_list(one, two) and above(two) is not None:
                expect_above(tally, two, 0)


@rule("L05")
def list_not_on_last_line(book: Book, tally: Tally) -> None:
    """A list does not begin on the last line."""
    for group in groups(book, "list"):
        first = group.first
        if first.parts[0] == "first" and not group.goes_on:
            right = first.at[0] < book.depth - 1
            tally.expect(right, first.page, first.at[0], "the list on the next page", "its start")


@rule("L06")
def bullets(book: Book, tally: Tally) -> None:
    """One blank cell after a bullet."""
    for block in book.blocks:
        if block.kind == "list" and block.cells[0].lstrip().startswith("_4"):
            right = not _BULLET.match(block.cells[0])
            tally.expect(right, block.page, block.at[0], "one blank cell", "another count")


@rule("L09")
def further_paragraphs(book: Book, tally: Tally) -> None:
    """2n+3, runovers 2n+1."""
    for block in book.blocks:
        if block.kind == "list" and block.level and block.parts[0] == "first":
            first, runover, further = nested(block, book.width)
            if block.starts[0] == further != first:
                expect_margins(tally, block, further, runover)


# ------------------------------------------------------------------ exercises


@rule("Q01")
def directions(book: Book, tally: Tally) -> None:
    """5-5; further paragraphs 7-5."""
    for group in groups(book, "direction"):
        for nth, block in enumerate(group.blocks):
            starts = (5, 7) if nth else (5,)
            first = block.starts[0] if block.starts[0] in starts else 5
            expect_margins(tally, block, first, 5)


@rule("Q02")
def questions_nest(book: Book, tally: Tally) -> None:
    """The nested rule; text that goes on after displayed matter stands at the runover cell."""
    before: Block | None = None
    for block in book.blocks:
        if block.kind == "exercise" and block.level:
            runover = nested(block, book.width)[1]
            if kind_of(before) in ("exercise", "list") or set(block.starts) != {runover}:
                expect_nested(tally, block, book.width)
        if block.kind != "page-turn":
            before = block


@rule("Q04")
def question_on_one_page(book: Book, tally: Tally) -> None:
    """A question with its choices on one page where they fit."""
    for question in _questions(book):
        if len(question) > 1 and fits_page(question, book.depth):
            right = question[0].page is question[-1].pages[-1]
            tally.expect_of(right, question, "the question with its choices here", "a part of them")


def fits_page(blocks: list[Block], depth: int) -> bool:
    """Whether some blocks fit a page; pages of few lines are not judged."""
    return depth >= SHALLOW and room_of(blocks) <= depth - SPARE


def room_of(blocks: list[Block]) -> int:
    """How many lines some blocks take, with page change lines among them."""
    first, last = blocks[0], blocks[-1]
    count = sum(len(block.at) for block in blocks)
    pages = {id(page): page for block in blocks for page in block.pages}
    for page in pages.values():
        low = first.at[0] if page is first.page else 0
        high = last.at[-1] if page is last.pages[-1] else page.depth
        count += sum(low < at < high for at in page.turns)
    return count


def _questions(book: Book) -> list[list[Block]]:
    """Questions of level 1, each with the blocks of deeper levels below it."""
    out: list[list[Block]] = []
    for group in groups(book, "exercise"):
        for block in group.blocks:
            if block.level <= 1 or not out or out[-1][-1] not in group.blocks:
                out.append([])
            out[-1].append(block)
    return out


@rule("Q06")
def blanks_around_sets(book: Book, tally: Tally) -> None:
    """A blank line above and below a set, none between its questions."""
    for group in groups(book, "exercise"):
        if kind_of(group.before) not in (*_QUIET_ABOVE, "math") and not group.goes_on:
            expect_above(tally, group.first, 1)
        if kind_of(group.after) not in (*_QUIET_BELOW, "math", "tn", "caption"):
            expect_below(tally, group.last, 1)
    _close(book, tally, "exercise")


@rule("Q07")
def displayed_in_questions(book: Book, tally: Tally) -> None:
    """Blank lines around displayed matter in questions."""
    for group in groups(book, "displayed", styles=("displayed-in-exercise",)):
        expect_above(tally, group.first, 1)
        if kind_of(group.after) not in _QUIET_BELOW:
            expect_below(tally, group.last, 1)


@rule("Q08")
def one_low_line(book: Book, tally: Tally) -> None:
    """One low line for each blank to fill in."""
    for block in book.blocks:
        if block.kind in ("exercise", "form"):
            for page, at, line in zip(block.pages, block.at, block.cells, strict=True):
                if ".-" in line:
                    right = not _LOW_LINES.search(line)
                    tally.expect(right, page, at, "one low line", "several together")


# ------------------------------------------------------------------ verse and plays


@rule("Y01")
def verse_nests(book: Book, tally: Tally) -> None:
    """The nested rule over the whole poem."""
    for group in groups(book, "verse"):
        shift = _shift(group)
        for block in group.blocks:
            if block.level:
                expect_nested(tally, block, book.width, shift)


@rule("Y02")
def blanks_around_verse(book: Book, tally: Tally) -> None:
    """A blank line above, unless under its heading, and below."""
    for group in groups(book, "verse"):
        if kind_of(group.before) not in ("h-5", "h-7", "box-top") and not group.goes_on:
            expect_above(tally, group.first, 1)
        if kind_of(group.after) not in _QUIET_BELOW:
            expect_below(tally, group.last, 1)


@rule("Y05")
def cast_lists(book: Book, tally: Tally) -> None:
    """1-3."""
    for block in book.blocks:
        if block.style == "cast" and block.levels <= 1 and block.parts[0] == "first":
            expect_nested(tally, block, book.width)


@rule("Y06")
def plays(book: Book, tally: Tally) -> None:
    """Speeches 1-3, further paragraphs 5-3; stage directions 7-5.  Speeches inside a list item
    stand right of its runovers, their own runovers two cells further (BF 8.3, 9.2)."""
    before = ""
    for block in book.blocks:
        if block.style == "speech":
            expect_margins(tally, block, *_speech_margins(block, before))
        elif block.style == "stage-direction":
            expect_margins(tally, block, 7, 5)
        else:
            before = block.kind


def _speech_margins(block: Block, before: str) -> tuple[int, int]:
    """The cells of a speech; ``before`` is the kind of the last block that is no part of a play."""
    first, *later = block.starts
    if before == "list" and first >= 5 and not (first == 5 and set(later) == {3}):
        return first, first + 2
    return (5 if first == 5 else 1), 3
