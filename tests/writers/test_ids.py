"""Ids of findings hold when paragraphs elsewhere come, go or change: at least 99 of 100."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from convert.findings import Finding
from convert.pipeline import convert_source, settings_from

from ..readers.make import epub
from .test_changes import book

FAULTS = [
    '<p>{words} <img src="p{n}.png"/></p>',  # a picture without alternative text
    '<p>{words} <img src="p{n}.png" alt="image"/></p>',  # one that says nothing
    '<p>{words} <a epub:type="noteref" href="#none">*</a></p>',  # a mark without its note
    '<p>{words}<audio src="a{n}.mp3">{words}</audio></p>',  # something that plays
    "<p>{words} &#x2603; &#xe123; {words}</p>",  # unknown characters
    "<blob>{words}</blob>",  # an unknown element
    "<p>{words} <span hidden=''>{words}</span></p>",  # hidden text
    "<p>{words}</p>",
]


def paragraphs() -> list[str]:
    """Paragraphs of which most raise a finding; many have the same words as another."""
    chance = random.Random(3)
    texts = [words[:80] for words in book(3)[:60]]
    return [
        FAULTS[n % len(FAULTS)]
        .format(words=chance.choice(texts), n=n)
        .replace("<p>", f"<p id='i{n}'>")
        for n in range(288)
    ]


def findings(folder: Path, rows: list[str]) -> list[Finding]:
    settings = settings_from(code="ueb-uncontracted", front_pages=False)
    return convert_source(epub(folder, "".join(rows)), settings).findings


@pytest.mark.parametrize("at", [0, 77, 160, 239])
@pytest.mark.parametrize("edit", ["insert", "delete", "reword"])
def test_ids_hold_through_an_edit(tmp_path: Path, edit: str, at: int) -> None:
    rows = paragraphs()
    edited = {
        "insert": [*rows[:at], "<p>A paragraph that was not there.</p>", *rows[at:]],
        "delete": rows[:at] + rows[at + 1 :],
        "reword": [*rows[:at], rows[at].replace(" ", " newly ", 1), *rows[at + 1 :]],
    }[edit]
    before = findings(tmp_path, rows)
    after = {finding.id for finding in findings(tmp_path, edited)}
    lost = [finding for finding in before if finding.id not in after]
    elsewhere = [finding for finding in lost if edit == "insert" or not concerns(finding, at)]
    assert len(before) > 100
    assert len(elsewhere) <= len(before) // 100


def concerns(finding: Finding, at: int) -> bool:
    """Whether a finding is of the paragraph that was edited, by the name of its picture."""
    return f"p{at}.png" in str(finding.facts)
