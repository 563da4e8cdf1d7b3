"""How print is shown to a person: excerpts, and invisible characters by name."""

from __future__ import annotations

import re
import unicodedata
from bisect import bisect_right
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from jinja2 import Environment, PackageLoader, StrictUndefined

from ..document.ledger import Ledger
from ..document.nodes import Document, PrintPage, PrintPageTurn, inlines_of, walk
from ..findings import Span

# Print shown before and after the words a finding is about, and of those words: characters.
CONTEXT, LONGEST = 40, 160
# Controls, marks that turn the direction of text, characters without width, half surrogates.
_UNSEEN = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u00ad\u061c\u180e\u200b-\u200f\u202a-\u202e"
    "\u2060-\u206f\ufeff\ufff9-\ufffb\ud800-\udfff]"
)
_PART_WORD_FIRST, _PART_WORD_LAST = re.compile(r"^\S+\s"), re.compile(r"\s\S+$")


def show(text: str) -> str:
    """Text with each invisible character as its name: ``[right-to-left override]``."""
    return _UNSEEN.sub(lambda found: f"[{_name(found[0])}]", text)


def show_stanza(text: str) -> str:
    """A stanza of TOML with each invisible character as an escape of TOML, which means the same
    in its quoted words (TOML 1.0, Basic strings)."""
    return _UNSEEN.sub(lambda found: f"\\u{ord(found[0]):04X}", text)


def _name(char: str) -> str:
    return unicodedata.name(char, f"character {ord(char):04X}").lower()


@dataclass(frozen=True, slots=True)
class Excerpt:
    """Words of print with what stands before and after them."""

    before: str
    words: str
    after: str

    @property
    def text(self) -> str:
        """The whole in one line."""
        return " ".join(f"{self.before}{self.words}{self.after}".split())


def excerpt(ledger: Ledger, span: Span) -> Excerpt:
    """The print of a span and up to 40 characters each side, in whole words where there are
    any; the middle of a long span is left out."""
    start, end = span
    words = ledger.quote(start, end)
    if len(words) > LONGEST:
        words = f"{words[: LONGEST // 2]} … {words[-LONGEST // 2 :]}"
    text, first, last = ledger.text, max(0, start - CONTEXT), end + CONTEXT
    before, after = text[first:start], text[end:last]
    if first and not text[first - 1].isspace():
        before = _PART_WORD_FIRST.sub("", before)
    if last < len(text) and not text[last].isspace():
        after = _PART_WORD_LAST.sub("", after)
    return Excerpt(_line(before), _line(words), _line(after))


def _line(text: str) -> str:
    """Text in one line: white space of any kind as one space."""
    return show(re.sub(r"\s+", " ", text))


class PrintPages:
    """Which print page is in force at each place of the ledger, by the document's own marks."""

    __slots__ = ("_labels", "_starts")

    def __init__(self, document: Document) -> None:
        rows: list[tuple[int, str | None]] = []
        label: str | None = None
        for node in walk(document):
            if isinstance(node, PrintPage):
                label = node.label
            start = getattr(node, "start", None)
            if isinstance(start, int):
                rows.append((start, label))
            for inline in inlines_of(node):
                if isinstance(inline, PrintPageTurn):
                    label = inline.label
                elif (at := getattr(inline, "start", None)) is not None:
                    rows.append((at, label))
        rows.sort(key=lambda row: row[0])
        self._starts = [start for start, _ in rows]
        self._labels = [label for _, label in rows]

    def at(self, offset: int) -> str | None:
        """The label in force at a ledger offset; None before the first and where unnumbered."""
        row = bisect_right(self._starts, offset) - 1
        return self._labels[row] if row >= 0 else None


@cache
def _environment() -> Environment:
    return Environment(
        loader=PackageLoader("convert.writers", "html"),
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
        undefined=StrictUndefined,
    )


def write_html(path: Path, name: str, facts: dict[str, Any]) -> Path:
    """Fill the page ``name`` of the ``html`` folder, escaping every fact; returns ``path``."""
    text = _environment().get_template(name).render(**facts)
    path.write_bytes(text.encode())
    return path


def language(tag: str) -> str:
    """A language tag fit for HTML (BCP 47 in shape), or nothing."""
    return tag if re.fullmatch("[A-Za-z]{2,3}(-[A-Za-z0-9]{2,8})*", tag) else ""
