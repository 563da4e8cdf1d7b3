"""The command: bad input is one sentence, an exit status, and nothing written."""

from __future__ import annotations

import contextlib
import json
import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

STATUS_REFUSED, STATUS_USAGE = 1, 2


def cellset(*args: object, cwd: Path | None = None) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "convert", *map(str, args)],
        capture_output=True, text=True, cwd=cwd, timeout=60,
    )  # fmt: skip


def zipped(path: Path, files: dict[str, str]) -> Path:
    with zipfile.ZipFile(path, "w") as package:
        for name, text in files.items():
            package.writestr(name, text)
    return path


CONTAINER = (
    '<container xmlns="urn:oasis:names:tc:opendocument:xmlns:container"><rootfiles>'
    '<rootfile full-path="b.opf" media-type="application/oebps-package+xml"/>'
    "</rootfiles></container>"
)
RIGHTS = (
    '<encryption xmlns="urn:oasis:names:tc:opendocument:xmlns:container" '
    'xmlns:e="http://www.w3.org/2001/04/xmlenc#"><e:EncryptedData>'
    '<e:EncryptionMethod Algorithm="http://www.w3.org/2001/04/xmlenc#aes128-cbc"/>'
    '<e:CipherData><e:CipherReference URI="c.xhtml"/></e:CipherData>'
    "</e:EncryptedData></encryption>"
)
OPF = (
    '<package xmlns="http://www.idpf.org/2007/opf" version="3.0"><metadata/><manifest>'
    '<item id="c" href="c.xhtml" media-type="application/xhtml+xml"/></manifest>{spine}</package>'
)
SPINE = '<spine><itemref idref="c"/></spine>'


def make_bad(kind: str, folder: Path) -> Path:  # noqa: C901 (one case a kind)
    """A source with one thing wrong."""
    path = folder / ("bad.epub" if "EPUB" in kind or "ZIP" in kind else "bad.docx")
    match kind:
        case "missing":
            return path
        case "directory":
            path.mkdir()
        case "empty":
            path.write_bytes(b"")
        case "text named .docx":
            path.write_text("Dear reader, this is a letter.\n")
        case "old binary .doc":
            path.write_bytes(bytes.fromhex("d0cf11e0a1b11ae1") + bytes(2000))
        case "rights-protected EPUB":
            zipped(path, {"mimetype": "application/epub+zip", "META-INF/container.xml": CONTAINER,
                          "META-INF/encryption.xml": RIGHTS, "b.opf": OPF.format(spine=SPINE),
                          "c.xhtml": "\x00\x01not a page"})  # fmt: skip
        case "truncated ZIP":
            zipped(path, {"mimetype": "application/epub+zip", "a.txt": "abc " * 999})
            path.write_bytes(path.read_bytes()[:400])
        case "EPUB without a spine":
            zipped(path, {"mimetype": "application/epub+zip", "META-INF/container.xml": CONTAINER,
                          "b.opf": OPF.format(spine="")})  # fmt: skip
        case "DOCX without a body":
            zipped(path, {"[Content_Types].xml": "<Types/>", "word/document.xml":
                          "<w:document xmlns:w='http://schemas.openxmlformats.org/"
                          "wordprocessingml/2006/main'/>"})  # fmt: skip
        case "unknown kind":
            path = folder / "bad.xyz"
            path.write_text("words")
    return path


BAD = (
    "missing", "directory", "empty", "text named .docx", "old binary .doc",
    "rights-protected EPUB", "truncated ZIP", "EPUB without a spine", "DOCX without a body",
    "unknown kind",
)  # fmt: skip


@pytest.mark.parametrize("kind", BAD)
def test_bad_input_is_refused_in_one_sentence(kind: str, tmp_path: Path) -> None:
    source = make_bad(kind, tmp_path)
    out = tmp_path / "out"
    done = cellset("run", source, "--out", out, "--code", "ueb-uncontracted", "--quiet")
    assert done.returncode == STATUS_REFUSED, done.stderr
    assert done.stdout == ""
    said = done.stderr.strip()
    assert said.startswith("cellset: ")
    assert "\n" not in said
    assert "Traceback" not in said
    assert said.endswith((".", "?"))
    assert said.count(". ") <= 2, said
    assert not out.exists() or not any(out.iterdir())


def test_no_source_is_wrong_usage() -> None:
    done = cellset("run")
    assert done.returncode == STATUS_USAGE
    assert "Name at least one source" in done.stderr


def test_an_unknown_verb_offers_the_nearest() -> None:
    done = cellset("transalte")
    assert done.returncode == STATUS_USAGE
    assert "Did you mean “translate”?" in done.stderr


