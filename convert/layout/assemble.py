"""Putting volumes together: the pages before each volume's text, once the text's pages exist."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from ..document.ledger import Ledger
from ..settings import Settings
from .book import Page
from .contents import Entry, Setting, contents_items, page_column
from .fill import END_LINE
from .front import (
    TitleFacts,
    VolumeFacts,
    Words,
    keep_words,
    notes_items,
    symbols_items,
    title_page,
    title_segments,
    volume_lines,
)
from .furniture import Label, braille_number, number_cells
from .items import Item
from .lines import Block, added
from .own_symbols import with_own
from .pages import Made, blank_page, make_pages
from .repeated import repeated_pages
from .shape import Cursor, Shape
from .symbols import Notes, Signs, in_order, locator
from .volumes import Binder, Frame, Series, Sizes

ROUNDS = 4
Place = tuple[int, str, str]  # volume, print page ("" for none), braille page


@dataclass(slots=True)
class Assembled:
    """One volume being put together: title pages, other t-pages, p-pages, body."""

    number: int
    body: list[Made]
    t_made: list[Made] = field(default_factory=list)
    p_made: list[Made] = field(default_factory=list)
    title: list[Page] = field(default_factory=list)

    def front(self) -> int:
        """How many front pages it has."""
        return len(self.title) + len(self.t_made) + len(self.p_made)

    def made(self) -> list[Made]:
        """Its pages that were filled, in order."""
        return [*self.t_made, *self.p_made, *self.body]

    def pages(self) -> list[Page]:
        """All its pages in order: t, p, body (BF 2.2.1)."""
        return [*self.title, *(each.page for each in self.made())]


@dataclass(frozen=True, slots=True)
class Matter:
    """What front pages are made from: the items, the front matter of print as blocks, the
    headings by item, combined print pages by their text, whether the source has print page
    numbers, the signs of the items, the ledger they point into, and the styles of lists that
    later volumes repeat."""

    items: Sequence[Item]
    blocks: Sequence[Block]
    headings: Mapping[int, Block]
    ranges: Mapping[str, Label]
    numbered: bool
    signs: Signs
    ledger: Ledger
    repeated: tuple[str, ...] = ()


def matter_pages(matter: Matter, shape: Shape, before: int) -> list[Made]:
    """The front matter of print as p-pages after ``before`` others (BF 2.7 to 2.11)."""
    return make_pages(matter.blocks, shape, "p", before + 1) if matter.blocks else []


def add_front_pages(
    volumes: list[Assembled], matter: Matter, shape: Shape, words: Words, settings: Settings,
    facts: TitleFacts,
) -> bool:  # fmt: skip
    """Give every volume its front pages; False if the contents did not settle."""
    settled = _add_contents(volumes, matter, shape, words)
    for volume in volumes:
        volume.p_made += repeated_pages(
            matter.items, matter.repeated, volume.body, volume.p_made, shape
        )
        _to_the_right(volume.p_made, 0, shape, "p")
    notes = Notes(words.findings, settings, words.front, matter.items)
    for volume in volumes:
        print_matter = [*volume.p_made, *volume.body]
        listed = matter.signs.listed(print_matter)
        signs = with_own(listed, settings.symbol, [each.page for each in print_matter], locator())
        signs = in_order(signs, words.front.symbols_order)
        told = [*notes.of(print_matter), *words.notes]
        lists = (symbols_items(signs, words), notes_items(told, words))
        count = 1
        for _ in range(ROUNDS):
            volume.t_made = []
            for rows in lists:
                number = count + len(volume.t_made) + 1
                volume.t_made.extend(make_pages(added(rows), shape, "t", number))
            _to_the_right(volume.t_made, count, shape, "t")
            own = _volume_facts(volume, len(volumes), count, matter.ranges)
            volume.title = title_pages(own, facts, words, shape)
            if len(volume.title) == count:
                break
            count = len(volume.title)
    return settled


def _to_the_right(made: list[Made], before: int, shape: Shape, series: str) -> None:
    """On two sides, a blank page after an odd number of pages (BF Appendix E)."""
    count = before + len(made)
    if shape.two_sides and count % 2:
        made.append(blank_page(shape, series, count + 1))


# ---------------------------------------------------------------- contents


def _add_contents(volumes: list[Assembled], matter: Matter, shape: Shape, words: Words) -> bool:
    """Contents, then the front matter of print; their lengths agree in a few rounds."""
    body: dict[int, Place] = {}
    for volume in volumes:
        body.update(find(volume.body, volume.number, matter.headings))
    parts = next((at for at, volume in enumerate(volumes, 1) if volume.body), 1)
    if parts > 1:
        return _add_parts(volumes, parts, (matter, body), shape, words)
    length = 0
    settled = False
    places = body
    for _ in range(ROUNDS):
        own = matter_pages(matter, shape, length)
        places = {**find(own, 1, matter.headings), **body}
        made = _contents(_entries(places, matter, words), 1, len(volumes), words, shape)
        volumes[0].p_made = [*made, *own]
        settled, length = len(made) == length, len(made)
        if settled:
            break
    entries = _entries(places, matter, words)
    for volume in volumes[1:]:
        volume.p_made = _contents(entries, volume.number, len(volumes), words, shape)
    return settled


def _add_parts(
    volumes: list[Assembled],
    parts: int,
    known: tuple[Matter, dict[int, Place]],
    shape: Shape,
    words: Words,
) -> bool:
    """Contents and front matter too long for one volume, bound as ``parts`` of them; the body
    begins in the last (BF 1.6, 2.1).  ``known`` are the matter and where body headings stand."""
    matter, body = known
    count = len(volumes)
    contents: list[Block] = []
    own: list[list[Made]] = [[] for _ in range(parts)]
    places: dict[int, Place] = {}
    settled = False
    for _ in range(ROUNDS + 1):
        before, places = places, dict(body)
        rest = [replace(block, new_page=not at) for at, block in enumerate(matter.blocks)]
        series = Series("p", parts, tuple(map(len, own)), len(contents))
        frame = Frame(lambda _: None, lambda n, _: ending(words, n, False) if n < parts else None)
        blocks = [*contents, *(rest if contents else matter.blocks)]
        bound = Binder(blocks, shape, frame, Sizes(1, 1 << 20), Cursor(), series).bind()
        made = [*(each.made for each in bound), *[[] for _ in range(parts)]]
        for number in range(1, parts + 1):
            places = {**find(made[number - 1], number, matter.headings), **places}
        for volume, mine, pages in zip(volumes, own, made, strict=False):
            volume.p_made = [*mine, *pages]
        settled = places == before
        if settled:
            break
        entries = _entries(places, matter, words)
        contents = _contents_blocks(entries, 1, count, words, shape)
        own = [_contents(entries, n, count, words, shape) if n > 1 else [] for n in
               range(1, parts + 1)]  # fmt: skip
    entries = _entries(places, matter, words)
    for volume in volumes[parts:]:
        volume.p_made = _contents(entries, volume.number, count, words, shape)
    return settled


def ending(words: Words, number: int, last: bool) -> Block | None:
    """The line that ends a volume: a blank line above, never alone on a page (BF 1.6); none where
    the convention has no words for it."""
    text = words.front.words("the-end") if last else words.front.words("end-of-volume", n=number)
    if not text:
        return None
    item = words.centred(END_LINE, END_LINE, text)
    item.before = 1
    item.keep = (("whole", 1), ("with_previous", 1))
    return added([item])[0]


def find(made: Sequence[Made], volume: int, headings: Mapping[int, Block]) -> dict[int, Place]:
    """Where the headings stand: the first line of each."""
    places: dict[int, Place] = {}
    for each in made:
        for row in each.page.rows:
            if row is not None and row.item in headings and row.item not in places:
                places[row.item] = (volume, row.print_page or "", each.page.braille_page)
    return places


def _entries(places: Mapping[int, Place], matter: Matter, words: Words) -> list[Entry]:
    """Contents entries: the print page number, or the braille page's where the source marks
    no print pages (BF 2.10)."""
    if any(item.style == "contents" for item in matter.items):  # print has its own
        return []
    entries: list[Entry] = []
    for index, (volume, print_page, braille_page) in sorted(places.items()):
        block = matter.headings[index]
        if matter.numbered:
            number = number_cells(print_page) if print_page else ""
        elif braille_page.isdigit():
            number = braille_number("body", int(braille_page))
        else:
            number = braille_number(braille_page[0], int(braille_page[1:]))
        if block.cells is not None:
            cells = words.entry(block.item.runs, block.cells, matter.ledger)
            label = print_page if matter.numbered else braille_page
            entries.append(Entry(cells, block.item.level, number, volume, label))
    return entries if len(entries) > 1 else []


def _contents(
    entries: Sequence[Entry], number: int, count: int, words: Words, shape: Shape
) -> list[Made]:
    """The contents pages of one volume; none where there is nothing to list."""
    blocks = _contents_blocks(entries, number, count, words, shape)
    return make_pages(blocks, shape, "p") if blocks else []


def _contents_blocks(
    entries: Sequence[Entry], number: int, count: int, words: Words, shape: Shape
) -> list[Block]:
    """The contents of one volume, made ready for the page."""
    front = words.front
    dividers: list[Item] = []
    for volume in range(1, count + 1 if count > 1 else 1):
        name = front.words("contents-volume", n=volume)
        divider = words.centred("toc", "contents-volume", name)
        divider.cells = words.cells(name, noted=front.contents_volume_notes)
        dividers.append(divider)
        dividers[-1].keep = (("whole", 1), ("with_next", 1))
    rows = contents_items(entries, number, Setting(shape.cells, front), dividers)
    if not rows:
        return []
    heading = words.heading("contents-heading", front.words("contents-heading"))
    column = front.words("contents-page")
    if column and rows[0].style != "contents-volume":
        rows.insert(0, page_column(words.cells(column), shape.cells))
        rows[0].before, rows[1].before = rows[1].before, 0
    return added([heading, *rows])


# ---------------------------------------------------------------- title pages


def title_pages(mine: VolumeFacts, facts: TitleFacts, words: Words, shape: Shape) -> list[Page]:
    """The title pages of a volume; only the lines that name it differ (BF 2.3).

    What does not belong on the first, or has no room there, stands on the second, which only
    the first volume has (BF 2.4).
    """
    kept, second = title_segments(facts, words.front)
    own = volume_lines(mine, words.front)
    moved: list[list[str]] = []
    page = title_page([*kept, own], words, shape, 1)
    while page is None and len(kept) > 1:
        moved.insert(0, kept.pop())
        page = title_page([*kept, own], words, shape, 1)
    if page is None:
        return _plain_title([*kept, own, *moved, *second], words, shape, 1)
    more = [*moved, *second] if mine.number == 1 else []
    return [page, *_plain_title(more, words, shape, 2)]


def _plain_title(
    groups: Sequence[Sequence[str]], words: Words, shape: Shape, number: int
) -> list[Page]:
    """Groups of centred lines on as many t-pages as they need, without a running head."""
    rows: list[Item] = []
    for group in groups:
        for at, line in enumerate(group):
            rows.append(words.centred("title", "title-page", line))
            rows[-1].before = int(at == 0 and len(rows) > 1)
    plain = replace(shape, head="")
    blocks = added(rows)
    keep_words(blocks, plain.cells - 2 * plain.free())
    return [made.page for made in make_pages(blocks, plain, "t", number)]


def _volume_facts(
    volume: Assembled, count: int, titles: int, ranges: Mapping[str, Label]
) -> VolumeFacts:
    """What a title page says of its volume, from the pages made."""
    body = [int(made.page.braille_page) for made in volume.body]
    body = body or ([] if volume.p_made else [1])
    labels = dict.fromkeys(
        row.print_page
        for made in (*volume.p_made, *volume.body)
        for row in made.page.rows
        if row is not None and row.print_page
    )
    return VolumeFacts(
        volume.number,
        count,
        titles + len(volume.t_made),
        len(volume.p_made),
        (body[0], body[-1]) if body else None,
        tuple(ranges.get(text) or Label.of(text) for text in labels),
    )
