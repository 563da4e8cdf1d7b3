"""Web pages to tree: HTML5 with its unclosed tags, XHTML, and what is no page."""

from __future__ import annotations

from pathlib import Path
from textwrap import dedent

import pytest

import convert
from convert.document.nodes import Document
from convert.errors import SourceError
from convert.findings import Findings
from convert.pipeline import read_source
from convert.readers.container import open_source
from convert.settings import Settings
from convert.testing import ReaderContract

from .make import draw, kinds

CASES = {
    "tags that HTML lets stand open [HTML, 13.1.2.4]": (
        "<p>First<p>Second<ul><li>a<li>b<ol type=i><li>c</ol></ul>"
        "<dl><dt>Ebb<dd>Falling<dt>Flow<dd>Rising</dl>",
        """
        Paragraph: First
        Paragraph: Second
        ListBlock kind=bulleted
          ListItem: •
            Paragraph: a
          ListItem: •
            Paragraph: b
            ListBlock kind=numbered
              ListItem: i.
                Paragraph: c
        ListBlock kind=definition
          ListItem
            Paragraph role=term: Ebb
            Paragraph role=definition: Falling
          ListItem
            Paragraph role=term: Flow
            Paragraph role=definition: Rising
        """,
    ),
    "rows and entries left open": (
        "<table><tr><th>x<th>y<tr><td>1<td>2</table>",
        """
        Table
          TableRow head=True
            TableEntry head=True
              Paragraph: x
            TableEntry head=True
              Paragraph: y
          TableRow
            TableEntry
              Paragraph: 1
            TableEntry
              Paragraph: 2
        """,
    ),
    "headings by role": (
        "<h1>One</h1><div role=heading aria-level=3>Three</div>",
        """
        Heading: One
        Heading level=3: Three
        """,
    ),
    "named characters, letters crossed over": (
        "<p>Ebb &mdash; &copy; <b>bold<i> both</b></i>&nbsp;end",
        "Paragraph: Ebb — © <bold|bold><italic bold| both>\u00a0end",
    ),
    "formulas": ("<p>If <math><mi>x</mi></math>", "Paragraph: If [MathRun x]"),
    "menus and banners, where a page says what its main matter is": (
        "<header>Site</header><nav>Home</nav><main><header><h1>One</h1></header><p>Sea</main>"
        "<footer>All rights</footer>",
        """
        Heading: One
        Paragraph: Sea
        """,
    ),
    "a page that does not say is read whole": (
        "<nav>Home</nav><p>Sea<footer>2026</footer>",
        """
        Paragraph: Home
        Paragraph: Sea
        Paragraph: 2026
        """,
    ),
}
CASES["old elements whose white space print keeps [HTML, 16.2]"] = (
    "<p>Sea</p><xmp>a\n b</xmp>",
    """
    Paragraph: Sea
    Paragraph: a /  b
    """,
)
HEAD = "<!DOCTYPE html><html lang=en><head><title>Tides</title><meta name=author content=Ada>"


def made(folder: Path, body: str, head: str = HEAD, name: str = "tides.html") -> Path:
    path = folder / name
    path.write_text(f"{head}<meta charset=utf-8></head><body>{body}</body></html>", "utf-8")
    return path


def read(path: Path, findings: Findings | None = None) -> Document:
    sink = Findings() if findings is None else findings
    return read_source(open_source(path), Settings(), sink)[0]


@pytest.mark.parametrize("title", CASES)
def test_page_to_tree(tmp_path: Path, title: str) -> None:
    body, expected = CASES[title]
    assert draw(read(made(tmp_path, body))) == dedent(expected).strip()


TOLD = {
    "read.site-furniture": "<nav>Home</nav><main><p>Sea</main>",
    "read.script": "<p>Sea<script>x()</script>",
    "read.style-unread": "<link rel=stylesheet href=s.css><p>Sea",
}


@pytest.mark.parametrize("kind", TOLD)
def test_what_is_told(tmp_path: Path, kind: str) -> None:
    findings = Findings()
    read(made(tmp_path, TOLD[kind]), findings)
    assert kind in kinds(findings)


