"""The package of an EPUB: container, package document, manifest, spine, metadata, protection."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from posixpath import dirname, join
from urllib.parse import unquote

from lxml import etree

from ..document.nodes import Meta
from ..errors import SourceError
from ..findings import Findings
from .container import Package, Parts

CONTAINER = "META-INF/container.xml"
_FONT_SCHEMES = (
    "http://www.idpf.org/2008/embedding",
    "http://ns.adobe.com/pdf/enc#RC",
)
_RIGHTS = ("META-INF/license.lcpl", "META-INF/sinf.xml")
_ISBN = re.compile(r"97[89][\d -]{10,14}|\b\d{9}[\dXx]\b")
_DC = "{http://purl.org/dc/elements/1.1/}"
_MARKUP = ("application/xhtml+xml", "text/html", "application/xml", "text/xml", "image/svg+xml")
DTBOOK = "application/x-dtbook+xml"


@dataclass(frozen=True, slots=True)
class Item:
    """A row of the manifest; ``name`` is the entry in the package, empty where it is missing."""

    ident: str
    name: str
    href: str
    media: str
    properties: tuple[str, ...]
    fallback: str


_RENDITION = "{http://www.idpf.org/2013/rendition}"
# What the guide of an EPUB 2 calls a part, as a term of semantics [OPF 2.0.1, 2.6].
_GUIDE = {"notes": "endnotes"} | dict.fromkeys(
    ("toc", "index", "glossary", "acknowledgements", "bibliography", "colophon", "copyright-page",
     "dedication", "epigraph", "foreword", "loi", "lot", "preface"), ""
)  # fmt: skip


@dataclass(slots=True)
class Book:
    """What the package document says.  ``spine`` holds entries with whether they are linear;
    ``guide`` the terms of whole parts."""

    package: Parts
    opf: str
    items: dict[str, Item]
    spine: list[tuple[Item, bool]]
    meta: Meta
    nav: str = ""
    ncx: str = ""
    features: tuple[str, ...] = ()
    parts: frozenset[str] = field(default_factory=frozenset)
    guide: dict[str, str] = field(default_factory=dict)


def resolve(package: Parts, base: str, href: str) -> tuple[str, str]:
    """The entry and fragment meant by ``href`` in the part ``base``; an empty name: not found.

    Never leaves the package: surplus ``..`` are dropped [EPUB 3.3, 4.2.5].
    """
    path, _, fragment = href.strip().partition("#")
    if not path:
        return base, unquote(fragment)
    if re.match(r"[a-zA-Z][a-zA-Z0-9+.-]+:", path):
        return "", unquote(fragment)
    for candidate in dict.fromkeys((unquote(path), path)):
        name = package.find(_join(base, candidate.replace("\\", "/").partition("?")[0]))
        if name is not None:
            return name, unquote(fragment)
    return "", unquote(fragment)


def _join(base: str, path: str) -> str:
    whole = path.lstrip("/") if path.startswith("/") else join(dirname(base), path)
    steps: list[str] = []
    for step in whole.split("/"):
        if step == "..":
            del steps[-1:]
        elif step not in ("", "."):
            steps.append(step)
    return "/".join(steps)


def open_book(package: Package, source: str, findings: Findings) -> Book:
    """Read the package document.  Raises SourceError without a usable package or spine."""
    for name in package.doubled:
        findings.add("read.doubled-entry", part=name)
    if package.prefixed:
        findings.add("read.prefixed")
    opf = find_opf(package, source, findings)
    root = package.xml(opf)
    items = manifest(package, opf, root)
    spine = _spine(root, items, findings)
    if not spine:
        raise SourceError(
            f"{source} has no reading order: the spine of its package document is empty.",
            "Ask the publisher for a repaired EPUB.",
        )
    _refuse_protected(package, source, {item.name for item, _ in spine if item.name})
    nav = next((i.name for i in items.values() if "nav" in i.properties and i.name), "")
    ncx = next((i.name for i in items.values() if "dtbncx" in i.media and i.name), "")
    features = tuple(
        (meta.text or meta.get("content") or "").strip()
        for meta in root.iter("{*}meta")
        if (meta.get("property") or meta.get("name") or "").endswith("accessibilityFeature")
    )
    return Book(
        package=package,
        opf=opf,
        items=items,
        spine=spine,
        meta=read_meta(root),
        nav=nav,
        ncx=ncx,
        features=features,
        parts=frozenset(item.name for item, _ in spine),
        guide=_guide(package, opf, root),
    )


def _guide(package: Package, opf: str, root: etree._Element) -> dict[str, str]:
    """Weak semantics of an EPUB 2: for each part that the guide names as a whole its term."""
    found: dict[str, str] = {}
    for row in root.iter("{*}reference"):
        kind = row.get("type", "").lower()
        name, fragment = resolve(package, opf, row.get("href", ""))
        if kind in _GUIDE and name and not fragment:
            found.setdefault(name, _GUIDE[kind] or kind)
    return found


def find_opf(package: Package, source: str, findings: Findings) -> str:
    """The default rendition is that of the first rootfile; one whose text can flow is taken before
    one of fixed pages or pictures [EPUB Multiple-Rendition 1.1]."""
    roots: list[str] = []
    fixed: list[str] = []
    name = package.find(CONTAINER)
    if name is not None:
        try:
            for root in package.xml(name).iter("{*}rootfile"):
                if "package" in root.get("media-type", "package"):
                    found, _ = resolve(package, "", root.get("full-path", ""))
                    if found:
                        (fixed if _is_fixed(root) else roots).append(found)
        except SourceError:
            roots = fixed = []
    roots = roots + fixed
    if not roots:
        roots = [entry for entry in package.names if entry.lower().endswith(".opf")][:1]
        if not roots:
            raise SourceError(
                f"{source} has no package document, so its reading order is unknown.",
                "Ask the publisher for a repaired EPUB.",
            )
        findings.add("read.container-repaired", part=roots[0])
    if len(dict.fromkeys(roots)) > 1:
        findings.add("read.several-renditions", number=len(roots), part=roots[0])
    return roots[0]


def _is_fixed(rootfile: etree._Element) -> bool:
    """Whether a rendition is said to be of fixed pages, or to give no text."""
    layout = rootfile.get(f"{_RENDITION}layout", "")
    access = rootfile.get(f"{_RENDITION}accessMode", "textual")
    return layout == "pre-paginated" or "textual" not in access


def manifest(package: Package, opf: str, root: etree._Element) -> dict[str, Item]:
    items: dict[str, Item] = {}
    for row in root.iter("{*}item"):
        ident, href = row.get("id", ""), row.get("href", "")
        name = resolve(package, opf, href)[0] if href else ""
        items.setdefault(
            ident,
            Item(
                ident,
                name,
                href,
                row.get("media-type", "").strip().lower(),
                tuple(row.get("properties", "").split()),
                row.get("fallback", ""),
            ),
        )
    return items


def _spine(
    root: etree._Element, items: dict[str, Item], findings: Findings
) -> list[tuple[Item, bool]]:
    """The spine in order, each item once, foreign items by their fallback [EPUB 3.3, 3.5.1]."""
    spine: list[tuple[Item, bool]] = []
    seen: set[str] = set()
    for ref in root.iter("{*}itemref"):
        item = items.get(ref.get("idref", "").strip())
        if item is None:
            item = Item(ref.get("idref", ""), "", ref.get("idref", ""), "", (), "")
        item = _readable(item, items)
        key = item.name or item.href
        if key not in seen:
            seen.add(key)
            spine.append((item, ref.get("linear", "yes").strip().lower() != "no"))
        else:
            findings.add("read.part-repeated", part=key)
    return spine


def _readable(item: Item, items: dict[str, Item]) -> Item:
    here: Item | None = item
    for _ in range(len(items) + 1):
        if here is None:
            break
        if here.name and is_markup(here):
            return here
        here = items.get(here.fallback)
    return item


def is_markup(item: Item) -> bool:
    """Whether an item can be read as markup; the file's ending counts where the type is odd."""
    if item.media in _MARKUP or item.media == DTBOOK:
        return True
    return item.name.rsplit(".", 1)[-1].lower() in ("xhtml", "html", "htm", "svg")


