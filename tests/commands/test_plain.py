"""The command line for ears and narrow displays: plain lines, nothing drawn twice, no colour."""

from __future__ import annotations

import os
import pty
import re
import subprocess
import sys
from pathlib import Path

import pytest

COMMAND = [sys.executable, "-m", "convert"]
ROOT = Path(__file__).parents[2]
RUN = ("run", "--code", "ueb-uncontracted")


def piped(*words: object, **variables: str) -> tuple[str, str]:
    """What a command says when both its streams are piped: standard output, standard error."""
    done = subprocess.run(
        [*COMMAND, *map(str, words)],
        cwd=ROOT,
        capture_output=True,
        env={**os.environ, **variables},
        check=False,
    )
    return done.stdout.decode(), done.stderr.decode()


def on_terminal(*words: object, **variables: str) -> str:
    """What a command says on a terminal of 80 columns."""
    main, side = pty.openpty()
    env = {**os.environ, "TERM": "xterm-256color", "COLUMNS": "80", **variables}
    running = subprocess.Popen(
        [*COMMAND, *map(str, words)], cwd=ROOT, stdin=side, stdout=side, stderr=side, env=env
    )
    os.close(side)
    said = b""
    while True:
        try:
            more = os.read(main, 4096)
        except OSError:
            break
        if not more:
            break
        said += more
    running.wait()
    os.close(main)
    return said.decode()


def test_off_a_terminal_every_line_is_written_once(tmp_path: Path, fixtures: Path) -> None:
    for variables in ({}, {"NO_COLOR": "1"}, {"FORCE_COLOR": "1"}):
        out, err = piped(*RUN, fixtures / "river-school.epub", "--out", tmp_path, **variables)
        assert "read report.html there first" in out
        assert "reading" in err
        for said in (out, err):
            assert not re.search("[\x00-\x09\x0b-\x1f\x7f]", said)
        assert len(set(err.splitlines())) == len(err.splitlines())


@pytest.mark.parametrize("setting", [{}, {"NO_COLOR": "1"}, {"COLUMNS": "20"}])
def test_nothing_is_drawn_on_a_terminal(
    tmp_path: Path, fixtures: Path, setting: dict[str, str]
) -> None:
    """A bar that moves would be read again and again by a screen reader."""
    said = on_terminal(*RUN, fixtures / "river-school.epub", "--out", tmp_path, **setting)
    assert "reading" in said
    assert "\x1b" not in said
    assert "\r" not in said.replace("\r\n", "\n")


def test_no_colour_where_none_is_wanted(tmp_path: Path, fixtures: Path) -> None:
    said = on_terminal(*RUN, fixtures / "river-school.epub", "--out", tmp_path, NO_COLOR="1")
    assert not re.search(r"\x1b\[[0-9;]*m", said)


def test_lines_fit_80_columns(tmp_path: Path, fixtures: Path) -> None:
    """A line is longer only where one word, such as a path, is; a refusal is one line."""
    source = fixtures / "river-school.epub"
    said = [piped(*RUN, source, "--out", tmp_path)]
    edition = tmp_path / "river-school"
    said += [
        piped("check", edition),
        piped("explain", edition, "--volume", 1, "--page", 1, "--line", 3),
        piped("styles"),
        piped("run", source, "--no-such-option"),
        piped("decide", edition),
    ]
    assert all(out or err for out, err in said)
    for stream in (text for pair in said for text in pair):
        for line in stream.splitlines():
            longest = max(map(len, line.split(" ")), default=0)
            assert len(line) <= 80 or longest > 40, line


def test_the_summary_names_what_to_read_and_what_to_sign(tmp_path: Path, fixtures: Path) -> None:
    form = fixtures / "permit-form.docx"
    out, _ = piped(*RUN, form, "--profile", "legal", "--out", tmp_path / "a")
    told = " ".join(out.split())
    assert "read report.html there first, or report.txt, its plain text." in told
    assert "The list for signature, signature.csv, has 9 rows." in told
    assert (tmp_path / "a/permit-form/signature.csv").exists()
    out, _ = piped(*RUN, form, "--write", "brf", "--out", tmp_path / "b")
    told = " ".join(out.split())
    assert "without the report: add report to --write to have it." in told
    assert "signature" not in told
