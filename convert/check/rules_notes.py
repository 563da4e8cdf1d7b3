"""Checks of notes (F), alphabetic references and bibliographies (J)."""

from __future__ import annotations

from collections.abc import Iterator

from .kinds import (
    HEADINGS,
    above,
    expect_above,
    expect_margins,
    groups,
    kind_of,
    nested,
    same_list,
)  # fmt: skip
from .model import Block, Book, Page, Tally, rule

RULE = '"333333'


@rule("F01")
def separation_line(book: Book, tally: Tally) -> None:
    """Dot 5 and six times dots 25 from cell 1."""
    for block in book.blocks:
        if block.kind == "note-rule":
            line = block.cells[0]
            tally.expect(line == RULE, block.page, block.at[0], "dot 5, six dots 2-5", "another")


@rule("F02")
def notes_after_line(book: Book, tally: Tally) -> None:
    """Notes follow a separation line, and a page change follows them; lists and other matter
    inside a note are of it."""
    places = {id(block): at for at, block in enumerate(book.blocks)}
    for before, notes, after in _runs_of_notes(book):
        first, last = notes[0], notes[-1]
        right = kind_of(before) == "note-rule" or first.parts[0] == "runover"
        tally.expect(right, first.page, first.at[0], "a separation line above", "none")
        if book.has_print_numbers and after is not None and after.page is last.pages[-1]:
            right = book.blocks[places[id(last)] + 1].kind in ("page-turn", "end-of-volume")
            tally.expect(right, last.pages[-1], last.at[-1], "a page change below", "more text")


def _runs_of_notes(book: Book) -> Iterator[tuple[Block | None, list[Block], Block | None]]:
    """Neighbouring notes, with what stands inside them, and the blocks before and after."""
    texts = book.texts
    notes = [texts[at] for at in book.by_kind.get("note", ()) if texts[at].style == "note"]
    named = {block.element for block in notes if block.element}
    plain = set(map(id, notes))
    run: list[Block] = []
    for at, block in enumerate([*texts, None] if notes else ()):
        if block is not None and (id(block) in plain or _is_inside(block, named)):
            run.append(block)
        elif run:
            start = at - len(run)
            yield texts[start - 1] if start else None, run, block
            run = []


def _is_inside(block: Block, named: set[str]) -> bool:
    """Whether the address of an element goes on from one of these."""
    steps = (block.element or "").split("/")
    return any("/".join(steps[:count]) in named for count in range(1, len(steps)))


@rule("F04")
def margins_of_notes(book: Book, tally: Tally) -> None:
    """1-3; further paragraphs 5-3."""
    for block in book.blocks:
        if block.kind == "note" and block.style == "note":
            expect_margins(tally, block, 5 if block.starts[0] == 5 else 1, 3)


@rule("F05")
def line_with_first_note(book: Book, tally: Tally) -> None:
    """The separation line has the first line of a note on its page."""
    for group in groups(book, "note-rule"):
        if group.after is not None:
            right = group.after.page is group.last.page
            tally.expect(right, group.last.page, group.last.at[0], "a note below", "none")


@rule("F06")
def one_line_a_print_page(book: Book, tally: Tally) -> None:
    """One separation line a print page."""
    if not book.has_print_numbers:
        return
    seen: set[str] = set()
    for block in book.blocks:
        if block.kind == "note-rule":
            label = block.page.lines[block.at[0]].print_page
            if label:
                tally.expect(label not in seen, block.page, block.at[0], "one line", "a second")
                seen.add(label)


# ------------------------------------------------------------------ alphabetic references


@rule("J01")
def references_begin_a_page(book: Book, tally: Tally) -> None:
    """A glossary or index under a centred heading begins a new page."""
    blocks = book.texts
    for at, block in enumerate(blocks):
        before = blocks[at - 1] if at else None
        start = at - 1
        if before is not None and before.style == "letter-division":
            start -= 1
            before = blocks[start]
        if block.kind not in ("glossary", "index") or kind_of(before) != "h-center":
            continue
        if before is None or before.level != 1:
            continue
        while start and blocks[start - 1].kind in HEADINGS:
            start -= 1
        first = blocks[start]
        tally.expect(first.tops, first.page, first.at[0], "a new page", "text above")


def _divisions(book: Book) -> list[tuple[Block, bool]]:
    """Letter divisions, and whether each is the first of its reference."""
    out: list[tuple[Block, bool]] = []
    inside = False
    for block in book.texts:
        if block.style == "letter-division":
            out.append((block, not inside))
            inside = True
        elif block.kind not in ("glossary", "index", "list", "bibliography", "h-5", "para"):
            inside = False
    return out


@rule("J02")
def divisions_are_letters(book: Book, tally: Tally) -> None:
    """Centred, with a grade 1 sign."""
    for block, _ in _divisions(book):
        line = block.cells[0]
        left, right = block.starts[0] - 1, book.width - len(line)
        good = abs(left - right) <= 1 and line.lstrip().startswith(";")
        expected = "a centred letter with its grade 1 sign"
        tally.expect(good, block.page, block.at[0], expected, "another line")


@rule("J03")
def blanks_of_divisions(book: Book, tally: Tally) -> None:
    """A blank line above the first only."""
    for block, first in _divisions(book):
        expect_above(tally, block, 1 if first else 0)


@rule("J04")
def entry_after_division(book: Book, tally: Tally) -> None:
    """An entry line follows on the page."""
    for block, _ in _divisions(book):
        right = not block.ends
        tally.expect(right, block.page, block.at[0], "an entry line below", "none")


@rule("J05")
def guide_words(book: Book, tally: Tally) -> None:
    """Words before the braille page number of a page of entries are its first and last entry."""
    for page, entries in _entries_by_page(book):
        words = page.rows[-1][: len(page.rows[-1]) - len(page.foot)].strip()
        if words and not page.text[-1]:
            first, last = entries[0], entries[-1]
            right = any(
                first.startswith(words[:at]) and last.startswith(words[at + 1 :])
                for at in range(len(words))
                if words[at] == "-"
            ) or (first.startswith(words) and last.startswith(words))
            at = page.depth - 1
            tally.expect(right, page, at, "the first and last entry", "other words")


def _entries_by_page(book: Book) -> Iterator[tuple[Page, list[str]]]:
    """Pages of alphabetic references with the first lines of the entries that begin there; of
    the one that goes on there, if none begins."""
    names: dict[str | None, str] = {}
    begun: dict[int, tuple[Page, list[str]]] = {}
    held: dict[int, tuple[Page, list[str]]] = {}
    for block in book.texts:
        if block.kind in ("index", "glossary") and block.level < 2:
            whole = block.parts[0] == "first"
            words = names[block.element] = _words(block) if whole else names.get(block.element, "")
            for nth, page in enumerate(block.pages):
                begins = nth == 0 and whole
                into = begun if begins else held
                into.setdefault(id(page), (page, []))[1].append(words)
    yield from (held | begun).values()


def _words(block: Block) -> str:
    """The first two lines of an entry as one."""
    first, *more = block.cells[:2]
    parted = " " if more and not first.endswith("-") else ""
    return first.strip() + parted + "".join(more).strip()


@rule("J06")
def bibliographies(book: Book, tally: Tally) -> None:
    """1-3, no blank lines between entries."""
    for group in groups(book, "bibliography"):
        for nth, block in enumerate(group.blocks):
            first, runover, further = nested(block, book.width)
            start = further if block.starts[0] == further else first
            expect_margins(tally, block, start, runover)
            if nth and same_list(group.blocks[nth - 1], block) and above(block) is not None:
                expect_above(tally, block, 0)
