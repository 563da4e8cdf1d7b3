"""The interlined proof: print over cells, page by page, with dot numbers on request.

By ear a line is its print, once; its cells are hidden from speech, and their dot numbers are
in a list that opens on request.  Words are set over their cells by whole pieces, never cell by
cell, so that a long book is written in a fraction of a second.
"""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from dataclasses import dataclass
from html import escape
from itertools import pairwise
from pathlib import Path
from typing import NamedTuple

from markupsafe import Markup

from .. import __version__
from ..edition import Edition
from ..layout.book import Page, Row, Volume
from ..layout.items import Part
from ..translation.cells import BLANK, Cells, dots_of
from ..translation.passage import Passage
from .cellfile import page_lines
from .counted import count
from .names import proof_name
from .print_words import printed
from .proof_marks import Marks, Place, marks_of
from .shown import show, write_html
from .sign_key import SignKeys
from .statements import cautions
from .trace import has_running_head

_RUNS = re.compile(f"{BLANK}{{2,}}|[^{BLANK}]+(?:{BLANK}[^{BLANK}]+)*")

# What stands over cells that no print of this line gave.
CAPTIONS = {
    "box-bottom": "end of box",
    "box-top": "start of box",
    "note-rule": "line before notes",
    "table-rule": "line under headings",
}
_MARKED = ' class="c"'
_SAID, _SHOWN = '<span class="s">', '</span><span class="w" aria-hidden="true">'


class Turn(NamedTuple):
    """Where a print page begins in the braille; ``id`` is the line's anchor."""

    print_page: str
    volume: int
    braille_page: str
    line: int
    id: str


def line_id(volume: int, page: str, line: int) -> str:
    """The anchor of a line of the proof; line 0 is the page itself."""
    plain = re.sub("[^A-Za-z0-9]", "_", page)
    return f"v{volume}-p{plain}-l{line}" if line else f"v{volume}-p{plain}"


def write_proof(edition: Edition, folder: Path) -> list[Path]:
    """Write ``proof.html``; where there are several volumes it is an index of
    ``proof.v<K>.html``.  Returns the files."""
    words, dots, keys = _Words(), _Dots(), SignKeys()
    several = len(edition.volumes) > 1

    def href(place: Place) -> str:
        file = proof_name(edition, place[0]) if several else ""
        return f"{file}#{line_id(*place)}"

    marks = marks_of(edition, href)
    facts: dict[str, object] = {
        "title": show(edition.document.meta.title or edition.source),
        "source": show(edition.source),
        "version": __version__,
        "caution": " ".join(cautions(edition)[2:]),
        "cells": edition.book.cells,
        "lines": edition.book.lines,
        "volumes": edition.volumes,
        "several": several,
        "report": "report" in edition.settings.write,
        "rerun": edition.rerun,
        "turns": _turns(edition),
        "file_of": lambda volume: proof_name(edition, volume) if several else "",
        "line_id": line_id,
        "marks": marks,
        "href": href,
        "count": count,
    }
    files = []
    if several or not edition.volumes:
        index = facts | {"volume": None, "pages": "", "key": None}
        files.append(write_html(folder / "proof.html", "proof.html", index))
        facts["turns"] = None
    for volume in edition.volumes:
        own = facts | {
            "volume": volume,
            "pages": _pages(volume, words, dots, marks),
            "key": keys.of(volume) if _keyed(edition) else None,
        }
        files.append(write_html(folder / proof_name(edition, volume.number), "proof.html", own))
    return files


def _keyed(edition: Edition) -> bool:
    """Whether volumes have a key to their signs: for beginners, and in short works."""
    code = edition.settings.code
    return code == "ueb-uncontracted" or (code == "ueb" and len(edition.volumes) == 1)


def _turns(edition: Edition) -> list[Turn]:
    """The first line of each print page in the text, in the order of the braille."""
    turns: list[Turn] = []
    current: str | None = None
    for volume, _, page in edition.book.pages():
        for number, row in enumerate(page.rows, 1):
            if row is None or row.print_page is None or row.print_page == current:
                continue
            current = row.print_page
            place = (volume.number, page.braille_page, number)
            turns.append(Turn(show(current), *place, line_id(*place)))
    return turns


