"""Unified English Braille beyond the rulebook's own examples: print | cells, by section."""

from __future__ import annotations

import pytest

import convert
from convert.findings import Findings
from convert.translation import signs
from convert.translation.cells import ascii_of
from convert.translation.ueb import quotes

from .ueb_case import FOLD, cells, g1, g2, passage

CONTRACTED = """
5.2.1   list letters stand alone      | a) b) I o x.            | a"> ;b"> ,i o ;x4
5.6.2   a number sets grade 1         | 20th 3rd 2nd            | #bjth #crd #bnd
6.2.1   mixed numbers, two items      | 1½ and 3⁄4              | #a#a/b & #c/d
6.2.1   raised and lowered fraction   | 14⁵⁄₁₂                  | #ad#e/ab
6.4.1   a point after a letter        | vol.3 and .3            | vol4#c & #4c
6.5.2   a to j after a digit          | 4d 4k 4D                | #d;d #dk #d,d
6.5.2   after a fraction              | 9½d.                    | #i#a/b;d4
6.7.1   time, money, date             | 3:30 £3.50 7/11/59      | #c3#cj @l#c4ej #g_/#aa_/#ei
7.1.3   a mark between letters        | a:b and a;b             | a;3b & a;2b
7.1.3   a mark before a word          | .net :smile             | ;4net ;3smile
7.5.3   a question mark alone         | ? (?)                   | ;8 "<;8">
7.6.4   an opening mark alone         | “ x ”                   | ^8 ;x ^0
8.8.2   camel case                    | iPhone eBay McDonald    | i,ph"o e,bay ,mc,donald
8.8.2   letters before a word         | HTMLFile NYTimes         | ,,html,file ,,ny,"ts
8.8.1   part of one word in capitals  | STRing PRESent DVDs     | ,,/r,'+ ,,pres,'5t ,,dvd,'s
8.8.2   units and degrees             | MHz kHz BSc PhD         | ,m,hz k,hz ,b,sc ,ph,d
8.8.2   a chemical formula            | HCl and NaCl            | ,h,cl & ,na,cl
8.5.3   a passage, a number in it     | WE MET IN 1954 AGAIN    | ,,,we met 9 #aied ag,'
8.4     two capital words, no passage | THE END                 | ,,! ,,5d
4.3     a ligature                    | Æsop ENCYCLOPÆDIA       | ,a,^6esop ,,5cyclopa^6edia
4.2     a modifier breaks no word     | frère Ångström          | fr^*ere ,^$ang/r^3om
4.5     Greek letters                 | π and Ω                 | .p & ,.w
5.9.1   a word spelled to its end     | M-i-s-s-i-p-p-i. ab-f-f | ;;,m-i-s-s-i-p-p-i4 ;;ab-f-f
5.4.2   letters that need no sign     | o-o a-a i-i-i O-O         | o-o a-a i-i-i ,o-,o
5.5     what comes is contracted      | p-p-p-p-p-perishing     | ;;p-p-p-p-p-;'p]i%+
7.6.7   marks around a passage        | “b-e”, s-o, “f-a-t”.    | 8;;;b-e01 s-o1 8f-a-t;'04
2.6.2   Italian quotation marks       | «b» «but» «was»         | _8;b_0 _8b_0 _8was_0
7.6     low and angle marks           | „so“ ‚so‘ ‹so› ›so‹     | 8s0 ,8s,0 ,8s,0 ,8s,0
7.6     a modifier's apostrophe       | “donʼt” „donʼt”         | 8don't0 8don't0
10.12.12 a mark opening in mid-word   | judg“mental” a“b”c      | judg^8m5tal^0 a^8b^0c
7.6.7   and after a number            | 5“b”                    | #e^8b^0
10.12.12 and after a sign in mid-word | n="20" on“/“off f("x")  | n"7^8#bj^0 on^8_/^8(f f"<^8x^0">
7.5.3   but not after marks of 2.6.2  | (“of”) a-“up” ‘“up”     | "<8(0"> a-8up0 ,88up0
7.6     straight marks around another | "'!'", a ("'+'"/"'-'")   | 8'6'01 a "<8'"6'0_/^8'-'^0">
7.6     and after a closing bracket   | see "m["x"]".             | see 8m.<^8x^0.>04
8.6.2   brackets inside a passage     | (NOTE) ALL MEN MUST GO  | ,,,"<note"> all m5 m/ g,'
8.6.2   marks inside a passage        | “GO” SAID THE MAN       | ,,,8g0 sd ! man,'
8.6.2   two brackets in a passage     | so (GO ON NOW) [SEE IT] | s ,,,"<g on n["> .<see x.>,'
8.5.4   full stops that end nothing   | a U.S. ARMY UNIT is     | a ,,,u4s4 >my unit,' is
8.5.4   a title before a name         | by MR. OLD FOX GOES on  | by ,,,mr4 old fox goes,' on
7.6.5   an apostrophe, then a mark    | ‘’n’’ ‘the boys’’        | ,8';n',0 ,8! boys',0
7.6     closing what began before     | it is.’ wait—’ boys’.    | x is4,0 wait,-,0 boys'4
7.6     a possessive inside           | ‘The boys’ bag is “in.”’ | 8,! boys' bag is ^8in4^00
3.15    inches inside a quotation     | “5'6"” “6".”            | 8#e'#f,70 8#f,740
3.15    and between straight marks    | "He is 6" tall," he sd  | 8,he is #f,7 tall10 he ;sd
7.6     a number at a quotation's end | "5", "6"                | 8#e01 8#f0
10.9.5  look-alikes with an ending    | Al's CD's AL’s about's  | ;,al's ;,,cd's ;,,al's ab's
10.9.4  no groupsign completes one    | chnl fstx               | chnl fstx
3.22    a shape before a sign         | □, (□) □b               | ;$#d:1 "<;$#d:"> ;$#d:b
2.3.2   printers' ligatures           | ﬁnd Ｆｕｌｌ               | f9d ,full
3.24    unicode levels                | CO₂ x² note¹            | ,c,o;5#b x;9#b note;9#a
6.5.2   after a lowered number        | x₁b y²A 2³k             | x;5#a;b y;9#b,a #b9#ck
6.5.2   a mass number in capitals     | HE SAID ¹⁴C IS OLD      | ,,,he sd ;9#ad;c is old,'
3.22    shapes                        | □ yes ■ no              | ;$#d yes _$#d no
3.13    braille shown in print        | ⠃ is “⠠⠃” here          | .=b is 8.=,b0 "h
3.13    braille of several words      | say ⠮⠀⠉⠁⠞ now            | say .=! cat n[
15.2    stress marks                  | reˈlay ˌmis             | re^.blay ^.2mis
15.3    tone marks                    | ma˦ ba˧ ta˨ go          | ma^.c ba^.3 ta^.- g
10.5.1  spelled beside lower signs    | be. “was” (was) be-be   | be4 8was0 "<0"> be-be
10.5.4  all lower signs               | in. enough! in-in       | in4 5\\<6 9-in
10.6.9  en alone                      | en in                   | en 9
10.9.5  short forms looked alike      | yrs cd ab al            | ;yrs ;cd ;ab ;al
10.12.3 addresses                     | john@abc.org            | john@aabc4org
10.12   a possessive letter           | p's and q's             | ;p's & ;q's
10.4.2  no groupsign as a word    | ou, OU’s “ou” th sh! | ou1 ,,ou's 8ou0 th sh6
10.4.2  in other places it is one | ou/ou thou out       | \\_/\\ ?\\ \\
10.4.3  ing at a word's beginning     | (ingest) ing            | "<9ge/"> 9g
7.6.5   an elided word                | ’tis ‘twas              | 'tis 'twas
"""

