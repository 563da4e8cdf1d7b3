"""Many documents that are stopped, meet one another or have strange names: nothing is mixed up,
nothing is left running, and the same command goes on."""

from __future__ import annotations

import csv
import json
import os
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from convert.batch import Engine, find_sources, left_aside, run_batch
from convert.commands.batch_summary import text_lines, write_summary
from convert.errors import JobError
from convert.output import folder_names
from convert.settings import Settings

ROOT = Path(__file__).parents[1]
PLAIN = ("--code", "ueb-uncontracted", "--workers", "2")

pytestmark = pytest.mark.skipif(os.name != "posix", reason="signals of POSIX")


def started(*words: object) -> subprocess.Popen[str]:
    """The command with a process group of its own, as a terminal gives it."""
    command = [sys.executable, "-m", "convert", *map(str, words)]
    pipe = subprocess.PIPE
    return subprocess.Popen(
        command, cwd=ROOT, stdout=pipe, stderr=pipe, text=True, start_new_session=True
    )


def ended(running: subprocess.Popen[str]) -> tuple[int, str, str]:
    out, err = running.communicate(timeout=60)
    return running.returncode, out, err


def group_of(process: int) -> list[int]:
    """The processes of a group that still run."""
    rows = [path.read_text().rpartition(")")[2].split() for path in stats()]
    return [int(row[2]) for row in rows if int(row[2]) == process and row[0] != "Z"]


def stats() -> Iterator[Path]:
    for path in Path("/proc").glob("[0-9]*/stat"):
        if path.exists():
            yield path


def until(true: Callable[[], object], seconds: float = 20) -> None:
    end = time.monotonic() + seconds
    while not true():
        assert time.monotonic() < end, "it did not come to be in time"
        time.sleep(0.05)


