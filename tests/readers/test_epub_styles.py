"""What style sheets say that print shows, and what is left out for it."""

from __future__ import annotations

from pathlib import Path

import pytest

from convert.findings import Findings
from convert.readers.css import Sheets
from convert.readers.css_text import keep_relevant

from .make import draw, epub, kinds, read_epub

CASES = {
    "hidden by display and visibility": (
        "p.h {display: none} .v {visibility:hidden}",
        "<p>a</p><p class='h'>b</p><p>c <span class='v'>d</span>e</p>",
        "Paragraph: a\nParagraph: c e",
    ),
    "capitals of print": (
        ".u {text-transform: uppercase} .l {text-transform: lowercase} "
        ".c {text-transform: capitalize}",
        "<p><b class='u'>ebb</b> <b class='l'>FLOW</b> <b class='c'>high tide’s turn</b></p>",
        "Paragraph: <bold|EBB> <bold|flow> <bold|High Tide’s Turn>",
    ),
    "typeforms given and taken": (
        "b {font-weight: normal; font-variant: small-caps} i > i {font-style: normal} "
        ".x {font: italic 700 1em serif; text-decoration: underline} .y {vertical-align: super}",
        "<p><b>a</b> <i>b <i>c</i></i> <span class='x'>d</span><span class='y'>2</span></p>",
        "Paragraph: <small-caps|a> <italic|b >c <italic bold underline|d><sup|2>",
    ),
    "generated words": (
        "h2::before {content: 'Part ' attr(data-n) '. '} dt > b::after {content: ', n.'}",
        "<h2 data-n='3'>Ebb</h2><dl><dt><b>tide</b></dt></dl>",
        "Heading level=2: Part 3. Ebb\nListBlock kind=definition\n  ListItem\n"
        "    Paragraph role=term: <bold|tide, n.>",
    ),
    "generated words in letters of their own": (
        "i::before {content: '('; font-style: normal} i::after {content: ')'; font-style: normal} "
        "b::after {content: '!'; font-style: italic}",
        "<p><i>Goes</i> <b>out</b></p>",
        "Paragraph: (<italic|Goes>) <bold|out><italic bold|!>",
    ),
    "quotation marks taken away": (
        "q::before, q::after {content: ''}",
        "<p><q>a</q></p>",
        "Paragraph: a",
    ),
    "list markers": (
        "ol {list-style-type: upper-roman} .n {list-style: none} ul {list-style: square outside}",
        "<ol><li>a</li></ol><ol class='n'><li>1) b</li></ol><ul><li>c</li></ul>",
        "ListBlock kind=numbered\n  ListItem: I.\n    Paragraph: a\n"
        "ListBlock kind=plain\n  ListItem\n    Paragraph: 1) b\n"
        "ListBlock kind=bulleted\n  ListItem: ▪\n    Paragraph: c",
    ),
    "siblings and positions": (
        "p + p {font-style: italic} p:last-child {font-weight: bold} h1 + p::before {content: '¶'}",
        "<h1>x</h1><p>a</p><p>b</p>",
        "Heading: x\nParagraph: ¶a\nParagraph: <italic bold|b>",
    ),
    "namespaces, attributes, ids": (
        "@namespace epub 'http://www.idpf.org/2007/ops'; [epub|type~='z3998:signature'] "
        "{font-variant: small-caps} #one + p b {font-weight: 400} [lang] {font-style: italic}",
        "<p id='one'><b>a</b></p><p><b>b</b><span epub:type='z3998:signature x'>c</span>"
        "<span lang='fr'>d</span></p>",
        "Paragraph: <bold|a>\nParagraph: b<small-caps|c><italic @fr|d>",
    ),
    "importance and order": (
        "b {font-weight: normal !important} b.k {font-weight: bold} i {font-style: normal} "
        "i {font-style: italic}",
        "<p><b class='k'>a</b><i>b</i></p>",
        "Paragraph: a<italic|b>",
    ),
    "print media count, others do not": (
        "@media print {b {font-weight: normal}} @media (min-width: 9em) {i {font-style: normal}} "
        "@media speech {.n {display: none}}",
        "<p><b>a</b><i class='n'>b</i></p>",
        "Paragraph: a<italic|b>",
    ),
    "levels of verse by left space": (
        ".poem p {margin-left: 1em} .poem .in {margin-left: 3em} .far {padding-left: 80px}",
        "<div class='poem'><p>a</p><p class='in'>b</p>"
        "<p class='far'>c</p><p class='in'>d</p></div>",
        "Verse\n  VerseLine: a\n  VerseLine level=2: b\n  VerseLine level=3: c\n"
        "  VerseLine level=2: d",
    ),
    "lines of verse shown as blocks": (
        ".poem span {display: block}",
        "<p class='poem'><span>a</span><span>b</span></p>",
        "Verse\n  VerseLine: a\n  VerseLine: b",
    ),
    "an inline element shown as a block is a line of its own": (
        ".l {display: block}",
        "<p>To the <span class='l'>Harbour</span> master</p>",
        "Paragraph: To the / Harbour / master",
    ),
    "a block shown as an inline element stays in its line": (
        "p.i {display: inline}",
        "<div><p class='i'>Tides come</p> <p class='i'>twice a day.</p></div><p>c</p>",
        "Paragraph: Tides come twice a day.\nParagraph: c",
    ),
    "white space kept": (
        ".k {white-space: pre-wrap}",
        "<p class='k'>a  b\nc</p>",
        "Paragraph: a  b / c",
    ),
}


