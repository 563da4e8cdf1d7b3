"""Whole Word packages: parts by relationship, strict files, damage, and documents of others."""

from __future__ import annotations

import importlib.util
import random
import sys
from collections import Counter
from pathlib import Path
from types import ModuleType

import docx as library
import pytest

from convert.census import census
from convert.document.ledger import LedgerBuilder
from convert.document.nodes import walk
from convert.errors import ConvertError, SourceError
from convert.findings import Findings
from convert.readers.container import open_source
from convert.readers.docx import read
from convert.settings import Settings
from convert.testing import ReaderContract, uncovered

from ..conftest import CORPORA
from .make import kinds, pack
from .make_docx import (
    LINKS,
    OFFICE,
    TYPES,
    docx,
    draw,
    load,
    messages,
    p,
    part,
    r,
    relations,
    style,
)

CORE = (
    '<cp:coreProperties xmlns:cp="http://schemas.openxmlformats.org/package/2006/metadata/'
    'core-properties" xmlns:dc="http://purl.org/dc/elements/1.1/"><dc:title>Tides</dc:title>'
    "<dc:creator>Ada Pilot; Ben Lock</dc:creator><dc:language>en-GB</dc:language>"
    "</cp:coreProperties>"
)


def bare(folder: Path, files: dict[str, str | bytes], name: str = "harbour.docx") -> Path:
    return pack(folder / name, {"[Content_Types].xml": TYPES, **files})


# ---------------------------------------------------------------- parts


def test_the_main_part_may_have_any_name(tmp_path: Path) -> None:
    files: dict[str, str | bytes] = {
        "_rels/.rels": relations(("m", "officeDocument", "/text/main2.xml")),
        "text/main2.xml": part("document", f"<w:body>{p('Sea')}</w:body>"),
    }
    document, _ = load(bare(tmp_path, files))
    assert draw(document) == "Paragraph 'Sea'"
    assert document.ledger.address(0) == "text/main2.xml!/2/2/2/2:0"


@pytest.mark.parametrize("suffix", ["docm", "dotx", "dotm"])
def test_macro_files_and_patterns_are_read_alike(tmp_path: Path, suffix: str) -> None:
    path = docx(tmp_path, p("Sea"))
    other = path.rename(tmp_path / f"harbour.{suffix}")
    assert draw(load(other)[0]) == "Paragraph 'Sea'"


def test_without_relationships_the_usual_name_is_tried(tmp_path: Path) -> None:
    files: dict[str, str | bytes] = {
        "word/document.xml": part("document", f"<w:body>{p('Sea')}</w:body>")
    }
    assert draw(load(bare(tmp_path, files))[0]) == "Paragraph 'Sea'"


def test_the_content_types_may_name_the_main_part(tmp_path: Path) -> None:
    kind = "application/vnd.openxmlformats-officedocument.wordprocessingml.template.main+xml"
    types = TYPES.replace("/>", f'><Override PartName="/x/y.xml" ContentType="{kind}"/></Types>')
    files: dict[str, str | bytes] = {
        "[Content_Types].xml": types,
        "x/y.xml": part("document", f"<w:body>{p('Sea')}</w:body>"),
    }
    assert draw(load(pack(tmp_path / "harbour.dotx", files))[0]) == "Paragraph 'Sea'"


def test_strict_documents_are_read_in_transitional_names(tmp_path: Path) -> None:
    """ISO/IEC 29500-1, conformance strict: other namespaces, lengths with units."""
    text = part(
        "document",
        f"<w:body>{p(r('Sea', 'b'), 'Head', '<w:ind w:start=&quot;12pt&quot;/>')}</w:body>",
    ).replace("&quot;", '"')
    styles = part("styles", style("heading 1", style_id="Head"))

    def strict(xml: str) -> str:
        for room in ("wordprocessingml", "officeDocument", "drawingml"):
            xml = xml.replace(
                f"http://schemas.openxmlformats.org/{room}/2006",
                f"http://purl.oclc.org/ooxml/{room}",
            )
        return xml

    files: dict[str, str | bytes] = {
        "_rels/.rels": strict(relations(("m", "officeDocument", "word/document.xml"))),
        "word/document.xml": strict(text),
        "word/_rels/document.xml.rels": strict(relations(("s", "styles", "styles.xml"))),
        "word/styles.xml": strict(styles),
    }
    assert draw(load(bare(tmp_path, files))[0]) == "Heading level=1 'Sea'/2"


def test_targets_that_lead_nowhere_do_no_harm(tmp_path: Path) -> None:
    links = "a image NULL\nb image ../NULL\nc hyperlink #_top\nd styles gone.xml"
    document, findings = load(docx(tmp_path, p("Sea"), links=links))
    assert draw(document) == "Paragraph 'Sea'"
    assert kinds(findings) == []


