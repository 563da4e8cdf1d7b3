"""Footnotes and endnotes: numbers computed, bodies read where the text calls them.

ISO/IEC 29500-1, 17.11: the number is not in the text; its format and restart stand in the
settings and in each section.
"""

from __future__ import annotations

from lxml import etree

from ..document.nodes import SUP, Footnote, Inlines, NoteCall, Run
from .docx_fields import Fields
from .docx_names import ID, VAL, W, is_on
from .docx_note_numbers import NoteNumbers
from .docx_walk import Later, Walk, speaks

_BY_RECORD = "the numbers here follow the word processor's record of its pages"
_THROUGH = "here they are numbered through, as the file has no record of its pages"
_PSTYLE = f"{W}pPr/{W}pStyle"
_MACHINE = ("separator", "continuationSeparator", "continuationNotice")


class Notes:
    """The notes of both kinds; ``left`` lists those that nothing has called yet."""

    __slots__ = ("_bodies", "_marks", "_numbers", "_parts", "_walk", "left")

    def __init__(self, walk: Walk) -> None:
        self._walk = walk
        self._bodies: dict[tuple[str, str], tuple[etree._Element, str]] = {}
        self._parts: dict[str, str] = {}
        self._marks: dict[tuple[str, str], str] = {}
        self._numbers: dict[str, NoteNumbers] = {}
        self.left: dict[tuple[str, str], None] = {}
        for kind in ("footnote", "endnote"):
            self._load(kind)

    def _load(self, kind: str) -> None:
        found = self._walk.parts.linked(f"{kind}s")
        if found is None:
            return
        self._parts[kind], root = found
        for at, note in enumerate(root, 1):
            known = note.tag == f"{W}{kind}" or speaks(note)
            if known and note.get(f"{W}type") not in _MACHINE:
                key = (kind, note.get(ID, f"number {at}"))
                self._bodies[key] = (note, f"/{2 * at}")
                self.left[key] = None
        settings = self._walk.parts.linked("settings")
        numbers = NoteNumbers(kind, self._walk.root, settings[1] if settings else None)
        self._numbers[kind] = numbers
        if numbers.by_page:
            how = _BY_RECORD if numbers.pages else _THROUGH
            self._walk.findings.add("docx.note-restart", notes=kind, how=how)

    def call(self, element: etree._Element, kind: str, path: str) -> None:
        """A reference in the text: a NoteCall in the line, the body later."""
        walk, key = self._walk, (kind, element.get(ID, ""))
        if walk.line.mute:
            if walk.line.mute != "docx.field-instruction":  # a field may lack its end by mistake
                self.left.pop(key, None)
            return
        own = is_on(element.get(f"{W}customMarkFollows", "0"))
        mark = self._marks.get(key)
        if mark is None:
            mark = "" if own else self._next(kind, key[1])
            self._marks[key] = mark
            if key in self._bodies:
                walk.later.append(Later("note", self._bodies[key][0], kind, key[1]))
        start, end = walk.ledger.length, walk.ledger.length
        if mark:
            start, end = walk.ledger.add(mark, walk.line.part, path, 0, "generated")
        walk.line.put(NoteCall(start, end, note_id(*key)))

    def _next(self, kind: str, name: str) -> str:
        if kind not in self._numbers:
            self._numbers[kind] = NoteNumbers(kind, self._walk.root, None)
        return self._numbers[kind].next(name)

    def body(self, kind: str, name: str) -> list[Footnote]:
        """The body of a note, read once."""
        from .docx_blocks import blocks

        key = (kind, name)
        if key not in self._bodies or key not in self.left:
            return []
        del self.left[key]
        walk = self._walk
        element, path = self._bodies[key]
        part, fields, odd = walk.line.part, walk.fields, walk.line.odd
        walk.line.part, walk.fields = self._parts[kind], Fields()
        walk.line.odd = True
        mark: Inlines = ()
        if text := self._marks.get(key, ""):
            start, end = walk.ledger.add(text, walk.line.part, path, 0, "generated")
            walk.ledger.add(" ", walk.line.part, path, 0, "generated")
            mark = (Run(start, end, _level(walk, element) if text.isalnum() else 0),)
        address = f"{walk.line.part}!{path}"
        story = walk.numbers.enter(kind)
        children = blocks(walk, element, path)
        walk.numbers.enter(story)
        walk.ledger.end_block()
        walk.line.part, walk.fields, walk.line.odd = part, fields, odd
        short = "foot" if kind == "footnote" else "end"
        return [
            Footnote(id=note_id(*key), mark=mark, children=children, kind=short, address=address)
        ]

    def rest(self) -> list[Footnote]:
        """Notes nothing calls; print does not show them, so they stand at the end, reported."""
        out: list[Footnote] = []
        for kind, name in list(self.left):
            if any(item.text for item in self._bodies[kind, name][0].iter(f"{W}t")):
                out.extend(self.body(kind, name))
        return out


def _level(walk: Walk, note: etree._Element) -> int:
    """``SUP`` where print raises the note's own number or letter, as its call is raised (BF 16:
    marks follow print); also where the note gives it no place, so that it is like its call."""
    here = next(note.iter(f"{W}footnoteRef", f"{W}endnoteRef"), None)
    if here is None:
        return SUP
    named = next((s for up in here.iterancestors(f"{W}p") for s in up.iterfind(_PSTYLE)), None)
    style_id = "" if named is None else named.get(VAL, "")
    run = here.getparent()
    return walk.styles.facts(style_id, None if run is None else run.find(f"{W}rPr")).typeform & SUP


def note_id(kind: str, name: str) -> str:
    """The id that ties a NoteCall to its Footnote."""
    return f"{kind}-{name}"
