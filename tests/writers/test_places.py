"""Findings get their places in the braille."""

from __future__ import annotations

from convert.findings import Finding, Place
from convert.layout.book import Page, Row
from convert.layout.items import Part
from convert.places import Places, ledger_spans, place_findings
from convert.translation.passage import Passage

from .make import Maker, cells_for, river_school


def test_each_span_that_reached_a_line_has_its_place() -> None:
    edition = river_school(volume_pages=1)
    text = edition.document.ledger.text
    water, farmers = text.index("Water"), text.rindex("Farmers")
    finding = Finding("print.doubled", ((water, water + 5), (farmers, farmers + 7)))
    (placed,) = place_findings([finding], edition.book)
    assert placed.places[0] == Place(1, "1", 4)
    second = placed.places[1]
    line = edition.volumes[second.volume - 1].pages[0].rows[second.line - 1]
    assert line is not None
    part = line.parts[0]
    assert part.source is not None
    low, high = part.source.span(part.at, part.at + len(part.text))
    assert part.source.passage is not None
    assert "Farmers" in part.source.passage.text[low:high]


def test_every_character_is_found_on_the_line_that_shows_it() -> None:
    edition = river_school()
    places = Places(edition.book)
    text = edition.document.ledger.text
    for at, char in enumerate(text):
        place = places.find((at, at + 1))
        if char.isspace():
            continue
        assert place is not None
        row = edition.volumes[0].pages[int(place.page) - 1].rows[place.line - 1]
        assert row is not None
        part = row.parts[0]
        assert part.source is not None
        low, high = part.source.span(part.at, part.at + len(part.text))
        assert part.source.passage is not None
        base = part.source.passage.at[0][1]
        assert base + low <= at < base + high


def test_print_on_no_line_has_no_place() -> None:
    edition = river_school()
    far = len(edition.document.ledger.text) + 50
    finding = Finding("print.doubled", ((far, far + 3),))
    assert place_findings([finding], edition.book) == [finding]


def test_a_stretch_that_only_ends_on_a_line_is_placed_there() -> None:
    maker = Maker()
    maker.ledger.add("hidden ", "chapter.xhtml", "/4/2/1")
    maker.add("seen words")
    edition = maker.edition()
    assert Places(edition.book).find((0, 11)) == Place(1, "1", 1)
    assert Places(edition.book).find((0, 6)) is None


def test_a_place_between_characters_is_the_line_that_ends_there() -> None:
    edition = river_school()
    end = len("The River")
    assert Places(edition.book).find((end, end)) == Place(1, "1", 2)


def test_the_text_comes_before_a_contents_entry_that_repeats_it() -> None:
    edition = river_school()
    entry = cells_for("The River", 0)
    row = Row("toc", (Part(0, entry.text, entry, 0),))
    edition.volumes[0].pages.insert(0, Page("t", "t1", [row]))
    assert Places(edition.book).find((0, 3)) == Place(1, "1", 2)
    edition.volumes[0].pages[1].rows[1] = None
    assert Places(edition.book).find((0, 3)) == Place(1, "t1", 1)


def test_the_first_of_two_lines_with_the_same_print() -> None:
    edition = river_school()
    again = edition.volumes[0].pages[0].rows[3]
    edition.volumes[0].pages[0].rows[0] = again
    assert Places(edition.book).find((12, 14)) == Place(1, "1", 1)


def test_spans_of_a_passage_made_of_several_stretches() -> None:
    passage = Passage("Note: seen gone", at=((0, -1), (6, 40), (11, 90)))
    assert list(ledger_spans(passage, 0, 15)) == [(40, 45), (90, 94)]
    assert list(ledger_spans(passage, 8, 12)) == [(42, 45), (90, 91)]
    assert list(ledger_spans(passage, 0, 6)) == []
    assert list(ledger_spans(passage, 7, 7)) == []
