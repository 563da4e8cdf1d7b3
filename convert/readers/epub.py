"""Read an EPUB: the spine in order, each content document walked into one tree and ledger."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace

from lxml import etree

from ..document.ledger import LedgerBuilder
from ..document.nodes import Block, Document
from ..errors import SourceError
from ..findings import Findings
from ..settings import Settings
from . import (
    dtbook_blocks,
    xhtml_blocks,
    xhtml_described,
    xhtml_headings,
    xhtml_lines,
    xhtml_lists,
    xhtml_marks,
    xhtml_notes,
    xhtml_pictures,
    xhtml_tables,
)
from .container import Source
from .dtbook_markup import parse_dtbook
from .limits import LIMITS
from .markup import MarkupError
from .opf import DTBOOK, Book, Item, is_markup, open_book, resolve
from .page_lists import Listed, page_list, pages_by_names, reconcile
from .plans import TYPE, Planner, local_name, unknown_terms
from .repair import parse_content
from .roles import language_of
from .xhtml import XML_LANG, Handler, Walker

_MOST_TERMS, _MOST_NAMES = 12, 6
_PAGES = (".xhtml", ".html", ".htm")
_HANDLERS: dict[str, Handler] = {
    **dtbook_blocks.HANDLERS,
    **xhtml_blocks.HANDLERS,
    **xhtml_headings.HANDLERS,
    **xhtml_lines.HANDLERS,
    **xhtml_lists.HANDLERS,
    **xhtml_marks.HANDLERS,
    **xhtml_notes.HANDLERS,
    **xhtml_pictures.HANDLERS,
    **xhtml_tables.HANDLERS,
}


def read(source: Source, settings: Settings, findings: Findings) -> Document:
    """An EPUB as a document.

    Raises SourceError if it has no spine, is rights-protected, hostile, or holds no text or
    picture at all.  Every character of the text of the spine is in the ledger, also what is
    then left out (``Document.omissions``).
    """
    book = open_book(source.package(), source.name, findings)
    roots = _parse_spine(book, source.name, findings)
    if not roots:
        raise SourceError(
            f"None of the {len(book.spine)} parts that the reading order of {source.name} names "
            "is in the file.",
            "Ask the publisher for a complete EPUB.",
        )
    return document_of(book, roots, source.name, findings)


def document_of(
    book: Book, roots: dict[str, etree._Element], source: str, findings: Findings
) -> Document:
    """The document of parsed content parts, in their order.  Raises SourceError if all are empty.

    Every reader of XHTML and its kin ends here, whatever door its parts came through.
    """
    walker, listed, children = read_roots(book, roots, LedgerBuilder(), findings)
    if not children:
        raise SourceError(
            f"{source} holds no text in its reading order.",
            "Check the file, or ask the publisher for a repaired one.",
        )
    reconcile(listed, walker.pages, book, findings)
    return Document(
        ledger=walker.ledger.build(),
        children=tuple(children),
        meta=book.meta,
        omissions=tuple(walker.omissions),
        print_pages=tuple(label for _, label in walker.pages if label is not None),
    )


def read_roots(
    book: Book, roots: dict[str, etree._Element], ledger: LedgerBuilder, findings: Findings
) -> tuple[Walker, Listed, list[Block]]:
    """The blocks of parsed content parts, their print in ``ledger``; the walker that read them."""
    if not book.meta.language:
        book.meta = replace(book.meta, language=_language(roots))
    said, usual = book.meta.language, language_of(book.meta.language)
    if usual.partition("-")[0] != said.lower().replace("_", "-").partition("-")[0]:
        book.meta = replace(book.meta, language=usual)
    walker = Walker(book, findings, ledger, _HANDLERS, book.meta.language)
    xhtml_notes.find_notes(walker, book, roots)
    listed = page_list(book)
    places = listed or pages_by_names(roots)
    if places and not listed:
        findings.add("read.pages-by-names", number=len(places), words=places[0][1])
    walker.page_targets = {(part, ident): label for part, ident, label in places}
    children = _read_parts(walker, roots, findings)
    return walker, listed, children


def _language(roots: dict[str, etree._Element]) -> str:
    """The language the first part claims for itself, where the package names none."""
    return next((root.get(XML_LANG) or root.get("lang") or "" for root in roots.values()), "")


def _parse_spine(book: Book, source: str, findings: Findings) -> dict[str, etree._Element]:
    """The parsed content documents in reading order; what cannot be read is told."""
    roots: dict[str, etree._Element] = {}
    for item, _ in book.spine:
        if not item.name:
            findings.add("read.missing-part", part=item.href or item.ident)
        elif not is_markup(item):
            findings.add("read.not-text-part", part=item.name, media=item.media or "unknown")
            roots[item.name] = _picture_page(item)
        else:
            try:
                parse = parse_dtbook if item.media == DTBOOK else parse_content
                roots[item.name] = parse(book.package.read(item.name), item.name, findings)
            except MarkupError as error:
                raise SourceError(
                    f"The part {item.name} of {source} cannot be read: it {error.what}.",
                    "Check where the file comes from, or ask the publisher for a repaired EPUB.",
                ) from None
    if _is_fixed(book):
        findings.add("read.fixed-layout")
    _follow_guide(book, roots, findings)
    return roots


def _follow_guide(book: Book, roots: dict[str, etree._Element], findings: Findings) -> None:
    """Give the bodies that say nothing of themselves the term that the guide has for them."""
    named = 0
    for part, term in book.guide.items():
        body = roots[part].find("{*}body") if part in roots else None
        said = body is None or not {TYPE, "role", "class"}.isdisjoint(body.keys())
        if body is not None and not said and next(body.iter("{*}nav", "{*}section"), None) is None:
            body.set(TYPE, term)
            named += 1
    if named:
        findings.add("read.guide", number=named)


def _is_fixed(book: Book) -> bool:
    """Whether some pages have a fixed layout, in whichever of three ways it is said."""
    opf = book.package.xml(book.opf)
    refs = (ref.get("properties", "") for ref in opf.iter("{*}itemref"))
    if "pre-paginated" in _layout(opf) or any("layout-pre-paginated" in ref for ref in refs):
        return True
    name = book.package.find("META-INF/com.apple.ibooks.display-options.xml")
    try:
        rows = book.package.xml(name).iter("{*}option") if name else ()
        return any(o.get("name") == "fixed-layout" and o.text == "true" for o in rows)
    except SourceError:
        return False


def _layout(opf: etree._Element) -> str:
    for row in opf.iter("{*}meta"):
        if row.get("property", "") == "rendition:layout" or row.get("name") == "fixed-layout":
            words = (row.text or row.get("content") or "").strip()
            return "pre-paginated" if words == "true" else words
    return ""


def _picture_page(item: Item) -> etree._Element:
    """A page for a spine item that is no markup, so that its place is kept."""
    root = etree.Element("html")
    body = etree.SubElement(root, "body")
    if item.media.startswith("image/"):
        etree.SubElement(body, "img", src=item.name.rsplit("/", 1)[-1])
    return root


def _read_parts(
    walker: Walker, roots: dict[str, etree._Element], findings: Findings
) -> list[Block]:
    parts = _Loaded(walker.book, roots, findings)
    xhtml_described.find_descriptions(walker, roots, parts.load)
    apart = {item.name for item, linear in walker.book.spine if not linear}
    children: list[Block] = []
    for part, root in roots.items():
        start = walker.ledger.length
        pictures = len(walker.pictures)
        blocks = walker.read_part(part, root, parts.planner(part, root))
        children.extend(blocks)
        if blocks and part in apart:
            findings.add("read.not-linear", part=part)
        if walker.ledger.length == start and len(walker.pictures) > pictures:
            findings.add("read.picture-page", (start, start), part=part)
    children.extend(xhtml_described.read_left_over(walker))
    for planner in parts.planners.values():
        if planner.sheets is not None and planner.sheets.trouble:
            findings.add("read.style-limits", part=min(planner.sheets.trouble))
    _tell_terms(parts, findings)
    _tell_unread(walker.book, parts.roots, findings)
    return children


def _tell_unread(book: Book, read: Collection[str], findings: Findings) -> None:
    """Text parts of the package that neither the reading order nor a picture names."""
    listed = {item.name for item in book.items.values()}
    kept = {item.name for item in book.items.values() if item.name and is_markup(item)}
    kept |= {n for n in book.package.names if n.lower().endswith(_PAGES) and n not in listed}
    names = sorted(n for n in kept - {book.nav, *read} if not n.lower().endswith(".svg"))
    if book.items and names:
        more = f" and {len(names) - _MOST_NAMES} more" if len(names) > _MOST_NAMES else ""
        words = ", ".join(name.rsplit("/", 1)[-1] for name in names[:_MOST_NAMES]) + more
        findings.add("read.part-unread", number=len(names), words=words)


def _tell_terms(parts: _Loaded, findings: Findings) -> None:
    terms = sorted(set().union(*(unknown_terms(each) for each in parts.planners.values())))
    if terms:
        more = f" and {len(terms) - _MOST_TERMS} more" if len(terms) > _MOST_TERMS else ""
        findings.add("read.unknown-term", words=", ".join(terms[:_MOST_TERMS]) + more)


class _Loaded:
    """Parsed parts with their planners, each made once; parts that only a picture names too."""

    def __init__(self, book: Book, roots: dict[str, etree._Element], findings: Findings) -> None:
        self.book, self.findings = book, findings
        self.roots: dict[str, etree._Element | None] = {**roots}
        self.planners: dict[tuple[str, ...], Planner] = {}

    def planner(self, part: str, root: etree._Element) -> Planner:
        """The planner of the style sheets of a part."""
        key = _sheets_of(self.book, part, root)
        if key not in self.planners:
            self.planners[key] = _make_planner(self.book, key, self.findings)
        return self.planners[key]

    def load(self, part: str) -> tuple[etree._Element, Planner] | None:
        """Root and planner of a part of the spine or the manifest; ``None`` where unreadable."""
        if part not in self.roots:
            self.roots[part] = self._parse(part)
        root = self.roots[part]
        return None if root is None else (root, self.planner(part, root))

    def _parse(self, part: str) -> etree._Element | None:
        item = next((i for i in self.book.items.values() if i.name == part), None)
        if item is None or not is_markup(item):
            return None
        try:
            return parse_content(self.book.package.read(part), part, self.findings)
        except (MarkupError, SourceError):
            return None


# ---------------------------------------------------------------- style sheets


def _sheets_of(book: Book, part: str, root: etree._Element) -> tuple[str, ...]:
    """The style sheets of a content document: entry names, and texts of ``style`` elements."""
    found: list[str] = []
    head = next((e for e in root if local_name(str(e.tag)) == "head"), None)
    if head is None:
        return ()
    for element in head:
        name = local_name(str(element.tag))
        if name == "link" and "stylesheet" in element.get("rel", "").lower().split():
            if "alternate" not in element.get("rel", "").lower():
                entry, _ = resolve(book.package, part, element.get("href", ""))
                if entry:
                    found.append(entry)
        elif name == "style" and element.text:
            found.append("{" + part + "}" + element.text)
    return tuple(found)


def _make_planner(book: Book, key: tuple[str, ...], findings: Findings) -> Planner:
    texts: list[str] = []
    total = 0
    for entry in key:
        try:
            text, base = _sheet_text(book, entry)
            imported = _imports(book, base, text)
        except SourceError:
            findings.add("read.style-unread", part=entry)
            continue
        for inner in imported:
            total += len(inner)
            texts.append(inner)
        total += len(text)
        texts.append(text)
        if total > LIMITS.css:
            findings.add("read.style-limits", part="size")
            return Planner(None)
    if not texts:
        return Planner(None)
    from .css import Sheets

    sheets = Sheets()
    for text in texts:
        sheets.add(text)
    return Planner(sheets if sheets.filed or sheets.trouble else None)


def _sheet_text(book: Book, entry: str) -> tuple[str, str]:
    if entry.startswith("{"):
        base, _, text = entry[1:].partition("}")
        return text, base
    data = book.package.read(entry)
    encoding = "utf-16" if data[:2] in (b"\xff\xfe", b"\xfe\xff") else "utf-8-sig"
    return data.decode(encoding, "replace"), entry


def _imports(book: Book, base: str, text: str) -> list[str]:
    """The sheets a sheet imports from inside the package, one level deep."""
    if "@import" not in text:
        return []
    import tinycss2

    from .css_text import bounded

    found: list[str] = []
    for rule in tinycss2.parse_stylesheet(bounded(text), skip_comments=True, skip_whitespace=True):
        if rule.type == "at-rule" and rule.lower_at_keyword == "import":
            urls = [t for t in rule.prelude if t.type in ("string", "url")]
            for token in urls[:1]:
                entry, _ = resolve(book.package, base, token.value)
                if entry and entry != base:
                    found.append(_sheet_text(book, entry)[0])
    return found
