"""Places of a template that nobody filled in: found, shown, settled; common practice, no source."""

from __future__ import annotations

from pathlib import Path

import pytest

from convert.edition import Edition
from tests.decisions.case import converted

FOUND = {
    "Dear {{ client.name }}, yours": "{{ client.name }}",
    "Dear {% if x %}, yours": "{% if x %}",
    "Dear ${name}, yours": "${name}",
    "Dear &lt;&lt;First Name>>, yours": "<<First Name>>",
    "Dear «FirstName», yours": "«FirstName»",
    "Dear [insert name here], yours": "[insert name here]",
    "Dear [Your name], yours": "[Your name]",
    "as the map shows ([link]a)": "[link]",
    "He rowed [citation needed] home": "[citation needed]",
    "Lorem ipsum dolor sit amet": "Lorem ipsum dolor",
}
QUIET = (
    "He said «Go» and «come back soon» to me.",
    "Use {{ before a name; cost ${5}; 1 &lt;&lt; 2; see [12], [ref. 3] and [sic].",
    "Type <code>{{ name }}</code> there.",
    "A set {a, {b}} of sets.",
)


def places(edition: Edition) -> list[str]:
    text = edition.document.ledger.text
    found = [f for f in edition.findings if f.kind == "suspect.filling"]
    return [text[start:end] for finding in found for start, end in finding.spans]


@pytest.mark.parametrize("words", FOUND)
def test_a_place_is_found(tmp_path: Path, words: str) -> None:
    assert places(converted(tmp_path, f"<p>{words}</p>")) == [FOUND[words]]


@pytest.mark.parametrize("words", QUIET)
def test_what_only_looks_so_is_not(tmp_path: Path, words: str) -> None:
    assert places(converted(tmp_path, f"<p>{words}</p>")) == []


def test_all_places_are_one_finding_that_shows_them(tmp_path: Path) -> None:
    edition = converted(tmp_path, "<p>Dear {{ name }},</p><p>on {{ date }} and {{ date }}</p>")
    (finding,) = (f for f in edition.findings if f.kind == "suspect.filling")
    assert len(finding.spans) == 3
    assert "{{ date }} (2), {{ name }}" in finding.message


def test_a_decision_makes_it_room_for_an_answer(tmp_path: Path) -> None:
    """UEB 7.2.3: the low line is dots 4-6, 3-6; the finding is settled."""
    decision = '[[decision]]\nexpect = "{{ name }}"\ndo = "answer-space"\nkind = "line"\n'
    edition = converted(tmp_path, "<p>Dear {{ name }}, yours</p>", decision)
    assert [f.settled for f in edition.findings if f.kind == "suspect.filling"] != [""]
    lines = [line for page in edition.volumes[0].pages for line in page.lines]
    assert any("⠨⠤" in line for line in lines)
