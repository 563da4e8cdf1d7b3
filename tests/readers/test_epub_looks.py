"""What several properties of a style sheet say together, and languages by other names."""

from __future__ import annotations

from pathlib import Path

import pytest

from convert.findings import Findings
from convert.readers.css_looks import is_clipped, is_reordered, lift_of, look_of_letters

from .make import draw, epub, kinds, read_epub

ALIKE = (
    "sub, sup {font-size: 75%; line-height: 0; position: relative; vertical-align: baseline}"
    "sup {top: -.5em} sub {bottom: -.25em}"
)


def test_raised_letters_put_on_the_base_line_and_moved_up_are_raised(tmp_path: Path) -> None:
    """CSS 2.2, 9.4.3: the sheet that most sites start from; 10² must not become 102."""
    path = epub(tmp_path, "<p>x<sup>2</sup> H<sub>2</sub>O</p>", head=f"<style>{ALIKE}</style>")
    assert draw(read_epub(path)) == "Paragraph: x<sup|2> H<sub|2>O"


SMALL = {"font-size": "70%"}


@pytest.mark.parametrize(
    ("style", "lift"),
    [
        ({"vertical-align": "super"}, "super"),
        ({"vertical-align": "baseline"}, "baseline"),
        ({"vertical-align": "4px", **SMALL}, "super"),
        ({"vertical-align": "-20%", **SMALL}, "sub"),
        ({"vertical-align": "text-top", "font-size": "smaller"}, "super"),
        ({"vertical-align": "4px"}, ""),
        ({"vertical-align": "middle", **SMALL}, ""),
        ({"position": "relative", "top": "0.3em", **SMALL}, "sub"),
        ({"position": "relative", "bottom": "0.3em", **SMALL}, "super"),
        ({"position": "relative", "top": "0.3em"}, ""),
        ({"position": "relative", **SMALL}, ""),
    ],
)
def test_lift(style: dict[str, str], lift: str) -> None:
    """CSS 2.2, 10.8.1; small letters off the base line are scripts."""
    assert lift_of(style) == lift


@pytest.mark.parametrize(
    ("style", "clipped"),
    [
        ({"position": "absolute", "clip": "rect(0, 0, 0, 0)"}, True),
        ({"position": "absolute", "clip": "rect(1px,1px,1px,1px)"}, True),
        ({"position": "absolute", "clip-path": "inset(50%)"}, True),
        ({"position": "absolute", "left": "-9999px"}, True),
        ({"text-indent": "-9999px"}, True),
        ({"clip": "rect(0,0,0,0)"}, False),
        ({"position": "absolute", "left": "-2em"}, False),
        ({"text-indent": "-2em"}, False),
    ],
)
def test_matter_clipped_away_is_not_print(style: dict[str, str], clipped: bool) -> None:
    assert is_clipped(style) == clipped


@pytest.mark.parametrize(
    ("style", "look"),
    [
        ({"color": "red"}, "in red"),
        ({"color": "#0000ff", "letter-spacing": "0.3em"}, "in blue and spaced out"),
        ({"background-color": "rgb(255, 255, 0)"}, "on a ground in yellow"),
        ({"background": "yellow none"}, "on a ground in yellow"),
        ({"color": "#222", "background": "#eee", "letter-spacing": "0.01em"}, ""),
        ({"color": "inherit", "background": "url(a.png)", "letter-spacing": "normal"}, ""),
        ({"color": "currentcolor", "background": "transparent"}, ""),
    ],
)
def test_looks_without_a_sign(style: dict[str, str], look: str) -> None:
    assert look_of_letters(style) == look


def test_order() -> None:
    """CSS Flexible Box Layout 1, 5.1 and 5.4."""
    assert is_reordered({"order": "2"})
    assert is_reordered({"flex-direction": "row-reverse"})
    assert not is_reordered({"order": "0", "flex-direction": "row"})


def test_what_is_told_of_looks_and_order(tmp_path: Path) -> None:
    head = (
        "<style>.k, em {color: red} h2 {color: red} a {color: red} .two {order: 2}"
        ".unseen {position: absolute; clip: rect(0,0,0,0)}</style>"
    )
    body = (
        "<h2>Tides</h2><p>The <span class='k'>ebb</span> <em>runs</em> <a href='#'>out</a>.</p>"
        "<p class='two'>b</p><p class='unseen'>c</p>"
    )
    findings = Findings()
    document = read_epub(epub(tmp_path, body, head=head), findings)
    told = ["read.hidden-text", "read.look", "read.visual-order"]
    assert kinds(findings) == told
    spans = next(f for f in findings.all() if f.kind == "read.look").spans
    assert [document.ledger.quote(*span) for span in spans] == ["ebb", "runs"]


@pytest.mark.parametrize(
    ("lang", "drawn"),
    [
        ("french", "<@fr|les gens>"),
        ("FRA", "<@fr|les gens>"),
        ("fr_CA", "<@fr-ca|les gens>"),
        ("eng", "les gens"),
        ("english", "les gens"),
        ("zxx", "les gens"),
        ("und", "les gens"),
    ],
)
def test_languages_by_other_names(tmp_path: Path, lang: str, drawn: str) -> None:
    """BCP 47 asks for the shortest code; books have names and codes of three letters."""
    document = read_epub(epub(tmp_path, f"<p lang='{lang}'>les gens</p>"))
    assert draw(document) == f"Paragraph: {drawn}"


def test_a_book_whose_language_has_three_letters(tmp_path: Path) -> None:
    said = "<dc:title>Tides</dc:title><dc:language>eng</dc:language>"
    document = read_epub(epub(tmp_path, "<p lang='en'>the sea</p>", metadata=said))
    assert document.meta.language == "en"
    assert draw(document) == "Paragraph: the sea"
