"""``cellset decide``: offers told, effects shown before anything is written, the job file kept."""

from __future__ import annotations

import json
import shutil
import tomllib
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from convert.cli import group
from convert.deciding import edition_folder, fill
from convert.decisions.stanza import append, stanza
from convert.errors import JobError, SourceError
from tests.readers.make import epub
from tests.readers.make_docx import docx, p, r

BODY = (
    "<h1>Sea</h1><p>Press \u2318 now.</p><p>Salt is white.</p><p>NATO met.</p>"
    '<figure><img src="map.png"/><figcaption>Map 1</figcaption></figure>'
)
HEAD = '# mine\ncode = "ueb-uncontracted"\npage = "30x12"  # small\nfront-pages = false\n'


def cellset(*words: object) -> Result:
    result = CliRunner().invoke(group, [str(word) for word in words])
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        raise result.exception
    return result


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """A folder with a source, its job file, and its edition in ``out/tides``."""
    (tmp_path / "tides.job.toml").write_text(HEAD, "utf-8")
    convert(epub(tmp_path, BODY))
    return tmp_path


def convert(source: Path) -> Result:
    return cellset("run", source, "--out", source.parent / "out", "--write", "brf,report,trace")


def ids(folder: Path) -> dict[str, str]:
    """The ids of the findings that ``decide`` lists, by kind."""
    told = json.loads(cellset("decide", folder / "out" / "tides", "--json").output)
    return {row["kind"]: row["id"] for row in told["findings"]}


def heard(output: str) -> str:
    """Sentences on one line."""
    return " ".join(output.split())


def test_the_job_file_beside_the_source_is_used_and_told(book: Path) -> None:
    told = convert(book / "tides.epub").output
    assert "The job file tides.job.toml beside the source is used." in told


def test_findings_are_listed_with_their_offers(book: Path) -> None:
    lines = cellset("decide", book / "out" / "tides").output.splitlines()
    said = heard(" ".join(lines)).split(": ", 1)[1]
    assert said.startswith("settle before embossing, 3 offers. Braille has no sign")
    assert " Kind ueb.unknown-character. " in said
    assert max(map(len, lines)) < 80
    assert lines[-1].endswith("to decide. Give an id to hear its offers.")


def test_a_finding_tells_its_offers_and_writes_nothing(book: Path) -> None:
    told = cellset("decide", book / "out/tides", ids(book)["ueb.unknown-character"]).output
    assert "Offer 1: Write what it means in words. It writes:\n[[decision]]\n" in told
    assert "Offer 3: A person has looked at it and accepts it." in told
    assert (book / "tides.job.toml").read_text("utf-8") == HEAD


def test_an_offer_tells_what_it_changes_before_it_writes(book: Path) -> None:
    name = ids(book)["ueb.unknown-character"]
    words = ("decide", book / "out/tides", name[:6], "--offer", 1, "--set", "text=command")
    told = cellset(*words, "--lines").output.splitlines()
    assert told[0].startswith("Applied: print on “\u2318” in 1 place: text command")
    assert "Braille pages: 1 before, 1 after." in told
    assert "Pages that change: 1; only renumbered: 0." in told
    assert "After, line 3:   ,press command now4 Print: “Press command now.”." in told
    assert told[-1] == "Nothing was written. Add --yes to write it."
    assert (book / "tides.job.toml").read_text("utf-8") == HEAD


def test_a_decision_is_appended_and_lasts(book: Path) -> None:
    name = ids(book)["ueb.unknown-character"]
    told = cellset(
        "decide", book / "out/tides", name, "--offer", 1, "--set", "text=command", "--by", "AB",
        "--why", "the key", "--yes",
    ).output  # fmt: skip
    assert "1 decision written to" in told
    assert "line 6. To undo: cellset decide with --undo 6." in heard(told)
    text = (book / "tides.job.toml").read_text("utf-8")
    assert text.startswith(HEAD)
    (row,) = tomllib.loads(text)["decision"]
    assert (row["text"], row["by"], row["why"]) == ("command", "AB", "the key")
    assert "1 decision of the job file: 1 applied." in convert(book / "tides.epub").output
    assert "ueb.unknown-character" not in ids(book)
    shown = heard(cellset("decide", book / "out/tides", "--show").output)
    assert "Option page = 30x12, from tides.job.toml. " in shown
    assert "Applied: print on “\u2318” in 1 place: text command" in shown
    assert "By AB. Why: the key." in shown


