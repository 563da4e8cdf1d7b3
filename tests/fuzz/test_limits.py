# ruff: noqa: E501
"""Documents made to do harm, converted whole in a child process with limits of its own.

Each ends, in the time and memory said, with an edition that lost nothing or with a sentence.
Parts are stored without compression where the ratio of a deflated part would refuse them first.
"""

from __future__ import annotations

import stat
import struct
import zipfile
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from convert.errors import SourceError
from convert.readers.container import open_source
from tests.readers.make import CONTAINER, epub, page
from tests.readers.make_docx import docx, p, r, style

from .worker import Outcome, Reader

SECONDS, MEMORY = 10.0, 1024
Make = Callable[[Path], Path]


@pytest.fixture(scope="module")
def reader() -> Iterator[Reader]:
    reader = Reader(memory=2048, seconds=60)
    yield reader
    reader.close()


def outcome_of(reader: Reader, path: Path, stored: bool = True) -> Outcome:
    if stored:
        with zipfile.ZipFile(path) as old:
            parts = [(info.filename, old.read(info)) for info in old.infolist()]
        with zipfile.ZipFile(path, "w", zipfile.ZIP_STORED) as new:
            for name, data in parts:
                new.writestr(zipfile.ZipInfo(name), data)
    outcome = reader.ask(0, path.suffix[1:], path.read_bytes(), whole=True)
    assert not outcome.fault
    assert not outcome.unread
    return outcome


def sentence(path: Path) -> str:
    """What a refused document says."""
    import convert

    with pytest.raises(convert.SourceError) as caught:
        convert.convert(path, code="ueb-uncontracted")
    assert caught.value.what.endswith(".")
    assert "\n" not in str(caught.value)
    return str(caught.value)


# ---------------------------------------------------------------- read whole


def tag(name: str, many: int, inside: str = "sea") -> str:
    return f"<{name}>" * many + inside + f"</{name.split()[0]}>" * many


