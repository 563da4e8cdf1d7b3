"""Many documents: one function for one document, and a pool of processes over it.

``convert_one`` is the whole contract with any engine: plain values in, a small plain record
out.  It is safe to repeat: files appear together or not at all, and a document whose folder
holds the same recipe already is not converted again.  A document that fails ends itself, never
the batch.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import ProcessPoolExecutor, as_completed
from concurrent.futures.process import BrokenProcessPool
from multiprocessing import get_context
from pathlib import Path

from .errors import ConvertError, JobError
from .settings import Settings

Record = dict[str, object]
Unit = tuple[Path, str]  # a source and the folder name it gets


def convert_one(
    source: Path,
    stem: str,
    out: Path,
    settings: Settings,
    tell: Callable[[str], None] = lambda stage: None,
) -> Record:
    """Convert one source into ``out/stem``.  Raises ConvertError if it is refused.

    The record says ``status`` (``done``, or ``settle`` when something must be settled before
    embossing), ``folder`` and ``totals`` as in report.json.
    """
    from .output import write_edition
    from .pipeline import convert_source, has_stop
    from .writers.report import totals_record

    edition = convert_source(source, settings, tell)
    tell("writing")
    folder = write_edition(edition, out, settings.write, stem=stem)
    return {
        "source": str(source),
        "status": "settle" if has_stop(edition) else "done",
        "folder": str(folder),
        "totals": totals_record(edition),
    }


def run_unit(source: str, stem: str, out: str, settings: Settings, again: bool = False) -> Record:
    """One document of a batch: its record, whatever happens; ``kept`` if it was done before."""
    try:
        if not again and (kept := _kept(Path(source), stem, Path(out), settings)):
            return kept
        return convert_one(Path(source), stem, Path(out), settings)
    except ConvertError as error:
        return refusal(source, str(error))
    except Exception as error:
        return refusal(source, f"The program failed: {type(error).__name__}: {error}.")


def refusal(source: str | Path, message: str) -> Record:
    """The record of a document that was not converted."""
    return {"source": str(source), "status": "refused", "message": message}


def _kept(source: Path, stem: str, out: Path, settings: Settings) -> Record | None:
    """The record of an earlier run with the same recipe, if its folder is still there."""
    from .layout.convention import load
    from .readers.container import open_source
    from .recipe import make_recipe

    folder = out / stem
    try:
        earlier = json.loads((folder / "recipe.json").read_text("utf-8"))
        report = json.loads((folder / "report.json").read_text("utf-8"))
    except (OSError, ValueError):
        return None
    recipe = make_recipe(open_source(source), settings, load(settings.convention))
    if earlier.get("digest") != recipe["digest"]:
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
    units: list[Unit], out: Path, settings: Settings, workers: int, again: bool
) -> Iterator[Record]:
    """Records of all documents, each as it is finished; the biggest sources begin first.

    A worker process that dies takes its document with it: that one is refused, the others go on.
    """
    left = sorted(units, key=lambda unit: -_size(unit[0]))
    while left:
        done: set[str] = set()
        with ProcessPoolExecutor(workers, mp_context=get_context("spawn")) as pool:
            jobs = {
                pool.submit(run_unit, str(source), stem, str(out), settings, again): stem
                for source, stem in left
            }
            try:
                for job in as_completed(jobs):
                    record = job.result()
                    done.add(jobs[job])
                    yield record
            except BrokenProcessPool:
                pass
        rest = [unit for unit in left if unit[1] not in done]
        if len(rest) == len(left):
            source, _ = rest.pop(0)
            yield refusal(source, "The process that converted it ended suddenly, twice.")
        left = rest


def _size(path: Path) -> int:
    try:
        return path.stat().st_size
    except OSError:
        return 0


def find_sources(given: Iterable[Path], suffixes: Iterable[str]) -> list[Path]:
    """Sources named one by one, in folders (all their documents) or in lists (``.txt``, a path
    a line).  Raises JobError for a name that is not there or a folder without documents."""
    known = {f".{suffix}" for suffix in suffixes}
    found: list[Path] = []
    for path in given:
        if path.is_dir():
            inside = sorted(p for p in path.rglob("*") if p.suffix.lower() in known and p.is_file())
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
