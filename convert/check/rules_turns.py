"""Checks of page change lines (C)."""

from __future__ import annotations

import re
from typing import cast

from .kinds import NEEDS_ABOVE, NEEDS_BELOW, TABLE, going_on, same_list
from .model import Block, Book, Page, Tally, rule
from .numbers import say, split_number
from .rules_numbers import repeated

_NUMBERED = re.compile(r"-+[^- ](\S| (?=\S))*$")  # A label may be of several words.
_BOX = re.compile(r"(7{5,}|={5,})$")


def _number(page: Page, at: int) -> str:
    """The number of a page change line; empty for an unnumbered one."""
    return page.text[at].lstrip("-")


def _under_head(page: Page, at: int) -> bool:
    """Whether no text of the page stands above."""
    return not any(page.text[:at])


@rule("C01")
def numbered_line_is_full(book: Book, tally: Tally) -> None:
    """Dots 36 from cell 1, then the number, to the last cell."""
    for page, at in book.turns:
        line = page.text[at]
        if line.strip("-"):
            right = len(line) == book.width and bool(_NUMBERED.match(line))
            expected = f"dots 3-6 from cell 1, the number ending in cell {book.width}"
            tally.expect(right, page, at, expected, f"a line that ends in cell {len(line)}")


@rule("C02")
def unnumbered_line_is_full(book: Book, tally: Tally) -> None:
    """A full row of dots 36."""
    for page, at in book.turns:
        line = page.text[at]
        if not line.strip("-"):
            found = f"{len(line)} cells"
            tally.expect(len(line) == book.width, page, at, f"{book.width} cells", found)


@rule("C03")
def not_on_last_line(book: Book, tally: Tally) -> None:
    """No page change line on the last line."""
    for page, at in book.turns:
        right = at < book.depth - 1
        tally.expect(right, page, at, "no page change line here", "a page change line")


@rule("C04")
def not_above_all_text(book: Book, tally: Tally) -> None:
    """At a page top the number on line 1 is the only sign."""
    for page, at in book.turns:
        if _number(page, at):
            expected = "the number on line 1 alone"
            tally.expect(not _under_head(page, at), page, at, expected, "a page change line")


@rule("C05")
def text_after_it_on_last_line(book: Book, tally: Tally) -> None:
    """On the last line but one only with text on the last line."""
    for page, at in book.turns:
        if at == book.depth - 2:
            right = bool(page.text[at + 1])
            tally.expect(right, page, at, "text on the last line", "none")


@rule("C06")
def one_blank_beside(book: Book, tally: Tally) -> None:
    """Not both a blank line above and below."""
    for page, at in book.turns:
        if 0 < at < book.depth - 1:
            both = not page.text[at - 1] and not page.text[at + 1]
            both = both and page.last > at and not _under_head(page, at)
            tally.expect(not both, page, at, "one blank line at most", "one above and one below")


def _neighbours(book: Book) -> list[tuple[Block, Block, Block]]:
    """Page change lines between two elements, with the elements before and after them."""
    out = []
    for before, turn, after in zip(book.blocks, book.blocks[1:], book.blocks[2:], strict=False):
        if turn.kind != "page-turn" or "page-turn" in (before.kind, after.kind):
            continue
        if not _goes_on(before, turn):
            out.append((before, turn, after))
    return out


def _goes_on(block: Block, turn: Block) -> bool:
    """Whether an element that began before a page change line has lines after it."""
    if block.pages[-1] is turn.page:
        return block.at[-1] > turn.at[0]
    return any(page is turn.page for page in block.pages)


def _inside(book: Book) -> list[tuple[Block, Page, int, int]]:
    """Page change lines inside one element: the element, the page, the line, and which of the
    element's lines comes next; found once."""
    if "inside" not in book.memo:
        book.memo["inside"] = _find_inside(book)
    return cast(list[tuple[Block, Page, int, int]], book.memo["inside"])


def _find_inside(book: Book) -> list[tuple[Block, Page, int, int]]:
    out = []
    turned = {id(page) for page, _ in book.turns}
    for block in book.blocks:
        one = len(block.at) < 2 or block.pages[0] is block.pages[-1]
        pages = block.pages[:1] if one else block.pages
        if turned.isdisjoint(map(id, pages)):
            continue
        for nth, (before, after) in enumerate(zip(block.at, block.at[1:], strict=False), 1):
            page = block.pages[nth]
            if block.pages[nth - 1] is page and after > before + 1:
                at = next((n for n in range(before + 1, after) if n in page.turns), -1)
                if at >= 0:
                    out.append((block, page, at, nth))
    return out


@rule("C07")
def blank_after_it(book: Book, tally: Tally) -> None:
    """What needs a blank line above has it between itself and the page change line."""
    for before, turn, after in _neighbours(book):
        if after.kind not in NEEDS_ABOVE or after.page is not turn.page:
            continue
        if id(after) in going_on(book):
            continue
        if after.parts[0] == "runover" or _related(before, after):
            continue
        at = turn.at[0]
        right = not turn.page.text[at + 1]
        tally.expect(right, turn.page, at, "a blank line below", "none")


