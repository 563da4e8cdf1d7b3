"""No two different expressions have the same cells: random ones are read back."""

from __future__ import annotations

import html
import random

import pytest

from convert.maths import data
from convert.maths.mathml import parse
from convert.maths.ueb import cells
from tests.maths import case
from tests.maths.case import math, mi, mn, mo, row
from tests.maths.read_back import form, read

# Signs that share their cells with another by the code's own table, or with a row of others.
SHARED = frozenset("¡¿∑∏∆‖″∷…⟨⟩〈〉〈〉“”‘’«»\"'`.·∙∗⊢⊣⦀⫼⟂∖\\∶~∣|⌿-‐(){}[]_^?:;⦵")
LETTERS = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZαβγδεζθλνπστφωΓΔΘΛΞΦΨ"
FUNCTIONS = ("sin", "cos", "tan", "log", "lim", "max")
FONTS = ("bold", "script", "fraktur", "sans-serif")


def signs() -> list[str]:
    """One print sign for each of the code's cells."""
    seen: dict[str, str] = {}
    for char, sign in data.signs().items():
        letters = sign.group in ("letter", "greek", "fraction")
        if (not letters and char not in SHARED and char < "\u2500") or char in "□△●":
            seen.setdefault(sign.cells, char)
    return sorted(seen.values())


SIGNS = signs()


class Expressions:
    """Random MathML."""

    def __init__(self, seed: int) -> None:
        self.random = random.Random(seed)

    def pick(self, choices: object) -> str:
        return str(self.random.choice(choices))  # type: ignore[arg-type]

    def leaf(self) -> str:
        kind = self.random.randrange(20)
        if kind < 8:
            return mi(self.pick(LETTERS))
        if kind == 8:
            return f'<mi mathvariant="{self.pick(FONTS)}">{self.pick(LETTERS)}</mi>'
        if kind < 12:
            return mn(self.pick(("1", "27", "3.5", "1,024", ".5", "1 000", "80")))
        if kind == 12:
            return mi(self.pick(FUNCTIONS))
        if kind < 17:
            return mo(html.escape(self.pick("+−×=<>≤→∈,:−")))
        return mo(html.escape(self.pick(SIGNS)))

    def one(self, depth: int) -> str:
        if depth <= 0:
            return self.leaf()
        a, b, x = self.several(depth - 1), self.several(depth - 1), self.one(depth - 1)
        brackets = self.pick(("()", "[]", "{}", "[)"))
        made = (
            *(case.sup(x, a),) * 4,
            *(case.sub(x, a),) * 2,
            *(case.frac(a, b),) * 4,
            *(case.sqrt(a),) * 3,
            f"<msubsup>{x}{row(a)}{row(b)}</msubsup>",
            case.sup(mi("f"), mo("′"), *([a] if self.random.random() < 0.3 else [])),
            case.frac(mn(3), mn(self.pick((4, 16)))),
            f"<mroot>{row(a)}{row(b)}</mroot>",
            case.over(row(a), mo(self.pick("¯^~→˙"))),
            case.under(row(a), mo(self.pick("¯~"))),
            f"<munderover>{row(a)}{row(b)}{x}</munderover>",
            case.under(mi("lim"), a),
            f"<mmultiscripts>{self.leaf()}<mprescripts/>{row(a)}{row(b)}</mmultiscripts>",
            f'<menclose notation="box">{a}</menclose>',
            f'<menclose notation="updiagonalstrike">{mi("k")}{a}</menclose>',
            case.sup(mn(30), mo("°")),
            row(mo(brackets[0]), a, mo(brackets[1])),
        )
        return self.pick(made)

    def several(self, depth: int) -> str:
        return "".join(self.one(depth) for _ in range(self.random.choice((1, 1, 1, 2, 2, 3, 5))))


def check(seed: int, count: int) -> None:
    """Reads ``count`` random expressions back; most are small, some four levels deep."""
    expressions = Expressions(seed)
    for _ in range(count):
        source = math(expressions.several(expressions.random.choice((0, 0, 1, 1, 1, 1, 2, 2, 3))))
        tree = parse(source)
        made = cells(tree)
        assert made.problems == ()
        text = case.ascii_cells(made.cells)
        assert read(text) == form(tree), f"{source}\n{text}"


@pytest.mark.parametrize("seed", range(4))
def test_cells_read_back_as_the_expression(seed: int) -> None:
    """5,000 in all; ``tests/bench/maths.py`` reads back as many as it is asked to."""
    check(seed, 1_250)


def test_different_expressions_have_different_cells() -> None:
    """Every pair of small trees of the same leaves."""
    x, y, n = mi("x"), mi("y"), mn(2)
    sources = [
        x + y + n, case.sup(x, y, n), case.sup(x, y) + n, case.sub(x, y, n), case.sub(x, y) + n,
        case.frac(x, y + n), case.frac(x + y, n), case.frac(x, y) + n, case.sqrt(x, y, n),
        case.sqrt(x, y) + n, case.sqrt(x) + y + n, case.over(x, y, n), case.over(x, y) + n,
        case.under(x, y, n), case.over(row(x, y), n), x + case.over(y, n), x + case.sup(y, n),
        x + case.sub(y, n), f"<mroot>{row(x)}{row(y, n)}</mroot>", x + case.frac(y, n),
        f"<mroot>{row(x, y)}{n}</mroot>", f"<msubsup>{x}{y}{n}</msubsup>",
        f"<msubsup>{x}{n}{y}</msubsup>", case.sup(x, case.sup(y, n)), case.sup(x, case.sub(y, n)),
        f"<mmultiscripts>{x}<mprescripts/>{y}{n}</mmultiscripts>",
    ]  # fmt: skip
    found = [case.ueb(source) for source in sources]
    assert len(set(found)) == len(sources)
