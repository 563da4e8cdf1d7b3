"""The table of a convention: its notation, its checks, extension, and the printed form."""

from __future__ import annotations

import re
from dataclasses import fields
from pathlib import Path

import pytest
from click.testing import CliRunner

from convert.commands.styles import command
from convert.errors import ConventionError, PluginError
from convert.layout.convention import Front, Page, Volumes, load
from convert.layout.convention_check import RULES
from convert.settings import Settings
from tests.layout.trees import Trees


def change(folder: Path, rows: str) -> str:
    """A convention of one's own: bf2016 with some rows changed."""
    file = folder / "house.toml"
    file.write_text(f'extends = "bf2016"\n{rows}\n', "utf-8")
    return str(file)


def test_page_of_40_cells_and_25_lines() -> None:
    """BF 1.7; three cells before a page number, BF 1.11."""
    page = load("bf2016").page
    assert (page.cells, page.lines, page.guard, page.blank_policy) == (40, 25, 3, "2024")


@pytest.mark.parametrize(
    "level, levels, margins",
    [
        (1, 1, (1, 3)),
        (1, 2, (1, 5)),
        (2, 2, (3, 5)),
        (3, 3, (5, 7)),
        (2, 4, (3, 9)),
        (5, 5, (9, 11)),
    ],
)
def test_nested_margins(level: int, levels: int, margins: tuple[int, int]) -> None:
    """BF 8.1: level k starts in cell 2k-1, every runover in cell 2n+1."""
    assert load("bf2016").style("list").margins(level, levels) == margins


def test_further_paragraph_of_a_list_item() -> None:
    """BF 8.3: 7-5 in a 1-5, 3-5 list; 5-3 in a 1-3 list."""
    style = load("bf2016").style("list")
    assert style.margins(2, 2, further=True) == (7, 5)
    assert style.margins(1, 1, further=True) == (5, 3)


@pytest.mark.parametrize(
    "name, first, runover, before, after, section",
    [
        ("paragraph", 3, 1, 0, 0, "1.9"),
        ("blocked", 1, 1, 1, 1, "1.9"),
        ("cell-5-heading", 5, 5, 1, 0, "4.5"),
        ("cell-7-heading", 7, 7, 1, 0, "4.6"),
        ("list", 1, 3, 1, 1, "8.1"),
        ("displayed", 5, 3, 1, 1, "9.2"),
        ("displayed-blocked", 3, 3, 1, 1, "9.2"),
        ("source", 7, 5, 0, 0, "9.5"),
        ("transcriber-note", 7, 5, 0, 0, "3.1.4"),
        ("caption", 7, 5, 0, 0, "6.2"),
        ("direction", 5, 5, 1, 0, "10.3"),
        ("exercise", 1, 3, 1, 1, "10.4"),
        ("verse", 1, 3, 1, 1, "13.3"),
        ("speech", 1, 3, 0, 0, "14.5"),
        ("stage-direction", 7, 5, 0, 0, "14.4"),
        ("note", 1, 3, 0, 0, "16.5"),
        ("bibliography", 1, 3, 1, 1, "22.2"),
    ],
)
def test_margins_and_blank_lines_of_the_summary_table(
    name: str, first: int, runover: int, before: int, after: int, section: str
) -> None:
    """The margin summary of Braille Formats 2016, row by row, each citing its section."""
    style = load("bf2016").style(name)
    assert (style.first, style.runover, style.before, style.after) == (
        first,
        runover,
        before,
        after,
    )
    assert section in style.cite


def test_centred_heading_and_attribution() -> None:
    """BF 4.4: one blank line each side; 9.4: five cells right of the line above."""
    convention = load("bf2016")
    centred = convention.style("centred-heading")
    assert (centred.centred, centred.before, centred.after) == (True, 1, 1)
    assert convention.style("attribution").from_previous == 5


def test_every_keep_rule_has_its_turn_to_give_way() -> None:
    assert set(load("bf2016").relax) == {
        "whole", "with_next", "next_whole", "head_min", "tail_min", "start_not_on_last",
        "with_previous", "note_whole", "note_with_next",
    }  # fmt: skip


def test_wordings_are_data() -> None:
    """BF 2.5, 2.6, 1.6."""
    front = load("bf2016").front
    assert front.words("end-of-volume", n=3).upper() == "END OF VOLUME 3"
    assert front.words("the-end").upper() == "THE END"
    heading = f"{front.words('symbols-heading-1')} {front.words('symbols-heading-2')}"
    assert heading == "SPECIAL SYMBOLS USED IN THIS VOLUME"
    assert front.words("notes-heading") == "TRANSCRIBER'S NOTES"
    with pytest.raises(ConventionError, match="no wording “nothing”"):
        front.words("nothing")


