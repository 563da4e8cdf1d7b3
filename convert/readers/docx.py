"""Word documents (DOCX, DOCM, DOTX, DOTM) to the document tree.

The parts are opened by relationship (:mod:`.docx_parts`); the body is walked once over the
lxml elements (:mod:`.docx_blocks`, :mod:`.docx_inlines`).  Standard: ISO/IEC 29500-1.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

from lxml import etree

from ..collector import collector_off
from ..document.ledger import LedgerBuilder
from ..document.nodes import Block, Document, Heading, Meta, PrintPage, Run
from ..errors import SourceError
from ..findings import Findings
from ..settings import Settings
from .container import Source
from .docx_blocks import blocks
from .docx_doubts import file_doubts
from .docx_line import Line
from .docx_names import VAL, W
from .docx_numbers import Numbers
from .docx_pages import Pages
from .docx_parts import Parts, plain_text
from .docx_plain import stream_blocks
from .docx_stream import Irregular
from .docx_styles import Styles, primary
from .docx_walk import Walk

_LONGEST_QUOTE = 200
_FAR = ("http:", "https:", "ftp:", "//", "\\\\")
_MOST_COMMENTS = 20
_CHANGES = ("insertions", "deletions", "changes of table entries", "changes of looks")


def read(source: Source, settings: Settings, findings: Findings) -> Document:
    """Read a Word document.  Raises SourceError if it has no body that can be read, or if it
    has tracked changes and the settings say to refuse these."""
    with collector_off():
        document = None if settings.document_pages else _by_blocks(source, settings, findings)
        return document or _as_one_tree(source, settings, findings)


def _by_blocks(source: Source, settings: Settings, findings: Findings) -> Document | None:
    """Read the body block by block, so that memory never holds its whole tree; ``None``, and
    nothing filed, where its markup asks for the careful way."""
    found = Findings()
    try:
        parts = Parts(source, found)
        stream = parts.stream()
        walk = _start(parts, stream.skeleton(), settings, found)
        _set_language(walk.styles, *stream.languages())
        document = _finish(walk, source, stream_blocks(walk, stream))
    except Irregular:
        return None
    findings.take(found)
    return document


def _as_one_tree(source: Source, settings: Settings, findings: Findings) -> Document:
    parts = Parts(source, findings)
    root = parts.document()
    body = root.find(f"{W}body")
    if body is None:
        raise SourceError(
            f"{source.name} has no body, so it holds no text.",
            "Open it in a word processor and save it again.",
        )
    walk = _start(parts, root, settings, findings)
    languages = [mark.get(VAL) or "" for mark in root.iter(f"{W}lang")]
    _set_language(walk.styles, languages, sum(1 for _ in root.iter(f"{W}r")) if languages else 0)
    return _finish(walk, source, blocks(walk, body, f"/{2 * (root.index(body) + 1)}"))


def _finish(walk: Walk, source: Source, body: tuple[Block, ...]) -> Document:
    """The document of a read body, with what it says of the whole."""
    first, findings = walk.first, walk.findings
    children: list[Block] = [] if first is None else [PrintPage(label=first, address="first page")]
    children += body
    children += walk.notes.rest()
    _report(walk, source)
    ledger = walk.ledger.build()
    file_doubts(children, ledger.text, findings, walk.stands)
    return Document(
        ledger=ledger,
        children=tuple(children),
        meta=_meta(walk.parts.meta(), children, ledger.text),
        omissions=tuple(walk.line.omissions),
    )


def _start(parts: Parts, root: etree._Element, settings: Settings, findings: Findings) -> Walk:
    """The state before the first paragraph."""
    styles_part, numbers_part = parts.linked("styles"), parts.linked("numbering")
    styles = Styles(styles_part[1] if styles_part else None)
    ledger = LedgerBuilder()
    line = Line(ledger, findings)
    line.odd, line.part = parts.odd, parts.main
    pages = Pages(root, settings.document_pages)
    return Walk(
        parts=parts,
        root=root,
        styles=styles,
        numbers=Numbers(numbers_part[1] if numbers_part else None, styles, findings),
        pages=pages,
        settings=settings,
        findings=findings,
        ledger=ledger,
        line=line,
        first=pages.first(),
    )


def _set_language(styles: Styles, named: list[str], runs: int) -> None:
    """The language of most runs: the document's default unless most runs name another one."""
    counts = Counter(name for name in map(primary, named) if name)
    if not counts:
        return
    name, most = max(counts.items(), key=lambda row: (row[1], row[0]))
    if name != styles.base_lang and (not styles.base_lang or 2 * most > runs):
        styles.base_lang = name


