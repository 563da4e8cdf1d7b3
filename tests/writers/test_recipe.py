"""The recipe: same recipe, same bytes; nothing of the machine or the moment in it."""

from __future__ import annotations

import hashlib
import json
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace

import pytest

from convert import __version__
from convert.errors import PluginError
from convert.job import Job
from convert.recipe import APART, make_recipe, recipe_digest, recipe_record
from convert.settings import Settings

CONVENTION = SimpleNamespace()
PLAIN = Settings(code="ueb-uncontracted")


def source(folder: Path, data: bytes = b"print") -> SimpleNamespace:
    return SimpleNamespace(name="book.epub", path=folder / "book.epub", data=data)


def recipe(folder: Path, settings: Settings = PLAIN, data: bytes = b"print", **more: bytes):  # type: ignore[no-untyped-def]
    return make_recipe(source(folder, data), settings, CONVENTION, **more)  # type: ignore[arg-type]


def test_versions_digests_and_every_option(tmp_path: Path) -> None:
    made = recipe(tmp_path)
    assert made["cellset"] == __version__
    assert made["source"] == {
        "name": "book.epub",
        "sha256": hashlib.sha256(b"print").hexdigest(),
    }
    options = set(Settings.__dataclass_fields__) - {"memo"}
    assert set(made["options"]) == options
    used = {(row["group"], row["name"], row["distribution"]) for row in made["plugins"]}
    assert ("convert.readers", "epub", "cellset") in used
    assert ("convert.translators", "ueb-uncontracted", "cellset") in used
    assert ("convert.conventions", "bf2016", "cellset") in used
    assert ("convert.writers", "brf", "cellset") in used


def test_digest_is_of_the_canonical_json(tmp_path: Path) -> None:
    made = recipe(tmp_path)
    counted = {name: row for name, row in made.items() if name not in APART}
    text = json.dumps(counted, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    assert made["digest"] == hashlib.sha256(text.encode()).hexdigest()


def test_no_path_in_what_is_digested(tmp_path: Path) -> None:
    settings = replace(PLAIN, convention=str(tmp_path / "house.toml"), memo=str(tmp_path))
    made = recipe(tmp_path, settings)
    counted = {name: row for name, row in made.items() if name not in APART}
    assert str(tmp_path) not in json.dumps(counted)
    elsewhere = recipe(tmp_path / "x", replace(settings, convention="y/house.toml"))
    assert made["digest"] == elsewhere["digest"]


@pytest.mark.parametrize(
    "change",
    [
        {"data": b"other"},
        {"settings": replace(PLAIN, cells=32)},
        {"settings": replace(PLAIN, write=("brf",))},
        {"job": Job(layers=(("a.job.toml", "0" * 64),))},
    ],
)
def test_digest_changes_with_what_counts(tmp_path: Path, change: dict[str, object]) -> None:
    assert recipe(tmp_path)["digest"] != recipe(tmp_path, **change)["digest"]


def test_digest_follows_the_rows_of_the_convention(tmp_path: Path) -> None:
    from convert.layout.convention import Wording

    one, two = Wording("a", "b", ""), Wording("a", "c", "")
    digests = [
        make_recipe(source(tmp_path), PLAIN, row)["convention"]  # type: ignore[arg-type]
        for row in (one, one, two)
    ]
    assert digests[0] == digests[1] != digests[2]


def test_liblouis_and_its_tables_only_where_the_code_uses_them(tmp_path: Path) -> None:
    assert recipe(tmp_path)["liblouis"] is None
    used = recipe(tmp_path, Settings())["liblouis"]
    assert used["table"] == "en-ueb-g2.ctb"
    assert used["version"][0].isdigit()
    other = recipe(tmp_path, Settings(code="louis:en-us-g2.ctb"))["liblouis"]
    assert other["sha256"] != used["sha256"]


def test_digest_of_a_table_covers_the_tables_it_includes(tmp_path: Path) -> None:
    from convert.translation.louis_gate_tables import with_included

    (tmp_path / "a.ctb").write_text("include b.cti  with its letters\n  include c.cti\n#include d")
    (tmp_path / "b.cti").write_text("include a.ctb\ninclude gone.cti\n")
    (tmp_path / "c.cti").write_text("letter a 1")
    found = [path.name for path, _ in with_included(tmp_path / "a.ctb")]
    assert found == ["a.ctb", "b.cti", "c.cti"]


def test_path_is_given_from_the_output_folder(tmp_path: Path) -> None:
    made = recipe(tmp_path / "in")
    record = recipe_record(made, "book.epub", tmp_path / "out")
    assert record["path"] == "../in/book.epub"
    assert record["digest"] == made["digest"] == recipe_digest(record)


def test_a_reader_that_is_not_installed(tmp_path: Path) -> None:
    odd = SimpleNamespace(name="a.xyz", path=tmp_path / "a.xyz", data=b"")
    with pytest.raises(PluginError, match=r"files ending in “xyz”"):
        make_recipe(odd, PLAIN, CONVENTION)  # type: ignore[arg-type]
