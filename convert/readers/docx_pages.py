"""Print pages of a Word document, as far as the file tells (ISO/IEC 29500-1, 17.3.3.13).

The word processor records where it last began a page (``w:lastRenderedPageBreak``).  These
are print pages only if the document itself is the print book, so they are used on request.
"""

from __future__ import annotations

import re

from lxml import etree

from ..document.nodes import PrintPageTurn
from .docx_formats import format_number
from .docx_names import VAL, W, number

# Page labels typed into the text: “[p. 12]”, “Page 12”, “p. xii” (common practice, no source).
_TYPED = re.compile(r"\[?\s*(?:page|pages|pg\.?|p\.|pp\.)\s*([ivxlcdm]{1,8}|[A-Z]?-?\d{1,5})\s*\]?", re.I)  # fmt: skip  # noqa: E501
_LABEL = re.compile(r"[ivxlcdm]{1,8}|[A-Z]?-?\d{1,5}", re.I)
_LONGEST = 24
_FEWEST = 2


def typed_label(text: str, by_style: bool = False) -> str | None:
    """The label of a paragraph that is nothing but a print page mark; ``None`` if it is not."""
    text = " ".join(text.split())
    if not text or len(text) > _LONGEST:
        return None
    match = _TYPED.fullmatch(text)
    if match:
        return match[1]
    bare = text.strip("[]() ")
    return bare if by_style and _LABEL.fullmatch(bare) else None


def _typed_marks(root: etree._Element) -> int:
    """How many paragraphs are nothing but a typed page mark."""
    count = 0
    for paragraph in root.iter(f"{W}p"):
        words = ""
        for item in paragraph.iter(f"{W}t"):
            words += item.text or ""
            if len(words) > _LONGEST:
                break
        count += typed_label(words) is not None
    return count


class Pages:
    """Counts pages while the body is read; ``used`` says whether any mark was met."""

    __slots__ = (
        "_at",
        "_fresh",
        "_number",
        "_sections",
        "counting",
        "on",
        "recorded",
        "turns",
        "typed",
        "used",
    )

    def __init__(self, root: etree._Element, on: bool) -> None:
        self.on = on
        self.used = False
        self.turns = 0
        self.recorded = self.typed = False
        self.counting = on
        self._sections: list[etree._Element] = []
        self._at = 0
        self._number = 0
        self._fresh = True
        if on:
            self.recorded = next(root.iter(f"{W}lastRenderedPageBreak"), None) is not None
            self._sections = list(root.iter(f"{W}sectPr"))
            self.typed = _typed_marks(root) >= _FEWEST
            self.counting = not self.typed

    def first(self) -> str | None:
        """The label of the first page."""
        if not self.counting:
            return None
        self._number = self._start(self._section()) or 1
        return self._label()

    def said(self) -> None:
        """Text was read on the page, so that a second mark here is a second page."""
        self._fresh = False

    def rendered(self) -> PrintPageTurn | None:
        """A recorded page beginning."""
        return self._turn() if self.counting and not self._fresh else None

    def hard(self) -> PrintPageTurn | None:
        """A page break typed by the author, or a paragraph that begins a page."""
        if not self.counting or self._fresh:
            return None
        return self._turn()

    def end_section(self) -> PrintPageTurn | None:
        """The section ends; the next may begin a page and number it anew."""
        if not self.counting:
            return None
        self._at += 1
        section = self._section()
        start = self._start(section)
        kind = section.find(f"{W}type") if section is not None else None
        name = kind.get(VAL, "nextPage") if kind is not None else "nextPage"
        if self._at >= len(self._sections) or name in ("continuous", "nextColumn"):
            return None
        if start is not None:
            self._number = start - 1
            self._fresh = False
        return None if self._fresh else self._turn()

    def how(self, stated: int = 0) -> str:
        """Where the page beginnings come from, in words for the report.  ``stated``: how many
        pages the file says it has."""
        how = "page breaks set by the author only, so pages that ran over are not counted"
        if self.recorded:
            how = "the word processor's record of where pages began"
        if stated and stated != self.turns + 1:
            how += f"; the file says it has {stated}, and {self.turns + 1} begin here"
        if any(kind.get(f"{W}chapStyle") for kind in self._kinds()):
            how += "; print has the number of the chapter before them, which is left out here"
        return how

    def _kinds(self) -> list[etree._Element]:
        found = (section.find(f"{W}pgNumType") for section in self._sections)
        return [kind for kind in found if kind is not None]

    def _turn(self) -> PrintPageTurn:
        self.used = True
        self.turns += 1
        self._fresh = True
        self._number += 1
        return PrintPageTurn(self._label())

    def _section(self) -> etree._Element | None:
        return self._sections[self._at] if self._at < len(self._sections) else None

    def _start(self, section: etree._Element | None) -> int | None:
        kind = section.find(f"{W}pgNumType") if section is not None else None
        start = kind.get(f"{W}start") if kind is not None else None
        return None if start is None else number(start, 1)

    def _label(self) -> str:
        section = self._section()
        kind = section.find(f"{W}pgNumType") if section is not None else None
        form = kind.get(f"{W}fmt", "decimal") if kind is not None else "decimal"
        return format_number(self._number, form) or str(self._number)
