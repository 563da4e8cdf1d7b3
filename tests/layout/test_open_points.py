"""Points that the standard leaves to the agency, or that were not confirmed: each is a row of the
convention with the default recommended, and each does what it says."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from convert.document.nodes import ContextBreak, Section
from convert.layout.convention import Convention, load
from convert.pipeline import convert_source, settings_from
from tests.draw import lines_of
from tests.layout.books import Maker, make
from tests.layout.trees import Trees

BASE = load("bf2016")


def page(**more: Any) -> Convention:
    return replace(BASE, page=replace(BASE.page, **more))


def front(**more: Any) -> Convention:
    return replace(BASE, front=replace(BASE.front, **more))


def worded(name: str, words: str) -> Convention:
    row = replace(BASE.front.wordings[name], words=words)
    return front(wordings={**BASE.front.wordings, name: row})


def ruled(**more: Any) -> Convention:
    return replace(BASE, rules={**BASE.rules, **more})


@pytest.fixture
def t() -> Trees:
    return Trees()


@pytest.mark.parametrize(("given", "after_z"), [("doubled", "aa#a"), ("restart", "a#a")])
def test_continuation_letters_after_z(given: str, after_z: str) -> None:
    """BF 1.11: the 27th later braille page of a print page."""
    maker = Maker()
    maker.turn("1")
    maker.para("abcd " * 2200)
    made = make(maker, convention=page(letters_after_z=given), lines=9, front_pages=False)
    assert made.lines(1, "27")[0].split()[-1] == "z#a"
    assert made.lines(1, "28")[0].split()[-1] == after_z


@pytest.mark.parametrize(
    ("given", "head"), [("full", ",,river ,,tales"), ("print", ",river ,tales")]
)
def test_capitals_of_the_running_head(given: str, head: str) -> None:
    """BF 1.8: capitals as on the title page."""
    made = make(Maker().chapters(1, 20), convention=page(head_capitals=given),
                running_head="River Tales")  # fmt: skip
    assert head in made.lines(1, "1")[0]


@pytest.mark.parametrize(
    ("given", "title"), [("print", ",river ,tales"), ("full", ",,river ,,tales")]
)
def test_capitals_of_the_title_on_the_first_page(given: str, title: str) -> None:
    """BF 1.8: not confirmed."""
    made = make(Maker().chapters(1, 20), convention=page(title_capitals=given))
    assert made.lines(1, "1")[0].strip().startswith(title)


@pytest.mark.parametrize("given", [False, True])
def test_the_title_under_a_running_head_that_says_it(given: bool) -> None:
    """BF 1.8: line 3, where an agency keeps it."""
    made = make(Maker().chapters(1, 20), convention=page(title_under_head=given),
                running_head="River Tales")  # fmt: skip
    assert (",river ,tales" in made.lines(1, "1")[2]) is given


def test_the_form_and_margins_of_an_entry_of_the_special_symbols() -> None:
    """BF 2.5."""
    maker = Maker()
    maker.para("It cost £5")
    own = worded("symbols-entry", "{means}, dots {dots}")
    own = replace(own, front=replace(own.front, symbols_indent="3-5"))
    lines = make(maker, convention=own).lines(1, "t2")
    assert lines[5:7] == ["  .=@l ,pound sign (pound sterling),", "    dots #d, #abc"]


def test_the_margins_of_notes_on_their_page() -> None:
    """BF 2.6."""
    lines = make(Maker().chapters(1, 9), convention=front(notes_indent="1-3")).lines(1, "t2")
    assert lines[2].startswith(",this edition")
    assert lines[3].startswith("  ")


@pytest.mark.parametrize("given", [False, True])
def test_lines_that_name_volumes_in_the_contents_as_notes(given: bool) -> None:
    """BF 2.10; signs of a transcriber's note as UEB 3.27."""
    made = make(Maker().chapters(24, 60), convention=front(contents_volume_notes=given),
                volume_pages=24)  # fmt: skip
    rows = [row for row in made.page(1, "p1").rows if row and row.style == "contents-volume"]
    forms = [row.parts[0].source.passage.forms for row in rows]  # type: ignore[union-attr]
    assert len(forms) >= 2
    assert all(bool(form) is given for form in forms)


