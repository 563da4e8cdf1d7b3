# ruff: noqa: E501
"""Longer descriptions of pictures: read at their picture where print does not show them.

Sources: WAI-ARIA 1.2, aria-details and aria-describedby; HTML 4.01, 13.2 (longdesc); HTML Living
Standard, 4.11.1 (details); ANSI/NISO Z39.86-2005 (prodnote, imgref); Braille Formats 2016, 6.2.
"""

from __future__ import annotations

from pathlib import Path
from textwrap import dedent

import pytest

import convert
from convert.findings import Findings

from .make import draw, epub, kinds, page, read_epub

_BOAT = "<img src='a.png' alt='A boat'"
CASES = {
    "hidden, before its picture": (
        f"<p>One</p><div hidden='' id='d'><h2>Boat</h2><p>It is red.</p></div><p>{_BOAT} aria-details='d'/></p><p>Two</p>",
        """
        Paragraph: One
        Graphic: A boat
          TranscriberNote
            Paragraph role=label: Boat
            Paragraph: It is red.
        Paragraph: Two
        """,
        ["read.picture-description"],
    ),
    "hidden by a style sheet, inside other hidden matter": (
        f"<p>{_BOAT} aria-describedby='d'/></p><div class='off'>Menu <p id='d'>It is red.</p></div>",
        """
        Graphic: A boat
          TranscriberNote
            Paragraph: It is red.
        """,
        ["read.hidden-text", "read.picture-description"],
    ),
    "clipped from sight by a class": (
        f"<p>{_BOAT} aria-describedby='d'/></p><p class='sr-only' id='d'>It is red.</p>",
        """
        Graphic: A boat
          TranscriberNote
            Paragraph: It is red.
        """,
        ["read.picture-description"],
    ),
    "folded up, in the figure of the picture; the caption comes first": (
        f"<figure>{_BOAT}/><details><summary>Description</summary><p>It is red.</p></details>"
        "<figcaption>Figure 1</figcaption></figure>",
        """
        Graphic: A boat
          Paragraph role=caption: Figure 1
          TranscriberNote
            Paragraph role=label: Description
            Paragraph: It is red.
        """,
        ["read.picture-description"],
    ),
    "folded up, next after the picture": (
        f"<p>{_BOAT}/></p><details><summary>Long description</summary>It is red.</details><p>Two</p>",
        """
        Graphic: A boat
          TranscriberNote
            Paragraph role=label: Long description
            Paragraph: It is red.
        Paragraph: Two
        """,
        ["read.picture-description"],
    ),
    "folded matter that is no description stays": (
        f"<p>{_BOAT}/></p><details><summary>Answer</summary><p>Red.</p></details>",
        """
        Graphic: A boat
        Paragraph role=label: Answer
        Paragraph: Red.
        """,
        [],
    ),
    "a picture in a line: the note follows its paragraph": (
        f"<p>See {_BOAT} aria-details='d'/> sail.</p><p>Two</p><aside hidden='' id='d'>It is red.</aside>",
        """
        Paragraph: See [InlineGraphic A boat] sail.
        TranscriberNote
          Paragraph: It is red.
        Paragraph: Two
        """,
        ["read.picture-description"],
    ),
    "no alternative text, but a description": (
        "<p><img src='a.png' aria-details='d'/></p><p hidden='' id='d'>It is red.</p>",
        """
        Graphic
          TranscriberNote
            Paragraph: It is red.
        """,
        ["read.picture-description"],
    ),
    "print shows it: it stays": (
        f"<p>{_BOAT} aria-describedby='d'/></p><p>Two</p><p id='d'>It is red.</p>",
        """
        Graphic: A boat
        Paragraph: Two
        Paragraph: It is red.
        """,
        ["read.picture-described-elsewhere"],
    ),
    "the caption of its figure is no other place": (
        f"<figure>{_BOAT} aria-describedby='d'/><figcaption id='d'>Red</figcaption></figure>",
        """
        Graphic: A boat
          Paragraph role=caption: Red
        """,
        [],
    ),
    "two pictures of one description": (
        f"<p>{_BOAT} aria-details='d'/></p><p><img src='b.png' alt='Bow' aria-details='d'/></p>"
        "<p hidden='' id='d'>Both are red.</p>",
        """
        Graphic: A boat
          TranscriberNote
            Paragraph: Both are red.
        Graphic: Bow
        """,
        ["read.picture-description"],
    ),
    "a description whose picture is left out is kept": (
        f"<p>One</p><div hidden=''>{_BOAT} aria-details='d'/></div><p hidden='' id='d'>It is red.</p>",
        """
        Paragraph: One
        TranscriberNote
          Paragraph: It is red.
        """,
        ["read.picture-description"],
    ),
    "a figure names the description of its drawing": (
        "<figure aria-details='d'><svg xmlns='http://www.w3.org/2000/svg'><title>Boat</title></svg>"
        "</figure><p hidden='' id='d'>It is red.</p>",
        """
        Graphic: Boat
          TranscriberNote
            Paragraph: It is red.
        """,
        ["read.picture-description"],
    ),
}
HEAD = "<style>.off { display: none }</style>"


@pytest.mark.parametrize("title", CASES)
def test_a_description_and_its_picture(tmp_path: Path, title: str) -> None:
    body, expected, told = CASES[title]
    findings = Findings()
    assert draw(read_epub(epub(tmp_path, body, head=HEAD), findings)) == dedent(expected).strip()
    assert kinds(findings) == told