def _meta(meta: Meta, children: list[Block], text: str) -> Meta:
    """The file's own description; the title from the Title style where it has none.

    Of its authors only those that print names: a word processor fills in the name of whoever
    set it up, and a title page is made from print (BF 2.3).
    """
    if any(name not in text for name in meta.authors):  # else nothing needs a careful look
        said = " ".join(text.split()).casefold()
        authors = tuple(name for name in meta.authors if name.casefold() in said)
        meta = replace(meta, authors=authors)
    if not meta.title:
        for block in children:
            if isinstance(block, Heading) and block.role == "title":
                words = "".join(text[r.start : r.end] for r in block.runs if isinstance(r, Run))
                return replace(meta, title=" ".join(words.split()))
    return meta


# ---------------------------------------------------------------- what the report says of the whole


def _report(walk: Walk, source: Source) -> None:
    tally, findings = walk.tally, walk.findings
    tally["changes of looks"] = walk.parts.changes
    if any(tally[what] for what in _CHANGES):
        if walk.settings.revisions == "refuse":
            raise SourceError(
                f"{source.name} has tracked changes ({_changes(walk)}).",
                "Accept or reject them in the word processor, or choose accepted or original "
                "with the option revisions.",
            )
        view = "with all changes made" if walk.final else "as it was before the changes"
        if walk.parts.changes and not walk.final:
            view += ", but in its new looks"
        findings.add(
            "docx.revisions",
            changes=_changes(walk),
            view=view,
            number=tally["deleted characters"],
        )
    if tally["comments"]:
        findings.add("docx.comments", number=tally["comments"], words=_comments(walk))
    if tally["shapes"]:
        findings.add("docx.shapes", number=tally["shapes"])
    if walk.pages.on and not walk.pages.used and not walk.pages.typed:
        findings.add("docx.no-page-breaks")
    elif walk.pages.used:
        findings.add("docx.document-pages", how=walk.pages.how(walk.parts.pages()))
    if walk.parts.lined:
        findings.add("docx.line-numbers")
    _report_heads(walk)
    _report_macros(walk)


def _changes(walk: Walk) -> str:
    counts = [f"{walk.tally[what]} {what}" for what in _CHANGES if walk.tally[what]]
    by = f" by {', '.join(sorted(walk.authors))}" if walk.authors else ""
    return " and ".join(counts) + by


def _comments(walk: Walk) -> str:
    """Who says what in the comments, which may be meant for the transcriber."""
    found = walk.parts.linked("comments")
    notes = list(found[1].iter(f"{W}comment")) if found is not None else []
    said = [
        f"{note.get(f'{W}author') or 'somebody'}: {plain_text(note)[:_LONGEST_QUOTE]}"
        for note in notes[:_MOST_COMMENTS]
    ]
    more = [f"and {len(notes) - _MOST_COMMENTS} more"] if len(notes) > _MOST_COMMENTS else []
    return "; ".join(said + more) or "their words are missing from the file"


def _report_heads(walk: Walk) -> None:
    """Headers and footers are no part of the text; say what they hold."""
    words: dict[str, None] = {}
    for link in walk.parts.links(walk.parts.main).values():
        if link.kind in ("header", "footer") and not link.external:
            root = walk.parts.root(link.target)
            text = plain_text(root) if root is not None else ""
            if text:
                words.setdefault(text[:_LONGEST_QUOTE])
    if words:
        walk.findings.add("docx.headers", number=len(words), words="; ".join(words))


def _report_macros(walk: Walk) -> None:
    name = walk.parts.linked_name("settings")
    links = walk.parts.links(name).values() if name else ()
    if any(link.external and link.target.lower().startswith(_FAR) for link in links):
        walk.findings.add("docx.outside-matter", what="a template")
    if any(link.kind == "vbaProject" for link in walk.parts.links(walk.parts.main).values()):
        walk.findings.add("docx.macros")
