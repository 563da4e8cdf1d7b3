"""Strings made to act, in every place of a document that is shown to a person.

Print is shown as text in HTML, no cell of a table file is a formula, nothing moves a terminal's
cursor (ECMA-48), an embosser gets braille only.
"""

from __future__ import annotations

import csv
import json
import re
import subprocess
import sys
from html import escape
from html.parser import HTMLParser
from pathlib import Path

import pytest

from tests.readers.make import epub

PAYLOADS = [
    "<script>alert(1)</script>",
    "\"><img src=x onerror=alert(1)>",
    "' onmouseover='alert(1)' x='",
    "</style></title></textarea><svg onload=alert(1)>",
    "<!-- --><iframe src=javascript:alert(1)>",
    "{{ 7 * 7 }} {% for x in y %} ${7*7}",
    "=HYPERLINK(\"http://example.org/\")",
    "@SUM(1)+cmd|' /C calc'!A0",
    "\u202egnp.exe\u2066\u200b",
    "\x9b2J\x85\x9d0;title\x9c",
]  # fmt: skip
CONTROL = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f]")
# Links within a page, and to the other files of the edition.
OWN = re.compile(
    r"#|(report|changes|proof(\.v\d+)?)\.html(#|$)|(pictures|signature|decisions)\.csv$"
)
ELEMENTS = {"script", "img", "svg", "iframe", "object", "embed", "form", "base", "textarea"}


class Watcher(HTMLParser):
    """Counts elements and attributes that could act."""

    def __init__(self) -> None:
        super().__init__()
        self.acting: list[str] = []
        self.tags: dict[str, int] = {}

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags[tag] = self.tags.get(tag, 0) + 1
        if tag in ELEMENTS - {"script"}:
            self.acting.append(tag)
        for name, value in attrs:
            away = name in ("href", "src", "action") and not OWN.match(value or "")
            if name.startswith("on") or away:
                self.acting.append(f"{tag} {name}={value}")


def hostile_book(folder: Path, payload: str) -> Path:
    """A payload as title, author, heading, class, page label, alternative text, note and link."""
    said = escape(payload).replace("\x9b", "&#x9b;")
    body = (
        f'<span epub:type="pagebreak" title="{said}"/><h1 class="{said}" id="{said}">{said}</h1>'
        f'<p>{said} <a href="{said}">{said}</a></p><img src="{said}" alt="{said}"/>'
        f'<table summary="{said}"><caption>{said}</caption><tr><td>{said}</td>'
        "<td>b</td></tr></table>"
        f'<input type="text" name="{said}"/><p lang="{said}">{said}</p><odd-{len(payload)}>{said}'
        f"</odd-{len(payload)}>"
    )
    metadata = (
        f"<dc:title>{said}</dc:title><dc:creator>{said}</dc:creator>"
        f"<dc:language>{said}</dc:language><dc:publisher>{said}</dc:publisher>"
    )
    return epub(folder, body, metadata=metadata)


def run(*args: object) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "convert", *map(str, args)]
    return subprocess.run(command, capture_output=True, text=True, timeout=60)


@pytest.fixture(scope="module")
def plain(tmp_path_factory: pytest.TempPathFactory) -> set[str]:
    """The elements that report and proof use where nothing is hostile."""
    folder = tmp_path_factory.mktemp("plain")
    done = run("run", hostile_book(folder, "Sea"), "--out", folder, "--code", "ueb-uncontracted")
    assert done.returncode in (0, 3), done.stderr
    tags = {"h4"}  # Each of several findings of one kind.
    for path in folder.rglob("*.html"):
        watcher = Watcher()
        watcher.feed(path.read_text("utf-8"))
        assert not watcher.acting
        tags |= set(watcher.tags)
    return tags


@pytest.mark.parametrize("payload", PAYLOADS)
def test_print_that_would_act(tmp_path: Path, plain: set[str], payload: str) -> None:
    source = hostile_book(tmp_path, payload)
    name = re.sub(r"[/\x00-\x1f]", "_", payload)[:60]
    source = source.rename(tmp_path / f"{name}.epub")
    out = tmp_path / "out"
    done = run("run", source, "--out", out, "--code", "ueb-uncontracted")
    assert done.returncode in (0, 3), done.stderr
    assert not CONTROL.search(done.stdout + done.stderr)

    pages = sorted(out.rglob("*.html"))
    assert {path.name for path in pages} >= {"report.html", "proof.html"}
    for path in pages:
        text = path.read_text("utf-8")
        watcher = Watcher()
        watcher.feed(text)
        assert not watcher.acting
        assert set(watcher.tags) <= plain
        assert "49" not in re.findall(r"\b49\b", text) or "7 * 7" not in payload
        assert not CONTROL.search(text)
        assert not re.search("[\u202a-\u202e\u2066-\u2069]", text)

    tables = sorted(out.rglob("*.csv"))
    assert tables
    for path in tables:
        for row in csv.reader(path.read_text("utf-8-sig").splitlines()):
            assert not [cell for cell in row if cell[:1] in "=+-@\t\r" and cell]

    (brf,) = out.rglob("*.brf")
    assert re.fullmatch(rb"[\x20-\x5f\r\n\f]*", brf.read_bytes())
    assert brf.resolve().is_relative_to(out.resolve())
    assert not CONTROL.search(brf.name)


@pytest.mark.parametrize("payload", PAYLOADS)
def test_a_refusal_is_shown_as_text(tmp_path: Path, payload: str) -> None:
    name = re.sub(r"[/\x00]", "_", payload)[:60]
    path = tmp_path / f"\x1b]0;{name}\x07.epub"
    path.write_bytes(b"PK\x03\x04 cut")
    done = run("run", path, "--out", tmp_path / "out")
    assert done.returncode == 1
    assert "cut short" in done.stderr
    assert not CONTROL.search(done.stdout + done.stderr.replace("\n", " "))
    assert not (tmp_path / "out").exists()


def test_json_and_usage_do_not_steer_the_terminal(tmp_path: Path) -> None:
    path = tmp_path / "\x9b2J.epub"
    path.write_bytes(b"PK\x03\x04 cut")
    done = run("run", path, "--out", tmp_path / "out", "--json")
    assert done.returncode == 1
    assert json.loads(done.stdout)[0]["source"] == str(path)
    assert not CONTROL.search(done.stdout + done.stderr)
    done = run("run", path, "--out", tmp_path / "out", "--wri\x9bte", "brf")
    assert done.returncode == 2
    assert "No such option" in done.stderr
    assert not CONTROL.search(done.stdout + done.stderr)