def test_unsure_rows_say_so() -> None:
    convention = load("bf2016")
    assert convention.style("note").sure
    assert convention.style("cross-reference").sure
    assert not convention.style("list").sure


# ---------------------------------------------------------------- house styles


def test_a_house_style_changes_one_row(tmp_path: Path) -> None:
    name = change(tmp_path, '[style.note]\nindent = "7-5"\ncite = "our agency"')
    convention = load(name)
    assert (convention.style("note").first, convention.style("note").runover) == (7, 5)
    assert convention.style("list") == load("bf2016").style("list")


def test_a_changed_row_changes_the_items(tmp_path: Path) -> None:
    t = Trees()
    pair = 'between = [{ after = "direction", then = "exercise", blank = 1, cite = "our agency" }]'
    house = load(change(tmp_path, pair))
    blocks = (t.p("Choose.", role="direction"), t.list("Why?", role="exercise"))
    assert t.flowed(*blocks)[1] == "exercise 1-3 0 | Why?"
    assert t.flowed(*blocks, convention=house)[1] == "exercise 1-3 1 | Why?"


def test_a_new_role_for_a_new_style(tmp_path: Path) -> None:
    rows = (
        'role = [{ node = "Paragraph", role = "poster", style = "poster" }]\n'
        '[style.poster]\nkind = "displayed"\nindent = "9-9"\ncite = "our agency"'
    )
    t = Trees()
    house = load(change(tmp_path, rows))
    assert t.flowed(t.p("Come!", role="poster"), convention=house) == ["poster 9-9 0 | Come!"]


def test_extending_a_file_in_the_same_folder(tmp_path: Path) -> None:
    change(tmp_path, '[page]\ncells = 32\ncite = "our agency"')
    (tmp_path / "small.toml").write_text('extends = "house.toml"\n[page]\nlines = 20\n', "utf-8")
    page = load(str(tmp_path / "small.toml")).page
    assert (page.cells, page.lines) == (32, 20)


def test_the_simple_convention_shows_no_print_pages() -> None:
    """Notes then end the section, and the transcriber is told."""
    t = Trees()
    lines = t.flowed(
        t.p("A", t.call("1", "f")), t.page("2"), t.p("B"), t.foot("f", "1", t.p("Note.")),
        convention=load("simple"),
    )  # fmt: skip
    assert lines == [
        "paragraph 3-1 0 | A1", "paragraph 3-1 0 | B", "note-rule 1-1 0", "note 1-3 0 | 1 Note.",
    ]  # fmt: skip
    assert t.kinds() == ["layout.print-pages-dropped"]


def test_margins_leave_room_on_a_narrow_page() -> None:
    t = Trees()
    tree = t.list("bottom")
    for at in range(7):
        tree = t.list(t.item("", f"level {at}", tree))
    items = t.items(tree, settings=Settings(cells=20))
    assert max(item.runover for item in items) == 10


# ---------------------------------------------------------------- wrong tables


@pytest.mark.parametrize(
    "rows, says",
    [
        (
            '[style.list]\nindnet = "1-3"',
            "row style.list has an unknown key “indnet”. Did you mean “indent”?",
        ),
        ('[style.list]\nindent = "three"', "row style.list has “three” as its indent."),
        ('[style.list]\nindent = "0-3"', "row style.list has “0-3” as its indent."),
        (
            '[style.list]\nkind = "lists"',
            "row style.list has “lists” as its kind. Did you mean “list”?",
        ),
        ("[style.list]\nbefore = -1", "row style.list has a “before” below zero."),
        (
            '[style.list]\nbefore = "one"',
            "row style.list has a wrong “before”. It should be a whole number.",
        ),
        (
            '[style.list]\ntypeforms = "dropp"',
            "row style.list has “dropp” as its typeforms. Did you mean “drop”?",
        ),
        (
            "[style.list]\nkeep = { hole = 1 }",
            "row style.list has “hole” as its keep rule. Did you mean “whole”?",
        ),
        ('[style.poster]\nkind = "para"\nindent = "1-1"', "row style.poster lacks the key “cite”."),
        (
            '[style.poster]\nkind = "para"\nindent = "1-1"\ncite = "x"',
            "row style.poster is reached by no role",
        ),
        ("[page]\ncels = 32", "row page has an unknown key “cels”. Did you mean “cells”?"),
        (
            '[page]\nblank_policy = "2016"',
            "row page has “2016” as its blank_policy. There are: 2024, pre2024.",
        ),
        ('[turn]\nrelax = ["whole"]', "row turn.relax lacks the rule “with_next”."),
        ('[headings]\n2 = ["centred-heading"]', "row headings.2 should list 2 styles."),
        ('[headings]\n1 = ["centered-heading"]', "Did you mean “centred-heading”?"),
        ('[rules]\nnotes_at = "foot"', "row rules has “foot” as its notes_at."),
        ('[front.words.poster]\nwords = "x"', "row front.words.poster lacks the key “cite”."),
        ("[colour]\nred = 1", "row the file has an unknown key “colour”."),
        (
            'between = [{ after = "lst", then = "*", blank = 0, cite = "x" }]',
            "Did you mean “list”?",
        ),
        (
            'between = [{ after = "list", then = "*", blank = 2, cite = "x" }]',
            "asks for 2 blank lines",
        ),
        ('role = [{ node = "Paragaph", style = "list" }]', "Did you mean “Paragraph”?"),
        ('role = [{ node = "Paragraph", style = "lists" }]', "Did you mean “list”?"),
        ("style = 3", "row style should be a table of rows."),
    ],
)
def test_a_wrong_row_is_named_with_the_nearest_word(tmp_path: Path, rows: str, says: str) -> None:
    with pytest.raises(ConventionError) as error:
        load(change(tmp_path, rows))
    assert says in str(error.value)


