"""Every sign of the published table of single characters (the newest definitions that come
with liblouis) has its cells, but for the rows the code's own logic corrects."""

from __future__ import annotations

from importlib import resources

import pytest

from convert.maths import nemeth_data
from convert.maths.data import cells_of_dots
from convert.maths.nemeth import cells
from convert.maths.tree import Letter, Row, Sign

# Characters whose row the table of this project has not, and why.
LEFT_OUT = {"⋾": "the table gives it the cells of the filled square"}
# Comparison signs and arrows that the published table leaves unspaced, and bars, which are
# comparison signs where they stand alone between two things (digest 9, 11, 14).
SPACED = frozenset("∍⇄⇅⇆⇇⇈⇉‖⫴")


def table() -> list[tuple[str, str, bool]]:
    """Print character, cells and spacing of the published table."""
    text = (resources.files(__package__) / "nemeth_table.tsv").read_text("utf-8")
    rows = [line.split("\t") for line in text.splitlines()]
    return [(chr(int(code, 16)), unhyphened(dots), spaced == "1") for code, dots, spaced in rows]


def unhyphened(dots: str) -> str:
    return "".join("\u2800" if cell == "0" else cells_of_dots(cell) for cell in dots.split("-"))


def row_of(char: str) -> nemeth_data.NemethSign | None:
    return nemeth_data.sign(char) or nemeth_data.letter(char)


def test_the_published_table_has_its_323_rows() -> None:
    assert len({char for char, _, _ in table()}) == 323


@pytest.mark.parametrize("char, published, spaced", table())
def test_a_sign_of_the_table(char: str, published: str, spaced: bool) -> None:
    row = row_of(char)
    if char in LEFT_OUT:
        assert row is None
        return
    assert row is not None
    assert (row.cells == published) is not bool(row.corrected)
    whole = Row((Letter("α"), Letter(char) if char.isalpha() else Sign(char), Letter("β")))
    made = cells(whole)
    assert made.problems == ()
    before = "\u2800" if spaced or char in SPACED else ""
    after = "\u2800" if row.group == "shape" else before
    assert made.cells == f"⠨⠁{before}{row.cells}{after}⠨⠃"
