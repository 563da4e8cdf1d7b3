"""Elementary arithmetic of MathML (MathML 3, 3.6) as lines of figures in columns."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple

from .mathml_parts import Attributes, Build, Part
from .tree import (
    Expression,
    Letter,
    Line,
    Name,
    Number,
    Row,
    Sign,
    Space,
    Unsupported,
    Work,
    leaves,
    parts,
    row,
)  # fmt: skip

FIGURES, CARRIES, RULE = "figures", "carries", "rule"
_MARKS = frozenset(".,'\u2019")
_POINT = "decimalpoint"
_PLAIN = ("", "none")
_LEFT_TOP = "lefttop"


class _Atom(NamedTuple):
    """What stands in a column of its own, or (``mark``) between two columns; nothing where
    print leaves a column empty."""

    node: Expression | None
    mark: bool = False


def _number(attributes: Mapping[str, str], name: str) -> int:
    text = attributes.get(name, "0").strip()
    return int(text) if text.lstrip("-").isdecimal() and len(text) < 6 else 0


def _atoms(node: Expression) -> list[_Atom]:
    """A figure of a numeral has a column each; anything else has one for the whole."""
    if isinstance(node, Number):
        out: list[_Atom] = []
        for char in node.text:
            if char.isdigit():
                out.append(_Atom(Number(char, node.path, node.font)))
            elif char in _MARKS:
                out.append(_Atom(Sign(char, node.path), mark=True))
        return out
    if isinstance(node, Row):
        if not node.children:
            return [_Atom(None)]
        return [atom for child in node.children for atom in _atoms(child)]
    mark = isinstance(node, Sign) and node.text in _MARKS
    return [] if isinstance(node, Space) else [_Atom(node, mark)]


def _placed(nodes: Sequence[Expression], path: str, point: str) -> Line:
    """Figures at their places from the units, which stand before the first decimal point."""
    atoms = [atom for node in nodes for atom in _atoms(node)]
    lead: list[Sign] = []
    while len(atoms) > 1 and not atoms[0].mark and isinstance(sign := atoms[0].node, Sign):
        lead.append(sign)
        del atoms[0]
        while len(atoms) > 1 and atoms[0].node is None:
            del atoms[0]
    points = [
        at
        for at, atom in enumerate(atoms)
        if atom.mark and isinstance(atom.node, Sign) and atom.node.text == point
    ]
    whole = atoms[: points[0]] if points else atoms
    place = 2 * sum(not atom.mark for atom in whole)
    entries: list[tuple[int, Expression]] = []
    for atom in atoms:
        place -= 0 if atom.mark else 2
        if atom.node is not None:
            entries.append((place - atom.mark, atom.node))
    return Line(FIGURES, tuple(entries), tuple(lead), path=path)


def _lines(part: Part, point: str) -> tuple[Line, ...]:
    """The lines of a child of a stack."""
    node = part.node
    if isinstance(node, Work):
        return node.lines
    return (node if isinstance(node, Line) else _placed((node,), getattr(node, "path", ""), point),)


def _shifted(line: Line, columns: int) -> Line:
    """A line moved ``columns`` to the left."""
    more = 2 * columns
    if not more:
        return line
    return replace(
        line,
        entries=tuple((place + more, node) for place, node in line.entries),
        span=None if line.span is None else (line.span[0] + more, line.span[1] + more),
        crossed=frozenset(place + more for place in line.crossed),
    )


def _figures(kids: list[Part], attributes: Attributes, path: str) -> Expression:
    nodes = [kid.node for kid in kids]
    line = _placed(nodes, path, attributes.get(_POINT, "."))
    return _shifted(line, _number(attributes, "position"))


def _rule(kids: list[Part], attributes: Attributes, path: str) -> Expression:
    length, right = _number(attributes, "length"), 2 * _number(attributes, "position")
    span = (right + 2 * (length - 1), right) if length > 0 else None
    return Line(RULE, span=span, path=path)


def _carries(kids: list[Part], attributes: Attributes, path: str) -> Expression:
    """Carries over the columns of the line below; strikes are of its figures."""
    every = attributes.get("crossout", "none").strip() not in _PLAIN
    entries: list[tuple[int, Expression]] = []
    crossed: set[int] = set()
    for place, kid in zip(range(2 * len(kids) - 2, -1, -2), kids, strict=True):
        own = kid.attributes.get("crossout", "").strip()
        if (every and own != "none") or own not in _PLAIN:
            crossed.add(place)
        if parts(kid.node):
            entries.append((place, kid.node))
    line = Line(CARRIES, tuple(entries), crossed=frozenset(crossed), path=path)
    return _shifted(line, _number(attributes, "position"))


def _group(kids: list[Part], attributes: Attributes, path: str) -> Expression:
    step, at = _number(attributes, "shift"), _number(attributes, "position")
    out: list[Line] = []
    for kid in kids:
        for line in _lines(kid, attributes.get(_POINT, ".")):
            out.append(_shifted(line, at))
        at += step
    return Work(tuple(out), path=path)


def _aligned(lines: Sequence[Line], how: str) -> tuple[Line, ...]:
    """Lines aligned otherwise than at their units, where print asks for it."""
    figures = [line for line in lines if line.kind == FIGURES and line.entries]
    if how not in ("right", "left", "center") or not figures:
        return tuple(lines)

    def ends(line: Line) -> tuple[int, int]:
        places = [place - place % 2 for place, _ in line.entries]
        return max(places) // 2, min(places) // 2

    widest = max(ends(line)[0] - ends(line)[1] for line in figures)
    out: list[Line] = []
    for line in lines:
        if line.kind == FIGURES and line.entries:
            high, low = ends(line)
            spare = widest - (high - low)
            more = {"right": 0, "left": spare, "center": spare // 2}[how]
            line = _shifted(line, more - low)
        out.append(line)
    return tuple(out)


def _stack(kids: list[Part], attributes: Attributes, path: str) -> Expression:
    point = attributes.get(_POINT, ".")
    lines = [line for kid in kids for line in _lines(kid, point)]
    return Work(_aligned(lines, attributes.get("stackalign", _POINT)), path=path)


def _long_division(kids: list[Part], attributes: Attributes, path: str) -> Expression:
    """The divisor, the quotient and the lines from the dividend on; always set with the divisor
    on the left and the quotient above, as the default of MathML is."""
    if len(kids) < 3:
        text = " ".join(getattr(leaf, "text", "") for kid in kids for leaf in leaves(kid.node))
        return Unsupported("mlongdiv", text, path)
    divisor, quotient, *work = kids
    point = attributes.get(_POINT, ".")
    lines = [*_lines(quotient, point)]
    lines.append(Line(RULE, path=path))
    lines += [line for kid in work for line in _lines(kid, point)]
    style = attributes.get("longdivstyle", _LEFT_TOP).strip()
    return Work(
        _aligned(lines, attributes.get("stackalign", _POINT)),
        _single(divisor.node),
        path,
        "" if style == _LEFT_TOP else style,
    )


def _single(node: Expression) -> Expression:
    """The divisor of a division as one expression, whatever element held it."""
    if isinstance(node, Line):
        text = "".join(
            entry.text if isinstance(entry, Number | Sign | Letter | Name) else ""
            for _, entry in node.entries
        )
        return Number(text, node.path)
    return node


def _carry(kids: list[Part], attributes: Attributes, path: str) -> Expression:
    return row(tuple(kid.node for kid in kids), path)


WORK: dict[str, Build] = {
    "mstack": _stack,
    "mlongdiv": _long_division,
    "msgroup": _group,
    "msrow": _figures,
    "msline": _rule,
    "mscarries": _carries,
    "mscarry": _carry,
}
