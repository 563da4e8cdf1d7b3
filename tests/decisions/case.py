"""Small EPUBs with job files, converted whole; pages and trees drawn.

Pages are drawn as lower-case North American ASCII braille, uncontracted, 30 cells by 12 lines,
without front pages, so that a decision's effect can be read off the page.
"""

from __future__ import annotations

from pathlib import Path
from textwrap import dedent

from convert.decisions.apply import decide
from convert.edition import Edition
from convert.findings import Finding, Findings
from convert.job import read_job, settings_options
from convert.pipeline import convert_source, settings_from
from convert.translation.cells import ascii_of
from tests.readers.make import draw, epub, read_epub

OPTIONS = {"code": "ueb-uncontracted", "cells": 30, "lines": 12, "front_pages": False}


def job_file(folder: Path, text: str, name: str = "tides.job.toml") -> Path:
    """A job file, its text written with the indent of the test."""
    path = folder / name
    path.write_text(dedent(text), "utf-8")
    return path


def converted(folder: Path, body: str, job: str = "", **more: object) -> Edition:
    """The edition of one chapter with the decisions of a job file."""
    parts = {key: more.pop(key) for key in ("files", "metadata") if key in more}
    source = epub(folder, body, **parts)  # type: ignore[arg-type]
    read = read_job(job_file(folder, job))
    given = OPTIONS | settings_options(read.options) | more
    return convert_source(source, settings_from(**given), job=read)


def pages(edition: Edition) -> str:
    """All braille pages, a line of dashes between them, ends of lines and of pages trimmed."""
    out = []
    for _, _, page in edition.book.pages():
        lines = [ascii_of(row.text).lower().rstrip() if row else "" for row in page.rows]
        out.append("\n".join(lines).rstrip("\n"))
    return "\n--\n".join(out)


def tree(folder: Path, body: str, job: str) -> str:
    """The tree after the decisions of a job file, drawn."""
    from convert.document.tidy import tidy

    findings = Findings()
    document = tidy(read_epub(epub(folder, body), findings), findings)
    return draw(decide(document, read_job(job_file(folder, job)).decisions, findings).document)


def states(edition: Edition) -> list[str]:
    """What became of each decision."""
    return [record.state for record in edition.decisions]


def of_kind(edition: Edition, kind: str) -> list[Finding]:
    """The findings of a kind."""
    return [finding for finding in edition.findings if finding.kind == kind]
