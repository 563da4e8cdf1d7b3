"""The size and habits of a braille page, and what one page hands to the next."""

from __future__ import annotations

from dataclasses import dataclass

from .furniture import Label, print_number
from .turns import Mark

LEAST_ROOM = 11  # Cells for words right of the deepest margin (common practice, no source).


@dataclass(frozen=True, slots=True)
class Shape:
    """The size and habits of a page.  ``head`` is the running head in cells, "" for none;
    ``guard`` the empty cells kept before a page number, ``side`` those kept at each side of a
    centred line, whose odd empty cell is on its left with ``odd_left``; page numbers may be
    left out.  ``guided`` are the kinds of entries whose pages have guide words.
    ``two_sides``: interpoint, where left-hand pages may have no braille page number.
    ``anew``: continuation letters begin again after z."""

    cells: int
    lines: int
    guard: int = 3
    head: str = ""
    restore_blanks: bool = True
    relax: tuple[str, ...] = ()
    side: int = 3
    odd_left: bool = False
    print_numbers: bool = True
    braille_numbers: bool = True
    guided: frozenset[str] = frozenset()
    two_sides: bool = False
    left_numbers: bool = True
    anew: bool = False

    def numbers(self, left: bool) -> bool:
        """Whether a page has a braille page number; ``left`` for a left-hand page of two."""
        return self.braille_numbers and not (left and self.two_sides and not self.left_numbers)

    def print_number(self, label: Label | None, count: int) -> str:
        """Cells of the print page number on line 1, none where the convention has none."""
        return print_number(label, count, self.anew) if self.print_numbers else ""

    def free(self) -> int:
        """Cells kept empty at each side of a centred line; fewer on very narrow pages."""
        return min(self.side, self.cells // 6)

    def centre(self, length: int, limit: int) -> int:
        """The cell in which a centred line starts: moved left where it would pass ``limit``
        (BF 4.4)."""
        return max(min((self.cells - length + self.odd_left) // 2, limit - length), 0)

    def indent(self, start: int) -> int:
        """A margin, kept inside very narrow pages."""
        return min(start, max(self.cells // 2, self.cells - LEAST_ROOM) - 1)


@dataclass(frozen=True, slots=True)
class Cursor:
    """What one page hands to the next.

    ``count`` is how many braille pages the print page in force already has; ``full`` says that
    the page before had text on its last line or the last but one; ``fresh`` that this page is
    the first of a volume or series, or was asked for; ``start`` the cell its last line starts in.
    """

    mark: Mark = (0, -1, 0)
    label: Label | None = None
    count: int = 0
    full: bool = False
    fresh: bool = True
    begun: bool = False
    start: int = 0
