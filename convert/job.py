"""The job file: options and decisions of a conversion kept beside the source, as TOML.

    source = "river-school.epub"      # optional; a source on the command line wins
    layers = ["house.toml"]           # files read before this one, which wins over them
    code = "ueb"
    page = "40x25"
    running-head = "River School"
    volume-pages = 80

    [[decision]]                      # see convert/decisions/read.py
    ...

Keys are the long options of ``cellset run`` without the dashes.  The command line wins.  A layer
may lock what it says: ``locked = true``, or the options named, as in ``locked = ["page"]``.
"""

from __future__ import annotations

import difflib
import hashlib
import re
import tomllib
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from .about import about_rows
from .cleaning import wanted
from .decisions.read import Reading, key_line
from .decisions.record import Decision
from .decisions.verbs import braille
from .errors import JobError, why
from .profiles import NAMES as PROFILES
from .readers.house import parse_house

_SIZE = re.compile(r"(\d{1,9})\s*[xX×]\s*(\d{1,9})", re.ASCII)
KEYS = {
    "about": list,
    "clean": list,
    "code": str,
    "contents-levels": int,
    "convention": str,
    "divide-words": bool,
    "document-pages": bool,
    "foreign": str,
    "foreign-tables": list,
    "front-pages": bool,
    "line-spacing": int,
    "mark-changes": bool,
    "math": str,
    "memo": str,
    "notes": str,
    "page": str,
    "profile": str,
    "quotes": str,
    "require-print-pages": bool,
    "revisions": str,
    "roles": str,
    "running-head": str,
    "source": str,
    "symbol": list,
    "title": str,
    "title-lines": list,
    "transcriber": str,
    "volume-pages": int,
    "write": list,
}
CHOICES = {
    "foreign": ("uncontracted", "foreign-code"),
    "math": ("ueb", "nemeth"),
    "notes": ("page", "paragraph", "section", "book"),
    "profile": PROFILES,
    "quotes": ("auto", "double", "single"),
    "revisions": ("accepted", "original", "refuse"),
}


# Keys that say how the file is to be read.
_ABOUT: dict[str, tuple[type, ...]] = {
    "by": (str,),
    "decision": (list,),
    "include": (list,),
    "layers": (list,),
    "locked": (bool, list),
}
SUFFIX = ".job.toml"


@dataclass(frozen=True, slots=True)
class Lock:
    """An option that a layer has locked, and who did."""

    layer: str
    by: str

    @property
    def says(self) -> str:
        """Who locked it, in words."""
        return f"{self.by} locked it in {self.layer}" if self.by else f"{self.layer} locks it"


@dataclass(frozen=True, slots=True)
class Job:
    """What a job file and its layers say, the later winning.

    ``origins`` tells which file gave each option; ``layers`` the files in order, each with the
    SHA-256 of its bytes; ``path`` is the job file itself, None where there is none.
    """

    options: dict[str, object] = field(default_factory=dict)
    decisions: tuple[Decision, ...] = ()
    origins: dict[str, str] = field(default_factory=dict)
    locks: dict[str, Lock] = field(default_factory=dict)
    layers: tuple[tuple[str, str], ...] = ()
    path: Path | None = None

    @property
    def digest(self) -> str | None:
        """SHA-256 of all layers in their order; None without a job file."""
        if not self.layers:
            return None
        return hashlib.sha256("\n".join(sha for _, sha in self.layers).encode()).hexdigest()

    def over(self, base: Job) -> Job:
        """This job as a later layer over another.  Raises JobError for what that locks."""
        for key, lock in base.locks.items():
            if key in self.options and self.options[key] != base.options[key]:
                raise JobError(
                    f"The job file {self.origins[key]} gives another “{key}”, and {lock.says}.",
                    "Take it out there, or ask for the lock to be lifted.",
                )
        return Job(
            base.options | self.options,
            (*base.decisions, *self.decisions),
            base.origins | self.origins,
            base.locks | self.locks,
            (*base.layers, *self.layers),
            self.path or base.path,
        )


