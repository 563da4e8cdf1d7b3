"""The key to the signs of a volume, and the drawn dots."""

from __future__ import annotations

from pathlib import Path

from lxml import html

from convert.pipeline import convert_source, settings_from
from convert.translation.cells import dots_of
from convert.writers.proof import write_proof
from convert.writers.sign_key import Key, SignKeys, said

from ..readers.make import epub
from .make import river_school
from .test_report import words

# Indicators of the lines that end a volume, in full capitals.
LAST = {"capitals word indicator", "capitals passage indicator", "capitals terminator"}


def key(folder: Path, body: str, code: str = "ueb-uncontracted") -> Key:
    settings = settings_from(code=code, front_pages=False)
    edition = convert_source(epub(folder, body), settings)
    return SignKeys().of(edition.volumes[0])


def rows(key: Key) -> list[tuple[str, str]]:
    return [(row.print, dots_of(row.cells)) for row in key.signs]


def test_letters_digits_and_points_each_once(tmp_path: Path) -> None:
    """UEB 4.1 letters, 6.1 digits, 7 punctuation."""
    made = key(tmp_path, "<p>A bad cab, 12.</p>")
    assert len(set(rows(made))) == len(rows(made))
    assert set(rows(made)) >= {
        ("a", "1"), ("b", "1-2"), ("c", "1-4"), ("d", "1-4-5"),
        (",", "2"), (".", "2-5-6"), ("1", "1"), ("2", "1-2"),
    }  # fmt: skip
    assert {text for text, _ in rows(made)} <= set("abc12,.") | set("the end of volume")
    names = {row.print for row in made.indicators}
    assert names - LAST == {"capital letter indicator", "numeric indicator"}


def test_marks_have_a_name_besides(tmp_path: Path) -> None:
    """A screen reader passes over bare marks."""
    made = key(tmp_path, "<p>A (bad) cab \u2014 yes, 1.</p>")
    names = {row.print: row.name for row in made.signs}
    assert (names["("], names["\u2014"], names[","]) == ("left parenthesis", "em dash", "comma")
    assert (names["a"], names["1"]) == ("", "")


def test_indicators_side_by_side_are_told_apart(tmp_path: Path) -> None:
    """UEB 9.1, 8.3: italic word indicator, then the capital letter indicator."""
    made = key(tmp_path, "<p>a <i>Bad</i> cab</p>")
    names = {row.print for row in made.indicators}
    assert names - LAST == {"italic word indicator", "capital letter indicator"}


def test_contractions_stand_with_their_letters(tmp_path: Path) -> None:
    """UEB 10.3 strong contractions, 10.4 strong groupsigns."""
    made = dict(rows(key(tmp_path, "<p>bring the char</p>", "ueb")))
    assert made["the"] == "2-3-4-6"
    assert made["ch"] == "1-6"
    assert made["ar"] == "3-4-5"
    assert made["ing"] == "3-4-6"


def test_dots_are_said() -> None:
    assert said("\u2801\u2803") == "dot 1, dots 1-2"


def test_long_works_in_contracted_braille_have_no_key(tmp_path: Path) -> None:
    edition = river_school(volume_pages=1)
    assert len(edition.volumes) == 2
    texts = [path.read_text("utf-8") for path in write_proof(edition, tmp_path)]
    assert not any('id="key"' in text for text in texts)


def test_the_key_is_in_the_proof_of_each_volume(tmp_path: Path) -> None:
    settings = settings_from(code="ueb-uncontracted")
    edition = convert_source(epub(tmp_path, "<p>A bad cab, 12.</p>"), settings)
    (path,) = write_proof(edition, tmp_path)
    tree = html.document_fromstring(path.read_text("utf-8"))
    (details,) = tree.xpath("//details[@id='key']")
    assert "indicators" in words(details.find("summary"))
    captions = [words(caption) for caption in details.xpath(".//caption")]
    assert captions == ["Signs of this volume", "Indicators of this volume"]
    row = details.xpath(".//tr[th='b']")[0]
    assert [words(entry) for entry in row] == ["b", "\u2803", "dots 1-2"]