UNCONTRACTED = """
4.1    letters                 | the quick brown fox         | the quick brown fox
6.1    digits                  | 1234567890                  | #abcdefghij
6.5.2  a to j after digits     | 4d 4k                       | #d;d #dk
7      punctuation             | a, b; c: d. e! f?           | a1 b2 c3 d4 e6 f8
7      brackets                | (a) [b] {c}                 | "<a"> .<b.> _<c_>
7.2    dashes                  | a-b c–d e—f                 | a-b c,-d e,-f
7.3    an ellipsis             | wait… and ...               | wait444 and 444
7.6    quotation marks         | “so ‘it’ is”                | 8so ,8it,0 is0
3      signs                   | & @ * % $ £ §               | @& @a "9 .0 @s @l ^s
5.11   no grade 1 signs        | b x p's cd                  | b x p's cd
5.11   but the question mark   | ?                           | ;8
8.3    capitals                | The Word A BIG one          | ,the ,word ,a ,,big one
8.5    capitals passage        | ALL THE WORDS HERE          | ,,,all the words here,'
8.6    capitals terminator     | ABCs                        | ,,abc,'s
3.24   levels                  | H₂O                         | ,h5#b,o
"""


def _rows(table: str) -> list[tuple[str, str, str]]:
    out = []
    for line in table.strip().splitlines():
        name, given, wanted = (part.strip() for part in line.split(" | "))
        out.append((name, given, wanted))
    return out


@pytest.mark.parametrize("name, given, wanted", _rows(CONTRACTED))
def test_contracted(name: str, given: str, wanted: str) -> None:
    assert g2(given) == wanted, name


@pytest.mark.parametrize("name, given, wanted", _rows(UNCONTRACTED))
def test_uncontracted(name: str, given: str, wanted: str) -> None:
    assert g1(given) == wanted, name


