"""The inspection as a whole: counted honestly, the same from files and from memory, quick."""

from __future__ import annotations

import re
import subprocess
import sys
import time
from pathlib import Path

import pytest

from convert import convert
from convert.check import checks, inspect, inspect_edition
from convert.check.inspect import inspect_book
from convert.check.model import RULES, Book, Line, Page
from convert.check.numbers import continuation, split_number
from convert.check.pages import finish
from convert.errors import SourceError
from convert.findings import Findings

from ..conftest import ROOT
from ..writers.make import river_school
from .drawn import Drawing, broken, failed
from .test_numbers import PAGES


def test_there_are_197_checks() -> None:
    rows = checks()
    assert len(rows) == 197
    assert {row.needs for row in rows.values()} == {"P", "T", "S"}
    assert {row.severity for row in rows.values()} == {"E", "W"}
    assert all(row.what.endswith(".") and row.section for row in rows.values())


def test_every_check_that_is_made_is_broken_in_a_test() -> None:
    texts = "\n".join(path.read_text("utf-8") for path in Path(__file__).parent.glob("test_*.py"))
    unbroken = [name for name, row in checks().items() if row.made and f'"{name}"' not in texts]
    assert unbroken == []


def test_every_check_is_made() -> None:
    assert [name for name, row in checks().items() if not row.made] == []


def test_a_check_not_made_is_never_counted_as_passed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    unmade = {"G01", "N07"}
    for name in unmade:
        monkeypatch.delitem(RULES, name)
    result = Drawing(*PAGES).inspect(tmp_path)
    assert {result.state[name] for name in unmade} == {"not made"}
    counts = result.counts
    assert counts["not_made"] == len(unmade)
    kinds = ("applied", "not_applicable", "needs_trace", "needs_source", "not_made")
    assert sum(counts[kind] for kind in kinds) == counts["total"] == 197
    assert f"{len(unmade)} not made yet, 0 failed." in result.sentence


# ------------------------------------------------------------------ bare files


def test_files_of_others(tmp_path: Path) -> None:
    """Without a trace only what the pages show is checked; the page size is taken from them."""
    result = Drawing(*PAGES).inspect(tmp_path, trace=False)
    assert failed(result) == set()
    assert (result.cells, result.lines) == (40, 12)
    assert result.counts["needs_trace"] > 50
    files = [tmp_path / "drawn.v1.brf", tmp_path / "drawn.v2.brf"]
    again = inspect(files)
    assert (again.cells, again.lines, failed(again)) == (40, 12, set())
    assert "The page size was taken from the lines: 40 cells by 12 lines." in again.notes[0]
    assert {"G01", "G02"} <= failed(inspect(files, page=(30, 10)))


@pytest.mark.parametrize(
    "name, old, new",
    [
        ("B04", "= body 3 ", "= body 7 "),
        ("P12", "p|  ,! riv] 0 hi<4", "p|  all day1 all day1 all day1 all day"),
        ("C03", "pt|-------------------------------------#ad\np|  ,! 5d 0 ne>4",
         "p|  ,! 5d 0 ne>4\npt|----------------------------------#ad"),
        ("C01", "pt|-------------------------------------#ac", "pt|------------------------#ac"),
        ("T03", "p|  ,he slept4", "p|  ,he .7slept ) all 4"),
        ("N01", "p|  ,he slept4", "p|  ,he @.<slept4"),
    ],
)  # fmt: skip
def test_broken_files_of_others(name: str, old: str, new: str, tmp_path: Path) -> None:
    result = Drawing(*broken(PAGES, old, new)).inspect(tmp_path, trace=False)
    assert name in failed(result)


def test_signs_of_one_code_are_not_looked_for_in_another(tmp_path: Path) -> None:
    """5.1: what would be a typeform indicator in Unified English Braille may be two letters."""
    old, new = "p|  ,he slept4", "p|  ,he .7slept ) all 4"
    folder = Drawing(*broken(PAGES, old, new)).write(tmp_path)
    assert "T03" in failed(inspect(folder))
    recipe = folder / "recipe.json"
    text = recipe.read_text("utf-8")
    recipe.write_text(text.replace('"options": {', '"options": {"code": "louis:fr-bfu-g2.ctb", '))
    assert inspect(folder).state["T03"] == "not applicable"


def test_unicode_and_lower_case_files(tmp_path: Path) -> None:
    from convert.translation.cells import cells_of

    folder = Drawing(*PAGES).write(tmp_path, trace=False)
    for file in folder.glob("*.brf"):
        text = file.read_bytes().decode("ascii").lower()
        lines = ["\f" if line == "\f" else line for line in text.split("\n")]
        lower = "\n".join(lines)
        turned = "".join(char if char in "\r\n\f" else cells_of(char) for char in lower)
        file.write_text(turned.replace("\r", ""), "utf-8")
    assert failed(inspect(folder)) == set()


