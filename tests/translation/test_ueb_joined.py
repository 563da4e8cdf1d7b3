"""Passages over several paragraphs: the indicator at each, one terminator (UEB 8.5.5, 9.9)."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from convert.document.nodes import Added
from convert.findings import Findings
from convert.layout.items import Item
from convert.layout.kin import rows_of_kin
from convert.translation.passage import Mark, Passage

from .ueb_case import FOLD, passage, translator


def blocks(*given: Passage, grade: int = 2) -> list[str]:
    """The braille of paragraphs of one kind, one straight after another."""
    kin = [_placed(one, at * 1000) for at, one in enumerate(given)]
    tool = translator(grade)
    tool.prepare(kin)
    out = [tool.translate(one, Findings()).ascii.translate(FOLD) for one in kin]
    tool.prepare([])
    return out


def _placed(one: Passage, base: int) -> Passage:
    """A paragraph at a place of its own; one whose places are given stays as it is."""
    return one if len(one.at) > 1 else replace(one, kin=one.kin or 1, at=((0, base),))


def whole(text: str, form: str = "italic") -> Passage:
    """A paragraph wholly in one typeform."""
    return passage(text, (0, len(text), form))


def test_a_typeform_passage_is_closed_once_at_its_very_end() -> None:
    """UEB 9.9."""
    assert blocks(whole("We go up now."), whole("You go too."), whole("So it is.")) == [
        ".7,we g up n[4",
        ".7,y g too4",
        ".7,s x is4.'",
    ]


def test_a_short_paragraph_inside_the_passage_has_the_passage_indicator_too() -> None:
    """UEB 9.9: its own length does not count."""
    assert blocks(whole("We go up now."), whole("Up!"), whole("So it is."))[1] == ".7,up6"


def test_a_passage_may_begin_inside_the_first_paragraph() -> None:
    """UEB 9.9."""
    first = passage("He read: we go up", (9, 17, "bold"))
    assert blocks(first, whole("and on we go.", "bold")) == [
        ",he r1d3 ^7we g up",
        "^7& on we g4^'",
    ]


def test_a_passage_may_end_inside_the_last_paragraph() -> None:
    """UEB 9.9: one terminator, where print changes."""
    last = passage("and on we go. Then he slept.", (0, 13, "italic"))
    assert blocks(whole("We go up now."), last) == [
        ".7,we g up n[4",
        ".7& on we g4.' ,!n he slept4",
    ]


def test_a_passage_may_begin_inside_the_first_and_end_inside_the_last() -> None:
    """UEB 9.9: three words and more on both sides of the paragraph's end."""
    first = passage("He read: we go up", (9, 17, "italic"))
    last = passage("and on we go. Then he slept.", (0, 13, "italic"))
    assert blocks(first, last) == [",he r1d3 .7we g up", ".7& on we g4.' ,!n he slept4"]


def test_two_marked_words_that_meet_are_no_passage() -> None:
    """UEB 9.9 speaks of a passage: neither paragraph is wholly in the typeform."""
    first = passage("He saw Titanic", (7, 14, "italic"))
    assert blocks(first, passage("Titanic sank.", (0, 7, "italic"))) == [
        ",he saw .1,titanic",
        ".1,titanic sank4",
    ]


def test_two_titles_that_meet_are_two_passages() -> None:
    """UEB 9.9, 9.4: the full stop of print between them is in neither."""
    first = passage("We read A Tale of Two Cities.", (8, 28, "italic"))
    last = passage("A Room with a View is new.", (0, 18, "italic"))
    assert blocks(first, last) == [
        ",we r1d .7,a ,tale ( ,two ,cities.'4",
        ".7,a ,room ) a ,view.' is new4",
    ]


def test_a_passage_inside_quotation_marks_ends_inside_them() -> None:
    """UEB 9.7.1, 9.9."""
    given = [
        passage(f"“{words}”", (1, len(words) + 1, "bold")) for words in ("Up I go.", "I do so.")
    ]
    assert blocks(*given) == ["8^7,up ,i g4^'0", "8^7,i d s4^'0"]