MATH = "<p><math xmlns='http://www.w3.org/1998/Math/MathML'>{}</math></p>"
OMML = "<m:sSup><m:e><m:r><m:t>x</m:t></m:r></m:e><m:sup>"
CELLS = "<table><tr><td colspan='1000000' rowspan='1000000'>a</td><td>b</td></tr></table>"
GRID = "<w:tc><w:tcPr><w:gridSpan w:val='1000000'/></w:tcPr>{}</w:tc>"
BEFORE = "<w:trPr><w:gridBefore w:val='1000000'/></w:trPr>"
LOOP = (
    '<item id="f1" href="x.pdf" media-type="application/pdf" fallback="f2"/>'
    '<item id="f2" href="y.pdf" media-type="application/pdf" fallback="f1"/>'
)
CALL = '<a epub:type="noteref" href="#n">1</a>'
NOTE = f'<aside epub:type="footnote" id="n"><p>Salt. {CALL}</p></aside>'
WORD_CALL = '<w:r><w:footnoteReference w:id="2"/></w:r>'
READ: dict[str, Make] = {
    "300 nested blocks": lambda at: epub(at, tag("div", 300)),
    "300 nested typeforms": lambda at: epub(at, f"<p>{tag('b', 300)}</p>"),
    "300 nested controls": lambda at: docx(
        at, "<w:sdt><w:sdtContent>" * 300 + p("sea") + "</w:sdtContent></w:sdt>" * 300
    ),
    "300 nested tables": lambda at: docx(
        at, "<w:tbl><w:tr><w:tc>" * 300 + p("sea") + "</w:tc></w:tr></w:tbl>" * 300
    ),
    "300 nested powers": lambda at: epub(
        at, MATH.format("<msup><mi>x</mi>" * 300 + "<mi>y</mi>" + "</msup>" * 300)
    ),
    "300 nested Word powers": lambda at: docx(
        at,
        f"<w:p><m:oMath>{OMML * 300}<m:r><m:t>y</m:t></m:r>{'</m:sup></m:sSup>' * 300}"
        "</m:oMath></w:p>",
    ),
    "a span of a million": lambda at: epub(at, CELLS * 3),
    "a grid of a million": lambda at: docx(
        at,
        f"<w:tbl><w:tr>{GRID.format(p('a'))}</w:tr><w:tr>{BEFORE}<w:tc>{p('b')}</w:tc></w:tr></w:tbl>",
    ),
    "a loop of styles": lambda at: docx(
        at,
        p("sea", "A"),
        styles=style("A", '<w:basedOn w:val="B"/>') + style("B", '<w:basedOn w:val="A"/>'),
    ),
    "a chain of 10,000 styles": lambda at: docx(
        at,
        p("sea", "S9999"),
        styles="".join(style(f"S{n}", f'<w:basedOn w:val="S{n - 1}"/>') for n in range(10_000)),
    ),
    "a loop of fallbacks": lambda at: epub(
        at, "<p>sea</p>", manifest=LOOP, spine='<itemref idref="f1"/><itemref idref="c1"/>'
    ),
    "a note that calls itself": lambda at: epub(at, f"<p>Sea {CALL}</p>{NOTE}"),
    "a Word note that calls itself": lambda at: docx(
        at, p(WORD_CALL * 200), footnotes=f'<w:footnote w:id="2">{p(r("a") + WORD_CALL)}</w:footnote>'
    ),
    "a part 5,000 times in the reading order": lambda at: epub(
        at, "<p>sea</p>", spine='<itemref idref="c1"/>' * 5_000
    ),
    "20,000 fields that do not end": lambda at: docx(
        at, "<w:p>" + "<w:r><w:fldChar w:fldCharType='begin'/></w:r>" * 20_000 + r("sea") + "</w:p>"
    ),
    "selectors that look at everything below": lambda at: epub(
        at,
        "<p>sea</p>" * 3_000,
        head=f"<style>{'p:has(~ p ~ p ~ p) { font-weight: bold }' * 500}</style>",
    ),
    "rules beyond count": lambda at: epub(
        at, '<p class="c1">sea</p>', head=f"<style>{'.c1 ~ p {font-weight: bold}' * 25_000}</style>"
    ),
    "a numeral of a million letters": lambda at: epub(
        at, '<ol type="I" start="999999999"><li>a</li></ol><ol type="a" start="999999999"><li>b</li></ol>'
    ),
    "a word of 100,000 hyphens": lambda at: epub(at, f"<p>{'a-' * 100_000}</p>"),
    "100,000 brackets": lambda at: epub(at, f"<p>{'(' * 100_000}</p>"),
    "100,000 accents on a letter": lambda at: epub(at, f"<p>e{chr(0x301) * 100_000}</p>"),
    "100,000 quotation marks": lambda at: epub(at, f"<p>{'“‘' * 50_000}</p>"),
    "a blank of 500,000": lambda at: docx(at, p("_" * 500_000)),
    "leaders of 300,000": lambda at: docx(at, p(". " * 300_000 + "12")),
    "a heading of a million characters": lambda at: epub(at, f"<h1>{'sea ' * 250_000}</h1>"),
    "an entry of 400,000 characters": lambda at: epub(
        at, f"<table><tr><td>{'sea ' * 100_000}</td><td>b</td></tr></table>"
    ),
    "50,000 page breaks": lambda at: docx(
        at, "<w:p><w:r>" + "<w:br w:type='page'/>" * 50_000 + "</w:r>" + r("sea") + "</w:p>"
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", READ)
def test_read_in_time_and_memory(tmp_path: Path, reader: Reader, name: str) -> None:
    outcome = outcome_of(reader, READ[name](tmp_path))
    assert not outcome.refused
    assert outcome.seconds < SECONDS
    assert outcome.peak < MEMORY


@pytest.mark.slow
@pytest.mark.parametrize(
    "make",
    [
        lambda at: docx(at, "<w:p/>" * 1_000_000 + p("sea")),
        lambda at: epub(at, "<p/>" * 300_000 + "<p>sea</p>"),
    ],
    ids=["word", "epub"],
)
def test_empty_paragraphs_without_end(reader: Reader, tmp_path: Path, make: Make) -> None:
    outcome = outcome_of(reader, make(tmp_path))
    assert not outcome.refused
    assert outcome.seconds < 40
    assert outcome.peak < 600


# ---------------------------------------------------------------- refused with a sentence


ENTITIES = "".join(f'<!ENTITY x{n} "{f"&x{n - 1};" * 10 if n else "ha"}">' for n in range(10))
MANY = " ".join(f'a{n}="x"' for n in range(50_000))
REFUSED: dict[str, tuple[Make, str]] = {
    "3,000 nested blocks": (lambda at: epub(at, tag("div", 3_000)), "deeper than 1000"),
    "100,000 nested blocks": (lambda at: epub(at, tag("div", 100_000)), "deeper than 1000"),
    "3,000 open blocks": (lambda at: epub(at, "<div>" * 3_000), "deeper than 1000"),
    "100,000 open blocks": (lambda at: epub(at, "<div>" * 100_000), "deeper than 1000"),
    "3,000 nested controls": (lambda at: docx(at, tag("w:sdt", 3_000)), "deeper than 1000"),
    "100,000 nested controls": (lambda at: docx(at, tag("w:sdt", 100_000)), "deeper than 1000"),
    "50,000 attributes": (lambda at: epub(at, f"<p {MANY}>sea</p>"), "too many attributes"),
    "50,000 attributes, broken": (lambda at: epub(at, f"<p {MANY}>sea<b></p>"), "attributes"),
    "50,000 attributes in Word": (lambda at: docx(at, f"<w:p {MANY}/>"), "attributes"),
    "12 MB of text": (lambda at: epub(at, f"<p>{'sea ' * 3_000_000}</p>"), "stretch of text"),
    "12 MB of Word text": (lambda at: docx(at, p("sea " * 3_000_000)), "stretch of text"),
    "4,000,000 elements": (lambda at: epub(at, "<br/>" * 6_500_000), "more elements"),
    "only line ends": (lambda at: epub(at, "<p>" + "<br/>" * 100_000 + "</p>"), "no text"),
}


@pytest.mark.parametrize("name", REFUSED)
def test_refused_in_time_and_memory(tmp_path: Path, reader: Reader, name: str) -> None:
    make, says = REFUSED[name]
    path = make(tmp_path)
    outcome = outcome_of(reader, path)
    assert outcome.refused
    assert outcome.seconds < SECONDS
    assert outcome.peak < MEMORY
    assert says in sentence(path)


def test_a_deflated_bomb_is_refused_by_its_ratio(tmp_path: Path, reader: Reader) -> None:
    path = epub(tmp_path, "<p>" + "sea " * 3_000_000 + "</p>")
    assert path.stat().st_size < 100_000
    outcome = outcome_of(reader, path, stored=False)
    assert outcome.refused
    assert outcome.peak < 200
    assert "limit of 200 times" in sentence(path)


def test_a_thousand_entries_on_the_same_bytes(tmp_path: Path) -> None:
    """Overlapping entries multiply a bomb (CPython before 3.11.8 reads them)."""
    path = epub(tmp_path, "<p>" + "sea " * 1_000 + "</p>")
    data = bytearray(path.read_bytes())
    at = data.index(b"PK\x01\x02")
    end = data.rindex(b"PK\x05\x06")
    rows = bytes(data[at:end])
    size = len(rows) * 250
    tail = struct.pack("<4s4H2LH", b"PK\x05\x06", 0, 0, 1_000, 1_000, size, at, 0)
    path.write_bytes(bytes(data[:at]) + rows * 250 + tail)
    assert "overlap" in sentence(path) or "damaged" in sentence(path)


def test_a_size_that_lies(tmp_path: Path, reader: Reader) -> None:
    """An entry that says it is small is read no further, and its checksum fails."""
    path = epub(tmp_path, "<p>" + "sea " * 100_000 + "</p>")
    data = bytearray(path.read_bytes())
    name = data.index(b"OEBPS/c1.xhtml", data.index(b"PK\x01\x02"))
    struct.pack_into("<I", data, name - 46 + 24, 100)
    path.write_bytes(bytes(data))
    assert outcome_of(reader, path, stored=False).refused
    assert "damaged" in sentence(path)


def test_a_list_of_entries_beyond_sense(tmp_path: Path) -> None:
    """Refused by what the end of the ZIP claims, before the list is read."""
    path = tmp_path / "a.epub"
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("mimetype", "application/epub+zip")
    data = bytearray(path.read_bytes())
    at = data.rfind(b"PK\x05\x06")
    data[at + 12 : at + 16] = (17 * 1024 * 1024).to_bytes(4, "little")
    path.write_bytes(data)
    with pytest.raises(SourceError, match="list of entries"):
        open_source(path).package()
    big = b"PK\x06\x06" + b"\0" * 36 + (1 << 40).to_bytes(8, "little") + b"\0" * 8
    data[at + 12 : at + 16] = b"\xff" * 4
    path.write_bytes(bytes(data[:at]) + big + bytes(data[at:]))
    with pytest.raises(SourceError, match="list of entries"):
        open_source(path).package()


def test_too_many_entries(tmp_path: Path, reader: Reader) -> None:
    path = epub(tmp_path, "<p>sea</p>", files={f"x/{n}": "" for n in range(20_001)})
    assert outcome_of(reader, path, stored=False).refused
    assert "more than the limit of 20000" in sentence(path)


@pytest.mark.parametrize(
    "name", ["/etc/passwd", "../../etc/passwd", "C:\\x.xhtml", "..\\..\\x", "a\nb", "\x1b[2Jx"]
)
def test_names_that_leave_the_package_reach_nothing(tmp_path: Path, name: str) -> None:
    """Entries are looked up by name in memory; none is ever written to the disk."""
    import convert

    item = f'<item id="o" href="{name if name.isprintable() else "x"}" media-type="text/css"/>'
    path = epub(tmp_path, "<p>sea</p>", manifest=item, files={name: "p { display: none }"})
    before = sorted(tmp_path.rglob("*"))
    edition = convert.convert(path, code="ueb-uncontracted")
    assert edition.totals.lost == 0
    assert "sea" in edition.document.ledger.text
    assert sorted(tmp_path.rglob("*")) == before


def test_a_link_in_place_of_a_part(tmp_path: Path) -> None:
    path = tmp_path / "link.epub"
    info = zipfile.ZipInfo("OEBPS/c1.xhtml")
    info.external_attr = (stat.S_IFLNK | 0o777) << 16
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("META-INF/container.xml", CONTAINER.format(opf="OEBPS/book.opf"))
        archive.writestr(info, "/etc/passwd")
    assert "holds a link" in sentence(path)


@pytest.mark.parametrize("field, value, says", [(8, 1, "password"), (10, 99, "does not read")])
def test_encrypted_entries_and_unknown_methods(
    tmp_path: Path, field: int, value: int, says: str
) -> None:
    path = epub(tmp_path, "<p>sea</p>")
    data = bytearray(path.read_bytes())
    at = 0
    while (at := data.find(b"PK\x01\x02", at)) >= 0:
        struct.pack_into("<H", data, at + field, value)
        at += 4
    path.write_bytes(bytes(data))
    assert says in sentence(path)


@pytest.mark.parametrize(
    "declares",
    [
        '<!ENTITY x SYSTEM "{secret}">',
        '<!ENTITY % y SYSTEM "{secret}"> %y;<!ENTITY x "a">',
        '<!ENTITY x SYSTEM "http://127.0.0.1:9/x">',
        f'{ENTITIES}<!ENTITY x "&x9;">',
        f'<!ENTITY y "{"a" * 60_000}"><!ENTITY x "{"&y;" * 500}">',
    ],
)
def test_entities_bring_nothing_in(tmp_path: Path, reader: Reader, declares: str) -> None:
    """XXE, parameter entities, a billion laughs, quadratic growth."""
    import convert

    secret = tmp_path / "secret.txt"
    secret.write_text("the password is tide")
    declares = declares.replace("{secret}", secret.as_uri())
    body = page("<p>&x;</p><p>sea</p>").replace("<html", f"<!DOCTYPE html [{declares}]><html", 1)
    path = epub(tmp_path, body, files={"OEBPS/x": ""})
    outcome = outcome_of(reader, path, stored=False)
    assert outcome.peak < 300
    if outcome.refused:
        assert "c1.xhtml" in sentence(path)
    else:
        text = convert.read(path).ledger.text
        assert "password is" not in text
        assert len(text) < 1_000


def test_the_document_type_is_never_fetched(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    import socket

    import convert

    def refuse(*args: object, **named: object) -> None:
        raise AssertionError("the reader has asked the network")

    for name in ("socket", "create_connection", "getaddrinfo"):
        monkeypatch.setattr(socket, name, refuse)
    kind = '<!DOCTYPE html PUBLIC "-//W3C//DTD XHTML 1.1//EN" "http://127.0.0.1:9/xhtml11.dtd">'
    links = '<link rel="stylesheet" href="http://127.0.0.1:9/a.css"/>'
    body = page('<p>sea</p><img src="http://127.0.0.1:9/a.png" alt="A boat"/>', links)
    path = epub(tmp_path, body.replace("<html", f"{kind}<html", 1))
    assert "sea" in convert.read(path).ledger.text


@pytest.mark.parametrize("code", ["utf-7", "utf-32", "cp037", "utf-32-le", "utf-16-le"])
def test_encodings_that_hide_a_document_type(tmp_path: Path, code: str) -> None:
    """The checks look at bytes; an encoding they cannot see through is refused or decoded."""
    import convert

    kind = '<!DOCTYPE html [<!ENTITY x SYSTEM "file:///etc/passwd">]>'
    text = page("<p>&x; sea</p>").replace("utf-8", code).replace("<html", f"{kind}<html", 1)
    path = epub(tmp_path, "<p>a</p>", files={"OEBPS/c1.xhtml": text.encode(code)})
    try:
        text = convert.read(path).ledger.text
    except convert.SourceError as error:
        text = str(error)
    assert "root:" not in text
    assert "sea" in text or "c1.xhtml" in text
