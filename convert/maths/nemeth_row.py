"""Things side by side: their spacing, bars, enclosed lists and mixed numbers.

The Nemeth Code takes its spaces from the kind of each sign, not from print (digest 9 and 10).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from .nemeth_data import names, sign
from .nemeth_names import FUNCTION, OPERAND, WORD, base_of, is_prose, name_kind
from .nemeth_tokens import (
    AFTER_COMMA,
    AFTER_COMPARISON,
    AFTER_FUNCTION,
    AFTER_LISTED,
    AFTER_SHAPE,
    AROUND_DOTS,
    AROUND_WORD,
    BEFORE_COMPARISON,
    PRINTED,
)
from .tree import (
    CLOSE,
    INVISIBLE,
    OPEN,
    Expression,
    Fraction,
    Letter,
    Name,
    Number,
    Scripts,
    Sign,
    Space,
    Stack,
    Words,
    leaves,
)

# What a part is, beside the groups of signs.
COMMA, NOTHING = "comma", "nothing"
# What the neighbours make of a part.
BAR_OPENS, BAR_SHUTS, BAR_BETWEEN = "bar opens", "bar shuts", "bar between"
MIXED, BINOMIAL, LISTED, RATIO, DECIMAL = "mixed", "binomial", "listed", "ratio", "decimal point"
LETTERS, TIMES = "letters", "times"
_COMPARISONS = frozenset(("comparison", "arrow"))
_NO_OPERAND = frozenset(("operation", "comparison", "arrow", "opening", "punctuation", COMMA))


@dataclass(slots=True)
class Part:
    """A node of a row.  ``kind``: its group; ``note``: what its neighbours make of it;
    ``before`` and ``after``: why a blank may be needed there."""

    node: Expression
    core: Expression
    kind: str
    note: str = ""
    before: str = ""
    after: str = ""


def core(node: Expression) -> Expression:
    """What a thing is a form of: the base of its scripts and modifiers."""
    while isinstance(node, Scripts | Stack):
        node = base_of(node) if isinstance(node, Scripts) else node.base
    return node


def kind_of(node: Expression) -> str:
    """The group of a node's core."""
    match core(node):
        case Sign(role="invisible") | Space():
            return NOTHING
        case Sign(text=","):
            return COMMA
        case Sign(text=text, role=role):
            return _group(text, role)
        case Letter(text=text) if (row := sign(text)) is not None:
            return row.group
        case Name(text=text):
            return name_kind(text, isinstance(node, Scripts))
        case Words(text=text):
            return WORD if is_prose(text) else OPERAND
    return OPERAND


def _group(text: str, role: str) -> str:
    if role in (OPEN, CLOSE):
        return "opening" if role == OPEN else "closing"
    row = sign(text)
    return row.group if row is not None else OPERAND


def side_by_side(nodes: Sequence[Expression]) -> list[Part]:
    """The nodes of a row with what stands between them."""
    parts = [Part(node, core(node), kind_of(node)) for node in nodes]
    _neighbours(parts)
    _ratios(parts)
    _bars(parts)
    _lists(parts)
    for part in parts:
        part.before, part.after = _spacing(part)
    for at, part in enumerate(parts):
        if isinstance(part.node, Space) and not _is_dropped(parts, at):
            part.before = PRINTED
    return parts


# ------------------------------------------------------------------ neighbours


def _neighbours(parts: list[Part]) -> None:
    inked = [part for part in parts if part.kind != NOTHING]
    for at, part in enumerate(inked):
        left = inked[at - 1] if at else None
        right = inked[at + 1] if at + 1 < len(inked) else None
        if isinstance(part.node, Sign):
            _sign_between(part, left, right)
        elif isinstance(part.node, Name) and left is not None and left.kind == "shape":
            if part.node.text.isupper():
                part.note, part.kind = LETTERS, OPERAND
        elif isinstance(part.node, Fraction) and part.node.style == "none":
            sides = [side.kind for side in (left, right) if side is not None]
            part.note = BINOMIAL if sides == ["opening", "closing"] else ""
    for one, other in zip(parts, _followers(parts), strict=True):
        if other is not None and _is_mixed(one.node, other.node):
            other.note = MIXED


def _followers(parts: list[Part]) -> list[Part | None]:
    """For each part the next one, an invisible plus not counted."""
    out: list[Part | None] = []
    following: Part | None = None
    for part in reversed(parts):
        out.append(following)
        if not (isinstance(part.node, Sign) and part.node.text == "\u2064"):
            following = part
    return out[::-1]


def _sign_between(part: Part, left: Part | None, right: Part | None) -> None:
    """Signs whose meaning their neighbours tell: ``.`` as a decimal point, ``*`` as an
    operation sign (digest 2 and 9)."""
    assert isinstance(part.node, Sign)
    if left is None or right is None:
        return
    numbers = isinstance(left.node, Number) and isinstance(right.core, Number)
    if part.node.text == "." and numbers:
        part.note, part.kind = DECIMAL, OPERAND
    elif part.node.text == "*" and left.kind not in _NO_OPERAND:
        part.note, part.kind = TIMES, "operation"


def _ratios(parts: list[Part]) -> None:
    """A colon between two things is a ratio, but punctuation inside braces ("such that") and
    before an arrow (a mapping) (common practice, no source)."""
    braces = 0
    arrow = next((at for at, part in enumerate(parts) if part.kind == "arrow"), -1)
    inked = [(at, part) for at, part in enumerate(parts) if part.kind != NOTHING]
    for (_, left), (at, part), (_, right) in zip(inked, inked[1:], inked[2:], strict=False):
        braces += _brace(left)
        if not isinstance(part.node, Sign) or part.node.text != ":" or braces > 0 or at < arrow:
            continue
        if left.kind not in _NO_OPERAND and right.kind in (OPERAND, "opening", FUNCTION, "sign"):
            part.note, part.kind = RATIO, "comparison"


