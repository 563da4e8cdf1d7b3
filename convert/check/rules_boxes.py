"""Checks of boxes (X).  Their lines are known by the trace, or by sight: eight or more of one
sign."""

from __future__ import annotations

import re
from itertools import pairwise
from typing import NamedTuple, cast

from .kinds import HEADINGS, expect_above, expect_below, gap_above, gap_below, groups, kind_of
from .model import Book, Page, Tally, rule

_LINE = re.compile(r" *(7{8}|g{8}|={8})")
_WHOLE = re.compile(r"(7+|g+|=+)$|7+ @\.<.*@\.> 7+$")
_NEAR = frozenset("7g=")
_SIGNS = ("7" * 8, "g" * 8, "=" * 8)
_KINDS = frozenset(["box-top", "box-bottom"])
GUARD = 3


class BoxLine(NamedTuple):
    """A box line: its page, its index, its sign, whether it opens, how deep it stands."""

    page: Page
    at: int
    sign: str
    opens: bool
    pairs: bool


def box_lines(book: Book) -> list[BoxLine]:
    """All box lines in order.  Full cells open and close by turns; ``pairs`` is False where a
    line closes nothing."""
    if "boxes" not in book.memo:
        book.memo["boxes"] = _find_box_lines(book)
    return cast(list[BoxLine], book.memo["boxes"])


def _find_box_lines(book: Book) -> list[BoxLine]:
    out: list[BoxLine] = []
    stack: list[str] = []
    for page in book.pages():
        if not page.lines and not any(sign in page.joined for sign in _SIGNS):
            continue
        for at, line in enumerate(page.text):
            traced = bool(page.lines) and page.lines[at].kind in _KINDS
            if not traced and not (_NEAR.intersection(line[-8:-4]) and _LINE.match(line)):
                continue
            sign = line.lstrip()[0]
            opens = sign == "7" or (sign == "=" and "=" not in stack)
            pairs = True
            if opens:
                stack.append(sign)
            else:
                pairs = bool(stack) and stack[-1] == ("7" if sign == "g" else "=")
                if pairs:
                    stack.pop()
            out.append(BoxLine(page, at, sign, opens, pairs))
    if stack and out:
        out[-1] = out[-1]._replace(pairs=False)
    return out


@rule("X01")
def one_sign(book: Book, tally: Tally) -> None:
    """One repeated sign from cell 1."""
    for line in box_lines(book):
        text = line.page.text[line.at]
        tally.expect(bool(_WHOLE.match(text)), line.page, line.at, "one repeated sign", "others")


@rule("X02")
def full_width(book: Book, tally: Tally) -> None:
    """The full width, or three cells short of a page number."""
    for line in box_lines(book):
        page, at = line.page, line.at
        number = page.number if at == 0 else page.foot if at == page.depth - 1 else ""
        wanted = book.width - len(number) - GUARD if number else book.width
        found = len(page.text[at])
        tally.expect(found == wanted, page, at, f"{wanted} cells", f"{found} cells")


@rule("X03")
def boxes_close(book: Book, tally: Tally) -> None:
    """Every box is closed, inner ones first."""
    for line in box_lines(book):
        tally.expect(line.pairs, line.page, line.at, "tops and bottoms in pairs", "one too many")


@rule("X04")
def no_blank_inside(book: Book, tally: Tally) -> None:
    """No blank line under a top line or above a bottom line."""
    for line in box_lines(book):
        page, at = line.page, line.at
        gap = gap_below(page, at) if line.opens else gap_above(page, at)
        if gap is not None:
            tally.expect(gap == 0, page, at, "no blank line inside", f"{gap} blank")


@rule("X05")
def blanks_outside(book: Book, tally: Tally) -> None:
    """A blank line above the top line and below the bottom line."""
    for group in groups(book, "box-top"):
        if kind_of(group.before) != "box-top":
            expect_above(tally, group.first, 1)
    for group in groups(book, "box-bottom"):
        source = group.after is not None and group.after.style == "source"
        if not source and kind_of(group.after) not in ("box-bottom", "note-rule"):
            expect_below(tally, group.last, 1)


@rule("X06")
def boxes_in_a_row(book: Book, tally: Tally) -> None:
    """One blank line between a bottom line and the next top line."""
    lines = box_lines(book)
    for one, two in pairwise(lines):
        near = not one.opens and two.opens and one.page is two.page
        if near and not one.page.has_text(one.at + 1, two.at):
            blanks = one.page.text[one.at + 1 : two.at].count("")
            tally.expect(blanks == 1, two.page, two.at, "one blank line above", f"{blanks}")


@rule("X07")
def text_after_top(book: Book, tally: Tally) -> None:
    """A line of text after the top line on its page, after headings too."""
    for group in groups(book, "box-top", *HEADINGS):
        tops = [block for block in group.blocks if block.kind == "box-top"]
        if tops:
            last, page = group.last, tops[-1].page
            right = last.pages[-1] is page and page.has_text(last.at[-1] + 1, page.depth)
            told = group.blocks[group.blocks.index(tops[-1]) :]
            tally.expect_of(right, told, "a line of text below on the page", "none")


@rule("X08")
def text_before_bottom(book: Book, tally: Tally) -> None:
    """The bottom line is not the first on its page."""
    for line in box_lines(book):
        if not line.opens:
            right = line.page.has_text(0, line.at)
            tally.expect(right, line.page, line.at, "a line of text above", "none")


@rule("X09")
def adjoining_lines(book: Book, tally: Tally) -> None:
    """No blank line where inner and outer lines meet."""
    lines = box_lines(book)
    for one, two in pairwise(lines):
        if one.opens == two.opens and one.page is two.page:
            between = one.page.text[one.at + 1 : two.at]
            if not any(between):
                tally.expect(not between, two.page, two.at, "no blank line above", "a blank line")


@rule("X10")
def box_at_page_top(book: Book, tally: Tally) -> None:
    """Line 1, or 2 below a blank line due; line 3 under a running head."""
    for group in groups(book, "box-top"):
        first = group.first
        if first.tops:
            wanted = (2,) if first.page.head else (0, 1)
            right = first.at[0] in wanted
            found = f"line {first.at[0] + 1}"
            tally.expect(right, first.page, first.at[0], f"line {wanted[0] + 1}", found)


@rule("X12")
def source_under_box(book: Book, tally: Tally) -> None:
    """No blank line between the bottom line and the source line."""
    for group in groups(book, "caption", styles=("source",)):
        if kind_of(group.before) == "box-bottom":
            expect_above(tally, group.first, 0)
