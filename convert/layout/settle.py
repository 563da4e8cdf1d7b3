"""From items to a bound book: body, front pages, and numbers that refer to one another.

The body is made first; front pages are made from what it yields (where headings stand, which
pages a volume has).  Their own number can only change how long volumes may be, and the page
numbers of front matter; both agree after at most four rounds.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import zip_longest
from typing import TYPE_CHECKING

from ..collector import collector_off
from ..document.choices import FRONT, wordings
from ..document.nodes import Document, text_of
from ..errors import JobError
from ..findings import Findings, Place, Span
from ..settings import Settings
from .assemble import ROUNDS, Assembled, Matter, add_front_pages, ending, matter_pages
from .book import Book, Page, Volume
from .contents import Setting, contents_words_divided, set_print_contents
from .convention import Convention
from .front import TitleFacts, Words, code_name
from .furniture import Label, head_room
from .items import Item
from .line_numbers import set_line_numbers
from .lines import CONTENTS, Block, added, prepare
from .note_signs import join_notes
from .own_symbols import unused
from .pages import Made
from .prose_numbers import set_prose
from .shape import Cursor, Shape
from .symbols import Signs
from .tables import Room, gather
from .title_doubts import doubt_titles
from .turns import MEANS, OVERLEAF
from .volumes import Binder, Bound, Frame, Sizes

if TYPE_CHECKING:
    from ..contracts import Translator

LEAST_CELLS, LEAST_LINES = 12, 5
# Front pages most volumes have: title, symbols, notes, contents.
FRONT_PAGES = 4
# Cells of a contents line that its entry may not take: margins, guide dots, the number.
CONTENTS_MARGINS = 12


def settle(
    items: list[Item],
    document: Document,
    convention: Convention,
    settings: Settings,
    translator: Translator,
    findings: Findings,
) -> Book:
    """The finished pages of an edition, in volumes.

    Raises JobError for a page too small to hold text beside its page numbers.
    """
    cells = settings.cells or convention.page.cells
    lines = settings.lines or convention.page.lines
    if cells < LEAST_CELLS or lines < LEAST_LINES:
        raise JobError(
            f"A braille page of {cells} cells by {lines} lines is too small.",
            f"Give at least {LEAST_CELLS} cells and {LEAST_LINES} lines.",
        )
    if settings.contents_levels:
        front = replace(convention.front, contents_levels=settings.contents_levels)
        convention = replace(convention, front=front)
    with collector_off():
        settings = _without_front(items, convention, settings, cells * lines, findings)
        if not convention.front.words("the-end"):
            findings.add("layout.no-end-line", convention=convention.name)
        told = tuple(one for one in document.choices if one.kind in FRONT)
        notes = tuple(one.value for one in told)
        words = Words(translator, convention.front, findings, wordings(document.choices), notes)
        for one in told if not settings.front_pages else ():
            findings.add(
                "layout.choice-not-followed",
                (one.start, one.end),
                choice=f"{one.kind} {one.value}",
                reason="the edition has no front pages",
            )
        join_notes(items)
        gathered = gather(items, Room(cells, lines))
        return Settler(gathered, document, convention, settings, words).book()


def _without_front(
    items: Sequence[Item], convention: Convention, settings: Settings, size: int, findings: Findings
) -> Settings:
    """The settings without front pages for an edition that the convention takes for too short to
    have any.  ``size`` is how many cells a page has."""
    least = convention.front.from_pages
    if not (settings.front_pages and least):
        return settings
    width = settings.cells or convention.page.cells
    used = sum(len(item.cells) + (1 + item.before) * width for item in items if item.cells)
    if used > least * size:
        return settings
    findings.add("layout.no-front-pages", convention=convention.name, pages=least)
    return replace(settings, front_pages=False)


class Settler:
    """One edition on its way from items to a book."""

    def __init__(
        self,
        items: list[Item],
        document: Document,
        convention: Convention,
        settings: Settings,
        words: Words,
    ) -> None:
        self.document, self.convention, self.settings = document, convention, settings
        self.words, self.findings = words, words.findings
        self.title = settings.title or document.meta.title
        blocks = self._blocks(items)
        self.shape = self._shape(blocks)
        set_print_contents(blocks, Setting(self.shape.cells, convention.front))
        cells = self.shape.cells
        for kept in (*set_line_numbers(blocks, cells), *set_prose(blocks, cells)):
            self.findings.add("layout.line-numbers-kept", _span(kept, kept.start))
        styles = {name for row in convention.headings for name in row}
        headings = {
            block.index: block
            for block in blocks
            if block.item.style in styles and block.item.level and block.cells is not None
        }
        matter = _front_matter(blocks) if settings.front_pages else 0
        numbered = any(label.first for block in blocks for label in _labels(block))
        ranges = {
            label.text or "": label
            for block in blocks
            for label in _labels(block)
            if label.first != label.last
        }
        front, ledger = blocks[:matter], document.ledger
        again = tuple(convention.rules["repeated_lists"])
        signs = Signs(items)
        self.matter = Matter(items, front, headings, ranges, numbered, signs, ledger, again)
        self.text = blocks[matter:]

    def _blocks(self, items: list[Item]) -> list[Block]:
        """Blocks of the items; print pages without text of their own are reported."""
        dropped: list[Label] = []
        blocks = prepare(items, dropped)
        for label in dropped:
            self.findings.add("layout.print-page-empty", **label.facts)
        return blocks

    # ------------------------------------------------------------ the page

    def _shape(self, blocks: Sequence[Block]) -> Shape:
        page, settings = self.convention.page, self.settings
        shape = Shape(
            settings.cells or page.cells,
            settings.lines or page.lines,
            page.guard,
            restore_blanks=page.blank_policy == "2024",
            relax=self.convention.relax,
            side=page.centre_free,
            odd_left=page.centre_odd == "left",
            print_numbers=page.print_page != "none",
            braille_numbers=page.braille_page != "none",
            two_sides=page.sides == "two",
            left_numbers=page.left_numbers,
            anew=page.letters_after_z == "restart",
            guided=frozenset(self.convention.rules["guide_words"]),
        )
        text = settings.running_head
        if not text or "none" in (text, page.running_head):
            return shape
        numbers = [len(label.cells) for block in blocks for label in _labels(block)]
        room = head_room(max(numbers, default=-1) + 1, shape.cells, shape.guard)
        return replace(shape, head=self._running_head(text.split(), room))

    def _running_head(self, words: list[str], room: int) -> str:
        """The running head on one line, shortened word by word where it is too long, never run
        over (BF 1.8)."""
        full = self.convention.page.head_capitals == "full"
        for size in range(len(words), 0, -1):
            said = " ".join(words[:size])
            cells = self.words.cells(said.upper() if full else said).text
            if len(cells) <= room:
                if size < len(words):
                    self.findings.add("layout.running-head-short", head=" ".join(words[:size]))
                return cells
        self.findings.add("layout.running-head-left-out", head=" ".join(words))
        return ""

    # ------------------------------------------------------------ rounds

    def book(self) -> Book:
        """Rounds until the front pages are as many as was allowed for."""
        volume = self.convention.volume
        wanted = self.settings.volume_pages
        most = max(1, wanted * volume.most // max(1, volume.target))
        least = wanted * volume.least // max(1, volume.target)
        sizes = Sizes(wanted, most, *self._guess(), least=least, boundaries=volume.boundaries)
        volumes, settled = self._round(sizes)
        for _ in range(ROUNDS - 1):
            actual = _front_sizes(volumes, sizes)
            one = len(volumes) == 1 and actual.parts == 1
            if one or _near(actual, sizes):
                break
            sizes = actual
            volumes.clear()  # One set of pages in memory at a time.
            volumes, settled = self._round(sizes)
        if not settled:
            self.findings.add("layout.contents-unsettled")
        if self.settings.front_pages:
            made = [each.page for volume in volumes for each in (*volume.p_made, *volume.body)]
            for dots in unused(self.settings.symbol, made):
                self.findings.add("layout.symbol-unused", dots=dots)
        self._report(volumes)
        book = Book(self.shape.cells, self.shape.lines)
        book.volumes = [Volume(each.number, each.pages()) for each in volumes]
        return book

    def _guess(self) -> tuple[int, int]:
        """About how many front pages a volume has, and how many more the first one."""
        if not self.settings.front_pages:
            return 0, 0
        lines, width = self.shape.lines, self.shape.cells
        size = lines * width
        body = sum(block.end - block.start + width // 2 for block in self.text) // size
        matter = sum(block.end - block.start + width for block in self.matter.blocks) // size
        volumes = 1 + body // max(1, self.settings.volume_pages)
        headings = list(self.matter.headings.values())
        ranks = sorted({block.item.level for block in headings})
        deepest = [*ranks[: self.convention.front.contents_levels], 0]
        room = max(1, width - CONTENTS_MARGINS)
        entries = sum(
            1 + (block.end - block.start) // room
            for block in headings
            if block.item.level in deepest
        )
        # A centred line for each volume, with a blank line above it.
        contents = (entries + 2 * volumes) // max(1, lines - 2) if len(headings) > 1 else 0
        share = contents // volumes
        return FRONT_PAGES + share, max(0, contents - share) + matter

    def _round(self, sizes: Sizes) -> tuple[list[Assembled], bool]:
        """Body and front pages of every volume; False if the contents did not settle."""
        cursor = Cursor()
        matter = matter_pages(self.matter, self.shape, 0)
        if matter:
            last = matter[-1].cursor
            cursor = Cursor(label=last.label, count=last.count, begun=True)
        ahead = sizes.parts - 1
        frame = Frame(self._title_block, lambda n, last: ending(self.words, n + ahead, last))
        bound = Binder(self.text, self.shape, frame, sizes, cursor).bind() or [Bound(1)]
        volumes = [Assembled(number + 1, []) for number in range(ahead if bound[0].made else 0)]
        volumes += [Assembled(each.number + len(volumes), each.made) for each in bound]
        if not self.settings.front_pages:
            return volumes, True
        settled = add_front_pages(
            volumes, self.matter, self.shape, self.words, self.settings, self._facts()
        )
        return volumes, settled

    def _facts(self) -> TitleFacts:
        """What all title pages of the edition say."""
        given, meta = self.settings, self.document.meta
        code = code_name(given.code, given.math)
        return TitleFacts(meta, self.title, code, given.transcriber, given.title_lines)

    def _title_block(self, below: Block) -> Block | None:
        """The title above the first text of a volume, unless the text begins with it or the
        running head says it (BF 1.8)."""
        if not (self.settings.front_pages and self.convention.page.title_on_first_page):
            return None
        title = self.title.casefold().split()
        said = text_of(below.item.runs, self.document.ledger).casefold().split()
        head = (self.settings.running_head or "").casefold().split()
        page = self.convention.page
        if not title or title == said or (title == head and not page.title_under_head):
            return None
        given = self.title.upper() if page.title_capitals == "full" else self.title
        blocks = added([self.words.heading("title", given)])
        return blocks[0] if blocks else None

    # ------------------------------------------------------------ what had to give way

    def _report(self, volumes: Sequence[Assembled]) -> None:
        """File what the pages could not keep."""
        if self.settings.front_pages:
            doubt_titles(self._facts(), self.settings.title, self.document, self.words)
        broken = tuple(
            Place(volume.number, made.page.braille_page, row + 1)
            for volume in volumes
            for made in volume.p_made
            for row in contents_words_divided(made.page)
        )
        if broken:
            self.findings.add("layout.contents-word-divided", places=broken, lines=len(broken))
        for volume in volumes:
            pages = volume.made()
            for made, after in zip_longest(pages, pages[1:]):
                self._report_page(volume.number, made, after)

    def _report_page(self, volume: int, made: Made, after: Made | None) -> None:
        """File what one page could not keep, with the lines that tell of it."""
        reason = "a new page was asked for" if made.asked else "nothing could be placed otherwise"
        for rule, block, row in made.breaches:
            page, at = made.page, row
            if row == OVERLEAF and after is not None:
                page, at = after.page, _begins(after.page, block)
            self.findings.add(
                "layout.rule-relaxed",
                _span_of(made.page, row) or _span(block, block.start),
                places=(Place(volume, page.braille_page, at + 1),),
                rule=rule.replace("_", " "),
                style=block.item.style,
                reason=reason,
                meaning=MEANS[rule],
            )
        for block, cell, row in made.divided:
            where = Place(volume, made.page.braille_page, row + 1)
            self.findings.add("layout.word-divided", _span(block, cell), places=(where,))


def _labels(block: Block) -> list[Label]:
    """The print pages that begin at or in a block."""
    if block.turn is not None:
        return [block.turn]
    return [stop.label for stop in block.stops if stop.label is not None]


def _front_matter(blocks: Sequence[Block]) -> int:
    """How many blocks at the start are front matter of print (p-pages, BF 1.15)."""
    count = 0
    for at, block in enumerate(blocks):
        if block.turn is None and block.item.division != "front":
            break
        if block.turn is None:
            count = at + 1
    return count


def _front_sizes(volumes: Sequence[Assembled], sizes: Sizes) -> Sizes:
    """The sizes with the front pages the volumes turned out to have."""
    later = [volume.front() for volume in volumes[sizes.parts :]]
    usual = sum(later) // len(later) if later else sizes.front
    pages = [made.page for volume in volumes[: sizes.parts] for made in volume.p_made]
    matter = sum(not _lists_contents(page) for page in pages)
    contents = sum(_lists_contents(made.page) for made in volumes[0].p_made)
    titles = volumes[0].front() - len(volumes[0].p_made)
    parts = sizes.parts_for(titles, contents, matter)
    shared = titles + (contents + matter) // parts
    if parts == sizes.parts:
        shared = volumes[parts - 1].front()
    return replace(sizes, front=usual, first=max(0, shared - usual), parts=parts)


def _lists_contents(page: Page) -> bool:
    """Whether a page has entries of the contents that the edition adds."""
    return any(row is not None and row.kind == CONTENTS and row.item < 0 for row in page.rows)


def _near(one: Sizes, two: Sizes) -> bool:
    """Whether front pages differ by little beside a volume, or beside their own number."""
    little = max(2, one.wanted // 20, one.first // 6)
    apart = abs(one.front - two.front) + abs(one.first - two.first)
    return one.parts == two.parts and apart <= little


def _span(block: Block, cell: int) -> Span | None:
    """The word of print that some cell of a block stands for."""
    cells = block.cells
    if cells is None or cells.passage is None:
        return None
    at = max(0, cells.piece_at(cell))
    first = cells.passage.ledger_at(cells.prints[at]) if cells.pieces else -1
    return (first, first + max(1, cells.pieces[at].length)) if first >= 0 else None


def _begins(page: Page, block: Block) -> int:
    """The row of a page, from 0, on which a block begins."""
    rows = enumerate(page.rows)
    return next((at for at, row in rows if row is not None and row.kind == block.kind), 0)


def _span_of(page: Page, last: int) -> Span | None:
    """Print on a row of a page, or on the last one above it that stands for any; ``OVERLEAF``:
    the last of the page."""
    for row in reversed(page.rows if last == OVERLEAF else page.rows[: last + 1]):
        for part in row.parts if row is not None and row.item >= 0 else ():
            source = part.source
            if source is not None and source.passage is not None:
                start, end = part.print_span()
                first = source.passage.ledger_at(start)
                if first >= 0:
                    return (first, first + max(1, end - start))
    return None