def _brace(part: Part) -> int:
    text = part.core.text if isinstance(part.core, Sign) else ""
    return (text == "{") - (text == "}")


def _is_mixed(whole: Expression, node: Expression) -> bool:
    """A whole number and a fraction of two numerals (61-70)."""
    return (
        isinstance(whole, Number)
        and whole.text.isdecimal()
        and not whole.font
        and isinstance(node, Fraction)
        and node.style != "none"
        and isinstance(node.top, Number)
        and isinstance(node.bottom, Number)
    )


# ------------------------------------------------------------------ bars


def _bars(parts: list[Part]) -> None:
    """Bars in pairs enclose; one that divides a group in two is a comparison sign (digest 14)."""
    left_over, frames = _frames(parts)
    is_open: dict[int, bool] = {}
    operand = False
    for at, part in enumerate(parts):
        if part.kind == NOTHING:
            continue
        if part.kind != "bar":
            operand = part.kind not in _NO_OPERAND
            continue
        frame = frames[at]
        left_over[frame] -= 1
        alone = part.core is part.node
        if is_open.get(frame) and (operand or not alone):
            part.note, operand = BAR_SHUTS, True
            is_open[frame] = False
        elif (
            alone
            and not is_open.get(frame)
            and (not operand or left_over[frame] % 2)
            and _can_begin(parts, at + 1)
        ):
            part.note, operand = BAR_OPENS, False
            is_open[frame] = True
        elif alone and at + 1 < len(parts):
            part.note, part.kind, operand = BAR_BETWEEN, "comparison", False
        else:
            part.note, operand = BAR_SHUTS, True


def _can_begin(parts: list[Part], at: int) -> bool:
    """Whether what an opening bar encloses can begin with the parts from ``at``."""
    for part in parts[at:]:
        if part.kind == "operation":
            return isinstance(part.node, Sign) and part.node.text in "+−±∓"
        if part.kind != NOTHING:
            return part.kind not in _NO_OPERAND | {"closing"} or part.kind == "opening"
    return False


def _frames(parts: list[Part]) -> tuple[dict[int, int], list[int]]:
    """Bars in each pair of brackets, and for each part the pair it stands in."""
    counts: dict[int, int] = {}
    frames: list[int] = []
    stack = [-1]
    for at, part in enumerate(parts):
        frames.append(stack[-1])
        if part.kind == "opening":
            stack.append(at)
        elif part.kind == "closing" and len(stack) > 1:
            stack.pop()
        elif part.kind == "bar":
            counts[stack[-1]] = counts.get(stack[-1], 0) + 1
    return counts, frames


# ------------------------------------------------------------------ enclosed lists


@dataclass(slots=True)
class _Group:
    """An open group: its commas, and whether it holds what no enclosed list may."""

    commas: list[Part] = field(default_factory=list)
    barred: bool = False


def _lists(parts: list[Part]) -> None:
    """Commas of enclosed lists: items with no comparison sign, word or other punctuation
    between grouping signs (7-10)."""
    stack: list[_Group] = [_Group(barred=True)]
    for part in parts:
        if part.kind == "opening":
            stack.append(_Group())
        elif part.kind == "closing" and len(stack) > 1:
            group = stack.pop()
            if not group.barred:
                for comma in group.commas:
                    comma.note = LISTED
            stack[-1].barred |= group.barred
        elif part.kind == COMMA:
            stack[-1].commas.append(part)
        else:
            stack[-1].barred |= _bars_a_list(part)


def _bars_a_list(part: Part) -> bool:
    if part.kind in _COMPARISONS or part.kind in (WORD, "punctuation", "abbreviation"):
        return True
    if part.node is part.core and not isinstance(part.node, Fraction):
        return False
    found = (leaf for leaf in leaves(part.node) if isinstance(leaf, Sign | Words))
    return any(isinstance(leaf, Words) or _group(leaf.text, "") in _COMPARISONS for leaf in found)


# ------------------------------------------------------------------ spacing


def _spacing(part: Part) -> tuple[str, str]:
    """Why a blank may be needed before and after a part."""
    kind = part.kind
    if kind in _COMPARISONS:
        return BEFORE_COMPARISON, AFTER_COMPARISON
    if kind == FUNCTION:
        between = isinstance(part.core, Name) and part.core.text in names("between")
        return (AROUND_WORD if between else ""), AFTER_FUNCTION
    if kind in (WORD, "abbreviation"):
        return AROUND_WORD, AROUND_WORD
    if kind == "dots":
        return AROUND_DOTS, AROUND_DOTS
    if kind == "shape":
        return "", AFTER_SHAPE
    if kind == COMMA:
        return "", AFTER_LISTED if part.note == LISTED else AFTER_COMMA
    if kind == "punctuation" and isinstance(part.core, Sign) and part.core.text in ".:;":
        return "", AFTER_COMMA
    return "", ""


def _is_dropped(parts: list[Part], at: int) -> bool:
    """A printed space that only sets signs apart: beside an operation sign, before a
    differential (common practice, no source)."""
    left = parts[at - 1].kind if at else NOTHING
    right = parts[at + 1].kind if at + 1 < len(parts) else NOTHING
    if left == "operation" or right == "operation":
        return True
    here, after = (parts[at + n].node if at + n < len(parts) else None for n in (1, 2))
    if isinstance(here, Sign) and here.role == INVISIBLE:
        return False
    if isinstance(here, Name):
        return here.text in names("differentials")
    return isinstance(here, Letter) and here.text == "d" and isinstance(after, Letter)
