"""Small documents converted under a risk profile."""

from __future__ import annotations

from pathlib import Path

from convert.edition import Edition
from convert.pipeline import convert_source, settings_from

from ..readers.make import epub
from ..readers.make_docx import docx


def edition(folder: Path, body: str, profile: str = "", **options: object) -> Edition:
    """An EPUB with a print page mark and ``body``, without front pages."""
    mark = '<div epub:type="pagebreak" role="doc-pagebreak" id="p4" aria-label="4"></div>'
    given: dict[str, object] = {"front_pages": False} | options
    if profile:
        given["profile"] = profile
    return convert_source(epub(folder, mark + body), settings_from(**given))


def word_edition(folder: Path, body: str, profile: str = "", **options: object) -> Edition:
    """A Word document with ``body``."""
    given: dict[str, object] = {"front_pages": False} | options
    if profile:
        given["profile"] = profile
    return convert_source(docx(folder, body), settings_from(**given))


def grades(edition: Edition) -> dict[str, str]:
    """The kinds of findings with their severities."""
    return {finding.kind: finding.severity for finding in edition.findings}


def body_lines(edition: Edition) -> list[str]:
    """All lines of the text as cells."""
    return [page.line(n) for _, _, page in edition.book.pages()
            for n in range(1, len(page.rows) + 1)]  # fmt: skip
