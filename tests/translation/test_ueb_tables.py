"""The tables of The Rules of Unified English Braille (2nd edition 2013), each by its section.

What is expected is written out here from the rulebook, by dots or in North American ASCII
braille, and compared with what print becomes; nothing is taken from the program's own tables.
"""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path

import pytest

from convert.translation import signs
from convert.translation.cells import ascii_of, cells_of, dots_of

from .ueb_case import FOLD, cells, g1, g2, passage

# ---------------------------------------------------------------- 4.1 alphabet, 6.1 digits

ALPHABET = """
a 1  b 12  c 14  d 145  e 15  f 124  g 1245  h 125  i 24  j 245  k 13  l 123  m 134  n 1345
o 135  p 1234  q 12345  r 1235  s 234  t 2345  u 136  v 1236  w 2456  x 1346  y 13456  z 1356
"""


def _pairs(table: str) -> list[tuple[str, str]]:
    words = table.split()
    return [*zip(words[::2], words[1::2], strict=True)]


@pytest.mark.parametrize("letter, dots", _pairs(ALPHABET))
def test_the_alphabet(letter: str, dots: str) -> None:
    """UEB 4.1."""
    shown = cells(letter, 1)[0].text
    assert dots_of(shown).replace("-", "") == dots
    assert g1(letter.upper()) == "," + ascii_of(shown)


def test_the_digits() -> None:
    """UEB 6.1.1: the numeric indicator and the letters j, a to i."""
    for digit, letter in zip("0123456789", "jabcdefghi", strict=True):
        assert g1(digit) == g2(digit) == f"#{letter}"


# ---------------------------------------------------------------- 4.2 to 4.5

MODIFIERS = """
ø @*o  ɨ @3i  ă @+a  ā @-a  ç ^&c  à ^*a  â ^%a  å ^$a  ñ ^]n  ö ^3o  é ^/e  č ^+c
"""
GREEK = """
α .a β .b γ .g δ .d ε .e ζ .z η .: θ .? ι .i κ .k λ .l μ .m ν .n ξ .x ο .o π .p ρ .r σ .s
τ .t υ .u φ .f χ .& ψ .y ω .w
"""


@pytest.mark.parametrize("letter, wanted", _pairs(MODIFIERS))
def test_modifiers(letter: str, wanted: str) -> None:
    """UEB 4.2.1: the modifier before the letter, a capitals sign before both."""
    assert g1(letter) == g2(letter) == wanted
    assert g1(letter.upper()) == "," + wanted


@pytest.mark.parametrize("letter, wanted", _pairs(GREEK))
def test_greek_letters(letter: str, wanted: str) -> None:
    """UEB 4.5.1; the capitals sign stands first (4.5.2)."""
    assert g1(letter) == g2(letter) == wanted
    assert g1(letter.upper()) == "," + wanted


def test_final_sigma_is_sigma() -> None:
    """UEB 4.5.1 has one sigma."""
    assert g1("ς") == ".s"


@pytest.mark.parametrize(
    "given, wanted", [("æ", "a^6e"), ("œ", "o^6e"), ("Æ", ",a,^6e"), ("ŋ", "^n"), ("ə", "_5")]
)
def test_ligatures_eng_and_schwa(given: str, wanted: str) -> None:
    """UEB 4.3, 4.4."""
    assert g1(given) == wanted


# ---------------------------------------------------------------- 7.1 punctuation

PUNCTUATION = """
a, a1 | a; a2 | a: a3 | a. a4 | a! a6 | a? a8 | a… a444 | a/b a_/b | a\\b a_*b | a-b a-b
a–b a,-b | a—b a,-b | a―b a",-b | a_b a.-b | it's it's | (a) "<a"> | [a] .<a.> | {a} _<a_>
<a> @<a@> | “a” 8a0 | ‘a’ ,8a,0 | «a» _8a_0
"""
ROWS = [row.split() for line in PUNCTUATION.strip().splitlines() for row in line.split(" | ")]


@pytest.mark.parametrize("given, wanted", ROWS)
def test_punctuation(given: str, wanted: str) -> None:
    """UEB 7.1, 7.6 (single marks beside double ones: the text's own kind is double)."""
    assert g1("“x” " + given).removeprefix("8x0 ") == wanted


def test_a_question_mark_by_itself() -> None:
    """UEB 7.5.3: also in uncontracted braille."""
    assert g1("?") == g2("?") == ";8"


# ---------------------------------------------------------------- indicators: 5, 6, 8, 9, 3


