"""Switching between Unified English Braille and the Nemeth Code (UEB 14.6; BANA guidance for
Nemeth within UEB)."""

from __future__ import annotations

from dataclasses import replace

from .cells import BLANK, NEMETH, CodeSign, LeafPlace, MathCells
from .data import sign
from .nemeth_data import indicator, rule_words
from .tree import Expression, Letter, Number, Row, Sign, parts


def stays_ueb(expression: Expression) -> bool:
    """Whether an expression is a lone letter, or a number with no more than commas inside,
    neither modified: those stay in the text around (BANA guidance 3a)."""
    if isinstance(expression, Number):
        return not expression.font and expression.text.replace(",", "").isdecimal()
    return isinstance(expression, Letter) and not expression.font


def without_punctuation(expression: Expression) -> tuple[Expression, tuple[Sign, ...]]:
    """An expression, and the sentence punctuation at its end (UEB 14.6)."""
    inside = list(parts(expression))
    marks: list[Sign] = []
    while len(inside) > 1:
        last = inside[-1]
        if not isinstance(last, Sign) or last.text not in rule_words("sentence-punctuation"):
            break
        marks.append(last)
        inside.pop()
    if not marks:
        return expression, ()
    return (inside[0] if len(inside) == 1 else Row(tuple(inside))), tuple(reversed(marks))


def switched(made: MathCells, punctuation: tuple[Sign, ...] = ()) -> MathCells:
    """Cells between the indicators; the blanks beside these are not print's.

    An expression of several lines has the indicators on lines of their own (UEB 14.6.3).
    """
    if not made.cells:
        return made
    opening, closing = indicator("opening Nemeth"), indicator("Nemeth terminator")
    blank = "" if made.lines else BLANK
    before, after = opening + blank, blank + closing
    first, last = len(before), len(before) + len(made.cells) + len(blank)
    marks = [sign(mark.text) for mark in punctuation]
    tail = [row.cells if row is not None else "" for row in marks]
    places = tuple(LeafPlace(mark.text, mark.path) for mark in punctuation)
    origin = [-1] * first + list(made.origin) + [-1] * len(after)
    for at, text in enumerate(tail, len(made.leaves)):
        origin.extend([at] * len(text))
    lines = (first, *(cell + first for cell in made.lines), last) if made.lines else ()
    breaks = tuple(cell + first for cell in made.breaks)
    return replace(
        made,
        cells=before + made.cells + after + "".join(tail),
        origin=tuple(origin),
        breaks=breaks,
        leaves=made.leaves + places,
        signs=_switches(made.cells),
        lines=lines,
    )


def _switches(cells: str) -> frozenset[CodeSign]:
    """The indicators of switching that an expression has round it and in it."""
    single = indicator("single-word switch")
    found = [indicator("opening Nemeth"), indicator("Nemeth terminator")]
    if f"{BLANK}{single}" in BLANK + cells:
        found.append(single)
    return frozenset((NEMETH, sign) for sign in found)