@pytest.fixture
def slow_shelf(tmp_path: Path, fixtures: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A small book, and four documents of a kind whose reader takes a minute."""
    plugin = tmp_path / "plugin"
    info = plugin / "cellset_slow-1.0.dist-info"
    info.mkdir(parents=True)
    (plugin / "cellset_slow.py").write_text(
        "import time\n\ndef read(source, settings, findings):\n    time.sleep(60)\n"
    )
    (info / "METADATA").write_text("Metadata-Version: 2.1\nName: cellset-slow\nVersion: 1.0\n")
    (info / "entry_points.txt").write_text("[convert.readers]\nslow = cellset_slow:read\n")
    monkeypatch.setenv("PYTHONPATH", os.pathsep.join([str(ROOT), str(plugin)]))
    shelf = tmp_path / "shelf"
    shelf.mkdir()
    shutil.copy(fixtures / "permit-form.docx", shelf)
    for number in range(4):
        (shelf / f"{number}.slow").write_text("x")
    return shelf


@pytest.mark.usefixtures("usual_signals")
@pytest.mark.parametrize(
    "number, to_all", [(signal.SIGINT, True), (signal.SIGTERM, False), (signal.SIGHUP, False)]
)
def test_a_stopped_batch_ends_at_once_and_says_what_is_left(
    slow_shelf: Path, tmp_path: Path, number: signal.Signals, to_all: bool
) -> None:
    """Ctrl-C reaches all processes of the terminal; other requests to end reach the first."""
    out = tmp_path / "out"
    running = started("batch", slow_shelf, "--out", out, *PLAIN)
    assert running.stdout is not None
    assert running.stdout.readline() == "5 documents, 2 at a time.\n"
    assert running.stdout.readline().startswith("1 of 5: ")
    begin = time.monotonic()
    (os.killpg if to_all else os.kill)(running.pid, number)
    status, said, err = ended(running)
    assert time.monotonic() - begin < 30, "waited for what was not begun"
    assert status == 128 + number
    assert err.endswith("Stopped. The same command goes on where it was.\n")
    assert "1 document converted; 4 not reached." in said
    until(lambda: not group_of(running.pid))
    assert sorted(path.name for path in out.iterdir()) == [
        "permit-form",
        "summary.csv",
        "summary.txt",
    ]
    with (out / "summary.csv").open(newline="") as file:
        assert [row["status"] for row in csv.DictReader(file)] == ["not reached"] * 4 + ["done"]
    assert "Not reached in this run: 4 documents." in (out / "summary.txt").read_text("utf-8")


def test_workers_end_with_the_process_that_started_them(slow_shelf: Path, tmp_path: Path) -> None:
    """Killed, by the system for instance, it can do nothing for them."""
    out = tmp_path / "out"
    running = started("batch", slow_shelf, "--out", out, *PLAIN)
    until(lambda: (out / "permit-form").exists())
    os.kill(running.pid, signal.SIGKILL)
    ended(running)
    until(lambda: not group_of(running.pid))


def test_only_the_document_that_ends_its_process_is_refused(
    tmp_path: Path, fixtures: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whatever runs beside it, and though a larger document was begun before."""
    plugin = tmp_path / "plugin"
    info = plugin / "cellset_crash-1.0.dist-info"
    info.mkdir(parents=True)
    (plugin / "cellset_crash.py").write_text(
        "import os\n\ndef read(source, settings, findings):\n    os._exit(9)\n"
    )
    (info / "METADATA").write_text("Metadata-Version: 2.1\nName: cellset-crash\nVersion: 1.0\n")
    (info / "entry_points.txt").write_text("[convert.readers]\ncrash = cellset_crash:read\n")
    monkeypatch.syspath_prepend(plugin)
    bad = tmp_path / "bad.crash"
    bad.write_text("x")
    units = [
        (bad, "bad"),
        (fixtures / "permit-form.docx", "a"),
        (fixtures / "river-school.epub", "b"),
    ]
    settings = Settings(code="ueb-uncontracted", write=("brf",))
    records = list(run_batch(units, tmp_path / "out", settings, Engine(workers=2)))
    assert len(records) == 3
    assert {str(r["source"]) for r in records if r["status"] == "refused"} == {str(bad)}


def shelf_of(folder: Path, *names: str) -> Path:
    for name in names:
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text("<p>Sea</p>", "utf-8")
    return folder


def test_hidden_files_and_lock_files_are_no_sources(tmp_path: Path) -> None:
    """A word processor leaves ``~$book.docx``, other systems ``._book.docx``, a killed run of
    this program a hidden working folder."""
    shelf_of(tmp_path, "a.docx", "~$a.docx", "._a.docx", ".cellset-x/a/report.docx")
    assert [path.name for path in find_sources([tmp_path], ["docx"])] == ["a.docx"]


def test_what_a_folder_holds_besides_is_told(tmp_path: Path) -> None:
    shelf_of(
        tmp_path, "a.html", "b.PDF", "c.pdf", "d/notes", "a.job.toml", "x/recipe.json", "x/y.v1.brf"
    )
    assert left_aside([tmp_path], ["html"]) == {"": 1, ".pdf": 2}
    done = started("batch", tmp_path, "--out", tmp_path / "out", *PLAIN)
    _, _, err = ended(done)
    assert "Files of kinds that are not read, left aside: 1 without ending, 2 .pdf.\n" in err


def test_a_list_as_people_write_it(tmp_path: Path) -> None:
    """With a mark of byte order, ends of lines of another system, remarks, names in quotation
    marks, folders."""
    shelf_of(tmp_path, "a b.html", "more/c.html")
    names = tmp_path / "names.txt"
    names.write_bytes(b'\xef\xbb\xbf"a b.html"\r\n\r\n# later:\r\nmore\r\na b.html\r\n')
    found = find_sources([names], ["html"])
    assert [path.name for path in found] == ["a b.html", "c.html"]


@pytest.mark.parametrize(
    "data, says", [(b"caf\xe9.html\n", "not UTF-8 text"), (b"\n# nothing\n", "names no document")]
)
def test_a_list_that_cannot_be_used_is_said(tmp_path: Path, data: bytes, says: str) -> None:
    (tmp_path / "names.txt").write_bytes(data)
    with pytest.raises(JobError, match=says):
        find_sources([tmp_path / "names.txt"], ["html"])


def test_books_of_one_name_keep_their_folders(tmp_path: Path) -> None:
    """Whatever comes to the shelf later, a folder belongs to the file it was made from."""
    out = tmp_path / "out"
    shelf = shelf_of(tmp_path / "shelf", "b/unit.html", "c/unit.html")
    first = ended(started("batch", shelf, "--out", out, *PLAIN, "--json"))[1]
    owners = {row["folder"]: row["source"] for row in json.loads(first)}
    shelf_of(shelf, "a/unit.html")
    second = ended(started("batch", shelf, "--out", out, *PLAIN, "--json"))[1]
    again = {row["folder"]: row["source"] for row in json.loads(second)}
    assert len(again) == 3
    assert again.items() >= owners.items()
    assert [row.get("kept", False) for row in json.loads(second)] == [False, True, True]
    moved = shelf / "b/unit.html"
    moved.unlink()
    names = folder_names([shelf / "d/unit.html"], out)
    assert names == ["unit"], "a folder whose source is gone is free"


def test_a_name_with_bytes_that_are_no_text_is_refused_alone(
    tmp_path: Path, fixtures: Path
) -> None:
    shelf = shelf_of(tmp_path / "shelf", "good.html")
    bad = os.path.join(os.fsencode(shelf), b"caf\xe9.html")
    with open(bad, "wb") as file:
        file.write(b"<p>Sea</p>")
    status, said, _ = ended(started("batch", shelf, "--out", tmp_path / "out", *PLAIN))
    assert status == 3
    assert "caf[byte E9].html: refused. The name of the source" in said
    with (tmp_path / "out" / "summary.csv").open(newline="", encoding="utf-8") as file:
        assert [row["status"] for row in csv.DictReader(file)] == ["refused", "done"]


def test_a_wrong_convention_is_told_once(tmp_path: Path) -> None:
    shelf = shelf_of(tmp_path / "shelf", "a.html", "b.html")
    words = ("batch", shelf, "--out", tmp_path / "out", "--convention", tmp_path / "none.toml")
    status, said, err = ended(started(*words))
    assert status == 2
    assert err.count("there is no such file or folder") == 1
    assert "refused" not in said


def record(name: str, stops: dict[str, int], looks: dict[str, int]) -> dict[str, object]:
    counts = {"stop": sum(stops.values()), "look": sum(looks.values()), "told": 0}
    return {
        "source": name,
        "status": "settle" if stops else "done",
        "folder": f"out/{name}",
        "totals": {"volumes": 1, "braille_pages": 1200, "print_pages": 9, "lost": 0}
        | {"findings": counts},
        "kinds": {"stop": stops, "look": looks},
    }


def test_the_summary_in_words_says_what_needs_a_person_first(tmp_path: Path) -> None:
    records = [
        record("a.epub", {}, {"read.no-print-pages": 1}),
        {"source": "b.epub", "status": "refused", "message": "b.epub is empty."},
        record("c.epub", {"ueb.unknown-character": 2}, {"read.no-print-pages": 1}),
    ]
    text = "\n".join(text_lines(records))
    heard = " ".join(text.split())
    assert heard.startswith(
        "2 documents converted, 1 of them with something to settle before embossing; 1 refused. "
    )
    parts = (
        "Refused: 1 document. b.epub. b.epub is empty.",
        "To settle before embossing: 1 document. c.epub: 2 to settle, 1 to look at, 1 volume,",
        "Kind ueb.unknown-character",
        "2 findings in 2 documents. Kind read.no-print-pages",
        "Nothing to settle: 1 document. a.epub: 1 to look at, 1 volume, 1,200 braille pages.",
    )
    places = [heard.find(part) for part in parts]
    assert places == sorted(places)
    assert -1 not in places
    assert max(map(len, text.splitlines())) < 80
    write_summary(records, tmp_path)
    assert (tmp_path / "summary.txt").read_text("utf-8") == text + "\n"