def _pages(volume: Volume, words: _Words, dots: _Dots, marks: Marks | None) -> Markup:
    """All pages of a volume as HTML; every word of the source is escaped in `_Words`."""
    return Markup("\n".join([_page(volume, page, words, dots, marks) for page in volume.pages]))


def _page(volume: Volume, page: Page, words: _Words, dots: _Dots, marks: Marks | None) -> str:
    label = escape(page.braille_page)
    anchor = line_id(volume.number, page.braille_page, 0)
    print_page = f", print page {_safe(page.print_page)}" if page.print_page else ""
    out = [f'<section class="page" id="{anchor}"><h3>Braille page {label}{print_page}</h3>']
    place = (volume.number, page.braille_page)
    marked = marks if marks is not None and place in marks.pages else None
    out.append(f"{marked.heading(*place) if marked else ''}<ol>")
    last = len(page.rows)
    for number, row in enumerate(page.rows, 1):
        said, shown = _row(row, words) if row is not None else ("", "")
        if number == 1 and page.head:
            said, shown = _furniture(said, shown, _head_name(page), page.head)
        if number == last and page.foot:
            said, shown = _furniture(said, shown, f"Braille page {label}.", page.foot)
        mark = marked.line(*place, number) if marked else ""
        start = f'<li id="{anchor}-l{number}"{_MARKED if mark else ""}>{mark}{_SAID}'
        out.append(f"{start}{said}{_SHOWN}{shown}" if shown else f"{start}Blank line.")
        out.append("</span></li>")
    out.append(f"</ol><details><summary>Dots of braille page {label}</summary><ol>")
    out += [f"<li>{dots.line(line)}</li>" for line in page_lines(page)]
    out.append("</ol></details></section>")
    return "".join(out)


def _head_name(page: Page) -> str:
    """What the head of a page holds, in words."""
    names = ["running head"] if has_running_head(page) else []
    if page.print_page is not None:
        names.append(f"print page {_safe(page.print_page)}")
    name = ", ".join(names) or "page head"
    return f"{name[0].upper()}{name[1:]}."


def _furniture(said: str, shown: str, name: str, cells: str) -> tuple[str, str]:
    """A line with its furniture: said after the print, shown at the right."""
    pair = f'<b class="f">{name.rstrip(".")}<i>{cells.strip(BLANK)}</i></b>'
    return f"{said} {name}".lstrip(), shown + pair


def _row(row: Row, words: _Words) -> tuple[str, str]:
    """A line's print, and its print over cells; both empty where no cell stands."""
    if len(row.parts) == 1 and row.parts[0].text:
        text, pairs = _part(row.parts[0], row, words)
        indent = row.parts[0].start
        return text, (words["", BLANK * indent] + pairs if indent else pairs)
    said: list[str] = []
    shown: list[str] = []
    at = 0
    for part in row.parts:
        if not part.text:
            continue
        if part.start > at:
            shown.append(words["", BLANK * (part.start - at)])
        text, pairs = _part(part, row, words)
        said.append(text)
        shown.append(pairs)
        at = part.start + len(part.text)
    return " ".join([text for text in said if text]), "".join(shown)


def _part(part: Part, row: Row, words: _Words) -> tuple[str, str]:
    """The print of one part, and its pairs: a piece of cells under the print it stands for."""
    source, cells, start = part.source, part.text, part.at
    if source is None or source.passage is None:
        caption = _caption(row)
        return caption, words[caption.rstrip("."), cells]
    end = start + len(cells)
    starts = source.starts
    first, last = bisect_left(starts, start), bisect_left(starts, end)
    if first < last and starts[first] == start and _whole(source, part, end):
        known = words.of(source)
        pairs = "".join(known.pairs[first : last - 1])
        if known.words:
            return " ".join(known.words[first:last]), pairs + known.last(last - 1)
        low, piece = source.prints[first], last - 1
        high = source.prints[piece] + source.pieces[piece].length
        last_print = printed(source.passage, source.prints[piece], high)
        return _safe(printed(source.passage, low, high, True)), pairs + words[
            last_print, source.text[starts[piece] : end]
        ]
    low, high = source.span(start, end)
    first = bisect_right(starts, start)
    cuts = [0, *[at - start for at in starts[first:last]], len(cells)]
    prints = [low, *source.prints[first:last], high]
    keys = zip(
        [printed(source.passage, a, b) for a, b in pairwise(prints)],
        [cells[a:b] for a, b in pairwise(cuts)],
        strict=True,
    )
    return _safe(printed(source.passage, low, high, True).strip()), "".join(
        map(words.__getitem__, keys)
    )


