"""Reading back, section by section of the Rules of Unified English Braille (2nd edition 2013)."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from convert.translation.back import read_back
from convert.translation.back_tables import rules
from convert.translation.cells import cells_of
from convert.translation.signs import signs

DATA = Path(__file__).parent / "data"

CASES = [
    # section, cells in ASCII braille, print
    ("2.6.1", ",! cat sat4", "The cat sat."),
    ("2.6.1", ";x", "x"),
    ("2.6.1", ";al", "al"),
    ("2.6.1", ";;e-x-u-d-e", "e-x-u-d-e"),
    ("2.6.1", "d-x-yrf", "do-it-yourself"),
    ("2.6.3", "v1 v /2 r gd4", "very, very still; rather good."),
    ("3.24", ",h;5#b,o", "H₂O"),
    ("3.24", ",am}ica;9#c", "America³"),
    ("3.27", 'see @.<page #d@.>', "see page 4"),
    ("4.2", "caf^/e", "café"),
    ("4.2", ",,gar^&con", "GARÇON"),
    ("4.2", ",^3ub]", "Über"),
    ("4.2.7", "dat^_1e", "dat⠘⠸⠂e"),
    ("4.3", ",ca^6esar", "Cæsar"),
    ("4.5", ".a & ,.w", "α and Ω"),
    ("5.7", ";c ,vitam9 ;,c", "c Vitamin C"),
    ("5.4", ";;;c-a-t d-o-g r-a-t;'", "c-a-t d-o-g r-a-t"),
    ("6.1", "#aijd", "1904"),
    ("6.2", "#c4e", "3.5"),
    ("6.2", "#a1jjj", "1,000"),
    ("6.2", "#c/d cup", "¾ cup"),
    ("6.2", "#f#a/b", "6½"),
    ("6.2", "#d#b/d #e/ac", "4²⁄₄ ⁵⁄₁₃"),
    ("6.3", "#ai3#cj", "19:30"),
    ("6.5", "#c;b #cm #dth", "3b 3m 4th"),
    ("6.6", '#dbd"edb', "424\u00a0542"),
    ("6.9", "##ab cd#'", "12 34"),
    ("7.2", "(t5,-s", "often—so"),
    ("7.3", ";w444", "w…"),
    ("7.5", ";8", "?"),
    ("7.5", ",is x8", "Is it?"),
    ("7.6", "8,s80", "“So?”"),
    ("7.6", "8,a ^8h.d^01 he sd40", "‘A “hound”, he said.’"),
    ("7.6", ",8alas,0", "‘alas’"),
    ("10.12.12", "8u0 f\"<^8x^0\">", "“us” f(“x”)"),
    ("7.6", "8,a \"<^8h.d^0\">0 he sd4", "‘A (“hound”)’ he said."),
    ("8.3", ",i am ,!a", "I am Thea"),
    ("8.4", ",,usa4", "USA."),
    ("8.4", ",,ok'd", "OK'd"),
    ("8.5", ",,,do n enter h]e,' ple", "DO NOT ENTER HERE ple"),
    ("8.6", ",,cd,'s", "CDs"),
    ("9.2", ".2a", "a"),
    ("9.3", ".1v gd", "very good"),
    ("9.4", ".7! l[] deep.' 5d", "the lower deep end"),
    ("10.1", "c d f g h j k l m n p q r s t u v w x y z",
     "can do from go have just knowledge like more not people quite rather so that us very will "
     "it you as"),
    ("10.1.2", "x's c't y'll", "it's can't you'll"),
    ("10.1.2", ";p's", "p's"),
    ("10.2", "* % ? : \\ /", "child shall this which out still"),
    ("10.3", "&y )9 !y s(a", "andy within they sofa"),
    ("10.4", "*ur* s+ st>t", "church sing start"),
    ("10.5", "2 5 7 8 9 0", "be enough were his in was"),
    ("10.5", ",8 9k", "His ink"),
    ("10.6.1", "2g9 3cept 4like", "begin concept dislike"),
    ("10.6.5", "s1t ru2] a3ept o6] e7s", "seat rubber accept offer eggs"),
    ("10.6.5", "41se", "disease"),
    ("10.6.8", "5d 9 9d", "end in ind"),
    ("10.7", '"d "e _h ^w "*', "day ever had word character"),
    ("10.8", "s.d d.e ce;t na;n c;y", "sound dance cement nation city"),
    ("10.9", "ab 2c *n f/ grt", "about because children first great"),
    ("10.9.3", "frly ll/ grtest", "friendly littlest greatest"),
    ("10.9.2", "alms afns frs", "alms afternoons friends"),
    ("10.9.2", "boyfr rcvd", "boyfriend received"),
    ("10.9.5", ";yrs ;,,cd", "yrs CD"),
    ("16.5", 'fi% """"" #g', "fish  7"),
]  # fmt: skip