def test_a_broken_part_beside_the_text_is_a_finding(tmp_path: Path) -> None:
    files: dict[str, str | bytes] = {
        "_rels/.rels": relations(("m", "officeDocument", "word/document.xml")),
        "word/document.xml": part("document", f"<w:body>{p('Sea')}</w:body>"),
        "word/_rels/document.xml.rels": relations(("s", "styles", "styles.xml")),
        "word/styles.xml": "<w:styles",
    }
    document, findings = load(bare(tmp_path, files))
    assert draw(document) == "Paragraph 'Sea'"
    assert "word/styles.xml" in messages(findings)["docx.part-unreadable"]


def test_what_the_file_says_of_itself(tmp_path: Path) -> None:
    """Only authors whom print names: the word processor's own user is none (BF 2.3)."""
    core = "http://schemas.openxmlformats.org/package/2006/relationships/metadata"
    rows = (
        f'<Relationship Id="m" Type="{OFFICE}/officeDocument" Target="word/document.xml"/>'
        f'<Relationship Id="c" Type="{core}/core-properties" Target="docProps/core.xml"/>'
    )
    files: dict[str, str | bytes] = {
        "_rels/.rels": LINKS.format(rows),
        "word/document.xml": part("document", f"<w:body>{p('By ADA  Pilot')}</w:body>"),
        "docProps/core.xml": CORE,
    }
    meta = load(bare(tmp_path, files))[0].meta
    assert (meta.title, meta.authors, meta.language) == ("Tides", ("Ada Pilot",), "en-GB")


def test_nothing_is_made_up_without_a_description(tmp_path: Path) -> None:
    assert load(docx(tmp_path, p("Sea")))[0].meta.title == ""
    styled = docx(tmp_path, p("High Water", "Title"), styles=style("Title"))
    assert load(styled)[0].meta.title == "High Water"


# ---------------------------------------------------------------- refusals


@pytest.mark.parametrize(
    "content, says",
    [
        (part("document", ""), "has no body"),
        (part("styles", ""), "is not a Word document"),
        ("<w:document", "cannot be read"),
        ('<!DOCTYPE x [<!ENTITY a "b">]><x>&a;</x>', "document type declaration"),
    ],
)
def test_a_main_part_that_is_no_text_is_refused(tmp_path: Path, content: str, says: str) -> None:
    files: dict[str, str | bytes] = {"word/document.xml": content}
    with pytest.raises(SourceError, match=says):
        load(bare(tmp_path, files))


def test_a_package_without_a_main_part_is_refused(tmp_path: Path) -> None:
    with pytest.raises(SourceError, match="names no main part"):
        load(bare(tmp_path, {"word/other.xml": "<x/>"}))


def _said_of(path: Path) -> str:
    """The sentence of the error that refuses a document, or nothing if it was read whole."""
    try:
        document = read(open_source(path), Settings(), Findings())
    except ConvertError as error:
        return str(error)
    return "; ".join(uncovered(document))


