"""What changed since the run before: ``changes.html``, ``.json``, ``.txt`` and ``.csv``.

These four are the only files of an edition that depend on more than its recipe: they compare it
with the run it replaces.  A run of the same recipe leaves them as they are.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import NamedTuple

from .. import __version__
from ..changes import (
    CHANGED,
    GONE,
    MOVED,
    NEW,
    RENUMBERED,
    FindingChanges,
    LineChange,
    PageChange,
    PageChanges,
    compare_findings,
    compare_pages,
    sheets_in,
)
from ..edition import Edition
from ..recipe import source_name
from ..translation.cells import BLANK, dots_of
from .counted import count
from .findings_record import records
from .names import CHANGES as FILES
from .names import proof_name
from .proof import line_id
from .report_text import fold
from .sheets import sheets_of
from .shown import language, show, write_html
from .tables import write_table

COLUMNS = [
    "what", "state", "volume", "braille page", "line", "was volume", "was braille page", "was line",
    "text", "dots", "id", "kind", "severity", "message",
]  # fmt: skip
_OPENING = {
    "new": "Findings that are new",
    "gone": "Findings that are gone",
    "settled": "Findings that a decision settled",
}
_TURNED = "Running head, print page number or blank lines changed."


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two runs compared; ``why_not`` says why they were not, where they were not."""

    pages: PageChanges = field(default_factory=PageChanges)
    findings: FindingChanges = field(default_factory=FindingChanges)
    made: tuple[str, ...] = ()
    why_not: str = ""

    @property
    def verdict(self) -> str:
        """The first thing to know."""
        if self.why_not:
            return self.why_not
        again = {state: len(self.pages.of(state)) for state in (CHANGED, NEW)}
        if not self.pages.pages:
            return f"No braille page changed since the run before; {self.pages.same} are the same."
        parts = [f"{number} {state}" for state, number in again.items() if number]
        first = f"{count(sum(again.values()), 'braille page')} to proofread again"
        first += f": {', '.join(parts)}." if parts else "."
        gone, moved = len(self.pages.of(GONE)), len(self.pages.of(RENUMBERED))
        return (
            f"{first} {gone} gone; {moved} renumbered with the same cells; "
            f"{self.pages.same} the same."
        )


def compare_editions(edition: Edition, earlier: Path) -> Comparison:
    """An edition compared with what an earlier run wrote into the folder ``earlier``."""
    recipe = _json_file(earlier / "recipe.json")
    if recipe is None:
        return Comparison(why_not="There was no earlier run here, so nothing was compared.")
    try:
        old = sheets_in(earlier / "trace.jsonl")
    except (OSError, ValueError, KeyError, TypeError):
        return Comparison(
            why_not="The run before left no trace (trace.jsonl) that can be read, so its pages "
            "could not be compared."
        )
    report = _json_file(earlier / "report.json") or {}
    found = report.get("findings")
    mine = [record.json() for record in records(edition)]
    return Comparison(
        compare_pages(old, sheets_of(edition)),
        compare_findings(found, mine) if isinstance(found, list) else FindingChanges(),
        tuple(recipe_changes(recipe, edition.recipe)),
    )


def write_changes(edition: Edition, folder: Path, earlier: Path) -> list[Path]:
    """Write the four files into ``folder``; returns their paths."""
    made = compare_editions(edition, earlier)
    return [
        _write_page(edition, made, folder),
        _write(folder / FILES[1], _json_text(edition, made)),
        _write(folder / FILES[2], _text(edition, made)),
        write_table(folder / FILES[3], COLUMNS, _csv_rows(made)),
    ]


def _write(path: Path, text: str) -> Path:
    path.write_bytes(text.encode())
    return path


def _json_file(path: Path) -> dict[str, object] | None:
    try:
        read = json.loads(path.read_text("utf-8"))
    except (OSError, ValueError):
        return None
    return read if isinstance(read, dict) else None


def recipe_changes(old: Mapping[str, object], new: Mapping[str, object]) -> Iterator[str]:
    """What the two runs were made with, where it differs, in sentences."""
    for key, sentence in (
        ("source", "The source was edited."),
        ("job", "The job file was edited."),
        ("convention", "The layout convention is another."),
        ("liblouis", "The library liblouis or its table is another."),
        ("plugins", "The programs installed are not the same."),
    ):
        if key in new and key in old and old[key] != new[key]:
            yield _other_source(old, new) or sentence if key == "source" else sentence
    if "cellset" in new and old.get("cellset") != new["cellset"]:
        yield f"The program was version {old.get('cellset')} and is {new['cellset']}."
    before, after = old.get("options"), new.get("options")
    if isinstance(before, dict) and isinstance(after, dict):
        for name in sorted(before.keys() | after.keys()):
            if before.get(name) != after.get(name):
                yield (
                    f"The option {name.replace('_', '-')} was {_value(before.get(name))} "
                    f"and is {_value(after.get(name))}."
                )


def _other_source(old: Mapping[str, object], new: Mapping[str, object]) -> str:
    """That two documents are compared, where their names differ; else nothing."""
    names = [source_name(side) for side in (old, new)]
    if names[0] == names[1]:
        return ""
    return f"The source was {show(names[0])} and is {show(names[1])}."


def _value(value: object) -> str:
    if isinstance(value, list):
        return ", ".join(map(str, value)) or "empty"
    return {None: "not set", True: "on", False: "off"}.get(value, show(str(value)))  # type: ignore[call-overload,no-any-return]


# ---------------------------------------------------------------- in words


