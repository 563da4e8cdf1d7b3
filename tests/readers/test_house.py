"""House rows: a table of one's own says what classes, terms, elements and styles mean."""

from __future__ import annotations

from pathlib import Path
from textwrap import dedent

import pytest

import convert
from convert.errors import JobError
from convert.findings import Findings
from convert.job import settings_options
from convert.pipeline import read_source
from convert.readers.container import open_source
from convert.settings import Settings

from .make import draw, epub
from .make_docx import docx, p, style

HOUSE = """
[classes]
"tx-song" = "poem"
"tx-out" = "displayed quotation"
"sidebar" = "notice"
[terms]
"x-cast" = "drop navigation"
[paragraph_classes]
"lead-in" = "blocked"
[elements]
displayed = "pullout"
[styles."street sign"]
node = "paragraph"
role = "address"
[styles."big line"]
node = "heading"
level = 2
[styles."heading 1"]
node = "heading"
level = 3
"""


def read(path: Path, rows: str = HOUSE) -> str:
    settings = Settings(roles=rows)
    return draw(read_source(open_source(path), settings, Findings())[0])


def test_classes_terms_and_elements_of_an_epub(tmp_path: Path) -> None:
    body = (
        '<div class="tx-song"><p>One<br/>two</p></div><div class="tx-out"><p>Said</p></div>'
        '<div class="sidebar"><p>Look</p></div><nav epub:type="x-cast"><p>Gone</p></nav>'
        '<p class="lead-in">Lead</p><pullout><p>Out</p></pullout>'
    )
    expected = """
        Verse
          VerseLine: One
          VerseLine: two
        Displayed role=quotation
          Paragraph: Said
        Box role=notice
          Paragraph: Look
        Paragraph role=blocked: Lead
        Displayed role=quotation
          Paragraph: Out
        """
    assert read(epub(tmp_path, body)) == dedent(expected).strip()


def test_house_rows_win_over_the_source_s_own_terms(tmp_path: Path) -> None:
    path = epub(tmp_path, '<div class="tx-out" epub:type="z3998:poem"><p>Said</p></div>')
    assert read(path).startswith("Displayed")
    assert read(path, "").startswith("Verse")


def test_styles_of_a_word_document(tmp_path: Path) -> None:
    styles = style("Street Sign", style_id="SS") + style("Big Line", style_id="BL")
    styles += style("heading 1", style_id="H1")
    path = docx(tmp_path, p("Quay 1", "SS") + p("Tides", "BL") + p("One", "H1"), styles=styles)
    assert read(path).splitlines() == [
        "Paragraph role=address: Quay 1", "Heading level=2: Tides", "Heading level=3: One",
    ]  # fmt: skip
    assert "Heading: One" in read(path, "")


def test_the_rows_of_one_source_are_not_those_of_the_next(tmp_path: Path) -> None:
    path = epub(tmp_path, '<p class="lead-in">Lead</p>')
    assert "blocked" in read(path)
    assert "blocked" not in read(path, "")


WRONG = {
    "not TOML": ("[classes", "not valid TOML"),
    "a section": ("[class]\nx = 'poem'", "classes"),
    "a term": ("[classes]\nx = 'peom'", "poem"),
    "a node": ("[terms]\nx = 'bocks sidebar'", "kind of node"),
    "a role": ("[terms]\nx = 'box sidebra'", "sidebar"),
    "a reason": ("[terms]\nx = 'drop whim'", "reason to leave"),
    "a role of a class": ("[paragraph_classes]\nx = 'sorce'", "source"),
    "what is done": ("[elements]\ndisplay = 'x'", "displayed"),
    "no words": ("[terms]\nx = 3", "words in quotation marks"),
    "no section": ("terms = 'x'", "section of rows"),
    "a key of a style": ("[styles.x]\nnodes = 'heading'", "node"),
    "a node of a style": ("[styles.x]\nnode = 'headng'", "heading"),
    "a level": ("[styles.x]\nnode = 'heading'\nlevel = 12", "1 to 9"),
    "a missing key": ("[styles.x]\nnode = 'heading'", "lacks the key"),
    "a wrong kind": ("[styles.x]\nlevel = 'one'", "wrong kind"),
    "a typeform": ("[styles.x]\ndrop = ['bald']", "bold"),
    "a style that is none": ("[styles]\nx = 'heading'", "must be a section"),
}


@pytest.mark.parametrize("title", WRONG)
def test_a_wrong_row_is_said_with_the_nearest(tmp_path: Path, title: str) -> None:
    rows, words = WRONG[title]
    path = tmp_path / "roles.toml"
    path.write_text(rows, "utf-8")
    with pytest.raises(JobError, match=words):
        settings_options({"roles": str(path)})


def test_a_missing_table(tmp_path: Path) -> None:
    with pytest.raises(JobError, match="cannot be read"):
        settings_options({"roles": str(tmp_path / "none.toml")})


def test_the_rows_are_part_of_the_recipe(tmp_path: Path) -> None:
    """Same recipe, same bytes: other rows are another recipe."""
    path = epub(tmp_path, '<p class="lead-in">Lead</p>')
    rows = tmp_path / "house.toml"
    rows.write_text(HOUSE, "utf-8")
    one = convert.convert(path, code="ueb-uncontracted", roles=str(rows))
    two = convert.convert(path, code="ueb-uncontracted")
    assert one.recipe["digest"] != two.recipe["digest"]
