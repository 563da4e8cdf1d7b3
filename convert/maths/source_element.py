"""The element of a formula's source that a cell stands for."""

from __future__ import annotations

from collections.abc import Iterator

from lxml import etree

from ..errors import SourceError
from .mathml import local, read_root
from .omml import is_omml

_LONGEST = 40


def element_at(source: str, path: str) -> Iterator[str]:
    """A sentence about the element at ``path`` (``/1/3``) of a formula in MathML or Office
    MathML; nothing for other sources."""
    if not source.lstrip().startswith("<"):
        return
    try:
        root = read_root(source)
    except SourceError:
        return
    element: etree._Element | None = root
    for step in path.split("/")[1:]:
        kids = list(element) if element is not None else []
        at = int(step) - 1
        element = kids[at] if at < len(kids) else None
    if element is None:
        return
    prefix, what = ("m:", "Word equation") if is_omml(root) else ("", "MathML")
    words = " ".join("".join(str(text) for text in element.itertext()).split())
    shown = words if len(words) <= _LONGEST else f"{words[:_LONGEST]}…"
    where = path or "the whole"
    yield f"Element of the {what}: {prefix}{local(element)}, at {where}, with the print “{shown}”."
