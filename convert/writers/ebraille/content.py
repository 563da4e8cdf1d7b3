"""The documents of an eBraille file: blocks as XHTML with the reserved classes of its tagging
guide (draft).  Typeforms need no tags, as their indicators stand in the text."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from lxml import etree

from ...layout.furniture import number_cells
from ...translation.cells import BLANK
from .facts import Facts
from .stream import SPATIAL, Block, Grid, Piece, Slice, Turn

XHTML = "http://www.w3.org/1999/xhtml"
XML = "http://www.w3.org/XML/1998/namespace"
STYLE = "style.css"
_HEADINGS = frozenset({"h-center", "h-5", "h-7"})
# Kinds of lines that are items of lists, with the reserved class of the list.
_LISTS = {
    "list": "nomark", "exercise": "exercise", "glossary": "glossary", "index": "index",
    "verse": "poetry", "symbols": "nomark", "bibliography": "nomark",
}  # fmt: skip
# Kinds and styles of paragraphs that need a class; the style is asked first.
_PARAGRAPHS = {
    "attribution": "attribution", "blocked": "left-aligned", "caption": "caption",
    "context-break": "centred", "direction": "directions", "displayed": "displayed",
    "displayed-blocked": "displayed", "form": "hanging", "math": "hanging",
    "paragraph-rest": "left-aligned", "speech": "hanging", "table": "hanging",
    "table-head": "hanging",
}  # fmt: skip


@dataclass(slots=True)
class Content:
    """One document: its name, its tree, and what the navigation document lists of it:
    headings as (level, cells, anchor), print pages as (label, anchor)."""

    name: str
    root: etree._Element
    headings: list[tuple[int, str, str]] = field(default_factory=list)
    pages: list[tuple[str, str]] = field(default_factory=list)


def documents(pieces: Iterable[Piece], facts: Facts) -> list[Content]:
    """The title page, the front pages, and a document for each of the highest headings."""
    out = [_title_page(facts)]
    anchors = _Anchors()
    for number, part in enumerate(_parts(pieces), 1):
        builder = _Builder(_page(f"part-{number:03d}.html", facts), anchors)
        for piece in part:
            builder.add(piece)
        out.append(builder.content)
    return out


def words(cells: str) -> str:
    """Cells as text that may break at its spaces."""
    return " ".join(cells.replace(BLANK, " ").split())


def tag(name: str) -> str:
    """The name of an XHTML element."""
    return f"{{{XHTML}}}{name}"


def shell(language: str, heading: str, style: str | None) -> tuple[etree._Element, etree._Element]:
    """An empty document and its body."""
    root = etree.Element(tag("html"), {"lang": language}, nsmap={None: XHTML})
    root.set(f"{{{XML}}}lang", language)
    head = etree.SubElement(root, tag("head"))
    etree.SubElement(head, tag("meta"), {"charset": "utf-8"})
    etree.SubElement(head, tag("title")).text = heading
    if style:
        etree.SubElement(head, tag("link"), {"rel": "stylesheet", "href": style})
    return root, etree.SubElement(root, tag("body"))


def _page(name: str, facts: Facts) -> Content:
    return Content(name, shell(facts.language, facts.title_cells, STYLE)[0])


def _title_page(facts: Facts) -> Content:
    content = _page("title.html", facts)
    body = content.root[1]
    for first, group in enumerate(facts.title_page):
        for at, line in enumerate(group):
            name = "h1" if first == at == 0 else "p"
            mark = {"id": "title"} if name == "h1" else {"class": "centred"}
            etree.SubElement(body, tag(name), mark).text = words(line)
    content.headings.append((1, facts.title_cells, "title"))
    return content


def _parts(pieces: Iterable[Piece]) -> Iterator[list[Piece]]:
    """Cut before every heading of the first level; print pages just above go with it."""
    part: list[Piece] = []
    for piece in pieces:
        if isinstance(piece, Block) and piece.kind in _HEADINGS and _level(piece) == 1:
            turns: list[Piece] = []
            while part and isinstance(part[-1], Turn):
                turns.insert(0, part.pop())
            if part:
                yield part
            part = turns
        part.append(piece)
    if part:
        yield part


def _level(block: Block) -> int:
    return min(max(block.level, 1), 6)


class _Anchors:
    """Names of places, each once in the whole edition."""

    def __init__(self) -> None:
        self._last = {"h": 0, "page": 0}

    def new(self, kind: str) -> str:
        self._last[kind] += 1
        return f"{kind}-{self._last[kind]}"


class _Builder:
    """Puts blocks into one document: boxes and lists inside one another."""

    def __init__(self, content: Content, anchors: _Anchors) -> None:
        self.content = content
        self._anchors = anchors
        self._into = [content.root[1]]
        self._lists: list[tuple[int, str, etree._Element]] = []

    def add(self, piece: Piece) -> None:
        """One piece after those before."""
        if isinstance(piece, Turn):
            self._lists.clear()
            self._turn(piece, self._new("div"))
        elif isinstance(piece, Grid):
            self._lists.clear()
            self._table(piece)
        elif piece.kind == "box-top":
            self._lists.clear()
            box = self._new("div", "box")
            self._into.append(box)
            self._label(piece, box)
        elif piece.kind == "box-bottom":
            self._lists.clear()
            self._label(piece, self._into[-1])
            if len(self._into) > 1:
                self._into.pop()
        elif piece.kind in _LISTS:
            self._fill(self._item(piece), piece)
        else:
            self._lists.clear()
            self._block(piece)

    def _new(self, name: str, mark: str | None = None) -> etree._Element:
        made = etree.SubElement(self._into[-1], tag(name))
        if mark:
            made.set("class", mark)
        return made

    def _label(self, block: Block, box: etree._Element) -> None:
        """The words that stand in a box line."""
        if block.pieces:
            self._fill(etree.SubElement(box, tag("p")), block)

    def _block(self, block: Block) -> None:
        if block.kind in _HEADINGS:
            made = self._new(f"h{_level(block)}")
            made.set("id", self._anchors.new("h"))
            self._fill(made, block)
            text = words(" ".join(p.cells for p in block.pieces if isinstance(p, Slice)))
            self.content.headings.append((_level(block), text, made.get("id", "")))
        elif block.style in SPATIAL:
            self._turns(block)
            self._new("pre").text = "\n".join(block.lines)
        elif block.kind in ("tn", "note"):
            around = self._new(*("div", "transcriber-note") if block.kind == "tn" else ("aside",))
            if block.kind == "note":
                around.set("role", "doc-footnote")
            self._fill(etree.SubElement(around, tag("p")), block)
        else:
            mark = _PARAGRAPHS.get(block.style) or _PARAGRAPHS.get(block.kind)
            self._fill(self._new("p", mark), block)

    def _item(self, block: Block) -> etree._Element:
        """The item of a list, in the list of its level."""
        mark, level = _LISTS[block.kind], max(block.level, 1)
        if block.kind == "verse" and block.apart:
            self._lists.clear()
        while self._lists and (self._lists[-1][0] > level or self._lists[-1][1] != mark):
            self._lists.pop()
        if not self._lists or self._lists[-1][0] < level:
            inside = self._lists[-1][2][-1] if self._lists else self._into[-1]
            made = etree.SubElement(inside, tag("ul"), {"class": mark})
            self._lists.append((level, mark, made))
        return etree.SubElement(self._lists[-1][2], tag("li"))

    def _fill(self, into: etree._Element, block: Block) -> None:
        """The words of a block, print pages among them, a space between any two."""
        last: etree._Element | None = None
        for at, piece in enumerate(block.pieces):
            text = words(piece.cells) if isinstance(piece, Slice) else ""
            text = f" {text}" if at else text
            if last is None:
                into.text = (into.text or "") + text
            else:
                last.tail = (last.tail or "") + text
            if isinstance(piece, Turn):
                last = etree.SubElement(into, tag("span"))
                self._turn(piece, last)

    def _turns(self, block: Block) -> None:
        for piece in block.pieces:
            if isinstance(piece, Turn):
                self._turn(piece, self._new("div"))

    def _turn(self, turn: Turn, made: etree._Element) -> None:
        anchor = self._anchors.new("page")
        made.set("role", "doc-pagebreak")
        made.set("id", anchor)
        made.text = words(number_cells(turn.label))
        self.content.pages.append((turn.label, anchor))

    def _table(self, grid: Grid) -> None:
        starts = grid.starts or tuple(sorted(grid.rows[0][1]))
        table = self._new("table")
        for name, is_head in (("thead", True), ("tbody", False)):
            rows = [entries for heading, entries in grid.rows if heading is is_head]
            part = etree.SubElement(table, tag(name)) if rows else table
            for entries in rows:
                _entries(etree.SubElement(part, tag("tr")), entries, starts, is_head)


def _entries(
    row: etree._Element, entries: dict[int, Slice], starts: tuple[int, ...], head: bool
) -> None:
    """The entries of one row of a table, an empty one where print has none."""
    by_column: dict[int, list[str]] = {}
    for start, entry in sorted(entries.items()):
        column = max(bisect_right(starts, start) - 1, 0)
        by_column.setdefault(column, []).append(words(entry.cells))
    for column in range(len(starts)):
        heading = head or column == 0
        made = etree.SubElement(row, tag("th" if heading else "td"))
        if heading:
            made.set("scope", "col" if head else "row")
        made.text = " ".join(by_column.get(column, ())) or None