def page_sentence(page: PageChange) -> str:
    """``Volume 1, braille page 7: changed; was braille page 6 of volume 1. 2 lines new...``"""
    if page.place is None:
        return f"{_page_words(page.was)}: gone. {count(len(page.lines), 'line')} gone with it."
    was = ""
    if page.was is not None and page.was != page.place:
        was = f"; was {_page_words(page.was, small=True)}"
    return f"{_page_words(page.place)}: {page.state}{was}. {lines_sentence(page)}".rstrip()


def lines_sentence(page: PageChange) -> str:
    """How many lines of a page are new, gone and moved."""
    if page.state == RENUMBERED:
        return ""
    rows = [(page.count(state), state) for state in (NEW, GONE, MOVED)]
    said = [f"{count(number, 'line')} {state}" for number, state in rows if number]
    return f"{', '.join(said)}." if said else _TURNED


def _page_words(place: tuple[int, str] | None, small: bool = False) -> str:
    volume, page = place or (0, "")
    return f"{'volume' if small else 'Volume'} {volume}, braille page {show(page)}"


def _anchor(place: tuple[int, str] | None) -> str:
    volume, page = place or (0, "")
    return line_id(volume, page, 0)


class Said(NamedTuple):
    """A line that is new or gone, as every form says it."""

    where: str
    text: str
    cells: str


def said_lines(page: PageChange) -> list[Said]:
    """The lines of a page that are new or gone; lines that only moved are counted, not said."""
    return [
        Said(_line_words(line), show(line.text) or f"dots {dots_of(cells)}", cells)
        for line in page.lines
        if line.state != MOVED and (cells := line.cells.strip(BLANK))
    ]


def _line_words(line: LineChange) -> str:
    if line.state == NEW:
        return f"Line {line.line}, new"
    volume, page, number = line.was or (0, "", 0)
    return f"Gone (was volume {volume}, braille page {show(page)}, line {number})"


def _finding_rows(made: Comparison) -> Iterator[tuple[str, list[dict[str, object]]]]:
    yield "new", list(made.findings.new)
    yield "gone", list(made.findings.gone)
    yield "settled", list(made.findings.settled)


# ---------------------------------------------------------------- the four forms


def _write_page(edition: Edition, made: Comparison, folder: Path) -> Path:
    pages = made.pages.of(CHANGED, NEW, GONE)
    proof = "proof" in edition.settings.write
    facts: dict[str, object] = {
        "title": show(edition.document.meta.title or edition.source),
        "source": show(edition.source),
        "lang": language(edition.document.meta.language),
        "version": __version__,
        "made": made,
        "pages": pages,
        "reworded": [page for page in pages if said_lines(page)],
        "renumbered": made.pages.of(RENUMBERED),
        "findings": [(key, _OPENING[key], rows) for key, rows in _finding_rows(made)],
        "said": said_lines,
        "lines": lines_sentence,
        "words": _page_words,
        "proof": proof,
        "anchor": lambda page: _anchor(page.place or page.was).replace("v", "c", 1),
        "link": lambda place: f"{proof_name(edition, place[0])}#{_anchor(place)}",
        "count": count,
    }
    return write_html(folder / FILES[0], "changes.html", facts)


def _json_text(edition: Edition, made: Comparison) -> str:
    record = {
        "source": edition.source,
        "verdict": made.verdict,
        "compared": not made.why_not,
        "made_with": list(made.made),
        "same": made.pages.same,
        "pages": [_page_json(page) for page in made.pages.pages],
        "findings": dict(_finding_rows(made)),
    }
    return json.dumps(record, ensure_ascii=False, indent=1) + "\n"


def _page_json(page: PageChange) -> dict[str, object]:
    return {
        "state": page.state,
        "place": page.place and {"volume": page.place[0], "page": page.place[1]},
        "was": page.was and {"volume": page.was[0], "page": page.was[1]},
        "moved": page.count(MOVED),
        "lines": [
            {
                "state": line.state,
                "line": line.line,
                "text": line.text,
                "cells": line.cells,
                "was": line.was and dict(zip(("volume", "page", "line"), line.was, strict=True)),
            }
            for line in page.lines
            if line.state != MOVED
        ],
    }


def _text(edition: Edition, made: Comparison) -> str:
    lines = [made.verdict, f"Source: {show(edition.source)}."]
    lines += made.made
    lines += ["", f"Pages: {count(len(made.pages.pages), 'page')} not as they were."]
    for page in made.pages.pages:
        lines.append(page_sentence(page))
        lines += [f"{line.where}: “{line.text}”" for line in said_lines(page)]
    for key, rows in _finding_rows(made):
        lines += ["", f"{_OPENING[key]}: {len(rows)}."]
        lines += [f"{row['message']} Kind: {row['kind']}. Id: {row['id']}." for row in rows]
    return "\n".join([row for line in lines for row in fold(line)]) + "\n"


def _csv_rows(made: Comparison) -> Iterator[list[object]]:
    for page in made.pages.pages:
        where, was = page.place or ("", ""), page.was or ("", "")
        yield ["page", page.state, *where, "", *was, *[""] * 7]
        for line in page.lines:
            if line.state != MOVED:
                row = ["line", line.state, *where, line.line, *(line.was or [""] * 3)]
                dots = dots_of(line.cells.strip(BLANK))
                yield [*row, show(line.text), dots, *[""] * 4]
    for state, rows in _finding_rows(made):
        for found in rows:
            facts = [found[key] for key in ("id", "kind", "severity", "message")]
            yield ["finding", state, *[""] * 8, *facts]