def _related(before: Block, after: Block) -> bool:
    """Whether no blank line is due between these two anyway, or it cannot be told."""
    if before.kind == after.kind and before.kind not in ("h-center",):
        return True
    if (before.kind, after.kind) == ("note", "h-7"):  # Its cell-5 heading may stand above.
        return True
    if before.kind in (*TABLE, "tn") and after.kind in TABLE:
        return True
    headed = before.kind in ("h-5", "h-7") and after.kind in ("h-7", "list", "verse", "exercise")
    return headed or before.kind in ("box-top", "direction", "h-5", "h-7", "table-head", "toc")


@rule("C08")
def blank_before_it(book: Book, tally: Tally) -> None:
    """What alone needs a blank line below has it above the page change line."""
    for before, turn, after in _neighbours(book):
        plain = after.kind == "para" and after.style == "paragraph"
        if before.kind not in NEEDS_BELOW or not plain or before.pages[-1] is not turn.page:
            continue
        if after.page is not turn.page:
            continue
        at = turn.at[0]
        right = at > 0 and not turn.page.text[at - 1] and bool(turn.page.text[at + 1])
        tally.expect(right, turn.page, at, "a blank line above and none below", "another order")


@rule("C09")
def no_blank_inside_list(book: Book, tally: Tally) -> None:
    """No blank lines beside it inside a list."""
    places = [(page, at) for block, page, at, _ in _inside(book) if block.kind == "list"]
    for before, turn, after in _neighbours(book):
        if before.kind == after.kind == "list" and same_list(before, after):
            places.append((turn.page, turn.at[0]))
    for page, at in places:
        right = bool(page.text[at - 1]) and (at > page.last or bool(page.text[at + 1]))
        tally.expect(right, page, at, "no blank line beside it", "a blank line")


@rule("C10")
def blank_before_box(book: Book, tally: Tally) -> None:
    """One blank line between it and the top line of a box."""
    for page, at in book.turns:
        after = next((n for n in range(at + 1, book.depth) if page.text[n]), None)
        closes = after is not None and bool(page.lines) and page.lines[after].kind == "box-bottom"
        if after is not None and not closes and _BOX.match(page.text[after]):
            blanks = after - at - 1
            tally.expect(blanks == 1, page, at, "one blank line below", f"{blanks} blank lines")


@rule("C11")
def goes_on_in_runover_cell(book: Book, tally: Tally) -> None:
    """Text after it inside an element begins in the element's runover cell."""
    for block, page, _, nth in _inside(book):
        others = [
            start
            for at, (start, part) in enumerate(zip(block.starts, block.parts, strict=True))
            if part == "runover" and at != nth
        ]
        if not others or block.kind in ("table", "math", "h-center", "title"):
            continue
        right = block.starts[nth] == others[0]
        found = f"cell {block.starts[nth]}"
        tally.expect(right, page, block.at[nth], f"cell {others[0]}", found)


@rule("C12")
def next_page_shows_it(book: Book, tally: Tally) -> None:
    """The next page shows the number, where the text of that print page goes on."""
    following = _next_pages(book)
    for page, at in book.turns:
        number = _number(page, at)
        after = following.get(id(page))
        later = max(page.turns) > at
        if not number or after is None or later or not after.number:
            continue
        divided = split_number(after.number, number)
        if divided.base == number:
            expected, right = f"{say(number)} with a letter", bool(divided.letters)
        else:
            expected = f"{say(number)} with a letter, or a new print page"
            right = not divided.letters
        tally.expect(right, after, 0, expected, say(after.number))


def _next_pages(book: Book) -> dict[int, Page]:
    """The next page of the same series, by the identity of a page."""
    out: dict[int, Page] = {}
    last: dict[str, Page] = {}
    for page in book.pages():
        if page.series in last:
            out[id(last[page.series])] = page
        last[page.series] = page
    return out


@rule("C13")
def changes_the_page(book: Book, tally: Tally) -> None:
    """Its number is not the one in force, unless two print pages in a row have the same."""
    force: dict[int, str] = {}
    again = repeated(book)
    for page, at in book.turns:
        number = _number(page, at)
        before = force.get(id(page)) or split_number(page.number, number).base
        force[id(page)] = number
        if number and before:
            expected = f"a number other than {say(before)}"
            tally.expect(number != before or number in again, page, at, expected, say(number))


@rule("C14")
def unnumbered_at_top(book: Book, tally: Tally) -> None:
    """Under a running head an unnumbered one stands on line 2."""
    for page, at in book.turns:
        if page.head and not _number(page, at) and _under_head(page, at):
            tally.expect(at == 1, page, at, "line 2", f"line {at + 1}")


@rule("C15")
def text_between(book: Book, tally: Tally) -> None:
    """Text between two page change lines."""
    for (page, at), (other, after) in zip(book.turns, book.turns[1:], strict=False):
        if page is other:
            right = any(page.text[at + 1 : after])
            tally.expect(right, page, after, "text between two page change lines", "none")
