"""The functions a script uses: convert a document, read one, translate a line."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Unpack

from .document.nodes import TYPEFORM_BITS, Document
from .edition import Edition
from .errors import JobError
from .findings import Findings
from .job import read_job, settings_options
from .pipeline import convert_source, make_translator, read_source, settings_from
from .settings import Options
from .translation.cells import Cells
from .translation.passage import Passage


@dataclass(frozen=True, slots=True)
class Run:
    """Print of one typeform.  ``typeform`` is a name or several: italic bold underline script
    small-caps sup sub transcriber-1 .. transcriber-5 transcriber-note."""

    text: str
    typeform: str | Iterable[str] | None = None
    lang: str | None = None

    def bits(self) -> int:
        """The typeforms as bits of the tree.  Raises JobError for an unknown name."""
        named = [self.typeform] if isinstance(self.typeform, str) else self.typeform or ()
        bits = 0
        for name in named:
            if name not in TYPEFORM_BITS:
                raise JobError(
                    f"There is no typeform “{name}”.",
                    f"The typeforms are {', '.join(TYPEFORM_BITS)}.",
                )
            bits |= TYPEFORM_BITS[name]
        return bits


def convert(
    source: str | Path, job: str | Path | None = None, **options: Unpack[Options]
) -> Edition:
    """Convert a document in memory.  Options: :class:`convert.settings.Options`.

    ``job`` is a job file with decisions and further options; those given here win over them.

    Raises SourceError, JobError, ConventionError or PluginError if it must be refused.
    """
    read = read_job(Path(job)) if job is not None else None
    given = settings_options(read.options) if read is not None else {}
    return convert_source(Path(source), settings_from(**(given | _checked(options))), job=read)


def read(source: str | Path, **options: Unpack[Options]) -> Document:
    """Read and tidy a document: its tree and its ledger.

    Raises SourceError, JobError or PluginError.
    """
    from .readers.container import open_source

    settings = settings_from(**_checked(options))
    return read_source(open_source(Path(source)), settings, Findings())[0]


def _checked(options: Mapping[str, object]) -> dict[str, object]:
    """Options as fields of Settings.  Raises JobError for a wrong value."""
    named = {name: value for name, value in options.items() if value is not None}
    rows = {name: named.pop(name) for name in ("symbol",) if isinstance(named.get(name), tuple)}
    return settings_options({name.replace("_", "-"): row for name, row in named.items()}) | rows


def translate(
    text: str | Sequence[Run],
    code: str = "ueb",
    quotes: str = "auto",
    divide_at: Iterable[int] = (),
    findings: Findings | None = None,
) -> Cells:
    """Print as cells, without layout.

    ``text`` is a string or a list of runs; ``quotes`` says which quotation marks predominate
    (``double``, ``single``, ``auto``); ``divide_at`` lists print offsets where a braille line
    ends, where the cells then have a blank (UEB 10.13).  ``findings`` takes what a person should
    know of it.  ``str()`` of the result is the cells in Unicode braille.

    Raises JobError for a wrong code, typeform or choice, PluginError where the library of
    contractions is missing.
    """
    passage = passage_from(text, tuple(divide_at))
    translator = make_translator(settings_from(**_checked({"code": code, "quotes": quotes})))
    translator.prepare([passage])
    cells = translator.translate(passage, findings if findings is not None else Findings())
    cells.passage = passage
    return cells


def passage_from(text: str | Sequence[Run], divide_at: tuple[int, ...] = ()) -> Passage:
    """The passage of a string or of some runs; text offsets serve as ledger offsets."""
    if isinstance(text, str):
        return Passage(text, divide_at=divide_at)
    chunks: list[str] = []
    forms: list[tuple[int, int, int]] = []
    langs: list[tuple[int, int, str]] = []
    at = 0
    for run in text:
        end = at + len(run.text)
        bits = run.bits()
        if bits and end > at:
            if forms and forms[-1][1] == at and forms[-1][2] == bits:
                forms[-1] = (forms[-1][0], end, bits)
            else:
                forms.append((at, end, bits))
        if run.lang and end > at:
            langs.append((at, end, run.lang))
        chunks.append(run.text)
        at = end
    return Passage("".join(chunks), tuple(forms), tuple(langs), divide_at=divide_at)


__all__ = ["Run", "convert", "passage_from", "read", "translate"]