def test_damaged_files_give_a_document_or_a_sentence(tmp_path: Path) -> None:
    """Cut at every tenth, and with random bytes changed."""
    path = docx(tmp_path, p("Sea " * 50), styles=style("Title"))
    data = path.read_bytes()
    rng = random.Random(8)
    for turn in range(40):
        if turn < 10:
            harmed = data[: len(data) * turn // 10] or b"P"
        else:
            harmed = bytearray(data)
            for _ in range(5):
                harmed[rng.randrange(len(harmed))] = rng.randrange(256)
        path.write_bytes(harmed)
        said = _said_of(path)
        assert said == "" or said.endswith("."), said


# ---------------------------------------------------------------- the ledger


def test_addresses_lead_back_to_the_text(tmp_path: Path) -> None:
    """The steps are those of the EPUB CFI: twice the place among the elements."""
    path = docx(tmp_path, p(r("low ") + f"<w:smartTag>{r('wa')}</w:smartTag>" + r("ter")))
    ledger = load(path)[0].ledger
    assert ledger.text == "low water\n"
    assert ledger.address(5) == "word/document.xml!/2/2/4/2/2:1"
    assert ledger.address(6) == "word/document.xml!/2/2/6/2:0"


def test_a_file_made_by_a_library(tmp_path: Path) -> None:
    made = library.Document()
    made.add_heading("Harbour Rules", 0)
    made.add_heading("Mooring", 1)
    made.add_paragraph("Ropes first.", style="List Bullet")
    made.add_paragraph("Then fenders.", style="List Number")
    line = made.add_paragraph("Keep ")
    line.add_run("clear").bold = True
    table = made.add_table(1, 2, style="Table Grid")
    table.cell(0, 0).text, table.cell(0, 1).text = "Berth", "Depth"
    made.save(str(tmp_path / "rules.docx"))
    assert draw(load(tmp_path / "rules.docx")[0]) == (
        "Heading level=1 role=title 'Harbour Rules'\n"
        "Heading level=1 'Mooring'\n"
        "ListBlock kind=bulleted\n  ListItem '•'\n    Paragraph 'Ropes first.'\n"
        "ListBlock kind=numbered\n  ListItem '1.'\n    Paragraph 'Then fenders.'\n"
        "Paragraph 'Keep ' 'clear'/2\n"
        "Table\n  TableRow\n    TableEntry\n      Paragraph 'Berth'\n"
        "    TableEntry\n      Paragraph 'Depth'"
    )


@pytest.fixture(scope="session", autouse=True)
def _contract_samples(tmp_path_factory: pytest.TempPathFactory) -> None:
    folder = tmp_path_factory.mktemp("contract")
    note = f'<w:footnote w:id="2">{p("Low water.")}</w:footnote>'
    body = p(r("Sea") + '<w:r><w:footnoteReference w:id="2"/></w:r>') + p(r("x", "vanish"))
    TestContract.samples = (docx(folder, body, footnotes=note),)
    TestContract.hostile = (pack(folder / "empty.docx", {"[Content_Types].xml": TYPES}),)


class TestContract(ReaderContract):
    """The contract every reader keeps."""

    name = "docx"


# ---------------------------------------------------------------- the second count


def test_the_census_counts_what_print_shows_and_no_more(tmp_path: Path) -> None:
    rule = '<w:footnote w:type="separator" w:id="-1">' + p("_____") + "</w:footnote>"
    glyph = r("a", '<w:rFonts w:ascii="Symbol"/>')
    gone = '<w:del w:author="B"><w:r><w:delText>never</w:delText></w:r></w:del>'
    path = docx(tmp_path, p(r("Sea") + glyph + gone + r("x", "vanish")), footnotes=rule)
    document, findings = load(path)
    assert census(open_source(path), "docx", document.ledger, findings) == 0


def test_the_census_finds_words_the_ledger_lacks(tmp_path: Path) -> None:
    path = docx(tmp_path, p("Sea"))
    findings = Findings()
    assert census(open_source(path), "docx", LedgerBuilder().build(), findings) == 3
    assert kinds(findings) == ["print.not-read"]


# ---------------------------------------------------------------- documents of others


def _documents(folder: str) -> list[Path]:
    found = (CORPORA / folder).glob("*.do[ct][xm]") if CORPORA.is_dir() else ()
    return sorted(found)


def _measure() -> ModuleType:
    spec = importlib.util.spec_from_file_location("measure_text", CORPORA / "measure_text.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module


# Documents whose reference text has words this reader rightly shows otherwise.
KNOWN = {
    "docx4j-symbols": "glyphs of symbol fonts without a row in symbol_fonts.toml, each reported",
    "oxsdk-text-sym": "letters in a symbol font, which print shows as signs, each reported",
    "oxsdk-numfmt-endnote-numbering-format-val-40-none": "note numbers that print does not show",
}


@pytest.mark.slow
@pytest.mark.skipif(not _documents("dev"), reason="the corpus of documents is not here")
def test_no_word_of_real_documents_is_lost() -> None:
    """At least 99 % of the words of one of the two reference texts, and no gap in the tree."""
    measure = _measure()
    short: list[str] = []
    for path in _documents("dev"):
        findings = Findings()
        source = open_source(path)
        document = read(source, Settings(), findings)
        assert uncovered(document) == [], path.name
        assert census(source, "docx", document.ledger, findings) == 0, path.name
        places = Counter(a for n in walk(document) if (a := getattr(n, "address", "")))
        assert max(places.values(), default=1) == 1, path.name
        if path.stem not in KNOWN and _best_recall(measure, path, _words(document)) < 0.99:
            short.append(path.name)
    assert short == []


def _words(document: object) -> str:
    """The ledger's text with note marks apart from the words they follow."""
    from convert.document.nodes import NoteCall, inlines_of

    text = document.ledger.text  # type: ignore[attr-defined]
    calls = [i for n in walk(document) for i in inlines_of(n) if isinstance(i, NoteCall)]
    for call in sorted(calls, key=lambda c: -c.start):
        text = f"{text[: call.start]} {text[call.end :]}"
    return text


def _best_recall(measure: ModuleType, path: Path, text: str) -> float:
    got = Counter(measure.tokens(text.replace("\ufffc", "")))
    best = 0.0
    for kind in ("ref", "raw"):
        for name in (path.with_suffix(f".{kind}.txt"), Path(f"{path}.{kind}.txt")):
            if name.is_file():
                body, _ = measure.split_ref(name.read_text("utf-8"))
                wanted = Counter(measure.tokens(body))
                lost = sum((wanted - got).values())
                best = max(best, 1 - lost / max(1, sum(wanted.values())))
    return best


@pytest.mark.slow
@pytest.mark.skipif(not _documents("hostile"), reason="the corpus of documents is not here")
@pytest.mark.parametrize("path", _documents("hostile"), ids=lambda path: path.name)
def test_odd_documents_give_a_document_or_a_sentence(path: Path) -> None:
    said = _said_of(path)
    assert said == "" or said.endswith("."), said
