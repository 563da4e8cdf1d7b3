"""What the reader knows at a place of a Word document, shared by its walkers."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from lxml import etree

from ..document.ledger import LedgerBuilder
from ..findings import Findings
from ..settings import Settings
from .docx_fields import Fields
from .docx_line import Line
from .docx_names import KNOWN_CHOICES, MC, M, W
from .docx_numbers import Numbers
from .docx_pages import Pages
from .docx_parts import Parts
from .docx_styles import Facts, Styles
from .limits import LIMITS

if TYPE_CHECKING:
    from .docx_notes import Notes

STEPS = tuple(f"/{2 * at}" for at in range(5000))


def step(at: int) -> str:
    """The CFI step of the child element number ``at`` (from 1)."""
    return STEPS[at] if at < 5000 else f"/{2 * at}"


@dataclass(frozen=True, slots=True)
class Later:
    """Matter anchored in a paragraph and read after it: ``what`` is box, graphic or note."""

    what: str
    element: etree._Element
    path: str
    name: str = ""


Room = tuple[str, str, tuple[str, ...]]
"""An answer space to come: its kind, name and choices."""


@dataclass(slots=True)
class Walk:
    """State of reading one document; ``part`` inside ``line`` says which part is being read.

    ``waiting``: room for an answer to put at the beginning of the next paragraph; ``after``: a
    paragraph, and the room to put at its end.  ``first``: the label of the first page.
    ``begun``: where the paragraph being read begins in the ledger; ``look``: of its last run;
    ``stands``: where paragraphs begin that are centred or in large letters.
    ``numbered``: where the computed number of the heading being read ends in the ledger.
    """

    parts: Parts
    root: etree._Element
    styles: Styles
    numbers: Numbers
    pages: Pages
    settings: Settings
    findings: Findings
    ledger: LedgerBuilder
    line: Line
    first: str | None = None
    fields: Fields = field(default_factory=Fields)
    tally: Counter[str] = field(default_factory=Counter)
    authors: set[str] = field(default_factory=set)
    later: list[Later] = field(default_factory=list)
    style_id: str = ""
    plain: Facts = field(default_factory=Facts)
    leaders: tuple[tuple[int, str], ...] = ()
    tabs: int = 0
    depth: int = 0
    shut: str = ""
    waiting: Room | None = None
    after: tuple[etree._Element, Room] | None = None
    carry: bool = False
    numbered: int = -1
    begun: int = 0
    look: Facts = field(default_factory=Facts)
    stands: set[int] = field(default_factory=set)
    _notes: Notes | None = None

    @property
    def notes(self) -> Notes:
        """The notes of the document, read when the first is called."""
        if self._notes is None:
            from .docx_notes import Notes

            self._notes = Notes(self)
        return self._notes

    @property
    def final(self) -> bool:
        """Whether tracked changes are read as accepted."""
        return self.settings.revisions != "original"

    def mute(self) -> None:
        """Set whether text here is left out, from the open fields and the place."""
        hidden = bool(self.fields.open) and self.fields.hidden
        self.line.mute = "docx.field-instruction" if hidden else self.shut

    def deeper(self) -> bool:
        """Go a level down; ``False`` at the limit of nesting (call :meth:`higher` after)."""
        self.depth += 1
        return self.depth <= LIMITS.nesting

    def higher(self) -> None:
        """Come a level up again."""
        self.depth -= 1

    def flat(self, element: etree._Element, path: str, why: str) -> None:
        """Keep the bare words of an element that cannot be walked."""
        if (text := bare_words(element)) and not self.line.mute:
            start = self.ledger.length
            self.line.text(text, Facts(), path)
            self.findings.add("docx.kept-as-words", (start, self.ledger.length), why=why)
        elif text:
            self.line.text(text, Facts(), path)


def bare_words(element: etree._Element) -> str:
    """The words of an element, those of fallback twins left out."""
    parts = []
    for item in element.iter(f"{W}t", f"{M}t"):
        if item.text and next(item.iterancestors(f"{MC}Fallback"), None) is None:
            parts.append(item.text)
    return " ".join(parts)


def speaks(element: etree._Element) -> bool:
    """Whether an element that should print nothing (a property) holds words all the same."""
    return len(element) > 0 and next(element.iter(f"{W}t"), None) is not None


def choose(alternate: etree._Element) -> tuple[int, etree._Element] | None:
    """The branch of an AlternateContent to read, with its place among the children (Part 3).

    The first Choice with content whose namespaces are known here, else the Fallback, else the
    first Choice.
    """
    fallback: tuple[int, etree._Element] | None = None
    first: tuple[int, etree._Element] | None = None
    for at, branch in enumerate(alternate, 1):
        if branch.tag == f"{MC}Choice" and len(branch):
            if all(need in KNOWN_CHOICES for need in branch.get("Requires", "").split()):
                return at, branch
            first = first or (at, branch)
        elif branch.tag == f"{MC}Fallback":
            fallback = fallback or (at, branch)
    return fallback or first
