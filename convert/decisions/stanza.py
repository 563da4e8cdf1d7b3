"""A decision as the text of a ``[[decision]]`` table, and text added to a job file."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence

Value = str | int | bool | tuple[str, ...]
# The keys in the order in which a person reads them; the arguments of the verb come after "do".
_FIRST = ("at", "what", "expect", "near", "follow", "everywhere", "do")
_LAST = ("why", "by", "locked")
_RAW = re.compile("[\x00-\x08\x0b-\x1f\x7f\u2028\u2029]")
_WIDE = 10  # Characters of the longest of the first keys: values stand below one another.


def quoted(text: str) -> str:
    """Words as a TOML string on one line."""
    plain = json.dumps(text, ensure_ascii=False)
    return _RAW.sub(lambda found: f"\\u{ord(found[0]):04x}", plain)


def stanza(values: Mapping[str, Value], label: str = "") -> str:
    """A ``[[decision]]`` table; ``label`` is a comment above its keys."""
    middle = [key for key in values if key not in _FIRST and key not in _LAST]
    order = [key for key in (*_FIRST, *middle, *_LAST) if key in values]
    lines = ["[[decision]]"]
    if label:
        lines.append(f"# {' '.join(label.split())}")
    lines += [f"{key:<{_WIDE}} = {_value(values[key])}" for key in order]
    return "\n".join(lines) + "\n"


def _value(value: Value) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int):
        return str(value)
    if isinstance(value, tuple):
        plain = value if all(part.isdecimal() for part in value) else map(quoted, value)
        return f"[{', '.join(plain)}]"
    return quoted(value)


def append(text: str, stanzas: Sequence[str]) -> str:
    """A job file with stanzas at its end; everything in it stays as it is."""
    end = "\r\n" if "\r\n" in text else "\n"
    body = text.rstrip("\r\n")
    gap = end * 2 if body else ""
    added = "\n".join(stanzas).strip("\n").replace("\n", end)
    return f"{body}{gap}{added}{end}"
