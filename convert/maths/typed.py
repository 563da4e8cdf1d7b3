"""Expressions typed as text: TeX (by the library latex2mathml) and linear expressions.

A linear expression is what people type on one line: ``x^2 + 3``, ``H_2O``, ``a_{n+1}``,
``{a+b}/{c}`` (a fraction: braces group and are not shown), ``(a+b)/c`` (a slash, as typed),
``sqrt(x)``, ``<=``.  Two letters are one name where they are a function or a chemical element,
three or more are a word; anything in quotation marks is a word.
"""

from __future__ import annotations

import re
from html import escape

from ..errors import SourceError
from .chars import NUMBER, level_of
from .data import function_names, words

LONGEST, DEEPEST = 20_000, 60
_TEX = re.compile(r"\\[A-Za-z]+")
_WRAPPED = re.compile(
    r"\s*(?:\\\((?P<a>.*)\\\)|\\\[(?P<b>.*)\\\]|\$\$(?P<c>.+)\$\$|\$(?P<d>[^$]+)\$)\s*", re.S
)
# Digits parted by a comma that TeX is told to set without room, as the library writes them.
_DIGITS = re.compile(r"<mn>(\d{1,3})</mn>((?:<mrow><mo>&#x0002C;</mo></mrow><mn>\d{3}</mn>)+)")
_PATH = re.compile(r"\s*(?:[A-Za-z]:\\|\\\\\w+\\)")
_LINEAR = re.compile(
    rf"(?P<space>\s+)|(?P<number>{NUMBER})|\"(?P<words>[^\"]*)\"|(?P<letters>[A-Za-z]+)"
    r"|(?P<op><=>|<=|>=|!=|->|<-|\+-)|(?P<char>.)",
    re.S,
)
_SIGNS = {"<=": "≤", ">=": "≥", "!=": "≠", "->": "→", "<-": "←", "<=>": "⇔", "+-": "±"}
_SIMPLE = 3


def is_tex(text: str) -> bool:
    """Whether text is TeX: it has a command, or stands between TeX's signs for mathematics."""
    if _PATH.match(text):
        return False
    return _TEX.search(text) is not None or _WRAPPED.fullmatch(text) is not None


def to_mathml(text: str) -> tuple[str, str]:
    """MathML of an expression typed as text, and what it was: ``tex`` or ``linear``.

    Raises SourceError if it cannot be read, or if TeX is asked for and its library is not
    installed.
    """
    if len(text) > LONGEST:
        raise SourceError("The formula is too long.")
    return (tex(text), "tex") if is_tex(text) else (linear(text), "linear")


# ------------------------------------------------------------------ TeX


def tex(text: str) -> str:
    """MathML of TeX.  Raises SourceError as :func:`to_mathml` does."""
    found = _WRAPPED.fullmatch(text)
    if found is not None:
        text = next(part for part in found.groups() if part is not None)
    if _deepest(text) > DEEPEST:
        raise SourceError("The TeX is nested too deep.")
    try:
        from latex2mathml.converter import convert
    except ImportError:
        raise SourceError(
            "TeX needs the library latex2mathml; install it with: pip install cellset[math]"
        ) from None
    shown = found is not None and (found["b"] is not None or found["c"] is not None)
    try:
        made: str = convert(text, display="block" if shown else "inline")
    except Exception as error:  # The library raises plain errors of many kinds for odd TeX.
        raise SourceError(f"The TeX could not be read: {type(error).__name__}.") from None
    unknown = re.search(r"\\[A-Za-z]*", made)
    if unknown is not None:
        raise SourceError(f"The TeX command {unknown[0]} is not known.")
    return _DIGITS.sub(_grouped, made)


def _grouped(match: re.Match[str]) -> str:
    return f"<mn>{match[1]}{re.sub('<.*?>', '', match[2]).replace('&#x0002C;', ',')}</mn>"


def _deepest(text: str) -> int:
    depth = most = 0
    for char in text:
        depth += (char == "{") - (char == "}")
        most = max(most, depth)
    return most


# ------------------------------------------------------------------ linear expressions


def linear(text: str) -> str:
    """MathML of a linear expression.  Raises SourceError for brackets without a partner."""
    reader = _Reader(_tokens(text))
    inside = reader.row("", 0)
    if reader.at < len(reader.tokens):
        raise SourceError("The typed formula has a brace that closes nothing.")
    return f"<math>{inside}</math>"


