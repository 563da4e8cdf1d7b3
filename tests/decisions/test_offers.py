"""Offers: stanzas ready to paste, which settle the finding they were made for."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from convert.decisions.offers import parts_of
from convert.decisions.read import Reading
from convert.decisions.stanza import append, quoted
from convert.decisions.verbs import check_argument, verbs
from convert.document.nodes import ListBlock, walk
from convert.edition import Edition
from convert.findings import TOLD, catalogue
from convert.job import settings_options
from tests.decisions.case import converted, of_kind

ITEMS = list(enumerate(("crab", "shell", "weed"), 1))
_PLACED = {"do", "everywhere", "expect", "part", "why", "what", "whole", "only", "unless"}


@pytest.mark.parametrize("kind", [kind.name for kind in catalogue().values() if kind.offers])
def test_offers_of_the_catalogue_are_decisions(kind: str) -> None:
    for given in catalogue()[kind].offers:
        label, row = parts_of(dict(given))
        assert label
        if "set" in row:
            assert settings_options({row["set"]: row["value"] or "30x25"})
            continue
        verb = verbs()[str(row["do"])]
        arguments = dict(verb.arguments)
        assert set(row) - _PLACED <= set(arguments)
        assert set(arguments) - set(verb.optional) <= set(row)
        assert not row.get("everywhere") or verb.everywhere
        for name in set(row) & set(arguments):
            if row[name] != "" and "{" not in str(row[name]):
                check_argument(verb, name, row[name])


def test_every_finding_to_settle_or_to_look_at_can_be_accepted(tmp_path: Path) -> None:
    body = '<p>Press \u2318 now.</p><p><img src="map.png"/> x</p>'
    edition = converted(tmp_path, body)
    open_ones = [f for f in edition.findings if f.severity != TOLD]
    assert len(open_ones) >= 3
    for finding in open_ones:
        assert 'do         = "accept"' in finding.offer[-1], finding.kind


def test_columns_are_not_offered_where_the_page_is_too_narrow_for_them(tmp_path: Path) -> None:
    """BF 11.1: an offer that the page cannot keep would be refused at the next run."""
    head = "<tr><th>Lake</th><th>Depth</th></tr>"
    wide = "".join(f"<tr><td>{'a' * 24}</td><td>{'b' * 24}</td></tr>" for _ in range(3))
    long = "".join(f"<tr><td>{'ab ' * 30}</td><td>{'cd ' * 30}</td></tr>" for _ in range(3))
    for rows, offered in ((wide, False), (long, True)):
        edition = converted(tmp_path, f"<p>a</p><table>{head}{rows}</table>")
        (finding,) = of_kind(edition, "layout.table-listed")
        assert ("wider than the page" in finding.message) is not offered
        assert any('"columned"' in offer for offer in finding.offer) is offered


def taken(folder: Path, body: str, kind: str, number: int, **given: str) -> Edition:
    """The edition after an offer was taken, what a person fills in filled in."""
    (finding,) = of_kind(converted(folder, body), kind)
    stanza = finding.offer[number]
    for key, value in {"why": "seen", **given}.items():
        stanza = stanza.replace(f'{key:<10} = ""', f'{key:<10} = "{value}"')
    return converted(folder, body, stanza)


@pytest.mark.parametrize(
    "kind, number, given",
    [
        ("ueb.unknown-character", 0, {"text": "command"}),
        ("ueb.unknown-character", 1, {"cells": "1-2"}),
        ("ueb.unknown-character", 2, {}),
    ],
)
def test_an_offer_settles_its_finding(
    tmp_path: Path, kind: str, number: int, given: dict[str, str]
) -> None:
    edition = taken(tmp_path, "<p>Press \u2318 now, \u2318 later.</p>", kind, number, **given)
    assert edition.decisions
    assert all(record.state in ("applied", "accepted") for record in edition.decisions)
    assert all(finding.severity == TOLD for finding in of_kind(edition, kind))
    assert edition.totals.lost == 0


@pytest.mark.parametrize("number, given", [(0, {"text": "A map."}), (1, {}), (2, {})])
def test_offers_for_a_picture(tmp_path: Path, number: int, given: dict[str, str]) -> None:
    body = '<p>See the map:</p><figure><img src="map.png"/><figcaption>Map 1</figcaption></figure>'
    edition = taken(tmp_path, body, "read.picture-without-alt", number, **given)
    assert [record.state for record in edition.decisions] in (["applied"], ["accepted"])
    (settled,) = of_kind(edition, "read.picture-without-alt")
    assert settled.severity == TOLD
    assert edition.decisions[0].settled[0] == settled.id


def test_an_offer_names_its_place_with_its_neighbours(tmp_path: Path) -> None:
    body = "<p>Fold on the line.</p><p>Press \u2318 now.</p>"
    (finding,) = of_kind(converted(tmp_path, body), "ueb.unknown-character")
    row = tomllib.loads(finding.offer[-1])["decision"][0]
    assert row["at"] == "OEBPS/c1.xhtml!/4/4/1:6"
    assert row["expect"] == "\u2318"
    assert row["near"] == ["on the line. Press", "now."]


def test_a_group_is_accepted_with_the_number_of_its_places(tmp_path: Path) -> None:
    same = "<p>Press \u2318 now and then, as often as you like it best.</p>"
    (finding,) = of_kind(converted(tmp_path, same * 20), "ueb.unknown-character")
    assert tomllib.loads(finding.offer[-1])["decision"][0]["places"] == 20


@pytest.mark.parametrize("text", ['a "b" \\ c', "tab\tand\u007f", "line\nend", "caf\u00e9 \u2028"])
def test_words_as_toml_read_back(text: str) -> None:
    assert tomllib.loads(f"x = {quoted(text)}")["x"] == text
    assert "\n" not in quoted(text)


def test_what_a_person_wrote_stays_when_stanzas_are_appended() -> None:
    before = '# mine\r\ncode = "ueb"  # ours\r\n\r\n'
    stanza = '[[decision]]\nexpect = "a"\ndo = "omit"\nwhy = "x"\n'
    after = append(before, [stanza, stanza])
    assert after.startswith('# mine\r\ncode = "ueb"  # ours\r\n\r\n[[decision]]\r\n')
    assert "\n" not in after.replace("\r\n", "")
    rows = tomllib.loads(after)["decision"]
    assert [d.line for d in Reading("a", after.replace("\r\n", "\n")).read(rows)] == [4, 9]


@pytest.mark.parametrize("number", [0, 1, 2])
def test_offers_for_a_word_document(tmp_path: Path, number: int) -> None:
    """A short bold line of a Word document may be a heading: made one, of either rank, or not."""
    from convert.job import read_job
    from convert.pipeline import convert_source, settings_from
    from tests.decisions.case import OPTIONS, job_file
    from tests.readers.make_docx import docx, p, r

    words = "The tide comes in twice a day and goes out twice a day as well."
    body = p(r("Tides", "<w:b/>")) + p(r(words)) + p(r("Winds", "<w:b/>")) + p(r(words))
    source = docx(tmp_path, body)
    plain = convert_source(source, settings_from(**OPTIONS))
    (finding,) = of_kind(plain, "docx.maybe-heading")
    stanza = finding.offer[number].replace('why        = ""', 'why = "seen"')
    job = read_job(job_file(tmp_path, stanza))
    edition = convert_source(source, settings_from(**OPTIONS), job=job)
    assert {record.state for record in edition.decisions} <= {"applied", "accepted"}
    assert all(f.severity == TOLD for f in of_kind(edition, "docx.maybe-heading"))
    headings = sum(type(node).__name__ == "Heading" for node in edition.document.children)
    assert headings == (2 if number < 2 else 0)


def test_a_typed_list_is_taken_whole(tmp_path: Path) -> None:
    """All paragraphs of the stretch become items of one list (Braille Formats 2016, section 8)."""
    items = "".join(f"<p>{n}. The {word} is on the shore.</p>" for n, word in ITEMS)
    body = f"<p>Things to find:</p>{items}<p>That is all of it.</p>"
    (finding,) = of_kind(converted(tmp_path, body), "suspect.typed-list")
    assert finding.offer[0].count("[[decision]]") == len(ITEMS)
    edition = taken(tmp_path, body, "suspect.typed-list", 0)
    assert not of_kind(edition, "suspect.typed-list")
    (made,) = [node for node in walk(edition.document) if isinstance(node, ListBlock)]
    assert len(made.children) == len(ITEMS)