def _refuse_protected(package: Package, source: str, spine: set[str]) -> None:
    """Font obfuscation is harmless; anything else on the text is rights protection [10]."""
    name = package.find("META-INF/encryption.xml")
    locked = any(package.find(entry) for entry in _RIGHTS)
    if name is not None:
        for data in package.xml(name).iter("{*}EncryptedData"):
            method = next(data.iter("{*}EncryptionMethod"), None)
            scheme = "" if method is None else method.get("Algorithm", "")
            for reference in data.iter("{*}CipherReference"):
                target, _ = resolve(package, "", reference.get("URI", ""))
                if target in spine and (scheme not in _FONT_SCHEMES or _is_cipher(package, target)):
                    locked = True
    if locked and any(_is_cipher(package, part) for part in spine):
        raise SourceError(
            f"{source} is protected by its publisher: its text is encrypted.",
            "Ask the publisher or an accessible-media service for an unlocked file.",
        )


def _is_cipher(package: Package, part: str) -> bool:
    """Whether a part does not begin as markup does."""
    head = package.read(part)[:64].lstrip(b"\xef\xbb\xbf\xff\xfe \t\r\n\0")
    return not head.startswith((b"<", b"\0<"))


# ---------------------------------------------------------------- metadata


def read_meta(root: etree._Element) -> Meta:
    """Title, subtitle, authors in order, publisher, date, ISBN, language, rights, page source."""
    refined: dict[tuple[str, str], str] = {}
    for row in root.iter("{*}meta"):
        if row.get("refines") and row.get("property"):
            key = (row.get("refines", "").lstrip("#"), row.get("property", ""))
            before = refined.get(key)
            refined[key] = f"{before} {_words(row)}" if before else _words(row)
    title, subtitle = _titles(root, refined)
    return Meta(
        title=title,
        subtitle=subtitle,
        authors=_authors(root, refined),
        publisher=_first(root, "publisher"),
        date=_first(root, "date"),
        isbn=_isbn(root),
        language=_first(root, "language"),
        rights=_first(root, "rights"),
        page_source=_page_source(root, refined),
    )