@pytest.mark.parametrize(
    "form, prefix",
    [("italic", ".") , ("bold", "^"), ("underline", "_"), ("script", "@"),
     ("transcriber-1", "@#"), ("transcriber-2", "^#"), ("transcriber-3", "_#"),
     ("transcriber-4", '"#'), ("transcriber-5", ".#")],
)  # fmt: skip
def test_typeform_indicators(form: str, prefix: str) -> None:
    """UEB 9.1 to 9.5: symbol, word, passage, terminator."""
    assert g1(passage("ab", (0, 1, form))) == f"{prefix}2ab"
    assert g1(passage("ab", (0, 2, form))) == f"{prefix}1ab"
    assert g1(passage("abc", (0, 2, form))) == f"{prefix}1ab{prefix}'c"
    assert g1(passage("ab c de", (0, 7, form))) == f"{prefix}7ab c de{prefix}'"


@pytest.mark.parametrize(
    "given, wanted",
    [
        ("B", ",b"),
        ("BED", ",,bed"),
        ("BED BY BED", ",,,bed by bed,'"),
        ("BEDs", ",,bed,'s"),
    ],
)
def test_capitals_indicators(given: str, wanted: str) -> None:
    """UEB 8.3 to 8.6."""
    assert g1(given) == wanted


@pytest.mark.parametrize(
    "given, wanted",
    [
        ("c", ";c"),
        ("br-r-r-r", ";;br-r-r-r"),
        ("p-e-o-p-l-e c-a-n g-o", ";;;p-e-o-p-l-e c-a-n g-o;'"),
    ],
)
def test_grade_1_indicators(given: str, wanted: str) -> None:
    """UEB 5.3 to 5.5, 5.4.2."""
    assert g2(given) == wanted


def test_numeric_signs() -> None:
    """UEB 6.1 to 6.3, 6.6: decimal sign, comma, numeric space, fraction line."""
    assert g1("1.5") == "#a4e"
    assert g1("1,500") == "#a1ejj"
    assert g1("1\u00a0500") == '#a"ejj'
    assert g1("½") == "#a/b"


def test_transcribers_note_signs() -> None:
    """UEB 3.27."""
    assert g1(passage("a note", (0, 6, "transnote"))) == "@.<a note@.>"


def test_level_and_grouping_signs() -> None:
    """UEB 3.4, 3.24."""
    assert g1("x²") == "x9#b"
    assert g1("x₂") == "x5#b"
    assert g1(passage("xab", (1, 3, "sup"))) == "x9<ab>"


INDICATORS = """
grade 1 symbol indicator | ; | 5
grade 1 word indicator | ;; | 5
grade 1 passage indicator | ;;; | 5
grade 1 terminator | ;' | 5
capital letter indicator | , | 8
capitals word indicator | ,, | 8
capitals passage indicator | ,,, | 8
capitals terminator | ,' | 8
numeric indicator | # | 6
opening braille grouping | < | 3.4
closing braille grouping | > | 3.4
dot locator for mention | .= | 3.13
dot locator for use | ""= | 3.14
line continuation | " | 6.10
line continuation with space | "" | 6.10
non-UEB word indicator | ^( | 14.3
non-UEB word terminator | ^) | 14.3
non-UEB passage indicator | "(' | 14.3
non-UEB passage terminator | ,") | 14.3
opening Nemeth code indicator | _% | 14.6
Nemeth code terminator | _: | 14.6
line indicator | _ | 15.1.2
superscript indicator | 9 | 3.24
subscript indicator | 5 | 3.24
ligature indicator | ^6 | 4.3
shape terminator | : | 3.22
horizontal line mode indicator | "3 | 16.2
horizontal line mode terminator | ' | 16.2
"""


@pytest.mark.parametrize("row", INDICATORS.strip().splitlines())
def test_every_indicator_by_name(row: str) -> None:
    name, wanted, section = (part.strip() for part in row.split(" | "))
    assert signs.cells(name) == cells_of(wanted)
    found = next(sign for sign in signs.signs() if sign.name == name)
    assert found.section.startswith(section)


# ---------------------------------------------------------------- 3 general symbols

SYMBOLS = """
& @& @ @a * "9 † @,? ‡ @,] ^ @5 ~ @9 # _? % .0 ¢ @c € @e ₣ @f £ @l ₦ @n $ @s ¥ @y © ^c ® ^r
™ ^t ° ^j ′ 7 ″ 77 ¶ ^p § ^s ♀ ^x ♂ ^y ♭ #< ♮ #* ♯ #% + "6 − "- × "8 ÷ "/ = "7 • _4 → \\o
← \\[ ↑ \\+ ↓ \\% □ $#d ○ $= ✓ @% ¡ ^;6 ¿ ^;8
"""


