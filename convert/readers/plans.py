"""A plan for each kind of element: decided once from its name, semantics and style, then reused.

Two elements share a plan when they and all their ancestors agree in name and in every attribute
that semantics or a style sheet looks at.  A novel has a few hundred kinds, whatever its length.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from ..document import nodes
from .css_counters import Steps, steps_of
from .roles import (
    INLINE_DOES,
    aria_does,
    element_does,
    element_typeform,
    find_role,
    is_known_term,
    paragraph_role,
    terms_of,
)

if TYPE_CHECKING:
    from .css import Rule, Sheets
    from .css_text import Content, Value

TYPE = "{http://www.idpf.org/2007/ops}type"
SVG = "{http://www.w3.org/2000/svg}"
WATCHED = ("class", TYPE, "role", "style", "hidden", "aria-hidden")

_PARAGRAPHS = {"dt": "term", "dd": "definition", "figcaption": "caption", "caption": "caption"}
_PARAGRAPHS |= {"legend": "label", "summary": "label", "address": "address"}
# elements that stay what they are, and the nodes whose role they take over
_NODES_THAT_KEEP: dict[str, tuple[str, ...]] = {
    **dict.fromkeys(("table", "row", "rows", "entry", "image", "math", "figure", "pre", "hr"), ()),
    "list": ("list",),
    "heading": ("heading",),
    "item": ("section", "box", "list", "paragraph", "note"),
}
_BLOCKY = frozenset({"flow", "section", "paragraph"})
_EM = re.compile(r"^(-?\d*\.?\d+)(em|rem|px|pt|%|ch)?$")
_UNITS = {"px": 1 / 16, "pt": 1 / 12, "%": 0.4, "ch": 0.5}


@dataclass(slots=True, eq=False)
class Plan:
    """What to do with one kind of element.  ``indent`` is in em; ``kids`` remembers children;
    ``letters``: the look of what stands before or after, where a style gives it one of its own;
    ``told``: kind of finding and words for a look that braille does not show; ``simple``: an
    element without attributes is only a part of its line."""

    tag: str
    do: str
    role: str = ""
    terms: tuple[str, ...] = ()
    classes: str = ""
    on: int = 0
    off: int = 0
    voice: str = ""
    transform: str = ""
    pre: bool | None = None
    marker: str = ""
    block: bool = False
    indent: float = 0.0
    before: Content = ()
    after: Content = ()
    letters: dict[str, Plan] = field(default_factory=dict)
    counts: Steps = ()
    bordered: bool = False
    told: tuple[str, str] = ("", "")
    simple: bool = False
    positional: tuple[Rule, ...] = ()
    rules: tuple[Rule, ...] = ()
    kids: dict[Any, Plan] = field(default_factory=dict)
    variants: dict[Any, Plan] = field(default_factory=dict)

    def settle(self) -> Plan:
        """The plan, once all is decided."""
        more = self.block or self.before or self.after or self.counts or self.told[0]
        self.simple = self.do == "inline" and not more
        return self


@dataclass(slots=True)
class Planner:
    """Makes plans for the documents that share one set of style sheets."""

    sheets: Sheets | None
    root: Plan = field(default_factory=lambda: Plan("", "flow"))
    by_presence: tuple[str, ...] = ()
    idents: frozenset[str] = frozenset()
    values: frozenset[str] = frozenset(WATCHED)
    watched: frozenset[str] = frozenset(WATCHED)

    def __post_init__(self) -> None:
        if self.sheets is not None:
            more = {k: v for k, v in self.sheets.attributes.items() if k not in WATCHED}
            self.values = frozenset(WATCHED) | {k for k, by_value in more.items() if by_value}
            self.by_presence = tuple(sorted(k for k, by_value in more.items() if not by_value))
            self.idents = frozenset(self.sheets.idents)
            self.watched = self.values.union(self.by_presence, ["id"] if self.idents else [])

    def key(self, tag: str, attrs: dict[str, str]) -> tuple[object, ...]:
        """What elements of one kind agree in."""
        by_value = self.values
        found: list[object] = [row for row in attrs.items() if row[0] in by_value]
        if self.by_presence:
            found += [name in attrs for name in self.by_presence]
        if self.idents and attrs.get("id") in self.idents:
            found.append(attrs["id"])
        return (tag, *found)

    def plan(self, element: Any, tag: str, attrs: dict[str, str]) -> Plan:
        """A new plan for an element of full name ``tag``."""
        name = local_name(tag)
        plan = plan_element(name, tag, attrs)
        if self.sheets is not None or "style" in attrs:
            self._style(plan, element, attrs)
        return plan.settle()

    def _style(self, plan: Plan, element: Any, attrs: dict[str, str]) -> None:
        fits: list[Rule] = []
        ask: list[Rule] = []
        if self.sheets is not None:
            found = self.sheets.candidates(plan.tag, plan.classes, attrs.get("id", ""))
            for rule in found:
                if self.sheets.holds(rule, element, wider=True):
                    (ask if rule.positional else fits).append(rule)
        plan.rules, plan.positional = tuple(fits), tuple(ask)
        if fits or "style" in attrs:
            apply_style(plan, fits, attrs.get("style", ""))

    def variant(self, plan: Plan, element: Any, attrs: dict[str, str]) -> Plan:
        """The plan of this very element, where rules look at its neighbours."""
        sheets = self.sheets
        assert sheets is not None
        fits = tuple(rule for rule in plan.positional if sheets.holds(rule, element))
        if not fits:
            return plan
        key = tuple(id(rule) for rule in fits)
        if key not in plan.variants:
            fresh = plan_element(plan.tag, element.tag, attrs)
            apply_style(fresh, [*plan.rules, *fits], attrs.get("style", ""))
            plan.variants[key] = fresh.settle()
        return plan.variants[key]


_NO_BLOCKS = frozenset({"image", "svg", "figure", "heading", "entry", "math", "skip"})


def unknown_terms(planner: Planner) -> set[str]:
    """Semantic terms of blocks that no table has; nothing was made of them."""
    found: set[str] = set()
    stack = [planner.root]
    while stack:
        plan = stack.pop()
        if plan.terms and plan.do not in INLINE_DOES and plan.do not in _NO_BLOCKS:
            found.update(term for term in plan.terms if not is_known_term(term))
        stack.extend(plan.kids.values())
    return found


def local_name(tag: str) -> str:
    """The name of an element without its namespace, in lower case."""
    return tag.rpartition("}")[2].lower()


def plan_element(name: str, tag: str, attrs: dict[str, str]) -> Plan:
    """The plan that name and semantics give, before any style."""
    if tag.startswith(SVG) and name != "svg":
        return Plan(name, "skip" if name in ("style", "script") else "inline")
    do = element_does(name)
    if do in ("flow", "inline") and "role" in attrs:
        do = aria_does(attrs["role"]) or do
    classes = attrs.get("class", "")
    terms = terms_of(attrs.get(TYPE, ""), attrs.get("role", ""))
    plan = Plan(name, do, _PARAGRAPHS.get(name, ""), terms, classes, element_typeform(name))
    plan.voice = "computer" if do == "computer" else ""
    if plan.voice:
        plan.do = do = "inline"
    plan.pre = True if do == "pre" else None
    if name == "q":
        plan.before, plan.after = (("quote", "open-quote"),), (("quote", "close-quote"),)
    if do != "skip" and (terms or classes):
        _give_role(plan)
    if "hidden" in attrs and do != "skip":
        plan.do, plan.role = "drop", "hidden-text"
    return plan


def _give_role(plan: Plan) -> None:
    """Let semantics change what is done with an element."""
    found = find_role(plan.terms, plan.classes)
    if found is None:
        if plan.do in ("paragraph", "flow") and (role := paragraph_role(plan.classes)):
            plan.role = role
            plan.do = "title" if role == "title" else "paragraph"
        return
    node, role = found
    inline = plan.do in INLINE_DOES
    if node in ("page", "drop", "call", "speaker", "line-number"):
        if node not in ("call", "line-number") or inline:
            plan.do = plan.do if plan.do == "entry" else node
            plan.role = role
    elif node == "list" and plan.do not in ("list", "paragraph") and not inline:
        plan.do, plan.role = "listing", role
    elif node == "note":
        plan.do, plan.role = ("inline", "") if inline else (node, role)
    elif inline:
        plan.role = role if node in ("paragraph", "line") else ""
    elif plan.do == "paragraph" and node in ("section", "box", "list", "drama", "displayed"):
        plan.role = plan.role or role
    elif plan.do in _NODES_THAT_KEEP:
        plan.role = role if node in _NODES_THAT_KEEP[plan.do] else plan.role
    else:
        plan.do, plan.role = node, role


# ---------------------------------------------------------------- style


def apply_style(plan: Plan, rules: list[Rule], inline: str) -> None:
    """Change a plan as its style rules say."""
    from .css import cascade
    from .css_looks import is_clipped
    from .css_text import read_declarations

    own = read_declarations(inline) if inline else {}
    won = cascade(rules, own)
    style = {name: str(value) for name, value in won[""].items() if isinstance(value, str)}
    _generate(plan, won)
    if plan.do == "skip":
        return
    plan.counts = steps_of(style)
    display = style.get("display", "")
    if display == "none" or style.get("visibility") == "hidden" or is_clipped(style):
        if plan.do != "page":
            plan.do, plan.role = "drop", "hidden-text"
    elif display in ("block", "list-item", "table") and plan.do in INLINE_DOES:
        plan.block = True
    elif display == "inline" and plan.do in _BLOCKY and plan.tag not in ("html", "body"):
        plan.do = "inline"
    elif plan.do == "flow" and plan.tag == "div" and _is_bordered(style):
        plan.do, plan.role, plan.bordered = "box", "box", True
    _style_letters(plan, style)
    _tell(plan, style)
    if style.get("white-space", "").startswith(("pre", "break-spaces")):
        plan.pre = style["white-space"] != "pre-line"
    elif style.get("white-space") in ("normal", "nowrap"):
        plan.pre = False
    plan.marker = style.get("list-style-type", "")
    plan.indent = _indent(won[""])


def _tell(plan: Plan, style: dict[str, str]) -> None:
    """Note what braille does not show of a style."""
    from .css_looks import is_reordered, look_of_letters

    if plan.do in INLINE_DOES and plan.tag != "a" and (look := look_of_letters(style)):
        plan.told = "read.look", look
    elif is_reordered(style):
        plan.told = "read.visual-order", ""


_DRAWN = frozenset("solid double dashed dotted groove ridge inset outset".split())  # noqa: SIM905
_NO_WIDTH = re.compile(r"0+(?:\.0+)?(?:px|pt|em|rem)?")


def _is_bordered(style: dict[str, str]) -> bool:
    """Whether lines stand on all four sides [CSS Backgrounds and Borders 3, 3]."""

    def drawn(value: str) -> bool:
        words = value.split()
        return not _DRAWN.isdisjoint(words) and not any(map(_NO_WIDTH.fullmatch, words))

    sides = [style.get(f"border-{side}") for side in ("top", "right", "bottom", "left")]
    whole = drawn(style.get("border", "")) or (
        "border" not in style and _DRAWN.issuperset(style.get("border-style", "none").split())
    )
    return all(whole if side is None else drawn(side) for side in sides)


def _generate(plan: Plan, won: dict[str, dict[str, Value]]) -> None:
    """What print shows before and after, and what is counted for it."""
    for pseudo in ("before", "after"):
        content = won[pseudo].get("content")
        if content is not None and won[pseudo].get("display") != "none":
            parts = content if isinstance(content, tuple) else ()
            steps = ((f"counter-{what}", f"{name} {n}") for what, name, n in steps_of(won[pseudo]))
            setattr(plan, pseudo, (*steps, *parts))
            own = Plan(plan.tag, plan.do)
            _style_letters(own, {name: str(value) for name, value in won[pseudo].items()})
            if own.on or own.off or own.transform:
                plan.letters[pseudo] = own


def _style_letters(plan: Plan, style: dict[str, str]) -> None:
    from .css_looks import lift_of

    slant = style.get("font-style", "")
    weight = style.get("font-weight", "")
    caps = style.get("font-variant-caps") or style.get("font-variant", "")
    line = style.get("text-decoration-line", "")
    lift = lift_of(style)
    _switch(plan, nodes.ITALIC, slant.startswith(("italic", "oblique")), slant == "normal")
    heavy = weight in ("bold", "bolder") or (weight.isdecimal() and int(weight[:5]) >= 600)
    _switch(plan, nodes.BOLD, heavy and plan.do != "heading", bool(weight) and not heavy)
    _switch(plan, nodes.SMALL_CAPS, "small-caps" in caps, caps == "normal")
    _switch(plan, nodes.UNDERLINE, "underline" in line and plan.tag != "a", line == "none")
    _switch(plan, nodes.STRIKE, "line-through" in line, line == "none")
    _switch(plan, nodes.SUP, lift == "super", lift == "baseline")
    _switch(plan, nodes.SUB, lift == "sub", lift == "baseline")
    plan.transform = style.get("text-transform", "")


def _switch(plan: Plan, bit: int, on: bool, off: bool) -> None:
    if on:
        plan.on |= bit
        plan.off &= ~bit
    elif off:
        plan.on &= ~bit
        plan.off |= bit


def _indent(style: dict[str, Value]) -> float:
    """Left space of a line in em: margin and padding, and the indent of its first line."""
    names = ("margin-left", "padding-left", "text-indent")
    return round(sum(_length(str(style.get(name, ""))) for name in names), 2)


def _length(value: str) -> float:
    found = _EM.match(value.split()[0]) if value else None
    return float(found[1]) * _UNITS.get(found[2] or "em", 1.0) if found else 0.0