def test_a_new_job_file_is_made_beside_the_source(tmp_path: Path) -> None:
    convert(epub(tmp_path, BODY))
    name = ids(tmp_path)["read.no-print-pages"]
    cellset(
        "decide", tmp_path / "out/tides", name, "--offer", 2, "--why", "a web page", "--yes"
    )  # fmt: skip
    text = (tmp_path / "tides.job.toml").read_text("utf-8")
    assert text.startswith("# Options and decisions for tides.epub.")
    convert(tmp_path / "tides.epub")
    assert "read.no-print-pages" not in ids(tmp_path)


def test_all_findings_of_a_kind_at_once(tmp_path: Path) -> None:
    picture = '<figure><img src="{}.png"/><figcaption>Map</figcaption></figure>'
    convert(epub(tmp_path, "<p>See:</p>" + "".join(picture.format(n) for n in "abc")))
    folder = tmp_path / "out/tides"
    told = cellset(
        "decide", folder, "--all", "read.picture-without-alt", "--offer", 2, "--why",
        "ornaments", "--yes",
    ).output  # fmt: skip
    assert "3 decisions written to" in told
    convert(tmp_path / "tides.epub")
    assert not {"read.picture-without-alt", "layout.picture-undescribed"} & set(ids(tmp_path))


def test_decisions_of_an_earlier_edition_are_taken_where_they_have_a_place(book: Path) -> None:
    other = book / "first.job.toml"
    other.write_text(
        '[[decision]]\nat = "OEBPS/old.xhtml!/4/8/1:0"\nexpect = "Salt is white."\n'
        'near = ["Press \u2318 now.", "NATO met. Map"]\ndo = "omit"\nwhy = "x"\n'
        '[[decision]]\nexpect = "Pepper"\neverywhere = true\ndo = "language"\nlang = "fr"\n'
        '[[decision]]\nexpect = "NATO"\neverywhere = true\ndo = "read"\nas = "word"\n',
        "utf-8",
    )
    told = heard(cellset("decide", book / "out/tides", "--from", other, "--yes").output)
    assert (
        "Not taken: language, first.job.toml, line 7, “Pepper”: its print stands nowhere." in told
    )
    assert "2 of 3 decisions have a place." in told
    rows = tomllib.loads((book / "tides.job.toml").read_text("utf-8"))["decision"]
    assert rows[0]["at"] == "OEBPS/c1.xhtml!/4/6/1:0"
    again = cellset("decide", book / "out/tides", "--from", other, "--yes").output
    assert "it is here already" in again


@pytest.mark.parametrize(
    "words, says",
    [
        (["zzz"], "has no finding zzz, or a decision has settled it. Run cellset decide with"),
        (["--offer", "1"], "--offer needs the id of a FINDING, or --all KIND."),
        (["--all", "read.no-print-pages", "--offer", "2", "--yes"], 'Add --why "the reason'),
        (["--all", "read.no-print-pages", "--offer", "9"], "no offer 9"),
        (["--all", "read.ruby"], "no finding of the kind read.ruby"),
        (["--set", "text", "--show"], "--set needs NAME=VALUE"),
    ],
)
def test_what_cannot_be_decided_is_one_sentence(book: Path, words: list[str], says: str) -> None:
    result = CliRunner().invoke(group, ["decide", str(book / "out/tides"), *words])
    assert says in result.output + str(result.exception)


def test_what_an_offer_leaves_open_is_asked_for_by_its_option() -> None:
    text = stanza({"expect": "Salz", "do": "language", "lang": "", "why": "", "by": ""}, "x")
    with pytest.raises(JobError, match="leaves “lang” to you"):
        fill(text, {})
    assert 'lang       = "de"' in fill(text, {"lang": "de"})


def test_the_folder_of_an_edition_is_found_or_named(book: Path) -> None:
    assert cellset("decide", book / "out").output == cellset("decide", book / "out/tides").output
    for folder, says in ((book / "nowhere", "There is no folder"), (book / "tides.epub", "a file")):
        with pytest.raises(SourceError, match=says):
            edition_folder(folder)
    shutil.copytree(book / "out/tides", book / "out/tides-2")
    with pytest.raises(JobError, match=r"several editions: .*tides.*tides-2\. Name the folder"):
        edition_folder(book / "out")


