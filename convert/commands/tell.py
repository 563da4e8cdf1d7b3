"""What a person reads in the terminal: print may name files, and must not steer the terminal."""

from __future__ import annotations

import re

import click

# Controls but the line end and the tab: a terminal obeys them (ECMA-48).
_CONTROL = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]")


def plain(text: str) -> str:
    """Text with each character a terminal would obey as its number: ``[character 001B]``."""
    return _CONTROL.sub(lambda found: f"[character {ord(found[0]):04X}]", text)


def tell(text: str, err: bool = False) -> None:
    """Write a line to standard output, or to standard error."""
    click.echo(plain(text), err=err)


def tell_json(value: object) -> None:
    """Write JSON to standard output; controls are escaped."""
    import json

    text = json.dumps(value, ensure_ascii=False, indent=1)
    escaped = re.sub("[\x7f-\x9f]", lambda found: f"\\u{ord(found[0]):04x}", text)
    click.echo(escaped)
