"""The rules of the house, kept by machine: imports one way, small pieces, tested findings."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from convert.findings import catalogue

ROOT = Path(__file__).parents[1]
SOURCES = sorted((ROOT / "convert").rglob("*.py"))
# A room may import from rooms of a lower number, and from itself.
RANK = {
    "errors": 0, "collector": 0, "time_limit": 1, "workers": 1, "settings": 0,
    "about": 1, "languages": 0, "findings": 0, "document": 0,
    "plugins": 1, "cleaning": 1, "suspect": 1, "profiles": 2,
    "readers": 1, "maths": 1, "translation": 1,
    "layout": 2, "decisions": 2, "edition": 3, "contracts": 3, "job": 3,
    "writers": 4, "check": 4, "census": 4, "changes": 4, "conserve": 4, "places": 4,
    "profiles_check": 4, "recipe": 4,
    "output": 5,
    "pipeline": 6, "api": 7, "deciding": 8, "comparing": 8, "explain": 8, "testing": 8, "batch": 8,
    "commands": 9,
    "cli": 10, "__main__": 11, "__init__": 12,
}  # fmt: skip

# Edition.write is a convenience over the stage that writes.
ALLOWED = {("edition", "output")}
FIXED = {"__version__"}  # Not a room: a word of the package itself.


def room(path: Path) -> str:
    parts = path.relative_to(ROOT / "convert").parts
    return parts[0].removesuffix(".py")


def imports(path: Path) -> Iterator[str]:
    """Rooms that a module imports, type-checking imports left out."""
    tree = ast.parse(path.read_text("utf-8"))
    only_types = {
        id(inner)
        for node in ast.walk(tree)
        if isinstance(node, ast.If) and ast.unparse(node.test) == "TYPE_CHECKING"
        for inner in ast.walk(node)
    }
    depth = len(path.relative_to(ROOT / "convert").parts)
    for node in ast.walk(tree):
        if id(node) in only_types or not isinstance(node, ast.ImportFrom):
            continue
        if node.level == depth:
            names = [node.module.split(".")[0]] if node.module else [a.name for a in node.names]
            yield from names
        elif node.level == 0 and (node.module or "").startswith("convert."):
            yield (node.module or "").split(".")[1]


@pytest.mark.parametrize("path", SOURCES, ids=lambda p: str(p.relative_to(ROOT)))
def test_imports_point_one_way(path: Path) -> None:
    here = RANK[room(path)]
    wrong = [
        name
        for name in imports(path)
        if name not in FIXED and RANK[name] > here and (room(path), name) not in ALLOWED
    ]
    assert not wrong, f"{path.relative_to(ROOT)} imports upwards: {wrong}"


def test_no_two_rooms_know_each_other() -> None:
    known = {(room(path), name) for path in SOURCES for name in imports(path)}
    both = sorted((a, b) for a, b in known if a < b and (b, a) in known)
    assert both == sorted(ALLOWED)


def test_the_inspector_shares_no_code_with_the_formatter() -> None:
    for path in (ROOT / "convert" / "check").rglob("*.py"):
        assert "layout" not in set(imports(path)), path.name


def test_only_the_gate_reaches_the_native_library() -> None:
    users = {p.name for p in SOURCES if re.search(r"^\s*(import|from) ctypes", p.read_text(), re.M)}
    assert users <= {"louis_gate.py", "louis_gate_tables.py"}


@pytest.mark.parametrize("path", SOURCES, ids=lambda p: str(p.relative_to(ROOT)))
def test_pieces_are_small(path: Path) -> None:
    text = path.read_text("utf-8")
    assert text.count("\n") <= 400, "split by what it is about"
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.FunctionDef):
            length = (node.end_lineno or 0) - node.lineno + 1
            assert length <= 60, f"{node.name} has {length} lines"


def test_public_names_exist() -> None:
    import convert

    for name in convert.__all__:
        assert getattr(convert, name) is not None


def test_every_kind_of_finding_is_raised_in_a_test() -> None:
    texts = "\n".join(p.read_text("utf-8") for p in (ROOT / "tests").rglob("*.py"))
    unraised = [kind for kind in catalogue() if f'"{kind}"' not in texts]
    assert not unraised, f"no test names {unraised}"


def test_every_kind_of_finding_is_used() -> None:
    texts = "\n".join(p.read_text("utf-8") for p in SOURCES)
    unused = [kind for kind in catalogue() if f'"{kind}"' not in texts]
    assert not unused, f"no code files {unused}"


def test_no_machine_paths_or_hosts() -> None:
    words = re.compile(r"(?:^|[^A-Za-z])/(?:work|farm|root)/")
    for path in ROOT.rglob("*"):
        top = path.relative_to(ROOT).parts[0]
        ours = top not in {".venv", "build", "out", "dist"} and path.name != "test_rules.py"
        if ours and path.suffix in {".py", ".md", ".toml", ".html"}:
            assert not words.search(path.read_text("utf-8")), path
