"""The closed list of verbs, ``verbs.toml``, and the check of a decision's arguments."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from functools import cache
from importlib import resources

from ..findings import catalogue
from .record import Argument

_CELL = re.compile(r"[1-6](?:-?[1-6])*|0")
_WHAT = {
    "words": "words in quotation marks",
    "address": "an address, such as the report gives",
    "cells": "cells in Unicode braille, or dots such as “1-2-4 1-5”",
    "kind": "a kind of finding",
    "list": 'a list of words, such as ["yr.", "pop."]',
    "order": "a list of the numbers of all columns, each once, such as [2, 1, 3]",
}


@dataclass(frozen=True, slots=True)
class Verb:
    """One row of the list."""

    name: str
    says: str
    place: str
    acts: str
    cite: str
    settles: str = ""
    everywhere: bool = False
    whole: bool = False
    reason: bool = False
    optional: tuple[str, ...] = ()
    arguments: tuple[tuple[str, str], ...] = ()

    def what(self, argument: str) -> str:
        """What an argument must be, in words."""
        row = dict(self.arguments)[argument]
        kind, _, rest = row.partition(" ")
        if kind == "number":
            least, _, most = rest.partition("-")
            return f"a whole number from {least} to {most}"
        if kind in ("one", "some"):
            return f"{kind} of {', '.join(rest.split()[1:])}"
        return _WHAT[row]


@cache
def verbs() -> dict[str, Verb]:
    """Every verb, by name, in the order of the file."""
    text = (resources.files("convert.decisions") / "verbs.toml").read_text("utf-8")
    out: dict[str, Verb] = {}
    for name, row in tomllib.loads(text).items():
        arguments = tuple(row.pop("arguments", {}).items())
        optional = tuple(row.pop("optional", ()))
        out[name] = Verb(name=name, arguments=arguments, optional=optional, **row)
    return out


def check_argument(verb: Verb, name: str, value: object) -> Argument:
    """An argument in its plain form.  Raises ValueError, saying what it must be."""
    row = dict(verb.arguments)[name]
    kind, _, rest = row.partition(" ")
    if kind == "number":
        least, _, most = rest.partition("-")
        whole = isinstance(value, int) and not isinstance(value, bool)
        if whole and isinstance(value, int) and int(least) <= value <= int(most):
            return value
        raise ValueError(verb.what(name))
    if kind == "some":
        named = [value] if isinstance(value, str) else value
        if isinstance(named, list) and named and set(named) <= set(rest.split()[1:]):
            return tuple(str(form) for form in named)
        raise ValueError(verb.what(name))
    if kind in _LISTS:
        return _LISTS[kind](value)
    if not isinstance(value, str) or not value.strip():
        raise ValueError(verb.what(name))
    if kind == "one" and value not in rest.split()[1:]:
        raise ValueError(verb.what(name))
    if kind == "kind" and value not in catalogue():
        raise ValueError(verb.what(name))
    return braille(value) if kind == "cells" else value


def _order(value: object) -> tuple[str, ...]:
    """The columns of print in their new order.  Raises ValueError."""
    columns = value if isinstance(value, list | tuple) else []
    given = [str(column) for column in columns if not isinstance(column, bool)]
    if sorted(given) != sorted(str(at) for at in range(1, len(columns) + 1)) or len(given) < 2:
        raise ValueError(_WHAT["order"])
    return tuple(given)


def _words(value: object) -> tuple[str, ...]:
    """Some words.  Raises ValueError."""
    words = value if isinstance(value, list | tuple) else []
    if not words or not all(isinstance(word, str) and word.strip() for word in words):
        raise ValueError(_WHAT["list"])
    return tuple(" ".join(str(word).split()) for word in words)


_LISTS = {"order": _order, "list": _words}


def braille(text: str) -> str:
    """Cells written as Unicode braille or as dots.  Raises ValueError for anything else."""
    squeezed = text.strip()
    if all("\u2800" <= char <= "\u283f" for char in squeezed):
        return squeezed
    words = squeezed.split()
    if not all(_CELL.fullmatch(word) for word in words):
        raise ValueError(_WHAT["cells"])
    dots = [{int(dot) for dot in word if dot in "123456"} for word in words]
    return "".join(chr(0x2800 + sum(1 << (dot - 1) for dot in cell)) for cell in dots)
