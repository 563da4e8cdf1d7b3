"""UEB technical cells read back to a flat canonical form, and the tree in the same form.

Written from the rules alone (UEB 3.24, 6, 11.4.1; GTM 6 to 12): it shares with the translator only
the table of signs.  Blanks are left out on both sides.
"""

from __future__ import annotations

from itertools import takewhile

from convert.maths import data
from convert.maths.tree import (
    Enclosed,
    Expression,
    Fraction,
    Letter,
    Name,
    Number,
    Root,
    Row,
    Scripts,
    Sign,
    Space,
    Stack,
    parts,
)
from tests.maths.case import ascii_cells

DIGITS = dict(zip("abcdefghij", "1234567890", strict=True))
FUNCTIONS = data.words("functions")
Form = list[str]


def cells(text: str) -> str:
    return ascii_cells(text)


def tables() -> tuple[dict[str, str], dict[str, str], dict[str, str]]:
    signs = {
        cells(row.cells): row.group
        for row in data.signs().values()
        if row.group not in ("letter", "greek", "fraction") and row.print not in "∷″…"
    }
    marks = {cells(row.cells) for kind in (False, True) for row in _marks(kind)}
    greek: dict[str, str] = {}
    for row in data.signs().values():
        if row.group == "greek" and row.print not in "∆ς\u2126":
            greek[cells(row.cells)] = row.print
    letters = {
        cells(row.cells): row.print
        for row in data.signs().values()
        if row.group == "letter" and row.print.isascii()
    }
    return {**signs, **dict.fromkeys(marks, "mark"), "@:": "mark"}, letters, greek


def _marks(under: bool) -> list[data.Row]:
    return [row for char in "¯^~→˙⌒" if (row := data.mark(char, under)) is not None]


SIGNS, LETTERS, GREEK = tables()
FONTS = {cells(data.font(name)): name for name in ("bold", "script", "fraktur", "sans-serif")}
OPENERS, CLOSERS = ('"<', ".<", "_<"), ('">', ".>", "_>")
SHAPES = frozenset(cells(row.cells) for row in data.signs().values() if row.shape)
LONGEST = max(map(len, SIGNS))


class Reader:
    """Reads one expression."""

    def __init__(self, text: str) -> None:
        self.text, self.at = text, 0

    def look(self, *choices: str) -> str:
        while self.text.startswith(";", self.at):
            self.at += 1
            if self.text.startswith("'", self.at):
                self.at += 1
        return next((c for c in choices if self.text.startswith(c, self.at)), "")

    def take(self, *choices: str) -> str:
        found = self.look(*choices)
        self.at += len(found)
        return found

    def until(self, *ends: str) -> tuple[Form, str]:
        items: list[Form] = []
        while True:
            self.look()
            if self.at >= len(self.text):
                return [word for item in items for word in item if word != " "], ""
            if found := self.take(*ends):
                return [word for item in items for word in item if word != " "], found
            self.one(items)

    def one(self, items: list[Form]) -> None:
        """Read the next thing on to ``items``."""
        if level := self.take(".5", ".9"):
            base = self.base(items)
            items.append([f"{level}(", *base, "|", *self.item(), ")"])
        elif level := self.take("5", "9"):
            items.append([f"{level}(", *self.item(), ")"])
        elif self.look("$#d["):
            self.take("$#d[")
            items.append(["box(", *self.item(), ")"])
        else:
            sign = self.sign()
            if SIGNS.get(sign) == "mark":
                self.take(sign)
                items.append([f"{sign}(", *items.pop(), ")"])
            else:
                items.append(self.item())

    def base(self, items: list[Form]) -> Form:
        """What stands before a sign of something above or below: an item, or a whole name."""
        run: list[Form] = []
        while len(run) < len(items) and (item := items[-1 - len(run)]) and len(item) == 1:
            if not (item[0][0] == "l" and item[0][1:].isascii() and item[0][1:].islower()):
                break
            run.insert(0, item)
        if "".join(item[0][1:] for item in run) in FUNCTIONS:
            del items[len(items) - len(run) :]
            return [item[0] for item in run]
        return items.pop()

    def sign(self) -> str:
        """The longest sign here, a number or letter excepted."""
        self.look()
        sizes = range(LONGEST, 0, -1)
        found = next((s for n in sizes if (s := self.text[self.at : self.at + n]) in SIGNS), "")
        return "" if found in ("^", "_", ",", "") else found

    def item(self) -> Form:
        if self.take(" "):
            return [" "]
        if self.take("<"):
            return self.until(">")[0]
        if self.take("("):
            top = self.until("./")[0]
            return ["frac(", *top, "|", *self.until(")")[0], ")"]
        if self.take("%"):
            index = self.item() if self.take("9") else []
            return ["root(", *index, "|", *self.until("+")[0], ")"]
        if opening := self.take(*OPENERS):
            inside, closing = self.until(*CLOSERS)
            return [f"s{opening}", *inside, f"s{closing}"]
        return self.number() or self.letters() or self.other()

    def number(self) -> Form:
        if not (self.look("#") and self.text[self.at + 1 : self.at + 2] in tuple("abcdefghij14")):
            return []
        self.at += 1
        first = self.digits()
        if self.text.startswith("/", self.at):
            self.at += 1
            return ["frac(", f"#{first}", "|", f"#{self.digits()}", ")"]
        return [f"#{first}"]

    def digits(self) -> str:
        out = ""
        while self.at < len(self.text):
            here, after = self.text[self.at], self.text[self.at + 1 : self.at + 2]
            if here in DIGITS:
                out += DIGITS[here]
            elif here in '14"' and after and after in DIGITS:
                out += {"1": ",", "4": ".", '"': " "}[here]
            else:
                break
            self.at += 1
        return out

    def letters(self) -> Form:
        font = " ".join(FONTS[found] for found in iter(lambda: self.take(*FONTS), ""))
        if self.take(",,"):
            start = self.at
            while self.text[self.at : self.at + 1].isalpha():
                self.at += 1
            return [f"l{char.upper()}" for char in self.text[start : self.at]]
        for cells, printed in GREEK.items():
            if self.take(cells):
                return [f"l{font}{printed}"]
        capital = self.look(",") and self.text[self.at + 1 : self.at + 2] in LETTERS
        if capital:
            self.take(",")
        if found := self.take(*LETTERS):
            return [f"l{font}{found.upper() if capital else found}"]
        assert not font
        return []

    def other(self) -> Form:
        sign = self.sign()
        assert sign, f"unreadable at {self.at}: {self.text}"
        self.take(sign)
        if sign in SHAPES:
            self.take(":")
        return [f"s{sign}"]