@pytest.mark.parametrize("section, cells, print_", CASES, ids=[f"{s} {c}" for s, c, _ in CASES])
def test_contracted_braille_reads_back(section: str, cells: str, print_: str) -> None:
    assert read_back(cells_of(cells)).print == print_


@pytest.mark.parametrize(
    "cells, print_",
    [
        (",the cat sat4", "The cat sat."),
        ("b c d", "b c d"),
        ("#ab;a", "12a"),
        ("8yes80 ,he said4", "“yes?” He said."),
        ("x9#b", "x²"),
    ],
)
def test_uncontracted_braille_reads_letter_by_letter(cells: str, print_: str) -> None:
    assert read_back(cells_of(cells), contracted=False).print == print_


def test_every_cell_belongs_to_exactly_one_step() -> None:
    """No cell is passed over, whatever stands in a line (UEB has no meaningless cell)."""
    line = cells_of(',,,! #a4e ^/e ;;x.1y @*o \\o $ < ( ) ,"< _% x _: """ 7 444444 ,-8')
    steps = read_back(line).steps
    assert "".join(step.cells for step in steps) == line
    assert [step.start for step in steps[1:]] == [step.end for step in steps[:-1]]


@given(st.text(st.integers(0x2800, 0x283F).map(chr), max_size=60), st.booleans())
def test_any_cells_are_read_without_losing_one(line: str, contracted: bool) -> None:
    steps = read_back(line, contracted).steps
    assert "".join(step.cells for step in steps) == line


def test_long_runs_of_cells_take_no_long_time() -> None:
    """A run that could be cut into shortforms in very many ways is simply letters."""
    assert len(read_back(cells_of("ab" * 5000)).steps) == 10_000
    assert read_back(cells_of("grt" * 13)).print == "great" * 13
    assert read_back(cells_of("ab" * 20)).print == "ab" * 20


def test_mode_changes_are_named_with_their_section() -> None:
    steps = read_back(cells_of(",a #b ;c .1d")).steps
    told = [(step.name, step.says, step.section) for step in steps if step.says]
    assert told == [
        ("capital letter indicator", "the next letter is a capital", "8.3"),
        ("letter a", "the capital sign was for this letter only", "4.1"),
        ("numeric indicator", "digits follow", "6.1"),
        ("space", "numeric mode and grade 1 mode have ended", ""),
        ("grade 1 symbol indicator", "the next sign is a letter or mark, no contraction", "5.2"),
        ("letter c", "grade 1 was for this sign only", "4.1"),
        ("italic word indicator", "italic up to the next space", "9"),
    ]


@pytest.mark.parametrize(
    "cells, told",
    [
        ("#dth ", ["numeric mode has ended", "grade 1 mode has ended"]),
        ("#d-can", ["numeric mode and grade 1 mode have ended"]),
        (",,ok'd", ["the capitals have ended"]),
        (",,ok so", ["the capitals have ended"]),
        (";;a-b so", ["grade 1 mode has ended"]),
        (".1so x", ["italic has ended"]),
        (".1,,so x", ["the capitals and italic have ended"]),
        (".7so it is.' x", []),
        (",,,so it is,' x", []),
    ],
)
def test_the_end_of_a_mode_is_told_where_no_terminator_says_so(cells: str, told: list[str]) -> None:
    """UEB 5.3, 6.3, 6.5.1, 8.4.2, 9.3: what a space, a hyphen or another sign ends."""
    steps = read_back(cells_of(cells)).steps
    ended = [step.says.split("; ")[-1] for step in steps if step.says.endswith("ended")]
    assert ended == told


