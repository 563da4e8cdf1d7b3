"""Things side by side: where UEB has a space, whatever print has (UEB 11.2; GTM 3.1, 9.1)."""

from __future__ import annotations

from typing import NamedTuple

from .data import sign, words
from .tree import (
    CLOSE,
    OPEN,
    SEPARATOR,
    Enclosed,
    Expression,
    Letter,
    Name,
    Number,
    Scripts,
    Sign,
    Space,
    Stack,
    Words,
)

_RELATION, _OPERATION, _COMMA = "relation", "operation", "comma"
_FUNCTION, _WORDS, _GAP = "name", "words", "gap"


class Part(NamedTuple):
    """A thing of the row, or a space (``node`` is None); ``capitals``: several capital letters
    as one word.  ``single``: capitals of a name have a sign each.  ``after``: a letter or numeral
    stands straight before one that something is over or under.  ``grouped``: its left scripts
    would be read as those of the thing before."""

    node: Expression | None = None
    capitals: str = ""
    path: str = ""
    single: bool = False
    after: bool = False
    grouped: bool = False


_SPACE = Part()


def side_by_side(row: tuple[Expression, ...], tight: bool) -> list[Part]:
    """The things of a row with their spaces.  ``tight``: inside a level, where comparison signs
    and commas are unspaced (UKAAF guidance on GTM 7)."""
    inside = [node for node in row if not (isinstance(node, Sign) and node.role == "invisible")]
    kinds = [_kind(node) for node in inside]
    out: list[Part] = []
    at = 0
    inked: Expression | None = None
    while at < len(inside):
        node, kind = inside[at], kinds[at]
        if isinstance(node, Space):
            near = {_near(kinds, at, -1), _near(kinds, at, 1)}
            if not near & {_OPERATION, _FUNCTION}:
                out.append(_SPACE)
        elif length := _capitals(inside, at):
            run = inside[at : at + length]
            text = "".join(letter.text for letter in run if isinstance(letter, Letter))
            out.append(Part(node, text, getattr(node, "path", "")))
            at += length - 1
        else:
            first, last = _spaced(node, kind, tight)
            if kind == _WORDS:
                first = first and _near(kinds, at, -1) != _OPERATION
                last = last and _near(kinds, at, 1) != _OPERATION
            if first or (inked is not None and _parted(inked, node)):
                out.append(_SPACE)
            out.append(_part(inside, at, bool(out) and out[-1].node is None))
            if last or (kind == _COMMA and not tight):
                out.append(_SPACE)
        inked = inked if isinstance(node, Space) else inside[at]
        at += 1
    return out


def _spaced(node: Expression, kind: str, tight: bool) -> tuple[bool, bool]:
    """Whether a space stands before and after a thing whatever its neighbours: comparison signs,
    and words where they begin or end with a letter or digit."""
    if kind == _RELATION:
        return not tight, not tight
    if kind != _WORDS:
        return False, False
    text = node.text.strip() if isinstance(node, Words) else "w"
    return text[:1].isalnum(), text[-1:].isalnum()


def _part(row: list[Expression], at: int, spaced: bool) -> Part:
    node = row[at]
    before = None if spaced or not at else row[at - 1]
    base = node
    while isinstance(base, Stack | Enclosed):
        base = base.body if isinstance(base, Enclosed) else base.base
    after = isinstance(base, Number | Letter) and type(before) is type(base)
    grouped = bool(getattr(node, "before", ())) and before is not None
    if isinstance(before, Sign) and (before.role == OPEN or _kind(before)):
        grouped = False
    return Part(
        node,
        single=isinstance(node, Name) and _touches(row, at),
        after=after and base is not node,
        grouped=grouped,
    )


def _near(kinds: list[str], at: int, step: int) -> str:
    """The kind of the next thing to one side that is no space."""
    at += step
    while 0 <= at < len(kinds) and kinds[at] == _GAP:
        at += step
    return kinds[at] if 0 <= at < len(kinds) else ""


def _kind(node: Expression) -> str:
    """What decides the spacing of a thing: its base, under all scripts and lines."""
    while isinstance(node, Scripts | Stack | Enclosed):
        node = node.body if isinstance(node, Enclosed) else node.base
    if isinstance(node, Words):
        return _WORDS
    if isinstance(node, Space):
        return _GAP
    if isinstance(node, Name):
        return _FUNCTION if node.text in words("functions") else ""
    if not isinstance(node, Sign) or node.role in (OPEN, CLOSE):
        return ""
    if node.role == SEPARATOR:
        return _COMMA
    row = sign(node.text)
    group = row.group if row else ""
    return {"arrow": _RELATION, "relation": _RELATION, "operation": _OPERATION}.get(group, "")


def _parted(before: Expression, after: Expression) -> bool:
    """Whether a space parts a name from a small letter or another name beside it (GTM 9.1), or
    from a small letter that is a script straight before it.

    Names with capitals side by side are parts of a chemical formula (GTM 16)."""
    starts = after
    while isinstance(starts, Scripts | Stack) and not getattr(starts, "before", ()):
        starts = starts.base
    while isinstance(before, Scripts) and not before.after:
        before = before.base
    if isinstance(before, Name):
        small = isinstance(starts, Letter) and _is_small(starts)
        return small or (isinstance(starts, Name) and starts.text[0].islower())
    if isinstance(before, Scripts):
        limb = before.after[-1][1] or before.after[-1][0]
        before = limb if isinstance(limb, Letter) else before
    # A letter's own typeform does not part it from what follows it.
    return isinstance(starts, Name) and isinstance(before, Letter) and _is_small(before, True)


def _touches(row: list[Expression], at: int) -> bool:
    """Whether a letter or name stands straight beside, or the thing there has scripts."""
    return (at > 0 and _holds_letter(row[at - 1])) or (
        at + 1 < len(row) and _holds_letter(row[at + 1])
    )


def _is_small(node: Letter, styled: bool = False) -> bool:
    return (styled or not node.font) and node.text[0].isascii() and node.text.islower()


def _capitals(row: list[Expression], at: int) -> int:
    """How many capital letters from ``at`` make one word (UEB 8.4): two or more, that touch no
    small letter, name or letter with scripts (as in chemical formulas); 0 for none."""
    if not _is_capital(row[at]) or (at and _holds_letter(row[at - 1])):
        return 0
    end = at
    while end < len(row) and _is_capital(row[end]):
        end += 1
    if end - at < 2 or (end < len(row) and _holds_letter(row[end])):
        return 0
    return end - at


def _is_capital(node: Expression) -> bool:
    if not isinstance(node, Letter) or node.font:
        return False
    return node.text.isascii() and node.text.isupper()


def _holds_letter(node: Expression) -> bool:
    while isinstance(node, Scripts | Stack | Enclosed):
        node = node.body if isinstance(node, Enclosed) else node.base
    return isinstance(node, Letter | Name)
