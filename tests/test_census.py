"""The second count of the source: what a reader skips is named, whatever the reader says."""

from __future__ import annotations

import zipfile
from pathlib import Path

import pytest

from convert.census import _quick_word_text, _word_text, census
from convert.document.ledger import Ledger, LedgerBuilder
from convert.findings import Findings
from convert.readers.container import open_source
from tests.readers.make_docx import docx


def recount(path: Path, ledger: Ledger) -> tuple[int, list[str]]:
    found = Findings()
    missing = census(open_source(path), path.suffix[1:], ledger, found)
    return missing, [f.kind for f in found.all()]


def without(ledger: Ledger, words: str) -> Ledger:
    """The ledger a reader would have made that skipped the piece holding some words."""
    builder = LedgerBuilder()
    for piece in ledger.pieces:
        text = ledger.text[piece.start : piece.end]
        if words not in text:
            builder.add(text, piece.part, piece.path, piece.char, piece.kind)
    return builder.build()


@pytest.mark.parametrize("name", ["river-school.epub", "permit-form.docx"])
def test_a_whole_ledger_misses_nothing(name: str, fixtures: Path) -> None:
    from convert.api import read

    assert recount(fixtures / name, read(fixtures / name).ledger) == (0, [])


@pytest.mark.parametrize(
    "name, words",
    [("river-school.epub", "takes you along its"), ("permit-form.docx", "Read the rules")],
)
def test_a_skipped_text_node_is_named(name: str, words: str, fixtures: Path) -> None:
    from convert.api import read

    ledger = read(fixtures / name).ledger
    assert words in ledger.text
    missing, kinds = recount(fixtures / name, without(ledger, words))
    assert missing >= len(words.replace(" ", ""))
    assert kinds == ["print.not-read"]


def test_a_kind_of_file_without_a_count_is_said(tmp_path: Path) -> None:
    path = tmp_path / "poem.lines"
    path.write_text("a line\n")
    assert recount(path, LedgerBuilder().build()) == (0, ["print.no-census"])


W = "http://schemas.openxmlformats.org/wordprocessingml/2006/main"


@pytest.mark.parametrize(
    ("runs", "quick"),
    [
        ('<w:r><w:t>Fish &amp; chips</w:t></w:r><w:t xml:space="preserve"> now</w:t>', True),
        ("<w:t>It&#x27;s &lt;here&gt;, &quot;so&quot;</w:t><w:tab/><w:t/>", True),
        ("<w:t>pi: &#960;</w:t>", False),
        ("<w:t><![CDATA[kept as it is]]></w:t>", False),
        (f'<x:t xmlns:x="{W}">another prefix</x:t>', False),
    ],
)
def test_the_quick_look_says_what_the_careful_one_says_or_nothing(runs: str, quick: bool) -> None:
    part = f'<w:document xmlns:w="{W}"><w:body><w:p>{runs}</w:p></w:body></w:document>'
    data = part.encode()
    careful = "".join(_word_text(data))
    assert _quick_word_text(data) == (careful.encode() if quick else None)


def test_words_in_a_wrapping_the_quick_look_cannot_see_are_missed_all_the_same(
    tmp_path: Path,
) -> None:
    body = "<w:p><w:r><w:t>Seen.</w:t></w:r><w:r><w:t><![CDATA[Unseen.]]></w:t></w:r></w:p>"
    path = docx(tmp_path, body)
    builder = LedgerBuilder()
    builder.add("Seen.", "word/document.xml", "/2/2/2/2")
    assert recount(path, builder.build()) == (len("Unseen."), ["print.not-read"])


def test_a_web_page_inside_a_word_document_is_counted(tmp_path: Path) -> None:
    """ISO/IEC 29500-1, 17.17.2: what of an imported page was skipped is named as well."""
    from convert.api import read

    from .readers.make_docx import docx, p

    path = docx(tmp_path, p("a") + '<w:altChunk r:id="x1"/>', links="x1 aFChunk notes.html")
    with zipfile.ZipFile(path, "a") as archive:
        archive.writestr("word/notes.html", "<title>Tides</title><p>Ebb<p>Flow &amp; slack")
    ledger = read(path).ledger
    assert recount(path, ledger) == (0, [])
    assert recount(path, without(ledger, "Flow")) == (10, ["print.not-read"])


def test_a_strict_word_document_is_counted(tmp_path: Path) -> None:
    """ISO/IEC 29500-1, conformance strict: the same elements under other names."""
    from convert.api import read

    from .readers.make import pack
    from .readers.make_docx import TYPES, docx, p, relations

    path = docx(tmp_path, p("Ebb") + p("Flow"))
    with zipfile.ZipFile(path) as archive:
        plain = archive.read("word/document.xml").decode()
    strict = plain.replace(
        "http://schemas.openxmlformats.org/wordprocessingml/2006/main",
        "http://purl.oclc.org/ooxml/wordprocessingml/main",
    )
    files: dict[str, str | bytes] = {
        "[Content_Types].xml": TYPES,
        "_rels/.rels": relations(("m", "officeDocument", "word/document.xml")),
        "word/document.xml": strict,
    }
    path = pack(tmp_path / "strict.docx", files)
    ledger = read(path).ledger
    assert recount(path, ledger) == (0, [])
    assert recount(path, without(ledger, "Flow")) == (4, ["print.not-read"])
