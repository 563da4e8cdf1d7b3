"""Findings: what a person should know about an edition, from a closed catalogue of kinds.

The catalogue is data: ``convert/catalogue/*.toml``, one file a room, one table a kind::

    ["read.hidden-text"]
    severity = "told"                 # stop: do not emboss; look: a person judges; told: recorded
    says     = "{count} characters are hidden in print and were left out."
    standard = "Braille Formats 2016, section 3"      # optional
    remedy   = "Nothing, unless the words should be read."
    group    = true                   # like findings (same facts) become one with many places
    offers   = [{do = "read", as = "word", label = "Spoken as a word"}]  # decisions, see
                                      # convert/decisions/offers.py; "accept" is always offered
    known_by = ["check"]              # facts that make its id; without it all that are words
    called   = "hidden words"         # the kind in plain words, where its name does not say it

``says`` is a plain sentence; its braces name the facts a stage must give.  ``{count}`` is the
number of places; a noun after a colon is counted with it: ``{count:place}``.
"""

from __future__ import annotations

import hashlib
import tomllib
from collections import Counter
from dataclasses import dataclass, field, replace
from functools import cache
from importlib import resources
from string import Formatter

from .errors import Bug
from .languages import language_name

STOP, LOOK, TOLD = "stop", "look", "told"
SEVERITIES = (STOP, LOOK, TOLD)
# Kinds that tell of a picture without words, which no other kind tells of again.
WITHOUT_WORDS = (
    "read.picture-without-alt", "docx.no-alt", "docx.object", "docx.equation-object",
    "maths.picture-without-words",
)  # fmt: skip
Fact = str | int
Span = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Kind:
    """One row of the catalogue."""

    name: str
    severity: str
    says: str
    remedy: str
    standard: str | None = None
    group: bool = False
    offers: tuple[dict[str, str | int | bool | list[str]], ...] = ()
    known_by: tuple[str, ...] | None = None
    called: str = ""

    @property
    def title(self) -> str:
        """The kind in plain words: ``called``, else the words of its name."""
        words = self.called or self.name.rpartition(".")[2].replace("-", " ")
        return words[:1].upper() + words[1:]

    def facts(self) -> set[str]:
        """The names of the facts its sentence needs."""
        return {name for _, name, _, _ in Formatter().parse(self.says) if name} - {"count"}


class _Sentence(Formatter):
    """Sentences with counted nouns, ``{count:place}``: “1 place” or “2 places”, and names of
    languages, ``{lang:language}``: “Latin”."""

    def format_field(self, value: object, format_spec: str) -> str:
        if not format_spec:
            return str(value)
        if format_spec == "language":
            return language_name(str(value))
        if value == 1 or str(value) == "1":
            return f"1 {format_spec}"
        words = [word + "s" for word in format_spec.split(" or ")]
        return f"{value} {' or '.join(words)}"


@cache
def catalogue() -> dict[str, Kind]:
    """Every kind of finding, by name, in the order of the files."""
    kinds: dict[str, Kind] = {}
    folder = resources.files("convert") / "catalogue"
    for file in sorted(folder.iterdir(), key=lambda f: f.name):
        if file.name.endswith(".toml"):
            for name, row in tomllib.loads(file.read_text("utf-8")).items():
                if name in kinds or row.get("severity") not in SEVERITIES:
                    raise Bug(f"The catalogue row {name} in {file.name} is wrong or doubled.")
                for key in {"offers", "known_by"} & row.keys():
                    row[key] = tuple(row[key])
                kinds[name] = Kind(name=name, **row)
    return kinds


@dataclass(frozen=True, slots=True)
class Place:
    """A place in the braille: volume (from 1), page as printed there, line (from 1)."""

    volume: int
    page: str
    line: int


@dataclass(frozen=True, slots=True)
class Form:
    """One way to write the print of a finding: what it means, the print, its cells as Unicode
    braille and in words (“dots 1-2, dot 3”)."""

    label: str
    print: str
    cells: str
    dots: str


