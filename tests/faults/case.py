"""One seeded fault: a document with it, its twin without, and what must be found or read."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from convert.edition import Edition
from convert.pipeline import convert_source, settings_from
from convert.writers.findings_record import records

from ..readers.make import epub
from ..readers.make_docx import docx, p

ABOVE = "The harbour lies to the north of the old town."
BELOW = "The boats come home in the evening."
Where = tuple[str, int, str, int]
# Print page 2; volume 1, braille page 1, below two lines of page 1 and the page change line.
LINE_4 = ("2", 1, "1", 4)


@dataclass(frozen=True, slots=True)
class Case:
    """A fault of one of the 84 kinds.

    ``fault`` and ``clean`` are the matter on print page 2 (markup of the medium; plain words are
    a paragraph).  ``kinds``: findings it must raise and its twin must not.  ``place``: the print
    page and the braille place (volume, page, line) of the first of them that has a place; None
    where they concern the whole document, or what is not in the braille.
    ``same``: its braille is that of its twin.  ``holds`` and ``lacks``: what a line of its braille
    holds or none does, in North American ASCII.  ``refused``: the program refuses it.
    """

    number: int
    name: str
    fault: str
    clean: str = ""
    kinds: tuple[str, ...] = ()
    place: Where | None = LINE_4
    same: bool = False
    holds: str = ""
    lacks: str = ""
    medium: str = "epub"
    whole: bool = False
    parts: tuple[tuple[str, str], ...] = ()
    options: tuple[tuple[str, object], ...] = ()


def turn(label: str) -> str:
    """A print page mark between blocks of an EPUB."""
    return (
        f'<div epub:type="pagebreak" role="doc-pagebreak" id="p{label}" aria-label="{label}"></div>'
    )


def make(case: Case, body: str, folder: Path) -> Path:
    """The document: page 1 a paragraph, page 2 the matter and a last paragraph."""
    folder.mkdir()
    if case.medium == "docx":
        matter = body if body.startswith("<") else p(body)
        new_page = '<w:p><w:r><w:br w:type="page"/></w:r></w:p>'
        inner = matter if case.whole else p(ABOVE) + new_page + matter + p(BELOW)
        return docx(folder, inner, **dict(case.parts))
    matter = body if body.startswith("<") else f"<p>{body}</p>"
    whole = f"{turn('1')}<p>{ABOVE}</p>{turn('2')}{matter}<p>{BELOW}</p>"
    return epub(folder, matter if case.whole else whole, **dict(case.parts))  # type: ignore[arg-type]


def run(case: Case, body: str, folder: Path) -> Edition:
    """The edition of a document, with no front pages."""
    options = {"front_pages": False, "document_pages": case.medium == "docx"} | dict(case.options)
    return convert_source(make(case, body, folder), settings_from(**options))


def kinds(edition: Edition) -> set[str]:
    """The kinds of findings raised."""
    return {finding.kind for finding in edition.findings}


def place(edition: Edition, wanted: tuple[str, ...]) -> Where | None:
    """Print page and braille place of the first finding of the kinds that has both."""
    for record in records(edition):
        for where in record.places if record.kind in wanted else ():
            if where.braille:
                b = where.braille
                return where.page or "", b.volume, b.page, b.line
    return None


def lines(edition: Edition, folder: Path) -> str:
    """The braille as ASCII lines."""
    out = edition.write(folder, ("brf",))
    return "\n".join(file.read_text("ascii").lower() for file in sorted(out.glob("*.brf")))
