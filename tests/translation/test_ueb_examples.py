"""Every example of The Rules of Unified English Braille, 2nd edition 2013, by section.

The examples are those published with the liblouis library's tests.  ``needs`` says what an
example takes beyond the rules: a word list, a line division, or a person's judgement.
"""

from __future__ import annotations

import re
from typing import Any

import pytest

from convert.translation.passage import Passage

from .ueb_case import FOLD, cells, examples, passage


def _print(row: dict[str, Any]) -> Passage:
    forms = [
        (form["start"], form["end"], form["name"])
        for form in row["typeforms"]
        if form["name"] not in ("word_reset", "passage_break")
    ]
    foreign = row.get("options", {}).get("foreign", [])
    divide = (*row.get("breaks", ()), *row.get("numbreak", ()), *row.get("cont", ()))
    # 6.10: the space shows only in computer material, which its voice marks.
    voices = ((0, len(row["print"]), "computer"),) if "cont" in row else ()
    langs = tuple((start, end, "la") for start, end in foreign)
    return passage(row["print"], *forms, langs=langs, voices=voices, divide_at=divide)


def _braille(row: dict[str, Any]) -> tuple[str, list[str]]:
    options = row.get("options", {})
    quotes = "single" if options.get("single") else "auto"
    found, kinds = cells(_print(row), options.get("grade", 2), quotes)
    return found.ascii.translate(FOLD), kinds


def _accepted(row: dict[str, Any]) -> set[str]:
    forms = [row["braille"], *row.get("accept", [])]
    # White space in print is one blank cell (Braille Formats 1.9).
    return {re.sub(" +", " ", form.translate(FOLD).lower()) for form in forms}


RULED = [row for row in examples() if row["needs"] != "judgement"]
JUDGED = [row for row in examples() if row["needs"] == "judgement"]


def _name(row: dict[str, Any]) -> str:
    return f"{row['section']}-{row['line']}"


def test_the_collection_is_whole() -> None:
    assert len(RULED) == 1325
    assert len(JUDGED) == 19


@pytest.mark.parametrize("row", RULED, ids=_name)
def test_example(row: dict[str, Any]) -> None:
    assert _braille(row)[0] in _accepted(row)


@pytest.mark.parametrize("row", JUDGED, ids=_name)
def test_example_of_judgement_raises_its_finding(row: dict[str, Any]) -> None:
    section = row["section"]
    kind = {
        "2.6.2": "ueb.quote-direction",
        "5.10.1": "ueb.grade1-word",
        "8.5.4": "ueb.capitals-edge",
        "9.7.1": "ueb.foreign",
        "10.1.3": "ueb.acronym",
        "10.1.4": "ueb.syllables",
        "10.12.1": "ueb.acronym",
        "10.12.6": "ueb.acronym",
        "10.12.7": "ueb.two-forms",
    }[section]
    assert kind in _braille(row)[1]


def test_judgement_mostly_falls_as_the_rulebook_shows_it() -> None:
    alike = [row for row in JUDGED if _braille(row)[0] in _accepted(row)]
    assert len(alike) >= 14
