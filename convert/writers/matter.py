"""What the work holds and what became of it: the figures of the report.

Every figure is counted from the tree, the ledger, the pages or the findings of this run.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from ..document.nodes import (
    TYPEFORM_BITS,
    AnswerSpace,
    DisplayMath,
    Document,
    Footnote,
    Heading,
    MathRun,
    Run,
    Table,
    TranscriberNote,
    inlines_of,
    walk,
)
from ..edition import Edition
from ..findings import Finding, Span, catalogue
from .counted import count
from .pictures import Picture
from .shown import show

_SERIES = {"t": "title pages (t)", "p": "front pages (p)", "body": "pages of the text"}
# How a table was set, by the kind of finding that says so.
_TABLES = {
    "layout.table-columned": "in columns as in print",
    "layout.table-keyed": "in columns with shortened headings and a key",
    "layout.table-interchanged": "rows and columns interchanged",
    "layout.table-divided": "divided into parts",
    "layout.table-facing": "divided over facing pages",
    "layout.table-listed": "as a list under column headings",
    "layout.table-linear": "as a list, one item a row",
    "layout.table-stairstep": "in steps",
    "layout.table-as-text": "as ordinary text",
    "read.layout-table": "read as text, as it only lays out text",
}
_PLAIN_FORMS = ("italic", "bold", "underline", "script", "small-caps", "strike", "sup", "sub")
_FORM_NAMES = {"sup": "superscript", "sub": "subscript", "small-caps": "small capitals",
               "strike": "struck through"}  # fmt: skip


class Figure(NamedTuple):
    """A figure of the report: what was counted, how many, and a remark where one helps."""

    what: str
    number: int
    remark: str = ""


def figures(edition: Edition, found: Sequence[Picture]) -> list[Figure]:
    """All figures beyond the totals, in the order of the report; what there is none of is told
    as none.  ``found`` are the edition's pictures."""
    document = edition.document
    nodes = list(walk(document))
    inlines = [inline for node in nodes for inline in inlines_of(node)]
    return [
        *_words(edition),
        *_pages(edition),
        Figure("Headings", sum(isinstance(node, Heading) for node in nodes)),
        *_tables(edition.findings, sum(isinstance(node, Table) for node in nodes)),
        *_pictures(found),
        *_typeforms(inlines),
        Figure("Notes of print", sum(isinstance(node, Footnote) for node in nodes)),
        Figure("Transcriber's notes", sum(isinstance(n, TranscriberNote) for n in nodes)),
        Figure("Formulas", sum(isinstance(n, DisplayMath | MathRun) for n in [*nodes, *inlines])),
        Figure("Spaces for answers", sum(isinstance(i, AnswerSpace) for i in inlines)),
        *_omitted(document),
    ]


def _words(edition: Edition) -> Iterator[Figure]:
    text = edition.document.ledger.text
    gone = [(omission.start, omission.end) for omission in edition.document.omissions]
    gone += [s for f in edition.findings if f.kind == "print.lost" for s in f.spans]
    words = len(text.split())
    out = sum(len(text[start:end].split()) for start, end in _joined(gone))
    yield Figure("Words in print", words)
    yield Figure("Words in cells", words - out, "all that were not left out or lost")


def _joined(spans: list[Span]) -> Iterator[Span]:
    """Stretches without overlaps."""
    reach = 0
    for start, end in sorted(spans):
        if end > reach:
            yield max(start, reach), end
            reach = end


def _pages(edition: Edition) -> Iterator[Figure]:
    series = Counter(page.series for _, _, page in edition.book.pages())
    for key, name in _SERIES.items():
        if series[key]:
            yield Figure(f"Braille pages: {name}", series[key])
    for volume in edition.volumes if len(edition.volumes) > 1 else ():
        yield Figure(f"Braille pages of volume {volume.number}", len(volume.pages))


def _tables(findings: list[Finding], number: int) -> Iterator[Figure]:
    yield Figure("Tables", number)
    for finding in findings:
        if finding.kind in _TABLES:
            reason = str(dict(finding.facts).get("reason", ""))
            remark = f"because {show(reason)}" if reason else ""
            yield Figure(f"Tables set {_TABLES[finding.kind]}", len(finding.spans) or 1, remark)


def _pictures(found: Sequence[Picture]) -> Iterator[Figure]:
    yield Figure("Pictures", len(found))
    for state, number in sorted(Counter(picture.state for picture in found).items()):
        yield Figure(f"Pictures {state}", number)


def _typeforms(inlines: Sequence[object]) -> Iterator[Figure]:
    bits = Counter(run.typeform for run in inlines if isinstance(run, Run) and run.typeform)
    for name in _PLAIN_FORMS:
        number = sum(times for form, times in bits.items() if form & TYPEFORM_BITS[name])
        if number:
            said = _FORM_NAMES.get(name, name)
            yield Figure(f"Stretches of print in {said}", number)
    own = sum(times for form, times in bits.items() if form >= 256)
    if own:
        yield Figure("Stretches in typeforms of the transcriber", own)


def _omitted(document: Document) -> Iterator[Figure]:
    """What was left out, by the kind of finding that gives the reason."""
    rows: dict[str, list[Span]] = {}
    for omission in document.omissions:
        rows.setdefault(omission.why, []).append((omission.start, omission.end))
    yield Figure("Stretches of print left out", sum(map(len, rows.values())))
    for why, spans in sorted(rows.items()):
        name = catalogue()[why].title.lower() if why in catalogue() else why.replace("-", " ")
        size = sum(end - start for start, end in spans)
        yield Figure(f"Left out: {name}", len(spans), count(size, "character"))
