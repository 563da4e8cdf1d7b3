"""Many documents: one bad one stops nothing, and a stopped batch goes on where it was."""

from __future__ import annotations

import csv
import json
import shutil
import signal
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from distributed import LocalCluster

from convert.batch import Engine, find_sources, run_batch, run_unit
from convert.commands.batch import command
from convert.errors import JobError, PluginError
from convert.settings import Settings

PLAIN = ["--code", "ueb-uncontracted", "--workers", "2"]


@pytest.fixture
def shelf(tmp_path: Path, fixtures: Path) -> Path:
    """A folder with two good documents, one of them deeper, and a bad one."""
    folder = tmp_path / "shelf"
    (folder / "forms").mkdir(parents=True)
    shutil.copy(fixtures / "river-school.epub", folder)
    shutil.copy(fixtures / "permit-form.docx", folder / "forms")
    (folder / "bad.docx").write_text("not a package")
    return folder


def batch(*args: object) -> Result:
    return CliRunner().invoke(command, [str(arg) for arg in args])


def test_a_folder_is_converted_and_the_bad_one_named(shelf: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    done = batch(shelf, "--out", out, *PLAIN)
    assert done.exit_code == 3, done.output
    assert "2 documents converted" in done.output
    assert "1 refused" in done.output
    with (out / "summary.csv").open(newline="") as file:
        rows = list(csv.DictReader(file))
    assert [row["status"] == "refused" for row in rows] == [True, False, False]
    assert {row["lost"] for row in rows[1:]} == {"0"}
    assert (out / "permit-form" / "permit-form.v1.brf").exists()


def test_a_second_run_keeps_what_is_done_and_sees_what_changed(
    shelf: Path, tmp_path: Path, fixtures: Path
) -> None:
    out = tmp_path / "out"
    batch(shelf, "--out", out, *PLAIN)
    again = batch(shelf, "--out", out, *PLAIN, "--json")
    kept = {Path(r["source"]).name: r.get("kept", False) for r in json.loads(again.output)}
    assert kept == {"bad.docx": False, "permit-form.docx": True, "river-school.epub": True}
    tables = [(out / name).read_bytes() for name in ("summary.csv", "summary.txt")]
    batch(shelf, "--out", out, *PLAIN, "--again")
    assert tables == [(out / name).read_bytes() for name in ("summary.csv", "summary.txt")]
    wider = batch(shelf, "--out", out, *PLAIN, "--page", "32x27", "--json")
    assert not any(record.get("kept") for record in json.loads(wider.output))


def test_all_refused(tmp_path: Path) -> None:
    bad = tmp_path / "bad.epub"
    bad.write_bytes(b"")
    assert batch(bad, "--out", tmp_path / "out", *PLAIN).exit_code == 1


def test_lists_and_folders_name_sources(shelf: Path) -> None:
    names = shelf / "names.txt"
    names.write_text("river-school.epub\n\nforms/permit-form.docx\n")
    found = find_sources([names], ["epub", "docx"])
    assert [path.name for path in found] == ["river-school.epub", "permit-form.docx"]
    assert len(find_sources([shelf], ["epub", "docx"])) == 3


def test_pages_of_earlier_editions_are_no_sources(tmp_path: Path) -> None:
    for name in ("tides.html", "out/tides/report.html", "out/tides/recipe.json"):
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text("<p>Sea</p>")
    assert [path.name for path in find_sources([tmp_path], ["html"])] == ["tides.html"]


def test_an_empty_folder_or_a_missing_name_is_said(tmp_path: Path) -> None:
    with pytest.raises(JobError, match="no document"):
        find_sources([tmp_path], ["epub"])
    with pytest.raises(JobError, match="no file or folder"):
        find_sources([tmp_path / "none.epub"], ["epub"])


def test_a_unit_never_raises_for_a_bad_document(tmp_path: Path) -> None:
    record = run_unit(str(tmp_path / "none.epub"), "none", str(tmp_path / "out"), Settings())
    assert record["status"] == "refused"
    assert not (tmp_path / "out").exists()


def test_a_process_that_dies_takes_only_its_document(
    shelf: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A plugin that ends the process (a crash in native code) refuses one source."""
    plugin = tmp_path / "plugin"
    (plugin / "cellset_crash-1.0.dist-info").mkdir(parents=True)
    (plugin / "cellset_crash.py").write_text(
        "import os\n\ndef read(source, settings, findings):\n    os._exit(9)\n"
    )
    info = plugin / "cellset_crash-1.0.dist-info"
    (info / "METADATA").write_text("Metadata-Version: 2.1\nName: cellset-crash\nVersion: 1.0\n")
    (info / "entry_points.txt").write_text("[convert.readers]\ncrash = cellset_crash:read\n")
    monkeypatch.syspath_prepend(plugin)  # worker processes get the same path
    bad = shelf / "bad.crash"
    bad.write_text("x" * 999_999)
    units = [(bad, "bad"), (shelf / "forms" / "permit-form.docx", "permit-form")]
    settings = Settings(code="ueb-uncontracted")
    records = list(run_batch(units, tmp_path / "out", settings, Engine(workers=1)))
    assert {record["status"] for record in records} >= {"refused"}
    assert (tmp_path / "out" / "permit-form").exists()
    assert [r["message"] for r in records if r["status"] == "refused"] == [
        "The process that converted it ended suddenly, twice."
    ]


def test_a_document_that_takes_too_long_is_refused(tmp_path: Path, fixtures: Path) -> None:
    source = str(fixtures / "river-school.epub")
    record = run_unit(source, "river-school", str(tmp_path / "out"), Settings(), seconds=0.001)
    assert record["status"] == "refused"
    assert "time limit of 0.001 seconds" in str(record["message"])
    assert not (tmp_path / "out" / "river-school").exists()


def test_a_limit_that_is_not_reached_leaves_no_timer(tmp_path: Path, fixtures: Path) -> None:
    source = str(fixtures / "permit-form.docx")
    record = run_unit(source, "permit-form", str(tmp_path / "out"), Settings(), seconds=600)
    assert record["status"] != "refused", record
    assert signal.getitimer(signal.ITIMER_REAL) == (0.0, 0.0)


def test_a_scheduler_runs_the_same_documents(shelf: Path, tmp_path: Path) -> None:
    """Two worker processes of a scheduler on this machine stand for several machines."""
    with (
        LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None) as cluster,
    ):
        done = batch(
            shelf, "--out", tmp_path / "out", *PLAIN, "--cluster", cluster.scheduler_address
        )
    assert done.exit_code == 3, done.output
    assert "2 documents converted" in done.output
    assert (tmp_path / "out" / "permit-form" / "permit-form.v1.brf").exists()


def test_a_scheduler_that_does_not_answer_is_said(shelf: Path, tmp_path: Path) -> None:
    done = batch(shelf, "--out", tmp_path / "out", *PLAIN, "--cluster", "nowhere")
    assert isinstance(done.exception, PluginError)
    assert "does not answer" in str(done.exception)


def test_what_is_kept_has_the_same_record_as_what_is_made(shelf: Path, tmp_path: Path) -> None:
    """With a risk profile: its caution stands in the table of the second run too."""
    (shelf / "river-school.job.toml").write_text(
        '[[decision]]\nexpect = "Mercury"\neverywhere = true\ndo = "language"\nlang = "fr"\n'
    )
    words = (shelf, "--out", tmp_path / "out", *PLAIN, "--profile", "legal", "--json")
    first, second = (json.loads(batch(*words).output) for _ in range(2))
    assert [row.pop("kept", False) for row in second] == [False, True, True]
    assert first == second
    assert first[-1]["caution"].startswith("Legal")
    assert first[-1]["decisions"]
