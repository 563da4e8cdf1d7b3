"""Write an edition into its folder: every file at once, or none.

Files are made in a hidden working folder inside the output folder and renamed at the end, so
a failure or Ctrl-C leaves what was there before.
"""

from __future__ import annotations

import contextlib
import errno
import hashlib
import json
import os
import shutil
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from . import plugins
from .edition import Edition
from .errors import ConvertError, PluginError, why
from .recipe import recipe_digest, recipe_record, source_name, trace_row
from .writers.names import CHANGES, proof_name, safe_stem, unique_stems

if TYPE_CHECKING:
    from .contracts import Writer

RECIPE = "recipe.json"
_TRIES = 9  # Where another run works in the same folder at the same time.
__all__ = ["folder_names", "unique_stems", "write_edition"]


def write_edition(
    edition: Edition, out: Path, formats: Sequence[str], stem: str | None = None
) -> Path:
    """Write the formats and the recipe into ``out/<stem>/``; returns that folder.

    ``stem`` is the source's own unless the caller names another (see :func:`unique_stems`).
    A folder of an earlier run of the same source is replaced; what a person put there besides
    is kept.  Raises PluginError for an unknown format or a writer that fails, ConvertError
    where the folder is something else's or cannot be written.
    """
    from .collector import collector_off

    stem = safe_stem(edition.source) if stem is None else stem
    formats = tuple(dict.fromkeys(formats))
    settings = replace(edition.settings, write=formats)
    edition = replace(edition, stem=stem, settings=settings)
    writers = {name: plugins.load("convert.writers", name) for name in formats}
    target = out / stem
    path = edition.recipe.get("path")
    check_target(target, edition.source, Path(str(path)) if path else None)
    kept = _earlier(edition, target) if settings.mark_changes and "proof" in formats else []
    record = recipe_record(edition.recipe, edition.source, out)
    edition.rerun = "report" in formats and _is_rerun(record, target)
    with _working_folder(out) as work, collector_off():
        folder = work / stem
        folder.mkdir()
        for name, writer in writers.items():
            if name == "proof" and kept:
                _copy(kept, folder)
            else:
                _write_one(name, writer, edition, folder)
        if edition.rerun:
            _write_changes(edition, record, target, folder)
        _write_recipe(record, folder)
        _swap(folder, target, work)
    return target


def check_target(target: Path, source: str, path: Path | None) -> None:
    """Refuse to replace a folder that no earlier run of this source made.

    ``source`` is its name, ``path`` its file where that is known.  Raises ConvertError.
    """
    if not target.exists() and not target.is_symlink():
        return
    step = "Choose another folder with --out, or move that one away."
    if target.is_symlink() or not target.is_dir():
        raise ConvertError(f"{target} is in the way: it is not a folder.", step)
    if not any(target.iterdir()):
        return
    earlier = _read_recipe(target)
    if earlier is None:
        raise ConvertError(f"The folder {target} already holds other files.", step)
    name = source_name(earlier)
    if name != source:
        raise ConvertError(
            f"The folder {target} holds the braille of another source, {name}.", step
        )
    owner = _owner(target, earlier)
    if owner and path and not _same_source(path, owner, earlier):
        raise ConvertError(
            f"The folder {target} holds the braille of another source of this name, {owner}.", step
        )


def _owner(folder: Path, recipe: Mapping[str, object]) -> Path | None:
    """The file that a folder was made from, where it still stands."""
    path = recipe.get("path")
    owner = folder.parent / str(path) if path else None
    return Path(os.path.normpath(owner)) if owner and owner.is_file() else None


def _same_source(path: Path, owner: Path, recipe: Mapping[str, object]) -> bool:
    """Whether a source is the file that a folder was made from, or a copy of what it was."""
    try:
        if os.path.samefile(path, owner):
            return True
        row = recipe.get("source")
        was = row.get("sha256") if isinstance(row, dict) else None
        return was == hashlib.sha256(path.read_bytes()).hexdigest()
    except OSError:
        return False


def folder_names(sources: Sequence[Path], out: Path) -> list[str]:
    """The folder in ``out`` for each source of a batch: the one it had before, whatever else has
    come since; else one of its own (see :func:`unique_stems`) that holds no other source."""
    owners = {}
    for folder in sorted(out.iterdir()) if out.is_dir() else ():
        recipe = _read_recipe(folder)
        if recipe and (owner := _owner(folder, recipe)):
            owners[folder.name] = os.path.realpath(owner)
    places = {os.path.realpath(source): at for at, source in enumerate(sources)}
    has = {places.get(owner, -at): name for at, (name, owner) in enumerate(owners.items(), 1)}
    return unique_stems(sources, has)


def _read_recipe(folder: Path) -> dict[str, object] | None:
    """The recipe an earlier run left in a folder; None where there is none."""
    try:
        record = json.loads((folder / RECIPE).read_text("utf-8"))
    except (OSError, ValueError):
        return None
    return record if isinstance(record, dict) else None


def check_out(out: Path) -> None:
    """Raises ConvertError where a folder cannot be written; leaves everything as it was."""
    with _working_folder(out):
        pass


