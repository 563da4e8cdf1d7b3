"""What a person reads in the terminal: print may name files, and must not steer the terminal."""

from __future__ import annotations

import os
import re
import sys

import click

# Controls but the line end and the tab: a terminal obeys them (ECMA-48).
_CONTROL = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]")
# Bytes of a file's name that are no text (PEP 383).
_BYTE = re.compile("[\udc80-\udcff]")
_goes_on = False


def plain(text: str) -> str:
    """Text with each character a terminal would obey as its number: ``[character 001B]``."""
    text = _BYTE.sub(lambda found: f"[byte {ord(found[0]) & 0xFF:02X}]", text)
    return _CONTROL.sub(lambda found: f"[character {ord(found[0]):04X}]", text)


def plain_name(name: object) -> str:
    """The name of a file or folder on one line."""
    return re.sub("[\t\n]", lambda found: f"[character {ord(found[0]):04X}]", plain(str(name)))


def go_on_unheard() -> None:
    """From now on work goes on where nobody reads what is told any more (``| head``)."""
    global _goes_on
    _goes_on = True


def tell(text: str, err: bool = False) -> None:
    """Write a line to standard output, or to standard error.

    Where the reader of it is gone, the command ends, unless :func:`go_on_unheard` was called.
    """
    _write(plain(text), err)


def tell_json(value: object) -> None:
    """Write JSON to standard output; controls are escaped."""
    import json

    text = json.dumps(value, ensure_ascii=False, indent=1)
    _write(re.sub("[\x7f-\x9f\udc80-\udcff]", lambda c: f"\\u{ord(c[0]):04x}", text), False)


def _write(text: str, err: bool) -> None:
    try:
        click.echo(text, err=err)
    except BrokenPipeError:
        unheard(sys.stderr if err else sys.stdout)
        if not _goes_on:
            sys.exit(0)


def unheard(stream: object) -> None:
    """Let what is written to a stream without a reader go nowhere."""
    number = getattr(stream, "fileno", None)
    if number is not None:
        with open(os.devnull, "w") as nowhere:
            os.dup2(nowhere.fileno(), number())