def rewritten(folder: Path, old: bytes, new: bytes) -> list[Path]:
    """The files of a folder with every ``old`` replaced."""
    files = sorted(folder.glob("*.brf"))
    for file in files:
        file.write_bytes(file.read_bytes().replace(old, new))
    return files


@pytest.mark.parametrize("end", [b"\n", b"\r", b"\x0b", b"\x85"], ids=repr)
def test_files_with_other_line_ends(end: bytes, tmp_path: Path) -> None:
    Drawing(*PAGES).write(tmp_path, trace=False)
    assert failed(inspect(rewritten(tmp_path, b"\r\n", end))) == set()


@pytest.mark.parametrize("coding", ["utf-8-sig", "utf-16"])
def test_files_with_a_byte_order_mark(coding: str, tmp_path: Path) -> None:
    from convert.translation.cells import cells_of

    folder = Drawing(*PAGES).write(tmp_path, trace=False)
    for file in folder.glob("*.brf"):
        text = file.read_bytes().decode("ascii").lower()
        turned = "".join(char if char in "\r\n\f" else cells_of(char) for char in text)
        file.write_bytes(turned.encode(coding))
    assert failed(inspect(folder)) == set()


@pytest.mark.parametrize("page", [None, (40, 12)])
def test_files_without_form_feeds(page: tuple[int, int] | None, tmp_path: Path) -> None:
    """Pages are taken where braille page numbers come again, or at the depth that is given."""
    pages = "".join(
        f"= body {at} - -\np|  ,{'m' * at}4\n" + "p|  ,all day4\n" * 10 for at in range(1, 9)
    )
    Drawing(pages).write(tmp_path, trace=False)
    result = inspect(rewritten(tmp_path, b"\x0c", b""), page)
    assert (result.cells, result.lines, result.pages) == (40, 12, 8)
    assert {name for name in failed(result) if name != "V07"} == set()
    why = ", as its page numbers show" if page is None else ""
    said = f"drawn.v1.brf has no form feeds, so a page was taken every 12 lines{why}."
    assert result.notes[0].startswith(said)
    assert len(result.notes) == (2 if page is None else 1)


def test_print_page_numbers_do_not_tell_the_depth_of_a_page(tmp_path: Path) -> None:
    """Numbers end line 1 too, as often as they end the last line."""
    pages = "".join(
        f"= body {at} {at} #{'abcdefgh'[at - 1]}\np|  ,{'m' * at}4\n" + "p|  ,all day4\n" * 10
        for at in range(1, 9)
    )
    Drawing(pages).write(tmp_path, trace=False)
    result = inspect(rewritten(tmp_path, b"\x0c", b""))
    assert (result.cells, result.lines, result.pages) == (40, 12, 8)
    assert failed(result) == {"V07"}


def test_guide_words_below_empty_lines_are_no_text(tmp_path: Path) -> None:
    """21.3: entries end above the last line, where only guide words and the number stand."""
    entries = "ix:1/1|ants1 #c\nix:1/1|bees1 #d\n"
    end = "= body 2 - -\nix:1/1|cats1 #e\n\nev|~,! ,5d\n"
    lines = "\n" * 9
    drawn = Drawing(f"= body 1 - -\n{entries}{lines}gw|ants-bees\n{end}")
    assert failed(drawn.inspect(tmp_path, trace=False)) == set()


def test_a_page_that_begins_with_a_blank_line_after_a_form_feed(tmp_path: Path) -> None:
    """Only where every form feed stands before a line end do the line ends belong to the pages
    before."""
    page = "  ,ALL DAY4\n" * 11 + " " * 38 + "#{}"
    (tmp_path / "a.brf").write_text(f"{page.format('A')}\f\n{page.format('B')}", "ascii")
    (tmp_path / "b.brf").write_text(
        f"{page.format('A')}\f\n{page.format('B')[12:]}\f{page.format('C')}", "ascii"
    )
    assert failed(inspect(tmp_path / "a.brf")) == {"V07"}
    result = inspect(tmp_path / "b.brf")
    assert (result.lines, failed(result)) == (12, {"V07"})


