"""What changed since the run before: the pages named are exactly the pages that differ."""

from __future__ import annotations

import csv
import json
import random
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lxml import html

from convert.changes import (
    CHANGED,
    GONE,
    NEW,
    RENUMBERED,
    Sheet,
    anchored,
    common,
    compare_findings,
    compare_pages,
)
from convert.output import write_edition
from convert.pipeline import convert_source, settings_from
from convert.writers.changes_report import FILES, compare_editions

from ..readers.make import epub
from .make import river_maker, river_report, river_school
from .test_report import PAYLOADS, words

FORMATS = ("brf", "report", "trace")


# ---------------------------------------------------------------- what two rows share


def longest(old: str, new: str) -> int:
    """The length of a longest common subsequence, by the table of all prefixes."""
    above = [0] * (len(new) + 1)
    for mine in old:
        row = [0]
        for at, yours in enumerate(new):
            row.append(above[at] + 1 if mine == yours else max(above[at + 1], row[at]))
        above = row
    return above[-1]


@given(st.text("abcd", max_size=14), st.text("abcd", max_size=14))
def test_common_is_a_longest_common_subsequence(old: str, new: str) -> None:
    pairs = common(old, new)
    assert all(old[i] == new[j] for i, j in pairs)
    assert all(a < c and b < d for (a, b), (c, d) in pairwise(pairs))
    assert len(pairs) == longest(old, new)


@given(st.text("abcdefgh", max_size=20), st.text("abcdefgh", max_size=20))
def test_anchored_pairs_are_equal_and_in_order(old: str, new: str) -> None:
    pairs = anchored(old, new)
    assert all(old[i] == new[j] for i, j in pairs)
    assert all(a < c and b < d for (a, b), (c, d) in pairwise(pairs))


# ---------------------------------------------------------------- pages


def sheets(*pages: str, start: int = 1) -> list[Sheet]:
    """Pages of one volume: a line for each word, the page number at the foot."""
    return [
        Sheet(1, str(number), tuple(page.split()), "", f"\u2800\u2800{number}", lambda line: "")
        for number, page in enumerate(pages, start)
    ]


def states(old: list[Sheet], new: list[Sheet]) -> list[tuple[str, str | None, str | None]]:
    return [
        (page.state, page.place and page.place[1], page.was and page.was[1])
        for page in compare_pages(old, new).pages
    ]


def test_an_inserted_page_leaves_the_rest_only_renumbered() -> None:
    old, new = sheets("a b", "c d", "e f"), sheets("a b", "x y", "c d", "e f")
    assert states(old, new) == [(NEW, "2", None), (RENUMBERED, "3", "2"), (RENUMBERED, "4", "3")]


def test_a_page_that_went() -> None:
    old, new = sheets("a b", "c d", "e f"), sheets("a b", "e f")
    assert states(old, new) == [(GONE, None, "2"), (RENUMBERED, "2", "3")]


def test_a_reworded_line() -> None:
    (page,) = compare_pages(sheets("a b", "c d"), sheets("a b", "c x")).pages
    assert (page.state, page.place, page.was) == (CHANGED, (1, "2"), (1, "2"))
    assert [(line.state, line.line, line.cells) for line in page.lines] == [
        (GONE, 2, "d"), (NEW, 2, "x"),
    ]  # fmt: skip


def test_an_inserted_line_moves_the_lines_after_it() -> None:
    made = compare_pages(sheets("a b", "c d"), sheets("a x", "b c", "d"))
    first, second, third = made.pages
    assert [(page.state, page.was) for page in made.pages] == [
        (CHANGED, (1, "1")), (CHANGED, (1, "2")), (NEW, None),
    ]  # fmt: skip
    assert (first.count(NEW), second.count(NEW), third.count(NEW)) == (1, 0, 0)


def test_the_place_of_a_page_in_another_volume_counts_as_its_number() -> None:
    old = sheets("a", "b")
    moved = [old[0], Sheet(2, "1", ("b",), "", "\u28001", lambda line: "")]
    assert states(old, moved) == [(RENUMBERED, "1", "2")]


def test_another_running_head_or_print_page_changes_a_page() -> None:
    (old,) = sheets("a b")
    new = Sheet(1, "1", old.lines, "b12", old.foot, lambda line: "")
    assert states([old], [new]) == [(CHANGED, "1", "1")]


# ---------------------------------------------------------------- whole books


