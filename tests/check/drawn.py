"""Editions drawn as text, written as the files of an edition, and inspected.

A page begins with ``= SERIES LABEL PRINT NUMBER`` (``-`` for none), and ``head=CELLS`` where it
has a running head.  A line is ``TAG|CELLS``, cells in lower-case ASCII braille; an empty line is
blank.  Cells after ``~`` are centred.  A tag is a kind of line from ``TAGS``, with ``:2/3`` for
level 2 of 3, ``+`` for a runover, and ``@path`` where the address matters.  Pages are 40 cells
by 12 lines unless told otherwise.
"""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from convert.check import Result, inspect
from convert.translation.cells import cells_of

TAGS = {
    "p": ("para", "paragraph"), "blk": ("para", "blocked"), "xref": ("para", "cross-reference"),
    "hc": ("h-center", "centred-heading"), "h5": ("h-5", "cell-5-heading"),
    "h7": ("h-7", "cell-7-heading"), "li": ("list", "list"), "ex": ("exercise", "exercise"),
    "vs": ("verse", "verse"), "toc": ("toc", "contents"), "dis": ("displayed", "displayed"),
    "dib": ("displayed", "displayed-blocked"), "die": ("displayed", "displayed-in-exercise"),
    "brk": ("displayed", "context-break"), "att": ("attribution", "attribution"),
    "cap": ("caption", "caption"), "src": ("caption", "source"), "tn": ("tn", "transcriber-note"),
    "tnn": ("tn", "table-note"), "des": ("tn", "description"), "bt": ("box-top", "box-top"),
    "bb": ("box-bottom", "box-bottom"), "dir": ("direction", "direction"),
    "ta": ("table", "table"), "th": ("table-head", "table"), "tr": ("table-rule", "table"),
    "tac": ("table", "table-columns"), "tpn": ("para", "notes"),
    "ts": ("table", "table-step"),
    "nr": ("note-rule", "note-rule"), "no": ("note", "note"), "sp": ("speech", "speech"),
    "sd": ("speech", "stage-direction"), "cast": ("list", "cast"), "ti": ("title", "title-page"),
    "sy": ("symbols", "symbols"), "tp": ("para", "notes-page"),
    "ev": ("end-of-volume", "end-of-volume"), "pt": ("page-turn", "page-turn"),
    "ld": ("h-center", "letter-division"), "gl": ("glossary", "glossary"),
    "cv": ("h-center", "contents-volume"), "ix": ("index", "index"),
    "bi": ("bibliography", "bibliography"), "wl": ("list", "list-columns"),
    "fo": ("form", "form"), "maf": ("math", "math"),
}  # fmt: skip
FURNITURE = {"title", "symbols", "toc", "end-of-volume", "page-turn", "note-rule"}
LISTED = {"list", "exercise", "verse", "glossary", "index", "bibliography"}
_TAG = re.compile(r"([a-z0-9]+)(?::(\d+/\d+))?(\+)?(?:@(\S+))?\|(.*)$")
_DIGITS = str.maketrans("1234567890", "abcdefghij")
_PRINT = str.maketrans("abcdefghij", "1234567890")


