"""The job file: options of a conversion kept beside the source, as TOML.

    source = "river-school.epub"      # optional; a source on the command line wins
    code = "ueb"
    page = "40x25"
    running-head = "River School"
    volume-pages = 80

Keys are the long options of ``cellset run`` without the dashes.  The command line wins.
"""

from __future__ import annotations

import difflib
import re
import tomllib
from pathlib import Path

from .cleaning import wanted
from .errors import JobError

_SIZE = re.compile(r"(\d{1,3})\s*[xX×]\s*(\d{1,3})")
KEYS = {
    "clean": list,
    "code": str,
    "convention": str,
    "document-pages": bool,
    "front-pages": bool,
    "math": str,
    "page": str,
    "quotes": str,
    "require-print-pages": bool,
    "revisions": str,
    "running-head": str,
    "source": str,
    "title": str,
    "divide-words": bool,
    "transcriber": str,
    "volume-pages": int,
    "write": list,
}
CHOICES = {
    "math": ("ueb", "nemeth"),
    "quotes": ("auto", "double", "single"),
    "revisions": ("accepted", "original", "refuse"),
}


def read_job(path: Path) -> dict[str, object]:
    """The options of a job file, by their long names.  Raises JobError naming the key."""
    try:
        table = tomllib.loads(path.read_text("utf-8"))
    except OSError as error:
        raise JobError(
            f"The job file {path.name} cannot be read: {error.strerror}.",
            "Check the name after --job.",
        ) from error
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise JobError(
            f"The job file {path.name} is not valid TOML: {error}.",
            "Correct that line and run again.",
        ) from error
    for key, value in table.items():
        _check_key(path.name, key, value)
    return table


def _check_key(name: str, key: str, value: object) -> None:
    if key == "decision":
        raise JobError(
            f"The job file {name} holds decisions, which this version cannot apply yet.",
            "Take the [[decision]] tables out, and make these corrections in the braille by hand.",
        )
    if key not in KEYS:
        near = difflib.get_close_matches(key, KEYS, n=1)
        hint = f"Did you mean “{near[0]}”?" if near else f"The keys are {', '.join(KEYS)}."
        raise JobError(f"The job file {name} has the unknown key “{key}”.", hint)
    if not isinstance(value, KEYS[key]) or (KEYS[key] is int and isinstance(value, bool)):
        kind = {
            str: "words in quotation marks",
            int: "a whole number",
            bool: "true or false",
            list: "a list",
        }[KEYS[key]]
        raise JobError(f"In the job file {name}, “{key}” must be {kind}.", "")


def settings_options(options: dict[str, object]) -> dict[str, object]:
    """Options by their long names as fields of Settings.  Raises JobError for a wrong value."""
    out: dict[str, object] = {}
    for key, value in options.items():
        if key in CHOICES and value not in CHOICES[key]:
            raise JobError(
                f"“{value}” is not a choice for {key}.",
                f"The choices are {', '.join(CHOICES[key])}.",
            )
        if key == "page":
            out["cells"], out["lines"] = page_size(str(value))
        elif key == "write":
            out["write"] = tuple(value) if isinstance(value, list | tuple) else formats(str(value))
        elif key == "clean":
            out["clean"] = cleanings(value)
        elif key == "volume-pages":
            out["volume_pages"] = _volume_pages(value)
        elif key != "source":
            out[key.replace("-", "_")] = value
    return out


def page_size(text: str) -> tuple[int, int]:
    """``40x25`` as cells and lines.  Raises JobError outside 15 to 120 cells, 5 to 60 lines."""
    match = _SIZE.fullmatch(text.strip())
    if not match:
        raise JobError(f"“{text}” is not a page size.", "Write cells by lines, such as 40x25.")
    cells, lines = int(match[1]), int(match[2])
    if not (15 <= cells <= 120 and 5 <= lines <= 60):
        raise JobError(
            f"A page of {cells} cells by {lines} lines cannot be set.",
            "Use 15 to 120 cells and 5 to 60 lines.",
        )
    return cells, lines


def formats(text: str) -> tuple[str, ...]:
    """``brf,report`` as format names, in order, each once."""
    return tuple(dict.fromkeys(name.strip() for name in text.split(",") if name.strip()))


def cleanings(value: object) -> tuple[str, ...]:
    """``-soft-hyphens,+dashes`` or a list of such words.  Raises JobError for a wrong one."""
    words = value if isinstance(value, list | tuple) else str(value).split(",")
    given = tuple(str(word).strip() for word in words)
    wanted(given)
    return given


def _volume_pages(value: object) -> int:
    if not isinstance(value, int) or value < 10:
        raise JobError(f"A volume of {value} braille pages is too small.", "Use 10 or more.")
    return value
