"""One cell inside a formula: the sign it belongs to, its print, the element of the source.

The formula is written once more, and the cells around the asked one that stand for the same
print are taken apart by the tables of the code it is in.  Where cells can be two indicators, what
stands before them decides; where it does not, both are named.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

from ..api import translate
from ..maths.cells import BLANK, NEMETH, LeafPlace, MathCells
from ..maths.render import render
from ..maths.sign_names import Named, indicators, own_rows
from ..maths.source_element import element_at
from ..translation.names import say_cells


class Sign(NamedTuple):
    """A sign of a formula: its cells from ``start`` to ``end``, what it is called and where the
    code says so; ``print``: what it stands for, nothing for an indicator."""

    start: int
    end: int
    name: str
    section: str
    print: str = ""


def written(source: str, math: str, code: str) -> MathCells:
    """The cells of a formula as an edition in the braille code ``code`` has them."""
    edge = len(str(translate("/", code)))

    def contract(word: str, alone: bool) -> str:
        if alone:
            return str(translate(word, code))
        return str(translate(f"/{word}/", code))[edge:-edge]

    contracted = code == "ueb"
    return render(
        source, math, contracted=contracted, contract=contract if contracted else None, switch=True
    )


def about_formula_cell(made: MathCells, source: str, at: int) -> Iterator[str] | None:
    """Sentences about cell ``at`` (from 0) of a formula; None where its sign has no name in the
    tables, as in a word in contracted braille."""
    sign = sign_at(made, at)
    if sign is None:
        return None
    return _sentences(made, source, at, sign)


def _sentences(made: MathCells, source: str, at: int, sign: Sign) -> Iterator[str]:
    leaf = made.origin[at]
    place = made.leaves[leaf] if 0 <= leaf < len(made.leaves) else None
    code = "the Nemeth Code" if made.code == NEMETH else "Unified English Braille"
    yield f"It is part of a mathematical expression in {code}."
    shown = f", for “{sign.print}”" if sign.print else ""
    size = sign.end - sign.start
    cells = say_cells(made.cells[sign.start : sign.end])
    within = f" It is cell {at - sign.start + 1} of a sign of {size}: {cells}." if size > 1 else ""
    yield f"Sign: {sign.name}{shown}.{within}"
    if not sign.print and place is not None:
        yield f"It is an indicator or part of the form; beside it stands the print “{place.text}”."
    if sign.section:
        yield _rule(sign.section, made.code)
    if place is not None:
        yield from element_at(source, place.path)


def _rule(section: str, code: str) -> str:
    if code != NEMETH:
        book = section if section.startswith(("GTM", "App")) else f"UEB {section}"
        return f"Rule: {book}."
    if section[0].isdecimal():
        return f"Rule: the Nemeth Code, section {section}."
    if section == "table":
        return "Rule: a published table of the Nemeth Code; its section was not at hand."
    return f"Rule: the Nemeth Code; the number of its section was not at hand ({section})."


def sign_at(made: MathCells, at: int) -> Sign | None:
    """The sign that holds a cell of a formula, None where the tables do not tell."""
    if made.cells[at] == BLANK:
        return Sign(at, at + 1, "space of the formula", "")
    for start, end in _stretches(made):
        leaf = made.origin[start]
        place = made.leaves[leaf] if 0 <= leaf < len(made.leaves) else LeafPlace("", "")
        if start <= at < end:
            signs = _Apart(made, place.text).apart(start, end)
            return next((sign for sign in signs if sign.start <= at < sign.end), None)
    return None


def _stretches(made: MathCells) -> Iterator[tuple[int, int]]:
    """Cells side by side that stand for one leaf."""
    start = 0
    for at in range(1, len(made.cells) + 1):
        if at == len(made.cells) or made.origin[at] != made.origin[start]:
            yield start, at
            start = at


@dataclass(slots=True)
class _Apart:
    """Takes the cells of one leaf apart."""

    made: MathCells
    text: str

    def apart(self, start: int, end: int) -> Iterator[Sign]:
        own = own_rows(self.text, self.made.code)
        done = not own
        at = start
        while at < end:
            row = self._own(own, at, end)
            if row is not None:
                yield Sign(at, at + len(row.cells), row.name, row.section, row.print)
                del own[: own.index(row) + 1]
                at, done = at + len(row.cells), True
                continue
            found = self._indicators(at, end, done)
            if found is None:
                at += 1
                continue
            yield found
            at = found.end

    def _own(self, own: list[Named], at: int, end: int) -> Named | None:
        fits = [row for row in own[:2] if self.made.cells.startswith(row.cells, at, end)]
        return max(fits, key=lambda row: len(row.cells), default=None)

    def _indicators(self, at: int, end: int, after: bool) -> Sign | None:
        """The longest indicator here: one that closes where the leaf's own sign is written."""
        rows = [
            row
            for row in indicators(self.made.code)
            if self.made.cells.startswith(row.cells, at, end)
        ]
        rows = [row for row in rows if self._follows(row, at)]
        rows = [row for row in rows if row.closes == after] or rows
        if not rows:
            return None
        size = max(len(row.cells) for row in rows)
        rows = [row for row in rows if len(row.cells) == size and self._fits(row)] or rows
        names = dict.fromkeys(f"{row.name} indicator" for row in rows if len(row.cells) == size)
        return Sign(at, at + size, " or ".join(names), rows[0].section)

    def _follows(self, row: Named, at: int) -> bool:
        """Whether what must stand after an indicator does."""
        return not row.then or self.made.cells.startswith(row.then, at + len(row.cells))

    def _fits(self, row: Named) -> bool:
        """Whether an indicator may stand at this kind of print."""
        kind = "letter" if self.text[:1].isalpha() else "number"
        kind = kind if self.text[:1].isalnum() else "sign"
        return not row.beside or kind in row.beside
