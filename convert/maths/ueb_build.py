"""The tree as tokens of UEB (Guidelines for Technical Material 5 to 12; UEB 11).

A stack of tasks instead of recursion: a node is replaced by its tokens and its children, and
an argument is looked at when the last of it is done, to see whether it is one item (UEB 11.4.1).
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from typing import NamedTuple

from . import ueb_leaves as leaf_tokens
from .cells import UEB, CodeSign, LeafPlace, Problem
from .data import font, has_indicator, indicator, letter, mark
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
    leaves,
    parts,
)
from .ueb_leaves import Contract
from .ueb_row import side_by_side
from .ueb_tokens import (
    FRACTION,
    GROUPING,
    LEVEL,
    LINE,
    MARK,
    OPENS,
    OPERATION,
    RADICAL,
    RELATION,
    SHUTS,
    SIGN,
    Token,
    items,
)  # fmt: skip

_PRIMES = frozenset("′″‴⁗")
_STRIKES = frozenset(
    ("updiagonalstrike", "downdiagonalstrike", "horizontalstrike", "verticalstrike")
)
_TECHNICAL = frozenset((OPENS, SHUTS, LEVEL, LINE, MARK, OPERATION, RELATION, SIGN))
_MARK_SIDES = {"top": False, "bottom": True}


class Place(NamedTuple):
    """Where a node stands: ``tight`` inside a level; ``single``: capitals one by one;
    ``after``: a letter or numeral stands straight before it."""

    tight: bool = False
    single: bool = False
    after: bool = False


class Do(NamedTuple):
    """A node to write at a place, or a token."""

    node: Expression | None = None
    place: Place = Place()
    token: Token | None = None
    opens: bool = False
    shuts: bool = False
    always: bool = False


BEGIN, END = Do(opens=True), Do(shuts=True)


class Builder:
    """Collects tokens, leaves and problems of expressions."""

    def __init__(self, contract: Contract | None = None) -> None:
        self.contract = contract
        self.leaves: list[LeafPlace] = []
        self.problems: list[Problem] = []
        self.doubts: list[str] = []
        self.used: set[CodeSign] = set()
        self._out: list[Token] = []

    def tokens(self, node: Expression) -> list[Token]:
        """The tokens of ``node``."""
        out = self._out = []
        starts: list[int] = []
        tasks = [Do(node)]
        while tasks:
            task = tasks.pop()
            if task.node is not None:
                tasks.extend(reversed(self._write(task.node, task.place)))
            elif task.token is not None:
                self._put(task.token)
            elif task.opens:
                starts.append(len(out))
            else:
                self._close(starts.pop(), task.always)
        self.used.update([(UEB, token.cells) for token in out if token.kind in _TECHNICAL])
        return out

    def tell(self, what: str, text: str) -> None:
        """File a problem."""
        self.problems.append((what, text))

    def _put(self, token: Token) -> None:
        ahead = token.kind in (OPENS, LEVEL)
        at = len(self.leaves) - (not ahead)
        self._out.append(token._replace(leaf=max(at, 0)) if token.leaf < 0 else token)

    def _close(self, start: int, always: bool) -> None:
        """Group what was written since ``start`` unless it is one item."""
        if not always and items(self._out[start:]) == 1:
            return
        first = self._out[start].leaf if start < len(self._out) else len(self.leaves)
        row = indicator("opening grouping")
        self._out.insert(start, Token(OPENS, row.cells, first, GROUPING, row.grade1))
        self._put(_indicator("closing grouping", SHUTS, GROUPING))

    # -------------------------------------------------------------- leaves

    def add_leaf(self, node: Number | Sign) -> int:
        """Count a leaf; its index."""
        return self._add(node.text, node.path)

    def _add(self, text: str, path: str) -> int:
        self.leaves.append(LeafPlace(text, path))
        return len(self.leaves) - 1

    def _write(self, node: Expression, place: Place) -> list[Do]:
        """What to do for a node; a leaf is written at once."""
        contract = None if place.tight else self.contract
        match node:
            case Number():
                at = self._add(node.text, node.path)
                self._out.append(leaf_tokens.number(node, at))
            case Letter():
                self.used.update([(UEB, font(part)) for part in node.font.split()])
                at = self._add(node.text, node.path)
                self._out.extend(leaf_tokens.letters(node, at, self.tell))
            case Name():
                self._name(node, place, contract)
            case Sign(role="invisible"):
                pass
            case Sign():
                at = self._add(node.text, node.path)
                self._out.extend(leaf_tokens.signs(node, at, self.tell))
            case Words():
                at = self._add(node.text, node.path)
                self._out.extend(leaf_tokens.phrase(node, at, self.tell, contract))
            case Space():
                self._out.append(leaf_tokens.blank())
            case Unsupported():
                at = self._add(node.text, node.path)
                self._out.append(leaf_tokens.unsupported(node, at, self.tell))
            case _:
                return self._structure(node, place)
        return []

    def _name(self, node: Name, place: Place, contract: Contract | None) -> None:
        at = self._add(node.text, node.path)
        if node.font or not all(map(letter, node.text)):
            for char in node.text:
                one = Letter(char, node.path, node.font)
                self._out.extend(leaf_tokens.letters(one, at, self.tell))
            return
        self._out.append(leaf_tokens.name(node, at, self.tell, place.single, contract))

    # -------------------------------------------------------------- structures

    def _structure(self, node: Expression, place: Place) -> list[Do]:
        match node:
            case Row(children=inside):
                return self._row(inside, place)
            case Fraction():
                return self._fraction(node, place)
            case Root(body=body, index=index):
                degree = [] if index is None else _level("superscript", index)
                return [
                    Do(token=_indicator("opening radical", OPENS, RADICAL)),
                    *degree,
                    Do(body, Place(place.tight)),
                    Do(token=_indicator("closing radical", SHUTS, RADICAL)),
                ]
            case Scripts():
                return self._scripts(node, place)
            case Stack():
                return self._stack(node, place)
            case Enclosed():
                return self._enclosed(node, place)
            case Grid():
                return self._grid(node, place)
            case Work() | Line():
                text = " ".join(leaf.text for leaf in _inked(node))
                self.tell("arithmetic in columns inside another structure", text)
                self._out.append(leaf_tokens.note(text, self._add(text, node.path)))
        return []

    def _row(self, inside: tuple[Expression, ...], place: Place) -> list[Do]:
        out: list[Do] = []
        for part in side_by_side(inside, place.tight):
            if part.node is None:
                out.append(Do(token=leaf_tokens.blank()))
            elif part.capitals:
                out.append(Do(Name(part.capitals, part.path), Place(place.tight)))
            else:
                one = Do(part.node, Place(place.tight, part.single, part.after))
                out.extend([BEGIN, one, Do(shuts=True, always=True)] if part.grouped else [one])
        return out

    def _fraction(self, node: Fraction, place: Place) -> list[Do]:
        top, bottom, inner = node.top, node.bottom, Place(place.tight)
        if isinstance(top, Number) and isinstance(bottom, Number) and _is_simple(node):
            at = self._add(top.text, top.path)
            self._add(bottom.text, bottom.path)
            self._out.extend(leaf_tokens.simple_fraction(top, bottom, at))
            return []
        if node.style == "bar":
            return [
                Do(token=_indicator("opening fraction", OPENS, FRACTION)),
                Do(top, inner),
                Do(token=_indicator("fraction line", LINE)),
                Do(bottom, inner),
                Do(token=_indicator("closing fraction", SHUTS, FRACTION)),
            ]
        if node.style == "slash":
            slash = Do(Sign("/", node.path))
            return [BEGIN, Do(top, inner), END, slash, BEGIN, Do(bottom, inner), END]
        text = " over ".join("".join(leaf.text for leaf in _inked(side)) for side in (top, bottom))
        self.tell("a fraction without a line, written as one thing below the other", text)
        return [BEGIN, Do(top, Place(True)), END, *_level("below", bottom)]

    def _scripts(self, node: Scripts, place: Place) -> list[Do]:
        out: list[Do] = []
        for sub, sup in node.before:
            out.extend(_level("subscript", sub))
            out.extend(_level("superscript", sup))
        base = node.base
        out.append(Do(base, Place(place.tight, single=True)))
        for sub, sup in node.after:
            primes, rest = _primes(parts(sup))
            out.extend(Do(prime, Place(True)) for prime in primes)
            out.extend(_level("subscript", sub))
            if _is_degree(rest, isinstance(base, Number) and sub is None):
                out.append(Do(Sign("°", rest[0].path)))
            elif rest:
                out.extend(_level("superscript", Row(rest) if len(rest) > 1 else rest[0]))
        return out

    def _stack(self, node: Stack, place: Place) -> list[Do]:
        marks: list[Do] = []
        levels: list[Do] = []
        for limb, under in ((node.under, True), (node.over, False)):
            row = mark(limb.text, under) if isinstance(limb, Sign) else None
            if row is not None:
                marks.append(Do(token=Token(MARK, row.cells, -1, "", row.grade1)))
            elif limb is not None:
                levels.extend(_level("below" if under else "above", limb))
        base = Do(node.base, Place(place.tight))
        if isinstance(node.base, Name | Words) and not marks:
            return [base, *levels]
        always = place.after and (isinstance(node.base, Number) or bool(levels))
        return [BEGIN, base, Do(shuts=True, always=always), *marks, *levels]

    def _enclosed(self, node: Enclosed, place: Place) -> list[Do]:
        before: list[Do] = []
        after: list[Do] = []
        struck = False
        for notation in node.notations:
            if notation in _STRIKES:
                if not struck:
                    after.append(Do(token=_indicator("line through", MARK)))
                struck = True
            elif notation in _MARK_SIDES and (row := mark("¯", _MARK_SIDES[notation])):
                after.append(Do(token=Token(MARK, row.cells, -1, "", row.grade1)))
            elif has_indicator(notation):
                before.append(Do(token=_indicator(notation, LEVEL)))
                before.append(Do(token=_indicator("enclosure", LEVEL)))
            else:
                text = "".join(leaf.text for leaf in _inked(node.body))
                self.tell(f"the enclosing line {notation}", text)
        if not before and not after:
            return [Do(node.body, place)]
        always = place.after and isinstance(node.body, Number)
        body = Do(node.body, Place(bool(before) or place.tight))
        return [*before, BEGIN, body, Do(shuts=True, always=always), *after]

    def _grid(self, node: Grid, place: Place) -> list[Do]:
        """Rows and columns where no new line can be begun: told, and written in a row."""
        text = " ".join("".join(x.text for x in _inked(e)) for line in node.rows for e in line)
        self.tell("rows and columns inside another structure", text)
        out = [Do(token=leaf_tokens.note("rows", -1)), Do(token=leaf_tokens.blank())]
        for line in node.rows:
            for entry in line:
                out += [Do(entry, Place(place.tight)), Do(token=leaf_tokens.blank())]
            out += [Do(token=leaf_tokens.note("row ends", -1)), Do(token=leaf_tokens.blank())]
        return out


@cache
def _indicator(name: str, kind: str, text: str = "") -> Token:
    row = indicator(name)
    return Token(kind, row.cells, -1, text, row.grade1)


def _level(name: str, argument: Expression | None) -> list[Do]:
    """A level indicator and its item; nothing where print has nothing there."""
    if argument is None:
        return []
    return [Do(token=_indicator(name, LEVEL)), BEGIN, Do(argument, Place(True)), END]


def _is_simple(node: Fraction) -> bool:
    """Whether a fraction of two numerals has only digits, points and commas (UEB 6.4)."""
    return node.style != "none" and all(
        isinstance(part, Number) and not part.font and not any(map(str.isspace, part.text))
        for part in (node.top, node.bottom)
    )


def _primes(row: tuple[Expression, ...]) -> tuple[tuple[Expression, ...], tuple[Expression, ...]]:
    """The primes at the front of a superscript, which need no level (GTM 11), and the rest."""
    count = 0
    while count < len(row) and isinstance(node := row[count], Sign) and node.text in _PRIMES:
        count += 1
    return row[:count], row[count:]


def _is_degree(row: tuple[Expression, ...], numeral: bool) -> bool:
    """Whether a superscript is the degree sign, or the small circle that stands for it."""
    marks = "°∘" if numeral else "°"
    return len(row) == 1 and isinstance(row[0], Sign) and row[0].text in marks


def _inked(node: Expression) -> Iterator[Number | Letter | Name | Sign | Words | Unsupported]:
    return (leaf for leaf in leaves(node) if not isinstance(leaf, Space))
