"""eBraille 1.0 (DAISY Consortium, 14 August 2025): what the specification asks, as assertions;
and the same cells as the pages, but for what belongs to paper alone."""

from __future__ import annotations

import re
import zipfile
from collections import Counter
from pathlib import Path

import pytest
from click.testing import CliRunner
from lxml import etree

from convert.about import about_rows
from convert.commands.run import command as run
from convert.edition import Edition
from convert.errors import ConvertError, JobError
from convert.pipeline import convert_source, settings_from
from convert.translation.cells import BLANK, cells_of
from convert.writers.ebraille import write_ebraille

ROOT = Path(__file__).parents[2]
H = "{http://www.w3.org/1999/xhtml}"
O = "{http://www.idpf.org/2007/opf}"  # noqa: E741
DC = "{http://purl.org/dc/elements/1.1/}"
ABOUT = ("author=O. Marchbank", "date=2026-01-31", "copyright=2024")
PAPER = {"toc", "title", "page-turn", "note-rule", "table-rule", "end-of-volume"}


def edition_of(source: Path, **options: object) -> Edition:
    given = {"transcriber": "Ashe Braille Group", "about": ABOUT, **options}
    return convert_source(source, settings_from(**given))


@pytest.fixture(scope="module")
def edition() -> Edition:
    return edition_of(ROOT / "fixtures" / "river-school.epub")


@pytest.fixture(scope="module")
def package(edition: Edition, tmp_path_factory: pytest.TempPathFactory) -> zipfile.ZipFile:
    (path,) = write_ebraille(edition, tmp_path_factory.mktemp("ebraille"))
    assert path.name == "river-school.ebrl"
    return zipfile.ZipFile(path)


def tree(package: zipfile.ZipFile, name: str) -> etree._Element:
    return etree.fromstring(package.read(name))


def pages_of(package: zipfile.ZipFile) -> list[etree._Element]:
    """The documents in the order of the spine."""
    opf = tree(package, "package.opf")
    href = {item.get("id"): item.get("href", "") for item in opf.iter(f"{O}item")}
    return [tree(package, href[ref.get("idref")]) for ref in opf.iter(f"{O}itemref")]


def body_text(root: etree._Element) -> str:
    return "".join(root.find(f"{H}body").itertext())


def test_the_package_is_an_ocf_zip(package: zipfile.ZipFile) -> None:
    """4.2, 4.6, 4.7; EPUB OCF: mimetype first and stored."""
    first = package.infolist()[0]
    assert (first.filename, first.compress_type) == ("mimetype", zipfile.ZIP_STORED)
    assert package.read("mimetype") == b"application/epub+zip"
    assert {"package.opf", "index.html"} <= set(package.namelist())
    folded = [name.casefold() for name in package.namelist()]
    assert len(set(folded)) == len(folded)


def test_the_required_metadata(package: zipfile.ZipFile) -> None:
    """5.3.3: each property, once where it must be once."""
    opf = tree(package, "package.opf")
    core = Counter(e.tag.removeprefix(DC) for e in opf[0] if e.tag.startswith(DC))
    assert core["format"] == core["date"] == core["identifier"] == 1
    assert min(core["title"], core["creator"], core["language"]) == 1
    assert opf.findtext(f".//{DC}format") == "eBraille 1.0"
    assert opf.findtext(f".//{DC}language") == "en-Brai"
    assert opf.find(f".//{DC}identifier").get("id") == opf.get("unique-identifier")
    meta = {m.get("property"): m.text for m in opf.iter(f"{O}meta")}
    assert meta == {
        "dcterms:modified": "2026-01-31T00:00:00Z",
        "dcterms:dateCopyrighted": "2024",
        "a11y:brailleCellType": "6",
        "a11y:brailleSystem": "UEB grade2",
        "a11y:completeTranscription": "true",
        "a11y:producer": "Ashe Braille Group",
        "a11y:tactileGraphics": "none",
    }


def test_every_file_is_in_the_manifest(package: zipfile.ZipFile) -> None:
    listed = {item.get("href") for item in tree(package, "package.opf").iter(f"{O}item")}
    assert listed == set(package.namelist()) - {
        "mimetype", "package.opf", "META-INF/container.xml",
    }  # fmt: skip


def test_documents_hold_cells_and_spaces_only(package: zipfile.ZipFile) -> None:
    """6.2.1; 3.4: no script; xml:lang with the script Brai."""
    for root in [tree(package, "index.html"), *pages_of(package)]:
        assert re.fullmatch("[\u2800-\u283f \n]*", body_text(root))
        assert root.get("{http://www.w3.org/XML/1998/namespace}lang") == "en-Brai"
        assert not list(root.iter(f"{H}script", f"{H}form"))


def test_navigation_leads_to_places_that_are(package: zipfile.ZipFile) -> None:
    """Section 8: contents and page list; titles of page links are the print labels."""
    nav = tree(package, "index.html")
    for link in nav.iter(f"{H}a"):
        name, _, anchor = link.get("href", "").partition("#")
        assert tree(package, name).xpath("//*[@id=$a]", a=anchor), link.get("href")
    titles = [a.get("title") for a in nav.iter(f"{H}a") if a.get("title")]
    assert titles == ["ix", "41", "42", "43", "44", "45", "46", "47", "88"]
    assert len(titles) == sum(
        e.get("role") == "doc-pagebreak" for page in pages_of(package) for e in page.iter()
    )


