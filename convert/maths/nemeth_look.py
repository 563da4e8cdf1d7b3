"""What nodes look like in print: layers of modifiers, scripts on scripts, orders of fractions."""

from __future__ import annotations

from .nemeth_leaves import PRIMES
from .nemeth_names import base_of
from .tree import Expression, Fraction, Root, Scripts, Sign, Space, Stack, children, leaves

Pair = tuple[Expression | None, Expression | None]
BARS = frozenset("¯_‾−―ˉ")


def flat(node: Scripts) -> tuple[Expression, tuple[Pair, ...]]:
    """The base of scripts on scripts, and all of the scripts after it."""
    base, after = base_of(node), node.after
    while isinstance(base, Scripts):
        if base.before:
            break
        after, base = base.after + after, base_of(base)
    return base, after


def primes(row: tuple[Expression, ...]) -> tuple[tuple[Expression, ...], tuple[Expression, ...]]:
    """The primes at the front of a superscript, and the rest."""
    count = 0
    for node in row:
        if not isinstance(node, Sign) or node.text not in PRIMES:
            break
        count += 1
    return row[:count], row[count:]


def layers(node: Stack) -> tuple[Expression, list[Expression], list[Expression]]:
    """What is modified, and what stands under and over it, nearest first (86-87)."""
    unders: list[Expression] = []
    overs: list[Expression] = []
    base: Expression = node
    while isinstance(base, Stack):
        unders.extend(() if base.under is None else (base.under,))
        overs.extend(() if base.over is None else (base.over,))
        base = base.base
    return base, unders[::-1], overs[::-1]


def is_bar(node: Expression) -> bool:
    return isinstance(node, Sign) and node.text in BARS


def print_of(node: Expression) -> str:
    return "".join(leaf.text for leaf in leaves(node) if not isinstance(leaf, Space))


def orders(root: Expression) -> dict[int, int]:
    """The order of each fraction: 0 simple, 1 complex...  Fractions in scripts, indexes and
    modifiers do not raise it (61-70)."""
    listed = [root]
    for node in listed:
        listed.extend(children(node))
    height: dict[int, int] = {}
    found: dict[int, int] = {}
    for node in reversed(listed):
        match node:
            case Scripts(base=inside) | Stack(base=inside) | Root(body=inside):
                height[id(node)] = height[id(inside)]
            case _:
                height[id(node)] = max((height[id(kid)] for kid in children(node)), default=0)
        if isinstance(node, Fraction) and node.style != "none":
            found[id(node)] = height[id(node)]
            height[id(node)] += 1
    return found
