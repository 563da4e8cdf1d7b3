"""Checks of running heads (R) and of page tops and feet (Z)."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise
from typing import cast

from .kinds import HEADINGS, NEEDS_ABOVE, NEEDS_BELOW, TABLE, going_on
from .model import Block, Book, Page, Tally, rule

NEW_PAGE = frozenset(["glossary", "index", "bibliography", "note", "toc"])
GUARD = 3
SHALLOW = 10  # Lines of a page, or half the cells of a line; common practice, no source.
SPARE = 2  # Lines; common practice, no source.
_OPENING = re.compile(r'( *(?:(?:"7|_?@[<>]|;?\$\S+) )?\S+)')
_QUIET = ("attribution", "box-bottom", "note-rule")  # They need no blank line above.


@rule("R01")
def same_head(book: Book, tally: Tally) -> None:
    """One running head a volume."""
    for volume in book.volumes:
        heads = [page for page in volume if page.head]
        for page in heads:
            tally.expect(page.head == heads[0].head, page, 0, heads[0].head, page.head)


@rule("R02")
def no_head_on_title_page(book: Book, tally: Tally) -> None:
    """None on a title page."""
    if any(page.head for page in book.pages()):
        for page in book.pages():
            if page.titled:
                tally.expect(not page.head, page, 0, "no running head", page.head)


@rule("R03")
def room_around_head(book: Book, tally: Tally) -> None:
    """Three blank cells at its left and before the page number."""
    for page in book.pages():
        if page.head:
            row = page.rows[0]
            left = row.find(page.head)
            end = left + len(page.head)
            right = len(row) - len(page.number) - end if page.number else book.width - end
            tally.expect(
                left >= GUARD and right >= GUARD, page, 0,
                f"{GUARD} blank cells at each side", f"{left} and {right}",
            )  # fmt: skip


@rule("R04")
def head_is_centred(book: Book, tally: Tally) -> None:
    """Centred, or as far right as the page number lets it."""
    for page in book.pages():
        if page.head:
            start = page.rows[0].find(page.head)
            middle = (book.width - len(page.head)) // 2
            if page.number:
                middle = min(middle, book.width - len(page.number) - GUARD - len(page.head))
            right = abs(start - middle) <= 1
            tally.expect(right, page, 0, f"a start in cell {middle + 1}", f"cell {start + 1}")


@rule("R05")
def text_under_head(book: Book, tally: Tally) -> None:
    """Text that goes on stands straight under the head."""
    for page in book.pages():
        first = page.first
        if page.head and first < page.depth and page.lines[first].part == "runover":
            tally.expect(first == 1, page, first, "the text on line 2", f"line {first + 1}")


@rule("R06")
def heading_under_head(book: Book, tally: Tally) -> None:
    """A heading or box line that comes first stands on line 3."""
    for page in book.pages():
        first = page.first
        if not page.head or first >= page.depth or page.titled:
            continue
        line = page.lines[first]
        if (line.kind in HEADINGS or line.kind == "box-top") and line.part == "first":
            tally.expect(first == 2, page, first, "line 3", f"line {first + 1}")


Top = tuple[Block, Block, int, bool]


def _tops(book: Book) -> list[Top]:
    """Body page turns: the block before, the block after, the line it begins on, from 0, and
    whether the page before has text on one of its last two lines.

    Front matter items, alphabetic references and whatever else asks to begin a new page begin on
    its first line, so nothing is due there.
    """
    if "tops" not in book.memo:
        book.memo["tops"] = list(_find_tops(book))
    return cast(list[Top], book.memo["tops"])


def _find_tops(book: Book) -> Iterator[Top]:
    listed = going_on(book)
    last: Block | None = None
    for at, block in enumerate(book.blocks):
        page = block.page
        if last is not None and block.kind == "page-turn" and _ends_after(last, block):
            continue
        if last is not None and block.tops and _follows(last.pages[-1], page):
            kinds = {near.kind for near in book.blocks[at : at + 3]} & NEW_PAGE
            known = block.kind != "page-turn" and block.parts[0] == "first"
            known = known and id(block) not in listed
            if known and not page.asked and not (block.kind in HEADINGS and kinds):
                full = last.pages[-1].last >= book.depth - 2
                yield last, block, page.first - bool(page.head), full
        last = block


def _ends_after(block: Block, turn: Block) -> bool:
    """Whether an element has lines below a page change line."""
    page, at = block.pages[-1], block.at[-1]
    return at > turn.at[0] if page is turn.page else any(p is turn.page for p in block.pages)


def _follows(before: Page, page: Page) -> bool:
    same = before.volume == page.volume and before.ordinal + 1 == page.ordinal
    return same and before.series == page.series == "body"


def _due_below(block: Block, after: Block) -> bool:
    return block.kind in NEEDS_BELOW and after.kind not in (block.kind, *_QUIET)


def _due_above(block: Block, before: Block) -> bool:
    if before.kind in HEADINGS or before.kind == "box-top":
        return False
    return block.kind in NEEDS_ABOVE and block.kind != before.kind


@rule("Z01")
def blank_due_below(book: Book, tally: Tally) -> None:
    """A blank line due below comes at the top of the next page."""
    for before, after, first, full in _tops(book):
        if full and _due_below(before, after):
            tally.expect(first >= 1, after.page, 0, "a blank line at the top", "text")


@rule("Z02")
def blank_due_above(book: Book, tally: Tally) -> None:
    """A blank line due above comes at the top of the page."""
    for before, after, first, full in _tops(book):
        if full and _due_above(after, before):
            tally.expect(first >= 1, after.page, 0, "a blank line at the top", "text")


@rule("Z03")
def no_other_blank(book: Book, tally: Tally) -> None:
    """No blank line at the top where none is due."""
    for _, after, first, full in _tops(book):
        headed = after.page.head and (after.kind in HEADINGS or after.kind == "box-top")
        if not full and not headed and _has_room(after.page, book.width):
            tally.expect(first == 0, after.page, 0, "text on the first line", "a blank line")
    for block in book.blocks:
        for nth in range(1, len(block.at)):
            page = block.pages[nth]
            if page is not block.pages[nth - 1]:
                blank = page.first - bool(page.head) > 0 and _has_room(page, book.width)
                tally.expect(not blank, page, 0, "text on the first line", "a blank line")


def _has_room(page: Page, width: int) -> bool:
    """Whether the word that begins a page, the row of a table or the line of a formula fits on its
    first line beside the page number; an entry of contents may not stand there.  A sign of
    comparison goes with what it opens (Guidelines for Technical Material 1), and a box with the
    words it is ticked for (common practice, no source)."""
    line = page.text[page.first]
    if page.number and page.lines and page.lines[page.first].kind == "toc":
        return False
    row = bool(page.lines) and page.lines[page.first].kind in (*TABLE, "math")
    end = len(line) if row else _OPENING.match(line + " ").end(1)  # type: ignore[union-attr]
    return not page.number or end <= width - len(page.number) - GUARD


@rule("Z04")
def fixed_headings(book: Book, tally: Tally) -> None:
    """Headings of special symbols and notes pages on line 1, or 3 under a running head."""
    for page in book.pages():
        first = page.first
        if page.series != "t" or page.titled or first >= page.depth:
            continue
        if page.lines[first].kind == "h-center" and page.lines[first].part == "first":
            wanted = 2 if page.head else 0
            tally.expect(first == wanted, page, first, f"line {wanted + 1}", f"line {first + 1}")


@rule("Z05")
def feet_are_used(book: Book, tally: Tally) -> None:
    """A paragraph that goes on overleaf, or one that begins there, leaves no room at the foot.

    ``SPARE`` lines may stay empty: the rules about first and last lines need that many; more
    where lines overleaf end in the hyphen of a compound, which no page may, or where the paragraph
    overleaf asks what fields of a form below it answer.  Small pages are not judged: there
    a compound or a heading may be most of a page.
    """
    if min(book.depth, book.width // 2) < SHALLOW:
        return
    for volume in book.volumes:
        for page, after in pairwise(volume):
            first = after.first
            if page.series != "body" or after.series != "body" or first >= after.depth:
                continue
            line = after.lines[first]
            if line.kind != "para" or after.asked or _pinned(page) or _asks(after):
                continue
            unused = page.depth - 1 - page.last
            spare = SPARE + (line.part == "first")
            right = unused <= spare or unused <= spare + _hyphened(after)
            right = right or unused <= SPARE + _with_end(after)
            tally.expect(right, page, page.last, "text on the lines below", f"{unused} empty lines")


def _asks(page: Page) -> bool:
    """Whether a field of a form stands right below the paragraph that begins a page."""
    asking, *rest = page.lines[page.first :]
    below = next((line for line in rest if (line.kind, line.part) != ("para", "runover")), asking)
    return asking.part == "first" and below.kind == "form"


def _hyphened(page: Page) -> int:
    """How many lines from the first text of a page on end in a hyphen."""
    count = 0
    for text in page.text[page.first :]:
        if not text.endswith("-"):
            break
        count += 1
    return count


# What stands below the last line of a text and may not be parted from it.
ENDS = ("box-bottom", "end-of-volume", "page-turn")


def _with_end(page: Page) -> int:
    """How many lines end boxes and the volume on a page that holds only the last line of a
    paragraph beside them, kept there for them; else none."""
    _, *ends = [at for at, text in enumerate(page.text) if text] or [0]
    return len(ends) if all(page.lines[at].kind in ENDS for at in ends) else 0


def _pinned(page: Page) -> bool:
    """Whether the last text of a page may not be parted from what stands below it."""
    kind = page.lines[page.last].kind if page.last >= 0 else ""
    return kind in ("note", "note-rule", "title", "end-of-volume", "page-turn", "symbols")
