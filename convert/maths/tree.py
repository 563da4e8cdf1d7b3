"""The expression tree: what an equation says, free of MathML's accidents.

Frozen nodes; the tree is at most :data:`DEPTH` levels deep, so that a walk by recursion with
few frames a level is safe.  ``path`` is the element's steps from the root (``/1/3``, counted
from 1; ``""`` is the root itself), kept for origins and not compared.

Leaves (everything that prints ink of its own)::

    Number   digits with their points, commas and digit spaces
    Letter   one letter, of any alphabet (combining marks may follow it)
    Name     several letters printed as one identifier: a function name, a unit, a word
    Sign     an operator, bracket, bar, arrow, shape, punctuation or other sign
    Words    ordinary text inside the expression
    Space    a space print shows (never an invisible operator)
    Unsupported   an element no rule covers, with the text it holds

Structure::

    Row         things side by side; no row holds a row, and none has just one child
    Fraction    top and bottom
    Root        body and, for other than square roots, the index
    Scripts     a base with sub- and superscripts after and before it
    Stack       a base with things directly under and over it
    Enclosed    a box, circle, strike or line round its body
    Grid        rows of entries: a matrix, a system of equations (brackets are Signs outside)
    Work        arithmetic in columns: lines of figures, rules and carries (Line)

Brackets are ordinary Signs in a Row, as in print; :func:`pairs` says which match.  Invisible
operators (U+2061 to U+2064) are Signs of the role ``invisible``.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

DEPTH = 200
"""Levels of nesting beyond which an expression is refused (as are the elements below)."""

ELEMENTS = 20_000
"""Elements beyond which an expression is refused."""

# Roles of a Sign, as far as the source tells them; a braille code has tables of its own for
# the spacing of operation and comparison signs.
OPEN, CLOSE, BAR, SEPARATOR, INVISIBLE, OTHER = (
    "open", "close", "bar", "separator", "invisible", "other"
)  # fmt: skip

_OPENERS = "([{⟨〈〈⌈⌊⟦⦃⟪❲"
_CLOSERS = ")]}⟩〉〉⌉⌋⟧⦄⟫❳"
PAIRS = dict(zip(_OPENERS, _CLOSERS, strict=True))
CLOSERS = frozenset(_CLOSERS)


@dataclass(frozen=True, slots=True)
class Number:
    """A numeral as printed.  ``font``: as for Letter."""

    text: str
    path: str = field(default="", compare=False)
    font: str = ""


@dataclass(frozen=True, slots=True)
class Letter:
    """One letter.  ``font``: ``""`` (plain or italic), ``bold``, ``script``, ``fraktur``,
    ``double-struck``, ``sans-serif``, ``monospace`` or two of them joined by a space, in
    that order (``bold script``).  ``upright`` only where the source says so."""

    text: str
    path: str = field(default="", compare=False)
    font: str = ""
    upright: bool = field(default=False, compare=False)


@dataclass(frozen=True, slots=True)
class Name:
    """Several letters printed as one identifier (``sin``, ``kg``, ``speed``)."""

    text: str
    path: str = field(default="", compare=False)
    font: str = ""


@dataclass(frozen=True, slots=True)
class Sign:
    """An operator, bracket or other sign: usually one character, in ``text`` as printed.

    ``role`` is one of the constants above: ``open`` and ``close`` from the sign itself or the
    source's attributes; ``bar`` for ``|`` and ``‖`` whose side is not told.
    """

    text: str
    path: str = field(default="", compare=False)
    role: str = OTHER


@dataclass(frozen=True, slots=True)
class Words:
    """Ordinary text, white space reduced to single spaces and kept at its ends."""

    text: str
    path: str = field(default="", compare=False)


@dataclass(frozen=True, slots=True)
class Space:
    """A space that print shows."""

    path: str = field(default="", compare=False)


@dataclass(frozen=True, slots=True)
class Unsupported:
    """An element without a rule: its local name, and the text inside it."""

    element: str
    text: str
    path: str = field(default="", compare=False)


@dataclass(frozen=True, slots=True)
class Row:
    """Things side by side.  Empty for an argument print leaves empty."""

    children: tuple[Expression, ...] = ()
    path: str = field(default="", compare=False)


@dataclass(frozen=True, slots=True)
class Fraction:
    """``style``: ``bar``; ``slash`` (printed on the slant); ``none`` (no line: a binomial)."""

    top: Expression
    bottom: Expression
    path: str = field(default="", compare=False)
    style: str = "bar"


@dataclass(frozen=True, slots=True)
class Root:
    """``index`` is None for a square root."""

    body: Expression
    index: Expression | None = None
    path: str = field(default="", compare=False)


@dataclass(frozen=True, slots=True)
class Scripts:
    """Scripts on a base: pairs (sub, sup), each None where absent, in printed order.

    ``after`` usually has one pair; ``before`` holds those printed left of the base.  Primes
    printed as superscripts stay in ``sup``.
    """

    base: Expression
    after: tuple[tuple[Expression | None, Expression | None], ...] = ()
    before: tuple[tuple[Expression | None, Expression | None], ...] = ()
    path: str = field(default="", compare=False)


@dataclass(frozen=True, slots=True)
class Stack:
    """A base with something directly ``under`` or ``over`` it: limits, bars, hats, braces."""

    base: Expression
    under: Expression | None = None
    over: Expression | None = None
    path: str = field(default="", compare=False)


@dataclass(frozen=True, slots=True)
class Enclosed:
    """``notations``: MathML's words, sorted (``box``, ``circle``, ``updiagonalstrike``...)."""

    body: Expression
    notations: tuple[str, ...]
    path: str = field(default="", compare=False)


