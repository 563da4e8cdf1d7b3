"""Walk a content document: elements to blocks, text to the ledger, in reading order.

One walker goes through all documents of the spine.  ``text`` is the paragraph being read and
``out`` the list that finished blocks go to; a handler for a container swaps ``out`` for a new
list while its children are read (:meth:`Walker.collect`).  Handlers live in the ``xhtml_*``
modules, one function for each word of the table [elements] in roles.toml.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from lxml import etree

from ..document.ledger import LedgerBuilder
from ..document.nodes import (
    Block,
    DisplayMath,
    Heading,
    InlineGraphic,
    Inlines,
    MathRun,
    Omission,
    Paragraph,
    PrintPage,
    PrintPageTurn,
    Run,
    Speech,
)
from ..findings import Findings
from .css_counters import Counters, steps_of
from .limits import LIMITS
from .looks import Look, changed, tell
from .open_text import SPACE, OpenText, texts
from .opf import Book
from .plans import Plan, Planner, local_name
from .roles import INLINE_DOES, element_does, language_of
from .walked import Described, OpenLine, picture_block

XML_LANG = "{http://www.w3.org/XML/1998/namespace}lang"
MAX_DEPTH = 100
# The variant of a language tag for print in the International Phonetic Alphabet (BCP 47).
PHONETIC = "fonipa"
_NO_ATTRS: dict[str, str] = {}


class Here(NamedTuple):
    """An element being handled: its plan, attributes, EPUB CFI steps, and the look around it."""

    element: etree._Element
    plan: Plan
    attrs: dict[str, str]
    path: str
    look: Look


Handler = Callable[["Walker", Here], None]


@dataclass(slots=True)
class Around:
    """What containers tell the blocks inside them."""

    make: tuple[Any, ...] = ("paragraph", "body")
    textual: bool = False
    list_role: str = ""
    list_depth: int = 0
    drama: bool = False
    verse: bool = False
    stanza: int = 0
    stanza_paragraph: int = 0
    numbering: Any = None
    in_table: str = ""
    in_head: bool = False
    hgroup: int = 0
    headed: tuple[int, ...] = (0,)


@dataclass(slots=True)
class Walker:
    """The state of reading one EPUB."""

    book: Book
    findings: Findings
    ledger: LedgerBuilder
    handlers: dict[str, Handler]
    language: str = ""
    part: str = ""
    planner: Planner = field(default_factory=lambda: Planner(None))
    watched: frozenset[str] = frozenset()
    text: OpenText = field(init=False)
    out: list[Any] = field(default_factory=list)
    omissions: list[Omission] = field(default_factory=list)
    address: str = ""
    around: Around = field(default_factory=Around)
    depth: int = 0
    nest: int = 0
    quotes: int = 0
    page_targets: dict[tuple[str, str], str] = field(default_factory=dict)
    pages: list[tuple[str, str | None]] = field(default_factory=list)
    note_blocks: dict[Any, str] = field(default_factory=dict)
    note_calls: dict[Any, str] = field(default_factory=dict)
    call_texts: dict[str, str] = field(default_factory=dict)
    classed_notes: set[str] = field(default_factory=set)
    counters: Counters = field(default_factory=Counters)
    decimal: dict[str, bool] = field(default_factory=dict)
    personas: set[str] = field(default_factory=set)
    speaker: tuple[Inlines, str] | None = None
    pictures: list[tuple[int, int]] = field(default_factory=list)
    described: Described = field(default_factory=Described)

    def __post_init__(self) -> None:
        self.text = OpenText(self.ledger)

    # ------------------------------------------------------------ parts

    def read_part(self, part: str, root: etree._Element, planner: Planner) -> list[Block]:
        """The blocks of one content document."""
        self.part = self.text.part = part
        self.planner, self.watched = planner, planner.watched
        self.around = Around()
        if (part, "") in self.page_targets:
            self.turn_page(self.page_targets[part, ""], "", "list")
        look = self.look_in(root, dict(root.items()), Look())
        if local_name(str(root.tag)) == "html":
            self._read_html(root, look)
        else:
            attrs = dict(root.items())
            self.visit(root, planner.plan(root, str(root.tag), attrs), attrs, "", look)
        self.flush()
        if self.speaker:
            self.out.append(self._speech())
        out, self.out = self.out, []
        return out

    def _read_html(self, root: etree._Element, look: Look) -> None:
        """The body; text beside it is no part of the page and is told."""
        self._stray(root.text, "/1")
        for at, child in enumerate(root, 1):
            path = f"/{2 * at}"
            attrs = dict(child.items())
            self.visit(child, self.plan_of(self.planner.root, child, attrs), attrs, path, look)
            self.flush()
            self._stray(child.tail, f"/{2 * at + 1}")

    def _stray(self, raw: str | None, path: str) -> None:
        if raw and raw.strip(SPACE):
            self.ledger.end_block()
            words = " ".join(raw.split())
            span = self.ledger.add(words, self.part, path, len(raw) - len(raw.lstrip(SPACE)))
            self.omissions.append(Omission(*span, "read.stray-text"))
            known = words[:40] if len(words) <= 40 else f"{words[:39]}…"
            self.findings.add("read.stray-text", span, words=known)
            self.ledger.end_block()

    # ------------------------------------------------------------ walking

    def walk(self, element: etree._Element, plan: Plan, path: str, look: Look) -> None:
        """Read the text and children of an element."""
        if self.depth >= MAX_DEPTH:
            self._flatten(element, path, look)
            return
        self.depth += 1
        text = self.text
        if raw := element.text:
            text.add(raw, f"{path}/1", look)
        kids = plan.kids
        opened = self.counters.mark()
        step = 0
        for child in element:
            step += 2
            if items := child.items():
                attrs = dict(items)
                kid = self.plan_of(plan, child, attrs)
            else:
                attrs = _NO_ATTRS
                found = kids.get(child.tag)
                if found is None or found.positional:
                    found = self.plan_of(plan, child, attrs)
                kid = found
            if attrs or not kid.simple:
                self.visit(child, kid, attrs, f"{path}/{step}", look)
            elif not len(child) and self.depth < MAX_DEPTH:
                if raw := child.text:
                    text.add(raw, f"{path}/{step}/1", self.look_of(kid, look))
            else:
                self.walk(child, kid, f"{path}/{step}", self.look_of(kid, look))
            if raw := child.tail:
                text.add(raw, f"{path}/{step + 1}", look)
        self.counters.leave(opened)
        self.depth -= 1

    def plan_of(self, plan: Plan, child: etree._Element, attrs: dict[str, str]) -> Plan:
        """The plan of a child of an element of ``plan``, made when first met."""
        key: Any = child.tag
        if attrs and not self.watched.isdisjoint(attrs):
            key = self.planner.key(key, attrs)
        kid = plan.kids.get(key)
        if kid is None:
            kid = plan.kids[key] = self.planner.plan(child, str(child.tag), attrs)
        return self.planner.variant(kid, child, attrs) if kid.positional else kid

    def visit(
        self, element: etree._Element, plan: Plan, attrs: dict[str, str], path: str, look: Look
    ) -> None:
        """Handle one element."""
        if self.described.apart and element in self.described.apart:
            return
        if "lang" in attrs or XML_LANG in attrs:
            look = self.look_in(element, attrs, look)
        if self.page_targets and "id" in attrs and plan.do != "page":
            label = self.page_targets.get((self.part, attrs["id"]))
            if label is not None:
                self.turn_page(label, path, "list")
        do = plan.do
        if plan.counts and do != "drop":
            self.counters.enter(plan.counts)
        if self.note_blocks and element in self.note_blocks:
            do = "note"
        elif self.note_calls and element in self.note_calls:
            do = "call"
        start = self.ledger.length
        self.handlers[do](self, Here(element, plan, attrs, path, look))
        if plan.told[0]:
            tell(self.findings, plan.told, (start, self.ledger.length))
        if attrs.get("aria-hidden") == "true" and do != "drop" and self.ledger.length > start:
            self.findings.add("read.aria-hidden", (start, self.ledger.length))

    def inside(self, here: Here) -> None:
        """Read the children of an element in the look its plan gives."""
        look = self.look_of(here.plan, here.look)
        if here.plan.before:
            self.content(here, "before", look)
        self.walk(here.element, here.plan, here.path, look)
        if here.plan.after:
            self.content(here, "after", look)

    def collect(self, here: Here, around: Around | None = None) -> list[Any]:
        """The blocks inside a container; ``around`` is what they are told meanwhile."""
        self.flush()
        kept_out, kept_around, self.out = self.out, self.around, []
        if around is not None:
            self.around = around
        self.address = ""
        self.nest += 1
        self.inside(here)
        self.flush()
        self.nest -= 1
        out, self.out, self.around = self.out, kept_out, kept_around
        return out

    def too_deep(self) -> bool:
        """Whether one more container would nest beyond the limit; then its content stays flat."""
        if self.nest < LIMITS.nesting:
            return False
        self.findings.add("read.nested-too-deep", part=self.part, number=LIMITS.nesting)
        return True

    def _flatten(self, element: etree._Element, path: str, look: Look) -> None:
        start = self.ledger.length
        for tag, raw, where in texts(element, path):
            if element_does(local_name(tag)) not in INLINE_DOES:
                self.flush()
            self.text.add(raw, where, look)
        span = (start, self.ledger.length)
        self.findings.add("read.nested-too-deep", span, part=self.part, number=MAX_DEPTH)

    # ------------------------------------------------------------ looks

    def look_of(self, plan: Plan, look: Look) -> Look:
        """The look inside an element of this plan."""
        kid = look.kids.get(plan)
        if kid is None:
            kid = look.kids[plan] = changed(plan, look)
        return kid

    def look_in(self, element: etree._Element, attrs: dict[str, str], look: Look) -> Look:
        """The look with the language an element gives [HTML, 3.2.6.2: xml:lang wins]."""
        lang = attrs.get(XML_LANG, attrs.get("lang"))
        if lang is None:
            return look
        lang = language_of(lang)
        own = lang.partition("-")[0] == self.language.partition("-")[0].lower()
        if own and PHONETIC not in lang.split("-"):
            lang = ""
        if lang == look.lang:
            return look
        kid = look.kids.get(lang)
        if kid is None:
            kid = Look(look.typeform, lang, look.voice, look.transform, look.pre)
            look.kids[lang] = kid
        return kid

    # ------------------------------------------------------------ text

    def content(self, here: Here, pseudo: str, look: Look) -> None:
        """Generated content of a style sheet [CSS Generated Content 3, 1]."""
        look = self.look_of(here.plan.letters.get(pseudo, here.plan), look)
        for kind, value in getattr(here.plan, pseudo):
            if kind in ("text", "attr"):
                words = value if kind == "text" else here.attrs.get(value, "")
                self.text.generate(words.replace("\n", " "), here.path, look)
            elif kind == "quote":
                opens = value == "open-quote"
                self.quotes += 0 if opens else -1
                pair = "“”" if self.quotes % 2 == 0 else "‘’"
                self.quotes += 1 if opens else 0
                if not value.startswith("no-"):
                    self.text.generate(pair[0] if opens else pair[1], here.path, look)
            elif kind.startswith("counter-"):
                self.counters.enter(steps_of({kind: value}))
            elif kind == "other" or (words := self.counters.text(kind, value)) is None:
                self.findings.add("read.computed-content", part=self.part, words=value)
            else:
                self.text.generate(words, here.path, look)

    def flush(self) -> None:
        """End the open paragraph and make its block; descriptions of its pictures follow."""
        if self.text.runs:
            self._make_block()
        else:
            self.text.bare, self.text.pending_break = True, False
        if self.described.owed and not self.around.verse:
            self.described.read(self)

    def _make_block(self) -> None:
        runs, first = self.text.take()
        if not runs:
            return
        address = self.address or f"{self.part}!{first}"
        self.address = ""
        self.ledger.end_block()
        if type(runs[0]) is not Run and self._flush_lone(runs, address):
            return
        kind, *details = self.around.make
        if kind == "paragraph":
            block = Paragraph(runs=runs, role=details[0], address=address)
            self.out.append(self._speech(block) if self.speaker else block)
        elif kind == "heading":
            level, role = details
            self.out.append(Heading(level=level, runs=runs, role=role, address=address))
        else:
            around = self.around
            stanza = (around.stanza, around.stanza_paragraph)
            self.out.append(OpenLine(runs, details[0], stanza, address))

    def _speech(self, *words: Paragraph) -> Speech:
        """The open speaker with the paragraph of its words."""
        assert self.speaker is not None
        (runs, address), self.speaker = self.speaker, None
        return Speech(speaker=runs, children=words, address=address)

    def _flush_lone(self, runs: Inlines, address: str) -> bool:
        """Pictures, page turns or an expression alone in a paragraph become blocks."""
        if len(runs) == 1 and isinstance(run := runs[0], MathRun):
            self.out.append(
                DisplayMath(start=run.start, end=run.end, mathml=run.mathml, address=address)
            )
            return True
        if all(isinstance(run, InlineGraphic | PrintPageTurn) for run in runs):
            for at, run in enumerate(runs):
                where = f"{address}:{at}" if at else address
                if isinstance(run, PrintPageTurn):
                    self.out.append(PrintPage(label=run.label, address=where))
                elif isinstance(run, InlineGraphic):
                    self.out.append(picture_block(run, where))
            return True
        return False

    def omit(self, here: Here, kind: str) -> None:
        """Put an element's text into the ledger and leave it out of the tree, as ``kind`` says."""
        if not here.element.text and not len(here.element):
            return
        self.ledger.end_block()
        start = self.ledger.length
        for _, raw, where in texts(here.element, here.path, self.described.apart):
            if words := " ".join(raw.strip(SPACE).split()):
                gap = " " if raw[:1] in SPACE and self.ledger.length > start else ""
                self.ledger.add(gap + words, self.part, where, len(raw) - len(raw.lstrip(SPACE)))
        if self.ledger.length > start:
            span = (start, self.ledger.length)
            self.omissions.append(Omission(*span, kind))
            self.findings.add(kind, span)
            self.ledger.end_block()

    def turn_page(self, label: str | None, path: str, how: str) -> None:
        """Print page ``label`` begins here; the same page named twice in a row counts once."""
        if self.pages and label is not None and self.pages[-1][1] == label:
            if self.pages[-1][0] != how:
                return
            self.findings.add("read.page-repeated", page=label)
            return
        self.pages.append((how, label))
        if self.text.runs or self.around.textual:
            self.text.put(PrintPageTurn(label), path)
        else:
            where = f"{self.part}!{path}" + (":page" if how == "list" else "")
            self.out.append(PrintPage(label=label, address=where))
