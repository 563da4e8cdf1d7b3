"""What the walker keeps beside the tree: lines of open verse, descriptions that wait."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from lxml import etree

from ..document.nodes import Graphic, InlineGraphic, Inlines, Run


class OpenLine(NamedTuple):
    """A line of verse whose level is not known before the whole poem is read."""

    runs: Inlines
    indent: float
    stanza: tuple[int, int]
    address: str


class Target(NamedTuple):
    """A description that is read at its picture: its part and element."""

    part: str
    element: etree._Element


@dataclass(slots=True)
class Described:
    """Descriptions by their pictures.

    ``apart``: elements read elsewhere than where they stand, and whether they were;
    ``at``: the descriptions to read at a picture; ``told``: findings (kind, words) by picture and
    reference; ``owed``: descriptions of pictures just read, which ``read`` reads; ``load`` gives
    root and planner of a part.
    """

    apart: dict[Any, bool] = field(default_factory=dict)
    at: dict[Any, list[Target]] = field(default_factory=dict)
    told: dict[Any, dict[str, tuple[str, str]]] = field(default_factory=dict)
    owed: list[tuple[str, list[Target]]] = field(default_factory=list)
    load: Callable[[str], Any] = lambda part: None
    read: Callable[[Any], None] = lambda walker: None


def picture_block(run: InlineGraphic, address: str) -> Graphic:
    """A picture that stands alone."""
    alt = (Run(run.start, run.end),) if run.end > run.start else ()
    return Graphic(alt=alt, resource=run.resource, decorative=run.decorative, address=address)
