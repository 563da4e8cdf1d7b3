"""Checks of lines of text: margins (G10), paragraphs (A), typeforms (T), notes by the
transcriber (N), illustrations (I), displayed matter (D)."""

from __future__ import annotations

import re
from itertools import pairwise

from .kinds import (
    HOLDERS,
    NEEDS_ABOVE,
    above,
    below,
    expect_above,
    expect_below,
    expect_margins,
    going_on,
    groups,
    kind_of,
)
from .model import Block, Book, Page, Tally, rule
from .rules_document import after_breaks

_FREE = frozenset(
    ["table", "table-head", "table-rule", "math", "h-center", "title", "end-of-volume", "page-turn"]
)
_SPREAD = frozenset(["h-center", "h-5", "h-7", "title", "end-of-volume", "page-turn"])
_CENTRED = frozenset(["table-columns-title"])
_IN_NOTES = frozenset(["table-key", "table-step-heading"])  # Lists that are part of a note.
_NOTE = re.compile(r"@\.[<>]")
_EMBEDDED = re.compile(r"@\.<(.*?)@\.>")
_MARK = re.compile(r"([.^_@])(?:7(?<![^ \n\-(8<]..)(?=\S)|('))")
_OPENS = re.compile(r"[^a-z#.^_@]{0,3}([.^_@])7(?=\S)")
_CLOSES = re.compile(r"([.^_@])'[^a-z#.^_@]{0,3}$")
_TYPEFORM = re.compile(r"(?:^| )[.^_][127]\S")
_DIVIDED = re.compile(r"(-|_/|\")\n")
WORDS = 7
INDENT = 2  # Cells of a paragraph inside displayed matter (BF 9.2).
LEAD = 12  # Cells in which a typeform of a whole paragraph is opened.


@rule("G10")
def runovers_agree(book: Book, tally: Tally) -> None:
    """All runovers of an element begin in one cell, with no blank line among them."""
    for block in book.texts:
        if block.kind not in _SPREAD and len(block.at) > 1:
            _expect_close(tally, block)
        if block.kind in _FREE or block.style in _CENTRED or len(block.at) < 3:
            continue
        wanted = 0
        starts = block.starts[1:]
        if block.parts[0] != "runover" and starts.count(starts[0]) == len(starts):
            tally.seen += block.parts.count("runover")
            continue
        for page, at, start, part in zip(
            block.pages, block.at, block.starts, block.parts, strict=True
        ):
            if part == "runover":
                wanted = wanted or start
                tally.expect(start == wanted, page, at, f"cell {wanted}", f"cell {start}")


def _expect_close(tally: Tally, block: Block) -> None:
    """No blank line between two lines of an element on one page; headings are H04's."""
    lines = zip(block.pages, block.at, block.parts, strict=True)
    for (page, at, _), (after, low, part) in pairwise(lines):
        if page is after and low == at + 2 and part == "runover" and not page.text[at + 1]:
            tally.expect(False, page, low, "no blank line inside an element", "one above")


# ------------------------------------------------------------------ paragraphs


@rule("A01")
def indented(book: Book, tally: Tally) -> None:
    """3-1."""
    for block in book.blocks:
        if block.style == "paragraph":
            expect_margins(tally, block, 3, 1)


@rule("A02")
def blocked(book: Book, tally: Tally) -> None:
    """1-1, one blank line between."""
    for group in groups(book, "para", styles=("blocked",)):
        for nth, block in enumerate(group.blocks):
            expect_margins(tally, block, 1, 1)
            if nth:
                expect_above(tally, block, 1)


@rule("A04")
def ornaments(book: Book, tally: Tally) -> None:
    """A line of ornaments is centred with blank lines around."""
    for block in book.blocks:
        if block.style == "context-break":
            page, at = block.page, block.at[0]
            left, right = block.starts[0] - 1, book.width - len(page.text[at])
            tally.expect(
                abs(left - right) <= 1,
                page,
                at,
                "a centred line",
                f"{left} and {right} cells beside it",
            )
            expect_above(tally, block, 1)
            expect_below(tally, block, 1)


# ------------------------------------------------------------------ typeforms


@rule("T02")
def no_typeforms_here(book: Book, tally: Tally) -> None:
    """None in contents and on title pages."""
    for block in book.blocks:
        if block.kind in ("toc", "title"):
            for page, at, line in zip(block.pages, block.at, block.cells, strict=True):
                tally.expect(not _TYPEFORM.search(line), page, at, "no typeform", "an indicator")


@rule("T01")
def passages_over_paragraphs(book: Book, tally: Tally) -> None:
    """A passage that the next paragraph opens again is not closed before it."""
    for group in groups(book, "para", styles=("paragraph", "blocked")):
        for one, two in pairwise(group.blocks):
            first = two.page.text[two.at[0]]
            if "7" not in first[:LEAD]:
                continue
            opened = _OPENS.match(first.strip())
            before = _OPENS.match(one.cells[0].strip())
            if opened is None or before is None or opened[1] != before[1]:
                continue
            closed = _CLOSES.search(one.cells[-1].rstrip())
            once = closed is None or closed[1] != opened[1]
            tally.expect(once, one.pages[-1], one.at[-1], "no terminator yet", "a terminator")


