"""Arithmetic in columns in UEB: sums, carrying, long division (UEB 6.8, 16.2; GTM 4).

Every line of figures has its numeric indicator in one column, spaced where the figures begin
further right (UEB 6.8); signs stand left of it.  Rules are the horizontal line (GTM 4); the line
between divisor and dividend is the vertical line segment (UEB 16.2).  Where there are letters, a
grade 1 passage stands round the whole on lines of its own (UEB 5.4.3).  The place of carries and
the form of long division: common practice, no printed source seen.
"""

from __future__ import annotations

from collections.abc import Mapping

from .cells import BLANK, UEB, CodeSign
from .columns import CARRIES, RULE, Columns, Item, Text, columns, crossed, lettered
from .data import indicator, sign
from .tree import Expression, Letter, Line, Name, Number, Sign, Work
from .ueb_build import Builder
from .ueb_grade1 import tidy, written
from .ueb_leaves import digits

Items = dict[int, Item]
_READ_AS_DIGITS = frozenset("abcdefghij")
_POINTS = frozenset(".,")


def lines(work: Work, builder: Builder, contracted: bool) -> list[Text]:
    """The lines of a work, as wide as they need."""
    divisor = None if work.divisor is None else _written(work.divisor, builder)
    struck = crossed(work.lines)
    made = [
        (_lead(line, builder), _items(line, gone, builder))
        for line, gone in zip(work.lines, struck, strict=True)
    ]
    leads, rows = [lead for lead, _ in made], [row for _, row in made]
    if divisor is not None:
        _divide(leads, divisor)
        builder.used.add((UEB, indicator("vertical line segment").cells))
    sheet, prefixes = _settled(work.lines, rows)
    head = max((len(lead.cells) for lead in leads), default=0)
    out = [
        _rule(line, sheet, head, builder.used)
        if line.kind == RULE
        else _figures(line, lead, row, marks, (sheet, head))
        for line, lead, row, marks in zip(work.lines, leads, rows, prefixes, strict=True)
        if row or line.kind != CARRIES
    ]
    return _in_passage(out) if contracted and lettered(work) else out


def _written(node: Expression, builder: Builder) -> Text:
    out = Text()
    for before, cells, token, after in written(tidy(builder.tokens(node)), False):
        out.add(before + cells + after, token.leaf)
    return out


def _lead(line: Line, builder: Builder) -> Text:
    out = Text()
    for mark in line.lead:
        out.join(_written(mark, builder))
    return out


def _divide(leads: list[Text], divisor: Text) -> None:
    """The divisor and the line after it, left of the dividend, which is the third line."""
    if len(leads) > 2:
        divisor.add(indicator("vertical line segment").cells)
        divisor.join(leads[2])
        leads[2] = divisor


def _items(line: Line, struck: frozenset[int], builder: Builder) -> Items:
    """What stands in each column, without numeric indicators."""
    out: Items = {}
    figure = False
    for place, node in line.entries:
        if isinstance(node, Number):
            leaf = builder.add_leaf(node)
            cells = digits(node.text)
        elif isinstance(node, Sign) and place % 2:
            leaf = builder.add_leaf(node)
            row = sign(node.text)
            cells = row.cells if row else ""
        else:
            made = _written(node, builder)
            leaf = made.origin[0] if made.origin else -1
            cells = made.cells
            if figure and isinstance(node, Letter | Name) and node.text[0] in _READ_AS_DIGITS:
                cells = indicator("grade 1 symbol").cells + cells
        figure = isinstance(node, Number)
        cells += indicator("line through").cells if place in struck else ""
        out[place] = Item(cells, leaf)
    return out


def _settled(lines: tuple[Line, ...], rows: list[Items]) -> tuple[Columns, list[dict[int, str]]]:
    """The columns, and for each row the places before whose figures the numeric indicator is
    written again: after a blank or a sign that ended numeric mode (UEB 6.3).  It stands in a
    free cell, or else its column is wider."""
    more: dict[int, int] = {}
    while True:
        sheet = columns(rows, more)
        prefixes: list[dict[int, str]] = []
        tight: set[int] = set()
        for line, row in zip(lines, rows, strict=True):
            found, crowded = _prefixes(line, row, sheet)
            prefixes.append(found)
            tight |= crowded
        if not tight:
            return sheet, prefixes
        for place in tight:
            more[place] = more.get(place, 0) + 1


def _prefixes(
    line: Line, row: Mapping[int, Item], sheet: Columns
) -> tuple[dict[int, str], set[int]]:
    numeric = indicator("numeric").cells
    found: dict[int, str] = {}
    crowded: set[int] = set()
    end, mode = 0, "start"
    for place, node in line.entries:
        cells = row[place].cells
        start = sheet.start(place, len(cells))
        figure = isinstance(node, Number) or (place % 2 == 1 and mode != "sign")
        joined = mode == "start" or (mode == "figures" and start == end)
        if isinstance(node, Number) and not joined:
            found[place] = numeric
            if start <= end - (mode == "start"):
                crowded.add(place)
        whole = len(cells) == 1
        mode = "figures" if figure and whole else "sign"
        end = start + len(cells)
    return found, crowded


def _figures(
    line: Line,
    lead: Text,
    row: Mapping[int, Item],
    prefixes: Mapping[int, str],
    place_of: tuple[Columns, int],
) -> Text:
    sheet, head = place_of
    out = Text()
    out.pad(head - len(lead.cells))
    out.join(lead)
    first = line.entries[0] if line.entries else None
    begins = first is not None and (
        isinstance(first[1], Number) or (isinstance(first[1], Sign) and first[1].text in _POINTS)
    )
    out.add(indicator("numeric").cells if begins else BLANK, row[first[0]].leaf if first else -1)
    for place, item in row.items():
        prefix = prefixes.get(place, "")
        out.pad(head + 1 + sheet.start(place, len(item.cells)) - len(prefix))
        out.add(prefix + item.cells, item.leaf)
    return out


def _rule(line: Line, sheet: Columns, head: int, used: set[CodeSign]) -> Text:
    """A horizontal line: its indicator, then a cell for each of the columns (GTM 4)."""
    opening, stroke = indicator("horizontal line"), indicator("horizontal line segment")
    used.add((UEB, opening.cells + stroke.cells))
    start, end = 0, head + 1 + sheet.width
    if line.span is not None:
        start, end = head + sheet.begin(line.span[0]), head + 1 + sheet.end(line.span[1])
    out = Text()
    out.pad(start)
    out.add(opening.cells + stroke.cells * (end - start - 1))
    return out


def _in_passage(rows: list[Text]) -> list[Text]:
    locator = indicator("dot locator for use").cells
    opening, closing = Text(), Text()
    opening.add(locator + indicator("grade 1 passage").cells)
    closing.add(locator + indicator("grade 1 terminator").cells)
    return [opening, *rows, closing]
