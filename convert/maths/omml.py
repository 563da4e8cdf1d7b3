"""Word equations (Office MathML, ISO/IEC 29500-1, 22.1) as presentation MathML.

Done, all objects: acc bar box borderBox d eqArr f func groupChr limLow limUpp m nary phant rad
sPre sSub sSubSup sSup, and runs (r, t) with their script, style and normal text.  Ordinary runs
(w:r) inside an equation become text; deleted text (w:del, w:moveFrom) is left out.  ``box`` and
``phant`` keep their content; a phantom that shows nothing is nothing.  An element outside
the schema becomes an element of the same name, which the reader of MathML reports.

Each element made carries ``data-path``, the steps to its source.  Nothing here recurses.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field

from lxml import etree

from ..errors import SourceError
from .chars import NUMBER
from .data import function_names
from .tree import ELEMENTS

_M = "http://schemas.openxmlformats.org/officeDocument/2006/math"
_W = "http://schemas.openxmlformats.org/wordprocessingml/2006/main"
_ARGUMENTS = frozenset(("e", "num", "den", "sub", "sup", "deg", "fName", "lim", "mr"))
_DROPPED = frozenset(("del", "moveFrom", "ctrlPr", "argPr", "oMathParaPr"))
_OFF = frozenset(("0", "off", "false"))
_INTEGRALS = frozenset("∫∬∭∮∯∰∱∲∳")
_RUN = re.compile(rf"(?P<mn>{NUMBER})|(?P<mi>[^\W\d_]+)|(?P<space>\s+)|(?P<align>&)|(?P<mo>.)")
_ACCENT, _OVERLINE, _UNDERLINE, _BRACE = "\u0302", "\u00af", "\u0332", "\u23df"
_STRIKES = {
    "strikeH": "horizontalstrike",
    "strikeV": "verticalstrike",
    "strikeBLTR": "updiagonalstrike",
    "strikeTLBR": "downdiagonalstrike",
}
_SIDES = {"hideTop": "top", "hideBot": "bottom", "hideLeft": "left", "hideRight": "right"}


@dataclass(slots=True)
class _Object:
    """An object with its properties read and its arguments built, by name, in order."""

    element: etree._Element
    path: str
    values: dict[str, str] = field(default_factory=dict)
    args: dict[str, list[list[etree._Element]]] = field(default_factory=dict)
    inside: list[etree._Element] = field(default_factory=list)

    def new(self, name: str, *kids: list[etree._Element], **attributes: str) -> etree._Element:
        """An element; each list of kids is one argument, in a row unless it is one element."""
        made = etree.Element(name, attributes)
        made.set("data-path", self.path)
        for nodes in kids:
            made.append(nodes[0] if len(nodes) == 1 else self.row(nodes))
        return made

    def row(self, nodes: list[etree._Element]) -> etree._Element:
        made = etree.Element("mrow", {"data-path": self.path})
        made.extend(nodes)
        return made

    def text(self, name: str, text: str, **attributes: str) -> list[etree._Element]:
        made = self.new(name, **attributes)
        made.text = text
        return [made]

    def arg(self, name: str) -> list[etree._Element]:
        found = self.args.get(name)
        return found[0] if found else []

    def on(self, name: str) -> bool:
        return name in self.values and self.values[name] not in _OFF


Convert = Callable[[_Object], list[etree._Element]]


def is_omml(root: etree._Element) -> bool:
    """Whether an element belongs to Office MathML."""
    return isinstance(root.tag, str) and root.tag.startswith(f"{{{_M}}}")


def to_mathml(root: etree._Element) -> etree._Element:
    """The MathML element ``math`` of an ``m:oMath`` or ``m:oMathPara``.

    Raises SourceError if it has more elements than :data:`convert.maths.tree.ELEMENTS`.
    """
    made: dict[etree._Element, list[etree._Element]] = {}
    for element, path in reversed(_listed(root)):
        made[element] = _converted(element, path, made)
    math = etree.Element("math", {"data-path": ""})
    math.extend(made[root])
    return math


def _listed(root: etree._Element) -> list[tuple[etree._Element, str]]:
    out: list[tuple[etree._Element, str]] = []
    stack = [(root, "")]
    while stack:
        element, path = stack.pop()
        if not isinstance(element.tag, str):
            continue
        out.append((element, path))
        if len(out) > ELEMENTS:
            raise SourceError("The formula has more elements than the program takes.")
        if _name(element) not in _DROPPED and not _name(element).endswith("Pr"):
            stack.extend((child, f"{path}/{at}") for at, child in enumerate(element, 1))
    return out


def _name(element: etree._Element) -> str:
    return str(element.tag).rpartition("}")[2]


def _converted(
    element: etree._Element, path: str, made: dict[etree._Element, list[etree._Element]]
) -> list[etree._Element]:
    name, word = _name(element), str(element.tag).startswith(f"{{{_W}}}")
    if name in _DROPPED or name.endswith("Pr"):
        return []
    here = _Object(element, path, _properties(element))
    if name == "t":
        return _plain_text(here) if word else []
    if name == "r" and not word:
        return _run(here)
    for child in element:
        nodes = made.get(child, [])
        if _name(child) in _ARGUMENTS and str(child.tag).startswith(f"{{{_M}}}"):
            here.args.setdefault(_name(child), []).append(nodes)
        here.inside.extend(nodes)
    if name == "mr":
        return [here.new("mtr", *([here.new("mtd", nodes)] for nodes in here.args.get("e", [])))]
    convert = None if word else _OBJECTS.get(name)
    if convert is not None:
        return convert(here)
    if not word and name not in _PLAIN and here.inside:
        return [here.new(f"m-{name}", here.inside)]
    return here.inside


_PLAIN = _ARGUMENTS | {"oMath", "oMathPara"}


def _properties(element: etree._Element) -> dict[str, str]:
    """The values of an object's properties; a property without a value is on."""
    name = _name(element)
    found = element.find(f"{{{_M}}}{name}Pr")
    if found is None:
        return {}
    return {
        _name(child): str(child.get(f"{{{_M}}}val", child.get("val", "on")))
        for child in found
        if isinstance(child.tag, str)
    }


