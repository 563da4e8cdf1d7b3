"""What the builders of MathML elements are given: children already built."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import NamedTuple

from .tree import Expression

Attributes = Mapping[str, str]


class Made(NamedTuple):
    """A node, and how many levels of structure (rows not counted) it holds."""

    node: Expression
    depth: int


class Part(NamedTuple):
    """A child: its element's name, attributes and node."""

    name: str
    attributes: Attributes
    made: Made

    @property
    def node(self) -> Expression:
        return self.made.node


Build = Callable[[list[Part], Attributes, str], Expression]
