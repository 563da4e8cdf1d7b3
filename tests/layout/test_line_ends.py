"""Words divided where a line ends, as they stand on the page (UEB 6.10, 10.13; BF 1.10)."""

from __future__ import annotations

from convert.document.nodes import Added
from convert.findings import Findings
from convert.layout.items import Item
from convert.layout.line_ends import FEWEST_SAVED
from convert.layout.pages import Made
from convert.layout.shape import Shape
from convert.settings import Settings
from convert.translation.passage import Passage
from convert.translation.ueb import uncontracted
from tests.draw import RELAX, lay, text_of

TOOL = uncontracted(Settings(divide_words=True))


def made(text: str, width: int, kind: str = "para", lines: int = 8, **more: object) -> list[Made]:
    item = Item(kind, kind, (Added(text),), first=3, **more)  # type: ignore[arg-type]
    item.cells = TOOL.translate(Passage(text), Findings())
    return lay([item], Shape(width, lines, relax=RELAX))


def drawn(text: str, width: int, **more: object) -> list[str]:
    (only,) = made(text, width, **more)  # type: ignore[arg-type]
    return [line for line in text_of(only.page) if line]


def test_a_word_is_divided_between_syllables_with_a_hyphen() -> None:
    """UEB 10.13.1."""
    assert drawn("they were considering that", 20) == ["  they were consid-", "ering that"]


def test_no_word_is_divided_to_save_a_cell_or_two() -> None:
    """UEB 10.13.1: where considerable space is saved."""
    assert FEWEST_SAVED == 6
    assert drawn("they were all considering", 20) == ["  they were all", "considering"]
    assert drawn("they were so considering", 21) == ["  they were so con-", "sidering"]


def test_a_number_goes_on_without_a_new_numeric_indicator() -> None:
    """UEB 6.10.1."""
    assert drawn("there are 1,000,000,000 stars", 22) == [
        '  there are #a1jjj1"',
        "jjj1jjj stars",
    ]


def test_a_heading_is_divided_nowhere() -> None:
    """Braille Formats 1.10, 4.4: its words stay whole."""
    assert drawn("they were considering", 20, kind="h-5") == ["  they were", "considering"]


def test_no_word_is_divided_between_braille_pages() -> None:
    """Braille Formats 1.10."""
    text = "one two three four five six seven eight nine then considering that"
    assert "consider-" in drawn(text, 20, lines=5)[2]
    pages = made(text, 20, lines=3)
    assert text_of(pages[0].page)[-1] == "nine then"
    assert text_of(pages[1].page)[0] == "considering that"


def test_every_cell_of_a_divided_line_knows_its_print() -> None:
    """The print of both lines together is the print of the word."""
    (only,) = made("they were considering that", 20)
    rows = [row for row in only.page.rows if row is not None]
    told = [
        part.source.passage.text[slice(*part.print_span())]
        for row in rows
        for part in row.parts
        if part.source is not None and part.source.passage is not None
    ]
    assert "".join(told).replace(" ", "") == "theywereconsideringthat"


def test_an_address_longer_than_the_line_goes_on_after_its_marks() -> None:
    """UEB 6.10: the continuation sign; no hyphen and no sign after a solidus (7.4.2)."""
    item = Item("para", "para", (Added("x"),), first=3)
    text = "see https://www.example.org/library.of.the/school now"
    item.cells = uncontracted(Settings(cells=30)).translate(Passage(text), Findings())
    (only,) = lay([item], Shape(30, 8, relax=RELAX))
    assert [line for line in text_of(only.page) if line] == [
        '  see https3_/_/www4example4"',
        "org_/library4of4the_/school",
        "now",
    ]


def test_a_box_to_tick_stays_on_the_line_of_its_words() -> None:
    """Common practice, no source.  In a paragraph that is no field a line may end there."""
    asked = "Have you one? ☐ Yes ☐ No"
    assert drawn(asked, 24, kind="form") == ["  ,have you one8", "$#d ,yes $#d ,no"]
    assert drawn(asked, 29, kind="form") == ["  ,have you one8 $#d ,yes", "$#d ,no"]
    assert drawn(asked, 29) == ["  ,have you one8 $#d ,yes $#d", ",no"]
