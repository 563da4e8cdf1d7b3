"""Elements of MathML as nodes: one small function an element, given its built children."""

from __future__ import annotations

from .chars import cut, level_of, sign
from .mathml_parts import Attributes, Build, Part
from .mathml_work import WORK
from .tree import (
    CLOSE,
    OPEN,
    Enclosed,
    Expression,
    Fraction,
    Grid,
    Leaf,
    Root,
    Row,
    Scripts,
    Sign,
    Stack,
    row,
)

Pair = tuple[Expression | None, Expression | None]


def _get(attributes: Attributes, name: str, default: str = "") -> str:
    return attributes.get(name, default)


def _some(node: Expression) -> Expression | None:
    """An argument, None where print leaves it empty."""
    return None if isinstance(node, Row) and not node.children else node


def scripts(base: Expression, after: list[Pair], before: list[Pair], path: str) -> Expression:
    """Scripts as print shows them: on the last thing of a row (left ones on the first)."""
    after = [pair for pair in after if pair != (None, None)]
    before = [pair for pair in before if pair != (None, None)]
    if not after and not before:
        return base
    if isinstance(base, Scripts) and not before and len(base.after) == len(after) == 1:
        (sub, above), (below, sup) = base.after[0], after[0]
        if above is None and below is None:
            return Scripts(base.base, ((sub, sup),), base.before, path)
    if not isinstance(base, Row) or not base.children:
        return Scripts(base, tuple(after), tuple(before), path)
    first, *rest = base.children
    if before:
        first = Scripts(first, (), tuple(before), path)
    *rest, last = (first, *rest)
    if after:
        last = Scripts(last, tuple(after), (), path)
    return row((*rest, last), path)


def lifted(leaves: tuple[Leaf, ...], path: str) -> Expression:
    """Leaves in a row, raised and lowered characters (``²``) as scripts of what they follow."""
    out: list[Expression] = []
    at = 0
    while at < len(leaves):
        side, text = "", ""
        while at < len(leaves) and isinstance(leaf := leaves[at], Sign):
            plain, kind = level_of(leaf.text) if len(leaf.text) == 1 else ("", "")
            if not kind or (side and kind != side):
                break
            side, text, at = kind, text + plain, at + 1
        if not side:
            out.append(leaves[at])
            at += 1
            continue
        limb = row(cut(text, path), path)
        pair = (limb, None) if side == "sub" else (None, limb)
        base = out.pop() if out else Row((), path)
        out.append(scripts(base, [pair], [], path))
    return row(tuple(out), path)


def _row(kids: list[Part], attributes: Attributes, path: str) -> Expression:
    return row(tuple(kid.node for kid in kids), path)


def _fraction(kids: list[Part], attributes: Attributes, path: str) -> Expression:
    thickness = _get(attributes, "linethickness", "1").strip().rstrip("pxtemcin%")
    style = "slash" if _get(attributes, "bevelled") == "true" else "bar"
    if thickness in ("0", "0.0", "0."):
        style = "none"
    return Fraction(kids[0].node, kids[1].node, path, style)


def _square(kids: list[Part], attributes: Attributes, path: str) -> Expression:
    return Root(_row(kids, attributes, path), None, path)


def _root(kids: list[Part], attributes: Attributes, path: str) -> Expression:
    return Root(kids[0].node, _some(kids[1].node), path)


def _sub(kids: list[Part], attributes: Attributes, path: str) -> Expression:
    return scripts(kids[0].node, [(_some(kids[1].node), None)], [], path)


def _sup(kids: list[Part], attributes: Attributes, path: str) -> Expression:
    return scripts(kids[0].node, [(None, _some(kids[1].node))], [], path)


def _subsup(kids: list[Part], attributes: Attributes, path: str) -> Expression:
    return scripts(kids[0].node, [(_some(kids[1].node), _some(kids[2].node))], [], path)