@pytest.mark.parametrize("given, wanted", _pairs(SYMBOLS))
def test_general_symbols(given: str, wanted: str) -> None:
    """UEB 3, 3.28 (2019 update: the tick), 13.5 (Spanish opening marks)."""
    assert g1(given) == wanted


@cache
def _list() -> dict[str, dict[str, str]]:
    file = Path(__file__).parent / "data" / "symbols_ueb.json"
    listed: dict[str, dict[str, str]] = json.loads(file.read_text("utf-8"))
    return listed


# Quotation marks and apostrophes by themselves are decided by what stands around them (7.6).
BY_CONTEXT = {'"': "^8", "’": "'", "“": "^8", "”": "^0"}


@pytest.mark.parametrize("char", sorted(_list()))
def test_the_list_of_symbols(char: str) -> None:
    """The list of print symbols published with the rulebook's examples, and the Guidelines for
    Technical Material 2014 by section."""
    row = _list()[char]
    wanted = row["cells"].translate(FOLD).lower()
    assert g1(char) == BY_CONTEXT.get(char, wanted), row["name"]


# ---------------------------------------------------------------- 10 contractions

CONTRACTIONS = {
    "10.1 alphabetic wordsigns": """but b can c do d every e from f go g have h just j knowledge k
        like l more m not n people p quite q rather r so s that t us u very v will w it x you y
        as z""",
    "10.2 strong wordsigns": "child * shall % this ? which : out \\ still /",
    "10.3 strong contractions": "and & for = of ( the ! with )",
    "10.5 lower wordsigns": "be 2 enough 5 were 7 his 8 in 9 was 0",
    "10.7 initial-letter contractions": """upon ^u these ^! those ^? whose ^: word ^w cannot _c
        had _h many _m spirit _s their _! world _w day "d ever "e father "f here "h know "k
        lord "l mother "m name "n one "o part "p question "q right "r some "s time "t under "u
        young "y there "! character "* through "? where ": ought "\\ work "w""",
    "10.9 shortforms": """about ab above abv according ac across acr after af afternoon afn
        afterward afw again ag against ag/ also al almost alm already alr altogether alt
        although al? always alw because 2c before 2f behind 2h below 2l beneath 2n beside 2s
        between 2t beyond 2y blind bl braille brl children *n conceive 3cv conceiving 3cvg
        could cd deceive dcv deceiving dcvg declare dcl declaring dclg either ei first f/
        friend fr good gd great grt herself h]f him hm himself hmf immediate imm its xs
        itself xf letter lr little ll much m* must m/ myself myf necessary nec neither nei
        oneself "of ourselves \\rvs paid pd perceive p]cv perceiving p]cvg perhaps p]h quick qk
        receive rcv receiving rcvg rejoice rjc rejoicing rjcg said sd should %d such s*
        themselves !mvs thyself ?yf today td together tgr tomorrow tm tonight tn would wd
        your yr yourself yrf yourselves yrvs""",
}
INSIDE = {
    "10.4 strong groupsigns": """chin *9 high hi< shop %op thin ?9 whip :ip bed b$ her h] loud l\\d
        cow c[ stop /op sing s+ car c>""",
    "10.6 lower groupsigns": """become 2come concert 3c]t disturb 4turb head h1d rubber ru2] accept
        a3ept differ di6] eggs e7s pen p5 pin p9""",
    "10.8 final-letter groupsigns": """found f.d dance d.e mansion man.n bless b.s count c.t
        fence f;e song s;g hopeful hope;l nation na;n kindness k9d;s moment mo;t city c;y""",
}


@pytest.mark.parametrize("table", [*CONTRACTIONS, *INSIDE])
def test_the_contractions(table: str) -> None:
    """UEB 10.1 to 10.9: every sign of the table, in a word of its own."""
    rows = _pairs((CONTRACTIONS | INSIDE)[table])
    wrong = {word: g2(word) for word, wanted in rows if g2(word) != wanted}
    assert not wrong


def test_there_are_as_many_as_the_rulebook_lists() -> None:
    """UEB 10: 23 alphabetic and 6 strong wordsigns, 5 strong contractions, 12 strong groupsigns,
    6 lower wordsigns, 33 initial-letter and 12 final-letter signs, 75 shortforms."""
    counts = {
        "alphabetic wordsign": 23, "strong wordsign": 6, "strong contraction": 5,
        "strong groupsign": 12, "lower wordsign": 6, "initial-letter contraction": 33,
        "final-letter groupsign": 12, "shortform": 75,
    }  # fmt: skip
    assert {kind: len(signs.of_kind(kind)) for kind in counts} == counts
