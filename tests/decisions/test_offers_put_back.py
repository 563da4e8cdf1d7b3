"""What was left out of the text can be put back by the offer of its finding."""

from __future__ import annotations

from pathlib import Path

import pytest

from .case import converted

BODIES = {
    "read.hidden-text": "<p>Ebb</p><p hidden=''>Flow and slack</p><p>Low</p>",
    "read.hidden-text in a line": "<p>Ebb <span hidden=''>and flow </span>ends.</p>",
}


@pytest.mark.parametrize("title", BODIES)
def test_the_offer_puts_print_back(tmp_path: Path, title: str) -> None:
    """Braille Formats 2016, 1.2: all that print has is in the braille."""
    plain = converted(tmp_path, BODIES[title])
    (finding,) = (f for f in plain.findings if f.kind == "read.hidden-text")
    assert '= "put-back"' in finding.offer[0]
    decided = converted(tmp_path, BODIES[title], finding.offer[0])
    assert decided.totals.omitted < plain.totals.omitted
    assert [f.settled for f in decided.findings if f.kind == "read.hidden-text"] != [""]
    assert decided.totals.lost == decided.totals.doubled == 0