def test_a_table_without_a_part_that_is_needed(tmp_path: Path) -> None:
    file = tmp_path / "bare.toml"
    file.write_text('name = "bare"\n', "utf-8")
    with pytest.raises(ConventionError, match="has no title"):
        load(str(file))


def test_files_that_cannot_be_read(tmp_path: Path) -> None:
    with pytest.raises(ConventionError, match="cannot be read"):
        load(str(tmp_path / "none.toml"))
    (tmp_path / "bad.toml").write_text("name = \n", "utf-8")
    with pytest.raises(ConventionError, match="not valid TOML"):
        load(str(tmp_path / "bad.toml"))
    with pytest.raises(PluginError, match="Did you mean “bf2016”"):
        load("bf2061")


def test_conventions_in_a_circle(tmp_path: Path) -> None:
    (tmp_path / "a.toml").write_text('extends = "b.toml"\n', "utf-8")
    (tmp_path / "b.toml").write_text('extends = "a.toml"\n', "utf-8")
    with pytest.raises(ConventionError, match="in a circle"):
        load(str(tmp_path / "a.toml"))


# ---------------------------------------------------------------- cellset styles


def test_styles_reads_as_sentences() -> None:
    out = CliRunner().invoke(command, []).output
    assert "Convention bf2016: Braille Formats 2016" in out
    assert "paragraph: first line from cell 3, runovers in cell 1;" in out
    assert "list: level k of n from cell 2k minus 1, runovers in cell 2n plus 1;" in out
    assert "attribution: 5 cells to the right of the start of the line above;" in out
    assert "Not sure: margins not confirmed." in out
    assert max(len(line) for line in out.splitlines()) <= 78


def test_styles_names_every_style_with_its_section() -> None:
    convention = load("bf2016")
    flat = " ".join(CliRunner().invoke(command, ["bf2016"]).output.split())
    for style in convention.styles.values():
        assert f" {style.name}: " in flat
        assert style.cite in flat


def test_what_follows_a_cell_5_and_a_cell_7_heading_has_a_row_each() -> None:
    """BF 4.5, 4.6: both stand alike to what follows, but for the cell-7 heading of a cell-5."""
    pairs = load("bf2016").between
    below = {
        name: {p.then: p.blank for p in pairs if p.after == name}
        for name in ("cell-5-heading", "cell-7-heading")
    }
    five, seven = below["cell-5-heading"], below["cell-7-heading"]
    assert (five.pop("cell-7-heading"), five.pop("cell-5-heading")) == (0, 1)
    assert (seven.pop("cell-7-heading"), seven.pop("cell-5-heading")) == (1, 1)
    assert five == seven


@pytest.mark.parametrize("table", [Page, Volumes, Front])
def test_every_setting_of_the_table_is_read(table: type) -> None:
    """A key that nothing reads would be a promise that is not kept."""
    code = "".join(_code())
    names = [field.name for field in fields(table)]  # type: ignore[arg-type]
    assert [name for name in names if not re.search(rf"\.{name}\b", code)] == []


def test_every_rule_of_the_table_is_read() -> None:
    code = "".join(_code())
    assert [name for name in RULES if f'"{name}"' not in code] == []


def _code() -> list[str]:
    """The code that acts on a convention."""
    apart = ("convention.py", "convention_check.py", "styles.py")
    files = sorted(Path("convert").rglob("*.py"))
    return [file.read_text("utf-8") for file in files if file.name not in apart]
