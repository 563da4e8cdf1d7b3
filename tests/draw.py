"""Pages drawn as numbered lines, and items written as ASCII braille, for tests of the layout.

Braille is shown as lower-case North American ASCII braille, as in the worked examples.
"""

from __future__ import annotations

from convert.document.nodes import Inlines
from convert.layout.book import Page
from convert.layout.items import Item, Part, SetLine
from convert.layout.lines import prepare
from convert.layout.pages import Made, make_pages
from convert.layout.shape import Shape
from convert.translation.cells import BLANK, Cells, Piece, ascii_of, cells_of
from convert.translation.passage import Passage

Marks = tuple[tuple[int, str, object], ...]
RELAX = (
    "next_whole", "tail_min", "head_min", "whole", "start_not_on_last", "with_previous",
    "with_next",
)  # fmt: skip


def cells_from(text: str, marks: Marks = ()) -> Cells:
    """Cells written as ASCII braille, one piece a word; every cell stands for one character."""
    cells = Cells(text=cells_of(text), marks=marks, passage=Passage(text))
    at = 0
    for word in text.split(" "):
        if word:
            cells.starts.append(at)
            cells.prints.append(at)
            size = len(word)
            cells.pieces.append(Piece(cells_of(word), tuple(range(size)), bytes(size), size))
        at += len(word) + 1
    return cells


def item(kind: str, text: str, margins: str = "1-1", marks: Marks = (), **more: object) -> Item:
    """An item whose cells are written as ASCII braille.  ``margins`` as in ``3-1``."""
    centred = margins == "centred"
    first, runover = (1, 1) if centred else (int(part) for part in margins.split("-"))
    runs: Inlines = ()
    made = Item(kind, kind, runs, cells_from(text, marks), first, runover, centred)
    for name, value in more.items():
        setattr(made, name, value)
    return made


def para(text: str, **more: object) -> Item:
    """An indented paragraph, 3-1."""
    return item("para", text, "3-1", **more)  # type: ignore[arg-type]


def heading(text: str, **more: object) -> Item:
    """A centred heading: one blank line before and after, kept with a line of text."""
    keep = (("whole", 1), ("with_next", 1))
    facts = {"before": 1, "needs_before": True, "after": 1, "keep": keep, **more}
    return item("h-center", text, "centred", **facts)  # type: ignore[arg-type]


def turn(label: str | None, **more: object) -> Item:
    """A print page change between blocks."""
    made = Item("page-turn", "page-turn", page=(label,))
    for name, value in more.items():
        setattr(made, name, value)
    return made


def box(kind: str, sign: str, width: int = 40, **more: object) -> Item:
    """A box line of one repeated sign."""
    line = SetLine((Part(0, cells_of(sign * width)),), kind)
    made = Item(kind, kind, set_lines=(line,))
    for name, value in more.items():
        setattr(made, name, value)
    return made


def lines_of(page: Page) -> list[str]:
    """The lines of a page, ASCII braille, trailing blanks trimmed."""
    return [ascii_of(page.line(n).rstrip(BLANK)) for n in range(1, len(page.rows) + 1)]


def text_of(page: Page) -> list[str]:
    """The lines without page numbers and running head."""
    return [ascii_of(row.text) if row else "" for row in page.rows]


def draw(page: Page) -> str:
    """A page as numbered lines, the empty lines at its foot left out but for the last."""
    lines = lines_of(page)
    drawn = [f"{at:2}|{line}" for at, line in enumerate(lines, 1)]
    last = drawn.pop()
    while drawn and drawn[-1].endswith("|"):
        drawn.pop()
    return "\n".join([*drawn, last])


def lay(items: list[Item], shape: Shape | None = None) -> list[Made]:
    """The pages of some items as one body series."""
    return make_pages(prepare(items, []), shape or Shape(40, 25, relax=RELAX), "body")


def lay_lines(items: list[Item], shape: Shape | None = None) -> list[list[str]]:
    """The complete lines of every page."""
    return [lines_of(made.page) for made in lay(items, shape)]
