"""Braille files: their bytes, and that nothing but six-dot cells is ever written."""

from __future__ import annotations

from pathlib import Path

import pytest

from convert.errors import Bug
from convert.layout.items import Part
from convert.translation.cells import cells_of
from convert.writers import cellfile
from convert.writers.cellfile import write_brf, write_unicode

from .make import Maker, river_school

# The 64 cells in the order of their dots, from a table published with the code: 40 (space) to
# 3F.  North American ASCII braille; dots 1 2 3 4 5 6 are bits 1 2 4 8 16 32.
PUBLISHED = " A1B'K2L@CIF/MSP\"E3H9O6R^DJG>NTQ,*5<-U8V.%[$+X!&;:4\\0Z7(_?W]#Y)="


def test_one_file_a_volume_named_after_the_source(tmp_path: Path) -> None:
    edition = river_school(volume_pages=1)
    files = write_brf(edition, tmp_path)
    assert [file.name for file in files] == ["river-school.v1.brf", "river-school.v2.brf"]
    assert sorted(tmp_path.iterdir()) == files


def test_grammar_of_the_bytes(tmp_path: Path) -> None:
    """Only 20 to 5F hex, CR LF, FF; full pages; no trailing blanks; ends with a form feed."""
    edition = river_school()
    (file,) = write_brf(edition, tmp_path)
    data = file.read_bytes()
    assert set(data) <= {*range(0x20, 0x60), 0x0D, 0x0A, 0x0C}
    pages = data.split(b"\x0c")
    assert pages.pop() == b""
    assert len(pages) == len(edition.volumes[0].pages) == 2
    for page in pages:
        lines = page.split(b"\r\n")
        assert lines.pop() == b""
        assert len(lines) == 25
        assert all(len(line) <= 40 and line == line.rstrip() for line in lines)
        assert b"\r" not in b"".join(lines)
        assert b"\n" not in b"".join(lines)


def test_last_line_of_a_page_ends_with_the_braille_page_number(tmp_path: Path) -> None:
    (file,) = write_brf(river_school(), tmp_path)
    pages = file.read_bytes().split(b"\x0c")
    assert pages[0].split(b"\r\n")[24] == b" " * 38 + b"#A"
    assert pages[1].split(b"\r\n")[24] == b" " * 38 + b"#B"


def test_letters_are_upper_case_and_leading_blanks_stay(tmp_path: Path) -> None:
    (file,) = write_brf(river_school(), tmp_path)
    lines = file.read_bytes().split(b"\r\n")
    assert lines[1] == b" " * 15 + b",THE ,RIVER"
    assert lines[3] == b"  ,WATER RUNS FROM THE HILLS TO THE SEA1"


def test_all_64_cells_by_the_published_table(tmp_path: Path) -> None:
    maker = Maker(width=64, depth=3)
    maker.add("x")
    edition = maker.edition()
    edition.volumes[0].pages[0].rows[1] = row = edition.volumes[0].pages[0].rows[0]
    assert row is not None
    row.parts = (Part(0, "".join(chr(0x2800 + n) for n in range(64))),)
    (file,) = write_brf(edition, tmp_path)
    assert file.read_bytes().split(b"\r\n")[1].decode("ascii") == PUBLISHED


def test_unicode_file_maps_one_to_one(tmp_path: Path) -> None:
    edition = river_school(volume_pages=1)
    for brf, text in zip(
        write_brf(edition, tmp_path), write_unicode(edition, tmp_path), strict=True
    ):
        assert text.name == brf.name.replace(".brf", ".txt")
        ours = text.read_bytes().decode("utf-8")
        theirs = brf.read_bytes().decode("ascii")
        assert " " not in ours
        assert not ours.startswith("\ufeff")
        for our_line, their_line in zip(ours.split("\r\n"), theirs.split("\r\n"), strict=True):
            assert our_line.replace("\f", "") == cells_of(their_line.replace("\f", ""))
            assert our_line.count("\f") == their_line.count("\f")


@pytest.mark.parametrize("cell", ["\u2840", "\u28ff", "a", " ", "\t", "\x0c"])
@pytest.mark.parametrize("write", [write_brf, write_unicode])
def test_anything_else_is_refused_with_its_place(tmp_path: Path, write, cell: str) -> None:  # type: ignore[no-untyped-def]
    edition = river_school(volume_pages=1)
    row = edition.volumes[1].pages[0].rows[3]
    assert row is not None
    row.parts = (Part(2, "\u2801\u2802" + cell + "\u2801"),)
    with pytest.raises(Bug, match=r"Volume 2, braille page 2, line 4, cell 5 holds U\+"):
        write(edition, tmp_path)


def test_a_file_that_reads_back_differently_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Outputs digest 7.7: read the file back and compare cell by cell."""
    swapped = bytes.maketrans(b"A", b"B")
    right = cellfile._TO_BYTE
    monkeypatch.setattr(cellfile, "_TO_BYTE", right.translate(swapped))
    with pytest.raises(Bug, match=r"Line \d+ on braille page 1 of the file river-school\.v1\.brf"):
        write_brf(river_school(), tmp_path)


def test_a_file_cut_short_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cellfile, "PAGE_END", b"")
    with pytest.raises(Bug, match="does not hold 2 braille pages"):
        write_brf(river_school(), tmp_path)
