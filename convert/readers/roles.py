"""Semantic terms and class names to nodes and roles, as the table roles.toml says."""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

from ..document.nodes import TYPEFORM_BITS
from .house import house, table

INLINE_DOES = frozenset({"inline", "computer", "cite"})


class Role(NamedTuple):
    """What a term asks for: a kind of node and its role."""

    node: str
    role: str


@cache
def _elements() -> dict[str, str]:
    tables = table("roles")
    rows = [*tables["dtbook"].items(), *tables["elements"].items()]
    return {name: do for do, names in rows for name in names.split()}


@cache
def _typeforms() -> dict[str, int]:
    rows = table("roles")["typeforms"].items()
    return {name: TYPEFORM_BITS[form] for form, names in rows for name in names.split()}


def element_does(name: str) -> str:
    """What is done with an element of this local name; ``unknown`` where no row has it."""
    return house().elements.get(name) or _elements().get(name, "unknown")


def aria_does(role: str) -> str:
    """What is done with a bare element of this ARIA role; nothing where the role says nothing."""
    first = role.split()[:1]
    return next((_aria().get(word.lower(), "") for word in first), "")


@cache
def _aria() -> dict[str, str]:
    return {name: do for do, names in table("roles")["aria"].items() for name in names.split()}


def element_typeform(name: str) -> int:
    """The typeform bits an element has by itself."""
    return _typeforms().get(name, 0)


def terms_of(epub_type: str, role: str) -> tuple[str, ...]:
    """The terms of an element without their prefixes, those of ``role`` first."""
    words = [*role.split()[:1], *epub_type.split()] if role else epub_type.split()
    return tuple(
        dict.fromkeys(
            word.rpartition(":")[2].removeprefix("doc-").replace(".", "-").lower() for word in words
        )
    )


def find_role(terms: tuple[str, ...], classes: str) -> Role | None:
    """The first house row of a class or term; else the first known term's row, then class's."""
    ours = house()
    for rows, words in ((ours.classes, classes.lower().split()), (ours.terms, terms)):
        for word in words:
            if rows and word in rows:
                return _role(rows[word])
    tables = table("roles")
    known = tables["terms"]
    for term in terms:
        if term in known:
            return _role(known[term])
    for word in classes.lower().split():
        if word in tables["classes"]:
            return _role(known[tables["classes"][word]])
    return None


def _role(row: str) -> Role:
    node, _, role = row.partition(" ")
    return Role(node, role)


@cache
def language_of(tag: str) -> str:
    """A language tag in lower case with its usual code; nothing where it names no language."""
    tag = tag.strip().replace("_", "-").lower()
    first, dash, rest = tag.partition("-")
    first = table("roles")["languages"].get(first, first)
    return f"{first}{dash}{rest}" if first else ""


def is_captioned(classes: str) -> bool:
    """Whether a class name makes an element hold a table or a figure with its title."""
    return not _captioned().isdisjoint(classes.lower().split())


@cache
def _captioned() -> frozenset[str]:
    return frozenset(table("roles")["captioned"]["classes"].split())


def is_program(classes: str) -> bool:
    """Whether a class name makes preformatted text program code."""
    return not _program().isdisjoint(classes.lower().split())


@cache
def _program() -> frozenset[str]:
    return frozenset(table("roles")["program"]["classes"].split())


def is_known_term(term: str) -> bool:
    """Whether a term of a block has a row, or is known to mean nothing for the page."""
    tables = table("roles")
    known = term in tables["terms"] or term in house().terms or term in _plain_terms()
    return known or term in _aria()


@cache
def _plain_terms() -> frozenset[str]:
    return frozenset(table("roles")["plain"]["terms"].split())


def paragraph_role(classes: str) -> str:
    """The role a paragraph's class names give, or an empty string."""
    known = table("roles")["paragraph_classes"] | house().paragraph_classes
    return next((known[word] for word in classes.lower().split() if word in known), "")
