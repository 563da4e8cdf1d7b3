"""House rows: what the classes, terms, elements and styles of one's own sources mean.

A TOML table of the shape of roles.toml, given with the option ``roles``; its rows win.

    [classes]
    "txt-fn" = "footnote"              # a term, or a node and its role: "displayed quotation"
    [terms]
    "x-song" = "verse poem"
    [paragraph_classes]
    "lead-in" = "blocked"
    [elements]
    "displayed" = "pullout x-quote"    # what is done with which elements
    [styles."street sign"]             # a style of a Word document, as docx_styles.toml has them
    node = "paragraph"
    role = "address"

A row is checked before anything is read: a word that means nothing is refused with the nearest.
"""

from __future__ import annotations

import difflib
import tomllib
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field
from functools import cache
from importlib import resources
from typing import Any

from ..document.nodes import TYPEFORM_BITS
from ..errors import JobError

SECTIONS = ("classes", "elements", "paragraph_classes", "styles", "terms")
_NODES = (
    "section", "box", "displayed", "paragraph", "heading", "list", "verse", "stanza", "line",
    "drama", "speaker", "note", "call", "page", "drop",
)  # fmt: skip
_STYLE_KEYS: dict[str, type] = {
    "node": str, "role": str, "level": int, "kind": str, "plain": bool, "voice": str,
    "drop": list,
}  # fmt: skip
# What a style may become, and the keys it cannot do without.
_STYLE_NODES = {
    "heading": ("level",), "paragraph": ("role",), "displayed": ("role",), "list": ("kind",),
    "continue": (), "entry": ("role", "level"), "page": (),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class House:
    """The rows of a house, checked; ``terms`` and ``classes`` give "node role"."""

    terms: Mapping[str, str] = field(default_factory=dict)
    classes: Mapping[str, str] = field(default_factory=dict)
    paragraph_classes: Mapping[str, str] = field(default_factory=dict)
    elements: Mapping[str, str] = field(default_factory=dict)
    styles: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)


_HOUSE: ContextVar[House] = ContextVar("house", default=House())  # noqa: B039 (frozen)


def house() -> House:
    """The house rows of the source being read."""
    return _HOUSE.get()


@contextmanager
def house_rows(text: str) -> Iterator[None]:
    """Read a source with the house rows of a TOML text.  Raises JobError for a wrong row."""
    token = _HOUSE.set(parse_house(text)) if text else None
    try:
        yield
    finally:
        if token is not None:
            _HOUSE.reset(token)


@cache
def table(name: str) -> dict[str, Any]:
    """A table of the program's own: ``roles`` or ``docx_styles``."""
    return tomllib.loads((resources.files("convert.readers") / f"{name}.toml").read_text("utf-8"))


@cache
def parse_house(text: str) -> House:
    """The rows of a TOML text.  Raises JobError naming the row, with the nearest right word."""
    try:
        given = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise JobError(
            f"The table of roles is not valid TOML: {error}.", "Correct that line and run again."
        ) from error
    for name, rows in given.items():
        _expect(name, SECTIONS, "a section of the table of roles")
        if not isinstance(rows, dict):
            raise JobError(f"“{name}” of the table of roles must be a section of rows.", "")
    words = {name: given.get(name, {}) for name in SECTIONS}
    for name in ("classes", "elements", "paragraph_classes", "terms"):
        for key, value in words[name].items():
            if not isinstance(value, str):
                raise JobError(f"The role of “{key}” must be words in quotation marks.", "")
    terms = {key.lower(): _row(key, value) for key, value in words["terms"].items()}
    known = table("roles")["terms"] | terms
    classes = {key.lower(): _class(key, row, known) for key, row in words["classes"].items()}
    for key, role in words["paragraph_classes"].items():
        _expect(role, _roles(), f"a role (row “{key}”)")
    return House(
        terms,
        classes,
        {key.lower(): role for key, role in words["paragraph_classes"].items()},
        {name: does for does, names in _elements(words["elements"]) for name in names},
        {key.lower(): _style(key, row) for key, row in words["styles"].items()},
    )


def _expect(word: str, known: Iterable[str], noun: str) -> None:
    """Raises JobError for a word that is not one of those known."""
    choices = sorted(known)
    if word in choices:
        return
    near = difflib.get_close_matches(word, choices, n=1)
    few = f"Use one of: {', '.join(choices)}." if len(choices) < 30 else "See roles.toml."
    raise JobError(f"“{word}” is not {noun}.", f"Did you mean “{near[0]}”?" if near else few)


@cache
def _roles() -> frozenset[str]:
    rows = table("roles")
    said = {row.partition(" ")[2] for row in rows["terms"].values()}
    said |= set(rows["paragraph_classes"].values())
    said |= {str(row["role"]) for row in table("docx_styles").values() if "role" in row}
    return frozenset(said | {"body", "blocked", "displayed", "label", "caption"}) - {""}


@cache
def _dropped() -> frozenset[str]:
    rows = table("roles")["terms"].values()
    return frozenset(row.partition(" ")[2] for row in rows if row.startswith("drop "))


def _row(key: str, value: str) -> str:
    node, _, role = value.partition(" ")
    _expect(node, _NODES, f"a kind of node (row “{key}”)")
    if node == "drop":
        _expect(role, _dropped(), f"a reason to leave matter out (row “{key}”)")
    elif role:
        _expect(role, _roles(), f"a role (row “{key}”)")
    return value


def _class(key: str, value: str, terms: Mapping[str, str]) -> str:
    """A class stands for a term, or says node and role itself."""
    if " " in value:
        return _row(key, value)
    _expect(value, terms, f"a term (row “{key}”)")
    return terms[value]


def _elements(rows: Mapping[str, str]) -> Iterator[tuple[str, list[str]]]:
    known = {*table("roles")["elements"], *table("roles")["dtbook"]}
    for does, names in rows.items():
        _expect(does, known, "something done with elements")
        yield does, names.lower().split()


def _style(key: str, row: object) -> dict[str, Any]:
    if not isinstance(row, dict):
        raise JobError(f'The style “{key}” must be a section, [styles."{key}"].', "")
    for name, value in row.items():
        _expect(name, _STYLE_KEYS, f"a key of a style (style “{key}”)")
        if not isinstance(value, _STYLE_KEYS[name]):
            raise JobError(f"“{name}” of the style “{key}” has a value of the wrong kind.", "")
    if "node" in row:
        _expect(row["node"], _STYLE_NODES, f"a kind of node (style “{key}”)")
    if "role" in row:
        _expect(row["role"], _roles(), f"a role (style “{key}”)")
    for word in row.get("drop", ()):
        _expect(word, TYPEFORM_BITS, f"a typeform (style “{key}”)")
    for name in _STYLE_NODES.get(row.get("node", ""), ()):
        if name not in row:
            raise JobError(f"The style “{key}” lacks the key “{name}”.", "")
    if not 1 <= row.get("level", 1) <= 9:
        raise JobError(f"The level of the style “{key}” is not one of 1 to 9.", "")
    return dict(row)
