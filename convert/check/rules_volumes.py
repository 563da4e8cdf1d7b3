"""Checks of volumes, title pages, special symbols, transcriber's notes pages, contents (V)."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise

from .kinds import above, expect_above, expect_cells, expect_margins, side_of
from .model import Block, Book, Page, Tally, rule
from .numbers import value
from .rules_numbers import left_without_numbers

_OF = re.compile(r"(#[a-j]+) ,volumes?$")
_THIS = re.compile(r",volume (#[a-j]+)$")
_THE_END = re.compile(r",,?(the|!) ,,?(end|5d)$")
_DOTS = re.compile(r'"{2,}')
_LED = re.compile(r' "{2,} \S+$')
_SINGLE = re.compile(r'[^ "] " \S+$')
_EDGE = re.compile(r" {2,}#[a-j]+$")
SHALLOW = 12  # Lines, or half the cells of a line, of a page with room for all of a title page;
# common practice, no source.
ORDER = {"title": 0, "symbols": 1, "notes": 2, "p": 3, "body": 4}


def _sort(page: Page) -> str:
    """What sort of page it is: title, symbols, notes, p or body."""
    if page.series != "t":
        return page.series
    if any(line.kind == "title" for line in page.lines):
        return "title"
    symbols = any(line.style in ("symbols", "symbols-heading") for line in page.lines)
    return "symbols" if symbols else "notes"


def _title_pages(book: Book) -> Iterator[Page]:
    for page in book.pages():
        if page.titled and page.foot == "t#a":
            yield page


@rule("V01")
def volume_begins_with_title_page(book: Book, tally: Tally) -> None:
    """A title page first, where the edition has t-pages."""
    if any(page.series == "t" for page in book.pages()):
        for volume in book.volumes:
            if volume:
                tally.expect(volume[0].titled, volume[0], -1, "a title page", "another page")


@rule("V02")
def order_of_pages(book: Book, tally: Tally) -> None:
    """Title, symbols, notes, front matter, body."""
    for volume in book.volumes:
        highest = "title"
        for page in volume:
            sort = _sort(page)
            if sort not in ORDER:
                continue
            if sort == "notes" and highest == "symbols" and _continues(page):
                continue
            right = ORDER[sort] >= ORDER[highest]
            tally.expect(right, page, -1, f"this page before the {highest} pages", "after them")
            highest = max(highest, sort, key=ORDER.__getitem__)


def _continues(page: Page) -> bool:
    first = page.first
    return first < page.depth and page.lines[first].part == "runover"


@rule("V03")
def title_page_is_full(book: Book, tally: Tally) -> None:
    """Text on its last line, unless the page has too few lines for all and it goes on overleaf."""
    overleaf = {
        id(page) for volume in book.volumes for page, after in pairwise(volume) if after.titled
    }
    for page in _title_pages(book):
        if min(book.depth, book.width // 2) >= SHALLOW or id(page) not in overleaf:
            right = bool(page.text[page.depth - 1])
            tally.expect(right, page, page.depth - 1, "text on the last line", "none")


@rule("V04")
def title_lines_clear_of_edges(book: Book, tally: Tally) -> None:
    """Three blank cells at each side."""
    for page in _title_pages(book):
        for at, text in enumerate(page.text):
            if text:
                start = len(text) - len(text.lstrip())
                limit = book.width - side_of(book.width)
                if at == page.depth - 1:
                    limit -= len(page.foot)
                right = start >= side_of(book.width) and len(text) <= limit
                found = f"text from cell {start + 1} to {len(text)}"
                tally.expect(right, page, at, f"cells {side_of(book.width) + 1} to {limit}", found)


@rule("V05")
def volumes_counted(book: Book, tally: Tally) -> None:
    """Volume k of n."""
    for page in _title_pages(book):
        for at, text in enumerate(page.text):
            if found := _OF.search(text):
                count = value(found[1])
                right = count == len(book.volumes)
                tally.expect(right, page, at, f"{len(book.volumes)} volumes", f"{count}")
            elif found := _THIS.search(text):
                number = value(found[1])
                right = number == page.volume
                tally.expect(right, page, at, f"volume {page.volume}", f"volume {number}")


@rule("V06")
def ranges_on_title_page(book: Book, tally: Tally) -> None:
    """The braille pages the title page tells are those of the volume; on narrow pages ranges are
    divided at line ends, so they are not judged."""
    without = left_without_numbers(book)
    for page in _title_pages(book) if book.width >= 2 * SHALLOW else ():
        titles = [leaf for leaf in book.volumes[page.volume - 1] if leaf.titled]
        words = " ".join(text.strip() for leaf in titles for text in leaf.text if text)
        words = words.replace("- ", "-")
        at = words.find(" t#")
        if at < 0:
            continue
        stated = re.split(r" ,pr", words[at:])[0]
        for series, prefix in (("t", "t"), ("p", "p"), ("body", "")):
            told = [value(n) for n in re.findall(rf"(?<![tp]){prefix}(#[a-j]+)", stated)]
            feet = [p.foot for p in book.volumes[page.volume - 1] if p.series == series]
            real = [value(foot.removeprefix(prefix)) for foot in feet if foot]
            if told or real:
                if without and told and real and told[-1] == (real[-1] or 0) + 1:
                    real.append(told[-1])  # A left-hand page, which does not tell its number.
                wanted, found = _ends(real), _ends(told)
                tally.expect(wanted == found, page, -1, f"{series} pages {wanted}", found)


def _ends(numbers: list[int | None]) -> str:
    return f"{numbers[0]} to {numbers[-1]}" if numbers else "none"


@rule("V07")
def end_of_volume(book: Book, tally: Tally) -> None:
    """The last text line is centred, clear of both edges; on the line of the braille page number,
    clear of that."""
    for volume in book.volumes:
        page = next((page for page in reversed(volume) if page.last >= 0), None)
        if page is None:
            continue
        at = page.last
        text = page.text[at]
        left, right = len(text) - len(text.lstrip()), book.width - len(text)
        beside = len(page.foot) if at == page.depth - 1 else 0
        side = side_of(book.width)
        good = left >= side and right - beside >= side and (beside > 0 or abs(left - right) <= 1)
        if page.lines:
            good = good and page.lines[at].kind == "end-of-volume"
        tally.expect(good, page, at, "a centred line that tells the end", "another line")


@rule("V08")
def the_end_once(book: Book, tally: Tally) -> None:
    """The End in the last volume only."""
    for volume in book.volumes:
        page = next((page for page in reversed(volume) if page.last >= 0), None)
        if page is not None:
            last = bool(_THE_END.match(page.text[page.last].strip()))
            right = not last or volume is book.volumes[-1]
            tally.expect(right, page, page.last, "End of Volume", "The End")


def _symbols(book: Book) -> Iterator[list[Block]]:
    """The entries of each special symbols page."""
    run: list[Block] = []
    for block in book.texts:
        if block.kind == "symbols":
            run.append(block)
        elif run:
            yield run
            run = []


@rule("V10")
def locator_first(book: Book, tally: Tally) -> None:
    """The dot locator is the first entry."""
    for entries in _symbols(book):
        first = entries[0]
        right = first.cells[0].strip().startswith(".=.=")
        tally.expect(right, first.page, first.at[0], "the dot locator", "another symbol")


@rule("V11")
def margins_of_symbols(book: Book, tally: Tally) -> None:
    """Entries 1-3, one blank line after the heading."""
    for entries in _symbols(book):
        expect_above(tally, entries[0], 1)
        for entry in entries:
            expect_margins(tally, entry, 1, 3)


@rule("V12")
def notes_page(book: Book, tally: Tally) -> None:
    """Notes 3-1, without indicators."""
    for block in book.texts:
        if block.page.series == "t" and block.kind == "para" and _sort(block.page) == "notes":
            expect_margins(tally, block, 3, 1)
            right = not any("@.<" in line for line in block.cells)
            tally.expect(right, block.page, block.at[0], "no note indicators", "indicators")


def _entries(book: Book) -> Iterator[list[Block]]:
    """The contents entries of each volume."""
    volumes: dict[int, list[Block]] = {}
    for at in book.by_kind.get("toc", ()):
        block = book.texts[at]
        volumes.setdefault(block.page.volume, []).append(block)
    yield from volumes.values()


def _numbered(line: str, width: int) -> bool:
    """Whether a contents entry has guide dots, or a number set apart near the edge."""
    return bool(_DOTS.search(line)) or (len(line) >= width - 2 and bool(_EDGE.search(line)))


@rule("V14")
def margins_of_contents(book: Book, tally: Tally) -> None:
    """Cell of the level, runovers two right of the deepest level."""
    for entries in _entries(book):
        levels = max(entry.level for entry in entries)
        for entry in entries:
            if entry.level:
                expect_cells(tally, entry, 2 * entry.level - 1, 2 * levels + 1)


@rule("V15")
def entry_number_at_edge(book: Book, tally: Tally) -> None:
    """The number of an entry ends in the last cell."""
    for entries in _entries(book):
        for entry in entries:
            last = entry.cells[-1]
            if _numbered(last, book.width):
                found = f"cell {len(last)}"
                right = len(last) == book.width
                tally.expect(right, entry.pages[-1], entry.at[-1], f"cell {book.width}", found)


@rule("V16")
def guide_dots(book: Book, tally: Tally) -> None:
    """Two or more, a blank cell at each end."""
    for entries in _entries(book):
        for entry in entries:
            last = entry.cells[-1]
            dots = _DOTS.search(last)
            if dots or _SINGLE.search(last):
                right = bool(_LED.search(last)) and len(_DOTS.findall(last)) == 1
                expected = "guide dots with one blank cell at each end"
                tally.expect(right, entry.pages[-1], entry.at[-1], expected, "others")


@rule("V17")
def dots_on_last_line(book: Book, tally: Tally) -> None:
    """Guide dots on the last line of an entry only."""
    for entries in _entries(book):
        for entry in entries:
            for page, at, line in zip(entry.pages[:-1], entry.at, entry.cells, strict=False):
                tally.expect(not _DOTS.search(line), page, at, "no guide dots yet", "guide dots")


@rule("V18")
def clear_of_numbers(book: Book, tally: Tally) -> None:
    """Two cells free before the column of numbers."""
    for entries in _entries(book):
        entries = [entry for entry in entries if _numbered(entry.cells[-1], book.width)]
        ends = [entry.cells[-1].split()[-1] for entry in entries]
        if not ends:
            continue
        limit = book.width - max(map(len, ends)) - 2
        for entry in entries:
            for page, at, line in zip(entry.pages[:-1], entry.at, entry.cells, strict=False):
                tally.expect(len(line) <= limit, page, at, f"cell {limit}", f"cell {len(line)}")
            text = entry.cells[-1].rsplit(" ", 1)[0].rstrip(' "')
            right = len(text) <= limit
            found = f"cell {len(text)}"
            tally.expect(right, entry.pages[-1], entry.at[-1], f"cell {limit}", found)


@rule("V20")
def centred_lines_of_contents(book: Book, tally: Tally) -> None:
    """No blank line below a centred line that names a volume."""
    for block, after in pairwise(book.texts):
        if block.style == "contents-volume" and after.kind == "toc":
            gap = above(after)
            if gap is not None:
                tally.expect(gap == 0, after.page, after.at[0], "no blank line above", "one")


@rule("V23")
def body_begins_with_1(book: Book, tally: Tally) -> None:
    """The first body page is braille page 1."""
    page = next((page for page in book.pages() if page.series == "body"), None)
    if page is not None:
        tally.expect(page.foot == "#a", page, page.depth - 1, "braille page 1", page.label)


@rule("V24")
def volumes_alike(book: Book, tally: Tally) -> None:
    """No volume more than twice as long as another, the last left aside, and the first where it
    has nothing but front matter: contents are all in one volume (BF 2.10)."""
    volumes = book.volumes[:-1]
    if volumes and not any(page.series == "body" for page in volumes[0]):
        volumes = volumes[1:]
    counts = [len(volume) for volume in volumes]
    if len(counts) > 1:
        most, least = max(counts), min(counts)
        page = volumes[counts.index(most)][0]
        found = f"{most} pages beside {least}"
        tally.expect(most <= 2 * least, page, -1, "volumes of like length", found)
