"""A package of somebody else, installed beside the program: found, used, and held to the same
contract.  It is installed the way an installer would, into a folder of its own."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from .conftest import ROOT

SHOUT = ROOT / "fixtures" / "plugin-shout"


def install(target: Path) -> None:
    """What an installer does: copy the package, write its record."""
    project = tomllib.loads((SHOUT / "pyproject.toml").read_text("utf-8"))["project"]
    shutil.copytree(SHOUT / "cellset_shout", target / "cellset_shout")
    record = target / f"cellset_shout-{project['version']}.dist-info"
    record.mkdir()
    (record / "METADATA").write_text(
        f"Metadata-Version: 2.1\nName: {project['name']}\nVersion: {project['version']}\n"
    )
    rows = []
    for group, entries in project["entry-points"].items():
        rows += [f"[{group}]", *(f"{name} = {value}" for name, value in entries.items()), ""]
    (record / "entry_points.txt").write_text("\n".join(rows))


@pytest.fixture(scope="module")
def target(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("site")
    install(folder)
    return folder


def python(target: Path, *args: object, cwd: Path) -> subprocess.CompletedProcess[str]:
    paths = [str(target), str(ROOT)]
    return subprocess.run(
        [sys.executable, *map(str, args)], capture_output=True, text=True, cwd=cwd, timeout=120,
        env={**os.environ, "PYTHONPATH": os.pathsep.join(paths)},
    )  # fmt: skip


def test_it_is_listed_with_its_package(target: Path, tmp_path: Path) -> None:
    done = python(target, "-m", "convert", "plugins", cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    shouts = [line for line in done.stdout.splitlines() if "cellset-shout" in line]
    assert len(shouts) == 4


def test_all_four_at_once(target: Path, tmp_path: Path) -> None:
    done = python(
        target, "-m", "convert", "run", SHOUT / "tests" / "ferry.lines", "--code", "shout",
        "--convention", "shout", "--write", "brf,shout,trace", "--front-pages", "off",
        "--out", tmp_path, cwd=tmp_path,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr + done.stdout
    text = (tmp_path / "ferry" / "ferry.shout.txt").read_text("ascii")
    first = next(line for line in text.splitlines() if "LEAVES" in line)
    assert first == "    ,,,THE FERRY LEAVES AT,' #G3#CJ4"
    brf = (tmp_path / "ferry" / "ferry.v1.brf").read_bytes().decode("ascii")
    assert text.split() == brf.replace("\f", "").split()


def test_its_own_tests_are_the_contract(target: Path, tmp_path: Path) -> None:
    done = python(
        target, "-m", "pytest", "-q", "-p", "no:cacheprovider", "-c", os.devnull,
        "--rootdir", tmp_path, SHOUT / "tests", cwd=tmp_path,
    )  # fmt: skip
    assert done.returncode == 0, done.stdout


def test_without_the_package_the_suffix_is_refused(tmp_path: Path) -> None:
    source = SHOUT / "tests" / "ferry.lines"
    done = python(tmp_path, "-m", "convert", "run", source, "--out", tmp_path, cwd=tmp_path)
    assert done.returncode == 1
    assert "is not a kind of file this program reads" in done.stderr