def test_ordinary_html_is_no_fault(tmp_path: Path) -> None:
    findings = Findings()
    read(made(tmp_path, "<p>One<p>Two"), findings)
    assert "read.repaired-markup" not in kinds(findings)


def test_broken_xhtml_is_told(tmp_path: Path) -> None:
    head = '<?xml version="1.0"?><html xmlns="http://www.w3.org/1999/xhtml"><head><title/>'
    path = tmp_path / "tides.xhtml"
    path.write_text(f"{head}</head><body><p>Ebb <b>and</p> flow</body></html>")
    findings = Findings()
    assert "Ebb and" in read(path, findings).ledger.text
    assert "read.repaired-markup" in kinds(findings)


def test_the_head_tells_of_the_page(tmp_path: Path) -> None:
    meta = read(made(tmp_path, "<p>Sea")).meta
    assert (meta.title, meta.authors, meta.language) == ("Tides", ("Ada",), "en")


TITLES = {
    "no head, no body [HTML, 13.1.2.4]": "<!DOCTYPE html><title>Tides</title><h1>One</h1><p>Sea",
    "html without head": "<html lang=en><title>Tides</title><p>Sea</p></html>",
    "XHTML without head": (
        '<html xmlns="http://www.w3.org/1999/xhtml"><title>Tides</title><p>Sea</p></html>'
    ),
    "a title of a drawing comes first": (
        "<body><svg><title>Arrow</title></svg><title>Tides</title><p>Sea"
    ),
    "two titles": "<head><title>Tides</title></head><body><title>Late</title><p>Sea",
}


@pytest.mark.parametrize("title", TITLES)
def test_the_title_of_a_page_is_no_print_and_no_loss(tmp_path: Path, title: str) -> None:
    """A page shows its title nowhere, wherever it stands [HTML, 15.3.1]."""
    path = tmp_path / "tides.html"
    path.write_text(TITLES[title])
    edition = convert.convert(path, code="ueb-uncontracted")
    document = edition.document
    assert document.meta.title == "Tides"
    assert "Tides" not in draw(document)
    assert "Late" not in draw(document)
    found = [f.kind for f in edition.findings]
    assert "print.not-read" not in found
    assert ("read.hidden-text" in found) == (title == "two titles")


def test_style_rules_of_the_page_itself_are_obeyed(tmp_path: Path) -> None:
    head = HEAD + "<style>b { text-transform: uppercase } .no { display: none }</style>"
    assert draw(read(made(tmp_path, "<p><b>sea</b><i class=no>x</i>", head))) == (
        "Paragraph: <bold|SEA>"
    )


def test_nothing_beside_the_file_is_opened(tmp_path: Path) -> None:
    """Pictures keep the name the page gives; neighbours are not read."""
    (tmp_path / "s.css").write_text("p { display: none }")
    (tmp_path / "more.html").write_text("<p>Secret")
    body = "<p>Sea<iframe src=more.html></iframe><img src=../../etc/passwd alt=boat>"
    path = made(tmp_path, body, HEAD + "<link rel=stylesheet href=s.css>")
    document = read(path)
    assert "Secret" not in document.ledger.text
    assert "Sea" in document.ledger.text


@pytest.mark.parametrize(
    ("code", "declared"), [("windows-1252", ""), ("utf-8", ""), ("windows-1252", "windows-1252")]
)
def test_encodings(tmp_path: Path, code: str, declared: str) -> None:
    path = tmp_path / "tides.html"
    meta = f"<meta charset={declared}>" if declared else ""
    path.write_bytes(f"<html><head>{meta}<body><p>café".encode(code))
    findings = Findings()
    assert draw(read(path, findings)) == "Paragraph: café"
    assert ("read.guessed-encoding" in kinds(findings)) == (code != "utf-8" and not declared)