@pytest.mark.parametrize("title", CASES)
def test_style_to_tree(tmp_path: Path, title: str) -> None:
    sheet, body, expected = CASES[title]
    head = '<link rel="stylesheet" href="s.css"/>'
    path = epub(tmp_path, body, head=head, files={"OEBPS/s.css": sheet})
    assert draw(read_epub(path)) == expected


def test_style_elements_attributes_and_imports(tmp_path: Path) -> None:
    head = (
        "<style>@import 'b.css'; @import 'http://localhost/c.css'; "
        "u {text-decoration: none}</style>"
    )
    body = "<p><u>a</u> <b>b</b> <i style='font-style: normal'>c</i></p>"
    path = epub(tmp_path, body, head=head, files={"OEBPS/b.css": "b {font-weight: 300}"})
    assert draw(read_epub(path)) == "Paragraph: a b c"


def test_hidden_text_is_in_the_ledger_and_omitted(tmp_path: Path) -> None:
    findings = Findings()
    path = epub(tmp_path, "<p>a <b>b</b></p><p>c</p>", head="<style>b {display: none}</style>")
    document = read_epub(path, findings)
    assert [(document.ledger.quote(o.start, o.end), o.why) for o in document.omissions] == [
        ("b", "read.hidden-text")
    ]
    assert kinds(findings) == ["read.hidden-text"]


def test_page_marks_hidden_by_style_still_count(tmp_path: Path) -> None:
    head = "<style>span {display: none}</style>"
    document = read_epub(epub(tmp_path, "<p>a<span role='doc-pagebreak'>4</span>b</p>", head=head))
    assert document.print_pages == ("4",)


def test_content_that_is_not_computed_is_told(tmp_path: Path) -> None:
    findings = Findings()
    head = "<style>h2::before {content: target-counter(attr(href), page) '. '}</style>"
    assert (
        draw(read_epub(epub(tmp_path, "<h2>a</h2>", head=head), findings)) == "Heading level=2: . a"
    )
    assert kinds(findings) == ["read.computed-content"]


COUNTED = {
    "chapters and sections": (
        "body {counter-reset: c} h1 {counter-increment: c; counter-reset: s}"
        "h1::before {content: 'Chapter ' counter(c, upper-roman) ': '}"
        "h2::before {counter-increment: s; content: counter(c) '.' counter(s) ' '}",
        "<h1>Ebb</h1><h2>Low</h2><h2>Slack</h2><h1>Flow</h1><h2>High</h2>",
        ["Chapter I: Ebb", "1.1 Low", "1.2 Slack", "Chapter II: Flow", "2.1 High"],
    ),
    "a reset reaches what is in the element and its later siblings": (
        "div {counter-reset: n} p {counter-increment: n} p::before {content: counter(n) ') '}",
        "<div><p>a</p><div><p>b</p></div><p>c</p></div>",
        ["1) a", "1) b", "2) c"],
    ),
    "nested counters, with what joins them": (
        "div {counter-reset: n} p {counter-increment: n} p::before {content: counters(n, '.') ' '}",
        "<div><p>a</p><div><p>b</p><p>c</p></div><p>d</p></div>",
        ["1 a", "1.1 b", "1.2 c", "1.3 d"],
    ),
    "what is not shown does not count": (
        "p {counter-increment: n} p.x {display: none} p::before {content: counter(n) ' '}",
        "<p>a</p><p class='x'>b</p><p>c</p>",
        ["1 a", "2 c"],
    ),
    "a step and a start of their own": (
        "body {counter-reset: n 10} p {counter-increment: n 5} p::before {content: counter(n) ' '}",
        "<p>a</p><p>b</p>",
        ["15 a", "20 b"],
    ),
}


