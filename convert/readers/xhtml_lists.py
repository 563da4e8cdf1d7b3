"""Lists with the numbers, letters and bullets print shows; definition lists; notes in lists."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import Any

from ..document.ledger import GENERATED
from ..document.nodes import Footnote, Heading, ListBlock, ListItem, Paragraph, PrintPage, Section
from .plans import local_name
from .xhtml import Handler, Here, Walker
from .xhtml_blocks import address_of, flow, fresh, run_of

_TYPES = {"1": "decimal", "a": "lower-alpha", "A": "upper-alpha"}
_TYPES |= {"i": "lower-roman", "I": "upper-roman"}
_BULLETS = {"disc": "•", "circle": "◦", "square": "▪"}
_ROMAN = (
    (1000, "m"), (900, "cm"), (500, "d"), (400, "cd"), (100, "c"), (90, "xc"), (50, "l"),
    (40, "xl"), (10, "x"), (9, "ix"), (5, "v"), (4, "iv"), (1, "i"),
)  # fmt: skip
_KNOWN = frozenset((*_BULLETS, *_TYPES.values(), "none", "decimal-leading-zero"))
_KNOWN |= {"lower-latin", "upper-latin"}
_BULLETED = ("ul", "menu", "dir")
_WHOLE = re.compile(r"-?\d{1,9}")


@dataclass(slots=True)
class Numbering:
    """The count of a list: the number the next item gets, and the step to the one after."""

    style: str
    value: int = 1
    step: int = 1


def marker_text(style: str, value: int) -> str:
    """What print shows before an item [CSS Counter Styles 3, 6]; empty for none."""
    if style in ("", "none"):
        return ""
    if style in _BULLETS:
        return _BULLETS[style]
    if style.startswith(('"', "'")):
        return style.strip("\"' ")
    if style == "decimal-leading-zero":
        return f"{value:02d}."
    if value > 0 and style in ("lower-alpha", "lower-latin", "upper-alpha", "upper-latin"):
        letters = ""
        while value:
            value, at = divmod(value - 1, 26)
            letters = chr(97 + at) + letters
        return (letters.upper() if style.startswith("upper") else letters) + "."
    if 0 < value < 4000 and style in ("lower-roman", "upper-roman"):
        roman = ""
        for number, letter in _ROMAN:
            roman += letter * (value // number)
            value %= number
        return (roman.upper() if style.startswith("upper") else roman) + "."
    return f"{value}."


# Lists whose entries carry no bullet of the browser's own (BF 2.10, 14.2, 21, 22).
_UNMARKED = frozenset(("contents", "contents-list", "glossary", "index", "bibliography", "cast"))


def listing(walker: Walker, here: Here) -> None:
    """A division whose lists are of a format of their own: contents, glossary, exercises."""
    if walker.too_deep():
        flow(walker, here)
        return
    role = here.plan.role
    headed = (*walker.around.headed, 0)
    around = fresh(walker.around, headed=headed, list_role=role, list_depth=0)
    out = walker.collect(here, around)
    if role == "exercise" and _is_one_question(out):
        _add_question(walker, here, out)
    elif out:
        walker.out.append(Section(children=tuple(out), role=role, address=address_of(walker, here)))


def _is_one_question(out: list[Any]) -> bool:
    """Whether an exercise is a single question with its choices, not a list of questions."""
    if not any(isinstance(block, Paragraph) for block in out):
        return False
    return not any(
        isinstance(block, Heading | Section)
        or (isinstance(block, ListBlock) and block.role == "exercise")
        for block in out
    )


def _add_question(walker: Walker, here: Here, out: list[Any]) -> None:
    """A question as an item of the list of exercises that the one before it began."""
    address = address_of(walker, here)
    question = ListItem(children=tuple(out), address=address)
    last = walker.out[-1] if walker.out else None
    if isinstance(last, ListBlock) and last.address.endswith(":exercises"):
        walker.out[-1] = replace(last, children=(*last.children, question))
    else:
        walker.out.append(
            ListBlock(children=(question,), role="exercise", address=f"{address}:exercises")
        )


def list_block(walker: Walker, here: Here) -> None:
    """``ul``, ``ol``, ``dl``."""
    if walker.too_deep():
        flow(walker, here)
        return
    around = walker.around
    tag = here.plan.tag
    role = here.plan.role or _role_inside(around.list_role, around.list_depth)
    notes: list[Any] = []
    if tag == "dl":
        out = walker.collect(here, fresh(around, list_depth=around.list_depth + 1))
        items, kind = _definitions(out), "definition"
    else:
        numbering = _numbering(here)
        if role in _UNMARKED and not here.plan.marker and _is_unmarked(here, numbering):
            numbering = Numbering("none")
        inside = fresh(
            around,
            list_role=here.plan.role or around.list_role,
            list_depth=around.list_depth + 1,
            numbering=numbering,
        )
        out = walker.collect(here, inside)
        while out and isinstance(out[0], Heading):  # a heading of the whole list
            walker.out.append(out.pop(0))
        notes = [block for block in out if isinstance(block, Footnote)]
        if notes and not any(isinstance(block, ListItem) for block in out):
            walker.out.extend(out)
            return
        out = [block for block in out if not isinstance(block, Footnote)]
        items, kind = _items(out), _kind(numbering, out)
    if around.list_role == "exercise" and _are_choices(walker, items):
        role = "choices"
    if items:
        address = address_of(walker, here)
        walker.out.append(ListBlock(children=tuple(items), kind=kind, role=role, address=address))
    walker.out.extend(notes)


def _is_unmarked(here: Here, numbering: Numbering) -> bool:
    """Whether what a browser would put before an entry is no print of it: a bullet, and any mark
    in a navigation document [EPUB 3.3, 7.3]."""
    return numbering.style == "disc" or next(here.element.iterancestors("{*}nav"), None) is not None


def _are_choices(walker: Walker, items: list[ListItem | PrintPage]) -> bool:
    """Whether a list after a question, marked by letters or bullets, holds its choices."""
    if not walker.out or not isinstance(walker.out[-1], Paragraph):
        return False
    return not any(
        isinstance(item, ListItem) and item.marker and walker.decimal.get(item.address)
        for item in items
    )


def _role_inside(role: str, depth: int) -> str:
    if role == "exercise" and depth:
        return "choices"
    return role or "body"


def _kind(numbering: Numbering, out: list[Any]) -> str:
    if not any(isinstance(block, ListItem) and block.marker for block in out):
        return "plain"
    return "bulleted" if numbering.style in _BULLETS else "numbered"


def _numbering(here: Here) -> Numbering:
    """Where the count starts and how it runs [HTML, 4.4.5]."""
    plan, attrs = here.plan, here.attrs
    if plan.tag != "ol" and attrs.get("type", "") not in _TYPES:
        given = plan.marker or attrs.get("type", "")
        return Numbering(given or ("disc" if plan.tag in _BULLETED else "none"))
    style = plan.marker or attrs.get("data-number-style", "")
    style = style or _TYPES.get(attrs.get("type", ""), "decimal")
    if style == "arabic":
        style = "decimal"
    start = attrs.get("start", "").strip()
    backwards = "reversed" in attrs
    count = sum(1 for kid in here.element if local_name(str(kid.tag)) == "li")
    first = int(start) if _WHOLE.fullmatch(start) else (count if backwards else 1)
    return Numbering(style, first, -1 if backwards else 1)


def item(walker: Walker, here: Here) -> None:
    """``li``: its marker goes into the ledger as generated print."""
    around = walker.around
    numbering: Numbering | None = around.numbering
    if numbering is None:
        flow(walker, here)
        return
    walker.flush()
    given = here.attrs.get("value", "").strip()
    if _WHOLE.fullmatch(given):
        numbering.value = int(given)
    style = here.plan.marker or numbering.style
    words = marker_text(style, numbering.value)
    if style not in _KNOWN and style[:1] not in ("", '"', "'"):
        at = walker.ledger.length
        walker.findings.add(
            "read.computed-content", (at, at + len(words)), part=walker.part, words=style
        )
    walker.decimal[f"{walker.part}!{here.path}"] = words[:1].isdecimal()
    numbering.value += numbering.step
    span = walker.ledger.add(words, walker.part, here.path, 0, GENERATED)
    walker.ledger.end_block()
    notes = around.list_role == "notes"
    inside = {"list_role": "", "list_depth": 0} if notes else {}  # lists inside a note are lists
    out = walker.collect(here, fresh(around, **inside))
    address = address_of(walker, here)
    if notes:
        from .xhtml_notes import note_id

        ident = note_id(walker, here) or address
        walker.out.append(
            Footnote(id=ident, mark=run_of(span), children=tuple(out), kind="end", address=address)
        )
    else:
        walker.out.append(
            ListItem(children=tuple(out), marker=run_of(span), address=address, role=here.plan.role)
        )


def _items(out: list[Any]) -> list[ListItem | PrintPage]:
    """Items and page turns; anything else directly in a list joins the item before it."""
    items: list[ListItem | PrintPage] = []
    for block in out:
        if isinstance(block, ListItem | PrintPage):
            items.append(block)
        elif items and isinstance(last := items[-1], ListItem):
            items[-1] = ListItem(
                children=(*last.children, block),
                marker=last.marker,
                address=last.address,
                role=last.role,
            )
        else:
            items.append(ListItem(children=(block,), address=f"{block.address}:item"))
    return items


def _definitions(out: list[Any]) -> list[ListItem | PrintPage]:
    """Terms with their definitions: an item begins at the first term after a definition."""
    items: list[ListItem | PrintPage] = []
    group: list[Any] = []
    for block in [*out, None]:
        is_term = isinstance(block, Paragraph) and block.role == "term"
        was_term = bool(group) and isinstance(group[-1], Paragraph) and group[-1].role == "term"
        if group and (block is None or (is_term and not was_term)):
            items.append(ListItem(children=tuple(group), address=f"{group[0].address}:item"))
            group = []
        if isinstance(block, PrintPage) and not group:
            items.append(block)
        elif block is not None:
            group.append(block)
    return items


HANDLERS: dict[str, Handler] = {"listing": listing, "list": list_block, "item": item}
