"""Changes marked in the proof: the same set as in the files that tell what changed."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner
from lxml import html

from convert.batch import run_unit
from convert.changes import CHANGED, GONE, NEW, LineChange, PageChange
from convert.cli import group
from convert.edition import Edition
from convert.output import write_edition
from convert.pipeline import settings_from
from convert.writers.proof import line_id
from convert.writers.proof_marks import line_states

from .make import river_maker, river_report
from .test_report import words

FORMATS = ("report", "proof", "trace")


def marking(edition: Edition) -> Edition:
    """An edition whose proof marks changes."""
    settings = replace(edition.settings, mark_changes=True)
    return replace(edition, settings=settings, recipe={"options": {"mark_changes": True}})


def reworded(volume_pages: int = 80) -> Edition:
    """The chapter with a paragraph more at its end and one line reworded in its middle."""
    maker = river_maker(15)
    maker.add("A ferry crosses at noon.")
    edition = maker.edition(volume_pages=volume_pages)
    pages = edition.volumes[0].pages
    pages[0].rows[4], pages[0].rows[8] = pages[0].rows[8], pages[0].rows[4]
    return marking(edition)


def tree(path: Path) -> html.HtmlElement:
    return html.document_fromstring(path.read_text("utf-8"))


def proofs(folder: Path) -> list[html.HtmlElement]:
    return [tree(path) for path in sorted(folder.glob("proof*.html"))]


@pytest.mark.parametrize("volume_pages", [80, 2])
def test_marks_are_the_changes_told(tmp_path: Path, volume_pages: int) -> None:
    write_edition(river_report(12, volume_pages), tmp_path, FORMATS)
    folder = write_edition(reworded(volume_pages), tmp_path, FORMATS)
    told = json.loads((folder / "changes.json").read_text("utf-8"))
    pages = [page for page in told["pages"] if page["state"] in (CHANGED, NEW)]
    want_pages = {line_id(*page["place"].values(), 0) for page in pages}
    want = {
        line_id(*page["place"].values(), line["line"])
        for page in pages
        for line in page["lines"]
        if line["state"] == NEW
    }
    found = proofs(folder)
    marked = {li.get("id") for page in found for li in page.xpath("//li[p[@class='chg']]")}
    assert marked == want != set()
    heads = {s.get("id") for page in found for s in page.xpath("//section[p[@class='chg']]")}
    assert heads == want_pages
    said = {a.get("href").partition("#")[2] for a in listed(found[0])}
    assert said == want_pages


def listed(page: html.HtmlElement) -> list[html.HtmlElement]:
    return page.xpath("//nav[@aria-label='Changed pages']//a")


def test_the_words_come_before_the_line_and_a_border_stands_beside_it(tmp_path: Path) -> None:
    write_edition(river_report(15), tmp_path, FORMATS)
    folder = write_edition(reworded(), tmp_path, FORMATS)
    page = tree(folder / "proof.html")
    lines = page.xpath("//li[@class='c']")
    assert all(line[0].get("class") == "chg" and line[1].get("class") == "s" for line in lines)
    starts = {words(line[0].find("strong")) for line in lines}
    assert starts == {"Changed line.", "New line."}
    heads = [words(p) for p in page.xpath("//section/p[@class='chg']")]
    assert heads[0].startswith("Changed page since the edition before: ")
    assert ".page li.c { border-left: .4rem solid" in (folder / "proof.html").read_text("utf-8")


@pytest.mark.parametrize("volume_pages", [80, 2])
def test_next_and_previous_lead_through_every_change(tmp_path: Path, volume_pages: int) -> None:
    """Plain links within and between the files; the way back is the way there."""
    write_edition(river_report(12, volume_pages), tmp_path, FORMATS)
    folder = write_edition(reworded(volume_pages), tmp_path, FORMATS)
    links: dict[str, dict[str, str]] = {}
    for path in sorted(folder.glob("proof*.html")):
        for a in tree(path).xpath("//p[@class='chg']/a"):
            here = f"{path.name}#{a.xpath('ancestor::*[@id][1]')[0].get('id')}"
            file, _, to = a.get("href").partition("#")
            links.setdefault(here, {})[(a.text or "").split()[0]] = f"{file or path.name}#{to}"
    (at,) = [stop for stop, rows in links.items() if "Previous" not in rows]
    walked = [at]
    while "Next" in links[at]:
        assert links[links[at]["Next"]]["Previous"] == at
        at = links[at]["Next"]
        walked.append(at)
    assert sorted(walked) == sorted(links)
    assert len(walked) >= 2


def test_a_line_in_the_place_of_one_gone_is_changed() -> None:
    lines = (
        LineChange(GONE, 3, "a", ""),
        LineChange(NEW, 3, "b", ""),
        LineChange(NEW, 4, "c", ""),
    )
    page = PageChange(CHANGED, (1, "1"), (1, "1"), lines)
    assert line_states(page) == {3: CHANGED, 4: NEW}
    assert line_states(replace(page, state=NEW)) == {3: NEW, 4: NEW}


def test_a_page_that_is_gone_is_listed(tmp_path: Path) -> None:
    write_edition(river_report(15), tmp_path, FORMATS)
    folder = write_edition(marking(river_report(9)), tmp_path, FORMATS)
    told = json.loads((folder / "changes.json").read_text("utf-8"))
    gone = [page["was"]["page"] for page in told["pages"] if page["state"] == GONE]
    said = words(tree(folder / "proof.html").xpath("//nav[@aria-label='Changed pages']")[0])
    assert gone
    assert all(f"Gone: was volume 1, braille page {page}" in said for page in gone)


def bytes_of(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in sorted(folder.iterdir())}


def test_same_earlier_trace_same_bytes(tmp_path: Path) -> None:
    made = []
    for name in ("one", "two"):
        write_edition(river_report(12), tmp_path / name, FORMATS)
        made.append(bytes_of(write_edition(reworded(), tmp_path / name, FORMATS)))
    assert made[0] == made[1]
    record = json.loads(made[0]["recipe.json"])
    assert len(record["earlier"]["trace_sha256"]) == 64


def test_another_earlier_trace_is_another_recipe(tmp_path: Path) -> None:
    digests = set()
    for number in (9, 12):
        write_edition(river_report(number), tmp_path / str(number), FORMATS)
        folder = write_edition(reworded(), tmp_path / str(number), FORMATS)
        record = json.loads((folder / "recipe.json").read_text("utf-8"))
        report = json.loads((folder / "report.json").read_text("utf-8"))
        assert report["recipe"]["digest"] == record["digest"]
        digests.add(record["digest"])
    assert len(digests) == 2


def test_running_again_keeps_the_marks(tmp_path: Path) -> None:
    write_edition(river_report(12), tmp_path, FORMATS)
    first = bytes_of(write_edition(reworded(), tmp_path, FORMATS))
    assert bytes_of(write_edition(reworded(), tmp_path, FORMATS)) == first


def test_without_an_earlier_edition_the_proof_says_so(tmp_path: Path) -> None:
    page = tree(write_edition(reworded(), tmp_path, FORMATS) / "proof.html")
    assert "no earlier edition stood in this folder" in words(page)
    assert not page.xpath("//*[@class='chg' or @class='c']")


def test_an_earlier_edition_without_a_trace_is_told(tmp_path: Path) -> None:
    write_edition(river_report(12), tmp_path, ("report", "proof"))
    page = tree(write_edition(reworded(), tmp_path, FORMATS) / "proof.html")
    assert "left no trace (trace.jsonl) that can be read" in words(page)


def test_nothing_is_marked_unless_asked(tmp_path: Path) -> None:
    write_edition(river_report(12), tmp_path, FORMATS)
    edition = replace(river_report(15), recipe={"options": {}})
    folder = write_edition(edition, tmp_path, FORMATS)
    assert not tree(folder / "proof.html").xpath("//*[@id='changes' or @class='chg']")
    assert "earlier" not in json.loads((folder / "recipe.json").read_text("utf-8"))


def test_from_the_command_line_and_in_a_batch(tmp_path: Path, fixtures: Path) -> None:
    source, out = fixtures / "permit-form.docx", tmp_path / "out"
    given = ["run", str(source), "--out", str(out), "--code", "ueb-uncontracted", "--quiet"]
    for more in ([], ["--mark-changes", "--page", "32x20"]):
        assert CliRunner().invoke(group, [*given, *more]).exit_code in (0, 3)
    page = tree(out / "permit-form" / "proof.html")
    assert "Since the edition before: " in words(page.xpath("//h2[@id='changes']/..")[0])
    settings = settings_from(code="ueb-uncontracted", mark_changes=True, cells=32, lines=20)
    assert run_unit(str(source), "permit-form", str(out), settings)["kept"] is True
