"""DTBook (ANSI/NISO Z39.86-2005) to the elements the content walker knows.

The walker reads XHTML; DTBook says the same with other names.  What only differs in name is a row
of the table [dtbook] in roles.toml; what differs in how it is said (``list type``, ``idref``,
``class`` of a level) is changed here in the tree, whose steps, and so addresses, stay the same.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from lxml import etree

from ..findings import Findings
from .limits import LIMITS
from .markup import MarkupError
from .plans import TYPE, local_name
from .repair import parse_content
from .roles import find_role

_DOCTYPE = re.compile(rb"<!DOCTYPE\b[^\[>]{0,2000}(\[)?", re.IGNORECASE)
_SUBSET_END = re.compile(rb"\]\s*>")
_QUOTES = "“”‘’„‚«»\"'"
_LEVELS = ("level", "level1", "level2", "level3", "level4", "level5", "level6")
# Values of ``showin`` that leave matter out of the braille edition [DTBook DTD 2005-2].
_NOT_IN_BRAILLE = frozenset({"xxx", "xxp", "xlx", "xlp"})


def parse_dtbook(data: bytes, part: str, findings: Findings) -> etree._Element:
    """The root of a DTBook part, ready to walk.  Raises MarkupError if it must be refused.

    The document type goes before the parser sees it: its named entities are known without it,
    and MathML is declared in it with entities that could name files.
    """
    root = parse_content(_without_doctype(data), part, findings)
    normalise(root)
    return root


def _without_doctype(data: bytes) -> bytes:
    found = _DOCTYPE.search(data, 0, 20_000)
    if found is None:
        return data
    end = data.find(b">", found.start()) + 1
    if found[1]:
        closed = _SUBSET_END.search(data, found.end(), found.end() + LIMITS.dtd)
        if closed is None:
            raise MarkupError("has a document type declaration beyond the limit", hostile=True)
        end = closed.end()
    blank = re.sub(rb"[^\r\n]", b" ", data[found.start() : end])
    return data[: found.start()] + blank + data[end:]


def normalise(root: etree._Element) -> None:
    """Say in XHTML's way what DTBook says in its own; no text is added, taken or moved."""
    in_rear = False
    for element in root.iter("*"):
        name = local_name(str(element.tag))
        if name in ("rearmatter", "bodymatter", "frontmatter"):
            in_rear = name == "rearmatter"
        if element.get("showin", "") in _NOT_IN_BRAILLE:
            _add_term(element, "not-for-braille")
        change = _CHANGES.get(name)
        if change is not None:
            change(element)
        if name == "note" and in_rear:
            _add_term(element, "rearnote")


def _rename(element: etree._Element, name: str) -> None:
    space, brace, _ = str(element.tag).rpartition("}")
    element.tag = f"{space}{brace}{name}"


def _add_term(element: etree._Element, term: str) -> None:
    element.set(TYPE, f"{term} {element.get(TYPE, '')}".strip())


def _level(element: etree._Element) -> None:
    """The class of a level names what it is: part, chapter, glossary [Z39.86-2005, DTD]."""
    for word in element.get("class", "").lower().split():
        role = find_role((word,), "")
        if role is not None and role.node in ("section", "list", "drama"):
            _add_term(element, word)


def _list(element: etree._Element) -> None:
    """``ol`` and ``ul`` get their marks as in XHTML; in ``pl`` the marks are text."""
    kind = element.attrib.pop("type", "pl")
    _level(element)
    if kind not in ("ol", "ul"):
        return
    _rename(element, kind)
    if kind == "ol" and (enum := element.get("enum")):
        element.set("type", enum)


def _reference(element: etree._Element) -> None:
    """A reference to a note becomes a link to it."""
    _rename(element, "a")
    _add_term(element, "noteref")
    target = element.get("idref", "")
    if target:
        element.set("href", target if "#" in target else f"#{target}")


def _list_part(element: etree._Element) -> None:
    """Parts of an item stand apart in print, such as an entry of the contents and its page."""
    after = element.getnext()
    if after is not None and local_name(str(after.tag)) == "lic" and not element.tail:
        element.tail = " "


def _quotation(element: etree._Element) -> None:
    """Print's own quotation marks, inside or just outside ``q``, are not set a second time."""
    inside = "".join(str(text) for text in element.itertext()).strip()
    before = element.getprevious()
    above = element.getparent()
    lead = before.tail if before is not None else (above.text if above is not None else "")
    if inside[:1] in tuple(_QUOTES) or (lead or "")[-1:] in tuple(_QUOTES):
        _rename(element, "span")


def _title(element: etree._Element) -> None:
    """The title of a poem is its heading, that of a work named is words; a head has no print."""
    above = element.getparent()
    name = "" if above is None else local_name(str(above.tag))
    if name != "head":
        _rename(element, "hd" if name in ("poem", "linegroup") else "span")


def _matter(element: etree._Element) -> None:
    name = local_name(str(element.tag))
    _add_term(element, "backmatter" if name == "rearmatter" else name)


def _epigraph(element: etree._Element) -> None:
    _add_term(element, "epigraph")


def _annotation(element: etree._Element) -> None:
    """A note in the margin; the element of that name in MathML is no print."""
    above = element.getparent()
    if above is None or local_name(str(above.tag)) != "semantics":
        _rename(element, "note")


def _author(element: etree._Element) -> None:
    above = element.getparent()
    name = "" if above is None else local_name(str(above.tag))
    if name == "cite":
        _rename(element, "span")
    else:
        in_text = name in ("poem", "blockquote", "epigraph")
        _add_term(element, "attribution" if in_text else "byline")


_CHANGES: dict[str, Callable[[etree._Element], None]] = {
    **dict.fromkeys(_LEVELS, _level),
    **dict.fromkeys(("frontmatter", "bodymatter", "rearmatter"), _matter),
    "annotation": _annotation,
    "epigraph": _epigraph,
    "list": _list,
    "noteref": _reference,
    "annoref": _reference,
    "lic": _list_part,
    "q": _quotation,
    "title": _title,
    "author": _author,
}
