"""Checks of contents against headings (V13, V19, V21, V22), and those that need the source or
its account (G07, G09, P09), with a few of words and their order (G08, J08, Q05, Y04)."""

from __future__ import annotations

import re
from typing import NamedTuple

from .kinds import HEADINGS, INTERRUPTS, TABLE, groups, kind_of
from .model import Block, Book, Tally, rule
from .numbers import plain, plain_label, say, split_number, value
from .rules_lists import fits_page

_LEAD = re.compile(r'(?: "{2,})? +(\S+)$')
_TYPEFORM = re.compile(r"[.^_@][127]|,,,")
_SIGNS = re.compile(r"[.^_@][127']|@\.[<>]")
# Raised, after a digit or in uncontracted braille without a grade 1 indicator (UEB 3.24, 6.5); an
# asterisk or a dagger.
_NOTE_MARK = re.compile(r'(?<=.)(;9\S+|9#[a-j]+[1468]?|"9|,\?)$')
_LOOSE_MARK = re.compile(r" (?=(;9\S+|9#[a-j]+)( |$))")  # Broken from its word at a line end.
_INDICATORS = {
    form + kind: re.compile(rf"{re.escape(form)}{kind}(?<![^ \n\-]..)(?=[a-z,])")
    for form in ".^_@"
    for kind in "17"
}
# The hyphen of a compound: no dash, no low line, no hyphen by itself after a typeform indicator.
_HYPHEN = re.compile(r"[^ ,.\-\"](?<![._@^][127])-$")
_OPENING = ("end-of-volume", "title")
_SUSPENDED = re.compile(r"(&|or|to)(?= |$)")  # What a hyphen before a blank is followed by.


class Entry(NamedTuple):
    """A contents entry: its words without capitals and typeforms, its number, its place."""

    words: str
    number: str
    block: Block


def _plain(cells: str) -> str:
    """Words for comparison: contents drop typeforms and may keep fewer capitals (BF 2.10)."""
    return _SIGNS.sub("", cells).replace(",", "").replace(" ", "")


def _entries(book: Book, volume: int) -> list[Entry]:
    """Contents entries of a volume that have guide dots."""
    out = []
    for at in book.by_kind.get("toc", ()):
        block = book.texts[at]
        if block.page.volume == volume and block.style == "contents":
            *lines, last = block.cells
            found = _LEAD.search(last)
            if found and block.page.series == "p" and not block.element:
                words = " ".join([*lines, last[: found.start()]])
                out.append(Entry(_plain(words), found[1], block))
    return out


def _headings(book: Book) -> dict[str, list[Block]]:
    """Headings of the text by their words."""
    out: dict[str, list[Block]] = {}
    for block in book.blocks:
        if block.kind in HEADINGS and block.element:
            out.setdefault(_plain(" ".join(block.cells)), []).append(block)
    return out


def _numbers(book: Book, block: Block) -> set[str]:
    """The numbers a contents entry may give for a heading: its print page, or its braille page
    where print has none; labels in words of their own are not judged."""
    page = block.page
    label = page.lines[block.at[0]].print_page
    if not book.has_print_numbers:
        return {plain(page.foot)}
    number = plain_label(label) if label else None
    return {number} if number else set()


@rule("V13")
def contents_of_each_volume(book: Book, tally: Tally) -> None:
    """Volume 1 lists all, later volumes their own headings."""
    _nothing_left_out(book, tally)
    if len(book.volumes) < 2:
        return
    first = {entry.words for entry in _entries(book, 1)}
    headings = _headings(book)
    for number in range(2, len(book.volumes) + 1):
        for entry in _entries(book, number):
            page, at = entry.block.page, entry.block.at[0]
            right = entry.words in first
            tally.expect(right, page, at, "the same entry in volume 1", "none there")
            found = headings.get(entry.words)
            if found:
                own = any(block.page.volume == number for block in found)
                tally.expect(own, page, at, "entries of this volume", "one of another volume")


def _without_numbers(book: Book, volume: int) -> set[str]:
    """The words of contents entries whose print page has no number."""
    blocks = [book.texts[at] for at in book.by_kind.get("toc", ())]
    return {_plain(" ".join(b.cells)) for b in blocks if b.page.volume == volume}


def _is_listed(block: Block, listed: set[str]) -> bool:
    """Whether contents have the words of a heading; a word with the mark of a note, which they
    leave out, may be contracted otherwise without it, so it is not compared."""
    words = _LOOSE_MARK.sub("", " ".join(line.strip() for line in block.cells)).split()
    if any(_NOTE_MARK.search(word) for word in words):
        at = next(nth for nth, word in enumerate(words) if _NOTE_MARK.search(word))
        start = _plain(" ".join(words[:at]))
        return any(entry.startswith(start) for entry in listed)
    return _plain(" ".join(words)) in listed