def book(seed: int) -> list[str]:
    """Paragraphs of a generated book, no two alike."""
    chance = random.Random(seed)
    vocabulary = [
        "".join(chance.choice("bcdfgklmnprst") + chance.choice("aeiou") for _ in range(size))
        for size in (1, 2, 2, 3, 3, 4)
        for _ in range(60)
    ]
    return [
        f"{' '.join(chance.choices(vocabulary, k=chance.randint(20, 90)))}.".capitalize()
        for _ in range(90)
    ]


def write(folder: Path, paragraphs: list[str]) -> Path:
    """The book as an EPUB with a chapter for every thirty paragraphs, converted."""
    chapters = [paragraphs[at : at + 30] for at in range(0, len(paragraphs), 30)]
    bodies = [
        f"<h1>Part {number}</h1>" + "".join(f"<p>{words}</p>" for words in chapter)
        for number, chapter in enumerate(chapters, 1)
    ]
    folder.mkdir(exist_ok=True)
    settings = settings_from(code="ueb-uncontracted", front_pages=False, write=FORMATS)
    edition = convert_source(epub(folder, *bodies), settings)
    return write_edition(edition, folder / "out", FORMATS)


def brf_pages(folder: Path) -> dict[tuple[int, str], tuple[str, ...]]:
    """The pages of the braille files by volume and number, without the number's own word."""
    pages: dict[tuple[int, str], tuple[str, ...]] = {}
    for volume, path in enumerate(sorted(folder.glob("*.brf")), 1):
        for page in path.read_bytes().decode("ascii").split("\f")[:-1]:
            lines = page.split("\r\n")
            last = max(at for at, line in enumerate(lines) if line)
            rest, _, number = lines[last].rpartition(" ")
            label = "".join(str("JABCDEFGHI".index(sign)) for sign in number[1:])
            pages[volume, label] = (*lines[:last], rest.rstrip())
    return pages


def edits(paragraphs: list[str]) -> Iterator[tuple[str, list[str]]]:
    """Insert, delete, reword, near the beginning, in the middle and at the end."""
    for at in (1, 44, 88):
        yield f"insert {at}", [*paragraphs[:at], "A wholly new paragraph.", *paragraphs[at:]]
        yield f"delete {at}", paragraphs[:at] + paragraphs[at + 1 :]
        word = paragraphs[at].split()[5]
        reworded = paragraphs[at].replace(word, "otherwise", 1)
        yield f"reword {at}", [*paragraphs[:at], reworded, *paragraphs[at + 1 :]]


def test_pages_changed_are_the_true_set(tmp_path: Path) -> None:
    """The braille files themselves say which pages have other cells: the same set."""
    paragraphs = book(7)
    old = brf_pages(write(tmp_path, paragraphs))
    assert len(set(old.values())) == len(old) > 30
    for what, edited in edits(paragraphs):
        write(tmp_path, paragraphs)
        folder = write(tmp_path, edited)
        new, made = brf_pages(folder), json.loads((folder / "changes.json").read_text("utf-8"))
        by_state: dict[str, set[tuple[int, str]]] = {}
        for row in made["pages"]:
            place = row["place"] or row["was"]
            by_state.setdefault(row["state"], set()).add((place["volume"], place["page"]))
        again = by_state.get(CHANGED, set()) | by_state.get(NEW, set())
        assert again == {key for key, page in new.items() if page not in old.values()}, what
        assert by_state.get(RENUMBERED, set()) == {
            key for key, page in new.items() if page in old.values() and old.get(key) != page
        }, what
        assert made["same"] == sum(old.get(key) == page for key, page in new.items()), what
        assert again, what


# ---------------------------------------------------------------- the four files


def run_twice(folder: Path) -> Path:
    write_edition(river_report(), folder, FORMATS)
    changed = river_maker(10)
    edition = changed.edition()
    edition.recipe = {"source": {"name": edition.source, "sha256": "2"}, "options": {"code": "x"}}
    return write_edition(edition, folder, FORMATS)


def test_a_first_run_says_nothing_of_changes(tmp_path: Path) -> None:
    folder = write_edition(river_school(), tmp_path, ("brf", "report", "proof", "trace"))
    assert not {path.name for path in folder.iterdir()} & set(FILES)
    for name in ("report.html", "report.txt", "proof.html"):
        assert "changes." not in (folder / name).read_text("utf-8")
    first = {path.name: path.read_bytes() for path in folder.iterdir()}
    write_edition(river_school(), tmp_path, ("brf", "report", "proof", "trace"))
    assert {path.name: path.read_bytes() for path in folder.iterdir()} == first