def test_nested_typeforms_go_on_each_for_itself() -> None:
    """UEB 9.8, 9.9."""
    both = passage("We go up now.", (0, 13, "italic"), (0, 13, "bold"))
    assert blocks(both, whole("You go too.")) == ["^7.7,we g up n[4^'", ".7,y g too4.'"]


def test_a_capitals_passage_is_closed_once_at_its_very_end() -> None:
    """UEB 8.5.5."""
    assert blocks(Passage("KEEP OFF THE GRASS."), Passage("NO DOGS."), Passage("BY ORDER.")) == [
        ",,,keep (f ! grass4",
        ",,,no dogs4",
        ",,,by ord]4,'",
    ]


def test_digits_and_letters_inside_a_joined_passage() -> None:
    """UEB 6.5.2, 8.5.5: no capitals sign shields the letter."""
    assert blocks(Passage("ROW 4D IS FULL"), Passage("ROW 4B IS NOT")) == [
        ",,,r[ #d;d is full",
        ",,,r[ #d;b is n,'",
    ]


def test_quotation_marks_round_the_paragraphs_stay_outside() -> None:
    """UEB 8.6.2: what was opened before the passage is closed after it."""
    assert blocks(Passage("“KEEP OFF THE GRASS."), Passage("“ALL OF YOU.”")) == [
        "8,,,keep (f ! grass4",
        "8,,,all ( y4,'0",
    ]


def test_uncontracted_braille_does_the_same() -> None:
    """UEB 8.5.5, 9.9."""
    assert blocks(whole("We go up."), whole("You too."), grade=1) == [
        ".7,we go up4",
        ".7,you too4.'",
    ]


@pytest.mark.parametrize("kin", [(1, 2), (1, 0)])
def test_blocks_of_another_kind_are_passages_of_their_own(kin: tuple[int, int]) -> None:
    """UEB 8.5.6."""
    given = [
        replace(Passage("KEEP OFF THE GRASS", at=((0, at * 100),)), kin=row)
        for at, row in enumerate(kin)
    ]
    tool = translator()
    tool.prepare(given)
    assert all(tool.translate(one, Findings()).ascii.endswith(",'") for one in given)


def test_rows_of_paragraphs() -> None:
    """UEB 8.5.6: a heading parts them; a print page (Braille Formats 1.11) does not."""
    words = (Added("x"),)
    items = [
        Item("para", "paragraph", words),
        Item("page-turn", "page-turn", page=("2",)),
        Item("para", "paragraph", words),
        Item("h-5", "cell-5-heading", words),
        Item("para", "paragraph", words),
        Item("para", "blocked", words),
        Item("list", "list", words),
    ]
    assert rows_of_kin(items) == [1, 0, 1, 0, 2, 3, 0]


def test_rows_of_stanzas_and_of_entries() -> None:
    """A stanza and an entry of a list are text elements (UEB, terms used; from memory): lines go
    on their stanza; short entries, those with a number and those of another level are apart."""
    words = (Added("x"),)
    verse = [Item("verse", "verse", words, group="a", before=before) for before in (1, 0, 1, 0)]
    entries = [Item("list", "list", words, group="b", level=level) for level in (1, 1, 1, 2, 1)]
    other = Item("verse", "verse", words, group="c")
    texts = ["x"] * 5 + ["We go up", "You go too", "Up", "We go up", "1. We go"]
    assert rows_of_kin([*verse, other, *entries], texts) == [1, -1, 1, -1, 2, 3, 3, 0, 4, 0]


