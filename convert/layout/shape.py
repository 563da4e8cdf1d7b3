"""The size and habits of a braille page, and what one page hands to the next."""

from __future__ import annotations

from dataclasses import dataclass

from .furniture import Label
from .turns import Mark


@dataclass(frozen=True, slots=True)
class Shape:
    """The size and habits of a page.  ``head`` is the running head in cells, "" for none;
    ``guard`` the empty cells kept before a page number (BF 1.3 of the digest: three)."""

    cells: int
    lines: int
    guard: int = 3
    head: str = ""
    restore_blanks: bool = True
    relax: tuple[str, ...] = ()

    def indent(self, start: int) -> int:
        """A margin, kept inside very narrow pages."""
        return min(start, self.cells // 2)


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
