"""Every option of a conversion, in one frozen object: the command line and job file fill it."""

from __future__ import annotations

from dataclasses import dataclass

WRITERS = ("brf", "report", "proof", "trace")


@dataclass(frozen=True, slots=True)
class Settings:
    """Options of one conversion.  Sizes are in cells, lines and braille pages.

    ``cells``, ``lines``, ``contents_levels`` and ``notes`` of ``None`` mean: as the convention
    says.
    Each of ``symbol`` is a row of the special symbols page: cells, a space, what they mean,
    which is empty for a sign left out.  Each of ``about`` is a fact as NAME=VALUE (about.py).
    """

    code: str = "ueb"
    math: str = "ueb"
    convention: str = "bf2016"
    cells: int | None = None
    lines: int | None = None
    running_head: str | None = None
    volume_pages: int = 80
    front_pages: bool = True
    write: tuple[str, ...] = WRITERS
    clean: tuple[str, ...] = ()
    roles: str = ""
    quotes: str = "auto"
    require_print_pages: bool = False
    revisions: str = "accepted"
    document_pages: bool = False
    title: str | None = None
    transcriber: str | None = None
    divide_words: bool = False
    foreign: str = "uncontracted"
    foreign_tables: tuple[str, ...] = ()
    profile: str | None = None
    line_spacing: int = 1
    contents_levels: int | None = None
    notes: str | None = None
    title_lines: tuple[str, ...] = ()
    symbol: tuple[str, ...] = ()
    mark_changes: bool = False
    about: tuple[str, ...] = ()
    memo: str | None = None
