"""Lists typed by hand: numbers may skip one or two (common practice, no source)."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.decisions.case import converted


@pytest.mark.parametrize(
    "marks, found",
    [
        (("1.", "2.", "3."), 1),
        (("1.", "2.", "4.", "5."), 1),
        (("1.", "2.", "5.", "6."), 1),
        (("3.", "2.", "1."), 0),
        (("1.", "8.", "20."), 0),
    ],
)
def test_numbers_of_a_typed_list(tmp_path: Path, marks: tuple[str, ...], found: int) -> None:
    body = "".join(f"<p>{mark} Mend the nets.</p>" for mark in marks)
    edition = converted(tmp_path, body)
    lists = [f for f in edition.findings if f.kind == "suspect.typed-list"]
    assert len(lists) == found
