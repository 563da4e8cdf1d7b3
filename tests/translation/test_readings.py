"""What a person has decided about how print is read, obeyed in both codes (see choices)."""

from __future__ import annotations

import pytest

from convert.document.choices import READING, Choice
from convert.document.ledger import Ledger
from convert.document.nodes import Added, PrintPageTurn, Run
from convert.findings import Findings
from convert.translation.cells import Cells, cells_of
from convert.translation.passage import Passage, Readings, passage_of, readings_of

from .ueb_case import FOLD, passage, translator


def read(what: str | Passage, *choices: Choice, grade: int = 2) -> tuple[Cells, Findings]:
    given = Passage(what) if isinstance(what, str) else what
    findings = Findings()
    tool = translator(grade)
    tool.prepare([given])
    return tool.translate(Readings(choices).on(given), findings), findings


def shown(what: str | Passage, *choices: Choice, grade: int = 2) -> str:
    return read(what, *choices, grade=grade)[0].ascii.translate(FOLD)


def chosen(text: str, words: str, kind: str, value: str = "") -> Choice:
    at = text.index(words)
    return Choice(at, at + len(words), kind, cells_of(value))


# Print, the stretch, the reading, the cells, the section.
LETTERS = [
    ("the WHO says", "WHO", "word", "! ,,:o says", "10.1.3"),
    ("the WHO says", "WHO", "letters", "! ,,who says", "10.1.3"),
    ("the US says", "US", "letters", "! ,,us says", "10.12.1"),
    ("the US says", "US", "word", "! ,,u says", "10.12.1"),
    ("a CD here", "CD", "letters", 'a ;,,cd "h', "10.9.5"),
    ("he wrote cd", "cd", "letters", "he wrote ;cd", "10.9.5"),
    ("he wrote brl", "brl", "letters", "he wrote ;brl", "10.9.5"),
    ("a x there", "x", "letters", 'a ;x "!', "5.2"),
    ("say enough now", "enough", "uncontracted", "say enough n[", "10.13"),
    ("say (ih-NUHF) now", "ih-NUHF", "uncontracted", 'say "<ih-,,nuhf"> n[', "10.1"),
    ("but-ton", "but-ton", "letters", "but-ton", "10.1.4"),
    ("but-ton", "but-ton", "word", "b-ton", "10.1.4"),
    ("over and under", "er and und", "uncontracted", "over and und]", "10"),
    ("al-be-it", "al-be-it", "word", ";al-be-x", "10.12.17"),
    ("add 1 2 3 up", "1 2 3", "numbers", "add ##a b c#' up", "6.9"),
]


@pytest.mark.parametrize(("text", "words", "kind", "wanted", "section"), LETTERS)
def test_letters_are_read_as_decided(
    text: str, words: str, kind: str, wanted: str, section: str
) -> None:
    assert shown(text, chosen(text, words, kind)) == wanted, section


@pytest.mark.parametrize("kind", ["letters", "word", "uncontracted"])
def test_uncontracted_braille_spells_every_word_anyway(kind: str) -> None:
    text = "the WHO and CD"
    assert shown(text, chosen(text, text, kind), grade=1) == shown(text, grade=1)


MARKS = [
    ('he said "no and left', '"', "closing", "he sd 0no & left"),
    ('so 5" is it', '"', "closing", "s #e0 is x"),
    ('so 5" is it', '"', "opening", "s #e8 is x"),
    ('a " b', '"', "apostrophe", "a ,7 ;b"),
    ("the boys' room", "'", "closing", "! boys,0 room"),
    ("’tis so", "’", "opening", ",8tis s"),
    ("‘tis so", "‘", "apostrophe", "'tis s"),
    ("‘No’ said", "’", "apostrophe", ",8,no' sd"),
]


@pytest.mark.parametrize(("text", "mark", "kind", "wanted"), MARKS)
def test_marks_point_as_decided(text: str, mark: str, kind: str, wanted: str) -> None:
    """UEB 7.6."""
    assert shown(text, chosen(text, mark, kind)) == wanted


def test_a_decided_mark_is_a_mark_in_uncontracted_braille() -> None:
    assert shown("the boys' room", Choice(8, 9, "closing"), grade=1) == "the boys,0 room"


@pytest.mark.parametrize("grade", [1, 2])
def test_given_cells_stand_for_their_print(grade: int) -> None:
    text = "a ₹ and WHO's"
    choices = chosen(text, "₹", "cells", "rs"), chosen(text, "WHO", "cells", ",,:o")
    cells, findings = read(text, *choices, grade=grade)
    assert cells.ascii.split()[1:] == ["rs", "&" if grade == 2 else "and", ",,:o's"]
    last = cells.ascii.rindex(",,")
    assert cells.origin[:5] == [0, 1, 2, 2, 3]
    assert cells.origin[last:] == [8, 8, 8, 8, 11, 12]
    assert cells.span(2, 4) == (2, 3)
    assert findings.all() == []