def test_an_acceptance_without_its_finding_is_not_taken_over(book: Path) -> None:
    other = book / "first.job.toml"
    other.write_text(
        '[[decision]]\ndo = "accept"\nkind = "docx.no-alt"\nid = "0123456789ab"\nwhy = "x"\n',
        "utf-8",
    )
    told = heard(cellset("decide", book / "out/tides", "--from", other, "--yes").output)
    assert "Not taken: accept, first.job.toml, line 1: there is no such finding here." in told


def test_a_source_that_changed_is_told(book: Path) -> None:
    epub(book, BODY.replace("Salt", "Sand"))
    told = cellset("decide", book / "out/tides", "--show").output
    assert told.startswith("The source has changed since this edition was written")


def test_job_files_beside_the_documents_of_a_batch(book: Path) -> None:
    house = book / "house.toml"
    house.write_text('page = "40x12"\nmath = "nemeth"\n', "utf-8")
    (book / "tides.job.toml").write_text(HEAD + '[[decision]]\nexpect = "x"\ndo = "z"\n', "utf-8")
    refused = cellset("batch", book / "tides.epub", "--job", house, "--out", book / "b")
    assert "there is no verb “z”" in refused.output
    assert refused.exit_code == 1
    (book / "tides.job.toml").write_text(HEAD, "utf-8")
    words = ("batch", book / "tides.epub", "--job", house, "--out", book / "b", "--workers", 1)
    told = cellset(*words).output
    assert "tides.epub: The job file tides.job.toml beside the source is used." in told
    recipe = (book / "b/tides/recipe.json").read_text("utf-8")
    assert '"cells": 30' in recipe
    assert '"math": "nemeth"' in recipe


def told_json(*words: object) -> dict[str, Any]:
    """What a command prints with --json."""
    found: dict[str, Any] = json.loads(cellset("decide", *words, "--json").output)
    return found


def test_everything_is_told_as_json_too(book: Path) -> None:
    folder = book / "out/tides"
    rows = told_json(folder)["findings"]
    assert [row["id"] for row in rows] == list(ids(book).values())
    name = ids(book)["ueb.unknown-character"]
    (one,) = told_json(folder, name)["findings"]
    assert [offer["offer"] for offer in one["offers"]] == [1, 2, 3]
    assert 'do         = "print"' in one["offers"][0]["writes"][0]
    words = (folder, name, "--offer", 1, "--set", "text=command")
    effect = told_json(*words)
    assert effect["written"] is False
    assert effect["pages"][0]["place"] == {"volume": 1, "page": "1"}
    assert effect["findings_open"]["after"] == effect["findings_open"]["before"] - 1
    assert told_json(*words, "--yes")["line"] == 6
    shown = told_json(folder, "--show")
    assert (shown["options"]["page"], shown["decisions"][0]["state"]) == ("30x12", "applied")


def test_one_place_of_a_finding_that_has_several(tmp_path: Path) -> None:
    convert(epub(tmp_path, "<p>He said 5 - 3 once. Then 9 - 4 was it.</p><p>End.</p>"))
    folder, name = tmp_path / "out/tides", ids(tmp_path)["suspect.minus"]
    told = heard(cellset("decide", folder, name).output)
    second = told.partition("Place 2: “")[2]
    assert second.index("9 - 4 was it.") < second.index("Volume 1, braille page 1, line 3. To")
    words = ("decide", folder, name, "--offer", 1, "--place")
    assert "1 decision written" in cellset(*words, 2, "--yes").output
    (row,) = tomllib.loads((tmp_path / "tides.job.toml").read_text("utf-8"))["decision"]
    assert row["at"].endswith(":25")
    assert "This offer is for 1 place, not for a place 3." in cellset(*words, 3).output


def test_several_of_one_kind_are_told_with_the_way_to_settle_them(tmp_path: Path) -> None:
    picture = '<figure><img src="{}.png"/><figcaption>Map</figcaption></figure>'
    convert(epub(tmp_path, "<p>See:</p>" + "".join(picture.format(n) for n in "abc")))
    told = cellset("decide", tmp_path / "out/tides").output
    assert "3 of one kind: to decide them at once, --all read.picture-without-alt.\n" in told