@pytest.mark.parametrize("code", ["utf-16-le", "utf-16-be", "utf-16"])
def test_a_page_of_two_bytes_a_character(tmp_path: Path, code: str) -> None:
    """HTML, 13.2.3.2: a byte-order mark decides; without one, ``<`` with a zero byte beside it."""
    path = tmp_path / "tides.html"
    path.write_bytes("<!DOCTYPE html><title>T</title><p>café \u05e9\u05dc<p>Ebb".encode(code))
    findings = Findings()
    assert draw(read(path, findings)) == "Paragraph: café \u05e9\u05dc\nParagraph: Ebb"
    assert "read.guessed-encoding" not in kinds(findings)


def test_the_whole_way_nothing_is_lost(tmp_path: Path) -> None:
    everything = "".join(body for title, (body, _) in CASES.items() if "menus" not in title)
    edition = convert.convert(made(tmp_path, everything), code="ueb-uncontracted")
    assert edition.totals.lost == 0
    assert {"print.not-read", "print.no-census"}.isdisjoint(f.kind for f in edition.findings)


REFUSED = {
    "a PDF": (b"%PDF-1.7", "is a PDF"),
    "a ZIP": (b"PK\x03\x04abc", "ZIP archive"),
    "plain words": (b"Only words.", "plain text"),
    "too deep": (b"<html><body>" + b"<div>" * 600, "too deep"),
    "no text": (b"<html><body></body></html>", "no text"),
}


@pytest.mark.parametrize("title", REFUSED)
def test_refused_in_a_sentence(tmp_path: Path, title: str) -> None:
    content, words = REFUSED[title]
    path = tmp_path / "tides.html"
    path.write_bytes(content)
    with pytest.raises(SourceError, match=words):
        read(path)


@pytest.fixture(scope="module", autouse=True)
def samples(tmp_path_factory: pytest.TempPathFactory) -> None:
    folder = tmp_path_factory.mktemp("html")
    TestContract.samples = (made(folder, "".join(body for body, _ in CASES.values())),)
    bad = folder / "bad.html"
    bad.write_bytes(b"%PDF-1.7")
    TestContract.hostile = (bad,)


class TestContract(ReaderContract):
    """The contract every reader keeps."""

    name = "html"


def test_line_numbers_of_prose_reach_the_margin_and_nothing_is_lost(tmp_path: Path) -> None:
    """BF 15.3, 15.6: by a class of the number, with print's line ends or without."""
    source = tmp_path / "prose.html"
    source.write_text(
        "<html lang='en'><title>Lake</title><p>Read:</p><p><span class='lineno'>1</span> One sea "
        "<br/>and two<br/><b class='lineno'>3</b>map</p>"
        "<p><span class='lineno'>4</span>so</p></html>"
    )
    edition = convert.convert(source, code="ueb-uncontracted")
    lines = [line for page in edition.volumes[0].pages for line in page.lines]
    assert [line[-2:] for line in lines if line[-2:] in ("⠼⠁", "⠼⠃", "⠼⠉", "⠼⠙")][-5:-1] == [
        "⠼⠁", "⠼⠃", "⠼⠉", "⠼⠙"]  # fmt: skip
    assert (edition.totals.lost, edition.totals.doubled) == (0, 0)


def test_line_numbers_of_verse_reach_the_margin_and_nothing_is_lost(tmp_path: Path) -> None:
    """BF 15.2 to 15.4: a number ends in the last cell, wherever its line has it in the source."""
    source = tmp_path / "poem.html"
    source.write_text(
        "<html lang='en'><title>Poem</title><p>Read:</p><p class='poem'>One sea "
        "<span class='linenum'>5</span><br/>and two<br/><span class='linenum'>10</span>"
        "map</p></html>"
    )
    edition = convert.convert(source, code="ueb-uncontracted")
    lines = [line for page in edition.volumes[0].pages for line in page.lines]
    ends = [line[-4:].strip("⠀") for line in lines if line.startswith(("⠠⠕⠝⠑⠀⠎", "⠍⠁⠏"))]
    assert ends == ["⠼⠑", "⠼⠁⠚"]
    assert (edition.totals.lost, edition.totals.doubled) == (0, 0)
    assert all(finding.kind != "print.not-read" for finding in edition.findings)
