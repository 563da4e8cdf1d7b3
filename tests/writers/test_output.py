"""The folder of an edition appears whole or not at all."""

from __future__ import annotations

import errno
import hashlib
import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from convert import output, plugins
from convert.edition import Edition
from convert.errors import ConvertError, PluginError
from convert.output import unique_stems, write_edition
from convert.writers.names import safe_stem

from .make import river_school

BRF = ("brf", "trace")


def names(folder: Path) -> list[str]:
    return sorted(entry.name for entry in folder.iterdir())


def test_files_in_a_folder_named_after_the_source(tmp_path: Path) -> None:
    folder = write_edition(river_school(), tmp_path / "out", BRF)
    assert folder == tmp_path / "out" / "river-school"
    assert names(folder) == ["recipe.json", "river-school.v1.brf", "trace.jsonl"]
    assert names(tmp_path / "out") == ["river-school"]


def test_all_formats_and_the_same_bytes_twice(tmp_path: Path) -> None:
    formats = ("report", "brf", "unicode", "pef", "proof", "trace")
    first = write_edition(river_school(), tmp_path / "one", formats)
    second = write_edition(river_school(), tmp_path / "two", formats)
    assert names(first) == names(second)
    assert {"report.html", "report.json", "proof.html", "river-school.pef"} <= set(names(first))
    for name in names(first):
        assert (first / name).read_bytes() == (second / name).read_bytes(), name


def test_folder_can_be_read_by_others_as_usual(tmp_path: Path) -> None:
    plain = tmp_path / "plain"
    plain.mkdir()
    folder = write_edition(river_school(), tmp_path, BRF)
    assert folder.stat().st_mode == plain.stat().st_mode


def test_a_second_run_replaces_the_first(tmp_path: Path) -> None:
    write_edition(river_school(), tmp_path, ("brf", "unicode", "trace"))
    folder = write_edition(river_school(volume_pages=1), tmp_path, ("brf",))
    assert names(folder) == ["recipe.json", "river-school.v1.brf", "river-school.v2.brf"]
    assert names(tmp_path) == ["river-school"]


def test_a_persons_own_files_are_carried_over(tmp_path: Path) -> None:
    folder = write_edition(river_school(), tmp_path, BRF)
    (folder / "proofreader.txt").write_text("page 3: see print")
    write_edition(river_school(), tmp_path, BRF)
    assert (folder / "proofreader.txt").read_text() == "page 3: see print"


def test_a_folder_of_something_else_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "river-school").mkdir()
    (tmp_path / "river-school" / "essay.txt").write_text("mine")
    with pytest.raises(ConvertError, match=r"already holds other files.*--out"):
        write_edition(river_school(), tmp_path, BRF)
    assert names(tmp_path / "river-school") == ["essay.txt"]
    assert names(tmp_path) == ["river-school"]


def test_a_folder_of_another_source_is_left_alone(tmp_path: Path) -> None:
    write_edition(river_school(), tmp_path, BRF)
    other = river_school()
    other.source = "river-school.docx"
    with pytest.raises(ConvertError, match=r"another source, river-school\.epub"):
        write_edition(other, tmp_path, BRF)
    assert write_edition(other, tmp_path, BRF, stem="river-school-2").name == "river-school-2"
    assert (tmp_path / "river-school-2" / "river-school-2.v1.brf").exists()


def test_an_empty_folder_is_used_and_a_file_is_not(tmp_path: Path) -> None:
    (tmp_path / "river-school").mkdir()
    write_edition(river_school(), tmp_path, BRF)
    other = tmp_path / "other"
    other.mkdir()
    (other / "river-school").write_text("a file")
    with pytest.raises(ConvertError, match="not a folder"):
        write_edition(river_school(), other, BRF)


@pytest.mark.parametrize(
    "error", [RuntimeError("broken"), KeyboardInterrupt(), OSError(28, "full")]
)
@pytest.mark.parametrize("earlier", [False, True])
def test_nothing_is_left_behind(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, error: BaseException, earlier: bool
) -> None:
    out = tmp_path / "new" / "out"
    if earlier:
        write_edition(river_school(), out, BRF)
    before = sorted((path, path.is_file() and path.read_bytes()) for path in tmp_path.rglob("*"))

    def fail(edition: Edition, folder: Path) -> list[Path]:
        (folder / "half.brf").write_text("half")
        raise error

    monkeypatch.setattr(plugins, "load", lambda group, name: fail)
    with pytest.raises((ConvertError, KeyboardInterrupt)):
        write_edition(river_school(), out, ("brf",))
    after = sorted((path, path.is_file() and path.read_bytes()) for path in tmp_path.rglob("*"))
    assert after == before