def test_a_second_run_links_to_its_changes(tmp_path: Path) -> None:
    folder = run_twice(tmp_path)
    for name in ("report.html", "report.txt"):
        assert "changes." in (folder / name).read_text("utf-8")


def test_without_an_earlier_run_nothing_is_compared(tmp_path: Path) -> None:
    made = compare_editions(river_school(), tmp_path / "nothing")
    assert made.verdict == "There was no earlier run here, so nothing was compared."


def test_a_run_of_the_same_recipe_leaves_every_byte(tmp_path: Path) -> None:
    folder = run_twice(tmp_path)
    before = {path.name: path.read_bytes() for path in folder.iterdir()}
    edition = river_maker(10).edition()
    edition.recipe = {"source": {"name": edition.source, "sha256": "2"}, "options": {"code": "x"}}
    write_edition(edition, tmp_path, FORMATS)
    assert {path.name: path.read_bytes() for path in folder.iterdir()} == before
    assert json.loads(before["changes.json"])["compared"] is True


def test_the_same_changes_in_every_form(tmp_path: Path) -> None:
    folder = run_twice(tmp_path)
    made = json.loads((folder / "changes.json").read_text("utf-8"))
    text = " ".join((folder / "changes.txt").read_text("utf-8").split())
    page = words(html.document_fromstring((folder / "changes.html").read_text("utf-8")))
    rows = list(csv.DictReader((folder / "changes.csv").read_text("utf-8").splitlines()))
    assert made["verdict"] in text
    assert made["verdict"] in page
    assert {row["state"] for row in made["pages"]} == {CHANGED}
    lines = [line for row in made["pages"] for line in row["lines"]]
    assert lines
    for line in lines:
        for form in (text, page):
            assert " ".join(line["text"].split()) in form
        assert line["text"] in [row["text"] for row in rows if row["what"] == "line"]
    gone = made["findings"]["gone"]
    assert len(gone) == 5
    for row in gone:
        assert row["message"] in text
        assert row["message"] in page
        assert [r["message"] for r in rows if r["id"] == row["id"]] == [row["message"]]


def test_what_the_runs_were_made_with(tmp_path: Path) -> None:
    for code, digest in (("ueb", "1"), ("ueb-uncontracted", "2")):
        edition = river_school()
        source = {"name": edition.source, "sha256": digest}
        edition.recipe = {"source": source, "options": {"code": code}}
        folder = write_edition(edition, tmp_path, FORMATS)
    made = json.loads((folder / "changes.json").read_text("utf-8"))
    assert made["made_with"] == [
        "The source was edited.", "The option code was ueb and is ueb-uncontracted.",
    ]  # fmt: skip
    assert made["verdict"] == "No braille page changed since the run before; 2 are the same."


@pytest.mark.parametrize("trace", [b"", b"[]\n", b"{}\n", b"\xff\n", None])
def test_an_earlier_trace_that_cannot_be_read_stops_nothing(
    tmp_path: Path, trace: bytes | None
) -> None:
    folder = write_edition(river_school(), tmp_path, FORMATS)
    if trace is None:
        (folder / "trace.jsonl").unlink()
    else:
        (folder / "trace.jsonl").write_bytes(trace)
    edition = river_school()
    edition.recipe = {"options": {"code": "x"}}
    write_edition(edition, tmp_path, FORMATS)
    made = json.loads((folder / "changes.json").read_text("utf-8"))
    assert made["compared"] is (trace == b"")


def test_findings_are_compared_by_id() -> None:
    def row(name: str, severity: str = "look") -> dict[str, object]:
        return {"id": name, "severity": severity}

    made = compare_findings([row("a"), row("b"), row("c")], [row("b"), row("c", "told"), row("d")])
    assert [row["id"] for row in made.new] == ["d"]
    assert [row["id"] for row in made.gone] == ["a"]
    assert [row["id"] for row in made.settled] == ["c"]


@pytest.mark.parametrize("payload", PAYLOADS)
def test_print_cannot_become_markup(tmp_path: Path, payload: str) -> None:
    write_edition(river_school(), tmp_path, FORMATS)
    maker = river_maker()
    maker.add(f"before {payload} after")
    edition = maker.edition()
    edition.recipe = {"options": {"code": payload}}
    folder = write_edition(edition, tmp_path, FORMATS)
    tree = html.document_fromstring((folder / "changes.html").read_text("utf-8"))
    assert not tree.xpath("//script|//img|//*[@onerror or @onmouseover]")
    assert payload.split()[0] in words(tree)
