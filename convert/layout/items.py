"""Items: blocks on their way to the page.  After `flow` nothing is nested."""

from __future__ import annotations

from dataclasses import dataclass, field

from ..document.nodes import Inlines
from ..translation.cells import Cells

WHOLE = ("whole", "note_whole")
WITH_NEXT = ("with_next", "note_with_next")
FORWARD = frozenset((*WITH_NEXT, "next_whole"))  # Rules that bind an item to the one below it.


@dataclass(slots=True)
class Item:
    """One block: a style row, its words or its cells, its margins, its keep rules.

    Cells are counted from 1 as in the trade ("3-1": first line in cell 3, runovers in 1).
    ``kind`` is the trace's line kind; ``style`` the row of the convention that set it.
    ``before`` is the number of blank lines due above it (0 or 1), already agreed with the
    item before; ``needs_before`` says its own style asked for one, ``after`` that its style asks
    for one below.  ``keep`` holds keep rules as (rule, number), from a closed list:

    | rule | a page may not turn |
    |---|---|
    | ``whole``, ``note_whole`` | inside this item |
    | ``with_next`` n, ``note_with_next`` n | before n lines of the next item stand on this page |
    | ``next_whole`` | before the whole next item stands on this page |
    | ``head_min`` n | after fewer than n lines of this item |
    | ``tail_min`` n | with fewer than n lines of this item left over |
    | ``start_not_on_last`` | just after this item's first line on the page's last line |
    | ``with_previous`` n | between this item and the last n lines of the one before |

    The two rules of notes are those of other items; they only give way sooner.
    ``new_page`` and ``new_volume``: a new braille page, a new volume begins with it;
    ``left_page``: it begins a left-hand page, where both sides of the paper are used.
    ``page`` is set for items that are print page turns: the new label.
    ``set_lines`` holds lines already cut (box lines, tables, contents entries).
    ``spot`` is set for the entries of a table in columns, which become one item with set lines
    when they have their cells.
    Box lines are drawn by the style: ``box-top-outer`` and ``box-bottom-outer`` in full cells.
    ``indent_from_previous`` n means: ``first`` and ``runover`` are both n cells to the right of
    the start of the braille line just above (attributions, BF 9.4), known only when placed.
    ``continued`` marks the rest of a block cut at a print page turn so that notes could stand
    between: its first line counts as a runover.  ``division`` is ``front`` inside front matter
    (p-pages), else ``body``.  Headings carry their printed rank in ``level`` and the number of
    steps of the work's headings in ``levels``.  ``right`` cells stay free at the right end of its
    lines.  ``instead``: words that stand for all its print.
    """

    kind: str
    style: str
    runs: Inlines = ()
    cells: Cells | None = None
    first: int = 1
    runover: int = 1
    centred: bool = False
    before: int = 0
    after: int = 0
    needs_before: bool = False
    level: int = 0
    levels: int = 0
    element: str | None = None
    group: str | None = None
    keep: tuple[tuple[str, int], ...] = ()
    set_lines: tuple[SetLine, ...] = ()
    page: tuple[str | None] | None = None
    new_page: bool = False
    new_volume: bool = False
    left_page: bool = False
    indent_from_previous: int = 0
    continued: bool = False
    division: str = "body"
    spot: TableSpot | None = None
    right: int = 0
    instead: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class TablePlan:
    """A table that is to stand in columns: how many columns and rows it has, whether it has
    column headings, and which rows are one entry over all columns.

    ``spans``: headings over other headings as (row, column, columns), rows counted down to -2,
    which is the row just above that of the columns' own headings.  ``guided``: guide dots lead
    from entry to entry; a list in columns has none."""

    columns: int
    rows: int
    headed: bool
    wide: frozenset[int]
    address: str
    spans: tuple[tuple[int, int, int], ...] = ()
    guided: bool = True


@dataclass(frozen=True, slots=True)
class TableSpot:
    """Where an entry stands: row and column from 0; the row of headings is -1, those of
    headings above it -2, -3."""

    plan: TablePlan
    row: int
    column: int


@dataclass(slots=True)
class Part:
    """Some cells on a line: from cell ``start`` (from 0), ``text``, and where they came from.

    ``source`` with ``at`` tells which of its cells stand here; ``None`` for furniture.
    """

    start: int
    text: str
    source: Cells | None = None
    at: int = 0
    _print: tuple[int, int] | None = field(default=None, compare=False, repr=False)

    def print_span(self) -> tuple[int, int]:
        """The stretch of the source's passage these cells stand for; worked out once."""
        if self._print is None:
            source = self.source
            self._print = source.span(self.at, self.at + len(self.text)) if source else (0, 0)
        return self._print


@dataclass(slots=True)
class SetLine:
    """A line cut before pagination: parts side by side, its kind, whether it must stay with
    the next; ``pages`` are the labels of print pages that begin before it; ``apart``: it never
    shares a line with a page number (BF 15.5)."""

    parts: tuple[Part, ...]
    kind: str
    part: str = "first"
    with_next: bool = False
    pages: tuple[str | None, ...] = ()
    apart: bool = False
