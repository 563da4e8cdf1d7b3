"""Codes by a table of the library: cells, positions, and what the table cannot write."""

from __future__ import annotations

import pytest

from convert.document.nodes import ITALIC, MathRun
from convert.errors import JobError
from convert.findings import Finding, Findings
from convert.settings import Settings
from convert.translation.cells import Cells
from convert.translation.louis_code import check_table, describe_tables, table_code, tables
from convert.translation.passage import Mark, Passage

FRENCH, ENGLISH = "louis:fr-bfu-g2.ctb", "louis:en-us-g2.ctb"


def translated(passage: Passage | str, code: str = ENGLISH) -> tuple[Cells, list[Finding]]:
    findings = Findings()
    passage = Passage(passage) if isinstance(passage, str) else passage
    cells = table_code(Settings(code=code)).translate(passage, findings)
    return cells, findings.all()


def test_a_table_owns_capitals_and_numbers() -> None:
    cells, findings = translated("Paris 12", FRENCH)
    assert cells.ascii == ".paris ,*<"
    assert findings == []


def test_pieces_are_words_with_the_print_they_cover() -> None:
    cells, _ = translated("  the cat  sat ")
    assert cells.ascii == "! cat sat"
    assert cells.starts == [0, 2, 6]
    assert cells.prints == [2, 6, 11]
    assert [piece.length for piece in cells.pieces] == [3, 3, 3]
    assert cells.origin == [2, 5, 6, 7, 8, 9, 11, 12, 13]


def test_words_the_table_joins_are_one_piece() -> None:
    """Older English tables write “of the” without the space."""
    cells, _ = translated("of the people")
    assert cells.ascii == "(! p"
    assert [piece.length for piece in cells.pieces] == [6, 6]
    assert cells.span(0, len(cells)) == (0, 13)


def test_print_without_cells_is_a_stop_and_no_escape_is_written() -> None:
    cells, findings = translated(Passage("a 日 b 日"))
    assert cells.ascii == "a ;b"
    assert [(f.kind, f.severity, f.spans) for f in findings] == [
        ("louis.no-cells", "stop", ((2, 3), (6, 7)))
    ]
    assert cells.prints == [0, 4]
    assert [piece.length for piece in cells.pieces] == [1, 1]


def test_signs_beyond_the_library_s_characters_are_a_stop() -> None:
    cells, findings = translated("x𝕏 y")
    assert [f.kind for f in findings] == ["louis.no-cells"]
    assert cells.origin[-1] == 3


def test_eight_dot_cells_never_pass() -> None:
    """A table of six-dot letters may still write a sign with a cell of eight dots."""
    cells, findings = translated("hej ¿ du", "louis:sv-g0.utb")
    assert cells.ascii == "hej du"
    assert [(f.kind, f.severity, f.spans) for f in findings] == [
        ("louis.eight-dots", "stop", ((4, 5),))
    ]


def test_tables_of_eight_dots_are_refused() -> None:
    with pytest.raises(JobError, match="eight dots"):
        check_table("fr-bfu-comp8.utb")


def test_no_table_gives_anything_but_six_dot_cells() -> None:
    text = "Été: 3 < 4 & “Œuvre” € ☃ ½ x² مرحبا"
    for name in ("es-g2.ctb", "de-g1.ctb", "en-us-g2.ctb", "fr-bfu-g2.ctb"):
        cells, _ = translated(text, f"louis:{name}")
        assert all("\u2800" <= cell <= "\u283f" for cell in str(cells)), name


def test_typeforms_the_table_has_are_used_and_others_told() -> None:
    cells, findings = translated(Passage("un mot", forms=((3, 6, ITALIC),)), FRENCH)
    assert cells.ascii == "u _mot"
    assert findings == []


def test_typeforms_without_indicators_are_told() -> None:
    """The library has no superscript: it must not vanish in silence."""
    _, findings = translated(Passage("x2", forms=((1, 2, 16),)))
    assert [(f.kind, f.severity) for f in findings] == [("louis.typeform", "look")]


def test_mathematics_is_told() -> None:
    passage = Passage("so x plus y", marks=(Mark(3, "math", MathRun(3, 11, "<math/>")),))
    cells, findings = translated(passage)
    assert [f.kind for f in findings] == ["louis.math"]
    assert cells.marks[0][:2] == (2, "math")


def test_print_lines_end_where_print_ends_them() -> None:
    passage = Passage("onetwo three", marks=(Mark(3, "line"), Mark(6, "turn", "4")))
    cells, _ = translated(passage)
    assert cells.marks[0] == (len(cells.pieces[0].cells), "line", None)
    assert len(cells.pieces) == 3


def test_table_names_are_checked_against_the_installed_list() -> None:
    assert "fr-bfu-g2.ctb" in tables()
    assert dict(describe_tables())["fr-bfu-g2.ctb"] == "French contracted braille"
    for name in ("../../etc/passwd", "/usr/share/liblouis/tables/fr-bfu-g2.ctb", "a.ctb,b.ctb"):
        with pytest.raises(JobError, match="no braille table"):
            check_table(name)
    with pytest.raises(JobError, match=r"Did you mean louis:fr-bfu-g2\.ctb"):
        check_table("fr-bfu-g2")
    with pytest.raises(JobError, match="needs the name of a table"):
        table_code(Settings(code="louis"))
