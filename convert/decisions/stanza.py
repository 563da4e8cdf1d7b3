"""A decision as the text of a ``[[decision]]`` table, and text added to a job file."""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Mapping, Sequence

Value = str | int | bool | tuple[str, ...]
# The keys in the order in which a person reads them; the arguments of the verb come after "do".
_FIRST = ("at", "what", "expect", "near", "follow", "everywhere", "do")
_LAST = ("answers", "why", "by", "locked")
_RAW = re.compile("[\x00-\x08\x0b-\x1f\x7f\u2028\u2029]")
_OPTION = r"\s*[\"']?{key}[\"']?\s*="
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


def option_line(key: str, value: object, label: str = "") -> str:
    """An option of the job file as a line; ``label`` is a comment above it."""
    said = f"# {' '.join(label.split())}\n" if label else ""
    return f"{said}{key} = {_plain(value)}\n"


def _plain(value: object) -> str:
    if isinstance(value, list | tuple):
        return f"[{', '.join(quoted(str(part)) for part in value)}]"
    return _value(value) if isinstance(value, str | int) else quoted(str(value))


def is_option(text: str) -> bool:
    """Whether an offer is an option of the job file, not a decision."""
    return "[[decision]]" not in text


def option_of(text: str) -> tuple[str, object]:
    """The key and the value of an offered option."""
    ((key, value),) = tomllib.loads(text).items()
    return key, value


def with_option(text: str, key: str, value: object) -> str:
    """A job file with an option set; a list that is there keeps what the new words do not undo.

    Raises ValueError, with the number of its line, for one that takes several lines.
    """
    found = _OPTION.format(key=re.escape(key))
    lines = text.split("\n")
    head = next((at for at, line in enumerate(lines) if line.lstrip().startswith("[")), len(lines))
    old = tomllib.loads(text).get(key)
    if old is None:
        at = head
        while at and not lines[at - 1].strip():
            at -= 1
        more = [option_line(key, value).rstrip("\n"), *([""] if head < len(lines) else [])]
        return "\n".join([*lines[:at], *more, *lines[head:]])
    at = next(at for at, line in enumerate(lines[:head]) if re.match(found, line))
    if isinstance(old, list) and isinstance(value, list):
        gone = {word[1:] for word in value}
        value = [*(word for word in old if str(word)[1:] not in gone), *value]
    try:
        tomllib.loads(lines[at])
    except tomllib.TOMLDecodeError:
        raise ValueError(at + 1) from None
    lines[at] = option_line(key, value).rstrip("\n")
    return "\n".join(lines)


def append(text: str, stanzas: Sequence[str]) -> str:
    """A job file with options set and stanzas at its end; all else in it stays as it is.

    Raises ValueError as `with_option` does.
    """
    end = "\r\n" if "\r\n" in text else "\n"
    options = [one for one in stanzas if is_option(one)]
    for option in options:
        text = with_option(text.replace("\r\n", "\n"), *option_of(option)).replace("\n", end)
    rest = [one for one in stanzas if not is_option(one)]
    if not rest:
        return text.rstrip("\r\n") + end
    body = text.rstrip("\r\n")
    gap = end * 2 if body else ""
    added = "\n".join(rest).strip("\n").replace("\n", end)
    return f"{body}{gap}{added}{end}"