@pytest.mark.parametrize(
    "cells, told",
    [
        (";b x", [("b", "grade 1 was for this sign only")]),
        (".2;p x", [("p", "grade 1 and italic were for this sign only")]),
        (".2,!n", [("The", "the capital sign was for this letter only; "
                    "italic was for this sign only")]),
        ("#bg_24#i", [(".", "underline was for this sign only")]),
        ("x;9#bc y", [("", "the next item is a superscript; grade 1 was for this indicator only"),
                      ("3", "the superscript ends")]),
        ("x;9n,", [("", "the next item is a superscript; grade 1 was for this indicator only"),
                   ("n", "the superscript ends")]),
        ("x;;9<ab>", [(None, "")]),
        ("@.<so@.> x", [(None, "")]),
    ],
)  # fmt: skip
def test_the_end_of_an_indicator_for_one_sign_is_told_at_the_sign(
    cells: str, told: list[tuple[str, str]]
) -> None:
    """UEB 3.24, 5.2, 8.3, 9.2."""
    steps = read_back(cells_of(cells)).steps
    found = [
        (step.print, step.says)
        for step in steps
        if step.says.endswith("only") or step.says.endswith(("superscript ends", "subscript ends"))
    ]
    assert found == [row for row in told if row[1]]


def test_other_readings_are_other_print() -> None:
    """A reading of the same print is no other reading; a dash has one name for two marks."""
    steps = read_back(cells_of("9 a,-b")).steps
    assert steps[0].also == ()
    assert steps[3].also == ()
    notes = [step.says for step in read_back(cells_of("@.<so@.>")).steps if step.says]
    assert notes == ["a transcriber's note begins", "the transcriber's note ends"]


def test_braille_shown_in_print_is_read_as_cells() -> None:
    """UEB 3.13."""
    reading = read_back(cells_of("sign .=,b is"))
    assert reading.print == "sign ⠠⠃ is"
    assert reading.at(5).name == "dot locator for mention"  # type: ignore[union-attr]


def test_an_accented_letter_is_told_by_the_section_of_its_modifier() -> None:
    """UEB 4.2."""
    assert read_back(cells_of("^/e")).steps[0].section.startswith("4.2")


def test_an_ambiguous_sign_names_its_other_readings() -> None:
    """Dots 2-3: be, bb or a semicolon, by its place (UEB 10.5, 10.6, 7)."""
    step = read_back(cells_of("ru2]")).steps[2]
    assert step.print == "bb"
    assert step.also == ("“be”", "semicolon")


def test_typeforms_come_as_runs() -> None:
    """UEB 9.3: the word indicator reaches to the next space."""
    assert read_back(cells_of("a .1hot sun")).runs() == [
        ("a ", ()), ("hot", ("italic",)), (" sun", ())
    ]  # fmt: skip


def test_another_code_is_given_as_cells_not_guessed() -> None:
    """UEB 14.6: Nemeth Code inside the text is not read as UEB."""
    inside = cells_of(" x+y")
    reading = read_back(cells_of("if _% x+y _: ok"))
    assert inside in reading.print
    assert reading.print.startswith("if ")
    assert reading.print.endswith(" ok")


def test_eight_dot_cells_are_refused() -> None:
    with pytest.raises(ValueError, match="character 2 is not a cell of six dots"):
        read_back("\u2801\u28c1")


def test_every_contraction_alone_reads_as_itself() -> None:
    """Each wordsign and shortform standing alone (UEB 2.6, 10.1, 10.2, 10.5, 10.9)."""
    kinds = {"alphabetic wordsign", "strong wordsign", "lower wordsign", "shortform",
             "strong contraction", "initial-letter contraction"}  # fmt: skip
    mine = [sign for sign in signs() if sign.kind in kinds]
    assert len(mine) > 140
    assert {s.print for s in mine if read_back(s.cells).print != s.print} == set()


def test_the_words_that_use_shortforms_are_those_of_the_rules() -> None:
    """UEB 10.9.2 and Appendix 1 name afternoontea and mustier, not abouts or almosts."""
    assert {"mustier", "boyfriend", "afterthought"} <= rules().words
    assert not {"abouts", "almosts", "hims"} & rules().words