@dataclass(frozen=True, slots=True)
class Grid:
    """Entries in rows and columns; rows may differ in length."""

    rows: tuple[tuple[Expression, ...], ...]
    path: str = field(default="", compare=False)


@dataclass(frozen=True, slots=True)
class Line:
    """A line of arithmetic in columns.

    ``kind``: ``figures``, ``carries`` or ``rule``.  ``entries`` stand at places that count half
    columns to the left of the units: figures at even places, points and commas between them.
    ``lead``: signs left of the whole.  ``span``: the places a rule covers, leftmost first; None
    for all.  ``crossed``: places of figures that print strikes out.
    """

    kind: str
    entries: tuple[tuple[int, Expression], ...] = ()
    lead: tuple[Sign, ...] = ()
    span: tuple[int, int] | None = None
    crossed: frozenset[int] = frozenset()
    path: str = field(default="", compare=False)


@dataclass(frozen=True, slots=True)
class Work:
    """Arithmetic in columns.  ``divisor``: of a long division, whose first lines are the
    quotient, a rule and the dividend.  ``style``: where print has these, as MathML's
    ``longdivstyle`` says it, if it is not there."""

    lines: tuple[Line, ...]
    divisor: Expression | None = None
    path: str = field(default="", compare=False)
    style: str = field(default="", compare=False)


Leaf = Number | Letter | Name | Sign | Words | Space | Unsupported
Expression = Leaf | Row | Fraction | Root | Scripts | Stack | Enclosed | Grid | Line | Work


def row(children: tuple[Expression, ...], path: str = "") -> Expression:
    """``children`` side by side: flat, and without a Row where there is only one."""
    flat: list[Expression] = []
    for child in children:
        flat.extend(child.children if isinstance(child, Row) else (child,))
    return flat[0] if len(flat) == 1 else Row(tuple(flat), path)


def parts(node: Expression | None) -> tuple[Expression, ...]:
    """What stands side by side in ``node``: a Row's children, nothing, or the node itself."""
    if node is None:
        return ()
    return node.children if isinstance(node, Row) else (node,)


def children(node: Expression) -> tuple[Expression, ...]:
    """The expressions directly inside ``node``, in the order a reader meets them."""
    match node:
        case Row(children=inside):
            return inside
        case Fraction(top=top, bottom=bottom):
            return (top, bottom)
        case Root(body=body, index=index):
            return (body,) if index is None else (index, body)
        case Scripts(base=base, after=after, before=before):
            left = tuple(s for pair in before for s in pair if s is not None)
            right = tuple(s for pair in after for s in pair if s is not None)
            return (*left, base, *right)
        case Stack(base=base, under=under, over=over):
            return (base, *(s for s in (under, over) if s is not None))
        case Enclosed(body=body):
            return (body,)
        case Grid(rows=rows):
            return tuple(entry for line in rows for entry in line)
        case Line(entries=entries, lead=lead):
            return (*lead, *(entry for _, entry in entries))
        case Work(lines=lines, divisor=divisor):
            return lines if divisor is None else (divisor, *lines)
        case _:
            return ()


def leaves(node: Expression) -> Iterator[Leaf]:
    """The leaves in the order of :func:`children`; never recursive."""
    stack = [node]
    while stack:
        here = stack.pop()
        if isinstance(here, Number | Letter | Name | Sign | Words | Space | Unsupported):
            yield here
        else:
            stack.extend(reversed(children(here)))


def pairs(siblings: tuple[Expression, ...]) -> dict[int, int]:
    """Which brackets among ``siblings`` match: index of the opening one -> of the closing.

    Only brackets of the roles ``open`` and ``close`` are paired, by nesting, whatever their
    shapes (half-open intervals); bars are left to the caller.
    """
    found: dict[int, int] = {}
    waiting: list[int] = []
    for at, node in enumerate(siblings):
        if isinstance(node, Sign) and node.role == OPEN:
            waiting.append(at)
        elif isinstance(node, Sign) and node.role == CLOSE and waiting:
            found[waiting.pop()] = at
    return found
