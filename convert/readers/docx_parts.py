"""The parts of a Word package: found by relationship, every one but the main one optional."""

from __future__ import annotations

from dataclasses import dataclass
from posixpath import dirname, join, normpath
from urllib.parse import unquote

from lxml import etree

from ..document.nodes import Meta
from ..errors import SourceError
from ..findings import Findings
from .container import Package, Source
from .docx_line import odd_signs
from .docx_names import MC, M, V, W, number, to_transitional
from .docx_stream import Stream
from .limits import LIMITS
from .markup import MarkupError, parse_xml

_DC = "{http://purl.org/dc/elements/1.1/}"
_STATED = "extended-properties"
_MAIN_TYPES = ("document.main+xml", "template.main+xml")


@dataclass(frozen=True, slots=True)
class Link:
    """A relationship: its type's last word, its target's part name (or outside address)."""

    kind: str
    target: str
    external: bool


class Parts:
    """Reads parts by name or kind; a part that cannot be read is a finding, not an error.

    ``odd``: whether the main part may hold typed blanks, boxes or private characters; ``changes``:
    how many changes of looks and numbers it tracks; ``lined``: its lines are numbered in print.
    """

    __slots__ = (
        "_findings", "_links", "_package", "_source", "changes", "lined", "main", "odd",
    )  # fmt: skip

    def __init__(self, source: Source, findings: Findings) -> None:
        self._source = source
        self._package: Package = source.package()
        self._findings = findings
        self._links: dict[str, dict[str, Link]] = {}
        self.odd = True
        self.lined, self.changes = False, 0
        self.main = self._find_main()
        if self._package.prefixed:
            findings.add("read.prefixed")

    def stream(self) -> Stream:
        """The main part block by block.  Raises Irregular if it must be read as one tree."""
        data = self._main_bytes()
        stream = Stream(data)
        signs = odd_signs(data, stream.rest)
        stream.rest = b""
        self.odd = bool(signs)
        stream.look_for(signs)
        return stream

    def document(self) -> etree._Element:
        """The root of the main part.  Raises SourceError if it is no Word document."""
        data = self._main_bytes()
        self.odd = bool(odd_signs(data))
        try:
            root = _transitional(parse_xml(data, LIMITS, allow_dtd=False))
        except MarkupError:
            root = _transitional(self._package.xml(self.main))  # raises the error in words
        if root.tag != f"{W}document":
            raise SourceError(
                f"The main part {self.main} of {self._source.name} is not a Word document.",
                "Open it in a word processor and save it as DOCX.",
            )
        return root

    def _main_bytes(self) -> bytes:
        data = self._package.read(self.main)
        self.lined = b"lnNumType" in data
        self.changes = 0
        if b"Change " in data:
            self.changes = data.count(b"PrChange ") + data.count(b"numberingChange ")
        return data

    def linked(self, kind: str) -> tuple[str, etree._Element] | None:
        """The part related to the main one by ``kind`` (``styles``): its name and root."""
        name = self.linked_name(kind)
        root = self.root(name) if name else None
        return None if name is None or root is None else (name, root)

    def linked_name(self, kind: str) -> str | None:
        """The name of the part related to the main one by ``kind``, or usually named so."""
        for link in self.links(self.main).values():
            name = self._package.find(link.target)
            if link.kind == kind and not link.external and name:
                return name
        # A broken file of relationships must not take the notes or the styles away with it.
        return self._package.find(join(dirname(self.main), f"{kind}.xml"))

    def root(self, name: str) -> etree._Element | None:
        """The root of an optional part; ``None`` with a finding where it cannot be read."""
        found = self._package.find(name)
        if found is None:
            return None
        try:
            return _transitional(self._package.xml(found))
        except SourceError as error:
            self._findings.add("docx.part-unreadable", part=name, why=error.what)
            return None

    def bytes(self, name: str) -> bytes | None:
        """A part as it is, or ``None``.  Raises SourceError where it breaks a limit."""
        found = self._package.find(name)
        return None if found is None else self._package.read(found)

    def links(self, part: str) -> dict[str, Link]:
        """The relationships of a part, by id; none where its file of them is missing or broken."""
        known = self._links.get(part)
        if known is None:
            known = self._links[part] = self._read_links(part)
        return known

    def meta(self) -> Meta:
        """What ``docProps/core.xml`` says; nothing is made up where it is missing."""
        name = next((k.target for k in self.links("").values() if k.kind == "core-properties"), "")
        root = self.root(name) if name else None
        if root is None:
            return Meta()

        def say(tag: str) -> str:
            return " ".join((root.findtext(f"{_DC}{tag}") or "").split())

        authors = tuple(a.strip() for a in say("creator").split(";") if a.strip())
        return Meta(title=say("title"), authors=authors, language=say("language"))

    def pages(self) -> int:
        """How many pages the file says it has (``docProps/app.xml``); 0 where it does not say."""
        name = next((k.target for k in self.links("").values() if k.kind == _STATED), "")
        root = self.root(name) if name else None
        return number(root.findtext("{*}Pages")) if root is not None else 0

    def _read_links(self, part: str) -> dict[str, Link]:
        folder, leaf = (dirname(part), part.rsplit("/", 1)[-1]) if part else ("", "")
        root = self.root(join(folder, "_rels", f"{leaf}.rels"))
        links: dict[str, Link] = {}
        for rel in root if root is not None else ():
            target = unquote(rel.get("Target", ""))
            external = rel.get("TargetMode") == "External"
            if not external:
                target = normpath(join("/", folder, target)).lstrip("/")
            kind = rel.get("Type", "").rsplit("/", 1)[-1]
            links[rel.get("Id", "")] = Link(kind, target, external)
        return links

    def _find_main(self) -> str:
        for link in self.links("").values():
            if link.kind == "officeDocument" and (main := self._package.find(link.target)):
                return main
        types = self.root("[Content_Types].xml")
        for row in types if types is not None else ():
            name = self._package.find(row.get("PartName", "").lstrip("/"))
            if row.get("ContentType", "").endswith(_MAIN_TYPES) and name:
                return name
        if found := self._package.find("word/document.xml"):
            return found
        raise SourceError(
            f"{self._source.name} names no main part, so it holds no text to read.",
            "Open it in a word processor and save it as DOCX.",
        )


