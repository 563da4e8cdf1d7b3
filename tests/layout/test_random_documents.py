"""What must hold for any document on any page: nothing is lost, doubled or out of order, and every
check of Braille Formats holds or a finding tells which rule gave way on that very line."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from convert.edition import Edition
from convert.pipeline import convert_source, settings_from

from ..readers.make import epub
from .random_documents import SIZES, documents

# What stands where print has it is for a person to judge, not for random print.
BY_SENSE = {"I05", "N07"}
FEW_LINES = 12  # Front pages are most of a volume of such pages, and of a small one.


def broken(edition: Edition) -> list[str]:
    """The checks that failed and that no finding explains, with their places."""
    small = edition.book.lines < FEW_LINES or edition.settings.volume_pages < 80
    unjudged = BY_SENSE | ({"V24"} if small else set())
    rows: list[dict[str, object]] = edition.checks["failures"]  # type: ignore[assignment]
    return [
        f"{row['id']}, volume {row['volume']}, page {row['label']}, line {row['line']}: "
        f"expected {row['expected']}, found {row['found']}"
        for row in rows
        if not row["explained"] and row["id"] not in unjudged
    ]


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("random")


# Making a failing document smaller takes longer than the whole suite may: it is shown as it is.
@settings(
    max_examples=60,
    phases=(Phase.explicit, Phase.generate),
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
@given(
    documents(), SIZES, st.booleans(), st.sampled_from([None, None, "Sea tales"]),
    st.sampled_from([80, 80, 15]),
)  # fmt: skip
def test_every_check_holds_or_is_explained(
    folder: Path, body: str, size: tuple[int, int], front: bool, head: str | None, volume: int,
) -> None:  # fmt: skip
    cells, lines = size
    edition = convert_source(
        epub(folder, body),
        settings_from(
            code="ueb-uncontracted", cells=cells, lines=lines, front_pages=front,
            running_head=head, volume_pages=volume,
        ),
    )  # fmt: skip
    assert (edition.totals.lost, edition.totals.doubled) == (0, 0)
    assert broken(edition) == []
    assert _in_order(edition)


def _in_order(edition: Edition) -> bool:
    """Whether the items of the flow stand in lines in their order, page after page."""
    seen = -1
    for *_, page in edition.book.pages():
        for row in page.rows:
            if page.series == "body" and row is not None and row.item >= 0:
                if row.item < seen:
                    return False
                seen = row.item
    return True
