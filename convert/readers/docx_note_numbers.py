"""The numbers of notes: their format, first number and restart, by section and page.

ISO/IEC 29500-1, 17.11: ``footnotePr`` and ``endnotePr`` in the settings, and in the properties of
each section, which stand at its end.  Where a page begins is only what the word processor has
recorded (17.3.3.13).
"""

from __future__ import annotations

from typing import NamedTuple

from lxml import etree

from .docx_formats import format_number
from .docx_names import ID, VAL, W, number

_FORMS = {"footnote": "decimal", "endnote": "lowerRoman"}
_SECTION, _PARAGRAPH, _PAGE = f"{W}sectPr", f"{W}p", f"{W}lastRenderedPageBreak"
_CALLS = {f"{W}footnoteReference": "footnote", f"{W}endnoteReference": "endnote"}


class Rule(NamedTuple):
    """How the notes of a section are numbered; ``restart``: continuous, eachSect or eachPage."""

    form: str
    start: int = 1
    restart: str = "continuous"


class NoteNumbers:
    """Numbers of one kind of notes, given in the order in which the text calls them."""

    __slots__ = ("_count", "_last", "_places", "_rules", "pages")

    def __init__(self, kind: str, root: etree._Element, settings: etree._Element | None) -> None:
        base = _rule(settings, kind, Rule(_FORMS[kind]))
        sections = list(root.iter(_SECTION))
        self._rules = [_rule(section, kind, base) for section in sections] or [base]
        self._places: dict[str, tuple[int, int]] = {}
        self._last = (0, 0)
        self._count = 0
        self.pages = 0
        if len(set(self._rules)) > 1 or self._rules[0].restart != "continuous":
            self._find(kind, root)

    @property
    def by_page(self) -> bool:
        """Whether print numbers the notes of some section anew on each page."""
        return any(rule.restart == "eachPage" for rule in self._rules)

    def _find(self, kind: str, root: etree._Element) -> None:
        """Section and recorded page of each call."""
        section = page = 0
        ends: etree._Element | None = None
        for element in root.iter(_PARAGRAPH, _SECTION, _PAGE, *_CALLS):
            if element.tag == _PARAGRAPH:
                if ends is not None and not any(up is ends for up in element.iterancestors()):
                    section, ends = section + 1, None
            elif element.tag == _SECTION:
                ends = next(element.iterancestors(_PARAGRAPH), None)
            elif element.tag == _PAGE:
                page += 1
            elif _CALLS[str(element.tag)] == kind:
                self._places.setdefault(element.get(ID, ""), (section, page))
        self.pages = page

    def next(self, name: str) -> str:
        """The number of the note ``name``, as print shows it."""
        here = self._places.get(name, self._last)
        rule = self._rules[min(here[0], len(self._rules) - 1)]
        if (rule.restart == "eachSect" and here[0] != self._last[0]) or (
            rule.restart == "eachPage" and here != self._last
        ):
            self._count = 0
        self._last = here
        value = rule.start + self._count
        self._count += 1
        return format_number(value, rule.form) or str(value)


def _rule(holder: etree._Element | None, kind: str, base: Rule) -> Rule:
    """The rule a section or the settings give, over ``base``."""
    row = holder.find(f"{W}{kind}Pr") if holder is not None else None
    for prop in row if row is not None else ():
        value = prop.get(VAL)
        if prop.tag == f"{W}numFmt" and value:
            base = base._replace(form=value)
        elif prop.tag == f"{W}numStart":
            base = base._replace(start=number(value, base.start))
        elif prop.tag == f"{W}numRestart" and value in ("continuous", "eachSect", "eachPage"):
            base = base._replace(restart=value)
    return base
