"""Print page numbers: the lists an EPUB gives, and whether they agree with the text.

Labels are strings and stay as printed: roman, prefixed and double numbers are common.
"""

from __future__ import annotations

import re
from itertools import accumulate, pairwise

from lxml import etree

from ..errors import SourceError
from ..findings import Findings
from .opf import Book, resolve
from .plans import TYPE
from .roles import terms_of
from .xhtml_marks import clean_label

_NAMED = re.compile(
    r"(?:print)?(?:page|pg)(?:num|no|break)?[-_.]?([0-9]{1,4}|[ivxlcdm]{1,8})", re.I
)
_FEWEST_NAMES = 5
_NAMES_WITH_P = etree.XPath("//@id[starts-with(., 'p') or starts-with(., 'P')]")
_MARKED = (
    "boolean(//*[local-name() = 'pagenum' or contains(@role, 'pagebreak')"
    " or contains(@class, 'page') or @*[local-name() = 'type' and contains(., 'pagebreak')]])"
)
Listed = list[tuple[str, str, str]]
_PROMISES = frozenset({"pageBreakMarkers", "pageNavigation", "printPageNumbers"})


def page_list(book: Book) -> Listed:
    """(part, fragment, label) of the page list of the navigation document, else of the NCX, else
    of a page map (a form of one maker of reading programs, from memory)."""
    package = book.package
    listed: Listed = []
    try:
        if book.nav:
            listed = _from_nav(book, package.xml(book.nav))
        if not listed and book.ncx:
            listed = _from_ncx(book, package.xml(book.ncx))
        for item in book.items.values() if not listed else ():
            if "page-map" in item.media and item.name:
                listed = _from_map(book, item.name, package.xml(item.name))
    except SourceError:
        return []
    return listed


def _from_nav(book: Book, root: etree._Element) -> Listed:
    listed: Listed = []
    for nav in root.iter("{*}nav"):
        terms = terms_of(nav.get(TYPE, ""), nav.get("role", ""))
        if "page-list" in terms or "pagelist" in terms:
            for link in nav.iter("{*}a"):
                label = clean_label("".join(str(t) for t in link.itertext()))
                _add(listed, book, book.nav, link.get("href", ""), label)
    return listed


def _from_ncx(book: Book, root: etree._Element) -> Listed:
    listed: Listed = []
    for target in root.iter("{*}pageTarget"):
        text = next(target.iter("{*}text"), None)
        content = next(target.iter("{*}content"), None)
        words = "" if text is None else "".join(str(t) for t in text.itertext())
        label = clean_label(words) or clean_label(target.get("value", ""))
        if content is not None:
            _add(listed, book, book.ncx, content.get("src", ""), label)
    return listed


def _from_map(book: Book, name: str, root: etree._Element) -> Listed:
    listed: Listed = []
    for page in root.iter("{*}page"):
        _add(listed, book, name, page.get("href", ""), clean_label(page.get("name", "")))
    return listed


def pages_by_names(roots: dict[str, etree._Element]) -> Listed:
    """Pages as names of places say them (``id="page_12"``), where five or more rise in the order
    of the text (common practice, no source); nothing where they do not."""
    listed: Listed = []
    for part, root in roots.items():
        for ident in _NAMES_WITH_P(root):
            if found := _NAMED.fullmatch(str(ident)):
                listed.append((part, str(ident), found[1]))
    numbers = [int(label) for _, _, label in listed if label.isdecimal()]
    rising = all(after > before for before, after in pairwise(numbers))
    if len(numbers) < _FEWEST_NAMES or not rising:
        return []
    return [] if any(root.xpath(_MARKED) for root in roots.values()) else listed


def _add(listed: Listed, book: Book, base: str, href: str, label: str | None) -> None:
    name, fragment = resolve(book.package, base, href)
    if label is not None:
        listed.append((name, fragment, label))


def reconcile(
    listed: Listed, found: list[tuple[str, str | None]], book: Book, findings: Findings
) -> None:
    """File what does not agree: list against text, order, gaps, repeats, promises."""
    labels = [label for _, label in found if label is not None]
    in_text = set(labels)
    if listed:
        in_list = {label for _, _, label in listed}
        for label in dict.fromkeys(label for _, _, label in listed):
            if label not in in_text:
                findings.add("read.page-not-found", page=label)
        for label in dict.fromkeys(labels):
            if label not in in_list:
                findings.add("read.page-not-listed", page=label)
    if not labels:
        promised = sorted(_PROMISES.intersection(book.features))
        if promised:
            findings.add("read.pages-promised")
        return
    if book.meta.page_source.lower() == "none":
        findings.add("read.own-pages")
    _check_order([label for _, label in found], findings)


def _check_order(found: list[str | None], findings: Findings) -> None:
    """``found``: the labels in order, ``None`` for pages without a number, which fill gaps."""
    seen: set[str] = set()
    bare = [0, *accumulate(label is None for label in found)]
    labels = {label: at for at, label in reversed([*enumerate(found)]) if label is not None}
    for label in found:
        if label is None:
            continue
        if label in seen:
            findings.add("read.page-repeated", page=label)
        seen.add(label)
    order = sorted(labels, key=lambda label: labels[label])
    whole = [label for label in order if label.isdecimal() and len(label) < 10]
    numbers = [(int(label), label) for label in whole]
    for (before, first), (after, second) in pairwise(numbers):
        if after < before:
            findings.add("read.page-order", first=first, second=second)
        elif after > before + 1 + bare[labels[second]] - bare[labels[first]]:
            findings.add("read.page-gap", first=first, second=second)
