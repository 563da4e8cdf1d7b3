"""What the documents tell a reader to type works as it is written, on documents of such names."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest
from click import Command, Option

from convert.cli import VERBS, group
from convert.job import KEYS, read_job
from convert.layout.convention import load

from .conftest import ROOT
from .make_docs import DOCS
from .readers.make import epub

PAGES = [ROOT / "README.md", ROOT / "DEVELOPERS.md", *sorted(DOCS.glob("*.md"))]
WORDS = {page: page.read_text("utf-8") for page in PAGES}
# 0 done, 3 something to settle; cellset compare says 1 where the two differ.
FINE = (0, 1, 3)
# Needs a tenth of a second at least for each of some thousand documents: not for a suite.
SLOW = ("python -m",)


def blocks(text: str) -> Iterator[tuple[str, str]]:
    """The blocks of code of a page with their language, empty where they are only set in."""
    for found in re.finditer(r"^```(\w*)\n(.*?)^```$", text, re.M | re.S):
        yield found[1], found[2]
    text = re.sub(r"^```.*?^```$", "", text, flags=re.M | re.S)
    for found in re.finditer(r"(?:^    .*\n(?:\n(?=    ))?)+", text, re.M):
        yield "", re.sub("^    ", "", found[0], flags=re.M)


def commands() -> Iterator[tuple[str, str]]:
    for page, text in WORDS.items():
        for _, block in blocks(text) if page.name != "plugins.md" else ():  # Tried by itself.
            for line in block.splitlines():
                if re.match(r"(echo .* \| )?cellset ", line) and not line.startswith(SLOW):
                    yield page.name, line


LINES = list(commands())


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with documents of the names that the pages use, and the command itself."""
    folder = tmp_path_factory.mktemp("desk")
    shelf = folder / "shelf"
    shelf.mkdir()
    book, form = ROOT / "fixtures/river-school.epub", ROOT / "fixtures/permit-form.docx"
    picture = '<figure><img src="map.png"/><figcaption>Map 1</figcaption></figure>'
    epub(folder, picture + "<p>The sea lay still in the harbour all day long.</p>" * 200).rename(
        folder / "book.epub"
    )
    for name in ("BOOK.epub", "OTHER/BOOK.epub"):
        (folder / name).parent.mkdir(exist_ok=True)
        shutil.copy(book, folder / name)
    for name in ("FORM.docx", "LEAFLET.docx", "leaflet.docx", "shelf/form.docx"):
        shutil.copy(form, folder / name)
    shutil.copytree(shelf, folder / "SHELF")
    (folder / "term-1.txt").write_text("shelf/form.docx\n")
    tool = folder / "bin" / "cellset"
    tool.parent.mkdir()
    tool.write_text(f'#!/bin/sh\nexec "{sys.executable}" -m convert "$@"\n')
    tool.chmod(0o755)
    return folder


def typed(line: str, desk: Path) -> subprocess.CompletedProcess[str]:
    path = os.pathsep.join([str(desk / "bin"), os.environ["PATH"]])
    env = {**os.environ, "PATH": path, "PYTHONPATH": str(ROOT)}
    return subprocess.run(
        line, shell=True, cwd=desk, env=env, capture_output=True, text=True, timeout=120
    )


def with_id(line: str, desk: Path) -> str:
    """The line with the id of a finding whose first offer wants words, in the place of the one
    that the page shows."""
    if "3f09a1" not in line:
        return line
    report = json.loads((desk / "out/book/report.json").read_text("utf-8"))
    offers = ((row["id"], "".join(row["offer"][:1])) for row in report["findings"])
    name = next(name for name, first in offers if 'text       = ""' in first)
    return line.replace("3f09a1", name[:6])


@pytest.mark.skipif(os.name != "posix", reason="the pages show a POSIX shell")
def test_every_command_of_the_pages_works_as_written(desk: Path) -> None:
    typed("cellset run BOOK.epub --out OUT --quiet", desk)
    typed("cellset run book.epub --out out --quiet", desk)
    typed("cellset run OTHER/BOOK.epub --out OTHER --quiet", desk)
    for page, line in LINES:
        done = typed(with_id(line, desk), desk)
        assert done.returncode in FINE, f"{page}: {line}\n{done.stdout}{done.stderr}"
        assert done.stdout, f"{page}: {line} says nothing"
    assert len(LINES) > 20


def test_options_that_the_pages_name_are_there() -> None:
    known = {
        name
        for verb in VERBS
        for one in [group.get_command(None, verb)]  # type: ignore[arg-type]
        if isinstance(one, Command)
        for option in one.params
        if isinstance(option, Option)
        for name in option.opts
    } | {"--help", "--version", "--debug", "--"}
    for page, text in WORDS.items():
        for line in re.findall(r"`([^`\n]*--[^`\n]*)`", text):
            for name in re.findall(r"(?<![\w-])--[a-z][a-z-]*", line):
                assert name in known, f"{page.name}: {line}"


