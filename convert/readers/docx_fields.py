"""Fields: the instruction is never print, the cached result is (ISO/IEC 29500-1, 17.16).

A complex field is a bracket of ``w:fldChar`` marks that may nest and may span paragraphs.
Form fields keep their data in ``w:ffData``; a check box and a drop-down have no result text.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from lxml import etree

from .docx_names import VAL, W, is_on, number

FORM_KINDS = ("FORMTEXT", "FORMCHECKBOX", "FORMDROPDOWN")
_DEEPEST = 50


@dataclass(frozen=True, slots=True)
class FormData:
    """What a form field says of itself.  ``value``: ticked for a box, shown for a drop-down."""

    name: str = ""
    kind: str = ""
    ticked: bool = False
    choices: tuple[str, ...] = ()
    shown: str = ""


@dataclass(slots=True)
class Field:
    """An open field.  ``at``: how many inlines of ``owner`` stood before its result, ``heard``
    how many pieces of text had been said in the paragraph, and ``since`` where its result begins
    in the ledger; ``drawn``: its result has a picture or a field without words."""

    instruction: list[str] = field(default_factory=list)
    in_result: bool = False
    form: FormData | None = None
    owner: object = None
    at: int = 0
    heard: int = 0
    since: int = 0
    drawn: bool = False

    @property
    def name(self) -> str:
        """The first word of the instruction in capitals."""
        words = "".join(self.instruction).split(None, 1)
        return words[0].upper() if words else ""

    @property
    def is_form(self) -> bool:
        """Whether it is a form field."""
        return self.form is not None or self.name in FORM_KINDS


class Fields:
    """The fields open at a place of one story."""

    __slots__ = ("open",)

    def __init__(self) -> None:
        self.open: list[Field] = []

    def begin(self, mark: etree._Element | None) -> None:
        """A field opens; ``mark`` is its ``w:fldChar``."""
        if len(self.open) < _DEEPEST:
            data = mark.find(f"{W}ffData") if mark is not None else None
            self.open.append(Field(form=form_data(data) if data is not None else None))

    def tell(self, text: str) -> None:
        """A piece of instruction."""
        if self.open:
            self.open[-1].instruction.append(text)

    def separate(self, owner: object, at: int, heard: int, since: int) -> None:
        """The instruction ends, the result begins."""
        if self.open:
            here = self.open[-1]
            here.in_result, here.owner, here.at, here.heard = True, owner, at, heard
            here.since = since

    def draw(self) -> None:
        """Something without words stands here."""
        for here in self.open:
            here.drawn = True

    def end(self) -> Field | None:
        """A field closes; ``None`` where none is open (a damaged file)."""
        return self.open.pop() if self.open else None

    @property
    def hidden(self) -> bool:
        """Whether text here belongs to an instruction, so is not print."""
        return any(not here.in_result for here in self.open)

    def inside(self, name: str) -> bool:
        """Whether the place is inside the result of a field of that name."""
        return any(here.name == name for here in self.open)

    def abandon(self) -> int:
        """Close fields whose instruction does not end in its paragraph; how many there were."""
        broken = [here for here in self.open if not here.in_result]
        if broken:
            self.open = [here for here in self.open if here.in_result]
        return len(broken)


def form_data(data: etree._Element) -> FormData:
    """Read ``w:ffData``: the name, the state of a box, the entries of a drop-down."""
    name = _value(data, "name")
    box = data.find(f"{W}checkBox")
    if box is not None:
        state = box.find(f"{W}checked")
        if state is None:
            state = box.find(f"{W}default")
        ticked = state is not None and is_on(state.get(VAL))
        return FormData(name, "FORMCHECKBOX", ticked)
    drop = data.find(f"{W}ddList")
    if drop is not None:
        choices = tuple(e.get(VAL, "") for e in drop.iter(f"{W}listEntry"))
        at = number(_value(drop, "result") or _value(drop, "default"))
        shown = choices[at] if 0 <= at < len(choices) else ""
        return FormData(name, "FORMDROPDOWN", False, choices, shown)
    return FormData(name, "FORMTEXT")


def _value(element: etree._Element, name: str) -> str:
    child = element.find(f"{W}{name}")
    return (child.get(VAL) or "") if child is not None else ""