def test_a_writer_that_fails_is_named_with_its_package(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(edition: Edition, folder: Path) -> list[Path]:
        raise ValueError("no ink")

    monkeypatch.setattr(plugins, "load", lambda group, name: fail)
    with pytest.raises(PluginError, match=r"“brf” \(package cellset\) failed: ValueError: no ink"):
        write_edition(river_school(), tmp_path, ("brf",))


@pytest.mark.parametrize("at", [1, 2])
def test_an_interruption_while_renaming_restores_the_earlier_run(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, at: int
) -> None:
    folder = write_edition(river_school(), tmp_path, ("brf", "unicode"))
    kept = names(folder)
    rename, calls = os.rename, []

    def interrupted(old: Path, new: Path) -> None:
        calls.append(old)
        if len(calls) == at:
            raise KeyboardInterrupt
        rename(old, new)

    monkeypatch.setattr(output.os, "rename", interrupted)
    with pytest.raises(KeyboardInterrupt):
        write_edition(river_school(), tmp_path, ("brf",))
    assert names(folder) == kept
    assert names(tmp_path) == ["river-school"]


def test_unknown_format_is_refused_before_anything_is_made(tmp_path: Path) -> None:
    with pytest.raises(PluginError, match=r"output format “brff”.*Did you mean “brf”"):
        write_edition(river_school(), tmp_path / "out", ("brff",))
    assert not (tmp_path / "out").exists()


def test_an_output_folder_that_is_a_file(tmp_path: Path) -> None:
    (tmp_path / "out").write_text("")
    with pytest.raises(ConvertError, match=r"cannot be written: .*--out"):
        write_edition(river_school(), tmp_path / "out", BRF)


@pytest.mark.usefixtures("usual_signals")
def test_ctrl_c_of_a_real_process_leaves_nothing(tmp_path: Path) -> None:
    script = (
        "import os, signal, sys\n"
        "from pathlib import Path\n"
        "from convert import output, plugins\n"
        "from tests.writers.make import river_school\n"
        "def write(edition, folder):\n"
        "    (folder / 'half').write_text('x')\n"
        "    os.kill(os.getpid(), signal.SIGINT)\n"
        "plugins.load = lambda group, name: write\n"
        "output.write_edition(river_school(), Path(sys.argv[1]), ('brf',))\n"
    )
    root = Path(__file__).parents[2]
    done = subprocess.run(
        [sys.executable, "-c", script, str(tmp_path / "out")], cwd=root, capture_output=True
    )
    assert b"KeyboardInterrupt" in done.stderr
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    "given, stems",
    [
        (["a.epub", "b.docx"], ["a", "b"]),
        (["x/a.epub", "y/a.docx", "z/a.epub"], ["a", "a-2", "a-3"]),
        (["a.epub", "a.docx", "a-2.epub"], ["a", "a-3", "a-2"]),
        (["Book.epub", "book.docx"], ["Book", "book-2"]),
        (["caf\u00e9.epub", "cafe\u0301.epub"], ["caf\u00e9", "cafe\u0301-2"]),
    ],
)
def test_stems_of_one_run_never_meet(given: list[str], stems: list[str]) -> None:
    assert unique_stems(given) == stems


@pytest.mark.parametrize(
    "name, stem",
    [
        ("book.epub", "book"),
        ("my book. .epub", "my book"),
        ("..epub", "document"),
        ("...epub", "document"),
        (".epub", ".epub"),
        ("a\u202eb\x07.epub", "ab"),
        ("b" * 300 + ".epub", "b" * 180),
        ("ünï.epub", "ünï"),
    ],
)
def test_stem_of_a_name(name: str, stem: str) -> None:
    assert safe_stem(name) == stem


def test_recipe_stands_beside_the_files(tmp_path: Path) -> None:
    folder = write_edition(river_school(), tmp_path, BRF)
    recipe = json.loads((folder / "recipe.json").read_text("utf-8"))
    assert recipe["source"]["name"] == "river-school.epub"
    assert recipe["files"] == names(folder)