def test_every_option_is_explained_in_its_help() -> None:
    for verb in VERBS:
        one = group.get_command(None, verb)  # type: ignore[arg-type]
        assert one is not None
        assert one.help
        for option in one.params:
            assert not isinstance(option, Option) or option.help, f"{verb} {option.name}"


def test_toml_of_the_pages_is_read(tmp_path: Path) -> None:
    """As a job file, as a house style, or as rows of one."""
    found = 0
    for page, text in WORDS.items():
        for language, block in blocks(text):
            if not re.search(r"^\[\[?\w|^\w+ *= ", block, re.M) or language == "python":
                continue
            try:
                table = tomllib.loads(block)
            except tomllib.TOMLDecodeError as error:
                raise AssertionError(f"{page.name}: {error}\n{block}") from error
            found += 1
            path = tmp_path / f"{page.stem}-{found}.toml"
            path.write_text(block, "utf-8")
            if table.get("extends"):
                load(str(path))
            elif table.keys() <= KEYS.keys() | {"decision", "layers", "by", "locked"}:
                for layer in table.get("layers", []):
                    (tmp_path / layer).write_text("", "utf-8")
                read_job(path)
    assert found >= 4


def python_blocks(page: str) -> list[str]:
    return [code for language, code in blocks(WORDS[DOCS / page]) if language == "python"]


def test_scripts_of_the_library_page_run(desk: Path) -> None:
    env = {**os.environ, "PYTHONPATH": str(ROOT)}
    said = []
    for code in python_blocks("python.md"):
        done = subprocess.run(
            [sys.executable, "-W", "error", "-c", code],
            cwd=desk, env=env, capture_output=True, text=True, timeout=120,
        )  # fmt: skip
        assert done.returncode == 0, done.stderr
        said.append(done.stdout)
    assert "form: volumes 1, braille pages" in said[0].replace(os.sep, "/")
    assert "\u2800" in said[1]


def test_the_plugin_of_the_page_works_as_it_is_written(tmp_path: Path) -> None:
    """The three files are typed off the page; the record is what an installer would write."""
    (project,) = [
        code for language, code in blocks(WORDS[DOCS / "plugins.md"]) if language == "toml"
    ]
    module, tests = python_blocks("plugins.md")
    (tmp_path / "cellset_poems.py").write_text(module, "utf-8")
    (tmp_path / "test_poems.py").write_text(tests, "utf-8")
    (tmp_path / "tide.poem").write_text("The Tide\n\nIt comes,\nit goes.\n\nIt stays.\n", "utf-8")
    info = tmp_path / "cellset_poems-1.0.dist-info"
    info.mkdir()
    (info / "METADATA").write_text("Metadata-Version: 2.1\nName: cellset-poems\nVersion: 1.0\n")
    points = tomllib.loads(project)["project"]["entry-points"]
    rows = [
        f"[{name}]\n" + "".join(f"{key} = {value}\n" for key, value in group.items())
        for name, group in points.items()
    ]
    (info / "entry_points.txt").write_text("\n".join(rows))
    env = {**os.environ, "PYTHONPATH": os.pathsep.join([str(ROOT), str(tmp_path)])}
    run = [sys.executable, "-m", "convert", "run", "tide.poem", "--write", "brf,lines"]
    done = subprocess.run([*run, "--code", "ueb-uncontracted"], cwd=tmp_path, env=env,
                          capture_output=True, text=True)  # fmt: skip
    assert done.returncode in (0, 3), done.stderr
    assert (tmp_path / "braille/tide/lines.txt").read_text("utf-8").count("\n") >= 25
    check = [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", "test_poems.py"]
    done = subprocess.run(check, cwd=tmp_path, env=env, capture_output=True, text=True)
    assert done.returncode == 0, done.stdout
    assert " passed" in done.stdout
    types = [sys.executable, "-m", "mypy", "--strict", "cellset_poems.py"]
    done = subprocess.run(types, cwd=tmp_path, env=env, capture_output=True, text=True)
    assert done.returncode == 0, done.stdout


def test_options_of_the_library_are_those_of_the_program() -> None:
    from dataclasses import fields

    from convert.settings import Options, Settings

    assert set(Options.__annotations__) == {f.name for f in fields(Settings)} | {"page"}


@pytest.mark.parametrize(
    "option, value, says",
    [
        ("page", "40", "not a page size"),
        ("cells", "40", "Give it a whole number"),
        ("revisions", "acepted", "The choices are accepted, original, refuse"),
        ("volume_pages", 0, "Use 10 or more"),
        ("write", ("brff",), "Did you mean “brf”"),
        ("front_pages", "off", "Give it True or False"),
        ("runing_head", "x", "Did you mean “running_head”?"),
    ],
)
def test_a_wrong_value_of_the_library_is_refused(option: str, value: object, says: str) -> None:
    import convert

    options: dict[str, object] = {option: value}
    with pytest.raises(convert.ConvertError, match=re.escape(says)):
        convert.convert(ROOT / "fixtures/permit-form.docx", **options)  # type: ignore[arg-type]