@pytest.mark.parametrize(
    "option, value, says",
    [
        ("--code", "ubb", "ueb"),
        ("--page", "40by25", "40x25"),
        ("--write", "brf,pdf", "pdf"),
        ("--convention", "bf2015", "bf2016"),
        ("--volume-pages", "2", "10 or more"),
        ("--foreign-tables", "fr", "LANGUAGE=TABLE"),
        ("--foreign-tables", "fr=", "LANGUAGE=TABLE"),
    ],
)
def test_a_wrong_option_says_the_next_step(
    option: str, value: str, says: str, tmp_path: Path, fixtures: Path
) -> None:
    source = fixtures / "river-school.epub"
    done = cellset("run", source, "--out", tmp_path / "out", option, value, "--quiet")
    assert done.returncode == STATUS_USAGE
    assert says in done.stderr
    assert "Traceback" not in done.stderr
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize("verb", ["run", "batch"])
def test_a_folder_that_cannot_be_written_is_said_before_the_work(
    verb: str, tmp_path: Path, fixtures: Path
) -> None:
    (tmp_path / "file").write_text("in the way")
    done = cellset(verb, fixtures / "river-school.epub", "--out", tmp_path / "file" / "out")
    assert done.returncode == STATUS_REFUSED
    assert "cannot be written" in done.stderr
    assert "reading" not in done.stderr


def test_two_sources_with_one_stem_do_not_overwrite_each_other(
    tmp_path: Path, fixtures: Path
) -> None:
    source = (fixtures / "river-school.epub").read_bytes()
    for name in ("one", "two"):
        (tmp_path / name).mkdir()
        (tmp_path / name / "book.epub").write_bytes(source)
    out = tmp_path / "out"
    done = cellset("run", tmp_path / "one/book.epub", tmp_path / "two/book.epub", "--out", out,
                   "--code", "ueb-uncontracted", "--json")  # fmt: skip
    records = json.loads(done.stdout)
    folders = {record["folder"] for record in records}
    assert len(folders) == 2
    assert len(list(out.iterdir())) == 2


def test_one_bad_source_does_not_stop_the_others(tmp_path: Path, fixtures: Path) -> None:
    done = cellset("run", tmp_path / "none.epub", fixtures / "river-school.epub", "--out",
                   tmp_path / "out", "--code", "ueb-uncontracted", "--json")  # fmt: skip
    statuses = [record["status"] for record in json.loads(done.stdout)]
    assert done.returncode == 3
    assert statuses[0] == "refused"
    assert statuses[1] in ("done", "settle")


def test_the_same_source_gives_the_same_bytes(tmp_path: Path, fixtures: Path) -> None:
    def files(name: str) -> dict[str, bytes]:
        formats = "brf,unicode,pef,report,proof,trace"
        source, out = fixtures / "river-school.epub", tmp_path / name
        cellset("run", source, "--out", out, "--code", "ueb-uncontracted", "--write", formats)
        folder = tmp_path / name / "river-school"
        return {path.name: path.read_bytes() for path in folder.iterdir()}

    first = files("one")
    assert {"report.json", "recipe.json", "trace.jsonl", "river-school.v1.brf"} <= first.keys()
    assert first == files("two")


def test_help_is_plain_and_fits() -> None:
    for verb in ("", "run", "check", "explain", "translate", "back", "styles", "plugins"):
        done = cellset(*verb.split(), "--help")
        assert done.returncode == 0
        lines = done.stdout.splitlines()
        assert max(map(len, lines)) <= 80
        assert "\x1b" not in done.stdout


@pytest.mark.parametrize("name, says", [
    ("book.pdf", "ask the publisher for the EPUB or the Word document."),
    ("book.doc", "Open it in a word processor and save it as DOCX."),
    ("book.mobi", "Ask the publisher or seller for the EPUB."),
])  # fmt: skip
def test_a_kind_that_is_not_read_has_a_way_on(name: str, says: str, tmp_path: Path) -> None:
    (tmp_path / name).write_bytes(b"x")
    done = cellset("run", tmp_path / name, "--out", tmp_path / "out")
    assert done.returncode == STATUS_REFUSED
    assert done.stderr.rstrip().endswith(says)


def test_a_folder_in_the_place_of_a_document(tmp_path: Path) -> None:
    """Also the one the command is given in, which has no name of its own."""
    for place in (tmp_path, "."):
        done = cellset("run", place, "--out", tmp_path / "out", "--quiet")
        assert done.returncode == STATUS_REFUSED
        assert "is a folder, not a document." in done.stderr
        assert "cellset batch" in done.stderr