def test_given_cells_for_several_words() -> None:
    """As many words as print has: each its own; else the whole stretch is one sign."""
    text = "go ad hoc now"
    same = read(text, chosen(text, "ad hoc", "cells", "ad hoc"))[0]
    assert same.ascii == "g ad hoc n["
    assert [same.prints[at] for at in range(4)] == [0, 3, 6, 10]
    fewer = read(text, chosen(text, "ad hoc", "cells", "adh"))[0]
    assert fewer.ascii == "g adh n["
    assert fewer.pieces[1].length == len("ad hoc")
    more = read(text, chosen(text, "ad hoc", "cells", "a d hoc"))[0]
    assert more.ascii == "g a d hoc n["
    assert more.reach(len(text))[3:9] == [2] * 6


def test_cells_that_are_no_cells_are_not_obeyed() -> None:
    text = "costs ₹5"
    for value in ("", "abc", "\u2800", "\u2840"):
        cells, findings = read(text, Choice(6, 7, "cells", value))
        assert cells.ascii == read(text)[0].ascii
        assert [item.kind for item in findings.all()] == ["ueb.unknown-character"]


def test_a_typeform_around_given_cells_stays() -> None:
    """UEB 9.2: its indicators belong to the paragraph."""
    given = passage("see Ψυχή now", (4, 8, "italic"))
    assert shown(given, Choice(4, 8, "cells", cells_of("psy"))) == "see .1psy n["


def test_given_cells_stand_inside_a_passage_of_capitals() -> None:
    """UEB 8.5."""
    text = "STOP THE XYZ NOW"
    assert shown(text, chosen(text, "XYZ", "cells", "xy")) == ",,,/op ! xy n[,'"


SETTLED = [
    ("the WHO says", "WHO", "word", "ueb.acronym"),
    ("the WHO says", "the WHO", "letters", "ueb.acronym"),
    ("Simone came", "Simone", "word", "ueb.two-forms"),
    ("but-ton", "but-ton", "letters", "ueb.syllables"),
    ('he said "no and left', '"', "opening", "ueb.quote-direction"),
    ("costs ₹5", "₹", "cells", "ueb.unknown-character"),
]


@pytest.mark.parametrize(("text", "words", "kind", "finding"), SETTLED)
def test_a_decision_settles_the_finding_there(
    text: str, words: str, kind: str, finding: str
) -> None:
    assert finding in [item.kind for item in read(text)[1].all()]
    found = read(text, chosen(text, words, kind, "rs" if kind == "cells" else ""))[1].all()
    assert finding not in [item.kind for item in found]


def test_it_does_not_settle_another_place() -> None:
    text = "the WHO and WHO"
    found = read(text, Choice(4, 7, "word"))[1].all()
    assert [item.spans for item in found] == [((12, 15),)]


@pytest.mark.parametrize("kind", ["letters", "uncontracted", "word", "opening"])
def test_a_character_without_a_sign_is_settled_by_cells_alone(kind: str) -> None:
    found = read("costs ₹5", Choice(0, 8, kind))[1].all()
    assert [item.kind for item in found] == ["ueb.unknown-character"]


def test_a_foreign_word_read_as_a_word_is_contracted() -> None:
    """UEB 13.2: anglicised words are contracted; the rest of the stretch stays."""
    text = "the mother der Stand"
    given = passage(text, langs=((4, 20, "de"),))
    assert shown(given) == "! mother der ,stand"
    assert shown(given, chosen(text, "mother", "word")) == '! "m der ,stand'
    assert shown(given, chosen(text, "mother der Stand", "word")) == '! "m d] ,/&'
    found = read(given, chosen(text, "mother der Stand", "word"))[1].all()
    assert found == []


def test_the_narrower_decision_wins() -> None:
    text = "and for the"
    assert shown(text, Choice(0, 11, "letters"), Choice(4, 7, "word")) == "and = the"


def test_choices_follow_the_print_into_the_passage() -> None:
    """Words that are not in print, and page turns, move them; layout is not for this room."""
    ledger = Ledger("aa WHO bb")
    inlines = (Added("note "), Run(0, 5), PrintPageTurn("7"), Run(5, 9))
    given = (Choice(3, 6, "letters"), Choice(0, 9, "page-before"))
    placed = Readings(given).on(passage_of(inlines, ledger))
    assert placed.choices == (Choice(8, 11, "letters"),)
    assert placed.text[8:11] == "WHO"
    assert readings_of(placed).on(passage_of((Run(3, 9),), ledger)).choices == (
        Choice(0, 3, "letters"),
    )


def test_every_reading_is_obeyed_somewhere_here() -> None:
    used = {row[2] for row in (*LETTERS, *MARKS)} | {"cells"}
    assert used == set(READING)


def test_a_syllable_with_the_same_cells_either_way_asks_for_no_decision() -> None:
    """UEB 10.1.4: “ness” is spelled out as a part of a word shown in syllables and as a word."""
    assert read("my “high-ness” and")[1].all() == []
    assert [item.kind for item in read("but-ton")[1].all()] == ["ueb.syllables"]
