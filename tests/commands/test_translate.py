"""``cellset translate``: lines of print in, lines of cells out."""

from __future__ import annotations

import subprocess
import sys

import pytest
from click.testing import CliRunner

from convert.commands.translate import command

USAGE, HELD = 2, 3


def run(text: str | bytes, *options: str) -> tuple[str, str, int]:
    result = CliRunner().invoke(command, list(options), input=text)
    return result.stdout, result.stderr, result.exit_code


@pytest.mark.parametrize(
    "way, cells",
    [("ascii", "#c cats"), ("unicode", "⠼⠉⠀⠉⠁⠞⠎"), ("dots", "3-4-5-6 1-4 0 1-4 1 2-3-4-5 2-3-4")],
)
def test_cells_come_as_asked(way: str, cells: str) -> None:
    assert run("3 cats\n", "--as", way) == (cells + "\n", "", 0)


def test_unicode_is_the_default() -> None:
    assert run("a\n")[0] == "⠁\n"


def test_one_line_of_cells_for_each_line_of_print() -> None:
    """Empty lines stay, and a line's quotation marks do not decide for the next (UEB 7.6)."""
    out, _, status = run("‘I “am” I’\n\n“I”\n", "--as", "ascii")
    assert (out, status) == ("8,i ^8am^0 ,i0\n\n8,i0\n", 0)


def test_predominant_quotation_marks_can_be_said() -> None:
    """UEB 7.6.1: which kind predominates is a fact of the whole text."""
    assert run("‘I’\n", "--as", "ascii", "--quotes", "single")[0] == "8,i0\n"
    assert run("‘I’\n", "--as", "ascii", "--quotes", "double")[0] == ",8,i,0\n"


def test_typeforms_of_inline_html() -> None:
    """UEB 9.3, 3.24."""
    assert run("a <i>red</i> x<sup>2</sup>\n", "--html", "--as", "ascii")[0] == "a .1r$ x;9#b\n"


def test_an_element_without_meaning_is_told() -> None:
    out, told, status = run("<font>a</font>\n", "--html", "--as", "ascii")
    assert (out, status) == ("a\n", 0)
    assert told == "Line 1: the element font says nothing to braille; its words were kept.\n"


def test_uncontracted_and_table_codes() -> None:
    assert run("the\n", "--as", "ascii", "--code", "ueb-uncontracted")[0] == "the\n"
    assert run("the\n", "--as", "ascii", "--code", "louis:en-us-g2.ctb")[0] == "!\n"


def test_print_without_cells_holds_the_line() -> None:
    out, told, status = run("a 日\n", "--as", "ascii", "--code", "louis:en-us-g2.ctb")
    assert (out, status) == ("a\n", HELD)
    assert told.startswith("Line 1: The table en-us-g2.ctb has no cells for")


def test_explain_says_every_sign_on_lines_a_listener_can_follow() -> None:
    out, _, status = run("The fat one.\n", "--as", "ascii", "--explain")
    assert status == 0
    assert out.splitlines()[:7] == [
        ',! fat "o4',
        "cell 1: dot 6, capital letter indicator: the next letter is a capital, UEB",
        "  8.3.",
        "cell 2: dots 2-3-4-6, strong contraction, stands for “The”: the capital sign",
        "  was for this letter only, UEB 10.3.",
        "cell 3: empty cell, space.",
        "cell 4: dots 1-2-4, letter f, stands for “f”, UEB 4.1.",
    ]
    assert all(len(line) < 80 for line in out.splitlines())


def test_explain_gives_the_print_itself() -> None:
    assert "dot 3, apostrophe (’), UEB 7" in run("cat’s\n", "--explain")[0]


def test_explain_of_a_table_code_gives_dots_and_print() -> None:
    out = run("the\n", "--explain", "--code", "louis:en-us-g2.ctb")[0]
    assert out.splitlines()[1] == "cell 1: dots 2-3-4-6, stands at “t”."


def test_tables_are_listed() -> None:
    out = run("", "--tables")[0]
    assert "fr-bfu-g2.ctb, French contracted braille" in out.splitlines()


def test_bytes_that_are_no_text_are_named_by_line() -> None:
    _, told, status = run(b"good\n\xff\xfe\n")
    assert status == USAGE
    assert "Line 2 is not UTF-8 text. Save the text as UTF-8" in told


def test_an_unknown_code_is_wrong_usage() -> None:
    _, told, status = run("a\n", "--code", "uebb")
    assert status == USAGE
    assert "Did you mean “ueb”?" in told


def cellset(*words: str, text: str = "a\n") -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "convert", "translate", *words],
        input=text, capture_output=True, text=True, timeout=60,
    )  # fmt: skip


def test_an_unknown_table_is_refused_in_one_sentence() -> None:
    done = cellset("--code", "louis:../secret.ctb")
    assert done.returncode == 2
    assert done.stderr.startswith("cellset: There is no braille table “../secret.ctb”")
    assert "Traceback" not in done.stderr


def test_the_exit_status_reaches_the_shell() -> None:
    assert cellset("--code", "louis:en-us-g2.ctb", text="日\n").returncode == HELD
    assert cellset().returncode == 0


def test_words_may_stand_on_the_command_line() -> None:
    assert run("", "--as", "ascii", "3", "cats")[0] == "#c cats\n"


def test_words_of_another_language_in_their_own_code() -> None:
    """UEB 13.2, 14.3."""
    print_ = 'the <span lang="fr">été</span> is'
    assert run("", "--html", "--as", "ascii", print_)[0] == "! ^/et^/e is\n"
    coded = run("", "--html", "--as", "ascii", "--foreign", "foreign-code", print_)[0]
    assert coded == "! ^(=t= is\n"