@contextmanager
def _working_folder(out: Path) -> Iterator[Path]:
    """A hidden folder inside ``out``, removed whatever happens, with folders made for it."""
    made = [folder for folder in (out, *out.parents) if not folder.exists()]
    try:
        work = _make_working_folder(out)
    except OSError as error:
        _remove_empty(made)
        raise ConvertError(
            f"The folder {out} cannot be written: {why(error)}.",
            "Choose another folder with --out.",
        ) from error
    try:
        yield work
    except OSError as error:
        full = error.errno in (errno.ENOSPC, errno.EDQUOT)
        raise ConvertError(
            f"Writing into {out} failed: {why(error)}.",
            f"Nothing was written. {'Make room' if full else 'Mend that'}, or choose another "
            "folder with --out.",
        ) from error
    finally:
        shutil.rmtree(work, ignore_errors=True)
        _remove_empty(made)


def _make_working_folder(out: Path) -> Path:
    """Another run into the same new folder may remove it while it is empty: it is made again."""
    for _ in range(_TRIES):
        with contextlib.suppress(FileNotFoundError, FileExistsError):
            out.mkdir(parents=True, exist_ok=True)
            return Path(tempfile.mkdtemp(prefix=".cellset-", dir=out))
    out.mkdir(parents=True, exist_ok=True)
    return Path(tempfile.mkdtemp(prefix=".cellset-", dir=out))


def _remove_empty(folders: list[Path]) -> None:
    """Remove the folders that this run made, innermost first, where nothing stands in them."""
    for folder in folders:
        try:
            folder.rmdir()
        except OSError:
            return


def _write_one(name: str, writer: Writer, edition: Edition, folder: Path) -> None:
    try:
        writer(edition, folder)
    except (ConvertError, OSError):
        raise
    except Exception as error:
        who = plugins.find("convert.writers", name).distribution
        raise PluginError(
            f"The output format “{name}” (package {who}) failed: {type(error).__name__}: {error}.",
            "Nothing was written. Leave that format out with --write, and please report this.",
        ) from error


def _is_rerun(record: dict[str, object], target: Path) -> bool:
    """Whether there is an account of changes to write: an earlier run stands in the folder, of
    another recipe or with an account of its own."""
    standing = _read_recipe(target)
    if standing is None:
        return False
    return standing.get("digest") != record["digest"] or any(
        (target / name).is_file() for name in CHANGES
    )


def _write_changes(edition: Edition, record: dict[str, object], target: Path, folder: Path) -> None:
    """What this run changes in the one it replaces.  A run of the same recipe changes nothing,
    so the account of the last change stays as it is."""
    from .writers.changes_report import write_changes

    earlier = _read_recipe(target)
    kept = [target / name for name in CHANGES]
    if earlier and earlier.get("digest") == record["digest"] and all(map(Path.is_file, kept)):
        _copy(kept, folder)
        return
    write_changes(edition, folder, target)


def _earlier(edition: Edition, target: Path) -> list[Path]:
    """Note the edition that stands in ``target`` as the one whose changes the proof marks.

    Where that one is of the same recipe, marks included, its proof stays as it is: these files
    are returned.
    """
    standing = _read_recipe(target)
    if standing is not None and "earlier" in standing:
        _note(edition, standing["earlier"])
        names = {"proof.html", *(proof_name(edition, v.number) for v in edition.volumes)}
        kept = [target / name for name in sorted(names)]
        if edition.recipe["digest"] == standing.get("digest") and all(map(Path.is_file, kept)):
            return kept
    edition.earlier = target if standing is not None else None
    _note(edition, trace_row(edition.earlier))
    return []


def _note(edition: Edition, earlier: object) -> None:
    """Put the row ``earlier`` into the recipe of an edition."""
    recipe = {**edition.recipe, "earlier": earlier}
    digest = recipe_digest({"source": {"name": edition.source}, **recipe})
    edition.recipe = recipe | {"digest": digest}


def _copy(files: list[Path], folder: Path) -> None:
    for path in files:
        shutil.copyfile(path, folder / path.name)


def _write_recipe(record: dict[str, object], folder: Path) -> None:
    record["files"] = sorted([RECIPE, *(file.name for file in folder.iterdir())])
    text = json.dumps(record, ensure_ascii=False, indent=1, sort_keys=True)
    (folder / RECIPE).write_bytes(f"{text}\n".encode())


def _swap(folder: Path, target: Path, work: Path) -> None:
    """Rename the new folder into place, the earlier one aside; undone if interrupted.

    Another run may be quicker with the same place: then its folder goes aside as well, and what
    a person put into any of them is kept.
    """
    aside: list[Path] = []
    for turn in range(_TRIES):
        try:
            with contextlib.suppress(FileNotFoundError):
                os.rename(target, work / f"earlier-{turn}")
                aside.append(work / f"earlier-{turn}")
            os.rename(folder, target)
            break
        except BaseException as error:
            if aside and not target.exists():
                os.rename(aside.pop(), target)
            taken = isinstance(error, OSError) and error.errno in (errno.ENOTEMPTY, errno.EEXIST)
            if not taken or turn == _TRIES - 1:
                raise
    for earlier in aside:
        _keep_strangers(earlier, target)


def _keep_strangers(aside: Path, target: Path) -> None:
    """Carry over what the earlier run did not write (a job file, a person's notes)."""
    files = (_read_recipe(aside) or {}).get("files")
    ours = set(files) if isinstance(files, list) else None
    for entry in sorted(aside.iterdir()):
        if ours is not None and entry.name not in ours and not (target / entry.name).exists():
            os.rename(entry, target / entry.name)
