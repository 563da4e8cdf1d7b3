"""No two different expressions have the same cells: random ones are read back.

Left out, since the code itself writes two things alike: the letter kappa (an equals sign),
letters that spell a function name, an ellipsis before a letter in a subscript, an exponent of a
function name or a word in a subscript, bars between bars.
"""

from __future__ import annotations

import random
from typing import NamedTuple

from convert.maths.nemeth import cells
from convert.maths.tree import (
    BAR,
    CLOSE,
    OPEN,
    Expression,
    Fraction,
    Letter,
    Name,
    Number,
    Root,
    Row,
    Scripts,
    Sign,
    Stack,
    parts,
    row,
)
from tests.maths.case import ascii_cells
from tests.maths.nemeth_read import COMPARISONS, FUNCTIONS, GREEK, WORDS, read

LETTERS = "abcdexyzmnpqrwABXYZM" + "".join(GREEK.values())
NUMBERS = ("1", "2", "30", "3.5", "1,024", ".5", "88")


class Place(NamedTuple):
    """Where a random thing stands: inside a script no modified expression, inside a modified one
    no index, between bars no bars."""

    scripted: bool = False
    modified: bool = False
    barred: bool = False


PLAIN = Place()


class Expressions:
    """Random trees."""

    def __init__(self, seed: int) -> None:
        self.random = random.Random(seed)

    def row(self, depth: int, place: Place = PLAIN) -> Expression:
        out: list[Expression] = []
        for _ in range(self.random.choice((1, 1, 2, 3, 5))):
            if out and self.random.random() < 0.4:
                out.append(Sign(self.random.choice((*"+−×·/∪,", *COMPARISONS.values()))))
            out.extend(parts(self.thing(depth, place)))
        return row(_spread(out))

    def thing(self, depth: int, place: Place) -> Expression:
        kind = self.random.randrange(20 if depth else 5)
        if kind < 5:
            return self.leaf(place.scripted)
        if kind < 9:
            return self.scripts(depth - 1, place)
        if kind < 12:
            return Fraction(self.row(depth - 1, place), self.row(depth - 1, place))
        if kind < 14:
            indexed = not place.modified and self.random.random() < 0.4
            index = self.row(0, place._replace(scripted=True)) if indexed else None
            return Root(self.row(depth - 1, place), index)
        if kind < 16 and not place.scripted:
            return self.modified(depth - 1)
        opening, closing = self.random.choice(("()", "[]", "{}") if place.barred else ("()", "||"))
        roles = (BAR, BAR) if opening == "|" else (OPEN, CLOSE)
        inside = parts(self.row(depth - 1, place._replace(barred=opening == "|" or place.barred)))
        return Row((Sign(opening, role=roles[0]), *inside, Sign(closing, role=roles[1])))

    def leaf(self, scripted: bool) -> Expression:
        kind = self.random.randrange(20)
        if kind < 10:
            return Letter(self.random.choice(LETTERS))
        if kind == 10:
            return Letter(self.random.choice(LETTERS), font="bold")
        if kind < 15:
            return Number(self.random.choice(NUMBERS))
        if kind == 15 and not scripted:
            return Name(self.random.choice(WORDS))
        if kind == 16:
            return Stack(Letter(self.random.choice("abxyz")), None, Sign("¯"))
        if kind < 19:
            return Row((Name(self.random.choice(FUNCTIONS)), Letter(self.random.choice("xyz"))))
        return Sign(self.random.choice("∞∂∫∑"))

    def scripts(self, depth: int, place: Place) -> Expression:
        inner = place._replace(scripted=True)
        letter = Letter(self.random.choice(LETTERS))
        bases = (letter, letter, Number("2"), Sign("∫"), Sign("∑"), Name("log"))
        base = self.random.choice(bases[:5] if place.scripted else bases)
        below = self.row(depth, inner) if self.random.random() < 0.6 else None
        above = self.row(depth, inner) if below is None or self.random.random() < 0.4 else None
        if isinstance(base, Letter) and self.random.random() < 0.2:
            above = row((Sign("′"), *parts(above)))
        return Scripts(base, ((below, above),))

    def modified(self, depth: int) -> Expression:
        product = row((Letter("a"), Letter("b")))
        base = self.random.choice((Letter("x"), product, Name("lim"), Sign("∑")))
        if self.random.random() < 0.3:
            return Stack(base, None, Sign(self.random.choice("^~→¯")))
        place = Place(True, True)
        over = self.row(0, place) if self.random.random() < 0.4 else None
        return Stack(base, self.row(max(depth, 0), place), over)


def _spread(nodes: list[Expression]) -> tuple[Expression, ...]:
    """No numeral straight after a numeral, no comparison sign after one, no comma at an edge."""
    out: list[Expression] = []
    for node in nodes:
        last = out[-1] if out else None
        if isinstance(last, Number) and isinstance(_first(node), Number):
            out.append(Letter("w"))
        if _sets_apart(node) and (last is None or _sets_apart(last)):
            continue
        out.append(node)
    while out and (_sets_apart(out[-1]) or out[-1] in (Sign("−"), Sign("+"))):
        out.pop()
    return tuple(out) or (Letter("m"),)


def _sets_apart(node: Expression) -> bool:
    return isinstance(node, Sign) and node.text in {",", *COMPARISONS.values()}


def _first(node: Expression) -> Expression:
    while isinstance(node, Scripts | Stack):
        node = node.base
    return node


def form(node: Expression | None) -> str:
    """The plain form of a tree."""
    return " ".join(_form(part) for part in parts(node))


def _form(node: Expression) -> str:
    match node:
        case Letter(text=text, font=font):
            return f"bold {text}" if font else text
        case Fraction(top=top, bottom=bottom):
            return f"frac{{{form(top)}}}{{{form(bottom)}}}"
        case Root(body=body, index=index):
            return f"root{{{form(index)}}}{{{form(body)}}}"
        case Stack(base=base, under=under, over=over):
            return f"mod{{{form(base)}}}{{{form(under)}}}{{{form(over)}}}"
        case Scripts(base=base, after=((below, above),)):
            primed = [part for part in parts(above) if part == Sign("′")]
            rest = parts(above)[len(primed) :]
            text = " ".join([form(base), *("′" for _ in primed)])
            text += f"_{{{form(below)}}}" if below is not None else ""
            return text + (f"^{{{form(row(rest))}}}" if rest else "")
        case Number(text=text) | Name(text=text) | Sign(text=text):
            return "Σ" if text == "∑" else text
    raise AssertionError(node)


def check(first: int, count: int) -> None:
    """Reads ``count`` random expressions back, of up to four levels."""
    for seed in range(first, first + count):
        node = Expressions(seed).row(seed % 4)
        made = cells(node)
        assert made.problems == ()
        assert read(ascii_cells(made.cells)) == form(node), seed


def test_random_expressions_are_read_back() -> None:
    """5,000; the cells give the expression again, so no two share their cells."""
    check(0, 5_000)