def cells_on_pages(edition: Edition) -> Counter[str]:
    """The cells of all lines that are not of paper alone, blanks left out."""
    out: Counter[str] = Counter()
    for volume in edition.volumes:
        for page in volume.pages:
            for row in page.rows:
                if row and row.kind not in PAPER and row.style not in ("title", "contents-heading"):
                    out.update("".join(part.text for part in row.parts if part.source))
    del out[BLANK]
    return out


@pytest.mark.parametrize("name", ["river-school.epub", "permit-form.docx"])
def test_no_cell_is_lost_or_doubled(name: str, tmp_path: Path) -> None:
    edition = edition_of(ROOT / "fixtures" / name, title="A Title")
    (path,) = write_ebraille(edition, tmp_path)
    _title, *rest = pages_of(zipfile.ZipFile(path))
    out: Counter[str] = Counter()
    for root in rest:
        for mark in root.xpath("//*[@role='doc-pagebreak']"):
            mark.text = None
        out.update(re.sub(f"[{BLANK} \n]", "", body_text(root)))
    assert out == cells_on_pages(edition)


def test_a_print_page_turns_inside_its_paragraph(package: zipfile.ZipFile) -> None:
    """On paper notes stand between; here the paragraph runs on and the note follows it."""
    (mark,) = [
        e for p in pages_of(package) for e in p.iter(f"{H}span") if e.text == cells_of("#db")
    ]
    paragraph = mark.getparent()
    assert paragraph.tag == f"{H}p"
    assert paragraph.text.endswith(cells_of("w9t]s") + " ")
    assert mark.tail.startswith(" " + cells_of("!"))
    assert paragraph.getnext().get("role") == "doc-footnote"


def test_lists_stand_inside_one_another(package: zipfile.ZipFile) -> None:
    deepest = [
        e
        for p in pages_of(package)
        for e in p.xpath("//*[local-name()='ul']//*[local-name()='ul']//*[local-name()='ul']/*")
    ]
    assert [e.text for e in deepest] == [
        words.replace(BLANK, " ") for words in (cells_of("_4 r$ = left"), cells_of('_4 :ite = "r'))
    ]


def test_stanzas_are_lists_of_their_own(package: zipfile.ZipFile) -> None:
    stanzas = [
        e
        for p in pages_of(package)
        for e in p.iter(f"{H}ul")
        if e.get("class") == "poetry" and e.getparent().tag != f"{H}li"
    ]
    assert [len(stanza) for stanza in stanzas] == [2, 2]


def test_a_table_keeps_its_empty_entry(package: zipfile.ZipFile) -> None:
    (table,) = [e for p in pages_of(package) for e in p.iter(f"{H}table")]
    rows = [[e.text for e in row] for row in table.iter(f"{H}tr")]
    assert [len(row) for row in rows] == [3] * 5
    assert rows[3] == [cells_of(",july"), f"{cells_of('#a')} {cells_of('ft4')}", None]
    assert [e.get("scope") for e in table.find(f".//{H}tr")] == ["col"] * 3


def test_the_same_edition_gives_the_same_bytes(edition: Edition, tmp_path: Path) -> None:
    first, second = tmp_path / "a", tmp_path / "b"
    first.mkdir()
    second.mkdir()
    (one,), (two,) = write_ebraille(edition, first), write_ebraille(edition, second)
    assert one.read_bytes() == two.read_bytes()


def test_missing_facts_are_all_named_with_what_to_type(tmp_path: Path) -> None:
    edition = convert_source(ROOT / "fixtures" / "permit-form.docx", settings_from())
    with pytest.raises(ConvertError) as refused:
        write_ebraille(edition, tmp_path)
    told = str(refused.value)
    for words in ("producer", "day of publication", "--transcriber", "--about date=2026-01-31"):
        assert words in told
    assert not list(tmp_path.iterdir())


def test_the_date_of_a_reproducible_build_is_taken_and_recorded(tmp_path: Path) -> None:
    """The recipe holds it: the same recipe gives the same bytes."""
    args = [str(ROOT / "fixtures" / "river-school.epub"), "--write", "ebraille"]
    args += ["--transcriber", "A", "--out", str(tmp_path)]
    done = CliRunner().invoke(run, args, env={"SOURCE_DATE_EPOCH": "1769817600"})
    assert done.exit_code == 0, done.output
    path = tmp_path / "river-school" / "river-school.ebrl"
    opf = tree(zipfile.ZipFile(path), "package.opf")
    assert opf.findtext(f".//{DC}date") == "2026-01-31"
    assert "date=2026-01-31" in (path.parent / "recipe.json").read_text("utf-8")


@pytest.mark.parametrize("row", ["colour=red", "date=soon", "copyright=24", "author=", "author"])
def test_a_wrong_fact_is_refused(row: str) -> None:
    with pytest.raises(JobError):
        about_rows([row])