def _nothing_left_out(book: Book, tally: Tally) -> None:
    """Every heading of a rank that the contents list stands in them.  They list the ranks of which
    they have at least half, and those between; a rank above of which they have none may be that of
    the book's title."""
    body = [b for b in book.blocks if b.kind in HEADINGS and b.element and b.level]
    body = [b for b in body if b.page.series == "body"]
    parted = {b.element for b in body if b.parts[0] == "runover"}  # Over two volumes, by H13.
    body = [b for b in body if b.element not in parted]
    for number in range(1, len(book.volumes) + 1):
        entries = _entries(book, number)
        if not entries:
            continue
        listed = {entry.words for entry in entries} | _without_numbers(book, number)
        ranks: dict[int, list[tuple[Block, bool]]] = {}
        for block in body:
            if number in (1, block.page.volume):
                ranks.setdefault(block.level, []).append((block, _is_listed(block, listed)))
        counts = {level: sum(known for _, known in rank) for level, rank in ranks.items()}
        whole = [level for level, rank in ranks.items() if 2 * counts[level] >= len(rank)]
        for level, rank in ranks.items():
            if whole and min(whole) <= level <= max(whole):
                for block, known in rank:
                    expected = f"this heading in the contents of volume {number}"
                    tally.expect(known, block.page, block.at[0], expected, "no entry")


@rule("V19")
def contents_tell_the_page(book: Book, tally: Tally) -> None:
    """The number of an entry is the page of its heading."""
    headings = _headings(book)
    for volume in range(1, len(book.volumes) + 1):
        for entry in _entries(book, volume):
            found = headings.get(entry.words, [])
            numbers = [_numbers(book, block) for block in found]
            if numbers and all(numbers):
                known = set().union(*numbers)
                right = plain(entry.number) in known
                page, at = entry.block.pages[-1], entry.block.at[-1]
                expected = " or ".join(sorted(known))
                tally.expect(right, page, at, f"page {expected}", f"page {say(entry.number)}")


@rule("V21")
def volumes_named_in_contents(book: Book, tally: Tally) -> None:
    """A centred line for each volume that has entries, or for each but the first."""
    named = [b for b in book.blocks if b.style == "contents-volume" and b.page.volume == 1]
    first, numbers = _entries(book, 1), range(2, len(book.volumes) + 1)
    count = 1 + sum(bool(_entries(book, number)) for number in numbers)
    if numbers and first:
        page = first[0].block.page
        right = count - 1 <= len(named) <= max(count, len(book.volumes))
        tally.expect(right, page, -1, f"lines for {count} volumes", f"{len(named)}")


@rule("V22")
def front_items_begin_pages(book: Book, tally: Tally) -> None:
    """A heading of the first rank in the front matter begins a page."""
    for group in groups(book, *HEADINGS):
        first = group.first
        if first.page.series == "p" and first.level == 1 and kind_of(first) == "h-center":
            tally.expect(first.tops, first.page, first.at[0], "a new page", "text above")


@rule("V09")
def symbols_are_used(book: Book, tally: Tally) -> None:
    """Every symbol listed stands in the volume; every typeform indicator there is listed."""
    for volume in book.volumes:
        number = volume[0].volume if volume else 0
        entries = [
            block
            for at in book.by_kind.get("symbols", ())
            if (block := book.texts[at]).page.volume == number
        ]
        if not entries:
            continue
        text = "\n".join(page.joined for page in volume if page.series != "t")
        listed = set()
        for block in entries:
            symbol = block.cells[0].strip().removeprefix(".=").split(" ")[0]
            listed.add(symbol)
            # An expression finds two cells in a long text quicker than the operator does.
            right = symbol == ".=" or re.search(re.escape(symbol), text) is not None
            found = "one that is not"
            tally.expect(right, block.page, block.at[0], "a symbol of this volume", found)
        for used in sorted(_indicators(text, listed)):
            page, at = entries[-1].page, entries[-1].at[0]
            tally.expect(False, page, at, f"the typeform indicator {_dots(used)}", "nothing")


def _indicators(text: str, listed: set[str]) -> set[str]:
    """The typeform indicators that stand in some lines and are not listed."""
    return {
        sign for sign, shape in _INDICATORS.items() if sign not in listed and shape.search(text)
    }


def _dots(cells: str) -> str:
    """Two cells of a typeform indicator, spoken."""
    dots = {".": "4-6", "^": "4-5", "_": "4-5-6", "@": "4", "1": "2", "2": "2-3", "7": "2-3-5-6"}
    return "dots " + ", ".join(dots[cell] for cell in cells)


@rule("K08")
def changed_tables_say_so(book: Book, tally: Tally) -> None:
    """A table without columns has a transcriber's note above it."""
    places = {id(block): at for at, block in enumerate(book.texts)}
    for group in groups(book, *TABLE):
        start = places[id(group.first)]
        columned = any(
            block.kind == "table-rule" or block.style == "table-columns" for block in group.blocks
        )
        if columned or group.goes_on:
            continue
        right = kind_of(group.after) == "tn" or _noted(book, start)
        tally.expect(right, group.first.page, group.first.at[0], "a note above the table", "none")