def read(text: str) -> Form:
    """The canonical form of cells."""
    return Reader(text).until()[0]


# ------------------------------------------------------------------ the tree in the same form


def form(node: Expression | None) -> Form:
    """The canonical form of a tree."""
    match node:
        case Row(children=inside):
            return [word for child in inside for word in form(child)]
        case Fraction(top=top, bottom=bottom):
            return ["frac(", *form(top), "|", *form(bottom), ")"]
        case Root(body=body, index=index):
            return ["root(", *form(index), "|", *form(body), ")"]
        case Scripts():
            return _scripts(node)
        case Stack():
            return _stack(node)
        case Enclosed(body=body, notations=notations):
            return ["box(" if notations == ("box",) else "@:(", *form(body), ")"]
        case _:
            return _leaf(node)


def _leaf(node: Expression | None) -> Form:
    match node:
        case None | Space() | Sign(role="invisible"):
            return []
        case Number(text=text):
            return [f"#{text}"]
        case Letter(text=text, font=font):
            return [f"l{font}{text}"]
        case Name(text=text):
            return [f"l{char}" for char in text]
        case Sign(text=text) if (row := data.sign(text)) is not None:
            return [f"s{cells(row.cells)}"]
        case _:
            raise AssertionError(f"no form for {node}")


def _scripts(node: Scripts) -> Form:
    out: Form = []
    for sub, sup in node.before:
        out += _level("5(", sub) + _level("9(", sup)
    out += form(node.base)
    for sub, sup in node.after:
        primes = list(takewhile(lambda p: p == Sign("′"), parts(sup)))
        rest = Row(tuple(parts(sup)[len(primes) :]))
        out += ["s7"] * len(primes) + _level("5(", sub)
        circle = isinstance(node.base, Number) and sub is None and form(rest) == ['s"0']
        degree = circle or form(rest) == ["s^j"]
        out += ["s^j"] if degree else _level("9(", rest if rest.children else None)
    return out


def _level(name: str, node: Expression | None) -> Form:
    return [] if node is None else [name, *form(node), ")"]


def _stack(node: Stack) -> Form:
    out = form(node.base)
    later: list[tuple[str, Expression]] = []
    for limb, under in ((node.under, True), (node.over, False)):
        row = data.mark(limb.text, under) if isinstance(limb, Sign) else None
        if row is not None:
            out = [f"{cells(row.cells)}(", *out, ")"]
        elif limb is not None:
            later.append((".5(" if under else ".9(", limb))
    for name, limb in later:
        out = [name, *out, "|", *form(limb), ")"]
    return out
