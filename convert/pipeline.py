"""The stages, in order, once each.

    read -> clean -> tidy -> decide -> suspect -> flow -> translate -> settle -> conserve -> inspect

Everything below here is value in, value out; findings go into the sink.
"""

from __future__ import annotations

import difflib
from collections.abc import Callable
from dataclasses import fields, replace
from pathlib import Path
from typing import TYPE_CHECKING

from . import plugins
from .cleaning import clean
from .collector import collector_off
from .document.nodes import Document, Inlines
from .document.tidy import tidy
from .edition import Edition, Totals
from .errors import ConvertError, JobError, PluginError, SourceError
from .findings import STOP, Finding, Findings, number
from .profiles import with_profile
from .readers.house import house_rows
from .settings import Settings, wanted_kind

if TYPE_CHECKING:
    from .contracts import MakeTranslator, Reader, Translator
    from .job import Job
    from .layout.book import Book
    from .layout.convention import Convention
    from .layout.items import Item
    from .profiles import Profile
    from .readers.container import Source
    from .translation.cells import Cells
    from .translation.passage import Passage

Progress = Callable[[str], None]


_SAVE = "Open it in a word processor and save it as DOCX"
# What to do about the files that people have and the program does not read.
_INSTEAD = {
    "pdf": "A PDF says how a page looks, not what is a heading or a list: ask the publisher for "
    "the EPUB or the Word document",
    **dict.fromkeys(("doc", "odt", "pages", "rtf", "txt", "wpd"), _SAVE),
    **dict.fromkeys(("azw", "azw3", "kfx", "mobi"), "Ask the publisher or seller for the EPUB"),
}


def settings_from(**options: object) -> Settings:
    """Settings with some options changed.  Raises JobError for an option that is not one, or a
    value of another type."""
    known = {f.name for f in fields(Settings)}
    for name, value in options.items():
        if name not in known:
            near = difflib.get_close_matches(name, known, n=1)
            hint = (
                f"Did you mean “{near[0]}”?" if near else f"There are: {', '.join(sorted(known))}."
            )
            raise JobError(f"There is no option “{name}”.", hint)
        if words := wanted_kind(name, value):
            raise JobError(f"The option {name} cannot be {value!r}.", f"Give it {words}.")
    return replace(Settings(), **with_profile(options))  # type: ignore[arg-type]


def read_source(source: Source, settings: Settings, findings: Findings) -> tuple[Document, str]:
    """Read and tidy a source; also its suffix.  Raises SourceError or PluginError."""
    from .layout.convention import load

    suffix = source.path.suffix.lower().lstrip(".")
    if suffix not in plugins.names("convert.readers"):
        known = ", ".join(f".{name}" for name in plugins.names("convert.readers"))
        raise SourceError(
            f"{source.name} is not a kind of file this program reads.",
            f"It reads {known}. {_INSTEAD.get(suffix, 'Save or export it as one of these')}.",
        )
    reader: Reader = plugins.load("convert.readers", suffix)
    try:
        with house_rows(settings.roles):
            document = reader(source, settings, findings)
    except ConvertError:
        raise
    except Exception as error:
        brings = plugins.find("convert.readers", suffix).distribution
        raise PluginError(
            f"The reader for .{suffix} files (package {brings}) failed on {source.name}: "
            f"{type(error).__name__}: {error}.",
            "The document was not converted. Please report this with the document if you can.",
        ) from error
    words_over_pages = load(settings.convention).page.words_over_pages
    return tidy(clean(document, settings.clean, findings), findings, words_over_pages), suffix


def make_translator(settings: Settings) -> Translator:
    """The translator of the code asked for.  ``louis:TABLE`` names a table of the library."""
    name = _plugin_of(settings.code)
    make: MakeTranslator = plugins.load("convert.translators", name)
    with plugins.named_if_it_fails("convert.translators", name):
        return make(settings)


def _plugin_of(code: str) -> str:
    """The plugin of a code: what stands before the name of a table."""
    return code.partition(":")[0]


def translate_items(
    items: list[Item],
    document: Document,
    translator: Translator,
    findings: Findings,
    units: bool = False,
) -> None:
    """Give every item its cells.  ``units``: no line may end between a number and its unit."""
    from .document.formulas import Formulas
    from .layout.kin import rows_of_kin
    from .layout.letter_signs import sign_letter
    from .profiles.keep import keep_units
    from .translation.passage import Readings, passage_of

    on = Readings(document.choices).on
    formulas = Formulas(document.choices, document.ledger.text).on
    passages = [on(passage_of(formulas(item.runs), document.ledger)) for item in items]
    for at, kin in enumerate(rows_of_kin(items, [passage.text for passage in passages])):
        # Only elements in a typeform, or in capitals throughout, can share a passage.
        if kin and (passages[at].forms or passages[at].text.isupper()):
            passages[at] = replace(passages[at], kin=kin)
    for at, item in enumerate(items):
        if item.instead:
            passages[at] = _stood_for(item.instead, passages[at], translator)
    translator.prepare(passages)
    for item, passage in zip(items, passages, strict=True):
        if item.runs:
            item.cells = translator.translate(passage, findings)
            item.cells.passage = passage
            if units:
                item.cells = keep_units(item.cells)
            sign_letter(item)
            item.cells.pack()
    keep = getattr(translator, "keep", None)
    if keep is not None:
        keep()