class Drawing:
    """Volumes as drawn, with what is needed to write them."""

    def __init__(self, *volumes: str, cells: int = 40, lines: int = 12) -> None:
        self.cells, self.lines = cells, lines
        self.block, self.run, self.last = 0, 0, ""
        self.trace: list[dict[str, object]] = []
        self.files: list[str] = []
        for number, volume in enumerate(volumes, 1):
            pages = [page for page in re.split(r"^= ", volume, flags=re.M) if page.strip()]
            self.files.append(
                "".join(self._page(number, at, page) for at, page in enumerate(pages, 1))
            )

    def _page(self, volume: int, ordinal: int, drawn: str) -> str:
        first, *lines = drawn.rstrip("\n").split("\n")
        series, label, print_page, number, *more = (*first.split(" ", 4), "")[:5]
        lines += [""] * (self.lines - len(lines))
        foot = "" if label == "-" else self._foot(label)
        if lines[-1].startswith("gw|"):
            words = lines.pop().removeprefix("gw|")
            lines.append("")
            foot = (" " * 12 + words).ljust(self.cells - len(foot.strip())) + foot.strip()
        head = more[0].removeprefix("head=") if more else ""
        head = self._head(head, "" if number == "-" else number)
        force = None if print_page == "-" else print_page
        rows: list[str] = []
        for at, line in enumerate(lines, 1):
            row = self._line(line)
            force = row.pop("turned", force) or force
            furniture = head if at == 1 else foot if at == self.lines else ""
            text = str(row["cells"])
            body = furniture.lstrip()
            rows.append((text.ljust(len(furniture) - len(body)) + body).rstrip())
            row |= {
                "volume": volume, "series": series, "page": ordinal, "line": at,
                "braille_page": label, "print_page": force, "cells": cells_of(text),
            }  # fmt: skip
            if furniture:
                row["head" if at == 1 else "foot"] = cells_of(furniture)
            self.trace.append(row)
        return "".join(f"{row}\r\n" for row in rows) + "\f"

    def _foot(self, label: str) -> str:
        prefix = label.rstrip("0123456789")
        number = label[len(prefix) :].translate(_DIGITS)
        return f"{prefix}#{number}".rjust(self.cells)

    def _head(self, head: str, number: str) -> str:
        if not head:
            return number.rjust(self.cells) if number else ""
        start = (self.cells - len(head.strip())) // 2 if head[0] != "<" else 0
        line = head.lstrip("<") if head[0] == "<" else " " * start + head
        return line + number.rjust(self.cells - len(line)) if number else line

    def _line(self, drawn: str) -> dict[str, object]:
        row: dict[str, object] = {"part": "first", "level": 0, "levels": 0, "element": None}
        if not drawn:
            return row | {"kind": "blank", "style": None, "cells": ""}
        match = _TAG.match(drawn)
        assert match, drawn
        tag, levels, runover, path, cells = match.groups()
        kind, style = TAGS[tag]
        if cells[:1] == "~":
            cells = " " * ((self.cells - len(cells) + 1) // 2) + cells[1:]
        if levels:
            row["level"], row["levels"] = (int(n) for n in levels.split("/"))
        if runover:
            row["part"] = "runover"
        elif kind != "page-turn":
            self.block += 1
            self.run += kind != self.last or kind not in LISTED
        if kind not in FURNITURE and tag != "cv":
            listed = f"/{self.block}" if kind in LISTED else ""
            row["element"] = f"c.xhtml!/4/2/2/{path if path else f'{self.run}{listed}'}"
        if kind == "page-turn":
            digits = cells.lstrip("-").replace("#", "").translate(_PRINT)
            row["turned"] = digits or None
        else:
            self.last = kind
        return row | {"kind": kind, "style": style, "cells": cells}

    def write(self, folder: Path, trace: bool = True) -> Path:
        """Write the files of an edition; returns the folder."""
        for old in folder.glob("*.brf"):
            old.unlink()
        for number, text in enumerate(self.files, 1):
            (folder / f"drawn.v{number}.brf").write_bytes(text.upper().encode())
        if trace:
            lines = "".join(json.dumps(row, ensure_ascii=False) + "\n" for row in self.trace)
            (folder / "trace.jsonl").write_text(lines, "utf-8")
        options = {"cells": self.cells, "lines": self.lines, "convention": "bf2016"}
        (folder / "recipe.json").write_text(json.dumps({"options": options}))
        return folder

    def inspect(self, folder: Path, trace: bool = True) -> Result:
        """Write and inspect."""
        return inspect(self.write(folder, trace))


def broken(volumes: tuple[str, ...], old: str, new: str) -> tuple[str, ...]:
    """The drawing with the first ``old`` replaced."""
    whole = "\0".join(volumes)
    assert old in whole, f"no {old!r} in the drawing"
    return tuple(whole.replace(old, new, 1).split("\0"))


def assert_all_pass(result: Result, ids: set[str]) -> None:
    """No check fails, and these were really made."""
    if result.failures:
        pytest.fail("\n".join(str(row) for row in result.failures))
    unmade = [f"{name} {result.state[name]}" for name in ids if result.state[name] != "passed"]
    if unmade:
        pytest.fail(f"not made: {sorted(unmade)}")


def failed(result: Result) -> set[str]:
    """Ids of the checks that failed."""
    return {failure.id for failure in result.failures}
