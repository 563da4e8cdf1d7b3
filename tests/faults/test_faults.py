"""The seeded faults: each found or read rightly, at its place, and not found in its twin."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from . import signs, structure, words
from .case import Case, kinds, lines, place, run

ROOT = Path(__file__).parents[2]
CASES: tuple[Case, ...] = (*structure.CASES, *signs.CASES, *words.CASES)
# Kinds that nothing detects; the reasons stand in docs/failure-kinds.md.
NOT_DETECTED = {69}


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case.number} {case.name}")
def test_the_fault_is_found_or_read_rightly(case: Case, tmp_path: Path) -> None:
    edition = run(case, case.fault, tmp_path / "fault")
    assert set(case.kinds) <= kinds(edition)
    if case.kinds:
        assert place(edition, case.kinds) == case.place
    braille = lines(edition, tmp_path / "out")
    assert case.holds in braille
    assert not case.lacks or case.lacks not in braille
    assert case.kinds or case.holds or case.lacks or case.same


@pytest.mark.parametrize(
    "case", [c for c in CASES if c.clean], ids=lambda c: f"{c.number} {c.name}"
)
def test_the_twin_without_the_fault_is_quiet(case: Case, tmp_path: Path) -> None:
    twin = run(case, case.clean, tmp_path / "twin")
    assert not set(case.kinds) & kinds(twin)
    if case.same:
        fault = run(case, case.fault, tmp_path / "fault")
        assert lines(fault, tmp_path / "a") == lines(twin, tmp_path / "b")


def test_every_kind_of_fault_has_a_case_or_a_reason() -> None:
    """All 84 kinds; the table of the documentation names the same ones as not detected."""
    assert {case.number for case in CASES} | NOT_DETECTED == set(range(1, 85))
    table = (ROOT / "docs" / "failure-kinds.md").read_text("utf-8")
    rows = re.findall(r"(?m)^\| (\d+) \|.*?\| ([^|]*) \|$", table)
    assert [int(number) for number, _ in rows] == list(range(1, 85))
    assert {int(number) for number, last in rows if last.startswith("not detected")} == NOT_DETECTED
