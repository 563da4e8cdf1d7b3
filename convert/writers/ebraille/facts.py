"""What an eBraille package must say of itself (eBraille 1.0, 5.3.3), and where it comes from.

What the source does not say is given with ``about``, rows of NAME=VALUE; nothing is made up.
"""

from __future__ import annotations

import re
import uuid
from collections.abc import Sequence
from dataclasses import dataclass

from ... import plugins
from ...about import about_of
from ...contracts import Translator
from ...edition import Edition
from ...errors import ConvertError
from ...findings import STOP, Findings
from ...layout.convention import load
from ...layout.front import TitleFacts, Words, code_name, title_segments, year_of

FORMAT = "eBraille 1.0"
# The registry's syntax: code, grade.  Its codes are proposals as yet.
SYSTEMS = {"ueb": "UEB grade2", "ueb-uncontracted": "UEB grade1"}
NEMETH = "Nemeth no-grade math"
_LANGUAGE = re.compile(r"([a-z]{2,3})(?:-([A-Z][a-z]{3}))?(?:-([A-Za-z0-9]{2,3}))?\b")


@dataclass(frozen=True, slots=True)
class Facts:
    """Metadata in print characters; ``title_cells`` and ``title_page`` (groups of lines) in
    cells.  ``date`` is that of the braille, ``copyrighted`` that of the print work."""

    title: str
    creators: tuple[str, ...]
    producer: str
    date: str
    copyrighted: str
    language: str
    systems: tuple[str, ...]
    complete: bool
    identifier: str
    source: str
    publisher: str
    rights: str
    title_cells: str
    title_page: tuple[tuple[str, ...], ...]
    headings: dict[str, str]


def facts_of(edition: Edition) -> Facts:
    """The facts of an edition.  Raises ConvertError that names every one that is missing."""
    meta, settings = edition.document.meta, edition.settings
    given = about_of(settings.about)
    title = " ".join((settings.title or meta.title).split())
    found = {
        "title": title,
        "author": given.get("author", "") or "; ".join(meta.authors),
        "producer": settings.transcriber or "",
        "date": given.get("date", ""),
        "copyright": given.get("copyright", "") or year_of(meta.date),
    }
    _refuse([name for name, value in found.items() if not value])
    words = _words(edition)
    title_facts = TitleFacts(
        meta, title, code_name(settings.code, settings.math), settings.transcriber
    )
    groups, more = title_segments(title_facts, words.front)
    return Facts(
        title=title,
        creators=(given["author"],) if given.get("author") else meta.authors,
        producer=found["producer"],
        date=found["date"],
        copyrighted=found["copyright"],
        language=_language(meta.language),
        systems=_systems(edition),
        complete=not edition.totals.lost and all(f.severity != STOP for f in edition.findings),
        identifier=_identifier(edition),
        source=f"urn:isbn:{meta.isbn}" if meta.isbn else "",
        publisher=meta.publisher,
        rights=meta.rights,
        title_cells=words.cells(title).text,
        title_page=tuple(tuple(words.cells(line).text for line in g) for g in groups + more),
        headings={
            name: words.cells(text).text
            for name, text in (("toc", "Contents"), ("page-list", "Print pages"))
        },
    )


def _words(edition: Edition) -> Words:
    """What translates the words that the edition adds."""
    settings = edition.settings
    make = plugins.load("convert.translators", settings.code.partition(":")[0])
    translator: Translator = make(settings)
    return Words(translator, load(settings.convention).front, Findings())


# How a person gives each fact, and what to call it.
_GIVEN = {
    "title": ("title", '--title "The River School"'),
    "author": ("author", '--about "author=A. Writer"'),
    "producer": ("producer", '--transcriber "Our Braille Group"'),
    "date": ("day of publication in braille", "--about date=2026-01-31"),
    "copyright": ("year of copyright", "--about copyright=2024"),
}


def _refuse(missing: Sequence[str]) -> None:
    if missing:
        told = [_GIVEN[name][0] for name in missing]
        names = told[0] if len(told) == 1 else f"{', '.join(told[:-1])} and {told[-1]}"
        raise ConvertError(
            f"An eBraille package must name its {names}, which neither source nor options say.",
            f"Give, for example, {' '.join(_GIVEN[name][1] for name in missing)}. "
            "Or leave ebraille out of --write.",
        )


def _language(language: str) -> str:
    """A language as braille: ``en-US`` is ``en-Brai-US`` (BCP 47)."""
    found = _LANGUAGE.match(language.strip().replace("_", "-"))
    if found is None:
        return "en-Brai"
    return "-".join(part for part in (found[1], "Brai", found[3]) if part)


def _systems(edition: Edition) -> tuple[str, ...]:
    settings = edition.settings
    first = SYSTEMS.get(settings.code, settings.code.partition(":")[2] or settings.code)
    return (first, NEMETH) if settings.math == "nemeth" else (first,)


def _identifier(edition: Edition) -> str:
    """A URN of the braille edition, the same whenever the recipe is the same."""
    digest = str(edition.recipe.get("digest") or edition.source)
    return uuid.uuid5(uuid.NAMESPACE_URL, f"cellset:ebraille:{digest}").urn