def test_same_bytes_whatever_the_seed_of_hashes(tmp_path: Path) -> None:
    script = (
        "import sys\n"
        "from pathlib import Path\n"
        "from convert.output import write_edition\n"
        "from tests.writers.make import river_report\n"
        "formats = ('brf', 'unicode', 'pef', 'proof', 'report', 'trace')\n"
        "write_edition(river_report(12, volume_pages=1), Path(sys.argv[1]), formats)\n"
    )
    root = Path(__file__).parents[2]
    for seed in ("1", "2"):
        arguments = [sys.executable, "-c", script, str(tmp_path / seed)]
        subprocess.run(arguments, cwd=root, check=True, env={**os.environ, "PYTHONHASHSEED": seed})
    one, two = (tmp_path / seed / "river-school" for seed in ("1", "2"))
    assert names(one) == names(two)
    assert len(names(one)) > 12
    for name in names(one):
        assert (one / name).read_bytes() == (two / name).read_bytes(), name


def recorded(source: Path, words: str) -> Edition:
    """The edition of a source of this content, as a conversion records it."""
    source.parent.mkdir(parents=True, exist_ok=True)
    source.write_text(words)
    sha256 = hashlib.sha256(source.read_bytes()).hexdigest()
    edition = river_school()
    edition.recipe = {"source": {"name": edition.source, "sha256": sha256}, "path": str(source)}
    return edition


def test_another_source_of_the_same_name_is_not_replaced(tmp_path: Path) -> None:
    """Textbooks of two courses may both be called unit-1.docx."""
    name, out = river_school().source, tmp_path / "out"
    write_edition(recorded(tmp_path / "a" / name, "one"), out, BRF)
    with pytest.raises(ConvertError, match=rf"another source of this name, .*a.{name}\. Choose"):
        write_edition(recorded(tmp_path / "b" / name, "two"), out, BRF)
    write_edition(recorded(tmp_path / "a" / name, "one, edited"), out, BRF)
    write_edition(recorded(tmp_path / "copy" / name, "one, edited"), out, BRF)
    (tmp_path / "copy" / name).rename(tmp_path / "b" / name)
    write_edition(recorded(tmp_path / "b" / name, "moved and edited"), out, BRF)


def test_runs_at_the_same_time_into_one_new_folder(tmp_path: Path) -> None:
    """Each makes the folder and removes it while it is empty."""
    script = (
        "import sys\n"
        "from pathlib import Path\n"
        "from convert import output\n"
        "for turn in range(400):\n"
        "    output.check_out(Path(sys.argv[1]) / 'deep' / 'out')\n"
    )
    root = Path(__file__).parents[2]
    command = [sys.executable, "-c", script, str(tmp_path)]
    running = [subprocess.Popen(command, cwd=root, stderr=subprocess.PIPE) for _ in range(3)]
    assert [process.communicate()[1] for process in running] == [b"", b"", b""]


def test_a_run_that_was_quicker_goes_aside_and_what_a_person_put_there_stays(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    target = write_edition(river_school(), tmp_path, BRF)
    (target / "notes.txt").write_text("mine")
    rename, quicker = os.rename, []

    def renamed(old: str | Path, new: str | Path) -> None:
        rename(old, new)
        if Path(old) == target and not quicker:
            quicker.append(True)
            shutil.copytree(new, target)
            (target / "later.txt").write_text("mine too")
            (target / "notes.txt").unlink()

    monkeypatch.setattr(os, "rename", renamed)
    write_edition(river_school(), tmp_path, BRF)
    assert quicker
    assert (target / "notes.txt").read_text() == "mine"
    assert (target / "later.txt").read_text() == "mine too"
    assert names(tmp_path) == ["river-school"]


@pytest.mark.parametrize(
    "number, says",
    [
        (errno.ENOSPC, "the disk is full. Nothing was written. Make room, or choose"),
        (errno.EROFS, "the disk can only be read. Nothing was written. Mend that, or choose"),
        (errno.EACCES, "this account has no permission"),
    ],
)
def test_why_nothing_could_be_written_is_said_in_plain_words(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int, says: str
) -> None:
    def fails(edition: Edition, folder: Path) -> None:
        raise OSError(number, os.strerror(number), "x")

    monkeypatch.setattr(plugins, "load", lambda group, name: fails)
    with pytest.raises(ConvertError, match=says):
        write_edition(river_school(), tmp_path / "out", BRF)
    assert not (tmp_path / "out").exists()