@rule("T03")
def passages_end(book: Book, tally: Tally) -> None:
    """Every passage indicator has its terminator.  Special symbols pages list both."""
    opened: dict[str, tuple[Page, int]] = {}  # With the place of the indicator on its page.
    for page in book.pages():
        if page.series == "t":
            continue
        for mark in _MARK.finditer(page.joined):
            if mark[2]:
                opened.pop(mark[1], None)
            else:
                tally.seen += 1
                opened.setdefault(mark[1], (page, mark.start()))
    for page, start in opened.values():
        at = page.joined.count("\n", 0, start)
        tally.expect(False, page, at, "a terminator after it", "none")


# ------------------------------------------------------------------ transcriber's notes


@rule("N01")
def notes_are_pairs(book: Book, tally: Tally) -> None:
    """Opening and closing indicators alternate."""
    opened: tuple[Page, int] | None = None
    for page in book.pages():
        if page.series == "t" or "@." not in page.joined:
            continue
        for at, line in enumerate(page.text):
            if "@." not in line:
                continue
            for mark in _NOTE.findall(line):
                right = (mark == "@.<") == (opened is None)
                found = "an opening one" if mark == "@.<" else "a closing one"
                tally.expect(right, page, at, "indicators by turns", found)
                opened = (page, at) if mark == "@.<" else None
    if opened:
        tally.expect(False, *opened, "a closing indicator", "none")


@rule("N02")
def indicators_touch_words(book: Book, tally: Tally) -> None:
    """No blank cell after the opening or before the closing indicator."""
    for page in book.pages():
        if page.series == "t":
            continue
        for at, line in enumerate(page.text):
            if "@." in line and _NOTE.search(line):
                text = line.strip()
                loose = "@.< " in line or " @.>" in line
                loose = loose or text.startswith("@.>") or text.endswith("@.<")
                tally.expect(not loose, page, at, "no blank cell inside the note", "one")


@rule("N03")
def long_notes_stand_alone(book: Book, tally: Tally) -> None:
    """More than seven words: a paragraph of its own."""
    noted = {id(page) for page in book.pages() if "@.<" in page.joined}
    for block in book.texts if noted else ():
        if block.kind == "tn" or block.page.series == "t":
            continue
        if noted.isdisjoint(map(id, block.pages)):
            continue
        cells = block.cells
        if any("@.<" in line for line in cells):
            for words in _EMBEDDED.findall(_joined(cells)):
                count = len(words.split())
                right, found = count <= WORDS, f"a note of {count} words"
                expected = f"{WORDS} words at most in a note among other text"
                tally.expect(right, block.page, block.at[0], expected, found)


def _joined(lines: list[str]) -> str:
    """Lines as one; a word that goes on behind a hyphen, a slash or dot 5 is one word."""
    return _DIVIDED.sub(r"\1", "\n".join(line.strip() for line in lines)).replace("\n", " ")


@rule("N04")
def margins_of_notes(book: Book, tally: Tally) -> None:
    """7-5, further right inside an item."""
    for group in groups(book, "tn"):
        for block in group.blocks:
            if block.style in _IN_NOTES:
                continue
            runovers = {s for s, p in zip(block.starts, block.parts, strict=True) if p != "first"}
            inside = group.holder in HOLDERS and block.starts[0] >= 7
            shift = block.starts[0] - 7 if inside and block.parts[0] == "first" else 0
            if block.parts[0] != "first" and len(runovers) == 1 and group.holder in HOLDERS:
                shift = max(0, block.starts[0] - 5)
            expect_margins(tally, block, 7 + shift, 5 + shift)


@rule("N06")
def notes_with_their_matter(book: Book, tally: Tally) -> None:
    """A note that introduces something does not end a page."""
    blocks = book.texts
    for block, after in pairwise(blocks):
        if block.kind == "tn" and block.style in ("transcriber-note", "table-note"):
            right = after.page is block.pages[-1]
            tally.expect(right, block.pages[-1], block.at[-1], "what it explains here", "none")


# ------------------------------------------------------------------ illustrations


@rule("I01")
def margins_of_captions(book: Book, tally: Tally) -> None:
    """7-5."""
    for block in book.blocks:
        if block.kind == "caption" and block.style == "caption":
            expect_margins(tally, block, 7, 5)


@rule("I03")
def caption_before_description(book: Book, tally: Tally) -> None:
    """Caption, then description, of one illustration."""
    blocks = book.texts
    for one, two in pairwise(blocks):
        if {one.style, two.style} == {"caption", "description"} and one.element and two.element:
            inside = two.element.startswith(one.element + "/")
            if inside or one.element.startswith(two.element + "/"):
                right = one.style == "caption"
                tally.expect(right, two.page, two.at[0], "the caption first", "the description")