def test_a_passage_over_the_lines_of_a_poem() -> None:
    """UEB 8.5.5, 9.9: the indicator at each stanza, one terminator."""

    def lines(make: Callable[[str], Passage]) -> list[str]:
        kin = (1, -1, 1, -1)
        texts = ("WE GO UP", "AND ON", "YOU TOO", "GO ON")
        return blocks(*[replace(make(text), kin=row) for text, row in zip(texts, kin, strict=True)])

    assert lines(Passage) == [",,,we g up", "& on", ",,,y too", "g on,'"]
    low = lines(lambda text: whole(text.lower()))
    assert low == [".7we g up", "& on", ".7y too", "g on.'"]


def test_a_passage_that_ends_inside_a_stanza() -> None:
    """UEB 9.9."""
    part = passage("and on. He slept.", (0, 7, "italic"))
    given = [replace(whole("We go up"), kin=1), replace(part, kin=-1)]
    assert blocks(*given) == [".7,we g up", "& on4.' ,he slept4"]


def test_a_passage_over_the_entries_of_a_list() -> None:
    """UEB 8.5.5, 9.9: the indicator at each entry, one terminator."""
    given = [replace(whole("we go up"), kin=1), replace(whole("you go too"), kin=1)]
    assert blocks(*given) == [".7we g up", ".7y g too.'"]


def test_no_passage_runs_over_the_entries_of_a_table_set_row_by_row() -> None:
    """UEB 8.5.6, 5.4.2: entries are wholes by themselves; the semicolons are not print."""
    text = "RELEASE: CYN; SYN; MDC"
    added = ((0, 0), (7, -1), (9, 20), (12, -1), (14, 40), (17, -1), (19, 60))
    shown = blocks(passage(text, at=added))
    assert shown == [",,rel1se3 ,,cyn2 ,,syn2 ,,mdc"]
    assert blocks(passage(text)) == [",,,rel1se3 cyn2 syn2 mdc,'"]
    spelled = passage("a-b-c; d-e-f; g-h-i", at=((0, 0), (5, -1), (7, 20), (12, -1), (14, 40)))
    assert ";;;" not in translator().translate(spelled, Findings()).ascii.translate(FOLD)


def test_a_passage_of_capitals_begins_after_the_bullet_of_an_entry() -> None:
    """UEB 8.5.2: the indicator stands before the first of its letters."""
    given = [passage(f"• {words}", at=((0, 0), (1, -1), (2, 2))) for words in ("GO IN", "BE OUT")]
    near = [replace(one, kin=1, at=(*one.at, (6, at))) for at, one in enumerate(given, 50)]
    assert blocks(*near) == ["_4 ,,,g 9", "_4 ,,,2 \\,'"]


def test_the_space_after_a_bullet_parts_no_passage() -> None:
    """UEB 8.5.2."""
    assert blocks(passage("• BE IN THERE", at=((0, 0), (1, -1), (2, 2)))) == ["_4 ,,,2 9 \"!,'"]


def test_no_passage_runs_through_a_note() -> None:
    """UEB 8.5.2, 3.27: the words of a transcriber's note are not of the text around it."""
    text = "THE BIG A cat BAD WOLF"
    note = (8, 13, "transcriber-note")
    assert blocks(passage(text, note)) == [",,! ,,big @.<,a cat@.> ,,bad ,,wolf"]
    loud = passage("KEEP OUT NOW IT IS I go", (13, 18, "transcriber-note"))
    assert blocks(loud) == [",,,keep \\ n[,' @.<,,x ,,is@.> ,i g"]


def test_the_letter_of_an_entry_is_not_of_its_passage() -> None:
    """UEB 8.5.6: a whole by itself (B. in a list of A., B., C.)."""
    given = passage("B. GO IN NOW", at=((0, 0), (2, -1), (3, 3)))
    assert blocks(given) == [";,b4 ,,,g 9 n[,'"]


def test_a_heading_is_one_passage_over_its_lines() -> None:
    """UEB 8.5.7."""
    lines = tuple(Mark(at, "line") for at in (7, 10))
    assert blocks(passage("CHAPTERONEBEGINS", marks=lines)) == [",,,*apt] \"o 2g9s,'"]
