"""``cellset check``: plain sentences, the sum first, and an exit status a script can use."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from convert.commands.check import command

from .drawn import Drawing, broken
from .test_numbers import PAGES


def cellset_check(*args: object) -> Result:
    return CliRunner().invoke(command, [str(arg) for arg in args])


def sentences(output: str) -> list[str]:
    """What is told, a sentence a row: lines that go on are set in."""
    return output.replace("\n  ", " ").splitlines()


def test_right_pages(tmp_path: Path) -> None:
    done = cellset_check(Drawing(*PAGES).write(tmp_path))
    assert done.exit_code == 0
    assert all(len(line) < 80 or str(tmp_path) in line for line in done.output.splitlines())
    first, second = sentences(done.output)
    assert first == f"{tmp_path}: 2 volumes, 8 pages of 40 cells by 12 lines."
    assert second.startswith("197 checks: ")
    assert second.endswith("0 failed.")


def test_an_error_is_told_by_ear(tmp_path: Path) -> None:
    pages = broken(PAGES, "= body 2 12 a#ab", "= body 2 12 b#ab")
    done = cellset_check(Drawing(*pages).write(tmp_path))
    assert done.exit_code == 3
    assert (
        "Volume 1, braille page 2, line 1, print page 12: check P04, error: Later braille pages "
        "of a print page have the letters a, b, c and so on, in order, straight before the "
        "number. Expected 12 with the letter a; found 12 with the letter b. "
        "Braille Formats 2016, section 1.11."
    ) in sentences(done.output)


def test_advice_alone_is_no_error(tmp_path: Path) -> None:
    done = cellset_check(Drawing(*broken(PAGES, "ev|~,! ,5d\n", "")).write(tmp_path))
    assert done.exit_code == 0
    assert "check V07, advice: " in done.output


def test_many_places_of_one_check(tmp_path: Path) -> None:
    """Ten places of each check are told, then how many more there are."""
    folder = Drawing("= body 1 - -\n" + f"p|  {'x' * 40}\n" * 12).write(tmp_path)
    short, full = cellset_check(folder), cellset_check(folder, "--all")
    assert short.output.count("check G01, error") == 10
    assert "Check G01 failed in 2 more places; --all tells every one." in short.output
    assert full.output.count("check G01, error") == 12


def test_json(tmp_path: Path) -> None:
    done = cellset_check(Drawing(*PAGES).write(tmp_path), "--json")
    (told,) = json.loads(done.output)
    assert (told["total"], told["failed"], told["failures"]) == (197, 0, [])
    assert told["sentence"].startswith("197 checks: ")


def test_files_and_folders_of_editions(tmp_path: Path) -> None:
    for name in ("one", "two"):
        (tmp_path / name).mkdir()
        Drawing(*PAGES).write(tmp_path / name)
    done = cellset_check(tmp_path)
    assert done.output.count("197 checks: ") == 2
    files = sorted((tmp_path / "one").glob("*.brf"))
    loose = cellset_check(*files, "--page", "40x12")
    assert loose.output.startswith("2 files: 2 volumes, 8 pages of 40 cells by 12 lines.")
    assert "need the trace of a conversion" in loose.output


@pytest.mark.parametrize(
    "args, status, words",
    [
        (["none.brf"], 1, "none.brf cannot be read"),
        ([], 2, "Missing argument"),
        (["a.brf", "--page", "wide"], 2, "Give cells and lines, such as 40x25."),
    ],
)
def test_what_cannot_be_done(args: list[str], status: int, words: str) -> None:
    done = cellset_check(*args)
    assert done.exit_code == status
    assert words in done.output


@pytest.mark.parametrize(
    "data",
    [
        b"<!DOCTYPE html><p>\xe2\xa0\x81</p>",
        b" <?xml version='1.0'?><pef/>",
        b"{\\rtf1 x}",
        b"%PDF-1",
    ],
)
def test_files_of_other_kinds_are_no_braille(tmp_path: Path, data: bytes) -> None:
    """A report beside the braille files, named by mistake, is not inspected as braille."""
    (tmp_path / "page.brf").write_bytes(data)
    result = CliRunner().invoke(command, [str(tmp_path / "page.brf")])
    assert result.exit_code == 1
    assert "is not a braille file. Give files that end in .brf." in result.output


def test_a_character_that_is_no_cell_is_named(tmp_path: Path) -> None:
    (tmp_path / "page.brf").write_bytes(b",! sea {\r\n" + b"\r\n" * 23 + b" " * 38 + b"#a\r\n\f")
    result = CliRunner().invoke(command, [str(tmp_path / "page.brf"), "--page", "40x25"])
    assert "\\x" not in result.output
    (tmp_path / "page.brf").write_bytes("’sea\r\n\f".encode())
    result = CliRunner().invoke(command, [str(tmp_path / "page.brf"), "--page", "40x25"])
    assert "U+00E2, in cell 1." in " ".join(result.output.split())
