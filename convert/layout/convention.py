"""A layout convention: a table of styles, page shape and wordings, read from TOML.

The table speaks the trade's notation: ``"3-1"`` is a first line from cell 3 and runovers from
cell 1; ``"nested"`` is computed (level k of n starts in cell 2k-1, every runover in cell 2n+1:
Braille Formats 2016, 8.1); ``"centred"``; ``"previous+5"`` starts five cells to the right of the
line above (9.7).  The keys are a closed list, each row cites its section, and a convention may
say ``extends = "bf2016"`` and give only what it changes.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Protocol

from .. import plugins
from ..errors import ConventionError, why

NESTED, CENTRED = "nested", "centred"


@dataclass(frozen=True, slots=True)
class Page:
    """Shape of a braille page, in cells and lines, and where its furniture stands.

    ``running_head`` is ``line-1`` or ``none``; ``print_page`` ``top-right`` or ``none``;
    ``braille_page`` ``bottom-right`` or ``none``; ``guard`` is the number of empty cells kept
    before a page number.  ``blank_policy`` is ``2024`` (a blank line lost at a page turn opens
    the next page) or ``pre2024``.  ``letters_after_z`` says how continuation letters go on,
    ``words_over_pages`` whether a word in which a print page begins stands ``before`` or ``after``,
    ``centre_odd`` on which side the odd cell of a centred line falls, ``centre_free`` how many
    cells stay empty at each side of one.  ``title_on_first_page`` repeats the title above the
    first text of a volume, under a running head that says the same only with ``title_under_head``;
    ``title_capitals`` and ``head_capitals``: in capitals throughout (``full``) or as given
    (``print``).  ``sides`` is ``two`` for interpoint: t-pages, p-pages and the text of
    each volume begin on right-hand pages then, after a blank page where one is needed, and without
    ``left_numbers`` left-hand pages have no braille page number (Appendix E).
    """

    cells: int
    lines: int
    running_head: str
    print_page: str
    braille_page: str
    guard: int
    blank_policy: str
    letters_after_z: str
    words_over_pages: str
    centre_odd: str
    centre_free: int
    title_on_first_page: bool
    title_capitals: str
    title_under_head: bool
    head_capitals: str
    cite: str
    sides: str = "one"
    left_numbers: bool = True


@dataclass(frozen=True, slots=True)
class Style:
    """One row of the table.  Cells from 1; ``before``, ``after``, ``within`` are blank lines.

    ``within`` is the number between neighbours of one list, table, poem or exercise set.
    ``more`` is the indent of further paragraphs of the same item, ``right`` how many cells stay
    free at the right end of its lines.  ``typeforms``: ``keep``,
    ``drop``, ``whole`` (dropped only where the whole item carries them) or ``reverse``.
    """

    name: str
    kind: str
    indent: str
    cite: str
    more: str = ""
    before: int = 0
    after: int = 0
    within: int | None = None
    keep: tuple[tuple[str, int], ...] = ()
    right: int = 0
    typeforms: str = "keep"
    sure: str = ""

    @property
    def centred(self) -> bool:
        return self.indent == CENTRED

    @property
    def nested(self) -> bool:
        return self.indent == NESTED

    @property
    def first(self) -> int:
        """First cell of a one-level item (from 1)."""
        return self.margins()[0]

    @property
    def runover(self) -> int:
        """Runover cell of a one-level item (from 1)."""
        return self.margins()[1]

    @property
    def from_previous(self) -> int:
        """Cells to the right of the start of the line above; 0 where the indent is fixed."""
        return int(self.indent[9:]) if self.indent.startswith("previous+") else 0

    def margins(self, level: int = 1, levels: int = 1, further: bool = False) -> tuple[int, int]:
        """First and runover cell, for a level of so many, or for a further paragraph there."""
        indent = (self.more or self.indent) if further else self.indent
        if indent == NESTED:
            start = 2 * levels + 3 if further else 2 * level - 1
            return start, 2 * levels + 1
        if indent == CENTRED or indent.startswith("previous+"):
            return 1, 1
        first, _, runover = indent.partition("-")
        return int(first), int(runover)


@dataclass(frozen=True, slots=True)
class Wording:
    """Words the edition adds, with places such as ``{n}`` to fill in."""

    name: str
    words: str
    cite: str
    sure: str = ""


@dataclass(frozen=True, slots=True)
class Front:
    """Title page, symbols page, notes page, contents: numbers in cells, and wordings.

    ``guide_dots_least`` is the shortest row of guide dots, ``number_clear`` the empty cells
    kept between the text of contents entries and the longest page number.
    ``contents_levels`` is how many ranks of headings the contents list, the highest first.
    ``symbols_order``: the special symbols in the order of the sections of UEB (``section``) or
    of their cells (``braille``).  ``from_pages``: an edition of fewer braille pages than about
    so many has no front pages.  ``symbols_indent`` and ``notes_indent``: first line and runovers of
    special symbols and of the notes on their page; ``contents_volume_notes``: whether the lines
    that name volumes in the contents are transcriber's notes.
    """

    guide_dots_least: int
    number_clear: int
    contents_levels: int
    symbols_order: str
    from_pages: int
    symbols_indent: str
    notes_indent: str
    contents_volume_notes: bool
    cite: str
    wordings: Mapping[str, Wording] = field(default_factory=dict)

    def words(self, name: str, **facts: object) -> str:
        """The wording of that name, filled in.  Raises ConventionError if there is none."""
        row = self.wordings.get(name)
        if row is None:
            raise ConventionError(f"The convention has no wording “{name}”.", "Add a row for it.")
        return row.words.format(**facts)


@dataclass(frozen=True, slots=True)
class Volumes:
    """Braille pages in a volume (wanted, fewest, most) and where one may end, best
    first; of headings of one form those of the higher rank in print come first."""

    target: int
    least: int
    most: int
    boundaries: tuple[str, ...]
    cite: str


@dataclass(frozen=True, slots=True)
class Pair:
    """Blank lines between two styles, against the usual rule; ``*`` stands for any style."""

    after: str
    then: str
    blank: int
    cite: str


@dataclass(frozen=True, slots=True)
class Role:
    """Which style a node of a role takes; an empty role is any."""

    node: str
    style: str
    role: str = ""


@dataclass(frozen=True, slots=True)
class Convention:
    """A whole convention, checked.  ``rules`` are single settings of the flow."""

    name: str
    title: str
    page: Page
    volume: Volumes
    front: Front
    styles: Mapping[str, Style]
    between: tuple[Pair, ...]
    roles: tuple[Role, ...]
    headings: tuple[tuple[str, ...], ...]
    relax: tuple[str, ...]
    notes: Mapping[str, Wording]
    rules: Mapping[str, Any]

    def style(self, name: str) -> Style:
        """The row of that name.  Raises ConventionError if there is none."""
        row = self.styles.get(name)
        if row is None:
            raise ConventionError(f"The convention {self.name} has no style “{name}”.")
        return row

    def style_for(self, node: str, role: str = "") -> Style:
        """The style of a node with a role: the first row that fits."""
        for row in self.roles:
            if row.node == node and row.role in ("", role):
                return self.style(row.style)
        raise ConventionError(f"The convention {self.name} has no style for {node} {role}.".strip())

    def gap(self, after: str, then: str) -> int | None:
        """Blank lines the pairs table wants between two styles, if it names them."""
        for pair in self.between:
            if pair.after in (after, "*") and pair.then in (then, "*"):
                return pair.blank
        return None

    def heading_styles(self, levels: int) -> tuple[str, ...]:
        """Style of each printed heading rank, for a work with so many (BF 4.1)."""
        if levels < 1:
            return ()
        row = self.headings[min(levels, len(self.headings)) - 1]
        return row + (row[-1],) * (levels - len(row))


class _File(Protocol):
    """What an entry point of the group gives: a path inside a package."""

    name: str

    def read_text(self, encoding: str) -> str: ...


def load(name: str) -> Convention:
    """The convention of that name, or in the TOML file at that path.

    Raises ConventionError naming the row that is wrong, PluginError if the name is unknown.
    """
    from .convention_check import build

    return build(_table(name, ()), name)


def _table(name: str, seen: tuple[str, ...]) -> dict[str, Any]:
    """The rows of a convention, with those it extends."""
    if name in seen:
        raise ConventionError(
            f"The conventions {' and '.join(seen)} extend one another in a circle.",
            "Let one of them stand alone.",
        )
    text, folder = _read(name)
    try:
        table = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise ConventionError(
            f"The convention {name} is not valid TOML: {error}.", "Correct that line."
        ) from error
    base = table.pop("extends", None)
    if base is None:
        return table
    if not isinstance(base, str):
        raise ConventionError(f"In the convention {name}, extends must be one name in quotes.")
    if base.endswith(".toml") and folder is not None:
        base = str(folder / base)
    return merge(_table(base, (*seen, name)), table)


def _read(name: str) -> tuple[str, Path | None]:
    if name.endswith(".toml"):
        path = Path(name)
        try:
            return path.read_text("utf-8"), path.parent
        except (OSError, UnicodeDecodeError) as error:
            raise ConventionError(
                f"The convention file {name} cannot be read: {why(error)}.", "Check the name."
            ) from error
    file: _File | str = plugins.load("convert.conventions", name)
    with plugins.named_if_it_fails("convert.conventions", name):
        if isinstance(file, str):
            return Path(file).read_text("utf-8"), Path(file).parent
        return file.read_text("utf-8"), None


def merge(base: dict[str, Any], change: dict[str, Any]) -> dict[str, Any]:
    """``base`` with the rows of ``change`` laid over it; lists of rows go in front."""
    out = dict(base)
    for key, value in change.items():
        old = out.get(key)
        if isinstance(value, dict) and isinstance(old, dict):
            out[key] = merge(old, value)
        elif key in ("role", "between") and isinstance(value, list) and isinstance(old, list):
            out[key] = [*value, *old]
        else:
            out[key] = value
    return out
