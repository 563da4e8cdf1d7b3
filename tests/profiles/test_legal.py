"""The legal profile: amounts, dates, identifiers for signature; changes and strikes refused."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from convert.errors import SourceError

from ..readers.make_docx import p, r
from .make import edition, grades, word_edition

PAPER = (
    "<p>On 3 May 2024 the tenant, number QQ 12 34 56 C, paid £1,250.50 under lease LN-2024/17. "
    "The rent rises by 5% on 2025-01-01 and by 40 pounds on 1/2/2026. Call 020-7946-0018.</p>"
)
DELETED = (
    '<w:p><w:r><w:t>Pay </w:t></w:r><w:del w:id="1" w:author="A"><w:r><w:delText>no </w:delText>'
    "</w:r></w:del><w:r><w:t>rent.</w:t></w:r></w:p>"
)


def test_the_list_equals_the_figures_of_print(tmp_path: Path) -> None:
    """Every group of figures of print is in exactly one row of the list."""
    made = edition(tmp_path, PAPER, "legal")
    text = made.document.ledger.text
    listed = {what: [text[r.start : r.end] for r in made.signature if r.what == what]
              for what in ("date", "amount", "identifier")}  # fmt: skip
    assert listed == {
        "date": ["3 May 2024", "2025-01-01", "1/2/2026"],
        "amount": ["£1,250.50", "5%", "40 pounds"],
        "identifier": ["QQ 12 34 56 C", "LN-2024/17", "020-7946-0018"],
    }
    for figures in re.finditer(r"\d+", text):
        rows = [row for row in made.signature if row.start <= figures.start() < row.end]
        assert len(rows) == 1, figures[0]


def test_without_a_profile_there_is_no_list(tmp_path: Path) -> None:
    made = edition(tmp_path, PAPER)
    assert made.signature == ()
    assert not (made.write(tmp_path / "out", ("report",)) / "signature.csv").exists()


def test_an_empty_list_is_told_as_empty(tmp_path: Path) -> None:
    folder = edition(tmp_path, "<p>No figures here.</p>", "legal").write(
        tmp_path / "o", ("report",)
    )
    assert "For signature: nothing was found" in (folder / "report.txt").read_text("utf-8")
    assert len((folder / "signature.csv").read_text("utf-8").splitlines()) == 1


def test_unresolved_changes_are_refused_unless_accepted(tmp_path: Path) -> None:
    with pytest.raises(SourceError):
        word_edition(tmp_path, DELETED, "legal")
    made = word_edition(tmp_path, DELETED, "legal", revisions="accepted")
    assert grades(made)["docx.revisions"] == "stop"


def test_struck_words_stop(tmp_path: Path) -> None:
    assert grades(word_edition(tmp_path, p(r("never", "strike")), "legal"))["docx.struck"] == "stop"
    made = edition(tmp_path, "<p>Pay <s>never</s>.</p>", "legal")
    assert grades(made)["suspect.struck"] == "stop"
