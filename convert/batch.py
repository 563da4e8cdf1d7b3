"""Many documents: one function for one document, and a pool of processes over it.

``convert_one`` is the whole contract with any engine: plain values in, a small plain record
out.  It is safe to repeat: files appear together or not at all, and a document whose folder
holds the same recipe already is not converted again.  A document that fails ends itself, never
the batch.
"""

from __future__ import annotations

import json
import os
from collections import Counter
from collections.abc import Callable, Generator, Iterable, Sequence
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path
from typing import Any, NamedTuple

from .edition import Edition
from .errors import ConvertError, JobError, PluginError, why
from .job import Job
from .settings import Settings
from .time_limit import time_limit
from .workers import in_pool

Record = dict[str, object]


class Unit(NamedTuple):
    """A source and the folder name it gets; its own options and job file, if it has any."""

    source: Path
    stem: str
    settings: Settings | None = None
    job: Job | None = None


@dataclass(frozen=True, slots=True)
class Engine:
    """How a batch is run: ``workers`` processes of this machine, or those of the scheduler at
    the address ``cluster``; ``again``: also what is done; ``seconds`` for a document, 0: any."""

    workers: int = 1
    cluster: str | None = None
    again: bool = False
    seconds: float = 0


def convert_one(
    source: Path,
    stem: str,
    out: Path,
    settings: Settings,
    tell: Callable[[str], None] = lambda stage: None,
    job: Job | None = None,
) -> Record:
    """Convert one source into ``out/stem``.  Raises ConvertError if it is refused.

    The record says ``status`` (``done``, or ``settle`` when something must be settled before
    embossing), ``folder`` and ``totals`` as in report.json.
    """
    from .output import check_target, write_edition
    from .pipeline import convert_source, has_stop
    from .writers.report_parts import totals_record
    from .writers.statements import cautions

    if source.exists():  # That it is missing is told by what reads it.
        check_target(out / stem, source.name, source)
    edition = convert_source(source, settings, tell, job)
    tell("writing")
    folder = write_edition(edition, out, settings.write, stem=stem)
    return {
        "source": str(source),
        "status": "settle" if has_stop(edition) else "done",
        "folder": str(folder),
        "totals": totals_record(edition),
        "kinds": _kinds((one.severity, one.kind) for one in edition.findings),
        "decisions": decisions_record(edition),
        "caution": " ".join(cautions(edition)[2:]),
    }


def run_unit(
    source: str,
    stem: str,
    out: str,
    settings: Settings,
    again: bool = False,
    seconds: float = 0,
    job: Job | None = None,
) -> Record:
    """One document of a batch: its record, whatever happens; ``kept`` if it was done before.

    ``seconds`` is the time it may take, 0 for any.
    """
    try:
        with time_limit(seconds):
            if not again and (kept := _kept(Path(source), stem, Path(out), settings, job)):
                return kept
            return convert_one(Path(source), stem, Path(out), settings, job=job)
    except ConvertError as error:
        return refusal(source, str(error))
    except Exception as error:
        return refusal(source, f"The program failed: {type(error).__name__}: {error}.")


def refusal(source: str | Path, message: str) -> Record:
    """The record of a document that was not converted."""
    return {"source": str(source), "status": "refused", "message": message}


def _kinds(findings: Iterable[tuple[str, str]]) -> dict[str, dict[str, int]]:
    """How many findings of each kind there are, by their severity; not those only recorded."""
    times: dict[str, Counter[str]] = {"stop": Counter(), "look": Counter()}
    for severity, kind in findings:
        if severity in times:
            times[severity][kind] += 1
    return {severity: dict(sorted(found.items())) for severity, found in times.items()}


def decisions_record(edition: Edition) -> dict[str, int]:
    """How many decisions of the job file came to what, by the words of ``record.STATES``."""
    return dict(Counter(record.state for record in edition.decisions))


def _kept(
    source: Path, stem: str, out: Path, settings: Settings, job: Job | None = None
) -> Record | None:
    """The record of an earlier run with the same recipe, if its folder is still there."""
    from .layout.convention import load
    from .profiles import profile
    from .readers.container import open_source
    from .recipe import make_recipe, recipe_digest

    folder = out / stem
    try:
        earlier = json.loads((folder / "recipe.json").read_text("utf-8"))
        report = json.loads((folder / "report.json").read_text("utf-8"))
    except (OSError, ValueError):
        return None
    recipe = make_recipe(open_source(source), settings, load(settings.convention), job)
    if "earlier" in earlier:
        recipe["earlier"] = earlier["earlier"]
    if earlier.get("digest") != recipe_digest(recipe):
        return None
    stops = report["totals"]["findings"]["stop"]
    risk = profile(settings.profile)
    return {
        "source": str(source),
        "status": "settle" if stops else "done",
        "folder": str(folder),
        "totals": report["totals"],
        "kinds": _kinds((row["severity"], row["kind"]) for row in report["findings"]),
        "decisions": dict(Counter(row["state"] for row in report.get("decisions", ()))),
        "caution": risk.caution if risk else "",
        "kept": True,
    }


def run_batch(
    units: Sequence[Unit | tuple[Path, str]], out: Path, settings: Settings, engine: Engine
) -> Generator[Record, None, None]:
    """Records of all documents, each as it is finished; the biggest sources begin first.

    ``settings`` are for units without their own.  Raises PluginError if a scheduler is asked for
    and cannot be had.
    """
    ordered = sorted((Unit(*unit) for unit in units), key=lambda unit: -_size(unit.source))
    run = _on_cluster if engine.cluster else _on_this_machine
    yield from run(ordered, out, settings, engine)


