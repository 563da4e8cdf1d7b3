"""The document tree: frozen nodes that point into the ledger.

Blocks nest; the inlines of a block are one flat tuple of runs, because braille typeform
rules ask "how many words in a row share this typeform?", which is a scan over flat runs.
Every block has a stable ``address`` (see :mod:`convert.document.ledger`), used as its
element id in the trace.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from .choices import Choice
from .inlines import BOLD as BOLD
from .inlines import ITALIC as ITALIC
from .inlines import SCRIPT as SCRIPT
from .inlines import SMALL_CAPS as SMALL_CAPS
from .inlines import STRIKE as STRIKE
from .inlines import SUB as SUB
from .inlines import SUP as SUP
from .inlines import TRANSCRIBER as TRANSCRIBER
from .inlines import TRANSCRIBER_NOTE as TRANSCRIBER_NOTE
from .inlines import TYPEFORM_BITS as TYPEFORM_BITS
from .inlines import UNDERLINE as UNDERLINE
from .inlines import Added as Added
from .inlines import AnswerSpace as AnswerSpace
from .inlines import Inline as Inline
from .inlines import InlineGraphic as InlineGraphic
from .inlines import Inlines as Inlines
from .inlines import LineBreak as LineBreak
from .inlines import LineNumber as LineNumber
from .inlines import MathRun as MathRun
from .inlines import NoteCall as NoteCall
from .inlines import PrintPageTurn as PrintPageTurn
from .inlines import Run as Run
from .ledger import Ledger

# ---------------------------------------------------------------- blocks


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    """A heading.  ``level`` is the printed rank from 1; ``box`` headings keep theirs."""

    level: int
    runs: Inlines
    address: str = ""
    role: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Paragraph:
    """A paragraph.

    ``role``: ``body``, ``blocked``, ``direction``, ``attribution``, ``caption``, ``credit``,
    ``source``, ``displayed``, ``salutation``, ``signature``, ``address``, ``stage-direction``,
    ``label``, ``running-head`` or another word of ``readers/roles.toml``.
    """

    runs: Inlines
    role: str = "body"
    address: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ListItem:
    """An item; ``marker`` is its printed number, letter or bullet (in the ledger)."""

    children: tuple[Block, ...]
    marker: Inlines = ()
    address: str = ""
    role: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ListBlock:
    """A list.  ``kind``: bulleted, numbered, plain, definition.

    ``role``: ``body``, ``exercise``, ``choices``, ``glossary``, ``index``, ``contents``,
    ``bibliography``, ``cast``, ``notes``.  Print page turns may stand between items.
    """

    children: tuple[ListItem | PrintPage, ...]
    kind: str = "plain"
    role: str = "body"
    address: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class VerseLine:
    """A line of verse; ``level`` is its printed indention from 1, ``stanza`` counts from 1,
    ``number`` is the line number printed beside it."""

    runs: Inlines
    level: int = 1
    stanza: int = 1
    address: str = ""
    number: Inlines = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Verse:
    """A poem or a part of one: lines in stanzas; print page turns may stand between lines."""

    children: tuple[VerseLine | PrintPage, ...]
    address: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Speech:
    """A speech of a play or an interview."""

    speaker: Inlines
    children: tuple[Block, ...]
    address: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class TableEntry:
    """One entry of a table.  ``rows`` and ``columns`` are the printed spans."""

    children: tuple[Block, ...]
    head: bool = False
    rows: int = 1
    columns: int = 1
    address: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class TableRow:
    """A row of entries; ``head`` when print repeats it or marks it as column headings."""

    entries: tuple[TableEntry, ...]
    head: bool = False
    address: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A table; ``caption`` blocks are printed with it.  Rows may have print turns between."""

    children: tuple[TableRow | PrintPage, ...]
    caption: tuple[Block, ...] = ()
    role: str = ""
    address: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Displayed:
    """Matter set off in print by space or margins.  ``role``: quotation, epigraph, example."""

    children: tuple[Block, ...]
    role: str = "quotation"
    address: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """Matter boxed in print, or a sidebar (``role``: box, sidebar, notice, tip)."""

    children: tuple[Block, ...]
    role: str = "box"
    address: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Graphic:
    """A picture: alternative text, captions (as children), the resource's name.

    ``decorative`` only when the source says so; ``pages`` are the braille pages that a person
    keeps for a tactile graphic of it.
    """

    alt: Inlines
    resource: str
    children: tuple[Block, ...] = ()
    decorative: bool = False
    pages: int = 0
    address: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class DisplayMath:
    """An expression on a line of its own; the span is its alternative text."""

    start: int
    end: int
    mathml: str
    address: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Footnote:
    """The body of a note.  ``kind``: foot, end.  ``id`` is what a NoteCall targets."""

    id: str
    mark: Inlines
    children: tuple[Block, ...]
    kind: str = "foot"
    address: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class TranscriberNote:
    """A note that reaches the braille reader."""

    children: tuple[Block, ...]
    address: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintPage:
    """Print page ``label`` begins here, between blocks.  ``None``: an unnumbered page."""

    label: str | None
    address: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ContextBreak:
    """A change of scene: an ornament (``runs``) or, with no runs, extra space."""

    runs: Inlines = ()
    address: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """A part of the work.  ``role`` from roles.toml (chapter, glossary, frontmatter...)."""

    children: tuple[Block, ...]
    role: str = ""
    address: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Unknown:
    """Something no rule of the reader covers: its content is kept, a finding names it."""

    children: tuple[Block, ...]
    tag: str
    why: str = ""
    address: str = ""