def find_job(source: Path) -> Path | None:
    """The job file beside a source, ``<stem>.job.toml``, if there is one."""
    path = source.parent / f"{source.stem}{SUFFIX}"
    try:
        return path if source.name and path.is_file() else None
    except OSError:
        return None


def read_job(
    path: Path,
    base: Job | None = None,
    inside: tuple[Path, ...] = (),
    text: str | None = None,
) -> Job:
    """A job file and its layers, over ``base``.  Raises JobError naming file, line and key.

    ``inside`` are the files that are being read, so that none includes itself; ``text`` stands
    for what the file holds, to try what it would say.
    """
    if path.resolve() in inside:
        raise JobError(
            f"The job file {path.name} is a layer of itself.", "Take it out of its layers."
        )
    text = _text(path) if text is None else text
    table = _table(path.name, text)
    job = base or Job()
    for name in (*_names(table, "layers"), *_names(table, "include")):
        job = read_job(path.parent / name, job, (*inside, path.resolve()))
    by, locked = str(table.get("by", "")), table.get("locked", False)
    rank = len(job.layers)
    reading = Reading(path.name, text, rank, locked is True, by)
    options = {key: value for key, value in table.items() if key not in _ABOUT}
    keys = options if locked is True else _names(table, "locked")
    mine = Job(
        options,
        reading.read(table.get("decision", [])),
        dict.fromkeys(options, path.name),
        {key: Lock(path.name, by) for key in keys if key in options},
        ((path.name, hashlib.sha256(text.encode()).hexdigest()),),
        path,
    )
    return mine.over(job)


def check_locks(job: Job, given: Mapping[str, object]) -> None:
    """Raises JobError if the command line gives another value for a locked option."""
    for key, lock in job.locks.items():
        if key in given and given[key] != job.options[key]:
            raise JobError(
                f"The option --{key} cannot be given here, as {lock.says}.",
                "Leave it out, or ask for the lock to be lifted.",
            )


def _text(path: Path) -> str:
    try:
        return path.read_text("utf-8-sig")
    except OSError as error:
        raise JobError(
            f"The job file {path} cannot be read: {why(error)}.",
            "Check the name after --job, or in the layers of the job file.",
        ) from error
    except UnicodeDecodeError as error:
        raise JobError(
            f"The job file {path.name} is not UTF-8 text.", "Save it as UTF-8 and run again."
        ) from error


def _table(name: str, text: str) -> dict[str, object]:
    try:
        table = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise JobError(
            f"The job file {name} is not valid TOML: {error}.", "Correct that line and run again."
        ) from error
    for key, value in table.items():
        _check_key(name, text, key, value)
    return table


def _names(table: Mapping[str, object], key: str) -> tuple[str, ...]:
    value = table.get(key, [])
    return tuple(map(str, value)) if isinstance(value, list) else ()


def _check_key(name: str, text: str, key: str, value: object) -> None:
    line = key_line(text, 0, key)
    where = f"{name}, line {line}," if line else name
    if key not in KEYS and key not in _ABOUT:
        near = difflib.get_close_matches(key, [*KEYS, *_ABOUT], n=1)
        hint = f"Did you mean “{near[0]}”?" if near else f"The keys are {', '.join(KEYS)}."
        raise JobError(f"The job file {where} has the unknown key “{key}”.", hint)
    wanted = _ABOUT[key] if key in _ABOUT else (KEYS[key],)
    wrong = isinstance(value, bool) and bool not in wanted
    if not isinstance(value, wanted) or wrong:
        kinds = {
            str: "words in quotation marks",
            int: "a whole number",
            bool: "true or false",
            list: "a list",
        }
        kind = " or ".join(kinds[one] for one in wanted)
        raise JobError(f"In the job file {where} “{key}” must be {kind}.", "")
    if isinstance(value, list) and key not in ("decision", "symbol"):
        for one in value:
            if not isinstance(one, str) or (key == "locked" and one not in KEYS):
                raise JobError(f"In the job file {where} “{key}” cannot hold “{one}”.", "")


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
        elif key in ("foreign-tables", "write"):
            words = tuple(value) if isinstance(value, list | tuple) else formats(str(value))
            out[key.replace("-", "_")] = _tables(words) if key == "foreign-tables" else words
        elif key in _CHECKED:
            out[key.replace("-", "_")] = _CHECKED[key](value)
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


