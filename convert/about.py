"""Facts of an edition that its source does not say, given by a person as NAME=VALUE."""

from __future__ import annotations

import datetime
import re
from collections.abc import Sequence

from .errors import JobError

# Names, and what each is.
NAMES = {
    "author": "who wrote the print work",
    "date": "the day the braille is published, such as 2026-01-31",
    "copyright": "the year of the print work's copyright, such as 2024",
}
_SHAPES = {
    "date": re.compile(r"\d{4}-\d\d-\d\d"),
    "copyright": re.compile(r"\d{4}(-\d\d){0,2}"),
}


def about_rows(value: object) -> tuple[str, ...]:
    """Rows of NAME=VALUE, checked: a list of them, or one.  Raises JobError for a wrong one."""
    rows = value if isinstance(value, list | tuple) else (value,)
    given = tuple(str(row).strip() for row in rows)
    about_of(given)
    return given


def about_of(rows: Sequence[str]) -> dict[str, str]:
    """The facts by name.  Raises JobError for an unknown name or a value of a wrong shape."""
    out: dict[str, str] = {}
    for row in rows:
        name, equals, value = (part.strip() for part in row.partition("="))
        if name not in NAMES or not equals or not value:
            known = "; ".join(f"{each}, {what}" for each, what in NAMES.items())
            raise JobError(
                f"“{row}” is not a fact about the edition.", f"Write NAME=VALUE. Names: {known}."
            )
        if name in _SHAPES and not _SHAPES[name].fullmatch(value):
            raise JobError(
                f"“{value}” is not {NAMES[name].partition(',')[0]}.", f"Write {NAMES[name]}."
            )
        out[name] = value
    return out


def with_build_date(rows: Sequence[str], stamp: str) -> tuple[str, ...]:
    """The rows, with the date of a reproducible build (``stamp``, the seconds that
    ``SOURCE_DATE_EPOCH`` holds) where they name none."""
    if not stamp.isdecimal() or "date" in about_of(rows):
        return tuple(rows)
    day = datetime.datetime.fromtimestamp(int(stamp), datetime.UTC).date()
    return (*rows, f"date={day.isoformat()}")
