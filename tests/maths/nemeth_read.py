"""Nemeth Code read back, in test code of its own: cells in ASCII braille to a plain form.

Reads the part of the code that the random expressions use.  A form is a text: each thing with
its scripts, ``x_{..}^{..}``, ``frac{..}{..}``, ``root{index}{..}``, ``mod{..}{under}{over}``.
"""

from __future__ import annotations

import re

GREEK = dict(zip("abgdlp?:", "αβγδλπθη", strict=True)) | {",s": "Σ", ",w": "Ω"}
SIGNS = {
    "@*": "×", "./": "÷", "*": "·", "_/": "/", "+": "+", "-": "−", ".+": "∪", ".%": "∩",
    ",=": "∞", "&": "!", "'": "′", "@d": "∂", "!": "∫", "(": "(", ")": ")", ".(": "{", ".)": "}",
    "@(": "[", "@)": "]", "\\": "|", "'''": "…",
}  # fmt: skip
COMPARISONS = {
    ".k": "=", '"k': "<", ".1": ">", '"k:': "≤", ".1:": "≥", "@e": "∈", "$o": "→", "/.k": "≠",
    '_"k': "⊂",
}  # fmt: skip
FUNCTIONS = ("sin", "cos", "tan", "log", "lim")
WORDS = ("kg",)
BESIDE = ('+"-', '-"+', '+"+', '-"-', '\\"\\')
NUMBER = re.compile(r"\.?\d+(?:[.,]\d+)*")
_SIGN = re.compile("|".join(sorted(map(re.escape, SIGNS), key=len, reverse=True)))
_COMPARISON = re.compile("|".join(sorted(map(re.escape, COMPARISONS), key=len, reverse=True)))
_AFTER_COMPARISON = re.compile(r"[ )\]/]|$")


class Item:
    """A thing read: its form, its level, and what it is."""

    def __init__(self, form: str, level: str, kind: str) -> None:
        self.form, self.level, self.kind = form, level, kind


