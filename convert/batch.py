"""Many documents: one function for one document, and a pool of processes over it.

``convert_one`` is the whole contract with any engine: plain values in, a small plain record
out.  It is safe to repeat: files appear together or not at all, and a document whose folder
holds the same recipe already is not converted again.  A document that fails ends itself, never
the batch.
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor, as_completed
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from multiprocessing import get_context
from pathlib import Path
from typing import Any, NamedTuple

from .edition import Edition
from .errors import ConvertError, JobError, PluginError
from .job import Job
from .settings import Settings
from .time_limit import time_limit

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
    from .output import write_edition
    from .pipeline import convert_source, has_stop
    from .writers.report_parts import totals_record
    from .writers.statements import cautions

    edition = convert_source(source, settings, tell, job)
    tell("writing")
    folder = write_edition(edition, out, settings.write, stem=stem)
    return {
        "source": str(source),
        "status": "settle" if has_stop(edition) else "done",
        "folder": str(folder),
        "totals": totals_record(edition),
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


def decisions_record(edition: Edition) -> dict[str, int]:
    """How many decisions of the job file came to what, by the words of ``record.STATES``."""
    return dict(Counter(record.state for record in edition.decisions))


def _kept(
    source: Path, stem: str, out: Path, settings: Settings, job: Job | None = None
) -> Record | None:
    """The record of an earlier run with the same recipe, if its folder is still there."""
    from .layout.convention import load
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
    return {
        "source": str(source),
        "status": "settle" if stops else "done",
        "folder": str(folder),
        "totals": report["totals"],
        "kept": True,
    }


def run_batch(
    units: Sequence[Unit | tuple[Path, str]], out: Path, settings: Settings, engine: Engine
) -> Iterator[Record]:
    """Records of all documents, each as it is finished; the biggest sources begin first.

    ``settings`` are for units without their own.  Raises PluginError if a scheduler is asked for
    and cannot be had.
    """
    ordered = sorted((Unit(*unit) for unit in units), key=lambda unit: -_size(unit.source))
    run = _on_cluster if engine.cluster else _on_this_machine
    yield from run(ordered, out, settings, engine)


def _on_this_machine(
    left: list[Unit], out: Path, settings: Settings, engine: Engine
) -> Iterator[Record]:
    """A worker process that dies takes its document with it: that one is refused, the others go
    on.  Where the batch itself is stopped, nothing that waits is begun."""
    while left:
        done: set[str] = set()
        with ProcessPoolExecutor(engine.workers, mp_context=get_context("spawn")) as pool:
            jobs = {
                pool.submit(run_unit, *_arguments(unit, out, settings, engine)): unit.stem
                for unit in left
            }
            try:
                for job in as_completed(jobs):
                    record = job.result()
                    done.add(jobs[job])
                    yield record
            except BrokenProcessPool:
                pass
            finally:
                pool.shutdown(wait=False, cancel_futures=True)
        rest = [unit for unit in left if unit.stem not in done]
        if len(rest) == len(left):
            yield refusal(
                rest.pop(0).source, "The process that converted it ended suddenly, twice."
            )
        left = rest


def _on_cluster(
    units: list[Unit], out: Path, settings: Settings, engine: Engine
) -> Iterator[Record]:
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


def _given(path: Path) -> bool:
    """Whether a file is a document, not a page of an edition that an earlier run wrote."""
    return path.is_file() and not (path.parent / "recipe.json").exists()


def find_sources(given: Iterable[Path], suffixes: Iterable[str]) -> list[Path]:
    """Sources named one by one, in folders (all their documents) or in lists (``.txt``, a path
    a line).  Raises JobError for a name that is not there or a folder without documents."""
    known = {f".{suffix}" for suffix in suffixes}
    found: list[Path] = []
    for path in given:
        if path.is_dir():
            inside = sorted(p for p in path.rglob("*") if p.suffix.lower() in known and _given(p))
            if not inside:
                raise JobError(f"The folder {path} holds no document this program reads.", "")
            found += inside
        elif path.suffix == ".txt" and path.is_file():
            lines = path.read_text("utf-8").splitlines()
            found += [path.parent / line.strip() for line in lines if line.strip()]
        elif path.exists():
            found.append(path)
        else:
            raise JobError(f"There is no file or folder {path}.", "Check the name.")
    return list(dict.fromkeys(found))