# -------------------------------------------------- faults of the bare library, guarded


@pytest.mark.parametrize(
    "given", ["take 2 5 mg tablets", "call 911 3 times", "1 2 3 4", "28 20:07"]
)
def test_separate_numbers_are_never_joined(given: str) -> None:
    """UEB 6.6.1: in doubt an ordinary space."""
    found = g2(given).split(" ")
    assert len(found) == len(given.split(" "))
    assert all('"' not in word for word in found if word.startswith("#"))


@pytest.mark.parametrize("given", ["1\u00a0000", "1\u2009000", "1\u202f000"])
def test_spaces_that_hold_a_number_do(given: str) -> None:
    """UEB 6.6.1."""
    assert g2(given) == '#a"jjj'


def test_groups_of_three_are_one_number() -> None:
    """UEB 6.6.1; common practice for ordinary spaces, and always told."""
    assert g2("1 000 000 people in 5 towns") == '#a"jjj"jjj p 9 #e t[ns'
    assert g2("1 000 000 5") == "#a #jjj #jjj #e"


def test_a_letter_after_a_number_in_capitals_is_no_digit() -> None:
    """UEB 6.5.2: no capitals sign shields it inside a passage."""
    assert g2("ABC 456G HIJ") == ",,,abc #def;g hij,'"


@pytest.mark.parametrize("code", [0xFEFF, 0x2060, 0x200B, 0x200D, 0x200C, 0x00AD, 0x200E, 0xFE0F])
def test_invisible_characters_become_no_words(code: int) -> None:
    assert g2(f"sof{chr(code)}tware") == g2("software")
    assert g2(f"sof{chr(code)}tware") == "s(tw>e"


@pytest.mark.parametrize("char", ["₹", "ʃ", "Ж", "漢", "😀", "\ue123", "\U000fffff", "\x96"])
def test_an_unknown_character_is_a_six_dot_sign(char: str) -> None:
    assert g2(f"a {char} b") == "a #? ;b"
    assert g1(f"a {char} b") == "a #? b"


_SHAPES = [
    "x",
    "abcde",
    "a-b-",
    "in-be-",
    "!",
    "a!",
    '"',
    "“",
    "a’",
    "12",
    "(",
    "(a)",
    "brl",
    "¹⁄₂",
    "α",
    "Ж",
    "a'",
    "aB",
    "a—",
    "a.",
    "?",
    ";",
    "́",
    "\u200b",
    "a1b.com/",
    "CD",
]


@pytest.mark.parametrize("shape", _SHAPES)
def test_words_without_end_are_translated(shape: str) -> None:
    """No shape of print is too long: every character reaches its word's piece."""
    text = shape * 1500
    found, _ = cells(text)
    assert sum(piece.length for piece in found.pieces) == len(text) * bool(found.text)
    assert len(found.origin) == len(found.text)


# -------------------------------------------------- typeforms and notes


def test_struck_out_print_is_a_transcriber_defined_typeform() -> None:
    """UEB 9.5."""
    assert g2(passage("was not here", (4, 7, "strike"))) == '0 @#1n "h'


def test_small_capitals_of_an_abbreviation_are_capitals() -> None:
    """UEB 9.6.1."""
    assert g2(passage("at 9 a.m. sharp", (5, 9, "small-caps"))) == "at #i ,a4,m4 %>p"


def test_longer_words_in_small_capitals_keep_their_case() -> None:
    """UEB 9.6, 8.1.1: the decorated opening of a chapter is no shouting."""
    assert g2(passage("It was a day", (0, 8, "small-caps"))) == ',x 0 a "d'


def test_a_transcribers_note_does_not_break_standing_alone() -> None:
    """UEB 2.6.2, 3.27."""
    assert g2(passage("but", (0, 3, "transcriber-note"))) == "@.<b@.>"


def test_typeforms_joined_over_spaces_make_a_passage() -> None:
    """UEB 9.4.1: three words marked one by one are one passage."""
    given = passage("one two three", (0, 3, "italic"), (4, 7, "italic"), (8, 13, "italic"))
    assert g2(given) == ".7\"o two ?ree.'"


def test_a_raised_ordinal_ending_stays_on_the_line() -> None:
    """UEB 6.7.1."""
    assert g2(passage("the 4th day", (5, 7, "sup"))) == '! #dth "d'


def test_a_raised_sum_is_grouped() -> None:
    """UEB 3.24, 3.4: more than one item takes braille grouping."""
    assert g2(passage("xn+1", (1, 4, "sup"))) == 'x;;9<n"6#a>'