def _noted(book: Book, start: int) -> bool:
    """Whether a note stands above, with nothing but the table's own matter between."""
    for at in range(start - 1, -1, -1):
        kind = book.texts[at].kind
        if kind == "tn":
            return True
        if book.texts[at].style in _OPENING or book.texts[at].page.series != "body":
            continue  # A volume ends inside the table.
        if kind in TABLE or (kind not in INTERRUPTS and kind not in ("list", "page-turn")):
            return False  # The note of another table is not its own.
    return False


@rule("N08")
def added_words_are_enclosed(book: Book, tally: Tally) -> None:
    """Words that print does not have stand inside note indicators."""
    if book.added is not None:
        for page, at, enclosed in book.added:
            tally.expect(enclosed, page, at, "note indicators around added words", "none")


@rule("G07")
def words_are_whole(book: Book, tally: Tally) -> None:
    """No word broken at a line end."""
    if book.broken is not None:
        tally.seen += bool(book.blocks)
        for page, at in book.broken:
            tally.expect(False, page, at, "a whole word at the line end", "a part of one")


@rule("G08")
def compounds_stay_on_a_page(book: Book, tally: Tally) -> None:
    """No page ends at the hyphen of a compound."""
    for block in book.texts:
        if block.pages[0] is block.pages[-1]:
            continue
        for nth in range(1, len(block.at)):
            page = block.pages[nth - 1]
            if block.pages[nth] is not page and block.kind != "math":
                line = page.text[block.at[nth - 1]]
                if book.parted is not None:
                    blank = id(page) not in book.parted
                else:
                    blank = _SUSPENDED.match(block.cells[nth].strip()) is not None
                right = blank or not _HYPHEN.search(line)
                tally.expect(right, page, block.at[nth - 1], "a whole compound", "its first part")


@rule("G09")
def nothing_lost(book: Book, tally: Tally) -> None:
    """The account of print characters closes: none lost, none twice."""
    if book.lost is not None and book.volumes and book.volumes[-1]:
        page = book.volumes[-1][-1]
        found = f"{book.lost} that are lost or stand twice"
        tally.expect(book.lost == 0, page, -1, "every print character once", found)


@rule("P09")
def ranges_cover_neighbours(book: Book, tally: Tally) -> None:
    """No print page inside a range has a number of its own elsewhere."""
    own = {page.number.lstrip("abcdefghijklmnopqrstuvwxyz") for page in book.pages()}
    own |= {page.text[at].lstrip("-") for page, at in book.turns}
    single = {value(cells) for cells in own if cells and "-" not in cells} - {None}
    places = [(page, at, page.text[at].lstrip("-")) for page, at in book.turns]
    places += [(page, 0, split_number(page.number).base) for page in book.pages()]
    labels = set(book.print_pages or ())  # A label such as 4-17 is no range: chapter 4, page 17.
    for page, at, number in places:
        if plain(number) in labels:
            continue
        ends = number.split("-")
        low, high = (value(ends[0]), value(ends[-1])) if len(ends) == 2 else (None, None)
        if low is not None and high is not None:
            inside = sorted(n for n in single if n is not None and low <= n <= high)
            expected = "print pages without text of their own"
            tally.expect(not inside, page, at, expected, f"page {inside[0]}" if inside else "")


@rule("J08")
def entry_words_are_plain(book: Book, tally: Tally) -> None:
    """Entry words have no typeform where all would have it."""
    for group in groups(book, "glossary", "index"):
        starts = [block for block in group.blocks if block.level == 1 and block.starts[0] == 1]
        if len(starts) > 2:
            signed = [b for b in starts if _TYPEFORM.match(b.cells[0].strip())]
            right = len(signed) < len(starts)
            first = starts[0]
            tally.expect(right, first.page, first.at[0], "entry words plain", "all signed")


@rule("Y04")
def speakers_have_initials(book: Book, tally: Tally) -> None:
    """Names of speakers are not in full capitals."""
    for block in book.blocks:
        named = block.style in ("speech", "verse-speech") and block.starts[0] == 1
        if named and block.parts[0] == "first":
            right = not block.cells[0].startswith(",,")
            tally.expect(right, block.page, block.at[0], "first letters", "full capitals")


@rule("Q05")
def choices_on_one_page(book: Book, tally: Tally) -> None:
    """Where a question is too long for one page, its choices stand on one page if they fit."""
    for group in groups(book, "exercise"):
        run: list[Block] = []
        for block in [*group.blocks, None]:
            if block is not None and block.level > 1:
                run.append(block)
            elif run:
                _judge_choices(book, tally, run)
                run = []


def _judge_choices(book: Book, tally: Tally, run: list[Block]) -> None:
    if len(run) > 1 and fits_page(run, book.depth):
        right = run[0].page is run[-1].pages[-1]
        tally.expect_of(right, run, "all choices on this page", "some of them")
