"""Names of the files and folders an edition is written to."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ..edition import Edition

# What tells of the changes since an earlier run.
CHANGES = ("changes.html", "changes.json", "changes.txt", "changes.csv")
_STEM_BYTES = 180
# Control and format characters (which can turn a name's direction) and separators of paths.
_UNFIT = re.compile(r"[\x00-\x1f\x7f-\x9f\u061c\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff/\\]")


def safe_stem(name: str) -> str:
    """The stem of a source's name, fit to name a folder: no path, no invisible characters."""
    stem = _UNFIT.sub("", Path(name).stem).rstrip(". ")
    while len(stem.encode("utf-8", "surrogateescape")) > _STEM_BYTES:
        stem = stem[:-1]
    return stem or "document"


def unique_stems(paths: Sequence[str | Path], has: Mapping[int, str] | None = None) -> list[str]:
    """A folder name for each source of one run.  Where two would share one, even on a disk
    that does not tell capitals from small letters, the later gets ``-2``, ``-3``...

    ``has``: names that are given already, by the place of the source; of places that are not
    there, names that nothing may get.
    """
    fixed = has or {}
    stems = [safe_stem(Path(path).name) for path in paths]
    taken = {_fold(name) for name in fixed.values()}
    natural = {_fold(stem) for at, stem in enumerate(stems) if at not in fixed}
    out: list[str] = []
    for at, stem in enumerate(stems):
        name, turn = fixed.get(at, stem), 1
        while at not in fixed and (_fold(name) in taken or (turn > 1 and _fold(name) in natural)):
            turn += 1
            name = f"{stem}-{turn}"
        taken.add(_fold(name))
        out.append(name)
    return out


def _fold(name: str) -> str:
    return unicodedata.normalize("NFC", name).casefold()


def file_stem(edition: Edition) -> str:
    """The stem of an edition's files."""
    return edition.stem or safe_stem(edition.source)


def proof_name(edition: Edition, volume: int) -> str:
    """The proof's file for a volume: one file for a single volume, else one each."""
    return "proof.html" if len(edition.volumes) < 2 else f"proof.v{volume}.html"
