"""Foreign words: uncontracted UEB, or their own code between switch indicators (UEB 13, 14)."""

from __future__ import annotations

import pytest

from convert.document.nodes import AnswerSpace
from convert.errors import JobError
from convert.findings import Findings
from convert.job import settings_options
from convert.settings import Settings
from convert.translation import signs
from convert.translation.cells import BLANK, ascii_of, cells_of
from convert.translation.louis_code import TableCode, check_table
from convert.translation.passage import Mark, Passage
from convert.translation.ueb import contracted
from convert.translation.ueb.foreign import CODE, Foreign, _known
from convert.translation.ueb.translator import UebTranslator

from .ueb_case import FOLD, g2

TOOL = contracted(Settings(foreign="foreign-code"))


def words(text: str, *stretches: str, lang: str = "fr") -> Passage:
    """A passage with some of its words marked as another language."""
    spans = [(text.index(part), text.index(part) + len(part)) for part in stretches]
    return Passage(text, langs=tuple((start, end, lang) for start, end in spans))


def coded(given: Passage, tool: UebTranslator = TOOL) -> tuple[str, list[str]]:
    findings = Findings()
    tool.prepare([given])
    cells = tool.translate(given, findings)
    return cells.ascii.translate(FOLD), [row.kind for row in findings.all()]


# ------------------------------------------------------------ the default (13.2)


def test_foreign_words_keep_english_modifiers_and_no_contractions() -> None:
    """UEB 13.2.1, 13.5: the accents of UEB, no grade 1 indicators, no switch indicators."""
    assert g2(words("the garçon là", "garçon là")) == "! gar^&con l^*a"


def test_spanish_opening_marks() -> None:
    """UEB 13.5."""
    assert g2(words("¿qué? ¡no!", "¿qué? ¡no!", lang="es")) == "^;8qu^/e8 ^;6no6"


# ------------------------------------------------------------ another code (14.3)


@pytest.mark.parametrize(
    "text, part, wanted",
    [
        ("the été is", "été", "! ^(=t= is"),
        ("the été, is", "été", "! ^(=t=^)1 is"),
        ("the été noir is", "été noir", "! ^(=t= ^(noir is"),
        ("the un été noir is", "un été noir", '! "(\'un =t= noir,") is'),
        ("so (un été noir).", "un été noir", 's "<"(\'un =t= noir,")">4'),
        ("l’été", "été", "l'^(=t="),
    ],
)
def test_the_code_is_switched_at_the_change_itself(text: str, part: str, wanted: str) -> None:
    """UEB 14.3: a word to the next space or its terminator; from three words on a passage."""
    assert coded(words(text, part)) == (wanted, ["ueb.foreign-code"])


def test_contractions_return_after_the_switch() -> None:
    """UEB 14.3."""
    assert coded(words("the été the", "été"))[0].endswith(" !")


def test_print_marked_as_english_is_no_foreign_matter() -> None:
    """UEB 13.2.3."""
    assert coded(words("the people", "people", lang="en-GB")) == ("! p", [])


def test_a_language_without_a_table_is_told_and_stays_uncontracted() -> None:
    """UEB 13.2."""
    text, kinds = coded(words("the kelmet is", "kelmet", lang="mt"))
    assert text == "! kelmet is"
    assert "ueb.foreign-no-table" in kinds


def test_a_table_can_be_named_for_a_language() -> None:
    tool = contracted(Settings(foreign="foreign-code", foreign_tables=("mt=fr-bfu-comp6.utb",)))
    assert coded(words("the été is", "été", lang="mt"), tool)[0] == "! ^(=t= is"


@pytest.mark.parametrize("row", ["fr", "=x.utb", "fr=", "fr=nothing.utb", "fr=../x.utb"])
def test_a_wrong_table_is_refused_in_words(row: str) -> None:
    with pytest.raises(JobError):
        Foreign((row,))


def test_the_region_of_a_language_needs_no_table_of_its_own() -> None:
    assert coded(words("the été is", "été", lang="fr-CA"))[0] == "! ^(=t= is"


def test_print_the_table_cannot_write_is_told_where_it_stands() -> None:
    kinds = coded(words("the 漢 is", "漢"))[1]
    assert "louis.no-cells" in kinds


def test_words_with_an_answer_space_stay_in_english_code() -> None:
    """UEB 2.4.7: no code runs through what is not its own print."""
    given = Passage(
        "un ___ noir",
        langs=((0, 11, "fr"),),
        marks=(Mark(3, "answer", AnswerSpace(3, 6, "line")),),
    )
    assert "^(" not in coded(given)[0]


@pytest.mark.parametrize("lang", sorted(_known()))
def test_every_listed_table_writes_six_dots(lang: str) -> None:
    """The tables of foreign.toml: installed, and letters of the alphabet come out."""
    code = TableCode(check_table(_known()[lang]))
    own = {"ar": "سلام", "el": "αβγ", "grc": "αβγ", "he": "שלום"}
    cyrillic = lang in ("be", "bg", "ru", "sr", "uk")
    text = own.get(lang, "абв" if cyrillic else "abc")
    assert len(code.translate(Passage(text), Findings()).text.strip(BLANK)) >= 3


def test_every_print_character_is_still_covered() -> None:
    given = words("the un été noir is", "un été noir")
    cells = TOOL.translate(given, Findings())
    held = {
        base + at
        for piece, base in zip(cells.pieces, cells.prints, strict=True)
        for at in range(piece.length)
    }
    assert {at for at, char in enumerate(given.text) if char != " "} <= held


@pytest.mark.parametrize(
    "name, wanted",
    [
        ("non-UEB word indicator", "^("),
        ("non-UEB word terminator", "^)"),
        ("non-UEB passage indicator", "\"('"),
        ("non-UEB passage terminator", ',")'),
    ],
)
def test_the_indicators(name: str, wanted: str) -> None:
    """UEB 14.3."""
    assert signs.cells(name) == cells_of(wanted)
    assert ascii_of(signs.cells(name)).translate(FOLD) == wanted


def test_the_options_on_the_command_line_and_in_a_job() -> None:
    assert settings_options(
        {"foreign": CODE, "foreign-tables": "fr=a.utb,de=b.utb", "divide-words": True}
    ) == {"foreign": CODE, "foreign_tables": ("fr=a.utb", "de=b.utb"), "divide_words": True}
    with pytest.raises(JobError):
        settings_options({"foreign": "french"})