class Reader:
    """The state of reading: the place, and the level the reader stands at."""

    def __init__(self, text: str) -> None:
        self.text, self.at, self.level = text, 0, ""

    def see(self, what: str) -> bool:
        return self.text.startswith(what, self.at)

    def take(self, what: str) -> bool:
        if self.see(what):
            self.at += len(what)
            return True
        return False

    def need(self, what: str) -> None:
        assert self.take(what), (what, self.text, self.at)

    def row(self, *stops: str) -> str:
        """Things up to one of ``stops`` at the level the row began at."""
        base = self.level
        items: list[Item] = []
        fresh = self.at == 0
        while self.at < len(self.text):
            minus = self.see("#") and self.text[: self.at].endswith(" -")
            stopped = self.level == base and any(self.see(stop) for stop in stops)
            if stopped and not fresh and not minus:
                break
            fresh = self.step(items, base, fresh)
        return scripts(items, base)

    def step(self, items: list[Item], base: str, fresh: bool) -> bool:
        """Read one thing; whether the next is after a blank."""
        last = items[-1] if items else None
        if self.take(" "):
            keeps = last is not None and last.kind in ("function", "comparison")
            if not keeps or last is None or last.level != self.level:
                self.level = ""
            return True
        blank = fresh or not items
        if self.comparison(items, blank):
            return False
        if (
            blank
            and self.see(";")
            and re.match(r";(?:,?[a-z]|[a-z]{2,5})(?= |, |$)", self.text[self.at :])
        ):
            if self.level == "" and not (last is not None and last.kind == "function"):
                self.take(";")
        elif self.levels(items, base):
            return False
        if self.take("["):
            items.append(Item(",", self.level, "comma"))
        elif self.see(", "):
            self.at += 1
            self.level = ""
            items.append(Item(",", "", "comma"))
        else:
            self.thing(items, fresh)
        return False

    def comparison(self, items: list[Item], blank: bool) -> bool:
        """A comparison sign, restating its level or not, between blanks or edges."""
        if not blank:
            return False
        path = re.match(r"[\^;]*", self.text[self.at :])
        assert path is not None
        found = _COMPARISON.match(self.text, self.at + path.end())
        if found is None or not _AFTER_COMPARISON.match(self.text, found.end()):
            return False
        if path[0]:
            self.level = path[0]
        self.at = found.end()
        items.append(Item(COMPARISONS[found[0]], self.level, "comparison"))
        return True

    def levels(self, items: list[Item], base: str) -> bool:
        """A level indicator, or the base line indicator."""
        path = re.match(r"[\^;]+", self.text[self.at :])
        if path is not None:
            self.level, self.at = path[0], self.at + path.end()
            return True
        if self.level and self.take('"'):
            self.level = ""
            return True
        return False

    def thing(self, items: list[Item], fresh: bool) -> None:
        level = self.level
        last = items[-1] if items else None
        if self.see('"'):
            number = NUMBER.match(self.text, self.at + 1)
            beside = self.text[self.at - 1 : self.at + 2] in BESIDE
            if (number is None or last is None) and not beside:
                items.append(self.modified(level))
                return
            self.at += 1
            last = None
        spelled = _name(self.text, self.at)
        number = NUMBER.match(self.text, self.at + self.see("#"))
        fraction = re.match(r"(_|,*)\?", self.text[self.at :])
        radical = re.match(r"\.*[<>]", self.text[self.at :])
        if number is not None:
            silent = last is not None and last.kind in ("letter", "function") and not level
            silent = silent and not fresh and not self.see("#") and last.level == ""  # type: ignore[union-attr]
            self.at = number.end()
            items.append(Item(number[0], ";" if silent else level, "number"))
        elif spelled:
            self.at += len(spelled)
            items.append(Item(spelled, level, "function" if spelled in FUNCTIONS else "word"))
        elif fraction is not None:
            items.append(Item(self.fraction(fraction[1]), level, "fraction"))
        elif radical is not None:
            items.append(Item(self.radical(radical[0]), level, "radical"))
        elif self.letter(items, level):
            pass
        else:
            self.sign(items, level)

    def sign(self, items: list[Item], level: str) -> None:
        if self.take(":"):
            items[-1].form = f"mod{{{items[-1].form}}}{{}}{{¯}}"
            return
        found = _SIGN.match(self.text, self.at)
        assert found is not None, (self.text, self.at)
        self.at = found.end()
        prime = found[0] == "'" and bool(items) and items[-1].kind == "letter"
        items.append(Item(SIGNS[found[0]], level, "letter" if prime else "sign"))

    def letter(self, items: list[Item], level: str) -> bool:
        found = re.match(r"(_;)?(,?)([a-z])|(_?)\.(,?[a-z?:])", self.text[self.at :])
        if found is None or (found[4] is not None and found[5] not in GREEK):
            return False
        self.at += found.end()
        if found[3]:
            form = found[3].upper() if found[2] else found[3]
        else:
            form = GREEK[found[5]]
        bold = "bold " if found[1] or found[4] else ""
        items.append(Item(bold + form, level, "letter"))
        return True

    def fraction(self, prefix: str) -> str:
        self.need(prefix + "?")
        order = "" if prefix == "_" else prefix
        top = self.row(order + "/")
        self.need(order + "/")
        bottom = self.row(prefix + "#")
        self.need(prefix + "#")
        return f"frac{{{top}}}{{{bottom}}}"

    def radical(self, sign: str) -> str:
        self.need(sign)
        order = sign[:-1]
        index = ""
        if sign[-1] == "<":
            index = self.row(">")
            self.need(">")
        body = self.row(order + "]")
        self.need(order + "]")
        return f"root{{{index}}}{{{body}}}"

    def modified(self, level: str) -> Item:
        self.need('"')
        base = self.row("%", "<")
        limbs = {"%": "", "<": ""}
        for way in "%<":
            if self.take(way):
                limbs[way] = self.modifier()
        self.need("]")
        kind = "function" if base in FUNCTIONS else "modified"
        return Item(f"mod{{{base}}}{{{limbs['%']}}}{{{limbs['<']}}}", level, kind)

    def modifier(self) -> str:
        marks = {"_<": "^", "@:": "~", "$o": "→", ":": "¯"}
        for mark, form in marks.items():
            if self.see(mark) and self.text[self.at + len(mark)] in "]<%":
                self.at += len(mark)
                return form
        return self.row("]", "<")


def _name(text: str, at: int) -> str:
    return next((name for name in FUNCTIONS + WORDS if text.startswith(name, at)), "")


def scripts(items: list[Item], base: str) -> str:
    """Things in a row, each with what stands below and above it."""
    out: list[str] = []
    at = 0
    while at < len(items):
        item = items[at]
        assert item.level == base, (item.form, item.level, base)
        end = at + 1
        while end < len(items) and len(items[end].level) > len(base):
            end += 1
        text = item.form
        for way, mark in ((";", "_"), ("^", "^")):
            inside = [one for one in items[at + 1 : end] if one.level.startswith(base + way)]
            if inside:
                text += f"{mark}{{{scripts(inside, base + way)}}}"
        out.append(text)
        at = end
    return " ".join(out)


def read(text: str) -> str:
    """The form of Nemeth Code in ASCII braille."""
    reader = Reader(text)
    form = reader.row()
    assert reader.at == len(text), (text, reader.at)
    return form