def test_files_filled_to_the_width_are_even(tmp_path: Path) -> None:
    """1.1: blank lines and lines full of text too; short pages are no lines of the file."""
    full = "M" * 40 + "\r\n" + " " * 40 + "\r\n" + "  ,ALL DAY4".ljust(40) + "\r\n"
    page = full + " " * 38 + "#{}\r\n\f"
    (tmp_path / "a.brf").write_text(page.format("A") + page.format("B"), "ascii", newline="")
    assert inspect(tmp_path / "a.brf", (40, 4)).state["G06"] == "passed"
    (tmp_path / "a.brf").write_text(page.format("A") + page.format("B").replace(" " * 29, ""))
    assert inspect(tmp_path / "a.brf", (40, 4)).state["G06"] == "failed"


def test_a_file_without_form_feeds_and_page_numbers_is_cut_at_the_usual_depth(
    tmp_path: Path,
) -> None:
    (tmp_path / "a.brf").write_bytes(b"  ,ALL DAY4\n" * 80)
    result = inspect(tmp_path / "a.brf")
    assert result.pages == 4
    assert "every 25 lines, the usual depth" in result.notes[0]


def test_capital_names_and_an_end_of_file_mark(tmp_path: Path) -> None:
    """Files from elsewhere may be called .BRF and end in the old mark for the end of a file."""
    Drawing(*PAGES).write(tmp_path, trace=False)
    for file in sorted(tmp_path.glob("*.brf")):
        file.with_name(file.name.replace("drawn.v", "BOOK").replace(".brf", ".BRF")).write_bytes(
            file.read_bytes() + b"\x1a"
        )
        file.unlink()
    assert failed(inspect(tmp_path)) == set()


def test_what_cannot_be_read_says_so(tmp_path: Path) -> None:
    with pytest.raises(SourceError, match="holds no braille files"):
        inspect(tmp_path)
    with pytest.raises(SourceError, match="cannot be read"):
        inspect(tmp_path / "none.brf")
    (tmp_path / "blank.brf").write_bytes(b"\r\n\x0c")
    with pytest.raises(SourceError, match="is empty"):
        inspect(tmp_path / "blank.brf")
    (tmp_path / "picture.brf").write_bytes(b"PK\x03\x04rest")
    with pytest.raises(SourceError, match="not a braille file"):
        inspect(tmp_path / "picture.brf")


def test_a_trace_that_does_not_fit(tmp_path: Path) -> None:
    folder = Drawing(*PAGES).write(tmp_path)
    trace = folder / "trace.jsonl"
    lines = trace.read_text("utf-8").splitlines(keepends=True)
    trace.write_text("".join(lines[:-5]), "utf-8")
    with pytest.raises(SourceError, match="does not tell of volume 2, page 2 in full"):
        inspect(folder)
    trace.write_text(lines[0].replace('"series"', '"serial"'), "utf-8")
    with pytest.raises(SourceError, match="page 1 that cannot be understood: 'series'"):
        inspect(folder)
    trace.write_text("not json\n", "utf-8")
    with pytest.raises(SourceError, match=r"trace\.jsonl cannot be read"):
        inspect(folder)


def test_files_changed_by_hand_are_named(tmp_path: Path) -> None:
    folder = Drawing(*PAGES).write(tmp_path)
    file = folder / "drawn.v1.brf"
    file.write_bytes(file.read_bytes().replace(b",! BOAT C4", b",! BOAT W5T"))
    assert "first in volume 1, page 4, line 2" in inspect(folder).notes[0]


# ------------------------------------------------------------------ editions


@pytest.mark.parametrize("name", ["river-school.epub", "permit-form.docx"])
def test_from_memory_and_from_files_alike(name: str, tmp_path: Path) -> None:
    edition = convert(ROOT / "fixtures" / name, code="ueb-uncontracted")
    folder = edition.write(tmp_path, ["brf", "trace"])
    memory, files = inspect_edition(edition), inspect(folder)
    source = {name for name, state in files.state.items() if state == "needs source"}
    assert memory["failures"] == [
        failure
        for failure in files.summary()["failures"]
        if failure["id"] not in source  # type: ignore[attr-defined]
    ]
    assert memory["total"] == 197
    assert memory["failed"] == files.counts["failed"]


def test_failures_become_findings() -> None:
    edition = river_school()
    findings = Findings()
    summary = inspect_edition(edition, findings)
    kinds = {finding.kind for finding in findings.all()}
    assert summary["failed"] == len(findings.all())
    assert kinds == {"check.failed-error", "check.failed-advice"}
    messages = [finding.message for finding in findings.all()]
    assert any("braille page 2, line 1: expected print page 13" in text for text in messages)


