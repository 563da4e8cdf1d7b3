"""Mathematics: cost of formulas in both codes, and random expressions read back.

    python -m tests.bench.maths            cost: 10,000 formulas, size, depth
    python -m tests.bench.maths 50000      that many random expressions read back in each code

Processor time of one core; the formulas are those of the round trip, four levels deep at most,
and the examples of the tests.
"""

from __future__ import annotations

import sys
import time

from convert.collector import collector_off
from convert.maths.render import render
from tests.maths import test_nemeth_round_trip, test_round_trip
from tests.maths.case import math, mi, mn, mo, row, sup

FORMULAS = 10_000
CODES = ("ueb", "nemeth")


def timed(sources: list[str], code: str) -> tuple[float, int]:
    """Seconds for all sources, and their cells, as the program converts them."""
    with collector_off():
        start = time.process_time()
        cells = sum(len(render(source, code, switch=True).cells) for source in sources)
        return time.process_time() - start, cells


def mixed(count: int) -> list[str]:
    """Formulas of one thing up to four levels of several things."""
    made = test_round_trip.Expressions(1)
    return [math(made.several(at % 4)) for at in range(count)]


def long(nodes: int) -> str:
    """A sum of squares with about so many leaves."""
    return math(mo("+").join(sup(mi("x"), mn(2)) for _ in range(nodes // 3)))


def deep(levels: int) -> str:
    """Roots inside one another."""
    return math("<msqrt>" * levels + mi("x") + "</msqrt>" * levels)


def fractions(levels: int) -> str:
    """Fractions inside one another."""
    top = mi("x")
    for _ in range(levels):
        top = f"<mfrac>{row(top)}{mn(2)}</mfrac>"
    return math(top)


def cost() -> None:
    sources = mixed(FORMULAS)
    size = sum(map(len, sources)) // FORMULAS
    print(f"{FORMULAS:,} formulas of mixed size, {size} characters of MathML on average")
    for code in CODES:
        seconds, cells = timed(sources, code)
        print(f"  {code:7} {seconds:6.2f} s  {cells:,} cells")
    for nodes in (1_250, 2_500, 5_000, 10_000):
        found = [timed([long(nodes)] * 4, code) for code in CODES]
        told = "  ".join(
            f"{code} {1e6 * seconds / 4 / nodes:6.1f} µs a node"
            for code, (seconds, _) in zip(CODES, found, strict=True)
        )
        print(f"  {nodes:6,} nodes in one formula: {told}")
    for name, make in (("roots", deep), ("fractions", fractions)):
        for code in CODES:
            seconds, cells = timed([make(200)], code)
            print(f"  200 {name} inside one another, {code}: {seconds:.3f} s, {cells:,} cells")


def read_back(count: int) -> None:
    for code, check in (("ueb", test_round_trip.check), ("nemeth", test_nemeth_round_trip.check)):
        start = time.process_time()
        check(10_000_000, count)
        seconds = time.process_time() - start
        print(f"{count:,} random expressions in {code} read back in {seconds:.1f} s")


if __name__ == "__main__":
    if len(sys.argv) > 1:
        read_back(int(sys.argv[1]))
    else:
        cost()
