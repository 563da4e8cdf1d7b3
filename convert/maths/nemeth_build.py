"""The tree as tokens of the Nemeth Code: fractions, radicals, levels, modified expressions.

A stack of tasks instead of recursion: a node is replaced by its tokens and its children.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from . import nemeth_leaves as leaf_tokens
from . import nemeth_words
from .cells import LeafPlace, Problem
from .nemeth_data import indicator, modifier, rule, table
from .nemeth_look import flat, is_bar, layers, orders, primes, print_of
from .nemeth_names import FUNCTION, OPERAND, name_kind
from .nemeth_row import BINOMIAL, COMMA, LETTERS, MIXED, side_by_side
from .nemeth_tokens import (
    AROUND_WORD,
    BEGIN,
    COMPARISON,
    END,
    MIDDLE,
    PRIME,
    SIGN,
    SPLIT,
    Token,
    gap,
)
from .tree import (
    Enclosed,
    Expression,
    Fraction,
    Grid,
    Letter,
    Line,
    Name,
    Number,
    Root,
    Row,
    Scripts,
    Sign,
    Space,
    Stack,
    Unsupported,
    Words,
    Work,
    parts,
)
from .ueb_leaves import Contract

_STRIKES = frozenset(
    ("updiagonalstrike", "downdiagonalstrike", "horizontalstrike", "verticalstrike")
)
_BAR = Sign("¯")
_NO_LINE = (
    "what stands between the brackets without a fraction line is written as one thing directly "
    "under the other (from memory; no published text was at hand)"
)


class Place(NamedTuple):
    """Where a node stands: its level, the radicals around it, what its neighbours make of it
    and, for a numeral, whether it is a subscript without an indicator."""

    level: str = ""
    radicals: int = 0
    note: str = ""
    silent: bool = False

    def plain(self) -> Place:
        """The same place without what the neighbours say."""
        return Place(self.level, self.radicals)

    def step(self, way: str) -> Place:
        """A level up (``^``) or down (``;``)."""
        return Place(self.level + way, self.radicals)


class Visit(NamedTuple):
    """A node to write at a place."""

    node: Expression
    place: Place


class Ink(NamedTuple):
    """A leaf whose token is settled already."""

    node: Expression
    token: Token


Task = Visit | Ink | Token
Tasks = list[Task]


class Builder:
    """Collects tokens, leaves and problems of expressions."""

    def __init__(self, contract: Contract | None = None) -> None:
        self.contract = contract
        self.leaves: list[LeafPlace] = []
        self.problems: list[Problem] = []
        self.doubts: list[str] = []
        self._out: list[Token] = []
        self._orders: dict[int, int] = {}

    def tokens(self, node: Expression) -> list[Token]:
        """The tokens of ``node``."""
        out = self._out = []
        self._orders = orders(node)
        tasks: Tasks = [Visit(node, Place())]
        while tasks:
            task = tasks.pop()
            if isinstance(task, Visit):
                tasks.extend(reversed(self._write(task.node, task.place)))
            elif isinstance(task, Ink):
                self._put(task.token._replace(leaf=self.add_leaf(task.node)))
            else:
                self._put(task)
        return nemeth_words.settled(out)

    def tell(self, what: str, text: str) -> None:
        """File a problem."""
        self.problems.append((what, text))

    def _put(self, token: Token) -> None:
        closing = token.kind in (END, MIDDLE)
        at = max(len(self.leaves) - closing, 0)
        self._out.append(token._replace(leaf=at) if token.leaf < 0 else token)

    def add_leaf(self, node: Expression) -> int:
        """Count a leaf; its index."""
        self.leaves.append(LeafPlace(getattr(node, "text", ""), getattr(node, "path", "")))
        return len(self.leaves) - 1

    # -------------------------------------------------------------- leaves

    def _write(self, node: Expression, place: Place) -> Tasks:
        """What to do for a node; a leaf is written at once."""
        match node:
            case Sign(role="invisible") | Space():
                return []
            case Number() | Letter() | Name() | Sign() | Words() | Unsupported():
                at = self.add_leaf(node)
                self._out.extend(token._replace(leaf=at) for token in self._leaf(node, place))
                return []
            case _:
                return self._structure(node, place)

    def _leaf(self, node: Expression, place: Place) -> Iterator[Token]:
        level = place.level
        match node:
            case Number():
                yield leaf_tokens.number(node, level, self.tell, place.silent)
            case Letter():
                yield from leaf_tokens.letters(node, level, self.tell)
            case Name():
                kind = LETTERS if place.note == LETTERS else name_kind(node.text)
                yield from leaf_tokens.name(node, kind, level, self.tell)
            case Sign():
                yield from leaf_tokens.signs(node, place.note, level, self.tell)
            case Words():
                yield from nemeth_words.words(node, level, self.contract, self.tell)
            case Unsupported(element=element, text=text):
                self.tell(f"the element {element}", text)
                yield from nemeth_words.words(Words(text), level, self.contract, self.tell)

    # -------------------------------------------------------------- structures

    def _structure(self, node: Expression, place: Place) -> Tasks:
        match node:
            case Row(children=inside):
                return self._row(inside, place)
            case Fraction():
                return self._fraction(node, place)
            case Root():
                return _root(node, place)
            case Scripts():
                return _scripts(node, place)
            case Stack():
                return self._stack(node, place)
            case Enclosed():
                return self._enclosed(node, place)
            case Grid():
                return self._grid(node, place)
            case Work() | Line():
                self.tell("arithmetic in columns inside another structure", print_of(node))
                return [Visit(Words(print_of(node), node.path), place.plain())]
        return []

    def _row(self, inside: tuple[Expression, ...], place: Place) -> Tasks:
        out: Tasks = []
        for part in side_by_side(inside):
            if part.before:
                out.append(gap(part.before, place.level))
            out.append(Visit(part.node, place.plain()._replace(note=part.note)))
            if part.after and not (part.kind == COMMA and place.level):
                out.append(gap(part.after, place.level))
        return out

    def _fraction(self, node: Fraction, place: Place) -> Tasks:
        """61-70: simple, complex and hypercomplex fractions, mixed numbers."""
        inner, level = place.plain(), place.level
        top, bottom = Visit(node.top, inner), Visit(node.bottom, inner)
        if node.style == "none":
            under = Token(MIDDLE, indicator("under"), level=level)
            if place.note == BINOMIAL:
                self.doubts.append(_NO_LINE)
                return [top, under, bottom]
            text = " over ".join(print_of(side) for side in (node.top, node.bottom))
            self.tell("a fraction without a line, written as one thing below the other", text)
            return [_begin("multipurpose", level), top, under, bottom, _end(level)]
        order = indicator("fraction order") * self._orders[id(node)]
        prefix = indicator("mixed number") if place.note == MIXED else order
        slash = "slanted fraction line" if node.style == "slash" else "fraction line"
        return [
            Token(BEGIN, prefix + indicator("opening fraction"), level=level),
            top,
            Token(MIDDLE, order + indicator(slash), level=level),
            bottom,
            Token(END, prefix + indicator("closing fraction"), level=level),
        ]

    def _stack(self, node: Stack, place: Place) -> Tasks:
        """86-88: a modified expression in five steps, or a bar in its short form."""
        base, unders, overs = layers(node)
        inner, level = place.plain(), place.level
        one = isinstance(base, Letter) or (isinstance(base, Number) and len(base.text) == 1)
        if one and not unders and len(overs) == 1 and is_bar(overs[0]):
            return [Visit(base, inner), _ink(overs[0], indicator("bar over"), level, PRIME)]
        out: Tasks = [_begin("multipurpose", level), *_modified_base(base, inner)]
        for limbs, way in ((unders, "under"), (overs, "over")):
            for count, limb in enumerate(limbs, 1):
                out.append(Token(MIDDLE, indicator(way) * count, level=level))
                cells = modifier(limb.text) if isinstance(limb, Sign) else None
                out.append(Visit(limb, inner) if cells is None else _ink(limb, cells, level))
        return [*out, _end(level)]

    def _enclosed(self, node: Enclosed, place: Place) -> Tasks:
        level, told = place.level, print_of(node.body)
        body: Expression = node.body
        if "top" in node.notations or "bottom" in node.notations:
            marks = [_BAR if side in node.notations else None for side in ("bottom", "top")]
            body = Stack(body, marks[0], marks[1], node.path)
        out: Tasks = [Visit(body, place.plain())]
        if _STRIKES & set(node.notations):
            opening = _begin("opening cancellation", level)
            out = [opening, *out, Token(END, indicator("closing cancellation"), level=level)]
        for notation in node.notations:
            if notation in ("circle", "box"):
                closing = Token(END, indicator("closing shape"), level=level)
                out = [_begin(notation, level), *out, closing]
            elif notation not in _STRIKES and notation not in ("top", "bottom"):
                self.tell(f"the enclosing line {notation}", told)
        return out

    def _grid(self, node: Grid, place: Place) -> Tasks:
        """Rows and columns where no new line can be begun: told, and written in a row."""
        self.tell("rows and columns inside another structure", print_of(node))
        out: Tasks = []
        for line in node.rows:
            for entry in line:
                out += [gap(AROUND_WORD), Visit(entry, place.plain())]
        return [*out, gap(AROUND_WORD)]


# ------------------------------------------------------------------ structures without state


def _begin(name: str, level: str) -> Token:
    return Token(BEGIN, indicator(name), level=level)


def _end(level: str) -> Token:
    return Token(END, indicator("closing modifier"), level=level)


def _ink(node: Expression, cells: str, level: str, kind: str = SIGN) -> Ink:
    return Ink(node, Token(kind, cells, level=level))


def _root(node: Root, place: Place) -> Tasks:
    """103-105: the order of an inner radical is before its index, else before the sign."""
    level, depth = place.level, place.radicals
    order = indicator("radical order") * depth
    closing = Token(END, order + indicator("closing radical"), level=level)
    body = Visit(node.body, Place(level, depth + 1))
    if node.index is None:
        return [Token(BEGIN, order + indicator("radical"), level=level), body, closing]
    return [
        Token(BEGIN, order + indicator("radical index"), level=level),
        Visit(node.index, place.plain()),
        Token(MIDDLE, indicator("radical"), level=level),
        body,
        closing,
    ]


def _scripts(node: Scripts, place: Place) -> Tasks:
    """71-84: subscript before superscript; primes first; left scripts before the base."""
    base, after = flat(node)
    split = Token(SPLIT, level=place.level)
    out: Tasks = []
    empty = isinstance(base, Row) and not base.children
    if node.before or empty:
        out.append(split)
    for sub, sup in node.before:
        out.extend(_limbs(sub, parts(sup), place))
    lettered = isinstance(base, Name) and name_kind(base.text, scripted=True) == OPERAND
    out.append(Visit(base, place._replace(note=LETTERS) if lettered else place))
    quiet = True
    for sub, sup in after:
        if not quiet:
            out.append(split)
        marks, rest = primes(parts(sup))
        out.extend(Visit(prime, place.plain()) for prime in marks)
        silent = quiet and not place.level and _is_numeric(base, sub)
        out.extend(_limbs(sub, rest, place, silent))
        quiet = (sub is None or silent) and not rest
    return out


def _limbs(
    sub: Expression | None, sup: tuple[Expression, ...], place: Place, silent: bool = False
) -> Tasks:
    out: Tasks = []
    if sub is not None:
        out.append(Visit(sub, place.step(";")._replace(silent=silent)))
    if len(sup) == 1 and isinstance(sup[0], Sign) and sup[0].text in "°∘":
        out.append(Ink(sup[0], Token(SIGN, indicator("degree"), level=place.level + "^")))
    elif sup:
        out.append(Visit(sup[0] if len(sup) == 1 else Row(sup), place.step("^")))
    return out


def _is_numeric(base: Expression, sub: Expression | None) -> bool:
    """A numeric right subscript of a letter, one level down: no indicator (77)."""
    if not isinstance(sub, Number) or sub.font or any(map(str.isspace, sub.text)):
        return False
    if isinstance(base, Name):
        kind = name_kind(base.text, scripted=True)
        return kind == OPERAND or (kind == FUNCTION and not rule("function-subscript-indicator"))
    return isinstance(base, Letter)


def _modified_base(base: Expression, place: Place) -> Tasks:
    """What is modified: letters of a name in capitals one by one, an arrow uncontracted."""
    if isinstance(base, Sign) and base.text in table("modified"):
        return [_ink(base, table("modified")[base.text].cells, place.level, COMPARISON)]
    if isinstance(base, Name) and base.text.isupper():
        return [Visit(base, place._replace(note=LETTERS))]
    return [Visit(base, place)]