def test_an_offer_may_set_an_option_of_the_job_file(book: Path) -> None:
    source = epub(book, BODY, metadata="<dc:language>en</dc:language>")
    (book / "tides.job.toml").write_text(HEAD.replace("false", "true"), "utf-8")
    convert(source)
    name, folder = ids(book)["layout.no-title"], book / "out/tides"
    words = ("decide", folder, name, "--offer", 1)
    with pytest.raises(JobError, match="leaves “title” to you"):
        cellset(*words)
    told = heard(cellset(*words, "--set", "title=The Tides", "--yes").output)
    assert "The option title is set in" in told
    assert "To undo, delete its line there." in told
    assert tomllib.loads((book / "tides.job.toml").read_text("utf-8"))["title"] == "The Tides"
    convert(source)
    assert "layout.no-title" not in ids(book)


@pytest.mark.parametrize(
    "before, after",
    [
        ("", 'clean = ["+dashes"]\n'),
        ('clean = ["-dashes", "+primes"]\n', 'clean = ["+primes", "+dashes"]\n'),
        ("# mine\n[[decision]]\n", '# mine\nclean = ["+dashes"]\n\n[[decision]]\n'),
    ],
)
def test_options_are_put_before_the_tables(before: str, after: str) -> None:
    assert append(before, ['# why\nclean = ["+dashes"]\n']) == after


def test_an_option_over_several_lines_is_left_to_the_person() -> None:
    with pytest.raises(ValueError, match="2"):
        append('# x\nclean = [\n  "+primes",\n]\n', ['clean = ["+dashes"]\n'])


def test_a_decision_is_taken_out_again(book: Path) -> None:
    folder, name = book / "out/tides", ids(book)["ueb.unknown-character"]
    cellset("decide", folder, name, "--offer", 1, "--set", "text=command", "--yes")
    convert(book / "tides.epub")
    with pytest.raises(JobError, match=r"on line 3\. Decisions begin on these lines: 6\."):
        cellset("decide", folder, "--undo", 3)
    assert "Nothing was written." in cellset("decide", folder, "--undo", 6).output
    told = cellset("decide", folder, "--undo", 6, "--yes").output
    assert "Pages that change: 1; only renumbered: 0." in told
    assert (book / "tides.job.toml").read_text("utf-8").rstrip("\n") == HEAD.rstrip("\n")


def control(name: str) -> str:
    """A form control whose state is in a file of its own, which is not opened."""
    return (
        '<w:r><w:object><v:shape><v:imagedata r:id="i1"/></v:shape>'
        f'<w:control r:id="i2" w:name="{name}"/></w:object></w:r>'
    )


def objects(folder: Path) -> dict[str, str]:
    told = json.loads(cellset("decide", folder, "--json").output)["findings"]
    return {row["message"]: row["id"] for row in told if row["kind"] == "docx.object"}


def test_a_note_about_one_of_two_controls_leaves_the_other_open(tmp_path: Path) -> None:
    """Both stand in one paragraph without print of their own; a later edit elsewhere changes
    nothing of that."""
    line = p(r("I agree to the terms of this permit: ") + control("Tick1") + control("Tick2"))
    source = docx(tmp_path, line)
    folder = tmp_path / "out" / source.stem
    convert(source)
    tick1, tick2 = sorted(objects(folder))
    words = ("--offer", 1, "--set", "text=A box to tick.", "--yes")
    cellset("decide", folder, objects(folder)[tick1], *words)
    convert(source)
    assert list(objects(folder)) == [tick2]
    docx(tmp_path, p(r("A new paragraph before it.")) + line)
    convert(source)
    assert list(objects(folder)) == [tick2]
    told = heard(cellset("decide", folder, "--show").output)
    assert told.startswith("Applied where its print stands now: insert-note on “I agree")


def test_a_settled_finding_says_so_and_asks_for_nothing(book: Path) -> None:
    folder, name = book / "out/tides", ids(book)["ueb.unknown-character"]
    cellset("decide", folder, name, "--offer", 3, "--why", "agreed", "--yes")
    convert(book / "tides.epub")
    told = heard(cellset("decide", folder, name).output)
    assert told.endswith("Accepted: agreed (tides.job.toml, line 6). It needs nothing now.")
    assert "--offer" not in told