def _whole(source: Cells, part: Part, end: int) -> bool:
    """Whether a part that begins with a piece ends with one, and has no cell of its own."""
    return source.text[end : end + 1] in ("", BLANK) and source.text.startswith(part.text, part.at)


def _caption(row: Row) -> str:
    if row.kind == "page-turn" and row.print_page:
        return f"Print page {_safe(row.print_page)} begins."
    return CAPTIONS.get(row.kind, "")


def _safe(text: str) -> str:
    """Print fit for HTML."""
    return escape(show(text)) if _SPECIAL.search(text) else text


_SPECIAL = re.compile("[^ -~]|[&<>\"']")


@dataclass(frozen=True, slots=True)
class _Pairs:
    """HTML of all the pieces of some cells, each with the blank after it.

    ``words`` is the print of each, fit for HTML, and ``cells`` its cells, where every word
    between single spaces is a piece; else they are empty.
    """

    pairs: list[str]
    words: list[str]
    cells: list[str]

    @classmethod
    def of(cls, source: Cells, passage: Passage) -> _Pairs | None:
        """The pairs of words and pieces; ``None`` where they are not one to one."""
        words, cells = passage.text.split(), source.text.split(BLANK)
        if not len(words) == len(cells) == len(source.pieces) or words != passage.text.split(" "):
            return None
        if any(mark.what in ("answer", "math") for mark in passage.marks):
            return None
        safe = _safe(passage.text)
        if safe is not passage.text:
            words = safe.split(" ")
            if len(words) != len(cells):
                return None
        pairs = [f"<b>{w}<i>{c}{BLANK}</i></b>" for w, c in zip(words, cells, strict=True)]
        return cls(pairs, words, cells)

    def last(self, at: int) -> str:
        """A piece at the end of a line, where no blank follows."""
        return f"<b>{self.words[at]}<i>{self.cells[at]}</i></b>"


class _Words(dict[tuple[str, str], str]):
    """HTML of a word over its cells, made once for each word of a book."""

    _source: Cells | None = None
    _pairs: _Pairs

    def __missing__(self, key: tuple[str, str]) -> str:
        text, cells = key
        gap = "" if text or cells.strip(BLANK) else ' class="g"'
        made = f"<b{gap}>{_safe(text.strip())}<i>{cells}</i></b>"
        self[key] = made
        return made

    def of(self, source: Cells) -> _Pairs:
        """The pairs of all the pieces of some cells; those of the last asked for are kept."""
        if source is not self._source and source.passage is not None:
            self._source = source
            self._pairs = _Pairs.of(source, source.passage) or self._slow(source, source.passage)
        return self._pairs

    def _slow(self, source: Cells, passage: Passage) -> _Pairs:
        text, cells = passage.text, source.text
        pairs = zip(
            [printed(passage, a, b) for a, b in pairwise([*source.prints, len(text)])],
            [cells[a:b] for a, b in pairwise([*source.starts, len(cells)])],
            strict=True,
        )
        return _Pairs(list(map(self.__getitem__, pairs)), [], [])


class _Dots(dict[str, str]):
    """Dot numbers of words of cells, made once for each."""

    def __missing__(self, cells: str) -> str:
        made = self[cells] = (
            dots_of(cells) if len(cells) == 1 else " ".join(map(self.__getitem__, cells))
        )
        return made

    def line(self, line: str) -> str:
        """A line as dot numbers: a comma where a cell is empty, a count where several are."""
        body = line.lstrip(BLANK)
        if not body:
            return "blank line"
        start = len(line) - len(body)
        from_cell = f"from cell {start + 1}: " if start else ""
        if BLANK * 2 not in body:
            return from_cell + ", ".join(map(self.__getitem__, body.split(BLANK)))
        said = ""
        for run in _RUNS.findall(body):
            if run[0] == BLANK:
                said += f"; {len(run)} empty cells; "
            else:
                said += ", ".join(map(self.__getitem__, run.split(BLANK)))
        return from_cell + said
