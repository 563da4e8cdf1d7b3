"""The tables of :mod:`.signs` turned round for reading: cells, as ASCII braille, to signs."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Any

from .cells import ascii_of
from .signs import Sign, of_kind, signs

# Where two print characters have the same cells, the one to read (UEB 3, 7.2: print decides).
_PREFERRED = {"—", "σ"}
_PRINT_KINDS = ("letter", "punctuation", "symbol", "quotation", "transcriber")


@dataclass(frozen=True, slots=True)
class Rules:
    """Where contractions may stand (``contractions.toml``)."""

    start: frozenset[str]
    endings: tuple[str, ...]
    anywhere: tuple[str, ...]
    before_consonant: tuple[str, ...]
    at_start: tuple[str, ...]
    never_with_s: frozenset[str]
    words: frozenset[str]


@cache
def rules() -> Rules:
    """The rules of position, read once."""
    file = resources.files(__package__) / "contractions.toml"
    table: dict[str, Any] = tomllib.loads(file.read_text("utf-8"))
    short = table["shortform-rules"]
    return Rules(
        start=frozenset(table["start"]["words"]),
        endings=tuple(table["wordsign-rules"]["endings"]),
        anywhere=tuple(short["anywhere"]),
        before_consonant=tuple(short["anywhere-before-consonant"]),
        at_start=tuple(short["start-before-consonant"]),
        never_with_s=frozenset(short["never-with-s"]),
        words=frozenset(table["shortform-words"]["words"].split()),
    )


def _by_cells(kind: str) -> dict[str, Sign]:
    return {ascii_of(sign.cells): sign for sign in of_kind(kind).values()}


@cache
def contraction(kind: str) -> dict[str, Sign]:
    """The contractions of one kind by their cells."""
    return _by_cells(kind)


@cache
def starting() -> dict[str, Sign]:
    """Lower groupsigns that stand only at the beginning of a word (UEB 10.6.1)."""
    first = rules().start
    return {c: s for c, s in contraction("lower groupsign").items() if s.print in first}


@cache
def lower_anywhere() -> dict[str, Sign]:
    """Lower groupsigns of any place (UEB 10.6.8): en, in."""
    first = rules().start
    return {c: s for c, s in contraction("lower groupsign").items() if s.print not in first}


@cache
def alone() -> dict[str, Sign]:
    """Wordsigns and shortforms: what a letters-sequence standing alone may mean."""
    kinds = ("shortform", "lower wordsign", "strong wordsign", "alphabetic wordsign")
    return {cells: sign for kind in kinds for cells, sign in contraction(kind).items()}


@cache
def groups() -> dict[str, Sign]:
    """One-cell signs of any place: letters, strong contractions and groupsigns."""
    table = {c: s for c, s in _by_cells("letter").items() if len(c) == 1}
    return {**table, **contraction("strong contraction"), **contraction("strong groupsign")}


@cache
def letters() -> dict[str, Sign]:
    """The letters a to z."""
    return {c: s for c, s in _by_cells("letter").items() if len(c) == 1}


@cache
def digits() -> dict[str, Sign]:
    """The digits by their cells, a to j."""
    return _by_cells("digit")


@cache
def prints() -> dict[str, tuple[Sign, ...]]:
    """Signs that stand for print characters, by cells, the one to prefer first."""
    found: dict[str, list[Sign]] = {}
    for sign in signs():
        if sign.kind in _PRINT_KINDS:
            row = found.setdefault(ascii_of(sign.cells), [])
            row.insert(0, sign) if sign.print in _PREFERRED else row.append(sign)
    return {cells: tuple(row) for cells, row in found.items()}


@cache
def indicators() -> dict[str, Sign]:
    """Indicators by name."""
    return of_kind("indicator")


@cache
def by_name(name: str) -> str:
    """The cells of an indicator, as ASCII braille."""
    return ascii_of(indicators()[name].cells)


@cache
def typeforms() -> dict[str, tuple[Sign, str, str]]:
    """Typeform indicators by cells: sign, typeform, reach (symbol, word, passage, end)."""
    out: dict[str, tuple[Sign, str, str]] = {}
    ends = {
        " symbol indicator": "symbol",
        " word indicator": "word",
        " passage indicator": "passage",
        " terminator": "end",
    }
    others = ("grade 1", "capital", "numeric", "non-UEB", "horizontal", "Nemeth", "shape")
    for name, sign in indicators().items():
        for end, reach in ends.items():
            if name.endswith(end) and not name.startswith(others):
                out[ascii_of(sign.cells)] = (sign, name.removesuffix(end), reach)
    for word, reach in (("opening", "passage"), ("closing", "end")):
        sign = indicators()[f"{word} transcriber's note"]
        out[ascii_of(sign.cells)] = (sign, "transcriber's note", reach)
    return out


@cache
def modifiers() -> dict[str, tuple[Sign, ...]]:
    """Signs before a letter that put an accent on it, by cells."""
    found: dict[str, list[Sign]] = {}
    for sign in of_kind("modifier").values():
        found.setdefault(ascii_of(sign.cells), []).append(sign)
    return {cells: tuple(row) for cells, row in found.items()}


@cache
def segments() -> dict[str, Sign]:
    """Segments of horizontal line mode by cells; of those that look alike the first."""
    out: dict[str, Sign] = {}
    for sign in of_kind("line segment").values():
        out.setdefault(ascii_of(sign.cells), sign)
    return out


@cache
def ligatures() -> dict[str, Sign]:
    """Ligatures by their two letters."""
    return {sign.letters: sign for sign in of_kind("ligature").values()}


@cache
def question_mark() -> Sign:
    """The question mark: dots 2-3-6, as the opening quotation mark is (UEB 7.5)."""
    found = of_kind("punctuation").get("?")
    cells = of_kind("quotation")["one-cell opening quotation mark"].cells
    return found or Sign("question mark", "punctuation", "?", cells, "7.5")
