"""Checks of headings (H)."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise

from .kinds import (
    HEADINGS,
    Group,
    above,
    expect_above,
    expect_below,
    expect_margins,
    groups,
    kind_of,
    side_of,
)  # fmt: skip
from .model import Block, Book, Page, Tally, rule
from .rules_document import after_breaks

GUARD = 3  # Blank cells before a page number.
_FORMS = {
    "h-center": "a centred heading", "h-5": "a cell-5 heading", "h-7": "a cell-7 heading"
}  # fmt: skip
_CENTRED = ("h-center", "end-of-volume")
_WHOLE = re.compile(r"([.^_@])(?:7.*\1'|1[^ ]+)$")


def _headings(book: Book, *kinds: str) -> list[Block]:
    return [block for block in book.blocks if block.kind in (kinds or HEADINGS)]


@rule("H01")
def room_beside_centred(book: Book, tally: Tally) -> None:
    """Three blank cells at each side of centred lines."""
    for block in _headings(book, *_CENTRED):
        for page, at, start in zip(block.pages, block.at, block.starts, strict=True):
            side = side_of(book.width)
            right = start > side and len(page.text[at]) <= book.width - side
            found = f"text from cell {start} to {len(page.text[at])}"
            tally.expect(right, page, at, f"cells {side + 1} to {book.width - side}", found)


@rule("H02")
def lines_are_centred(book: Book, tally: Tally) -> None:
    """Centred to one cell; beside a page number within the room it leaves."""
    for block in _headings(book, *_CENTRED, "title"):
        for page, at, start in zip(block.pages, block.at, block.starts, strict=True):
            end = len(page.text[at])
            left, right = start - 1, book.width - end
            limit = _limit(book, page, at)
            good = abs(left - right) <= 1 or abs(left - (limit - end)) <= 1
            good = good or (end == limit and left < right)
            tally.expect(good, page, at, "a centred line", f"{left} and {right} cells beside it")


def _limit(book: Book, page: Page, at: int) -> int:
    """The last cell that text may take on a line."""
    number = page.number if at == 0 else page.foot if at == page.depth - 1 else ""
    return book.width - len(number) - GUARD if number else book.width


@rule("H03")
def blank_around_centred(book: Book, tally: Tally) -> None:
    """One blank line above and below a centred heading; letter divisions and contents have
    rules of their own."""
    blocks = book.texts
    for before, block, after in zip([None, *blocks], blocks, [*blocks[1:], None], strict=False):
        if block.kind != "h-center" or "toc" in (kind_of(before), kind_of(after)):
            continue
        if block.style == "letter-division" or (after and after.style == "letter-division"):
            continue
        quiet = kind_of(before) == "box-top" or block.parts[0] == "runover"
        if not quiet and (before is None or before.style != "letter-division"):
            expect_above(tally, block, 1)
        if kind_of(after) not in ("box-bottom",):
            expect_below(tally, block, 1)


@rule("H04")
def heading_lines_together(book: Book, tally: Tally) -> None:
    """No blank line inside a heading; a page change line may stand there."""
    for block in _headings(book):
        for nth in range(1, len(block.at)):
            if block.pages[nth] is block.pages[nth - 1]:
                page = block.pages[nth]
                right = all(at in page.turns for at in range(block.at[nth - 1] + 1, block.at[nth]))
                tally.expect(right, page, block.at[nth], "no blank line", "a gap")


@rule("H05")
def cell_5(book: Book, tally: Tally) -> None:
    """All lines in cell 5."""
    for block in _headings(book, "h-5"):
        expect_margins(tally, block, 5, 5)


@rule("H06")
def blanks_of_cell_5(book: Book, tally: Tally) -> None:
    """Blank above, none below, where what follows has no need of its own."""
    breaks = after_breaks(book)
    for group in groups(book, "h-5"):
        for nth, block in enumerate(group.blocks):
            before = group.blocks[nth - 1] if nth else group.before
            if kind_of(before) != "box-top" and block.parts[0] == "first":
                expect_above(tally, block, 1)
        columned = group.after is not None and group.after.style == "list-columns"
        apart = group.after is not None and group.after.element in breaks
        quiet = columned or apart
        if kind_of(group.after) in ("para", "list", "verse", "h-7") and not quiet:
            expect_below(tally, group.last, 0)


@rule("H07")
def blank_before_columns(book: Book, tally: Tally) -> None:
    """A blank line before columned matter."""
    for group in groups(book, "h-5", "h-7"):
        after = group.after
        headed = after is not None and after.kind == "table-head"
        columned = headed and after and after.style != "table-row-heading"
        if columned or (after is not None and after.style == "list-columns"):
            expect_below(tally, group.last, 1)


@rule("H08")
def heading_in_box(book: Book, tally: Tally) -> None:
    """No blank line between a box's top line and its heading."""
    for group in groups(book, *HEADINGS):
        if kind_of(group.before) == "box-top":
            expect_above(tally, group.first, 0)


