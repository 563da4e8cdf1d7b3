"""Changing a tree: the parts that a change leaves alone are shared with the tree before it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from operator import is_
from typing import Any

from .nodes import INLINES, ContextBreak, Heading, Inlines, Paragraph, VerseLine

# Nodes that have inlines and nothing else below them, as most have.
_LEAVES = frozenset((Heading, Paragraph, VerseLine, ContextBreak))


def map_inlines(node: Any, change: Callable[[Inlines], Inlines]) -> Any:
    """The same tree with ``change`` applied to each node's own inlines."""
    changes: dict[str, object] = {}
    name = INLINES.get(type(node))
    if name is not None:
        old = getattr(node, name)
        new = change(old)
        if new is not old:
            changes[name] = new
    for name in ("children", "entries", "caption"):
        if kids := getattr(node, name, ()):
            fresh = [_with_inlines(kid, change) for kid in kids]
            if not all(map(is_, kids, fresh)):
                changes[name] = tuple(fresh)
    return replace(node, **changes) if changes else node


def _with_inlines(node: Any, change: Callable[[Inlines], Inlines]) -> Any:
    if type(node) not in _LEAVES:
        return map_inlines(node, change)
    new = change(node.runs)
    return node if new is node.runs else replace(node, runs=new)


def map_children(node: Any, change: Callable[[tuple[Any, ...]], tuple[Any, ...]]) -> Any:
    """The same tree with ``change`` applied to every tuple of child blocks, innermost first."""
    changes: dict[str, object] = {}
    for name in ("children", "entries", "caption"):
        if kids := getattr(node, name, ()):
            made = [kid if type(kid) in _LEAVES else map_children(kid, change) for kid in kids]
            fresh = kids if all(map(is_, kids, made)) else tuple(made)
            if name == "children":
                fresh = change(fresh)
            if fresh is not kids:
                changes[name] = fresh
    return replace(node, **changes) if changes else node
