"""The recipe of an edition: everything its bytes depend on.  Same recipe, same bytes.

No dates, hosts or absolute paths.  ``digest`` is the SHA-256 of the recipe's canonical JSON
(keys sorted, no spaces, UTF-8) without the rows of ``APART``, which say where things are.
"""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Iterable, Mapping
from dataclasses import fields, is_dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from . import __version__, plugins
from .settings import Settings

if TYPE_CHECKING:
    from .job import Job
    from .layout.convention import Convention
    from .readers.container import Source

# Rows that do not count in the digest: the digest itself, where the source is, what was written.
APART = ("digest", "path", "job_path", "files")
# Rows that are paths: a written recipe has them relative to the folder it was written into.
_PATHS = ("path", "job_path")
# Options that name a place on this machine and leave no trace in the bytes.
_PLACES = ("memo",)


def make_recipe(
    source: Source, settings: Settings, convention: Convention, job: Job | None = None
) -> dict[str, object]:
    """The recipe of one conversion, with the digest of the job file and its layers, if any.

    ``path`` and ``job_path`` are the paths of the source and of the job file as the person gave
    them, so that they can be read again.
    Raises PluginError if an option names a plugin that is not installed.
    """
    recipe: dict[str, object] = {
        "cellset": __version__,
        "source": {"name": source.name, "sha256": hashlib.sha256(source.data).hexdigest()},
        "job": None if job is None else job.digest,
        "convention": {
            "name": Path(settings.convention).name,
            "sha256": hashlib.sha256(canonical(_plain(convention))).hexdigest(),
        },
        "plugins": _plugins(source.path.suffix.lower().lstrip("."), settings),
        "liblouis": _liblouis(settings),
        "options": _options(settings),
    }
    recipe["digest"] = recipe_digest(recipe)
    recipe["path"] = str(source.path)
    if job is not None and job.path is not None:
        recipe["job_path"] = str(job.path)
    return recipe


def canonical(value: object) -> bytes:
    """A value as canonical JSON."""
    text = json.dumps(value, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    return text.encode("utf-8", "surrogatepass")


def recipe_digest(recipe: Mapping[str, object]) -> str:
    """SHA-256, in hexadecimal, of the canonical JSON of all rows but those of ``APART``."""
    counted = {name: row for name, row in recipe.items() if name not in APART}
    return hashlib.sha256(canonical(counted)).hexdigest()


def recipe_record(recipe: Mapping[str, object], source: str, out: Path) -> dict[str, object]:
    """The recipe as it is written into a folder of ``out``: its paths made relative to ``out``.

    A source on another drive has no relative path, so only its name is kept.
    """
    record = {"source": {"name": source}, **recipe}
    record["digest"] = recipe_digest(record)
    for name in _PATHS:
        path = recipe.get(name)
        if isinstance(path, str):
            try:
                record[name] = Path(os.path.relpath(path, out)).as_posix()
            except ValueError:
                record[name] = Path(path).name
    return record


def recorded_options(record: Mapping[str, object]) -> dict[str, object]:
    """The options of a written recipe, as fields of Settings; those not known any more left
    out."""
    rows = record.get("options")
    known = {f.name for f in fields(Settings)}
    return {
        name: tuple(value) if isinstance(value, list) else value
        for name, value in (rows.items() if isinstance(rows, dict) else ())
        if name in known
    }


def trace_row(folder: Path | None) -> dict[str, object]:
    """The row ``earlier`` of a recipe: the SHA-256 of the trace of the edition in a folder, none
    where there is no edition or no trace."""
    try:
        data = None if folder is None else (folder / "trace.jsonl").read_bytes()
    except OSError:
        data = None
    sha256 = None if data is None else hashlib.sha256(data).hexdigest()
    return {"edition": folder is not None, "trace_sha256": sha256}


def source_name(record: Mapping[str, object]) -> str:
    """The file name of the source in a recipe; empty if it names none."""
    row = record.get("source")
    return str(row.get("name", "")) if isinstance(row, dict) else ""


def _plain(value: object) -> object:
    """A dataclass, mapping or sequence as plain JSON values."""
    if is_dataclass(value) and not isinstance(value, type):
        return {f.name: _plain(getattr(value, f.name)) for f in fields(value)}
    if isinstance(value, Mapping):
        return {str(key): _plain(row) for key, row in value.items()}
    if isinstance(value, str | int | float | bool | None):
        return value
    if isinstance(value, frozenset | set):
        return sorted(str(row) for row in value)
    if isinstance(value, Iterable):
        return [_plain(row) for row in value]
    return str(value)


def _options(settings: Settings) -> dict[str, object]:
    options = {f.name: _plain(getattr(settings, f.name)) for f in fields(settings)}
    options["convention"] = Path(settings.convention).name
    return {name: row for name, row in options.items() if name not in _PLACES}


def _plugins(suffix: str, settings: Settings) -> list[dict[str, str]]:
    """The plugins a conversion uses, with the distributions that bring them."""
    used = [("convert.readers", suffix), ("convert.translators", settings.code.partition(":")[0])]
    if not settings.convention.endswith(".toml"):
        used.append(("convert.conventions", settings.convention))
    used.extend(("convert.writers", name) for name in settings.write)
    rows = [plugins.find(group, name) for group, name in used]
    return [
        {"group": p.group, "name": p.name, "distribution": p.distribution, "version": p.version}
        for p in rows
    ]


def _liblouis(settings: Settings) -> dict[str, object] | None:
    """The version and table of liblouis, where the code asked for uses it.

    ``sha256`` is of the table and all the tables it includes, one after the other.
    """
    code, _, named = settings.code.partition(":")
    if code not in ("ueb", "louis"):
        return None
    from .translation import louis_gate, louis_gate_tables

    table = named or louis_gate.TABLE
    digest = louis_gate_tables.table_digest(table)
    return {"version": louis_gate.version(), "table": table, "sha256": digest}