def _tokens(text: str) -> list[tuple[str, str]]:
    out: list[tuple[str, str]] = []
    for match in _LINEAR.finditer(_flattened(text)):
        kind = str(match.lastgroup)
        found = match[kind]
        if kind == "letters":
            out.extend(_lettered(found))
        elif kind != "space":
            out.append(("op" if kind == "char" else kind, _SIGNS.get(found, found)))
    return out


def _flattened(text: str) -> str:
    """Raised and lowered characters as levels of plain ones."""
    out: list[str] = []
    before = ""
    for char in text:
        plain, kind = level_of(char)
        if kind and kind == before:
            out[-1] = out[-1][:-1] + plain + "}"
        elif kind:
            out.append(("^{" if kind == "super" else "_{") + plain + "}")
        else:
            out.append(char)
        before = kind
    return "".join(out)


def _lettered(text: str) -> list[tuple[str, str]]:
    if text == "sqrt":
        return [("root", text)]
    if text in function_names() or (len(text) == 2 and text in words("elements")):
        return [("name", text)]
    if len(text) >= _SIMPLE and text[1:].islower():
        return [("words", text)]
    return [("name", letter) for letter in text]


class _Reader:
    """Tokens to MathML; groups nest at most :data:`DEEPEST` deep."""

    def __init__(self, tokens: list[tuple[str, str]]) -> None:
        self.tokens, self.at = tokens, 0

    def _peek(self, ahead: int = 0) -> tuple[str, str]:
        at = self.at + ahead
        return self.tokens[at] if at < len(self.tokens) else ("", "")

    def row(self, end: str, depth: int) -> str:
        """Things up to the sign ``end``, which is passed."""
        if depth > DEEPEST:
            raise SourceError("The typed formula is nested too deep.")
        out: list[str] = []
        while self.at < len(self.tokens):
            kind, text = self._peek()
            if kind == "op" and text in "})" and (text == end or text == "}"):
                break
            out.append(self._thing(depth))
        if end:
            if self._peek() != ("op", end):
                raise SourceError(f"The typed formula has no {end} where one is needed.")
            self.at += 1
        return "".join(out)

    def _thing(self, depth: int) -> str:
        """One thing with its levels, and the fraction it begins."""
        braced = self._peek() == ("op", "{")
        made = self._levels(self._one(depth), depth)
        if braced and self._peek() == ("op", "/") and self._peek(1) == ("op", "{"):
            self.at += 1
            return f"<mfrac><mrow>{made}</mrow><mrow>{self._one(depth)}</mrow></mfrac>"
        return made

    def _levels(self, base: str, depth: int) -> str:
        found = {"_": "", "^": ""}
        while (sign := self._peek()[1]) in found and self._peek()[0] == "op" and not found[sign]:
            self.at += 1
            found[sign] = f"<mrow>{self._level(depth)}</mrow>"
        low, high = found["_"], found["^"]
        base = f"<mrow>{base}</mrow>"
        if low and high:
            return f"<msubsup>{base}{low}{high}</msubsup>"
        if low:
            return f"<msub>{base}{low}</msub>"
        return f"<msup>{base}{high}</msup>" if high else base

    def _level(self, depth: int) -> str:
        signed = ""
        while self._peek()[1] in ("-", "−", "+") and self._peek()[0] == "op":
            signed += f"<mo>{self._peek()[1]}</mo>"
            self.at += 1
        return signed + self._one(depth)

    def _one(self, depth: int) -> str:
        kind, text = self._peek()
        self.at += 1
        if kind == "op" and text == "{":
            return f"<mrow>{self.row('}', depth + 1)}</mrow>"
        if kind == "op" and text == "(":
            return f"<mrow><mo>(</mo>{self.row(')', depth + 1)}<mo>)</mo></mrow>"
        if kind == "root" or text == "√":
            return f"<msqrt>{self._radicand(depth)}</msqrt>"
        if not kind:
            raise SourceError("The typed formula ends where something more is needed.")
        element = {"number": "mn", "name": "mi", "words": "mtext"}.get(kind, "mo")
        return f"<{element}>{escape(text)}</{element}>"

    def _radicand(self, depth: int) -> str:
        if self._peek() == ("op", "("):
            self.at += 1
            return self.row(")", depth + 1)
        return self._one(depth + 1)
