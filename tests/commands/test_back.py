"""``cellset back``: cells in, print out."""

from __future__ import annotations

import pytest
from click.testing import CliRunner

from convert.commands.back import command

USAGE = 2


def run(text: str, *options: str) -> tuple[str, str, int]:
    result = CliRunner().invoke(command, list(options), input=text)
    return result.stdout, result.stderr, result.exit_code


@pytest.mark.parametrize(
    "text, options",
    [
        (",! cat sat4", ()),
        (",! CAT SAT4", ("--from", "ascii")),
        ("⠠⠮⠀⠉⠁⠞⠀⠎⠁⠞⠲", ()),
        ("6 2-3-4-6 0 1-4 1 2-3-4-5 0 2-3-4 1 2-3-4-5 2-5-6", ("--from", "dots")),
        (",the cat sat4", ("--code", "ueb-uncontracted")),
    ],
)
def test_cells_of_every_form_become_print(text: str, options: tuple[str, ...]) -> None:
    assert run(text + "\n", *options) == ("The cat sat.\n", "", 0)


def test_a_table_of_the_library_reads_its_own_cells() -> None:
    assert run("⠓⠕⠇⠁⠀⠝⠊⠻⠕⠎\n", "--code", "louis:es-g2.ctb")[0] == "hola niños\n"


def test_lines_stay_lines() -> None:
    assert run("k\n\nx's\n")[0] == "knowledge\n\nit's\n"


def test_steps_name_each_change_of_mode() -> None:
    out = run(",x #c ;b 4 ru2]\n", "--steps")[0]
    assert out.startswith("It 3 b . rubber\n")
    told = " ".join(out.split())
    assert "cell 1: dot 6, capital letter indicator: the next letter is a capital, UEB 8.3." in told
    assert "dots 3-4-5-6, numeric indicator: digits follow, UEB 6.1." in told
    assert "dots 5-6, grade 1 symbol indicator: the next sign is a letter or mark" in told
    assert (
        "dots 2-3, middle groupsign, stands for “bb”, UEB 10.6; elsewhere “be” or semicolon" in told
    )
    assert all(len(line) < 80 for line in out.splitlines())


def test_cells_may_stand_on_the_command_line() -> None:
    assert run("", "3456", "145")[0] == "4\n"
    assert run("", ",!", "cat")[0] == "The cat\n"


@pytest.mark.parametrize(
    "text, options, told",
    [
        ("a\nb é\n", (), "Line 2: character 3, “é”, is not North American ASCII braille."),
        ("1-2 1-7\n", ("--from", "dots"), "Line 1: cell 2, “1-7”, is not dots"),
        ("⠁⣿\n", (), "Line 1: cell 2, dots 1-2-3-4-5-6-7-8, has more than six dots."),
        ("a\n", ("--code", "louis:fr-bfu-g2.ctb", "--steps"), "Leave --steps out."),
        ("a\n", ("--code", "nemeth:x"), "does not know the code “nemeth:x”"),
        (
            "a\n",
            ("--code", "nemeth"),
            "Reading back does not know the code “nemeth”. Use ueb, ueb-",
        ),
    ],
)
def test_bad_cells_are_wrong_usage(text: str, options: tuple[str, ...], told: str) -> None:
    _, err, status = run(text, *options)
    assert status == USAGE
    assert told in err
