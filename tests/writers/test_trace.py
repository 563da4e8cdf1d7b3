"""The trace: every line of every page, and the print each stands for (contract, section 5)."""

from __future__ import annotations

import json
from pathlib import Path

from convert.layout.book import Row
from convert.layout.items import Part
from convert.translation.cells import BLANK, cells_of
from convert.writers.cellfile import write_unicode
from convert.writers.trace import trace_lines, write_trace

from .make import Maker, cells_for, river_school

FIELDS = [
    "volume", "series", "page", "braille_page", "print_page", "line", "kind", "element", "level",
    "levels", "part", "cells", "print", "style",
]  # fmt: skip


def test_one_object_a_line_with_all_fields(tmp_path: Path) -> None:
    edition = river_school(volume_pages=1)
    (path,) = write_trace(edition, tmp_path)
    data = path.read_bytes()
    assert data.endswith(b"\n")
    rows = [json.loads(line) for line in data.decode("utf-8").splitlines()]
    assert len(rows) == 2 * 25
    assert all(set(FIELDS) <= row.keys() for row in rows)
    places = [(row["volume"], row["page"], row["line"]) for row in rows]
    assert places == [(v, 1, n) for v in (1, 2) for n in range(1, 26)]
    assert rows == list(trace_lines(edition))


def test_a_paragraph_line() -> None:
    rows = list(trace_lines(river_school()))
    first, second = rows[3], rows[4]
    assert first == {
        "volume": 1,
        "series": "body",
        "page": 1,
        "braille_page": "1",
        "print_page": "12",
        "line": 4,
        "kind": "para",
        "element": "chapter.xhtml!/4/6",
        "level": 0,
        "levels": 0,
        "part": "first",
        "cells": BLANK * 2 + cells_of(",water runs from the hills to the sea1"),
        "print": [[10, 47]],
        "style": "para",
        "text": "Water runs from the hills to the sea,",
        "address": "chapter.xhtml!/4/6/1:0",
    }
    assert (second["part"], second["text"]) == ("runover", "and the river Ashe is 48 miles long.")


def test_print_spans_quote_the_print() -> None:
    edition = river_school()
    quotes = [
        "".join(edition.document.ledger.quote(*span) for span in row["print"]).strip()
        for row in trace_lines(edition)
    ]
    texts = [row["text"] for row in trace_lines(edition)]
    assert quotes == texts
    joined = " ".join(text for text in texts if text)
    assert joined == " ".join(edition.document.ledger.text.split())


def test_lines_of_furniture_alone() -> None:
    """Contract 5: such a line is ``blank``, or ``running-head`` where a head stands."""
    edition = river_school()
    page = edition.volumes[0].pages[0]
    first, *_, last = list(trace_lines(edition))[:25]
    assert (first["kind"], first["head"]) == ("blank", BLANK * 37 + cells_of("#ab"))
    assert (last["kind"], last["foot"], last["cells"]) == ("blank", BLANK * 38 + cells_of("#a"), "")
    assert first["element"] is None
    page.head = BLANK * 12 + cells_of(",RIVER ,SCHOOL") + BLANK * 11 + cells_of("#ab")
    first = next(iter(trace_lines(edition)))
    assert (first["kind"], first["head"]) == ("running-head", page.head)


def test_furniture_is_absent_from_other_lines() -> None:
    rows = list(trace_lines(river_school()))[:25]
    assert ["head" in row for row in rows] == [True] + [False] * 24
    assert ["foot" in row for row in rows] == [False] * 24 + [True]


def test_cells_with_furniture_give_the_line_of_the_braille_file(tmp_path: Path) -> None:
    edition = river_school()
    (file,) = write_unicode(edition, tmp_path)
    written = file.read_bytes().decode("utf-8").replace("\f", "").split("\r\n")
    for row, line in zip(trace_lines(edition), written, strict=False):
        whole = str(row["cells"])
        for name in ("head", "foot"):
            if name in row:
                furniture = str(row[name])
                body = furniture.lstrip(BLANK)
                whole = whole.ljust(len(furniture) - len(body), BLANK) + body
        assert whole == line


def test_print_page_in_force_changes_where_the_page_turns() -> None:
    rows = list(trace_lines(river_school()))
    at = next(n for n, row in enumerate(rows) if row["kind"] == "page-turn")
    assert [row["print_page"] for row in rows[at - 1 : at + 2]] == ["12", "13", "13"]
    assert rows[at]["print"] == []
    assert rows[at]["text"] == ""


def test_words_print_does_not_have_have_no_span() -> None:
    edition = river_school()
    label = cells_for("Picture:", -1)
    page = edition.volumes[0].pages[0]
    page.rows[20] = Row("tn", (Part(6, label.text, label, 0),), style="tn", item=9)
    row = list(trace_lines(edition))[20]
    assert (row["text"], row["print"], row["address"]) == ("Picture:", [], None)


def test_no_tool_sees_a_line_end_inside_a_line(tmp_path: Path) -> None:
    maker = Maker()
    maker.add("one\u2028two \x85 three\x0b \x1c four \udc80 “caf\u00e9”")
    edition = maker.edition()
    (path,) = write_trace(edition, tmp_path)
    lines = path.read_text("utf-8").splitlines()
    assert len(lines) == 25
    assert "“café”" in "".join(lines)
    assert (
        "".join(json.loads(line)["text"] for line in lines) == edition.document.ledger.text.strip()
    )
