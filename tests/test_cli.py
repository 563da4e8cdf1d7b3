"""The command: bad input is one sentence, an exit status, and nothing written."""

from __future__ import annotations

import json
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
