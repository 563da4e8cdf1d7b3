"""An edition: one converted document with its pages, findings, totals and recipe."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path

from .decisions.record import Record
from .document.nodes import Document
from .findings import Finding
from .layout.book import Book, Volume
from .profiles.sign import Signature
from .settings import Settings


@dataclass(slots=True)
class Totals:
    """The sum the report prints.  Characters are print characters of the ledger.

    Every print character is exactly one of: in cells, folded (a space at a line end or beside
    another space), omitted for a stated reason, or lost.
    """

    print_characters: int = 0
    in_cells: int = 0
    folded: int = 0
    omitted: int = 0
    lost: int = 0
    doubled: int = 0
    volumes: int = 0
    braille_pages: int = 0
    print_pages: int = 0


@dataclass(slots=True)
class Edition:
    """What :func:`convert.convert` returns.

    ``stem`` names the folder and files it is written to; empty means the source's own stem.
    ``decisions`` are those of the job file, in its order, with what became of each;
    ``signature`` is print that a second person signs for, as the risk profile lists it;
    ``earlier`` is the folder of the edition it replaces, known while it is written and only where
    changes are marked; ``rerun``: an account of what changed since an earlier run is written too.
    """

    source: str
    document: Document
    book: Book
    findings: list[Finding]
    totals: Totals
    settings: Settings
    recipe: dict[str, object] = field(default_factory=dict)
    checks: dict[str, object] = field(default_factory=dict)
    stem: str = ""
    decisions: tuple[Record, ...] = ()
    signature: tuple[Signature, ...] = ()
    earlier: Path | None = None
    rerun: bool = False

    @property
    def volumes(self) -> list[Volume]:
        """The braille volumes."""
        return self.book.volumes

    def write(self, out: str | Path, formats: Iterable[str] | None = None) -> Path:
        """Write the edition into a new folder named after the source inside ``out``.

        ``formats`` are names such as ``brf`` and ``report``; without them those of the options.
        Returns the folder.  Raises PluginError for an unknown format, ConvertError where the
        folder cannot be written or holds another source.  All files appear together or not at
        all.
        """
        from .output import write_edition

        names = (formats,) if isinstance(formats, str) else tuple(formats or self.settings.write)
        return write_edition(self, Path(out), names)
