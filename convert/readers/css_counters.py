"""Counters of style sheets, as far as print shows them [CSS Lists 3, 4].

A counter reset on an element counts for that element, what is in it, and its later siblings.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

Steps = tuple[tuple[str, str, int], ...]
_STEP = re.compile(r"(-?[a-z_][\w-]*)(?:\s+(-?\d{1,9}))?(?=\s|$)")
_ARGUMENTS = re.compile(r"""\s*([\w-]+)\s*(?:,\s*("[^"]*"|'[^']*')\s*)?(?:,\s*([a-z-]+)\s*)?""")
_NOT_OURS = ("list-item", "page", "pages")  # counted by the browser itself
_LONGEST = 1_000


def steps_of(style: Mapping[str, Any]) -> Steps:
    """What an element does to counters, in the order of the specification."""
    return tuple(_steps(style))


def _steps(style: Mapping[str, Any]) -> Iterator[tuple[str, str, int]]:
    for what, usual in (("reset", 0), ("increment", 1), ("set", 0)):
        value = style.get(f"counter-{what}", "none")
        if isinstance(value, str) and value != "none":
            for match in _STEP.finditer(value):
                yield what, match[1], int(match[2]) if match[2] else usual


@dataclass(slots=True)
class Counters:
    """The counters in force; ``mark`` and ``leave`` bound how far a reset reaches."""

    values: dict[str, list[int]] = field(default_factory=dict)
    _open: list[str] = field(default_factory=list)

    def enter(self, steps: Steps) -> None:
        """Do what an element asks for."""
        for what, name, number in steps:
            stack = self.values.setdefault(name, [])
            if what == "reset" or not stack:
                stack.append(0)
                self._open.append(name)
            stack[-1] = stack[-1] + number if what == "increment" else number
            stack[-1] = max(-(10**9), min(stack[-1], 10**9))

    def mark(self) -> int:
        """How many counters are open."""
        return len(self._open)

    def leave(self, mark: int) -> None:
        """Close the counters opened since ``mark``."""
        while len(self._open) > mark:
            self.values[self._open.pop()].pop()

    def text(self, kind: str, inner: str) -> str | None:
        """What ``counter()`` or ``counters()`` shows; ``None`` where it cannot be known."""
        from .xhtml_lists import marker_text

        found = _ARGUMENTS.fullmatch(inner.lower())
        if found is None or found[1] in _NOT_OURS or (kind == "counters") != bool(found[2]):
            return None
        values = self.values.get(found[1]) or [0]
        style = found[3] or "decimal"
        words = [marker_text(style, value).rstrip(".") for value in values[-_LONGEST:]]
        return found[2][1:-1].join(words) if found[2] else words[-1]