def _transitional(root: etree._Element) -> etree._Element:
    """The same tree in transitional names; strict files (conformance strict) are renamed."""
    if not isinstance(root.tag, str):
        return root
    uses = (*root.nsmap.values(), root.tag)
    is_links = root.tag.endswith("}Relationships")
    types = [e.get("Type", "") for e in root] if is_links else []
    if any("purl.oclc.org/ooxml" in (name or "") for name in (*uses, *types)):
        return etree.fromstring(to_transitional(etree.tostring(root)), _parser())
    return root


def _parser() -> etree.XMLParser:
    return etree.XMLParser(resolve_entities=False, no_network=True, huge_tree=True)


def plain_text(root: etree._Element) -> str:
    """All words of an element or part in order, paragraphs apart by a space; those of watermarks
    and word art too, and of two forms of one drawing those of the first."""
    parts: list[str] = []
    for element in root.iter(f"{W}t", f"{M}t", f"{W}p", f"{W}tab", f"{V}textpath"):
        tag = str(element.tag)
        if tag.endswith(("}t", "}textpath")) and _is_twin(element):
            continue
        if tag.endswith("}textpath"):
            parts.append(f" {element.get('string', '')} ")
        else:
            parts.append(element.text or "" if tag.endswith("}t") else " ")
    return " ".join("".join(parts).split())


def _is_twin(element: etree._Element) -> bool:
    """Whether the element stands in a fallback beside the form that is read."""
    twin = next(element.iterancestors(f"{MC}Fallback"), None)
    return twin is not None and any(len(choice) for choice in twin.itersiblings(preceding=True))
