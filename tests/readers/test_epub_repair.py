"""Content that is not well-formed: repaired with a finding, text checked sign by sign."""

from __future__ import annotations

import time
from pathlib import Path

import pytest

from convert.errors import SourceError
from convert.findings import Findings
from convert.readers.markup import MarkupError
from convert.readers.repair import parse_content, parse_soup

from .make import draw, epub, kinds, page, read_epub

BROKEN = {
    "stray ampersand": ("<p>Ebb & flow</p>", "Paragraph: Ebb & flow"),
    "unknown entity kept as its letters": ("<p>Ebb &tide;</p>", "Paragraph: Ebb &tide;"),
    "prefix not declared": ("<p x:y='z'>Ebb</p>", "Paragraph: Ebb"),
    "control character": ("<p>Ebb\x0bflow</p>", "Paragraph: Ebbflow"),
    "unclosed elements": ("<p>Ebb<br>flow<p>slack", "Paragraph: Ebb / flow\nParagraph: slack"),
    "wrong nesting": ("<p><i>Ebb <b>x</i></b></p>", "Paragraph: <italic|Ebb ><italic bold|x>"),
    "bare less-than": ("<p>4 < 5 m</p>", "Paragraph: 4 < 5 m"),
    "attribute without quotation marks": (
        "<p class=directions>Tick.</p>", "Paragraph role=direction: Tick."
    ),
    "names XML does not allow": ("<p><b ¹x='1'>Ebb</b></p>", "Paragraph: <bold|Ebb>"),
    "ruby readings survive": ("<p><ruby>潮<rt>ushio</rt></ruby><br></p>", "Paragraph: 潮(ushio)"),
    "self-closed and broken": ("<div id='a'/><p>Ebb<hr></p>", "Paragraph: Ebb\nContextBreak"),
    "semantics survive": (
        "<p>a<span epub:type='pagebreak' title='4'/>b<br></p>", "Paragraph: a[p 4]b"
    ),
}  # fmt: skip


@pytest.mark.parametrize("fault", BROKEN)
def test_repairs(tmp_path: Path, fault: str) -> None:
    body, expected = BROKEN[fault]
    findings = Findings()
    assert draw(read_epub(epub(tmp_path, page(body)), findings)) == expected
    assert [kind for kind in kinds(findings) if kind != "read.ruby"] == ["read.repaired-markup"]


def test_the_finding_says_where_and_why(tmp_path: Path) -> None:
    findings = Findings()
    read_epub(epub(tmp_path, page("\n\n<p>Ebb & flow</p>")), findings)
    message = findings.all()[0].message
    assert "OEBPS/c1.xhtml is not well-formed at line 3" in message
    assert "column" not in message


def test_named_entities_are_no_fault(tmp_path: Path) -> None:
    findings = Findings()
    document = read_epub(epub(tmp_path, page("<p>two&nbsp;three&hellip;</p>")), findings)
    assert document.ledger.text == "two\u00a0three…\n"
    assert not findings.all()


@pytest.mark.parametrize("encoding", ["utf-16", "utf-8-sig", "cp1252"])
def test_encodings(tmp_path: Path, encoding: str) -> None:
    text = page("<p>Café</p>").replace('encoding="utf-8"', f'encoding="{_declared(encoding)}"')
    data = text.encode(encoding)
    findings = Findings()
    document = read_epub(epub(tmp_path, "", files={"OEBPS/c1.xhtml": data}), findings)
    assert document.ledger.text == "Café\n"
    assert not findings.all()


def _declared(encoding: str) -> str:
    return {"utf-8-sig": "utf-8", "cp1252": "windows-1252"}.get(encoding, encoding)


def test_a_wrong_encoding_is_guessed_and_told(tmp_path: Path) -> None:
    data = page("<p>Café</p>").encode("cp1252")
    findings = Findings()
    document = read_epub(epub(tmp_path, "", files={"OEBPS/c1.xhtml": data}), findings)
    assert document.ledger.text == "Café\n"
    assert kinds(findings) == ["read.guessed-encoding", "read.repaired-markup"]


def test_characters_lost_by_a_repair_are_counted(monkeypatch: pytest.MonkeyPatch) -> None:
    from convert.readers import repair

    whole = repair.parse_soup
    monkeypatch.setattr(repair, "parse_soup", lambda text: whole(text.replace("flow", "fl")))
    findings = Findings()
    parse_content(b"<html><body><p>ebb<br>flow</body></html>", "c.xhtml", findings)
    assert kinds(findings) == ["read.repair-lost", "read.repaired-markup"]
    assert "lost 2 characters" in findings.all()[-1].message


def test_hostile_content_is_refused(tmp_path: Path) -> None:
    evil = page("<p>&x;</p>").replace(
        "?><html", '?><!DOCTYPE html [<!ENTITY x SYSTEM "file:///etc/passwd">]><html'
    )
    with pytest.raises(SourceError, match="entities outside"):
        read_epub(epub(tmp_path, evil))


@pytest.mark.parametrize(
    "body",
    [
        "<div>" * 5_000 + "a",
        "<p><font>x" * 3_000,
        "<p " + " ".join(f"a{n}=1" for n in range(50_000)) + ">x",
        "<" * 100_000,
        "<!--" * 20_000,
        "&" * 100_000,
        "<a b='" * 20_000,
        "<![CDATA[" * 20_000,
        "</p>" * 50_000 + "<b>",
    ],
    ids=lambda body: body[:12],
)
def test_hostile_soup_ends_soon(body: str) -> None:
    start = time.process_time()
    refused = False
    try:
        parse_soup(f"<html><body>{body}</body></html>")
    except MarkupError as error:
        refused = error.hostile
    assert time.process_time() - start < 10
    assert refused or not body.startswith("<div><div>")


def test_too_long_to_repair() -> None:
    with pytest.raises(MarkupError, match="too long"):
        parse_soup("<p>" + "x" * 5_000_000)
