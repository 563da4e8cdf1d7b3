"""List numbers and letters, which a Word document does not hold as text: they are computed.

Rules: ISO/IEC 29500-1, 17.9; counters belong to the abstract definition, and a start override
restarts its level the first time that numbering is used (17.9.27); a level restarts after any
higher level unless ``lvlRestart`` says otherwise (17.9.11).
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from lxml import etree

from ..findings import Findings
from .docx_formats import format_number
from .docx_names import VAL, W, is_on, number
from .docx_paragraph_style import ParagraphStyle, read_paragraph
from .docx_styles import Styles, looks_of
from .docx_symbols import boxes, from_font, has_no_sign, is_private

Counts = dict[int, int | None]
_PLACE = re.compile(r"%([1-9])")


@dataclass(slots=True)
class Level:
    """One level of a numbering definition; ``indent`` in twips."""

    start: int = 1
    form: str = "decimal"
    text: str = ""
    restart: int | None = None
    legal: bool = False
    font: str = ""
    picture: bool = False
    caps: bool = False
    hidden: bool = False
    indent: int = 0
    bullet: Mark | None = None


@dataclass(slots=True)
class Definition:
    """An abstract numbering definition."""

    levels: dict[int, Level] = field(default_factory=dict)


@dataclass(slots=True)
class Story:
    """What was counted in one story: the body, the notes of a kind, the text boxes.  ``counts``:
    the counters of each definition (``None``: not used yet); ``seen``: the numberings used."""

    seen: set[int] = field(default_factory=set)
    counts: dict[str, Counts] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Mark:
    """A computed mark.  ``kind``: numbered, bulleted or plain; ``list_id``: which list."""

    text: str
    kind: str
    list_id: str
    level: int
    indent: int
    box: str = ""


class Numbers:
    """Numbering of one document.  Each call of :meth:`mark` counts one paragraph of the story
    that was last entered."""

    __slots__ = ("_findings", "_numbers", "_stories", "_story", "_styles", "story")

    def __init__(self, root: etree._Element | None, styles: Styles, findings: Findings) -> None:
        self._findings = findings
        self._styles = styles
        self.story = ""
        self._story = Story()
        self._stories = {"": self._story}
        self._numbers: dict[int, tuple[str, Definition, dict[int, int], dict[int, Level]]] = {}
        if root is not None:
            self._read(root)

    def _read(self, root: etree._Element) -> None:
        elements = {e.get(f"{W}abstractNumId", ""): e for e in root.iter(f"{W}abstractNum")}
        nums = {number(e.get(f"{W}numId")): e for e in root.iter(f"{W}num")}
        definitions: dict[str, Definition] = {}
        for num_id, num in nums.items():
            name = self._follow(_child_value(num, "abstractNumId"), elements, nums)
            for row in elements[name].iter(f"{W}lvl") if name in elements else ():
                if style := _child_value(row, "pStyle"):
                    self._styles.levels[num_id, style] = number(row.get(f"{W}ilvl"))
        for num_id, num in nums.items():
            name = self._follow(_child_value(num, "abstractNumId"), elements, nums)
            if name not in elements:
                continue
            if name not in definitions:
                levels = _levels(elements[name])
                definitions[name] = Definition(levels)
            starts: dict[int, int] = {}
            own: dict[int, Level] = {}
            for over in num.iter(f"{W}lvlOverride"):
                ilvl = number(over.get(f"{W}ilvl"))
                if (start := over.find(f"{W}startOverride")) is not None:
                    starts[ilvl] = number(start.get(VAL), 1)
                if (level := over.find(f"{W}lvl")) is not None:
                    own[ilvl] = _level(level)
                    own[ilvl].restart = None  # ignored inside an override by the word processor
            self._numbers[num_id] = (name, definitions[name], starts, own)

    def enter(self, story: str) -> str:
        """Count in another story from here; returns the one that was left."""
        before, self.story = self.story, story
        self._story = self._stories.setdefault(story, Story())
        return before

    def _follow(
        self, name: str, elements: dict[str, etree._Element], nums: dict[int, etree._Element]
    ) -> str:
        """Through ``numStyleLink`` to the definition that has the levels."""
        for _ in range(10):
            link = elements[name].find(f"{W}numStyleLink") if name in elements else None
            style = self._styles.element(link.get(VAL, "")) if link is not None else None
            given = style.find(f"{W}pPr/{W}numPr/{W}numId") if style is not None else None
            num = nums.get(number(given.get(VAL))) if given is not None else None
            if num is None:
                return name
            name = _child_value(num, "abstractNumId")
        return name

    def mark(self, num_id: int, ilvl: int) -> Mark | None:
        """Count a paragraph and return what print shows before it; ``None`` without numbering."""
        found = self._numbers.get(num_id)
        if found is None:
            if num_id > 0:
                self._findings.add("docx.number-missing", name=str(num_id))
            return None
        name, definition, starts, own = found
        level = own.get(ilvl) or definition.levels.get(ilvl)
        if level is None:
            self._findings.add("docx.number-missing", name=f"{num_id}, level {ilvl + 1}")
            return None
        counts = self._story.counts.setdefault(name, {})
        if num_id not in self._story.seen:
            self._story.seen.add(num_id)
            for at in starts:
                counts[at] = None
        before = counts.get(ilvl)
        counts[ilvl] = starts.get(ilvl, level.start) if before is None else before + 1
        for deeper in range(ilvl + 1, 9):
            lower = definition.levels.get(deeper)
            limit = lower.restart if lower is not None else None
            if limit is None or (limit > 0 and ilvl < limit):
                counts[deeper] = None
        return self._show(name, level, ilvl, (counts, starts, definition, own))

    def _show(
        self,
        name: str,
        level: Level,
        ilvl: int,
        state: tuple[Counts, dict[int, int], Definition, dict[int, Level]],
    ) -> Mark | None:
        counts, starts, definition, own = state
        if level.hidden:
            return None
        if level.form == "bullet" or level.picture:
            if level.bullet is None:
                text, box = self._bullet(level)
                level.bullet = Mark(text, "bulleted", name, ilvl, level.indent, box)
            return level.bullet

        def shown(match: re.Match[str]) -> str:
            at = int(match[1]) - 1
            other = own.get(at) or definition.levels.get(at) or Level()
            value = counts.get(at)
            if value is None:
                value = starts.get(at, other.start)
            form = "decimal" if level.legal else other.form
            text = format_number(value, form)
            if text is None:
                self._findings.add("docx.number-format", form=form)
                return str(value)
            return text

        text = _PLACE.sub(shown, level.text)
        if level.caps:
            text = text.upper()
        kind = "numbered" if text.strip() else "plain"
        return Mark(text, kind, name, ilvl, level.indent)

    def _bullet(self, level: Level) -> tuple[str, str]:
        if level.picture:
            return "•", ""
        out = ""
        for ch in level.text:
            shown = from_font(ord(ch), level.font) or ch
            if shown == "o" and level.font.lower().startswith("courier"):
                shown = "◦"
            if has_no_sign(shown):
                self._findings.add("docx.bullet", font=level.font or "no font", code=_code(ch))
                shown = "•"
            elif is_private(shown):
                shown = from_font(ord(ch), "symbol") or from_font(ord(ch), "wingdings") or "•"
                self._findings.add("docx.bullet", font=level.font or "no font", code=_code(ch))
            out += shown
        box = boxes().get(out.strip(), "")
        return out, "check" if box == "either" else box


def _code(ch: str) -> str:
    return f"{ord(ch):04X}"


def _child_value(element: etree._Element, name: str) -> str:
    child = element.find(f"{W}{name}")
    return child.get(VAL, "") if child is not None else ""


def _levels(element: etree._Element) -> dict[int, Level]:
    return {number(e.get(f"{W}ilvl")): _level(e) for e in element.iter(f"{W}lvl")}


def _level(element: etree._Element) -> Level:
    level = Level()
    for child in element:
        value = child.get(VAL)
        tag = child.tag
        if tag == f"{W}start":
            level.start = number(value, 1)
        elif tag == f"{W}numFmt":
            level.form = value or "decimal"
        elif tag == f"{W}lvlText":
            level.text = value or ""
        elif tag == f"{W}lvlRestart":
            level.restart = min(7, number(value))
        elif tag == f"{W}isLgl":
            level.legal = is_on(value)
        elif tag == f"{W}lvlPicBulletId":
            level.picture = True
        elif tag == f"{W}pPr":
            level.indent = read_paragraph(child, ParagraphStyle()).indent or 0
        elif tag == f"{W}rPr":
            looks = looks_of(child)
            level.font = looks.get("font", "")
            level.caps, level.hidden = looks.get("caps", False), looks.get("hidden", False)
    return level