@rule("I04")
def not_inside_text(book: Book, tally: Tally) -> None:
    """No paragraph or item goes on after an illustration's words."""
    blocks = book.texts
    for before, block, after in zip(blocks, blocks[1:], blocks[2:], strict=False):
        if block.style in ("caption", "description"):
            inside = after.parts[0] == "runover" and after.element == before.element
            inside = inside and before.kind == after.kind and after.element is not None
            tally.expect(not inside, block.page, block.at[0], "a place between elements", "inside")


# ------------------------------------------------------------------ displayed matter


@rule("D01")
def margin_of_displayed(book: Book, tally: Tally) -> None:
    """Cell 3, or further right inside an item, on every line; first lines of paragraphs
    and runovers of a letter's address are indented (BF 9.2, 9.7)."""
    for group in groups(book, "displayed", styles=("displayed", "displayed-blocked")):
        for block in group.blocks:
            least = min(block.starts)
            right = least in (3, 5) or (group.holder in HOLDERS and least > 3)
            tally.expect(right, block.page, block.at[0], "cell 3", f"cell {least}")
            for page, at, start in zip(block.pages, block.at, block.starts, strict=True):
                right = start - least in (0, INDENT)
                expected = f"cell {least}, or {least + INDENT} for an indent"
                tally.expect(right, page, at, expected, f"cell {start}")


@rule("D02")
def blanks_around_displayed(book: Book, tally: Tally) -> None:
    """One blank line above and below."""
    for group in groups(book, "displayed", styles=("displayed", "displayed-blocked")):
        if kind_of(group.before) not in ("box-top", "h-5", "h-7") and not group.goes_on:
            expect_above(tally, group.first, 1)
        source = group.after is not None and group.after.style == "source"
        if not source and kind_of(group.after) not in ("box-bottom", "attribution", "note-rule"):
            expect_below(tally, group.last, 1)


@rule("D03")
def attribution_start(book: Book, tally: Tally) -> None:
    """Five cells right of the start of the line above, all lines alike, those of another
    attribution right below too."""
    before: Block | None = None
    for block in book.texts:
        above, before = before, block
        if block.kind != "attribution":
            continue
        page, at = block.page, block.at[0]
        start = block.starts[0]
        for nth, other in enumerate(block.starts[1:], 1):
            wanted = f"cell {start}"
            tally.expect(other == start, block.pages[nth], block.at[nth], wanted, f"cell {other}")
        line = page.text[at - 1] if at else ""
        if above is not None and above.kind == "attribution":
            wanted = f"cell {above.starts[0]}"
            tally.expect(start == above.starts[0], page, at, wanted, f"cell {start}")
        elif line and line[:1] != "-":
            wanted_cell = len(line) - len(line.lstrip()) + 6
            right = start == wanted_cell or book.width // 2 <= start < wanted_cell
            tally.expect(right, page, at, f"cell {wanted_cell}", f"cell {start}")


@rule("D04")
def blanks_of_attribution(book: Book, tally: Tally) -> None:
    """None above, one below."""
    listed = going_on(book)
    for group in groups(book, "attribution"):
        if group.first.parts[0] == "first":
            expect_above(tally, group.first, 0)
        if kind_of(group.after) not in ("box-bottom", "note-rule") and (
            id(group.after) not in listed
        ):
            expect_below(tally, group.last, 1)


@rule("D05")
def attribution_with_text(book: Book, tally: Tally) -> None:
    """A line of its text on the page."""
    for group in groups(book, "attribution"):
        if group.before is not None:
            right = not group.first.tops
            tally.expect(right, group.first.page, group.first.at[0], "a line of text above", "none")


@rule("D06")
def margins_of_sources(book: Book, tally: Tally) -> None:
    """7-5."""
    for block in book.blocks:
        if block.style == "source":
            expect_margins(tally, block, 7, 5)


@rule("D07")
def blanks_around_references(book: Book, tally: Tally) -> None:
    """A blank line above and below a cross-reference."""
    for group in groups(book, "para", styles=("cross-reference",)):
        if kind_of(group.before) not in ("box-top", "h-5", "h-7"):
            expect_above(tally, group.first, 1)
        if kind_of(group.after) not in ("box-bottom", "note-rule"):
            expect_below(tally, group.last, 1)


@rule("N05")
def no_blank_around_notes(book: Book, tally: Tally) -> None:
    """No blank line between a note and a plain paragraph or a caption, where print has no change of
    scene."""
    blocks, apart = book.texts, after_breaks(book)
    for before, block, after in zip(blocks, blocks[1:], blocks[2:], strict=False):
        if block.kind == "tn" and block.style in ("transcriber-note", "description"):
            if before.style in ("paragraph", "caption") and before.kind not in NEEDS_ABOVE:
                gap = above(block)
                if gap is not None:
                    tally.expect(gap == 0, block.page, block.at[0], "no blank line above", "one")
            if after.style == "paragraph" and after.element not in apart:
                gap = below(block)
                if gap is not None:
                    page, at = block.pages[-1], block.at[-1]
                    tally.expect(gap == 0, page, at, "no blank line below", "one")