def test_a_typed_minus_in_a_raised_number_is_a_minus() -> None:
    """UEB 3.24 and Guidelines for Technical Material 3; between numbers it stays a dash (7.2)."""
    for typed in "-–−":
        assert g2(passage(f"10{typed}3 kg", (2, 4, "sup"))) == '#aj9<"-#c> kg'
        assert g2(passage(f"Cl{typed} ion", (2, 3, "sup"))) == ',cl;9"- ion'
    assert g2(passage("note1–3", (4, 7, "sup"))) == "note;;9<#a,-#c>"


def test_foreign_words_are_uncontracted() -> None:
    """UEB 13.2.1: uncontracted, no grade 1 indicators."""
    assert g2(passage("the word der", langs=((9, 12, "de"),))) == "! ^w der"
    assert g2(passage("in English", langs=((0, 10, "en-GB"),))) == "9 ,5gli%"


# -------------------------------------------------- quotation marks


def test_single_marks_predominate_if_outside() -> None:
    """UEB 7.6.1, 7.6.2."""
    assert g2("‘She said “no” to me’") == "8,%e sd ^8no^0 to me0"
    assert g2("“She said ‘no’ to me”") == "8,%e sd ,8no,0 to me0"


@pytest.mark.parametrize(
    "texts, single",
    [
        (["“One.”"] * 3 + ["‘No’ don’t say “so”, it’s ‘odd’."], False),  # An apostrophe after them.
        (["“One.”"] * 3 + ["‘It is “so” here.’"], False),
        (["‘It is “so” here.’"] * 2 + ["“One.”"], True),
        (["The ‘must’ of it."], False),
        (["‘A “b”, “c” and “d”.’"], True),
        (['‘It is "so" here.’'], True),
        (["He said, “It is ‘so’ and ‘so’ here.”"], False),
    ],
)
def test_the_marks_that_predominate(texts: list[str], single: bool) -> None:
    """UEB 7.6.1, 7.6.2: the kind most quotations stand in, not counting those inside others."""
    assert quotes.single_predominates(texts) is single


def test_a_possessive_inside_single_marks_closes_nothing() -> None:
    assert g2("‘The dogs’ bowls were here,’ he said") == ",8,! dogs' b[ls 7 \"h1,0 he sd"


def test_the_choice_of_quotation_marks_can_be_given() -> None:
    """UEB 7.6.1."""
    assert g2("‘no’", quotes="single") == "8no0"
    assert g2("‘no’", quotes="double") == ",8no,0"


def test_elided_words_inside_single_marks() -> None:
    """UEB 7.6.5, 6.7.1: an apostrophe in doubt, and before a decade."""
    straight = "'You know 'tis so.' 'In the '90s.'"
    curly = "‘You know ‘tis so.’ ‘In the ‘90s.’"
    for text in (straight, curly):
        assert g2(text, quotes="single") == "8,y \"k 'tis s40 8,in ! '#ijs40"


def test_feet_and_inches() -> None:
    """UEB 3.11, 3.15."""
    assert g2("5'10\" and 5′10″") == "#e'#aj,7 & #e7#aj77"


# -------------------------------------------------- the table of signs


def test_every_sign_is_a_six_dot_cell_with_a_section() -> None:
    for sign in signs.signs():
        assert sign.cells
        assert sign.section
        assert all(0x2800 < ord(cell) <= 0x283F for cell in sign.cells), sign


@pytest.mark.parametrize(
    "name, wanted",
    [
        ("capitals terminator", ",'"),
        ("grade 1 passage indicator", ";;;"),
        ("italic word indicator", ".1"),
        ("opening transcriber's note", "@.<"),
        ("fifth transcriber-defined typeform passage indicator", ".#7"),
    ],
)
def test_indicators_by_name(name: str, wanted: str) -> None:
    """UEB 3.27, 5, 8, 9."""
    assert ascii_of(signs.cells(name)).translate(FOLD) == wanted


def test_shortforms_are_all_there() -> None:
    """UEB 10.9: the rulebook lists 75."""
    assert len(signs.of_kind("shortform")) == 75


def test_a_hair_space_between_quotation_marks_is_nothing() -> None:
    """UEB 7.6.2: nested quotation marks stand unspaced; print only keeps them from touching."""
    found = Findings()
    text = "I heard, “He said ‘yes.’\u200a” Then rain."
    cells = convert.translate(text, findings=found)
    assert cells.ascii == ",i he>d1 8,he sd ,8yes4,00 ,!n ra94"
    assert found.all() == []
    claimed = {
        at
        for piece, start in zip(cells.pieces, cells.prints, strict=True)
        for at in range(start, start + piece.length)
    }
    assert text.index("\u200a") in claimed


def test_an_opening_mark_after_a_letter_is_a_quotation_mark_still() -> None:
    """UEB 7.6: print's own direction is followed, wherever the mark stands."""
    assert convert.translate("the word“ fell").ascii == "! ^w8 fell"