Block = (
    Heading
    | Paragraph
    | ListBlock
    | Verse
    | Speech
    | Table
    | Displayed
    | Box
    | Graphic
    | DisplayMath
    | Footnote
    | TranscriberNote
    | PrintPage
    | ContextBreak
    | Section
    | Unknown
)
Node = Block | ListItem | VerseLine | TableRow | TableEntry


@dataclass(frozen=True, slots=True)
class Omission:
    """A stretch of the ledger left out of the braille, with the finding kind that says why.

    Example kinds: ``read.hidden-text``, ``read.page-number-text``, ``read.navigation``.
    """

    start: int
    end: int
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Meta:
    """What the source says of itself, for the title page.  Empty where it says nothing."""

    title: str = ""
    subtitle: str = ""
    authors: tuple[str, ...] = ()
    publisher: str = ""
    date: str = ""
    isbn: str = ""
    language: str = ""
    rights: str = ""
    page_source: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Document:
    """A whole work: its tree, its ledger, what was left out and why."""

    ledger: Ledger
    children: tuple[Block, ...]
    meta: Meta = field(default_factory=Meta)
    omissions: tuple[Omission, ...] = ()
    print_pages: tuple[str, ...] = ()
    choices: tuple[Choice, ...] = ()


_CHILDLESS = frozenset((Heading, Paragraph, VerseLine, PrintPage, ContextBreak, DisplayMath))
# The field of a node that holds its own inlines.
INLINES = {Heading: "runs", Paragraph: "runs", VerseLine: "runs", ContextBreak: "runs"}
INLINES |= {ListItem: "marker", Footnote: "mark", Speech: "speaker", Graphic: "alt"}


def children_of(node: object) -> tuple[Node, ...]:
    """The nodes directly inside ``node``, in reading order."""
    kind = type(node)
    if kind in _CHILDLESS:
        return ()
    if isinstance(node, Table):
        return (*node.caption, *node.children)
    if isinstance(node, TableRow):
        return node.entries
    kids: tuple[Node, ...] = getattr(node, "children", ())
    return kids


def inlines_of(node: object) -> Inlines:
    """The inlines that stand directly in ``node`` (its own words, not its children's)."""
    name = INLINES.get(type(node))
    runs: Inlines = getattr(node, name) if name is not None else ()
    return runs


def walk(node: object) -> Iterator[object]:
    """``node`` and everything inside it, parents first, in reading order; never recursive."""
    stack: list[object] = [node]
    while stack:
        here = stack.pop()
        yield here
        stack.extend(reversed(children_of(here)))


def text_of(inlines: Inlines, ledger: Ledger) -> str:
    """The words of some inlines as plain text; a line break reads as a space."""
    parts: list[str] = []
    for inline in inlines:
        match inline:
            case Added(text=text):
                parts.append(text)
            case LineBreak():
                parts.append(" ")
            case PrintPageTurn():
                pass
            case _:
                parts.append(ledger.text[inline.start : inline.end])
    return "".join(parts)