# ------------------------------------------------------------------ runs


def _plain_text(here: _Object) -> list[etree._Element]:
    text = here.element.text or ""
    return here.text("mtext", text) if text else []


def _run(here: _Object) -> list[etree._Element]:
    text = "".join(t.text or "" for t in here.element.iter(f"{{{_M}}}t", f"{{{_W}}}t"))
    if not text:
        return []
    values = here.values
    if "nor" in values and values["nor"] not in _OFF:
        return here.text("mtext", text)
    if "lit" in values and values["lit"] not in _OFF:
        return here.text("mo", text)
    variant = _variant(values.get("scr", ""), values.get("sty", "i"))
    upright = values.get("sty", "i") in ("p", "b")
    out: list[etree._Element] = []
    for match in _RUN.finditer(text):
        out.extend(_token(here, str(match.lastgroup), match[0], variant, upright))
    return out


def _token(
    here: _Object, name: str, text: str, variant: dict[str, str], upright: bool
) -> list[etree._Element]:
    if name == "space":
        return [here.new("mspace", width="1em")]
    if name == "align":
        return [here.new("malignmark")]
    if name == "mi" and not upright and text not in function_names():
        return [node for letter in _letters(text) for node in here.text("mi", letter, **variant)]
    return here.text(name, text, **({} if name == "mo" else variant))


def _letters(text: str) -> list[str]:
    """Single letters, each with the combining marks that follow it."""
    return re.findall(r"[^\W\d_][\u0300-\u036f\u20d0-\u20ff]*", text)


def _variant(script: str, style: str) -> dict[str, str]:
    names = ["bold"] if style in ("b", "bi") else []
    if script and script != "roman":
        names.append(script)
    variant = "-".join(names)
    return {"mathvariant": variant} if variant else {}


# ------------------------------------------------------------------ objects


def _accent(here: _Object) -> list[etree._Element]:
    mark = here.values.get("chr", _ACCENT)
    return [here.new("mover", here.arg("e"), here.text("mo", mark), accent="true")]


def _bar(here: _Object) -> list[etree._Element]:
    if here.values.get("pos", "bot") == "top":
        return [here.new("mover", here.arg("e"), here.text("mo", _OVERLINE))]
    return [here.new("munder", here.arg("e"), here.text("mo", _UNDERLINE))]


def _border(here: _Object) -> list[etree._Element]:
    sides = [side for name, side in _SIDES.items() if not here.on(name)]
    notations = ["box"] if len(sides) == len(_SIDES) else sides
    notations += [notation for name, notation in _STRIKES.items() if here.on(name)]
    if not notations:
        return here.arg("e")
    return [here.new("menclose", here.arg("e"), notation=" ".join(notations))]


