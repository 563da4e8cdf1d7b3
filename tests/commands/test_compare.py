"""``cellset compare``: two editions, or two braille files, page by page."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner

from convert.commands.compare import DIFFERENT, SAME, TROUBLE, command
from convert.pipeline import convert_source, settings_from

from ..readers.make import epub

MARK = '<div epub:type="pagebreak" role="doc-pagebreak" id="p{0}" aria-label="{0}"></div>'
LINE = "<p>The keeper of the harbour went home and sang of the sea.</p>"
BODY = MARK.format(7) + LINE * 15 + MARK.format(8) + LINE * 4 + "<p>The boat was late.</p>"


def made(folder: Path, body: str) -> Path:
    folder.mkdir()
    edition = convert_source(epub(folder, body), settings_from(front_pages=False))
    return edition.write(folder / "out", ("brf", "report", "trace"))


@pytest.fixture
def first(tmp_path: Path) -> Path:
    return made(tmp_path / "first", BODY)


@pytest.fixture
def second(tmp_path: Path) -> Path:
    return made(tmp_path / "second", BODY.replace("boat", "bold"))


def run(*words: object) -> tuple[str, str, int]:
    result = CliRunner().invoke(command, [str(word) for word in words])
    return result.stdout, result.stderr, result.exit_code


def brf(folder: Path) -> Path:
    (path,) = folder.glob("*.brf")
    return path


def test_an_edition_is_the_same_as_itself(first: Path) -> None:
    assert run(first, first) == ("The same: 2 braille pages, cell for cell.\n", "", SAME)


def test_a_changed_word_is_named_with_print_page_line_and_dots(first: Path, second: Path) -> None:
    """boat is b o a t; bold is b o l d: the third cell of the word, cell 8, differs."""
    said, _, status = run(first, second)
    assert status == DIFFERENT
    assert said.splitlines()[:2] == [
        "Not the same: 1 braille page differs, 1 changed; 1 the same.",
        "The source was edited.",
    ]
    text = " ".join(said.split())
    assert "Volume 1, braille page 2: changed. 1 line new, 1 line gone." in text
    assert "print page 8, from cell 8." in text
    assert "Was: “The boat was late.”, dot 1, dots 2-3-4-5, empty cell, " in text
    assert "Is: “The bold was late.”, dots 1-2-3, dots 1-4-5, empty cell, " in text


def test_braille_files_of_any_maker_are_read_back(first: Path, second: Path) -> None:
    said, told, status = run(brf(first), brf(second))
    assert status == DIFFERENT
    text = " ".join(said.split())
    assert "print page 8, from cell 8. Was: “The boat was late.”, dot 1, dots 2-3-4-5" in text
    assert "The page size was taken from the lines" in told
    assert run(brf(first), brf(first))[2] == SAME


def test_a_folder_with_its_trace_and_its_braille_file_alone_are_the_same(first: Path) -> None:
    assert run(first, brf(first))[2] == SAME
    (first / "trace.jsonl").unlink()
    assert run(first, brf(first))[2] == SAME


def test_a_page_put_in_makes_the_next_ones_renumbered(tmp_path: Path) -> None:
    """Cells of the later page are the same but for the number: it is not named as changed."""
    one = MARK.format(1) + LINE * 3
    pages = "".join(f'{MARK.format(n)}<h1 class="part">Part {n}</h1>{LINE * 14}' for n in (2, 3))
    old, new = made(tmp_path / "old", one + pages), made(tmp_path / "new", one + LINE * 9 + pages)
    record = json.loads(run(old, new, "--json")[0])
    states = {row["state"] for row in record["pages"]}
    assert record["same"] is False
    assert states <= {"changed", "new", "renumbered"}
    assert sum(row["first"] is not None for row in record["pages"]) == sum(
        row["state"] == "changed" for row in record["pages"]
    )


def test_json_and_text_say_the_same(first: Path, second: Path) -> None:
    record = json.loads(run(first, second, "--json")[0])
    said = " ".join(run(first, second)[0].split())
    assert record["verdict"] in said
    (page,) = record["pages"]
    spot = page["first"]
    assert (
        f"line {spot['line']}, print page {spot['print_page']}, from cell {spot['cell']}." in said
    )
    assert spot["was"]["text"] in said
    assert spot["is"]["text"] in said
    assert record["pages_same"] == 1


def test_more_pages_than_are_told_one_by_one(tmp_path: Path) -> None:
    old = made(tmp_path / "old", LINE * 300)
    new = made(tmp_path / "new", LINE.replace("sang", "sung") * 300)
    said = run(old, new)[0]
    everything = run(old, new, "--all")[0]
    assert "more pages differ; --all tells every one." in " ".join(said.split())
    assert said.count("First difference") == 20
    assert everything.count("First difference") > 20


def test_lines_are_of_80_columns_without_escape_codes(first: Path, second: Path) -> None:
    said = run(first, second)[0]
    assert max(map(len, said.splitlines())) <= 80
    assert "\x1b" not in said


@pytest.mark.parametrize("what", ["nothing", "empty folder", "no braille", "spoilt trace"])
def test_what_cannot_be_read_is_refused_with_status_2(
    first: Path, tmp_path: Path, what: str
) -> None:
    other = tmp_path / "other"
    if what == "empty folder":
        other.mkdir()
    elif what == "no braille":
        other.write_bytes(b"PK\x03\x04 not braille")
    elif what == "spoilt trace":
        shutil.copytree(first, other)
        (other / "trace.jsonl").write_text("{not json\n")
    said, told, status = run(first, other)
    assert (said, status) == ("", TROUBLE)
    assert told.startswith("cellset: ")
    assert len(told.splitlines()) == 1


def test_two_different_books_are_named(first: Path, tmp_path: Path) -> None:
    """They were not edited into one another."""
    source = epub(tmp_path, "<p>Another book.</p>").rename(tmp_path / "other.epub")
    other = convert_source(source, settings_from(front_pages=False)).write(tmp_path / "out")
    said, _, status = run(first, other)
    assert status == DIFFERENT
    assert "The source was tides.epub and is other.epub." in said
    assert "was edited" not in said