@dataclass(frozen=True, slots=True)
class Finding:
    """Something a person should know.

    ``spans`` are stretches of the ledger (none where the matter is the whole document);
    ``places`` are filled in when the pages are made, one for each span that reached one; what the
    pages themselves tell has its places from the first.
    ``offer`` holds decisions in TOML, ready for the job file.  ``settled`` is a sentence that
    says which decision settled it, empty where none did.  ``forms`` are the ways a person may
    choose between, where the matter is how print is written.  ``raised`` is the severity that a
    risk profile gives it in place of its kind's.
    """

    kind: str
    spans: tuple[Span, ...] = ()
    facts: tuple[tuple[str, Fact], ...] = ()
    offer: tuple[str, ...] = ()
    places: tuple[Place, ...] = ()
    id: str = ""
    settled: str = ""
    forms: tuple[Form, ...] = ()
    raised: str = ""

    @property
    def severity(self) -> str:
        """That of its kind or profile; what a decision has settled is only recorded."""
        return TOLD if self.settled else self.raised or catalogue()[self.kind].severity

    @property
    def message(self) -> str:
        count = max(1, len(self.spans), len(self.places))
        facts = {"count": count, **dict(self.facts)}
        return _Sentence().vformat(catalogue()[self.kind].says, (), facts)


@dataclass(slots=True)
class Findings:
    """The sink every stage adds to.  Grouped kinds with the same facts share one finding."""

    items: list[Finding] = field(default_factory=list)
    _groups: dict[tuple[object, ...], int] = field(default_factory=dict)
    _more: dict[int, tuple[list[Span], list[Place]]] = field(default_factory=dict)

    def add(
        self,
        kind: str,
        span: Span | None = None,
        forms: tuple[Form, ...] = (),
        places: tuple[Place, ...] = (),
        **facts: Fact,
    ) -> None:
        """File a finding; ``places`` in the braille are given only where it is about the braille
        itself.  Raises Bug if the kind or one of its facts is not in the catalogue."""
        row = catalogue().get(kind)
        if row is None:
            raise Bug(f"No finding of the kind {kind} is in the catalogue.")
        if missing := row.facts() - facts.keys():
            raise Bug(f"The finding {kind} lacks the fact {sorted(missing)[0]}.")
        spans = () if span is None else (span,)
        if row.group:
            key = (kind, tuple(sorted(facts.items())))
            at = self._groups.get(key)
            if at is not None:
                more = self._more.setdefault(at, ([], []))
                more[0].extend(spans)
                more[1].extend(places)
                return
            self._groups[key] = len(self.items)
        self.items.append(Finding(kind, spans, tuple(facts.items()), (), places, forms=forms))

    def take(self, other: Findings) -> None:
        """File all that another sink holds, as if it had been filed here."""
        for finding in other.all():
            for at, span in enumerate(finding.spans or (None,)):
                places = finding.places if not at else ()
                self.add(finding.kind, span, finding.forms, places, **dict(finding.facts))

    def all(self) -> list[Finding]:
        """The findings so far, grouped, in the order they were first filed."""
        out = list(self.items)
        for at, (spans, places) in self._more.items():
            item = out[at]
            out[at] = replace(item, spans=(*item.spans, *spans), places=(*item.places, *places))
        return out


# Characters of the neighbourhood that tell two findings with the same words apart.
_NEAR = 40


def number(findings: list[Finding], text: str) -> list[Finding]:
    """Give each finding an id that holds between runs of the same source.

    The id is a digest of the kind, the facts it is known by, and the print it concerns with
    what stands near it in the same block; of a kind that is grouped, without the print, as
    there is one finding for the same facts.  Where two findings agree in all that, the end of
    the block before counts too, and where that agrees as well, their turn.  So an edit elsewhere,
    and a finding more or less elsewhere, leaves it as it is.
    """
    bases = [_base(finding, text) for finding in findings]
    times = Counter(bases)
    seen: Counter[str] = Counter()
    out: list[Finding] = []
    for finding, base in zip(findings, bases, strict=True):
        if times[base] > 1:
            start = text.rfind("\n", 0, finding.spans[0][0]) if finding.spans else 0
            base = f"{base}|{_squeezed(text[max(0, start - _NEAR) : max(0, start)])}"
            seen[base] += 1
            base = f"{base}|{seen[base]}"
        digest = hashlib.sha256(base.encode("utf-8", "surrogatepass")).hexdigest()[:12]
        out.append(replace(finding, id=digest))
    return out


def _base(finding: Finding, text: str) -> str:
    """What an id is made of while no other finding has the same."""
    row = catalogue()[finding.kind]
    parts = [finding.kind]
    for name, value in finding.facts:
        if name in row.known_by if row.known_by is not None else isinstance(value, str):
            parts.append(str(value))
    if finding.spans and not row.group:
        start, end = finding.spans[0]
        low = max(text.rfind("\n", 0, start) + 1, start - _NEAR)
        stop = text.find("\n", end)
        high = min(stop if stop >= 0 else len(text), end + _NEAR)
        parts += [text[start : min(end, start + 200)], _squeezed(text[low:high])]
    return "|".join(parts)


def _squeezed(text: str) -> str:
    return " ".join(text.split())