@rule("H09")
def cell_7(book: Book, tally: Tally) -> None:
    """All lines in cell 7; a blank line above unless its cell-5 heading is there."""
    blocks = book.texts
    for before, block in zip([None, *blocks], blocks, strict=False):
        if block.kind == "h-7":
            expect_margins(tally, block, 7, 7)
        if block.kind == "h-7" and block.parts[0] == "first":
            if kind_of(before) in ("note", "note-rule"):
                continue
            if kind_of(before) not in ("box-top", "h-5"):
                expect_above(tally, block, 1)
            elif kind_of(before) == "h-5":
                expect_above(tally, block, 0)


@rule("H10")
def not_on_last_line(book: Book, tally: Tally) -> None:
    """No heading on the last line, unless nothing follows it."""
    lone = _lone(book)
    for block in _short(book):
        for page, at in zip(block.pages, block.at, strict=True):
            if id(block) in lone:
                continue
            tally.expect(at < page.depth - 1, page, at, "no heading on the last line", "a heading")


def _ends_part(block: Block, after: Block) -> bool:
    """Whether nothing follows a heading: another series begins, or another heading begins a page
    that is asked for."""
    page = block.pages[-1]
    if after.page.series != page.series:
        return True
    return after.kind in HEADINGS and after.page is not page and after.page.asked


def _lone(book: Book) -> set[int]:
    """Identities of the headings that nothing follows."""
    return {id(one) for one, two in pairwise(book.texts) if _ends_part(one, two)}


def _short(book: Book) -> Iterator[Block]:
    """Headings, those of a series longer than a page left out (BF 4.10)."""
    for group in groups(book, *HEADINGS):
        if not _is_long(group, book):
            yield from group.blocks


def _is_long(group: Group, book: Book) -> bool:
    """Whether headings, with the line of text due below them, fill a page and more."""
    return sum(len(block.at) + 1 for block in group.blocks) + 1 >= book.depth


@rule("H11")
def text_after_heading(book: Book, tally: Tally) -> None:
    """A line of text follows on the page, be it of another heading.  A heading has none before
    another series, where another heading begins a page that is asked for, or inside a series of
    headings that is longer than a page (BF 4.10)."""
    for group in groups(book, *HEADINGS):
        long = _is_long(group, book)
        for block, after in zip(group.blocks, [*group.blocks[1:], group.after], strict=True):
            page, at = block.pages[-1], block.at[-1]
            if after is None or _ends_part(block, after) or (long and block is not group.last):
                continue
            right = page.has_text(at + 1, page.depth)
            tally.expect(right, page, at, "a line of text below the heading", "none on the page")


@rule("H12")
def item_after_heading(book: Book, tally: Tally) -> None:
    """A whole item of a list follows on the page."""
    for group in groups(book, *HEADINGS):
        after = group.after
        if after is not None and after.kind == "list" and len(after.at) < book.depth // 2:
            page = group.last.pages[-1]
            right = after.pages[-1] is page
            tally.expect(right, page, group.last.at[-1], "one whole item below", "part of one")


@rule("H13")
def heading_on_one_page(book: Book, tally: Tally) -> None:
    """All lines of a heading on one page, none in another volume."""
    for block in _headings(book):
        if block.parts[0] == "runover":
            expected, found = "the whole heading on one page", "the rest of one"
            tally.expect(False, block.page, block.at[0], expected, found)
    for block in _short(book):
        right = block.pages[0] is block.pages[-1]
        tally.expect(right, block.pages[0], block.at[0], "the whole heading here", "a part of it")


@rule("H14")
def one_form_a_rank(book: Book, tally: Tally) -> None:
    """The same printed rank has the same form."""
    forms: dict[int, str] = {}
    for block in _headings(book):
        if block.level and block.element:
            form = forms.setdefault(block.level, block.kind)
            right = block.kind == form
            expected = f"{_FORMS[form]}, as others of its rank have it"
            tally.expect(right, block.page, block.at[0], expected, _FORMS[block.kind])


@rule("H15")
def no_rank_left_out(book: Book, tally: Tally) -> None:
    """Cell-7 under cell-5, cell-5 under a centred heading."""
    met: set[str] = set()
    for block in _headings(book):
        if not block.element:
            continue
        if block.kind == "h-center":
            met = {"h-center"}
        elif block.kind == "h-5":
            right = "h-center" in met
            tally.expect(right, block.page, block.at[0], "a centred heading before", "none")
            met.add("h-5")
        else:
            right = "h-5" in met
            tally.expect(right, block.page, block.at[0], "a cell-5 heading before", "none")


@rule("H16")
def no_typeform_over_all(book: Book, tally: Tally) -> None:
    """No typeform covers a whole heading."""
    for block in _headings(book):
        words = " ".join(line.strip() for line in block.cells)
        right = not _WHOLE.match(words)
        tally.expect(right, block.page, block.at[0], "no typeform", "a typeform over all")


@rule("H18")
def caption_after_heading(book: Book, tally: Tally) -> None:
    """No blank line between a heading and a caption."""
    for group in groups(book, "caption", styles=("caption",)):
        if kind_of(group.before) in ("h-5", "h-7") and above(group.first) is not None:
            expect_above(tally, group.first, 0)
