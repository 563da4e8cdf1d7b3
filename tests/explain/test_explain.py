"""``cellset explain``: from a place in the braille to the print and the rule."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner

import convert
from convert.commands.explain import command
from convert.errors import JobError, SourceError
from convert.explain import Place, explain_place
from convert.explain.edition import _range
from tests.readers.make import epub

BODY = (
    "<h1>Tides</h1><p>The moon pulls the sea, and <i>twice</i> a day the water in the harbour "
    "rises 3 metres. Café owners know it; so do the children.</p>"
    "<aside><p>Look at the harbour wall.</p></aside>"
)


@pytest.fixture(scope="module")
def edition(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("explain")
    made = convert.convert(epub(folder, BODY), front_pages=False)
    return made.write(folder / "out", ["trace", "report"])


def line_with(edition: Path, cells: str) -> dict[str, object]:
    """The first line of the trace that has these cells (Unicode braille)."""
    for line in (edition / "trace.jsonl").read_text("utf-8").splitlines():
        row: dict[str, object] = json.loads(line)
        if cells in str(row["cells"]):
            return row
    raise AssertionError(f"no line has {cells}")


def told(edition: Path, cells: str, at: int | None = None) -> str:
    """What is said of the line with these cells, or of cell ``at`` of them (from 0)."""
    row = line_with(edition, cells)
    cell = None if at is None else str(row["cells"]).index(cells) + at + 1
    place = Place(int(str(row["volume"])), str(row["page"]), int(str(row["line"])), cell)
    return " ".join(" ".join(explain_place(edition, place)).split())


THE_MOON, TWICE, CAFE = "⠠⠮⠀⠍⠕⠕⠝", "⠨⠂⠞⠺⠊⠉⠑", "⠠⠉⠁⠋⠘⠌⠑"


def test_a_line_tells_its_print_its_source_and_its_rule(edition: Path) -> None:
    words = told(edition, THE_MOON)
    assert words.startswith("Volume 1, page 1 of the volume, one of the body pages, numbered 1")
    assert "Cells in ASCII braille: ,! moon pulls ! sea1" in words
    assert "Print: “The moon pulls the sea" in words
    assert "Kind: paragraph, the first line of it." in words
    assert "Style row: paragraph, of the convention bf2016: first line from cell 3" in words
    assert "runovers in cell 1; Braille Formats 2016, section 1.9." in words
    assert "Source address: OEBPS/c1.xhtml!/" in words


def test_a_heading_names_its_own_row(edition: Path) -> None:
    """BF 4.4: the only rank of heading is centred."""
    assert "Style row: centred-heading" in told(edition, "⠠⠞⠊⠙⠑⠎")


def test_a_contraction_tells_its_print_in_context_and_its_section(edition: Path) -> None:
    words = told(edition, THE_MOON, at=1)
    assert "dots 2-3-4-6" in words
    assert "It stands for the print “The” in “[The] moon pulls the sea" in words
    assert "Sign: strong contraction" in words
    assert "Rule: UEB 10.3" in words


def test_an_indicator_tells_what_made_it_necessary(edition: Path) -> None:
    """UEB 8.3 and 9.3."""
    words = told(edition, THE_MOON, at=0)
    assert "It is an indicator, made necessary by the print “T”" in words
    assert "the next letter is a capital" in words
    words = told(edition, TWICE, at=1)
    assert "made necessary by the print “t” in “moon pulls the sea, and [t]wice a day" in words
    assert "Sign: italic word indicator" in words
    assert "It is cell 2 of a sign of 2: dots 4-6, dot 2." in words


def test_an_accent_is_part_of_its_letter(edition: Path) -> None:
    """UEB 4.2."""
    words = told(edition, CAFE, at=4)
    assert "stands for the print “é”" in words
    assert "Rule: UEB 4.2" in words or "Rule: UEB 4.1" in words


def test_an_empty_cell_is_a_space(edition: Path) -> None:
    assert "It is a space" in told(edition, THE_MOON, at=2)


def test_every_line_can_be_followed_by_ear(edition: Path) -> None:
    row = line_with(edition, THE_MOON)
    lines = explain_place(edition, Place(1, str(row["page"]), int(str(row["line"])), 4))
    assert all(len(part) < 80 for line in lines for part in line.splitlines())
    assert all(char < "\u2800" or char > "\u28ff" for line in lines for char in line)


def test_a_line_the_edition_draws_is_not_read_as_signs(edition: Path) -> None:
    """BF 7.1: a box line is a row of dots 2-3-5-6, not brackets."""
    words = told(edition, "⠶" * 30, at=3)
    assert "part of a top box line. It stands for no print: the edition draws this line." in words


def test_page_furniture_is_named_as_such(edition: Path) -> None:
    row = [json.loads(line) for line in (edition / "trace.jsonl").read_text("utf-8").splitlines()]
    foot = next(line for line in row if line.get("foot"))
    said = explain_place(edition, Place(1, "1", foot["line"], len(foot["foot"])))
    assert "in the page number or running head “1”" in said[1]


def test_without_the_source_it_says_what_cannot_be_told(edition: Path, tmp_path: Path) -> None:
    copy = tmp_path / "out" / edition.name
    shutil.copytree(edition, copy)
    words = told(copy, THE_MOON, at=1)
    assert "The source is no longer where it was." in words
    assert "Rule: UEB 10.3" in words
    assert "The line's print: “The moon" in words


def test_a_changed_source_is_not_trusted(edition: Path, tmp_path: Path) -> None:
    shutil.copytree(edition, tmp_path / "out" / edition.name)
    (tmp_path / "tides.epub").write_bytes(b"something else")
    assert "The source has changed since." in told(tmp_path / "out" / edition.name, THE_MOON, at=1)


@pytest.mark.parametrize("page", ["1", "label:1", " 1 "])
def test_pages_are_found_by_ordinal_or_by_number(edition: Path, page: str) -> None:
    assert explain_place(edition, Place(1, page, 1))[0].startswith("Volume 1, page 1 of the volume")


def test_a_folder_with_one_edition_will_do(edition: Path) -> None:
    assert explain_place(edition.parent, Place(1, "1", 1)) == explain_place(
        edition, Place(1, "1", 1)
    )


@pytest.mark.parametrize(
    "place, wrong",
    [
        (Place(2, "1", 1), "There is no volume 2. The edition has volumes 1 to 1."),
        (Place(1, "t9", 1), "Volume 1 has no page t9. Its pages are 1 to 1, numbered 1."),
        (Place(1, "1", 26), "There is no line 26 on that page. It has lines 1 to 25."),
        (Place(1, "1", 3, 99), "There is no cell 99. The line has"),
    ],
)
def test_a_place_that_is_not_there(edition: Path, place: Place, wrong: str) -> None:
    with pytest.raises(JobError, match=wrong):
        explain_place(edition, place)


def test_the_numbers_of_pages_are_told_series_by_series() -> None:
    labels = {1: ("t1", "t"), 2: ("t2", "t"), 3: ("p1", "p"), 4: ("1", "body"), 5: ("2", "body")}
    assert _range(labels) == "t1 to t2, p1, 1 to 2"
    assert _range({1: ("", "body")}) == "nothing"


def test_a_folder_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(SourceError, match=r"There is no folder .*\. Name the folder of one"):
        explain_place(tmp_path / "gone", Place(1, "1", 1))


def test_a_folder_without_an_edition(tmp_path: Path) -> None:
    with pytest.raises(SourceError, match=r"holds no edition with a trace \(trace.jsonl\)"):
        explain_place(tmp_path, Place(1, "1", 1))


def test_a_broken_trace_is_named(tmp_path: Path) -> None:
    (tmp_path / "trace.jsonl").write_text("{not json\n", "utf-8")
    with pytest.raises(SourceError, match="cannot be read"):
        explain_place(tmp_path, Place(1, "1", 1))


def test_the_command_prints_the_sentences(edition: Path) -> None:
    place = ["--volume", "1", "--page", "1", "--line", "1"]
    result = CliRunner().invoke(command, [str(edition), *place])
    assert result.exit_code == 0
    assert result.stdout.splitlines()[0].startswith("Volume 1, page 1 of the volume")


def test_no_kind_of_line_is_told_by_its_short_name() -> None:
    from convert.explain.edition import _KINDS
    from convert.layout.convention_check import KINDS

    words = {_KINDS.get(kind, kind) for kind in KINDS}
    assert not any(
        word.startswith(("h-", "toc", "tn", "para-")) or word == "para" for word in words
    )
    assert not any("-" in word and " " not in word for word in words)
