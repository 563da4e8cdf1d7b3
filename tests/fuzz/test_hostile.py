"""Every malformed, encrypted or fuzzed document of the corpus: read or refused, in a sentence."""

from __future__ import annotations

from pathlib import Path

import pytest

import convert
from convert.errors import Bug, PluginError
from tests.conftest import CORPORA

HOSTILE = CORPORA / "hostile"
SUFFIXES = {".epub", ".docx", ".docm", ".dotx", ".dotm"}


def documents() -> list[Path]:
    if not HOSTILE.is_dir():
        return []
    return sorted(path for path in HOSTILE.iterdir() if path.suffix != ".txt")


def outcome(path: Path) -> str:
    """One sentence about what became of a document."""
    try:
        edition = convert.convert(path, code="ueb-uncontracted")
    except (Bug, PluginError):
        raise
    except convert.ConvertError as error:
        return f"Refused: {error}"
    stops = sum(finding.severity == "stop" for finding in edition.findings)
    totals = edition.totals
    assert totals.lost == 0
    return (
        f"Read: {totals.print_characters} characters of print on {totals.braille_pages} braille "
        f"pages, {len(edition.findings)} findings, {stops} to settle first."
    )


@pytest.mark.slow
@pytest.mark.skipif(not HOSTILE.is_dir(), reason="the corpus is not beside the checkout")
def test_every_hostile_document_is_read_or_refused() -> None:
    said = {path.name: outcome(path) for path in documents()}
    assert len(said) > 150
    for name, sentence in said.items():
        assert sentence.endswith("."), f"{name}: {sentence}"
        assert "\n" not in sentence
        if sentence.startswith("Refused") and Path(name).suffix in SUFFIXES:
            assert name in sentence, f"{name}: {sentence}"
    refused = [name for name, sentence in said.items() if sentence.startswith("Refused")]
    assert 20 < len(refused) < len(said) / 2


if __name__ == "__main__":  # the list itself: python -m tests.fuzz.test_hostile
    for document in documents():
        print(f"{document.name}: {outcome(document)}")
