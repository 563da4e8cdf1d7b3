"""The shapes a plugin must have; see plugins.py for how each is found."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING, Protocol

from .document.nodes import Document
from .findings import Findings
from .settings import Settings
from .translation.cells import Cells
from .translation.passage import Passage

if TYPE_CHECKING:
    from .edition import Edition
    from .readers.container import Source


class Reader(Protocol):
    """A source to a document.  Raises SourceError if the source cannot be read at all."""

    def __call__(self, source: Source, settings: Settings, findings: Findings) -> Document: ...


class Translator(Protocol):
    """Print to cells in one braille code."""

    code: str

    def prepare(self, passages: Iterable[Passage]) -> None:
        """Look over the whole document for what no single passage can tell
        (which quotation marks predominate, how many lengths of dash print uses).

        Before tables are measured it is given the print of the document as one passage, then
        again all passages; the last call holds."""

    def translate(self, passage: Passage, findings: Findings) -> Cells:
        """The cells of one passage; never raises for odd print, files a finding instead."""


class MakeTranslator(Protocol):
    """What an entry point of ``convert.translators`` loads to."""

    def __call__(self, settings: Settings) -> Translator: ...


class Writer(Protocol):
    """Write one format of an edition into a folder; returns the files made."""

    def __call__(self, edition: Edition, folder: Path) -> list[Path]: ...