def _on_this_machine(
    left: list[Unit], out: Path, settings: Settings, engine: Engine
) -> Generator[Record, None, None]:
    """Where a worker process dies, each document that it may have been is converted by itself:
    one that ends its process again is refused, the others go on."""
    while left:
        done = yield from _round(left, out, settings, engine, engine.workers)
        left = [unit for at, unit in enumerate(left) if at not in done]
        for suspected in left[: 2 * engine.workers]:
            if not (yield from _round([suspected], out, settings, engine, 1)):
                yield refusal(
                    suspected.source, "The process that converted it ended suddenly, twice."
                )
        left = left[2 * engine.workers :]


def _round(
    units: list[Unit], out: Path, settings: Settings, engine: Engine, workers: int
) -> Generator[Record, None, set[int]]:
    """Records of the units whose process did not die; returns the places of these units."""
    done: set[int] = set()
    calls = [_arguments(unit, out, settings, engine) for unit in units]
    with closing(in_pool(run_unit, calls, workers)) as results:
        for at, record in results:
            done.add(at)
            yield record
    return done


def _on_cluster(
    units: list[Unit], out: Path, settings: Settings, engine: Engine
) -> Generator[Record, None, None]:
    """The same over the workers of a Dask scheduler, which must see the same folders."""
    client, completed = _client(str(engine.cluster))
    with client:
        jobs = {
            client.submit(run_unit, *_arguments(unit, out, settings, engine), pure=False): unit
            for unit in units
        }
        for job in completed(jobs):
            error = job.exception()
            yield job.result() if error is None else refusal(jobs[job].source, f"Lost: {error}.")


def _client(address: str) -> tuple[Any, Callable[[Iterable[Any]], Iterable[Any]]]:
    """A client of the scheduler at an address, and what waits for its jobs."""
    try:
        import distributed
    except ImportError as error:
        raise PluginError(
            "A batch over several machines needs the package distributed.",
            "Install it with “pip install cellset[cluster]”, or leave --cluster out.",
        ) from error
    try:
        make: Any = distributed.Client
        return make(address, timeout="15s"), distributed.as_completed
    except (OSError, ValueError) as error:
        raise PluginError(
            f"The scheduler at {address} does not answer.",
            "Start it, or correct the address after --cluster.",
        ) from error


def _arguments(
    unit: Unit, out: Path, settings: Settings, engine: Engine
) -> tuple[str, str, str, Settings, bool, float, Job | None]:
    """What one document needs, as plain values; whole paths for workers that stand elsewhere."""
    source, own = unit.source, unit.settings or settings
    if engine.cluster:
        source, out = source.absolute(), out.absolute()
    return str(source), unit.stem, str(out), own, engine.again, engine.seconds, unit.job


def _size(path: Path) -> int:
    try:
        return path.stat().st_size
    except OSError:
        return 0


def _given(path: Path, folder: Path) -> bool:
    """Whether a file is a document of a folder: no page of an edition that an earlier run wrote,
    nothing hidden, no lock or side file of another program (``~$book.docx``, ``._book.epub``)."""
    hidden = any(part.startswith((".", "~$")) for part in path.relative_to(folder).parts)
    return path.is_file() and not hidden and not (path.parent / "recipe.json").exists()


def find_sources(given: Iterable[Path], suffixes: Iterable[str]) -> list[Path]:
    """Sources named one by one, in folders (all their documents) or in lists (``.txt``, a path
    a line).  Raises JobError for a name that is not there, a folder without documents or a list
    that names none."""
    known = {f".{suffix}" for suffix in suffixes}
    found: dict[str, Path] = {}
    for path in given:
        for source in _sources_of(path, known):
            found.setdefault(os.path.realpath(source), source)
    return list(found.values())


def _sources_of(path: Path, known: set[str], listed: bool = False) -> list[Path]:
    if path.is_dir():
        inside = [p for p in _files(path) if p.suffix.lower() in known]
        if not inside:
            raise JobError(f"The folder {path} holds no document this program reads.", "")
        return inside
    if path.suffix.lower() == ".txt" and path.is_file() and not listed:
        return _listed(path, known)
    if not path.exists() and not listed:
        raise JobError(f"There is no file or folder {path}.", "Check the name.")
    return [path]


def _files(folder: Path) -> list[Path]:
    try:
        os.listdir(folder)
    except OSError as error:
        raise JobError(f"The folder {folder} cannot be read: {why(error)}.", "") from error
    return sorted(path for path in folder.rglob("*") if _given(path, folder))


def _listed(path: Path, known: set[str]) -> list[Path]:
    """The sources that the lines of a list name; a name may stand in quotation marks, and a line
    that begins with # is a remark."""
    try:
        text = path.read_text("utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        raise JobError(
            f"The list {path} cannot be read: {why(error)}.", "Save it as UTF-8 and run again."
        ) from error
    names = [line.strip() for line in text.splitlines()]
    names = [name.strip('"') for name in names if name and not name.startswith("#")]
    if not names:
        raise JobError(f"The list {path} names no document.", "Write one path on each line.")
    return [
        source for name in names for source in _sources_of(path.parent / name, known, listed=True)
    ]


def left_aside(given: Iterable[Path], suffixes: Iterable[str]) -> dict[str, int]:
    """How many files of the folders are of a kind that is not read, by their endings."""
    known = {f".{suffix}" for suffix in suffixes} | {".toml"}
    files = (p for folder in given if folder.is_dir() for p in _files(folder))
    others = (path for path in files if path.name not in ("summary.csv", "summary.txt"))
    endings = (path.suffix.lower() for path in others)
    return dict(sorted(Counter(end for end in endings if end not in known).items()))