def _multi(kids: list[Part], attributes: Attributes, path: str) -> Expression:
    names = [kid.name for kid in kids]
    cut = names.index("mprescripts") if "mprescripts" in names else len(kids)
    if not kids or cut == 0:
        return _row(kids, attributes, path)
    return scripts(kids[0].node, _pairs(kids[1:cut]), _pairs(kids[cut + 1 :]), path)


def _pairs(kids: list[Part]) -> list[Pair]:
    nodes = [_some(kid.node) for kid in kids]
    if len(nodes) % 2:
        nodes.append(None)
    return list(zip(nodes[::2], nodes[1::2], strict=True))


def _stack(base: Part, under: Part | None, over: Part | None, path: str) -> Expression:
    low = _some(under.node) if under else None
    high = _some(over.node) if over else None
    return base.node if low is None and high is None else Stack(base.node, low, high, path)


def _under(kids: list[Part], attributes: Attributes, path: str) -> Expression:
    return _stack(kids[0], kids[1], None, path)


def _over(kids: list[Part], attributes: Attributes, path: str) -> Expression:
    return _stack(kids[0], None, kids[1], path)


def _underover(kids: list[Part], attributes: Attributes, path: str) -> Expression:
    return _stack(kids[0], kids[1], kids[2], path)


def _fenced(kids: list[Part], attributes: Attributes, path: str) -> Expression:
    marks = "".join(_get(attributes, "separators", ",").split())
    inside: list[Expression] = []
    for at, kid in enumerate(kids):
        if at and marks:
            inside.append(sign(marks[min(at - 1, len(marks) - 1)], path))
        inside.append(kid.node)
    left, right = _get(attributes, "open", "(").strip(), _get(attributes, "close", ")").strip()
    opening = (sign(left, path, OPEN),) if left else ()
    closing = (sign(right, path, CLOSE),) if right else ()
    return row((*opening, *inside, *closing), path)


def _enclosed(kids: list[Part], attributes: Attributes, path: str) -> Expression:
    body = _row(kids, attributes, path)
    notations = sorted(set(_get(attributes, "notation", "longdiv").split()))
    if "radical" in notations:
        notations.remove("radical")
        body = Root(body, None, path)
    return Enclosed(body, tuple(notations), path) if notations else body


def _grid(kids: list[Part], attributes: Attributes, path: str) -> Expression:
    lines = [
        kid.node.rows[0] if kid.name in _LINES and isinstance(kid.node, Grid) else (kid.node,)
        for kid in kids
    ]
    return Grid(tuple(lines), path)


def _line(kids: list[Part], attributes: Attributes, path: str) -> Expression:
    """A row of a table, as a grid of one row until its table takes it."""
    return Grid((tuple(kid.node for kid in kids),), path)


def _labelled(kids: list[Part], attributes: Attributes, path: str) -> Expression:
    """A row with a label: the label stands last, as equation numbers do in print."""
    return _line([*kids[1:], *kids[:1]], attributes, path)


BUILD: dict[str, Build] = {
    **dict.fromkeys(
        ("math", "mrow", "mstyle", "mpadded", "maction", "semantics", "mtd", "mprescripts"),
        _row,
    ),
    "mspace": _row,
    "mfrac": _fraction,
    "msqrt": _square,
    "mroot": _root,
    "msub": _sub,
    "msup": _sup,
    "msubsup": _subsup,
    "mmultiscripts": _multi,
    "munder": _under,
    "mover": _over,
    "munderover": _underover,
    "mfenced": _fenced,
    "menclose": _enclosed,
    "mtable": _grid,
    "mtr": _line,
    "mlabeledtr": _labelled,
    **WORK,
}
GIVES_ROW = frozenset(name for name, build in BUILD.items() if build is _row)
_LINES = frozenset(("mtr", "mlabeledtr"))
_TWO, _THREE = frozenset(("mfrac", "mroot", "msub", "msup", "munder", "mover")), 3


def arity_of(name: str) -> int | None:
    """How many children an element must have, None where any number will do."""
    if name in _TWO:
        return 2
    return _THREE if name in ("msubsup", "munderover") else None
