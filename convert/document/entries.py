"""Entries that the source has as paragraphs, one after another: a list of them (BF 21.2, 22.2)."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from ..findings import Findings
from .change import map_children
from .nodes import Document, ListBlock, ListItem, Paragraph, PrintPage, Section, walk

ROLES = frozenset(("bibliography", "glossary", "index"))
BARE = frozenset(("bibliography", "index"))


def list_entries(document: Document, findings: Findings) -> Document:
    """Paragraphs named as entries are items of a list, as are the paragraphs of a bibliography
    or an index in which no entry is named and no list stands.

    Needs turns lifted and empty paragraphs dropped.
    """

    def change(kids: tuple[Any, ...]) -> tuple[Any, ...]:
        named = tuple(_named(kid) if type(kid) is Section else kid for kid in kids)
        if not any(map(_is_entry, named)):
            return kids if all(a is b for a, b in zip(kids, named, strict=True)) else named
        return _listed(named)

    listed: Document = map_children(document, change)
    return listed


def _is_entry(node: Any) -> bool:
    return type(node) is Paragraph and node.role in ROLES


def _is_bare(node: Any) -> bool:
    return type(node) is Paragraph and node.role == "body"


def _named(section: Section) -> Section:
    """A bibliography or an index of two bare paragraphs or more, with these listed."""
    if section.role not in BARE or any(type(node) is ListBlock for node in walk(section)):
        return section
    return _filled(section, section.role) if _count(section) > 1 else section


def _count(section: Section) -> int:
    """How many bare paragraphs stand in a section and those inside it."""
    return sum(_count(kid) if type(kid) is Section else _is_bare(kid) for kid in section.children)


def _filled(section: Section, role: str) -> Section:
    kids: list[Any] = [
        _filled(kid, role) if type(kid) is Section else kid for kid in section.children
    ]
    made = tuple(replace(kid, role=role) if _is_bare(kid) else kid for kid in kids)
    return replace(section, children=_listed(made))


def _listed(kids: tuple[Any, ...]) -> tuple[Any, ...]:
    """Neighbouring entries of one role in a list; print pages between them stand between items."""
    out: list[Any] = []
    for kid in kids:
        if not _is_entry(kid):
            out.append(kid)
            continue
        pages: list[Any] = []
        while out and type(out[-1]) is PrintPage:
            pages.insert(0, out.pop())
        address = f"{kid.address}:entry"
        item = ListItem(children=(replace(kid, role="body"),), address=address)
        last = out[-1] if out else None
        if type(last) is ListBlock and last.role == kid.role and last.address.endswith(":entries"):
            out[-1] = replace(last, children=(*last.children, *pages, item))
        else:
            whole = f"{kid.address}:entries"
            out += [*pages, ListBlock(children=(item,), role=kid.role, kind="plain", address=whole)]
    return tuple(out)
