"""eBraille 1.0 (specification of 14 August 2025): braille that reflows on a display of any width.

An eBraille file is no picture of pages, so it is made of the blocks that the pages were filled
from: ``stream`` puts the lines of the pages together again, ``content`` makes documents of them,
``package`` says what the edition is and packs it.
"""

from __future__ import annotations

from pathlib import Path

from ...edition import Edition
from ..names import file_stem
from .content import documents
from .facts import facts_of
from .package import pack
from .stream import blocks_of


def write_ebraille(edition: Edition, folder: Path) -> list[Path]:
    """Write ``<stem>.ebrl``; returns its path.

    Raises ConvertError where a fact the format requires is neither in the source nor given with
    ``about``, and Bug if the documents would hold anything but six-dot cells and spaces.
    """
    facts = facts_of(edition)
    path = folder / f"{file_stem(edition)}.ebrl"
    path.write_bytes(pack(facts, documents(blocks_of(edition), facts)))
    return [path]