def _tables(rows: tuple[object, ...]) -> tuple[str, ...]:
    """``LANGUAGE=TABLE`` for each language.  Raises JobError for a row that is not so written."""
    for row in rows:
        lang, sign, table = str(row).partition("=")
        if not (lang.strip() and sign and table.strip()):
            raise JobError(
                f"“{row}” in foreign-tables does not name a language and its table.",
                "Write LANGUAGE=TABLE, such as fr=fr-bfu-comp6.utb; "
                "cellset translate --tables lists the tables.",
            )
    return tuple(str(row).strip() for row in rows)


def roles_text(name: str) -> str:
    """The rows of a table of roles, checked.  Raises JobError for a wrong one."""
    path = Path(name)
    try:
        text = path.read_text("utf-8")
    except (OSError, UnicodeDecodeError) as error:
        raise JobError(
            f"The table of roles {path.name} cannot be read.", "Check the name after roles."
        ) from error
    parse_house(text)
    return text


def cleanings(value: object) -> tuple[str, ...]:
    """``-soft-hyphens,+dashes`` or a list of such words.  Raises JobError for a wrong one."""
    words = value if isinstance(value, list | tuple) else str(value).split(",")
    given = tuple(str(word).strip() for word in words)
    wanted(given)
    return given


def _line_spacing(value: object) -> int:
    if not isinstance(value, int) or value not in (1, 2, 3):
        raise JobError(f"A line spacing of {value} cannot be set.", "Use 1, 2 or 3.")
    return value


def _contents_levels(value: object) -> int:
    if not isinstance(value, int) or not 1 <= value <= 6:
        raise JobError(f"Contents of {value} ranks of headings cannot be made.", "Use 1 to 6.")
    return value


def symbols(value: object) -> tuple[str, ...]:
    """Tables ``[[symbol]]`` as rows of the special symbols page.  Raises JobError."""
    out: dict[str, str] = {}
    for row in value if isinstance(value, list) else []:
        given = row if isinstance(row, dict) else {}
        means, left_out = given.get("means", ""), given.get("leave-out") is True
        try:
            cells = braille(str(given.get("cells", "")))
        except ValueError:
            cells = ""
        wrong = set(given) - {"cells", "means", "leave-out"} or not isinstance(means, str)
        if (
            wrong
            or not cells.strip("\u2800")
            or left_out == bool(str(means).strip())
            or cells in out
        ):
            raise JobError(
                f"The row {len(out) + 1} of [[symbol]] cannot be read.",
                'Give it cells = "4-6 1-2" (dots or Unicode braille, each sign once) and '
                'means = "what they mean", or leave-out = true.',
            )
        out[cells] = " ".join(str(means).split())
    return tuple(f"{cells} {means}" for cells, means in out.items())


def _title_lines(value: object) -> tuple[str, ...]:
    lines = value if isinstance(value, list | tuple) else [value]
    if not all(isinstance(line, str) and line.strip() for line in lines):
        raise JobError(
            "The lines of the title page are wrong.", "Give a list of words in quotation marks."
        )
    return tuple(" ".join(str(line).split()) for line in lines)


def _volume_pages(value: object) -> int:
    if not isinstance(value, int) or value < 10:
        raise JobError(f"A volume of {value} braille pages is too small.", "Use 10 or more.")
    return value


_CHECKED: Mapping[str, Callable[[object], object]] = {
    "about": about_rows,
    "clean": cleanings,
    "contents-levels": _contents_levels,
    "line-spacing": _line_spacing,
    "roles": lambda value: roles_text(str(value)),
    "symbol": symbols,
    "title-lines": _title_lines,
    "volume-pages": _volume_pages,
}