@pytest.mark.parametrize("title", COUNTED)
def test_counters(tmp_path: Path, title: str) -> None:
    """CSS Lists and Counters 3, section 4."""
    style, body, expected = COUNTED[title]
    findings = Findings()
    document = read_epub(epub(tmp_path, body, head=f"<style>{style}</style>"), findings)
    shown = [line.partition(": ")[2] for line in draw(document).splitlines()]
    assert [line for line in shown if line] == expected
    assert "read.computed-content" not in kinds(findings)


def test_limits_of_style_are_told(tmp_path: Path) -> None:
    long = " ".join(["p"] * 12)
    findings = Findings()
    read_epub(epub(tmp_path, "<p>a</p>", head=f"<style>{long} {{display:none}}</style>"), findings)
    assert kinds(findings) == ["read.style-limits"]
    findings = Findings()
    head = '<link rel="stylesheet" href="s.css"/>'
    big = "".join(f"/*{n * n:x}*/" for n in range(250_000))
    read_epub(epub(tmp_path, "<p>a</p>", head=head, files={"OEBPS/s.css": big}), findings)
    assert kinds(findings) == ["read.style-limits"]


def test_a_sheet_that_cannot_be_read_does_not_stop_the_book(tmp_path: Path) -> None:
    findings = Findings()
    head = '<link rel="stylesheet" href="s.css"/>'
    bomb: dict[str, str | bytes] = {"OEBPS/s.css": "x" * 2_000_000}
    assert draw(read_epub(epub(tmp_path, "<p>a</p>", head=head, files=bomb), findings))
    assert kinds(findings) == ["read.style-unread"]


@pytest.mark.parametrize(
    "text",
    ["{" * 50_000, "a{" * 50_000, "/*" * 50_000, "'" * 50_000, "a{b:c}" * 20_000, "\\" * 50_000,
     ":not(" * 2_000, "@media x{" * 5_000, "p " * 50_000 + "{display:none}"],
)  # fmt: skip
def test_hostile_sheets_end_soon(text: str) -> None:
    import time

    start = time.process_time()
    Sheets().add(text)
    assert time.process_time() - start < 5


def test_the_budget_of_tests_holds(tmp_path: Path) -> None:
    from lxml import etree

    sheets = Sheets(budget=1)
    sheets.add("p + p {display: none}")
    rule = sheets.candidates("p", "", "")[0]
    root = etree.fromstring("<b><p/><p/></b>")
    assert sheets.holds(rule, root[1])
    assert not sheets.holds(rule, root[1])
    assert sheets.trouble == {"budget"}


def test_irrelevant_rules_are_dropped_before_parsing() -> None:
    text = "a{color:red} @media print { b{font-style:italic} h2{color:blue} } d::after{content:'}'}"
    kept = keep_relevant(text)
    assert kept == text  # a brace inside quotation marks: left whole
    kept = keep_relevant(text.replace("'}'", "'x'"))
    assert "red" not in kept
    assert "blue" not in kept
    assert "font-style" in kept
    assert kept.count("{") == kept.count("}")


BORDERS = {
    "border: 1px solid black": True,
    "border: 2px double": True,
    "border-style: dashed": True,
    "border-top: 1px solid; border-right: 1px solid; border-bottom: 1px solid; "
    "border-left: 1px solid": True,
    "border: 0 solid": False,
    "border: none": False,
    "border: 1px solid; border-left: none": False,
    "border-left: 3px solid": False,
    "color: red": False,
}


@pytest.mark.parametrize("style", BORDERS)
def test_lines_on_four_sides_are_a_box(tmp_path: Path, style: str) -> None:
    """Braille Formats 2016, 7.1: matter boxed in print is boxed in braille."""
    findings = Findings()
    head = f"<style>.n {{{style}}}</style>"
    body = '<div class="n"><p>Sea</p></div><p>On</p>'
    drawn = draw(read_epub(epub(tmp_path, body, head=head), findings))
    assert drawn.startswith("Box role=box") == BORDERS[style]
    assert ("read.box-by-style" in kinds(findings)) == BORDERS[style]


def test_lines_about_a_chapter_are_no_box(tmp_path: Path) -> None:
    head = "<style>div {border: 1px solid}</style>"
    path = epub(tmp_path, "<div><h1>One</h1><p>Sea</p></div>", head=head)
    assert draw(read_epub(path)).startswith("Heading")