def test_a_word_above_the_page_numbers_of_the_contents() -> None:
    """BF 2.10: none is added unless the convention has one."""
    assert make(Maker().chapters(2, 30)).lines(1, "p1")[2].startswith(",chapter")
    lines = make(Maker().chapters(2, 30), convention=worded("contents-page", "Page")).lines(1, "p1")
    assert lines[1] == ""
    assert lines[2] == " " * 35 + ",page"
    assert lines[3].startswith(",chapter")


def test_cells_kept_free_at_the_right_of_a_heading(t: Trees) -> None:
    """BF 4.5: the old literary rule kept six; none by default."""
    assert BASE.style("cell-5-heading").right == 0
    style = replace(BASE.style("cell-5-heading"), right=6)
    house = replace(BASE, styles={**BASE.styles, "cell-5-heading": style})
    items = t.items(t.h(1, "A"), t.h(2, "B"), t.p("C"), convention=house)
    assert [item.right for item in items] == [0, 6, 0]
    maker = Maker()
    maker.heading("abcd " * 12, level=2, first=5, runover=5, right=6)
    maker.para("on")
    lines = [line for line in make(maker, front_pages=False).lines(1, "1") if line]
    assert lines[:2] == ["    abcd abcd abcd abcd abcd abcd", "    abcd abcd abcd abcd abcd abcd"]


def test_capitals_of_headings(t: Trees) -> None:
    """BF 4.3: print's capitals are kept by default."""
    heading = t.h(1, "THE SEA II")
    assert t.items(heading)[0].runs[0].typeform == 0  # type: ignore[union-attr]
    assert "layout.heading-capitals" not in t.kinds()
    made = t.items(heading, t.h(1, "NASA and We"), convention=ruled(heading_capitals="initial"))
    assert [bool(item.runs[0].typeform) for item in made] == [True, False]  # type: ignore[union-attr]
    assert t.kinds().count("layout.heading-capitals") == 1


def test_an_ornament_stands_as_three_asterisks(tmp_path: Path) -> None:
    """BF 1.9: centred, a blank line above and below; the signs of print where the row is empty."""
    file = tmp_path / "a.html"
    file.write_text("<html lang='en'><body><p>One.</p><p>~~~</p><p>Two.</p><p>***</p><p>Three.</p>"
                    "</body></html>", "utf-8")  # fmt: skip
    house = tmp_path / "house.toml"
    house.write_text('extends = "bf2016"\n[rules]\nornament = ""\ncite = "our agency"\n', "utf-8")
    for name, signs in (("bf2016", ['"9 "9 "9'] * 2), (str(house), ["@9@9@9", '"9"9"9'])):
        edition = convert_source(file, settings_from(front_pages=False, convention=name))
        lines = lines_of(edition.book.volumes[0].pages[0])
        assert [lines[2].strip(), lines[6].strip()] == signs
        assert edition.totals.lost == edition.totals.doubled == 0
        told = [f.message for f in edition.findings if f.kind == "layout.ornament"]
        assert len(told) == (name == "bf2016")
        assert lines[1] == lines[3] == lines[5] == ""


def test_headings_that_begin_a_new_braille_page(t: Trees) -> None:
    """BF 2.12: only where an agency asks; a stack of headings stays together."""
    blocks = (t.h(1, "One"), t.h(2, "A"), t.p("Text."), t.h(1, "Two"), t.h(2, "B"), t.p("On."))
    assert not any(item.new_page for item in t.items(*blocks))
    first = t.items(*blocks, convention=ruled(new_page_headings=1))
    assert [item.new_page for item in first] == [False, False, False, True, False, False]
    both = t.items(*blocks, convention=ruled(new_page_headings=2))
    assert [item.new_page for item in both] == [False, False, False, True, False, False]


def test_sections_that_begin_a_volume_of_their_own(t: Trees) -> None:
    """BF 1.6: supplementary and notes volumes."""
    blocks = (t.p("Text."), Section(role="glossary", children=(t.h(1, "Words"), t.p("Ant"))))
    assert not any(item.new_volume for item in t.items(*blocks))
    items = t.items(*blocks, convention=ruled(new_volume=("glossary",)))
    assert [item.new_volume for item in items] == [False, True, False]


def test_a_break_without_an_ornament_is_a_blank_line(t: Trees) -> None:
    """BF 1.9."""
    assert t.flowed(t.p("One."), ContextBreak(), t.p("Two.")) == [
        "paragraph 3-1 0 | One.",
        "paragraph 3-1 1 | Two.",
    ]
