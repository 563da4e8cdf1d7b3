"""The room's tables, read once: ``maths_signs.toml`` as rows, ``maths.toml`` as words."""

from __future__ import annotations

import tomllib
import unicodedata
from dataclasses import dataclass, replace
from functools import cache
from importlib import resources
from typing import Any

from ..errors import Bug

BLANK = "\u2800"
_GROUPS = (
    "operation", "relation", "arrow", "punctuation", "sign", "own-sign", "shape", "fraction",
    "greek", "letter",
)  # fmt: skip
_NEGATED = "\u0338"
# Indicators of ordinary braille, which no page of special symbols lists.
_NOT_LISTED = frozenset(("3.14", "3.27", "5.2", "5.3", "5.4", "5.5", "6.1", "6.4", "6.6", "6.10",
                         "8.3", "8.4"))  # fmt: skip


@dataclass(frozen=True, slots=True)
class Row:
    """One sign.  ``cells``: Unicode braille.  ``group``: its table, which tells the spacing.

    ``grade1``: contracted braille would misread it (UEB 5.1); ``between``: only with a letter on
    both sides.  ``shape``: the shape terminator parts it from a sign after it (UEB 3.22).
    """

    print: str
    group: str
    cells: str
    name: str
    section: str
    grade1: bool = False
    between: bool = False
    shape: bool = False


def cells_of_dots(dots: str) -> str:
    """Cells written as dots (``"4 126"``: dot 4, then dots 1-2-6) as Unicode braille."""
    return "".join(chr(0x2800 + sum(1 << int(dot) - 1 for dot in cell)) for cell in dots.split())


def _read(name: str) -> dict[str, Any]:
    return tomllib.loads((resources.files(__package__) / name).read_text("utf-8"))


@cache
def _tables() -> dict[str, dict[str, Row]]:
    out: dict[str, dict[str, Row]] = {}
    for group, table in _read("maths_signs.toml").items():
        rows = out[group] = {}
        if group == "same-mark":
            continue
        for key, facts in table.items():
            own = {"name": key, **facts}
            rows[key] = Row(key, group, cells_of_dots(own.pop("dots")), **own)
    return out


def rows_of(group: str) -> tuple[Row, ...]:
    """The rows of one table, in its order; ``print`` is the row's key."""
    return tuple(_tables()[group].values())


@cache
def signs() -> dict[str, Row]:
    """Every sign by its print character."""
    return {key: row for group in _GROUPS for key, row in _tables()[group].items()}


@cache
def sign(text: str) -> Row | None:
    """The row of a printed sign, None if the code has none.

    A negated sign is its sign and the line through it (GTM 3); a sign that Unicode calls
    several of another (``∬``, ``‴``) is those side by side.
    """
    found = signs().get(text)
    if found is not None or not text:
        return found
    bare = unicodedata.normalize("NFD", text)
    if bare.endswith(_NEGATED) and (base := sign(bare[:-1])) is not None:
        return replace(base, print=text, cells=base.cells + indicator("line through").cells)
    parts = unicodedata.normalize("NFKC", text)
    rows = [signs().get(char) for char in parts]
    if len(rows) > 1 and rows[0] is not None and len(set(parts)) == 1:
        return replace(rows[0], print=text, cells=rows[0].cells * len(rows))
    return None


@cache
def letter(char: str) -> Row | None:
    """The row of a small or capital letter of any alphabet, without a capital sign for Latin
    capitals; None if the code has none.  Other shapes of Greek letters (``ϵ``, ``ϑ``) are those
    letters (UEB 2.3.2)."""
    group, greek = _tables()["letter"], _tables()["greek"]
    found = group.get(char.lower() if char.isascii() else char) or greek.get(char)
    return found or greek.get(unicodedata.normalize("NFKC", char))


def own_signs() -> dict[str, Row]:
    """The signs whose cells are transcriber-defined print symbols (UEB 3.26)."""
    return _tables()["own-sign"]


def indicator(name: str) -> Row:
    """An indicator by name.  Raises Bug if there is none."""
    found = _tables()["indicator"].get(name)
    if found is None:
        raise Bug(f"The table of mathematical signs has no {name}.")
    return found


def has_indicator(name: str) -> bool:
    return name in _tables()["indicator"]


def font(name: str) -> str:
    """The typeform indicators of a font of :class:`convert.maths.tree.Letter`."""
    rows = _tables()["font"]
    return "".join(rows[part].cells for part in name.split())


@cache
def _marks() -> dict[str, str]:
    same = _read("maths_signs.toml")["same-mark"]
    return {char: mark for mark, chars in same.items() for char in chars.split()}


def mark(text: str, under: bool) -> Row | None:
    """The row of a mark printed over or under an item (GTM 12), None if it is none."""
    return _tables()["under" if under else "over"].get(_marks().get(text, text))


@cache
def _words() -> dict[str, Any]:
    return _read("maths.toml")


@cache
def words(name: str) -> frozenset[str]:
    """A list of ``maths.toml``."""
    return frozenset(_words()[name].split())


def function_names() -> frozenset[str]:
    return words("functions")


_PARTS = frozenset(
    ("horizontal line", "horizontal line segment", "vertical line segment", "shape terminator",
     "enlarged", "box", "roundedbox", "circle")
)  # fmt: skip
_LISTED = ("operation", "relation", "arrow", "sign", "own-sign", "shape")


@cache
def technical_names() -> dict[str, str]:
    """What a page of special symbols calls the technical signs, by their cells, in the order of
    the table; punctuation, numerals and letters are not among them."""
    out: dict[str, str] = {}
    tables = _tables()
    for key, row in tables["indicator"].items():
        if row.section not in _NOT_LISTED and key not in _PARTS:
            out.setdefault(row.cells, f"{key} indicator")
    rules = [indicator("horizontal line"), indicator("horizontal line segment")]
    out["".join(row.cells for row in rules)] = "horizontal line"
    out[indicator("vertical line segment").cells] = "vertical line between divisor and dividend"
    for key, row in tables["font"].items():
        out.setdefault(row.cells, f"{key} typeform, one letter")
    for group in ("over", "under", *_LISTED):
        for row in tables[group].values():
            out.setdefault(row.cells, row.name)
    return out
