"""Lines from standard input, as they come."""

from __future__ import annotations

import sys
from collections.abc import Iterator

import click


def input_lines() -> Iterator[tuple[int, str]]:
    """Each line with its number from 1, without its end.  Raises UsageError if it is not UTF-8."""
    for number, raw in enumerate(sys.stdin.buffer, 1):
        try:
            line = raw.decode("utf-8-sig" if number == 1 else "utf-8")
        except UnicodeDecodeError as error:
            raise click.UsageError(
                f"Line {number} is not UTF-8 text. Save the text as UTF-8 and try again."
            ) from error
        yield number, line.rstrip("\r\n")
