"""Opening untrusted packages: each trick ends in one plain sentence, never in a traceback."""

from __future__ import annotations

import io
import struct
import zipfile
from pathlib import Path

import pytest

from convert.errors import SourceError
from convert.readers.container import Limits, Package, open_source

from .make import epub, pack, read_epub

DOCTYPE = "<!DOCTYPE a [{}]>"


def refusal(path: Path, limits: Limits | None = None) -> str:
    with pytest.raises(SourceError) as caught:
        open_source(path, limits or Limits()).package()
    assert caught.value.step or "name" in caught.value.what
    return str(caught.value)


def write(folder: Path, name: str, data: bytes) -> Path:
    path = folder / name
    path.write_bytes(data)
    return path


# ---------------------------------------------------------------- the file itself


@pytest.mark.parametrize("marked", [True, False])
def test_an_unpacked_epub_is_refused_with_a_way_that_works(tmp_path: Path, marked: bool) -> None:
    """As a folder, and by its package document; the folder packed as the sentence says is read."""
    folder = tmp_path / "tides"
    with zipfile.ZipFile(epub(tmp_path, "<p>Ebb</p>")) as archive:
        archive.extractall(folder)
    if not marked:
        (folder / "META-INF" / "container.xml").unlink()
    assert refusal(folder) == (
        "tides is an EPUB that was unpacked to a folder. Compress the folder to a ZIP archive, "
        "name the archive tides.epub, and convert that."
    )
    assert "is one file of an unpacked EPUB" in refusal(folder / "OEBPS" / "book.opf")
    packed = tmp_path / "packed.epub"
    with zipfile.ZipFile(packed, "w") as archive:
        for path in sorted(folder.rglob("*")):
            archive.write(path, path.relative_to(tmp_path))
    assert "Ebb" in read_epub(packed).ledger.text


def test_missing_folder_empty_and_too_big(tmp_path: Path) -> None:
    assert "There is no file gone.epub in the folder /" in refusal(tmp_path / "gone.epub")
    assert "There is no file gone.epub in this folder." in refusal(Path("gone.epub"))
    assert "is a folder" in refusal(tmp_path)
    assert "is empty" in refusal(write(tmp_path, "a.epub", b""))
    assert "limit" in refusal(write(tmp_path, "b.epub", b"x" * 99), Limits(file=50))
    assert "no name can have" in refusal(Path("a\0.epub"))
    assert "not an ordinary file" in refusal(Path("/dev/null"))


@pytest.mark.parametrize(
    ("name", "data", "says"),
    [
        ("a.docx", b"Dear all,\nthe tide is out.\n", "plain text"),
        (
            "a.docx",
            b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + "WordDocument".encode("utf-16-le"),
            "(.doc)",
        ),
        (
            "a.docx",
            b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + "EncryptedPackage".encode("utf-16-le"),
            "password",
        ),
        ("a.epub", b"%PDF-1.7\n", "is a PDF"),
        ("a.docx", b"{\\rtf1 Tide}", "RTF"),
        ("a.epub", b"<!DOCTYPE html><html></html>", "web page"),
        ("a.docx", b'<?xml version="1.0"?><?mso-application progid="Word.Document"?>', "XML"),
        ("a.epub", b"PK\x03\x04 and then nothing", "cut short"),
        ("a.epub", bytes(range(256)) * 4, "no kind known"),
    ],
)
def test_wrong_kinds_are_named(tmp_path: Path, name: str, data: bytes, says: str) -> None:
    assert says in refusal(write(tmp_path, name, data))


def test_packages_under_a_wrong_name(tmp_path: Path) -> None:
    book = epub(tmp_path, "<p>Sea</p>").rename(tmp_path / "book.docx")
    assert "is an EPUB. Rename it" in refusal(book)
    word = pack(tmp_path / "w.epub", {"[Content_Types].xml": "<a/>", "word/document.xml": "<a/>"})
    assert "is a Word document. Rename it" in refusal(word)
    odt = pack(tmp_path / "o.docx", {"mimetype": "application/vnd.oasis.opendocument.text"})
    assert "OpenDocument text" in refusal(odt)
    assert "without a Word document" in refusal(pack(tmp_path / "z.docx", {"a.txt": "a"}))
    assert "without an EPUB" in refusal(pack(tmp_path / "z.epub", {"a.txt": "a"}))
    sheet = pack(tmp_path / "s.docx", {"[Content_Types].xml": "", "xl/workbook.xml": ""})
    assert "spreadsheet" in refusal(sheet)