def test_a_short_option_has_its_long_names_said() -> None:
    done = cellset("run", "book.epub", "-o", "out")
    assert done.returncode == STATUS_USAGE
    assert "No such option '-o'. Options are written out: --out." in done.stderr
    assert "written out" not in cellset("run", "book.epub", "-z").stderr


def test_a_missing_source_is_said_whatever_the_folder_holds(tmp_path: Path, fixtures: Path) -> None:
    made = tmp_path / "permit-form.docx"
    made.write_bytes((fixtures / "permit-form.docx").read_bytes())
    plain = ("--out", tmp_path / "out", "--code", "ueb-uncontracted", "--quiet")
    assert cellset("run", made, *plain).returncode != STATUS_REFUSED
    done = cellset("run", tmp_path / "elsewhere" / made.name, *plain)
    assert done.returncode == STATUS_REFUSED
    assert "There is no file permit-form.docx in the folder" in done.stderr


def test_a_file_whose_name_begins_with_a_dash(tmp_path: Path, fixtures: Path) -> None:
    (tmp_path / "--form.docx").write_bytes((fixtures / "permit-form.docx").read_bytes())
    plain = ("--code", "ueb-uncontracted", "--quiet")
    env = {**os.environ, "PYTHONPATH": str(fixtures.parent)}
    command = [sys.executable, "-m", "convert", "run"]
    hint = "If you mean the file of this name, write ./--form.docx"
    wrong = subprocess.run([*command, "--form.docx", *plain], cwd=tmp_path, env=env,
                           capture_output=True, text=True)  # fmt: skip
    assert wrong.returncode == STATUS_USAGE
    assert hint in wrong.stderr
    right = subprocess.run([*command, "./--form.docx", *plain], cwd=tmp_path, env=env)
    assert right.returncode in (0, 3)
    assert (tmp_path / "braille" / "--form" / "--form.v1.brf").exists()


def test_help_is_a_word_too() -> None:
    assert cellset("help", "styles").stdout == cellset("styles", "--help").stdout
    assert cellset("help").stdout == cellset("--help").stdout
    assert "Usage: cellset styles" in cellset("help", "styles").stdout


def test_a_number_that_is_none_is_said_in_plain_words(tmp_path: Path) -> None:
    for words, says in [
        (("--line-spacing", "two"), "“two” is not a whole number from 1 to 3."),
        (("--volume-pages", "nan"), "“nan” is not a whole number of 10 or more."),
    ]:
        done = cellset("run", tmp_path / "x.epub", *words)
        assert done.returncode == STATUS_USAGE
        assert says in done.stderr
    for command in ("run", "batch", "explain", "decide"):
        assert "INTEGER" not in cellset(command, "--help").stdout


@pytest.mark.parametrize("words", [("styles",), ("translate",), ("plugins",)])
def test_a_reader_that_takes_the_first_line_alone(words: tuple[str, ...]) -> None:
    """As in ``cellset styles | head -1``: no complaint, and the command ends."""
    lines = subprocess.PIPE if words == ("translate",) else subprocess.DEVNULL
    running = subprocess.Popen([sys.executable, "-m", "convert", *words], stdin=lines,
                               stdout=subprocess.PIPE, stderr=subprocess.PIPE)  # fmt: skip
    assert running.stdout is not None
    running.stdout.close()
    if running.stdin is not None:
        with contextlib.suppress(BrokenPipeError):
            running.stdin.write(b"cat\n" * 100_000)
    _, err = running.communicate(timeout=30)
    assert (running.returncode, err) == (0, b"")


def test_a_conversion_goes_on_where_nobody_reads_what_it_tells(
    tmp_path: Path, fixtures: Path
) -> None:
    out = tmp_path / "out"
    words = ("run", fixtures / "permit-form.docx", "--out", out, "--code", "ueb-uncontracted")
    running = subprocess.Popen([sys.executable, "-m", "convert", *map(str, words)],
                               stdout=subprocess.PIPE, stderr=subprocess.STDOUT)  # fmt: skip
    assert running.stdout is not None
    running.stdout.close()
    assert running.wait(timeout=60) in (0, 3)
    assert (out / "permit-form" / "report.html").exists()


def test_no_format_and_a_memo_that_cannot_be_kept_are_refused(
    tmp_path: Path, fixtures: Path
) -> None:
    (tmp_path / "file").write_text("")
    for option, value, says in [
        ("--write", "", "No format is to be written."),
        ("--memo", tmp_path / "file", "after --memo cannot be made: a file of this name"),
    ]:
        words = (option, value, "--out", tmp_path / "out")
        done = cellset("run", fixtures / "permit-form.docx", *words)
        assert done.returncode == STATUS_USAGE
        assert says in done.stderr
        assert not (tmp_path / "out").exists()