def _delimiters(here: _Object) -> list[etree._Element]:
    left, right = here.values.get("begChr", "("), here.values.get("endChr", ")")
    between = here.values.get("sepChr", "|")
    out: list[etree._Element] = []
    if left and left != "on":
        out += here.text("mo", left, fence="true", form="prefix")
    for at, nodes in enumerate(here.args.get("e", [])):
        if at and between and between != "on":
            out += here.text("mo", between)
        out += nodes
    if right and right != "on":
        out += here.text("mo", right, fence="true", form="postfix")
    return [here.row(out)]


def _equations(here: _Object) -> list[etree._Element]:
    lines: list[list[etree._Element]] = []
    for nodes in here.args.get("e", []):
        cells: list[list[etree._Element]] = [[]]
        for node in nodes:
            if node.tag == "malignmark":
                cells.append([])
            else:
                cells[-1].append(node)
        lines.append([here.new("mtr", *([here.new("mtd", cell)] for cell in cells))])
    return [here.new("mtable", *lines)]


def _fraction(here: _Object) -> list[etree._Element]:
    style = here.values.get("type", "bar")
    top, bottom = here.arg("num"), here.arg("den")
    if style == "lin":
        return [here.row([*top, *here.text("mo", "/"), *bottom])]
    if style == "skw":
        return [here.new("mfrac", top, bottom, bevelled="true")]
    if style == "noBar":
        return [here.new("mfrac", top, bottom, linethickness="0")]
    return [here.new("mfrac", top, bottom)]


def _function(here: _Object) -> list[etree._Element]:
    return [here.row([*here.arg("fName"), *here.text("mo", "\u2061"), *here.arg("e")])]


def _grouped(here: _Object) -> list[etree._Element]:
    name = "mover" if here.values.get("pos", "bot") == "top" else "munder"
    return [here.new(name, here.arg("e"), here.text("mo", here.values.get("chr", _BRACE)))]


def _lower(here: _Object) -> list[etree._Element]:
    return [here.new("munder", here.arg("e"), here.arg("lim"))]


def _upper(here: _Object) -> list[etree._Element]:
    return [here.new("mover", here.arg("e"), here.arg("lim"))]


def _matrix(here: _Object) -> list[etree._Element]:
    return [here.new("mtable", *([node] for nodes in here.args.get("mr", []) for node in nodes))]


def _nary(here: _Object) -> list[etree._Element]:
    mark = here.values.get("chr", "∫")
    level = here.values.get("limLoc", "subSup" if mark in _INTEGRALS else "undOvr")
    low = [] if here.on("subHide") else here.arg("sub")
    high = [] if here.on("supHide") else here.arg("sup")
    name = "msubsup" if level == "subSup" else "munderover"
    return [here.row([here.new(name, here.text("mo", mark), low, high), *here.arg("e")])]


def _phantom(here: _Object) -> list[etree._Element]:
    hidden = here.values.get("show", "on") in _OFF
    return [here.new("mphantom" if hidden else "mpadded", here.arg("e"))]


def _radical(here: _Object) -> list[etree._Element]:
    index = [] if here.on("degHide") else here.arg("deg")
    if not index:
        return [here.new("msqrt", here.arg("e"))]
    return [here.new("mroot", here.arg("e"), index)]


def _left_scripts(here: _Object) -> list[etree._Element]:
    after = [here.new("mprescripts")]
    return [here.new("mmultiscripts", here.arg("e"), after, here.arg("sub"), here.arg("sup"))]


def _sub(here: _Object) -> list[etree._Element]:
    return [here.new("msub", here.arg("e"), here.arg("sub"))]


def _sup(here: _Object) -> list[etree._Element]:
    return [here.new("msup", here.arg("e"), here.arg("sup"))]


def _subsup(here: _Object) -> list[etree._Element]:
    return [here.new("msubsup", here.arg("e"), here.arg("sub"), here.arg("sup"))]


def _box(here: _Object) -> list[etree._Element]:
    return [here.row(here.arg("e"))]


_OBJECTS: dict[str, Convert] = {
    "acc": _accent,
    "bar": _bar,
    "box": _box,
    "borderBox": _border,
    "d": _delimiters,
    "eqArr": _equations,
    "f": _fraction,
    "func": _function,
    "groupChr": _grouped,
    "limLow": _lower,
    "limUpp": _upper,
    "m": _matrix,
    "nary": _nary,
    "phant": _phantom,
    "rad": _radical,
    "sPre": _left_scripts,
    "sSub": _sub,
    "sSubSup": _subsup,
    "sSup": _sup,
}