@pytest.mark.parametrize("tenth", range(1, 10))
def test_a_cut_file_is_refused(tmp_path: Path, tenth: int) -> None:
    whole = epub(tmp_path, "<p>Sea</p>" * 50).read_bytes()
    cut = write(tmp_path, "cut.epub", whole[: len(whole) * tenth // 10])
    assert "damaged or cut short" in refusal(cut)


# ---------------------------------------------------------------- the ZIP


def test_names_are_found_regardless_of_case_form_and_slashes(tmp_path: Path) -> None:
    files = {"META-INF/container.xml": "<a/>", "OPS/Cafe\u0301.XHTML": "x", "OPS\\b.css": "y"}
    package = open_source(pack(tmp_path / "a.epub", files)).package()
    assert package.find("OPS/Cafe\u0301.XHTML") == "OPS/Cafe\u0301.XHTML"
    assert package.find("ops/caf\u00e9.xhtml") == "OPS/Cafe\u0301.XHTML"
    assert package.find("OPS/b.css") == "OPS\\b.css"
    assert package.find("OPS/c.css") is None
    assert "META-INF/container.xml" in package
    with pytest.raises(SourceError, match="lacks its part"):
        package.read("OPS/c.css")


def bomb(folder: Path, size: int) -> Path:
    return pack(folder / "bomb.epub", {"META-INF/container.xml": "<a/>", "b.xhtml": b"0" * size})


def test_a_bomb_is_refused_when_read(tmp_path: Path) -> None:
    package = open_source(bomb(tmp_path, 3_000_000)).package()
    with pytest.raises(SourceError, match="unpacks to"):
        package.read("b.xhtml")


def test_size_limits(tmp_path: Path) -> None:
    path = bomb(tmp_path, 50_000)
    with pytest.raises(SourceError, match="more than the limit"):
        open_source(path, Limits(markup=10_000)).package().read("b.xhtml")
    package = open_source(path, Limits(total_markup=40_000)).package()
    with pytest.raises(SourceError, match="come to more than"):
        package.read("b.xhtml")
    assert "entries" in refusal(path, Limits(entries=1))
    assert "beyond" in refusal(path, Limits(name=5))


def test_reading_twice_is_counted_once(tmp_path: Path) -> None:
    package = open_source(bomb(tmp_path, 50_000), Limits(total_markup=60_000)).package()
    assert package.read("b.xhtml") == package.read("b.xhtml")


def doctored(path: Path, old: bytes, new: bytes) -> Path:
    data = path.read_bytes()
    assert old in data
    path.write_bytes(data.replace(old, new))
    return path


def test_encrypted_unknown_method_overlap_and_links(tmp_path: Path) -> None:
    files = {"META-INF/container.xml": "<a/>", "b.xhtml": "words " * 40}
    data = bytearray(pack(tmp_path / "a.epub", files).read_bytes())
    at = data.index(b"PK\x01\x02")

    def changed(offset: int, value: int) -> Path:
        copy = bytearray(data)
        struct.pack_into("<H", copy, at + offset, value)
        return write(tmp_path, "changed.epub", bytes(copy))

    assert "password" in refusal(changed(8, 1))
    package = open_source(changed(10, 99)).package()
    with pytest.raises(SourceError, match="does not read"):
        package.read("META-INF/container.xml")
    link = zipfile.ZipInfo("b.xhtml")
    link.external_attr = 0o120777 << 16
    with zipfile.ZipFile(tmp_path / "link.epub", "w") as archive:
        archive.writestr("META-INF/container.xml", "<a/>")
        archive.writestr(link, "/etc/passwd")
    assert "link" in refusal(tmp_path / "link.epub")
    second = data.index(b"PK\x01\x02", at + 4)
    struct.pack_into("<I", data, second + 42, 0)
    assert "overlap" in refusal(write(tmp_path, "o.epub", bytes(data)))


def test_a_wrong_checksum_is_damage(tmp_path: Path) -> None:
    files: dict[str, str | bytes] = {
        "mimetype": "application/epub+zip",
        "META-INF/container.xml": "",
    }
    path = doctored(
        pack(tmp_path / "a.epub", files), b"application/epub+zip", b"application/epub+zap"
    )
    assert "damaged" in refusal(path)


def test_doubled_names_are_told_and_the_last_counts() -> None:
    data = io.BytesIO()
    with zipfile.ZipFile(data, "w") as archive:
        archive.writestr("META-INF/container.xml", "<a/>")
        archive.writestr("b.txt", "first")
        with pytest.warns(UserWarning, match="Duplicate"):
            archive.writestr("b.txt", "last")
    package = Package("a.epub", data.getvalue(), "epub")
    assert package.doubled == ("b.txt",)
    assert package.names.count("b.txt") == 1
    assert package.read("b.txt") == b"last"


# ---------------------------------------------------------------- XML


def xml_text(folder: Path, content: str | bytes, suffix: str = "epub", **limits: int) -> str:
    files: dict[str, str | bytes] = {
        "META-INF/container.xml": "<a/>",
        "[Content_Types].xml": "<a/>",
    }
    path = pack(folder / f"a.{suffix}", {**files, "word/document.xml": "", "x.xml": content})
    root = open_source(path, Limits(**limits)).package().xml("x.xml")
    return "".join(str(t) for t in root.itertext())


def test_named_and_internal_entities_are_print(tmp_path: Path) -> None:
    assert xml_text(tmp_path, "<a>two&nbsp;three&hellip; R&amp;D</a>") == "two\u00a0three… R&D"
    assert xml_text(tmp_path, "<a><![CDATA[&nbsp;]]>&eacute;</a>") == "&nbsp;é"
    assert xml_text(tmp_path, '<!DOCTYPE a [<!ENTITY co "Sea Co">]><a>&co;</a>') == "Sea Co"


def test_encodings(tmp_path: Path) -> None:
    declared = "<?xml version='1.0' encoding='{}'?><a>café</a>"
    assert xml_text(tmp_path, declared.format("utf-16").encode("utf-16")) == "café"
    assert xml_text(tmp_path, declared.format("windows-1252").encode("cp1252")) == "café"
    with pytest.raises(SourceError, match="UTF-7"):
        xml_text(tmp_path, declared.format("UTF-7").encode())


@pytest.mark.parametrize(
    "declares",
    [
        '<!ENTITY x SYSTEM "file:///etc/passwd">',
        '<!ENTITY x SYSTEM "http://localhost/x">',
        '<!ENTITY % x SYSTEM "file:///etc/passwd"> %x;',
        "".join(f'<!ENTITY x{n} "{f"&x{n - 1};" * 10 if n else "ha"}">' for n in range(10))
        + '<!ENTITY x "&x9;">',
        "".join(f'<!ENTITY y{n} "">' for n in range(600)) + '<!ENTITY x "">',
        '<!ENTITY x "' + "a" * 70_000 + '">',
    ],
)
def test_entity_tricks_are_refused(tmp_path: Path, declares: str) -> None:
    with pytest.raises(SourceError, match="cannot be read"):
        xml_text(tmp_path, DOCTYPE.format(declares) + "<a>&x;</a>")


def test_a_word_part_may_have_no_document_type(tmp_path: Path) -> None:
    with pytest.raises(SourceError, match="may not"):
        xml_text(tmp_path, DOCTYPE.format("") + "<a/>", suffix="docx")


def test_depth_and_counts(tmp_path: Path) -> None:
    def nested(depth: int) -> str:
        return "<a>" * depth + "sea" + "</a>" * depth

    assert xml_text(tmp_path, nested(600)) == "sea"
    for depth in (1_500, 100_000):
        with pytest.raises(SourceError, match=r"x\.xml"):
            xml_text(tmp_path, nested(depth))
    with pytest.raises(SourceError, match="more elements"):
        xml_text(tmp_path, "<a>" + "<b/>" * 300 + "</a>", elements=100)
    with pytest.raises(SourceError, match="at line 1"):
        xml_text(tmp_path, "<a><b></a>")


@pytest.mark.parametrize("seed", range(40))
def test_flipped_bytes_are_read_or_refused(tmp_path: Path, seed: int) -> None:
    import random

    dice = random.Random(seed)
    data = bytearray(epub(tmp_path, "<p>The tide is out.</p>").read_bytes())
    for _ in range(4):
        data[dice.randrange(len(data))] = dice.randrange(256)
    path = write(tmp_path, "flip.epub", bytes(data))
    said = ""
    try:
        package = open_source(path).package()
        for name in package.names:
            package.read(name)
    except SourceError as error:
        said = str(error)
    assert not said or "flip.epub" in said
