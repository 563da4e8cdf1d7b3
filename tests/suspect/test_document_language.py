"""A whole document in another language than its mark: one finding, one decision for all of it."""

from __future__ import annotations

from pathlib import Path

import pytest

from convert.edition import Edition
from convert.findings import Finding
from tests.decisions.case import converted
from tests.readers.make import epub

GERMAN = (
    "Der Hafen ist alt und das Wasser ist nicht tief.",
    "Ich sehe die Boote mit dem Fernrohr von der Mole auf das Meer fahren.",
    "Wir gehen zu den Schiffen, aber sie sind nicht mehr da, wie der Wirt sagt.",
)
ENGLISH = (
    "The harbour is old and the water of it is not deep.",
    "That was the boat which they have from the town by the sea.",
    "The pilot and the crew of this ship have their supper with the keeper.",
)


def made(folder: Path, rows: tuple[str, ...], decision: str = "") -> Edition:
    return converted(folder, "".join(f"<p>{row}</p>" for row in rows), decision)


def told(edition: Edition) -> list[Finding]:
    kinds = ("suspect.document-language", "suspect.language")
    return [finding for finding in edition.findings if finding.kind in kinds]


def test_one_finding_for_the_whole(tmp_path: Path) -> None:
    """UEB 13: passages in other languages; the places are not told one by one."""
    (finding,) = told(made(tmp_path, GERMAN))
    assert finding.kind == "suspect.document-language"
    assert finding.spans == ()
    assert "looks like German; the source says that it is English." in finding.message
    assert 'everywhere = true\ndo         = "language"\nlang       = "de"' in finding.offer[0]


def test_the_decision_marks_all_of_it(tmp_path: Path) -> None:
    plain = made(tmp_path, GERMAN)
    offer = told(plain)[0].offer[0]
    decided = made(tmp_path, GERMAN, offer)
    assert told(decided) == []
    assert "ueb.foreign" in [finding.kind for finding in decided.findings]


@pytest.mark.parametrize("rows", [ENGLISH, (*ENGLISH, GERMAN[0]), GERMAN[:1]])
def test_a_passage_is_not_the_whole(tmp_path: Path, rows: tuple[str, ...]) -> None:
    kinds = [finding.kind for finding in told(made(tmp_path, rows))]
    assert "suspect.document-language" not in kinds


def test_text_that_is_marked_does_not_count(tmp_path: Path) -> None:
    rows = tuple(f"<span xml:lang='de'>{row}</span>" for row in GERMAN)
    assert told(made(tmp_path, rows)) == []


def test_english_in_a_source_that_says_it_is_german(tmp_path: Path) -> None:
    import convert

    metadata = "<dc:title>T</dc:title><dc:language>de</dc:language>"
    body = "".join(f"<p>{row}</p>" for row in ENGLISH)
    edition = convert.convert(epub(tmp_path, body, metadata=metadata), code="ueb-uncontracted")
    assert [dict(f.facts)["lang"] for f in told(edition)] == ["en"]


@pytest.mark.parametrize(
    ("body", "told"),
    [
        (f"<p xml:lang='de-DE'>{ENGLISH[2]}</p>", [ENGLISH[2]]),
        (f"<p>Note: <i xml:lang='de'>{ENGLISH[1]}</i> <b>Yes.</b></p>", [ENGLISH[1]]),
        (f"<p xml:lang='de'>{GERMAN[1]}</p>", []),
        (f"<p xml:lang='en-GB'>{ENGLISH[2]}</p>", []),
        ("<p xml:lang='fr'>Le Times of London</p>", []),
    ],
)
def test_english_marked_as_another_language(tmp_path: Path, body: str, told: list[str]) -> None:
    """UEB 13: what is marked as another language is not contracted, so a wrong mark is told."""
    edition = converted(tmp_path, f"<p>The boat.</p>{body}")
    text = edition.document.ledger.text
    found = [f for f in edition.findings if f.kind == "suspect.marked-language"]
    assert [text[start:end] for f in found for start, end in f.spans] == told


FRENCH = (
    "Le port est dans une baie avec des bateaux pour qui va sur la mer.",
    "Vous ne voyez pas les bateaux mais elle est sur la jetée avec nous.",
    "Cette mer est très calme et nous avons vu ses îles où je vais.",
)


@pytest.mark.parametrize(
    "rows, lang, code, stops",
    [
        (FRENCH, "fr", "ueb", ["fr"]),
        (FRENCH, "fr-CA", "ueb-uncontracted", ["fr"]),
        (FRENCH, "fr", "louis:fr-bfu-g2.ctb", []),
        (GERMAN, "en", "ueb", ["de"]),
        (("Przystań jest stara.",), "pl", "ueb", ["pl"]),
        (ENGLISH, "pl", "ueb", []),  # Only its mark is wrong.
        (ENGLISH, "de", "ueb", []),
        (ENGLISH, "", "ueb", []),
        (FRENCH[:1], "en", "ueb", []),  # Too short to be sure.
    ],
)
def test_a_code_for_english_is_not_that_of_another_language(
    tmp_path: Path, rows: tuple[str, ...], lang: str, code: str, stops: list[str]
) -> None:
    """UEB 13: words contracted as English would be wrong for the reader of another language."""
    import convert

    said = f"<dc:language>{lang}</dc:language>" if lang else ""
    body = "".join(f"<p>{row}</p>" for row in rows)
    source = epub(tmp_path, body, metadata=f"<dc:title>T</dc:title>{said}")
    found = [f for f in convert.convert(source, code=code).findings
             if f.kind == "suspect.code-language"]  # fmt: skip
    assert [dict(f.facts)["lang"] for f in found] == stops
    assert {f.severity for f in found} <= {"stop"}
