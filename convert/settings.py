"""Every option of a conversion, in one frozen object: the command line and job file fill it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields
from typing import TypedDict

WRITERS = ("brf", "report", "proof", "trace")


@dataclass(frozen=True, slots=True)
class Settings:
    """Options of one conversion, as ``cellset run --help`` explains them.

    ``cells`` of a line, ``lines`` of a page, ``volume_pages`` in braille pages, ``line_spacing``
    in lines (1 single), ``contents_levels`` in ranks of headings.  ``cells``, ``lines``,
    ``contents_levels`` and ``notes`` of ``None`` mean: as the convention says.
    ``write`` are names of formats; ``roles`` is the text of a table of roles; ``memo`` a folder.
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


class Options(TypedDict, total=False):
    """The options that :func:`convert.convert` takes by name: fields of :class:`Settings`, and
    ``page``, such as ``"40x25"`` (cells by lines).  ``roles`` names a file here."""

    code: str
    math: str
    convention: str
    page: str
    cells: int | None
    lines: int | None
    running_head: str | None
    volume_pages: int
    front_pages: bool
    write: str | Sequence[str]
    clean: str | Sequence[str]
    roles: str
    quotes: str
    require_print_pages: bool
    revisions: str
    document_pages: bool
    title: str | None
    transcriber: str | None
    divide_words: bool
    foreign: str
    foreign_tables: str | Sequence[str]
    profile: str | None
    line_spacing: int
    contents_levels: int | None
    notes: str | None
    title_lines: Sequence[str]
    symbol: Sequence[str]
    mark_changes: bool
    about: Sequence[str]
    memo: str | None


_KINDS: dict[str, tuple[tuple[type, ...], str]] = {
    "str": ((str,), "words"),
    "int": ((int,), "a whole number"),
    "bool": ((bool,), "True or False"),
    "tuple[str, ...]": ((tuple,), "a list of words"),
}


def wanted_kind(name: str, value: object) -> str:
    """What a field of Settings takes, in words, where a value is of another type; else empty."""
    kind, _, none = next(f.type for f in fields(Settings) if f.name == name).partition(" | ")
    types, words = _KINDS[kind]
    if none and value is None:
        return ""
    good = isinstance(value, types) and isinstance(value, bool) == (kind == "bool")
    return "" if good else words
