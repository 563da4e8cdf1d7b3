"""The early-reader profile: uncontracted, a blank line between lines; and profiles as options."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from convert.errors import JobError
from convert.job import read_job, settings_options
from convert.pipeline import settings_from
from convert.profiles import NAMES, profile
from convert.translation.cells import ascii_of

from .make import body_lines, edition, grades

STORY = "<h1>The Boat</h1>" + "<p>The keeper of the harbour went home and sang.</p>" * 8


def test_uncontracted_with_a_blank_line_between_lines(tmp_path: Path) -> None:
    """Golden: the first lines of a page of 25 lines, of which 13 hold text."""
    made = edition(tmp_path, STORY, "early-reader")
    lines = [ascii_of(line).lower() for line in body_lines(made)[:9]]
    assert lines == [
        "               ,the ,boat             #d",
        "",
        "",
        "",
        "  ,the keeper of the harbour went home",
        "",
        "and sang4",
        "",
        "  ,the keeper of the harbour went home",
    ]
    assert all(len(page.rows) == 25 for _, _, page in made.book.pages())
    assert all(not page.rows[n] for _, _, page in made.book.pages() for n in range(1, 24, 2))
    assert made.totals.lost == 0


def test_the_places_of_findings_are_those_of_the_spaced_pages(tmp_path: Path) -> None:
    made = edition(tmp_path, "<p>One.</p><p>The w0rd is here.</p>", "early-reader")
    (found,) = [f for f in made.findings if f.kind == "suspect.look-alike"]
    assert [place.line for place in found.places] == [3]


def test_an_even_number_of_lines_keeps_the_foot_on_the_last(tmp_path: Path) -> None:
    made = edition(tmp_path, STORY, line_spacing=2, lines=28)
    page = made.book.volumes[0].pages[0]
    assert len(page.rows) == 28
    assert ascii_of(page.line(28)).strip().lower() == "#a"


def test_contracted_braille_stops(tmp_path: Path) -> None:
    made = edition(tmp_path, STORY, "early-reader", code="ueb")
    assert grades(made)["profile.contracted"] == "stop"


def test_a_person_wins_over_the_profile() -> None:
    assert settings_from(profile="early-reader").code == "ueb-uncontracted"
    assert settings_from(profile="early-reader", line_spacing=1).line_spacing == 1
    assert settings_from(profile="legal", revisions="accepted").revisions == "accepted"


def test_profiles_in_the_job_file(tmp_path: Path) -> None:
    job = tmp_path / "a.job.toml"
    job.write_text('profile = "exam"\nline-spacing = 2\n')
    settings = settings_from(**settings_options(read_job(job).options))
    assert (settings.profile, settings.revisions, settings.line_spacing) == ("exam", "refuse", 2)
    with pytest.raises(JobError, match="is not a choice for profile"):
        settings_options({"profile": "exams"})
    with pytest.raises(JobError, match="There is no profile"):
        settings_from(profile="exams")
    with pytest.raises(JobError, match="line spacing"):
        settings_options({"line-spacing": 9})


def test_each_profile_has_a_caution_of_its_own(tmp_path: Path) -> None:
    cautions = set()
    for name in NAMES:
        made = edition(tmp_path, "<p>The sea.</p>", name)
        report = json.loads((made.write(tmp_path / name, ("report",)) / "report.json").read_text())
        row = profile(name)
        assert row is not None
        assert row.caution in report["cautions"]
        cautions.add(row.caution)
    assert len(cautions) == len(NAMES)
