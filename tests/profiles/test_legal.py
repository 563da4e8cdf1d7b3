"""The legal profile: amounts, dates, identifiers for signature; changes and strikes refused."""

from __future__ import annotations

import csv
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
    made = word_edition(tmp_path, p(r("never", "strike")), "legal")
    assert grades(made)["suspect.struck"] == "stop"
    made = edition(tmp_path, "<p>Pay <s>never</s>.</p>", "legal")
    assert grades(made)["suspect.struck"] == "stop"


def control(props: str, content: str) -> str:
    return f"<w:sdt><w:sdtPr>{props}</w:sdtPr><w:sdtContent>{content}</w:sdtContent></w:sdt>"


TICK = '<w14:checkbox><w14:checked w14:val="{}"/></w14:checkbox>'
CHOICE = (
    '<w:dropDownList><w:listItem w:value="Freehold"/><w:listItem w:value="Leasehold"/>'
    "</w:dropDownList>"
)


def test_what_a_form_holds_is_in_the_list(tmp_path: Path) -> None:
    """Words in content controls, ticked boxes and chosen entries, with their places."""
    body = (
        p(r("Tenant: ") + control("<w:text/>", r("Anna Reed, born 3 May 1990")))
        + p(r("Tenure: ") + control(CHOICE, r("Leasehold")))
        + p(control(TICK.format(1), r("\u2612")) + r(" I accept the terms"))
        + p(control(TICK.format(0), r("\u2610")) + r(" I refuse them"))
    )
    made = word_edition(tmp_path, body, "legal")
    text = made.document.ledger.text
    assert [(row.what, text[row.start : row.end]) for row in made.signature] == [
        ("filled in", "Anna Reed, born 3 May 1990"),
        ("chosen entry", "Leasehold"),
        ("ticked box", "\u2612"),
    ]
    folder = made.write(tmp_path / "out", ("report",))
    with (folder / "signature.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert [row["matter"] for row in rows] == ["filled in", "chosen entry", "ticked box"]
    assert "I accept the terms" in rows[2]["context"]
    assert all(row["braille"].startswith("Volume 1, braille page 1, line ") for row in rows)


def test_an_active_control_stops(tmp_path: Path) -> None:
    """What an ActiveX control holds is in a file of its own, which is not opened."""
    active = (
        '<w:r><w:object><v:shape><v:imagedata r:id="i1"/></v:shape>'
        '<w:control r:id="i2" w:name="Box1"/></w:object></w:r>'
    )
    body = p(r("I agree: ") + active)
    assert grades(word_edition(tmp_path, body))["docx.object"] == "look"
    made = word_edition(tmp_path, body, "legal")
    assert grades(made)["docx.object"] == "stop"
    (found,) = [f for f in made.findings if f.kind == "docx.object"]
    assert (
        found.message == "The document holds an active form control (Box1), which was not opened."
    )


def test_a_field_that_comes_filled_in_stops_and_is_listed(tmp_path: Path) -> None:
    field = (
        '<w:r><w:fldChar w:fldCharType="begin"><w:ffData><w:name w:val="Rent"/><w:textInput/>'
        "</w:ffData></w:fldChar></w:r><w:r><w:instrText> FORMTEXT </w:instrText></w:r>"
        '<w:r><w:fldChar w:fldCharType="separate"/></w:r>'
        + r("forty pounds")
        + '<w:r><w:fldChar w:fldCharType="end"/></w:r>'
    )
    made = word_edition(tmp_path, p(r("Rent: ") + field), "legal")
    assert grades(made)["docx.filled-field"] == "stop"
    text = made.document.ledger.text
    listed = [(row.what, text[row.start : row.end]) for row in made.signature]
    assert listed == [("filled in", "forty pounds")]


@pytest.mark.parametrize("profile", ["legal", "health"])
def test_a_place_of_a_template_that_is_not_filled_in_stops(tmp_path: Path, profile: str) -> None:
    body = "<p>The tenant, {{ tenant.name }}, agrees.</p>"
    assert grades(edition(tmp_path, body))["suspect.filling"] == "look"
    assert grades(edition(tmp_path, body, profile))["suspect.filling"] == "stop"