def _words(element: etree._Element) -> str:
    return " ".join("".join(str(text) for text in element.itertext()).split())


def _first(root: etree._Element, name: str) -> str:
    return next((words for e in root.iter(_DC + name) if (words := _words(e))), "")


def _titles(root: etree._Element, refined: dict[tuple[str, str], str]) -> tuple[str, str]:
    titles: dict[str, str] = {}
    for element in root.iter(_DC + "title"):
        kind = refined.get((element.get("id", ""), "title-type"), "")
        titles.setdefault(kind or ("main" if "main" not in titles else "other"), _words(element))
    main = titles.get("main") or next(iter(titles.values()), "")
    return main, titles.get("subtitle", "")


def _authors(root: etree._Element, refined: dict[tuple[str, str], str]) -> tuple[str, ...]:
    """Creators that are authors, by display-seq, then as listed [EPUB 3.3, 5.5.3.2.1]."""
    rows: list[tuple[int, int, str]] = []
    for at, element in enumerate(root.iter(_DC + "creator")):
        ident = element.get("id", "")
        own = element.get("{http://www.idpf.org/2007/opf}role", "")
        roles = (refined.get((ident, "role"), own) or "aut").lower().split()
        order = refined.get((ident, "display-seq"), "")
        if not {"aut", "author", "cre"}.isdisjoint(roles) and _words(element):
            place = int(order) if order.isdecimal() and len(order) < 10 else 999
            rows.append((place, at, _words(element)))
    return tuple(name for _, _, name in sorted(rows))


def _isbn(root: etree._Element) -> str:
    for name in ("identifier", "source"):
        for element in root.iter(_DC + name):
            words = _words(element)
            scheme = element.get("{http://www.idpf.org/2007/opf}scheme", "")
            claims = "isbn" in f"{words} {scheme}".lower() or words.startswith("97")
            if claims and (found := _ISBN.search(words)):
                return found[0].strip()
    return ""


def _page_source(root: etree._Element, refined: dict[tuple[str, str], str]) -> str:
    for row in root.iter("{*}meta"):
        if row.get("property", "").endswith("pageBreakSource"):
            return _words(row)
    for element in root.iter(_DC + "source"):
        if refined.get((element.get("id", ""), "source-of"), "") == "pagination":
            return _words(element)
    return ""