@pytest.mark.parametrize("spine", ["", "<itemref idref='c1'/>", "<itemref idref='c2' linear='no'/><itemref idref='c1'/>"])  # fmt: skip
def test_a_description_in_a_part_of_its_own(tmp_path: Path, spine: str) -> None:
    """In the reading order it is text; outside, or in no order at all, it is read at its picture."""
    made = epub(tmp_path, f"<p>{_BOAT} longdesc='c2.xhtml'/></p>", "<p>It is red.</p>", spine=spine)
    findings = Findings()
    drawn = draw(read_epub(made, findings))
    if spine:
        assert drawn.splitlines() == [
            "Graphic: A boat",
            "  TranscriberNote",
            "    Paragraph: It is red.",
        ]
        assert kinds(findings) == ["read.picture-description"]
    else:
        assert drawn.splitlines() == ["Graphic: A boat", "Paragraph: It is red."]
        assert kinds(findings) == ["read.picture-described-elsewhere"]


@pytest.mark.parametrize("where", ["far", "near"])
def test_a_producers_note_that_names_its_picture(tmp_path: Path, where: str) -> None:
    note = "<prodnote imgref='i'>It is red.</prodnote>"
    path = tmp_path / "tides.xml"
    path.write_text(
        "<dtbook xmlns='http://www.daisy.org/z3986/2005/dtbook/'><book><bodymatter><level1>"
        f"<imggroup><img id='i' src='a.png' alt='A boat'/>{note if where == 'near' else ''}"
        f"</imggroup><p>Two</p>{note if where == 'far' else ''}</level1></bodymatter></book></dtbook>"
    )
    edition = convert.convert(path, code="ueb-uncontracted")
    lines = draw(edition.document).splitlines()
    assert [line.strip() for line in lines[-4:]] == [
        "Graphic: A boat",
        "TranscriberNote",
        "Paragraph: It is red.",
        "Paragraph: Two",
    ]
    assert [f.kind for f in edition.findings].count("read.producer-note") == 1
    assert edition.totals.lost == edition.totals.doubled == 0


def test_the_page_and_the_list_of_pictures_have_it(tmp_path: Path) -> None:
    """BF 6.2: caption, description, then what else is said of the picture, all of it once."""
    from convert.writers.pictures import pictures

    body = (
        f"<p>One</p><figure>{_BOAT} aria-details='d'/><figcaption>Figure 1</figcaption></figure>"
        "<p>Two</p><p hidden='' id='d'>It is red.</p>"
    )
    edition = convert.convert(epub(tmp_path, body), code="ueb-uncontracted")
    assert edition.totals.lost == edition.totals.doubled == 0
    (row,) = pictures(edition)
    assert (row.caption, row.alt, row.description) == ("Figure 1", "A boat", "It is red.")
    text = "\n".join(edition.volumes[0].pages[-1].lines)
    order = [text.index(words) for words in ("⠋⠊⠛⠥⠗⠑", "⠃⠕⠁⠞", "⠗⠑⠙", "⠠⠞⠺⠕")]
    assert order == sorted(order)


def test_the_list_of_pictures_quotes_what_print_has_elsewhere(tmp_path: Path) -> None:
    from convert.writers.pictures import pictures

    body = f"<p>{_BOAT} aria-describedby='d'/></p><p>Two</p><p id='d'>The boat is red.</p>"
    (row,) = pictures(convert.convert(epub(tmp_path, body), code="ueb-uncontracted"))
    assert row.description == "Elsewhere in print: The boat is red."


def test_what_a_reference_leads_to_cannot_make_a_loop(tmp_path: Path) -> None:
    """Descriptions that hold the picture they describe, or describe each other's pictures."""
    body = (
        f"<div hidden='' id='a'><p>A {_BOAT} aria-details='b'/></p></div>"
        f"<div hidden='' id='b'><p>B {_BOAT} aria-details='a'/></p></div><p>{_BOAT} aria-details='a'/></p>"
    )
    edition = convert.convert(epub(tmp_path, body), code="ueb-uncontracted")
    assert edition.totals.lost == edition.totals.doubled == 0
    assert [draw(edition.document).count(word) for word in ("Paragraph: A", "Paragraph: B")] == [
        1,
        1,
    ]


def test_parts_of_a_table_and_far_pages_stay(tmp_path: Path) -> None:
    body = (
        f"<p>{_BOAT} aria-details='d'/></p><table><tr><th>x</th><td hidden='' id='d'>y</td></tr></table>"
        f"<p>{_BOAT} longdesc='https://example.org/d.html'/></p>"
    )
    findings = Findings()
    read_epub(epub(tmp_path, body), findings)
    assert {"read.picture-described-elsewhere", "read.picture-description-missing"} <= set(kinds(findings))  # fmt: skip


def test_a_whole_part_with_its_own_style(tmp_path: Path) -> None:
    more = page(
        "<p>It <b>is</b> <i class='no'>not</i> red.</p>", "<style>.no{display:none}</style>"
    )
    made = epub(tmp_path, f"<p>{_BOAT} aria-details='x' longdesc='c2.xhtml'/></p>", more, spine="<itemref idref='c1'/>")  # fmt: skip
    assert "Paragraph: It <bold|is> red." in draw(read_epub(made))


def test_a_part_that_is_nothing_but_a_body(tmp_path: Path) -> None:
    """A damaged part without `html` around its body is still read at the picture."""
    more = (
        '<?xml version="1.0"?><body xmlns="http://www.w3.org/1999/xhtml"><p>It is red.</p></body>'
    )
    made = epub(tmp_path, f"<p>{_BOAT} longdesc='c2.xhtml'/></p>", more, spine="<itemref idref='c1'/>")  # fmt: skip
    findings = Findings()
    assert draw(read_epub(made, findings)).splitlines() == [
        "Graphic: A boat",
        "  TranscriberNote",
        "    Paragraph: It is red.",
    ]
    assert kinds(findings) == ["read.picture-description"]