def test_a_print_page_that_is_shown_nowhere() -> None:
    """P07: every print page of the source is in the braille."""
    edition = river_school()
    assert "P07" not in [row["id"] for row in inspect_edition(edition)["failures"]]  # type: ignore[attr-defined]
    edition.document = _with_page(edition.document, "14")
    assert "P07" in [row["id"] for row in inspect_edition(edition)["failures"]]  # type: ignore[attr-defined]
    findings = Findings()
    findings.add("layout.print-page-empty", None, page="14")
    rows = inspect_edition(edition, findings)["failures"]
    assert "P07" not in [row["id"] for row in rows]  # type: ignore[attr-defined]


def test_print_pages_without_text_that_are_told_together() -> None:
    """P07 (Braille Formats 2016, 1.11): those told as a range are all known."""
    edition = river_school()
    for label in ("14", "15", "16", "17"):
        edition.document = _with_page(edition.document, label)
    findings = Findings()
    findings.add("layout.print-page-empty", None, page="14-16", first="14", last="16")
    rows = inspect_edition(edition, findings)["failures"]
    found = [row["expected"] for row in rows if row["id"] == "P07"]  # type: ignore[attr-defined]
    assert found == ["print page 17 shown"]


def test_continuation_letters_after_the_seven_hundredth() -> None:
    """P04 (Braille Formats 2016, 1.11): three letters after zz, as two after z."""
    assert split_number("aab#a") == ("aab", "#a")
    assert split_number("aabxii", "xii") == ("aab", "xii")
    assert continuation(26 + 26 * 26 + 1) == "aaa"


def _with_page(document, label: str):  # type: ignore[no-untyped-def]
    from dataclasses import replace

    return replace(document, print_pages=(*document.print_pages, label))


def test_a_house_convention_gets_advice_only(tmp_path: Path) -> None:
    folder = Drawing(*broken(PAGES, "= body 3 ", "= body 7 ")).write(tmp_path)
    assert inspect(folder).errors
    recipe = folder / "recipe.json"
    recipe.write_text(recipe.read_text().replace("bf2016", "house.toml"))
    result = inspect(folder)
    assert result.errors == []
    assert {"B04", "B07"} <= failed(result)
    assert "house.toml" in result.notes[0]


def test_inspecting_loads_no_code_of_the_formatter(tmp_path: Path) -> None:
    """In a process of its own: only the types of a finished page, which the writers share, are
    loaded from the room of the formatter."""
    folder = Drawing(*PAGES).write(tmp_path)
    told = (
        "import sys; from pathlib import Path; from convert.check import inspect, edition; "
        f"inspect(Path({str(folder)!r})); "
        "print(*(name for name in sys.modules if name.startswith('convert.layout.')))"
    )
    done = subprocess.run([sys.executable, "-c", told], capture_output=True, text=True, check=True)
    assert set(done.stdout.split()) <= {"convert.layout.book", "convert.layout.items"}


def test_two_thousand_pages_in_a_moment() -> None:
    """A long book: 2,000 pages of paragraphs, a heading and a page change on each."""
    pages = [_plain_page(at) for at in range(1, 2001)]
    book = Book(40, 25, [pages], traced=True)
    start = time.process_time()
    result = inspect_book(finish(book))
    assert time.process_time() - start < 10  # a third of a second on an idle machine
    assert result.pages == 2000
    assert {"G05", "P04"} & failed(result) == set()


def _plain_page(at: int) -> Page:
    """A page of 24 lines: a heading, then paragraphs of three lines."""
    number = "#" + str(at).translate(str.maketrans("1234567890", "abcdefghij"))
    address, words = f"c.xhtml!/4/2/{at}", " " * 15 + ",! ,ri"
    blank = Line("blank", None, 0, 0, "first", "", "", str(at))
    lines = [Line("h-center", address, 1, 1, "first", "centred-heading", words, str(at)), blank]
    for n in range(22):
        part = "runover" if n % 3 else "first"
        cells = ("" if n % 3 else "  ") + "all day1 all day1 all day"
        element = f"c.xhtml!/4/2/{at}/{n - n % 3}"
        lines.append(Line("para", element, 0, 0, part, "paragraph", cells, str(at)))
    lines.append(blank)
    rows = [line.cells for line in lines]
    rows[0] = rows[0].ljust(40 - len(number)) + number
    rows[-1] = number.rjust(40)
    page = Page(1, at, rows, 25, "body", str(at), number, "", number)
    page.text = [line.cells for line in lines]
    page.lines = lines
    page.print_page = str(at)
    return page


def test_names_in_the_table_are_those_of_the_standard() -> None:
    assert all(re.fullmatch(r"[A-Z][0-9]{2}", name) for name in checks())