def _stood_for(words: str, passage: Passage, translator: Translator) -> Passage:
    """A passage all of whose print is written as some other words."""
    from .document.choices import Choice
    from .translation.passage import Passage

    cells = translator.translate(Passage(words, at=((0, -1),)), Findings()).text
    return replace(passage, choices=(Choice(0, len(passage.text), "cells", cells),))


def measuring(document: Document, translator: Translator, code: str) -> Callable[[Inlines], Cells]:
    """What tells the flow how wide inlines will be; nothing it tells is a finding yet."""
    from .document.formulas import Formulas
    from .translation.passage import Passage, Readings, passage_of

    prepared: list[bool] = []
    formulas = Formulas(document.choices, document.ledger.text).on
    on = Readings(document.choices).on

    def measure(runs: Inlines) -> Cells:
        passage = on(passage_of(formulas(runs), document.ledger))
        with plugins.named_if_it_fails("convert.translators", _plugin_of(code)):
            if not prepared:
                translator.prepare([Passage(document.ledger.text)])
                prepared.append(True)
            return translator.translate(passage, Findings())

    return measure


@collector_off()
def convert_source(
    path: Path,
    settings: Settings,
    progress: Progress = lambda line: None,
    job: Job | None = None,
) -> Edition:
    """Convert one source in memory, with the decisions of a job file.

    Raises ConvertError if it must be refused.
    """
    from .census import census
    from .check import inspect_edition
    from .conserve import conserve
    from .decisions.apply import decide
    from .decisions.offers import with_offers
    from .decisions.settle import settle_findings
    from .layout.convention import load
    from .layout.flow import flow
    from .layout.settle import settle
    from .layout.spacing import settings_for_layout
    from .places import place_findings
    from .profiles import profile, raise_findings
    from .readers.container import open_source
    from .recipe import make_recipe
    from .suspect import suspect

    findings = Findings()
    convention = load(settings.convention)
    risk = profile(settings.profile)
    translator = make_translator(settings)
    progress("reading")
    source = open_source(path)
    printed, suffix = read_source(source, settings, findings)
    decided = decide(printed, job.decisions if job else (), findings)
    document = decided.document
    suspect(document, findings, settings.code)
    if settings.require_print_pages and not document.print_pages:
        findings.add("read.print-pages-required")
    unread = census(source, suffix, document.ledger, findings)
    progress("translating")
    measure = measuring(document, translator, settings.code)
    items = flow(document, convention, settings, findings, measure)
    with plugins.named_if_it_fails("convert.translators", _plugin_of(settings.code)):
        translate_items(items, document, translator, findings, bool(risk and risk.keep_units))
    progress("laying out pages")
    spaced = settings_for_layout(settings, convention)
    book = settle(items, document, convention, spaced, translator, findings)
    del items, translator  # What they know is in the book; the checks need the room.
    totals = _totals(conserve(document, book, findings), document, book, unread)
    recipe = make_recipe(source, settings, convention, job)
    edition = Edition(source.name, document, book, [], totals, settings, recipe)
    edition.decisions = decided.records()
    progress("inspecting pages")
    edition.checks = inspect_edition(edition, findings)
    _guard(edition, risk, convention, findings)
    text = document.ledger.text
    found = settle_findings(number(_told(findings, settings), text), decided.rows, text)
    edition.findings = with_offers(place_findings(raise_findings(found, risk), book), printed)
    edition.decisions = decided.records()
    return edition


def _told(findings: Findings, settings: Settings) -> list[Finding]:
    """The findings, without those that an option has answered."""
    return [finding for finding in findings.all() if not _given(finding, settings)]


def _given(finding: Finding, settings: Settings) -> bool:
    """Whether an option stands in the place of what a finding is about."""
    title = finding.kind == "read.long-description" and dict(finding.facts)["what"] == "title"
    return title and bool(settings.title)


def _totals(kept: Totals, document: Document, book: Book, unread: int) -> Totals:
    """The sums, with what the reader missed (``unread``, characters) among the lost."""
    return replace(
        kept,
        print_characters=kept.print_characters + unread,
        lost=kept.lost + unread,
        volumes=len(book.volumes),
        braille_pages=sum(len(volume.pages) for volume in book.volumes),
        print_pages=len(document.print_pages),
    )


def _guard(
    edition: Edition, risk: Profile | None, convention: Convention, findings: Findings
) -> None:
    """Space the lines, list what is to be signed for, make the checks of a risk profile."""
    from .layout.spacing import space_lines
    from .profiles.sign import signatures
    from .profiles_check import check_profile

    document, settings = edition.document, edition.settings
    edition.book = space_lines(edition.book, settings, convention)
    edition.signature = signatures(document, risk, findings.all())
    check_profile(risk, document, edition.book, settings, findings)


def has_stop(edition: Edition) -> bool:
    """Whether anything must be settled before embossing."""
    return any(finding.severity == STOP for finding in edition.findings)
