"""Print's own title page, which braille's says again: told, left out by its offer (BF 2.3)."""

from __future__ import annotations

from pathlib import Path

import pytest

from convert.edition import Edition
from tests.decisions.case import converted, of_kind, pages

KIND = "layout.title-page-again"
HEAD = "<dc:title>Tides</dc:title><dc:creator>Ada Lee</dc:creator><dc:language>en</dc:language>"
PAGE = "<section epub:type='titlepage'><h1>Tides</h1><p>By <b>Ada Lee</b>.</p>{more}</section>"
TEXT = "<section><h2>Salt</h2><p>Salt is white.</p></section>"


def edition(folder: Path, body: str, job: str = "", **more: object) -> Edition:
    folder.mkdir(exist_ok=True)
    given = {"metadata": HEAD, "front_pages": True, "cells": 40, "lines": 25, **more}
    return converted(folder, body, job, **given)


@pytest.mark.parametrize(
    ("body", "lacking"),
    [
        (PAGE.format(more="") + TEXT, "none"),
        (PAGE.format(more="<p>Drawn by Bo Lee</p>") + TEXT, "drawn, bo"),
        (PAGE.format(more="<p>" + " ".join(f"w{n}" for n in range(14)) + "</p>") + TEXT, "2 more"),
    ],
)
def test_a_title_page_of_print_is_told(tmp_path: Path, body: str, lacking: str) -> None:
    """BF 2.3: its words stand on the title page of the braille; those that do not are named."""
    (finding,) = of_kind(edition(tmp_path, body), KIND)
    assert str(dict(finding.facts)["words"]).endswith(lacking)


@pytest.mark.parametrize(
    ("body", "more"),
    [
        (TEXT, {}),
        (PAGE.format(more="").replace("Tides", "Part One") + TEXT, {}),
        (PAGE.format(more="") + TEXT, {"front_pages": False}),
    ],
)
def test_other_pages_are_no_doubt(tmp_path: Path, body: str, more: dict[str, object]) -> None:
    """No title page in print, one of another name, none in the braille."""
    assert not of_kind(edition(tmp_path, body, **more), KIND)


def test_its_offer_leaves_it_out_and_keeps_its_print_page(tmp_path: Path) -> None:
    """BF 2.3; 1.11: the print page that begins there still begins."""
    mark = "<span epub:type='pagebreak' title='iii'></span>"
    body = PAGE.format(more="").replace("<h1>", f"<h1>{mark}") + TEXT
    first = edition(tmp_path / "a", body)
    (finding,) = of_kind(first, KIND)
    offer = next(text for text in finding.offer if "omit" in text)
    again = edition(tmp_path / "b", body, offer)
    assert ",lee4" in pages(first)
    assert ",lee4" not in pages(again)
    assert not of_kind(again, KIND)
    assert "salt is white" in pages(again)
    assert [row for row in pages(again).splitlines() if row.endswith("iii")]
