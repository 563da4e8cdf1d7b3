"""Contractions inside longer words (UEB 10.6, 10.7, 10.9, 10.11, Appendix 1)."""

from __future__ import annotations

import pytest

from convert.translation import back_tables, signs
from convert.translation.cells import ascii_of
from convert.translation.louis_gate import LouisGate
from convert.translation.ueb import inside
from convert.translation.ueb.letters import Letters, cells_of

from .ueb_case import g2
from .word_lists import words

CASES = """
10.9.3 braille anywhere                 | subbraille     | subbrl
10.9.3 great anywhere                   | nongreat       | nongrt
10.9.3 great, over and over             | greatgreat     | grtgrt
10.9.3 at the beginning                 | friendster     | fr/]
10.9.3 not before a vowel               | blindish       | bl9di%
10.9.3 not inside                       | misfriend      | misfri5d
10.9.3 not inside, with an ending       | nonblindly     | nonbl9dly
10.9.2 on the list                      | girlfriends    | girlfrs
10.9.2 on the list                      | colorblind     | colorbl
10.9.2 on the list                      | afterthought's | af?"\\'s
10.9.2 not on the list                  | afterload      | aft]load
10.9.2 not on the list                  | afterwise      | aft]wise
10.9.2 the word itself, with s          | afternoons     | afns
10.11.1 a sounded h after s             | clotheshorse   | clo!shorse
10.11.1 a sounded h after t             | Shorthaired    | ,%orthair$
10.11.1 where one word has none         | catholes       | catholes
10.11.1 and another has                 | catholic       | ca?olic
10.11.2 a name                          | Langham's      | ,langham's
10.11.4 a prefix                        | forearm        | =e>m
10.11.5 and one before bb               | subbranch      | subbran*
10.6.5  but inside one part             | subbing subbed | su2+ su2$
10.7.2  upon                            | yaupon         | yaupon
10.7.3  had with a long a               | Hadean khadi   | ,had1n khadi
10.7.6  one in two syllables            | abalone        | abalone
10.7.7  some in two syllables           | Somerton       | ,som]ton
10.7.7  and with an ending              | ransomers      | ransom]s
10.7.8  time of another sound           | multimeter     | multimet]
10.7.8  and in capitals                 | MULTIMETER's   | ,,multimet]'s
10.6.1  be as a syllable                | bethought      | 2?"\\
10.6.1  and as none                     | Bethlehem      | ,be?lehem
""".strip().splitlines()


@pytest.mark.parametrize("row", CASES)
def test_contractions_inside_a_word(row: str) -> None:
    section, print_, wanted = (part.strip() for part in row.split("|"))
    assert g2(print_) == wanted, section


def test_every_shortform_of_the_word_list_is_one_the_rules_have() -> None:
    """UEB 10.9.2, 10.9.3: what the contraction table does against them is mended."""
    letters, gate, rules = Letters(LouisGate()), LouisGate(), back_tables.rules()
    short = {sign.cells: sign.print for sign in signs.of_kind("shortform").values()}
    wrong: list[str] = []
    mended = 0
    for word in filter(str.isalpha, words()):
        groups = letters.part(word, True, True).groups
        assert letters.alone(word)[0] == cells_of(groups) or letters.part(word, True, True).need
        mended += cells_of(groups) != cells_of(gate.contract(word))
        for start, end, cells in groups:
            own = short.get(cells)
            if own != word[start:end] or (start, end) == (0, len(word)):
                continue
            placed = own in rules.anywhere or own in rules.before_consonant
            placed = placed or (not start and own in rules.at_start)
            vowel = own not in rules.anywhere and word[end : end + 1] in tuple("aeiouy")
            listed = word in rules.words or word.removesuffix("s") in (*rules.words, own)
            if not (listed or (placed and not vowel)):
                wrong.append(f"{word} {ascii_of(cells)}")
    assert wrong == []
    assert mended >= 12


def test_most_words_are_not_looked_at_twice() -> None:
    assert not any(map(inside.may_be_wrong, ("after", "friend", "people", "letters")))
    assert inside.may_be_wrong("afternoon")
