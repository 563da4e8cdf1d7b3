"""The second count of the source: what a reader skips is named, whatever the reader says."""

from __future__ import annotations

from pathlib import Path

import pytest

from convert.census import census
from convert.document.ledger import Ledger, LedgerBuilder
from convert.findings import Findings
from convert.readers.container import open_source


def recount(path: Path, ledger: Ledger) -> tuple[int, list[str]]:
    found = Findings()
    missing = census(open_source(path), path.suffix[1:], ledger, found)
    return missing, [f.kind for f in found.all()]


def without(ledger: Ledger, words: str) -> Ledger:
    """The ledger a reader would have made that skipped the piece holding some words."""
    builder = LedgerBuilder()
    for piece in ledger.pieces:
        text = ledger.text[piece.start : piece.end]
        if words not in text:
            builder.add(text, piece.part, piece.path, piece.char, piece.kind)
    return builder.build()


@pytest.mark.parametrize("name", ["river-school.epub", "permit-form.docx"])
def test_a_whole_ledger_misses_nothing(name: str, fixtures: Path) -> None:
    from convert.api import read

    assert recount(fixtures / name, read(fixtures / name).ledger) == (0, [])


@pytest.mark.parametrize(
    "name, words",
    [("river-school.epub", "takes you along its"), ("permit-form.docx", "Read the rules")],
)
def test_a_skipped_text_node_is_named(name: str, words: str, fixtures: Path) -> None:
    from convert.api import read

    ledger = read(fixtures / name).ledger
    assert words in ledger.text
    missing, kinds = recount(fixtures / name, without(ledger, words))
    assert missing >= len(words.replace(" ", ""))
    assert kinds == ["print.not-read"]


def test_a_kind_of_file_without_a_count_is_said(tmp_path: Path) -> None:
    path = tmp_path / "poem.lines"
    path.write_text("a line\n")
    assert recount(path, LedgerBuilder().build()) == (0, ["print.no-census"])
