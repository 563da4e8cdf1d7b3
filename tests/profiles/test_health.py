"""The health profile: numbers never parted from units, numbers and negations for signature."""

from __future__ import annotations

import csv
import re
from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from convert.findings import Findings
from convert.profiles import profile
from convert.profiles.keep import keep_units, pairs
from convert.profiles_check import check_profile
from convert.translation.passage import Passage

from ..fake import LetterTranslator
from .make import body_lines, edition, grades

LEAFLET = (
    "<p>Take one tablet of 25 mg twice a day. Do not take more than 100 mg in 24 hours. "
    "Never give it to children under 12 years. Without food, wait 2 hours.</p>"
)


def test_numbers_and_units_are_found() -> None:
    text = "Give 2 × 5 mg or 2.5 ml, then 10 tablets at 5 p.m. and 3 men."
    assert [text[a:b] for a, b in pairs(text)] == ["2 × 5 mg", "2.5 ml", "10 tablets"]


def test_no_line_ends_between_a_number_and_its_unit(tmp_path: Path) -> None:
    """At every width of line from 15 cells, the dose stands whole on one line."""
    body = "<p>" + "Give the child 250 mg of it now. " * 6 + "</p>"
    parted = 0
    for cells in range(18, 40):
        plain = edition(tmp_path, body, cells=cells)
        findings = Findings()
        check_profile(profile("health"), plain.document, plain.book, plain.settings, findings)
        parted += any(f.kind == "profile.unit-parted" for f in findings.all())
        kept = edition(tmp_path, body, "health", cells=cells)
        assert "profile.unit-parted" not in grades(kept)
        assert sum("⠼⠃⠑⠚⠀⠍⠛" in line for line in body_lines(kept)) + 0 >= 1
        assert "".join(body_lines(kept)).count("⠼⠃⠑⠚") == 6
    assert parted, "no width parts a number from its unit without the profile"


@given(st.lists(st.sampled_from(["5 mg", "take", "2 × 5 ml", "a", "10 drops", "now,"]), min_size=1))
def test_blanks_that_are_kept_are_those_inside_doses(words: list[str]) -> None:
    text = " ".join(words)
    cells = LetterTranslator().translate(Passage(text), Findings())
    kept = keep_units(cells)
    inside = sum(text[a:b].count(" ") for a, b in pairs(text))
    assert len(kept.fixed) == inside
    assert all(kept.text[at] == "⠀" for at in kept.fixed)


def test_the_list_for_signature_holds_every_number_and_negation(tmp_path: Path) -> None:
    made = edition(tmp_path, LEAFLET, "health")
    text = made.document.ledger.text
    listed = [(row.what, text[row.start : row.end]) for row in made.signature]
    assert [words for what, words in listed if what == "number"] == [
        "25 mg", "100 mg", "24 hours", "12 years", "2 hours",
    ]  # fmt: skip
    assert [words for what, words in listed if what == "negation"] == ["not", "Never", "Without"]
    assert len(re.findall(r"\d+", text)) == sum(what == "number" for what, _ in listed)


def test_the_list_is_written_with_print_context_and_places(tmp_path: Path) -> None:
    made = edition(tmp_path, LEAFLET, "health")
    out = made.write(tmp_path / "out", ("report", "proof"))
    with (out / "signature.csv").open(encoding="utf-8-sig", newline="") as file:
        rows = list(csv.DictReader(file))
    assert len(rows) == len(made.signature)
    first = rows[0]
    assert (first["matter"], first["print"], first["print page"]) == ("number", "25 mg", "4")
    assert "one tablet of 25 mg twice" in first["context"]
    assert first["braille"].startswith("Volume 1, braille page 1, line ")
    text = (out / "report.txt").read_text("utf-8")
    page = (out / "report.html").read_text("utf-8")
    assert "For signature: 8 rows" in text
    assert 'id="signature"' in page
    for form in (text, page, (out / "proof.html").read_text("utf-8")):
        assert "Not for packaging" in " ".join(form.split())


def test_a_spoiled_unit_stops(tmp_path: Path) -> None:
    assert grades(edition(tmp_path, "<p>Give 5 rng now.</p>", "health"))["suspect.unit"] == "stop"
