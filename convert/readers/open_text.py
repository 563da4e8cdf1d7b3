"""The paragraph being read: print goes to the ledger as displayed, and becomes flat runs."""

from __future__ import annotations

import re
from collections.abc import Container, Iterator
from dataclasses import dataclass, field
from typing import Any

from lxml import etree

from ..document.ledger import GENERATED, PRINT, LedgerBuilder
from ..document.nodes import Inline, Inlines, LineBreak, Run
from .looks import Look, transformed
from .plans import local_name
from .roles import element_does

SPACE = " \t\n\r\f"
_MANY = re.compile(" {2,}")
_TO_SPACE = str.maketrans("\t\n\r\f", "    ")


@dataclass(slots=True)
class OpenText:
    """Collects the inlines of one block.

    ``bare``: a space would now stand at a line start or after another; ``spaced``: the last run
    ends with a space.
    """

    ledger: LedgerBuilder
    part: str = ""
    runs: list[Any] = field(default_factory=list)
    bare: bool = True
    spaced: bool = False
    first: str = ""
    pending_break: bool = False

    def add(self, raw: str, path: str, look: Look) -> None:
        """Append the text of a text node, white space collapsed as print shows it."""
        if look.pre:
            self._add_pre(raw, path, look)
            return
        char = 0
        if self.bare:
            body = raw.lstrip(SPACE)
            if not body:
                return
            char = len(raw) - len(body)
            raw = body
        if "\n" in raw or "\t" in raw or "\r" in raw or "\f" in raw:
            raw = raw.translate(_TO_SPACE)
        if "  " not in raw:
            self._put(raw, path, char, look, PRINT)
            return
        at = 0
        for gap in _MANY.finditer(raw):
            self._put(raw[at : gap.start() + 1], path, char + at, look, PRINT)
            at = gap.end()
        if at < len(raw):
            self._put(raw[at:], path, char + at, look, PRINT)

    def generate(self, text: str, path: str, look: Look) -> None:
        """Append text that print shows and the file computes."""
        if text:
            self._put(text, path, 0, look, GENERATED)

    def _put(self, text: str, path: str, char: int, look: Look, kind: str) -> None:
        if self.pending_break:
            self.pending_break = False
            if self.runs:
                self.runs.append(LineBreak())
                self.ledger.end_block()
        if look.transform:
            text = transformed(text, look.transform)
        start, end = self.ledger.add(text, self.part, path, char, kind)
        self.bare = self.spaced = text[-1] == " "
        if self.runs:
            last = self.runs[-1]
            if type(last) is list and last[2] is look and last[1] == start:
                last[1] = end
                return
        if not self.first:
            self.first = path if kind == PRINT else f"{path}:{start}"
        self.runs.append([start, end, look])

    def _add_pre(self, raw: str, path: str, look: Look) -> None:
        """Kept white space: line ends become line breaks, tabs go to every eighth column."""
        at = 0
        for line in raw.splitlines(keepends=True):
            text = line.rstrip("\r\n")
            if text:
                self._put(text.replace("\t", "    "), path, at, look, PRINT)
            at += len(line)
            if len(text) < len(line) and self.runs:
                self.runs.append(LineBreak())
                self.ledger.end_block()
        self.bare = False

    def put(self, inline: Inline, path: str) -> None:
        """Append an inline that is not a run."""
        if not self.first:
            self.first = path
        self.runs.append(inline)

    def line_break(self) -> None:
        """A line end of print; two in a row are kept, as they show a blank line."""
        self.pending_break = False
        self.trim()
        if self.runs:
            self.runs.append(LineBreak())
            self.ledger.end_block()
        self.bare = True

    def soft_break(self) -> None:
        """A line end wanted only if more text follows."""
        self.trim()
        if self.runs and not isinstance(self.runs[-1], LineBreak):
            self.pending_break = True
        self.bare = True

    def trim(self) -> None:
        """Take back a space at the end of a line."""
        if self.runs and type(self.runs[-1]) is list:
            last = self.runs[-1]
            at_end = last[1] == self.ledger.length
            if self.spaced and (not at_end or self.ledger.drop_space()):
                last[1] -= 1
                self.spaced = False
                if last[1] == last[0]:
                    self.runs.pop()

    def take(self) -> tuple[Inlines, str]:
        """The finished inlines and the path of the first; the text is empty again."""
        self.pending_break = False
        if not self.runs:
            self.bare = True
            return (), ""
        self.trim()
        while self.runs and isinstance(self.runs[-1], LineBreak):
            self.runs.pop()
        done = tuple(
            [
                Run(r[0], r[1], r[2].typeform, r[2].lang, r[2].voice) if type(r) is list else r
                for r in self.runs
            ]
        )
        first, self.first = self.first, ""
        self.runs = []
        self.bare = True
        return done, first


def texts(
    element: etree._Element, path: str, apart: Container[etree._Element] = ()
) -> Iterator[tuple[str, str, str]]:
    """(element name, text, CFI steps) of every text node inside, in order; never recursive.

    What stands in elements ``apart`` is passed over."""
    if element.text:
        yield str(element.tag), element.text, f"{path}/1"
    stack: list[tuple[etree._Element, str, Iterator[etree._Element], int]] = []
    here, where, kids, step = element, path, iter(element), 0
    while True:
        child = next(kids, None)
        if child is None:
            if not stack:
                return
            done = here
            here, where, kids, step = stack.pop()
            if done.tail:
                yield str(here.tag), done.tail, f"{where}/{step + 1}"
            continue
        step += 2
        stack.append((here, where, kids, step))
        here, where, kids, step = child, f"{where}/{step}", iter(child), 0
        if here in apart or element_does(local_name(str(here.tag))) == "skip":
            kids = iter(())
        elif here.text:
            yield str(here.tag), here.text, f"{where}/1"
