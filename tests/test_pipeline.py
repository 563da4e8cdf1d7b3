"""The whole way from a source to an edition, and the proof that a broken stage is caught."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

import convert
from convert import pipeline
from convert.contracts import Translator
from convert.document.nodes import Document
from convert.edition import Edition
from convert.errors import JobError, PluginError
from convert.findings import Findings
from convert.settings import Settings
from convert.translation.cells import Cells
from convert.translation.passage import Passage
from convert.translation.ueb import uncontracted

PLAIN = {"code": "ueb-uncontracted"}


@pytest.fixture(scope="module")
def edition(fixtures: Path) -> Edition:
    return convert.convert(fixtures / "river-school.epub", **PLAIN)


def test_every_print_character_is_accounted_for(edition: Edition) -> None:
    t = edition.totals
    assert t.print_characters == t.in_cells + t.folded + t.omitted + t.lost
    assert (t.lost, t.doubled) == (0, 0)
    assert t.print_characters > 3000


def test_lines_are_cells_with_origins(edition: Edition) -> None:
    ledger = edition.document.ledger
    lines = [line for page in edition.volumes[0].pages for line in page.lines]
    assert all(isinstance(line, str) and len(line.origin) == len(line) for line in lines)
    assert all(0x2800 <= ord(cell) <= 0x283F for line in lines for cell in line)
    assert all(-1 <= at < len(ledger.text) for line in lines for at in line.origin)
    said = {ledger.text[at] for line in lines for at in line.origin if at >= 0}
    assert {"a", "W", "7", "?"} <= said


def test_findings_say_where_in_both_copies(edition: Edition) -> None:
    placed = [f for f in edition.findings if f.places]
    assert placed
    for finding in placed:
        assert finding.places[0].volume == 1
        assert 1 <= finding.places[0].line <= 25
    assert len({f.id for f in edition.findings}) == len(edition.findings)


def test_an_edition_writes_what_is_asked(edition: Edition, tmp_path: Path) -> None:
    folder = edition.write(tmp_path, formats=["brf", "report"])
    assert (folder / "river-school.v1.brf").exists()
    report = json.loads((folder / "report.json").read_text("utf-8"))
    assert report["totals"]["lost"] == 0
    assert {"source", "recipe", "totals", "findings"} <= report.keys()


def test_an_unknown_option_or_code_says_what_there_is(fixtures: Path) -> None:
    with pytest.raises(JobError, match="There is no option"):
        convert.convert(fixtures / "river-school.epub", codee="ueb")
    with pytest.raises(PluginError, match="ueb-uncontracted"):
        convert.convert(fixtures / "river-school.epub", code="ueb-uncontractd")


class _Broken:
    code = "ueb-uncontracted"

    def prepare(self, passages: object) -> None:
        """Nothing to look over."""

    def translate(self, passage: Passage, findings: Findings) -> Cells:
        raise ValueError("no such cell")


def test_a_code_that_fails_by_accident_is_named_with_its_package(
    fixtures: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for made in (lambda settings: _Broken(), lambda settings: {}["odd"]):
        monkeypatch.setattr(pipeline.plugins, "load", _instead_of("convert.translators", made))
        with pytest.raises(PluginError, match=r"code “ueb-uncontracted” \(package cellset\)"):
            convert.convert(fixtures / "river-school.epub", **PLAIN)


def test_a_convention_without_its_file_is_named_with_its_package(
    fixtures: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    missing = _instead_of("convert.conventions", "no-such-folder/house.toml")
    monkeypatch.setattr(pipeline.plugins, "load", missing)
    with pytest.raises(PluginError, match=r"convention “simple” \(package cellset\) failed"):
        convert.convert(fixtures / "river-school.epub", convention="simple", **PLAIN)


def _instead_of(wanted: str, plugin: object) -> Callable[[str, str], Any]:
    """Plugins as they are, but for those of one group."""
    real = pipeline.plugins.load
    return lambda group, name: plugin if group == wanted else real(group, name)


def test_print_pages_may_be_required(fixtures: Path) -> None:
    form = fixtures / "permit-form.docx"
    told = convert.convert(form, **PLAIN)
    asked = convert.convert(form, **PLAIN, require_print_pages=True)
    assert {f.kind for f in told.findings} >= {"read.no-print-pages"}
    assert [f.severity for f in asked.findings if f.kind == "read.print-pages-required"] == ["stop"]


# ---------------------------------------------------------------- stages broken on purpose


class Forgetful:
    """A translator that leaves out every seventh word and says nothing."""

    code = "forgetful"

    def __init__(self, settings: Settings) -> None:
        self._plain: Translator = uncontracted(settings)

    def prepare(self, passages: object) -> None:
        """Nothing to learn."""

    def translate(self, passage: Passage, findings: Findings) -> Cells:
        cells = self._plain.translate(passage, findings)
        for at in range(len(cells.pieces) - 1, 0, -7):
            del cells.pieces[at], cells.starts[at], cells.prints[at]
        return cells


def test_a_translator_that_forgets_words_is_caught(
    fixtures: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(pipeline, "make_translator", Forgetful)
    edition = convert.convert(fixtures / "river-school.epub", **PLAIN)
    assert edition.totals.lost > 100
    assert "print.lost" in {f.kind for f in edition.findings if f.severity == "stop"}


def test_a_pass_that_drops_a_section_is_caught(
    fixtures: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    whole = pipeline.tidy

    def careless(document: Document, findings: Findings, place: str) -> Document:
        document = whole(document, findings, place)
        return replace(document, children=document.children[:-1])

    monkeypatch.setattr(pipeline, "tidy", careless)
    edition = convert.convert(fixtures / "river-school.epub", **PLAIN)
    assert edition.totals.lost > 20
    assert "print.lost" in {f.kind for f in edition.findings if f.severity == "stop"}
